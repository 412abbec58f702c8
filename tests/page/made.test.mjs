// What is cut of a piece, counted over all plans of the work.

import assert from "node:assert/strict";
import { test } from "node:test";
import { everyPart, inPiece, madeSoFar } from "../../www/state/made.js";

const step = (...keys) => ({ part_length: keys.length > 0 ? "500 mm" : "", keys });

test("a row of a later plan is one of the piece, and any other is its own", () => {
  assert.equal(inPiece({ keys: { "hand/0": "2/1" } }, "hand/0"), "2/1");
  assert.equal(inPiece({ keys: { "hand/0": "2/1" } }, "hand/1"), "hand/1");
  assert.equal(inPiece({}, "0/0"), "0/0");
  assert.equal(inPiece(null, "0/0"), "0/0");
});

test("what earlier plans made and spoiled and what the ticks of this one say are added up by the rows of the piece", () => {
  const first = { made: [["0/0", 2], ["1/0", 1]], spoiled: [["0/0", 1]] };
  // A trim, a part, two strips in one piece, and a part that is still to be cut.
  const boards = [{ steps: [step(), step("hand/0"), step("hand/1", "hand/1"), step("hand/0")] }, { steps: [step("hand/0")] }];
  const progress = { boards: [{ board: 0, steps: 3, cut: 2, spoiled: [1] }] };
  const leg = { keys: { "hand/0": "0/0", "hand/1": "3/0" }, progress };
  const { made, spoiled, left } = madeSoFar({ work: { legs: [first, leg] } }, leg, boards);
  assert.deepEqual(Object.fromEntries(made), { "0/0": 3, "1/0": 1 });
  assert.deepEqual(Object.fromEntries(spoiled), { "0/0": 1, "3/0": 2 });
  assert.deepEqual(Object.fromEntries(left), { "0/0": 2 });
});

test("before the first tick all is still to be cut", () => {
  const { made, spoiled, left } = madeSoFar({}, null, [{ steps: [step("0/0"), step("0/0")] }]);
  assert.deepEqual([made.size, spoiled.size, left.get("0/0")], [0, 0, 2]);
});

test("every part has a label, those that were cut on an earlier plan too", () => {
  const leg = { keys: { "by hand 0": "legs", "by hand 1": "rails" } };
  const piece = { work: { legs: [{ made: [["legs", 4], ["caps", 3]] }, leg] } };
  const legend = [{ letter: "A", keys: ["by hand 0"], count: 2 }, { letter: "B", keys: ["by hand 1"], count: 5 }];
  const rows = [{ key: "legs", letter: "A" }, { key: "rails", letter: "B" }, { key: "caps", letter: "C", length: "400 mm" }];
  const told = everyPart(piece, leg, legend, rows).map(({ letter, count }) => [letter, count]);
  assert.deepEqual(told, [["A", 6], ["B", 5], ["C", 3]]);
});
