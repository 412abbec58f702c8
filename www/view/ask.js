// A question in a dialog: some fields or checks, yes or no, and perhaps another way to say yes. Returns { values, checked, other }, or null
// for no. `wrong(values)` may return what is wrong with what was typed, [{ name, message }]; the dialog then stays open and shows it beside
// the fields.

import { find, lines, make, say, show } from "./dom.js";
import { makeField } from "./field.js";

export function askDialog() {
  const dialog = find("#ask-dialog");
  let answer = null;
  let settle = () => {};
  let wrongOf = null;
  let fields = new Map();
  find("#ask-yes").addEventListener("click", async () => {
    const values = valuesOf(dialog);
    const asked = settle;
    const faults = wrongOf === null ? [] : await wrongOf(values);
    if (asked !== settle || !dialog.open) return;
    for (const [name, field] of fields) field.update({ value: field.input.value, fault: faults.find((fault) => fault.name === name)?.message ?? "" });
    const first = [...fields].find(([name]) => faults.some((fault) => fault.name === name));
    if (first) return first[1].input.focus();
    answer = { values, checked: checkedOf(dialog), other: false };
    dialog.close();
  });
  find("#ask-other").addEventListener("click", () => {
    answer = { values: valuesOf(dialog), checked: checkedOf(dialog), other: true };
    dialog.close();
  });
  find("#ask-no").addEventListener("click", () => dialog.close());
  dialog.addEventListener("close", () => settle(answer));
  dialog.addEventListener("keydown", (event) => {
    if (event.key !== "Enter" || event.target.tagName !== "INPUT") return;
    event.preventDefault();
    find("#ask-yes").click();
  });

  return ({ title, text = "", list = [], yes, other = "", no = "Leave it", fields: specs = [], checks = [], wrong = null }) => {
    say(find("#h-ask"), title);
    say(find("#ask-text"), text);
    say(find("#ask-yes"), yes);
    say(find("#ask-other"), other);
    show(find("#ask-other"), other !== "");
    say(find("#ask-no"), no);
    show(find("#ask-text"), text !== "");
    lines(find("#ask-lines"), list);
    wrongOf = wrong;
    fields = new Map(specs.map((spec) => {
      const field = makeField(spec, (value) => field.update({ value }));
      field.update({ value: spec.value ?? "" });
      return [spec.name, field];
    }));
    find("#ask-fields").replaceChildren(...[...fields.values()].map((field) => field.element), ...checks.map(checkBox));
    answer = null;
    dialog.showModal();
    (dialog.querySelector("#ask-fields input, #ask-fields select") ?? find("#ask-yes")).focus();
    return new Promise((resolve) => (settle = resolve));
  };
}

function checkBox({ name, label = name, checked }) {
  const element = make("label", "", "check");
  const box = make("input");
  box.type = "checkbox";
  box.name = name;
  box.checked = checked;
  element.append(box, ` ${label}`);
  return element;
}

const boxes = (dialog) => [...dialog.querySelectorAll("#ask-fields input[type=checkbox]")];
const checkedOf = (dialog) => boxes(dialog).filter((box) => box.checked).map((box) => box.name);

function valuesOf(dialog) {
  const inputs = dialog.querySelectorAll("#ask-fields .field input, #ask-fields .field select");
  return Object.fromEntries([...inputs].map((input) => [input.name, input.value]));
}
