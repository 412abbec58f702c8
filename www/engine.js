// The page's side of the engine. Requests and replies are objects; JSON stays in here.
//
//   const engine = new Engine();
//   await engine.ready;                                   // the engine's version; not needed before a call
//   const reply = await engine.call("drawing", request);
//   const { promise, cancel } = engine.plan(request, ({ milliseconds, report }) => ...);
//
// One Worker answers quick calls, in order. Each plan has a Worker to itself while it runs; several plans run side by
// side. To cancel is to end the Worker: the promise is rejected with `Cancelled`, and a fresh Worker is already warming
// up. The promise of a request is rejected with `EngineFailure` only when the engine itself broke; faults in a job
// are replies like any other.

import { engineSource } from "./engine-source.js";

export class Cancelled extends Error {
  name = "Cancelled";
}

export class EngineFailure extends Error {
  name = "EngineFailure";
}

// What a person is told where the engine itself broke: whose error it is, what became of what they typed, and what to do. `why` is the
// engine's own word, which helps whoever mends it.
export function brokeOff(why) {
  const said = String(why ?? "").replace(/\s+/g, " ").trim().slice(0, 300);
  return "The engine broke off, which is an error of ours and none of yours. Nothing you typed is lost. Try again; if it breaks off "
    + `again, save the piece to a file from More.${said && ` The engine said: “${said}”`}`;
}

// A plan's Worker is kept for the next plan unless its memory has grown past this: it is never given back otherwise.
const BYTES_WORTH_KEEPING = 64 * 1024 * 1024;

const mostPlansAtOnce = () => Math.max(2, Math.min(4, (navigator.hardwareConcurrency ?? 2) - 1));

// One Worker, and the requests it has not answered yet.
class Hand {
  bytes = 0;
  ended; // why, once it has
  waiting = new Map();

  constructor(source) {
    this.worker = source.start();
    this.ready = new Promise((resolve, reject) => {
      this.worker.onmessage = ({ data }) => {
        if (data.ready !== undefined) resolve(data.ready);
        else if (data.id === undefined) this.broken(data.failure, reject);
        else this.hear(data);
      };
      this.worker.onerror = (event) => this.broken(event.message ?? "the engine did not start", reject);
    });
    this.ready.catch(() => {});
    this.worker.postMessage({ start: source.module });
  }

  ask(id, message, onProgress) {
    return new Promise((resolve, reject) => {
      if (this.ended !== undefined) return reject(this.ended);
      this.waiting.set(id, { resolve, reject, onProgress });
      this.worker.postMessage({ id, ...message });
    });
  }

  hear({ id, progress, reply, failure, bytes }) {
    const request = this.waiting.get(id);
    if (progress !== undefined) {
      request?.onProgress?.({ milliseconds: progress.milliseconds, report: JSON.parse(progress.report) });
      return;
    }
    this.bytes = bytes;
    this.waiting.delete(id);
    if (failure === undefined) request?.resolve(JSON.parse(reply));
    else this.broken(brokeOff(failure), request?.reject);
  }

  // After a failure the engine's memory is not to be trusted.
  broken(why, reject) {
    const failure = new EngineFailure(why);
    reject?.(failure);
    this.end(failure);
  }

  end(reason) {
    this.ended = reason;
    this.worker.terminate();
    for (const request of this.waiting.values()) request.reject(reason);
    this.waiting.clear();
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
    this.ready = this.#quickHand().then((hand) => hand.ready);
    this.ready.then(() => this.#warm(), () => {});
  }

  // Answers a quick action.
  async call(action, request = {}) {
    const hand = await this.#quickHand();
    return hand.ask(++this.#last, { call: action, request: JSON.stringify(request) });
  }

  // Plans a job. `onProgress` hears { milliseconds, report } at every better plan.
  plan(request, onProgress) {
    const job = { id: ++this.#last, text: JSON.stringify(request), onProgress };
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
      const source = await this.#source;
      if (!job.cancelled) {
        const spare = this.#spare.pop();
        job.hand = spare?.ended === undefined ? (spare ?? new Hand(source)) : new Hand(source);
        job.resolve(await job.hand.ask(job.id, { plan: job.text }, job.onProgress));
      }
    } catch (error) {
      job.reject(error instanceof Cancelled || error instanceof EngineFailure ? error : new EngineFailure(error.message));
    }
    this.#running -= 1;
    this.#keep(job.hand);
    this.#next();
  }

  // A finished plan's Worker serves the next plan, unless it has ended or has grown too large.
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
