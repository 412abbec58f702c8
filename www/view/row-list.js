// A list of rows of fields, updated in place: parts, shed boards, lengths at the yard. A row whose template has a toggle is folded to a
// line that sums it up.

import { make, patch, say, show, stamp } from "./dom.js";
import { fieldBlock } from "./field.js";

export class RowList {
  // `on` = { input(key, name, value), remove(key), copy?(key), enter?() }; `template` names the row's template.
  constructor(container, what, on, template = "t-row") {
    this.container = container;
    this.what = what;
    this.on = on;
    this.template = template;
    this.rows = new Map();
  }

  // `rows` = [{ key, values, specs, faultOf, note?, keys?, told?, rest? }]; `told` = { mark, main, of, more } is the text of a folded row, `rest` =
  // { specs, told } the fields that are folded away and what is said of them.
  update(rows) {
    patch(this.container, rows, (row) => row.key, (key) => this.#row(key));
  }

  // Folds all other rows, so that a list stays short while it is being filled in.
  focus(key, name) {
    for (const [other, { fold }] of this.rows) fold(other !== key);
    this.rows.get(key)?.block.focus(name);
  }

  #row(key) {
    const element = stamp(this.template);
    const block = fieldBlock(element.querySelector(".cells"), (name, value) => this.on.input(key, name, value));
    const more = element.querySelector("details.more");
    const rest = more && fieldBlock(more.querySelector(".fields"), (name, value) => this.on.input(key, name, value));
    const fold = folding(element);
    this.rows.set(key, { block, fold });
    const note = element.querySelector(".row-note");
    element.querySelector(".remove").addEventListener("click", () => this.#remove(key, element));
    const copy = element.querySelector(".copy");
    if (copy && this.on.copy) copy.addEventListener("click", () => this.on.copy(key));
    else copy?.remove();
    element.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" || event.target.tagName !== "INPUT") return;
      event.preventDefault();
      this.#goOn(event.target, key);
    });
    return {
      element,
      update: (row, index) => {
        element.setAttribute("aria-label", `${this.what} ${index + 1}`);
        block.update(row.specs, row.values, row.faultOf, row.extra);
        if (rest) {
          const amiss = row.rest.specs.some(({ name }) => row.faultOf(name));
          rest.update(row.rest.specs, row.values, row.faultOf, row.extra);
          say(more.querySelector("summary"), row.rest.told);
          if (amiss && !element.classList.contains("amiss")) more.open = true;
          element.classList.toggle("amiss", amiss);
        }
        for (const input of element.querySelectorAll("input:not([enterkeyhint])")) input.enterKeyHint = "next";
        if (row.told) tell(element, row);
        if (note) {
          const fault = row.faultOf("");
          const message = fault?.message || row.note || "";
          say(note, message);
          if (fault) Object.assign(note, { tabIndex: -1 }).dataset.place = fault.place;
          note.classList.toggle("fault", fault !== null);
          show(note, message !== "");
        }
      },
    };
  }

  // Enter goes to the next field that is written in; behind the last of a row to the next row, and behind all of them to a new one.
  #goOn(input, key) {
    const fields = [...this.container.querySelectorAll("input")].filter((one) => one.checkVisibility());
    const next = fields[fields.indexOf(input) + 1];
    if (!next) return this.on.enter?.(key);
    next.focus();
    // What stands there is typed over, as it is on coming with the tab key.
    return next.select();
  }

  // After a removal the focus goes to the row that took its place, so that a keyboard user is not sent back to the start.
  #remove(key, element) {
    const next = element.nextElementSibling ?? element.previousElementSibling;
    this.on.remove(key);
    const target = element.isConnected ? element : next;
    const [toggle, remove] = [".toggle", ".remove"].map((name) => (target?.isConnected ? target.querySelector(name) : null));
    (toggle?.checkVisibility() ? toggle : remove)?.focus();
  }
}

// Folds and unfolds a row; a link from a list of faults unfolds it too.
function folding(element) {
  const toggle = element.querySelector(".toggle");
  if (!toggle) return () => {};
  const fold = (folded) => {
    toggle.setAttribute("aria-expanded", String(!folded));
    element.classList.toggle("folded", folded);
  };
  fold(true);
  element.unfold = () => fold(false);
  toggle.addEventListener("click", () => fold(toggle.getAttribute("aria-expanded") === "true"));
  return fold;
}

function tell(element, { specs, faultOf, told }) {
  const faults = ["", ...specs.map((spec) => spec.name)].map(faultOf).filter(Boolean);
  for (const name of ["mark", "main", "of"]) say(element.querySelector(`.toggle .${name}`), told[name]);
  say(element.querySelector(".toggle .more"), faults.length > 0 ? `To mend: ${faults[0].message}` : told.more);
  element.classList.toggle("faulty", faults.length > 0);
}

export const emptyLine = (text) => make("p", text, "empty");
