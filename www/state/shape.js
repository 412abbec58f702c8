// The shapes that the page can hold. A file, a link or the device may contain anything. The engine judges what is in the rows, but
// something that is no row would stop the page, now and at every later start.
//
// A field holds a text, a number, or lists of these, as a job file allows. Nothing is nested more deeply except the plan of a leg, which
// the engine made. Its depth is limited, since a value nested without end cannot be written again.

export const LISTS = ["sections", "yard", "yards", "parts", "set_outs", "shed"];
export const BLOCKS = ["saw", "quantities"];

// The newest version of a job file that can be read.
export const VERSION = 1;

const FIELD_DEPTH = 2; // stretches are lists of pairs
const PLAN_DEPTH = 40;

export const isObject = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
export const lacking = (value) => value === undefined || value === null;

const isScalar = (value) => lacking(value) || ["string", "number", "boolean"].includes(typeof value);
const isField = (value, depth = FIELD_DEPTH) => isScalar(value) || (depth > 0 && Array.isArray(value) && value.every((one) => isField(one, depth - 1)));
const isText = (value) => typeof value === "string";
const isCount = (value) => Number.isSafeInteger(value) && value >= 0;
const listOf = (list, sound) => Array.isArray(list) && list.every((one) => sound(one));
const absentOr = (value, sound) => value === undefined || sound(value);
const isShallow = (value, depth) => typeof value !== "object" || value === null || (depth > 0 && Object.values(value).every((one) => isShallow(one, depth - 1)));

// A row or a block without values that cannot be fields.
export const fieldsOf = (row) => Object.fromEntries(Object.entries(row).filter(([, value]) => isField(value)));

// Whether a file with this `version` can be read.
export const knownVersion = (version) => lacking(version) || (isScalar(version) && Number(version) <= VERSION);

function rowTrouble(row) {
  if (!isObject(row)) return "it is no row of fields";
  const wrong = Object.keys(row).find((name) => !isField(row[name]));
  return wrong === undefined ? null : `“${wrong}” should be a text or a number`;
}

// Why a job cannot be shown, in words, or null.
export function jobTrouble(job) {
  if (!isObject(job)) return "the job is not written as one";
  if (!knownVersion(job.version)) return "it is of a version that is not known here";
  if (!lacking(job.piece) && typeof job.piece !== "string") return "“piece” should be a name";
  for (const name of LISTS.filter((list) => !lacking(job[list]))) {
    if (!Array.isArray(job[name])) return `“${name}” should be a list of rows`;
    const troubles = job[name].map(rowTrouble);
    const row = troubles.findIndex((trouble) => trouble !== null);
    if (row >= 0) return `“${name}” should be a list of rows: in row ${row + 1}, ${troubles[row]}`;
  }
  const block = BLOCKS.find((name) => !lacking(job[name]) && rowTrouble(job[name]) !== null);
  if (block) return `“${block}” should be a block of fields`;
  const other = Object.keys(job).find((name) => !LISTS.includes(name) && !BLOCKS.includes(name) && !isField(job[name]));
  return other === undefined ? null : `“${other}” should be a text or a number`;
}

// What a piece holds beside its job, its work and its `says`: the shape that each must have.
export const OF_PIECE = {
  uses: (value) => lacking(value) || listOf(value, isText),
  archived: (value) => lacking(value) || typeof value === "boolean",
  finished: (value) => lacking(value) || typeof value === "boolean" || typeof value === "number",
  changed: (value) => lacking(value) || typeof value === "number",
  example: (value) => lacking(value) || typeof value === "boolean",
  from: (value) => lacking(value) || isText(value),
};

const KNOWN = ["id", "job", "work", "says", ...Object.keys(OF_PIECE)];

