// The buying list and the saw use the engine's fields. Lines that read alike stay two lines, and no decision depends on a word meant for
// people.

import assert from "node:assert/strict";
import { readdirSync, readFileSync } from "node:fs";
import { test } from "node:test";
import { backToShed, boughtAside, boughtUncut, cameOf, carriedAt, numberBefore, restWords, takeBack } from "../../www/state/says.js";
import * as work from "../../www/state/work.js";
import { allBought, dropYardLines, lessBought, ownRow } from "../../www/state/yard.js";
import { Worksite } from "../../www/worksite.js";

// Two lines of the yard that differ in nothing but the price, which is no name: one at 5.00, of which there is one, any number at 6.00.
const twins = () => [{ section: "batten", length: "2.4 m", price: "5.00", count: "1" }, { section: "batten", length: "2.4 m", price: "6.00" }];

// Eight legs of 560: four of a length, so one of each line.
const listed = () => ({
  rows: [0, 1].map((line) => ({ line, section: "batten", length: "2.4 m", count: 1, yard_cuts: [] })), totals: { count: 2 }, order_lines: [],
});
const report = () => ({
  outcome: "proven", boards: [0, 1].map(() => ({ source: "yard", section: "batten", length: "2.4 m", mark: "", title: "New", steps: [] })),
  buying: listed(), back_to_shed: [], left_alone: [], plan: { boards: [{ yard: 0, runs: [] }, { yard: 1, runs: [] }] },
});

// A page with one piece, whose engine says what the test says.
function paged(replies) {
  const piece = { id: "p", job: { yard: twins(), sections: [{ name: "batten" }], parts: [], set_outs: [], saw: {} }, uses: [] };
  const asked = [];
  let marks = 0;
  const page = {
    asked, told: [], store: { pieces: [piece], shed: [] },
    desk: { good: { report: report(), job: { yard: twins(), shed: [] }, rows: { yard: [0, 1], shed: [] } } },
    piece: () => piece,
    change: (_, act) => act(piece, page.store),
    redraw: () => {},
    redrawSoon: () => {},
    tell: Object.assign((text) => page.told.push(text), { drop: () => {} }),
    call: async (action, request) => {
      asked.push({ action, request });
      return action === "fresh_mark" ? { mark: "KLMN"[marks++] } : replies[action](request);
    },
  };
  return { page, piece, worksite: new Worksite(page) };
}

test("of two lengths that read alike each is ticked by itself, and all is bought when both are", async () => {
  const { piece, page, worksite } = paged({});
  const { rows } = page.desk.good.report.buying;
  const counts = () => rows.map((row) => work.boughtOf(work.currentLeg(piece).progress, row.line).count);
  await worksite.buy(rows[1], "2.4 m of batten");
  assert.deepEqual(counts(), [0, 1]);
  assert.equal(allBought(page.desk.good.report, piece), false);
  await worksite.buy(rows[0], "2.4 m of batten");
  assert.deepEqual(counts(), [1, 1]);
  assert.equal(allBought(page.desk.good.report, piece), true);
  await worksite.unbuy(rows[1]);
  assert.deepEqual(counts(), [1, 0]);
  assert.equal(allBought(page.desk.good.report, piece), false);
});

test("what is paid, still to pay and both are told over all plans, once something is bought", async () => {
  // One price for all: what counts is which lengths are added up in each row.
  const count = (times) => times.flatMap(({ progress }) => progress.bought).reduce((sum, one) => sum + one.count, 0);
  const car = ({ times }) => ({ totals: count(times) === 0 ? [] : [{ key: "count", amount: `${count(times)} lengths` }, { key: "cost", amount: `${count(times)}.00` }] });
  const { piece, page, worksite } = paged({ car });
  const told = async () => {
    worksite.sum;
    await new Promise((resolve) => setTimeout(resolve));
    return worksite.sum.map(({ name, count, cost }) => [name, count, cost]);
  };
  assert.deepEqual(await told(), []);
  const { rows } = page.desk.good.report.buying;
  await worksite.buy(rows[1], "2.4 m of batten");
  assert.deepEqual(await told(), [["Paid", "1 lengths", "1.00"], ["Still to pay", "1 lengths", "1.00"], ["In all", "2 lengths", "2.00"]]);
  // A second plan, which buys two more: what the first bought stays paid.
  piece.work.legs[0].plan = page.desk.good.report.plan;
  work.beginWork(piece, { job: page.desk.good.job, plan: null, rows: { yard: [0, 1] } });
  assert.deepEqual(await told(), [["Paid", "1 lengths", "1.00"], ["Still to pay", "2 lengths", "2.00"], ["In all", "3 lengths", "3.00"]]);
  piece.work.legs[1].plan = page.desk.good.report.plan;
  await worksite.buy(rows[0], "2.4 m of batten");
  await worksite.buy(rows[1], "2.4 m of batten");
  assert.deepEqual(await told(), [["Paid", "3 lengths", "3.00"], ["Still to pay", undefined, undefined], ["In all", "3 lengths", "3.00"]]);
});

