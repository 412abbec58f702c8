// The dialog of pieces: open, begin, copy, archive, delete, and the joint buying list of several.

import { draw, find, make, patch, say, show, stamp } from "./dom.js";
import { addPiece, archivePiece, copyPiece, deletePiece, nameOf } from "../state/pieces.js";
import { readingOf } from "../state/reading.js";
import { dayOf } from "../state/yard.js";

export function piecesDialog(actions) {
  const dialog = find("#pieces-dialog");
  const together = new Set();
  const openPieces = () => {
    offer();
    find("#piece-gone").replaceChildren();
    fill();
    dialog.showModal();
  };
  find("#open-pieces").addEventListener("click", openPieces);
  // The fields of a place that was not open yet are there once it is shown.
  const toItsName = () => {
    const focus = () => find("#piece-fields input").focus();
    if (actions.place() === "piece") return focus();
    addEventListener("hashchange", () => actions.whenShown(focus), { once: true });
    location.hash = "#piece";
    return undefined;
  };

  const newPiece = async () => {
    const { job } = await actions.call("new");
    const { unit, decimal, step, saw, carry, yard_tolerance, yard_trim, payload } = actions.piece().job;
    const alike = Object.fromEntries(Object.entries({ unit, decimal, step, saw, carry, yard_tolerance, yard_trim, payload }).filter(([, value]) => value !== undefined));
    actions.arrange((store) => addPiece(store, { ...job, ...alike, piece: "" }));
    if (dialog.open) dialog.close();
    toItsName();
  };
  find("#new-piece").addEventListener("click", newPiece);

  // A ready piece in the units of the one that is open.
  const startFrom = (ready) => {
    const { unit } = readingOf(actions.piece().job);
    const job = ["in", "ft"].includes(unit) ? ready.imperial : ready.metric;
    actions.arrange((store) => addPiece(store, structuredClone(job)));
    dialog.close();
    toItsName();
  };

  // The ready pieces, read when they are first asked for.
  function offer() {
    const list = find("#starting-list");
    if (list.firstChild) return;
    list.append(...JSON.parse(find("#starting-pieces").textContent).map((one) => {
      const item = make("li");
      const start = make("button", "", "ready");
      start.type = "button";
      const picture = start.appendChild(make("span", "", "drawing"));
      start.append(make("span", one.metric.piece));
      actions.call("picture", { job: one.metric, looks: [{ how: "whole", corner: 0 }] }).then(({ looks: [[whole]] }) => draw(picture, whole?.svg ?? ""), () => {});
      start.addEventListener("click", () => startFrom(one));
      item.append(start);
      return item;
    }));
  }

  // A deleted piece can be put back as long as the dialog is open.
  function sayGone(name, putBack) {
    const undo = make("button", "Undo");
    undo.type = "button";
    undo.addEventListener("click", () => {
      actions.arrange(putBack);
      find("#piece-gone").replaceChildren();
      fill();
    });
    find("#piece-gone").replaceChildren(make("p", `“${name}” is deleted.`), undo);
    undo.focus();
  }

  function fill() {
    const { pieces, openId } = actions.store;
    for (const id of together) if (!pieces.some((piece) => piece.id === id && canJoin(piece))) together.delete(id);
    const ordered = [...pieces].sort((one, other) => Number(one.archived ?? false) - Number(other.archived ?? false) || other.changed - one.changed);
    patch(find("#piece-list"), ordered, (piece) => piece.id, (id) => pieceCard(id));
    for (const card of find("#piece-list").children) card.fill(openId);
    find("#together").replaceChildren(...togetherButton());
  }

  function togetherButton() {
    if (together.size === 0) return [];
    if (together.size === 1) return [make("p", "Tick another piece too, and both are bought for together: offcuts of one feed the other.", "about")];
    const button = make("button", `One buying list for ${together.size} pieces`, "strong");
    button.type = "button";
    button.addEventListener("click", async () => {
      const ids = [...together];
      together.clear();
      dialog.close();
      await actions.buyTogether(ids);
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
    part(".delete").addEventListener("click", () => {
      let putBack = () => {};
      actions.arrange((store) => (putBack = deletePiece(store, id)));
      sayGone(nameOf(piece), putBack);
      fill();
    });
    part("input").addEventListener("change", (event) => {
      if (event.target.checked) together.add(id);
      else together.delete(id);
      fill();
    });
    let piece = null;
    element.fill = (openId) => {
      say(part(".title"), nameOf(piece));
      say(part("small"), [id === openId && "open now", piece.finished && "finished", piece.archived && "archived", dayOf(piece.changed)].filter(Boolean).join(", "));
      say(part(".archive"), piece.archived ? "Take out of the archive" : "Archive");
      part(".archive").disabled = id === openId;
      show(part(".delete"), Boolean(piece.archived) && id !== openId);
      element.classList.toggle("archived", Boolean(piece.archived));
      show(part(".pair"), canJoin(piece));
      part("input").checked = together.has(id);
      part("input").setAttribute("aria-label", `Buy together: ${nameOf(piece)}`);
    };
    return { element, update: (now) => (piece = now) };
  }
  return { acts: { newPiece, openPieces } };
}

// A piece under way is already bought for.
const canJoin = (piece) => !piece.archived && !piece.finished && !piece.work;
