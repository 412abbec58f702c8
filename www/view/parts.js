// Parts typed one by one.

import { sectionNames, sectionTaken } from "./choices.js";
import { find } from "./dom.js";
import { fieldsOf, saidOf, specsOf, texts, valuesOf } from "./fields.js";
import { picturesOf } from "./pictures.js";
import { RowList } from "./row-list.js";
import { isImperial } from "../state/sizes.js";

// Fields of a part that always show; the others are folded away.
const MAIN = ["label", "section", "length", "quantity"];
const MORE = fieldsOf("parts").map(({ name }) => name).filter((name) => !MAIN.includes(name));

let fresh = 0;
const freshKey = () => (fresh += 1);

export function partList(actions) {
  const keys = []; // of the rows, each of which stays with its part where another is added or removed
  const at = (key) => keys.indexOf(key);
  const change = (row, name, value, also = null) => actions.change(also ? null : `parts/${row}/${name}`, (piece) => {
    also?.(piece.job);
    piece.job.parts[row][name] = value;
  });
  const list = new RowList(find("#parts"), "Part", {
    input: (key, ...given) => {
      const row = at(key);
      sectionTaken(actions, (...told) => change(row, ...told), () => severalSections(actions, row, change))(...given);
    },
    remove: (key) => actions.change(null, ({ job }) => {
      const row = at(key);
      job.parts.splice(row, 1);
      keys.splice(row, 1);
    }),
    copy: (key) => actions.change(null, ({ job }) => {
      const row = at(key) + 1;
      job.parts.splice(row, 0, { ...job.parts[row - 1] });
      keys.splice(row, 0, freshKey());
    }),
    enter: add,
  }, "t-part");
  find("#add-part").addEventListener("click", add);

  function add() {
    let row = 0;
    actions.change(null, (piece) => {
      const { parts } = piece.job;
      const last = parts.at(-1) ?? {};
      const names = sectionNames(piece.job);
      const mine = String(texts(last.section) ?? "").split(";").every((name) => names.includes(name.trim()));
      row = parts.push({ label: "", section: mine ? last.section : names[0] ?? "", length: "", quantity: "1" }) - 1;
    });
    list.focus(keys[row], "label");
  }

  const showList = (scene) => {
    const { job } = scene.piece;
    while (keys.length < job.parts.length) keys.push(freshKey());
    keys.length = job.parts.length;
    return list.turns(job.parts.map((row, index) => ({
      key: keys[index],
      place: `parts/${index}`,
      specs: () => specsOf("parts", job, row, { only: MAIN, usual: { length: isImperial(job) ? "24, may be 23 to 25" : "600, may be 585 to 620" } }),
      rest: { names: MORE, specs: () => specsOf("parts", job, row, { only: MORE }).map(leaning), told: saidOf("parts", MORE, valuesOf("parts", row)) },
      // Which edge stays is asked of what is ripped alone.
      extra: { leans: { out: !scene.angled.has(index) }, keeps: { out: !texts(row.ripped) } },
      values: valuesOf("parts", row),
      faultOf: (field) => scene.faultOf(`parts/${index}${field && "/"}${field}`),
    })));
  };
  return { show: showList, acts: { addPart: add } };
}

// How ends lean is chosen by tapping one of three pictures, and asked only where both ends are angled.
const leaning = (spec) => (spec.name === "leans"
  ? { ...spec, pictures: picturesOf("parts", "leans").map((svg, index) => ({ svg, ...spec.choices[index] })) }
  : spec);

async function severalSections(actions, row, change) {
  const { job } = actions.piece();
  const now = String(texts(job.parts[row].section) ?? "").split(";").map((name) => name.trim());
  const answer = await actions.ask({
    title: "Any of several sections",
    text: "The plan takes the part from whichever of these serves best.",
    yes: "Take these",
    checks: sectionNames(job).map((name) => ({ name, checked: now.includes(name) })),
  });
  if (answer === null || answer.checked.length === 0) actions.redraw();
  else change(row, "section", answer.checked.join("; "));
}
