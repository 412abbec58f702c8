//! Marks for new boards: written on an end in pencil, so they are short, and each is on one board only.
//!
//! A new board is 1T, 2T and so on, T for timber: it begins with a figure, as no letter of a part or of a strip does. What is left of board
//! 1T is 1T-2, then 1T-3: the name says whose rest it is.

use crate::job::Job;
use crate::limits;
use order::{Map, Set};

/// Characters that a mark leaves free for the number of a rest.
const ROOM: usize = 8;

/// Gives out marks that are on no board yet.
///
/// Marks are taken and never given back, so each series is searched once: the next search starts after the last free mark.
#[derive(Clone, Debug, Default)]
pub struct Marks {
    taken: Set<String>,
    boards: usize,
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

    /// Marks this one as taken. That of a rest says whose rest it is, so the board's mark is taken with it.
    pub fn take(&mut self, mark: &str) {
        let mark = mark.trim();
        self.taken.insert(stem(mark).to_owned());
        self.taken.insert(mark.to_owned());
    }

    /// A mark for a board that has none. It ends: the series is infinite, and only finitely many marks are taken.
    pub fn fresh(&mut self) -> String {
        loop {
            self.boards += 1;
            let mark = format!("{}T", self.boards);
            if self.taken.insert(mark.clone()) {
                return mark;
            }
        }
    }

    /// A mark for a rest of the board with `mark`, no longer than a mark may be.
    pub fn rest_of(&mut self, mark: &str) -> String {
        let most = limits::NAME.most - ROOM;
        let stem: String = stem(mark).chars().take(most).collect();
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

/// The mark without the number of a rest.
fn stem(mark: &str) -> &str {
    match mark.rsplit_once('-') {
        Some((stem, number)) if !stem.is_empty() && number.parse::<u32>().is_ok() => stem,
        _ => mark,
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_new_board_gets_the_first_number_nobody_wears() {
        let mut marks = Marks::default();
        for taken in ["A", "1T", " 3T", "X1", "4T-2"] {
            marks.take(taken);
        }
        assert_eq!(
            [marks.fresh(), marks.fresh(), marks.fresh()],
            ["2T", "5T", "6T"]
        );
    }

    #[test]
    fn no_mark_looks_like_the_letter_of_a_part_or_of_a_strip() {
        let mut marks = Marks::default();
        for _ in 0..1_000 {
            let board = marks.fresh();
            for mark in [marks.rest_of(&board), board] {
                assert!(mark.starts_with(|first: char| first.is_ascii_digit()));
                assert!(mark.contains('T'), "no number of a board either: {mark}");
            }
        }
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
