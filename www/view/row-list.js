// A list of rows of fields, updated in place: parts, shed boards, lengths at the yard. A row whose template has a toggle is folded to a
// line that sums it up.

import { make, patchInTurns, say, show, stamp } from "./dom.js";
import { lazyBlock } from "./field.js";

export class RowList {
  // `on` = { input(key, name, value), remove(key), copy?(key), enter?(), head?(key), shown?(element, row), opened?(element, row) }; `head` makes what is no
  // row between rows, the last two fill in what is a row's alone; `template` names the row's template.
  constructor(container, what, on, template = "t-row") {
    this.container = container;
    this.what = what;
    this.on = on;
    this.template = template;
    this.rows = new Map();
  }

  // `rows` = [{ key, place, values, specs, faultOf, note?, keys?, told?, rest? }]; `place` is the row's own place, `told` = { mark, main, of, more } is the
  // text of a folded row, `rest` = { names, specs, told } the fields that are folded away and what is said of them. `specs` are functions: what nobody
  // sees is not made.
  update(rows) {
    const turns = this.turns(rows);
    while (!turns.next().done);
  }

  // The same with pauses, for a list that may be long.
  *turns(rows) {
    const held = document.activeElement;
    const inside = this.container.contains(held);
    yield* patchInTurns(this.container, rows, (row) => row.key, (key) => this.on.head?.(key) ?? this.#row(key));
    // A row that went to another place keeps the focus.
    if (inside && held.isConnected && document.activeElement === document.body) held.focus({ preventScroll: true });
  }

  isOpen(key) {
    const element = this.rows.get(key)?.element;
    return Boolean(element?.isConnected) && !element.classList.contains("folded");
  }

  // Folds all other rows, so that a list stays short while it is being filled in.
  focus(key, name) {
    for (const [other, { fold, element }] of this.rows) if (element.isConnected) fold(other !== key);
    this.rows.get(key)?.block.focus(name);
  }

  #row(key) {
    const element = stamp(this.template);
    const part = (selector) => element.querySelector(selector);
    const input = (...given) => this.on.input(key, ...given);
    let latest = null;
    const block = lazyBlock(part(".cells"), input);
    const more = part("details.more");
    const rest = more && lazyBlock(more.querySelector(".fields"), input);
    const fill = () => latest !== null && this.#fill(element, latest, block, rest);
    more?.addEventListener("toggle", fill);
    const fold = folding(element, fill);
    this.rows.set(key, { block, fold, element });
    part(".remove").addEventListener("click", () => this.#remove(key, element));
    const copy = part(".copy");
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
        latest = row;
        if (row.place) element.dataset.row = row.place;
        element.setAttribute("aria-label", `${this.what} ${index + 1}`);
        if (row.told) tell(element, row);
        if (row.taken) element.dataset.taken = row.taken;
        this.on.shown?.(element, row);
        fill();
      },
    };
  }

  // The inside of a row, where it is open or something in it is faulty.
  #fill(element, row, block, rest) {
    const { values, faultOf, extra } = row;
    const open = !element.classList.contains("folded") || element.classList.contains("faulty");
    if (!open && !block.made) return;
    block.update(row.specs(), values, faultOf, extra);
    const note = element.querySelector(".row-note");
    if (note) noteIn(note, row);
    this.on.opened?.(element, row);
    if (rest) {
      const more = element.querySelector("details.more");
      const amiss = row.rest.names.some((name) => faultOf(name));
      say(more.querySelector("summary"), row.rest.told);
      if (amiss && !element.classList.contains("amiss")) more.open = true;
      element.classList.toggle("amiss", amiss);
      if (more.open || rest.made) rest.update(row.rest.specs(), values, faultOf, extra);
    }
    for (const field of element.querySelectorAll("input:not([enterkeyhint])")) field.enterKeyHint = "next";
  }

  // Enter goes to the next field that is written in, past a section that the piece has; behind the last of a row to the next row, and behind all of them to a new one.
  #goOn(input, key) {
    const fields = [...this.container.querySelectorAll("input")].filter((one) => one.checkVisibility());
    const next = fields.slice(fields.indexOf(input) + 1).find((one) => one.dataset.known !== "true");
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

function noteIn(note, row) {
  const fault = row.faultOf("");
  const message = fault?.message || row.note || "";
  say(note, message);
  if (fault) Object.assign(note, { tabIndex: -1 }).dataset.place = fault.place;
  note.classList.toggle("fault", fault !== null);
  show(note, message !== "");
}

// Folds and unfolds a row; a link from a list of faults unfolds it too.
function folding(element, opened) {
  const toggle = element.querySelector(".toggle");
  if (!toggle) return () => {};
  const fold = (folded) => {
    toggle.setAttribute("aria-expanded", String(!folded));
    element.classList.toggle("folded", folded);
    if (!folded) opened();
  };
  fold(true);
  element.unfold = () => fold(false);
  toggle.addEventListener("click", () => fold(toggle.getAttribute("aria-expanded") === "true"));
  return fold;
}

function tell(element, { names, faultOf, told }) {
  const faults = ["", ...names].map(faultOf).filter(Boolean);
  for (const name of ["mark", "main", "of"]) say(element.querySelector(`.toggle .${name}`), told[name]);
  say(element.querySelector(".toggle .more"), faults.length > 0 ? `To mend: ${faults[0].message}` : told.more);
  element.classList.toggle("faulty", faults.length > 0);
}

export const emptyLine = (text) => make("p", text, "empty");
