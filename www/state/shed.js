// One shed for all pieces: a board that another piece's plan takes is not offered twice.

import { boardText, freshId } from "./pieces.js";

// Which boards are held by pieces other than these: id of the board -> the piece.
export function reservations(store, pieceIds) {
  const taken = new Map();
  for (const piece of store.pieces) {
    if (pieceIds.includes(piece.id) || piece.archived || piece.finished) continue;
    for (const board of piece.uses ?? []) taken.set(board, piece);
  }
  return taken;
}

// The boards a plan takes: its shed indices led back to the ids that were offered. `rows` comes from `jobToSend`.
export function boardsUsed(plan, rows) {
  return shedIndices(plan).map((index) => rows.shed[index]).filter((id) => id !== undefined);
}

// Indices into the shed of the job that was planned.
export function shedIndices(plan) {
  return (plan?.boards ?? []).filter((board) => typeof board.shed === "number").map((board) => board.shed);
}

// Puts a finished piece's timber away. `offered` are the ids of the boards its work began with, `left` the rows of the last
// job's shed that its plan did not take, `back` the rows that come back. A board that is as it was stays the board it is.
export function putAway(store, offered, left, back) {
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
    return at >= 0;
  });
  for (const row of [...fresh, ...back]) store.shed.push({ id: freshId(), since: Date.now(), row });
}

// What has lain unused: whole months since the board came in.
export function monthsUnused(board, now) {
  const MONTH = 30.4 * 24 * 3600 * 1000;
  return Math.floor((now - board.since) / MONTH);
}
