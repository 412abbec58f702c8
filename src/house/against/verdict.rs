//! Whether two sides gave the same result.
//!
//! A run that the clock stopped cannot be compared, and neither can one whose result changes from run to run. Only runs that finished are
//! compared. Where one side finished and the other never did, that is a difference.

use super::difference::{Difference, of_bytes};
use super::program::Answer;
use std::fmt;

/// The verdict on one input.
#[derive(Debug, PartialEq, Eq)]
pub enum Verdict {
    /// All that is compared is the same.
    Same,
    /// The first difference.
    Different(Difference),
    /// The input cannot be compared, and why.
    LeftOut(&'static str),
}

/// Why an input is left out.
const BY_CLOCK: &str = "ended by the clock on both sides";
const BY_CLOCK_BUT_SAME: &str = "ended by the clock on both sides, though with the same";
const UNSTEADY: &str = "differs from run to run before already, so the clock has a say in it";

impl Verdict {
    /// The verdict on the runs of both sides; each has at least one.
    pub fn of(before: &[Answer], after: &[Answer]) -> Verdict {
        let settled = |answers| Answer::settled(answers);
        let (old, new) = match (settled(before), settled(after)) {
            (Some(old), Some(new)) => (old, new),
            (None, None) => {
                let same = before.iter().chain(after).all(|answer| {
                    let first = before.first();
                    first.is_none_or(|first| first_difference(first, answer).is_none())
                });
                return Verdict::LeftOut(if same { BY_CLOCK_BUT_SAME } else { BY_CLOCK });
            }
            (old, _) => {
                let told = |is: bool| {
                    if is {
                        "came to its end"
                    } else {
                        "the clock ended it"
                    }
                };
                return Verdict::Different(Difference::new(
                    "search",
                    told(old.is_some()),
                    told(old.is_none()),
                ));
            }
        };
        let differs = |one: &Answer, others: &[Answer]| {
            let mut others = others.iter().filter(|other| !other.by_clock);
            others.find_map(|other| first_difference(one, other))
        };
        if differs(old, before).is_some() {
            return Verdict::LeftOut(UNSTEADY);
        }
        let different = first_difference(old, new).or_else(|| differs(old, after));
        different.map_or(Verdict::Same, Verdict::Different)
    }

    /// One word for it.
    pub fn word(&self) -> &'static str {
        match self {
            Verdict::Same => "same",
            Verdict::Different(_) => "DIFFERENT",
            Verdict::LeftOut(_) => "left out",
        }
    }
}

/// The text that follows the word.
impl fmt::Display for Verdict {
    fn fmt(&self, output: &mut fmt::Formatter) -> fmt::Result {
        match self {
            Verdict::Same => Ok(()),
            Verdict::LeftOut(why) => write!(output, ": {why}"),
            Verdict::Different(at) => write!(
                output,
                "\n    {}\n    before  {}\n    after   {}",
                at.place, at.before, at.after
            ),
        }
    }
}

/// The first piece that differs, in the order of the pieces before.
pub fn first_difference(before: &Answer, after: &Answer) -> Option<Difference> {
    let names = before.pieces.iter().chain(&after.pieces);
    names
        .map(|(name, _)| *name)
        .find_map(|name| match (before.piece(name), after.piece(name)) {
            (Some(old), Some(new)) => of_bytes(name, old, new),
            (old, _) => {
                let told = |is: bool| if is { "given" } else { "nothing" };
                let (before, after) = (told(old.is_some()), told(old.is_none()));
                Some(Difference::new(name, before, after))
            }
        })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn ended(by_clock: bool, plan: &str) -> Answer {
        Answer {
            pieces: vec![("plan", plan.as_bytes().to_vec())],
            by_clock,
            seconds: 0.1,
        }
    }

    fn differs(place: &str, before: &str, after: &str) -> Verdict {
        Verdict::Different(Difference::new(place, before, after))
    }

    #[test]
    fn runs_that_came_to_their_end_are_compared_and_no_others() {
        let (early, whole) = (ended(true, "[1]"), ended(false, "[2]"));
        let before = [whole.clone(), whole.clone()];
        assert_eq!(Verdict::of(&before, &[early, whole]), Verdict::Same);
        assert_eq!(
            Verdict::of(&before, &[ended(false, "[3]")]),
            differs("plan[0]", "2", "3")
        );
    }

    #[test]
    fn every_run_after_must_be_what_was_before() {
        let after = [ended(false, "[2]"), ended(false, "[3]")];
        assert_eq!(
            Verdict::of(&[ended(false, "[2]")], &after),
            differs("plan[0]", "2", "3")
        );
    }

    #[test]
    fn what_the_clock_ended_on_both_sides_is_left_out() {
        let (one, other) = ([ended(true, "[1]")], [ended(true, "[2]")]);
        assert_eq!(Verdict::of(&one, &other), Verdict::LeftOut(BY_CLOCK));
        assert_eq!(Verdict::of(&one, &one), Verdict::LeftOut(BY_CLOCK_BUT_SAME));
    }

    #[test]
    fn what_the_clock_ended_on_one_side_alone_differs() {
        let (early, whole) = ([ended(true, "[1]")], [ended(false, "[1]")]);
        assert_eq!(
            Verdict::of(&whole, &early),
            differs("search", "came to its end", "the clock ended it")
        );
        assert_eq!(
            Verdict::of(&early, &whole),
            differs("search", "the clock ended it", "came to its end")
        );
    }

    #[test]
    fn what_changes_from_run_to_run_before_is_left_out() {
        let before = [ended(false, "[1]"), ended(false, "[2]")];
        let after = [ended(false, "[1]")];
        assert_eq!(Verdict::of(&before, &after), Verdict::LeftOut(UNSTEADY));
    }

    #[test]
    fn a_file_that_one_side_does_not_write_is_told() {
        let none = Answer::default();
        assert_eq!(
            Verdict::of(&[ended(false, "[1]")], &[none]),
            differs("plan", "given", "nothing")
        );
    }
}
