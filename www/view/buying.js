// The buying list, as it is ticked off at the yard.

import { facts, find, lines, patch, say, show, stamp } from "./dom.js";
import { boughtOf, noProgress } from "../state/work.js";
import { lineOf } from "../state/yard.js";

export function buyingList(actions) {
  find("#copy-order").addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(actions.report().buying.order_lines.join("\n"));
      actions.tell("The order is copied.");
    } catch {
      actions.tell("This browser does not let the page copy; use Print or the table in More.");
    }
  });
  return ({ report, leg, piece, car }) => {
    if (!report) return;
    const progress = leg?.progress ?? noProgress();
    const rows = report.buying.rows;
    patch(find("#buying"), rows, (row) => `${row.section}/${row.length}`, () => buyingRow(actions));
    [...find("#buying").children].forEach((element, index) => element.fill(rows[index], report, progress));
    facts(find("#buying-totals"), totalsOf(report));
    show(find("#copy-order"), rows.length > 0);
    const before = boughtBefore(piece);
    show(find("#car"), car.length > 0);
    facts(find("#car-totals"), car);
    lines(find("#car-before"), before);
    lines(find("#said"), (piece.work?.legs ?? []).flatMap((one) => one.said ?? []));
    show(find("#said-section"), find("#said").children.length > 0);
  };
}

export function totalsOf({ buying: { rows, totals } }) {
  if (rows.length === 0) return [{ name: "To buy", value: "nothing: the shed has it all" }];
  const named = [["Lengths", totals.count], ["Cost", totals.cost], ["Timber", totals.total_length]];
  return named.filter(([, value]) => value !== undefined && value !== null && value !== "").map(([name, value]) => ({ name, value: String(value) }));
}

// What earlier legs of the work have bought.
function boughtBefore(piece) {
  const legs = piece.work?.legs.slice(0, -1) ?? [];
  return legs.flatMap((leg) => leg.progress.bought.map((line) => {
    const lengths = line.lengths.filter(Boolean);
    return `${line.count} × ${line.what ?? "length"}${lengths.length ? `, measured ${lengths.join(", ")}` : ""}`;
  }));
}

function buyingRow(actions) {
  const element = stamp("t-buying");
  const part = (selector) => element.querySelector(selector);
  let row = null;
  let what = "";
  part(".tick").addEventListener("click", () => actions.worksite.buy(row, what));
  part(".untick").addEventListener("click", () => actions.worksite.unbuy(row));
  part(".missing").addEventListener("click", () => actions.worksite.notThere(row, what));
  part(".measured").addEventListener("click", async () => {
    const answer = await actions.ask({
      title: "Measured length",
      text: `One ${what} that you have picked out. The plan follows what the tape says.`,
      yes: "Put it in the car",
      fields: [{ name: "length", label: "Length", keys: "decimal" }],
    });
    if (answer?.values.length) actions.worksite.measured(row, answer.values.length, what);
  });
  part(".other").addEventListener("click", async () => {
    const answer = await actions.ask({
      title: "Other length there",
      text: "What the yard has instead. The plan chooses again.",
      yes: "Plan with it",
      fields: [
        { name: "length", label: "Length", keys: "decimal" },
        { name: "price", label: "Price of one", keys: "decimal" },
        { name: "count", label: "How many there are", hint: "empty for any number", keys: "numeric" },
      ],
    });
    if (answer?.values.length) actions.worksite.otherLength({ section: row.section, ...answer.values });
  });

  element.fill = (line, report, progress) => {
    row = line;
    what = `${line.length} of ${line.section}`;
    const done = boughtOf(progress, lineOf(report, line)).count;
    const full = done >= Number(line.count);
    say(part(".count"), `${line.count} ×`);
    say(part(".length"), line.length);
    say(part(".section"), line.section);
    say(part(".buy-cost"), line.cost ?? "");
    say(part(".bought"), full ? `✓ all ${line.count}` : `${done} of ${line.count}`);
    part(".tick").disabled = full;
    element.classList.toggle("done", full);
    show(part(".untick"), done > 0);
    show(part("details"), !full);
  };
  return { element, update: () => {} };
}
