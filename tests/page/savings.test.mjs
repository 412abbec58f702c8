// What would save: news are gathered in order, and a change is written into the row of the piece that the row of the job is.

import assert from "node:assert/strict";
import { test } from "node:test";
import { NOTHING_SAVED, takeEdits, undoing, withNews } from "../../www/state/savings.js";

test("news are gathered in the order in which they come", () => {
  const told = [{ saving: { change: "one" } }, { room: { text: "two" } }, { saving: { change: "three" } }, {}];
  const { found, room } = told.reduce(withNews, NOTHING_SAVED);
  assert.deepEqual([found.map((one) => one.change), room.map((one) => one.text)], [["one", "three"], ["two"]]);
  assert.deepEqual(NOTHING_SAVED.found, []);
});

test("a change is written where the piece has the row, whatever rows were not planned", () => {
  const piece = { job: { carry: "3000", saw: { kerf: "3" }, parts: [{}, { label: "rail", length: "600" }], set_outs: [{ height: "900" }] } };
  const rows = { parts: [1], set_outs: [0] };
  takeEdits(piece, [
    { list: "parts", row: 0, field: "length", text: "590" },
    { list: "set_outs", row: 0, field: "height", text: "880" },
    { list: "saw", row: null, field: "kerf", text: "2.4" },
    { list: "", row: null, field: "carry", text: "3100" },
  ], rows);
  assert.deepEqual(piece.job, { carry: "3100", saw: { kerf: "2.4" }, parts: [{}, { label: "rail", length: "590" }], set_outs: [{ height: "880" }] });
});

test("a change alone is undone, whatever was done since", () => {
  const piece = { job: { aim: "fewest", saw: {}, parts: [{ label: "rail", length: "600" }, { label: "post", length: "900" }], set_outs: [] } };
  const rows = { parts: [0, 1] };
  const edits = [{ list: "parts", row: 1, field: "length", text: "890" }, { list: "saw", row: null, field: "kerf", text: "2" }];
  const back = undoing(piece, edits, rows);
  takeEdits(piece, edits, rows);
  piece.job.aim = "cheapest";
  piece.job.parts[0].length = "650";
  takeEdits(piece, back.edits, back.rows);
  assert.deepEqual(piece.job, { aim: "cheapest", saw: { kerf: "" }, parts: [{ label: "rail", length: "650" }, { label: "post", length: "900" }], set_outs: [] });
  // A row that is gone by then is left alone.
  piece.job.parts.pop();
  takeEdits(piece, back.edits, back.rows);
  assert.equal(piece.job.parts.length, 1);
});
