//! The fields of one set-out, read and ready for its calculation.

use super::beneath::Stands;
use super::worked::Misfit;
use crate::length::{Length, Style};
use crate::part::PartEnd;
use crate::section::EdgeJoint;
use order::{Map, Set};

/// The fields of one set-out, all read without a fault.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Sizes {
    /// The fields that hold something.
    pub values: Map<&'static str, FieldValue>,
    /// The fields that were filled in; the others hold their usual values.
    pub written: Set<&'static str>,
    /// How lengths are printed in notes and drawings.
    pub style: Style,
    /// The faces it stands on.
    pub stands: Stands,
}

/// What a field holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum FieldValue {
    /// A length.
    Length(Length),
    /// A section, or several of the same size.
    Timber(Timber),
    /// A whole number.
    Count(u32),
    /// A position in the list of words to choose from.
    Choice(usize),
    /// The ends of a part.
    Ends([PartEnd; 2]),
    /// Text.
    Text(String),
}

/// The timber of a part: one section, or several of the same size.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Timber {
    /// Indices of the sections, ascending.
    pub sections: Vec<usize>,
    /// The smaller side.
    pub thickness: Length,
    /// The larger side, overall.
    pub width: Length,
    /// The width a laid board covers.
    pub cover: Length,
    /// How its edges meet.
    pub joint: EdgeJoint,
}

/// Which side of a section faces the viewer of a drawing.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Seen {
    /// The wide side.
    Wide,
    /// The narrow side.
    Narrow,
}

impl Seen {
    /// In the order of the words to choose from.
    pub const ALL: [Seen; 2] = [Seen::Wide, Seen::Narrow];
}

impl Timber {
    /// The side that is seen.
    pub fn face(&self, seen: Seen) -> Length {
        match seen {
            Seen::Wide => self.width,
            Seen::Narrow => self.thickness,
        }
    }

    /// The side that runs away from the viewer.
    pub fn depth(&self, seen: Seen) -> Length {
        match seen {
            Seen::Wide => self.thickness,
            Seen::Narrow => self.width,
        }
    }
}

impl Sizes {
    /// The length in a field that is filled in, or has a usual value.
    ///
    /// # Errors
    /// The field is empty.
    pub fn length(&self, field: &'static str) -> Result<Length, Misfit> {
        self.given(field)
            .ok_or_else(|| Misfit::new(field, "this size is missing; fill it in"))
    }

    /// The length in a field that may be empty.
    pub fn given(&self, field: &'static str) -> Option<Length> {
        match self.values.get(field) {
            Some(FieldValue::Length(length)) => Some(*length),
            _ => None,
        }
    }

    /// The timber in a field.
    ///
    /// # Errors
    /// The field is empty.
    pub fn timber(&self, field: &'static str) -> Result<&Timber, Misfit> {
        self.given_timber(field)
            .ok_or_else(|| Misfit::new(field, "the section is missing; choose one"))
    }

    /// The timber in a field that may be empty.
    pub fn given_timber(&self, field: &'static str) -> Option<&Timber> {
        match self.values.get(field) {
            Some(FieldValue::Timber(timber)) => Some(timber),
            _ => None,
        }
    }

    /// The number in a field; zero where it is empty.
    pub fn count(&self, field: &'static str) -> u32 {
        self.given_count(field).unwrap_or(0)
    }

    /// The number in a field that may be empty.
    pub fn given_count(&self, field: &'static str) -> Option<u32> {
        match self.values.get(field) {
            Some(FieldValue::Count(count)) => Some(*count),
            _ => None,
        }
    }

    /// The chosen one of `values`, which are in the order of the field's words; the first where the field is empty.
    pub fn choice<T: Copy, const N: usize>(&self, field: &'static str, values: [T; N]) -> T {
        match self.values.get(field) {
            Some(FieldValue::Choice(index)) if *index < N => values[*index],
            _ => values[0],
        }
    }

    /// The ends in a field; square where it is empty.
    pub fn ends(&self, field: &'static str) -> [PartEnd; 2] {
        match self.values.get(field) {
            Some(FieldValue::Ends(ends)) => *ends,
            _ => [PartEnd::Square; 2],
        }
    }

    /// The text in a field, empty where there is none.
    pub fn text(&self, field: &'static str) -> &str {
        match self.values.get(field) {
            Some(FieldValue::Text(text)) => text,
            _ => "",
        }
    }

    /// Two or three sizes of one thing: `900 mm x 600 mm`.
    pub fn by(&self, lengths: &[Length]) -> String {
        let texts: Vec<String> = lengths.iter().map(|&length| self.show(length)).collect();
        texts.join(" x ")
    }

    /// A length as text, with the sign for about where the tape cannot show it exactly.
    pub fn show(&self, length: Length) -> String {
        let shown = self.style.show(length);
        let about = if shown.rounded { "\u{2248}" } else { "" };
        format!("{about}{shown}")
    }
}
