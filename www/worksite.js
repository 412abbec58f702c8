// The yard and the saw: what is ticked there, and what follows when the plan meets the world.
//
// Ticks are kept with the leg they belong to. When something goes wrong, the engine says what is left to plan, and that
// becomes the next leg (see state/work.js). All of it is one step of undo.

import { addYardLine, lessBought, lineOf, sameLine } from "./state/yard.js";
import { putAway, shedIndices } from "./state/shed.js";
import * as work from "./state/work.js";

export class Worksite {
  followed = []; // what the latest plan changed, in words
  atHand = null; // the board on the saw when something went wrong, until its rest is shown
  #before = null; // the totals of the plan that was being carried out when something went otherwise

  constructor(page) {
    this.page = page;
  }

  // Ticks the first `steps` lines of a board's sheet.
  tick(board, steps) {
    this.#progress((progress) => work.setSteps(progress, board, this.#sheet(board), steps));
  }

  buy(row, what) {
    this.#progress((progress) => work.bought(progress, this.#line(row), "", what));
  }

  unbuy(row) {
    this.#progress((progress) => work.unbought(progress, this.#line(row)));
  }

  // A bought board is not as long as it was sold, or longer: the plan follows.
  async measured(row, length, what) {
    const line = this.#line(row);
    await this.#goOn(`${what} measured ${length}`, (progress) => work.bought(progress, line, length, what));
  }

  async spoiled(board, step) {
    const sheet = this.#sheet(board);
    const part = sheet.steps[step].label;
    await this.#goOn(`${part} spoiled`, (progress) => work.spoil(progress, board, sheet, step), () => {}, board);
  }

  async badFrom(board, text) {
    await this.#goOn(`${this.#sheet(board).title}: bad from ${text}`, (progress) => work.badFrom(progress, board, text), () => {}, board);
  }

  // The yard has no more of a row of the buying list: what is bought is kept, no more of it is planned, and the piece's own
  // list of the yard says so too.
  async notThere(row, what) {
    const line = this.#line(row);
    const sold = this.page.desk.good.job.yard[line];
    await this.#goOn(`no more ${what}`, (progress) => work.notThere(progress, line), (_, piece) => {
      const own = sameLine(piece.job, sold);
      if (own) own.count = "0";
    });
  }

  async otherLength(line) {
    await this.#goOn(`${line.length} of ${line.section} there`, () => {}, (job, piece) => {
      addYardLine(job, line);
      addYardLine(piece.job, line);
    });
  }

  // What is left, planned with the yard, the saw and the aim as they now stand in the piece, and with boards that came into
  // the shed since.
  async planLeft() {
    const { job: sent, rows } = this.page.sent();
    const { yard, saw, aim, carry } = sent;
    await this.#goOn("the timber as it now stands", () => {}, (job, piece) => {
      const [first] = piece.work.legs;
      const fresh = rows.shed.map((id, index) => ({ id, row: sent.shed[index] })).filter(({ id }) => !first.rows.shed.includes(id));
      first.rows.shed.push(...fresh.map(({ id }) => id));
      job.shed.push(...fresh.map(({ row }) => row));
      Object.assign(job, { saw, aim, carry, yard: yard.map((line) => lessBought(line, piece.work)) });
    });
  }

  planAfresh() {
    this.page.change(null, (piece) => delete piece.work);
  }

  // The piece is built: its boards leave the shed, its offcuts come back.
  async finish() {
    const { report, job, rows } = this.page.desk.good;
    const piece = this.page.piece();
    const leg = work.currentLeg(piece) ?? { job, plan: report.plan, rows, progress: work.noProgress() };
    const { shed: back } = await this.page.call("finish", { job: leg.job, plan: leg.plan, progress: leg.progress });
    const used = new Set(shedIndices(leg.plan));
    const left = leg.job.shed.filter((_, index) => !used.has(index));
    const offered = (piece.work?.legs[0] ?? leg).rows.shed;
    this.page.change(null, (open, store) => {
      if (work.currentLeg(open) === null) work.beginWork(open, leg);
      putAway(store, offered, left, back);
      open.finished = true;
      open.uses = [];
    });
    const count = back.length === 1 ? "One board is" : `${back.length} boards are`;
    this.page.tell(`${count} in the shed from this piece.`, { act: { label: "Undo", do: () => this.page.store.undo() } });
  }

  // Says what the new plan of a leg changes, and which bought boards it leaves aside.
  follow(report, job) {
    if (this.#before === null) return;
    const used = new Set(shedIndices(report.plan));
    const aside = job.shed.filter((row, index) => row.note === BOUGHT && !used.has(index));
    this.followed = [
      ...changes(this.#before, report.totals),
      ...aside.map((row) => `the bought ${row.length} of ${row.section} is not needed: leave it at the yard, or keep it for the shed`),
    ];
    this.#before = null;
  }

  #sheet(board) {
    return this.page.desk.good.report.boards[board];
  }

  #line(row) {
    return lineOf(this.page.desk.good.report, row);
  }

  #progress(act) {
    const { good } = this.page.desk;
    const leg = work.currentLeg(this.page.piece());
    if (leg !== null && !leg.plan) return this.page.tell("Still planning; tick again in a moment.", { id: "work" });
    return this.page.change(null, (piece) => {
      if (work.currentLeg(piece) === null) work.beginWork(piece, { job: good.job, plan: good.report.plan, rows: good.rows });
      act(work.currentLeg(piece).progress);
    });
  }

  // Something is otherwise than planned: `said` in words. What is left becomes the next leg; a leg that could not be planned
  // is amended in its place. `board` is the one at hand, where it happened at the saw.
  async #goOn(said, act, amend = () => {}, board = null) {
    const { good } = this.page.desk;
    const now = work.currentLeg(this.page.piece()) ?? { job: good.job, plan: good.report.plan, progress: work.noProgress() };
    const progress = structuredClone(now.progress);
    act(progress);
    try {
      const job = now.plan ? (await this.page.call("remaining", { job: now.job, plan: now.plan, progress })).job : structuredClone(now.job);
      this.#before = good?.report.totals ?? null;
      this.followed = [];
      this.page.change(null, (piece) => {
        if (work.currentLeg(piece) === null) work.beginWork(piece, { job: good.job, plan: good.report.plan, rows: good.rows });
        work.currentLeg(piece).progress = progress;
        work.currentLeg(piece).said = [...(work.currentLeg(piece).said ?? []), said];
        amend(job, piece);
        if (now.plan) work.beginWork(piece, { job, plan: null, rows: {} });
        else work.currentLeg(piece).job = job;
      });
      if (board !== null) this.atHand = good.report.boards[board];
      this.page.tell(`${said.charAt(0).toUpperCase()}${said.slice(1)}: planned again. What is cut stays cut.`, { id: "work", act: { label: "Undo", do: () => this.page.store.undo() } });
    } catch (error) {
      this.page.tell(error.message, { id: "work" });
    }
  }
}

// How the engine notes a board that is bought and not cut.
const BOUGHT = "bought, not cut yet";

// Totals that differ, in words.
function changes(before, after) {
  const was = new Map(before.map((total) => [total.name, total.value]));
  return after.filter((total) => was.has(total.name) && was.get(total.name) !== total.value)
    .map((total) => `${total.name}: ${was.get(total.name)} before, now ${total.value}`);
}
