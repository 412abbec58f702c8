// The yard's lines in the job that is being bought for.

// The line of the yard that a row of the buying list buys from, or -1. Boards of a report and of its plan go in one order.
export function lineOf(report, row) {
  const board = report.boards.findIndex((one) => one.source === "yard" && one.section === row.section && one.length === row.length);
  return report.plan.boards[board]?.yard ?? -1;
}

export function addYardLine(job, line) {
  job.yard.push(Object.fromEntries(Object.entries(line).filter(([, value]) => value !== "")));
}
