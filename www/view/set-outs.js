// The set-outs of the piece: a form, a live drawing, and the resulting parts. The forms are built from the engine's description of each
// kind.

import { sectionTaken, sectionTyped, sizeKeys } from "./choices.js";
import { draw, facts, find, lines, make, patch, say, show, stamp } from "./dom.js";
import { fieldBlock } from "./field.js";
import { texts } from "./fields.js";
import { picturesOf } from "./pictures.js";

export const isSection = (field) => field.holds === "section";

export function setOutList(actions) {
  const container = find("#set-outs");
  const cards = [];
  find("#add-set-out").addEventListener("click", () => actions.acts.openKinds());
  const showSetOut = (row) => cards[row]?.focus();
  const show = (scene) => {
    const { job } = scene.piece;
    offerSizes(scene);
    patch(container, job.set_outs, (setOut, row) => `${row}/${setOut.kind}`, (key) => {
      const row = Number(key.split("/")[0]);
      return (cards[row] = setOutCard(actions, row));
    });
    job.set_outs.forEach((_, row) => cards[row].fill(scene));
  };
  return { show, acts: { showSetOut } };
}

// Sizes that an expression may refer to, for the field's list of suggestions.
function offerSizes(scene) {
  const named = scene.reading.set_outs.flatMap((setOut) => setOut.facts.map((fact) => `[${setOut.name}] ${fact.name}`));
  const list = find("#sizes-known");
  const now = named.join("\n");
  if (list.dataset.now === now) return;
  list.dataset.now = now;
  list.replaceChildren(...named.map((value) => Object.assign(make("option"), { value })));
}

function setOutCard(actions, row) {
  const element = stamp("t-set-out");
  const part = (selector) => element.querySelector(selector);
  const type = (name, value, also = null) => actions.change(also ? null : `set_outs/${row}/${name}`, (piece) => {
    also?.(piece.job);
    piece.job.set_outs[row][name] = value;
  });
  const input = sectionTaken(actions, type);
  const needed = fieldBlock(part(".set-out-fields"), input);
  const more = fieldBlock(part(".more .fields"), input);
  part(".remove").addEventListener("click", () => actions.change(null, (piece) => piece.job.set_outs.splice(row, 1)));
  part(".copy").addEventListener("click", () => actions.change(null, (piece) => {
    const copy = { ...piece.job.set_outs[row] };
    copy.name = freeName(piece.job, copy.name);
    piece.job.set_outs.splice(row + 1, 0, copy);
  }));

  // The inside of a folded set-out is made when it is first needed, so that a piece with many set-outs is usable sooner.
  let latest = null;
  let made = false;
  const toggle = part(".toggle");
  const unfold = (open) => {
    toggle.setAttribute("aria-expanded", String(open));
    show(part(".set-out-all"), open);
    if (open && latest !== null) fillInside(latest);
  };
  toggle.addEventListener("click", () => unfold(toggle.getAttribute("aria-expanded") === "false"));
  element.unfold = () => unfold(true);
  unfold(actions.piece().job.set_outs.length === 1);

  function fill(scene) {
    const setOut = scene.piece.job.set_outs[row];
    const kind = scene.kinds.find((one) => one.kind === setOut.kind);
    const view = scene.reading.set_outs[row];
    say(part("h3 .name"), setOut.name || "Set-out");
    const lacks = scene.lacking.find((one) => one.row === row);
    const told = lacks ? [] : view?.faults ?? [];
    const faulty = told.length > 0;
    const next = lacks ? `give ${lacks.labels.join(", ").toLowerCase()}` : faulty && "something to put right";
    say(part("h3 small"), [kind?.title, next].filter(Boolean).join(" – "));
    element.classList.toggle("faulty", faulty);
    latest = scene;
    if (made || next || toggle.getAttribute("aria-expanded") === "true") fillInside(scene);
  }

  function fillInside(scene) {
    made = true;
    const setOut = scene.piece.job.set_outs[row];
    const kind = scene.kinds.find((one) => one.kind === setOut.kind);
    const view = scene.reading.set_outs[row];
    const told = scene.lacking.some((one) => one.row === row) ? [] : view?.faults ?? [];
    const values = Object.fromEntries(Object.entries(setOut).map(([name, value]) => [name, texts(value)]));
    // Words of older files are shown as they are called now.
    for (const { field, formerly } of kind?.fields ?? []) values[field] = formerly[values[field]] ?? values[field];
    const faultOf = (name) => scene.faultOf(`set_outs/${row}/${name}`);
    const { job } = scene.piece;
    const specs = specsOf(job, kind, values);
    const extra = Object.fromEntries(specs.map((spec) => [spec.name, { usual: spec.usual, keys: spec.size ? sizeKeys(job, values[spec.name]) : undefined }]));
    const [first, rest] = [specs.filter((spec) => spec.sight), specs.filter((spec) => !spec.sight)];
    needed.update(first, values, faultOf, extra);
    more.update(rest, values, faultOf, extra);
    if (rest.some((spec) => faultOf(spec.name) !== null)) part(".more").open = true;
    const shown = new Set(specs.map((spec) => spec.name));
    lines(part(".faults"), told.filter((fault) => !shown.has(fault.field)).map((fault) => fault.message));
    if (view) fillView(part, view);
  }
  function focus() {
    unfold(true);
    needed.focus(firstSize(actions, row));
  }
  return { element, fill, update: () => {}, focus };
}

