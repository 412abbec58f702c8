// The sheets of paper, one function each: job, report and reading in, elements out.

import { drawingOf, make, table } from "./dom.js";
import { boardTitle, detail } from "./board.js";
import { totalsOf } from "./buying.js";
import { quantityBlock, quantityBlocks } from "./lists.js";
import { partLine } from "./set-outs.js";

export const sheets = { buying, drawing, saw, "set-outs": setOuts, labels };

function sheet(job, title) {
  const element = make("section", "", "sheet");
  element.append(make("h1", `${job.piece || "Unnamed piece"}: ${title}`));
  return element;
}

function grid(heads, rows) {
  const element = make("table");
  const head = element.appendChild(make("thead")).appendChild(make("tr"));
  for (const text of heads) head.append(make("th", text));
  table(element.appendChild(make("tbody")), rows);
  return element;
}

function list(texts, className = "lines") {
  const element = make("ul", "", className);
  for (const text of texts) element.append(make("li", text));
  return element;
}

function buying(job, report) {
  const element = sheet(job, "buying list");
  element.append(make("p", report.headline, "headline"));
  const rows = report.buying.rows.map((row) => ["☐".repeat(Math.min(Number(row.count), 12)), `${row.count} ×`, row.length, row.section, row.price ?? "", row.cost ?? ""]);
  if (rows.length) element.append(grid(["", "Count", "Length", "Section", "Price", "Cost"], rows));
  element.append(list(totalsOf(report).map((total) => `${total.name}: ${total.value}`)));
  if (report.back_to_shed.length) element.append(make("h2", "Back to the shed"), list(report.back_to_shed.map((board) => [board.length, board.section, board.mark].filter(Boolean).join(", "))));
  element.append(...report.proof.map((proof) => make("p", proof.text)));
  return [element];
}

function drawing(job, report) {
  const element = sheet(job, "drawing");
  element.append(drawingOf(report.drawing), list(report.legend.map((part) => `${part.letter}  ${part.label}, ${part.length}, × ${part.count}`), "legend"));
  return [element];
}

function saw(job, report) {
  const element = sheet(job, "saw sheets");
  element.append(make("p", "Mark every line of a board before the first cut, from its untrimmed datum end. Then cut in the order of the sheet."));
  if (report.cautions.length) element.append(list(report.cautions));
  element.append(...report.boards.map((board, index) => sawBoard(board, index, report.boards.length)));
  return [element];
}

function sawBoard(board, index, count) {
  const element = make("article", "", "saw-board");
  element.append(make("h2", `${index + 1} of ${count}: ${boardTitle(board)}`));
  if (board.svg) element.append(drawingOf(board.svg));
  const steps = make("ol", "", "paper-steps");
  for (const step of board.steps) {
    const line = steps.appendChild(make("li"));
    const what = [step.letter, step.label].filter(Boolean).join("  ");
    line.append(make("span", "☐"), make("b", step.reading ?? "", "reading"), make("span", [what, detail(step), step.hint, step.caution].filter(Boolean).join(" · ")));
  }
  element.append(steps, list([...board.offcuts.map((offcut) => offcut.text), ...board.cautions]));
  return element;
}

function setOuts(job, _, reading) {
  const element = sheet(job, "set-outs and cutting list");
  for (const one of reading.set_outs) {
    const block = element.appendChild(make("article", "", "saw-board"));
    block.append(make("h2", one.name));
    if (one.svg) block.append(drawingOf(one.svg));
    block.append(list(one.parts.map(partLine)));
    for (const position of one.positions) block.append(make("h3", `${position.title}, from ${position.datum}`), list(position.marks.map((mark) => `${mark.label}: ${mark.reading}`), "marks"));
    block.append(list([...(one.cautions ?? []), ...one.notes]));
  }
  element.append(grid(["Part", "Section", "Length", "Quantity", "Ends", "From"], reading.parts.map((part) => [part.label, part.section, part.length, part.quantity, part.ends, part.from])));
  for (const block of quantityBlocks(reading.quantities)) {
    const view = quantityBlock();
    view.update(block);
    element.append(view.element);
  }
  return [element];
}

function labels(job, report) {
  const element = sheet(job, "labels");
  const grid = element.appendChild(make("div", "", "labels"));
  for (const part of report.legend) {
    for (let number = 1; number <= Number(part.count); number += 1) grid.append(label(part.letter, part.label, part.length, `${number} of ${part.count}`));
  }
  for (const board of report.back_to_shed) grid.append(label(board.mark ?? "", "Shed", board.length, board.section));
  return [element];
}

function label(letter, ...texts) {
  const element = make("div", "", "label");
  element.append(make("b", letter), ...texts.map((text) => make("span", String(text))));
  return element;
}