test("what the yard has no more of is the line that was asked for, not its twin", async () => {
  const left = { job: { yard: twins(), shed: [] }, came: [] };
  const { piece, page, worksite } = paged({ remaining: () => structuredClone(left), car: () => ({ totals: [], warnings: [] }) });
  await worksite.notThere(page.desk.good.report.buying.rows[1], "2.4 m of batten");
  assert.deepEqual(piece.job.yard.map((line) => line.count), ["1", "0"]);
  assert.deepEqual(work.currentLeg(piece).rows.yard, [0, 1]);
  const next = { job: { yard: twins(), shed: [] }, rows: { yard: [0, 1] } };
  next.job.yard[1].count = "0";
  takeBack(piece, next, piece.says[0]);
  assert.deepEqual([piece.job.yard, next.job.yard].map((yard) => yard.map((line) => line.count)), [["1", undefined], ["1", undefined]]);
});

test("a line is known by its place while others go, and a leg that has no places is led back by its words", () => {
  const { piece, page } = paged({});
  const { job, rows } = page.desk.good;
  work.beginWork(piece, { job, plan: null, rows });
  work.bought(work.currentLeg(piece).progress, 1, "", "2.4 m of batten", "K");
  assert.deepEqual([0, 1].map((row) => lessBought("4", piece, row)), ["4", "3"]);
  dropYardLines(piece, (_, row) => row === 0);
  const leg = work.currentLeg(piece);
  assert.deepEqual(leg.rows.yard, [null, 0]);
  assert.deepEqual([0, 1].map((line) => ownRow(piece, leg, line)), [-1, 0]);
  assert.equal(lessBought("4", piece, 0), "3");
  assert.equal(ownRow(piece, { ...leg, rows: {} }, 1), 0);
  piece.job.yard[0].length = "3 m"; // typed over: it is another line now
  assert.equal(ownRow(piece, leg, 1), -1);
});

// Everything that the engine says for people, as nonsense; and a note that a person typed, in the words the engine once used.
test("no word of a reply or a note decides what the page says of a board", async () => {
  const shed = [
    { mark: "S", section: "batten", length: "500 mm", note: "bought for this piece" },
    { mark: "T", section: "batten", length: "700 mm", note: "rest of K, cut at the yard at 1 m" },
    { mark: "K", section: "batten", length: "2.4 m", note: "xq" },
    { mark: "L-2", section: "batten", length: "1 m", note: "xq" },
    { mark: "L-3", section: "batten", length: "1.4 m", note: "xq" },
  ];
  const came = [null, null, { how: "bought" }, { how: "carried", of: "L", cut: "1 m" }, { how: "rest", of: "L" }];
  const totals = (count) => [{ key: "count", name: "xq", value: `${count} of xq`, amount: count }, { key: "mass", name: "qx", value: "9 kg of 8 kg", amount: "9 kg" }];
  let cars = 0;
  const { piece, page, worksite } = paged({
    remaining: () => ({ job: { yard: twins(), shed: structuredClone(shed) }, came: structuredClone(came) }),
    car: () => ({ totals: totals((cars += 1) === 1 ? "2 xq" : "3 xq"), warnings: [] }),
  });
  await worksite.buy(page.desk.good.report.buying.rows[0], "xq");
  page.units = { spelled: async (text) => text };
  await worksite.otherLength({ section: "batten", length: "3 m" });
  const leg = work.currentLeg(piece);
  assert.deepEqual(leg.came, came);
  assert.deepEqual(shed.map((_, row) => cameOf(piece, leg, row)?.how ?? null), [null, null, "bought", "carried", "rest"]);
  assert.deepEqual(boughtUncut(piece).map((board) => board.mark), ["K"]);
  leg.plan = { boards: [{ shed: 4, runs: [] }] };
  assert.deepEqual(boughtAside(piece, leg, leg.plan).map((board) => board.mark), ["K"]);
  assert.deepEqual(carriedAt(piece.work.legs, "K"), []);
  assert.deepEqual(carriedAt(piece.work.legs, "L"), ["L cut at 1 m"]);
  assert.equal(restWords(came[3]), "L, cut at the yard at 1 m");
  page.desk.good = { report: { ...report(), plan: leg.plan }, job: leg.job, rows: leg.rows };
  await worksite.follow(page.desk.good.report, leg.job);
  assert.deepEqual(worksite.followed, ["In all, 2 xq before, now 3 xq"]);
  const lies = (row) => ({ shed: row, length: "xq", section: "batten", mark: shed[row].mark, short: false });
  assert.deepEqual(backToShed(piece, { ...report(), left_alone: [0, 1, 2, 3].map(lies) }).map((board) => board.mark), ["K", "L-2"]);
  // Where one of them is bad is told with it.
  assert.equal(backToShed(piece, { ...report(), left_alone: [{ ...lies(2), flaws: "bad from 1 to 2" }] })[0].flaws, "bad from 1 to 2");
});

