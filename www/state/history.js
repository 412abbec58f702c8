// Undo and redo over snapshots, which are texts. Typing on in one field is one step.

const MOST_STEPS = 200;

export class History {
  #before = [];
  #after = [];
  #place = null;

  // Remembers how things stood before a change at `place`; a further change at the same place joins it.
  record(snapshot, place) {
    if (place !== null && place === this.#place) return;
    this.#place = place;
    this.#before.push(snapshot);
    if (this.#before.length > MOST_STEPS) this.#before.shift();
    this.#after = [];
  }

  // What is typed next is a step of its own.
  pause() {
    this.#place = null;
  }

  undo(now) {
    return this.#step(this.#before, this.#after, now);
  }

  redo(now) {
    return this.#step(this.#after, this.#before, now);
  }

  get canUndo() {
    return this.#before.length > 0;
  }

  get canRedo() {
    return this.#after.length > 0;
  }

  #step(from, to, now) {
    this.pause();
    if (from.length === 0) return null;
    to.push(now);
    return from.pop();
  }
}
