// Faults in the words of the person: which row of theirs it is, what the field is called on the page, and where it is put right.
//
// A place that is still empty is nothing wrong; it is what to give next.

import { faultPlace, lackingSizes } from "./job.js";

const GOES = { __proto__: null, sections: "timber", yard: "timber", shed: "timber", saw: "timber", carry: "timber" };

// Fields whose name in the job file is not what the page calls them.
const CALLED = {
  __proto__: null, label: "name", bad: "bad stretches", trim: "end trim", keep: "keep length", carry: "carry length", cover: "cover width",
  joint: "its edges meet", measured: "width measured at the yard",
  step: "finest step of a reading", decimal: "decimal sign", unit: "unit", count: "number in stock",
};

// { told, lacking }: what is wrong, each { place, goes, where, message }, and what is to be given, each { row?, name, labels }.
export function sorted(reading, rows, piece, shed, kinds) {
  const lacking = lackingSizes(piece.job, kinds);
  const waits = new Set(lacking.map((one) => one.row));
  const told = [];
  for (const fault of reading.faults) {
    if (fault.list === "" && piece.job[fault.field]?.length === 0) continue;
    const place = faultPlace(fault, rows);
    const at = spot(place, fault, piece.job, shed, kinds);
    const lacks = fault.field && at.row && empty(at.row[fault.field]);
    // A set-out that still wants a size is not asked what else it wants.
    if (fault.list === "set_outs" && waits.has(fault.row) && (lacks || !fault.field)) continue;
    if (lacks) lack(lacking, at);
    else told.push({ place, goes: GOES[fault.list || fault.field] ?? "piece", where: [at.name, at.called].filter(Boolean).join(", "), message: fault.message });
  }
  return { told, lacking };
}

function lack(lacking, { name, called }) {
  const known = lacking.find((one) => one.row === undefined && one.name === name);
  // Several rules may miss one and the same field.
  if (known) known.labels = [...new Set([...known.labels, called])];
  else lacking.push({ name, labels: [called] });
}

const empty = (value) => value === undefined || value === null || String(value).trim() === "";

// The row a place is in, its name, and what its field is called.
function spot(place, fault, job, shed, kinds) {
  const { list, field } = fault;
  const key = place.split("/")[1];
  const number = Number(key) + 1;
  const called = CALLED[field] ?? field;
  if (fault.row === null || fault.row === undefined) return list === "saw" ? { row: job.saw, name: "saw", called } : { row: null, name: list, called };
  if (list === "shed") {
    const { row = null } = shed.find((board) => board.id === key) ?? {};
    return { row, name: row?.mark ? `shed board ${row.mark}` : "a shed board", called };
  }
  const row = job[list]?.[Number(key)] ?? null;
  switch (list) {
    case "sections": return { row, name: row?.name || `section ${number}`, called };
    case "yard": return { row, name: [row?.length || "a length", row?.section].filter(Boolean).join(" of "), called };
    case "parts": return { row, name: row?.label || `part ${number}`, called };
    case "set_outs": {
      const known = kinds.find((kind) => kind.kind === row?.kind)?.fields.find((one) => one.field === field);
      return { row, name: row?.name || `set-out ${number}`, called: known?.label.toLowerCase() ?? called };
    }
    default: return { row, name: list, called };
  }
}
