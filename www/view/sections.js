// The sections, each with the lengths in which the yard sells it.

import { find, make, patch, say, stamp } from "./dom.js";
import { fieldBlock, lazyBlock } from "./field.js";
import { fieldsOf, specsOf, valuesOf } from "./fields.js";
import { RowList } from "./row-list.js";
import { renameSection } from "../state/sections.js";
import { hasPacks, yardsOf } from "../state/sellers.js";
import { isImperial, usualLengths } from "../state/sizes.js";
import { dropYardLines } from "../state/yard.js";

// Fields of a section that always show; the others are folded away.
const MAIN = ["name", "thickness", "width"];
const MORE = fieldsOf("sections").map(({ name }) => name).filter((name) => !MAIN.includes(name));

// The yard's lines are below their section.
const LINE = ["length", "price", "count"];
const ASKED = ["length", "pack", "price", "count", "yard"]; // a price is of the pack, where there is one

// With what else is asked of a length: how many come in a pack, and which yard sells it.
const lineOf = (job, packs) => [...LINE, ...(packs || hasPacks(job) ? ["pack"] : []), ...(yardsOf(job).length > 1 ? ["yard"] : [])];

// A price per unit is of all lengths of a section: where others have none, it is offered for them too.
const PER = /\d\s*(per\b|\/)\s*\S/i;
const forAll = (job, line) => (text) => {
  const bare = job.yard.some((other) => other !== line && other.section === line.section && String(other.price ?? "").trim() === "");
  return bare && PER.test(text) ? { label: "for all its lengths", price: text } : null;
};

// Their hints stand above the sections, once.
function lineSpecs(job, line, only) {
  const specs = specsOf("yard", job, line, { only, usual: { count: "any", pack: "one" } });
  specs.sort((one, other) => ASKED.indexOf(one.name) - ASKED.indexOf(other.name));
  const choices = [...new Set(["", ...yardsOf(job).map(({ name }) => name ?? "")])];
  return specs.map(({ hint: _, ...spec }) => ({ ...spec, ...(spec.name === "yard" && { choices }), ...(spec.name === "price" && { offer: forAll(job, line) }) }));
}

export function sectionList(actions) {
  const container = find("#sections");
  find("#add-section").addEventListener("click", () => {
    let row = 0;
    actions.change(null, (piece) => (row = piece.job.sections.push({ name: "", thickness: "", width: "" }) - 1));
    container.children[row].querySelector("input").focus();
  });
  let packs = false;
  find("#show-packs").addEventListener("click", () => {
    packs = !packs;
    actions.redraw();
  });
  return (scene) => {
    const { job } = scene.piece;
    find("#show-packs").setAttribute("aria-pressed", String(packs || hasPacks(job)));
    scene = { ...scene, packs };
    patch(container, job.sections, (_, index) => index, (row) => sectionCard(actions, row));
    for (const card of container.children) card.fill(scene);
  };
}

// Gives the lengths of a section that have no price this one.
function priceAll(yard, section, price) {
  for (const line of yard) if (line.section === section && String(line.price ?? "").trim() === "") line.price = price;
}

