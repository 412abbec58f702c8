// Makes the page work without a network, and takes a new version at the start, before anything has been typed.
//
// A version that arrives later is left waiting for the next start; the page may tell the person by listening for
// "newversion" on the document. Everything typed is saved at each change, so a reload loses nothing.

const SOON = 3000; // milliseconds after the start in which a reload still looks like part of starting

export async function workOffline() {
  const served = location.protocol === "https:" || location.protocol === "http:";
  const oneFile = document.getElementById("engine-module") !== null;
  if (!served || oneFile || !("serviceWorker" in navigator)) return;

  let touched = false;
  const touch = () => (touched = true);
  for (const kind of ["pointerdown", "keydown", "input"]) addEventListener(kind, touch, { once: true, capture: true });
  const fresh = () => !touched && performance.now() < SOON;

  const controlled = navigator.serviceWorker.controller !== null;
  let asked = false;
  const offer = (waiting) => {
    if (!controlled || waiting === null) return;
    if (fresh()) {
      asked = true;
      waiting.postMessage("take over");
    } else {
      document.dispatchEvent(new CustomEvent("newversion"));
    }
  };
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (asked && !touched) location.reload();
  });

  const registration = await navigator.serviceWorker.register("./service-worker.js", { updateViaCache: "none" });
  offer(registration.waiting);
  registration.addEventListener("updatefound", () => {
    const coming = registration.installing;
    coming.addEventListener("statechange", () => {
      if (coming.state === "installed") offer(coming);
    });
  });
}
