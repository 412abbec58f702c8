// How the piece is looked at: from one of its four corners, pulled apart or not, or in three views.

const CORNERS = 4;

export class LookedAt {
  #corner = 0;
  #how = "whole";

  get how() {
    return this.#how;
  }

  // What the engine is asked to draw.
  get look() {
    return this.#how === "views" ? { how: "views" } : { how: this.#how, corner: this.#corner };
  }

  // Walks round the piece: to the right for 1, to the left for -1.
  walk(way) {
    this.#corner = (this.#corner + way + CORNERS) % CORNERS;
  }

  // Looks at it in this way, or as a whole again where that is how it is looked at.
  take(how) {
    this.#how = this.#how === how ? "whole" : how;
  }
}

// The looks from all corners, from one on and round to the right.
export const cornersFrom = (first) => Array.from({ length: CORNERS }, (_, step) => ({ how: "whole", corner: (first + step) % CORNERS }));

// Drawings of the job as it was when all of it could last be drawn, one request at a time: what is asked for meanwhile waits, and only the last of it is
// asked. `ask` sends a request to the engine.
export class Drawn {
  #ask;
  #hear;
  #asked = "";
  #next = null;
  #busy = false;
  #good = null; // the piece and its job that could be drawn in full

  // `hear` gets { drawings, complete }.
  constructor(ask, hear) {
    this.#ask = ask;
    this.#hear = hear;
  }

  want(piece, job, looks) {
    const wanted = JSON.stringify([piece.id, job, looks]);
    if (wanted === this.#asked) return;
    this.#asked = wanted;
    this.#next = { id: piece.id, job, looks };
    return this.#work();
  }

  async #work() {
    if (this.#busy) return;
    this.#busy = true;
    try {
      while (this.#next !== null) await this.#answer(this.#next);
    } finally {
      this.#busy = false;
    }
  }

  async #answer(wanted) {
    this.#next = null;
    const { id, job, looks } = wanted;
    let reply = await this.#ask({ job, looks });
    const { complete } = reply;
    if (complete) this.#good = { id, job };
    else if (this.#good?.id === id) reply = await this.#ask({ job: this.#good.job, looks });
    if (this.#next === null) this.#hear({ looks: reply.looks, complete, held: !complete && this.#good?.id === id });
  }
}
