// Random numbers that are the same for the same seed: mulberry32, a 32-bit generator in the public domain (Tommy Ettinger).

export class Chance {
  #state;

  constructor(seed) {
    this.#state = seed >>> 0;
  }

  // A number from 0 up to, and without, 1.
  next() {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let mixed = this.#state;
    mixed = Math.imul(mixed ^ (mixed >>> 15), mixed | 1);
    mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
    return ((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32;
  }

  below(count) {
    return Math.floor(this.next() * count);
  }

  of(list) {
    return list[this.below(list.length)];
  }
}
