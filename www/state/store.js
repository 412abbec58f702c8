// All that the person has entered: the pieces, which one is open, the shed. Saved at each change, with undo and redo.
//
// A piece is { id, job, work, uses, archived, finished, changed }. `job` is a job file without its shed, every value as
// typed. `work` is what has been bought and cut (see work.js). `uses` names the shed boards its plan takes.
// The shed is a list of { id, since, row }; `row` is a shed row of the job file.

import { History } from "./history.js";

const INDEX = "index";
const SHED = "shed";
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

  // Reads the device. False when nothing has been kept there yet.
  load() {
    const index = parsed(this.#device.read(INDEX));
    if (index === null) return false;
    this.pieces = index.pieces.map((id) => parsed(this.#device.read(pieceName(id)))).filter((piece) => piece !== null);
    this.shed = parsed(this.#device.read(SHED)) ?? [];
    this.openId = this.pieces.some((piece) => piece.id === index.open) ? index.open : this.pieces[0]?.id ?? null;
    return this.pieces.length > 0;
  }

  // Changes what is open, or the shed. `place` names the field being typed in, null for a step of its own.
  change(place, act) {
    const before = this.#snapshot();
    act(this.piece, this);
    if (this.#snapshot() === before) return;
    this.#history.record(before, place === null ? null : `${this.openId}/${place}`);
    if (this.piece) this.piece.changed = Date.now();
    this.#saved("typed");
  }

  // Changes the list of pieces, or what follows from a plan; not a step of undo.
  arrange(act) {
    act(this);
    this.#saved("arranged");
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
    const { job, work, finished } = this.piece ?? {};
    return JSON.stringify({ id: this.openId, job, work, finished, shed: this.shed });
  }

  #restore(text) {
    if (text === null) return;
    const { id, shed, ...rest } = JSON.parse(text);
    const piece = this.pieces.find((other) => other.id === id);
    if (piece) {
      this.openId = id;
      Object.assign(piece, { work: undefined, finished: undefined }, rest);
    }
    this.shed = shed;
    this.#saved("restored");
  }

  #saved(how) {
    for (const piece of this.pieces) this.#device.write(pieceName(piece.id), JSON.stringify(piece));
    this.#device.write(SHED, JSON.stringify(this.shed));
    this.#device.write(INDEX, JSON.stringify({ pieces: this.pieces.map((piece) => piece.id), open: this.openId }));
    for (const listener of this.#listeners) listener(how);
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
