// The drawing of the whole plan, a rod for each board or series of like boards, with what is bought and cut; its legend; and every board in words for
// people who cannot see it.

import { draw, find, lines, make, patchInTurns, say, show } from "./dom.js";
import { lightIn, touchedIn } from "./whole.js";
import { inPiece } from "../state/made.js";
import { boardDone, boardProgress, boughtOf, noProgress, nthOfLine } from "../state/work.js";

export function planDrawing(actions) {
  let leg = null;
  const touch = (key) => actions.touch(inPiece(leg, key));
  const drawing = find("#plan-drawing");
  find("#larger").addEventListener("click", ({ target }) => {
    const large = drawing.classList.toggle("large");
    target.setAttribute("aria-pressed", String(large));
  });
  touchedIn(drawing, touch);
  function* shown({ report, lit, leg: now, piece }) {
    leg = now;
    if (!report) return;
    const progress = leg?.progress ?? noProgress();
    const rods = report.alike.map(({ first, count }, index) => ({
      index, svg: report.drawings[index], ...stateOf(report, progress, first, count, Boolean(piece.finished)),
    }));
    yield* patchInTurns(drawing, rods, ({ index }) => index, rod);
    lightIn(drawing, lit, leg);
    yield* patchInTurns(find("#legend"), report.legend, (part) => part.letter, () => legendLine(touch));
    for (const line of find("#legend").children) line.light((key) => inPiece(leg, key) === lit);
    lines(find("#board-summaries"), report.boards.map((board) => board.summary));
  }
  return { show: shown, inTurns: true };
}

// How far a series of like boards is: the steps that all of them have behind them, and what to say of those that are bought or cut.
function stateOf(report, progress, first, count, finished) {
  const boards = Array.from({ length: count }, (_, nth) => first + nth);
  const steps = finished ? Infinity : Math.min(...boards.map((at) => boardProgress(progress, at).steps));
  const cut = boards.filter((at) => finished || boardDone(progress, at, report.boards[at])).length;
  const isBought = (at) => {
    const { yard } = report.plan.boards[at];
    return typeof yard === "number" && nthOfLine(report.plan, at) < boughtOf(progress, yard).count;
  };
  const bought = boards.filter(isBought).length;
  const told = (number, word) => (number === 0 ? "" : number === count ? word : `${number} of ${count} ${word}`);
  return { steps, told: cut === count ? "cut" : [told(bought, "bought"), told(cut, "cut")].filter(Boolean).join(", ") };
}

function rod() {
  const element = make("div", "", "rod");
  const drawing = element.appendChild(make("div"));
  const told = element.appendChild(make("b"));
  return {
    element,
    update: ({ svg, steps, told: text }) => {
      draw(drawing, svg);
      fillSteps(drawing, steps);
      say(told, text);
      show(told, text !== "");
    },
  };
}

// Fills in a board what is off by so many steps of its sheet, and marks where the blade goes next.
export function fillSteps(drawing, steps) {
  for (const one of drawing.querySelectorAll("[data-step]")) {
    const step = Number(one.dataset.step);
    one.classList.toggle("cut", step < steps);
    one.classList.toggle("next", step === steps);
  }
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
