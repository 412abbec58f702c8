// The drawing of the whole plan, its legend, and every board in words for people who cannot see it.

import { draw, find, lines, make, patch, say } from "./dom.js";
import { lightIn, touchedIn } from "./whole.js";
import { inPiece } from "../state/made.js";

export function planDrawing(actions) {
  let leg = null;
  const touch = (key) => actions.touch(inPiece(leg, key));
  find("#larger").addEventListener("click", ({ target }) => {
    const large = find("#plan-drawing").classList.toggle("large");
    target.setAttribute("aria-pressed", String(large));
  });
  touchedIn(find("#plan-drawing"), touch);
  return ({ report, lit, leg: now }) => {
    leg = now;
    if (!report) return;
    draw(find("#plan-drawing"), report.drawing);
    lightIn(find("#plan-drawing"), lit, leg);
    patch(find("#legend"), report.legend, (part) => part.letter, () => legendLine(touch));
    for (const line of find("#legend").children) line.light((key) => inPiece(leg, key) === lit);
    lines(find("#board-summaries"), report.boards.map((board) => board.summary));
  };
}

// A line of the legend. Its letter, pressed, lights the part wherever it is.
function legendLine(touch) {
  const element = make("li");
  const swatch = element.appendChild(make("button", "", "swatch"));
  const text = element.appendChild(make("span"));
  let keys = [];
  swatch.type = "button";
  swatch.addEventListener("click", () => touch(keys[0]));
  element.light = (isLit) => {
    const lit = keys.some(isLit);
    element.classList.toggle("lit", lit);
    swatch.setAttribute("aria-pressed", String(lit));
  };
  return {
    element,
    update: (part) => {
      keys = part.keys ?? [];
      draw(swatch, part.swatch);
      swatch.setAttribute("aria-label", `${part.letter}: show ${part.label}`);
      say(text, `${part.label}, ${part.length}, ×\u00a0${part.count}`);
    },
  };
}
