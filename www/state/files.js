// The files the page writes and takes back: a job, the shed, everything.

import { addBoards, addPiece, boardText, freeName, withLists } from "./pieces.js";
import { readingOf } from "./reading.js";

export function jobFile(job, boards) {
  return JSON.stringify({ ...job, shed: boards.map((board) => board.row) }, null, 2);
}

export function shedFile(store) {
  return JSON.stringify({ format: "lengthwise-shed", version: 1, ...readingOf(store.piece.job), shed: store.shed }, null, 2);
}

export function everythingFile(store) {
  return JSON.stringify({ format: "lengthwise-everything", version: 1, shed: store.shed, pieces: store.pieces }, null, 2);
}

// Takes a file in. Returns what was done, in words; throws an Error in words when it cannot be read.
export function takeFile(store, text) {
  const file = read(text);
  if (file.format === "lengthwise-shed") {
    const before = store.shed.length;
    addBoards(store, rowsOf(file.shed).map((board) => board.row ?? board), readingOf(file));
    return `${store.shed.length - before} boards put into the shed`;
  }
  if (file.format === "lengthwise-everything") {
    const boards = takeShed(store, rowsOf(file.shed));
    for (const piece of rowsOf(file.pieces)) takePiece(store, piece, boards);
    return `${rowsOf(file.pieces).length} pieces and the shed taken in`;
  }
  const { job } = addPiece(store, file);
  return `“${job.piece || "the piece"}” taken in`;
}

function takePiece(store, piece, boards) {
  const held = store.pieces.findIndex((other) => other.id === piece.id);
  const job = withLists(piece.job ?? {});
  if (held < 0 && job.piece) job.piece = freeName(store, job.piece);
  const taken = { ...piece, job, uses: (piece.uses ?? []).map((id) => boards.get(id) ?? id) };
  if (held >= 0) store.pieces[held] = taken;
  else store.pieces.push(taken);
  store.openId = piece.id;
}

// Boards that are already here keep their id; the answer leads the file's ids to those.
function takeShed(store, boards) {
  const here = new Map(store.shed.map((board) => [boardText(board.row), board.id]));
  const ids = new Set(store.shed.map((board) => board.id));
  const led = new Map();
  for (const board of boards) {
    const same = ids.has(board.id) ? board.id : here.get(boardText(board.row));
    if (same === undefined) store.shed.push({ typed: board.decimal === undefined ? readingOf({}) : undefined, ...board });
    led.set(board.id, same ?? board.id);
  }
  return led;
}

const rowsOf = (list) => (Array.isArray(list) ? list : []);

function read(text) {
  let file;
  try {
    file = JSON.parse(text.replace(/^\uFEFF/, ""));
  } catch (error) {
    throw new Error(`the file is not JSON: ${error.message}`);
  }
  const known = ["lengthwise-job", "lengthwise-shed", "lengthwise-everything"];
  if (!known.includes(file?.format)) throw new Error(`the file's "format" should be one of ${known.join(", ")}`);
  return file;
}
