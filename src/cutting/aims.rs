//! What the caller wants least of.

/// What the engine is to make small.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Aims {
    /// Whether the scrap is a level after the boards' own costs.
    pub scrap: ScrapAim,
}

/// Whether scrap counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScrapAim {
    /// The scrap is made least after all cost levels.
    Least,
    /// Nothing is asked of the scrap and no level is reported for it.
    Ignored,
}
