//! Marks for new boards: written on an end in pencil, so they are short, and each is on one board only.
//!
//! A new board gets the first free letter, leaving out I and O, which look like figures; after Z come AA, AB and so on. What is left of
//! board K is K-2, then K-3: the name says whose rest it is.

use crate::job::Job;
use crate::limits;
use order::{Map, Set};

const LETTERS: &[u8] = b"ABCDEFGHJKLMNPQRSTUVWXYZ";

/// Characters that a mark leaves free for the number of a rest.
const ROOM: usize = 8;

/// Gives out marks that are on no board yet.
///
/// Marks are taken and never given back, so each series is searched once: the next search starts after the last free mark.
#[derive(Clone, Debug, Default)]
pub struct Marks {
    taken: Set<String>,
    letters: usize,
    rests: Map<String, u32>,
}

impl Marks {
    /// Starts with the marks of the job's shed taken.
    pub fn of(job: &Job) -> Marks {
        let mut marks = Marks::default();
        for board in &job.shed {
            marks.take(&board.mark);
        }
        marks
    }

    /// Marks this one as taken.
    pub fn take(&mut self, mark: &str) {
        self.taken.insert(mark.trim().to_owned());
    }

    /// A mark for a board that has none. It ends: the series is infinite, and only finitely many marks are taken.
    pub fn fresh(&mut self) -> String {
        loop {
            let mark = letters(self.letters);
            self.letters += 1;
            if self.taken.insert(mark.clone()) {
                return mark;
            }
        }
    }

    /// A mark for a rest of the board with `mark`, no longer than a mark may be.
    pub fn rest_of(&mut self, mark: &str) -> String {
        let stem = match mark.rsplit_once('-') {
            Some((stem, number)) if !stem.is_empty() && number.parse::<u32>().is_ok() => stem,
            _ => mark,
        };
        let most = limits::NAME.most - ROOM;
        let stem: String = stem.chars().take(most).collect();
        let number = self.rests.or_insert_with(stem.trim().to_owned(), || 2);
        loop {
            let mark = format!("{stem}-{number}");
            *number = number.saturating_add(1);
            if self.taken.insert(mark.trim().to_owned()) {
                return mark;
            }
        }
    }
}

/// A, B … Z, AA, AB …
fn letters(number: usize) -> String {
    let letter = char::from(LETTERS[number % LETTERS.len()]);
    match number / LETTERS.len() {
        0 => letter.to_string(),
        before => format!("{}{letter}", letters(before - 1)),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_board_gets_the_first_letter_nobody_wears() {
        let mut marks = Marks::default();
        for taken in ["A", "C", "X1"] {
            marks.take(taken);
        }
        assert_eq!(
            [marks.fresh(), marks.fresh(), marks.fresh()],
            ["B", "D", "E"]
        );
    }

    #[test]
    fn letters_that_look_like_figures_are_left_out_and_two_letters_follow_one() {
        let mut marks = Marks::default();
        let given: Vec<String> = (0..50).map(|_| marks.fresh()).collect();
        assert!(!given.iter().any(|mark| mark.contains(['I', 'O'])));
        assert_eq!(&given[22..26], ["Y", "Z", "AA", "AB"]);
        assert_eq!(given[48], "BA");
    }

    #[test]
    fn a_rest_is_named_after_its_board_and_a_rest_of_a_rest_too() {
        let mut marks = Marks::default();
        marks.take("K");
        assert_eq!(marks.rest_of("K"), "K-2");
        assert_eq!(marks.rest_of("K-2"), "K-3");
        assert_eq!(marks.rest_of("X1"), "X1-2");
        assert_eq!(marks.rest_of("-5"), "-5-2");
    }

    #[test]
    fn a_rest_of_a_board_with_the_longest_mark_still_has_a_mark_that_a_job_takes() {
        let mut marks = Marks::default();
        let long = "é".repeat(limits::NAME.most);
        let rests = [marks.rest_of(&long), marks.rest_of(&long)];
        assert!(rests[0] != rests[1]);
        for rest in rests {
            assert!(rest.chars().count() <= limits::NAME.most, "{rest}");
        }
    }
}
