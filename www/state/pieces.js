// The pieces on this device: begin, copy, archive.

export function freshId() {
  return `${Date.now().toString(36)}${Math.random().toString(36).slice(2, 8)}`;
}

// Adds a piece from a job file and opens it. Shed boards the device does not have yet go into its shed.
export function addPiece(store, job, { shed = true } = {}) {
  const { shed: boards = [], ...rest } = job;
  const piece = { id: freshId(), job: withLists(rest), uses: [], changed: Date.now() };
  store.pieces.push(piece);
  store.openId = piece.id;
  if (shed) addBoards(store, boards);
  return piece;
}

export function addBoards(store, boards) {
  const known = new Set(store.shed.map((board) => boardText(board.row)));
  for (const row of boards.map(plainBoard)) {
    if (!known.has(boardText(row))) store.shed.push({ id: freshId(), since: Date.now(), row });
  }
}

// Lists that a job file allows in a board, as the texts the page shows.
function plainBoard(row) {
  const texts = { ...row };
  if (Array.isArray(row.bad)) texts.bad = row.bad.map((pair) => pair.join("..")).join("; ");
  if (Array.isArray(row.trim)) texts.trim = row.trim.join("; ");
  return texts;
}

export function copyPiece(store, id) {
  const from = store.pieces.find((piece) => piece.id === id);
  const job = structuredClone(from.job);
  job.piece = freeName(store, job.piece || "Piece");
  return addPiece(store, job);
}

export function archivePiece(store, id, archived) {
  const piece = store.pieces.find((other) => other.id === id);
  piece.archived = archived;
  if (archived) piece.uses = [];
}

// Every list of a job is there, so the page never asks whether one is.
export function withLists(job) {
  const lists = { saw: {}, sections: [], yard: [], parts: [], set_outs: [] };
  return { ...lists, ...job, saw: { ...job.saw } };
}

// Two rows are one board when all that is written about them is the same.
export function boardText(row) {
  return JSON.stringify(Object.entries(row).filter(([, value]) => value !== "").map(([key, value]) => [key, String(value)]).sort());
}

function freeName(store, name) {
  const names = new Set(store.pieces.map((piece) => piece.job.piece));
  const bare = name.replace(/ \(\d+\)$/, "");
  for (let number = 2; ; number += 1) {
    if (!names.has(`${bare} (${number})`)) return `${bare} (${number})`;
  }
}

// The example of the first start. It and its boards are marked, so that they can be put away together.
export function addExample(store, job) {
  addPiece(store, job).example = true;
  for (const board of store.shed) board.example = true;
}

// Puts the example away for good, with its boards; `job` is what is open instead when nothing else is there.
export function putExampleAway(store, job) {
  for (const piece of store.pieces.filter((one) => one.example)) store.forget(piece.id);
  store.pieces = store.pieces.filter((piece) => !piece.example);
  store.shed = store.shed.filter((board) => !board.example);
  if (store.pieces.length === 0) addPiece(store, job);
  else if (!store.piece) store.openId = store.pieces[0].id;
}
