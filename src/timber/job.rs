//! The job: everything that is known before planning, legal by construction.
//!
//! A [`Job`] is made only by `job::validate`, from a [`JobDraft`] that holds the texts as they were written. Indices replace names:
//! a part's section is a position in [`Job::sections`].

mod field;
mod listed;
mod measures;
mod ripped;
mod sold;
mod spares;
mod standing;
mod validate;
mod within;

pub use crate::angle::Angle;
pub use crate::draft::{
    JobDraft, OwnDraft, PartDraft, SawDraft, SectionDraft, SetOutDraft, ShedDraft, TermsDraft,
    YardDraft,
};
pub use crate::part::{
    Fitting, Keeps, Leans, MadeFrom, Part, PartEnd, Rip, Spare, Timber, ends_told, ends_written,
    read_ends,
};
pub use crate::runs::{Stretch, read_stretches, split_stretch};
pub use crate::section::{Allowed, EdgeJoint, Section, Sides, Treated, Trim};
pub use validate::{examine, validate};

use crate::blanks::{self, Fence};
use crate::give::{Gives, Size};
use crate::length::{Decimal, Length, Reading, Style, Unit};
use crate::mass::Mass;
use crate::money::Money;
use crate::plan::Source;
use crate::rules::QuantityRules;
use crate::setout::SetOut;
use crate::usual;

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
    /// How far off its reading, to either side, the yard may cut without a part coming out short.
    pub yard_tolerance: Length,
    /// The yard saws at whole multiples of this. `None` in a plan made before that counted: then its cut stays where it is planned.
    pub yard_reading: Option<Length>,
    /// Whether parts that go in the ground stand on factory ends. Not in a plan made before that counted.
    pub posts_stand: bool,
    /// The mass the vehicle may carry, besides its people.
    pub payload: Option<Mass>,
    /// The clear width of the narrowest door that what is built has to go through.
    pub door: Option<Length>,
    /// The sections.
    pub sections: Vec<Section>,
    /// The lengths the yard sells.
    pub yard: Vec<YardLength>,
    /// The yards; none where nothing is said of any.
    pub yards: Vec<Terms>,
    /// The boards in the shed.
    pub shed: Vec<ShedBoard>,
    /// The cutting list, parts of set-outs included.
    pub list: Vec<Part>,
    /// What is cut across boards for it: its parts, narrow ones side by side in blanks (see [`crate::blanks`]).
    pub parts: Vec<Part>,
    /// The set-outs, worked out.
    pub set_outs: Vec<SetOut>,
    /// What the quantities rest on.
    pub quantities: QuantityRules,
    /// Sizes of which more is said than their length: how far they may be another, or what was wanted.
    pub sizes: Vec<Size>,
}

impl Job {
    /// This job with its cutting list put into blanks.
    pub(crate) fn with_blanks(self) -> Job {
        let parts = blanks::cut_parts(
            &self.list,
            &self.sections,
            Fence {
                kerf: self.saw.kerf,
                step: self.step,
                rips: self.saw.rips,
            },
        );
        Job { parts, ..self }
    }

    /// This job with every narrow part cut by itself, as work that was begun before parts shared blanks has it.
    pub fn without_blanks(&self) -> Job {
        let alone = |(row, part): (usize, &Part)| Part {
            strips: part.rip.map(|_| row).into_iter().collect(),
            ..part.clone()
        };
        Job {
            parts: self.list.iter().enumerate().map(alone).collect(),
            ..self.clone()
        }
    }

    /// Whether two boards are bought and equal, so that either stands for the other: only their marks and notes may differ.
    pub fn are_like(&self, one: Source, other: Source) -> bool {
        let (Source::Shed(one), Source::Shed(other)) = (one, other) else {
            return false;
        };
        let bare = |shed: usize| ShedBoard {
            mark: String::new(),
            note: String::new(),
            ..self.shed[shed].clone()
        };
        self.shed[one].new && bare(one) == bare(other)
    }

    /// The places in the alphabet of the letters of what is cut across boards: what is given, else one after all that are.
    pub fn letters(&self) -> Vec<usize> {
        let after = |part: &Part| part.letter.map_or(0, |letter| letter + 1);
        let mut next = self.list.iter().map(after).max().unwrap_or_default();
        let parts = self.parts.iter();
        let letters = parts.map(|part| {
            part.letter.unwrap_or_else(|| {
                next += 1;
                next - 1
            })
        });
        letters.collect()
    }

