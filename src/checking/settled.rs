//! How far each level of a plan is proven, and by whom.

use proof::claim;
use timber::plan::{Measure, Within};

/// A group of sections that are planned together, and the results for its levels.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckedGroup {
    /// Indices of the job's sections, ascending.
    pub sections: Vec<usize>,
    /// The levels of the aim, in order.
    pub levels: Vec<CheckedLevel>,
}

/// One level of the aim.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckedLevel {
    /// What it measures.
    pub measure: Measure,
    /// The plan's value, worked out here, in the unit of `measure`.
    pub value: i64,
    /// The plan's claimed lower bound on any plan; where it claims none, only what is known without figures.
    pub bound: Option<i64>,
    /// What the bound rests on.
    pub backing: Backing,
    /// Within what the bound holds.
    pub within: Within,
}

impl CheckedGroup {
    /// The levels that decide what is bought.
    pub fn deciding(&self) -> &[CheckedLevel] {
        claim::deciding(&self.levels, |level| level.measure)
    }
}

impl CheckedLevel {
    /// How far the level is proven.
    pub fn standing(&self) -> Standing {
        match (&self.backing, self.bound) {
            (_, bound) if bound != Some(self.value) => Standing::Gap,
            (Backing::ReProved, _) => Standing::ReProved,
            (Backing::ClaimOnly(reason), _) => Standing::ClaimOnly(*reason),
            (Backing::NothingClaimed, _) => Standing::Gap,
        }
    }
}

/// How far a level is proven.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// No plan is better, and this was shown here.
    ReProved,
    /// The planner claims that no plan is better; this could not be shown here.
    ClaimOnly(Reason),
    /// A better plan may exist.
    Gap,
}

/// What a bound rests on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Backing {
    /// It was shown here.
    ReProved,
    /// It is only claimed by the planner.
    ClaimOnly(Reason),
    /// There is no bound.
    NothingClaimed,
}

/// Why a bound could not be shown here.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// The plan has no figures for it.
    NoFigures,
    /// A part of it rests on a search that is not recorded; without that, the figures show this much.
    Searched {
        /// What the rest of the figures shows, in the units of the level.
        shown: i64,
    },
    /// The figures are about plans with other totals at the earlier levels.
    OtherTotals,
    /// Checking it would take more steps than allowed.
    TooLarge,
    /// Time was up before it was checked.
    OutOfTime,
    /// The demand shared between the runs of one board is not modelled exactly, and the weaker bound is not enough.
    Loose {
        /// The bound that was shown all the same.
        shown: i64,
    },
}
