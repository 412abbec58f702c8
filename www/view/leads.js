// Thin lines at the Plan, from the part that is lit in the picture down to each place where it lies on a board, as marks are taken off a drawing.
//
// They are laid over both, take no touch, and are drawn anew when what lies below them moves.

import { find, make, show } from "./dom.js";

const MOST = 40; // lines; more would be a field of ink

export function leadLines() {
  const section = find("#rods-section");
  const over = section.appendChild(make("div", "", "leads"));
  let wanted = false;
  let asked = 0;
  const later = () => {
    cancelAnimationFrame(asked);
    asked = requestAnimationFrame(lay);
  };
  // The boards come in turns, and each has its height only then.
  const watch = new ResizeObserver(() => wanted && later());
  for (const one of [section, find("#plan-drawing"), find("#plan-picture")]) watch.observe(one);
  find("#plan-drawing").addEventListener("scroll", () => wanted && later(), { passive: true });

  function lay() {
    const lines = wanted ? linesIn(section) : [];
    over.replaceChildren();
    show(over, lines.length > 0);
    if (lines.length === 0) return;
    const drawing = document.createElementNS("http://www.w3.org/2000/svg", "svg");
    for (const [name, value] of Object.entries({ width: "100%", height: "100%", "aria-hidden": "true" })) drawing.setAttribute(name, value);
    for (const { from, to } of lines) {
      const line = drawing.appendChild(document.createElementNS("http://www.w3.org/2000/svg", "line"));
      for (const [name, value] of Object.entries({ x1: from.x, y1: from.y, x2: to.x, y2: to.y })) line.setAttribute(name, value);
    }
    over.append(drawing);
  }

  return {
    show({ lit, report, place }) {
      wanted = lit !== null && report !== null && place === "plan";
      if (wanted || over.childElementCount > 0) later();
    },
    inTurns: true,
  };
}

// From the copy of the part that is nearest to the left or right, out of the foot of the picture, to the upper edge of the part on its board.
function linesIn(section) {
  const origin = section.getBoundingClientRect();
  const at = (box, y) => ({ x: box.left + box.width / 2 - origin.left, y: y - origin.top });
  const boxes = (selector) => [...section.querySelectorAll(selector)].map((one) => one.getBoundingClientRect()).filter((box) => box.width > 0);
  const letters = boxes("#plan-picture text[data-part].lit");
  const copies = letters.length > 0 ? letters : boxes("#plan-picture [data-part].lit");
  const clip = find("#plan-drawing").getBoundingClientRect();
  const marks = boxes("#plan-drawing .lw-part.lit").filter((box) => box.right > clip.left && box.left < clip.right).slice(0, MOST);
  if (copies.length === 0) return [];
  return marks.map((box) => {
    const to = at(box, box.top);
    const all = copies.map((copy) => at(copy, copy.bottom));
    const from = all.reduce((best, one) => (Math.abs(one.x - to.x) < Math.abs(best.x - to.x) ? one : best));
    return { from, to };
  });
}
