// What would save: the smallest changes that make the plan better, each with a button that makes it, and parts that could be longer for nothing.

import { find, lines, make, patch, say, show } from "./dom.js";
import { takeEdits, undoing } from "../state/savings.js";

// What is in sight at once: the buying list comes below, and is soon in reach on a phone too.
const NARROW = matchMedia("(max-width: 599px)");
const inSight = () => (NARROW.matches ? 1 : 3);

export function savingsList(actions) {
  let rows = null; // of the job that was planned

  function take({ change, gain, edits }) {
    // This change alone is undone, whatever was done since.
    const { id } = actions.piece();
    const back = undoing(actions.piece(), edits, rows);
    const undo = () => actions.piece().id === id && actions.change(null, (piece) => takeEdits(piece, back.edits, back.rows));
    actions.change(null, (piece) => takeEdits(piece, edits, rows));
    actions.tell(`Taken: ${change}. ${gain}.`, { id: "saving", act: { label: "Undo", do: undo } });
  }

  return (scene) => {
    const { savings, planned, leg, piece } = scene;
    const { orders, found, room, reserves, looking, complete, note } = savings;
    rows = planned?.rows ?? null;
    const wanted = !leg && !piece.finished && scene.report !== null && !scene.stale;
    show(find("#savings-section"), wanted && (found.length + room.length + reserves.length > 0 || looking));
    show(find("#orders-section"), wanted && orders.length > 0);
    patch(find("#orders"), orders, (_, index) => index, () => savingLine(take));
    const [first, rest] = [found.slice(0, inSight()), found.slice(inSight())];
    patch(find("#savings"), first, (_, index) => index, () => savingLine(take));
    show(find("#savings"), first.length > 0);
    patch(find("#savings-rest"), rest, (_, index) => index, () => savingLine(take));
    show(find("#savings-more"), rest.length > 0);
    say(find("#savings-count"), `${rest.length} more that would save`);
    say(find("#savings-note"), [noteOf({ found, looking, complete }, scene.chosen), note].filter(Boolean).join(" "));
    lines(find("#room"), room.map((one) => one.text));
    show(find("#room-more"), room.length > 0);
    patch(find("#reserves"), reserves, (_, index) => index, () => savingLine(take));
    show(find("#reserves-more"), reserves.length > 0);
  };
}

function noteOf({ found, looking, complete }, chosen) {
  if (looking) return "Looking for what would save …";
  if (!complete) return "Time was up before every change was tried.";
  const sizes = chosen ? "Reckoned with the sizes as they were chosen. " : "";
  return found.length > 0 ? `${sizes}Each by itself; nothing is changed until you take it.` : "";
}

function savingLine(take) {
  const element = make("li", "", "saving");
  const text = element.appendChild(make("p"));
  const gain = text.appendChild(make("b"));
  const change = text.appendChild(make("span"));
  const least = element.appendChild(make("p", "", "about"));
  const button = element.appendChild(make("button", "Take it"));
  button.type = "button";
  let saving = null;
  button.addEventListener("click", () => take(saving));
  return {
    element,
    update: (now) => {
      saving = now;
      say(gain, now.gain);
      say(change, now.change);
      say(least, now.least);
      show(least, now.least !== "");
      button.setAttribute("aria-label", `Take it: ${now.change}`);
      show(button, now.edits.length > 0);
    },
  };
}
