// What would save, as the engine finds it, and taking one of its changes.

// Nothing found yet: { found, room, looking, complete }.
export const NOTHING_SAVED = Object.freeze({ found: [], room: [], looking: false, complete: true });

// The savings with one more that was found.
export function withNews(savings, { saving, room }) {
  if (saving) return { ...savings, found: [...savings.found, saving] };
  return room ? { ...savings, room: [...savings.room, room] } : savings;
}

// Writes a change into a piece. `rows` maps rows of the job that was planned to those of the piece.
export function takeEdits(piece, edits, rows) {
  for (const { list, row, field, text } of edits) {
    if (list === "") piece.job[field] = text;
    else if (row === null || row === undefined) piece.job[list][field] = text;
    else piece.job[list][rows[list][row]][field] = text;
  }
}
