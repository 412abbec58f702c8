//! A single change of a job: which fields it writes.

use crate::fault::Place;
use crate::job::Job;
use crate::length::{Length, typed};
use crate::money::Money;
use timber::edit::Edit;
use timber::setout;

/// A single change of a job, with what it changes from and to.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Change {
    /// Another length of a part of the list, without what it is left long by.
    Part {
        /// Its row in the job as written.
        row: usize,
        /// What is written.
        from: Length,
        /// What would be.
        to: Length,
    },
    /// Another number of a part of the list.
    Quantity {
        /// Its row in the job as written.
        row: usize,
        /// How many are written.
        from: u32,
        /// How many there would be.
        to: u32,
    },
    /// One more of a part of the list is cut, in case one is spoiled.
    Spare {
        /// Its row in the job as written.
        row: usize,
    },
    /// A spare piece of a section, as long as its longest part.
    SparePiece {
        /// The row of the section.
        row: usize,
        /// The section.
        section: usize,
    },
    /// Another size of a set-out.
    Size {
        /// Its row.
        set_out: usize,
        /// Which size.
        field: &'static setout::Field,
        /// What it is.
        from: Length,
        /// What it would be.
        to: Length,
    },
    /// Another number in a set-out.
    Count {
        /// Its row.
        set_out: usize,
        /// Which number.
        field: &'static setout::Field,
        /// What it is.
        from: u32,
        /// What it would be.
        to: u32,
    },
    /// Another of the words of a field of a set-out.
    Word {
        /// Its row.
        set_out: usize,
        /// Which field.
        field: &'static setout::Field,
        /// The word.
        to: &'static str,
    },
    /// A part that may be made of another section as well.
    AlsoOf {
        /// The field that names its sections.
        place: Place,
        /// What is made of it.
        part: String,
        /// The sections it may be made of today.
        sections: Vec<usize>,
        /// The other section.
        other: usize,
    },
    /// A part that is ripped out of a wider section.
    Ripped {
        /// Its row in the job as written.
        row: usize,
        /// The width it is ripped to.
        width: Length,
        /// The section it comes out of.
        of: usize,
    },
    /// Another saw cut.
    Kerf {
        /// What it is.
        from: Length,
        /// What it would be.
        to: Length,
    },
    /// Less trimmed off the ends of new lengths of a section.
    Trim {
        /// The row of the section.
        row: usize,
        /// The section.
        section: usize,
        /// What is trimmed off the datum end and the far end.
        from: [Length; 2],
        /// What would be.
        to: [Length; 2],
    },
    /// A vehicle that takes longer timber.
    Carry {
        /// What it takes.
        from: Length,
        /// What it would.
        to: Length,
    },
    /// One more board in the shed.
    ShedBoard {
        /// The row it would have.
        row: usize,
        /// Its section.
        section: usize,
        /// Its length.
        length: Length,
    },
    /// Another length that the yard might sell.
    YardLength {
        /// The row it would have.
        row: usize,
        /// Its section.
        section: usize,
        /// The length.
        length: Length,
        /// What one would cost.
        price: Option<Money>,
    },
    /// More of a length of which the yard has few.
    Stock {
        /// Its row in the job as written.
        row: usize,
        /// Its section.
        section: usize,
        /// The length.
        length: Length,
        /// How many there are.
        from: u32,
        /// How many there would be.
        to: u32,
    },
}

impl Change {
    /// What it writes.
    pub fn edits(&self, job: &Job) -> Vec<Edit> {
        let typed = |length: Length| typed(length, job.reading);
        let name = |section: usize| job.sections[section].name.clone();
        let job_field = |place: Place, text: String| vec![Edit { place, text }];
        match *self {
            Change::Part { row, to, .. } => {
                vec![Edit::row("parts", row, "length", typed(to))]
            }
            Change::Quantity { row, to, .. } => {
                vec![Edit::row("parts", row, "quantity", to.to_string())]
            }
            Change::Spare { row } => vec![Edit::row("parts", row, "spares", "1")],
            Change::SparePiece { row, .. } => vec![Edit::row("sections", row, "spares", "1")],
            Change::Size {
                set_out, field, to, ..
            } => vec![Edit::row("set_outs", set_out, field.field, typed(to))],
            Change::Count {
                set_out, field, to, ..
            } => vec![Edit::row("set_outs", set_out, field.field, to.to_string())],
            Change::Word { set_out, field, to } => {
                vec![Edit::row("set_outs", set_out, field.field, to)]
            }
            Change::AlsoOf {
                ref place,
                ref sections,
                other,
                ..
            } => {
                let names: Vec<String> = sections
                    .iter()
                    .chain([&other])
                    .map(|&section| name(section))
                    .collect();
                job_field(place.clone(), names.join("; "))
            }
            Change::Ripped { row, width, of } => vec![
                Edit::row("parts", row, "section", name(of)),
                Edit::row("parts", row, "ripped", typed(width)),
            ],
            Change::Kerf { to, .. } => job_field(Place::object("saw", "kerf"), typed(to)),
            Change::Trim { row, to, .. } => {
                let text = to.map(typed).join("; ");
                vec![Edit::row("sections", row, "trim", text)]
            }
            Change::Carry { to, .. } => job_field(Place::job("carry"), typed(to)),
            Change::ShedBoard {
                row,
                section,
                length,
            } => vec![
                Edit::row("shed", row, "section", name(section)),
                Edit::row("shed", row, "length", typed(length)),
            ],
            Change::YardLength {
                row,
                section,
                length,
                price,
            } => {
                let price =
                    price.map(|price| Edit::row("yard", row, "price", price.show(job.decimal())));
                let edits = [
                    Edit::row("yard", row, "section", name(section)),
                    Edit::row("yard", row, "length", typed(length)),
                ];
                edits.into_iter().chain(price).collect()
            }
            Change::Stock { row, to, .. } => {
                vec![Edit::row("yard", row, "count", to.to_string())]
            }
        }
    }

    /// Whether a person can decide on it alone. A board that is in nobody's shed and a length that the yard may not sell are only told.
    pub fn can_be_taken(&self) -> bool {
        !matches!(
            self,
            Change::ShedBoard { .. }
                | Change::YardLength { .. }
                | Change::Stock { .. }
                | Change::Carry { .. }
        )
    }
}
