// Faults in the person's words.

import assert from "node:assert/strict";
import { test } from "node:test";
import { sorted, toGive } from "../../www/state/fault-places.js";

const labelOf = (list, field) => ({ parts: { over: "Left long by" }, job: { yard_trim: "Trim of a yard-sawn end" } })[list]?.[field];
const told = (faults, job, rows) => sorted({ faults }, rows, { job: { set_outs: [], ...job } }, [], [], labelOf);

test("a field is called what the page calls it", () => {
  const faults = [
    { list: "parts", row: 0, field: "over", message: "no" },
    { list: "parts", row: 0, field: "label", message: "no" },
    { list: "", row: null, field: "yard_trim", message: "no" },
  ];
  const { told: all } = told(faults, { parts: [{ label: "Post", over: "2 x" }], yard_trim: "2 x" }, { parts: [0] });
  assert.deepEqual(all.map(({ where }) => where), ["Post, left long by", "Post, name", "trim of a yard-sawn end"]);
});

test("rows in which nothing is typed yet are not asked for", () => {
  const none = { list: "", row: null, field: "parts", message: "there are no parts yet" };
  assert.deepEqual(told([none], { parts: [] }, { parts: [] }).told, []);
  assert.deepEqual(told([none], { parts: [{ label: "", quantity: "1" }] }, { parts: [] }).told, []);
});

test("an empty field is asked for by its name, with the place where it is", () => {
  const fault = (field) => ({ list: "yard", row: 0, field, message: "is missing" });
  const { lacking } = told([fault("price"), fault("pack"), fault("count")], { yard: [{ section: "rail", length: "3.0 m" }] }, { yard: [0] });
  assert.deepEqual(lacking.map(({ place, goes }) => [place, goes]), [["yard/0/price", "timber"]]);
  assert.equal(toGive(lacking[0]), "the price, pack and count of 3.0 m of rail");
});
