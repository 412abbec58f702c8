// The sheets of paper, one function each: job, report and reading in, elements out.

import { drawingOf, make, table } from "./dom.js";
import { boardTitle } from "./board.js";
import { boughtIn, sumCells, totalsOf } from "./buying.js";
import { partLine } from "./set-outs.js";
import { backToShed } from "../state/says.js";
import { nameOf } from "../state/pieces.js";
import { boardProgress, boughtOf, currentLeg, noProgress } from "../state/work.js";

export const sheets = { buying, drawing, saw, picture, order, "set-outs": setOuts, labels };

function sheet(job, title) {
  const element = make("section", "", "sheet");
  element.append(make("h1", `${nameOf({ job })}: ${title}`));
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

// A text without a line break: a number stays beside its unit.
const whole = (text) => String(text).replaceAll(" ", "\u00a0");

// The same of a name, where it is short.
const short = (text) => (String(text).length <= 24 ? whole(text) : text);

// A heading and what belongs to it.
function block(title, ...content) {
  const element = make("div", "", "block");
  element.append(make("h2", title), ...content);
  return element;
}

function buying(job, report, reading, piece, _, savings, chosen, choices) {
  const element = sheet(job, "buying list");
  element.append(make("p", report.headline, "headline"));
  const { rows, totals } = report.buying;
  const priced = rows.some((row) => row.cost);
  const heads = ["", "Count", "Length", "Section", ...(priced ? ["Price", "Cost"] : [])];
  const done = progressOf(piece);
  const cells = (row) => [boxes(row.count, (nth) => nth < boughtOf(done, row.line).count), `${row.count} ×`, row.length, row.section, ...(priced ? [row.price ?? "", row.cost ?? ""] : [])];
  if (rows.length) element.append(grid(heads, rows.map(cells)));
  const cut = rows.filter((row) => row.yard_cuts.length > 0);
  if (cut.length) element.append(block("Cuts at the yard", list(cut.map((row) => `${row.length} ${row.section}: ${row.yard_cuts.join(", ")}`)), list(report.at_the_yard)));
  const { legs = [] } = piece.work ?? {};
  const before = boughtIn(legs.slice(0, -1), legs);
  if (before.length) element.append(block("Bought before", list(before)));
  if (report.sum.length) {
    const [heads, ...sums] = sumCells(report.sum, report);
    element.append(grid(heads, sums));
  } else element.append(list(totalsOf(report).map((total) => `${total.name}: ${total.value}`)));
  const told = rows.filter((row) => row.told);
  if (told.length) element.append(list(told.map((row) => `${row.length} ${row.section}: ${row.told}`)));
  const { bill = [], offers = [] } = report.buying;
  if (bill.length) element.append(block("Bill", grid(["What", "Money"], bill.map((row) => [row.name, row.value])), list(offers)));
  const also = reading.quantities?.rows ?? [];
  if (also.length) element.append(block("Beside the timber", grid(["What", "How much"], also.map((row) => [row.name, row.value]))));
  const back = backToShed(piece, report);
  if (back.length) element.append(block("Back to the shed", grid(["Mark", "Length", "Section", "From"], back.map((board) => [named(board) || board.meant, board.length, board.section, [board.from, board.flaws].filter(Boolean).join(", ")]))));
  if (report.spoiled.length) element.append(block("If a part is spoiled once all is cut", list(report.spoiled)));
  if (chosen) element.append(block("Sizes within their ranges", list(chosen.told)));
  if (savings.orders.length) element.append(block("Where to buy", list(savings.orders.map(({ change, gain, least }) => `${change}: ${gain} (${least})`))));
  if (choices.done && choices.found.length) element.append(block("Choices", choiceTable(choices)));
  if (savings.found.length) element.append(block("What would save", list(savings.found.map(({ change, gain }) => `${gain}: ${change}`))));
  const open = report.proof.filter((proof) => !proof.proven);
  if (open.length) element.append(block("Not proven", list(open.map((proof) => proof.text))));
  return [element];
}

// A column without any figure, as that of money without prices, is left out.
function choiceTable({ found }) {
  const heads = ["Lengths", "Money", "Timber", "Scrap", "To keep", "Saw settings"];
  const has = heads.map((_, column) => found.some(({ cells }) => cells[column] !== ""));
  const kept = (cells) => cells.filter((_, column) => has[column]);
  return grid([...kept(heads), ""], found.map(({ cells, name }) => [...kept(cells), name]));
}

const named = ({ mark, of }) => (of ? `rest of ${of}` : mark);

// Boxes to tick, those ticked that are done; `isDone` says so of the nth.
const boxes = (count, isDone) => Array.from({ length: Number(count) }, (_, nth) => (isDone(nth) ? "☑" : "☐")).join("");

const progressOf = (piece) => currentLeg(piece)?.progress ?? noProgress();

function drawing(job, report) {
  const element = sheet(job, "drawing");
  element.append(...report.drawings.map((one) => {
    const board = make("div", "", "drawn");
    board.append(drawingOf(one));
    return board;
  }));
  element.append(block("Letters", list(report.legend.map((part) => `${part.letter}  ${part.label}, ${whole(part.length)}, ${whole(`× ${part.count}`)}`), "legend")));
  return [element];
}

function saw(job, report, _, piece) {
  const element = sheet(job, "saw sheets");
  element.append(make("p", report.marking));
  if (report.cautions.length) element.append(list(report.cautions, "lines notes"));
  const stepsOf = (board) => (piece.finished ? Infinity : boardProgress(progressOf(piece), board).steps);
  element.append(...report.alike.map((alike) => sawBoard(report.boards, alike, stepsOf)));
  return [element];
}

// A board, or several neighbouring ones that are cut alike. `stepsOf` says how many steps a board has behind it.
function sawBoard(boards, { first, count, title }, stepsOf) {
  const board = boards[first];
  const element = make("article", "", "saw-board");
  const several = count > 1;
  const numbers = several ? `${first + 1}–${first + count}` : first + 1;
  const marks = boards.slice(first, first + count).map(({ mark }) => mark).filter(Boolean).join(", ");
  element.append(make("h2", `${numbers} of ${boards.length}: ${several ? `${count} × ` : ""}${boardTitle({ ...board, title }, marks)}`));
  if (board.svg) element.append(drawingOf(board.svg));
  const steps = make("ol", "", "paper-steps");
  for (const [at, step] of board.steps.entries()) {
    const line = steps.appendChild(make("li"));
    const what = [step.letter, step.label].filter(Boolean).join("  ");
    const rest = [step.part_length, ...step.says, step.caution].filter(Boolean).join(" · ");
    const text = make("span");
    text.append(make("b", what), rest ? ` · ${rest}` : "");
    line.append(make("span", boxes(count, (nth) => at < stepsOf(first + nth)), "boxes"), make("b", `${step.rounded ? "≈" : ""}${step.reading}`, "reading"), text);
  }
  // What is done, and what to mind, before the first mark is printed first.
  if (board.cautions.length) element.append(list([board.cautions.join(" · ")], "lines notes"));
  element.append(steps);
  if (board.offcuts.length) element.append(list([board.offcuts.map((offcut) => offcut.text).join(" · ")], "lines notes"));
  return element;
}

// A sheet for each piece that stands by itself: its drawings in the order of their looks, and a key to its parts.
function picture(job, _, reading, __, looks) {
  const [pieces = []] = looks;
  return pieces.map((piece, index) => {
    const element = sheet(job, piece.name);
    const drawings = looks.map((look) => look[index]).filter((one, nth) => one.svg && (nth !== 2 || piece.comes_apart));
    const grid = element.appendChild(make("div", "", "whole-paper"));
    for (const { svg } of drawings) {
      const drawing = drawingOf(svg);
      const caption = make("figcaption", drawing.querySelector("title").textContent);
      grid.appendChild(make("figure")).append(drawing, caption);
    }
    if (piece.told) element.append(make("p", piece.told));
    const key = element.appendChild(make("ul", "", "legend"));
    for (const part of reading.parts.filter((one) => piece.parts.includes(one.key))) {
      const line = key.appendChild(make("li"));
      const letter = line.appendChild(make("b", part.letter, "letter"));
      letter.style.backgroundColor = part.colour;
      line.append(` ${part.quantity} × ${part.label}, ${whole(part.length)}`);
    }
    return element;
  });
}

// In which order pieces are put together: for each set-out the piece as it then stands, its parts, its marks, what shows that it is square, where it is
// fixed.
function order(job, _, reading, __, looks) {
  const [pieces = []] = looks;
  return pieces.filter((piece) => piece.svg && piece.comes_apart).map((piece) => putTogether(job, piece, reading));
}

function putTogether(job, piece, reading) {
  const element = sheet(job, `${piece.name}, put together in this order`);
  piece.set_outs.forEach((row, step) => {
    const one = reading.set_outs[row];
    if (!one) return;
    const { letters, parts: keys, fixed } = piece.order[step];
    const line = element.appendChild(make("article", "", "saw-board order-step"));
    const told = make("div");
    told.append(make("h2", `${step + 1}. ${one.name} (${letters})`));
    const parts = reading.parts.filter((part) => keys.includes(part.key)).map((part) => `${part.letter}  ${part.quantity} × ${part.label}, ${whole(part.length)}`);
    told.append(list([one.makes, ...parts]));
    if (fixed) told.append(make("p", fixed));
    for (const position of one.positions) told.append(make("p", `${position.title}, from ${position.datum}: ${position.marks.map((mark) => `${mark.label} ${whole(mark.reading)}`).join("; ")}.`, "about"));
    line.append(standing(piece.svg, piece.order.slice(0, step), keys), told);
  });
  return element;
}

// A drawing of what stands once the parts with these keys are put to the steps before, in full colour and with their letters. Later ones are left out: nearer
// faces are drawn after farther ones, so the rest is as it would be without them.
function standing(svg, before, keys) {
  const drawing = drawingOf(svg);
  const there = new Set(before.flatMap(({ parts }) => parts));
  for (const one of drawing.querySelectorAll("[data-part]")) {
    if (keys.includes(one.dataset.part)) continue;
    const isText = one.tagName === "text";
    if (!isText && there.has(one.dataset.part)) {
      one.style.setProperty("--own", one.getAttribute("fill"));
      one.classList.add("before");
      continue;
    }
    const beside = isText ? one.previousElementSibling : one.nextElementSibling; // the line to a letter, the edges of a face
    if (beside?.tagName === "path") beside.remove();
    one.remove();
  }
  return drawing;
}

function setOuts(job, _, reading) {
  const element = sheet(job, "set-outs and cutting list");
  for (const one of reading.set_outs) element.append(setOut(one));
  const rows = reading.parts.map((part) => [part.letter, part.label, short(part.section), [part.length, part.wanted].filter(Boolean).map(whole).join(", "), part.quantity, [part.ends, part.ripped, part.measured ? "measure first" : "", part.over, part.also].filter(Boolean).join("; ")]);
  if (rows.length) element.append(make("h2", "Cutting list"), grid(["", "Part", "Section", "Length", "Count", "Ends"], rows));
  return [element];
}

// The drawing beside its parts; the tape marks below both.
function setOut(one) {
  const element = make("article", "", "saw-board set-out-paper");
  const beside = make("div", "", "beside");
  if (one.svg) beside.append(drawingOf(one.svg));
  const parts = one.parts.map((part) => [part.letter, partLine({ ...part, length: whole(part.length), section: whole(part.section) })].filter(Boolean).join("  "));
  beside.append(list([one.makes, ...parts, ...one.notes].filter(Boolean)));
  element.append(make("h2", one.name), beside);
  for (const position of one.positions) element.append(make("h3", `${position.title}, from ${position.datum}`), list(position.marks.map((mark) => `${mark.label}: ${whole(mark.reading)}`), "lines marks"));
  if (one.cautions?.length) element.append(list(one.cautions, "lines notes"));
  return element;
}

function labels(job, report, reading, piece) {
  const element = sheet(job, "labels");
  const all = element.appendChild(make("div", "", "labels"));
  for (const part of report.legend) {
    for (let number = 1; number <= Number(part.count); number += 1) all.append(label(part.letter, whole(part.length), part.label, `${number} of ${part.count}, ${nameOf({ job })}`));
  }
  for (const { name, times, sawn } of reading.set_outs.filter((one) => one.sawn)) {
    for (let number = 1; number <= Number(times); number += 1) all.append(label(name, "", `sheet, ${[sawn.width, sawn.height, sawn.thickness].map(whole).join(" × ")}`, `${number} of ${times}, ${nameOf({ job })}`));
  }
  for (const board of backToShed(piece, report)) all.append(label(short(board.of ? named(board) : `Shed ${board.mark || board.meant || "____"}`), whole(board.length), board.section, `back to the shed from ${nameOf({ job })}`));
  return [element];
}

function label(letter, length, ...texts) {
  const element = make("div", "", "label");
  const head = element.appendChild(make("p", "", "label-head"));
  head.append(make("b", letter), make("b", length));
  element.append(...texts.map((text) => make("span", String(text))));
  return element;
}
