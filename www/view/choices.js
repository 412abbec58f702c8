// Choices and keyboards that several places share.

// The sections of the piece, by name.
export const sectionNames = (job) => job.sections.map((section) => String(section.name ?? "").trim()).filter(Boolean);

// Which keyboard a length needs: numbers are enough where the unit is metric; feet and inches need signs that a number pad lacks.
export const lengthKeys = (job) => (["in", "ft"].includes(job.unit) ? "text" : "decimal");

// A number pad while the field holds a bare number, all keys once it holds more.
export const sizeKeys = (job, value) => (lengthKeys(job) === "decimal" && /^[\d.,]*$/.test(String(value ?? "")) ? "decimal" : "text");

// The metres that may be meant by a small number without a unit, where that would be so many millimetres: 2.4 is 2.4 m.
export const inMetres = (job) => (text) => ((job.unit ?? "mm") === "mm" && /^\d{1,2}([.,]\d+)?$/.test(text.trim()) && Number.parseFloat(text.replace(",", ".")) <= LONGEST ? `${text.trim()} m` : "");

const LONGEST = 20; // metres; no longer length is sold

export const SEVERAL = "… several";

// The choice that offers a common size instead of one of the piece's sections.
export const COMMON = "… common";
const commonSize = { value: COMMON, label: "a common size …", asks: true };

export function sectionChoices(job, value = "") {
  const names = sectionNames(job);
  const choices = names.map((name) => ({ value: name, label: name }));
  if (String(value).includes(";")) choices.push({ value, label: String(value).split(";").map((name) => name.trim()).join(" or ") });
  if (names.length > 1) choices.push({ value: SEVERAL, label: "any of several …", asks: true });
  return [...choices, commonSize];
}
