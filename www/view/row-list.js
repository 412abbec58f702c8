// A list of rows of fields, patched in place: parts, shed boards, lengths at the yard.

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

  // `rows` = [{ key, values, specs, faultOf, note?, keys? }]
  update(rows) {
    patch(this.container, rows, (row) => row.key, (key) => this.#row(key));
  }

  focus(key, name) {
    this.rows.get(key)?.focus(name);
  }

  #row(key) {
    const element = stamp(this.template);
    const block = fieldBlock(element.querySelector(".cells"), (name, value) => this.on.input(key, name, value));
    this.rows.set(key, block);
    const note = element.querySelector(".row-note");
    element.querySelector(".remove").addEventListener("click", () => this.#remove(key, element));
    const copy = element.querySelector(".copy");
    if (copy && this.on.copy) copy.addEventListener("click", () => this.on.copy(key));
    else copy?.remove();
    element.addEventListener("keydown", (event) => {
      if (event.key !== "Enter" || event.target.tagName !== "INPUT") return;
      event.preventDefault();
      this.on.enter?.(key);
    });
    return {
      element,
      update: (row, index) => {
        element.setAttribute("aria-label", `${this.what} ${index + 1}`);
        block.update(row.specs, row.values, row.faultOf, row.extra);
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

  // After a removal the focus goes to the row that took its place, so a keyboard is not sent back to the start.
  #remove(key, element) {
    const next = element.nextElementSibling ?? element.previousElementSibling;
    this.on.remove(key);
    const target = element.isConnected ? element : next;
    (target?.isConnected ? target.querySelector(".remove") : null)?.focus();
  }
}

export const emptyLine = (text) => make("p", text, "empty");
