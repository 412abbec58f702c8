// One field with its label, its hint and its fault. A field is described by { name, label, hint, kind, choices, keys, usual }.
//
// A fault is a text, or { place, message } where a list of faults links to it; it is `place` alone where a list links to it without a
// fault. `choices` is a list of texts or of { value, label }. What was typed is never thrown away: a value that is no choice is kept as a
// choice of its own. A field that is `out` is not shown. `pictures` are choices as drawings, { value, label, svg } each, that can be tapped
// as well. `offer` gives what may be meant instead of a text, which one touch then takes: a text, or { label, ... } as a choice; empty where there is
// nothing to offer. A field that is `typed` has choices below it while it is in use (typed.js).

import { drawingOf, make, say, show, stamp } from "./dom.js";
import { typedChoices } from "./typed.js";

let fields = 0;

export function makeField(spec, onInput) {
  const element = stamp(spec.choices ? "t-choice" : spec.typed ? "t-typed" : "t-field");
  const [label, box, hint, fault] = element.children;
  const input = spec.typed ? box.firstElementChild : box;
  fields += 1;
  const id = `field-${fields}`;
  input.id = id;
  input.name = spec.name;
  label.htmlFor = id;
  say(label, spec.label);
  hint.id = `${id}-hint`;
  fault.id = `${id}-fault`;
  say(hint, spec.hint ?? "");
  show(hint, Boolean(spec.hint));
  element.classList.add(`field-${spec.name}`);
  if (spec.keys) input.inputMode = spec.keys;
  if (spec.list) input.setAttribute("list", spec.list);
  const faultOf = { now: "" };
  const offer = spec.typed ? (text) => spec.typed.meant(text) : spec.offer && ((text) => spec.offer(text));
  const offered = offer ? offerOf(element, spec.label, offer, onInput) : () => {};
  const press = spec.pictures ? pictured(input, spec, onInput) : () => {};

  const walk = spec.choices ? walked(input, onInput) : null;
  const typing = spec.typed ? typedChoices(box, spec.label, onInput) : null;
  if (!spec.choices && !typing) input.addEventListener("input", () => onInput(input.value));

  function update({ value, fault: wrong = null, choices = spec.choices, typed = spec.typed, offer: offering = spec.offer, usual = typed?.usual ?? spec.usual, keys, place = wrong?.place, out = false }) {
    show(element, !out);
    const text = value === undefined || value === null ? "" : String(value);
    if (choices) fillChoices(input, choices, text);
    if (choices) walk.asks = choices.filter(({ asks }) => asks).map((choice) => choice.value);
    else if (usual !== undefined && input.placeholder !== usual) input.placeholder = usual;
    if (keys && !spec.keys) input.inputMode = keys;
    if (input.value !== text && !walk?.waits) input.value = text;
    press(text === usual ? "" : text);
    typing?.(typed, text);
    Object.assign(spec, { typed, offer: offering });
    offered(text);
    const message = typeof wrong === "string" ? wrong : wrong?.message ?? "";
    if (place) input.dataset.place = place;
    if (message === faultOf.now) return;
    faultOf.now = message;
    say(fault, message);
    show(fault, message !== "");
    if (message) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
    describe(input, [spec.hint && hint.id, message && fault.id]);
  }
  describe(input, [spec.hint && hint.id]);
  return { element, input, update };
}

// A list of choices of which some ask something (`asks`). Keys walk over those: they ask once they are entered, or touched.
function walked(select, onInput) {
  const walk = { asks: [], waits: false };
  let byKey = false;
  const take = () => {
    walk.waits = false;
    if (!walk.asks.includes(select.value)) walk.was = select.value;
    onInput(select.value);
  };
  select.addEventListener("pointerdown", () => (byKey = false));
  select.addEventListener("keydown", (event) => {
    byKey = !["Enter", " "].includes(event.key);
    if (byKey || !walk.waits) return;
    event.preventDefault();
    take();
  });
  select.addEventListener("change", () => {
    walk.waits = byKey && walk.asks.includes(select.value);
    if (!walk.waits) take();
  });
  select.addEventListener("blur", () => {
    if (walk.waits) select.value = walk.was;
    walk.waits = false;
  });
  select.addEventListener("focus", () => (walk.was = select.value));
  return walk;
}

// A button below a field with what may be meant by what is typed in it; returns a function that brings it up to date.
function offerOf(element, label, offer, onInput) {
  let meant = null;
  const button = make("button", "", "offer");
  button.type = "button";
  button.hidden = true;
  // The field keeps the focus: what is said on leaving it would move the button away from under the finger.
  button.addEventListener("mousedown", (event) => event.preventDefault());
  button.addEventListener("click", () => onInput(meant));
  element.append(button);
  return (text) => {
    meant = offer(text) || null;
    const said = meant?.label ?? meant ?? "";
    say(button, said);
    button.setAttribute("aria-label", meant?.label ? `${label}: ${said}` : `${label}: ${said} is meant`);
    show(button, meant !== null);
  };
}

// The choices as pictures below their list; returns a function that marks the chosen one.
function pictured(select, spec, onInput) {
  const group = make("div", "", "pictures");
  group.setAttribute("role", "group");
  group.setAttribute("aria-label", spec.label);
  const buttons = spec.pictures.map(({ svg, label, value }) => {
    const button = group.appendChild(make("button"));
    button.type = "button";
    button.append(drawingOf(svg), make("span", label));
    button.addEventListener("click", () => onInput(value));
    return [button, value];
  });
  select.after(group);
  return (chosen) => {
    for (const [button, value] of buttons) button.setAttribute("aria-pressed", String(value === chosen));
  };
}

function describe(input, ids) {
  const text = ids.filter(Boolean).join(" ");
  if (text) input.setAttribute("aria-describedby", text);
  else input.removeAttribute("aria-describedby");
}

function fillChoices(select, choices, value) {
  const wanted = choices.map((choice) => (typeof choice === "string" ? { value: choice, label: choice } : choice));
  if (!wanted.some((choice) => choice.value === value)) wanted.unshift({ value, label: value || "choose" });
  const same = wanted.length === select.options.length
    && wanted.every((choice, index) => select.options[index].value === choice.value && select.options[index].text === choice.label);
  if (!same) select.replaceChildren(...wanted.map((choice) => new Option(choice.label, choice.value)));
}

// A block of fields for one object, updated in place. `specs` may differ from one update to the next.
export function fieldBlock(container, onInput) {
  let known = "";
  let made = new Map();
  return {
    update(specs, values, faultOf, extra = {}) {
      const now = JSON.stringify(specs.map((spec) => [spec.name, spec.label, Boolean(spec.choices), Boolean(spec.typed)]));
      if (now !== known) {
        known = now;
        made = new Map(specs.map((spec) => [spec.name, makeField(spec, (...given) => onInput(spec.name, ...given))]));
        container.replaceChildren(...[...made.values()].map((field) => field.element));
      }
      for (const spec of specs) {
        made.get(spec.name).update({ value: values[spec.name], fault: faultOf(spec.name), choices: spec.choices, typed: spec.typed, offer: spec.offer, usual: spec.usual, ...extra[spec.name] });
      }
    },
    focus(name) {
      (made.get(name) ?? made.values().next().value)?.input.focus();
    },
  };
}

// A block of fields that is made when it is first shown.
export function lazyBlock(container, onInput) {
  let block = null;
  const update = (...told) => {
    block ??= fieldBlock(container, onInput);
    block.update(...told);
  };
  return {
    get made() {
      return block !== null;
    },
    update,
    focus: (name) => block?.focus(name),
  };
}
