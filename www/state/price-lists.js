// Price lists of yards, kept on the device for all pieces: [{ name, decimal, terms, rows }]. `rows` are lines of a job's yard without a yard, their
// lengths with units; `terms` are those of the yard.

import { readingOf } from "./reading.js";
import { addYard, nameYard, yardsOf } from "./sellers.js";
import { addYardLine } from "./yard.js";

// The price list of a yard from a job whose bare numbers have units, under a name.
export function listFrom(job, yard, name) {
  const mine = job.yard.filter((line) => yardsOf(job).length < 2 || line.yard === yard);
  const { name: _, ...terms } = yardsOf(job).find((one) => (one.name ?? "") === yard) ?? {};
  return { name, decimal: readingOf(job).decimal, terms, rows: mine.map(({ yard: __, ...row }) => row) };
}

// The lists with this one, in the place of one of its name.
export const withList = (lists, list) => [...lists.filter(({ name }) => name !== list.name), list];

// Why a list cannot be put into a job, in words, or null.
export function cannotTake(job, list) {
  if (readingOf(job).decimal !== list.decimal) return "It is written with the other decimal sign.";
  const names = new Set(job.sections.map((section) => section.name));
  if (!list.rows.some((row) => names.has(row.section))) return "It has no section of this piece.";
  const known = yardsOf(job).some(({ name }) => name === list.name);
  return known || yardsOf(job).length < MOST ? null : "This piece has three yards already.";
}

const MOST = 3;

// Puts a list into a job: its yard where it is not there, and of the sections that the job has what costs otherwise or is not there. Returns how many
// lengths that are.
export function putIn(job, list) {
  if (!yardsOf(job).some(({ name }) => name === list.name)) {
    const row = addYard(job);
    nameYard(job, row, list.name);
    Object.assign(job.yards[row], list.terms);
  }
  const names = new Set(job.sections.map((section) => section.name));
  let count = 0;
  for (const row of list.rows.filter(({ section }) => names.has(section))) {
    const line = { ...row, yard: list.name };
    const same = job.yard.find((one) => one.section === row.section && one.length === row.length && one.yard === list.name && (one.pack ?? "") === (row.pack ?? ""));
    if (same) Object.assign(same, line);
    else addYardLine(job, line);
    count += 1;
  }
  return count;
}