function sectionCard(actions, row) {
  const element = stamp("t-section");
  element.dataset.row = `sections/${row}`;
  const [mainBox, moreBox] = element.querySelectorAll(".fields");
  // The name by which lengths, boards and parts refer to this section while it is being renamed.
  let known = null;
  mainBox.addEventListener("focusout", () => (known = null));
  const type = (name, value) => actions.change(`sections/${row}/${name}`, (piece, store) => {
    const section = piece.job.sections[row];
    if (name === "name") known = renameSection(store, piece, row, known ?? section.name, value);
    section[name] = value;
  });
  const main = fieldBlock(mainBox, type);
  const more = lazyBlock(moreBox, type);
  const details = moreBox.closest("details");
  let latest = null;
  details.addEventListener("toggle", () => latest && fillMore(latest));
  const yard = new RowList(element.querySelector(".yard"), "Length", {
    input: (index, name, value) => {
      if (value.price) actions.change(null, ({ job }) => priceAll(job.yard, job.yard[index].section, value.price));
      else actions.change(`yard/${index}/${name}`, (piece) => (piece.job.yard[index][name] = value));
    },
    remove: (index) => actions.change(null, (piece) => dropYardLines(piece, (_, row) => row === index)),
    // Behind the last length the key leads to one more; only the next makes it, so that none stands there that nobody asked for.
    enter: () => add.focus(),
  }, "t-yard");
  const add = element.querySelector(".add-length");
  add.addEventListener("click", addLength);
  element.querySelector(".buttons .remove").addEventListener("click", () => actions.change(null, (piece) => {
    const [gone] = piece.job.sections.splice(row, 1);
    dropYardLines(piece, (line) => line.section === gone.name);
  }));

  function addLength() {
    let index = 0;
    actions.change(null, ({ job }) => (index = pushLength(job, "")));
    yard.focus(index, "length");
  }

  // One more length of the section, from the yard of the last one and at its price where that is per unit; returns its row.
  function pushLength(job, length) {
    const section = job.sections[row].name;
    const last = job.yard.findLast((line) => line.section === section);
    const { yard: at } = last ?? job.yard.at(-1) ?? {};
    const perUnit = last && latest.sold.get(job.yard.indexOf(last))?.per_unit;
    return job.yard.push({ section, length, price: perUnit ? last.price : "", ...(at && { yard: at }) }) - 1;
  }

  // A usual length, pressed where the section is sold in it: one touch puts it on the list or takes it off.
  function usualLength(length) {
    const button = make("button", length);
    button.type = "button";
    let own = [];
    button.addEventListener("click", () => actions.change(null, (piece) => {
      if (own.length > 0) dropYardLines(piece, (_, index) => own.includes(index));
      else pushLength(piece.job, length);
    }));
    return { element: button, update: ({ rows }) => button.setAttribute("aria-pressed", String((own = rows).length > 0)) };
  }

  // What is folded away is made once it is seen, or faulty.
  function fillMore(scene) {
    const { job } = scene.piece;
    const section = job.sections[row];
    const faultOf = (field) => scene.faultOf(`sections/${row}/${field}`);
    if (!section || (!details.open && !more.made && !MORE.some((name) => faultOf(name)))) return;
    more.update(specsOf("sections", job, section, { only: MORE, usual: { trim: scene.usual.trim } }), valuesOf("sections", section), faultOf);
  }

  element.fill = (scene) => {
    latest = scene;
    const { job } = scene.piece;
    const section = job.sections[row];
    say(element.querySelector("h3"), section.name || "New section");
    const faultOf = (field) => scene.faultOf(`sections/${row}/${field}`);
    const values = valuesOf("sections", section);
    main.update(specsOf("sections", job, section, { only: MAIN }), values, faultOf);
    fillMore(scene);
    const lines = job.yard.map((line, index) => ({ line, index })).filter(({ line }) => line.section === (known ?? section.name));
    const usual = element.querySelector(".usual");
    // The rows of a usual length: as the engine reads it, and before that as a switch writes it.
    const isOne = ({ line, index }, length, at) => {
      const read = scene.sold.get(index);
      return line.length === length || (read?.length === line.length && read.usual === at);
    };
    const rowsOf = (length, at) => lines.filter((one) => isOne(one, length, at)).map(({ index }) => index);
    patch(usual, usualLengths(isImperial(job)).map((length, at) => ({ length, rows: rowsOf(length, at) })), ({ length }) => length, usualLength);
    const only = lineOf(job, scene.packs);
    element.querySelector(".yard").classList.toggle("more", only.length > LINE.length);
    yard.update(lines.map(({ line, index }) => ({
      key: index,
      place: `yard/${index}`,
      specs: () => lineSpecs(job, line, only),
      values: valuesOf("yard", line),
      faultOf: (field) => scene.faultOf(`yard/${index}${field && "/"}${field}`),
    })));
  };
  return { element, update: () => {} };
}
