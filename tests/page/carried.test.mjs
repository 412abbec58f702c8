// A piece in a link with the work on it, and links in parts: whatever comes, what is here stays sound and nothing of it is lost.

import assert from "node:assert/strict";
import { test } from "node:test";
import { doneIn, heldIn, standsHere, takeCarried, toCarry } from "../../www/state/carried.js";
import { missing, readableCodes, withCode } from "../../www/state/codes.js";
import { Device } from "../../www/state/device.js";
import { pieceTrouble, shedTrouble } from "../../www/state/shape.js";
import { Store } from "../../www/state/store.js";
import { Storage } from "./device.mjs";
import { spoil } from "./hostile.mjs";
import { Chance } from "./random.mjs";
import { workedOn } from "./samples.mjs";

const STATES = Number(process.env.LENGTHWISE_STATES ?? 3000) / 4;
const SEED = Number(process.env.LENGTHWISE_SEED ?? 1);

function started(texts = {}) {
  const store = new Store(new Device(new Storage(Object.fromEntries(Object.entries(texts).map(([name, text]) => [`lengthwise/${name}`, text])))));
  store.load();
  return store;
}

const FILE = (() => {
  const store = started(workedOn());
  return JSON.stringify(toCarry(store.pieces.find(({ work }) => work), store.shed));
})();
const sent = () => JSON.parse(FILE);

test("the work on a piece comes as it was, and coming again it is known", () => {
  const store = started();
  const held = heldIn(sent());
  assert.equal(held.whole, true);
  takeCarried(store, held, true);
  assert.equal(store.piece.job.piece, "Field gate");
  assert.deepEqual(store.piece.work.legs.map(({ progress }) => progress), sent().pieces[0].work.legs.map(({ progress }) => progress));
  assert.deepEqual(store.piece.work.legs[0].rows.shed, store.shed.map(({ id }) => id));
  assert.equal(standsHere(store, heldIn(sent()).piece).alike.id, store.openId);
});

test("another state of a piece that is here sends that to the archive, back and forth", () => {
  const here = started();
  takeCarried(here, heldIn(sent()), false);
  assert.deepEqual(here.shed, []);
  for (const nth of [3, 4, 5]) {
    const file = JSON.parse(JSON.stringify(toCarry(here.piece, [])));
    file.pieces[0].work.legs[0].progress.boards[0].steps = nth;
    assert.equal(standsHere(here, heldIn(file).piece).as.id, here.openId);
    takeCarried(here, heldIn(file), false);
    assert.equal(here.piece.job.piece, "Field gate");
    assert.equal(here.pieces.length, nth - 1);
    assert.equal(here.pieces.filter(({ archived }) => !archived).length, 1);
  }
});

test("what is done is told in words", () => {
  const leg = (cut, count, runs) => ({ plan: { boards: [{ runs }] }, progress: { boards: [{ cut }], bought: [{ count }] } });
  assert.equal(doneIn({ work: { legs: [leg(2, 1, []), leg(1, 0, [{ cuts: [{}, {}] }, { cuts: [{}] }])] } }), "3 of 5 parts cut, 1 length bought");
  assert.equal(doneIn({ work: { legs: [{ plan: null, progress: { boards: [{ cut: 4 }], bought: [{ count: 2 }] } }] } }), "4 parts cut, 2 lengths bought");
  assert.equal(doneIn({}), "");
});

test("whatever a link carries, what is here stays sound", () => {
  const chance = new Chance(SEED);
  let [taken, refused, partly] = [0, 0, 0];
  for (let state = 0; state < STATES; state += 1) {
    const { text } = spoil(chance, { text: FILE });
    const store = started(workedOn());
    const before = JSON.stringify([store.pieces, store.shed]);
    let held = null;
    try {
      held = heldIn(JSON.parse(text ?? ""));
    } catch {
      refused += 1;
      assert.equal(JSON.stringify([store.pieces, store.shed]), before);
      continue;
    }
    if (held.piece === null) continue;
    taken += 1;
    if (!held.whole) partly += 1;
    doneIn(held.piece);
    const names = store.pieces.map(({ id }) => id);
    store.arrange(() => takeCarried(store, held, state % 2 === 0));
    assert.deepEqual(store.pieces.map(({ id }) => id).slice(0, names.length), names);
    assert.equal(store.pieces.map(pieceTrouble).find((trouble) => trouble !== null), undefined);
    assert.equal(shedTrouble(store.shed), null);
    assert.equal(new Set(store.shed.map(({ id }) => id)).size, store.shed.length);
    assert.equal(new Set(store.pieces.map(({ id }) => id)).size, store.pieces.length);
  }
  assert.ok(taken > STATES / 20 && refused > STATES / 20 && partly > 0, `${taken} taken, ${partly} in part, ${refused} refused`);
});

test("an id that is no text is replaced", () => {
  for (const id of [5, null, true, ["a"], undefined]) {
    const held = JSON.parse(FILE);
    held.pieces[0].id = id;
    const { piece } = heldIn(held);
    assert.equal(typeof piece.id, "string");
    assert.equal(pieceTrouble(piece), null);
  }
});

test("codes are kept apart by their whole, for a week and of few pieces, and one that comes twice counts once", () => {
  const DAY = 24 * 3600 * 1000;
  const of = (whole, number) => ({ whole, number, of: 3 });
  let codes = withCode([], of("a", 3), "a3", 0);
  codes = withCode(codes, of("b", 1), "b1", DAY);
  codes = withCode(codes, of("a", 1), "a1", 2 * DAY);
  codes = withCode(codes, of("a", 1), "a1", 2 * DAY);
  assert.deepEqual(codes.map(({ whole, links }) => [whole, links]), [["b", [[1, "b1"]]], ["a", [[3, "a3"], [1, "a1"]]]]);
  assert.deepEqual(missing(codes[1]), [2]);
  assert.deepEqual(readableCodes(JSON.stringify(codes)), { codes, whole: true });
  for (const whole of ["c", "d", "e"]) codes = withCode(codes, of(whole, 1), whole, 8.5 * DAY);
  assert.deepEqual(codes.map(({ whole }) => whole), ["a", "c", "d", "e"]);
  for (const text of ["", "{", "null", '[{"whole":"a"}]', '[{"whole":"a","of":99,"at":0,"links":[]}]', '[{"whole":"a","of":2,"at":0,"links":[[1,"x"],[1,"y"]]}]']) assert.deepEqual(readableCodes(text), { codes: [], whole: false }, text);
});
