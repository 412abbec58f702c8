// The saw and the vehicle.

import { find, say } from "./dom.js";
import { fieldBlock } from "./field.js";
import { specsOf, valuesOf } from "./fields.js";

// What stands in the job itself and not in its saw.
const OF_JOB = ["carry", "yard_tolerance", "yard_trim", "payload"];

export function sawFields(actions) {
  const block = fieldBlock(find("#saw-fields"), (name, value) => actions.change(name, (piece) => {
    if (OF_JOB.includes(name)) piece.job[name] = value;
    else piece.job.saw[name] = value;
  }));
  find("#measure-kerf").addEventListener("click", () => measureKerf(actions));
  return (scene) => {
    const { job } = scene.piece;
    const faultOf = (name) => scene.faultOf(OF_JOB.includes(name) ? name : `saw/${name}`);
    const none = { carry: "no limit", payload: "no limit", yard_tolerance: scene.usual.yard_tolerance, yard_trim: "as the section" };
    const specs = [...specsOf("saw", job, job.saw, { usual: scene.usual }), ...specsOf("job", job, job, { only: OF_JOB, usual: none })];
    // What is taken off unasked is in sight.
    const { trim, shed_trim: shed } = scene.usual;
    say(find("#usual-trims"), trim === undefined ? "" : `Where nothing else is said, ${trim} are trimmed off each end of a new length and ${shed} off each end of a shed board.`);
    block.update(specs, { ...valuesOf("job", job), ...valuesOf("saw", job.saw) }, faultOf);
  };
}

// The engine works the kerf out; its reply is used once the question is answered with yes.
async function measureKerf(actions) {
  const { job } = actions.piece();
  let kerf = null;
  const answer = await actions.ask({
    title: "What your saw's cut takes",
    text: "Measure a scrap, cut it up, push all its pieces together end to end, and measure them. Ten cuts make an error of the tape ten times smaller.",
    yes: "Work it out and take it",
    fields: [
      { name: "before", label: "Length of the scrap" },
      { name: "cuts", label: "Cuts made", keys: "numeric", value: "10" },
      { name: "after", label: "All pieces together" },
    ],
    wrong: async (values) => {
      const reply = await actions.call("kerf", { job, ...values });
      kerf = reply.kerf ?? null;
      return reply.faults ?? [];
    },
  });
  if (answer === null || kerf === null) return;
  actions.change("kerf", (piece) => (piece.job.saw.kerf = kerf));
  actions.tell(`The kerf is ${kerf} now.`);
}
