// Paper: buying list, drawing, saw sheets, set-outs and labels, laid out anew for A4 or Letter. The sheets are made when the browser is
// about to print, so its own print command gives the same.

import { find, make } from "./dom.js";
import { sheets } from "./sheets.js";

export function printing(actions) {
  const dialog = find("#print-dialog");
  const paper = find("#paper");
  const size = new CSSStyleSheet();
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
    size.replaceSync(`@page { size: ${chosen("paper")[0]}; margin: 14mm 12mm; ${foot(actions.piece().job.piece)} }`);
    const report = actions.report();
    const wanted = chosen("sheet").filter((what) => what === "set-outs" || report !== null);
    const made = wanted.flatMap((what) => sheets[what](actions.piece().job, report, actions.readings(), actions.piece()));
    paper.replaceChildren(...(made.length ? made : [make("p", "There is nothing to print yet.")]));
  };
  addEventListener("beforeprint", lay);
  addEventListener("afterprint", () => paper.replaceChildren());
}

// Sheets may get separated in a workshop: each names its piece and what it is.
function foot(name) {
  const quoted = JSON.stringify((name || "Unnamed piece").replace(/\s+/g, " "));
  const font = "font: 9pt system-ui, sans-serif";
  return `@bottom-left { content: ${quoted}; ${font}; } @bottom-right { content: "page " counter(page) " of " counter(pages); ${font}; }`;
}
