//! What the caller wants least of.

/// What the engine is to make small.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Aims {
    /// Where among the levels the scrap is one.
    pub scrap: ScrapAim,
}

/// Whether scrap counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScrapAim {
    /// The scrap is made least after all cost levels.
    Least,
    /// The scrap is made least after so many cost levels, and before the others.
    LeastAfter(usize),
    /// Nothing is asked of the scrap and no level is reported for it.
    Ignored,
}
