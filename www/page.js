// The controller: the only place where typed input, the engine and the views meet.
//
// A change is saved, read by the engine, then planned. Each view that is seen gets the same `scene` and updates itself; the others do so when their place
// is opened. What a person does is shown at once, what the engine says in turns that leave room for the person. Replies to outdated requests are dropped.
//
// It starts in two steps. `open` shows the piece as it was left; what is typed from then on is kept. `begin` loads the engine and all other
// views.

import { Device, deviceStorage } from "./state/device.js";
import { sorted } from "./state/fault-places.js";
import { jobToSend } from "./state/job.js";
import { Lit } from "./state/lit.js";
import { addExample, addPiece, archivePiece, deletePiece } from "./state/pieces.js";
import { NOTHING_SAVED } from "./state/savings.js";
import { isImperial, usualLengths } from "./state/sizes.js";
import { NO_CHOICES } from "./state/side-by-side.js";
import { Store } from "./state/store.js";
import { boughtByLeg, currentLeg } from "./state/work.js";
import { learnSizes } from "./view/choices.js";
import { fieldsOf } from "./view/fields.js";
import { firstViews } from "./view/first.js";

const WIDE = matchMedia("(min-width: 1100px)"); // the plan stands beside Piece and Timber
const TURN = 8; // milliseconds after which showing what the engine said makes room for what a person does
const PAUSE = 200; // milliseconds without a change before planning starts
const CALM = 900; // milliseconds without a change before what is wrong in the field at hand is said
const NOTHING_PLANNED = { verdict: null, report: null, running: null, savings: NOTHING_SAVED, choices: NO_CHOICES, aims: {}, chosen: null, asPlanned: (job) => job, lookOn: () => {} };
const NOTHING_READ = { faults: [], parts: [], set_outs: [], quantities: null, groups: [], yard: [] };

export class Page {
  store = new Store(new Device(deviceStorage()));
  reading = NOTHING_READ;
  #kinds = [];
  #usual = {}; // usual sizes of saw and timber, in the unit of the piece
  #rules = [];
  #added = { asked: "[]", totals: [], warnings: [] }; // what was bought, and its totals
  #imperial = null; // which of the units the kinds are known for
  #openId = null;
  #asked = 0;
  #latest = null; // the job that was read last: { text, reading }
  #pending = true; // a change is on its way to the planner
  #typedAt = null; // when a key was last pressed in a field, null after any other change
  #timer = 0;
  #views = [];
  #soon = 0; // the timer of the next turn of showing
  #left = null; // what is being shown in turns: { scene, turns }
  #waiting = []; // acts that wait until all is shown
  #again = false; // what is being shown is outdated by now
  #lit = new Lit();
  #acts = {}; // what views do for one another, by name

  // Messages and questions do nothing until the rest of the page is there.
  tell = Object.assign(() => {}, { clear: () => {}, drop: () => {} });
  ask = async () => null;

  // Stands in for the desk until there is one.
  desk = NOTHING_PLANNED;

  open() {
    if (!this.store.load()) this.arrange((store) => addExample(store, example()));
    addEventListener("focusin", () => this.store.pause());
    WIDE.addEventListener("change", () => this.redraw());
    this.#views = firstViews(this);
    this.redraw();
    performance.mark("usable"); // tests ask for it
  }

