// All that the person has entered: the pieces, which one is open, the shed. Saved at each change, with undo and redo.
//
// A piece is { id, job, work, says, uses, archived, finished, changed }. `job` is a job file without its shed, every value as typed. `work`
// is what has been bought and cut (see work.js), `says` what the yard said (says.js), `finished` the time at which it was finished. `uses`
// names the shed boards that its plan takes. The shed is a list of { id, since, row, typed, decimal }; `row` is a shed row of the job file,
// `typed` and `decimal` say how it is read (shed.js).

import { readableCodes } from "./codes.js";
import { History } from "./history.js";
import { nameOf, withLists } from "./pieces.js";
import { readableIndex, readablePiece, readablePrices, readableShed } from "./salvage.js";
import { pieceTrouble, shedTrouble } from "./shape.js";

const INDEX = "index";
const SHED = "shed";
const PRICES = "prices";
const HISTORY = "history";
const CODES = "codes";
const PIECE = "piece/";
const pieceName = (id) => PIECE + id;

export class Store {
  pieces = [];
  shed = [];
  prices = []; // price lists of yards, see price-lists.js
  openId = null;
  #device;
  #history = new History();
  #soundCodes = []; // as they were at the start
  #listeners = [];

  constructor(device) {
    this.#device = device;
  }

  get piece() {
    return this.pieces.find((piece) => piece.id === this.openId);
  }

  get trouble() {
    return this.#device.trouble;
  }

  // What is not kept on the device, in words.
  get troubled() {
    const called = (name) => {
      if (name === SHED) return "the shed";
      if (name === PRICES) return "the price lists";
      if (name === INDEX) return "which piece is open";
      if (name === CODES) return "the codes that came";
      const piece = this.pieces.find(({ id }) => pieceName(id) === name);
      return piece ? `“${nameOf(piece)}”` : "what is put aside";
    };
    return [...new Set(this.#device.troubled.filter((name) => name !== HISTORY).map(called))];
  }

  // Kept texts that cannot be read: [{ name, of, text }]; `of` is "index", "shed", "prices", "history", "codes" or "piece/" and an id.
  get aside() {
    return this.#device.aside();
  }

  // Parts of links that came, see codes.js. Each may come in a page of its own, so they are read anew each time.
  get codes() {
    return readableCodes(this.#device.read(CODES) ?? "[]").codes;
  }

  keepCodes(act) {
    const codes = act(this.codes);
    if (codes.length > 0) this.#device.write(CODES, JSON.stringify(codes));
    else this.#device.remove(CODES);
    this.#told("arranged");
    return codes;
  }

  throwAway(name) {
    this.#device.throwAway(name);
    this.#told("arranged");
  }

  get canUndo() {
    return this.#history.canUndo;
  }

  get canRedo() {
    return this.#history.canRedo;
  }

  listen(listener) {
    this.#listeners.push(listener);
  }

  // Reads everything from the device; returns false where there is no piece. What can be read is shown, and a text that cannot be read in
  // full is set aside unchanged. A piece that is missing from the index is found by its name. `mend` says whether the device may be
  // changed.
  load({ mend = true } = {}) {
    const spoiled = [];
    const readable = (name, read, none) => {
      const text = this.#device.read(name);
      if (text === null) return none;
      const answer = read(text);
      if (!answer.whole) spoiled.push(name);
      return answer;
    };
    const index = readable(INDEX, readableIndex, { ids: [], open: null });
    const found = this.#device.names().filter((name) => name.startsWith(PIECE)).map((name) => name.slice(PIECE.length));
    const ids = [...new Set([...index.ids, ...found])];
    this.pieces = ids.map((id) => readable(pieceName(id), (text) => readablePiece(text, id), { piece: null }).piece).filter((piece) => piece !== null);
    this.shed = readable(SHED, readableShed, { shed: [] }).shed;
    this.prices = readable(PRICES, readablePrices, { prices: [] }).prices;
    this.#history = readable(HISTORY, History.readable, { history: new History() }).history;
    this.#soundCodes = readable(CODES, readableCodes, { codes: [] }).codes;
    this.openId = (this.pieces.find(({ id }) => id === index.open) ?? this.#latest())?.id ?? null;
    if (mend) for (const name of spoiled) this.#mend(name);
    return this.pieces.length > 0;
  }

  // Sets aside the text stored under a name, and keeps what could be read of it in its place.
  #mend(name) {
    this.#device.putAside(name);
    const piece = this.pieces.find(({ id }) => pieceName(id) === name);
    if (piece) this.#keepPiece(piece);
    else if (name === SHED) this.#keepShed();
    else if (name === PRICES) this.#keepPrices();
    else if (name === INDEX) this.#keepIndex();
    else if (name === CODES) this.#device.write(CODES, JSON.stringify(this.#soundCodes));
  }

  // The piece that was worked on last.
  #latest() {
    const at = (piece) => [piece.archived ? 0 : 1, piece.changed ?? 0];
    const later = (one, other) => at(one)[0] - at(other)[0] || at(one)[1] - at(other)[1];
    return this.pieces.reduce((best, piece) => (best === null || later(piece, best) >= 0 ? piece : best), null);
  }

  // Changes what is open, or the shed. `place` names the field being typed in; null makes the change a step of undo by itself.
  change(place, act) {
    const before = this.#snapshot();
    act(this.piece, this);
    if (this.#snapshot() === before) return;
    if (this.#history.record(before, place === null ? null : `${this.openId}/${place}`)) this.#keepHistory();
    if (this.piece) this.piece.changed = Date.now();
    this.#saved(place === null ? "done" : "typed");
  }

  // Changes the list of pieces, or what follows from a plan; this is no step of undo.
  arrange(act, how = "arranged") {
    act(this);
    this.#saved(how);
  }

  pause() {
    this.#history.pause();
  }

  undo() {
    this.#restore(this.#history.undo(this.#snapshot()));
  }

  redo() {
    this.#restore(this.#history.redo(this.#snapshot()));
  }

  #snapshot() {
    const { job, work, says, finished } = this.piece ?? {};
    return JSON.stringify({ id: this.openId, job, work, says, finished, shed: this.shed });
  }

  #restore(text) {
    if (text === null) return;
    const step = stepOf(text);
    if (step === null) return this.#endHistory();
    const { id, shed, ...rest } = step;
    const piece = this.pieces.find((other) => other.id === id);
    if (piece) {
      this.openId = id;
      Object.assign(piece, { work: undefined, says: undefined, finished: undefined }, rest, { job: withLists(rest.job) });
    }
    this.shed = shed;
    this.#keepHistory();
    this.#saved("restored");
  }

  // A step that cannot be read ends the history; the kept text is set aside.
  #endHistory() {
    this.#device.putAside(HISTORY);
    this.#history = new History();
    this.#saved("restored");
  }

  #saved(how) {
    this.#keep();
    this.#told(how);
  }

