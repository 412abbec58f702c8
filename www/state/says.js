// What the yard said, beyond its list: lengths it has not, lengths it has, boards as the tape measured them. Each can be taken back by
// itself, in any order.
//
// A piece's `says` is a list of { id, kind, text } with, by kind: `line` and `count` as it was before (missing), `line` (has), `mark`
// (measured). Boards that are bought wear their mark in the progress of their leg; once a new leg has begun they are boards of
// its shed.

import { lessBought, sameLine } from "./yard.js";
import { boardProgress, boughtOf, currentLeg } from "./work.js";

// How the engine notes a board that is bought and not cut.
export const BOUGHT = "bought, not cut yet";

// Undoes one of them in the piece and in the job that is planned next, where there is one.
export function takeBack(piece, job, said) {
  const own = sameLine(piece.job, said.line);
  const line = job ? sameLine(job, said.line) : undefined;
  if (said.kind === "missing") {
    if (own) restock(own, said.count);
    if (line) restock(line, lessBought({ ...line, count: said.count }, piece.work).count);
  } else if (said.kind === "has") {
    piece.job.yard = piece.job.yard.filter((other) => other !== own);
    if (line) line.count = "0";
  }
  piece.says = piece.says.filter((one) => one.id !== said.id);
}

function restock(line, count) {
  if (count === undefined || count === "") delete line.count;
  else line.count = count;
}

// A bought board stays at the yard: out of the job, out of what is in the car, back on the yard's list.
export function leave(piece, job, mark) {
  job.shed = job.shed.filter((board) => board.mark !== mark);
  for (const leg of piece.work?.legs ?? []) {
    for (const one of leg.progress.bought) {
      const at = one.marks?.indexOf(mark) ?? -1;
      if (at < 0) continue;
      one.marks.splice(at, 1);
      one.lengths.splice(at, 1);
      one.bad?.splice(at, 1);
      one.count = one.marks.length;
      const sold = leg.job.yard[one.line];
      const [own, line] = [sameLine(piece.job, sold), sameLine(job, sold)];
      const stock = own ? own.count : sold.count;
      if (line && stock !== undefined && stock !== "0") line.count = lessBought({ ...line, count: stock }, piece.work).count;
    }
    leg.progress.bought = leg.progress.bought.filter((one) => one.count > 0);
  }
  piece.says = (piece.says ?? []).filter((one) => one.mark !== mark);
}

// Every mark that is worn on this device, boards bought for pieces under way among them.
export function marksTaken(store) {
  const legs = store.pieces.filter((piece) => !piece.finished).flatMap((piece) => piece.work?.legs ?? []);
  const worn = legs.flatMap(({ job, progress }) => [
    ...(job.shed ?? []).map((board) => board.mark),
    ...progress.bought.flatMap((one) => one.marks ?? []),
    ...progress.boards.map((one) => one.mark),
  ]);
  return [...new Set([...store.shed.map((board) => board.row.mark), ...worn].filter(Boolean).map(String))];
}

// The mark given to a new board of a plan when it was bought or first cut; null for boards of the shed.
export function ownMark(plan, board, progress) {
  const { yard } = plan.boards[board];
  if (typeof yard !== "number") return null;
  if (!progress) return "";
  const nth = plan.boards.slice(0, board).filter((other) => other.yard === yard).length;
  return boughtOf(progress, yard).marks?.[nth] ?? boardProgress(progress, board).mark ?? "";
}

// What the shed has of the piece in the end: [{ mark, of, length, section, from }]. What is left of a new board is known as the rest
// `of` that board; its own mark comes when the piece is finished.
export function backToShed(piece, report) {
  const leg = currentLeg(piece);
  const planned = report.back_to_shed.map(({ length, section, mark, board, from }) => {
    const own = typeof board === "number" ? ownMark(report.plan, board, leg?.progress) : null;
    return { length, section, from, ...(own === null ? { mark, of: "" } : { mark: "", of: own }) };
  });
  const lying = report.left_alone.filter((one) => !one.short && cameToBe(piece, leg?.job.shed?.[one.shed]));
  return [...planned, ...lying.map(({ length, section, mark }) => ({ length, section, mark, of: "", from: "" }))];
}

// Whether a board of the latest leg came to be in the course of the work.
export function cameToBe(piece, row) {
  const began = piece.work?.legs[0].job.shed ?? [];
  return Boolean(row?.note === BOUGHT || String(row?.note ?? "").startsWith("rest of ")) && !began.some((board) => board.mark === row.mark);
}

// Where the yard cuts a bought board that is too long to carry, in words; the engine notes it on the two pieces.
export function carriedAt(legs, mark) {
  const rows = legs.flatMap((leg) => leg.job.shed ?? []);
  const note = rows.map((row) => String(row.note ?? "")).find((text) => text.startsWith(`rest of ${mark}, cut at the yard at `));
  return note ? [`${mark} ${note.slice(`rest of ${mark}, `.length)}`.replace(" at the yard", "")] : [];
}

// Bought boards of earlier legs that are still whole: [{ mark, length, section }].
export function boughtUncut(piece) {
  const legs = piece.work?.legs ?? [];
  const marks = new Set(legs.slice(0, -1).flatMap((leg) => leg.progress.bought.flatMap((one) => one.marks ?? [])));
  const now = legs.at(-1);
  const begun = (row) => (now.plan?.boards ?? []).some((board, index) => now.job.shed[board.shed] === row && boardProgress(now.progress, index).steps > 0);
  return (now?.job.shed ?? []).filter((row) => row.note === BOUGHT && marks.has(row.mark) && !begun(row));
}

// Bought boards that the plan of a leg does not cut: [{ mark, length, section }].
export function boughtAside(leg, plan) {
  if (!leg || !plan) return [];
  const used = new Set(plan.boards.map((board) => board.shed));
  return (leg.job.shed ?? []).filter((row, index) => row.note === BOUGHT && !used.has(index));
}
