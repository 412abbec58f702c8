//! How far each level of a plan is settled, and what stands behind it.

use timber::plan::Measure;

/// A group of sections that are planned together, and what is known of its levels.
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
    /// What the plan comes to, worked out here.
    pub value: i64,
    /// What the plan says nobody can go below; where it says nothing, only what is known without figures.
    pub bound: Option<i64>,
    /// What stands behind the bound.
    pub backing: Backing,
}

impl CheckedLevel {
    /// How far the level is settled.
    pub fn standing(&self) -> Standing {
        match (&self.backing, self.bound) {
            (_, bound) if bound != Some(self.value) => Standing::Gap,
            (Backing::ReProved, _) => Standing::ReProved,
            (Backing::ClaimOnly(reason), _) => Standing::ClaimOnly(*reason),
            (Backing::NothingClaimed, _) => Standing::Gap,
        }
    }
}

/// How far a level is settled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Standing {
    /// Nothing better exists, and this was proven again here.
    ReProved,
    /// The planner says that nothing better exists; this could not be proven again.
    ClaimOnly(Reason),
    /// Something better may exist.
    Gap,
}

/// What stands behind a bound.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Backing {
    /// It was proven again here.
    ReProved,
    /// Only the planner's word.
    ClaimOnly(Reason),
    /// There is no bound.
    NothingClaimed,
}

/// Why a bound was not proven again.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reason {
    /// The plan brings no figures for it.
    NoFigures,
    /// A part of it rests on a search that prices cannot repeat; without it the figures show this much.
    Searched {
        /// What the rest of the figures shows, in the units of the level.
        shown: i64,
    },
    /// The figures speak of plans with other totals at the levels before.
    OtherTotals,
    /// Adding it up would take more steps than were allowed.
    TooLarge,
    /// Time was up before it was added up.
    OutOfTime,
    /// Counts shared between the runs of one board were not followed exactly, and what was followed does not suffice.
    Loose {
        /// What was shown all the same.
        shown: i64,
    },
}