// The second board was begun and a third board lies before its rest in the next plan; the first board was not touched.
test("a board that goes on under another number says which it had, and an offcut of it does not", () => {
  const progress = (boards) => ({ boards, bought: [{ line: 0, lengths: ["", ""], count: 2, marks: ["K", "L"] }], missing: [] });
  const first = { job: { shed: [{ mark: "S" }] }, plan: { boards: [{ yard: 0 }, { yard: 0 }, { shed: 0 }] }, progress: progress([{ board: 1, steps: 2, cut: 1, spoiled: [] }]) };
  const shed = [{ mark: "S" }, { mark: "L-2" }, { mark: "L-3" }, { mark: "K" }];
  const came = [null, { how: "rest", of: "L", in_hand: false }, { how: "rest", of: "L", in_hand: true }, { how: "bought" }];
  const plan = { boards: [{ shed: 0 }, { shed: 1 }, { shed: 2 }, { shed: 3 }] };
  const next = { job: { shed }, came, plan, progress: work.noProgress() };
  const piece = { work: { legs: [first, next] } };
  assert.deepEqual(plan.boards.map((_, at) => numberBefore(piece, next, at)), [0, 0, 2, 0]);
  // At the same number there is nothing to say, nor on a first plan.
  const same = { ...next, plan: { boards: [{ shed: 0 }, { shed: 2 }] } };
  assert.equal(numberBefore({ work: { legs: [first, same] } }, same, 1), 0);
  assert.equal(numberBefore({ work: { legs: [first] } }, first, 1), 0);
  assert.equal(numberBefore({}, null, 0), 0);
});

// The engine's totals, of lengths alone.
const counted = ({ times }) => {
  const amount = times.flatMap(({ progress }) => progress.bought).reduce((sum, one) => sum + one.count, 0);
  return { totals: [{ key: "count", name: "", value: "", amount }], warnings: [] };
};

test("what a new plan changes is counted over the whole car, before it and after", async () => {
  const { piece, page, worksite } = paged({ remaining: () => ({ job: { yard: twins(), shed: [] }, came: [] }), car: counted });
  const [row, other] = page.desk.good.report.buying.rows;
  const replanned = async (count) => {
    const leg = work.currentLeg(piece);
    leg.plan = { boards: [] };
    const next = { ...report(), plan: leg.plan, buying: { ...listed(), rows: [{ ...row, count }] } };
    page.desk.good = { report: next, job: leg.job, rows: leg.rows };
    await worksite.follow(next, leg.job);
    return worksite.followed;
  };
  await worksite.buy(row, "2.4 m of batten");
  await worksite.notThere(other, "2.4 m of batten");
  // One of the first plan's two is in the car; the new plan buys three more.
  assert.deepEqual(await replanned(3), ["In all, 2 before, now 4"]);
  await worksite.notThere(other, "2.4 m of batten");
  assert.deepEqual(await replanned(3), ["In all, as much to buy as before"]);
});

