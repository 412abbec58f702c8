// Where the engine comes from: two files beside the page, or two elements inside it when everything is one file.
// Both are taken once, at the start. A Worker started later is therefore of the same version as the page,
// whatever has become of the server since.

// In the one file they stand behind the script that starts the page.
export async function inside(id) {
  if (document.readyState === "loading") await new Promise((read) => document.addEventListener("DOMContentLoaded", read, { once: true }));
  return document.getElementById(id)?.textContent.trim();
}

// What the page knows its engine by: the digest of each of its files.
const digests = () => JSON.parse(document.getElementById("engine-digests").textContent);

// A file of the engine. What the device keeps of it may be damaged, or be of another version than the page: the browser compares it
// with its digest, and then it is asked for again, past all that is kept.
async function fetched(name, use) {
  const integrity = digests()[name];
  for (const cache of ["default", "reload"]) {
    try {
      const answer = await fetch(`./${name}`, { integrity, cache });
      if (answer.ok) return await use(answer);
    } catch {
      // Asked for again, or told.
    }
  }
  throw new Error("The engine on this device is missing or damaged, and it could not be fetched again. What you typed is kept. Open the page again with a network.");
}

// A part of the engine that the one file holds. What packs it notices damage.
async function unpacked(held, use) {
  try {
    return await use(new Response(await opened(held)));
  } catch {
    throw new Error("This file is damaged: the engine in it cannot be unpacked. What you typed is kept. Get the file again from where it came from.");
  }
}

async function workerText() {
  const use = (answer) => answer.text();
  const held = await inside("engine-worker");
  return held === undefined ? fetched("engine-worker.js", use) : unpacked(held, use);
}

async function module() {
  const held = await inside("engine-module");
  const whole = async (answer) => WebAssembly.compile(await answer.arrayBuffer());
  if (held !== undefined) return unpacked(held, whole);
  return fetched("engine.wasm", (answer) => {
    const streams = answer.headers.get("Content-Type") === "application/wasm";
    return streams ? WebAssembly.compileStreaming(answer) : whole(answer);
  });
}

// Base64 of gzip, as the one-file page carries it, to a stream of plain bytes. The browser reads base64 itself, as part of
// an address: far quicker than a script can.
async function opened(base64) {
  const packed = await fetch(`data:application/gzip;base64,${base64}`);
  return packed.body.pipeThrough(new DecompressionStream("gzip"));
}

// Resolves to { module, start }: the compiled engine, and a function that starts a Worker for it.
export async function engineSource() {
  const [text, compiled] = await Promise.all([workerText(), module()]);
  const address = URL.createObjectURL(new Blob([text], { type: "text/javascript" }));
  return { module: compiled, start: () => new Worker(address) };
}

// The terms of what others wrote: they travel with the page.
export async function notices() {
  const held = await inside("crate-notices");
  const answer = held === undefined ? await fetch("./notices.txt") : new Response(await opened(held));
  if (!answer.ok) throw new Error("The notices are not on this device. Open the page again with a network.");
  return answer.text();
}
