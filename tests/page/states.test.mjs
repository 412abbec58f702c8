// Whatever the device holds, the page's state starts on it, and nothing that was stored vanishes.
//
// `LENGTHWISE_STATES` is the number of made-up states, `LENGTHWISE_SEED` the seed. The oracle is the rule itself: each stored text is still
// under its name, or is set aside unchanged.

import assert from "node:assert/strict";
import { test } from "node:test";
import { Device } from "../../www/state/device.js";
import { everythingFile, takeFile } from "../../www/state/files.js";
import { faultPlace, jobToSend } from "../../www/state/job.js";
import { marksTaken } from "../../www/state/says.js";
import { pieceTrouble, shedTrouble } from "../../www/state/shape.js";
import { Store } from "../../www/state/store.js";
import { Storage } from "./device.mjs";
import { spoil } from "./hostile.mjs";
import { Chance } from "./random.mjs";
import { gate, workedOn } from "./samples.mjs";

const STATES = Number(process.env.LENGTHWISE_STATES ?? 3000);
const SEED = Number(process.env.LENGTHWISE_SEED ?? 1);

const stored = (texts) => Object.fromEntries(Object.entries(texts).map(([name, text]) => [`lengthwise/${name}`, text]));
const under = (texts, start) => Object.entries(texts).filter(([name]) => name.startsWith(start)).map(([, text]) => text);

function started(storage) {
  const store = new Store(new Device(storage));
  return { store, known: store.load() };
}

const shown = (store) => JSON.stringify([store.pieces, store.shed, store.openId, store.canUndo, store.prices]);

// What the page does with the state at every start and every change.
function used(store) {
  for (const piece of store.pieces) {
    const { rows } = jobToSend(store, piece);
    faultPlace({ list: "constructor", row: 0, field: "length" }, rows);
  }
  marksTaken(store);
  assert.equal(new Set(store.pieces.map((piece) => piece.id)).size, store.pieces.length);
  assert.equal(new Set(store.shed.map((board) => board.id)).size, store.shed.length);
  assert.equal(store.pieces.map(pieceTrouble).find((trouble) => trouble !== null), undefined);
  assert.equal(shedTrouble(store.shed), null);
  assert.equal(store.piece === undefined, store.pieces.length === 0);
}

function survives(texts) {
  const storage = new Storage(stored(texts));
  const { store } = started(storage);
  used(store);
  const after = storage.all();
  const aside = under(after, "aside/");
  for (const [name, text] of Object.entries(texts)) {
    assert.ok(after[name] === text || aside.includes(text), `what was under ${name} is gone`);
  }
  assert.deepEqual(store.aside.map((one) => one.text).sort(), aside.sort());
  const again = started(storage);
  assert.equal(shown(again.store), shown(store), "a second start shows something else");
  assert.deepEqual(storage.all(), after, "a second start changes what is stored");
  while (store.canUndo) store.undo();
  used(store);
  const kept = { pieces: store.pieces.length, aside: aside.length };
  if (store.piece) {
    store.change("piece", ({ job }) => (job.piece = "typed on"));
    assert.equal(started(storage).store.piece.job.piece, "typed on");
  }
  return kept;
}

test("a start survives whatever is stored, loses nothing and is the same the next time", () => {
  const sound = workedOn();
  const chance = new Chance(SEED);
  let pieces = 0;
  let aside = 0;
  for (let state = 0; state < STATES; state += 1) {
    const texts = spoil(chance, sound);
    try {
      const kept = survives(texts);
      pieces += kept.pieces;
      aside += kept.aside;
    } catch (error) {
      error.message = `state ${state} of seed ${SEED}: ${error.message}\n${JSON.stringify(texts).slice(0, 4000)}`;
      throw error;
    }
  }
  // Most states leave most to be read, and many leave something to be put aside.
  assert.ok(pieces > 2 * STATES, `${pieces} pieces of ${STATES} states`);
  assert.ok(aside > STATES / 4, `${aside} texts put aside in ${STATES} states`);
});

test("a sound state is read whole and nothing is put aside", () => {
  const texts = workedOn();
  const storage = new Storage(stored(texts));
  const { store, known } = started(storage);
  assert.equal(known, true);
  assert.deepEqual(store.pieces.map((piece) => piece.job.piece), ["Field gate", "Log store", "Cold frame, low"]);
  assert.equal(store.pieces[0].work.legs.length, 2);
  assert.equal(store.shed.length, 2);
  assert.deepEqual(storage.all(), texts);
  assert.deepEqual(store.aside, []);
});

