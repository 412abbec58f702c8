// The dialog of common sizes: one tap adds a section and the lengths in which a yard usually sells it.

import { find, patch, say, show, stamp } from "./dom.js";
import { commonRows } from "./choices.js";
import { addSize, commonSizes, isImperial, madeOf, makes, plain } from "../state/sizes.js";

export function sizesDialog(actions) {
  const dialog = find("#sizes-dialog");
  const search = find("#size-search");
  let taken = () => {};
  find("#open-sizes").addEventListener("click", () => chooseSize((row) => actions.change(null, ({ job }) => addSize(job, row))));
  search.addEventListener("input", fill);
  dialog.addEventListener("close", () => actions.redraw());

  // `then` puts the size that is taken into a job, by which it is one step of undo; `sought` is what is looked for at first.
  const chooseSize = (then, sought = "") => {
    taken = then;
    // Nothing is kept of what was looked for another time.
    search.value = sought;
    fill();
    dialog.showModal();
  };

  function fill() {
    const imperial = isImperial(actions.piece().job);
    const found = commonSizes(commonRows(), search.value, imperial);
    const own = madeOf(search.value, imperial);
    if (own && !found.some((row) => plain(row.name) === plain(own.name))) found.unshift({ ...own, told: makes(own) });
    show(find("#no-sizes"), found.length === 0);
    patch(find("#sizes"), found, (row) => `${row.region}/${row.name}`, () => sizeButton(take));
  }

  function take(row) {
    taken(row);
    dialog.close();
    // In a list of rows the key that goes on does so from here: the size is all that was asked.
    document.activeElement.dispatchEvent(new KeyboardEvent("keydown", { key: "Enter", bubbles: true }));
  }

  return { acts: { chooseSize } };
}

function sizeButton(take) {
  const element = stamp("t-kind");
  let held = null;
  element.querySelector("button").addEventListener("click", () => take(held));
  return {
    element,
    update: (row) => {
      held = row;
      say(element.querySelector("b"), row.name);
      const cover = row.cover ? `, covers ${row.cover}` : "";
      say(element.querySelector("span"), row.told ?? `${row.thickness ?? "measure the thickness"} × ${row.width}${cover}. ${row.region}. From: ${row.source}`);
    },
  };
}
