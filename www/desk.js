// The planning desk: it knows which plan is wanted, which one is being computed, and which one can be cut.
//
// Only the latest request counts: a plan that is still being computed when something changes is cancelled. A plan that is being carried out
// is not planned again. It is shown as it was made, so that ticks keep their meaning.

import { Cancelled, EngineFailure } from "./engine.js";
import { Planner, Refused } from "./planner.js";
import { NOTHING_SAVED, withNews } from "./state/savings.js";
import { AIMS, aimsOf, choicesOf, chosenIn, comesTo, known, NO_CHOICES } from "./state/side-by-side.js";
import { boardsUsed } from "./state/shed.js";
import { currentLeg, UNREADABLE } from "./state/work.js";

const AT_MOST = 500; // milliseconds between two plans that are shown on the way
const SLOW = 500; // milliseconds after which progress is shown
const CHOOSES_FOR = 9; // seconds in which sizes are chosen within their ranges
// What would save is looked for while somebody is at the Plan and has done nothing for a moment, and not for long: work in the background drains a phone.
// What the aims come to is looked for wherever the plan is in sight.
const LOOKS_AFTER = 600; // milliseconds
const LOOKS_FOR = 10; // seconds
const CHOICES_FOR = 5; // seconds
const AIM_FOR = 3; // seconds for the plan of another aim

// The message where the check refused a plan of our own.
const refusal = (error) => ({
  outcome: "refused",
  headline: "No plan: our error",
  explanation: [
    "The planner worked out a plan that its own check refused. That is our error and not yours. The plan is not shown, and one that was shown before it is taken back: cut nothing from it.",
    "Save this piece to a file (More, Save to a file) and send it to whoever gave you this page, so that it can be mended. Until then another length at the yard, or a part a millimetre longer, may be planned.",
    ...error.findings.slice(0, 3).map((finding) => `What the check found: ${finding}.`),
  ],
  faults: [],
});

export class Desk {
  verdict = null; // the latest reply of the planner, whatever its outcome
  good = null; // the latest plan that can be cut: { report, job, rows }
  running = null; // { run, levels, shown } while a plan is worked out
  chosen = null; // { of, job, told }: the job with sizes chosen within their ranges, and of which text of the job
  savings = NOTHING_SAVED; // what would save, of the plan in `good`
  #choices = NO_CHOICES; // the choices found last
  #aims = { of: null, texts: {} }; // what the aims come to that no choice stands for
  #wanted = null; // { text, job, rows }: what is planned, or being planned

  #news = null; // the latest plan on the way that is not shown yet
  #onTheWay = null; // the timer that shows it
  #toldAt = -AT_MOST; // when one was shown last

  #look = null; // { text, cancel, done } once savings are looked for, or will be in a moment

  constructor(page, engine) {
    this.page = page;
    this.engine = engine;
    this.planner = new Planner(engine);
    document.addEventListener("visibilitychange", () => this.lookOn());
  }

  get report() {
    return this.good?.report ?? null;
  }

