// What a text may mean in a field for a section.

import assert from "node:assert/strict";
import { test } from "node:test";
import { addSize, madeOf, makes, sizeFor } from "../../www/state/sizes.js";
import { learnSizes, inMetres, sectionTyped } from "../../www/view/choices.js";

const ROWS = [
  { name: "45 x 95 planed", thickness: "45 mm", width: "95 mm", imperial: false, region: "UK and Europe" },
  { name: "2 x 4", thickness: "1 1/2\"", width: "3 1/2\"", imperial: true, region: "North America" },
  { name: "feather edge 150", thickness: null, width: "150 mm", cover: "125 mm", joint: "lapped", imperial: false, region: "UK and Europe" },
];
const sides = (text, imperial = false) => {
  const made = madeOf(text, imperial);
  return made && [made.name, made.thickness, made.width];
};
const job = (unit = "mm") => ({ unit, sections: [{ name: "frame 45 x 70" }, { name: "slat" }], yard: [] });

test("two figures make a section under the name that was typed", () => {
  assert.deepEqual(sides("20 x 45"), ["20 x 45", "20 mm", "45 mm"]);
  assert.deepEqual(sides(" oak  20,5X45 mm "), ["oak 20,5X45 mm", "20,5 mm", "45 mm"]);
  assert.deepEqual(sides("C24 45×95"), ["C24 45×95", "45 mm", "95 mm"]);
  assert.deepEqual(sides("1 1/2 x 3 1/2", true), ["1 1/2 x 3 1/2", "1 1/2\"", "3 1/2\""]);
  assert.deepEqual(sides("3/4\" x 2"), ["3/4\" x 2", "3/4\"", "2 mm"]);
});

test("nothing is made where another number may be what is meant", () => {
  for (const text of ["", "20", "20 x", "frame", "x", "3 x 20 x 45", "4 of 20 x 45", "45 x 70 (sold as 47 x 75)", "5/4 x 6"]) assert.equal(sides(text), null, text);
});

test("a common size has its real sides, under the name that was typed", () => {
  assert.equal(sizeFor(ROWS, "2x4", true).width, "3 1/2\"");
  assert.equal(sizeFor(ROWS, "2 x 4", false).thickness, "1 1/2\"");
  assert.equal(sizeFor(ROWS, "2x4", true).name, "2x4");
  assert.equal(sizeFor(ROWS, "feather edge 150", false), null);
});

test("making a section adds it and the lengths that it is sold in, once", () => {
  const made = { sections: [], yard: [] };
  const size = madeOf("20 x 45", false);
  assert.equal(makes(size), "make 20 x 45, sold in 2.4, 3.0, 3.6, 4.2, 4.8 m");
  assert.equal(makes(madeOf("2 x 4", true)), "make 2 x 4, sold in 8', 10', 12', 14', 16'");
  for (let twice = 0; twice < 2; twice += 1) assert.equal(addSize(made, size), "20 x 45");
  assert.deepEqual(made.sections, [{ name: "20 x 45", thickness: "20 mm", width: "45 mm" }]);
  assert.deepEqual(made.yard.map(({ section, length }) => [section, length]), ["2.4 m", "3.0 m", "3.6 m", "4.2 m", "4.8 m"].map((length) => ["20 x 45", length]));
});

test("the choices below a field follow what is typed", () => {
  learnSizes(ROWS);
  const of = (typed, text) => typed.choices(text).map(({ label }) => label);
  const part = sectionTyped(job(), { several: true });
  assert.deepEqual(of(part, ""), ["frame 45 x 70", "slat", "any of several …", "a common size …"]);
  assert.deepEqual(of(part, "sl").slice(0, 1), ["slat"]);
  assert.deepEqual(of(part, "45x95").slice(0, 2), ["make 45x95, sold in 2.4, 3.0, 3.6, 4.2, 4.8 m", "make 45 x 95 planed, sold in 2.4, 3.0, 3.6, 4.2, 4.8 m"]);
  assert.deepEqual(of(sectionTyped(job(), { none: "none", value: "slat" }), "").slice(0, 1), ["none"]);
  assert.equal(part.meant("slat"), null);
  assert.equal(part.meant("plank"), null);
  assert.equal(part.meant("slat; 20 x 45").make.name, "20 x 45");
  assert.equal(part.meant("slat; 20 x 45").value, "slat; 20 x 45");
  assert.equal(part.exact("FRAME 45x70"), "frame 45 x 70");
  assert.equal(part.exact("other"), "other");
});

test("a small bare number is offered in metres where it would be millimetres or centimetres", () => {
  assert.equal(inMetres(job())("2.4"), "2.4 m");
  assert.equal(inMetres(job("cm"))("2,4"), "2,4 m");
  for (const [unit, text] of [["mm", "2400"], ["mm", "2.4 m"], ["m", "2.4"], ["in", "8"], ["mm", ""], ["mm", "21"]]) assert.equal(inMetres(job(unit))(text), "", text);
});
