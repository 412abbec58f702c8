// The shed: boards of all pieces, which piece holds them, and how long they have lain unused.

import { COMMON, sectionNames } from "./choices.js";
import { find } from "./dom.js";
import { fieldsOf, lengthsOf, saidOf, specsOf, valuesOf } from "./fields.js";
import { RowList } from "./row-list.js";
import { freshId } from "../state/pieces.js";
import { isFor, isUnfinished } from "../state/job.js";
import { readingOf } from "../state/reading.js";
import { marksTaken } from "../state/says.js";
import { monthsUnused, reservations } from "../state/shed.js";

// Months after which an unused offcut is pointed out.
const LONG_UNUSED = 12;

const LENGTHS = lengthsOf("shed");

// Fields of a board that always show; the others are folded away.
const MAIN = ["mark", "section", "length", "bad", "note"];
const MORE = fieldsOf("shed").map(({ name }) => name).filter((name) => !MAIN.includes(name));

export function shedList(actions) {
  const boardOf = (store, id) => store.shed.find((board) => board.id === id);
  const list = new RowList(find("#shed"), "Board", {
    input: (id, name, value) => (value === COMMON ? actions.acts.chooseSize((section) => type(id, name, section)) : type(id, name, value)),
    remove: (id) => actions.change(null, (_, store) => (store.shed = store.shed.filter((board) => board.id !== id))),
    copy: (id) => {
      const copy = freshId();
      actions.change(null, (_, store) => {
        const at = store.shed.findIndex((board) => board.id === id);
        store.shed.splice(at + 1, 0, { ...store.shed[at], id: copy, since: Date.now(), row: { ...store.shed[at].row, mark: "" } });
      });
      list.focus(copy, "mark");
    },
    enter: add,
  }, "t-board");
  const type = (id, name, value) => actions.change(`shed/${id}/${name}`, ({ job }, store) => {
    const board = boardOf(store, id);
    board.row[name] = value;
    if (LENGTHS.includes(name)) board.typed = readingOf(job);
  });
  find("#add-board").addEventListener("click", add);
  find("#shed").addEventListener("focusout", () => actions.units.settleShed());

  function add() {
    const id = freshId();
    actions.change(null, (piece, store) => {
      const names = sectionNames(piece.job);
      const last = store.shed.findLast((board) => names.includes(board.row.section));
      const section = last?.row.section ?? names[0] ?? "";
      store.shed.push({ id, since: Date.now(), decimal: readingOf(piece.job).decimal, row: { mark: "", section, length: "" } });
    });
    list.focus(id, "mark");
    offerMark(id);
  }

  // A mark that no board has, for one that was given none yet.
  async function offerMark(id) {
    const { mark } = await actions.call("fresh_mark", { taken: marksTaken(actions.store) });
    actions.arrange((store) => {
      const board = boardOf(store, id);
      if (board && !board.row.mark) board.row.mark = mark;
    });
    // What a person types in its place replaces it.
    const input = document.activeElement;
    if (input.name === "mark" && input.value === mark) input.select();
  }

  return (scene) => {
    const { job } = scene.piece;
    const held = reservations(scene.store, [scene.piece.id]);
    const names = sectionNames(job);
    list.update(scene.store.shed.filter((board) => isFor(board, scene.piece)).map((board) => {
      const values = valuesOf("shed", board.row);
      const note = noteOf(board, held.get(board.id), names, scene);
      return {
        key: board.id,
        specs: specsOf("shed", job, board.row, { only: MAIN, usual: { bad: "none" } }),
        rest: { specs: specsOf("shed", job, board.row, { only: MORE, usual: { trim: scene.usual.shed_trim } }), told: saidOf("shed", MORE, values) },
        values,
        faultOf: (field) => scene.faultOf(`shed/${board.id}${field && "/"}${field}`),
        extra: { length: { place: `shed/${board.id}/length` } },
        note,
        told: toldOf(values, note),
      };
    }));
  };
}

// A board on one line: its bad stretches come before its owner's note.
function toldOf({ mark, section, length, bad, note }, says) {
  const more = [bad && `Bad ${bad}`, says.replace(/\.$/, ""), note].filter(Boolean).join(" · ");
  return { mark: mark ?? "", main: length || "no length yet", of: section || "no section yet", more };
}

function noteOf(board, holder, names, scene) {
  if (holder) return `Held for “${holder.job.piece || "another piece"}”.`;
  if (board.row.section && !names.includes(board.row.section)) return "No section of this piece; not used here.";
  if (isUnfinished(board)) return "Give its length; until then nothing is planned with it.";
  if (scene.piece.uses?.includes(board.id)) return "In this plan.";
  const months = monthsUnused(board, Date.now());
  return months >= LONG_UNUSED ? `Unused for ${months} months.` : "";
}
