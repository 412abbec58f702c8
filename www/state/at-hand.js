// Which board is at the saw. Each leg of the work has a plan of its own, so an index in one plan means nothing in another. When a leg is
// undone, the board that was at the saw before it is at the saw again.

export class BoardAtHand {
  #piece = null;
  #legs = 0;
  #at = 0;
  #isNew = false; // the work on the piece was begun before, and no board is taken yet
  #left = new Map(); // how many legs there were -> the place that was left then

  // The index, of this many boards. A plan that is shown for a moment and has fewer boards does not change it.
  of(count) {
    return Math.min(Math.max(this.#at, 0), Math.max(count - 1, 0));
  }

  take(at) {
    this.#at = at;
    this.#isNew = false;
  }

  // Where a piece is opened whose work has begun: at the board that is being cut, else at the first that is not cut yet.
  begin(boards) {
    if (!this.#isNew) return;
    const at = boards.findIndex(({ begun, done }) => begun && !done);
    this.take(Math.max(0, at >= 0 ? at : boards.findIndex(({ done }) => !done)));
  }

  // Notes how far the work on the open piece is.
  follow(piece, legs) {
    if (piece !== this.#piece) {
      this.#piece = piece;
      this.#legs = legs;
      this.#at = 0;
      this.#isNew = legs > 0;
      this.#left.clear();
    } else if (legs !== this.#legs) {
      this.#left.set(this.#legs, this.#at);
      // The first tick began the first leg on the plan that was already shown, so the board stays.
      const same = this.#legs + legs === 1;
      if (legs < this.#legs && !same) this.#at = this.#left.get(legs) ?? this.#at;
      this.#legs = legs;
    }
  }
}
