// The yard's lines in the job that is being bought for.

import { boughtOf } from "./work.js";

// The line of the yard that a row of the buying list buys from, or -1. Boards of a report and of its plan go in one order.
export function lineOf(report, row) {
  const board = report.boards.findIndex((one) => one.source === "yard" && one.section === row.section && one.length === row.length);
  return report.plan.boards[board]?.yard ?? -1;
}

// Whether every length on the buying list is ticked as bought.
export function allBought(report, leg) {
  const { rows } = report.buying;
  return leg !== null && rows.length > 0 && rows.every((row) => boughtOf(leg.progress, lineOf(report, row)).count >= Number(row.count));
}

// What the yard said, told to the piece as well: the line that sells the same length of the same section.
export function sameLine(job, line) {
  return job.yard.find((other) => other.section === line?.section && other.length === line?.length);
}

export function addYardLine(job, line) {
  job.yard.push(Object.fromEntries(Object.entries(line).filter(([, value]) => value !== "")));
}

// A line of the yard with what went into the car taken off, where the yard has only so many.
export function lessBought(line, work) {
  if (line.count === undefined) return line;
  const bought = work.legs.flatMap((leg) => leg.progress.bought.filter((one) => {
    const sold = leg.job.yard[one.line];
    return sold?.section === line.section && sold?.length === line.length;
  }));
  return { ...line, count: String(Math.max(0, Number(line.count) - bought.reduce((sum, one) => sum + one.count, 0))) };
}
