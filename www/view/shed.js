// The shed: the boards of all pieces as rods at one scale, by their sections, which piece holds them, and how long they have lain unused.

import { sectionNames, sectionTaken, sectionTyped } from "./choices.js";
import { find, make, say, show } from "./dom.js";
import { fieldsOf, lengthsOf, saidOf, specsOf, valuesOf } from "./fields.js";
import { rodOf, touchRod } from "./rods.js";
import { RowList } from "./row-list.js";
import { freshId } from "../state/pieces.js";
import { addSize } from "../state/sizes.js";
import { isFor, isUnfinished } from "../state/job.js";
import { readingOf } from "../state/reading.js";
import { marksTaken } from "../state/says.js";
import { monthsUnused, reservations } from "../state/shed.js";

// Months after which an unused offcut is pointed out.
const LONG_UNUSED = 12;

// Boards from which on they can be filtered.
const MANY = 8;

const LENGTHS = lengthsOf("shed");

// Fields of a board that always show; the others are folded away.
const MAIN = ["mark", "section", "length", "bad", "note"];
const ALL = fieldsOf("shed").map(({ name }) => name);
const MORE = ALL.filter((name) => !MAIN.includes(name));

export function shedList(actions) {
  const boardOf = (store, id) => store.shed.find((board) => board.id === id);
  const readAs = (board) => board.typed ?? (board.decimal ? { unit: "mm", decimal: board.decimal } : readingOf(actions.piece().job));
  const search = find("#shed-search");
  let drawn = { asked: "", of: new Map(), sections: {} }; // what the engine says of the boards
  const rods = new WeakMap(); // a row's rods, in the list and open
  const list = new RowList(find("#shed"), "Board", {
    input: (id, ...given) => sectionTaken(actions, (...told) => type(id, ...told))(...given),
    remove: (id) => actions.change(null, (_, store) => (store.shed = store.shed.filter((board) => board.id !== id))),
    copy: (id) => {
      const copy = freshId();
      actions.change(null, (_, store) => {
        const at = store.shed.findIndex((board) => board.id === id);
        store.shed.splice(at + 1, 0, { ...store.shed[at], id: copy, since: Date.now(), row: { ...store.shed[at].row, mark: "" } });
      });
      list.focus(copy, "mark");
      offerMark(copy);
    },
    enter: add,
    head: (key) => (key.startsWith(HEAD) ? headOf() : null),
    shown: (element, { key, size, values }) => {
      const one = rodsIn(element);
      // Without a board to draw, what is said of it has the room.
      element.classList.toggle("bare", !values.length);
      one.rod.update(drawn.of.get(key), size);
    },
    opened: (element, { key, values }) => {
      const one = rodsIn(element);
      one.touch ??= touchIn(element, key);
      one.touch.update(drawn.of.get(key), values.mark ? `board ${values.mark}` : "this board");
    },
  }, "t-board");
  const type = (id, name, value, also = null) => actions.change(also ? null : `shed/${id}/${name}`, ({ job }, store) => {
    also?.(job);
    const board = boardOf(store, id);
    board.row[name] = value;
    if (LENGTHS.includes(name)) board.typed = readingOf(job);
  });
  find("#add-board").addEventListener("click", add);
  find("#shed").addEventListener("focusout", () => actions.units.settleShed());
  search.addEventListener("input", () => actions.redraw());
  const makeIt = find("#shed-make");
  let meant = null; // the section that the filter names and the piece lacks
  makeIt.addEventListener("click", () => actions.change(null, ({ job }) => addSize(job, meant.make)));

  function rodsIn(element) {
    if (!rods.has(element)) {
      const rod = rodOf();
      element.querySelector(".toggle .mark").after(rod.element);
      rods.set(element, { rod, touch: null });
    }
    return rods.get(element);
  }

  function touchIn(element, id) {
    const touched = (request) => {
      const board = boardOf(actions.store, id);
      return actions.call("touched", { row: board.row, ...readAs(board), to: readingOf(actions.piece().job), ...request });
    };
    const touch = touchRod(touched, (bad) => type(id, "bad", bad));
    element.querySelector(".row-body").prepend(touch.element);
    return touch;
  }

  function add() {
    const id = freshId();
    search.value = "";
    actions.change(null, (piece, store) => {
      const names = sectionNames(piece.job);
      const last = store.shed.findLast((board) => names.includes(board.row.section));
      const section = last?.row.section ?? names[0] ?? "";
      store.shed.push({ id, since: Date.now(), decimal: readingOf(piece.job).decimal, row: { mark: "", section, length: "" } });
    });
    list.focus(id, "length");
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

  // Asks the engine for the boards as they now are; what it said before stays until then.
  async function askFor(shed, { job, ready }) {
    if (!ready) return;
    const boards = shed.map((board) => ({ row: { section: board.row.section ?? "", length: board.row.length, bad: board.row.bad }, ...readAs(board) }));
    const names = [...new Set(shed.map(({ row }) => row.section ?? ""))];
    const sizes = names.map((name) => ({ thickness: "", width: "", ...job.sections.find((section) => section.name === name), name }));
    const request = { boards, sizes, ...readingOf(job) };
    const asked = JSON.stringify([request, shed.map(({ id }) => id)]);
    if (drawn.asked === asked) return;
    drawn.asked = asked;
    const reply = await actions.call("boards", request);
    if (drawn.asked !== asked) return;
    drawn = { asked, of: new Map(shed.map(({ id }, index) => [id, reply.boards[index]])), sections: Object.fromEntries(names.map((name, index) => [name, reply.sizes[index]])) };
    actions.redrawSoon();
  }

  return (scene) => {
    const { job } = scene.piece;
    const shed = scene.store.shed.filter((board) => isFor(board, scene.piece));
    askFor(shed, { job, ready: scene.ready }).catch((error) => actions.tell(error.message, { id: "shed" }));
    const held = reservations(scene.store, [scene.piece.id]);
    const names = sectionNames(job);
    const wanted = search.value.trim().toLowerCase();
    const rows = shed.map((board) => {
      const values = valuesOf("shed", board.row);
      const note = noteOf(board, held.get(board.id), names, scene);
      return {
        key: board.id,
        place: `shed/${board.id}`,
        names: ALL,
        specs: () => specsOf("shed", job, board.row, { only: MAIN, usual: { bad: "none" } }),
        rest: { names: MORE, specs: () => specsOf("shed", job, board.row, { only: MORE, usual: { trim: scene.usual.shed_trim } }), told: saidOf("shed", MORE, values) },
        values,
        faultOf: (field) => scene.faultOf(`shed/${board.id}${field && "/"}${field}`),
        extra: { length: { place: `shed/${board.id}/length` } },
        note,
        told: toldOf(values, note),
        size: drawn.sections[values.section ?? ""],
        taken: scene.piece.uses?.includes(board.id) ? "taken" : held.has(board.id) ? "held" : "free",
      };
    });
    const seen = rows.filter(({ key, values, told }) => wanted === "" || list.isOpen(key) || Object.values({ ...values, told: told.more }).some((text) => String(text ?? "").toLowerCase().includes(wanted)));
    show(find("#shed-filter"), shed.length >= MANY || wanted !== "");
    say(find("#shed-count"), wanted === "" ? "" : `${seen.length} of ${shed.length} boards`);
    meant = wanted === "" ? null : sectionTyped(job).meant(search.value);
    say(makeIt, meant?.label ?? "");
    show(makeIt, meant !== null);
    return list.turns(bySection(seen, names, drawn.sections, shed));
  };
}

const HEAD = "head/";

// The boards by their sections, those of the piece first, each with a heading that sums up all boards of the section.
function bySection(rows, names, sections, shed) {
  const sectionOf = ({ values }) => values.section ?? "";
  const own = [...new Set(rows.map(sectionOf))];
  const order = [...names.filter((name) => own.includes(name)), ...own.filter((name) => !names.includes(name))];
  return order.flatMap((name) => {
    const count = shed.filter((board) => (board.row.section ?? "") === name).length;
    const told = [count === 1 ? "one board" : `${count} boards`, sections[name]?.total].filter(Boolean).join(", ");
    return [{ key: `${HEAD}${name}`, name, sum: told }, ...rows.filter((row) => sectionOf(row) === name)];
  });
}

function headOf() {
  const element = make("h3", "", "shed-head");
  const name = element.appendChild(make("span"));
  element.append(" ");
  const sum = element.appendChild(make("small"));
  return {
    element,
    update: (head) => {
      say(name, head.name || "No section yet");
      say(sum, head.sum);
    },
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
