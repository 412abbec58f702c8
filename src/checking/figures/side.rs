//! The two sides of a split.

/// The side of a split that a place is on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// At most so many.
    Fewer,
    /// More than so many.
    More,
}
