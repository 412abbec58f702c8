// Price lists of yards: those kept on the device, saving what a piece has as one, and lengths from a table.

import { find, lines, make, patch, say, show } from "./dom.js";
import { commonRows, sectionNames } from "./choices.js";
import { cannotTake, listFrom, putIn, withList } from "../state/price-lists.js";
import { yardsOf } from "../state/sellers.js";
import { addYardLine } from "../state/yard.js";
import { addSize, isImperial, sizeFor } from "../state/sizes.js";
import { textOf } from "../state/texts.js";

export function priceLists(actions) {
  const counted = (count) => (count === 1 ? "one length" : `${count} lengths`);
  const undo = { act: { label: "Undo", do: () => actions.store.undo() } };

  function take(list) {
    let count = 0;
    actions.change(null, ({ job }) => (count = putIn(job, list)));
    actions.tell(`${counted(count)} of ${list.name} put into this piece.`, undo);
  }

  function drop(list) {
    actions.arrange((store) => (store.prices = store.prices.filter((other) => other !== list)));
    actions.tell(`The price list of ${list.name} is deleted.`, { act: { label: "Undo", do: () => actions.arrange((store) => (store.prices = withList(store.prices, list))) } });
  }

  find("#save-prices").addEventListener("click", async () => {
    const { job } = actions.piece();
    const names = yardsOf(job).map(({ name }) => name ?? "");
    const yard = names.length > 1
      ? { name: "yard", label: "Of which yard", choices: names.map((value) => ({ value, label: value || "no name yet" })), value: names[0] }
      : { name: "yard", label: "Name of the yard", value: names[0] ?? "" };
    const wrong = async (values) => (values.yard.trim() === "" ? [{ name: "yard", message: "give the yard a name" }] : []);
    const text = "Lengths, prices and terms are kept on this device for all pieces; a list of that name is replaced.";
    const answer = await actions.ask({ title: "Keep these prices", text, yes: "Keep them", fields: [yard], wrong });
    if (answer === null) return;
    const spelled = await actions.call("spell_job", { job: actions.sent().job });
    const list = listFrom(spelled.job, answer.values.yard, answer.values.yard.trim());
    actions.arrange((store) => (store.prices = withList(store.prices, list)));
    actions.tell(`${counted(list.rows.length)} kept as the prices of ${list.name}.`);
  });

  const dialog = find("#prices-dialog");
  const text = find("#prices-text");
  const add = find("#prices-take");
  let rows = [];
  let asked = 0;
  find("#open-prices").addEventListener("click", () => dialog.showModal());
  find("#prices-file").addEventListener("change", async ({ target }) => {
    const [file] = target.files;
    if (!file) return;
    text.value = await textOf(file);
    target.value = "";
    read();
  });
  text.addEventListener("input", read);
  add.addEventListener("click", () => {
    const sections = actions.piece().job.sections;
    const only = sections.length === 1 ? sections[0].name : undefined;
    actions.change(null, ({ job }) => rows.forEach((row) => addYardLine(job, { ...(only && { section: only }), ...row })));
    dialog.close();
    actions.tell(`${counted(rows.length)} added; those of other sections are shown once the piece has these.`, undo);
    text.value = "";
    read();
  });

  async function read() {
    const now = (asked += 1);
    const reply = text.value.trim() === "" ? { rows: [], faults: [] } : await actions.call("read_prices", { text: text.value });
    if (now !== asked) return;
    rows = reply.rows;
    offerSections();
    lines(find("#prices-faults"), reply.faults.map((fault) => fault.text ?? fault.message));
    say(add, rows.length > 0 ? `Add ${counted(rows.length)}` : "Nothing to add yet");
    add.disabled = rows.length === 0;
  }

  // A button for each section of the table that the piece lacks and that names its sides.
  function offerSections() {
    const { job } = actions.piece();
    const names = sectionNames(job);
    const lacked = [...new Set(rows.map(({ section }) => String(section ?? "").trim()))].filter((name) => name !== "" && !names.includes(name));
    const sizes = lacked.map((name) => sizeFor(commonRows(), name, isImperial(job))).filter((size) => size !== null);
    patch(find("#prices-sections"), sizes, ({ name }) => name, () => makeButton((size) => {
      actions.change(null, (piece) => addSize(piece.job, { ...size, sold: [] }));
      offerSections();
    }));
  }

  return ({ store, piece }) => {
    patch(find("#price-lists"), store.prices, ({ name }) => name, () => priceList(take, drop));
    for (const [index, element] of [...find("#price-lists").children].entries()) element.fill(store.prices[index], cannotTake(piece.job, store.prices[index]));
    show(find("#price-lists"), store.prices.length > 0);
  };
}

// Makes a section, sold in the lengths of the table alone.
function makeButton(take) {
  const element = make("button", "", "offer");
  element.type = "button";
  let held = null;
  element.addEventListener("click", () => take(held));
  return {
    element,
    update: (size) => {
      held = size;
      say(element, `make ${size.name}, sold in the lengths of this table`);
    },
  };
}

function priceList(take, drop) {
  const element = make("li", "", "act-line");
  const told = element.appendChild(make("span"));
  const [put, away] = ["Put in", "Delete"].map((label) => {
    const button = element.appendChild(make("button", label, "quiet"));
    button.type = "button";
    return button;
  });
  let list = null;
  put.addEventListener("click", () => take(list));
  away.addEventListener("click", () => drop(list));
  element.fill = (now, why) => {
    list = now;
    say(told, `${now.name}: ${now.rows.length} ${now.rows.length === 1 ? "length" : "lengths"}. ${why ?? ""}`.trim());
    put.setAttribute("aria-label", `Put in the prices of ${now.name}`);
    away.setAttribute("aria-label", `Delete the prices of ${now.name}`);
    put.disabled = why !== null;
  };
  return { element, update: () => {} };
}
