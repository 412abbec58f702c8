// The assumptions behind the quantities: coverage of a litre, number of screws. An empty field takes the usual value.

import { find } from "./dom.js";
import { fieldBlock } from "./field.js";
import { specsOf, valuesOf } from "./fields.js";

export function ruleFields(actions) {
  const door = fieldBlock(find("#door"), (name, value) => actions.change(name, ({ job }) => (job[name] = value)));
  const block = fieldBlock(find("#rules"), (name, value) => actions.change(`quantities/${name}`, ({ job }) => (job.quantities = { ...job.quantities, [name]: value })));
  return ({ rules, piece, faultOf }) => {
    door.update(specsOf("job", piece.job, piece.job, { only: ["door"] }), valuesOf("job", piece.job), faultOf);
    const specs = rules.map((rule) => ({ name: rule.field, label: rule.label, hint: rule.hint, keys: "decimal" }));
    const usual = Object.fromEntries(rules.map((rule) => [rule.field, { usual: rule.usual }]));
    block.update(specs, piece.job.quantities ?? {}, (name) => faultOf(`quantities/${name}`), usual);
  };
}
