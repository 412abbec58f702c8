//! How far a plan is settled: the one place from which the words "proven" and the exit codes follow.
//!
//! What the planner says of its own plan decides nothing here. A level counts as proven where this module's neighbours have shown its
//! bound again from the job alone; the groups and their levels come from the job too, so that a plan that leaves one out gains
//! nothing by it.

use crate::settled::{CheckedGroup, CheckedLevel, Standing};
use timber::plan::Measure;

/// How far a plan is settled, over all groups of the job.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Verdict {
    /// Something better may exist: a first level has a gap, or nothing is said of it.
    Open,
    /// The planner says of every group's first level that nothing better exists, and not all of this was shown again.
    Claimed,
    /// Every group's first level was shown again; of what is bought besides, not all was.
    FirstProven,
    /// Every level of what is bought was shown again in every group; of the scrap, not all was.
    BuyingProven,
    /// Every level of every group was shown again.
    Proven,
}

impl Verdict {
    /// Whether nothing better can be bought, shown again here. This is what the exit code "proven" means.
    pub fn settles_buying(self) -> bool {
        self >= Verdict::BuyingProven
    }

    /// Whether nothing comes before this plan at the first level of the aim, shown again here.
    pub fn settles_the_first(self) -> bool {
        self >= Verdict::FirstProven
    }

    pub(super) fn of(groups: &[CheckedGroup]) -> Verdict {
        let all = |which: fn(&CheckedLevel) -> bool| {
            let levels = groups.iter().flat_map(|group| &group.levels);
            levels
                .filter(|level| which(level))
                .all(CheckedLevel::is_shown)
        };
        let firsts = || groups.iter().filter_map(|group| group.levels.first());
        if all(|_| true) {
            Verdict::Proven
        } else if all(CheckedLevel::is_bought) {
            Verdict::BuyingProven
        } else if firsts().all(CheckedLevel::is_shown) {
            Verdict::FirstProven
        } else if firsts().all(|level| level.standing() != Standing::Gap) {
            Verdict::Claimed
        } else {
            Verdict::Open
        }
    }
}

impl CheckedLevel {
    /// Whether it was shown again here that nothing better exists.
    pub fn is_shown(&self) -> bool {
        self.standing() == Standing::ReProved
    }

    /// Whether it is about what is bought.
    pub fn is_bought(&self) -> bool {
        self.measure != Measure::Scrap
    }
}
