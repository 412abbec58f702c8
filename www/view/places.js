// The four places. The address says which one is open, so the device's back button works. On a wide screen the plan stays in view beside
// Piece and Timber.

import { find, say } from "./dom.js";
import { lengthless } from "../state/job.js";
import { boardsDone, doneBefore, UNREADABLE } from "../state/work.js";
import { allBought, leftToBuy } from "../state/yard.js";
import { nameOf } from "../state/pieces.js";

const PLACES = ["piece", "timber", "plan", "saw"];

// What stands beside a place that is opened is laid out a moment after it, so that neither makes the other wait.
function comes(beside) {
  beside.classList.add("comes");
  requestAnimationFrame(() => setTimeout(() => beside.classList.remove("comes")));
}

// Addresses within a place, each with the heading it leads to.
const WITHIN = { shed: ["timber", "#h-shed"], yard: ["plan", "#h-buying"] };

export function places(actions) {
  let heading = null; // what is still to be led to, once it is there
  const left = new Map(); // how far down each place was when it was left
  const go = (event) => {
    const wanted = location.hash.slice(1);
    const [within, its] = WITHIN[wanted] ?? [];
    const place = within ?? (PLACES.includes(wanted) ? wanted : document.body.dataset.place);
    heading = its ?? null;
    const before = document.body.dataset.place;
    const moved = before !== place;
    if (moved) left.set(before, find("#main").scrollTop);
    if (moved && event) comes(find("#place-plan"));
    document.body.dataset.place = place;
    for (const link of document.querySelectorAll("nav.places a")) {
      if (link.dataset.goes === place) link.setAttribute("aria-current", "page");
      else link.removeAttribute("aria-current");
    }
    if (event) actions.placeChanged();
    if (event && moved) {
      find("#main").scrollTop = left.get(place) ?? 0;
      find("#main").focus({ preventScroll: true });
    }
  };
  const lead = () => {
    if (heading === null) return;
    const there = find(heading);
    heading = null;
    if (!there.checkVisibility()) return;
    there.focus({ preventScroll: true });
    there.scrollIntoView({ block: "start" });
  };
  addEventListener("hashchange", go);
  go();

  let of = null;
  return (scene) => {
    if (of !== scene.piece.id) left.clear();
    of = scene.piece.id;
    if (heading !== null && scene.ready && !scene.busy) actions.whenShown(lead);
    const { piece, reading, report } = scene;
    const boards = report?.boards ?? [];
    say(find("#piece-title"), nameOf(piece));
    document.title = `${nameOf(piece)} – Lengthwise`;
    say(find("#piece-count"), scene.ready ? partsOf(reading) : UNKNOWN);
    say(find("#timber-count"), counted(piece.job.sections.length, "section", "sections"));
    say(find("#plan-count"), shortOf(scene));
    const before = doneBefore(piece);
    const cut = before + (scene.leg ? boardsDone(scene.leg.progress, boards) : 0);
    const unknown = !report && (!scene.ready || scene.busy);
    say(find("#saw-count"), unknown ? UNKNOWN : cut > 0 ? `${cut} of ${before + boards.length} cut` : counted(boards.length, "board", "boards"));
  };
}

// A count that is not worked out yet is not zero; its room is kept.
const UNKNOWN = "\u00a0";

// What is faulty comes first: it counts for nothing until it is put right.
function partsOf({ parts }) {
  const faulty = parts.filter((part) => part.faulty).length;
  const count = parts.reduce((all, part) => all + (part.faulty ? 0 : Number(part.quantity || 0)), 0);
  return faulty > 0 ? `${faulty} to mend` : counted(count, "part", "parts");
}

const counted = (number, one, many) => `${number} ${number === 1 ? one : many}`;

// The plan's result in two words.
function shortOf(scene) {
  const { verdict, report, piece, faults, ready, busy } = scene;
  if (piece.finished) return "finished";
  if (verdict?.outcome === "faults") return faults.size > 0 ? "faults" : "not ready";
  if (verdict?.outcome === "impossible") return lengthless(scene).length > 0 ? "lengths to give" : "impossible";
  if (verdict?.outcome === UNREADABLE) return "not readable";
  if (!report) return ready && !busy ? "nothing yet" : UNKNOWN;
  if (allBought(report, piece)) return "all bought";
  return report.buying.rows.length === 0 ? "all in shed" : `${leftToBuy(report, scene.leg)} to buy`;
}