  #told(how) {
    for (const listener of this.#listeners) listener(how);
  }

  // Keeps everything. The history can be spared, so it makes room for the rest.
  #keep() {
    for (const piece of this.pieces) this.#keepPiece(piece);
    this.#keepShed();
    this.#keepPrices();
    this.#keepIndex();
    this.#device.retry();
    if (this.#device.trouble === null) return;
    this.#device.remove(HISTORY);
    this.#device.retry();
  }

  #keepPiece(piece) {
    this.#device.write(pieceName(piece.id), JSON.stringify(piece));
  }

  #keepShed() {
    this.#device.write(SHED, JSON.stringify(this.shed));
  }

  // A device that never had any keeps none.
  #keepPrices() {
    if (this.prices.length > 0 || this.#device.read(PRICES) !== null) this.#device.write(PRICES, JSON.stringify(this.prices));
  }

  #keepIndex() {
    this.#device.write(INDEX, JSON.stringify({ pieces: this.pieces.map((piece) => piece.id), open: this.openId }));
  }

  // Keeps the history where there is room; what was typed is kept in any case.
  #keepHistory() {
    if (this.#device.trouble !== null) return;
    this.#device.write(HISTORY, this.#history.text());
    if (this.#device.trouble !== null) this.#device.remove(HISTORY);
  }

  forget(id) {
    this.#device.remove(pieceName(id));
  }
}

// A snapshot, or null where it cannot be shown.
function stepOf(text) {
  try {
    const { shed, ...piece } = JSON.parse(text);
    return pieceTrouble(piece) === null && shedTrouble(shed) === null ? { ...piece, shed } : null;
  } catch {
    return null;
  }
}
