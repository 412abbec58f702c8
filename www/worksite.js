// The yard and the saw: what is ticked there, and what follows when the plan meets the world.
//
// Ticks are kept with the leg they belong to. When something goes wrong, the engine says what is left to plan, and that
// becomes the next leg (see state/work.js). All of it is one step of undo.

import { addYardLine, lineOf } from "./state/yard.js";
import { putAway, shedIndices } from "./state/shed.js";
import * as work from "./state/work.js";

export class Worksite {
  followed = []; // what the latest plan changed, in words
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
    await this.#goOn((progress) => work.bought(progress, line, length, what));
  }

  async spoiled(board, step) {
    const sheet = this.#sheet(board);
    await this.#goOn((progress) => work.spoil(progress, board, sheet, step));
  }

  async badFrom(board, text) {
    await this.#goOn((progress) => work.badFrom(progress, board, text));
  }

  // The yard has no more of a row of the buying list: what is bought is kept, and no more of it is planned.
  async notThere(row) {
    const line = this.#line(row);
    await this.#goOn((progress) => work.notThere(progress, line));
  }

  async otherLength(line) {
    await this.#goOn(() => {}, (job) => addYardLine(job, line));
  }

  // What is left, planned with the yard, the saw and the aim as they now stand in the piece.
  async planLeft() {
    const { yard, saw, aim, carry } = this.page.sent().job;
    await this.#goOn(() => {}, (job) => Object.assign(job, { yard, saw, aim, carry }));
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

  // Says what the new plan of a leg changes.
  follow(report) {
    this.followed = this.#before === null ? [] : changes(this.#before, report.totals);
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
    this.page.change(null, (piece) => {
      if (work.currentLeg(piece) === null) work.beginWork(piece, { job: good.job, plan: good.report.plan, rows: good.rows });
      act(work.currentLeg(piece).progress);
    });
  }

  async #goOn(act, amend = () => {}) {
    const { good } = this.page.desk;
    const now = work.currentLeg(this.page.piece()) ?? { job: good.job, plan: good.report.plan, progress: work.noProgress() };
    const progress = structuredClone(now.progress);
    act(progress);
    try {
      const { job } = await this.page.call("remaining", { job: now.job, plan: now.plan, progress });
      amend(job);
      this.#before = good.report.totals;
      this.page.change(null, (piece) => {
        if (work.currentLeg(piece) === null) work.beginWork(piece, { job: good.job, plan: good.report.plan, rows: good.rows });
        work.currentLeg(piece).progress = progress;
        work.beginWork(piece, { job, plan: null, rows: {} });
      });
    } catch (error) {
      this.page.tell(error.message, { id: "work" });
    }
  }
}

// Totals that differ, in words.
function changes(before, after) {
  const was = new Map(before.map((total) => [total.name, total.value]));
  return after.filter((total) => was.has(total.name) && was.get(total.name) !== total.value)
    .map((total) => `${total.name}: ${was.get(total.name)} before, now ${total.value}`);
}
