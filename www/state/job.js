// The job as it is sent to the engine: the piece with the shed boards it may use, without empty rows. A board is offered where the piece
// has its section and no piece holds it, apart from those planned together. Those of the example are for the example alone.
//
// Rows that are left out shift the others, so `rows` maps a fault's row back to the row on the page.

import { readingOf } from "./reading.js";
import { readsAlike, reservations } from "./shed.js";

// A row is sent once one of these fields is filled in.
const BEGUN = {
  sections: ["name", "thickness", "width"],
  yard: ["length", "price"],
  yards: ["name", "tax", "delivery", "free_from", "trip", "cut_fee"],
  parts: ["label", "length"],
  shed: ["mark", "length"],
};

export function jobToSend(store, piece, together = [piece.id]) {
  const taken = reservations(store, together);
  const names = new Set(piece.job.sections.map((section) => String(section.name ?? "").trim()));
  const reading = readingOf(piece.job);
  const mine = (board) => names.has(String(board.row.section ?? "").trim()) && readsAlike(board, reading);
  // An own board may have the mark of one of the example's, and is then no board of the example.
  const marks = new Set(store.shed.filter(({ example }) => piece.example && example).map(({ row }) => row.mark));
  const isOther = ({ example, row }) => example || !marks.has(row.mark);
  const offered = store.shed.filter((board) => !taken.has(board.id) && mine(board) && isFor(board, piece) && !isUnfinished(board) && isOther(board));
  const lists = { sections: piece.job.sections, yard: piece.job.yard, parts: piece.job.parts, shed: offered.map((board) => board.row) };
  if (piece.job.yards) lists.yards = piece.job.yards;
  const job = { ...piece.job };
  const rows = { set_outs: piece.job.set_outs.map((_, row) => row) };
  for (const [list, all] of Object.entries(lists)) {
    const kept = all.map((row, index) => ({ row, index })).filter(({ row }) => BEGUN[list].some((field) => filled(row[field])));
    job[list] = kept.map(({ row }) => written(row));
    rows[list] = kept.map(({ index }) => index);
  }
  rows.shed = rows.shed.map((index) => offered[index].id);
  job.set_outs = piece.job.set_outs.map(written);
  job.saw = written(piece.job.saw);
  return { job: written(job), rows };
}

// The piece with the same job apart from its name and its shed, if there is one.
export function pieceLike(store, job) {
  const text = ({ piece: _, shed: __, ...rest }) => JSON.stringify(rest);
  return store.pieces.find((piece) => text(jobToSend(store, piece).job) === text(job));
}

// Where a fault shows, as "parts/3/length". Shed boards go by their id.
export function faultPlace(fault, rows) {
  const list = fault.list ?? "";
  if (fault.row === null || fault.row === undefined) return [list, fault.field].filter(Boolean).join("/");
  return [list, rows[list]?.[fault.row] ?? fault.row, fault.field].filter((part) => part !== "").join("/");
}

// Whether a board is one of this piece's world: an invented board is of no use to a piece that is meant.
export const isFor = (board, piece) => !board.example || Boolean(piece.example);

// A board of the shed that is partly filled in and has no length yet. It stays there to be filled in; nothing is planned with it.
export const isUnfinished = ({ row }) => !filled(row.length) && Object.entries(row).some(([name, value]) => name !== "section" && filled(value));

// Those of them that this piece might use, each with a link to its length: { place, goes, where, message }. They are no faults.
export const toFinish = (store, piece) => {
  const names = new Set(piece.job.sections.map((section) => String(section.name ?? "").trim()));
  return store.shed
    .filter((board) => isUnfinished(board) && isFor(board, piece) && (!filled(board.row.section) || names.has(String(board.row.section).trim())))
    .map(({ id, row }) => ({
      place: `shed/${id}/length`, goes: "timber", where: filled(row.mark) ? `Shed board ${row.mark}` : "A shed board",
      message: "has no length yet and is not planned with",
    }));
};

// Names of sections that parts need and of which neither the yard's list nor the shed has a length.
export function withoutLengths(job, parts, shed) {
  const wanted = new Set(parts.map((part) => part.section));
  const had = new Set([...job.yard, ...shed.map((board) => board.row)].filter((row) => filled(row.length)).map((row) => row.section));
  return job.sections.map((section) => section.name).filter((name) => wanted.has(name) && !had.has(name));
}

// The same, where nothing can be planned and nothing is under way. That is no failure: the lengths are to be filled in.
export const lengthless = ({ leg, verdict, piece, reading, store }) =>
  (leg || verdict?.outcome !== "impossible" ? [] : withoutLengths(piece.job, reading.parts, store.shed.filter((board) => isFor(board, piece))));

const filled = (value) => value !== undefined && value !== null && String(value).trim() !== "";

// A row without its empty fields.
function written(row) {
  return Object.fromEntries(Object.entries(row).filter(([, value]) => typeof value === "object" || filled(value)));
}

// Set-outs without a size that they need. That is no fault; it is what to fill in next. What stands on a face may have the sizes of the face.
export function lackingSizes(job, kinds) {
  return job.set_outs.flatMap((setOut, row) => {
    const fields = kinds.find((kind) => kind.kind === setOut.kind)?.fields ?? [];
    const lacks = (field) => field.needed && !filled(setOut[field.field]) && !(field.of_face && filled(setOut.on));
    const labels = fields.filter(lacks).map((field) => field.label);
    return labels.length ? [{ row, goes: "piece", name: setOut.name || "the set-out", labels }] : [];
  });
}
