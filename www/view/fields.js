// The forms of the job's rows, from the table of the job file's fields, which the build puts into the page.
//
// The kind of a field decides its keyboard and its choices. The first word of a choice is what an empty field means. In a row it is written
// as an empty field; in the job itself, whose choices are always written, as the word.

import { inMetres, lengthKeys, sectionTyped } from "./choices.js";

const TABLE = JSON.parse(document.getElementById("job-fields").textContent);

const KEYS = { length: lengthKeys, count: () => "numeric", money: () => "decimal", mass: () => "decimal" };

// Fields that hold metres: a bare 2.4 in any of them is hardly millimetres.
const LONG = ["length", "carry", "door", "allowed_timber"];

// The fields of a list, { name, label, hint, holds, choices } each.
export const fieldsOf = (list) => TABLE[list];

// Those of them that hold lengths, whose bare numbers are in the unit of the piece they are typed in.
export const lengthsOf = (list) => TABLE[list].filter(({ holds }) => ["length", "two lengths", "stretches", "sides"].includes(holds)).map(({ name }) => name);

// The fields of a row as `fieldBlock` takes them. `usual` says what an empty field means; `only` names the fields, all where it is missing.
export const specsOf = (list, job, row, { usual = {}, only = null } = {}) =>
  TABLE[list].filter(({ name }) => only === null || only.includes(name)).map(({ name, label, hint, holds, choices }) => ({
    name, label, holds,
    ...(hint && { hint }),
    ...(KEYS[holds] && { keys: KEYS[holds](job) }),
    ...(LONG.includes(name) && { offer: inMetres(job) }),
    ...(holds === "ends" && { list: "ends-known", usual: "square" }),
    ...(["section", "sections"].includes(holds) && { typed: sectionTyped(job, { several: holds === "sections" }) }),
    ...(choices && { choices: choices.map(({ value, label: called }, index) => ({ value: index === 0 && list !== "job" ? "" : value, label: called })) }),
    ...(usual[name] !== undefined && { usual: usual[name] }),
  }));

// The texts in the fields of a row: a list in a job file shows as one text, and a word that an empty field means as empty.
export const valuesOf = (list, row) => Object.fromEntries(TABLE[list].map(({ name, holds, choices }) => {
  const value = holds === "stretches" && Array.isArray(row[name]) ? row[name].map(texts).map((pair) => pair.replace("; ", "..")).join("; ") : texts(row[name]);
  const usual = choices?.[0].value;
  if (list === "job") return [name, value || usual || value];
  return [name, value === usual ? "" : value];
}));

// What is said of fields that are folded away: those of these names that are filled in.
export function saidOf(list, names, values) {
  const said = TABLE[list].filter(({ name }) => names.includes(name) && values[name]).map(({ name, label }) => `${label.toLowerCase()} ${values[name]}`);
  return said.length > 0 ? said.join(", ") : "More";
}

// A list of a job file as one text.
export const texts = (value) => (Array.isArray(value) ? value.join("; ") : value);
