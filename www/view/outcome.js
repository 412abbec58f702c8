// The planner's result: its headline, how far from proven it is while it works, the aim, and what changed.

import { facts, find, lines, make, patch, say, show } from "./dom.js";
import { boughtIn } from "./buying.js";
import { faultList, showField } from "./faults.js";
import { toGive } from "../state/fault-places.js";
import { lengthless, toFinish } from "../state/job.js";
import { backToShed } from "../state/says.js";
import { isUnreadable, UNREADABLE } from "../state/work.js";
import { allBought, finishedOn, leftToBuy } from "../state/yard.js";

const GETTING_READY = "Getting ready …";

export function outcome(actions) {
  const faultLines = faultList(find("#outcome-faults"));
  const toFinishLines = faultList(find("#to-finish"), "");
  find("#stop").addEventListener("click", () => actions.stop());
  find("#strip-stop").addEventListener("click", () => actions.stop());
  // To the field that is to be filled in, or the set-out that lacks a size, where that is why nothing is planned.
  find("#way-on").addEventListener("click", (event) => {
    const { row, place } = waits ?? {};
    if (place) {
      event.preventDefault();
      showField(waits);
    }
    if (row !== undefined) addEventListener("hashchange", () => actions.acts.showSetOut(row), { once: true });
  });
  find("#strip-text").addEventListener("click", (event) => {
    if (document.body.dataset.place !== "plan") return;
    event.preventDefault();
    find("#h-buying").focus();
    find("#h-buying").scrollIntoView();
  });
  find("#begin-anew").addEventListener("click", () => actions.worksite.beginAnew());
  find("#afresh").addEventListener("click", () => actions.acts.planAfresh());
  find("#aim").addEventListener("change", (event) => actions.change(null, (piece) => (piece.job.aim = event.target.value)));

  let waits = null; // what is to be filled in first
  return (scene) => {
    waits = scene.lacking[0] ?? null;
    const working = Boolean(scene.running?.shown);
    const headline = headlineOf(scene);
    say(find("#headline"), headline);
    const slip = scene.place === "plan" ? slipText(scene) : "";
    say(find("#strip-text"), working && scene.report ? `Planning … ${headline}` : slip || headline);
    show(find(".strip"), scene.place !== "plan" || slip !== "");
    show(find("#working"), working);
    show(find("#strip-stop"), working);
    find("#outcome").dataset.outcome = scene.verdict?.outcome ?? "";
    const gap = gapText(scene.running);
    say(find("#gap"), gap);
    show(find("#gap"), working && gap !== "");
    patch(find("#explanation"), explanationOf(scene), (_, index) => index, () => {
      const element = make("p");
      return { element, update: (text) => say(element, text) };
    });
    const way = wayOn(scene);
    if (way !== null) find("#way-on").href = way;
    say(find("#way-on"), way === "#timber" ? "Go to Timber" : "Go to Piece");
    show(find("#way-on"), way !== null && way !== `#${scene.place}`);
    show(find("#unreadable"), isUnreadable(scene));
    faultLines(scene.stale || scene.report === null ? scene.told : []);
    toFinishLines(scene.piece.finished ? [] : toFinish(scene.store, scene.piece));
    const followed = scene.piece.finished ? [] : scene.followed;
    say(find("#followed"), followed.length ? `What changed: ${followed.join("; ")}.` : "");
    show(find("#followed"), followed.length > 0);
    for (const radio of find("#aim").querySelectorAll("input")) {
      radio.checked = radio.value === (scene.piece.job.aim ?? "fewest");
      const figures = radio.parentElement.querySelector("small");
      say(figures, aimText(scene, radio.value));
    }
    const { unit, yard } = scene.piece.job;
    say(find("#aim-length"), ["in", "ft"].includes(unit) ? "Feet bought" : "Metres bought");
    const only = scene.choices.only && !scene.stale && !scene.leg;
    say(find("#only-plan"), only ? scene.choices.note : "");
    show(find("#only-plan"), only);
    show(find("#no-prices"), yard.length > 0 && yard.every((line) => String(line.price ?? "").trim() === ""));
    show(find("#aim"), !scene.piece.finished && !isUnreadable(scene));
    show(find("#plan-body"), scene.report !== null);
    if (scene.report) fill(scene.report, scene.piece);
  };
}

// How far the buying list is, for the way to it from anywhere at the Plan; empty where there is nothing to buy.
function slipText({ report, leg, piece, car }) {
  const rows = report?.buying.rows ?? [];
  if (rows.length === 0 || piece.finished) return "";
  const inCar = car.totals.find((total) => total.key === "count")?.amount;
  const left = leftToBuy(report, leg);
  return [left > 0 ? `Buying list: ${left} left` : "Buying list: all bought", inCar && `${inCar} in the car`].filter(Boolean).join(", ");
}

// What a plan with an aim comes to, or why that is not known; of what is left to buy, where some was bought for an earlier plan.
function aimText({ aims, piece, stale }, aim) {
  const { text = "", known } = (!stale && aims[aim]) || {};
  const before = piece.work?.legs.slice(0, -1) ?? [];
  return known && before.some(({ progress }) => progress.bought.length > 0) ? `from here on ${text}` : text;
}

