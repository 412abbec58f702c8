// What the yard said beyond its list: lengths it lacks, lengths it has, boards as the tape measured them. Each can be undone by itself, in
// any order.
//
// A piece's `says` is a list of { id, kind, text } with, by kind: `line`, its `row` in the piece's list and `count` as it was before
// (missing), `line` and `row` (has), `mark` (measured). Bought boards have their mark in the progress of their leg; once a new leg has
// begun they are boards of its shed.
//
// A leg's `came` says row by row how a board got into its shed: null for one that was there before the work, else { how: "bought" | "rest"
// | "carried", of?, cut?, end?, in_hand? } as the engine returns it. Notes are words for people, and nothing here reads them.

import { dropYardLines, lessBought, lineOfRow, ownRow, saidRow } from "./yard.js";
import { boardProgress, boughtOf, currentLeg, nthOfLine } from "./work.js";

// Undoes one of them in the piece and in the leg that is planned next, { job, rows }, where there is one.
export function takeBack(piece, next, said) {
  const row = saidRow(piece, said);
  const line = next && row >= 0 ? next.job.yard[lineOfRow(piece, next, row)] : undefined;
  if (said.kind === "missing") {
    if (row >= 0) restock(piece.job.yard[row], said.count);
    if (line) restock(line, lessBought(said.count, piece, row));
  } else if (said.kind === "has") {
    if (line) line.count = "0";
    if (next?.rows.yard) next.rows.yard = next.rows.yard.map((own) => (own === row ? null : own > row ? own - 1 : own));
    dropYardLines(piece, (_, index) => index === row);
  }
  piece.says = piece.says.filter((one) => one.id !== said.id);
}

function restock(line, count) {
  if (count === undefined || count === "") delete line.count;
  else line.count = count;
}

// A bought board stays at the yard: it leaves the job and the car, and goes back on the yard's list. `next` is the leg that is planned
// next.
export function leave(piece, next, mark) {
  const { job } = next;
  const stays = job.shed.map((board) => board.mark !== mark);
  job.shed = job.shed.filter((_, index) => stays[index]);
  if (next.came) next.came = next.came.filter((_, index) => stays[index]);
  for (const leg of piece.work?.legs ?? []) {
    for (const one of leg.progress.bought) {
      const at = one.marks?.indexOf(mark) ?? -1;
      if (at < 0) continue;
      one.marks.splice(at, 1);
      one.lengths.splice(at, 1);
      one.bad?.splice(at, 1);
      one.count = one.marks.length;
      const row = ownRow(piece, leg, one.line);
      const line = row < 0 ? undefined : job.yard[lineOfRow(piece, next, row)];
      const stock = piece.job.yard[row]?.count;
      if (line && stock !== undefined && stock !== "0") line.count = lessBought(stock, piece, row);
    }
    leg.progress.bought = leg.progress.bought.filter((one) => one.count > 0);
  }
  piece.says = (piece.says ?? []).filter((one) => one.mark !== mark);
}

// Every mark in use on this device, those of boards bought for pieces under way included. An own shed begins at its own first mark, whatever the example has.
export function marksTaken(store) {
  const mine = ({ example }) => !example || Boolean(store.piece?.example);
  const legs = store.pieces.filter((piece) => !piece.finished && mine(piece)).flatMap((piece) => piece.work?.legs ?? []);
  const worn = legs.flatMap(({ job, progress }) => [
    ...(job.shed ?? []).map((board) => board.mark),
    ...progress.bought.flatMap((one) => one.marks ?? []),
    ...progress.boards.map((one) => one.mark),
  ]);
  return [...new Set([...store.shed.filter(mine).map((board) => board.row.mark), ...worn].filter(Boolean).map(String))];
}

// The mark given to a new board of a plan when it was bought or first cut; null for boards of the shed.
export function ownMark(plan, board, progress) {
  const { yard } = plan.boards[board];
  if (typeof yard !== "number") return null;
  if (!progress) return "";
  return boughtOf(progress, yard).marks?.[nthOfLine(plan, board)] ?? boardProgress(progress, board).mark ?? "";
}

