//! The two sides of a split, and what it counts.

/// The side of a split on which a node is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// At most this many.
    Fewer,
    /// More than this many.
    More,
}

/// What a split counts of the boards of its set.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Counted {
    /// The boards.
    Boards,
    /// Their offcuts that are kept.
    Offcuts,
}
