// What the page can hold. A file or a link may say anything; what stands in its rows is the engine's to judge, but rows that are
// none would stop the page, at this start and at every later one.

const LISTS = ["sections", "yard", "parts", "set_outs", "shed"];

const isObject = (value) => typeof value === "object" && value !== null && !Array.isArray(value);
const rowsAlone = (list) => Array.isArray(list) && list.every(isObject);
const lacking = (value) => value === undefined || value === null;

// What keeps a job from being shown, in words, or null.
export function jobTrouble(job) {
  if (!isObject(job)) return "the job is not written as one";
  if (!lacking(job.piece) && typeof job.piece !== "string") return "“piece” should be a name";
  const list = LISTS.find((name) => !lacking(job[name]) && !rowsAlone(job[name]));
  if (list) return `“${list}” should be a list of rows`;
  const block = ["saw", "quantities"].find((name) => !lacking(job[name]) && !isObject(job[name]));
  return block ? `“${block}” should be a block of fields` : null;
}

// The same for a piece as the page keeps it.
export function pieceTrouble(piece) {
  if (!isObject(piece) || typeof piece.id !== "string") return "a piece has no id";
  const lists = ["uses", "says"].filter((name) => !lacking(piece[name]) && !Array.isArray(piece[name]));
  if (lists.length > 0) return `“${lists[0]}” of a piece should be a list`;
  if (!lacking(piece.work) && !(rowsAlone(piece.work.legs) && piece.work.legs.length > 0 && piece.work.legs.every(soundLeg))) return "the work on a piece cannot be read";
  return jobTrouble(piece.job);
}

const soundLeg = ({ job, plan, rows, progress }) =>
  jobTrouble(job) === null && (lacking(plan) || rowsAlone(plan.boards)) && isObject(rows) && isObject(progress) && rowsAlone(progress.boards) && rowsAlone(progress.bought);

// Boards as the shed keeps them.
export function shedTrouble(shed) {
  const sound = rowsAlone(shed) && shed.every((board) => typeof board.id === "string" && isObject(board.row));
  return sound ? null : "the shed should be a list of boards";
}
