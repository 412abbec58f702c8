// The buying list, as it is ticked off at the yard.

import { inMetres } from "./choices.js";
import { facts, find, lines, make, patch, say, show, stamp, table } from "./dom.js";
import { fieldBlock } from "./field.js";
import { specsOf, valuesOf } from "./fields.js";
import { boardProgress, boughtOf, noProgress } from "../state/work.js";
import { leftToBuy, ownRow, priceSince } from "../state/yard.js";
import { boughtAside, boughtUncut, carriedAt } from "../state/says.js";

export function buyingList(actions) {
  find("#copy-order").addEventListener("click", async () => {
    try {
      await navigator.clipboard.writeText(actions.report().buying.order_lines.join("\n"));
      actions.tell("The order is copied.");
    } catch {
      actions.tell("This browser does not let the page copy; use Print or the table in More.");
    }
  });
  find("#buy-all").addEventListener("click", () => actions.worksite.buyAll());
  const listSays = saysList(actions);
  const listAside = asideList(actions);
  const listPutBack = putBackList(actions);
  return (scene) => {
    const { report, leg, piece, car, planned } = scene;
    listSays(piece);
    listAside(piece.finished ? [] : boughtAside(piece, leg, leg?.plan));
    if (!report) return;
    const progress = leg?.progress ?? noProgress();
    const rows = report.buying.rows;
    const list = find("#buying");
    const at = [...list.children].findIndex((element) => element.contains(document.activeElement));
    patch(list, rows, (row) => row.line, () => buyingRow(actions));
    show(find("#buying-hint"), rows.length > 0 && !piece.finished);
    [...list.children].forEach((element, index) => element.fill(rows[index], report, progress, Boolean(piece.finished), planned && priceSince(piece, planned, rows[index].line), ownLine(scene, rows[index].line)));
    // Where the line with the focus is gone, as one that the yard has no more of, the next line gets the focus.
    if (at >= 0 && !list.contains(document.activeElement)) (list.children[at]?.querySelector(".tick:enabled") ?? find("#h-buying")).focus();
    const { sum } = actions.worksite;
    facts(find("#buying-totals"), sum.length > 0 ? [] : totalsOf(report));
    sumTable(find("#sum"), sum, report);
    facts(find("#bill"), report.buying.bill ?? []);
    lines(find("#offers"), report.buying.offers ?? []);
    show(find("#bill-section"), (report.buying.bill ?? []).length > 0);
    show(find("#copy-order"), rows.length > 0 && !piece.finished);
    show(find("#buy-all"), !piece.finished && leftToBuy(report, leg) > 0);
    const before = boughtIn(piece.work?.legs.slice(0, -1) ?? [], piece.work?.legs);
    show(find("#car"), car.totals.length > 0);
    facts(find("#car-totals"), car.totals.filter(({ key }) => sum.length === 0 || !["cost", "length"].includes(key)));
    lines(find("#car-warnings"), piece.finished ? [] : car.warnings);
    lines(find("#car-before"), before);
    listPutBack(piece.finished ? [] : boughtUncut(piece));
    lines(find("#said"), (piece.work?.legs ?? []).flatMap((one) => one.said ?? []));
    show(find("#said-section"), find("#said").children.length > 0);
  };
}

// The piece's own line of the yard from which a row comes, as its fields show it; null where the piece no longer has it.
function ownLine({ piece, planned, faultOf }, line) {
  const own = planned ? ownRow(piece, planned, line) : -1;
  if (own < 0) return null;
  return { own, specs: specsOf("yard", piece.job, piece.job.yard[own], { only: ["price", "count"], usual: { count: "any" } }), values: valuesOf("yard", piece.job.yard[own]), faultOf: (field) => faultOf(`yard/${own}/${field}`) };
}

// What is paid, what is still to pay, and both; nothing of it where nothing is bought yet.
function sumTable(element, sum, report) {
  show(element, sum.length > 0);
  if (sum.length === 0) return;
  const [heads, ...rows] = sumCells(sum, report);
  patch(element.tHead.rows[0], heads, (_, index) => index, () => {
    const head = make("th");
    head.scope = "col";
    return { element: head, update: (text) => say(head, text) };
  });
  table(element.tBodies[0], rows);
}

// The same as cells, the headings first.
export function sumCells(sum, { buying: { bill } }) {
  const cost = (bill ?? []).length > 0 ? "By the prices" : "Cost"; // the bill has the rest
  const columns = [["", "name"], ["Lengths", "count"], [cost, "cost"], ["Timber", "length"]].filter(([, key]) => sum.some((row) => row[key]));
  return [columns.map(([head]) => head), ...sum.map((row) => columns.map(([, key], at) => row[key] ?? (at === 1 ? "nothing" : "")))];
}

