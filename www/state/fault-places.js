// Faults in the person's words: which of their rows it is, what the page calls the field, and where to mend it.
//
// A field that is still empty is no fault; it is what to fill in next.

import { faultPlace, lackingSizes } from "./job.js";

const GOES = { __proto__: null, sections: "timber", yard: "timber", yards: "timber", buy_at: "timber", shed: "timber", saw: "timber", carry: "timber" };

// Fields whose label says more than their name.
const CALLED = { __proto__: null, label: "name", name: "name", unit: "unit" };

// What is to be filled in, in words: the length and width of Rail.
export function toGive({ name, labels }) {
  const last = labels.at(-1);
  return `the ${(labels.length > 1 ? `${labels.slice(0, -1).join(", ")} and ${last}` : last).toLowerCase()} of ${name}`;
}

// { told, lacking }: faults, each { place, goes, where, message }, and fields to fill in, each { place, goes, name, labels }, of a set-out that lacks a size
// { row, goes, name, labels }. `labelOf` says what the page calls a field of a list.
export function sorted(reading, rows, piece, shed, kinds, labelOf) {
  const lacking = lackingSizes(piece.job, kinds);
  const waits = new Set(lacking.map((one) => one.row));
  const told = [];
  for (const fault of reading.faults) {
    // Rows in which nothing is typed yet are none.
    if (fault.list === "" && (rows[fault.field] ?? piece.job[fault.field])?.length === 0) continue;
    const place = faultPlace(fault, rows);
    const at = spot(place, fault, piece.job, shed, kinds, labelOf);
    const lacks = fault.field && at.row && empty(at.row[fault.field]);
    // A set-out that still lacks a size is not asked for anything else.
    if (fault.list === "set_outs" && waits.has(fault.row) && (lacks || !fault.field)) continue;
    const goes = GOES[fault.list || fault.field] ?? "piece";
    if (lacks) lack(lacking, { ...at, place, goes });
    else told.push({ place, goes, where: [at.name, at.called].filter(Boolean).join(", "), message: fault.message });
  }
  return { told, lacking };
}

function lack(lacking, { name, called, place, goes }) {
  const known = lacking.find((one) => one.row === undefined && one.name === name);
  // Several rules may ask for the same field.
  if (known) known.labels = [...new Set([...known.labels, called])];
  else lacking.push({ place, goes, name, labels: [called] });
}

const empty = (value) => value === undefined || value === null || String(value).trim() === "";

// The row of a place, the row's name, and the name of the field on the page.
function spot(place, fault, job, shed, kinds, labelOf) {
  const { list, field } = fault;
  const key = place.split("/")[1];
  const number = Number(key) + 1;
  const called = CALLED[field] ?? labelOf(list || "job", field)?.toLowerCase() ?? field;
  if (fault.row === null || fault.row === undefined) return list === "saw" ? { row: job.saw, name: "saw", called } : { row: null, name: list, called };
  if (list === "shed") {
    const { row = null } = shed.find((board) => board.id === key) ?? {};
    return { row, name: row?.mark ? `shed board ${row.mark}` : "a shed board", called };
  }
  const row = job[list]?.[Number(key)] ?? null;
  switch (list) {
    case "sections": return { row, name: row?.name || `section ${number}`, called };
    case "yard": return { row, name: [row?.length || "a length", row?.section].filter(Boolean).join(" of "), called };
    case "yards": return { row, name: row?.name || "a yard", called };
    case "parts": return { row, name: row?.label || `part ${number}`, called };
    case "set_outs": {
      const known = kinds.find((kind) => kind.kind === row?.kind)?.fields.find((one) => one.field === field);
      return { row, name: row?.name || `set-out ${number}`, called: known?.label.toLowerCase() ?? called };
    }
    default: return { row, name: list, called };
  }
}
