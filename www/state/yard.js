// The yard's lines in the job that is being bought for.
//
// Lines go by their index, since two of them may read alike. A leg's `rows.yard` maps each line of its job to a line of the piece's own
// list, or to null where the piece no longer has it. Legs from before that was recorded are matched by the texts of their lines.

import { boughtOf } from "./work.js";

// Whether everything is bought: every length on the list is ticked, and there was at least one.
export function allBought(report, piece) {
  const legs = piece.work?.legs ?? [];
  const now = legs.at(-1)?.progress;
  const all = now !== undefined && report.buying.rows.every((row) => boughtOf(now, row.line).count >= Number(row.count));
  return all && legs.some((leg) => leg.progress.bought.length > 0);
}

// How many lengths of the list are still to be bought.
export const leftToBuy = (report, leg) => stillToBuy(report, leg).reduce((sum, { count }) => sum + count, 0);

// What of the list is still to be bought, as the engine takes it to add up.
export const stillToBuy = ({ buying: { rows } }, leg) => rows.map(({ line, count }) => ({ line, count: Math.max(0, Number(count) - (leg ? boughtOf(leg.progress, line).count : 0)), lengths: [] })).filter(({ count }) => count > 0);

// The day on which a piece was finished, in words; empty where it was not recorded.
export const finishedOn = (piece) => (typeof piece.finished === "number" ? dayOf(piece.finished) : "");

// The month is in letters, since numbers alone mean different days in different countries.
export const dayOf = (time) => new Date(time).toLocaleDateString(undefined, { day: "numeric", month: "short", year: "numeric" });

// The index in the piece's own list of a line of a leg's job, or -1. A line that was typed over since is another line now, and so is its
// copy.
export function ownRow(piece, leg, line) {
  const sold = leg.job.yard[line];
  const known = leg.rows?.yard;
  const row = known?.[line];
  const own = piece.job.yard;
  if (typeof row === "number" && alike(own[row], sold)) return row;
  const others = new Set(known?.filter((_, other) => other !== line) ?? []);
  return sold ? own.findIndex((other, index) => !others.has(index) && alike(other, sold)) : -1;
}

// The index in a leg's job of a line of the piece's own list, or -1.
export const lineOfRow = (piece, leg, row) => leg.job.yard.findIndex((_, line) => ownRow(piece, leg, line) === row);

// The piece's own line that a note of the yard is about; notes kept without its index are matched by their texts.
export function saidRow(piece, said) {
  const own = piece.job.yard;
  return typeof said.row === "number" && alike(own[said.row], said.line) ? said.row : own.findIndex((other) => alike(other, said.line));
}

// What a line cost when it was planned and what it costs now, where that changed: { was, now }, else null.
export function priceSince(piece, leg, line) {
  const was = String(leg.job.yard[line]?.price ?? "").trim();
  const row = ownRow(piece, leg, line);
  const now = row < 0 ? was : String(piece.job.yard[row].price ?? "").trim();
  return now === was ? null : { was, now };
}

// Whether two lines have the same length and section. A unit may have been added since.
function alike(one, other) {
  const bare = (text) => String(text).replace(UNIT, "");
  const yard = (line) => line.yard ?? "";
  return Boolean(one && other) && one.section === other.section && yard(one) === yard(other) && bare(one.length) === bare(other.length);
}

const UNIT = /\s*(mm|cm|m|"|')$/;

export function addYardLine(job, line) {
  return job.yard.push(Object.fromEntries(Object.entries(line).filter(([, value]) => value !== ""))) - 1;
}

// Removes lines from the piece's own list, and keeps all references to the other lines right.
export function dropYardLines(piece, gone) {
  const led = new Map();
  piece.job.yard = piece.job.yard.filter((line, row) => {
    if (gone(line, row)) return false;
    led.set(row, led.size);
    return true;
  });
  for (const { rows } of piece.work?.legs ?? []) if (rows.yard) rows.yard = rows.yard.map((row) => led.get(row) ?? null);
  for (const said of piece.says ?? []) if (typeof said.row === "number") said.row = led.get(said.row) ?? null;
}

// How many a line of the piece's own list still has after what went into the car, where the yard's number is limited.
export function lessBought(count, piece, row) {
  if (count === undefined || count === "") return count;
  const legs = row < 0 ? [] : piece.work?.legs ?? [];
  const bought = legs.flatMap((leg) => leg.progress.bought.filter((one) => ownRow(piece, leg, one.line) === row));
  return String(Math.max(0, Number(count) - bought.reduce((sum, one) => sum + one.count, 0)));
}
