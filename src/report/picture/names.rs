//! The letter and the colour of each row of the cutting list, as the boards have them.

use crate::report::legend::{self, COLOURS};
use crate::report::words::Words;

/// How a row of the list is named where it is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Name {
    /// Its letter; of strips that are ripped out of a piece the piece's letter and their number in it. More than one where the row comes out of
    /// several pieces.
    pub(super) letters: Vec<String>,
    /// The colour of the first of those pieces.
    pub(super) colour: &'static str,
}

impl Name {
    /// As it stands on a part: the first of its letters, with a sign that there are more.
    pub(super) fn short(&self) -> String {
        let first = self.letters.first().cloned().unwrap_or_default();
        match self.letters.len() {
            0 | 1 => first,
            _ => first + "\u{2026}",
        }
    }
}

/// The names of all rows, in their order.
pub(super) fn names(words: &Words) -> Vec<Name> {
    let job = words.job;
    // What is not ripped is cut row by row.
    let mut whole = (0..job.parts.len()).filter(|&piece| job.parts[piece].strips.is_empty());
    let rows = job.list.iter().enumerate().map(|(row, part)| {
        let pieces: Vec<usize> = match part.rip {
            None => whole.next().into_iter().collect(),
            Some(_) => {
                let holds = |piece: &usize| job.parts[*piece].strips.contains(&row);
                (0..job.parts.len()).filter(holds).collect()
            }
        };
        let letters = pieces.iter().flat_map(|&piece| {
            let (letter, strips) = (legend::letter(piece), &job.parts[piece].strips);
            let numbered = |(at, _): (usize, &usize)| format!("{letter}{}", at + 1);
            match strips.len() {
                0 | 1 => vec![letter],
                _ => {
                    let of_it = strips
                        .iter()
                        .enumerate()
                        .filter(|(_, strip)| **strip == row);
                    of_it.map(numbered).collect()
                }
            }
        });
        Name {
            letters: letters.collect(),
            colour: pieces
                .first()
                .map_or("#ffffff", |&piece| COLOURS[legend::colour(piece)]),
        }
    });
    rows.collect()
}
