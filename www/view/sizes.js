// The dialog of common sizes: one tap adds a section and the lengths in which a yard usually sells it.

import { find, patch, say, show, stamp } from "./dom.js";
import { addSection } from "../state/sections.js";

// Lengths that yards usually stock, by region; a start, to be changed to what the yard really has.
const USUAL_LENGTHS = {
  metric: ["2.4 m", "3.0 m", "3.6 m", "4.2 m", "4.8 m"],
  imperial: ["8'", "10'", "12'", "14'", "16'"],
};

export function sizesDialog(actions) {
  const dialog = find("#sizes-dialog");
  const search = find("#size-search");
  let rows = [];
  let taken = () => {};
  find("#open-sizes").addEventListener("click", () => chooseSize(() => {}));
  search.addEventListener("input", fill);
  dialog.addEventListener("close", () => actions.redraw());

  const chooseSize = async (then) => {
    taken = then;
    // Nothing is kept of what was looked for another time.
    search.value = "";
    if (rows.length === 0) rows = (await actions.call("section_table")).rows;
    fill();
    dialog.showModal();
  };

  function fill() {
    const words = plain(search.value).split(" ").filter(Boolean);
    const imperial = ["in", "ft"].includes(actions.piece().job.unit);
    const near = (row) => (row.imperial === imperial ? 0 : 1);
    const found = rows.filter((row) => words.every((word) => plain(`${row.name} ${row.region}`).includes(word)));
    found.sort((one, other) => near(one) - near(other));
    const own = madeOf(search.value, imperial);
    if (own && !found.some((row) => plain(row.name) === plain(own.name))) found.unshift(own);
    show(find("#no-sizes"), found.length === 0);
    patch(find("#sizes"), found, (row) => `${row.region}/${row.name}`, () => sizeButton(take));
  }

  function take(row) {
    let name = row.name;
    actions.change(null, ({ job }) => {
      const section = { name: row.name, thickness: row.thickness ?? "", width: row.width };
      if (row.cover) Object.assign(section, { cover: row.cover, joint: row.joint });
      name = addSection(job, section, USUAL_LENGTHS[row.imperial ? "imperial" : "metric"]);
    });
    taken(name);
    dialog.close();
  }

  return { acts: { chooseSize } };
}

// A size that is in no list, from two figures as in 20 x 45: a section of its own. Null where it is something else.
function madeOf(text, imperial) {
  const unit = imperial ? '"' : " mm";
  const sides = /^\s*([\d.,/]+)\s*(mm|")?\s*[x×]\s*([\d.,/]+)\s*(mm|")?\s*$/i.exec(text);
  if (!sides) return null;
  const [, one, oneUnit, other, otherUnit] = sides;
  const side = (figure, own) => `${figure}${(own ?? "") === "" ? unit : own === '"' ? own : ` ${own}`}`;
  return {
    region: "your own", name: `${one} x ${other}`, imperial, thickness: side(one, oneUnit), width: side(other, otherUnit),
    told: `make it, sold in ${USUAL_LENGTHS[imperial ? "imperial" : "metric"].join(", ")}`,
  };
}

const plain = (text) => text.toLowerCase().replaceAll("×", "x").replaceAll(" x ", "x");

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
