// The small picture beside a board at the saw: where the part in question goes, and what of the piece is cut.

import { draw, drawingOf, find, say, show } from "./dom.js";
import { lightIn, touchedIn } from "./whole.js";
import { inPiece, madeSoFar } from "../state/made.js";
import { cornersFrom, Drawn, LookedAt } from "../state/look.js";
import { boardProgress } from "../state/work.js";

export function sawPicture(actions) {
  const section = find("#saw-picture");
  const drawing = find("#saw-drawing");
  const looked = new LookedAt();
  let seen = { of: null, looks: [[]] };
  let now = null;
  const drawn = new Drawn((request) => actions.call("picture", request), ({ looks }) => {
    seen = { of: now.scene.piece.id, looks };
    fill();
  });
  const walk = (way) => {
    looked.walk(way);
    ask();
  };
  find("#saw-walk-left").addEventListener("click", () => walk(-1));
  find("#saw-walk-right").addEventListener("click", () => walk(1));
  touchedIn(drawing, (key) => actions.touch(key));

  // The job that the work began with: later legs have no set-outs.
  const begunWith = () => (now.scene.piece.work?.legs[0] ?? now.scene.planned).job;
  const hasSetOuts = () => begunWith().set_outs?.length > 0;

  function ask() {
    const { piece } = now.scene;
    const job = begunWith();
    if (!hasSetOuts()) return void (seen = { of: piece.id, looks: [[]] });
    drawn.want(piece, job, [...cornersFrom(looked.look.corner), { how: "apart", corner: looked.look.corner }])?.catch((error) => actions.tell(error.message, { id: "picture" }));
  }

  function fill() {
    const { scene, board, at } = now;
    const { leg, piece, report } = scene;
    const { steps } = boardProgress(leg?.progress ?? { boards: [] }, at);
    const next = board.steps.slice(steps).find((step) => step.keys?.length > 0);
    const onBoard = board.steps.flatMap((step) => step.keys ?? []).map((key) => inPiece(leg, key));
    const key = scene.lit ?? (next ? inPiece(leg, next.keys[0]) : null);
    // Its room is there before it is drawn, and stays where a part is of no set-out, so that no line at the saw moves.
    const looks = seen.of === piece.id ? seen.looks : null;
    show(section, looks === null ? hasSetOuts() : looks.some((drawings) => drawings.length > 0));
    const holds = (one) => one.svg && one.parts.includes(key ?? onBoard[0]);
    const all = (looks ?? []).map((drawings) => drawings.find(holds) ?? drawings[0]).filter(Boolean);
    // Drawn as one looks at it, or from the next corner from which its letter stands on the part, or from which something of it is seen, or pulled apart.
    const whole = all.slice(0, -1);
    const one = whole.find((drawn) => lettersOf(drawn.svg).get(key)) ?? all.find((drawn) => lettersOf(drawn.svg).has(key)) ?? (all.some(holds) ? all.at(-1) : all[0]);
    draw(drawing, one?.svg ?? "");
    lightIn(drawing, key);
    const { made, spoiled, left } = madeSoFar(piece, leg, report.boards);
    fillCut(drawing, { made, spoiled, left });
    const row = report.legend.find((part) => part.keys?.some((own) => inPiece(leg, own) === key));
    const label = row && `${row.letter}  ${row.label}`;
    const counts = [`${made.get(key) ?? 0} cut`, left.get(key) ? `${left.get(key)} to cut` : "", spoiled.get(key) ? `${spoiled.get(key)} spoiled` : ""];
    say(find("#saw-lit"), key === null ? "Every part of this board is cut." : [label, counts.filter(Boolean).join(", ")].filter(Boolean).join(": "));
  }

  return (scene, board, at) => {
    now = { scene, board, at };
    if (scene.place === "saw") ask();
    fill();
  };
}

// The parts with a letter in a drawing: all of which something is seen, and whether the letter stands on the part or at the end of a line to it. Each
// drawing is read once.
const letters = new Map();

function lettersOf(svg) {
  if (!letters.has(svg)) {
    if (letters.size > 20) letters.clear();
    letters.set(svg, new Map([...drawingOf(svg || "<svg/>").querySelectorAll("text[data-part]")].map((one) => [one.dataset.part, one.dataset.aside === undefined])));
  }
  return letters.get(svg);
}

// Parts that are cut have their full colour, those still to be cut a tint of it, and as many of these as were spoiled a broken outline. Which
// of several equal ones is cut is one: they fill up in the order of putting together.
function fillCut(drawing, { made, spoiled, left }) {
  for (const face of drawing.querySelectorAll("[data-nth]")) {
    const { part, nth } = face.dataset;
    const cut = made.get(part) ?? 0;
    const again = Math.min(spoiled.get(part) ?? 0, left.get(part) ?? 0);
    face.style.setProperty("--own", face.getAttribute("fill"));
    face.classList.toggle("cut", Number(nth) < cut);
    face.classList.toggle("again", Number(nth) >= cut && Number(nth) < cut + again);
  }
}
