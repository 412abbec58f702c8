//! The two sides of a split.

/// The side of a split on which a node is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// At most this many.
    Fewer,
    /// More than this many.
    More,
}