test("boards that are done stay counted when something is not as planned", async () => {
  const { piece, page, worksite } = paged({ remaining: () => ({ job: { yard: twins(), shed: [] }, came: [] }), car: counted });
  for (const board of page.desk.good.report.boards) board.steps = [{ label: "leg", part_length: "560" }];
  await worksite.tick(0, 1);
  await worksite.notThere(page.desk.good.report.buying.rows[1], "2.4 m of batten");
  assert.deepEqual([piece.work.legs.length, work.doneBefore(piece)], [2, 1]);
});

test("a finished piece tells of every board that comes back, those that lay unused too", async () => {
  const lay = { mark: "B", section: "batten", length: "900" };
  const back = [{ mark: "K-2", section: "batten", length: "400" }];
  const { page, worksite } = paged({ finish: () => ({ shed: back, short: [], boards: [0] }) });
  page.desk.good.job.shed = [lay];
  page.desk.good.rows.shed = ["b"];
  page.store.shed = [];
  await worksite.finish();
  assert.deepEqual(page.told, ["2 boards are in the shed from this piece."]);
});

test("a leg kept before its boards said how they came knows it by the marks", () => {
  const { piece, page } = paged({});
  const { job, rows } = page.desk.good;
  work.beginWork(piece, { job: { ...job, shed: [{ mark: "S", note: "bought for this piece" }] }, plan: null, rows });
  work.bought(work.currentLeg(piece).progress, 0, "", "2.4 m of batten", "K");
  work.beginWork(piece, { job: { ...job, shed: [{ mark: "S", note: "bought for this piece" }, { mark: "K" }, { mark: "K-2" }] }, plan: null, rows: {} });
  const leg = work.currentLeg(piece);
  assert.deepEqual([0, 1, 2].map((row) => cameOf(piece, leg, row)), [null, { how: "bought" }, { how: "rest" }]);
});

// A sentence in quotes that something is compared with, or taken apart at. What the page itself writes is not compared.
const PARSES = [
  /(?:startsWith|endsWith|includes|indexOf|split|slice)\(\s*["'`][^"'`]*[a-z]{2,} [^"'`]*["'`]/i,
  /(?:startsWith|endsWith|split|indexOf)\(\s*["'`] ?[a-z]+ ["'`]/i,
  /(?<!event\.data )[!=]== *["'`][^"'`]*[a-z]+[ ,][^"'`]*["'`]/i, // scripts of the page may send each other words
  /\/\^?[a-z ]{4,}\$?\/[a-z]*\.(?:test|exec)\(/i,
  /\.note\b[^;\n]*(?:===|!==|startsWith|includes|match|slice|split)/,
];

test("no script of the page takes a sentence apart or compares one", () => {
  const www = new URL("../../www/", import.meta.url);
  const scripts = readdirSync(www, { recursive: true }).filter((name) => name.endsWith(".js"));
  assert.ok(scripts.length > 50);
  const found = scripts.flatMap((name) => readFileSync(new URL(name, www), "utf8").split("\n")
    .filter((line) => PARSES.some((parse) => parse.test(line))).map((line) => `${name}: ${line.trim()}`));
  assert.deepEqual(found, []);
  // It would have found these.
  for (const line of ['row.note === BOUGHT', 'text.startsWith("rest of ")', 'value.split(" of ")[0]', '/america/i.test(row.region)', 'note === "bought for this piece"']) {
    assert.ok(PARSES.some((parse) => parse.test(line)), line);
  }
});

test("what goes back to the shed is told with its board and its flaws, and before any work with the mark it gets", async () => {
  const { piece, page, worksite } = paged({});
  const told = { ...report(), back_to_shed: [{ section: "batten", length: "600 mm", from: "board 1", mark: "A", board: 0, flaws: "bad from 10 to 20" }] };
  const [before] = backToShed(piece, told);
  assert.deepEqual(before, { length: "600 mm", section: "batten", from: "board 1", flaws: "bad from 10 to 20", meant: "A", mark: "", of: "" });
  // Once its board is bought and marked K it is the rest of that one, whatever the plan meant.
  await worksite.buy(page.desk.good.report.buying.rows[0], "2.4 m of batten");
  const [after] = backToShed(piece, told);
  assert.deepEqual([after.meant, after.mark, after.of], ["", "", "K"]);
  // Where the saw told a mark, that is what stands on the offcut.
  const [written] = backToShed(piece, { ...told, keeps: [[{ mark: "K-2" }]] });
  assert.deepEqual([written.meant, written.mark, written.of], ["", "K-2", ""]);
});
