// Choices side by side, as the engine finds them, and which of them a piece has.

// Nothing found yet: { of, found, picture, note, only, done }; `of` is what they depend on.
export const NO_CHOICES = Object.freeze({ of: null, found: [], picture: "", note: "", only: false, done: false });

// What choices depend on: all of a job but what may be bought, by which one of them is taken.
export function choicesOf(job) {
  const sections = (job?.sections ?? []).map(({ allowed, allowed_timber, ...rest }) => rest);
  return JSON.stringify({ ...job, sections });
}

export const AIMS = ["fewest", "cheapest", "shortest", "offcuts", "scrap"];

// What the figures of the aims depend on: all of a job but its own aim.
export const aimsOf = (job) => JSON.stringify({ ...job, aim: "" });

// What a plan with an aim comes to, { text, known }; where that is not known, in a word why.
export function comesTo({ buying, scrap, faults }, aim) {
  if (aim === "cheapest" && (buying ? !buying.totals.cost : faults?.length > 0)) return unknown("a price is missing");
  if (!buying) return unknown(faults?.[0]?.message ?? "no plan in the time given");
  const { totals: { count, cost, total_length }, bill = [] } = buying;
  const lengths = `${count} ${Number(count) === 1 ? "length" : "lengths"}`;
  const money = cost && bill.length > 0 ? `${cost} by the prices` : cost; // the bill has the rest
  return known([lengths, money, total_length, aim === "scrap" && `${scrap.length} of scrap`].filter(Boolean).join(", "));
}

export const known = (text) => ({ text, known: true });
const unknown = (why) => ({ text: `not known: ${why}`, known: false });

// The choice that a piece has: the index of the one whose fields are all as it writes them, -1 where there is none. `rows` maps its rows to those of the piece.
export function chosenIn(found, job, rows) {
  const textOf = ({ list, row, field }) => job[list][rows?.[list]?.[row] ?? row]?.[field] ?? "";
  return found.findIndex(({ edits }) => edits.every((edit) => textOf(edit) === edit.text));
}
