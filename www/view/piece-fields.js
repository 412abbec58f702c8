// The piece itself: its name, its unit, how readings are written.

import { find } from "./dom.js";
import { fieldBlock } from "./field.js";
import { specsOf, valuesOf } from "./fields.js";

const MAIN = ["piece", "unit"];
const READING = ["decimal", "step"];

export function pieceFields(actions) {
  const type = (name, value) => {
    if (name === "unit") return actions.units.choose(value);
    return actions.change(name, (piece) => (piece.job[name] = value));
  };
  const main = fieldBlock(find("#piece-fields"), type);
  const reading = fieldBlock(find("#reading-fields"), type);
  return (scene) => {
    const { job } = scene.piece;
    const values = valuesOf("job", job);
    main.update(specsOf("job", job, job, { only: MAIN }), values, scene.faultOf);
    reading.update(specsOf("job", job, job, { only: READING }), values, scene.faultOf);
  };
}
