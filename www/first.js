// Shows the piece as it was left before the rest of the page is loaded, and lets a person begin.
//
// What is typed is kept from here on. A button, a choice or the Enter key may need parts of the page that are not there yet; such events
// are held back and replayed once they are.

import { Page } from "./page.js";

const NO_FRAME = 500; // milliseconds; a page that nobody looks at draws none

export const page = new Page();
page.open();

const held = [];
const HELD = { click: "button, [type=checkbox], [type=radio]", change: "select", keydown: "input" };

function hold(event) {
  const target = event.target.closest(HELD[event.type]);
  if (target === null || (event.type === "keydown" && event.key !== "Enter")) return;
  event.stopImmediatePropagation();
  event.preventDefault();
  held.push({ target, event, value: target.value });
}

for (const kind of Object.keys(HELD)) document.addEventListener(kind, hold, true);

// The rest of the page is there: the events held back are replayed in order.
export function letGo() {
  for (const kind of Object.keys(HELD)) document.removeEventListener(kind, hold, true);
  for (const { target, event, value } of held) {
    if (event.type === "change") target.value = value;
    if (event.type === "click") target.click();
    else target.dispatchEvent(new event.constructor(event.type, event));
  }
}

// Runs the rest of the page, which the build puts in as plain text: a browser that saw a script would run it before it draws.
async function runRest() {
  await new Promise((drawn) => {
    requestAnimationFrame(() => setTimeout(drawn));
    setTimeout(drawn, NO_FRAME);
  });
  if (document.readyState === "loading") await new Promise((read) => document.addEventListener("DOMContentLoaded", read, { once: true }));
  const rest = document.querySelector("script[type='text/rest']");
  if (rest === null) return; // not built: the page names it as a module
  const script = document.createElement("script");
  script.textContent = rest.textContent;
  rest.replaceWith(script);
}

runRest();
