//! The job: everything that is known before planning, legal by construction.
//!
//! A [`Job`] is made only by `job::validate`, from a [`JobDraft`] that holds the texts as they were written. Indices replace names:
//! a part's section is a position in [`Job::sections`].

mod angle;
mod draft;
mod field;
pub mod limits;
mod nearest;
pub mod usual;
mod validate;
mod within;

pub use angle::Angle;
pub use draft::{JobDraft, PartDraft, SawDraft, SectionDraft, SetOutDraft, ShedDraft, YardDraft};
pub use field::{read_ends, read_stretches, split_stretch};
pub use nearest::nearest_word;
pub use validate::{examine, validate};

use crate::length::{Decimal, Length, Reading, Style, Unit};
use crate::mass::Mass;
use crate::money::Money;
use crate::quantities::QuantityRules;
use crate::setout::SetOut;

/// A job, ready to plan.
#[derive(Clone, Debug)]
pub struct Job {
    /// What the piece is called.
    pub piece: String,
    /// How bare numbers are read, and the unit lengths are printed in.
    pub reading: Reading,
    /// The finest step readings are printed to.
    pub step: Length,
    /// What the plan makes smallest.
    pub aim: Aim,
    /// The saw.
    pub saw: Saw,
    /// The longest length the vehicle carries; longer ones get one cut at the yard.
    pub carry: Option<Length>,
    /// The mass the vehicle may carry, besides its people.
    pub payload: Option<Mass>,
    /// The sections.
    pub sections: Vec<Section>,
    /// The lengths the yard sells.
    pub yard: Vec<YardLength>,
    /// The boards in the shed.
    pub shed: Vec<ShedBoard>,
    /// The cutting list, parts of set-outs included.
    pub parts: Vec<Part>,
    /// The set-outs, worked out.
    pub set_outs: Vec<SetOut>,
    /// What the quantities rest on.
    pub quantities: QuantityRules,
}

impl Job {
    /// How this job prints its lengths, with their unit.
    pub fn style(&self) -> Style {
        Style {
            unit: self.reading.unit,
            step: self.step,
            decimal: self.reading.decimal,
            with_unit: true,
        }
    }

    /// The decimal sign.
    pub fn decimal(&self) -> Decimal {
        self.reading.decimal
    }

    /// Whether the tape is imperial.
    pub fn is_imperial(&self) -> bool {
        self.reading.unit.is_imperial()
    }

    /// The unit lengths are printed in.
    pub fn unit(&self) -> Unit {
        self.reading.unit
    }
}

/// What the plan makes smallest, in order; scrap comes after in each.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Aim {
    /// Bought lengths, then money.
    #[default]
    Fewest,
    /// Money, then bought lengths.
    Cheapest,
    /// Bought metres, then money.
    Shortest,
}

/// The saw and what is worth keeping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Saw {
    /// Width of a square cut.
    pub kerf: Length,
    /// The shortest offcut worth keeping, unless the section has its own.
    pub keep: Length,
}

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

/// A length the yard sells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct YardLength {
    /// Index of its section.
    pub section: usize,
    /// The stated, or measured, length.
    pub length: Length,
    /// That length as it was written, where its unit was written too: a yard that sells 14' is not asked for 168".
    pub written: Option<String>,
    /// What one costs.
    pub price: Option<Money>,
    /// How many there are; `None` is as many as wanted.
    pub count: Option<u32>,
}

/// A board in the shed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShedBoard {
    /// The mark written on its end.
    pub mark: String,
    /// Index of its section.
    pub section: usize,
    /// Its measured length.
    pub length: Length,
    /// Stretches nothing may be cut from, ascending, apart from each other, from the datum end.
    pub bad: Vec<Stretch>,
    /// Its end trims.
    pub trim: Trim,
    /// Anything worth remembering.
    pub note: String,
}

/// A stretch of a board, from the datum end.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Stretch {
    /// Where it starts.
    pub from: Length,
    /// Where it ends, beyond `from`.
    pub to: Length,
}

/// One line of the cutting list.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Part {
    /// What it is called.
    pub label: String,
    /// Indices of the sections it may be made of, ascending, at least one.
    pub sections: Vec<usize>,
    /// Its long-point length.
    pub length: Length,
    /// How many, at least one.
    pub quantity: u32,
    /// Its ends, the datum end first.
    pub ends: [PartEnd; 2],
    /// Whether it goes between others.
    pub fitting: Fitting,
    /// The set-out it comes from, empty for a part written by hand.
    pub from: String,
    /// Row of the draft it was written in, for parts written by hand.
    pub row: Option<usize>,
}

/// Whether a part goes between others, which decides which way its length may miss.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Fitting {
    /// It stands free: it may be a little long, never short.
    #[default]
    Free,
    /// It goes between others, as a noggin does: it is measured there first, and may be a little short, never long.
    Between,
}

impl Fitting {
    /// Every one, with its word in a job file.
    pub const WORDS: [(&'static str, Fitting); 2] = [
        ("free", Fitting::Free),
        ("between others", Fitting::Between),
    ];

    /// Its word in a job file.
    pub fn word(self) -> &'static str {
        match self {
            Fitting::Free => Fitting::WORDS[0].0,
            Fitting::Between => Fitting::WORDS[1].0,
        }
    }
}

/// How an end of a part is cut.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum PartEnd {
    /// Square across.
    #[default]
    Square,
    /// At this angle off square.
    Mitre(Angle),
}
