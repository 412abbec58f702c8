//! What is done of a plan, and what is left of its timber.

use crate::job::{Part, Stretch, Trim};
use crate::left::Sawn;
use crate::length::Length;
use crate::plan::Source;

/// How far the work has come.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// What happened to boards of the plan, at most one entry for each.
    pub boards: Vec<BoardProgress>,
    /// What was bought at the yard, at most one entry for each line.
    pub bought: Vec<Bought>,
}

/// What happened to one board of the plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BoardProgress {
    /// Index of the board in the plan.
    pub board: usize,
    /// How many of its parts are cut off, counted from the datum end.
    pub cut: usize,
    /// The mark of the last cut that is made, from its first datum end, whatever that cut freed; those that free its cut parts are made in any case.
    pub mark: Option<Length>,
    /// Indices of the cut parts that came out spoiled, counted along the board from zero.
    pub spoiled: Vec<usize>,
    /// How much of the last of these is sound, between square ends.
    pub sound: Option<Length>,
    /// Where it turned out bad, measured from its first datum end.
    pub bad: Vec<Stretch>,
    /// The end of the piece in hand that turned out not to be there, from where it really ends to where it was planned to, measured from the same end.
    pub lacks: Option<Stretch>,
}

impl BoardProgress {
    pub(super) fn is_sawn(&self) -> bool {
        self.cut > 0 || self.mark.is_some()
    }

    /// Whether any of its timber is not as planned.
    pub(super) fn is_otherwise(&self) -> bool {
        !self.bad.is_empty() || self.lacks.is_some()
    }

    pub(super) fn sawn(&self) -> Sawn {
        Sawn {
            parts: self.cut,
            mark: self.mark,
        }
    }
}

/// Boards of one yard line that were bought, each with its measured length where that is not the stated one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bought {
    /// Index of the line in the job's yard.
    pub line: usize,
    /// One entry for each board bought.
    pub lengths: Vec<Option<Length>>,
    /// Bad stretches found on them, in the same order; boards beyond the end of this list have none.
    pub bad: Vec<Vec<Stretch>>,
}

impl Bought {
    pub(super) fn nth(&self, nth: usize) -> Found<'_> {
        Found {
            length: self.lengths.get(nth).copied().flatten(),
            bad: self.bad.get(nth).map_or(&[], Vec::as_slice),
        }
    }
}

/// What was found on one bought board.
#[derive(Clone, Copy, Default)]
pub(super) struct Found<'a> {
    pub(super) length: Option<Length>,
    pub(super) bad: &'a [Stretch],
}

/// What is left to plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Left {
    /// The parts still wanted. What is not ripped, or ripped out of pieces of its own, has the letter it has in the plan.
    pub parts: Vec<Part>,
    /// The row of the job's list that each of them is of.
    pub rows: Vec<usize>,
    /// How many of each row of the job's list are cut and sound.
    pub made: Vec<u32>,
    /// How many of each row of the job's list came out spoiled.
    pub spoiled: Vec<u32>,
    /// Indices of the job's shed boards that are as they were.
    pub shed_kept: Vec<usize>,
    /// Boards that are new: bought ones, and the rests of those that were cut.
    pub shed_new: Vec<Rest>,
    /// For each yard line, how many of its boards were bought.
    pub bought: Vec<u32>,
}

/// A physical piece of timber that is left of a board, or a whole bought board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rest {
    /// The board it was part of.
    pub source: Source,
    /// Index of the board in the plan, where it is one of the plan's.
    pub board: Option<usize>,
    /// Which of the bought boards of its line it is, from zero, where it is one of them.
    pub bought: Option<usize>,
    /// Index of its section.
    pub section: usize,
    /// Where it starts on that board, from the board's datum end.
    pub from: Length,
    /// Whether it is what is in hand after the last cut, its datum end sawn by that.
    pub in_hand: bool,
    /// Its physical length.
    pub length: Length,
    /// Its bad stretches, from its own datum end.
    pub bad: Vec<Stretch>,
    /// The trims its ends still need.
    pub trim: Trim,
    /// Whether its far end was sawn, before a part that stands on the far end of the board: it may be slanted.
    pub sawn_end: bool,
    /// How the rest came about.
    pub state: RestState,
    /// Whether it is worth keeping.
    pub kept: bool,
    /// The width that is left, where it is a strip beside what was ripped out of a board.
    pub strip: Option<Length>,
    /// Which of its ends are factory ends still, the datum end first.
    pub factory_ends: [bool; 2],
}

/// How a rest came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RestState {
    /// Not cut yet.
    Whole,
    /// One of the two pieces of a bought length that was too long to carry: the yard cut it at this reading.
    Carried(Length),
    /// The rest of a board that was cut.
    Cut,
}
