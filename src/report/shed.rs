//! What is left of the boards: offcuts, what goes back to the shed, scrap.

use super::words::{Words, per_cent};
use super::{OffcutRow, Scrap};
use crate::check::{CheckedBoard, CheckedPlan};
use crate::length::Length;
use crate::plan::Source;
use crate::progress::{Marks, Progress, kept_offcuts, left_alone};

/// A board that goes back to the shed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShedRow {
    /// Its section.
    pub section: String,
    /// Its physical length.
    pub length: String,
    /// The board it is left of.
    pub from: String,
    /// The mark to write on its end.
    pub mark: String,
    /// Index in the plan of the board it is left of.
    pub board: Option<usize>,
}

/// A board of the shed that stays as it is.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LeftAloneRow {
    /// Its index in the job's shed.
    pub shed: usize,
    /// Its section.
    pub section: String,
    /// Its physical length.
    pub length: String,
    /// Its mark.
    pub mark: String,
    /// Whether it is shorter than an offcut worth keeping.
    pub short: bool,
}

/// What is left of one board.
pub(super) fn offcuts(words: &Words, board: &CheckedBoard) -> Vec<OffcutRow> {
    let row = |offcut: &crate::check::Offcut| {
        let length = words.length(offcut.to - offcut.from);
        let text = match offcut.kept {
            true => format!(
                "{length} left from {}, keep it",
                words.reading(offcut.from).text
            ),
            false => format!(
                "{length} left from {}, scrap",
                words.reading(offcut.from).text
            ),
        };
        OffcutRow {
            length,
            kept: offcut.kept,
            text,
        }
    };
    board.offcuts.iter().map(row).collect()
}

/// What goes back to the shed when all is cut, with the marks the shed will know it by.
pub(super) fn back_to_shed(words: &Words, checked: &CheckedPlan) -> Vec<ShedRow> {
    let mut marks = Marks::of(words.job);
    kept_offcuts(words.job, checked.plan(), &Progress::default())
        .into_iter()
        .map(|rest| {
            let mark = match rest.source {
                Source::Shed(shed) => marks.rest_of(&words.job.shed[shed].mark),
                Source::Yard(_) => marks.fresh(),
            };
            ShedRow {
                section: words.section(rest.section),
                length: words.length(rest.length),
                from: rest
                    .board
                    .map(|board| format!("board {}", board + 1))
                    .unwrap_or_default(),
                board: rest.board,
                mark,
            }
        })
        .collect()
}

/// What the plan does not take from the shed.
pub(super) fn left_in_shed(words: &Words, checked: &CheckedPlan) -> Vec<LeftAloneRow> {
    let boards = left_alone(words.job, checked.plan()).into_iter();
    boards
        .map(|one| {
            let board = &words.job.shed[one.shed];
            LeftAloneRow {
                shed: one.shed,
                section: words.section(board.section),
                length: words.length(board.length),
                mark: board.mark.clone(),
                short: one.short,
            }
        })
        .collect()
}

/// What ends up on the floor. Where mitred ends overlap, their slanted waste is counted once.
pub(super) fn scrap_length(board: &CheckedBoard) -> Length {
    board.scrap + board.mitre_waste
}

pub(super) fn scrap(words: &Words, checked: &CheckedPlan) -> Scrap {
    let scrap: Length = checked.boards().iter().map(scrap_length).sum();
    let whole: Length = checked.boards().iter().map(|board| board.length).sum();
    let (length, share) = (
        words.total(scrap),
        per_cent(scrap.ticks(), whole.ticks(), words.job.decimal().sign()),
    );
    Scrap {
        text: format!("{length} of {} is scrap, {share}", words.total(whole)),
        length,
        share,
    }
}
