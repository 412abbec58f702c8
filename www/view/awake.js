// Keeps the screen on at the saw, where the device can. The browser releases the lock when the page is hidden; it is then requested again.

import { find, show } from "./dom.js";

export function awake(actions) {
  const box = find("#awake");
  let lock = null;
  show(find("#awake-label"), "wakeLock" in navigator);
  const hold = async () => {
    const wanted = box.checked && actions.place() === "saw" && document.visibilityState === "visible";
    if (!wanted) {
      await lock?.release();
      lock = null;
    } else if (lock === null || lock.released) {
      try {
        lock = await navigator.wakeLock.request("screen");
      } catch {
        box.checked = false;
        actions.tell("The device does not let the page keep its screen on just now.", { id: "awake" });
      }
    }
  };
  box.addEventListener("change", hold);
  document.addEventListener("visibilitychange", hold);
  return hold;
}
