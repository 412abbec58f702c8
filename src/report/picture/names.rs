//! The letter and the colour of each row of the cutting list, as the boards have them, and a key that stays while rows come and go before it.

use crate::job::Job;
use crate::report::drawing::PAPER;
use crate::report::legend::{self, COLOURS};
use timber::part::letter_of;

/// How a row of the list is named where it is cut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Name {
    /// What it is known by: the row of its set-out and its place among the parts of that, `2/0`; a part by hand by its row, `hand/2`.
    pub key: String,
    /// Its letter; of strips that are ripped out of a piece the piece's letter and their number in it. More than one where the row comes out of
    /// several pieces.
    pub letters: Vec<String>,
    /// The colour of the first of those pieces.
    pub colour: &'static str,
}

impl Name {
    /// As it stands on a part: the first of its letters, with a sign that there are more.
    pub fn short(&self) -> String {
        let first = self.letters.first().cloned().unwrap_or_default();
        match self.letters.len() {
            0 | 1 => first,
            _ => first + "\u{2026}",
        }
    }
}

/// The key of a row of no set-out.
pub fn key_by_hand(row: usize) -> String {
    format!("hand/{row}")
}

/// The keys of all rows, in their order.
pub fn keys(job: &Job) -> Vec<String> {
    let mut keys = Vec::new();
    keys.extend((0..by_hand(job)).map(key_by_hand));
    for (row, set_out) in job.set_outs.iter().enumerate() {
        for nth in 0..set_out.parts.len() {
            keys.push(format!("{row}/{nth}"));
        }
    }
    keys
}

/// The names of all rows, in their order.
pub fn names(job: &Job) -> Vec<Name> {
    let mut names: Vec<Name> = keys(job).into_iter().map(Name::with).collect();
    for (rows, place) in job.rows_cut().iter().zip(job.letters()) {
        let letter = letter_of(place);
        for (at, &row) in rows.iter().enumerate() {
            let letter = match rows.len() {
                1 => letter.clone(),
                _ => format!("{letter}{}", at + 1),
            };
            names[row].comes_of(place, letter);
        }
    }
    names
}

impl Name {
    /// Of a set-out without parts, which is bought as it is.
    pub(super) fn bought(row: usize) -> Name {
        Name {
            letters: vec!["sheet".to_owned()],
            ..Name::with(format!("{row}/0"))
        }
    }

    fn with(key: String) -> Name {
        Name {
            key,
            letters: Vec::new(),
            colour: PAPER,
        }
    }

    fn comes_of(&mut self, place: usize, letter: String) {
        if self.letters.is_empty() {
            self.colour = COLOURS[legend::colour(place)];
        }
        self.letters.push(letter);
    }
}

/// The rows of the list that are of no set-out; they come first.
pub(super) fn by_hand(job: &Job) -> usize {
    let mut rows = job.list.len();
    for set_out in &job.set_outs {
        rows -= set_out.parts.len();
    }
    rows
}
