//! Decisions on the way to a node: how many boards of a set are used.

/// One side of a split on the number of boards used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum BranchSide {
    /// At most so many.
    AtMost(u32),
    /// At least so many.
    AtLeast(u32),
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
    /// The side taken.
    pub(crate) side: BranchSide,
}
