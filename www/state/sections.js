// Lengths, boards and parts refer to a section by its name; renaming the section renames those references too.

// Renames the references to the section, which are now to `known`, unless `name` is empty or another section's. Returns the name to which
// they refer afterwards.
export function renameSection(store, piece, row, known, name) {
  const others = piece.job.sections.filter((_, index) => index !== row).map((section) => section.name);
  if (name.trim() === "" || others.includes(name) || !known) return known ?? name;
  const { job } = piece;
  for (const list of [job.yard, job.parts]) for (const line of list) line.section = renamed(line.section, known, name);
  for (const setOut of job.set_outs) {
    for (const field of Object.keys(setOut)) if (field.endsWith("section")) setOut[field] = renamed(setOut[field], known, name);
  }
  const elsewhere = store.pieces.some((other) => other !== piece && other.job.sections.some((section) => section.name === known));
  if (!elsewhere) for (const board of store.shed) board.row.section = renamed(board.row.section, known, name);
  return name;
}

function renamed(text, known, name) {
  if (Array.isArray(text)) return text.map((one) => renamed(one, known, name));
  if (text === undefined || text === null) return text;
  return String(text).split(";").map((one) => (one.trim() === known ? one.replace(known, () => name) : one)).join(";");
}
