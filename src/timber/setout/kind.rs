//! What a kind of set-out declares: its names, its fields, and what each field holds.

use crate::fields::words;
use crate::part::{FACES, MadeFrom};

/// A kind of set-out and its form. The fields of [`COMMON_FIELDS`] belong to every kind as well.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct KindInfo {
    /// Its name in a job file.
    pub kind: &'static str,
    /// Its title.
    pub title: &'static str,
    /// The name of a set-out of this kind until the person gives it one.
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
    /// Its name in a job file. With spaces for underscores it is also the name by which other set-outs refer to the size.
    pub field: &'static str,
    /// What a form calls it.
    pub label: &'static str,
    /// What to fill in, in one short sentence.
    pub hint: &'static str,
    /// What it holds.
    pub sort: Sort,
    /// What an empty field stands for.
    pub usual: Usual,
    /// Whether the usual value changes a size of what is made. A form shows such a field among the sizes, never folded away.
    pub in_sight: bool,
}

/// What a field holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Sort {
    /// A length above zero, or a sum with such a value.
    Size,
    /// A length of zero or more, or a sum with such a value.
    Length,
    /// The name of a section, or of several separated by semicolons. Its thickness and width are needed.
    Section,
    /// The same, where thickness and width are not needed.
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
    /// Faces of other set-outs, such as `[Box] left; [Box] right`.
    Face,
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

    /// Which of its words a text is, as it is called or was.
    pub fn chosen(self, text: &str) -> Option<usize> {
        let called = |word: &str| word.eq_ignore_ascii_case(text);
        let mut words = self.choices()?.iter();
        words.position(|word| called(word) || formerly(word).is_some_and(called))
    }

    /// One word for what it holds, for a form to choose its input from.
    pub const fn word(self) -> &'static str {
        match self {
            Sort::Size | Sort::Length => "length",
            Sort::Section | Sort::AnySection => "section",
            Sort::Count { .. } => "count",
            Sort::Choice(_) => "choice",
            Sort::Ends => "ends",
            Sort::Face | Sort::Text => "text",
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
pub static COMMON_FIELDS: &[Field] = &[
    Field {
        field: "times",
        label: "How many of these",
        hint: "Two of these? Write 2.",
        sort: Sort::Count {
            least: 1,
            most: 1_000,
        },
        usual: Usual::Text("1"),
        in_sight: false,
    },
    Field {
        field: "from",
        label: "Its parts are made from",
        hint: "New timber only, or boards of the shed only; anything where nothing is said.",
        sort: Sort::Choice(&words(&MadeFrom::WORDS)),
        usual: Usual::Text(MadeFrom::WORDS[0].0),
        in_sight: false,
    },
    Field {
        field: "face",
        label: "Face of its parts",
        hint: "With the good face out, parts are never turned over.",
        sort: Sort::Choice(&words(&FACES)),
        usual: Usual::Text(FACES[0].0),
        in_sight: false,
    },
    Field {
        field: "called",
        label: "Other names for its parts",
        hint: "The usual name, an equals sign and yours: post = leg; rail = ledge.",
        sort: Sort::Text,
        usual: Usual::Nothing,
        in_sight: false,
    },
    Field {
        field: "on",
        label: "Stands on",
        hint: "A face of another set-out, such as [Box] back. A size left empty is then that of the face.",
        sort: Sort::Face,
        usual: Usual::Nothing,
        in_sight: false,
    },
    offset_field(
        "along",
        "From the left edge of that face",
        "Seen from outside; a size of the face is less by this.",
    ),
    offset_field(
        "up",
        "From the lower edge of that face",
        "Of a face that lies, from its front edge; a size of the face is less by this.",
    ),
    offset_field("off", "Away from that face", "How far it stands off."),
    Field {
        field: "held",
        label: "How it is held there",
        hint: "Loose for a lid that is hinged or lifts off: no fixings are counted.",
        sort: Sort::Choice(&["fixed", "loose"]),
        usual: Usual::Text("fixed"),
        in_sight: false,
    },
    Field {
        field: "bought",
        label: "Bought with it",
        hint: "A number and a name, for each one: 2 hinges; 1 latch.",
        sort: Sort::Text,
        usual: Usual::Nothing,
        in_sight: false,
    },
    Field {
        field: "covered",
        label: "Covered with felt",
        hint: "Or another sheet off the roll: its area is on the buying list.",
        sort: Sort::Choice(&["no", "yes"]),
        usual: Usual::Text("no"),
        in_sight: false,
    },
];

/// A distance by which a set-out stands away from an edge of the face it stands on.
const fn offset_field(field: &'static str, label: &'static str, hint: &'static str) -> Field {
    Field {
        field,
        label,
        hint,
        sort: Sort::Length,
        usual: Usual::Nothing,
        in_sight: false,
    }
}

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

/// What the piece is for, which says whether people or things rest on it. The first of the words is the one that bears a load, and it is
/// the usual one.
pub const fn use_field(words: &'static [&'static str; 2]) -> Field {
    Field {
        field: "use",
        label: "What it is for",
        hint: "Changes no size; what people or things rest on has a caution.",
        sort: Sort::Choice(words),
        usual: Usual::Text(words[0]),
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

/// A section that is another one where nothing is said.
pub const fn other_section_field(
    field: &'static str,
    label: &'static str,
    hint: &'static str,
) -> Field {
    Field {
        usual: Usual::Nothing,
        ..section_field(field, label, hint)
    }
}

/// A length that may be left out, among the sizes.
pub const fn spare_field(field: &'static str, label: &'static str, hint: &'static str) -> Field {
    Field {
        sort: Sort::Length,
        usual: Usual::Nothing,
        in_sight: true,
        ..size_field(field, label, hint)
    }
}

/// A length with a usual value in millimetres and one in inches, among the sizes.
pub const fn usual_field(
    field: &'static str,
    label: &'static str,
    hint: &'static str,
    [metric, inches]: [&'static str; 2],
) -> Field {
    Field {
        usual: Usual::ByUnit(metric, inches),
        ..spare_field(field, label, hint)
    }
}

/// A choice of words, the first of which is usual.
pub const fn choice_field(
    field: &'static str,
    label: &'static str,
    hint: &'static str,
    words: &'static [&'static str],
) -> Field {
    Field {
        sort: Sort::Choice(words),
        usual: Usual::Text(words[0]),
        in_sight: true,
        ..size_field(field, label, hint)
    }
}

/// What a word to choose was called in older files, which are read as before.
pub fn formerly(word: &str) -> Option<&'static str> {
    match word {
        "on the flat" => Some("wide side"),
        "on edge" => Some("narrow side"),
        _ => None,
    }
}

/// Which side of the section is seen: the wide one unless something else is usual.
pub const fn seen_field(usual: &'static str) -> Field {
    Field {
        field: "seen",
        label: "On the flat or on edge",
        hint: "On the flat its wide side is seen, on edge its narrow side.",
        sort: Sort::Choice(&["on the flat", "on edge"]),
        usual: Usual::Text(usual),
        in_sight: false,
    }
}
