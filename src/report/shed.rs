//! What is left of the boards: offcuts, what goes back to the shed, scrap.

use super::words::{Words, per_cent};
use crate::check::{CheckedBoard, CheckedPlan};
use crate::job::{Job, Stretch};
use crate::left::{LeftPiece, Sawn, left_pieces, within};
use crate::length::Length;
use crate::marks::MarkedBoard;
use crate::plan::Source;
use crate::progress::{Marks, Progress, Rest, RestState, kept_offcuts, left_alone, section_name};

/// A board that goes back to the shed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct ShedRow {
    /// Its section.
    pub section: String,
    /// Its physical length.
    pub length: String,
    /// The board it is left over from, in words.
    pub from: String,
    /// The mark to write on its end.
    pub mark: String,
    /// Index of that board in the plan, where it is one of the plan's.
    pub board: Option<usize>,
    /// Its bad stretches, measured from its own start, and what that end needs cut off; empty where it is sound and square.
    pub flaws: String,
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
    /// Its bad stretches; empty where it is sound.
    pub flaws: String,
}

/// An offcut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct OffcutRow {
    /// Its physical length.
    pub length: String,
    /// Whether it is worth keeping.
    pub kept: bool,
    /// A sentence about it.
    pub text: String,
}

/// The timber that is neither part nor kept offcut.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Scrap {
    /// Its length.
    pub length: String,
    /// Its share of all boards that are cut, in per cent with one decimal.
    pub share: String,
    /// A sentence about it.
    pub text: String,
}

/// The offcuts of one board, along it. A piece that goes back to the shed is one offcut; scrap is listed by its clear stretches. Offcuts
/// shorter than a step of the tape are left out.
pub(super) fn offcuts(words: &Words, checked: &CheckedPlan, board: usize) -> Vec<OffcutRow> {
    let (marked, found) = (&checked.marked()[board], &checked.boards()[board]);
    let kept = kept_pieces(words.job, marked);
    let keep = words.job.sections[found.section].keep;
    let told = |from: Length, to: Length, kept: bool| {
        let (start, piece) = match marked.board.yard_cut {
            Some(cut) if from >= cut => (cut + words.job.saw.kerf, " of the second carried piece"),
            Some(_) => (Length::ZERO, " of the first carried piece"),
            None => (Length::ZERO, ""),
        };
        let length = words.left_length(to - from);
        let what = match kept {
            true => "keep it",
            false if to - from >= keep => "scrap: too short to keep once its end is trimmed",
            false => "scrap",
        };
        let text = format!(
            "{length} left from {}{piece}, {what}",
            words.reading(from - start).text
        );
        OffcutRow { length, kept, text }
    };
    let mut rows: Vec<(Length, OffcutRow)> = Vec::new();
    for piece in &kept {
        let mut row = told(piece.from, piece.to, true);
        // A length from the yard has no bad stretches, so these are of a board in one piece and are measured from its datum end.
        let mut bad = within(words.bad_of(marked.board.source), piece.from, piece.to);
        // The less than one step of a bad stretch that a cut between two steps leaves is not printed.
        let step = words.job.step;
        bad.retain(|bad| {
            let at_an_end = bad.from == Length::ZERO || bad.to == piece.to - piece.from;
            !at_an_end || bad.to - bad.from >= step
        });
        if !bad.is_empty() {
            row.text += &format!(", {}", bad_text(words, &bad, piece.from));
        }
        rows.push((piece.from, row));
    }
    let step = words.job.step;
    for offcut in &found.offcuts {
        let goes_back = kept
            .iter()
            .any(|piece| piece.from < offcut.to && piece.to > offcut.from);
        if !goes_back && offcut.to - offcut.from >= step {
            rows.push((offcut.from, told(offcut.from, offcut.to, false)));
        }
    }
    order::sort_by_key(&mut rows, |(from, _)| *from);
    rows.into_iter().map(|(_, row)| row).collect()
}

/// Bad stretches in words, each position moved by `from`, empty where there are none; never printed shorter than they are.
fn bad_text(words: &Words, bad: &[Stretch], from: Length) -> String {
    if bad.is_empty() {
        return String::new();
    }
    let step = words.job.step;
    let at = |at: Length| words.reading(at).text;
    let stretches = bad.iter().map(|bad| {
        let (from, to) = (bad.from + from, bad.to + from);
        format!("{} to {}", at(from.down_to(step)), at(to.up_to(step)))
    });
    format!("bad from {}", stretches.collect::<Vec<_>>().join(" and "))
}

/// The pieces of a board that go back to the shed once all of it is cut.
pub(super) fn kept_pieces(job: &Job, marked: &MarkedBoard) -> Vec<LeftPiece> {
    let mut left = left_pieces(job, marked, Sawn::all(job, &marked.board));
    left.retain(|piece| piece.kept);
    left
}

/// What goes back to the shed once all is cut, with the marks that the boards will have there.
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
                section: section_name(words.job, &rest),
                length: words.left_length(rest.length),
                from: rest
                    .board
                    .map_or("a pack".into(), |board| format!("board {}", board + 1)),
                board: rest.board,
                flaws: flaws(words, &rest),
                mark,
            }
        })
        .collect()
}

/// The flaws of a rest, in words.
fn flaws(words: &Words, rest: &Rest) -> String {
    let mut texts = Vec::new();
    // The far end is as the board came, or slanted before a post, or a cut between two steps leaves up to one step of a bad stretch there.
    let far = Some(rest.trim.far).filter(|far| rest.sawn_end || *far <= words.job.step);
    let ends = [(rest.trim.datum, "start"), (far.unwrap_or_default(), "end")];
    for (needs, end) in ends {
        if rest.state == RestState::Cut && needs > Length::ZERO {
            let needs = words.length(needs);
            texts.push(format!("{needs} to cut off its {end}"));
        }
    }
    if !rest.bad.is_empty() {
        texts.push(bad_text(words, &rest.bad, Length::ZERO));
    }
    texts.join(", ")
}

/// The boards of the shed that the plan does not take.
pub(super) fn left_in_shed(words: &Words, checked: &CheckedPlan) -> Vec<LeftAloneRow> {
    let boards = left_alone(words.job, checked.plan()).into_iter();
    boards
        .map(|one| {
            let board = &words.job.shed[one.shed];
            LeftAloneRow {
                shed: one.shed,
                section: words.section(board.section),
                length: words.left_length(board.length),
                mark: board.mark.clone(),
                short: one.short,
                flaws: bad_text(words, &board.bad, Length::ZERO),
            }
        })
        .collect()
}

/// The scrap of a board as it ends up on the floor. Where mitred ends overlap, their slanted waste is counted once.
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
