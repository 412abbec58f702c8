// The assumptions behind the quantities: coverage of a litre, number of screws. An empty field takes the usual value.

import { find } from "./dom.js";
import { fieldBlock } from "./field.js";

export function ruleFields(actions) {
  const block = fieldBlock(find("#rules"), (name, value) => actions.change(`quantities/${name}`, ({ job }) => (job.quantities = { ...job.quantities, [name]: value })));
  return ({ rules, piece, faultOf }) => {
    const specs = rules.map((rule) => ({ name: rule.field, label: rule.label, hint: rule.hint, keys: "decimal" }));
    const usual = Object.fromEntries(rules.map((rule) => [rule.field, { usual: rule.usual }]));
    block.update(specs, piece.job.quantities ?? {}, (name) => faultOf(`quantities/${name}`), usual);
  };
}