    /// The rows of the list that come out of each of what is cut across boards, one for each strip where it is ripped.
    pub fn rows_cut(&self) -> Vec<Vec<usize>> {
        // What is not ripped is cut row by row.
        let mut plain = (0..self.list.len()).filter(|&row| self.list[row].rip.is_none());
        let parts = self.parts.iter();
        let rows = parts.map(|part| match part.strips.is_empty() {
            true => plain.next().into_iter().collect(),
            false => part.strips.clone(),
        });
        rows.collect()
    }

    /// The step in which sizes are tried one by one: a whole millimetre or a sixteenth, or that of the tape where it is coarser.
    pub fn trial_step(&self) -> Length {
        usual::TRIAL_STEP.on(self.is_imperial()).max(self.step)
    }

    /// Whether a size has a range, or was chosen within one: then it might be another.
    pub fn has_free_sizes(&self) -> bool {
        let mut sizes = self.sizes.iter();
        sizes.any(|size| size.gives != Gives::Not)
    }

    /// What was wanted of a part written by hand where another length was chosen for it, as `1200 mm wanted`.
    pub fn told_wanted(&self, part: &Part) -> Option<String> {
        let is_it = |size: &&Size| size.place.list == "parts" && size.place.row == part.row;
        let size = self
            .sizes
            .iter()
            .find(is_it)
            .filter(|_| part.row.is_some())?;
        self.wanted(size)
    }

    /// What was wanted of the sizes of a set-out where others were chosen, as `height: 1180 mm wanted`.
    pub fn told_wanted_of_set_out(&self, row: usize) -> Vec<String> {
        let is_of = |size: &&Size| size.place.list == "set_outs" && size.place.row == Some(row);
        let sizes = self.sizes.iter().filter(is_of);
        let told = sizes.filter_map(|size| {
            let name = size.place.field.replace('_', " ");
            Some(format!("{name}: {}", self.wanted(size)?))
        });
        told.collect()
    }

    fn wanted(&self, size: &Size) -> Option<String> {
        let Gives::Wanted(wanted) = size.gives else {
            return None;
        };
        let style = Style::exact(self.reading.unit, self.reading.decimal);
        Some(format!("{} wanted", style.show(wanted).text))
    }

    /// How this job prints its lengths, with their unit.
    pub fn style(&self) -> Style {
        Style {
            unit: self.reading.unit,
            step: self.step,
            decimal: self.reading.decimal,
            with_unit: true,
        }
    }

    /// Whether the two faces of a section are alike as its parts are laid, and its two edges. Where an angled part of it has its good face out, no part
    /// of the section is turned over, as if its faces were different.
    pub fn sides(&self, section: usize) -> (Sides, Sides) {
        let faces =
            |part: &Part| part.good_face && part.is_angled() && part.sections.contains(&section);
        let Section { edges, .. } = self.sections[section];
        match self.parts.iter().any(faces) {
            true => (Sides::Different, edges),
            false => (self.sections[section].faces, edges),
        }
    }

    /// Whether a board is new timber, or else of the shed.
    pub fn is_new(&self, source: Source) -> bool {
        match source {
            Source::Yard(_) => true,
            Source::Shed(board) => self.shed[board].new,
        }
    }

    /// Whether a board is treated: a board of the shed says so itself, a length of the yard by its section.
    pub fn treated(&self, source: Source) -> Treated {
        match source {
            Source::Yard(line) => self.sections[self.yard[line].section].treated,
            Source::Shed(board) => self.shed[board].treated,
        }
    }

    /// The section of a board and its length.
    pub fn board(&self, source: Source) -> (usize, Length) {
        match source {
            Source::Yard(line) => (self.yard[line].section, self.yard[line].length),
            Source::Shed(board) => (self.shed[board].section, self.shed[board].length),
        }
    }

    /// Whether a part made of a section stands on a factory end of its board, which is left as it came: where it goes in the ground and the section is said to
    /// be treated. Its other end is the one that is cut.
    pub fn stands_on_factory_end(&self, part: &Part, section: usize) -> bool {
        self.posts_stand
            && part.fitting == Fitting::Ground
            && self.sections[section].treated == Treated::Yes
    }

    /// Which ends of a board, the datum end first, are factory ends.
    pub fn factory_ends(&self, source: Source) -> [bool; 2] {
        match source {
            Source::Yard(_) => [true; 2],
            Source::Shed(board) => self.shed[board].factory_ends,
        }
    }

    /// What parts ask of a board besides its section. Of a treated section every board is alike, and narrow parts of it are made from those there are.
    pub fn timber(&self, source: Source) -> Timber {
        let section = match source {
            Source::Yard(line) => self.yard[line].section,
            Source::Shed(board) => self.shed[board].section,
        };
        Timber {
            new: self.is_new(source),
            rips: self.treated(source) == Treated::No
                || self.sections[section].treated != Treated::No,
        }
    }

