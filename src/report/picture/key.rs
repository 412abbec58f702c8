//! The key to a picture: every part of the list with its letter and colour, its number and its length.

use super::names::Name;
use super::sheet::{LETTER, LINE, MARGIN, Sheet};
use crate::report::words::Words;

/// Most letters of a row that are listed.
const MOST: usize = 8;

/// The key, below what is on the sheet. The first `by_hand` rows are of no set-out.
pub(super) fn key(words: &Words, names: &[Name], by_hand: usize, sheet: &mut Sheet) {
    sheet.heading("Parts");
    if by_hand > 0 {
        sheet.line("Parts marked * are written by hand: nothing says where they go, so they are not drawn.");
    }
    for (row, (part, name)) in words.job.list.iter().zip(names).enumerate() {
        let (y, size) = (sheet.bottom + LINE - 1_100, 1_300);
        let [left, right] = [MARGIN, MARGIN + 2 * size];
        let corners = [[left, y], [right, y], [right, y + size], [left, y + size]];
        sheet.outline(&corners, name.colour, "");
        let edges = [0, 1, 2, 3].map(|at| [corners[at], corners[(at + 1) % 4]]);
        sheet.strokes(&edges, " stroke-width=\".8\" fill=\"none\"");
        let mut letters = name
            .letters
            .iter()
            .take(MOST)
            .cloned()
            .collect::<Vec<_>>()
            .join(", ");
        if name.letters.len() > MOST {
            letters += ", \u{2026}";
        }
        let star = if row < by_hand { "*" } else { "" };
        let text = format!(
            "{letters}{star}  {}, {} \u{d7} {}",
            part.label,
            part.quantity,
            words.part_length(part)
        );
        sheet.lines(&text, right + LETTER, "");
    }
}
