// Paper: buying list, drawing, saw sheets, set-outs and labels, laid out anew for A4 or Letter. The sheets are made when the browser is
// about to print, so its own print command gives the same.

import { find, make } from "./dom.js";
import { currentLeg } from "../state/work.js";
import { everyPart } from "../state/made.js";
import { Drawn } from "../state/look.js";
import { sheets } from "./sheets.js";
import { dayOf } from "../state/yard.js";
import { nameOf } from "../state/pieces.js";

// How the whole is drawn on paper: from two corners that together show all four sides, pulled apart, and in three views.
const LOOKS = [{ how: "whole", corner: 0 }, { how: "whole", corner: 2 }, { how: "apart", corner: 0 }, { how: "views" }];
const WITHOUT_PLAN = ["set-outs", "picture", "order"];

export function printing(actions) {
  const dialog = find("#print-dialog");
  const paper = find("#paper");
  const size = new CSSStyleSheet();
  let looks = [];
  const drawn = new Drawn((request) => actions.call("picture", request), (now) => (looks = now.looks));
  document.adoptedStyleSheets.push(size);
  find("#menu-print").addEventListener("click", () => {
    find("#menu-dialog").close();
    dialog.showModal();
  });
  find("#print-now").addEventListener("click", () => {
    dialog.close();
    print();
  });
  const chosen = (name) => [...dialog.querySelectorAll(`input[name=${name}]:checked`)].map((box) => box.value);
  const lay = () => {
    size.replaceSync(`@page { size: ${chosen("paper")[0]}; margin: 14mm 12mm; ${foot(nameOf(actions.piece()))} }`);
    const report = actions.report();
    const wanted = chosen("sheet").filter((what) => WITHOUT_PLAN.includes(what) || report !== null);
    const made = wanted.flatMap((what) => sheets[what](actions.piece().job, told(report, what), actions.readings(), actions.piece(), looks, actions.savings(), actions.chosen(), actions.choices()));
    paper.replaceChildren(...(made.length ? made : [make("p", "There is nothing to print yet.")]));
  };
  // What is known of the whole work: the marks that the saw told, and for the labels every part, those of earlier plans too.
  const told = (report, what) => {
    if (report === null) return null;
    const [piece, rows] = [actions.piece(), actions.readings().parts];
    const legend = what === "labels" ? everyPart(piece, currentLeg(piece), report.legend, rows) : report.legend;
    const boards = report.boards.map((board, at) => ({ ...board, mark: actions.worksite.markOf(at) }));
    return { ...report, boards, legend, keeps: keepsOf(report), sum: actions.worksite.sum };
  };
  const keepsOf = ({ boards }) => boards.map((_, at) => actions.worksite.keepsOf(at));
  addEventListener("beforeprint", lay);
  addEventListener("afterprint", () => paper.replaceChildren());

  // A browser that prints waits for nothing, so the drawings are made as soon as nobody types: while it is planned.
  return ({ ready, busy, running, piece, report }) => {
    if (report !== null && piece.work && !busy) {
      keepsOf(report);
      void actions.worksite.sum;
    }
    if (!ready || (busy && running === null)) return;
    if (piece.job.set_outs.length === 0) looks = [];
    else drawn.want(piece, actions.shown(), LOOKS)?.catch((error) => actions.tell(error.message, { id: "picture" }));
  };
}

// Sheets may get separated in a workshop: each names its piece, what it is, and its day.
function foot(name) {
  const quoted = JSON.stringify(name.replace(/\s+/g, " "));
  const font = "font: 9pt system-ui, sans-serif";
  return `@bottom-left { content: ${quoted}; ${font}; } @bottom-center { content: ${JSON.stringify(dayOf(Date.now()))}; ${font}; } @bottom-right { content: "page " counter(page) " of " counter(pages); ${font}; }`;
}
