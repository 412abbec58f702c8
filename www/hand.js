// One Worker with the engine in it, and the requests that it has not answered yet.
//
// A Worker may vanish: a browser that is short of memory ends it without a message. Two signs reveal that. The Worker holds a lock of its
// own, which the browser releases whenever the Worker ends. Where a page may not use locks, seconds are counted instead: until the Worker
// has started, until it reports that a request is begun, and until the next message about a request. Only seconds in which the page itself
// runs are counted: it checks every second, so a phone that slept for an hour has waited for one second.
//
// Where the Worker is gone, `ready` and each request are rejected with `Lost`; the caller may then ask another Worker.

const SECOND = 1000; // milliseconds
const TO_START = 10; // seconds
const TO_BEGIN = 5; // with nothing else at work, a request is begun as soon as it is sent

export class EngineFailure extends Error {
  name = "EngineFailure";
}

// The message where the engine itself failed: that it is our error, that what was typed is kept, and what to do. `why` is the engine's own
// message, for whoever mends it.
export function brokeOff(why) {
  const said = String(why ?? "").replace(/\s+/g, " ").trim().slice(0, 300);
  return "The engine broke off, which is an error of ours and none of yours. Nothing you typed is lost. Try again; if it breaks off "
    + `again, save the piece to a file from More.${said && ` The engine said: “${said}”`}`;
}

// The Worker is gone. `blamed` says whether it was at work on the request that is rejected with this, or never started.
export class Lost extends Error {
  name = "Lost";

  constructor(why, blamed) {
    super(why);
    this.blamed = blamed;
  }
}

export class Hand {
  bytes = 0;
  ended; // why, once it has
  #waiting = new Map(); // requests by their id, in the order in which they are answered
  #started = false;
  #seconds = 0; // without a word while something is awaited
  #clock = null;
  #lock = new AbortController();
  #notReady;

  constructor(source) {
    this.ready = new Promise((resolve, reject) => {
      this.#notReady = reject;
      this.worker = source.start();
      this.worker.onmessage = ({ data }) => this.#hear(data, resolve);
      this.worker.onerror = (event) => this.#lose(event.message || "the engine did not start");
    });
    this.ready.catch(() => {});
    Hand.#count += 1;
    this.lock = `lengthwise ${performance.timeOrigin} ${Hand.#count} ${Math.random()}`;
    this.worker.postMessage({ start: source.module, lock: this.lock });
    this.#watch();
  }

  static #count = 0;

  // `most` is the greatest number of seconds without a message about the request.
  ask(id, message, most, onProgress) {
    return new Promise((resolve, reject) => {
      if (this.ended !== undefined) return reject(this.ended);
      if (this.#waiting.size === 0) this.#seconds = 0;
      this.#waiting.set(id, { resolve, reject, onProgress, most, begun: false });
      this.worker.postMessage({ id, ...message });
      this.#watch();
    });
  }

  end(reason) {
    this.ended = reason;
    this.#stop();
    this.#notReady(reason);
    for (const request of this.#waiting.values()) request.reject(reason);
    this.#waiting.clear();
  }

  #hear(data, started) {
    this.#seconds = 0;
    if (data.ready !== undefined) {
      this.#started = true;
      started(data.ready);
    } else if (data.held) this.#awaitLock();
    else if (data.id === undefined) this.#lose(data.failure);
    else this.#hearOf(data);
  }

  #hearOf({ id, begun, progress, reply, failure, bytes }) {
    const request = this.#waiting.get(id);
    if (begun) {
      if (request) request.begun = true;
    } else if (progress !== undefined) {
      request?.onProgress?.({ milliseconds: progress.milliseconds, report: JSON.parse(progress.report) });
    } else {
      this.bytes = bytes;
      this.#waiting.delete(id);
      if (failure === undefined) return request?.resolve(JSON.parse(reply));
      // After a failure the engine's memory cannot be trusted; the other requests go to another Worker.
      request?.reject(new EngineFailure(brokeOff(failure)));
      this.#lose(failure, false);
    }
  }

  #awaitLock() {
    const { signal } = this.#lock;
    navigator.locks.request(this.lock, { signal }, () => this.#lose("it was ended by the browser")).catch(() => {});
  }

  // The first of the waiting requests is the one the Worker was at work on.
  #lose(why, blame = true) {
    if (this.ended !== undefined) return;
    this.ended = new Lost(why, false);
    this.#stop();
    this.#notReady(new Lost(why, true));
    const requests = [...this.#waiting.values()];
    this.#waiting.clear();
    requests.forEach(({ reject }, index) => reject(new Lost(why, blame && (index === 0 || !this.#started))));
  }

  #stop() {
    clearInterval(this.#clock);
    this.#clock = null;
    this.#lock.abort();
    this.worker.terminate();
  }

  #watch() {
    this.#clock ??= setInterval(() => this.#look(), SECOND);
  }

  #look() {
    const [first] = this.#waiting.values();
    if (this.#started && first === undefined) {
      clearInterval(this.#clock);
      this.#clock = null;
      return;
    }
    this.#seconds += 1;
    const most = !this.#started ? TO_START : first.begun ? first.most : TO_BEGIN;
    if (this.#seconds > most) this.#lose(`it has said nothing for ${most} seconds`);
  }
}
