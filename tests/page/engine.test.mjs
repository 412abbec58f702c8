// The page's side of the engine, with simulated Workers and a simulated clock.

import assert from "node:assert/strict";
import { afterEach, beforeEach, mock, test } from "node:test";

const SMALLEST_MODULE = new Uint8Array([0, 0x61, 0x73, 0x6d, 1, 0, 0, 0]); // the head of a WebAssembly module, and nothing else

let workers = [];
let deaf = () => false; // whether a new Worker never answers
let locks = []; // [{ name, granted }] the page waits for

class Worker {
  heard = [];
  terminated = false;

  constructor() {
    workers.push(this);
    this.deaf = deaf(workers.length);
  }

  postMessage(message) {
    this.heard.push(message);
    if (message.start && !this.deaf) this.say({ ready: "1" });
  }

  say(data) {
    queueMicrotask(() => this.terminated || this.onmessage({ data }));
  }

  // Begins and answers what was asked last.
  answer(reply) {
    const { id } = this.heard.at(-1);
    this.say({ id, begun: true });
    this.say({ id, reply: JSON.stringify(reply), bytes: 1 });
  }

  terminate() {
    this.terminated = true;
  }
}

const texts = { "engine-digests": JSON.stringify({ "engine-worker.js": "sha256-a", "engine.wasm": "sha256-b" }) };
globalThis.document = { readyState: "complete", getElementById: (id) => (texts[id] === undefined ? null : { textContent: texts[id] }) };
globalThis.Worker = Worker;
Object.defineProperty(globalThis, "navigator", {
  configurable: true,
  value: { hardwareConcurrency: 4, locks: { request: (name, { signal }, granted) => new Promise((_, reject) => {
    locks.push({ name, granted });
    signal.addEventListener("abort", () => reject(new Error("called off")));
  }) } },
});
const { Engine, EngineFailure } = await import("../../www/engine.js");

let fetched = [];
const sound = async () => new Response(SMALLEST_MODULE);
let served = sound;
globalThis.fetch = (name, { integrity, cache }) => {
  fetched.push([name, integrity, cache]);
  return served(name, cache);
};

const settled = async () => {
  for (let turn = 0; turn < 200; turn += 1) await Promise.resolve();
  await new Promise((resolve) => setImmediate(resolve));
};

// The engine is compiled beside all this, in its own time.
async function started(count) {
  while (workers.length < count) await new Promise((resolve) => setImmediate(resolve));
  await settled();
}

function pass(seconds) {
  for (let second = 0; second < seconds; second += 1) mock.timers.tick(1000);
}

beforeEach(() => {
  [workers, locks, fetched, deaf, served] = [[], [], [], () => false, sound];
  mock.timers.enable({ apis: ["setInterval"] });
});

afterEach(() => mock.timers.reset());

// The Worker that was asked for this action last.
const asked = (word) => workers.findLast((worker) => worker.heard.some((message) => message.call === word || message.plan !== undefined && word === "plan"));

async function begun() {
  const engine = new Engine();
  assert.equal(await engine.ready, "1");
  await settled();
  return engine;
}

test("a Worker that ends while nothing is asked is replaced, and what is asked next is answered", async () => {
  const engine = await begun();
  const reply = engine.call("read", {});
  await settled();
  const dead = asked("read"); // it never begins
  pass(6);
  await settled();
  const next = asked("read");
  assert.notEqual(next, dead);
  assert.equal(dead.terminated, true);
  next.answer({ parts: 3 });
  assert.deepEqual(await reply, { parts: 3 });
});

test("a lock that comes free tells of it at once", async () => {
  const engine = await begun();
  const reply = engine.call("read", {});
  await settled();
  const dead = asked("read");
  dead.say({ held: true });
  await settled();
  locks.find(({ name }) => name === dead.heard[0].lock).granted();
  await settled();
  asked("read").answer({ parts: 3 });
  assert.deepEqual(await reply, { parts: 3 });
});

test("a Worker that is at work is left alone for as long as a request may take", async () => {
  const engine = await begun();
  const reply = engine.call("read", {});
  await settled();
  const busy = asked("read");
  busy.say({ id: busy.heard.at(-1).id, begun: true });
  await settled();
  pass(60);
  assert.equal(busy.terminated, false);
  busy.answer({ late: true });
  assert.deepEqual(await reply, { late: true });
});

test("a request over which the engine is lost twice is given up and said to be, those behind it are answered", async () => {
  const engine = await begun();
  const deadly = engine.call("deadly", {}).catch((error) => error);
  const behind = engine.call("read", {});
  await settled();
  for (let time = 0; time < 2; time += 1) {
    const worker = asked("deadly");
    worker.say({ id: worker.heard.find((message) => message.call === "deadly").id, begun: true });
    await settled();
    pass(61);
    await settled();
  }
  const error = await deadly;
  assert.ok(error instanceof EngineFailure);
  assert.match(error.message, /lost twice.*What you typed is kept/);
  asked("read").answer({ parts: 3 });
  assert.deepEqual(await behind, { parts: 3 });
});

test("a failure is told to the request it is about, and those behind it are asked elsewhere", async () => {
  const engine = await begun();
  const broken = engine.call("broken", {}).catch((error) => error);
  const behind = engine.call("read", {});
  await settled();
  const worker = asked("broken");
  worker.say({ id: worker.heard.find((message) => message.call === "broken").id, failure: "unreachable", bytes: 1 });
  await settled();
  assert.match((await broken).message, /an error of ours.*The engine said: “unreachable”$/);
  assert.equal(worker.terminated, true);
  asked("read").answer({ parts: 3 });
  assert.deepEqual(await behind, { parts: 3 });
});

test("an engine that does not start is started again, and given up after the second time", async () => {
  deaf = (number) => number === 1;
  const engine = new Engine();
  await started(1);
  pass(11);
  assert.equal(await engine.ready, "1");

  await started(3); // and one that waits for the first plan
  deaf = () => true;
  const more = workers.length;
  const never = new Engine().ready.catch((error) => error);
  await started(more + 1);
  pass(11);
  await started(more + 2);
  pass(11);
  assert.match((await never).message, /lost twice/);
});

test("news of a plan keep it waited for; a plan that is lost is asked once more", async () => {
  const engine = await begun();
  const { promise } = engine.plan({ job: {} }, () => {});
  await settled();
  const first = asked("plan");
  const id = first.heard.at(-1).id;
  first.say({ id, begun: true });
  for (let news = 0; news < 5; news += 1) {
    await settled();
    pass(100);
    first.say({ id, progress: { milliseconds: 1, report: "{}" } });
  }
  await settled();
  assert.equal(first.terminated, false);
  pass(121);
  await settled();
  assert.equal(first.terminated, true);
  asked("plan").answer({ outcome: "proven" });
  assert.deepEqual(await promise, { outcome: "proven" });
});

test("an engine that is not as its digest says is asked for past the cache, and told where that does not help", async () => {
  served = (name, cache) => (cache === "default" ? Promise.reject(new TypeError("digest")) : sound());
  await begun();
  assert.deepEqual(fetched.sort(), [
    ["./engine-worker.js", "sha256-a", "default"], ["./engine-worker.js", "sha256-a", "reload"],
    ["./engine.wasm", "sha256-b", "default"], ["./engine.wasm", "sha256-b", "reload"],
  ]);
  served = () => Promise.reject(new TypeError("digest"));
  const error = await new Engine().ready.catch((failure) => failure);
  assert.match(error.message, /missing or damaged.*What you typed is kept/);
});