  async begin({ engine, desk, worksite, units, arrivals, ask, tell, views }) {
    Object.assign(this, { engine, desk, worksite, units, ask, tell });
    this.#views.push(...views(this));
    this.store.listen((how) => this.#changed(how));
    addEventListener("storage", () => this.#changedElsewhere());
    this.redraw();
    try {
      document.documentElement.dataset.engine = await this.engine.ready;
      this.#changed("started");
      addEventListener("hashchange", () => arrivals.take());
      await arrivals.take();
    } catch (error) {
      this.tell(error.message, { act: { label: "Start again", do: () => location.reload() } });
    }
  }

  // ---- what views may ask and do ----

  get acts() {
    return this.#acts;
  }

  // A view makes its acts available to the others.
  offer(acts) {
    for (const [name, act] of Object.entries(acts)) {
      if (name in this.#acts) throw new Error(`two views offer ${name}`);
      this.#acts[name] = act;
    }
  }

  // Another place of the page was opened.
  placeChanged() {
    this.tell.clear();
    this.desk.lookOn();
    tellShown(false);
    this.redrawSoon();
  }

  piece() {
    return this.store.piece;
  }

  kinds() {
    return this.#kinds;
  }

  report() {
    return this.desk.report;
  }

  savings() {
    return this.desk.savings;
  }

  choices() {
    return this.desk.choices;
  }

  // The sizes that were chosen for the plan that is shown, null where none give.
  chosen() {
    const { report, chosen, good } = this.desk;
    return report && chosen?.job === good?.job ? chosen : null;
  }

  readings() {
    return this.reading;
  }

  place() {
    return document.body.dataset.place;
  }

  // Whether the plan is in sight: at its place, and on a wide screen beside Piece and Timber.
  showsPlan() {
    return this.place() === "plan" || this.#beside() === "plan";
  }

  sent() {
    return jobToSend(this.store, this.piece());
  }

  // The job as it is shown: where sizes may give, with those that were chosen.
  shown() {
    return this.desk.asPlanned(this.sent().job);
  }

  // Sizes were chosen: what is shown has them.
  readAgain() {
    this.#guarded(this.#read());
  }

  offeredBoards() {
    const offered = new Set(this.sent().rows.shed);
    return this.store.shed.filter((board) => offered.has(board.id));
  }

  change(place, act) {
    this.store.change(place, act);
  }

  arrange(act, how) {
    this.store.arrange(act, how);
  }

  stop() {
    this.desk.stop();
  }

  // Lights a part of the cutting list wherever it is shown, or no longer.
  touch(key) {
    this.#lit.touch(this.piece(), key);
    this.redraw();
  }

  async call(action, request) {
    const reply = await this.engine.call(action, request);
    if (reply.error !== undefined) throw new Error(reply.error);
    return reply;
  }

  // The engine's reading of a job. The latest job is read only once, however many callers there are.
  readJob(job) {
    const text = JSON.stringify(job);
    if (this.#latest?.text !== text) {
      const latest = { text, reading: this.call("read", { job, lengths: usualLengths(isImperial(job)) }) };
      latest.reading.catch(() => this.#latest === latest && (this.#latest = null));
      this.#latest = latest;
    }
    return this.#latest.reading;
  }

  // Joins several pieces into one, to be bought together. The pieces go to the archive, so that no board is held twice.
  async buyTogether(ids) {
    const pieces = this.store.pieces.filter((piece) => ids.includes(piece.id));
    try {
      const { job } = await this.call("join", { jobs: pieces.map((piece) => jobToSend(this.store, piece, ids).job) });
      const { openId } = this.store;
      let joint = null;
      this.arrange((store) => {
        for (const piece of pieces) archivePiece(store, piece.id, true);
        joint = addPiece(store, job);
      });
      const apart = (store) => {
        for (const piece of pieces) archivePiece(store, piece.id, false);
        store.openId = openId;
        deletePiece(store, joint.id);
      };
      this.tell("Planned as one. The single pieces are in the archive while this one is bought.", { id: "together", act: { label: "Part them again", do: () => this.arrange(apart) } });
    } catch (error) {
      this.tell(error.message);
    }
  }

  // ---- the flow ----

  #changed(how) {
    if (this.#openId !== this.store.openId) {
      this.#openId = this.store.openId;
      this.reading = NOTHING_READ;
      this.desk.forget();
      this.tell.clear();
    }
    this.#pending = true;
    tellBusy(true);
    const isTyped = ["typed", "done"].includes(how);
    this.#typedAt = isTyped ? performance.now() : null;
    if (isTyped) this.desk.lookNoFurther();
    if (["typed", "planned", "settled"].includes(how)) this.redrawSoon();
    else this.redraw();
    clearTimeout(this.#timer);
    this.#guarded(this.#read());
    this.#guarded(this.#addUp());
    if (!isTyped) this.#guarded(this.units.settleShed());
    const timer = (this.#timer = setTimeout(() => {
      this.#guarded(this.desk.plan().finally(() => {
        if (timer !== this.#timer) return;
        this.#pending = false;
        this.store.pause();
        this.redrawSoon();
      }));
    }, isTyped || how === "settled" ? PAUSE : 0));
  }