// The same for a piece as the page keeps it.
export function pieceTrouble(piece) {
  if (!isObject(piece) || typeof piece.id !== "string") return "a piece has no id";
  const wrong = Object.keys(OF_PIECE).find((name) => !OF_PIECE[name](piece[name]));
  if (wrong) return `“${wrong}” of a piece cannot be read`;
  if (!lacking(piece.says) && !(Array.isArray(piece.says) && piece.says.every(soundSaid))) return "“says” of a piece should be a list of what the yard said";
  if (!lacking(piece.work) && !soundWork(piece.work)) return "the work on a piece cannot be read";
  const other = Object.keys(piece).find((name) => !KNOWN.includes(name) && !isField(piece[name]));
  return other === undefined ? jobTrouble(piece.job) : `“${other}” of a piece cannot be read`;
}

// See says.js.
export const soundSaid = (said) =>
  isObject(said) && [said.id, said.kind, said.text].every(isText) && absentOr(said.line, (line) => rowTrouble(line) === null) && isScalar(said.mark) && isScalar(said.count)
  && (said.kind === "measured" || isObject(said.line));

// See work.js. The first leg knows which boards of the shed it began with.
export const soundWork = (work) => isObject(work) && listOf(work.legs, soundLeg) && work.legs.length > 0 && Array.isArray(work.legs[0].rows.shed);

function soundLeg(leg) {
  if (!isObject(leg)) return false;
  const { job, plan, rows, progress, said, came, done, keys, made, spoiled } = leg;
  return jobTrouble(job) === null && Array.isArray(job.yard) && Array.isArray(job.shed) && (lacking(plan) || soundPlan(plan))
    && isObject(rows) && Object.values(rows).every((list) => listOf(list, isScalar)) && absentOr(rows.shed, (ids) => listOf(ids, isText))
    && soundProgress(progress) && absentOr(said, (texts) => listOf(texts, isText)) && absentOr(came, (list) => listOf(list, soundCame)) && absentOr(done, isCount)
    && absentOr(keys, (of) => isObject(of) && Object.values(of).every(isText)) && [made, spoiled].every((list) => absentOr(list, (counts) => listOf(counts, soundCount)));
}

// See made.js.
const soundCount = (one) => Array.isArray(one) && one.length === 2 && isText(one[0]) && isCount(one[1]);

// See says.js.
const soundCame = (one) => lacking(one) || (isObject(one) && isText(one.how) && [one.of, one.cut].every((text) => lacking(text) || isText(text)));

const soundPlan = (plan) => isObject(plan) && listOf(plan.boards, isObject) && isShallow(plan, PLAN_DEPTH);

const soundProgress = (progress) =>
  isObject(progress) && listOf(progress.boards, soundCut) && listOf(progress.bought, soundBought) && listOf(progress.missing, isCount);

const soundCut = (one) =>
  isObject(one) && [one.board, one.steps, one.cut].every(isCount) && listOf(one.spoiled, isCount) && [one.bad_from, one.bad_to, one.real_length, one.sound].every((text) => absentOr(text, isText)) && absentOr(one.mark, isText);

const soundBought = (one) =>
  isObject(one) && isCount(one.line) && isCount(one.count) && absentOr(one.what, isText) && [one.marks, one.bad].every((texts) => absentOr(texts, (list) => listOf(list, isText)))
  && listOf(one.lengths, isText) && one.lengths.length === one.count;

// Boards as the shed keeps them.
export function shedTrouble(shed) {
  return Array.isArray(shed) && shed.every(soundBoard) ? null : "the shed should be a list of boards";
}

const soundBoard = (board) =>
  isObject(board) && typeof board.id === "string" && rowTrouble(board.row) === null && absentOr(board.typed, soundReading) && absentOr(board.decimal, isText)
  && (lacking(board.since) || typeof board.since === "number") && Object.keys(board).every((name) => ["row", "typed"].includes(name) || isScalar(board[name]));

// Price lists of yards.
export function pricesTrouble(prices) {
  return Array.isArray(prices) && prices.every(soundPrices) ? null : "“prices” should be price lists";
}

const soundPrices = (list) =>
  isObject(list) && isText(list.name) && isText(list.decimal) && rowTrouble(list.terms) === null && listOf(list.rows, (row) => rowTrouble(row) === null)
  && Object.keys(list).every((name) => ["terms", "rows"].includes(name) || isScalar(list[name]));

const soundReading = (reading) => isObject(reading) && isText(reading.unit) && isText(reading.decimal);
