// The saw: one board at a time, or equal settings over all boards. The screen is kept on.

import { bench } from "./bench.js";
import { boardView, pieceKept } from "./board.js";
import { sawPicture } from "./saw-picture.js";
import { find, make, patch, say, show } from "./dom.js";
import { headlineOf, wayOn } from "./outcome.js";
import { backToShed, cameOf, numberBefore, restWords } from "../state/says.js";
import { BoardAtHand } from "../state/at-hand.js";
import { boardDone, boardProgress, boardsDone, noProgress } from "../state/work.js";
import { finishedOn, leftToBuy } from "../state/yard.js";

export function sawPlace(actions) {
  const showBoard = boardView(actions);
  const showPicture = sawPicture(actions);
  const showBench = bench(actions, { go: (index) => { go(index); find("#main").scrollTop = 0; }, step: (by) => boardAt(here() + by), finish: () => finish() });
  const choice = find("#board-choice");
  const grouped = find("#group-settings");
  const hand = new BoardAtHand();
  let scene = null;
  const here = () => hand.of(scene.report?.boards.length ?? 0);
  const go = (index) => {
    hand.take(index);
    fill();
  };
  const boardAt = (index) => index >= 0 && index < scene.report.boards.length && go(index);
  find("#board-before").addEventListener("click", () => go(here() - 1));
  find("#board-after").addEventListener("click", () => go(here() + 1));
  choice.addEventListener("change", () => go(choice.selectedIndex));
  grouped.addEventListener("change", () => fill());
  find("#went-wrong").addEventListener("click", () => actions.acts.openWrong(scene.report.boards[here()], here(), scene));
  const planAfresh = async () => {
    const text = "What was ticked as bought and cut is forgotten, and the whole piece is planned again.";
    if (await actions.ask({ title: "Plan afresh?", text, yes: "Plan afresh" })) actions.worksite.planAfresh();
  };
  find("#plan-afresh").addEventListener("click", planAfresh);
  const finish = async () => {
    const { boards } = scene.report;
    const done = boardsDone(scene.leg?.progress ?? noProgress(), boards);
    const cut = done === boards.length ? "" : done === 0 ? "No board is ticked as cut. " : `Only ${done} of ${boards.length} boards are ticked as cut. `;
    const title = cut ? "Finished all the same?" : "The piece is finished?";
    const back = toWrite();
    const text = `${cut}Its boards leave the shed, and the offcuts worth keeping come back with their length${back.length > 0 ? ". These go to the shed, each with its mark on an end:" : "."}`;
    if (await actions.ask({ title, text, list: back, yes: "Put the offcuts in the shed" })) {
      // What is cut was bought, whether or not it was ticked.
      if (cut === "" && leftToBuy(scene.report, scene.leg) > 0) await actions.worksite.buyAll();
      actions.worksite.finish();
    }
  };
  find("#finish").addEventListener("click", finish);

  function fill() {
    const boards = scene.report?.boards ?? [];
    const progress = scene.leg?.progress ?? noProgress();
    show(find("#saw-empty"), boards.length === 0);
    show(find("#saw-body"), boards.length > 0);
    if (boards.length === 0) return empty();
    const at = here();
    const names = boards.map((board, index) => `${index + 1}: ${shortTitle(board, actions.worksite.markOf(index))}${boardDone(progress, index, board) ? " ✓" : ""}`);
    if ([...choice.options].map((option) => option.text).join("\n") !== names.join("\n")) choice.replaceChildren(...names.map((name) => new Option(name)));
    choice.selectedIndex = at;
    find("#board-before").disabled = at === 0;
    find("#board-after").disabled = at === boards.length - 1;
    show(find(".saw-head"), !grouped.checked);
    show(find("#settings"), grouped.checked);
    show(find("#board"), !grouped.checked);
    const keeps = scene.place === "saw" ? actions.worksite.keepsOf(at) : [];
    if (grouped.checked) show(find("#bench"), false);
    else showBench(scene, at, progress, keeps, freshRest(scene, at)?.end);
    if (grouped.checked) show(find("#saw-picture"), false);
    else showPicture(scene, boards[at], at);
    if (grouped.checked) patch(find("#settings"), settingsOf(boards), (one) => one.key, settingLine);
    else showBoard(boards[at], at, progress, {
      mark: actions.worksite.markOf(at), was: numberBefore(scene.piece, scene.leg, at), finished: Boolean(scene.piece.finished), restOf: freshRest(scene, at), keeps, marking: scene.report.marking,
      lit: scene.lit, leg: scene.leg,
    });
    const { piece } = scene;
    show(find("#plan-afresh"), Boolean(piece.work) && !piece.finished);
    find("#finish").disabled = Boolean(piece.finished);
    find("#finish").classList.toggle("strong", boardsDone(progress, boards) === boards.length);
    const on = finishedOn(piece) ? ` on ${finishedOn(piece)}` : "";
    say(find("#finish"), piece.finished ? `Finished${on}; its offcuts are in the shed` : "Piece is finished");
    find("#went-wrong").disabled = Boolean(piece.finished);
  }

  // What to write on what goes to the shed, by board, and what is wrong with it; what has been written on an offcut of an earlier plan is on it.
  function toWrite() {
    const { report, piece } = scene;
    const flaws = ({ flaws: told }) => (told ? `, ${told}` : "");
    const kept = (at) => report.back_to_shed.filter(({ board }) => board === at);
    const cut = report.boards.flatMap((board, at) => actions.worksite.keepsOf(at).map((one, nth) => `Board ${at + 1}: write ${one.mark} on the ${pieceKept(one)}, ${board.section}${flaws({ ...kept(at)[nth] })}`));
    const lying = backToShed(piece, report).filter(({ from, mark }) => from === "" && mark !== "");
    return [...cut, ...lying.map((one) => `${one.mark} of ${one.length}, ${one.section}, has its mark${flaws(one)}`)];
  }

  // No board to cut: says why, and where to go.
  function empty() {
    const way = find("#saw-way-on");
    say(find("#saw-why"), headlineOf(scene));
    way.href = wayOn(scene) ?? "#plan";
    say(way, { "#piece": "Go to Piece", "#timber": "Go to Timber" }[way.hash] ?? "Go to Plan");
    show(way, scene.ready && !scene.busy);
  }

  // The index of the rest of the board at hand in the new plan; the first board where the rest is no longer used.
  function restOf(board, { report, leg }) {
    actions.worksite.atHand = null;
    find("#main").scrollTop = 0;
    const rests = report.plan.boards.map((planned, index) => {
      const came = cameOf(scene.piece, leg, planned.shed);
      return ["rest", "carried"].includes(came?.how) && report.boards[index].section === board.section ? came : null;
    });
    // Nothing was cut yet of a board that keeps its mark. Of several rests it is the one in hand.
    const marked = (came, index) => board.mark && (came?.of === board.mark || report.boards[index].mark === board.mark);
    const found = [(came, index) => marked(came, index) && came?.in_hand, marked, (came) => came !== null].map((is) => rests.findIndex(is));
    return found.find((index) => index >= 0) ?? 0;
  }

  const showNow = (now) => {
    const changed = scene?.report !== now.report;
    scene = now;
    const legs = now.piece.work?.legs.length ?? 0;
    hand.follow(now.piece.id, legs);
    // What went wrong was undone before its new plan was there.
    if (actions.worksite.atHand !== null && actions.worksite.atHand.legs !== legs) actions.worksite.atHand = null;
    if (changed && actions.worksite.atHand !== null && now.leg?.plan) hand.take(restOf(actions.worksite.atHand, now));
    if (now.report !== null && now.leg?.plan) hand.begin(now.report.boards.map((board, at) => ({ begun: boardProgress(now.leg.progress, at).steps > 0, done: boardDone(now.leg.progress, at, board) })));
    fill();
  };
  return { show: showNow, acts: { planAfresh } };
}

