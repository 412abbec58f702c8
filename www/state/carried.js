// A piece in a link with the work on it, so that the other device goes on at the same cut of the same plan: what goes along, how it is read and how it
// is taken in.
//
// It is written as a file of everything that holds this piece and the boards that go with it. What comes is read as stored states are: of what is no
// sound state the rest is shown, and `whole` is false.

import { leading, sound, takeShed } from "./files.js";
import { archivePiece, freeName, freshId, withLists } from "./pieces.js";
import { readablePiece, readableShed } from "./salvage.js";
import { VERSION, isObject, knownVersion } from "./shape.js";

const FORMAT = "lengthwise-everything";
const ID = /^[a-z0-9]{1,40}$/;

export const toCarry = (piece, boards) => ({ format: FORMAT, version: VERSION, pieces: [carriedForm(piece)], shed: boards.map(({ example: _, ...board }) => board) });

// Plans of earlier legs stay behind: what they made, bought and spoiled is with the legs.
function carriedForm({ id, from, job, work, says, finished, changed, uses }) {
  const legs = work.legs.map((leg, nth) => (nth < work.legs.length - 1 ? { ...leg, plan: null } : leg));
  return { id, ...(from && { from }), changed, job, work: { ...work, legs }, ...(says && { says }), ...(finished && { finished }), uses };
}

// The boards that go along with a piece: those it may use, and those with which the work on it began.
export function boardsOf(store, { work }, offered) {
  const ids = new Set([...offered, ...(work?.legs[0].rows.shed ?? [])]);
  return store.shed.filter(({ id }) => ids.has(id));
}

// What a link holds: { job, piece, shed, whole }, `piece` being null where it carries a job alone. Throws where nothing of it can be shown.
export function heldIn(held) {
  if (held?.format !== FORMAT) {
    const job = sound(held);
    return { job, piece: null, shed: job.shed ?? [], whole: true };
  }
  const one = Array.isArray(held.pieces) && held.pieces.length === 1 ? held.pieces[0] : null;
  const { piece, whole } = readablePiece(JSON.stringify(one), typeof one?.id === "string" && ID.test(one.id) ? one.id : freshId());
  if (!knownVersion(held.version) || piece === null) throw new Error("it holds no piece");
  const boards = readableShed(JSON.stringify(held.shed ?? []));
  delete piece.archived;
  delete piece.example;
  if (!piece.work) piece.uses = [];
  return { job: piece.job, piece, shed: boards.shed, whole: whole && boards.whole };
}

// How far the work on a piece is, in words; empty where there is none.
export function doneIn({ work, finished }) {
  if (!work) return "";
  const sum = (list, of) => list.reduce((all, one) => all + of(one), 0);
  const { plan } = work.legs.at(-1);
  const cutIn = (legs) => sum(legs, ({ progress }) => sum(progress.boards, ({ cut }) => cut));
  const bought = sum(work.legs, ({ progress }) => sum(progress.bought, ({ count }) => count));
  const list = (value) => (Array.isArray(value) ? value : []);
  const planned = sum(list(plan?.boards), ({ runs }) => sum(list(runs), (run) => list(run?.cuts).length));
  const cut = cutIn(work.legs);
  const of = plan ? `${cut} of ${cutIn(work.legs.slice(0, -1)) + planned}` : cut;
  return `${of} parts cut, ${bought} ${bought === 1 ? "length" : "lengths"} bought${finished ? ", finished" : ""}`;
}

const rootOf = ({ id, from }) => from ?? id;

// The same piece as it stands here: { as, alike }. `as` is the one that is worked with here, and `alike` the one that is just as it came; null where there is none.
export function standsHere(store, piece) {
  const same = store.pieces.filter((other) => rootOf(other) === rootOf(piece));
  const text = (one) => JSON.stringify([one.job, one.work ?? null, one.says ?? [], one.finished ?? null]);
  const alike = same.find((other) => other.work && text(carriedForm(other)) === text(piece));
  return { as: same.find(({ archived }) => !archived) ?? null, alike: alike ?? null };
}

// Takes in what a link held, and opens it. The same piece in another state goes to the archive, so that nothing is lost and no board is held twice.
export function takeCarried(store, { piece, shed }, withShed) {
  const { as } = standsHere(store, piece);
  const { led } = takeShed(store, withShed ? structuredClone(shed) : []);
  const taken = leading({ ...piece, job: withLists(piece.job) }, led);
  if (store.pieces.some(({ id }) => id === piece.id)) Object.assign(taken, { id: freshId(), from: rootOf(piece) });
  if (as !== null) archivePiece(store, as.id, true);
  else if (taken.job.piece) taken.job.piece = freeName(store, taken.job.piece);
  store.pieces.push(taken);
  store.openId = taken.id;
  return as;
}

// Whether the state that came is older than the one here.
export const isOlder = (piece, here) => isObject(here) && piece.changed < here.changed;
