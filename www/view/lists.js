// What follows from the piece: the cutting list and the quantities.

import { find, make, patch, patchInTurns, say, show, table } from "./dom.js";

const HEADS = ["Part", "Count", "Length", "Section", "Ends"];

export function cuttingList(actions) {
  return (scene) => {
    const { parts } = scene.reading;
    show(find("#all-parts-section"), parts.length > 0);
    return rows(actions, scene);
  };
}

function* rows(actions, { reading, lit }) {
  const body = find("#all-parts tbody");
  yield* patchInTurns(body, reading.parts, (part) => part.key, () => partRow(actions));
  for (const row of body.children) row.light(lit);
}

// A line of the cutting list. Its letter is that of the drawings; pressed, it lights the part in them.
function partRow(actions) {
  const element = make("tr");
  element.setAttribute("role", "row");
  const cells = HEADS.map((head) => {
    const cell = element.appendChild(make("td"));
    cell.setAttribute("role", "cell");
    cell.dataset.label = head;
    return cell;
  });
  const letter = cells[0].appendChild(make("button", "", "letter"));
  const label = cells[0].appendChild(make("span"));
  let key = null;
  letter.type = "button";
  letter.addEventListener("click", () => actions.touch(key));
  element.light = (lit) => {
    element.classList.toggle("lit", lit === key);
    letter.setAttribute("aria-pressed", String(lit === key));
  };
  const update = (part) => {
    key = part.key;
    say(letter, part.letter);
    letter.setAttribute("aria-label", `${part.letter}: show ${part.label}`);
    letter.style.backgroundColor = part.colour;
    say(label, part.label);
    const also = [part.square ? "" : part.ends, part.ripped, part.measured ? "measure first" : "", part.over, part.also].filter(Boolean).join("; ");
    const length = part.wanted ? `${part.length}, ${part.wanted}` : part.length;
    [part.quantity, length, part.section, also].forEach((text, index) => say(cells[index + 1], String(text ?? "")));
  };
  return { element, update };
}

// The engine names the rows; each block is a table of its own shape.
export function quantities() {
  return (scene) => {
    const blocks = quantityBlocks(scene.reading.quantities);
    show(find("#quantities-section"), blocks.length > 0);
    const faulty = scene.reading.parts.filter((part) => part.faulty).length;
    say(find("#uncounted"), faulty === 1 ? "One part is not counted until it is put right." : `${faulty} parts are not counted until they are put right.`);
    show(find("#uncounted"), faulty > 0);
    patch(find("#quantities"), blocks, (block) => block.title, quantityBlock);
  };
}

export function quantityBlocks(view) {
  if (!view) return [];
  const blocks = [];
  if (view.rows?.length) blocks.push({ title: "", wordy: true, heads: ["What", "How much", "By"], rows: view.rows.map((row) => [row.name, row.value, row.basis]) });
  if (view.by_section?.length) {
    const names = Object.keys(view.by_section[0]);
    blocks.push({ title: "By section", heads: names.map(words), rows: view.by_section.map((row) => names.map((name) => row[name] ?? "")) });
  }
  return blocks;
}

const words = (name) => (name.charAt(0).toUpperCase() + name.slice(1)).replaceAll("_", " ");

export function quantityBlock() {
  const element = make("div");
  const grid = element.appendChild(make("table", "", "stack"));
  grid.setAttribute("role", "table");
  const caption = grid.appendChild(make("caption"));
  const head = grid.appendChild(make("thead")).appendChild(make("tr"));
  const body = grid.appendChild(make("tbody"));
  head.setAttribute("role", "row");
  for (const group of [head.parentElement, body]) group.setAttribute("role", "rowgroup");
  return {
    element,
    update: (block) => {
      grid.classList.toggle("wordy", block.wordy === true);
      say(caption, block.title);
      show(caption, block.title !== "");
      patch(head, block.heads, (_, index) => index, () => {
        const cell = make("th");
        cell.scope = "col";
        cell.setAttribute("role", "columnheader");
        return { element: cell, update: (text) => say(cell, text) };
      });
      table(body, block.rows, block.heads);
    },
  };
}
