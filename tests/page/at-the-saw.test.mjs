// The board that is at the saw, what was done before a new plan, and what is to be filled in.

import assert from "node:assert/strict";
import { test } from "node:test";
import { BoardAtHand } from "../../www/state/at-hand.js";
import { isUnfinished, jobToSend, toFinish, withoutLengths } from "../../www/state/job.js";
import { putAway } from "../../www/state/shed.js";
import * as work from "../../www/state/work.js";
import { priceSince } from "../../www/state/yard.js";
import { withLists } from "../../www/state/pieces.js";

test("taking back what went wrong shows the board that was at the saw then", () => {
  const hand = new BoardAtHand();
  hand.follow("p", 0);
  hand.follow("p", 1); // the first cut is ticked
  assert.equal(hand.of(9), 0);
  hand.follow("p", 2); // its third part is spoiled, and the rest is board 9 of the new plan
  hand.take(8);
  assert.equal(hand.of(9), 8);
  hand.follow("p", 1); // undone; for a moment a plan of four boards is shown still
  assert.deepEqual([hand.of(4), hand.of(9)], [0, 0]);
});

test("a plan that is shown for a moment and has fewer boards does not move the one at the saw", () => {
  const hand = new BoardAtHand();
  hand.follow("p", 1);
  hand.take(5);
  hand.follow("p", 2);
  hand.take(0);
  hand.follow("p", 1);
  assert.deepEqual([hand.of(2), hand.of(9), hand.of(0)], [1, 5, 0]);
  hand.follow("another", 1);
  assert.equal(hand.of(9), 0);
});

test("taking the first tick back leaves the board where it is", () => {
  const hand = new BoardAtHand();
  hand.follow("p", 0);
  hand.take(3);
  hand.follow("p", 1);
  hand.take(4);
  hand.follow("p", 0);
  assert.equal(hand.of(9), 4);
});

test("boards that were done before a new plan stay counted", () => {
  const piece = { work: { legs: [{ done: 2 }, {}, { done: 7 }] } };
  assert.equal(work.doneBefore(piece), 2);
  assert.equal(work.doneBefore({}), 0);
});

test("all boards that come back are counted, those that lay unused too, and scrap is not", () => {
  const store = { shed: [{ id: "a", row: { mark: "A", length: "900" } }] };
  const [kept, scrap] = [{ mark: "K", length: "800" }, { mark: "L-2", length: "90" }];
  const left = [{ mark: "A", length: "900" }, kept, scrap];
  assert.equal(putAway(store, { offered: ["a"], left, scrap: [scrap], back: [{ mark: "K-2", length: "400" }] }, { unit: "mm", decimal: "point" }), 2);
  assert.deepEqual(store.shed.map((board) => board.row.mark), ["A", "K", "K-2"]);
});

test("what was new timber for a piece comes back as a board of the shed", () => {
  const store = { shed: [] };
  const bought = { mark: "K", length: "800", counts_as: "new timber" };
  putAway(store, { offered: [], left: [bought], scrap: [], back: [{ ...bought, mark: "L-2" }] }, { unit: "mm", decimal: "point" });
  assert.deepEqual(store.shed.map((board) => board.row), [{ mark: "K", length: "800" }, { mark: "L-2", length: "800" }]);
});

test("a price that was typed over since is told with both, for the line it is of", () => {
  const line = (price) => ({ section: "batten", length: "2.4 m", price });
  const leg = { job: { yard: [line("5.00"), line("6.00")] }, rows: { yard: [0, 1] } };
  const piece = { job: { yard: [line("5.00"), line("6.50")] } };
  assert.equal(priceSince(piece, leg, 0), null);
  assert.deepEqual(priceSince(piece, leg, 1), { was: "6.00", now: "6.50" });
  piece.job.yard[1].price = "";
  assert.deepEqual(priceSince(piece, leg, 1), { was: "6.00", now: "" });
});

test("a board of the shed without its length is left out of what is planned", () => {
  const board = (id, row) => ({ id, decimal: "point", row: { section: "batten", ...row } });
  const piece = { id: "p", job: withLists({ unit: "mm", decimal: "point", sections: [{ name: "batten" }] }) };
  const store = { pieces: [piece], shed: [board("a", { mark: "A", length: "" }), board("b", { mark: "B", length: "900" })] };
  assert.deepEqual(jobToSend(store, piece).rows.shed, ["b"]);
  assert.deepEqual(store.shed.map(isUnfinished), [true, false]);
  assert.deepEqual(toFinish(store, piece).map(({ place, where }) => [place, where]), [["shed/a/length", "Shed board A"]]);
  const elsewhere = { pieces: [piece], shed: [board("d", { mark: "D", section: "sheet" })] };
  assert.deepEqual(toFinish(elsewhere, piece), []);
  assert.equal(isUnfinished(board("c", { mark: "", length: "" })), false);
});

test("a section that parts want and nobody has a length of is named", () => {
  const job = { sections: [{ name: "post" }, { name: "rail" }, { name: "cap" }, { name: "lath" }], yard: [{ section: "rail", length: "3 m" }, { section: "post", length: " " }] };
  const parts = [{ section: "post" }, { section: "rail" }, { section: "cap" }];
  assert.deepEqual(withoutLengths(job, parts, [{ row: { section: "cap", length: "900" } }]), ["post"]);
});
