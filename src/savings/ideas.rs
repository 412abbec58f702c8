//! Which changes of a job are tried, each with how far.
//!
//! Sizes are given up a little at a time, so an idea is a series of changes, each going further than the one before. Where a change that goes further
//! never costs more, the series is searched by halving; elsewhere one by one. How far a person would go is [`GIVES`] and what else is named here (common
//! practice, no source).

mod sections;
mod set_outs;
mod stock;

use super::change::Change;
use crate::draft::JobDraft;
use crate::fault::Place;
use crate::job::{Job, Part, Spare};
use crate::length::Length;
use crate::usual;

/// Most of a size that is given up, as one part in this many of it.
pub const GIVES: i64 = 20;

/// Of so many parts one less may do.
const FEWER: u32 = 10;

/// Most that is given up of a long size.
const MOST: usual::Usual = usual::Usual {
    metric: Length::from_mm(60),
    imperial: Length::from_inch_64ths(5 * 32),
};

/// How a series of changes is searched.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Way {
    /// Going further never costs more, so halving finds the first that saves.
    Halving,
    /// Each is tried in turn.
    OneByOne,
}

/// A series of changes.
pub struct Idea<'a> {
    /// How many there are.
    pub most: u32,
    /// How the first that saves is searched.
    pub way: Way,
    /// The change of a number from one to `most`.
    pub at: Box<dyn Fn(u32) -> Change + 'a>,
    /// Ideas of one sort of which only the best is told.
    pub rivals: Option<usize>,
}

/// Something that costs nothing: a part of the list that could be longer.
pub struct Longer<'a> {
    /// How many steps longer at most.
    pub most: u32,
    /// The change that makes it so many steps longer.
    pub at: Box<dyn Fn(u32) -> Change + 'a>,
}

/// A job as written and as it is understood.
#[derive(Clone, Copy)]
pub struct Asked<'a> {
    /// As it is written.
    pub draft: &'a JobDraft,
    /// As it is understood.
    pub job: &'a Job,
}

/// All series that are tried.
pub fn ideas(asked: Asked<'_>) -> Vec<Idea<'_>> {
    let mut all = Vec::new();
    asked.parts(&mut all);
    asked.set_outs(&mut all);
    asked.saw_and_trims(&mut all);
    asked.stock(&mut all);
    asked.sections(&mut all);
    all
}

/// The parts of the list that could be longer.
pub fn longer(asked: Asked<'_>) -> Vec<Longer<'_>> {
    let Asked { job, .. } = asked;
    let boards = job.yard.iter().map(|line| line.length);
    let boards = boards.chain(job.shed.iter().map(|board| board.length));
    let longest = boards.max().unwrap_or_default();
    let parts = written_parts(job).into_iter();
    let parts = parts.filter(|(row, part)| {
        let place = Place::row("parts", *row, "length");
        part.rip.is_none() && !asked.is_settled(&place)
    });
    parts
        .map(|(row, part)| {
            let from = part.length - part.over;
            Longer {
                most: steps(longest - part.length, job.step),
                at: Box::new(move |n| Change::Part {
                    row,
                    from,
                    to: from.nth_above(job.step, n.into()),
                }),
            }
        })
        .collect()
}

/// Spares that a person might have planned with the rest: of each section and of each part, where there is none yet.
pub fn reserves(Asked { draft, job }: Asked<'_>) -> Vec<Change> {
    let made = |section: usize| job.list.iter().any(|part| part.sections[0] == section);
    let sections = rows(&draft.sections).into_iter().enumerate();
    let sections = sections.filter(|(section, _)| {
        let of = &job.sections[*section];
        made(*section) && of.spares == 0 && of.hidden_defects == 0
    });
    let sections = sections.map(|(section, row)| Change::SparePiece { row, section });
    let parts = written_parts(job).into_iter();
    let is_bare = |row: usize| {
        let mut of_row = job.list.iter().filter(|part| part.row == Some(row));
        of_row.all(|part| part.spare == Spare::No)
    };
    let parts = parts.filter(|(row, _)| is_bare(*row));
    let parts = parts.map(|(row, _)| Change::Spare { row });
    sections.chain(parts).collect()
}

/// The parts written by hand, with their rows; of a pair the first.
fn written_parts(job: &Job) -> Vec<(usize, &Part)> {
    let mut found: Vec<(usize, &Part)> = Vec::new();
    for part in &job.list {
        if let Some(row) = part.row
            && found.last().is_none_or(|(last, _)| *last != row)
        {
            found.push((row, part));
        }
    }
    found
}

/// The rows of a list of which something is written: the sections, lines and boards of the job are those.
fn rows<T: Default + PartialEq>(list: &[T]) -> Vec<usize> {
    let rows = (0..list.len()).filter(|&row| list[row] != T::default());
    rows.collect()
}

impl<'a> Asked<'a> {
    fn imperial(self) -> bool {
        self.job.is_imperial()
    }

    /// How much of a size may be given up: a twentieth, and no more than a person sees at once.
    fn given_up(self, size: Length) -> Length {
        Length::from_ticks(size.ticks() / GIVES).min(MOST.on(self.imperial()))
    }

    fn parts(self, all: &mut Vec<Idea<'a>>) {
        let step = self.job.step;
        for (row, part) in written_parts(self.job) {
            let from = part.length - part.over;
            let free = !self.is_settled(&Place::row("parts", row, "length"));
            // What is ripped shares blanks with other narrow parts, which a shorter one may spoil.
            let (way, step) = match part.rip {
                None => (Way::Halving, step),
                Some(_) => (Way::OneByOne, self.job.trial_step()),
            };
            let given = if free {
                self.given_up(from)
            } else {
                Length::ZERO
            };
            push(all, steps(given, step), way, move |n| Change::Part {
                row,
                from,
                to: from.nth_below(step, n.into()),
            });
            let pair = if part.pair || self.is_of_two(row) {
                2
            } else {
                1
            };
            let quantity = self.quantity(row);
            push(all, quantity / FEWER / pair, Way::Halving, move |n| {
                Change::Quantity {
                    row,
                    from: quantity,
                    to: quantity - n * pair,
                }
            });
        }
    }

    /// Whether a person has said how far a size may be another, or that it may not.
    fn is_settled(self, place: &Place) -> bool {
        self.job.sizes.iter().any(|size| size.place == *place)
    }

    /// Whether a part written by hand is two of the list, left and right.
    fn is_of_two(self, row: usize) -> bool {
        self.of_row(row).count() > 1
    }

    fn quantity(self, row: usize) -> u32 {
        self.of_row(row).map(|part| part.quantity).sum()
    }

    /// The parts of a row, without those in reserve.
    fn of_row(self, row: usize) -> impl Iterator<Item = &'a Part> {
        let parts = self.job.list.iter();
        parts.filter(move |part| part.row == Some(row) && part.spare == Spare::No)
    }
}

fn push<'a>(all: &mut Vec<Idea<'a>>, most: u32, way: Way, at: impl Fn(u32) -> Change + 'a) {
    if most > 0 {
        all.push(Idea {
            most,
            way,
            at: Box::new(at),
            rivals: None,
        });
    }
}

/// How many whole steps there are in a length.
fn steps(length: Length, step: Length) -> u32 {
    u32::try_from(length.ticks().max(0) / step.ticks().max(1)).unwrap_or(u32::MAX)
}
