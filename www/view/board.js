// One board at the saw: its drawing and its cuts in order, each a large reading to tick off.

import { draw, find, lines, make, patch, say, show, stamp } from "./dom.js";
import { fillSteps } from "./drawing.js";
import { lightIn, touchedIn } from "./whole.js";
import { inPiece } from "../state/made.js";
import { boardProgress, makesPart, partsWithin } from "../state/work.js";

const CARRIED = "The yard makes the first cut. Then mark every line of a carried piece before its first cut, with the tape hooked on the end that is named, and cut in this order.";

export function boardView(actions) {
  const container = find("#board");
  const title = container.appendChild(make("h2"));
  const drawing = container.appendChild(make("div", "", "drawing"));
  const blade = make("div", "", "blade");
  const before = container.appendChild(make("div", "", "before-cutting"));
  const marked = before.appendChild(make("p", "", "mark-line"));
  const cautions = before.appendChild(make("ul", "", "lines cautions")); // what to mind before the first mark
  const datum = before.appendChild(make("p", "", "about"));
  const summary = container.appendChild(make("p", "", "sr"));
  const steps = container.appendChild(make("ol", "", "steps"));
  const offcuts = container.appendChild(make("ul", "", "lines offcuts"));

  let touch = () => {};
  touchedIn(drawing, (key) => touch(key));

  return (board, at, progress, { mark, was, finished, restOf, keeps, lit, leg, marking }) => {
    const done = boardProgress(progress, at);
    say(title, `Board ${at + 1}${was > 0 ? `, was ${was}` : ""}: ${boardTitle(board, mark)}`);
    const fresh = board.source === "yard" && mark !== "" && !finished;
    const told = fresh ? `Write ${mark} on an end of this board: its rest is known by it.` : restOf ? `This is the rest of ${restOf.of}: write ${mark} on its end.${restOf.end ? ` Hook the tape on ${restOf.end}.` : ""}` : "";
    say(marked, told);
    show(marked, told !== "");
    say(datum, board.yard_cut ? CARRIED : marking);
    show(datum, board.steps.length > 0);
    draw(drawing, board.svg);
    fillSteps(drawing, finished ? Infinity : done.steps);
    // The blade stands where the next cut is, and moves there along the tape.
    const next = drawing.querySelector(".lw-mark.next");
    if (next) blade.style.setProperty("--at", parseFloat(next.getAttribute("x1")));
    if (next) blade.style.setProperty("--deep", next.getAttribute("y1"));
    show(blade, Boolean(next));
    if (blade.parentElement !== drawing) drawing.append(blade);
    // Once the first cut is made, what to mind before it makes room for the readings.
    container.classList.toggle("begun", done.steps > 0);
    lightIn(drawing, lit, leg);
    touch = (key) => actions.touch(inPiece(leg, key));
    say(summary, board.summary);
    steps.style.setProperty("--letters", Math.max(...board.steps.map((step) => (step.reading ?? "").length)));
    patch(steps, board.steps, (_, index) => index, () => stepView(actions));
    [...steps.children].forEach((element, index) => element.fill(board, at, index, done, finished));
    lines(offcuts, [...board.offcuts.map((offcut) => offcut.text), ...keeps.map((one) => `Write ${one.mark} on the ${pieceKept(one)} that you keep.`)]);
    lines(cautions, board.cautions);
  };
}

export const pieceKept = ({ length, width }) => (width ? `strip ${width} wide and ${length} long` : `offcut of ${length}`);

// The title of a board; a new board that has its mark by now is called by it too.
export function boardTitle(board, mark = "") {
  const title = board.title || [board.mark, board.length, board.section].filter(Boolean).join(", ");
  return board.source === "yard" && mark ? `${mark}: ${title}` : title;
}

function stepView(actions) {
  const element = stamp("t-step");
  const button = element.querySelector("button");
  const part = (name) => element.querySelector(`.${name}`);
  let press = () => {};
  button.addEventListener("click", () => press());
  element.fill = (board, at, index, done, finished) => {
    const step = board.steps[index];
    const ticked = index < done.steps;
    const next = index === done.steps;
    press = () => actions.worksite.tick(at, ticked ? index : index + 1);
    say(part("reading"), step.reading ?? "");
    part("reading").classList.toggle("rounded", Boolean(step.rounded));
    say(part("label"), [step.letter, step.label].filter(Boolean).join("  "));
    say(part("part-length"), step.part_length ?? "");
    say(part("how"), step.says.join("; "));
    say(part("caution"), step.caution ?? "");
    say(part("state"), ticked ? "✓" : "");
    button.disabled = finished;
    button.setAttribute("aria-pressed", String(ticked));
    element.classList.toggle("done", ticked);
    element.classList.toggle("next", next);
    element.classList.toggle("spoiled", makesPart(step) && done.spoiled.includes(partsWithin(board, index + 1) - 1));
  };
  return { element, update: () => {} };
}

