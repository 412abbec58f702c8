// The engine of the page in Node, for `cargo compare`: a problem a line comes in, an answer a line goes out.
//
// Started with the folder that holds engine.js and engine.wasm. In: {"problem", "leastScrap", "looks"}. Out:
// {"answer", "seconds", "memory"} with the bytes of memory at the end, or {"failure"}. Seconds are those that this thread had a
// processor for, where the system tells them, and else those that passed. Every problem has an engine of its own, so that its
// memory can be told; the compiled module, and with it what the compiler made better meanwhile, is the same throughout.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { createInterface } from 'node:readline';

const folder = process.argv[2];
const script = readFileSync(join(folder, 'engine.js'), 'utf8');
const start = new Function(`${script}\nreturn wasm_bindgen;`);
const module = new WebAssembly.Module(readFileSync(join(folder, 'engine.wasm')));

function seconds() {
    try {
        return Number(readFileSync('/proc/thread-self/schedstat', 'utf8').split(' ')[0]) / 1e9;
    } catch {
        return performance.now() / 1e3;
    }
}

function solve({ problem, leastScrap, looks }) {
    const engine = start();
    const { memory } = engine.initSync({ module });
    const began = seconds();
    const answer = engine.bench(problem, leastScrap, looks);
    return { answer, seconds: seconds() - began, memory: memory.buffer.byteLength };
}

for await (const line of createInterface({ input: process.stdin })) {
    let reply;
    try {
        reply = solve(JSON.parse(line));
    } catch (failure) {
        reply = { failure: String(failure) };
    }
    process.stdout.write(`${JSON.stringify(reply)}\n`);
}
