// The yard's lines in the job that is being bought for.

import { boughtOf } from "./work.js";

// The line of the yard that a row of the buying list buys from, or -1. Boards of a report and of its plan go in one order.
export function lineOf(report, row) {
  const board = report.boards.findIndex((one) => one.source === "yard" && one.section === row.section && one.length === row.length);
  return report.plan.boards[board]?.yard ?? -1;
}

// Whether nothing is left to buy, and something was: every length on the list is ticked as bought.
export function allBought(report, piece) {
  const legs = piece.work?.legs ?? [];
  const now = legs.at(-1)?.progress;
  const all = now !== undefined && report.buying.rows.every((row) => boughtOf(now, lineOf(report, row)).count >= Number(row.count));
  return all && legs.some((leg) => leg.progress.bought.length > 0);
}

// When a piece was finished, in words; empty for one whose day was not kept.
export const finishedOn = (piece) => (typeof piece.finished === "number" ? dayOf(piece.finished) : "");

// The month in letters: figures alone mean one day here and another there.
export const dayOf = (time) => new Date(time).toLocaleDateString(undefined, { day: "numeric", month: "short", year: "numeric" });

// What the yard said, told to the piece as well: the line that sells the same length of the same section.
// A unit may have been written behind its length since.
export function sameLine(job, line) {
  const bare = (text) => String(text).replace(UNIT, "");
  const lines = job.yard.filter((other) => other.section === line?.section);
  return lines.find((other) => other.length === line.length) ?? lines.find((other) => bare(other.length) === bare(line.length));
}

const UNIT = /\s*(mm|cm|m|"|')$/;

export function addYardLine(job, line) {
  job.yard.push(Object.fromEntries(Object.entries(line).filter(([, value]) => value !== "")));
}

// A line of the yard with what went into the car taken off, where the yard has only so many.
export function lessBought(line, work) {
  if (line.count === undefined || !work) return line;
  const bought = work.legs.flatMap((leg) => leg.progress.bought.filter((one) => {
    const sold = leg.job.yard[one.line];
    return sold?.section === line.section && sold?.length === line.length;
  }));
  return { ...line, count: String(Math.max(0, Number(line.count) - bought.reduce((sum, one) => sum + one.count, 0))) };
}