test("the index is rebuilt from the pieces, and a piece it leaves out is found again", () => {
  for (const index of [undefined, "", "{", "[]", '{"pieces":[null,7]}', '{"pieces":[],"open":null}']) {
    const texts = { ...workedOn(), index };
    if (index === undefined) delete texts.index;
    const { store, known } = started(new Storage(stored(texts)));
    assert.equal(known, true);
    assert.deepEqual(store.pieces.map((piece) => piece.job.piece).sort(), ["Cold frame, low", "Field gate", "Log store"]);
    assert.equal(store.piece.job.piece, "Cold frame, low"); // worked on last
  }
});

test("of a piece that is spoilt in one place the rest is shown, and the whole is put aside", () => {
  const texts = workedOn();
  const name = Object.keys(texts).find((one) => one.startsWith("piece/") && texts[one].includes("Field gate"));
  const piece = JSON.parse(texts[name]);
  piece.says = [null];
  piece.work.legs[0].progress.boards = "all";
  piece.job.parts[1].length = { mm: 2140 };
  texts[name] = JSON.stringify(piece);
  const storage = new Storage(stored(texts));
  const { store } = started(storage);
  const read = store.pieces.find((one) => `piece/${one.id}` === name);
  assert.deepEqual(read.job.parts.map((part) => part.length), ["1260", undefined]);
  assert.deepEqual([read.work, read.says], [undefined, []]);
  assert.deepEqual(store.aside, [{ name: `aside/${name}`, of: name, text: texts[name] }]);
});

test("a piece of a newer version is left as it is, put aside", () => {
  const text = JSON.stringify({ id: "new", job: { ...gate(), version: 2 } });
  const storage = new Storage(stored({ "piece/new": text }));
  const { store, known } = started(storage);
  assert.equal(known, false);
  assert.deepEqual(storage.all()["aside/piece/new"], text);
  assert.deepEqual(store.pieces, []);
});

test("what is put aside can be thrown away", () => {
  const storage = new Storage(stored({ ...workedOn(), shed: "{" }));
  const { store } = started(storage);
  assert.deepEqual(store.aside.map((one) => one.of), ["shed"]);
  store.throwAway("aside/shed");
  assert.deepEqual([store.aside, started(storage).store.aside], [[], []]);
});

test("whatever cannot be read is put aside under a name of its own", () => {
  for (const name of ["index", "shed", "history"]) {
    const { store } = started(new Storage(stored({ ...workedOn(), [name]: "{" })));
    assert.deepEqual(store.aside, [{ name: `aside/${name}`, of: name, text: "{" }]);
  }
});

test("a second text that cannot be read is put aside beside the first", () => {
  const texts = workedOn();
  const storage = new Storage(stored({ ...texts, shed: "{" }));
  started(storage);
  for (const spoilt of ["[", "["]) {
    storage.setItem("lengthwise/shed", spoilt);
    started(storage);
  }
  // The third is the second once more, and one copy of it is enough.
  assert.deepEqual([storage.all()["aside/shed"], storage.all()["aside/shed/2"], storage.all()["aside/shed/3"]], ["{", "[", undefined]);
});

test("a device too full to put a text aside beside itself puts it aside in its place", () => {
  const texts = { ...workedOn(), shed: `{${"x".repeat(5000)}` };
  delete texts.history;
  const room = Object.entries(stored(texts)).reduce((sum, [name, text]) => sum + name.length + text.length, 0) + 20;
  const storage = new Storage(stored(texts), room);
  const { store } = started(storage);
  assert.equal(store.aside[0].text, texts.shed);
  assert.equal(storage.all()["aside/shed"], texts.shed);
});

test("where there is no room at all to put a text aside it is not written over", () => {
  const texts = { ...workedOn(), shed: `{${"x".repeat(5000)}` };
  const storage = new Storage(stored(texts));
  storage.refuses = (name) => name.includes("aside");
  const { store } = started(storage);
  store.change(null, (_, all) => all.shed.push({ id: "n", row: { mark: "N" } }));
  assert.equal(storage.all().shed, texts.shed);
  assert.deepEqual(store.troubled, ["the shed"]);
  assert.equal(store.aside[0].text, texts.shed);
  storage.refuses = () => false;
  store.change(null, (_, all) => all.shed.pop());
  assert.deepEqual([storage.all()["aside/shed"], storage.all().shed, store.troubled], [texts.shed, "[]", []]);
});

