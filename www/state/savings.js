// What would save, as the engine finds it, and taking one of its changes.

// Nothing found yet: { orders, found, room, reserves, looking, complete }; `orders` are the choices among the yards.
export const NOTHING_SAVED = Object.freeze({ orders: [], found: [], room: [], reserves: [], looking: false, complete: true, note: "" });

// The savings with one more that was found.
export function withNews(savings, { orders, saving, room, reserve }) {
  if (orders) return { ...savings, orders };
  if (saving) return { ...savings, found: [...savings.found, saving] };
  if (reserve) return { ...savings, reserves: [...savings.reserves, reserve] };
  return room ? { ...savings, room: [...savings.room, room] } : savings;
}

// What undoes a change: the texts that its fields have now. A field that is not there is written empty, which is the same.
export function undoing(piece, edits, rows) {
  const back = edits.map((edit) => ({ ...edit, text: rowOf(piece, edit, rows)[edit.field] ?? "" }));
  return { edits: back, rows };
}

const rowOf = (piece, { list, row }, rows) => {
  if (list === "") return piece.job;
  return row === null || row === undefined ? piece.job[list] : piece.job[list][rows[list][row]];
};

// Writes a change into a piece. `rows` maps rows of the job that was planned to those of the piece.
export function takeEdits(piece, edits, rows) {
  for (const edit of edits) {
    const row = rowOf(piece, edit, rows);
    // A row that was taken out since has nothing to be written to.
    if (row) row[edit.field] = edit.text;
  }
}
