// Choices side by side: a picture with axes and a strip with one entry each. A touch takes one, and undo takes it back.

import { draw, find, make, patch, say, show } from "./dom.js";
import { takeEdits, undoing } from "../state/savings.js";
import { chosenIn } from "../state/side-by-side.js";

const ABOUT = "Plans that no other beats on lengths, money and timber. Touch one to take it.";

export function choiceStrip(actions) {
  let [found, rows, today] = [[], null, -1];
  const picture = find("#choices-picture");

  function take(index) {
    if (index === today || !found[index]) return;
    const { bought, edits } = found[index];
    // This choice alone is undone, whatever was done since.
    const { id } = actions.piece();
    const back = undoing(actions.piece(), edits, rows);
    const undo = () => actions.piece().id === id && actions.change(null, (piece) => takeEdits(piece, back.edits, back.rows));
    actions.change(null, (piece) => takeEdits(piece, edits, rows));
    actions.tell(`Taken: ${bought}.`, { id: "choice", act: { label: "Undo", do: undo } });
  }

  const touched = (event) => event.target.closest("[data-choice]")?.dataset.choice;
  picture.addEventListener("click", (event) => take(Number(touched(event) ?? -1)));
  picture.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" && event.key !== " ") return;
    const index = touched(event);
    if (index === undefined) return;
    event.preventDefault();
    take(Number(index));
  });

  return ({ choices, planned, leg, piece, report, stale, chosen }) => {
    const wanted = !leg && !piece.finished && report !== null && !stale && choices.found.length > 0;
    show(find("#choices-section"), wanted);
    if (!wanted) return;
    [found, rows] = [choices.found, planned?.rows ?? null];
    today = chosenIn(found, piece.job, rows);
    const sizes = chosen ? "Reckoned with the sizes as they were chosen." : "";
    say(find("#choices-note"), [ABOUT, choices.done ? choices.note : "Still looking …", sizes].filter(Boolean).join(" "));
    draw(picture, choices.picture);
    for (const point of picture.querySelectorAll("[data-choice]")) point.setAttribute("aria-pressed", String(Number(point.dataset.choice) === today));
    patch(find("#choices"), found, (_, index) => index, (index) => entry(() => take(index), () => today === index));
  };
}

function entry(take, isToday) {
  const element = make("li");
  const button = element.appendChild(make("button", "", "choice"));
  button.type = "button";
  const [bought, name, about, proof] = ["b", "span", "small", "small"].map((tag) => button.appendChild(make(tag)));
  button.addEventListener("click", take);
  return {
    element,
    update: (choice) => {
      say(bought, choice.bought);
      say(name, isToday() ? `${choice.name} – as it is planned` : choice.name);
      say(about, choice.about);
      say(proof, choice.proof);
      button.setAttribute("aria-pressed", String(isToday()));
    },
  };
}