function fillView(part, view) {
  draw(part(".drawing"), view.svg);
  show(part(".drawing"), Boolean(view.svg));
  say(part(".made"), view.makes);
  show(part(".made"), Boolean(view.makes));
  lines(part(".cautions"), view.cautions ?? []);
  lines(part(".notes"), view.notes);
  facts(part("dl.facts"), view.facts);
  show(part(".sizes"), view.facts.length > 0);
  show(part(".marks"), view.positions.length > 0);
  patch(part(".marks > div"), view.positions, (_, index) => index, marksBlock);
  show(part(".makes"), view.parts.length > 0);
  say(part(".makes summary"), view.parts.length === 1 ? "Makes one line of parts" : `Makes ${view.parts.length} lines of parts`);
  lines(part(".makes ul"), view.parts.map(partLine));
}

export const partLine = (one) => `${one.quantity} × ${one.label}: ${one.length}, ${one.section}${one.square ? "" : `, ends ${one.ends}`}${one.measured ? ", measure first" : ""}${one.over ? `, ${one.over}` : ""}${one.also ? `, ${one.also}` : ""}`;

function marksBlock() {
  const element = make("div");
  const title = element.appendChild(make("h4"));
  const datum = element.appendChild(make("p", "", "about"));
  const list = element.appendChild(make("dl", "", "facts"));
  return {
    element,
    update: (position) => {
      say(title, position.title);
      say(datum, position.datum);
      facts(list, position.marks.map((mark) => ({ name: mark.label, value: mark.rounded ? `${mark.reading} (rounded)` : mark.reading })));
    },
  };
}

function specsOf(job, kind, values) {
  const fields = (kind?.fields ?? []).map((field) => ({
    name: field.field,
    label: field.label,
    hint: field.hint,
    usual: isSection(field) ? undefined : field.usual ?? "",
    needed: field.needed === true,
    sight: field.in_sight === true,
    size: field.holds === "length",
    pictures: picturesOf(kind.kind, field.field)?.map((svg, index) => ({ svg, label: field.choices[index], value: field.choices[index] === field.usual ? "" : field.choices[index] })),
    keys: field.holds === "count" ? "numeric" : undefined,
    list: field.holds === "length" ? "sizes-known" : field.holds === "ends" ? "ends-known" : undefined,
    choices: choicesOf(field, values[field.field]),
    typed: isSection(field) ? sectionTyped(job, { none: field.needed ? null : "none", value: values[field.field] }) : undefined,
  }));
  return [{ name: "name", label: "Name", sight: true }, ...fields];
}

function choicesOf(field, value) {
  if (!field.choices) return undefined;
  const usual = field.usual ? [{ value: "", label: field.usual }] : [];
  return [...usual, ...field.choices.filter((word) => word !== field.usual || value === word)];
}

function firstSize(actions, row) {
  const kind = actions.kinds().find((one) => one.kind === actions.piece().job.set_outs[row].kind);
  return kind?.fields.find((field) => field.needed && field.holds === "length")?.field ?? "name";
}

export function freeName(job, name) {
  const names = new Set(job.set_outs.map((setOut) => setOut.name));
  const bare = String(name ?? "Set-out").replace(/ \d+$/, "");
  if (!names.has(bare)) return bare;
  for (let number = 2; ; number += 1) if (!names.has(`${bare} ${number}`)) return `${bare} ${number}`;
}
