// Which part is lit, wherever parts are shown: one at a time, by its key in the cutting list. It stays lit while one goes from place to place,
// and for the piece it is of alone.

export class Lit {
  #piece = null;
  #key = null;

  of(piece) {
    return piece.id === this.#piece ? this.#key : null;
  }

  // Touched once it is lit, and touched again no more.
  touch(piece, key) {
    this.#key = this.of(piece) === key ? null : key;
    this.#piece = piece.id;
  }
}
