// The saw and the vehicle.

import { find } from "./dom.js";
import { fieldBlock } from "./field.js";
import { specsOf, valuesOf } from "./fields.js";

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
    const none = Object.fromEntries(OF_JOB.map((name) => [name, "no limit"]));
    const specs = [...specsOf("saw", job, job.saw, { usual: scene.usual }), ...specsOf("job", job, job, { only: OF_JOB, usual: none })];
    block.update(specs, { ...valuesOf("job", job), ...valuesOf("saw", job.saw) }, faultOf);
  };
}
