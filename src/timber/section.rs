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
    /// Whether its two faces are alike, so that a part may be turned over.
    pub faces: Sides,
    /// Whether its two edges are alike.
    pub edges: Sides,
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

/// Whether two opposite sides of a section are alike.
///
/// A part keeps its shape under three half-turns of the board it is marked on: about the normal of its face, which changes its ends and its
/// edges; about its own length, which changes its edges and its faces; and about its width, which changes its ends and its faces. Each may be made where what it
/// changes is alike.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Sides {
    /// One is as good as the other.
    #[default]
    Alike,
    /// They differ: one is moulded, tongued, rounded, or alone fit to be seen.
    Different,
}

impl Sides {
    /// Every one, with its word in a job file.
    pub const WORDS: [(&'static str, Sides); 2] =
        [("alike", Sides::Alike), ("different", Sides::Different)];

    /// Its word in a job file.
    pub fn word(self) -> &'static str {
        match self {
            Sides::Alike => Sides::WORDS[0].0,
            Sides::Different => Sides::WORDS[1].0,
        }
    }
}

impl Section {
    /// Whether a part may lie with its second end towards the datum: two of the three half-turns change the ends.
    pub fn turns_ends(&self) -> bool {
        self.faces == Sides::Alike || self.edges == Sides::Alike
    }
}

/// What is lost at the two ends of a board, its saw cut included.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Trim {
    /// At the datum end, where the tape is hooked.
    pub datum: Length,
    /// At the far end.
    pub far: Length,
}
