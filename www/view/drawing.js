// The drawing of the whole plan, its legend, and every board in words for people who cannot see it.

import { draw, find, lines, make, patch, say } from "./dom.js";

export function planDrawing() {
  find("#larger").addEventListener("click", ({ target }) => {
    const large = find("#plan-drawing").classList.toggle("large");
    target.setAttribute("aria-pressed", String(large));
  });
  return ({ report }) => {
    if (!report) return;
    draw(find("#plan-drawing"), report.drawing);
    patch(find("#legend"), report.legend, (part) => part.letter, legendLine);
    lines(find("#board-summaries"), report.boards.map((board) => board.summary));
  };
}

export function legendLine() {
  const element = make("li");
  const swatch = element.appendChild(make("span"));
  const text = element.appendChild(make("span"));
  return {
    element,
    update: (part) => {
      draw(swatch, part.swatch);
      say(text, `${part.label}, ${part.length}, ×\u00a0${part.count}`);
    },
  };
}
