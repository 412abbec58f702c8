// Where the engine comes from: two files beside the page, or two elements inside it where everything is one file.
//
// Both are loaded once, at the start. So a Worker started later has the same version as the page, whatever has changed on the server since.

// In the one file these elements come after the script that starts the page.
export async function inside(id) {
  if (document.readyState === "loading") await new Promise((read) => document.addEventListener("DOMContentLoaded", read, { once: true }));
  return document.getElementById(id)?.textContent.trim();
}

// The digest of each file of the engine, by which the page recognises its own version.
const digests = () => JSON.parse(document.getElementById("engine-digests").textContent);

// Loads a file of the engine. A copy kept on the device may be damaged, or be of another version than the page. So the browser compares it
// with its digest; where that fails, it is loaded again past every cache.
async function fetched(name, use) {
  const integrity = digests()[name];
  for (const cache of ["default", "reload"]) {
    try {
      const answer = await fetch(`./${name}`, { integrity, cache });
      if (answer.ok) return await use(answer);
    } catch {
      // Loaded again, or reported as an error.
    }
  }
  throw new Error("The engine on this device is missing or damaged, and it could not be fetched again. What you typed is kept. Open the page again with a network.");
}

// Unpacks a part of the engine from the one file. Its compression detects damage.
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

// Turns base64 of gzip, as in the one-file page, into a stream of plain bytes. The browser decodes base64 itself, as part of a URL, which
// is far faster than a script.
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

// The licences of third-party code, which are part of the page.
export async function notices() {
  const held = await inside("crate-notices");
  const answer = held === undefined ? await fetch("./notices.txt") : new Response(await opened(held));
  if (!answer.ok) throw new Error("The notices are not on this device. Open the page again with a network.");
  return answer.text();
}