  // The choices there are, where they were found for what is planned, whichever of them that has.
  get choices() {
    const { found, only, of } = this.#choices;
    return (found.length > 0 || only) && of === choicesOf(this.#wanted?.job) ? this.#choices : NO_CHOICES;
  }

  // What each aim comes to, { text, known } by its name, as far as that was looked for.
  get aims() {
    const texts = this.#aims.of === aimsOf(this.#wanted?.job) ? this.#aims.texts : {};
    const chosen = this.choices.found.flatMap(({ aims, bought }) => aims.map((aim) => [aim, known(bought)]));
    const limited = this.#wanted?.job.sections.some(({ allowed, allowed_timber }) => allowed || allowed_timber);
    return { ...(!limited && Object.fromEntries(chosen)), ...texts };
  }

  stop() {
    this.running?.run.stop();
  }

  // Another piece is open: no plan so far belongs to it.
  forget() {
    this.#callOff();
    Object.assign(this, { verdict: null, good: null, chosen: null });
    this.#wanted = null;
  }

  // Plans what is open: the piece, or the leg of work that is being carried out.
  async plan() {
    const leg = currentLeg(this.page.piece());
    if (leg?.plan) return this.#showLeg(leg);
    const { job, rows } = leg ?? this.page.sent();
    const text = JSON.stringify(job);
    if (this.#wanted?.text === text) {
      this.lookOn();
      return undefined;
    }
    this.#callOff();
    this.#wanted = { text, job, rows };
    const reading = await this.page.readJob(job);
    if (this.#wanted?.text !== text) return undefined;
    const { groups, faults, parts, gives } = reading;
    if (faults.length > 0) await this.page.calm();
    if (this.#wanted?.text !== text) return undefined;
    if (faults.length > 0 || parts.length === 0) return this.#judge({ outcome: parts.length > 0 ? "faults" : "nothing", faults });
    if (!gives) return this.#run(text, job, groups);
    return this.#choose(text, job, groups);
  }

  // Chooses the sizes that may give, then plans with those; with the sizes wanted where that fails or is stopped.
  async #choose(text, job, groups) {
    const { promise, cancel } = this.engine.plan({ job, choose: true, seconds: CHOOSES_FOR }, () => {});
    const run = { cancel, stop: cancel };
    this.running = { run, levels: new Map(), shown: false };
    const slow = setTimeout(() => {
      if (this.running?.run === run) this.running.shown = true;
      this.page.redrawSoon();
    }, SLOW);
    const chosen = await promise.catch(() => null);
    clearTimeout(slow);
    if (this.running?.run === run) this.running = null;
    if (this.#wanted?.text !== text) return undefined;
    if (!chosen?.job) return this.#run(text, job, groups);
    this.chosen = { of: text, ...chosen };
    this.#wanted.job = chosen.job;
    this.page.readAgain();
    const { groups: own } = await this.page.readJob(chosen.job);
    return this.#wanted?.text === text ? this.#run(text, chosen.job, own) : undefined;
  }

  // A job as it is planned: with the sizes that were chosen for it, once they are.
  asPlanned(job) {
    return this.chosen !== null && this.chosen.of === JSON.stringify(job) ? this.chosen.job : job;
  }

  async #run(text, job, groups) {
    const run = this.planner.start({ job, groups }, (news) => this.#progress(text, news));
    this.running = { run, levels: new Map(), shown: false };
    const current = () => this.running?.run === run;
    const slow = setTimeout(() => {
      if (current()) {
        this.running.shown = true;
        this.#outdated();
      }
      this.page.redrawSoon();
    }, SLOW);
    try {
      const report = await run.promise;
      if (this.#wanted?.text === text) this.#judge(report);
    } catch (error) {
      if (error instanceof Refused) this.#refused(text, error);
      else if (error instanceof EngineFailure) this.page.tell(error.message, { id: "plan" });
      else if (!(error instanceof Cancelled)) this.page.tell(`Planning failed: ${error.message}`, { id: "plan" });
      else if (current()) this.page.tell("There was no plan yet when it was stopped.", { id: "plan" });
    } finally {
      clearTimeout(slow);
      if (current()) this.running = null;
      this.page.redrawSoon();
    }
  }

  #progress(text, news) {
    if (this.#wanted?.text !== text || this.running === null) return;
    if (news.refused) {
      this.page.tell("A plan on the way was refused by its own check, which is our error; it is not shown. Planning goes on.", { id: "plan" });
      return;
    }
    this.running.levels.set(news.group, news.levels);
    if (news.report) this.#news = news.report;
    this.#onTheWay ??= setTimeout(() => this.#tellNews(text), Math.max(0, this.#toldAt + AT_MOST - performance.now()));
  }

  // Shows the best plan so far. What is shown and what can be ticked are one, so both change here.
  #tellNews(text) {
    this.#onTheWay = null;
    this.#toldAt = performance.now();
    const report = this.#news;
    this.#news = null;
    if (this.#wanted?.text !== text || this.running === null) return;
    if (report !== null) {
      this.#show(report);
      this.#outdated();
    }
    this.page.redrawSoon();
  }

  // Removes the message that nothing could be planned, once something else has a plan or has been planned for long.
  #outdated() {
    if (!this.verdict?.plan) this.verdict = null;
  }

  // Takes over the planner's final report.
  #judge(report) {
    this.#forgetNews();
    this.running = null;
    this.verdict = report;
    const leg = currentLeg(this.page.piece());
    this.page.worksite.follow(report, this.#wanted.job).catch((error) => this.page.tell(error.message, { id: "work" }));
    if (report.plan) {
      this.#show(report);
      if (leg !== null) this.page.arrange(() => (leg.plan = report.plan), "planned");
      else {
        this.#hold(boardsUsed(report.plan, this.#wanted.rows));
        this.lookOn();
      }
    } else if (report.outcome !== "faults") {
      this.good = null;
      if (leg === null) this.#hold([]);
    }
    this.page.redrawSoon();
  }

  // Removes a plan from view that the check refused in the end.
  #refused(text, error) {
    if (this.#wanted?.text === text) this.#judge(refusal(error));
  }

  // Marks the shed boards that a plan takes, so that other pieces are not offered them.
  #hold(uses) {
    const piece = this.page.piece();
    if (JSON.stringify(uses) !== JSON.stringify(piece.uses ?? [])) this.page.arrange(() => (piece.uses = uses), "planned");
  }

  async #showLeg(leg) {
    const text = JSON.stringify([leg.job, leg.plan]);
    if (this.#wanted?.text === text) return this.lookOn();
    this.#callOff();
    this.#wanted = { text, job: leg.job, rows: leg.rows };
    const report = await this.page.call("report", { job: leg.job, plans: [leg.plan] }).catch((error) => ({ explanation: [`The reason: ${error.message}.`] }));
    if (this.#wanted?.text !== text) return;
    if (report.plan) {
      this.verdict = report;
      this.#show(report);
      this.lookOn();
    } else {
      const reasons = report.explanation ?? report.faults.map((fault) => `${fault.text}.`);
      Object.assign(this, { good: null, verdict: { outcome: UNREADABLE, headline: "The plan under way cannot be read here", explanation: reasons, faults: [] } });
    }
    this.page.redrawSoon();
  }

  #show(report) {
    this.good = { report, job: this.#wanted.job, rows: this.#wanted.rows };
  }

  // Stops looking for what would save, until the next plan stands or this one is asked for again.
  lookNoFurther() {
    if (this.#look?.done) return;
    this.#look?.cancel?.();
    this.#look = null;
    this.savings = NOTHING_SAVED;
  }

  // Looks for the choices there are, for what the aims come to and, at the Plan before anything is bought, for what would save, in a moment, once there is a
  // plan of what is open, and only while somebody sees it.
  lookOn() {
    const wanted = this.#wanted;
    const plan = this.verdict?.plan;
    const piece = this.page.piece();
    if (!plan || this.good?.job !== wanted?.job || piece.finished) return;
    const saves = this.page.place() === "plan" && !currentLeg(piece);
    if (!this.page.showsPlan() || document.visibilityState === "hidden" || (this.#look?.text === wanted.text && (this.#look.saves || !saves))) return;
    this.#look?.cancel?.();
    const timer = setTimeout(() => this.#lookFor(wanted, plan, saves), LOOKS_AFTER);
    this.#look = { text: wanted.text, saves, cancel: () => clearTimeout(timer) };
  }

  async #lookFor({ text, job }, plan, saves) {
    const look = { text, saves };
    this.#look = look;
    if (saves) this.savings = { ...NOTHING_SAVED, looking: true };
    this.page.redrawSoon();
    // Nothing is asked again where another of the choices was taken.
    const of = choicesOf(job);
    const isKnown = this.#choices.of === of && this.#choices.done && (this.#choices.found.length === 0 || chosenIn(this.#choices.found, job) >= 0);
    if (!isKnown) {
      const hear = (news, done = false) => (this.#choices = { of, found: news.choices, picture: news.picture, note: news.note, only: news.only, done });
      const reply = await this.#asked(look, { job, choices: plan, seconds: CHOICES_FOR }, hear);
      if (this.#look !== look) return;
      if (reply?.choices) hear(reply, true);
    }
    await this.#askAims(look, job);
    if (this.#look !== look) return;
    if (!saves) return void (look.done = true);
    const reply = await this.#asked(look, { job, improve: plan, seconds: LOOKS_FOR }, (news) => (this.savings = withNews(this.savings, news)));
    if (this.#look !== look) return;
    look.done = true;
    this.savings = { ...this.savings, looking: false, complete: reply?.complete ?? true, note: reply?.note ?? "" };
    this.page.redrawSoon();
  }

  // Plans with each aim that no choice stands for.
  async #askAims(look, job) {
    const of = aimsOf(job);
    if (this.#aims.of !== of) this.#aims = { of, texts: {} };
    const { texts } = this.#aims;
    const { aims } = this;
    for (const aim of AIMS.filter((one) => !(one in aims))) {
      const own = (job.aim ?? AIMS[0]) === aim;
      const reply = own ? this.good?.report : await this.#asked(look, { job: { ...job, aim }, seconds: AIM_FOR }, () => {});
      if (this.#look !== look) return;
      if (reply) texts[aim] = comesTo(reply, aim);
      this.page.redrawSoon();
    }
  }

  // Asks for something that is told on the way, for as long as this look is wanted. Where it fails there is nothing to tell: the plan stands without it.
  #asked(look, request, hear) {
    const { promise, cancel } = this.engine.plan(request, ({ report: news }) => {
      if (this.#look !== look) return;
      hear(news);
      this.page.redrawSoon();
    });
    look.cancel = cancel;
    return promise.catch(() => null);
  }

  #forgetNews() {
    clearTimeout(this.#onTheWay);
    [this.#onTheWay, this.#news] = [null, null];
  }

  #callOff() {
    this.#forgetNews();
    this.#look?.cancel?.();
    this.#look = null;
    this.savings = NOTHING_SAVED;
    const run = this.running?.run;
    this.running = null;
    run?.cancel();
  }
}