  // Waits until nobody is in the middle of typing: half a number is no fault.
  calm() {
    const left = this.#typedAt === null ? 0 : CALM - (performance.now() - this.#typedAt);
    if (left <= 0) return undefined;
    return new Promise((resolve) => {
      const timer = setTimeout(done, left);
      addEventListener("focusout", done);
      function done() {
        clearTimeout(timer);
        removeEventListener("focusout", done);
        resolve();
      }
    });
  }

  async #read() {
    const asked = (this.#asked += 1);
    const job = this.shown();
    const [reading] = await Promise.all([this.readJob(job), this.#learnKinds()]);
    if (reading.faults?.length > this.reading.faults.length) await this.calm();
    if (asked !== this.#asked) return;
    // What is said of a length holds for as long as its text is the one that was read.
    const yard = reading.yard?.map((line, at) => ({ ...line, length: job.yard[at]?.length })) ?? [];
    this.reading = { ...NOTHING_READ, ...reading, yard };
    this.redrawSoon();
  }

  // The totals of what is in the car so far, which the engine adds up over all legs of the work.
  async #addUp() {
    const { work } = this.piece();
    const times = boughtByLeg(work?.legs ?? []);
    const asked = JSON.stringify(times.map(({ job, progress }) => [progress, job.yard, job.payload]));
    if (this.#added.asked === asked) return;
    this.#added = { asked, totals: [], warnings: [] };
    if (!times.some(({ progress }) => progress.bought.length > 0)) return;
    const { totals, warnings } = await this.call("car", { times });
    if (this.#added.asked === asked) Object.assign(this.#added, { totals, warnings });
    this.redrawSoon();
  }

  // Loads the forms of set-outs and the rules of quantities, whose usual values depend on the unit.
  async #learnKinds() {
    const imperial = ["in", "ft"].includes(this.piece().job.unit);
    if (this.#imperial === imperial) return;
    this.#imperial = imperial;
    const [{ kinds, usual }, { fields }, { rows }] = await Promise.all([this.call("set_out_kinds", { imperial }), this.call("quantity_rules", { imperial }), this.call("section_table")]);
    learnSizes(rows);
    this.#kinds = kinds;
    this.#usual = usual;
    this.#rules = fields;
  }

  #guarded(promise) {
    promise.catch((error) => this.tell(error.message, { id: "engine" }));
  }

  // Shows everything that is seen as it now is, but for what is always shown in turns.
  redraw() {
    clearTimeout(this.#soon);
    [this.#soon, this.#left, this.#again] = [0, null, false];
    if (!this.piece()) return;
    const scene = this.#scene();
    const seen = this.#seen();
    const turns = this.#turns(seen.filter(({ inTurns }) => !inTurns), scene);
    while (!turns.next().done);
    const rest = seen.filter(({ inTurns }) => inTurns);
    if (rest.length === 0) return this.#shown(scene);
    if (scene.busy) tellBusy(true);
    this.#left = { scene, turns: this.#turns(rest, scene) };
    return void (this.#soon = setTimeout(() => this.#turn()));
  }

  // Shows it in a moment, with whatever else is new by then, and in turns.
  redrawSoon() {
    if (this.#left !== null) this.#again = true;
    else if (this.#soon === 0) this.#soon = setTimeout(() => this.#turn());
  }

  #turn() {
    this.#soon = 0;
    if (!this.piece()) return;
    if (this.#left === null) {
      const scene = this.#scene();
      this.#left = { scene, turns: this.#turns(this.#seen(), scene) };
      if (scene.busy) tellBusy(true);
    }
    const { scene, turns } = this.#left;
    const began = performance.now();
    while (performance.now() - began < TURN) if (turns.next().done) return this.#end(scene);
    return void (this.#soon = setTimeout(() => this.#turn()));
  }

  *#turns(views, scene) {
    for (const view of views) {
      yield* this.#show(view, scene);
      yield;
    }
  }

  #end(scene) {
    this.#left = null;
    if (!this.#again) return this.#shown(scene);
    this.#again = false;
    return this.redrawSoon();
  }

  // Calls this once all that is seen is shown.
  whenShown(act) {
    this.#waiting.push(act);
  }

  #shown({ busy }) {
    tellBusy(busy);
    tellShown(true);
    for (const act of this.#waiting.splice(0)) act();
  }

  #beside() {
    return WIDE.matches && ["piece", "timber"].includes(this.place()) ? "plan" : null;
  }

  #seen() {
    const beside = this.#beside();
    return this.#views.filter(({ places }) => places.length === 0 || places.includes(this.place()) || places.includes(beside));
  }

  // What the page calls a field of a list of the job.
  #labelOf = (list, field) => (list === "quantities" ? this.#rules.find((rule) => rule.field === field) : fieldsOf(list)?.find(({ name }) => name === field))?.label;

  #scene() {
    const { rows } = this.sent();
    const { told, lacking } = sorted(this.reading, rows, this.piece(), this.store.shed, this.#kinds, this.#labelOf);
    const faults = new Map();
    for (const fault of told) if (!faults.has(fault.place)) faults.set(fault.place, fault);
    const { verdict, report, running, savings, choices, aims } = this.desk;
    return {
      place: this.place(),
      store: this.store,
      piece: this.piece(),
      leg: currentLeg(this.piece()),
      planned: currentLeg(this.piece()) ?? this.desk.good ?? null, // what the plan that is shown was made of
      reading: this.reading,
      ready: this.reading !== NOTHING_READ,
      kinds: this.#kinds,
      usual: this.#usual,
      rules: this.#rules,
      car: this.#added,
      faults,
      angled: new Set(this.reading.parts.filter((part) => part.angled).map((part) => rows.parts[part.row])), // parts with both ends angled, by their rows
      sold: new Map(this.reading.yard.map((line, at) => [rows.yard[at], line])), // what the engine says of the lengths at the yard, by their rows
      told: [...faults.values()],
      lacking,
      lit: this.#lit.of(this.piece()),
      faultOf: (place) => faults.get(place) ?? null,
      report,
      verdict,
      running,
      savings,
      choices,
      aims,
      chosen: this.chosen(),
      busy: this.#pending || this.desk.running !== null,
      stale: verdict?.outcome === "faults",
      followed: this.worksite?.followed ?? [],
    };
  }

  // Shows a scene in a view, with the pauses that a long list makes. A view that fails is our error; the others are shown all the same, and what was typed
  // is kept.
  *#show(view, scene) {
    try {
      yield* view.show(scene)?.[Symbol.iterator]?.() ?? [];
    } catch (error) {
      console.error(error);
      this.tell(`A part of the page could not be shown (${error.message}). That is an error of ours. What you typed is kept; save it to a file from More.`, { id: "view" });
    }
  }

  // Another tab has saved: its changes are taken over, unless this tab is the one in use.
  #changedElsewhere() {
    if (document.hasFocus()) return;
    this.store.load({ mend: false });
    this.#changed("arranged");
  }
}

// That nothing is under way is told last: whoever waits for it finds all else shown.
const tellBusy = (busy) => document.getElementById("outcome").setAttribute("aria-busy", String(busy));

// A place that was opened is being filled until then.
const tellShown = (shown) => document.getElementById("main").setAttribute("aria-busy", String(!shown));

// The example of the first start, which the build puts into the page so that it shows without waiting for the engine.
const example = () => JSON.parse(document.getElementById("example-job").textContent);
