//! Faults in a job as typed: what is wrong, where, and how to mend it.
//!
//! Every message a person can meet about their own input is made here, from a [`Place`] and a [`FaultKind`]. Messages start in
//! lower case, carry no full stop, quote what was written and end in a remedy. All faults of a job are gathered; none hides another.

use crate::length::{LengthFault, told};
use crate::limits::Most;
use crate::shown;
use std::fmt;

/// Parts left and right of which there are an odd number.
pub(crate) const ODD_PAIR: &str = "left and right come in equal numbers; make the quantity even";

/// Where a fault sits: a list of the job, a row of it and a field of that row; any of them may be absent.
#[derive(Clone, Debug, Default, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub struct Place {
    /// The list or object in the job file: `parts`, `shed`, `saw` …; empty for the job itself.
    pub list: String,
    /// Row in the list, counted from zero; printed from one.
    pub row: Option<usize>,
    /// The field as the job file names it, empty for the whole row.
    pub field: String,
    /// Line and column of a text file, both from one.
    pub line: Option<(usize, usize)>,
}

impl Place {
    /// The job itself.
    pub fn job(field: &str) -> Place {
        Place {
            field: field.into(),
            ..Place::default()
        }
    }

    /// A field of a row of a list.
    pub fn row(list: &str, row: usize, field: &str) -> Place {
        Place {
            list: list.into(),
            row: Some(row),
            field: field.into(),
            line: None,
        }
    }

    /// A field of an object of the job, such as the saw.
    pub fn object(list: &str, field: &str) -> Place {
        Place {
            list: list.into(),
            row: None,
            field: field.into(),
            line: None,
        }
    }

    /// A line and column of a file.
    pub fn line(line: usize, column: usize) -> Place {
        Place {
            line: Some((line, column)),
            ..Place::default()
        }
    }
}

impl fmt::Display for Place {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let mut words = Vec::new();
        if let Some((line, column)) = self.line {
            words.push(format!("line {line}, column {column}"));
        }
        match (self.list.as_str(), self.row) {
            ("", _) => {}
            (list, Some(row)) => words.push(format!("{list} {}", row + 1)),
            (list, None) => words.push(list.to_owned()),
        }
        if !self.field.is_empty() {
            words.push(self.field.clone());
        }
        formatter.write_str(&words.join(", "))
    }
}

/// One fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Fault {
    /// Its place.
    pub place: Place,
    /// What, with its remedy.
    pub kind: FaultKind,
}

impl Fault {
    /// A fault at a place.
    pub fn new(place: Place, kind: FaultKind) -> Fault {
        Fault { place, kind }
    }
}

impl fmt::Display for Fault {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        let place = self.place.to_string();
        // The message quotes what was typed, whatever that is.
        let kind = shown::line(&self.kind.to_string());
        if place.is_empty() {
            formatter.write_str(&kind)
        } else {
            write!(formatter, "{}: {kind}", shown::line(&place))
        }
    }
}