// Whether some of what is to buy has a price; what has none is then told.
const isPriced = ({ buying: { rows } }) => rows.some(({ cost }) => cost);

export function totalsOf(report) {
  const { rows, totals, bill } = report.buying;
  if (rows.length === 0) return [{ name: "To buy", value: "no lengths: what there is will do" }];
  const byPrices = (bill ?? []).length > 0; // the bill has the rest
  const named = [["Lengths", totals.count], [byPrices ? "Cost by the prices alone" : "Cost", totals.cost || (isPriced(report) ? "not known: a price is missing" : "")], ["Timber", totals.total_length]];
  return named.filter(([, value]) => value !== undefined && value !== null && value !== "").map(([name, value]) => ({ name, value: String(value) }));
}

// What the yard said beyond its list, each with a button to undo it.
function saysList(actions) {
  return (piece) => {
    const says = piece.finished ? [] : piece.says ?? [];
    patch(find("#says"), says, (one) => one.id, (id) => actLine("Take back", () => actions.worksite.takeBack(id)));
    [...find("#says").children].forEach((element, index) => element.fill(says[index].text));
    show(find("#says-section"), says.length > 0);
  };
}

// Boards in the car that the plan does not cut.
function asideList(actions) {
  return (boards) => {
    patch(find("#aside"), boards, (board) => board.mark, (mark) => actLine("Leave it at the yard", () => actions.worksite.leave(mark)));
    [...find("#aside").children].forEach((element, index) => {
      const { mark, length, section } = boards[index];
      element.fill(`${mark}, ${length} of ${section}, is bought and this plan does not need it: leave it at the yard, or keep it for the shed.`);
    });
    show(find("#aside"), boards.length > 0);
  };
}

// Boards in the car from before the latest plan that are not cut: each may go back to the yard.
function putBackList(actions) {
  return (boards) => {
    patch(find("#put-back-boards"), boards, (board) => board.mark, (mark) => actLine("Put back", () => actions.worksite.leave(mark)));
    [...find("#put-back-boards").children].forEach((element, index) => {
      const { mark, length, section } = boards[index];
      element.fill(`${mark}, ${length} of ${section}`);
    });
    show(find("#put-back"), boards.length > 0);
  };
}

function actLine(label, act) {
  const element = make("li", "", "act-line");
  const text = element.appendChild(make("span"));
  const button = element.appendChild(make("button", label, "quiet"));
  button.type = "button";
  button.addEventListener("click", act);
  element.fill = (now) => {
    say(text, now);
    button.setAttribute("aria-label", `${label}: ${now}`);
  };
  return { element, update: () => {} };
}

// What several legs of the work have bought.
export function boughtIn(legs, all = legs) {
  return legs.flatMap((leg) => leg.progress.bought.map((line) => {
    const lengths = line.lengths.filter(Boolean);
    const marks = (line.marks ?? []).filter(Boolean);
    const cuts = marks.flatMap((mark) => carriedAt(all, mark));
    const also = [["marked", marks], ["measured", lengths], ["at the yard", cuts]].filter(([, texts]) => texts.length > 0);
    return [`${line.count} × ${line.what ?? "length"}`, ...also.map(([name, texts]) => `${name} ${texts.join(", ")}`)].join(", ");
  }));
}

// What one of a line costs, or what else is said of the line.
const eachOf = ({ price, told, count }) => told || (price && Number(count) > 1 ? `${price} each` : "");

// Whether the nth board bought of a line has been cut into.
function isCut(report, progress, line, nth) {
  const boards = report.plan.boards.map((board, index) => ({ board, index })).filter(({ board }) => board.yard === line);
  return boards[nth] !== undefined && boardProgress(progress, boards[nth].index).steps > 0;
}

