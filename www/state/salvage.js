// Reads as much as possible of a text that the device kept, whatever it holds. Each function returns { whole, ... }; `whole` is false where
// the text holds more than what is returned, so that the text should be set aside unchanged.

import { withLists } from "./pieces.js";
import { BLOCKS, LISTS, OF_PIECE, fieldsOf, isObject, jobTrouble, knownVersion, lacking, pieceTrouble, pricesTrouble, shedTrouble, soundSaid, soundWork } from "./shape.js";

// The value of a JSON text, or undefined.
function parsed(text) {
  try {
    return JSON.parse(text);
  } catch {
    return undefined;
  }
}

// { piece, whole }: the piece kept under this id, or null where nothing of it can be shown.
export function readablePiece(text, id) {
  const kept = parsed(text);
  if (!isObject(kept)) return { piece: null, whole: false };
  const named = { ...kept, id };
  if (pieceTrouble(named) === null) return { piece: { ...named, job: withLists(named.job) }, whole: true };
  const job = readableJob(kept.job);
  if (job === null) return { piece: null, whole: false };
  const piece = { id, job: withLists(job), uses: [] };
  for (const name of Object.keys(OF_PIECE)) if (!lacking(kept[name]) && OF_PIECE[name](kept[name])) piece[name] = kept[name];
  if (Array.isArray(kept.says)) piece.says = kept.says.filter(soundSaid);
  if (isObject(kept.work) && soundWork(kept.work)) piece.work = kept.work;
  return { piece, whole: false };
}

// The rows and fields of a job that can be shown, or null where there are none.
function readableJob(job) {
  if (!isObject(job) || !knownVersion(job.version)) return null;
  const kept = fieldsOf(Object.fromEntries(Object.entries(job).filter(([name]) => !LISTS.includes(name) && !BLOCKS.includes(name))));
  if (!lacking(kept.piece)) kept.piece = String(kept.piece);
  for (const name of LISTS) kept[name] = Array.isArray(job[name]) ? job[name].filter(isObject).map(fieldsOf) : [];
  for (const name of BLOCKS) if (isObject(job[name])) kept[name] = fieldsOf(job[name]);
  const empty = !kept.piece && LISTS.every((name) => kept[name].length === 0);
  return empty || jobTrouble(kept) !== null ? null : kept;
}

// { shed, whole }. Two boards with one id are still two boards.
export function readableShed(text) {
  const kept = parsed(text);
  if (!Array.isArray(kept)) return { shed: [], whole: false };
  const sound = kept.filter((board) => shedTrouble([board]) === null);
  const ids = new Set();
  const shed = sound.map((board) => {
    let { id } = board;
    for (let number = 2; ids.has(id); number += 1) id = `${board.id}-${number}`;
    ids.add(id);
    return { ...board, id };
  });
  return { shed, whole: sound.length === kept.length };
}

// { prices, whole }. Of two lists with one name the later is kept.
export function readablePrices(text) {
  const kept = parsed(text);
  if (!Array.isArray(kept)) return { prices: [], whole: false };
  const sound = kept.filter((list) => pricesTrouble([list]) === null);
  const prices = [...new Map(sound.map((list) => [list.name, list])).values()];
  return { prices, whole: prices.length === kept.length };
}

// { ids, open, whole }: the ids of the pieces in order, and the id of the open one.
export function readableIndex(text) {
  const kept = parsed(text);
  const ids = isObject(kept) && Array.isArray(kept.pieces) ? kept.pieces : [];
  const whole = isObject(kept) && Array.isArray(kept.pieces) && ids.every((id) => typeof id === "string") && (lacking(kept.open) || typeof kept.open === "string");
  return { ids: [...new Set(ids.filter((id) => typeof id === "string"))], open: kept?.open ?? null, whole };
}
