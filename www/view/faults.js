// Faults that belong to no field on the page, such as "no parts yet", and a way from the Piece to faults elsewhere.

import { find, lines, make } from "./dom.js";

const LISTS = { sections: "Timber", yard: "Timber", shed: "Timber", saw: "Timber" };

export function jobFaults() {
  const list = find("#job-faults").appendChild(make("ul", "", "lines faults"));
  return ({ faults, reading, piece }) => {
    const empty = piece.job.parts.length + piece.job.set_outs.length === 0;
    const told = [];
    for (const fault of reading.faults) {
      if (fault.list === "set_outs") continue;
      const where = LISTS[fault.list];
      if (where) told.push(`${where}: ${fault.text ?? fault.message}`);
      else if (!fault.field && !empty) told.push(fault.message);
    }
    lines(list, faults.size === 0 ? [] : told.slice(0, 5));
  };
}
