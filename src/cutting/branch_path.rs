//! Decisions on the way to a node: how many boards of a set are used, or how many offcuts of them are kept.

use crate::pattern::Pattern;
use crate::problem::Problem;

/// One side of a split on the number of boards used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum BranchSide {
    /// At most so many.
    AtMost(u32),
    /// At least so many.
    AtLeast(u32),
}

/// What a decision counts of the boards of its set.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Counted {
    /// The boards.
    Boards,
    /// Their offcuts that are kept. A set whose offcuts are counted has boards of [`Problem::lasting_runs`] alone.
    Kept,
}

impl Counted {
    /// How much cutting a board so adds to what is counted of these boards.
    pub(crate) fn of(self, problem: &Problem, boards: &[usize], pattern: &Pattern) -> u32 {
        let held = boards.binary_search(&pattern.board).is_ok();
        match self {
            _ if !held => 0,
            Counted::Boards => 1,
            Counted::Kept => pattern.kept(problem).len() as u32,
        }
    }
}

/// A split on the way to a node: a set of boards by its index, and the side taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Decision {
    pub(crate) set: usize,
    pub(crate) side: BranchSide,
}

/// The same told by the boards themselves, for a program that has other sets.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct SetDecision {
    /// Indices of boards, ascending.
    pub(crate) boards: Vec<usize>,
    /// What is counted of them.
    pub(crate) counted: Counted,
    /// The side taken.
    pub(crate) side: BranchSide,
}
