// The dialog of pieces: open, begin, copy, archive, and the joint buying list of several.

import { find, make, patch, say, show, stamp } from "./dom.js";
import { addPiece, archivePiece, copyPiece } from "../state/pieces.js";

// The month in letters: figures alone mean one day here and another there.
const day = (time) => new Date(time).toLocaleDateString(undefined, { day: "numeric", month: "short", year: "numeric" });

export function piecesDialog(actions) {
  const dialog = find("#pieces-dialog");
  const together = new Set();
  find("#open-pieces").addEventListener("click", () => {
    fill();
    dialog.showModal();
  });
  find("#new-piece").addEventListener("click", async () => {
    const { job } = await actions.call("new");
    const { unit, decimal, step, saw } = actions.piece().job;
    const alike = Object.fromEntries(Object.entries({ unit, decimal, step, saw }).filter(([, value]) => value !== undefined));
    actions.arrange((store) => addPiece(store, { ...job, ...alike, piece: "" }));
    if (dialog.open) dialog.close();
    location.hash = "#piece";
    find("#piece-fields input").focus();
  });

  function fill() {
    const { pieces, openId } = actions.store;
    const ordered = [...pieces].sort((one, other) => Number(one.archived ?? false) - Number(other.archived ?? false) || other.changed - one.changed);
    patch(find("#piece-list"), ordered, (piece) => piece.id, (id) => pieceCard(id));
    for (const card of find("#piece-list").children) card.fill(openId);
    find("#together").replaceChildren(...togetherButton());
  }

  function togetherButton() {
    if (together.size < 2) return [];
    const button = make("button", `One buying list for ${together.size} pieces`, "strong");
    button.type = "button";
    button.addEventListener("click", async () => {
      dialog.close();
      await actions.buyTogether([...together]);
    });
    return [button];
  }

  function pieceCard(id) {
    const element = stamp("t-piece");
    const part = (selector) => element.querySelector(selector);
    const then = (act) => () => {
      actions.arrange(act);
      fill();
    };
    part(".open").addEventListener("click", () => {
      actions.arrange((store) => (store.openId = id));
      dialog.close();
    });
    part(".copy").addEventListener("click", then((store) => copyPiece(store, id)));
    part(".archive").addEventListener("click", then((store) => archivePiece(store, id, !store.pieces.find((piece) => piece.id === id).archived)));
    part("input").addEventListener("change", (event) => {
      if (event.target.checked) together.add(id);
      else together.delete(id);
      fill();
    });
    let piece = null;
    element.fill = (openId) => {
      say(part(".title"), piece.job.piece || "Unnamed piece");
      say(part("small"), [id === openId && "open now", piece.finished && "finished", piece.archived && "archived", day(piece.changed)].filter(Boolean).join(", "));
      say(part(".archive"), piece.archived ? "Take out of the archive" : "Archive");
      part(".archive").disabled = id === openId;
      element.classList.toggle("archived", Boolean(piece.archived));
      show(part(".pair"), !piece.archived && !piece.finished && !piece.work);
      part("input").setAttribute("aria-label", `Buy together: ${piece.job.piece || "unnamed piece"}`);
    };
    return { element, update: (now) => (piece = now) };
  }
  return () => {};
}
