// A field that is typed in, with choices below it while it is in use: a combobox. `typed` is { choices(text), meant(text), exact(text), known(text) }; a choice is
// { label, value } and may make something (`make`) or ask something (`asks`). Keys walk over the choices and take one with the enter key. A touch of
// the arrow shows the choices without a keyboard, a touch of the field both.

import { make } from "./dom.js";

let lists = 0;

export function typedChoices(box, label, take) {
  const [input, arrow] = box.children;
  arrow.setAttribute("aria-label", `Choices: ${label}`);
  const open = { list: null, choices: [], at: -1, said: "", whole: true };
  let typed = null;
  let tapped = false;

  const isOpen = () => open.list !== null;

  function show(whole) {
    open.whole = whole;
    if (!isOpen()) {
      open.list = make("ul", "", "choices-below");
      lists += 1;
      open.list.id = `choices-${lists}`;
      open.list.role = "listbox";
      open.list.popover = "manual";
      open.list.setAttribute("aria-label", label);
      // The field keeps the focus.
      open.list.addEventListener("mousedown", (event) => event.preventDefault());
      box.append(open.list);
      open.list.showPopover();
      input.setAttribute("aria-controls", open.list.id);
      input.ariaExpanded = "true";
      for (const [on, what] of MOVES) on?.addEventListener(what, placed, true);
    }
    fill();
  }

  function fill() {
    const choices = typed.choices(open.whole ? "" : input.value);
    const said = JSON.stringify(choices.map((one) => one.label));
    if (said !== open.said) {
      open.said = said;
      open.choices = choices;
      open.list.replaceChildren(...choices.map(option));
      const first = choices[0];
      const named = choices.findIndex(({ value }) => value !== undefined && value === input.value);
      // What is typed stands for the first that fits it.
      mark(named >= 0 ? named : !open.whole && first && !first.asks ? 0 : -1);
    } else open.choices = choices;
    placed();
  }

  function option(choice, at) {
    const element = make("li", choice.label);
    element.id = `${open.list.id}-${at}`;
    element.role = "option";
    element.addEventListener("click", () => chosen(open.choices[at]));
    return element;
  }

  function mark(at) {
    open.at = at;
    [...open.list.children].forEach((element, nth) => (element.ariaSelected = String(nth === at)));
    const now = open.list.children[at];
    if (now) input.setAttribute("aria-activedescendant", now.id);
    else input.removeAttribute("aria-activedescendant");
    now?.scrollIntoView({ block: "nearest" });
  }

  // Below the field, or above it where there is more room; as wide as its words want.
  function placed() {
    const field = input.getBoundingClientRect();
    const seen = visualViewport ?? { offsetTop: 0, height: innerHeight };
    const [above, below] = [field.top - seen.offsetTop, seen.offsetTop + seen.height - field.bottom];
    const up = below < 180 && above > below;
    const { style } = open.list;
    style.maxHeight = `${Math.max(88, (up ? above : below) - 8)}px`;
    style.minWidth = `${field.width}px`;
    style.left = `${Math.max(8, Math.min(field.left, innerWidth - 8 - Math.max(field.width, open.list.offsetWidth)))}px`;
    style.top = up ? "auto" : `${field.bottom}px`;
    style.bottom = up ? `${innerHeight - field.top}px` : "auto";
  }

  function close() {
    if (!isOpen()) return;
    for (const [on, what] of MOVES) on?.removeEventListener(what, placed, true);
    open.list.remove();
    Object.assign(open, { list: null, choices: [], at: -1, said: "" });
    for (const name of ["aria-controls", "aria-activedescendant"]) input.removeAttribute(name);
    input.ariaExpanded = "false";
  }

  function chosen(choice) {
    const sought = open.whole ? "" : input.value;
    close();
    take(choice.make || choice.asks ? choice : choice.value, sought);
  }

  arrow.addEventListener("mousedown", (event) => event.preventDefault());
  arrow.addEventListener("click", () => {
    if (isOpen()) return close();
    if (TOUCH.matches) input.inputMode = "none";
    input.focus();
    return show(true);
  });
  input.addEventListener("pointerdown", () => {
    input.inputMode = "text";
    tapped = document.activeElement !== input;
  });
  input.addEventListener("click", () => {
    if (tapped) input.select();
    tapped = false;
    if (!isOpen()) show(true);
  });
  input.addEventListener("input", () => {
    take(input.value);
    show(false);
  });
  input.addEventListener("blur", () => {
    close();
    const exact = typed.exact(input.value);
    if (exact !== input.value) take(exact);
  });
  input.addEventListener("keydown", (event) => {
    const step = { ArrowDown: 1, ArrowUp: -1 }[event.key];
    if (step && !event.altKey) {
      event.preventDefault();
      if (!isOpen()) return show(true);
      const many = open.choices.length;
      return mark(open.at < 0 && step < 0 ? many - 1 : (open.at + step + many) % many);
    }
    if (!isOpen()) return undefined;
    const choice = open.choices[open.at];
    // A choice that asks keeps the focus where it is; any other lets the key go on to the next field.
    if (event.key === "Enter" && choice) {
      if (choice.asks) event.stopPropagation();
      event.preventDefault();
      chosen(choice);
    }
    // The size that is typed in full is made on the way to the next field too.
    if (event.key === "Tab" && choice?.make && choice.value === input.value.trim() && typed.exact(choice.value) === choice.value) chosen(choice);
    if (event.key === "Escape") {
      event.preventDefault();
      event.stopPropagation();
      close();
    }
    return undefined;
  });

  return (now, text) => {
    typed = now;
    input.dataset.known = String(typed.known(text));
    if (isOpen()) fill();
  };
}

const TOUCH = matchMedia("(pointer: coarse)");
const MOVES = [[window, "scroll"], [window, "resize"], [window.visualViewport, "resize"], [window.visualViewport, "scroll"]];