    /// Whether a line is too long to carry, so that the yard cuts each length of it once.
    pub fn is_cut_at_yard(&self, line: usize) -> bool {
        self.carry
            .is_some_and(|carry| self.yard[line].length > carry)
    }

    /// What so many lengths of a line cost, in whole packs, with the yard's cuts of them; `None` where no price is given.
    pub fn paid(&self, line: usize, lengths: u64) -> Option<Money> {
        let sold = &self.yard[line];
        let cuts = match self.is_cut_at_yard(line) {
            true => lengths,
            false => 0,
        };
        let fees = self.cut_fee(line).times(cuts as i64)?;
        Some(sold.price?.times(sold.packs(lengths) as i64)? + fees)
    }

    /// What the yard charges for its one cut of a line.
    pub fn cut_fee(&self, line: usize) -> Money {
        let terms = self.yards.get(self.yard[line].at);
        terms.map_or(Money::ZERO, |terms| terms.cut_fee)
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

/// What the plan makes smallest, in order; scrap comes after in each but the last.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Aim {
    /// Bought lengths, then money.
    #[default]
    Fewest,
    /// Money, then bought lengths.
    Cheapest,
    /// Bought metres, then money.
    Shortest,
    /// As the first; then the longest offcuts in place of the least scrap.
    Offcuts,
    /// Scrap, then bought lengths, then money.
    Scrap,
}

/// The saw and what is worth keeping.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Saw {
    /// Width of a square cut.
    pub kerf: Length,
    /// The shortest offcut worth keeping, unless the section has its own.
    pub keep: Length,
    /// The narrowest strip left from ripping that is worth keeping.
    pub keep_width: Length,
    /// Whether it rips narrow parts out of their boards.
    pub rips: bool,
}

/// A length the yard sells.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct YardLength {
    /// Index of its section.
    pub section: usize,
    /// The stated, or measured, length.
    pub length: Length,
    /// The length as typed, where its unit was typed too: lengths of a yard that sells 14' are not listed as 168".
    pub written: Option<String>,
    /// What one costs, or a pack of them.
    pub price: Option<Money>,
    /// The price as typed where it is per unit, with the size that it counts: `500 per m3 of 45 x 95 mm`.
    pub per: Option<String>,
    /// How many there are, or packs of them; `None` is as many as wanted.
    pub count: Option<u32>,
    /// How many come in a pack; one where they are sold one by one.
    pub pack: u32,
    /// The yard that sells it; zero where there is none.
    pub at: usize,
    /// Whether it is bought at another yard than those that are bought at; then there are none.
    pub elsewhere: bool,
}

impl YardLength {
    /// How many packs hold so many lengths.
    pub fn packs(&self, lengths: u64) -> u64 {
        lengths.div_ceil(self.pack.into())
    }

    /// How many lengths are bought where so many are cut: whole packs.
    pub fn in_packs(&self, lengths: u64) -> u64 {
        self.packs(lengths) * u64::from(self.pack)
    }
}

impl Terms {
    /// An amount with the tax put in, rounded half up.
    pub fn with_tax(&self, amount: Money) -> Money {
        let twice = 2 * i128::from(amount.minor()) * i128::from(10_000 + self.tax) + 10_000;
        Money::from_minor(i64::try_from(twice / 20_000).unwrap_or(i64::MAX))
    }
}

/// A yard and its terms. Charges and fees are as its prices are: with the tax in, or without it.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Terms {
    /// What it is called; may be empty where there is one.
    pub name: String,
    /// Tax in hundredths of a percent.
    pub tax: i64,
    /// Whether tax comes on top of its prices.
    pub on_top: bool,
    /// Whether tax was put into each of its prices, charges and fees: where tax comes on top at one yard and not alike at another, so that they can be
    /// compared.
    pub put_in: bool,
    /// What it charges to deliver.
    pub delivery: Money,
    /// From which sum on it delivers free of charge.
    pub free_from: Option<Money>,
    /// What it costs to drive there.
    pub trip: Money,
    /// What it charges for a cut.
    pub cut_fee: Money,
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
    /// Whether it is preservative-treated: its own word, else that of its section.
    pub treated: Treated,
    /// Whether it counts as new timber, as what was bought for the piece does.
    pub new: bool,
    /// Whether its datum end was never cut since it was treated, and whether its far end was not.
    pub factory_ends: [bool; 2],
    /// Anything worth remembering.
    pub note: String,
}