// The number that a board had in the plan before, where it was begun there, or found otherwise, and its number is another now; else 0.
export function numberBefore(piece, leg, at) {
  const legs = piece.work?.legs ?? [];
  const before = legs[legs.indexOf(leg) - 1];
  const row = leg?.plan?.boards[at]?.shed;
  if (!before?.plan || typeof row !== "number") return 0;
  const came = cameOf(piece, leg, row);
  // Of what is left of a board it is the piece in hand that goes on under its number.
  if (came?.how === "rest" && came.in_hand === false) return 0;
  const mark = came?.of ?? leg.job.shed[row].mark;
  const markThen = (index) => ownMark(before.plan, index, before.progress) ?? before.job.shed[before.plan.boards[index].shed]?.mark;
  const was = before.progress.boards.map(({ board }) => board).find((index) => before.plan.boards[index] && markThen(index) === mark);
  return was === undefined || was === at ? 0 : was + 1;
}

// What the shed gets from the piece in the end: [{ mark, of, length, section, from, flaws, meant }]. What is left of a new board is known
// as the rest `of` that board; it gets its own mark when the piece is finished. `meant` is that mark where the work is done from paper
// alone. `keeps` of the report, where it has that, are the marks that the saw told, a list for each board of the plan.
export function backToShed(piece, report) {
  const leg = currentLeg(piece);
  const nth = new Map();
  const planned = report.back_to_shed.map(({ length, section, mark, board, from, flaws }) => {
    const at = nth.get(board) ?? 0;
    nth.set(board, at + 1);
    const told = report.keeps?.[board]?.[at]?.mark;
    if (told) return { length, section, from, flaws, meant: "", mark: told, of: "" };
    const own = typeof board === "number" ? ownMark(report.plan, board, leg?.progress) : null;
    return { length, section, from, flaws, meant: leg ? "" : mark, ...(own === null ? { mark, of: "" } : { mark: "", of: own }) };
  });
  const lying = report.left_alone.filter((one) => !one.short && leg && cameOf(piece, leg, one.shed) !== null);
  return [...planned, ...lying.map(({ length, section, mark, flaws }) => ({ length, section, mark, of: "", from: "", flaws, meant: "" }))];
}

// How a board got into a leg's shed during the work, or null. Legs from before that was recorded go by marks: a bought board has its own
// mark, and a mark that no earlier shed has is a rest.
export function cameOf(piece, leg, index) {
  if (Array.isArray(leg.came)) return leg.came[index] ?? null;
  const legs = piece.work?.legs ?? [];
  const mark = leg.job.shed?.[index]?.mark;
  if (mark === undefined || (legs[0]?.job.shed ?? []).some((board) => board.mark === mark)) return null;
  const before = legs.slice(0, legs.includes(leg) ? legs.indexOf(leg) : legs.length);
  const bought = before.some(({ progress }) => progress.bought.some((one) => one.marks?.includes(mark)));
  return { how: bought ? "bought" : "rest" };
}

// Whether a board of a leg's shed is bought and whole.
export const isBought = (piece, leg, index) => cameOf(piece, leg, index)?.how === "bought";

// What a board is a rest of, in words: "K", and where the yard cut K.
export const restWords = ({ of, cut }) => [of, cut && `cut at the yard at ${cut}`].filter(Boolean).join(", ");

// Where the yard cuts a bought board that is too long to carry, in words.
export function carriedAt(legs, mark) {
  const came = legs.flatMap((leg) => leg.came ?? []).find((one) => one?.how === "carried" && one.of === mark);
  return came ? [`${mark} cut at ${came.cut}`] : [];
}

// Bought boards of earlier legs that are still whole: [{ mark, length, section }].
export function boughtUncut(piece) {
  const legs = piece.work?.legs ?? [];
  const marks = new Set(legs.slice(0, -1).flatMap((leg) => leg.progress.bought.flatMap((one) => one.marks ?? [])));
  const now = legs.at(-1);
  const begun = (row) => (now.plan?.boards ?? []).some((board, index) => board.shed === row && boardProgress(now.progress, index).steps > 0);
  return (now?.job.shed ?? []).filter((board, row) => isBought(piece, now, row) && marks.has(board.mark) && !begun(row));
}

// Bought boards that the plan of a leg does not cut: [{ mark, length, section }].
export function boughtAside(piece, leg, plan) {
  if (!leg || !plan) return [];
  const used = new Set(plan.boards.map((board) => board.shed));
  return (leg.job.shed ?? []).filter((_, index) => isBought(piece, leg, index) && !used.has(index));
}
