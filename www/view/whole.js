// The picture of the piece at the top of its place: what stands by itself, one below the other, redrawn as sizes are typed.

import { draw, find, make, patch, say, show } from "./dom.js";
import { Drawn, LookedAt } from "../state/look.js";
import { inPiece } from "../state/made.js";

export function wholePicture(actions) {
  const section = find("#whole");
  const looked = new LookedAt();
  let seen = { looks: [[]], complete: true, held: false };
  let scene = null;
  const drawn = new Drawn((request) => actions.call("picture", request), (now) => {
    seen = now;
    fill();
  });
  const press = (selector, act) => find(selector).addEventListener("click", () => {
    act();
    ask();
    fill();
  });
  press("#walk-left", () => looked.walk(-1));
  press("#walk-right", () => looked.walk(1));
  press("#pull-apart", () => looked.take("apart"));
  press("#three-views", () => looked.take("views"));
  touchedIn(find("#whole-drawings"), (key) => actions.touch(key));

  function ask() {
    if (!["piece", "plan"].includes(scene.place) || !scene.ready || scene.piece.job.set_outs.length === 0) return;
    drawn.want(scene.piece, actions.shown(), [looked.look])?.catch((error) => actions.tell(error.message, { id: "picture" }));
  }

  function fill() {
    const { set_outs } = scene.piece.job;
    show(section, set_outs.length > 0);
    for (const id of ["#walk-left", "#walk-right"]) find(id).disabled = looked.how === "views";
    find("#pull-apart").setAttribute("aria-pressed", String(looked.how === "apart"));
    find("#three-views").setAttribute("aria-pressed", String(looked.how === "views"));
    const [drawings] = seen.looks;
    find("#pull-apart").disabled = looked.how !== "apart" && !drawings.some((one) => one.comes_apart);
    section.classList.toggle("several", drawings.length > 1);
    section.classList.toggle("apart", looked.how === "apart");
    patch(find("#whole-drawings"), drawings.length > 0 ? drawings : [NOTHING], (_, index) => index, () => pictureOf());
    say(find("#whole-held"), seen.complete ? "" : seen.held ? "Drawn as it was before, until what is faulty or missing is put right." : "A set-out that is faulty, or lacks a size, is not drawn.");
    show(find("#whole-held"), !seen.complete);
    lightIn(find("#whole-drawings"), scene.lit);
    tellLit(scene, looked.how);
  }

  return (now) => {
    if (scene?.piece.id !== now.piece.id) seen = { looks: [[]], complete: true, held: false };
    scene = now;
    hang(section, now.place);
    ask();
    fill();
  };
}

// The one picture stands at the top of the Piece, and above the boards at the Plan.
function hang(section, place) {
  const over = find("#plan-picture");
  if (place === "plan" && section.parentElement !== over) over.append(section);
  if (place === "piece" && section.parentElement === over) find("#job-faults").after(section);
}

// Its room is kept until it is drawn.
const NOTHING = { name: "", svg: "", told: null };

function pictureOf() {
  const element = make("figure");
  const name = element.appendChild(make("figcaption"));
  const drawing = element.appendChild(make("div", "", "drawing"));
  const told = element.appendChild(make("p", "", "about"));
  return {
    element,
    update: (one) => {
      say(name, one.name);
      draw(drawing, one.svg);
      say(told, one.told ?? "");
      show(told, Boolean(one.told));
    },
  };
}

// Lights a row of the cutting list in a drawing. What comes out of several rows has the keys of all; those of a later plan are of its own rows.
export function lightIn(container, key, leg = null) {
  container.classList.toggle("has-lit", key !== null);
  for (const one of container.querySelectorAll("[data-part]")) one.classList.toggle("lit", one.dataset.part.split(" ").some((own) => inPiece(leg, own) === key));
}

// Touches what is pressed in a drawing.
export function touchedIn(container, touch) {
  container.addEventListener("click", ({ target }) => {
    const part = target.closest("[data-part]");
    if (part) touch(part.dataset.part.split(" ")[0]);
  });
}

// Says which part is lit. But for the three views a letter is on every part of which something is seen.
function tellLit({ lit, reading }, how) {
  const part = reading.parts.find((one) => one.key === lit);
  const texts = [...find("#whole-drawings").querySelectorAll("text[data-part]")];
  const hidden = part && how !== "views" && texts.length > 0 && !texts.some((one) => one.dataset.part === lit) ? ", hidden from here" : "";
  say(find("#whole-lit"), part ? `${part.letter}: ${part.quantity} × ${part.label}, ${part.length}${hidden}` : "");
}