test("what is not kept is told name by name until it is", () => {
  const storage = new Storage(stored(workedOn()));
  const { store } = started(storage);
  const name = `lengthwise/piece/${store.openId}`;
  storage.refuses = (other) => other === name;
  store.change("piece", ({ job }) => (job.piece = "Trestle"));
  // The pieces and the shed that are written after it are kept; that says nothing of this one.
  assert.deepEqual([store.troubled, store.trouble], [["“Trestle”"], "no room"]);
  store.change("piece", ({ job }) => (job.piece = "Trestle, high"));
  assert.deepEqual(store.troubled, ["“Trestle, high”"]);
  assert.equal(store.piece.job.piece, "Trestle, high");
  storage.refuses = () => false;
  store.change("piece", ({ job }) => (job.piece = "Trestle, low"));
  assert.deepEqual([store.troubled, store.trouble, started(storage).store.piece.job.piece], [[], null, "Trestle, low"]);
});

test("one name that is kept takes nothing back of another that is not", () => {
  const storage = new Storage();
  const device = new Device(storage);
  storage.refuses = (name) => name === "lengthwise/gate";
  device.write("gate", "1");
  device.write("shed", "2");
  device.remove("shed");
  assert.deepEqual([device.troubled, device.trouble, device.read("gate")], [["gate"], "no room", "1"]);
  storage.refuses = () => false;
  device.retry();
  assert.deepEqual([device.troubled, device.trouble, storage.all()], [[], null, { gate: "1" }]);
});

test("the steps to undo make room for what was typed", () => {
  const texts = workedOn();
  const storage = new Storage(stored(texts));
  const { store } = started(storage);
  storage.room = Object.entries(stored(storage.all())).reduce((sum, [name, text]) => sum + name.length + text.length, 0) + 40;
  store.change("piece", ({ job }) => (job.piece = "Trestle".repeat(20)));
  assert.deepEqual([store.troubled, storage.all().history], [[], undefined]);
  assert.equal(started(storage).store.piece.job.piece, "Trestle".repeat(20));
});

test("a file is taken in whole or not at all, and a refused one is not stored", () => {
  const chance = new Chance(SEED + 1);
  let [taken, refused] = [0, 0];
  const from = started(new Storage(stored(workedOn()))).store;
  const file = everythingFile(from);
  for (let state = 0; state < STATES / 4; state += 1) {
    const { text } = spoil(chance, { text: file });
    const storage = new Storage(stored({}));
    const { store } = started(storage);
    const before = shown(store);
    try {
      store.arrange(() => takeFile(store, text ?? ""));
      taken += 1;
    } catch (error) {
      refused += 1;
      assert.doesNotMatch(error.message, /undefined|function|is not iterable|Cannot/);
      assert.equal(shown(store), before);
      assert.deepEqual(storage.all(), {});
      continue;
    }
    used(store);
    const again = started(storage).store;
    assert.deepEqual(again.aside, [], "what was taken in is put aside at the next start");
    assert.equal(shown(again), shown(store));
  }
  assert.ok(taken > STATES / 40 && refused > STATES / 10, `${taken} taken, ${refused} refused`);
});

test("a backup whose piece has a row of nothing among what the yard said is refused, and every start goes on", () => {
  const storage = new Storage(stored(workedOn()));
  const { store } = started(storage);
  const before = storage.all();
  const piece = { id: "x1", job: { ...gate(), sections: [{ name: "rail", treated: "yes" }] }, uses: [], says: [null] };
  const file = JSON.stringify({ format: "lengthwise-everything", version: 1, shed: [], pieces: [piece] });
  assert.throws(() => store.arrange(() => takeFile(store, file)), /what the yard said/);
  assert.deepEqual(storage.all(), before);
  assert.equal(started(storage).known, true);
});

test("of two price lists with one name in a file the later is taken, and nothing is put aside at the next start", () => {
  const storage = new Storage();
  const { store } = started(storage);
  const list = (price) => ({ name: "Mill", decimal: "point", terms: {}, rows: [{ section: "rail", length: "3600 mm", price }] });
  store.arrange(() => takeFile(store, JSON.stringify({ format: "lengthwise-everything", version: 1, shed: [], pieces: [], prices: [list("4.20"), list("4.60")] })));
  assert.deepEqual(store.prices.map(({ rows }) => rows[0].price), ["4.60"]);
  const again = started(storage).store;
  assert.deepEqual([again.aside, again.prices], [[], store.prices]);
});

test("two boards of one id in a file are two boards", () => {
  const { store } = started(new Storage());
  const boards = ["A", "B"].map((mark) => ({ id: "same", row: { mark, section: "rail", length: "900" } }));
  takeFile(store, JSON.stringify({ format: "lengthwise-everything", version: 1, shed: boards, pieces: [] }));
  assert.deepEqual(store.shed.map((board) => board.row.mark), ["A", "B"]);
  assert.notEqual(store.shed[0].id, store.shed[1].id);
});
