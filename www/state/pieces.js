// The pieces on this device: begin, copy, archive, delete.

import { readingOf } from "./reading.js";

// The name of a piece as it is shown.
export const nameOf = ({ job }) => job.piece || "Unnamed piece";

export function freshId() {
  return `${Date.now().toString(36)}${Math.random().toString(36).slice(2, 8)}`;
}

// Adds a piece from a job file and opens it. Shed boards that the device does not have yet go into its shed.
export function addPiece(store, job, { shed = true } = {}) {
  const { shed: boards, ...rest } = job;
  if (rest.piece) rest.piece = freeName(store, rest.piece);
  const piece = { id: freshId(), job: withLists(rest), uses: [], changed: Date.now() };
  store.pieces.push(piece);
  store.openId = piece.id;
  if (shed) addBoards(store, boards ?? [], readingOf(job));
  return piece;
}

// Adds boards that are not here yet; `typed` says how their bare numbers are read.
export function addBoards(store, boards, typed) {
  const known = new Set(store.shed.map((board) => boardText(board.row)));
  for (const row of boards.map(plainBoard)) {
    if (!known.has(boardText(row))) store.shed.push({ id: freshId(), since: Date.now(), typed, taken: true, row });
  }
}

// Lists, which a job file allows in a board, as the texts that the page shows.
function plainBoard(row) {
  const texts = { ...row };
  if (Array.isArray(row.bad)) texts.bad = row.bad.map((pair) => pair.join("..")).join("; ");
  if (Array.isArray(row.trim)) texts.trim = row.trim.join("; ");
  return texts;
}

export function copyPiece(store, id) {
  const from = store.pieces.find((piece) => piece.id === id);
  const job = structuredClone(from.job);
  job.piece ||= "Piece";
  return addPiece(store, job);
}

export function archivePiece(store, id, archived) {
  const piece = store.pieces.find((other) => other.id === id);
  piece.archived = archived;
  if (archived) piece.uses = [];
}

// A job with all its lists, so that the page need not check for them.
export function withLists(job) {
  const lists = { sections: [], yard: [], parts: [], set_outs: [] };
  for (const name of Object.keys(lists)) lists[name] = job[name] ?? [];
  return { ...job, ...lists, saw: { ...job.saw } };
}

// A board's fields as one text; two boards are the same where these are equal.
export function boardText(row) {
  return JSON.stringify(Object.entries(row).filter(([, value]) => value !== "").map(([key, value]) => [key, String(value)]).sort());
}

// Removes an archived piece from the device and returns it, so that it can be put back.
export function deletePiece(store, id) {
  const at = store.pieces.findIndex((piece) => piece.id === id);
  const [gone] = store.pieces.splice(at, 1);
  store.forget(id);
  return () => store.pieces.splice(at, 0, gone);
}

// The name, or the next free one with a number: "Bin store 2" where there is a "Bin store", and "Bin store 3" for a copy of that.
export function freeName(store, name) {
  const names = new Set(store.pieces.map((piece) => piece.job.piece));
  if (!names.has(name)) return name;
  const numbered = name.match(/^(.+) \d{1,2}$/)?.[1];
  const bare = names.has(numbered) ? numbered : name;
  for (let number = 2; ; number += 1) if (!names.has(`${bare} ${number}`)) return `${bare} ${number}`;
}

// The example of the first start. It and its boards are marked, so that they can be removed together.
export function addExample(store, job) {
  const here = new Set(store.shed);
  addPiece(store, job).example = true;
  for (const board of store.shed) if (!here.has(board)) board.example = true;
}

// Removes the example for good, with its boards. `job` is opened instead where there is no other piece.
export function putExampleAway(store, job) {
  for (const piece of store.pieces.filter((one) => one.example)) store.forget(piece.id);
  store.pieces = store.pieces.filter((piece) => !piece.example);
  store.shed = store.shed.filter((board) => !board.example);
  if (store.pieces.length === 0) addPiece(store, job);
  else if (!store.piece) store.openId = store.pieces[0].id;
}