// The title for a narrow list of boards; the heading below it says the rest.
const shortTitle = (board, mark) => (board.mark ? `${board.bought ? "" : "Shed "}${board.mark}, ${board.length}` : [mark, `New ${board.length}`].filter(Boolean).join(": "));

// Which board this one is a rest of, and on which end its tape is hooked, where it was cut during this work and is not finished; else null.
function freshRest({ piece, leg, report }, at) {
  const came = leg?.plan ? cameOf(piece, leg, report.plan.boards[at]?.shed) : null;
  return came && restWords(came) !== "" && came.how !== "bought" && !piece.finished ? { of: restWords(came), end: came.end ?? "" } : null;
}

// Equal settings of all boards, in the order in which they first occur.
export function settingsOf(boards) {
  const found = new Map();
  boards.forEach((board, index) => {
    for (const setting of board.settings) {
      const key = `${board.section}: ${setting.length}`;
      const one = found.get(key) ?? { key, section: board.section, length: setting.length, count: 0, labels: new Set(), boards: [] };
      one.count += Number(setting.count);
      for (const label of [setting.labels].flat()) one.labels.add(label);
      one.boards.push(`board ${index + 1}`);
      found.set(key, one);
    }
  });
  return [...found.values()];
}

function settingLine() {
  const element = make("article", "", "card setting");
  const length = element.appendChild(make("b", "", "reading"));
  const what = element.appendChild(make("p"));
  const where = element.appendChild(make("p", "", "about"));
  return {
    element,
    update: (one) => {
      say(length, one.length);
      say(what, `${one.count} ×, ${[...one.labels].join(", ")}`);
      say(where, `${one.section}: ${one.boards.join(", ")}`);
    },
  };
}
