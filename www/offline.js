// Makes the page work without a network, and installs a new version at the start, before anything has been typed.
//
// Where the old version is still in use, the browser does not change over; the next start takes the new version.
//
// The document gets the event "offlineready" once the page works without a network, and "newversion" when a version arrives too late for
// this start and waits for the next one. Everything typed is saved at each change, so a reload loses nothing.

import { inside } from "./engine-source.js";

const SOON = 3000; // milliseconds after the start in which a reload for a version that has just arrived looks like starting

const tell = (what) => document.dispatchEvent(new CustomEvent(what));

export async function workOffline() {
  const served = location.protocol === "https:" || location.protocol === "http:";
  if (!served || (await inside("engine-module")) !== undefined || !("serviceWorker" in navigator)) return;

  let touched = false;
  const touch = () => (touched = true);
  for (const kind of ["pointerdown", "keydown", "input"]) addEventListener(kind, touch, { once: true, capture: true });

  const controlled = navigator.serviceWorker.controller !== null;
  let asked = false;
  const offer = (waiting, starting) => {
    if (!controlled || waiting === null) return;
    if (starting && !touched) {
      asked = true;
      waiting.postMessage("take over");
    } else {
      tell("newversion");
    }
  };
  navigator.serviceWorker.addEventListener("controllerchange", () => {
    if (asked && !touched) location.reload();
  });
  navigator.serviceWorker.ready?.then(() => tell("offlineready"));

  // A browser may forbid service workers, as in a private window; then the page works as long as there is a network.
  const registering = navigator.serviceWorker.register("./service-worker.js", { updateViaCache: "none" });
  const registration = await registering.catch(() => null);
  if (!registration) return; // also where something in the browser keeps it from being registered
  offer(registration.waiting, true);
  let followed = null;
  const follow = (coming) => {
    if (coming === null || coming === followed) return;
    followed = coming;
    coming.addEventListener("statechange", () => {
      if (coming.state === "installed") offer(coming, performance.now() < SOON);
    });
  };
  follow(registration.installing);
  registration.addEventListener("updatefound", () => follow(registration.installing));
}
