// The Worker that holds the engine. A classic script: a page opened from a file may not start a module Worker.
// The build puts the engine's own script, which defines `wasm_bindgen`, in front of this one.
//
// In:  { start: WebAssembly.Module, lock }      Out: { ready: version }, { held: true } once it holds the lock of that name
//      any request                                   { id, begun: true } at once
//      { id, call: action, request: text }           { id, reply: text }
//      { id, plan: request text }                     { id, progress: { milliseconds, report } } ..., { id, reply: text }
//                                                     { id, failure: text } when the engine itself failed
// Every message that ends a request says how many bytes of memory the engine holds.
"use strict";

let memory = null;

// The browser releases a lock whenever its holder ends, so the page notices.
function hold(name) {
  if (name === undefined || !self.navigator.locks) return;
  const held = () => {
    self.postMessage({ held: true });
    return new Promise(() => {});
  };
  navigator.locks.request(name, held).catch(() => {});
}

self.onmessage = ({ data }) => {
  if (data.start) {
    hold(data.lock);
    try {
      memory = wasm_bindgen.initSync({ module: data.start }).memory;
      self.postMessage({ ready: wasm_bindgen.version() });
    } catch (error) {
      self.postMessage({ failure: String(error?.message ?? error) });
    }
    return;
  }
  self.postMessage({ id: data.id, begun: true });
  try {
    const reply = data.plan === undefined
      ? wasm_bindgen.call(data.call, data.request)
      : wasm_bindgen.plan(data.plan, (progress) => self.postMessage({ id: data.id, progress }));
    self.postMessage({ id: data.id, reply, bytes: memory.buffer.byteLength });
  } catch (error) {
    self.postMessage({ id: data.id, failure: String(error?.message ?? error), bytes: memory?.buffer.byteLength ?? 0 });
  }
};