function buyingRow(actions) {
  const element = stamp("t-buying");
  const part = (selector) => element.querySelector(selector);
  let row = null;
  let what = "";
  let full = false;
  let ticked = []; // marks of boards ticked on this row and not cut
  let sold = null; // the line of the piece from which it comes
  const fields = fieldBlock(part(".fields"), (name, value) => actions.change(`yard/${sold.own}/${name}`, ({ job }) => (job.yard[sold.own][name] = value)));
  part(".open").addEventListener("click", ({ target }) => {
    const open = target.getAttribute("aria-expanded") !== "true";
    target.setAttribute("aria-expanded", String(open));
    show(part(".buy-more"), open);
  });
  part(".tick").addEventListener("click", () => actions.worksite.buy(row, what));
  part(".untick").addEventListener("click", () => actions.worksite.unbuy(row));
  part(".with-price").addEventListener("click", () => actions.worksite.planLeft());
  part(".missing").addEventListener("click", () => actions.worksite.notThere(row, what));
  // Asked again, with what was typed, until the length is valid and meant.
  part(".measured").addEventListener("click", async () => {
    const text = `What the tape and your eyes say of one ${what}. The plan follows.`;
    let typed = { board: full ? ticked[0] : "", length: "", bad: "" };
    for (let done = false; !done;) {
      const wrong = (values) => actions.worksite.wrongMeasure(row, values);
      const answer = await actions.ask({ title: "Not as it was sold", text, yes: "Plan with it", fields: measuredFields(typed), wrong });
      if (answer === null) return;
      typed = answer.values;
      done = await actions.worksite.measured(row, typed, what);
    }
  });
  const measuredFields = (typed) => {
    const another = full ? [] : [{ value: "", label: ticked.length > 0 ? "another one" : "one I have picked out" }];
    const choices = [...another, ...ticked.map((mark) => ({ value: mark, label: `${mark}, ticked already` }))];
    return [
      ...(ticked.length > 0 ? [{ name: "board", label: "Which board", choices, value: typed.board }] : []),
      { name: "length", label: "Length", hint: `empty where it is ${row.length}`, value: typed.length, offer: inMetres(actions.piece().job) },
      { name: "bad", label: "Bad stretches", hint: "from the end you measure from, such as 400..460; empty for none", value: typed.bad },
    ];
  };
  part(".other").addEventListener("click", async () => {
    const answer = await actions.ask({
      title: "Other length there",
      text: "What the yard has instead. The plan chooses again.",
      yes: "Plan with it",
      fields: [
        { name: "length", label: "Length", offer: inMetres(actions.piece().job) },
        { name: "price", label: "Price of one", hint: "or per unit, as 4.20 per m" },
        { name: "count", label: "How many there are", hint: "empty for any number", keys: "numeric" },
      ],
      wrong: (values) => actions.worksite.wrongLength(row.section, values),
    });
    if (answer !== null) await actions.worksite.otherLength({ section: row.section, ...answer.values });
  });
  part(".width").addEventListener("click", async () => {
    const { section } = row;
    const { width, measured } = actions.worksite.widthOf(section);
    const answer = await actions.ask({
      title: "Boards of another width",
      text: `What boards of ${section} measure across, the tongue or lap included. Set-outs and plan follow.`,
      yes: "Plan with it",
      fields: [{ name: "measured", label: "Width", hint: width ? `empty where it is ${width}, as sold` : "", value: measured }],
      wrong: (values) => actions.worksite.wrongWidth(section, values),
    });
    if (answer !== null) await actions.worksite.otherWidth(section, answer.values.measured);
  });

  element.fill = (line, report, progress, finished, price, own) => {
    sold = own;
    row = line;
    what = `${line.length} of ${line.section}`;
    const { count: done, marks = [] } = boughtOf(progress, line.line);
    ticked = marks.filter((mark) => mark && !isCut(report, progress, line.line, marks.indexOf(mark)));
    full = done >= Number(line.count);
    say(part(".count"), `${line.count} ×`);
    say(part(".length"), line.length);
    say(part(".section"), line.section);
    say(part(".each"), eachOf(line));
    say(part(".buy-cost"), line.cost || (isPriced(report) ? "no price" : ""));
    say(part(".bought"), full ? `✓ all ${line.count}` : `${done} of ${line.count} bought`);
    say(part(".yard-cuts"), line.yard_cuts.length > 0 ? `At the yard: ${line.yard_cuts.join(", ")}.` : "");
    show(part(".yard-cuts"), line.yard_cuts.length > 0);
    const cuts = report.boards.filter((_, index) => report.plan.boards[index].yard === line.line).map((board) => board.yard_cut);
    const worn = marks.map((mark, nth) => (mark && cuts[nth] ? `${mark} (cut at ${cuts[nth]})` : mark)).filter(Boolean);
    say(part(".marks"), worn.length > 0 && !finished ? `Write ${worn.join(", ")} on ${worn.length === 1 ? "its end" : "their ends"}.` : "");
    show(part(".marks"), !finished); // its room is there before the first is bought, so that no line moves under a finger
    const told = { was: price?.was || "no price", now: price?.now || "none" };
    say(part(".old-price p"), `Planned with the old price, ${told.was}; Timber says ${told.now} now.`);
    show(part(".old-price"), Boolean(price) && !finished);
    part(".tick").disabled = full || finished;
    element.classList.toggle("done", full);
    show(part(".bought"), !finished);
    show(part(".untick"), done > 0 && !finished);
    show(part(".open"), !finished);
    part(".open").setAttribute("aria-label", `Other price, or not as listed: ${what}`);
    if (finished) show(part(".buy-more"), false);
    show(part(".fields"), own !== null);
    if (own !== null) fields.update(own.specs, own.values, own.faultOf);
    for (const name of [".missing", ".other"]) show(part(name), !full);
    for (const name of [".measured", ".width"]) show(part(name), !full || ticked.length > 0);
  };
  return { element, update: () => {} };
}
