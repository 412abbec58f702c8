//! Every field of the job file, once: the reader knows its fields from here, and the schema documents them from here.

use crate::limits::{self, Most};

/// What a field holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Holds {
    /// Any text.
    Text,
    /// A length: a number in the unit of the job, or text such as `1.2 m` or `47 1/4"`.
    Length,
    /// Two lengths, for the datum end and the far end, or one for both.
    TwoLengths,
    /// A whole number.
    Count,
    /// A mass: a number, or text such as `300 kg` or `660 lb`.
    Mass,
    /// An amount with at most two decimals.
    Money,
    /// One of these words.
    Word(&'static [&'static str]),
    /// Stretches of a board: `400..460; 900..950`, or a list of pairs.
    Stretches,
    /// One name or several.
    Names,
    /// One end or two: `square`, or an angle in degrees.
    Ends,
}

/// A field of an object of the job file.
#[derive(Clone, Copy, Debug)]
pub struct Field {
    /// Its name in the file.
    pub name: &'static str,
    /// What it holds.
    pub holds: Holds,
    /// Whether it must be there.
    pub needed: bool,
    /// What it means, for the schema.
    pub about: &'static str,
}

const fn field(name: &'static str, holds: Holds, needed: bool, about: &'static str) -> Field {
    Field {
        name,
        holds,
        needed,
        about,
    }
}

const YES: bool = true;
const NO: bool = false;

/// Fields of the job itself that are no lists or objects.
pub const JOB: &[Field] = &[
    field("piece", Holds::Text, NO, "What is being built."),
    field(
        "unit",
        Holds::Word(&["mm", "cm", "m", "in", "ft"]),
        NO,
        "The unit of bare numbers, and of everything printed; mm where nothing is said.",
    ),
    field(
        "decimal",
        Holds::Word(&["point", "comma"]),
        NO,
        "The decimal sign; a point where nothing is said.",
    ),
    field(
        "step",
        Holds::Length,
        NO,
        "The finest step tape readings are printed to: 0.5 mm, or 1/16 in, where nothing is said.",
    ),
    field(
        "aim",
        Holds::Word(&["fewest", "cheapest", "shortest"]),
        NO,
        "What the plan makes smallest first: lengths bought, money, or metres bought; fewest where nothing is said.",
    ),
    field(
        "carry",
        Holds::Length,
        NO,
        "The longest length the vehicle carries. Longer ones are planned with one cut at the yard.",
    ),
    field(
        "payload",
        Holds::Mass,
        NO,
        "What the vehicle may carry besides its people: kilograms, or pounds where the unit of the job is inches or feet.",
    ),
];

/// Fields of the saw.
pub const SAW: &[Field] = &[
    field(
        "kerf",
        Holds::Length,
        NO,
        "Width of a square cut; 2.4 mm, or 1/8 in, where nothing is said. Measure your own blade's slot.",
    ),
    field(
        "keep",
        Holds::Length,
        NO,
        "The shortest offcut worth keeping; 300 mm, or 12 in, where nothing is said.",
    ),
];

/// Fields of a section.
pub const SECTION: &[Field] = &[
    field(
        "name",
        Holds::Text,
        YES,
        "What parts, yard and shed call it. No semicolons.",
    ),
    field("thickness", Holds::Length, NO, "Real thickness."),
    field(
        "width",
        Holds::Length,
        NO,
        "Real overall width; needed for mitres.",
    ),
    field(
        "cover",
        Holds::Length,
        NO,
        "Width a laid board covers, for tongued and lapped boards.",
    ),
    field(
        "treated",
        Holds::Word(&["no", "yes", "unknown"]),
        NO,
        "Preservative-treated; unknown counts as treated in every caution.",
    ),
    field(
        "turnable",
        Holds::Word(&["yes", "no"]),
        NO,
        "Whether a part may be turned end for end, so that neighbours share a mitre cut; no for moulded, faced or tongued sections.",
    ),
    field("density", Holds::Count, NO, "Kilograms per cubic metre."),
    field(
        "trim",
        Holds::TwoLengths,
        NO,
        "End trim of new lengths, saw cut included; 10 mm, or 1/2 in, where nothing is said.",
    ),
    field(
        "keep",
        Holds::Length,
        NO,
        "The shortest offcut of this section worth keeping; the saw's where nothing is said.",
    ),
];

/// Fields of a length at the yard.
pub const YARD: &[Field] = &[
    field(
        "section",
        Holds::Text,
        YES,
        "Name of its section; may be left out where there is only one.",
    ),
    field("length", Holds::Length, YES, "Its length."),
    field(
        "price",
        Holds::Money,
        NO,
        "What one costs, at most 1 000 000.00.",
    ),
    field(
        "count",
        Holds::Count,
        NO,
        "How many there are; as many as wanted where nothing is said.",
    ),
];

/// Fields of a board in the shed.
pub const SHED: &[Field] = &[
    field(
        "mark",
        Holds::Text,
        NO,
        "The mark on its end; its row where nothing is said.",
    ),
    field(
        "section",
        Holds::Text,
        YES,
        "Name of its section; may be left out where there is only one.",
    ),
    field("length", Holds::Length, YES, "Its measured length."),
    field(
        "bad",
        Holds::Stretches,
        NO,
        "Stretches nothing may be cut from, from the datum end.",
    ),
    field(
        "trim",
        Holds::TwoLengths,
        NO,
        "End trim, saw cut included; 50 mm, or 2 in, where nothing is said.",
    ),
    field("note", Holds::Text, NO, "Anything worth remembering."),
];

/// Fields of a part.
pub const PART: &[Field] = &[
    field("label", Holds::Text, YES, "What it is called."),
    field(
        "section",
        Holds::Names,
        YES,
        "The section it is made of, or several that will do; may be left out where there is only one.",
    ),
    field(
        "length",
        Holds::Length,
        YES,
        "Its length, long point to long point where it is mitred.",
    ),
    field(
        "quantity",
        Holds::Count,
        NO,
        "How many; one where nothing is said.",
    ),
    field(
        "ends",
        Holds::Ends,
        NO,
        "How its ends are cut: square, or the angle off square in degrees, for both ends or for the datum end and the far end.",
    ),
    field(
        "goes",
        Holds::Word(&["free", "between others"]),
        NO,
        "Where it goes: free, so that it may come out a little long but never short; or between others, as a noggin does, so that it \
         is measured first and never comes out long.",
    ),
];

impl Field {
    /// How many characters a text in it may have.
    pub fn characters(&self) -> &'static Most {
        match (self.holds, self.name) {
            (Holds::Text, "note") => &limits::NOTE,
            (Holds::Text, "label") => &limits::LABEL,
            (Holds::Text, _) => &limits::NAME,
            (Holds::Names | Holds::Stretches, _) => &limits::LIST,
            _ => &limits::FIELD,
        }
    }

    /// The most a whole number in it may be.
    pub fn most(&self) -> usize {
        match self.name {
            "quantity" => limits::PARTS_IN_ALL.most,
            "density" => limits::DENSITY as usize,
            _ => limits::COUNT as usize,
        }
    }
}

/// The names of fields.
pub fn names(fields: &[Field]) -> Vec<&'static str> {
    fields.iter().map(|field| field.name).collect()
}
