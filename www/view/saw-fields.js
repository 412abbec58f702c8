// The saw and the vehicle.

import { lengthKeys } from "./choices.js";
import { find } from "./dom.js";
import { fieldBlock } from "./field.js";

const specs = (job, usual) => [
  { name: "kerf", label: "Kerf", hint: "width of the slot your saw leaves; cut a scrap and measure it", keys: lengthKeys(job), usual: usual.kerf },
  { name: "keep", label: "Keep length", hint: "shortest offcut worth keeping", keys: lengthKeys(job), usual: usual.keep },
  { name: "carry", label: "Carry length", hint: "longest your vehicle takes; longer ones are cut once at the yard", keys: lengthKeys(job), usual: "no limit" },
  { name: "payload", label: "Payload", hint: "what your vehicle may carry besides its people: kilograms, or pounds where bare numbers are inches or feet", keys: "decimal", usual: "no limit" },
];

// What stands in the job itself and not in its saw.
const OF_JOB = ["carry", "payload"];

export function sawFields(actions) {
  const block = fieldBlock(find("#saw-fields"), (name, value) => actions.change(name, (piece) => {
    if (OF_JOB.includes(name)) piece.job[name] = value;
    else piece.job.saw[name] = value;
  }));
  return (scene) => {
    const { job } = scene.piece;
    const faultOf = (name) => scene.faultOf(OF_JOB.includes(name) ? name : `saw/${name}`);
    block.update(specs(job, scene.usual), { ...job.saw, carry: job.carry, payload: job.payload }, faultOf);
  };
}
