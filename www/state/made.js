// What is cut of a piece so far, by the rows of its cutting list, over all plans of the work.
//
// A row is known by its key, as the engine gives it. The job of a later leg has rows of its own; its `keys` say by the key of each
// which row of the piece it is. When a leg ends, the engine counts what it `made` and `spoiled`: [key, count] each, by the keys of the
// piece.

import { boardProgress, makesPart, noProgress } from "./work.js";

// The key of a row of the piece, for one of the plan that is being carried out.
export const inPiece = (leg, key) => leg?.keys?.[key] ?? key;

// The legend of a plan with every part of the piece: those that were cut and sound on earlier plans too. `rows` is the cutting list.
export function everyPart(piece, leg, legend, rows) {
  const before = new Map();
  for (const [key, count] of (piece.work?.legs.slice(0, -1) ?? []).flatMap(({ made }) => made ?? [])) before.set(key, (before.get(key) ?? 0) + count);
  const planned = legend.map((part) => {
    const [key, ...others] = part.keys.map((own) => inPiece(leg, own));
    const cut = others.length === 0 ? before.get(key) ?? 0 : 0;
    before.delete(key);
    return { ...part, count: Number(part.count) + cut };
  });
  return [...planned, ...rows.filter(({ key }) => before.has(key)).map((row) => ({ ...row, count: before.get(row.key) }))];
}

// How many of each row are cut and sound, how many spoiled, and how many the plan still has, as { made, spoiled, left }: maps of keys of the
// piece. `boards` are the saw sheets of the plan that is being carried out.
export function madeSoFar(piece, leg, boards) {
  const made = new Map();
  const spoiled = new Map();
  const add = (counts, key, count) => counts.set(key, (counts.get(key) ?? 0) + count);
  for (const before of piece.work?.legs.slice(0, -1) ?? []) {
    for (const [key, count] of before.made ?? []) add(made, key, count);
    for (const [key, count] of before.spoiled ?? []) add(spoiled, key, count);
  }
  const left = new Map();
  boards.forEach((board, at) => {
    const { cut, spoiled: bad } = boardProgress(leg?.progress ?? noProgress(), at);
    board.steps.filter(makesPart).forEach((step, part) => {
      const counts = part >= cut ? left : bad.includes(part) ? spoiled : made;
      for (const key of step.keys ?? []) add(counts, inPiece(leg, key), 1);
    });
  });
  return { made, spoiled, left };
}
