// The piece itself: its name, its unit, how readings are written.

import { find } from "./dom.js";
import { fieldBlock } from "./field.js";

const MAIN = [
  { name: "piece", label: "Name of the piece" },
  {
    name: "unit",
    label: "Bare numbers are",
    choices: [
      { value: "mm", label: "millimetres" },
      { value: "cm", label: "centimetres" },
      { value: "m", label: "metres" },
      { value: "in", label: "inches" },
      { value: "ft", label: "feet" },
    ],
  },
];

const READING = [
  {
    name: "decimal",
    label: "Decimal sign",
    choices: [
      { value: "point", label: "point: 2.4" },
      { value: "comma", label: "comma: 2,4" },
    ],
  },
  { name: "step", label: "Finest step of a tape reading", hint: "such as 0.5, 1 or 1/16\"" },
];

export function pieceFields(actions) {
  const type = (name, value) => {
    if (name === "unit") return actions.units.choose(value);
    return actions.change(name, (piece) => (piece.job[name] = value));
  };
  const main = fieldBlock(find("#piece-fields"), type);
  const reading = fieldBlock(find("#reading-fields"), type);
  return (scene) => {
    const { job } = scene.piece;
    const values = { ...job, unit: job.unit ?? "mm", decimal: job.decimal ?? "point" };
    main.update(MAIN, values, scene.faultOf);
    reading.update(READING, values, scene.faultOf);
  };
}
