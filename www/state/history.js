// Undo and redo over snapshots, which are texts. Continued typing in one field is one step.
//
// Successive snapshots are nearly equal, so only the newest is kept whole. Each older one is kept as the change to the middle of the next.
// That makes the history small enough to be kept on the device; its size is limited too.

const MOST_STEPS = 200;
const MOST_LETTERS = 200_000; // kept on the device, where there is room for a few million in all

export class History {
  #before = new Pile();
  #after = new Pile();
  #place = null;

  // Records the state before a change at `place`; a further change at the same place joins it. Returns whether this is a new step.
  record(snapshot, place) {
    if (place !== null && place === this.#place) return false;
    this.#place = place;
    this.#before.push(snapshot);
    this.#after = new Pile();
    return true;
  }

  // Ends the step: what is typed next is a new one.
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
    return this.#before.size > 0;
  }

  get canRedo() {
    return this.#after.size > 0;
  }

  // The whole history as a text, and back. A text that cannot be read is an empty history.
  text() {
    return JSON.stringify({ before: this.#before.kept(), after: this.#after.kept() });
  }

  static read(text) {
    return History.readable(text).history;
  }

  // { history, whole }: `whole` is false where the text held something that could not be read.
  static readable(text) {
    const history = new History();
    try {
      const { before, after } = JSON.parse(text);
      history.#before = new Pile(before);
      history.#after = new Pile(after);
      return { history, whole: true };
    } catch {
      return { history: new History(), whole: false };
    }
  }

  #step(from, to, now) {
    this.pause();
    if (from.size === 0) return null;
    to.push(now);
    return from.pop();
  }
}

// A stack of texts. The top one is whole; each one below is the change that turns the text above into it: [letters kept at the start,
// letters kept at the end, the text between].
class Pile {
  #top;
  #below;

  constructor({ top = null, below = [] } = {}) {
    const sound = Array.isArray(below) && below.every(isDifference) && (typeof top === "string" || (top === null && below.length === 0));
    if (!sound) throw new Error("no pile");
    this.#top = top;
    this.#below = below;
  }

  get size() {
    return this.#top === null ? 0 : this.#below.length + 1;
  }

  push(text) {
    if (this.#top !== null) this.#below.push(difference(text, this.#top));
    this.#top = text;
    while (this.#below.length >= MOST_STEPS) this.#below.shift();
  }

  pop() {
    const text = this.#top;
    const next = this.#below.pop();
    this.#top = next === undefined ? null : applied(text, next);
    return text;
  }

  // As many of the newest texts as there is room for.
  kept() {
    let room = MOST_LETTERS - (this.#top?.length ?? 0);
    let first = this.#below.length;
    while (first > 0 && (room -= this.#below[first - 1][2].length + 20) > 0) first -= 1;
    return { top: this.#top, below: this.#below.slice(first) };
  }
}

function difference(from, to) {
  const shorter = Math.min(from.length, to.length);
  let start = 0;
  while (start < shorter && from[start] === to[start]) start += 1;
  let end = 0;
  while (end < shorter - start && from[from.length - 1 - end] === to[to.length - 1 - end]) end += 1;
  return [start, end, to.slice(start, to.length - end)];
}

const isDifference = (one) => Array.isArray(one) && one.length === 3 && Number.isInteger(one[0]) && Number.isInteger(one[1]) && typeof one[2] === "string";

const applied = (text, [start, end, middle]) => text.slice(0, start) + middle + text.slice(text.length - end);
