// Sizes of timber by their names: the common ones, and those that are made of what is typed, as 20 x 45.

// Lengths that yards usually stock, by region; a start, to be changed to what the yard really has. Common practice, no source.
export const USUAL_LENGTHS = {
  metric: ["2.4 m", "3.0 m", "3.6 m", "4.2 m", "4.8 m"],
  imperial: ["8'", "10'", "12'", "14'", "16'"],
};

export const isImperial = (job) => ["in", "ft"].includes(job.unit);
export const usualLengths = (imperial) => USUAL_LENGTHS[imperial ? "imperial" : "metric"];

// The lengths as they are said: 2.4, 3.0, 3.6 m.
const said = (lengths) => lengths.map((length, at) => (at < lengths.length - 1 ? length.replace(/ m$/, "") : length)).join(", ");

// What making a size does, in words.
export const makes = (row) => `make ${row.name}, sold in ${said(row.sold ?? usualLengths(row.imperial))}`;

export const plain = (text) => text.trim().toLowerCase().replaceAll("×", "x").replace(/\s+/g, " ").replaceAll(" x ", "x");

// A size that is in no list, from two figures as in 20 x 45 or oak 20 x 45: a section of its own. Null where it is something else.
export function madeOf(text, imperial) {
  const unit = imperial ? '"' : " mm";
  const sides = PAIR.exec(text);
  // Another number may be what is meant: of a fraction, a third side, a count.
  if (!sides || /(?<![a-z\d])\d/i.test(text.replace(sides[0], ""))) return null;
  const [, one, oneUnit, other, otherUnit] = sides;
  if (!imperial && [[one, oneUnit], [other, otherUnit]].some(([figure, own]) => figure.includes("/") && !own)) return null;
  const side = (figure, own) => `${figure}${(own ?? "") === "" ? unit : own === '"' ? own : ` ${own}`}`;
  return { region: "your own", name: text.trim().replace(/\s+/g, " "), imperial, thickness: side(one, oneUnit), width: side(other, otherUnit) };
}

const FIGURE = String.raw`(\d+[ -]\d+\/\d+|\d+\/\d+|\d+(?:[.,]\d+)?)\s*(mm|")?`;
const PAIR = new RegExp(`(?<![\\d.,/-])${FIGURE}\\s*[x×]\\s*${FIGURE}(?![\\d.,/])`, "i");

// Of the common sizes those that have all words of a text, those of the region of the job first.
export function commonSizes(rows, text, imperial) {
  const words = plain(text).split(" ").filter(Boolean);
  const near = (row) => (row.imperial === imperial ? 0 : 1);
  const found = rows.filter((row) => words.every((word) => plain(`${row.name} ${row.region}`).includes(word)));
  return found.sort((one, other) => near(one) - near(other));
}

// What may be made of a text that names no section: the common size of that name, of the region first, else a size of its own, else null.
export function sizeFor(rows, text, imperial) {
  const common = commonSizes(rows, text, imperial).find((row) => row.thickness && plain(row.name) === plain(text));
  return common ? { ...common, name: text.trim() } : madeOf(text, imperial);
}

// Adds a section and the lengths in which a yard usually sells it; returns its name. An existing section of that name stays as it is.
export function addSize(job, row) {
  const { name } = row;
  if (job.sections.some((other) => other.name === name)) return name;
  const section = { name, thickness: row.thickness ?? "", width: row.width };
  if (row.cover) Object.assign(section, { cover: row.cover, joint: row.joint });
  job.sections.push(section);
  for (const length of row.sold ?? usualLengths(row.imperial)) job.yard.push({ section: name, length });
  return name;
}
