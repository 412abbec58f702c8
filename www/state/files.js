// The files that the page writes and reads: a job, the shed, everything. Reading a file changes nothing that is already here.

import { addBoards, addPiece, archivePiece, boardText, freeName, freshId, nameOf, withLists } from "./pieces.js";
import { readingOf } from "./reading.js";
import { VERSION, isObject, jobTrouble, knownVersion, pieceTrouble, pricesTrouble, shedTrouble } from "./shape.js";

const KINDS = ["lengthwise-job", "lengthwise-shed", "lengthwise-everything"];

export function jobFile(job, boards) {
  return JSON.stringify({ ...job, shed: boards.map((board) => board.row) }, null, 2);
}

export function shedFile(store) {
  return JSON.stringify({ format: "lengthwise-shed", version: VERSION, ...readingOf(store.piece.job), shed: store.shed }, null, 2);
}

export function everythingFile(store) {
  return JSON.stringify({ format: "lengthwise-everything", version: VERSION, shed: store.shed, pieces: store.pieces, ...(store.prices.length > 0 && { prices: store.prices }) }, null, 2);
}

// Reads a file, all of it or nothing. Returns what was done, in words. Throws an Error in words when the file cannot be read, and has then
// changed nothing.
export function takeFile(store, text) {
  const before = JSON.stringify([store.pieces, store.shed, store.openId, store.prices]);
  try {
    return taken(store, read(text));
  } catch (error) {
    [store.pieces, store.shed, store.openId, store.prices] = JSON.parse(before);
    throw error;
  }
}

function taken(store, file) {
  if (file.format === "lengthwise-shed") return takeBoards(store, file);
  if (file.format === "lengthwise-everything") return takeEverything(store, file);
  return `“${nameOf(addPiece(store, sound(file)))}” taken in`;
}

// A job that the page can show. Throws an Error in words where it is none, or where its version is not known yet.
export function sound(job) {
  if (job?.format !== KINDS[0]) throw new Error("it holds no piece");
  must(knownVersion(job.version), NEWER);
  refuse(jobTrouble(job));
  return job;
}

const NEWER = "it was written by a newer version of this page. Load the page again with a network, then take it";

function takeBoards(store, file) {
  const boards = file.shed ?? [];
  const kept = Array.isArray(boards) && boards.every((board) => isObject(board) && board.row !== undefined);
  refuse(kept ? shedTrouble(boards) : jobTrouble({ shed: boards }));
  const before = new Set(store.shed);
  addBoards(store, boards.map((board) => board.row ?? board), readingOf(file));
  const fresh = store.shed.filter((board) => !before.has(board));
  return fresh.length === 0 ? "all its boards are in the shed already" : `${counted(fresh.length, "board", "boards")} put into the shed`;
}

function takeEverything(store, { shed = [], pieces = [], prices = [] }) {
  must(Array.isArray(pieces), "“pieces” should be a list");
  refuse(pricesTrouble(prices) ?? shedTrouble(shed) ?? pieces.map(pieceTrouble).find((trouble) => trouble !== null) ?? null);
  const { led, fresh } = takeShed(store, shed);
  // A list that is here already stays as it is.
  // Of two lists with one name the later is taken, as at a start.
  const named = [...new Map(prices.map((list) => [list.name, list])).values()];
  const lists = named.filter(({ name }) => store.prices.every((list) => list.name !== name));
  store.prices = [...store.prices, ...lists];
  const done = { added: [], known: [], apart: [] };
  for (const piece of pieces) {
    const [how, told] = takePiece(store, piece, led);
    done[how].push(told);
  }
  const open = store.pieces.find((piece) => piece.id === done.added[0]);
  if (open) store.openId = open.id;
  return [
    done.added.length > 0 && `${counted(done.added.length, "piece", "pieces")} taken in`,
    done.known.length > 0 && `${counted(done.known.length, "piece was", "pieces were")} here already`,
    ...done.apart,
    lists.length > 0 && `${counted(lists.length, "price list", "price lists")} taken in`,
    fresh > 0 && `${counted(fresh, "board", "boards")} put into the shed`,
  ].filter(Boolean).join("; ") || "nothing is in it";
}

// A piece that is already here in another state is kept beside it. The newer one is worked with and the older one archived, so that nothing
// is lost and no board is held twice.
function takePiece(store, piece, led) {
  const taken = leading({ ...piece, job: withLists(piece.job) }, led);
  const here = store.pieces.find((other) => other.id === piece.id);
  if (!here) {
    if (taken.job.piece) taken.job.piece = freeName(store, taken.job.piece);
    store.pieces.push(taken);
    return ["added", taken.id];
  }
  const like = (other) => other.id === piece.id || other.from === piece.id;
  if (store.pieces.some((other) => like(other) && content(other) === content(taken))) return ["known", piece.id];
  const name = nameOf(taken);
  const newer = !(taken.changed <= here.changed);
  const beside = { ...taken, id: freshId(), from: piece.id, job: { ...taken.job, piece: taken.job.piece && freeName(store, taken.job.piece) } };
  store.pieces.push(beside);
  archivePiece(store, newer ? here.id : beside.id, true);
  if (newer && store.openId === here.id) store.openId = beside.id;
  return ["apart", `“${name}” is here in another state: the newer one is kept to work with${newer ? ` as “${beside.job.piece || name}”` : ""}, the older one is in the archive`];
}

// What a person made of a piece. Its name is left out, as it may have been given a number.
const content = ({ job, work, says, finished }) => JSON.stringify([{ ...job, piece: "" }, work ?? null, says ?? [], finished ?? null]);

// The piece with the ids that the boards have here.
export function leading(piece, led) {
  const ids = (list) => list?.map((id) => led.get(id) ?? id);
  const work = piece.work && { ...piece.work, legs: piece.work.legs.map((leg) => (leg.rows?.shed ? { ...leg, rows: { ...leg.rows, shed: ids(leg.rows.shed) } } : leg)) };
  return { ...piece, uses: ids(piece.uses) ?? [], ...(work ? { work } : {}) };
}

// Boards that are already here keep their id; `led` maps the file's ids to those.
export function takeShed(store, boards) {
  const here = new Map(store.shed.map((board) => [boardText(board.row), board.id]));
  const ids = new Set(store.shed.map((board) => board.id));
  const led = new Map();
  const fresh = boards.filter((board) => {
    const same = ids.has(board.id) ? board.id : here.get(boardText(board.row));
    if (!led.has(board.id)) led.set(board.id, same ?? board.id);
    return same === undefined;
  });
  // Two boards with one id in a file are two boards.
  const given = new Set();
  for (const board of fresh) {
    if (given.has(board.id)) board.id = freshId();
    given.add(board.id);
  }
  for (const board of fresh) store.shed.push({ typed: board.decimal === undefined ? readingOf({}) : undefined, ...board });
  return { led, fresh: fresh.length };
}

const counted = (number, one, many) => `${number} ${number === 1 ? one : many}`;

function must(good, why) {
  if (!good) throw new Error(why);
}

function refuse(trouble) {
  if (trouble !== null) throw new Error(`it is damaged: ${trouble}`);
}

function read(text) {
  const plain = text.replace(/^\uFEFF/, "").trim();
  let file;
  try {
    file = JSON.parse(plain);
  } catch {
    must(!plain.startsWith("{"), "it is damaged, or breaks off before its end");
    throw new Error("it is no file that this page wrote. A table of parts is taken at Piece, below the parts typed in");
  }
  must(KINDS.includes(file?.format), "it is neither a piece nor a shed nor everything: its “format” is another");
  must(knownVersion(file.version), NEWER);
  return file;
}
