// What has been bought and cut. Work goes in legs; a leg is a plan that is being carried out. When something goes wrong, the engine works
// out what is left, that is planned, and the new plan is the next leg. What was cut stays cut.
//
// A leg is { job, plan, progress, rows, came?, done?, keys?, made?, spoiled? }. `job` and `plan` never change once the leg has begun, so ticks always mean the same
// cuts. `rows` maps its rows to rows of the piece and boards of the shed (yard.js). `came` says how the boards of its shed came there
// (says.js). `keys`, `made` and `spoiled` are of the cutting list (made.js). `done` is how many of its boards were cut to the end before the next leg. `progress` is sent to the engine. It refers to
// boards by their index in the plan and to bought lengths by their line of the yard; `steps` is how many lines of the board's sheet are
// ticked:
//   { boards: [{ board, steps, cut, spoiled: [part], bad_from?, bad_to?, real_length?, sound?, mark? }], bought: [{ line, what, count, lengths: [text], marks: [mark], bad?: [text] }],
//     missing: [line] }
// A new board's mark is given when it is bought or first cut.

// The outcome where the plan of a leg was kept in a form that the engine cannot read.
export const UNREADABLE = "unreadable";

export const isUnreadable = ({ verdict, piece }) => verdict?.outcome === UNREADABLE && !piece.finished;

export const noProgress = () => ({ boards: [], bought: [], missing: [] });

export const currentLeg = (piece) => piece.work?.legs.at(-1) ?? null;

// What each leg bought, with the yard's list of its time, as the engine takes it to add up.
export const boughtByLeg = (legs) => legs.map(({ job, progress: { bought } }) => ({ job, progress: { bought } }));

// Starts work on a plan, at the first tick.
export function beginWork(piece, leg) {
  piece.work ??= { legs: [] };
  piece.work.legs.push({ ...leg, progress: noProgress() });
}

// How many boards of a plan come before this one out of the same line of the yard.
export const nthOfLine = ({ boards }, board) => boards.slice(0, board).filter(({ yard }) => yard === boards[board].yard).length;

export function boardProgress(progress, board) {
  return progress.boards.find((one) => one.board === board) ?? { board, steps: 0, cut: 0, spoiled: [] };
}

// Ticks the first `steps` lines of a board's sheet and no others.
export function setSteps(progress, board, sheet, steps, mark = "") {
  const one = kept(progress, board, mark);
  one.steps = steps;
  one.cut = partsWithin(sheet, steps);
  one.spoiled = one.spoiled.filter((part) => part < one.cut);
}

// A part came out spoiled. It counts as cut, and so do the parts before it. `sound` is how much of the last one is sound, if any.
export function spoil(progress, board, sheet, step, mark = "", sound = "") {
  const one = kept(progress, board, mark);
  if (one.steps <= step) setSteps(progress, board, sheet, step + 1);
  const part = partsWithin(sheet, step + 1) - 1;
  if (!one.spoiled.includes(part)) one.spoiled.push(part);
  if (sound) one.sound = sound;
}

// The piece in hand is bad, from one reading to another or to its end. They are read from the end that it has now.
export function badFrom(progress, board, { from, to }, mark = "") {
  Object.assign(kept(progress, board, mark), { bad_from: from, ...(to && { bad_to: to }) });
}

// The piece in hand is shorter than planned: no more than this of it is there.
export function onlySoLong(progress, board, length, mark = "") {
  kept(progress, board, mark).real_length = length;
}

// How many parts are off the board once the first `steps` lines are done: each line with a part's length frees one.
export function partsWithin(sheet, steps) {
  return sheet.steps.slice(0, steps).filter(makesPart).length;
}

export const makesPart = (step) => Boolean(step.part_length);

// One more board of a line of the yard is in the car. `length` is what the tape said, empty for the length as sold; `what` names it in
// words; `bad` are its bad stretches.
export function bought(progress, line, length, what, mark = "", bad = "") {
  let one = progress.bought.find((other) => other.line === line);
  if (!one) progress.bought.push((one = { line, what, count: 0, lengths: [], marks: [] }));
  one.count += 1;
  one.lengths.push(length);
  one.marks = [...(one.marks ?? []), mark];
  if (bad) foundBad(one, one.count - 1, bad);
}

// A board that is already in the car is measured.
export function measuredAs(progress, line, mark, length, bad = "") {
  const one = boughtOf(progress, line);
  const at = one.marks.indexOf(mark);
  one.lengths[at] = length;
  if (bad) foundBad(one, at, bad);
}

function foundBad(one, at, bad) {
  one.bad = one.lengths.map((_, index) => (index === at ? bad : one.bad?.[index] ?? ""));
}

export function unbought(progress, line) {
  const one = boughtOf(progress, line);
  if (one.count === 0) return;
  one.count -= 1;
  one.lengths.pop();
  one.marks?.pop();
  if (one.bad?.length > one.count) one.bad.pop();
  if (one.count === 0) progress.bought = progress.bought.filter((other) => other !== one);
}

export const boughtOf = (progress, line) => progress.bought.find((one) => one.line === line) ?? { line, count: 0, lengths: [] };

export function notThere(progress, line) {
  if (!progress.missing.includes(line)) progress.missing.push(line);
}

// Whether every line of a board's sheet is ticked.
export const boardDone = (progress, board, sheet) => boardProgress(progress, board).steps >= sheet.steps.length;

// How many boards were done on earlier plans; each leg records its own number when another follows it.
export const doneBefore = (piece) => (piece.work?.legs.slice(0, -1) ?? []).reduce((sum, leg) => sum + (leg.done ?? 0), 0);

export const boardsDone = (progress, sheets) => sheets.filter((sheet, board) => boardDone(progress, board, sheet)).length;

function kept(progress, board, mark) {
  let one = progress.boards.find((other) => other.board === board);
  if (!one) progress.boards.push((one = { board, steps: 0, cut: 0, spoiled: [] }));
  if (mark) one.mark = mark;
  return one;
}
