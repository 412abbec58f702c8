// The page's side of the engine. Requests and replies are objects; JSON stays in here.
//
//   const engine = new Engine();
//   await engine.ready;                                   // the engine's version; not needed before a call
//   const reply = await engine.call("drawing", request);
//   const { promise, cancel } = engine.plan(request, ({ milliseconds, report }) => ...);
//
// One Worker answers quick calls, in order. Each plan has a Worker to itself while it runs, and several plans run side by side. Cancelling
// ends the Worker: the promise is rejected with `Cancelled`, and a fresh Worker is already starting. A request whose Worker vanished is
// sent once more to a fresh one. Its promise is rejected with `EngineFailure` only if the engine itself failed, or if the Worker vanished
// both times. Faults in a job are ordinary replies.

import { engineSource } from "./engine-source.js";
import { EngineFailure, Hand, Lost, brokeOff } from "./hand.js";

export { EngineFailure, brokeOff };

export class Cancelled extends Error {
  name = "Cancelled";
}

// A plan's Worker is kept for the next plan unless its memory has grown beyond this many bytes: a Worker never gives memory back.
const BYTES_WORTH_KEEPING = 64 * 1024 * 1024;

// Seconds without a message after which a Worker is given up: far more than any answer takes on a slow phone.
const QUICK = 60;
const USUAL_PLAN = 30; // what the engine gives a plan where nothing is said
const AFTER_PLAN = 90; // for proofs and reports

const TRIES = 2; // a request that loses its Worker so often is given up

const mostPlansAtOnce = () => Math.max(2, Math.min(4, (navigator.hardwareConcurrency ?? 2) - 1));

// Sends a request again where its Worker was lost; gives up after `TRIES` losses for which the request is to blame.
async function insist(ask) {
  for (let blamed = 0; ;) {
    try {
      return await ask();
    } catch (error) {
      if (!(error instanceof Lost)) throw error;
      if (error.blamed) blamed += 1;
      if (blamed === TRIES) throw new EngineFailure(`The engine was lost twice over this: ${error.message}. What you typed is kept; try again, and save it to a file from More if it happens again.`);
    }
  }
}

export class Engine {
  #source = engineSource();
  #quick = null;
  #spare = [];
  #queue = [];
  #running = 0;
  #last = 0;

  constructor() {
    this.#source.catch(() => {});
    this.ready = insist(async () => (await this.#quickHand()).ready);
    this.ready.then(() => this.#warm(), () => {});
  }

  // Answers a quick request.
  async call(action, request = {}) {
    const message = { call: action, request: JSON.stringify(request) };
    return insist(async () => (await this.#quickHand()).ask(++this.#last, message, QUICK));
  }

  // Plans a job. `onProgress` is called with { milliseconds, report } at every better plan.
  plan(request, onProgress) {
    const job = { text: JSON.stringify(request), most: (request.seconds ?? USUAL_PLAN) + AFTER_PLAN, onProgress };
    const promise = new Promise((resolve, reject) => Object.assign(job, { resolve, reject }));
    promise.catch(() => {});
    this.#queue.push(job);
    this.#next();
    return { promise, cancel: () => this.#cancel(job) };
  }

  async #quickHand() {
    const source = await this.#source.catch((error) => {
      throw new EngineFailure(error.message);
    });
    if (this.#quick === null || this.#quick.ended !== undefined) this.#quick = new Hand(source);
    return this.#quick;
  }

  #cancel(job) {
    job.cancelled = true;
    this.#queue = this.#queue.filter((other) => other !== job);
    const reason = new Cancelled("the plan was called off");
    job.hand?.end(reason);
    job.reject(reason);
  }

  async #next() {
    if (this.#queue.length === 0 || this.#running >= mostPlansAtOnce()) return;
    const job = this.#queue.shift();
    this.#running += 1;
    try {
      job.resolve(await insist(() => this.#plan(job)));
    } catch (error) {
      job.reject(error instanceof Cancelled || error instanceof EngineFailure ? error : new EngineFailure(error.message));
    }
    this.#running -= 1;
    this.#keep(job.hand);
    this.#next();
  }

  async #plan(job) {
    const source = await this.#source;
    if (job.cancelled) throw new Cancelled("the plan was called off");
    const spare = this.#spare.pop();
    job.hand = spare !== undefined && spare.ended === undefined ? spare : new Hand(source);
    return job.hand.ask(++this.#last, { plan: job.text }, job.most, job.onProgress);
  }

  // Keeps the Worker of a finished plan for the next plan, unless it has ended or has grown too large.
  #keep(hand) {
    if (hand !== undefined && hand.ended === undefined) {
      if (hand.bytes <= BYTES_WORTH_KEEPING && this.#spare.length === 0) this.#spare.push(hand);
      else hand.end(new Cancelled("the engine has been put away"));
    }
    this.#warm();
  }

  // Keeps one Worker waiting, so that the next plan starts at once.
  async #warm() {
    const source = await this.#source;
    if (this.#spare.length === 0) this.#spare.push(new Hand(source));
  }
}
