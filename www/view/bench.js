// What comes next at the saw, large and always in reach: the reading, what comes off there, and the button that says it is cut. With the arrow keys as well.

import { find, make, say, show } from "./dom.js";
import { pieceKept } from "./board.js";
import { madeSoFar } from "../state/made.js";
import { boardDone, boardProgress } from "../state/work.js";

export function bench(actions, { go, step: stepBoard, finish }) {
  const [cut, next] = [find("#bench-cut"), find("#bench-next")];
  let now = null; // the board at hand, how far it is, and the next board with cuts to make

  // A wet glass takes one touch for two, and the second cut would pass unread. So for a moment after a tick there is no other; whoever
  // waits until the bench no longer `rests`, as tests do, ticks the next.
  const rests = new Rests(find("#bench"));
  const tick = (by) => {
    const steps = now.done.steps + by;
    if (now.finished || steps < 0 || steps > now.board.steps.length || !rests.begin()) return;
    actions.worksite.tick(now.at, steps);
  };
  cut.addEventListener("click", () => tick(1));
  // A key that is held down counts once.
  cut.addEventListener("keydown", (event) => event.repeat && event.preventDefault());
  next.addEventListener("click", () => (now.after === undefined ? finish() : go(now.after)));
  document.addEventListener("keydown", (event) => {
    const by = { ArrowDown: 1, ArrowUp: -1, ArrowRight: 1, ArrowLeft: -1 }[event.key];
    const free = event.target === document.body || event.target.closest("#main")?.contains(event.target);
    const typing = event.target.closest("input, select, textarea, dialog, [tabindex='0']");
    if (!by || !free || typing || event.altKey || event.ctrlKey || event.metaKey || now === null || document.body.dataset.place !== "saw" || !find("#bench").checkVisibility()) return;
    event.preventDefault();
    // Up and down the list of cuts; left and right as the buttons beside the board's name, and from a board that is cut on to the next.
    if (event.repeat) return;
    if (["ArrowDown", "ArrowUp"].includes(event.key)) tick(by);
    else if (by > 0 && !next.hidden && now.after !== undefined) go(now.after);
    else stepBoard(by);
  });

  const tell = aloud();
  return ({ report, leg, piece, place }, at, progress, keeps, end) => {
    const board = report.boards[at];
    const done = boardProgress(progress, at);
    const finished = Boolean(piece.finished);
    const first = report.boards.findIndex((other, index) => index !== at && !boardDone(progress, index, other));
    const after = first < 0 ? undefined : first;
    now = { at, board, done, finished, after };
    const step = board.steps[done.steps];
    const then = board.steps[done.steps + 1];
    show(find("#bench"), !finished);
    show(find("#bench-reading"), Boolean(step?.reading));
    say(find("#bench-reading"), step ? `${step.rounded ? "≈" : ""}${step.reading}` : "");
    const cutNow = after === undefined ? "Every board is cut." : "This board is cut.";
    say(find("#bench-what"), step ? [step.letter, step.label, step.part_length].filter(Boolean).join("  ") : cutNow);
    say(find("#bench-then"), then ? `then ${[then.reading, then.letter, then.label].filter(Boolean).join("  ")}` : "");
    // All that is said of this cut: an angle or a warning is not for the list alone.
    const marks = keeps.map((one) => `Write ${one.mark} on the ${pieceKept(one)} that you keep.`);
    // Until a line is marked it is also said which end of a rest that is.
    say(find("#bench-hook"), [step?.hooked, done.steps === 0 && end].filter(Boolean).join(": "));
    say(find("#bench-how"), step ? step.says.join("; ") : marks.join(" "));
    say(find("#bench-caution"), step?.caution ?? "");
    const { made, left } = madeSoFar(piece, leg, report.boards);
    say(find("#bench-count"), `${sum(made)} of ${sum(made) + sum(left)} parts cut`);
    if (place === "saw" && !finished) tell(step, step ? [step.rounded ? "about" : "", step.reading, step.hooked, step.letter, step.label, step.caution].filter(Boolean).join(", ") : cutNow);
    show(cut, Boolean(step));
    say(cut, step?.part_length || step?.reading ? "Cut" : "Done");
    show(next, !step);
    say(next, after === undefined ? "Piece is finished" : `Next board: ${after + 1}`);
  };
}

// Says each next cut once, on wish, with a voice that the device has itself: a voice from elsewhere would need a network, and would hear what is built.
function aloud() {
  const box = find("#aloud");
  const speech = globalThis.speechSynthesis;
  let said = null;
  const voice = () => speech.getVoices().find((one) => one.localService && one.lang.startsWith("en"));
  const offer = () => show(find("#aloud-label"), voice() !== undefined);
  if (speech) {
    offer();
    speech.addEventListener?.("voiceschanged", offer);
  }
  box.addEventListener("change", () => (box.checked ? (said = null) : speech.cancel()));
  return (of, text) => {
    if (!box.checked || said === of) return;
    said = of;
    speech.cancel();
    speech.speak(Object.assign(new SpeechSynthesisUtterance(text), { voice: voice(), lang: "en" }));
  };
}

// Whether so little time has passed since the last tick that another touch is no touch.
class Rests {
  #element;

  constructor(element) {
    this.#element = element;
  }

  begin() {
    if (this.#element.hasAttribute("data-rests")) return false;
    this.#element.setAttribute("data-rests", "");
    setTimeout(() => this.#element.removeAttribute("data-rests"), REST);
    return true;
  }
}

// Milliseconds. Two touches of one finger that are both meant are further apart (tried, no source).
const REST = 350;

const sum = (counts) => [...counts.values()].reduce((all, count) => all + count, 0);
