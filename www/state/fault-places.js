// Faults in the person's words: which of their rows it is, what the page calls the field, and where to mend it.
//
// A field that is still empty is no fault; it is what to fill in next.

import { faultPlace, lackingSizes } from "./job.js";

const GOES = { __proto__: null, sections: "timber", yard: "timber", yards: "timber", buy_at: "timber", shed: "timber", saw: "timber", carry: "timber" };

// Fields that the page calls otherwise than the job file.
const CALLED = {
  __proto__: null, label: "name", bad: "bad stretches", trim: "end trim", keep: "keep length", carry: "carry length", cover: "cover width",
  joint: "its edges meet", measured: "width measured at the yard",
  free_from: "delivery is free from", cut_fee: "fee per cut", sold_as: "sold as", buy_at: "buy at", pack: "sold in packs of",
  step: "finest step of a reading", decimal: "decimal sign", unit: "unit", count: "number in stock",
};

// { told, lacking }: faults, each { place, goes, where, message }, and fields to fill in, each { row?, name, labels }.
export function sorted(reading, rows, piece, shed, kinds) {
  const lacking = lackingSizes(piece.job, kinds);
  const waits = new Set(lacking.map((one) => one.row));
  const told = [];
  for (const fault of reading.faults) {
    if (fault.list === "" && piece.job[fault.field]?.length === 0) continue;
    const place = faultPlace(fault, rows);
    const at = spot(place, fault, piece.job, shed, kinds);
    const lacks = fault.field && at.row && empty(at.row[fault.field]);
    // A set-out that still lacks a size is not asked for anything else.
    if (fault.list === "set_outs" && waits.has(fault.row) && (lacks || !fault.field)) continue;
    if (lacks) lack(lacking, at);
    else told.push({ place, goes: GOES[fault.list || fault.field] ?? "piece", where: [at.name, at.called].filter(Boolean).join(", "), message: fault.message });
  }
  return { told, lacking };
}

function lack(lacking, { name, called }) {
  const known = lacking.find((one) => one.row === undefined && one.name === name);
  // Several rules may ask for the same field.
  if (known) known.labels = [...new Set([...known.labels, called])];
  else lacking.push({ name, labels: [called] });
}

const empty = (value) => value === undefined || value === null || String(value).trim() === "";

// The row of a place, the row's name, and the name of the field on the page.
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
    case "yards": return { row, name: row?.name || "a yard", called };
    case "parts": return { row, name: row?.label || `part ${number}`, called };
    case "set_outs": {
      const known = kinds.find((kind) => kind.kind === row?.kind)?.fields.find((one) => one.field === field);
      return { row, name: row?.name || `set-out ${number}`, called: known?.label.toLowerCase() ?? called };
    }
    default: return { row, name: list, called };
  }
}
