//! Sections: cross-sections of timber as they are bought.

use crate::fields::word_of;
use crate::length::Length;

/// A cross-section of timber, as bought.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Section {
    /// Its name in the job.
    pub name: String,
    /// Real thickness, overall.
    pub thickness: Option<Length>,
    /// Real width, overall: the width measured at the yard, where there is one.
    pub width: Option<Length>,
    /// Width that a laid board covers, for tongued and lapped boards; the width where none is given. It changes with the measured width.
    pub cover: Option<Length>,
    /// The width before its boards were measured, where the measured width differs.
    pub sold_width: Option<Length>,
    /// How its edges meet.
    pub joint: EdgeJoint,
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
    /// What is trimmed off the ends that the yard's cut makes: at the datum end of the second carried piece, and at the far end of the first.
    pub yard_sawn: Trim,
    /// The shortest offcut worth keeping.
    pub keep: Length,
    /// How many spare pieces are planned, each as long as its longest part.
    pub spares: u32,
    /// The share of what is bought that usually turns out bad, in per cent.
    pub hidden_defects: u32,
    /// The thickness and width by which it is sold, where that is said.
    pub sold_as: Option<[Length; 2]>,
    /// What may be bought of it.
    pub allowed: Allowed,
}

impl Section {
    /// The thickness and width that prices per volume count: the size it is sold as, else its real size, before its boards were measured.
    pub fn sides_sold(&self) -> Option<[Length; 2]> {
        let real = || Some([self.thickness?, self.sold_width.or(self.width)?]);
        self.sold_as.or_else(real)
    }
}

/// The two texts of a thickness and a width, as `50 x 100`.
pub fn split_sides(text: &str) -> Option<[&str; 2]> {
    let (thickness, width) = text.split_once(['x', 'X', '\u{d7}'])?;
    Some([thickness, width])
}

/// What may be bought, where that costs less. Nothing is forbidden by it: where so little will not do, more is bought.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Allowed {
    /// How many lengths.
    pub lengths: Option<u32>,
    /// How much timber.
    pub timber: Option<Length>,
}

/// How the edges of two boards side by side meet.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum EdgeJoint {
    /// Square edges beside each other.
    #[default]
    Square,
    /// A tongue in a groove.
    Tongued,
    /// A rebate over a rebate: the lap is as deep as it was milled.
    Rebated,
    /// One board over the other, feather-edged or plain: the lap may be deeper than the least.
    Lapped,
}

impl EdgeJoint {
    /// Every joint with its word in a job file.
    pub const WORDS: [(&'static str, EdgeJoint); 4] = [
        ("square", EdgeJoint::Square),
        ("tongued", EdgeJoint::Tongued),
        ("rebated", EdgeJoint::Rebated),
        ("lapped", EdgeJoint::Lapped),
    ];

    /// Its word in a job file.
    pub fn word(self) -> &'static str {
        word_of(&EdgeJoint::WORDS, self)
    }

    /// Whether a board lies over its neighbour, so that the last one covers its whole width.
    pub const fn is_lap(self) -> bool {
        matches!(self, EdgeJoint::Rebated | EdgeJoint::Lapped)
    }
}

/// Whether timber is preservative-treated. Unknown counts as treated in every caution.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Treated {
    /// It is not.
    #[default]
    No,
    /// It is.
    Yes,
    /// Nobody knows, as of reclaimed boards.
    Unknown,
}

impl Treated {
    /// Every one, with its word in a job file.
    pub const WORDS: [(&'static str, Treated); 3] = [
        ("no", Treated::No),
        ("yes", Treated::Yes),
        ("unknown", Treated::Unknown),
    ];

    /// What is said of timber that counts as treated.
    pub const fn told(self) -> &'static str {
        match self {
            Treated::No => "not treated",
            Treated::Yes => "treated",
            Treated::Unknown => "perhaps treated (nobody knows)",
        }
    }
}

/// Whether two opposite sides of a section are alike.
///
/// A part keeps its shape under three half-turns of its board. The one about the normal of its face changes its ends and its edges; the one
/// about its length changes its edges and its faces; the one about its width changes its ends and its faces. Each is allowed where what it
/// changes is alike.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Sides {
    /// The two are interchangeable.
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
        word_of(&Sides::WORDS, self)
    }
}

impl Section {
    /// The larger side, along which a board is ripped; nothing where its width is not known.
    pub fn broad(&self) -> Option<Length> {
        let width = self.width?;
        Some(
            self.thickness
                .map_or(width, |thickness| thickness.max(width)),
        )
    }

    /// What a board lies over its neighbour, or its tongue; none where edges meet squarely.
    pub fn lap(&self) -> Length {
        match (self.joint, self.width, self.cover) {
            (EdgeJoint::Square, ..) | (_, None, _) | (.., None) => Length::ZERO,
            (_, Some(width), Some(cover)) => width - cover,
        }
    }

    /// The section as it was planned before its boards were measured.
    pub fn as_sold(&self) -> Section {
        let mut sold = self.clone();
        if let (Some(width), Some(before)) = (self.width, self.sold_width) {
            sold.width = Some(before);
            sold.cover = self.cover.map(|cover| before - (width - cover));
            sold.sold_width = None;
        }
        sold
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
