// One shed for all pieces: a board that another piece's plan takes is not offered twice.

import { boardText, freshId } from "./pieces.js";
import { sameReading } from "./reading.js";

// Which boards are held by pieces other than these, as a map from a board's id to the piece.
export function reservations(store, pieceIds) {
  const taken = new Map();
  for (const piece of store.pieces) {
    if (pieceIds.includes(piece.id) || piece.archived || piece.finished) continue;
    for (const board of piece.uses ?? []) taken.set(board, piece);
  }
  return taken;
}

// The ids of the boards that a plan takes; `rows`, from `jobToSend`, maps its shed indices to ids.
export function boardsUsed(plan, rows) {
  return shedIndices(plan).map((index) => rows.shed[index]).filter((id) => id !== undefined);
}

// The plan's indices into the shed of the job that was planned.
export function shedIndices(plan) {
  return (plan?.boards ?? []).filter((board) => typeof board.shed === "number").map((board) => board.shed);
}

// Puts a finished piece's timber into the shed. `offered` are the ids of the boards with which its work began. `left` are the rows of the
// last job's shed that its plan did not take, and `scrap` those of them that are too short to keep. `back` are the rows that come back, and
// `reading` says how they are read. A board that is unchanged stays in the shed, however short; a board from the work stays if it is worth
// keeping. Returns how many boards came back.
export function putAway(store, { offered, left, scrap, back }, reading) {
  const mine = new Set(offered);
  const still = left.map(boardText);
  store.shed = store.shed.filter((board) => {
    if (!mine.has(board.id)) return true;
    const at = still.indexOf(boardText(board.row));
    if (at >= 0) still.splice(at, 1);
    return at >= 0;
  });
  const fresh = left.filter((row) => {
    const at = still.indexOf(boardText(row));
    if (at >= 0) still.splice(at, 1);
    return at >= 0 && !scrap.includes(row);
  });
  const come = [...fresh, ...back];
  for (const one of come) {
    // What was new timber for this piece is an ordinary board of the shed for the next.
    const row = { ...one };
    delete row.counts_as;
    store.shed.push({ id: freshId(), since: Date.now(), typed: reading, row });
  }
  return come.length;
}

// Boards whose lengths may lack their unit, or have another decimal sign than this reading. A board's `typed` says how its bare numbers are
// read; `decimal` is the decimal sign of its lengths.
export function unsettled(shed, reading) {
  return shed.filter((board) => board.typed !== undefined || board.decimal !== reading.decimal);
}

// Whether a job with this reading may take the board unchanged.
export function readsAlike(board, reading) {
  return board.typed === undefined ? board.decimal === undefined || board.decimal === reading.decimal : sameReading(board.typed, reading);
}

// Where a board from a file turns out to be one that is already here, keeps the one that is here.
export function oneBoard(store, board) {
  delete board.taken;
  const text = boardText(board.row);
  const twin = store.shed.find((other) => other.id !== board.id && other.typed === undefined && boardText(other.row) === text);
  if (!twin) return;
  store.shed = store.shed.filter((other) => other.id !== board.id);
  for (const piece of store.pieces) piece.uses = piece.uses?.map((id) => (id === board.id ? twin.id : id));
}

// How long a board has lain unused, in whole months since it came in.
export function monthsUnused(board, now) {
  const MONTH = 30.4 * 24 * 3600 * 1000;
  return Math.floor((now - board.since) / MONTH);
}
