//! Sizes that may give: a length as typed, with a word beside it that says how far it may be another.
//!
//! `600, may be 585 to 620` is wanted at 600 and does between 585 and 620. `600, fixed` is never offered for a change. `590, wanted 600` is what was chosen
//! for a size that gives. Everything that only wants the length reads what stands before the comma.

use crate::draft::JobDraft;
use crate::fault::{Fault, FaultKind, Place};
use crate::length::{Length, Reading, read_length};
use crate::setout::{Kind, Sort};

/// What is said beside a length.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Beside<'a> {
    /// It stays as it is.
    Fixed,
    /// It may be anything from the first to the second.
    MayBe(&'a str, &'a str),
    /// It was chosen in place of this one.
    Wanted(&'a str),
}

/// The words, each between the length and what it says.
const FIXED: &str = "fixed";
const MAY_BE: &str = "may be ";
const TO: &str = " to ";
const WANTED: &str = "wanted ";

/// The example in messages.
const EXAMPLE: &str = "a length such as 600, or 600, may be 585 to 620, or 600, fixed";

/// A length as typed and what is said beside it. A text that says nothing is all length.
pub fn split(text: &str) -> (&str, Option<Beside<'_>>) {
    let mut from = 0;
    while let Some(comma) = text[from..].find(',').map(|at| from + at) {
        if let Some(beside) = beside(text[comma + 1..].trim()) {
            return (text[..comma].trim_end(), Some(beside));
        }
        from = comma + 1;
    }
    (text, None)
}

fn beside(said: &str) -> Option<Beside<'_>> {
    if said.eq_ignore_ascii_case(FIXED) {
        return Some(Beside::Fixed);
    }
    if let Some(wanted) = behind(said, WANTED) {
        return Some(Beside::Wanted(wanted.trim()));
    }
    // Without its second length it is a range all the same, of which the second cannot be read.
    let range = behind(said, MAY_BE)?;
    let (least, most) = range.split_once(TO).unwrap_or((range, ""));
    Some(Beside::MayBe(least.trim(), most.trim()))
}

/// What follows a word at the beginning of a text, in capitals or not.
fn behind<'a>(text: &'a str, word: &str) -> Option<&'a str> {
    let (first, rest) = text.split_at_checked(word.len())?;
    first.eq_ignore_ascii_case(word).then_some(rest)
}

/// The text with each of its lengths rewritten; `None` where none is.
pub fn rewritten(text: &str, one: &mut dyn FnMut(&str) -> Option<String>) -> Option<String> {
    let (length, said) = split(text);
    let Some(said) = said else {
        return one(text);
    };
    let mut any = false;
    let mut one = |text: &str| {
        let new = one(text);
        any |= new.is_some();
        new.unwrap_or_else(|| text.to_owned())
    };
    let length = one(length);
    let text = match said {
        Beside::Fixed => format!("{length}, {FIXED}"),
        Beside::MayBe(least, most) => format!("{length}, {MAY_BE}{}{TO}{}", one(least), one(most)),
        Beside::Wanted(wanted) => format!("{length}, {WANTED}{}", one(wanted)),
    };
    any.then_some(text)
}

/// A length that was chosen in place of the one wanted, as it is typed.
pub fn chosen(chosen: &str, wanted: &str) -> String {
    format!("{chosen}, {WANTED}{wanted}")
}

/// A size of which something is said besides its length.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Size {
    /// Its field.
    pub place: Place,
    /// The length it has.
    pub length: Length,
    /// What is said of it.
    pub gives: Gives,
}

/// How far a size may be another.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Gives {
    /// It stays as it is.
    Not,
    /// From the first to the second.
    Between(Length, Length),
    /// It was chosen in place of this one.
    Wanted(Length),
}

/// Takes what is said beside lengths out of a job as written, so that plain lengths are left; returns what was said of each, and the faults in that.
pub fn taken_out(draft: &mut JobDraft, reading: Reading) -> (Vec<Size>, Vec<Fault>) {
    let mut found = Found {
        reading,
        sizes: Vec::new(),
        faults: Vec::new(),
    };
    for (row, part) in draft.parts.iter_mut().enumerate() {
        if let Some(text) = &mut part.length {
            found.take(|| Place::row("parts", row, "length"), text);
        }
    }
    for (row, set_out) in draft.set_outs.iter_mut().enumerate() {
        let kind = set_out.kind.as_deref().and_then(Kind::named);
        let is_size = |field: &str| {
            let field = kind.and_then(|kind| kind.about().field(field));
            field.is_some_and(|field| matches!(field.sort, Sort::Size | Sort::Length))
        };
        for (field, text) in set_out.fields.iter_mut().filter(|(name, _)| is_size(name)) {
            found.take(|| Place::row("set_outs", row, field), text);
        }
    }
    (found.sizes, found.faults)
}

struct Found {
    reading: Reading,
    sizes: Vec<Size>,
    faults: Vec<Fault>,
}

impl Found {
    fn take(&mut self, place: impl Fn() -> Place, text: &mut String) {
        let (length, Some(beside)) = split(text) else {
            return;
        };
        let before = self.faults.len();
        // A length that cannot be read is told where it is read; a sum of other sizes gives by those.
        let size = match read_length(length, self.reading) {
            Ok(size) => Some(size),
            Err(_) if beside == Beside::Fixed => None,
            Err(_) => {
                self.faults
                    .push(Fault::new(place(), FaultKind::WrongShape(EXAMPLE)));
                None
            }
        };
        let gives = match beside {
            Beside::Fixed => Gives::Not,
            Beside::MayBe(least, most) => {
                let [least, most] = [least, most].map(|text| self.read(&place, text));
                let range = Gives::Between(least, most);
                let holds = size.is_none_or(|size| least <= size && size <= most);
                if self.faults.len() == before && !holds {
                    self.faults
                        .push(Fault::new(place(), FaultKind::OutsideItsRange));
                }
                range
            }
            Beside::Wanted(wanted) => Gives::Wanted(self.read(&place, wanted)),
        };
        if let Some(length) = size.filter(|_| self.faults.len() == before) {
            self.sizes.push(Size {
                place: place(),
                length,
                gives,
            });
        }
        *text = length.to_owned();
    }

    fn read(&mut self, place: &impl Fn() -> Place, text: &str) -> Length {
        read_length(text, self.reading).unwrap_or_else(|fault| {
            let kind = match text.is_empty() {
                true => FaultKind::WrongShape(EXAMPLE),
                false => FaultKind::Length {
                    text: text.to_owned(),
                    fault,
                },
            };
            self.faults.push(Fault::new(place(), kind));
            Length::ZERO
        })
    }
}