function fill(report, piece) {
  const open = report.proof.filter((proof) => !proof.proven);
  const proven = report.proof.filter((proof) => proof.proven);
  lines(find("#why"), [...(report.why ?? []), ...(report.shares ?? [])]);
  lines(find("#prices"), report.prices ?? []);
  patch(find("#proof"), open, (_, index) => index, proofLine);
  patch(find("#proven"), proven, (_, index) => index, proofLine);
  show(find("#proven-all"), proven.length > 0);
  say(find("#proven-sum"), open.length > 0 ? "The other figures: no plan does better" : "No plan does better: the figures");
  lines(find("#back-to-shed"), backToShed(piece, report).map(backLine));
  say(find("#scrap"), report.scrap?.text ?? "");
  lines(find("#spoiled"), report.spoiled ?? []);
  show(find("#spoiled-more"), (report.spoiled ?? []).length > 0);
  lines(find("#cautions"), report.cautions);
  show(find("#cautions-section"), report.cautions.length > 0);
  facts(find("#totals"), report.totals);
}

function backLine({ length, section, mark, of, from, flaws }) {
  const known = of ? `rest of ${of}` : mark && `marked ${unbroken(mark)}`;
  return `${[length, section, known, flaws].filter(Boolean).join(", ")}${from ? ` (from ${from})` : ""}`;
}

// A mark is written on wood exactly as it is read here, so no line may break after its hyphen (the joiner has no width).
const unbroken = (mark) => String(mark).replaceAll("-", "-\u2060");

function proofLine() {
  const element = make("p", "", "proof");
  return {
    element,
    update: (proof) => {
      element.classList.toggle("proven", proof.proven === true);
      say(element, proof.text);
    },
  };
}

export function headlineOf(scene) {
  const { verdict, piece, reading } = scene;
  if (piece.finished) return finishedOn(piece) ? `Finished on ${finishedOn(piece)}; its offcuts are in the shed` : "Finished; its offcuts are in the shed";
  if (!scene.leg && piece.job.parts.length + piece.job.set_outs.length === 0) return "Nothing to plan yet: add a set-out or a part";
  if (!scene.ready) return GETTING_READY;
  if (isUnreadable(scene)) return verdict.headline;
  const wants = wanting(scene);
  if (wants !== null) return wants;
  if (verdict?.outcome === "nothing" || (!scene.leg && reading.parts.length === 0)) return "Nothing to plan yet";
  if (scene.report && allBought(scene.report, piece)) return `All ${scene.car.totals.find((total) => total.key === "count")?.amount ?? ""} bought`.replace("  ", " ");
  return scene.report?.headline ?? verdict?.headline ?? (scene.running ? "Planning …" : GETTING_READY);
}

// Why no plan can be made, null where one can. What is typed while a plan is being carried out does not affect it.
function wanting(scene) {
  const { leg, verdict, faults, lacking } = scene;
  if (leg) return verdict?.outcome === "faults" ? "What is left to cut cannot be planned" : null;
  if (faults.size === 0 && lacking.length > 0) return `Give ${toGive(lacking[0])}`;
  if (verdict?.outcome === "faults" || faults.size > 0) return faults.size < 2 ? "One thing to put right" : `${faults.size} things to put right`;
  const [bare] = lengthless(scene);
  return bare === undefined ? null : `Give a length of ${bare} that the yard sells`;
}

// Where to begin while there is nothing to plan, null otherwise.
export function wayOn(scene) {
  const { piece, leg, lacking, faults } = scene;
  if (!piece.finished && lengthless(scene).length > 0) return "#timber";
  if (piece.finished || leg) return null;
  if (piece.job.parts.length + piece.job.set_outs.length === 0) return "#piece";
  return faults.size === 0 && lacking.length > 0 ? `#${lacking[0].goes}` : null;
}

function explanationOf(scene) {
  const { verdict, stale, report, piece, leg, faults, lacking } = scene;
  if (!verdict || piece.finished || lengthless(scene).length > 0) return [];
  if (verdict.outcome === UNREADABLE) return [...verdict.explanation, ...knownOf(piece)];
  const after = stale && report ? ["The plan below is the one from before."] : [];
  // A job that is left of a piece under way has no fields on the page. What is only to be filled in is in the headline.
  const untold = stale && (leg || (faults.size === 0 && lacking.length === 0));
  const what = leg ? "What is left to cut" : "This piece";
  const left = untold ? verdict.faults.map((fault) => `${what} cannot be planned: ${faultOfLeft(fault, leg)}.`) : [];
  if (left.length > 0 && leg) left.push("Undo what went wrong last, or give the yard another length in Timber and choose “Plan what is left with this timber”.");
  const bought = report && allBought(report, piece) ? ["All of it is in the car."] : [];
  return [...left, ...bought, ...(verdict.explanation ?? []), ...(scene.chosen?.told ?? []), ...after];
}

// A fault in the job that is left, which has no fields on the page, by the name of what it is about.
function faultOfLeft({ list, row, message, text }, leg) {
  const one = leg?.job[list]?.[row];
  const name = { parts: one?.label || "a part", sections: one?.name, shed: one?.mark && `board ${one.mark}`, yard: one?.section && `a length of ${one.section}` }[list];
  return one && name ? `${[name, ["parts", "shed", "yard"].includes(list) && one.length].filter(Boolean).join(", ")}: ${message}` : text;
}

// What is known of the work without its plan.
function knownOf({ work }) {
  const ticked = work.legs.at(-1).progress.boards.filter((board) => board.steps > 0).length;
  const bought = boughtIn(work.legs).map((text) => `Bought: ${text}.`);
  const cut = ticked > 0 ? [`${ticked} ${ticked === 1 ? "board has" : "boards have"} cuts ticked; which parts they made was written in the plan.`] : [];
  return [...bought, ...cut, "The piece and the shed are as they were."];
}

// How far each group is from proven, in the engine's own words where there are any.
function gapText(running) {
  if (!running) return "";
  const texts = [...running.levels.values()].flat().map((level) => level.text).filter(Boolean);
  return texts.join("; ");
}

