// All that the person has entered: the pieces, which one is open, the shed. Saved at each change, with undo and redo.
//
// A piece is { id, job, work, says, uses, archived, finished, changed }. `job` is a job file without its shed, every value as
// typed. `work` is what has been bought and cut (see work.js), `says` what the yard said (says.js), `finished` when it was.
// `uses` names the shed boards its plan takes.
// The shed is a list of { id, since, row, typed, decimal }; `row` is a shed row of the job file, the others say how it is read (shed.js).

import { History } from "./history.js";
import { pieceTrouble, shedTrouble } from "./shape.js";

const INDEX = "index";
const SHED = "shed";
const HISTORY = "history";
const pieceName = (id) => `piece/${id}`;

export class Store {
  pieces = [];
  shed = [];
  openId = null;
  #device;
  #history = new History();
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

  get canUndo() {
    return this.#history.canUndo;
  }

  get canRedo() {
    return this.#history.canRedo;
  }

  listen(listener) {
    this.#listeners.push(listener);
  }

  // Reads the device. False when nothing has been kept there yet. What would stop the page is left where it is and not shown.
  load() {
    const index = parsed(this.#device.read(INDEX));
    if (index === null) return false;
    this.pieces = index.pieces.map((id) => parsed(this.#device.read(pieceName(id)))).filter((piece) => pieceTrouble(piece) === null);
    const shed = parsed(this.#device.read(SHED));
    this.shed = Array.isArray(shed) ? shed.filter((board) => shedTrouble([board]) === null) : [];
    this.openId = this.pieces.some((piece) => piece.id === index.open) ? index.open : this.pieces[0]?.id ?? null;
    this.#history = History.read(this.#device.read(HISTORY));
    return this.pieces.length > 0;
  }

  // Changes what is open, or the shed. `place` names the field being typed in, null for a step of its own.
  change(place, act) {
    const before = this.#snapshot();
    act(this.piece, this);
    if (this.#snapshot() === before) return;
    if (this.#history.record(before, place === null ? null : `${this.openId}/${place}`)) this.#keepHistory();
    if (this.piece) this.piece.changed = Date.now();
    this.#saved("typed");
  }

  // Changes the list of pieces, or what follows from a plan; not a step of undo.
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
    const { id, shed, ...rest } = JSON.parse(text);
    const piece = this.pieces.find((other) => other.id === id);
    if (piece) {
      this.openId = id;
      Object.assign(piece, { work: undefined, says: undefined, finished: undefined }, rest);
    }
    this.shed = shed;
    this.#keepHistory();
    this.#saved("restored");
  }

  #saved(how) {
    for (const piece of this.pieces) this.#device.write(pieceName(piece.id), JSON.stringify(piece));
    this.#device.write(SHED, JSON.stringify(this.shed));
    this.#device.write(INDEX, JSON.stringify({ pieces: this.pieces.map((piece) => piece.id), open: this.openId }));
    for (const listener of this.#listeners) listener(how);
  }

  // A device that has no room for it keeps what was typed all the same.
  #keepHistory() {
    const { trouble } = this.#device;
    this.#device.write(HISTORY, this.#history.text());
    if (trouble === null && this.#device.trouble !== null) this.#device.drop(HISTORY);
  }

  forget(id) {
    this.#device.remove(pieceName(id));
  }
}

function parsed(text) {
  try {
    return text === null ? null : JSON.parse(text);
  } catch {
    return null;
  }
}