/// What can be wrong with a job.
#[derive(Clone, Debug, PartialEq, Eq)]
#[non_exhaustive]
pub enum FaultKind {
    /// The text is not JSON or not CSV; the parser's own words.
    Unreadable(String),
    /// A part's letter that is none, or is another part's.
    Letter(String),
    /// The file is of another kind or version.
    WrongFormat(String),
    /// A field that must be there is not.
    Missing(&'static str),
    /// A field that does not exist, and the nearest one that does.
    UnknownField {
        /// The field as written.
        field: String,
        /// The nearest known field.
        nearest: Option<String>,
    },
    /// A list where a single value should be, or a single value where a list should be.
    WrongShape(&'static str),
    /// The text is no length.
    Length {
        /// The text as written.
        text: String,
        /// Why.
        fault: LengthFault,
    },
    /// A length outside the range of this field.
    OutOfRange {
        /// What was written, printed.
        value: String,
        /// What the field holds.
        what: &'static str,
        /// The least allowed, printed; empty where there is none.
        least: String,
        /// The most allowed, printed.
        most: String,
    },
    /// The text is no whole number, or one out of range.
    Count {
        /// The text as written.
        text: String,
        /// The least allowed.
        least: u32,
        /// The most allowed.
        most: u32,
    },
    /// The text is no mass.
    Mass(String),
    /// The text is no amount of money.
    Money(String),
    /// No yard has this name.
    UnknownYard {
        /// The name.
        name: String,
        /// The nearest name there is.
        nearest: Option<String>,
    },
    /// What comes in packs is too long to carry.
    PackTooLong,
    /// What comes in packs should stand on factory ends.
    PackOfPosts,
    /// Scrap comes first where it is not reckoned.
    ScrapFirst(&'static str),
    /// The text is no price per unit.
    Price(String),
    /// A price per volume of a section that has no thickness or no width.
    PriceWithoutSides(String),
    /// A length costs more than the limit of prices.
    TooDear {
        /// What it costs, printed.
        price: String,
        /// The most it may cost, printed.
        most: String,
    },
    /// The text is none of the words that this field allows.
    Word {
        /// The text as written.
        text: String,
        /// The words allowed.
        allowed: Vec<&'static str>,
    },
    /// The text is no mitre angle within range.
    Angle(String),
    /// A section that is not in the list of sections; the nearest that is.
    UnknownSection {
        /// The name as written.
        name: String,
        /// The nearest known name.
        nearest: Option<String>,
    },
    /// Two rows with one name.
    Duplicate(String),
    /// A bad stretch that lies outside its board, or ends before it starts.
    BadStretch(String),
    /// Trims or bad stretches leave nothing clear on a board.
    NothingLeft,
    /// The part is mitred but its section has no width.
    MitreWithoutWidth(String),
    /// The part is ripped but its section has no width.
    RipWithoutWidth(String),
    /// The part is left long and goes between others.
    LongBetweenOthers,
    /// Parts are wanted left and right, and their number is odd.
    OddPair,
    /// The mitres of a part cross before they reach the other edge.
    MitresMeet,
    /// A size that is wanted beyond what it may be.
    OutsideItsRange,
    /// The ends of a part are sawn with the blade tilted, and its section has no thickness.
    TiltWithoutThickness(String),
    /// The bevelled edges of a part cross within its thickness.
    BevelsMeet,
    /// A part goes in the ground and both its ends are slanted.
    PostWithoutSquareEnd,
    /// The job has no parts to plan.
    NoParts,
    /// A message of a set-out, which already says what is wrong and how to mend it.
    SetOut(String),
    /// More of something than its limit.
    TooMany {
        /// How many there are.
        found: usize,
        /// How many there may be.
        limit: &'static Most,
    },
}

impl fmt::Display for FaultKind {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            FaultKind::Unreadable(why) => write!(formatter, "cannot be read: {why}"),
            FaultKind::WrongFormat(found) => write!(
                formatter,
                "this is {found}; a job file has \"format\": \"lengthwise-job\" and \"version\": 1"
            ),
            FaultKind::Missing(what) => write!(formatter, "{what} is missing; fill it in"),
            FaultKind::UnknownField {
                field,
                nearest: Some(nearest),
            } => {
                write!(
                    formatter,
                    "no field is called \"{field}\"; did you mean \"{nearest}\"?"
                )
            }
            FaultKind::UnknownField {
                field,
                nearest: None,
            } => {
                write!(formatter, "no field is called \"{field}\"; remove it")
            }
            FaultKind::WrongShape(wanted) => write!(formatter, "should be {wanted}"),
            FaultKind::Length {
                fault: LengthFault::Empty,
                ..
            } => write!(formatter, "{}", LengthFault::Empty),
            FaultKind::Length { text, fault } => {
                write!(formatter, "\"{text}\": {}", told(text, fault))
            }
            FaultKind::OutOfRange {
                value,
                what,
                least,
                most,
            } => {
                let range = if least.is_empty() {
                    format!("up to {most}")
                } else {
                    format!("{least} to {most}")
                };
                write!(
                    formatter,
                    "{value} is not sensible for {what}; give {range}, and check the unit"
                )
            }
            FaultKind::Count { text, least, most } => {
                write!(
                    formatter,
                    "\"{text}\" should be a whole number from {least} to {most}"
                )
            }
            FaultKind::Mass(text) => {
                write!(
                    formatter,
                    "\"{text}\" is no mass to carry; write one from 1 kg to 40000 kg such as 300, 300 kg or 660 lb"
                )
            }
            FaultKind::TooDear { price, most } => write!(
                formatter,
                "{price} is more than {most}, the most that one length may cost; check the decimal sign, or write all prices in a larger unit of money"
            ),
            FaultKind::UnknownYard { name, nearest } => {
                write!(formatter, "no yard is called \"{name}\"; ")?;
                match nearest {
                    Some(nearest) => write!(formatter, "did you mean \"{nearest}\"?"),
                    None => write!(formatter, "add it to the yards first"),
                }
            }
            FaultKind::PackTooLong => write!(
                formatter,
                "a length too long to carry is not planned out of packs; write it without the pack, with the price of one"
            ),
            FaultKind::ScrapFirst(what) => write!(
                formatter,
                "the least scrap is not planned {what}, or choose another aim"
            ),
            FaultKind::PackOfPosts => write!(
                formatter,
                "parts that stand on factory ends are not planned out of packs; write it without the pack, with the price of one"
            ),
            FaultKind::Price(text) => write!(
                formatter,
                "\"{text}\" is no price; write what one costs, as 5.40, or a price per unit, as 4.20 per m, 1.28 per ft, 500 per m3 or 620 per MBF, and no currency sign"
            ),
            FaultKind::PriceWithoutSides(section) => write!(
                formatter,
                "a price per volume needs the thickness and the width of its section; fill them in for \"{section}\", or say what size it is sold as"
            ),
            FaultKind::Money(text) => {
                write!(
                    formatter,
                    "\"{text}\" is no amount; write digits with at most two decimals, such as 5.40, and no currency sign"
                )
            }
            FaultKind::Word { text, allowed } => {
                write!(
                    formatter,
                    "\"{text}\" is not known here; choose {}",
                    allowed.join(", ")
                )
            }
            FaultKind::Angle(text) => write!(
                formatter,
                "\"{text}\" is no end; write square, or the angle off square in degrees from 0.1 to 75, such as 45, with a tilt of the blade up to 60 as 45 tilt 30"
            ),
            FaultKind::UnknownSection {
                name,
                nearest: Some(nearest),
            } => {
                write!(
                    formatter,
                    "no section is called \"{name}\"; did you mean \"{nearest}\"?"
                )
            }
            FaultKind::UnknownSection {
                name,
                nearest: None,
            } => {
                write!(
                    formatter,
                    "no section is called \"{name}\"; add it to the sections first"
                )
            }
            FaultKind::Letter(text) => write!(
                formatter,
                "\"{text}\" should be a letter that no other part has, A to Z or AA to ZZ; leave it empty to get the next one"
            ),
            FaultKind::Duplicate(name) => write!(
                formatter,
                "\"{name}\" is there twice; give each its own name"
            ),
            FaultKind::BadStretch(text) => {
                write!(
                    formatter,
                    "the bad stretch {text} should start before it ends, and lie on the board; both are measured from the datum end"
                )
            }
            FaultKind::NothingLeft => write!(
                formatter,
                "trims and bad stretches leave nothing to cut from; shorten them or drop the board"
            ),
            FaultKind::MitreWithoutWidth(section) => {
                write!(
                    formatter,
                    "a mitre needs the width of its section; fill in the width of \"{section}\""
                )
            }
            FaultKind::RipWithoutWidth(section) => {
                write!(
                    formatter,
                    "what is ripped needs the width of its boards; fill in the width of \"{section}\""
                )
            }
            FaultKind::LongBetweenOthers => write!(
                formatter,
                "a part that is left long is trimmed where it goes, so it is not measured first; leave this empty, or let it go free"
            ),
            FaultKind::OddPair => write!(formatter, "{ODD_PAIR}"),
            FaultKind::PostWithoutSquareEnd => write!(
                formatter,
                "what goes in the ground stands on a factory end, which is square; make one end square"
            ),
            FaultKind::OutsideItsRange => write!(
                formatter,
                "the range does not hold the size before it; write the shorter length first, as in 600, may be 585 to 620"
            ),
            FaultKind::MitresMeet => write!(
                formatter,
                "the mitres meet before they are across the board; the length is from long point to long point, so lengthen the part or flatten the angle"
            ),
            FaultKind::TiltWithoutThickness(section) => {
                write!(
                    formatter,
                    "a tilted cut needs the thickness of its section; fill in the thickness of \"{section}\""
                )
            }
            FaultKind::BevelsMeet => write!(
                formatter,
                "the bevels meet within the thickness; make the part wider, or the bevels less"
            ),
            FaultKind::NoParts => write!(
                formatter,
                "there are no parts yet; add the first part or a set-out"
            ),
            FaultKind::SetOut(message) => formatter.write_str(message),
            FaultKind::TooMany { found, limit } => formatter.write_str(&limit.told(*found)),
        }
    }
}
