//! What a spoiled part would cost, once all is cut: what is in reserve or left over serves, or another length has to be bought.
//!
//! What is left counts as the job that is left has it ([`left`]): each piece with its bad stretches and what its ends need. Of the pieces that hold a part the
//! shortest is named, of the lengths on sale the cheapest, or where a price is missing the shortest.

use super::words::Words;
use crate::bill::basis;
use crate::check::CheckedPlan;
use crate::clear::{carried_trims, clear_runs};
use crate::job::{Job, Part, Spare};
use crate::left::clear_of;
use crate::length::Length;
use crate::plan::Source;
use crate::progress::{Left, Rest, finished};

/// What replaces a part.
#[derive(Clone, Debug, PartialEq, Eq)]
enum Remedy {
    /// Its spare.
    Spare,
    /// A piece that is left of a board of the plan, or a whole length of a pack.
    Rest {
        board: Option<usize>,
        length: Length,
    },
    /// A board of the shed that the plan leaves alone.
    Shed(usize),
    /// One more of a line of the yard.
    Line(usize),
    /// There is none.
    None,
}

/// Most parts of a section that are named one by one where all are replaced alike.
const NAMED: usize = 2;

/// A line for each way in which parts can be replaced, in the order of the list.
pub(super) fn lines(words: &Words, checked: &CheckedPlan) -> Vec<String> {
    let job = words.job;
    let left = finished(job, checked.plan());
    // What is ripped is cut together with what lies beside it.
    let rows = job.list.iter().enumerate();
    let rows = rows.filter(|(_, part)| part.spare == Spare::No && part.rip.is_none());
    let rows: Vec<(&Part, Remedy)> = rows
        .map(|(row, part)| (part, remedy(job, (row, part), checked, &left)))
        .collect();
    let mut told: Vec<&Remedy> = Vec::new();
    for (_, remedy) in &rows {
        if !told.contains(&remedy) {
            told.push(remedy);
        }
    }
    let lines = told.into_iter();
    lines
        .map(|remedy| format!("{}: {}", names(words, &rows, remedy), text(words, remedy)))
        .collect()
}

/// The parts that are replaced in a way; where that is all of a section, its name does.
fn names(words: &Words, rows: &[(&Part, Remedy)], remedy: &Remedy) -> String {
    let mut names: Vec<String> = Vec::new();
    let so = rows.iter().filter(|(_, other)| other == remedy);
    for (part, _) in so {
        let section = part.sections[0];
        let mut of_section = rows.iter().filter(|(part, _)| part.sections[0] == section);
        let all = of_section.clone().count() > NAMED && of_section.all(|row| row.1 == *remedy);
        let name = match all {
            true => format!("every part of {}", words.section(section)),
            false => part.label.clone(),
        };
        if !names.contains(&name) {
            names.push(name);
        }
    }
    names.join(", ")
}

fn text(words: &Words, remedy: &Remedy) -> String {
    match *remedy {
        Remedy::Spare => "there is a spare".to_owned(),
        Remedy::Rest { board, length } => {
            let length = words.left_length(length);
            match board {
                Some(board) => format!("from the {length} left of board {}", board + 1),
                None => format!("from the {length} left of a pack"),
            }
        }
        Remedy::Shed(shed) => format!("from board {} of the shed", words.job.shed[shed].mark),
        Remedy::Line(line) => {
            let length = words.stated_length(Source::Yard(line));
            let sold = &words.job.yard[line];
            let one = match sold.pack {
                1 => format!("one more {length}"),
                pack => format!("one more pack of {pack} of {length}"),
            };
            match sold.price {
                Some(price) => format!("{one}, {}{}", words.money(price), basis(words.job)),
                None => one,
            }
        }
        Remedy::None => "no timber that is left or on sale holds one".to_owned(),
    }
}

fn remedy(job: &Job, (row, part): (usize, &Part), checked: &CheckedPlan, left: &Left) -> Remedy {
    let spare = job.list.get(row + 1);
    let piece = |other: &Part| other.spare == Spare::Piece && other.sections == part.sections;
    if spare.is_some_and(|other| other.spare == Spare::Part) || job.list.iter().any(piece) {
        return Remedy::Spare;
    }
    let fits = |section: usize, length: Length, factory: bool| {
        let stands = job.stands_on_factory_end(part, section);
        length >= part.length && (factory || !stands)
    };
    let rests = left.shed_new.iter().filter(|rest| {
        part.goes_on(rest.section, job.timber(rest.source))
            && rest.strip.is_none()
            && fits(
                rest.section,
                clear(job, rest),
                rest.factory_ends != [false; 2],
            )
    });
    if let Some(rest) = rests.min_by_key(|rest| rest.length) {
        let (board, length) = (rest.board, rest.length);
        return Remedy::Rest { board, length };
    }
    let holds = |source: Source| {
        let (section, _) = job.board(source);
        part.goes_on(section, job.timber(source))
            && fits(
                section,
                longest(job, source),
                job.factory_ends(source) != [false; 2],
            )
    };
    let mut shed = left.shed_kept.iter();
    if let Some(&board) = shed.find(|&&board| holds(Source::Shed(board))) {
        return Remedy::Shed(board);
    }
    let bought = |line: usize| {
        let boards = checked.plan().boards.iter();
        let cut = boards.filter(|board| board.source == Source::Yard(line));
        job.yard[line].packs(cut.count() as u64)
    };
    let lines = (0..job.yard.len()).filter(|&line| {
        let there = job.yard[line].count;
        there.is_none_or(|there| u64::from(there) > bought(line)) && holds(Source::Yard(line))
    });
    let cheapest = lines.min_by_key(|&line| {
        let line = &job.yard[line];
        (
            line.price.is_none(),
            line.price.map(|price| price.minor()),
            line.length,
        )
    });
    cheapest.map_or(Remedy::None, Remedy::Line)
}

/// The longest stretch of a rest that a part may be cut from.
fn clear(job: &Job, rest: &Rest) -> Length {
    let runs = clear_of(job, rest.section, (rest.length, rest.trim, &rest.bad));
    let runs = runs.iter().map(|run| run.stretch.to - run.stretch.from);
    runs.max().unwrap_or_default()
}

/// The longest clear run of a board; of a length that is cut at the yard, of the piece that is as long as the vehicle takes.
fn longest(job: &Job, source: Source) -> Length {
    let (section, length) = job.board(source);
    match (source, job.carry) {
        (Source::Yard(_), Some(carry)) if length > carry => {
            let trims = carried_trims(job, section);
            let both = length - job.saw.kerf - trims.datum - trims.far;
            (carry - trims.datum.min(trims.far)).min(both)
        }
        _ => {
            let runs = clear_runs(job, source).into_iter();
            runs.map(|run| run.stretch.to - run.stretch.from)
                .max()
                .unwrap_or_default()
        }
    }
}
