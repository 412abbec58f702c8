//! The kinds of set-out and the fields of each: the one table the page builds its forms from, a job file is checked against and
//! the schema is written from.

use super::sizes::Sizes;
use super::worked::{Misfit, Worked};
use super::{
    boarding, frame, free_parts, mitred_frame, panel_box, polygon, slats, spaced, top_frame,
};

/// A kind of set-out.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Kind {
    /// A framed panel.
    Frame,
    /// A box of four framed panels.
    Box,
    /// A top or seat frame with cross members.
    TopFrame,
    /// Boarding of a face.
    Boarding,
    /// Slats or boards across a span.
    Slats,
    /// A mitred cap or frame around a rectangle.
    MitredFrame,
    /// A mitred ring of equal sides.
    Polygon,
    /// Members at centres.
    Spaced,
    /// Parts written by hand, several times over.
    FreeParts,
}

impl Kind {
    /// Every kind, in the order a person meets them.
    pub const ALL: [Kind; 9] = [
        Kind::Frame,
        Kind::Box,
        Kind::TopFrame,
        Kind::Boarding,
        Kind::Slats,
        Kind::MitredFrame,
        Kind::Polygon,
        Kind::Spaced,
        Kind::FreeParts,
    ];

    /// The kind of this name in a job file.
    pub fn named(word: &str) -> Option<Kind> {
        Kind::ALL
            .into_iter()
            .find(|kind| kind.about().kind.eq_ignore_ascii_case(word))
    }

    /// What it is and asks for.
    pub const fn about(self) -> &'static KindInfo {
        match self {
            Kind::Frame => &frame::KIND,
            Kind::Box => &panel_box::KIND,
            Kind::TopFrame => &top_frame::KIND,
            Kind::Boarding => &boarding::KIND,
            Kind::Slats => &slats::KIND,
            Kind::MitredFrame => &mitred_frame::KIND,
            Kind::Polygon => &polygon::KIND,
            Kind::Spaced => &spaced::KIND,
            Kind::FreeParts => &free_parts::KIND,
        }
    }

    /// Works out one set-out of this kind.
    ///
    /// # Errors
    /// Sizes that do not go together.
    pub fn work_out(self, sizes: &Sizes) -> Result<Worked, Misfit> {
        match self {
            Kind::Frame => frame::work_out(sizes),
            Kind::Box => panel_box::work_out(sizes),
            Kind::TopFrame => top_frame::work_out(sizes),
            Kind::Boarding => boarding::work_out(sizes),
            Kind::Slats => slats::work_out(sizes),
            Kind::MitredFrame => mitred_frame::work_out(sizes),
            Kind::Polygon => polygon::work_out(sizes),
            Kind::Spaced => spaced::work_out(sizes),
            Kind::FreeParts => free_parts::work_out(sizes),
        }
    }
}

/// Every kind with its fields, in the order a person meets them.
pub fn kinds() -> Vec<&'static KindInfo> {
    Kind::ALL.into_iter().map(Kind::about).collect()
}

/// What a kind of set-out is and asks for. The fields of [`COMMON_FIELDS`] belong to every kind as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KindInfo {
    /// Its name in a job file.
    pub kind: &'static str,
    /// Its title.
    pub title: &'static str,
    /// What a set-out of it is called until the person names it.
    pub name: &'static str,
    /// One sentence on what it does.
    pub about: &'static str,
    /// Its own fields, the sizes first.
    pub fields: &'static [Field],
}

impl KindInfo {
    /// Its own fields and those every kind has.
    pub fn all_fields(&self) -> impl Iterator<Item = &'static Field> + use<> {
        self.fields.iter().chain(COMMON_FIELDS)
    }

    /// The field of this name.
    pub fn field(&self, name: &str) -> Option<&'static Field> {
        self.all_fields().find(|field| field.field == name)
    }
}

/// A field of a set-out.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Field {
    /// Its name in a job file; with spaces for underscores, the name other set-outs use for the size.
    pub field: &'static str,
    /// What a form calls it.
    pub label: &'static str,
    /// What to fill in, in one short sentence.
    pub hint: &'static str,
    /// What it holds.
    pub sort: Sort,
    /// What an empty field stands for.
    pub usual: Usual,
    /// Whether what is usual changes a size of what is made: a form shows such a field among the sizes, never under a fold.
    pub in_sight: bool,
}

/// What a field holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// A length above zero, or a sum that comes to one.
    Size,
    /// A length of zero or more, or a sum that comes to one.
    Length,
    /// The name of a section, or several parted by semicolons. Its thickness and width are needed.
    Section,
    /// The same, where the sides do not matter.
    AnySection,
    /// A whole number.
    Count {
        /// The least.
        least: u32,
        /// The most.
        most: u32,
    },
    /// One of these words.
    Choice(&'static [&'static str]),
    /// The ends of a part, as in the list of parts.
    Ends,
    /// Any text.
    Text,
}

impl Sort {
    /// The words to choose from, where there are any.
    pub const fn choices(self) -> Option<&'static [&'static str]> {
        match self {
            Sort::Choice(words) => Some(words),
            _ => None,
        }
    }

    /// One word for what it holds, for a form to choose its input from.
    pub const fn word(self) -> &'static str {
        match self {
            Sort::Size | Sort::Length => "length",
            Sort::Section | Sort::AnySection => "section",
            Sort::Count { .. } => "count",
            Sort::Choice(_) => "choice",
            Sort::Ends => "ends",
            Sort::Text => "text",
        }
    }
}

/// What an empty field stands for.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Usual {
    /// The field has to be filled in.
    Needed,
    /// Nothing: the field is left out.
    Nothing,
    /// This text.
    Text(&'static str),
    /// The first in a metric job, the second in an imperial one.
    ByUnit(&'static str, &'static str),
}

impl Usual {
    /// The text an empty field stands for.
    pub const fn text(self, imperial: bool) -> &'static str {
        match self {
            Usual::Needed | Usual::Nothing => "",
            Usual::Text(text) => text,
            Usual::ByUnit(metric, _) if !imperial => metric,
            Usual::ByUnit(_, inches) => inches,
        }
    }
}

/// The fields every kind has.
pub const COMMON_FIELDS: &[Field] = &[Field {
    field: "times",
    label: "How many of these",
    hint: "Two of these? Write 2.",
    sort: Sort::Count {
        least: 1,
        most: 1_000,
    },
    usual: Usual::Text("1"),
    in_sight: false,
}];

/// A section field.
pub const fn section_field(field: &'static str, label: &'static str, hint: &'static str) -> Field {
    Field {
        field,
        label,
        hint,
        sort: Sort::Section,
        usual: Usual::Needed,
        in_sight: false,
    }
}

/// A size that has to be filled in.
pub const fn size_field(field: &'static str, label: &'static str, hint: &'static str) -> Field {
    Field {
        field,
        label,
        hint,
        sort: Sort::Size,
        usual: Usual::Needed,
        in_sight: false,
    }
}

/// Which side of the section is seen: the wide one unless something else is usual.
pub const fn seen_field(usual: &'static str) -> Field {
    Field {
        field: "seen",
        label: "Side you look at",
        hint: "The wide side lies flat in the drawing; the narrow side stands on edge.",
        sort: Sort::Choice(&["wide side", "narrow side"]),
        usual: Usual::Text(usual),
        in_sight: false,
    }
}
