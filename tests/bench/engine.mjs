// The engine of the page in Node, for `cargo compare`: one line with a problem comes in, one line with an answer goes out.
//
// Started with the folder that holds engine.js and engine.wasm. In: {"problem", "leastScrap", "looks"}. Out: {"answer", "seconds",
// "memory"} with the bytes of memory at the end, or {"failure"}. Seconds are processor seconds of this thread where the system reports them
// and the run was not too short, otherwise elapsed seconds.
//
// Every problem has an engine of its own, so that its memory can be measured; repeated runs of a problem use the same engine. The compiled
// module, with what the compiler has optimised so far, is the same throughout.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

// Below this many seconds the wall clock is used, since the system counts a processor's time in steps of some milliseconds.
const SHORT = 0.02;

const folder = process.argv[2];
const script = readFileSync(join(folder, 'engine.js'), 'utf8');
const start = new Function(`${script}\nreturn wasm_bindgen;`);
const module = new WebAssembly.Module(readFileSync(join(folder, 'engine.wasm')));

let at; // the problem that the engine was started for
let engine;
let memory;

function processorSeconds() {
    try {
        return Number(readFileSync('/proc/thread-self/schedstat', 'utf8').split(' ')[0]) / 1e9;
    } catch {
        return NaN;
    }
}

function solve({ problem, leastScrap, looks }) {
    if (problem !== at) {
        engine = start();
        memory = engine.initSync({ module }).memory;
        at = problem;
    }
    const busy = processorSeconds();
    const began = performance.now();
    const answer = engine.bench(problem, leastScrap, looks);
    const passed = (performance.now() - began) / 1e3;
    const spent = processorSeconds() - busy;
    const seconds = passed > SHORT && spent > 0 ? spent : passed;
    return { answer, seconds, memory: memory.buffer.byteLength };
}

for await (const line of createInterface({ input: process.stdin })) {
    let reply;
    try {
        reply = solve(JSON.parse(line));
    } catch (failure) {
        at = undefined; // an engine that has failed cannot be used again
        reply = { failure: String(failure) };
    }
    process.stdout.write(`${JSON.stringify(reply)}\n`);
}
