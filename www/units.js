// What happens to bare numbers when the unit of a piece changes, and to lengths that are used outside the piece they were typed in.
//
// A number without a unit keeps the meaning it had when it was typed. The engine adds units to numbers; nothing is converted here.

import { readingOf } from "./state/reading.js";
import { oneBoard, unsettled } from "./state/shed.js";

const NAMES = { mm: "millimetres", cm: "centimetres", m: "metres", in: "inches", ft: "feet" };

export class Units {
  #settling = false;

  constructor(page) {
    this.page = page;
  }

  // Changes the unit of bare numbers. As the person chooses, sizes are kept, or their numbers are read in the new unit.
  async choose(unit) {
    const { page } = this;
    const { job, work } = page.piece();
    if (unit === (job.unit ?? "mm")) return;
    try {
      const kept = await page.call("keep_sizes", { job, unit });
      const answer = kept.changes.length === 0 ? { other: false } : await this.#ask(kept.changes, unit, Boolean(work));
      if (answer === null) return page.redraw();
      const { job: changed } = answer.other ? await page.call("take_numbers", { job, unit }) : kept;
      page.change(null, (piece) => (piece.job = changed));
    } catch (error) {
      page.tell(error.message);
      page.redraw();
    }
  }

  #ask(changes, unit, working) {
    const [was, is] = telling(changes);
    const count = changes.length === 1 ? "One size has" : `${changes.length} sizes have`;
    return this.page.ask({
      title: `Numbers without a unit become ${NAMES[unit]}`,
      text: `${count} no unit of their own. What did you mean by them?`,
      yes: `Keep the sizes (${was} becomes ${is})`,
      other: working ? "" : `Take the numbers as ${NAMES[unit]}`,
      no: "Leave the unit as it was",
    });
  }

  // Adds the units to boards of the shed as soon as they are typed, since every piece reads them.
  async settleShed() {
    const { page } = this;
    const reading = readingOf(page.piece().job);
    const boards = unsettled(page.store.shed, reading);
    // What is still being typed is let be until its field is left.
    if (boards.length === 0 || this.#settling || document.activeElement?.closest("#shed input, #shed textarea")) return;
    this.#settling = true;
    try {
      const sent = boards.map((board) => ({ row: { ...board.row }, ...(board.typed ?? (board.decimal ? { unit: "mm", decimal: board.decimal } : reading)) }));
      const { rows } = await page.call("spell_boards", { boards: sent, decimal: reading.decimal });
      page.arrange((store) => boards.forEach((board, index) => settle(store, board, sent[index].row, rows[index], reading.decimal)), "settled");
    } finally {
      this.#settling = false;
    }
  }

  // A length as typed beside a plan, with the unit of that plan. Throws an Error in words where it is no length.
  async spelled(text, job) {
    const reply = await this.page.call("spell_length", { text, ...readingOf(job) });
    if (reply.fault) throw new Error(reply.fault);
    return reply.text;
  }
}

// Takes over the engine's texts. A field that was typed in meanwhile stays, and is settled next.
function settle(store, board, sent, row, decimal) {
  const now = store.shed.find((other) => other.id === board.id);
  if (!now) return;
  let whole = true;
  for (const [field, value] of Object.entries(row)) {
    if (JSON.stringify(now.row[field]) === JSON.stringify(sent[field])) now.row[field] = value;
    else whole = false;
  }
  if (!whole) return;
  delete now.typed;
  now.decimal = decimal;
  if (now.taken) oneBoard(store, now);
}

// The change to show as an example: the longest of those of plain numbers, or else the longest of all.
function telling(changes) {
  const plain = changes.filter(([was]) => /^[\d\s]+$/.test(was));
  return (plain.length > 0 ? plain : changes).reduce((best, one) => (one[0].length > best[0].length ? one : best));
}
