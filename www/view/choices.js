// Choices and keyboards that several places share.

import { addSize, commonSizes, isImperial, makes, plain, sizeFor } from "../state/sizes.js";

// The sections of the piece, by name.
export const sectionNames = (job) => job.sections.map((section) => String(section.name ?? "").trim()).filter(Boolean);

// Which keyboard a length needs: numbers are enough where the unit is metric; feet and inches need signs that a number pad lacks.
export const lengthKeys = (job) => (["in", "ft"].includes(job.unit) ? "text" : "decimal");

// A number pad while the field holds a bare number, all keys once it holds more.
export const sizeKeys = (job, value) => (lengthKeys(job) === "decimal" && /^[\d.,]*$/.test(String(value ?? "")) ? "decimal" : "text");

// The metres that may be meant by a small number without a unit, where that would be so many millimetres or centimetres: 2.4 is 2.4 m.
export const inMetres = (job) => (text) => (["mm", "cm"].includes(job.unit ?? "mm") && /^\d{1,2}([.,]\d+)?$/.test(text.trim()) && Number.parseFloat(text.replace(",", ".")) <= LONGEST ? `${text.trim()} m` : "");

const LONGEST = 20; // metres; no longer length is sold

// The common sizes of timber, once the engine has told them.
const common = { rows: [] };
export const commonRows = () => common.rows;
export const learnSizes = (rows) => (common.rows = rows);

const SEVERAL = { asks: "several", label: "any of several …" };
const COMMON = { asks: "common", label: "a common size …" };
const MANY = 4; // most common sizes that are offered at what is typed

// How a field for a section is typed in: the choices for a text, those for none where nothing is typed, and what may be made of a text that names no section
// of the piece. `several` says whether several may be named, `none` what an empty field is called where it may stay empty.
export function sectionTyped(job, { several = false, none = null, value = "" } = {}) {
  const names = sectionNames(job);
  const asked = [...(several && names.length > 1 ? [SEVERAL] : []), COMMON];
  const all = [...(none !== null && String(value ?? "") !== "" ? [{ value: "", label: none }] : []), ...names.map((name) => ({ value: name, label: name }))];
  const meant = (text) => {
    const lacked = lacking(names, text);
    const size = lacked === null ? null : sizeFor(common.rows, lacked, isImperial(job));
    return size && { make: size, value: text.trim(), label: makes(size) };
  };
  const choices = (text) => {
    if (text.trim() === "") return [...all, ...asked];
    const own = all.filter(({ label }) => plain(label).includes(plain(text)));
    const made = meant(text);
    const same = (row) => plain(row.name) === plain(text) || names.includes(row.name);
    const sizes = plain(text).length < 2 ? [] : commonSizes(common.rows, text, isImperial(job)).filter((row) => row.imperial === isImperial(job) && !same(row)).slice(0, MANY);
    return [...own, ...(made ? [made] : []), ...sizes.map((row) => ({ make: row, value: row.name, label: makes(row) })), ...asked];
  };
  const exact = (text) => names.find((name) => plain(name) === plain(text)) ?? text;
  return { choices, meant, exact, known: (text) => text !== "" && lacking(names, text) === null, usual: none ?? (names.length > 0 ? "choose, or type a size" : "type a size") };
}

// The first name of a text, which may name several sections, that the piece does not have; null where it has all.
const lacking = (names, text) => text.split(";").map((name) => name.trim()).find((name) => name !== "" && !names.includes(name)) ?? null;

// What is done with what a field for a section gives: a text, or a choice that makes a size or asks. `type(name, value, also)` takes a text, and does
// something else to the job with it.
export const sectionTaken = (actions, type, several = () => {}) => (name, given, sought = "") => {
  if (given?.make) return type(name, given.value, (job) => addSize(job, given.make));
  if (given?.asks === "common") return actions.acts.chooseSize((row) => type(name, row.name, (job) => addSize(job, row)), sought);
  if (given?.asks === "several") return several();
  return type(name, given);
};
