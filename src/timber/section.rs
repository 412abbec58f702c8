//! Sections: cross-sections of timber as they are bought.

use crate::length::Length;

/// A timber cross-section as bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// Its name in the job.
    pub name: String,
    /// Real thickness, overall.
    pub thickness: Option<Length>,
    /// Real width, overall.
    pub width: Option<Length>,
    /// Width a laid board covers, for tongued and lapped boards; the width where nothing is given.
    pub cover: Option<Length>,
    /// Whether it is preservative-treated.
    pub treated: Treated,
    /// Whether a part may be turned end for end, so that neighbours can share a mitre cut.
    pub turnable: Turnable,
    /// Density in kilograms per cubic metre.
    pub density: Option<u32>,
    /// End trims of a new length.
    pub trim: Trim,
    /// The shortest offcut worth keeping.
    pub keep: Length,
}

/// Whether timber is preservative-treated. Unknown counts as treated in every caution.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Treated {
    /// It is not.
    #[default]
    No,
    /// It is.
    Yes,
    /// Nobody knows, as with reclaimed boards.
    Unknown,
}

/// Whether parts of a section may be turned end for end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Turnable {
    /// Square-edged and alike on both edges.
    #[default]
    Yes,
    /// Moulded, faced or tongued.
    No,
}

/// What is lost at the two ends of a board, its saw cut included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Trim {
    /// At the datum end, where the tape is hooked.
    pub datum: Length,
    /// At the far end.
    pub far: Length,
}
