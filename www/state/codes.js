// Links in parts: a piece too large for one code comes as several, each opened by itself and perhaps in a page of its own. Those that came are kept
// until all are there: [{ whole, of, at, links: [[number, fragment]] }], `whole` being the check sum of what they make together. The engine says what a
// fragment is a part of; see the engine's `io/link`.

const WEEK = 7 * 24 * 3600 * 1000; // milliseconds after which those that came are thrown away
const MOST_PIECES = 4; // of which parts are kept, the latest
const MOST_CODES = 20; // of one link, as the engine makes them
const MOST_LETTERS = 2000; // of a fragment; a code holds 1249

const isNumber = (value, most) => Number.isSafeInteger(value) && value >= 1 && value <= most;

const isSound = (one) =>
  typeof one === "object" && one !== null && typeof one.whole === "string" && isNumber(one.of, MOST_CODES) && typeof one.at === "number"
  && Array.isArray(one.links) && one.links.every((link) => Array.isArray(link) && link.length === 2 && isNumber(link[0], one.of) && fits(link[1]))
  && new Set(one.links.map(([number]) => number)).size === one.links.length;

// Whether a fragment can be one of a code.
export const fits = (fragment) => typeof fragment === "string" && fragment.length <= MOST_LETTERS;

// { codes, whole }: those that a text of the device holds.
export function readableCodes(text) {
  let kept = null;
  try {
    kept = JSON.parse(text);
  } catch {
    // It is no list.
  }
  if (!Array.isArray(kept)) return { codes: [], whole: false };
  const codes = kept.filter(isSound);
  return { codes, whole: codes.length === kept.length };
}

// Those that are kept once this part has come.
export function withCode(codes, { number, of, whole }, fragment, now) {
  const isOf = (one) => one.whole === whole && one.of === of;
  const links = (codes.find(isOf)?.links ?? []).filter(([other]) => other !== number);
  const others = codes.filter((one) => !isOf(one) && Math.abs(now - one.at) < WEEK);
  return [...others, { whole, of, at: now, links: [...links, [number, fragment]] }].slice(-MOST_PIECES);
}

// The numbers that are still to come.
export const missing = ({ of, links }) => {
  const there = new Set(links.map(([number]) => number));
  return Array.from({ length: of }, (_, at) => at + 1).filter((number) => !there.has(number));
};
