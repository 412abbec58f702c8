// The yard and the saw: what is ticked there, and what follows when something is not as planned.
//
// Ticks are kept with the leg they belong to. When something goes wrong, the engine works out what is left to plan, and that becomes the
// next leg (see state/work.js). All of it is one step of undo. What the yard said is kept in a list of its own, from which each entry can
// be undone (see state/says.js).

import { readingOf } from "./state/reading.js";
import { inPiece } from "./state/made.js";
import { putAway, shedIndices } from "./state/shed.js";
import { cameOf, isBought, leave, marksTaken, ownMark, takeBack } from "./state/says.js";
import { addYardLine, lessBought, ownRow, stillToBuy } from "./state/yard.js";
import { addPiece, archivePiece, freshId } from "./state/pieces.js";
import * as work from "./state/work.js";

export class Worksite {
  atHand = null; // the board on the saw when something went wrong, with how many legs there are since, until its rest is shown
  #waits = null; // what went otherwise, until its plan is there: { said, before }, with all that was bought and to buy then
  #changed = null; // what the latest plan changed: { plan, texts }
  #keeps = { report: null, text: "", of: new Map() }; // what is kept of each board, and of which plan and progress that is true
  #sum = { text: "", rows: [] }; // what is paid and still to be paid, and of which plan and ticks that is true
  #queue = Promise.resolve(); // acts that wait for a mark, in the order they were done
  #queued = 0;

  constructor(page) {
    this.page = page;
  }

  // What changed when the plan that is being carried out was made, in words.
  get followed() {
    const plan = work.currentLeg(this.page.piece())?.plan;
    return plan && this.#changed?.plan === plan ? this.#changed.texts : [];
  }

