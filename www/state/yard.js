// The yard's lines in the job that is being bought for.
//
// Lines go by their place, for two of them may read alike. A leg's `rows.yard` says for each line of its job which line of the piece's own
// list it is, null for one that the piece has no more. Legs kept before that was written down are led back by what their lines say.

import { boughtOf } from "./work.js";

// Whether nothing is left to buy, and something was: every length on the list is ticked as bought.
export function allBought(report, piece) {
  const legs = piece.work?.legs ?? [];
  const now = legs.at(-1)?.progress;
  const all = now !== undefined && report.buying.rows.every((row) => boughtOf(now, row.line).count >= Number(row.count));
  return all && legs.some((leg) => leg.progress.bought.length > 0);
}

// When a piece was finished, in words; empty for one whose day was not kept.
export const finishedOn = (piece) => (typeof piece.finished === "number" ? dayOf(piece.finished) : "");

// The month in letters: figures alone mean one day here and another there.
export const dayOf = (time) => new Date(time).toLocaleDateString(undefined, { day: "numeric", month: "short", year: "numeric" });

// Which line of the piece's own list a line of a leg's job is, or -1. One that was typed over since is another line by now, and so is its twin.
export function ownRow(piece, leg, line) {
  const sold = leg.job.yard[line];
  const known = leg.rows?.yard;
  const row = known?.[line];
  const own = piece.job.yard;
  if (typeof row === "number" && alike(own[row], sold)) return row;
  const others = new Set(known?.filter((_, other) => other !== line) ?? []);
  return sold ? own.findIndex((other, index) => !others.has(index) && alike(other, sold)) : -1;
}

// Which line of a leg's job is a line of the piece's own list, or -1.
export const lineOfRow = (piece, leg, row) => leg.job.yard.findIndex((_, line) => ownRow(piece, leg, line) === row);

// The piece's own line that something the yard said is about; what was kept without its place is led back by its words.
export function saidRow(piece, said) {
  const own = piece.job.yard;
  return typeof said.row === "number" && alike(own[said.row], said.line) ? said.row : own.findIndex((other) => alike(other, said.line));
}

// What a line of the list was planned at and what it costs by now, where that was changed since: { was, now }, else null.
export function priceSince(piece, leg, line) {
  const was = String(leg.job.yard[line]?.price ?? "").trim();
  const row = ownRow(piece, leg, line);
  const now = row < 0 ? was : String(piece.job.yard[row].price ?? "").trim();
  return now === was ? null : { was, now };
}

// The same length of the same section. A unit may have been written behind it since.
function alike(one, other) {
  const bare = (text) => String(text).replace(UNIT, "");
  return Boolean(one && other) && one.section === other.section && bare(one.length) === bare(other.length);
}

const UNIT = /\s*(mm|cm|m|"|')$/;

export function addYardLine(job, line) {
  return job.yard.push(Object.fromEntries(Object.entries(line).filter(([, value]) => value !== ""))) - 1;
}

// Takes lines out of the piece's own list. What is known by the place of another line stays known by it.
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

// How many there are of a line of the piece's own list with what went into the car taken off, where the yard has only so many.
export function lessBought(count, piece, row) {
  if (count === undefined || count === "") return count;
  const legs = row < 0 ? [] : piece.work?.legs ?? [];
  const bought = legs.flatMap((leg) => leg.progress.bought.filter((one) => ownRow(piece, leg, one.line) === row));
  return String(Math.max(0, Number(count) - bought.reduce((sum, one) => sum + one.count, 0)));
}
