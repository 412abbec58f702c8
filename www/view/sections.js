// The sections, each with the lengths the yard sells it in.

import { lengthKeys, yesNo } from "./choices.js";
import { find, patch, say, stamp } from "./dom.js";
import { fieldBlock } from "./field.js";
import { RowList } from "./row-list.js";
import { renameSection } from "../state/sections.js";
import { dropYardLines } from "../state/yard.js";
import { texts } from "./parts.js";

// What is not said to be treated is not; timber nobody knows about counts as treated in every caution.
const TREATED = [
  { value: "", label: "no" },
  { value: "yes", label: "yes" },
  { value: "unknown", label: "unknown" },
];

const mainSpecs = (job) => [
  { name: "name", label: "Section" },
  { name: "thickness", label: "Thickness", keys: lengthKeys(job) },
  { name: "width", label: "Width", keys: lengthKeys(job) },
];

const moreSpecs = (job, usual) => [
  { name: "cover", label: "Cover width", hint: "what a tongued or lapped board covers", keys: lengthKeys(job) },
  { name: "trim", label: "End trim of a new length", hint: "one length, or datum end; far end", usual: usual.trim },
  { name: "keep", label: "Keep length", hint: "shortest offcut worth keeping", keys: lengthKeys(job) },
  { name: "treated", label: "Treated", choices: TREATED },
  { name: "turnable", label: "May be turned end for end", hint: "no for moulded, faced or tongued boards", choices: yesNo("yes, as usual") },
  { name: "density", label: "Density, kg per cubic metre", keys: "decimal" },
];

const yardSpecs = (job) => [
  { name: "length", label: "Length", keys: lengthKeys(job) },
  { name: "price", label: "Price", keys: "decimal" },
  { name: "count", label: "Stock", keys: "numeric", usual: "any" },
];

export function sectionList(actions) {
  const container = find("#sections");
  find("#add-section").addEventListener("click", () => {
    let row = 0;
    actions.change(null, (piece) => (row = piece.job.sections.push({ name: "", thickness: "", width: "" }) - 1));
    container.children[row].querySelector("input").focus();
  });
  return (scene) => {
    const { job } = scene.piece;
    patch(container, job.sections, (_, index) => index, (row) => sectionCard(actions, row));
    for (const card of container.children) card.fill(scene);
  };
}

function sectionCard(actions, row) {
  const element = stamp("t-section");
  const [mainBox, moreBox] = element.querySelectorAll(".fields");
  // The name by which lengths, boards and parts know this section while it is being renamed.
  let known = null;
  mainBox.addEventListener("focusout", () => (known = null));
  const type = (name, value) => actions.change(`sections/${row}/${name}`, (piece, store) => {
    const section = piece.job.sections[row];
    if (name === "name") known = renameSection(store, piece, row, known ?? section.name, value);
    section[name] = value;
  });
  const main = fieldBlock(mainBox, type);
  const more = fieldBlock(moreBox, type);
  const yard = new RowList(element.querySelector(".yard"), "Length", {
    input: (index, name, value) => actions.change(`yard/${index}/${name}`, (piece) => (piece.job.yard[index][name] = value)),
    remove: (index) => actions.change(null, (piece) => dropYardLines(piece, (_, row) => row === index)),
    enter: addLength,
  }, "t-yard");
  element.querySelector(".add-length").addEventListener("click", addLength);
  element.querySelector(".buttons .remove").addEventListener("click", () => actions.change(null, (piece) => {
    const [gone] = piece.job.sections.splice(row, 1);
    dropYardLines(piece, (line) => line.section === gone.name);
  }));

  function addLength() {
    let index = 0;
    actions.change(null, (piece) => (index = piece.job.yard.push({ section: piece.job.sections[row].name, length: "", price: "" }) - 1));
    yard.focus(index, "length");
  }

  element.fill = (scene) => {
    const { job } = scene.piece;
    const section = job.sections[row];
    say(element.querySelector("h3"), section.name || "New section");
    const faultOf = (field) => scene.faultOf(`sections/${row}/${field}`);
    main.update(mainSpecs(job), section, faultOf);
    more.update(moreSpecs(job, scene.usual), { ...section, trim: texts(section.trim), treated: section.treated === "no" ? "" : section.treated }, faultOf);
    const lines = job.yard.map((line, index) => ({ line, index })).filter(({ line }) => line.section === (known ?? section.name));
    yard.update(lines.map(({ line, index }) => ({
      key: index,
      specs: yardSpecs(job),
      values: line,
      faultOf: (field) => scene.faultOf(`yard/${index}${field && "/"}${field}`),
    })));
  };
  return { element, update: () => {} };
}
