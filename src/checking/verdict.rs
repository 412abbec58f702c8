//! How far a plan is proven: the word "proven" and the exit codes follow from this alone.
//!
//! The planner's claims decide nothing here. A level counts as proven where this crate has shown its bound from the job alone. The groups
//! and their levels come from the job too, so a plan gains nothing by leaving one out.

use crate::settled::{CheckedGroup, CheckedLevel, Standing};
use timber::plan::Within;

/// How far a plan is proven, over all groups of the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// A better plan may exist: a first level has a gap, or no claim.
    Open,
    /// The planner claims that no plan is better at any group's first level, and not all of this was shown.
    Claimed,
    /// Every level that decides what is bought was shown again in every group, but for these blanks alone, or for narrow parts side by side alone.
    InBlanks,
    /// Every group's first level was shown again; of what is bought besides, not all was.
    FirstProven,
    /// Every level that decides what is bought was shown in every group, but not all of the scrap that comes after.
    BuyingProven,
    /// Every level of every group was shown.
    Proven,
}

impl Verdict {
    /// Whether it was shown that nothing better can be bought. This is what the exit code "proven" means.
    pub fn settles_buying(self) -> bool {
        self >= Verdict::BuyingProven
    }

    /// Whether it was shown that no plan is better at the first level of the aim.
    pub fn settles_the_first(self) -> bool {
        self >= Verdict::FirstProven
    }

    pub(super) fn of(groups: &[CheckedGroup]) -> Verdict {
        let mut levels = groups.iter().flat_map(|group| &group.levels);
        let mut deciding = groups.iter().flat_map(CheckedGroup::deciding);
        let firsts = || groups.iter().flat_map(first);
        if levels.all(CheckedLevel::is_shown) {
            Verdict::Proven
        } else if deciding.all(CheckedLevel::is_shown) {
            Verdict::BuyingProven
        } else if firsts().all(CheckedLevel::is_shown) {
            Verdict::FirstProven
        } else if all_bought_in_blanks(groups) {
            Verdict::InBlanks
        } else if firsts().all(|level| level.standing() != Standing::Gap) {
            Verdict::Claimed
        } else {
            Verdict::Open
        }
    }
}

/// The first level of a group, and before it those of what passes an allowance.
fn first(group: &CheckedGroup) -> impl Iterator<Item = &CheckedLevel> {
    let beyond = group.levels.iter();
    let beyond = beyond.take_while(|level| level.measure.is_beyond()).count();
    group.levels.iter().take(beyond + 1)
}

/// Whether every level of what is bought was shown again, each within what it says.
fn all_bought_in_blanks(groups: &[CheckedGroup]) -> bool {
    let mut bought = groups.iter().flat_map(CheckedGroup::deciding);
    bought.all(|level| level.standing() == Standing::ReProved)
}

impl CheckedLevel {
    /// Whether it was shown again here that nothing better exists, however narrow parts are cut.
    pub fn is_shown(&self) -> bool {
        self.standing() == Standing::ReProved && self.within == Within::Everything
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_settled_goes_up_with_the_verdict() {
        let all = [
            (Verdict::Open, false, false),
            (Verdict::Claimed, false, false),
            (Verdict::InBlanks, false, false),
            (Verdict::FirstProven, true, false),
            (Verdict::BuyingProven, true, true),
            (Verdict::Proven, true, true),
        ];
        for (verdict, first, buying) in all {
            assert_eq!(verdict.settles_the_first(), first, "{verdict:?}");
            assert_eq!(verdict.settles_buying(), buying, "{verdict:?}");
        }
    }
}