  // Ticks the first `steps` lines of a board's sheet. A new board gets its mark with the first tick.
  tick(board, steps) {
    const act = (mark) => this.#progress((progress) => work.setSteps(progress, board, this.#sheet(board), steps, mark));
    if (this.#queued === 0 && (steps === 0 || this.markOf(board) !== "")) return act("");
    return this.#inTurn(async () => act(this.markOf(board) || (await this.#freshMark())));
  }

  buy(row, what) {
    return this.#inTurn(async () => {
      const { line, pack = 1 } = row;
      // A pack is bought whole.
      for (let nth = 0; nth < pack; nth += 1) {
        const mark = await this.#markToBuy(line);
        this.#progress((progress) => work.bought(progress, line, "", what, mark));
      }
    });
  }

  // Ticks everything on the buying list, as one act.
  buyAll() {
    return this.#inTurn(async () => {
      const progress = this.#now().leg?.progress ?? work.noProgress();
      const ticks = [];
      for (const { line, count, length, section } of this.page.desk.good.report.buying.rows) {
        for (let nth = work.boughtOf(progress, line).count; nth < Number(count); nth += 1) {
          const mark = await this.#markOfNth(line, nth, ticks.map((tick) => tick.mark));
          ticks.push({ line, what: `${length} of ${section}`, mark });
        }
      }
      this.#progress((now) => {
        for (const { line, what, mark } of ticks) work.bought(now, line, "", what, mark);
      });
    });
  }

  unbuy(row) {
    return this.#inTurn(async () => this.#progress((progress) => {
      for (let nth = 0; nth < (row.pack ?? 1); nth += 1) work.unbought(progress, row.line);
    }));
  }

  // The mark on a board of the plan; empty while it has none.
  markOf(board) {
    const { good } = this.page.desk;
    return ownMark(good.report.plan, board, work.currentLeg(this.page.piece())?.progress) ?? good.report.boards[board].mark;
  }

  // A board is not as sold: it has another length by the tape (empty for as sold), or bad stretches. `board` is its mark where it is
  // already ticked. The plan is made anew. Returns false where the person would rather measure again.
  async measured(row, { board = "", length, bad }, what) {
    const line = row.line;
    const { job } = this.page.desk.good;
    const { text, doubt } = length ? await this.page.call("measured", { job, line, text: length }) : { text: "" };
    const question = { title: "Is that the length?", text: doubt, yes: `Take ${text}`, no: "Measure again" };
    if (doubt && (await this.page.ask(question)) === null) return false;
    const mark = board || (await this.#markToBuy(line));
    const said = [text && `measured ${text}`, bad && `bad at ${bad}`].filter(Boolean).join(", ");
    await this.#goOn(`${mark} ${said}`, {
      act: (progress) => (board ? work.measuredAs(progress, line, mark, text, bad) : work.bought(progress, line, text, what, mark, bad)),
      amend: (_, piece) => say(piece, { kind: "measured", mark, text: `${mark} ${said}, sold as ${what}` }),
    });
    return true;
  }

  // Faults in a measured length and its bad stretches: [{ name, message }].
  async wrongMeasure(row, { length, bad }) {
    if (!length && !bad) return [{ name: "length", message: "give its length, or say where it is bad" }];
    const sold = this.page.desk.good.job.yard[row.line];
    return this.#wrong("shed", { section: sold.section, length: length || sold.length, bad });
  }

  // Faults in a length that the yard is said to have.
  async wrongLength(section, { length, price, count }) {
    if (!length) return [{ name: "length", message: "give the length the yard has" }];
    return this.#wrong("yard", { section, length, ...(price && { price }), ...(count && { count }) });
  }

  // The width by which a section is sold and the one measured at the yard, as typed.
  widthOf(name) {
    const { width = "", measured = "" } = this.page.piece().job.sections.find((section) => section.name === name) ?? {};
    return { width, measured };
  }

  // Faults in the measured width of a section. Parts under way are no longer set-outs, so they cannot follow it.
  async wrongWidth(name, { measured }) {
    if (this.#now().leg !== null) return [{ name: "measured", message: "timber is bought or cut for this plan, and its parts stay as they are; give the width in Timber, and plan afresh with it" }];
    const { job } = this.page.desk.good;
    const row = job.sections.findIndex((section) => section.name === name);
    const sections = job.sections.map((section, index) => (index === row ? { ...section, measured } : section));
    const { faults } = await this.page.call("read", { job: { ...job, sections } });
    return faults.filter((fault) => fault.list === "sections" && fault.row === row && fault.field === "measured").map(({ field, message }) => ({ name: field, message }));
  }

  // Boards of a section measure otherwise than sold: everything is planned again with that width, and notes of the set-outs say what it
  // changed.
  async otherWidth(name, typed) {
    const measured = typed && (await this.page.units.spelled(typed, this.page.desk.good.job));
    this.page.change(null, ({ job }) => {
      const section = job.sections.find((one) => one.name === name);
      if (measured) section.measured = measured;
      else delete section.measured;
    });
    const text = measured ? `${name} is planned ${measured} wide; the set-outs say what that changed.` : `${name} is planned as wide as it is sold.`;
    this.page.tell(text, { id: "work", act: { label: "Undo", do: () => this.page.store.undo() } });
  }

  // Faults in one more row of a list of the plan's job.
  async #wrong(list, row) {
    const { job } = this.page.desk.good;
    const rows = [...(job[list] ?? []), row];
    const { faults } = await this.page.call("read", { job: { ...job, [list]: rows } });
    return faults.filter((fault) => fault.list === list && fault.row === rows.length - 1 && fault.field in row)
      .map(({ field, message }) => ({ name: field, message }));
  }

  // A part came out spoiled; `typed` is how much of it is sound, if any.
  async spoiled(board, step, typed = "") {
    const sheet = this.#sheet(board);
    const part = sheet.steps[step].label;
    const sound = await this.#spelledOne(typed);
    const mark = this.markOf(board) || (await this.#freshMark());
    await this.#goOn(`${part} spoiled${sound ? `, ${sound} of it sound` : ""}`, { act: (progress) => work.spoil(progress, board, sheet, step, mark, sound), board });
  }

  // What is wrong with how much of a spoiled part is said to be sound.
  async wrongSound(board, step, typed) {
    const sound = await this.#spelledOne(typed);
    const { fault } = await this.#asInHand(board, (progress) => work.spoil(progress, board, this.#sheet(board), step, "", sound));
    return fault;
  }

  // The piece in hand at a board: what it is, its length, the end on which the tape is hooked, and what is wrong with a bad stretch typed for it.
  async inHand(board, typed = { from: "", to: "" }, shorter = false) {
    const told = typed.from ? wrongHand(await this.#spelled(typed), shorter) : () => {};
    return this.#asInHand(board, (progress) => told(progress, board));
  }

  // What the engine says of the piece in hand, once something is told of it.
  #asInHand(board, tell) {
    const { good } = this.page.desk;
    const { job, plan, progress } = this.#now().leg ?? { job: good.job, plan: good.report.plan, progress: work.noProgress() };
    const now = structuredClone(progress);
    tell(now);
    return this.page.call("in_hand", { job, plan: plan ?? good.report.plan, board, progress: { boards: now.boards.filter((one) => one.board === board) } });
  }

  // The piece in hand is bad from a reading to another, or to its end, or is shorter than planned; all is read from its end as it is now.
  async badFrom(board, typed, shorter) {
    const { from, to } = await this.#spelled(typed);
    const mark = this.markOf(board) || (await this.#freshMark());
    const said = `${this.#sheet(board).title}: ${shorter ? `only ${from} is in hand` : `bad from ${from}${to ? ` to ${to}` : ""}`}`;
    await this.#goOn(said, { act: (progress) => wrongHand({ from, to }, shorter)(progress, board, mark), board });
  }

  async #spelled({ from, to }) {
    const [one, other] = await Promise.all([from, to].map((text) => this.#spelledOne(text)));
    return { from: one, to: other };
  }

  #spelledOne(text) {
    return text && this.page.units.spelled(text, this.page.desk.good.job);
  }

  // The yard has no more of a row of the buying list. What is bought is kept, no more of it is planned, and the piece's own list of the
  // yard is changed too.
  async notThere(row, what) {
    const line = row.line;
    const sold = this.page.desk.good.job.yard[line];
    await this.#goOn(`no more ${what}`, {
      act: (progress) => work.notThere(progress, line),
      amend: (_, piece) => {
        const own = ownRow(piece, work.currentLeg(piece), line);
        const { count } = piece.job.yard[own] ?? sold;
        say(piece, { kind: "missing", line: { section: sold.section, length: sold.length }, row: own, count, text: `no more ${what}` });
        if (own >= 0) piece.job.yard[own].count = "0";
      },
    });
  }

  async otherLength(typed) {
    const line = { ...typed, length: await this.page.units.spelled(typed.length, this.page.desk.good.job) };
    const said = `has ${line.length} of ${line.section}`;
    await this.#goOn(`the yard ${said}`, {
      amend: (next, piece) => {
        addYardLine(next.job, line);
        const row = addYardLine(piece.job, line);
        next.rows.yard?.push(row);
        say(piece, { kind: "has", line: { section: line.section, length: line.length }, row, text: said });
      },
    });
  }

  // Undoes one entry of what the yard said.
  async takeBack(id) {
    const { piece } = this.#now();
    const said = piece.says.find((one) => one.id === id);
    if (!piece.work) return this.page.change(null, (open) => takeBack(open, null, said));
    if (said.kind === "measured") return this.leave(said.mark);
    return this.#goOn(`“${said.text}” taken back`, { amend: (next, open) => takeBack(open, next, said) });
  }

  // A bought board that is not cut stays at the yard.
  async leave(mark) {
    const { piece, leg } = this.#now();
    const row = leg.job.shed.findIndex((board, index) => board.mark === mark && isBought(piece, leg, index));
    const at = row < 0 ? -1 : (leg.plan?.boards ?? []).findIndex((board) => board.shed === row);
    const touched = at >= 0 && work.boardProgress(leg.progress, at).steps > 0;
    if (row < 0 || touched) return this.page.tell(`${mark} is cut already, so it stays.`, { id: "work" });
    return this.#goOn(`${mark} is not taken`, { amend: (next, open) => leave(open, next, mark) });
  }

  // Plans what is left with the yard, the saw and the aim as they now are in the piece, and with boards that came into the shed since.
  async planLeft() {
    const { job: typed, rows } = this.page.sent();
    const { job: sent } = await this.page.call("spell_job", { job: typed });
    const { yard, saw, aim, carry, yard_tolerance, yard_trim, payload } = sent;
    await this.#goOn("the timber as it now stands", {
      amend: (next, piece) => {
        const [first] = piece.work.legs;
        const fresh = rows.shed.map((id, index) => ({ id, row: sent.shed[index] })).filter(({ id }) => !first.rows.shed.includes(id));
        first.rows.shed.push(...fresh.map(({ id }) => id));
        next.job.shed.push(...fresh.map(({ row }) => row));
        next.came.push(...fresh.map(() => null));
        next.rows.yard = rows.yard;
        const left = yard.map((line, at) => (line.count === undefined ? line : { ...line, count: lessBought(line.count, piece, rows.yard[at]) }));
        Object.assign(next.job, { saw, aim, carry, yard_tolerance, yard_trim, payload, yard: left });
      },
    });
  }

  // The plan under way cannot be read, so it is unknown which parts its ticks stand for. What it was to make becomes a piece of its own,
  // part by part, and the bought boards go to the shed. The old piece stays unchanged in the archive.
  async beginAnew() {
    const { piece, leg } = this.#now();
    const { bought, missing } = leg.progress;
    try {
      const { job } = await this.page.call("remaining", { job: leg.job, plan: null, progress: { boards: [], bought, missing }, taken: marksTaken(this.page.store) });
      this.page.arrange((store) => {
        putAway(store, { offered: piece.work.legs[0].rows.shed, left: job.shed, scrap: [], back: [] }, readingOf(leg.job));
        archivePiece(store, piece.id, true);
        addPiece(store, { ...job, shed: [] });
      });
      this.page.tell("What was left is a piece of its own now. Take out of its parts, and out of the shed, what is cut already.", { id: "work", act: { label: "Show its parts", do: () => (location.hash = "piece") } });
    } catch (error) {
      this.page.tell(error.message, { id: "work" });
    }
  }

  planAfresh() {
    this.page.change(null, (piece) => delete piece.work);
  }

  // What is to be kept of each board of the plan, with the mark it gets in the end: a map from the board's index to [{ mark, length, width }], with a width where it is a strip. A
  // new board is left out until it has a mark of its own. The engine's answer arrives later, and the page is then drawn again.
  keepsOf(board) {
    const { good } = this.page.desk;
    const piece = this.page.piece();
    const leg = work.currentLeg(piece) ?? { job: good.job, plan: good.report.plan, progress: work.noProgress() };
    if (piece.finished || !leg.plan) return [];
    const taken = marksTaken(this.page.store);
    const text = JSON.stringify([leg.progress, taken]);
    if (this.#keeps.report !== good.report || this.#keeps.text !== text) this.#askKeeps({ report: good.report, text, of: new Map() }, { ...leg, taken });
    return this.markOf(board) ? this.#keeps.of.get(board) ?? [] : [];
  }

  async #askKeeps(keeps, { job, plan, progress, taken }) {
    this.#keeps = keeps;
    const { shed, boards, widths } = await this.page.call("finish", { job, plan, progress, taken }).catch(() => ({ shed: [], boards: [], widths: [] }));
    shed.forEach(({ mark, length }, index) => keeps.of.set(boards[index], [...(keeps.of.get(boards[index]) ?? []), { mark, length, width: widths[index] }]));
    if (this.#keeps === keeps && shed.length > 0) this.page.redrawSoon();
  }

  // Once something is bought: what is paid, what is still to pay, and both, as [{ name, count, cost, length }]. The engine's answer arrives later, and the
  // page is then drawn again.
  get sum() {
    const { good } = this.page.desk;
    const { piece, leg } = this.#now();
    if (!good || !piece.work?.legs.some(({ progress }) => progress.bought.length > 0)) return [];
    const paid = work.boughtByLeg(piece.work.legs);
    const still = [{ job: leg.job, progress: { bought: stillToBuy(good.report, leg) } }];
    const text = JSON.stringify([paid.map(({ job, progress }) => [progress, job.yard]), still[0].progress]);
    if (this.#sum.text !== text) this.#askSum({ text, rows: [] }, [paid, still, [...paid, ...still]]).catch((error) => this.page.tell(error.message, { id: "work" }));
    return this.#sum.rows;
  }

  async #askSum(sum, all) {
    this.#sum = sum;
    const replies = await Promise.all(all.map((times) => this.page.call("car", { times })));
    const named = replies.map(({ totals }) => Object.fromEntries(totals.map(({ key, amount }) => [key, amount])));
    const names = named[0].cost ? ["Paid", "Still to pay", "In all"] : ["Bought", "Still to buy", "In all"];
    sum.rows = named.map((totals, at) => ({ name: names[at], ...totals }));
    if (this.#sum === sum) this.page.redrawSoon();
  }

  // The piece is built: the boards it used leave the shed, and its offcuts come back.
  async finish() {
    const { report, job, rows } = this.page.desk.good;
    const piece = this.page.piece();
    const leg = work.currentLeg(piece) ?? { job, plan: report.plan, rows, progress: work.noProgress() };
    const taken = marksTaken(this.page.store);
    const { shed: back, short } = await this.page.call("finish", { job: leg.job, plan: leg.plan, progress: leg.progress, taken });
    const used = new Set(shedIndices(leg.plan));
    const left = leg.job.shed.filter((_, index) => !used.has(index));
    const scrap = short.map((index) => leg.job.shed[index]);
    const offered = (piece.work?.legs[0] ?? leg).rows.shed;
    let came = 0;
    this.page.change(null, (open, store) => {
      if (work.currentLeg(open) === null) work.beginWork(open, leg);
      came = putAway(store, { offered, left, scrap, back }, readingOf(leg.job));
      open.finished = Date.now();
      open.uses = [];
    });
    this.page.tell.drop("work");
    const count = came === 1 ? "One board is" : `${came} boards are`;
    this.page.tell(`${count} in the shed from this piece.`, { act: { label: "Undo", do: () => this.page.store.undo() } });
  }

  // Reports what the new plan of a leg changes, or that there is none.
  async follow(report, job) {
    if (this.#waits === null) return;
    const { said, before } = this.#waits;
    this.#waits = null;
    const legs = work.currentLeg(this.page.piece()) === null ? [] : this.page.piece().work.legs.slice(0, -1);
    if (!report.plan) return this.#told(`${said}: ${NO_PLAN[report.outcome] ?? "there is no plan for what is left"}.`);
    const texts = changes(await before, await this.#inAll(report, job, legs));
    if (work.currentLeg(this.page.piece())?.plan !== report.plan) return;
    this.#changed = { plan: report.plan, texts };
    this.#told(`${said}: planned again. ${texts[0]}.`);
    this.page.redrawSoon();
  }

  #told(text) {
    this.page.tell(`${text.charAt(0).toUpperCase()}${text.slice(1)}`, { id: "work", act: { label: "Undo", do: () => this.page.store.undo() } });
  }

  // What earlier legs bought and what a plan buys, together.
  async #inAll(report, job, legs) {
    const planned = report.buying.rows.map((row) => ({ line: row.line, count: Number(row.count), lengths: [] }));
    const { totals } = await this.page.call("car", { times: [...work.boughtByLeg(legs), { job, progress: { bought: planned } }] });
    return totals;
  }

  #sheet(board) {
    return this.page.desk.good.report.boards[board];
  }

  #now() {
    const piece = this.page.piece();
    return { piece, leg: work.currentLeg(piece) };
  }

  // Runs acts that wait for the engine one after the other.
  #inTurn(act) {
    this.#queued += 1;
    this.#queue = this.#queue.then(act).catch((error) => this.page.tell(error.message, { id: "work" })).finally(() => (this.#queued -= 1));
    return this.#queue;
  }

  // A mark that no board has; `also` are marks about to be given.
  async #freshMark(also = []) {
    const { mark } = await this.page.call("fresh_mark", { taken: [...marksTaken(this.page.store), ...also] });
    return mark;
  }

  #markToBuy(line) {
    return this.#markOfNth(line, work.boughtOf(this.#now().leg?.progress ?? work.noProgress(), line).count);
  }

  // The mark of the nth board bought of a line: the one it has already if it was cut before it was ticked.
  async #markOfNth(line, nth, also = []) {
    const { good } = this.page.desk;
    const progress = this.#now().leg?.progress ?? work.noProgress();
    const boards = good.report.plan.boards.map((board, index) => ({ board, index })).filter(({ board }) => board.yard === line);
    const next = boards[nth];
    return (next && work.boardProgress(progress, next.index).mark) || this.#freshMark(also);
  }

  #progress(act) {
    const { good } = this.page.desk;
    const leg = work.currentLeg(this.page.piece());
    if (leg !== null && !leg.plan) return this.page.tell("Still planning; tick again in a moment.", { id: "work" });
    this.page.tell.drop("work");
    return this.page.change(null, (piece) => {
      if (work.currentLeg(piece) === null) work.beginWork(piece, { job: good.job, plan: good.report.plan, rows: good.rows });
      act(work.currentLeg(piece).progress);
    });
  }

  // Something is not as planned; `said` names it in words. What is left becomes the next leg; a leg that could not be planned is changed in
  // place. `amend` is called with that leg, { job, rows, came }, and the piece. `board` is the board at hand, where it happened at the saw.
  async #goOn(said, { act = null, amend = () => {}, board = null }) {
    const { good } = this.page.desk;
    const now = work.currentLeg(this.page.piece()) ?? { job: good.job, plan: good.report.plan, progress: work.noProgress() };
    if (act !== null && !now.plan) return this.page.tell("Still planning; do that again in a moment.", { id: "work" });
    const progress = structuredClone(now.progress);
    act?.(progress);
    try {
      const came = now.job.shed.map((_, row) => cameOf(this.page.piece(), now, row));
      const asked = { job: now.job, plan: now.plan, progress, came, taken: marksTaken(this.page.store) };
      const left = now.plan ? await this.page.call("remaining", asked) : { job: structuredClone(now.job), came };
      const legs = this.page.piece().work?.legs.slice(0, -1) ?? [];
      const before = now.plan && good ? this.#inAll(good.report, now.job, legs) : this.#waits?.before ?? [];
      this.#waits = { said, before };
      this.page.change(null, (piece) => {
        if (work.currentLeg(piece) === null) work.beginWork(piece, { job: good.job, plan: good.report.plan, rows: good.rows });
        const leg = work.currentLeg(piece);
        leg.progress = progress;
        if (now.plan && good) leg.done = work.boardsDone(progress, good.report.boards);
        if (board !== null) leg.said = [...(leg.said ?? []), said];
        if (left.made) Object.assign(leg, { made: counted(left.made, now), spoiled: counted(left.spoiled, now) });
        const { yard } = leg.rows;
        const keys = left.keys && Object.fromEntries(Object.entries(left.keys).map(([own, key]) => [own, inPiece(now, key)]));
        const next = { job: left.job, ...(keys && { keys }), rows: { ...(!now.plan && leg.rows), ...(yard && { yard: [...yard] }) }, came: left.came };
        amend(next, piece);
        if (now.plan) work.beginWork(piece, { ...next, plan: null });
        else Object.assign(leg, next);
      });
      if (board !== null) this.atHand = { ...good.report.boards[board], legs: this.page.piece().work.legs.length, mark: progress.boards.find((one) => one.board === board)?.mark || good.report.boards[board].mark };
      this.#told(`${said}: planning again …`);
    } catch (error) {
      this.page.tell(error.message, { id: "work" });
    }
    return undefined;
  }
}

// What a piece in hand that is bad, or shorter than planned, is told as.
const wrongHand = ({ from, to }, shorter) => (progress, board, mark) => (shorter ? work.onlySoLong(progress, board, from, mark) : work.badFrom(progress, board, { from, to }, mark));

const counted = (counts, leg) => counts.map(([key, count]) => [inPiece(leg, key), count]);

function say(piece, said) {
  piece.says = [...(piece.says ?? []), { id: freshId(), ...said }];
}

const NO_PLAN = { impossible: "what is left cannot be cut from the timber there is", nothing: "nothing is left to plan" };

// The totals that differ, in words.
function changes(before, after) {
  const was = new Map(before.map((total) => [total.key, total.amount]));
  const texts = after.filter(({ key, amount }) => was.has(key) && was.get(key) !== amount)
    .map(({ key, amount }) => `${CALLED[key]}${was.get(key)} before, now ${amount}`);
  return texts.length > 0 ? [`In all, ${texts[0]}`, ...texts.slice(1)] : ["In all, as much to buy as before"];
}

// How the totals of what is in the car are named where they are about all of it.
const CALLED = { count: "", cost: "cost ", length: "timber ", mass: "mass " };
