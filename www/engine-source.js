// Where the engine comes from: two files beside the page, or two elements inside it when everything is one file.
// Both are taken once, at the start. A Worker started later is therefore of the same version as the page,
// whatever has become of the server since.

// In the one file they stand behind the script that starts the page.
export async function inside(id) {
  if (document.readyState === "loading") await new Promise((read) => document.addEventListener("DOMContentLoaded", read, { once: true }));
  return document.getElementById(id)?.textContent.trim();
}

async function workerText() {
  const held = await inside("engine-worker");
  if (held !== undefined) return new Response(await opened(held)).text();
  const answer = await fetch("./engine-worker.js");
  if (!answer.ok) throw new Error(`the engine's script is missing (${answer.status})`);
  return answer.text();
}

async function module() {
  const held = await inside("engine-module");
  if (held !== undefined) return WebAssembly.compile(await new Response(await opened(held)).arrayBuffer());
  const answer = await fetch("./engine.wasm");
  if (!answer.ok) throw new Error(`the engine is missing (${answer.status})`);
  const streams = answer.headers.get("Content-Type") === "application/wasm";
  return streams ? WebAssembly.compileStreaming(answer) : WebAssembly.compile(await answer.arrayBuffer());
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
  if (!answer.ok) throw new Error("The notices are not on this device. Open the page again with a network");
  return answer.text();
}
