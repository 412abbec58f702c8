//! What a field of the job file is. The tables of fields are in `draft`, beside the rows that hold their texts.

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
    /// An amount, or a price per unit such as `4.20 per m`.
    Price,
    /// Thickness and width: `50 x 100`.
    Sides,
    /// One of these words, each with its text in a form.
    Word(&'static [(&'static str, &'static str)]),
    /// Stretches of a board: `400..460; 900..950`, or a list of pairs.
    Stretches,
    /// The name of a section.
    Section,
    /// The name of a section, or of several that are allowed.
    Sections,
    /// One end or two: `square`, or an angle in degrees.
    Ends,
}

/// The word for a choice in the words of a field; empty where no word stands for it.
pub(crate) fn word_of<T: PartialEq>(words: &[(&'static str, T)], choice: T) -> &'static str {
    let mut words = words.iter();
    words
        .find(|word| word.1 == choice)
        .map_or("", |word| word.0)
}

/// The words of a field, without what they stand for.
pub(crate) const fn words<T, const N: usize>(table: &[(&'static str, T); N]) -> [&'static str; N] {
    let mut words = [""; N];
    let mut at = 0;
    while at < N {
        words[at] = table[at].0;
        at += 1;
    }
    words
}

impl Holds {
    /// One word for it, for a form to choose its input from.
    pub const fn word(self) -> &'static str {
        match self {
            Holds::Text => "text",
            Holds::Length => "length",
            Holds::TwoLengths => "two lengths",
            Holds::Count => "count",
            Holds::Mass => "mass",
            Holds::Money => "money",
            Holds::Price => "price",
            Holds::Sides => "sides",
            Holds::Word(_) => "word",
            Holds::Stretches => "stretches",
            Holds::Section => "section",
            Holds::Sections => "sections",
            Holds::Ends => "ends",
        }
    }
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
    /// The most characters of a text in it.
    pub characters: &'static Most,
}

/// What is said of a field. The engine of the page says none of it, and is smaller without: the page's forms are built with the page.
#[derive(Clone, Copy, Debug)]
pub struct Said {
    /// What a form calls it.
    pub label: &'static str,
    /// What a form says under it, where it says anything.
    pub hint: &'static str,
    /// What it means, for the schema.
    pub about: &'static str,
}

impl Field {
    /// The most a whole number in it may be.
    pub fn most(&self) -> usize {
        match self.name {
            "quantity" | "spares" => limits::PARTS_IN_ALL.most,
            "hidden_defects" => limits::HIDDEN_DEFECTS as usize,
            "pack" => limits::PACK as usize,
            "density" => limits::DENSITY as usize,
            _ => limits::COUNT as usize,
        }
    }
}

/// The names of fields.
pub fn names(fields: &[Field]) -> Vec<&'static str> {
    fields.iter().map(|field| field.name).collect()
}

/// A row of a list as written: the text of each field, or none.
pub trait Row: Clone + Default + PartialEq {
    /// What its fields are, in the order they are written.
    const FIELDS: &'static [Field];

    /// What is said of its fields, in the same order.
    const SAID: &'static [Said];

    /// The texts, in the order of the fields.
    fn texts(&self) -> Vec<&Option<String>>;

    /// The same, to be filled in.
    fn texts_mut(&mut self) -> Vec<&mut Option<String>>;
}

/// Declares what a row holds. One line is one field: its name, what it holds, whether it is needed, the limit of its text, what a form calls it
/// and says under it, and what it means. The struct that holds the texts, the table and what goes from one to the other follow from it.
macro_rules! rows {
    ($(#[$about_row:meta])* $draft:ident {
        $($name:ident: $holds:expr, $needed:ident, $most:ident, $label:literal, $hint:literal, $about:literal;)*
    }) => {
        $(#[$about_row])*
        #[derive(Clone, Debug, Default, PartialEq, Eq)]
        pub struct $draft {
            $(#[doc = $about] pub $name: Option<String>,)*
        }

        impl Row for $draft {
            const FIELDS: &'static [Field] = {
                // A static, since each crate would have a constant's table once more.
                static FIELDS: [Field; [$(stringify!($name)),*].len()] = [$(Field {
                    name: stringify!($name),
                    holds: $holds,
                    needed: $needed,
                    characters: &limits::$most,
                },)*];
                &FIELDS
            };

            const SAID: &'static [Said] = &[$(Said {
                label: $label,
                hint: $hint,
                about: $about,
            },)*];

            fn texts(&self) -> Vec<&Option<String>> {
                vec![$(&self.$name,)*]
            }

            fn texts_mut(&mut self) -> Vec<&mut Option<String>> {
                vec![$(&mut self.$name,)*]
            }
        }
    };
}
pub(crate) use rows;
