// What comes with a link: a piece, with the work on it or without, or a part of one.

import { doneIn, heldIn, isOlder, standsHere, takeCarried } from "./state/carried.js";
import { fits, missing, withCode } from "./state/codes.js";
import { pieceLike } from "./state/job.js";
import { addPiece, nameOf } from "./state/pieces.js";
import { jobFragment } from "./state/share.js";

const NO_PIECE = "it is cut short, damaged, or from a newer version of this page. Ask for it again, or for the job file.";

export class Arrivals {
  constructor(page) {
    this.page = page;
  }

  // Takes in what the address holds, once the person agrees.
  async take() {
    const fragment = jobFragment(location.href);
    if (fragment === null) return;
    history.replaceState(null, "", `${location.pathname}${location.search}#piece`);
    dispatchEvent(new Event("hashchange"));
    for (const open of document.querySelectorAll("dialog[open]")) open.close();
    await new Promise((resolve) => setTimeout(resolve)); // so that the questions in them are settled first
    try {
      const said = await this.page.call("job_in_link", { fragment });
      if (said.earlier) return this.#tell("The link is of an earlier make, which this page reads no more. Ask for it to be made anew, or for the job file.");
      if (said.part) return await this.#takePart(said.part, fragment);
      return await this.#ask(heldIn(said.job));
    } catch {
      const kept = this.page.store.codes.length > 0 ? " Codes that came before are kept." : "";
      return this.#tell(`The link holds no piece that can be read: ${NO_PIECE}${kept}`);
    }
  }

  #tell(text, act = null) {
    this.page.tell(text, { id: "link", act });
  }

  // One of several codes has come: says which are missing, or puts the piece together.
  async #takePart(part, fragment) {
    if (!fits(fragment)) throw new Error("no code is so long");
    const { store } = this.page;
    const codes = store.keepCodes((kept) => withCode(kept, part, fragment, Date.now()));
    const now = codes.at(-1);
    const lacking = missing(now);
    const throwAway = () => store.keepCodes((kept) => kept.filter(({ whole }) => whole !== now.whole));
    if (lacking.length > 0) {
      const others = codes.length > 1 ? " It is of another piece than the codes that came before; those are kept too." : "";
      const are = lacking.length === 1 ? `Code ${lacking[0]} is` : `Codes ${listed(lacking)} are`;
      return this.#tell(
        `Code ${part.number} of ${part.of} of a piece has come. ${are} still missing: photograph the rest in any order. What came is kept here for a week.${others}`,
        { label: "Throw it away", do: throwAway },
      );
    }
    let held = null;
    try {
      const { job } = await this.page.call("job_in_link", { parts: now.links.map(([, link]) => link) });
      held = heldIn(job);
    } catch {
      this.#tell(`The ${part.of} codes have all come, and hold no piece that can be read: it is damaged, or from a newer version of this page. Ask for them again, or for the job file.`);
    }
    if (held !== null) await this.#ask(held);
    return throwAway();
  }

  #ask(held) {
    return held.piece?.work ? this.#askOfWork(held) : this.#askOfJob(held);
  }

  // A piece with the work on it.
  async #askOfWork(held) {
    const { store } = this.page;
    const { piece, shed } = held;
    const { as, alike } = standsHere(store, piece);
    const title = `“${nameOf(piece)}” came with this link`;
    const done = doneIn(piece);
    if (alike !== null) {
      const text = `It is here already, just as it came, with ${done}${alike.archived ? ", in the archive" : ""}.`;
      if ((await this.page.ask({ title, text, yes: "Open it" })) !== null) this.page.arrange(() => (store.openId = alike.id));
      return;
    }
    const here = as === null ? "It is added to the pieces on this device; nothing that is here is changed."
      : `It is here too${as.work ? `, with ${doneIn(as)}` : ""}, ${isOlder(piece, as) ? "and changed later than what came" : "as it was before"}: that one goes to the archive.`;
    const answer = await this.page.ask({
      title, yes: as === null ? "Add it" : "Go on with what came",
      text: `It comes with ${done}; the work goes on from there.${held.whole ? "" : LEFT_OUT} ${here}`,
      checks: shedCheck(shed.length),
    });
    if (answer === null) return;
    const before = this.page.piece();
    this.page.arrange(() => takeCarried(store, held, answer.checked.includes("shed")));
    this.#tell(`“${nameOf(this.page.piece())}” is open, with ${done}.${as === null ? "" : " What was here of it is in the archive."}`, before.id === as?.id ? null : this.#backTo(before));
  }

  // A piece alone, to be planned here.
  async #askOfJob({ job, piece, shed, whole }) {
    const { store } = this.page;
    const known = pieceLike(store, job);
    const title = `“${nameOf({ job })}” came with this link`;
    const boards = shedCheck(shed.length);
    const answer = await this.page.ask(known ? { title, text: `It is here already, just as it came${known.archived ? ", in the archive" : ""}.`, yes: "Open it", other: "Add it once more" } : {
      title,
      text: `It is added to the pieces on this device; nothing that is here is changed.${whole ? "" : LEFT_OUT}${boards.length > 0 ? " It was planned with boards of a shed: without them it needs other lengths. Untick them where they are not yours." : ""}`,
      yes: "Add it",
      checks: boards,
    });
    if (answer === null) return;
    if (known && !answer.other) {
      if (known.id !== store.openId) this.page.arrange(() => (store.openId = known.id));
      return;
    }
    const before = this.page.piece();
    this.page.arrange(() => (piece === null ? addPiece(store, job, { shed: answer.checked.includes("shed") }) : takeCarried(store, { piece, shed }, answer.checked.includes("shed"))));
    this.#tell(`“${nameOf(this.page.piece())}” is added and open. “${nameOf(before)}” is as it was.`, this.#backTo(before));
  }

  #backTo(before) {
    return { label: `Back to “${nameOf(before)}”`, do: () => this.page.arrange((store) => (store.openId = before.id)) };
  }
}

const LEFT_OUT = " A part of it cannot be read here and is left out; the link still holds it.";

const shedCheck = (boards) => (boards === 0 ? [] : [{ name: "shed", label: boards === 1 ? "Also put its shed board into my shed" : `Also put its ${boards} shed boards into my shed`, checked: true }]);

const listed = (numbers) => `${numbers.slice(0, -1).join(", ")} and ${numbers.at(-1)}`;
