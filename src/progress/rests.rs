//! The pieces of timber left of one board: as it is sawn so far, as a tape found it, and as the yard cuts it.

use super::state::{BoardProgress, Found, Rest, RestState};
use crate::job::{Fitting, Job, Trim};
use crate::left::{LeftPiece, clear_of, left_pieces, worth_keeping};
use crate::length::Length;
use crate::marks::MarkedBoard;
use crate::plan::{PlannedBoard, Source};
use timber::beside::kept_beside;
use timber::runs::joined;

/// The shortest rest that is recorded: the shortest board that a shed may have.
const SHORTEST: Length = crate::limits::BOARD.least;

/// The physical pieces left of one board, in order along it.
pub(super) fn rests(
    job: &Job,
    planned: Option<(usize, &MarkedBoard)>,
    source: Source,
    found: Found,
    done: &BoardProgress,
) -> Vec<Rest> {
    let (section, stated, bad) = match source {
        Source::Shed(shed) => {
            let board = &job.shed[shed];
            (board.section, board.length, board.bad.as_slice())
        }
        Source::Yard(line) => (job.yard[line].section, job.yard[line].length, found.bad),
    };
    let bad = joined([bad, &done.bad].concat());
    let board_end = match done.lacks {
        Some(lacks) if lacks.to == stated => lacks.from,
        _ => found.length.unwrap_or(stated),
    };
    let planned_cut = planned.and_then(|(_, marked)| marked.board.yard_cut);
    let yard_cut = match source {
        Source::Yard(_) => yard_cut(job, board_end, planned_cut),
        Source::Shed(_) => None,
    };
    let marked = match planned {
        Some((_, marked)) if yard_cut.is_some() == planned_cut.is_some() => marked.clone(),
        _ => uncut(source, yard_cut),
    };
    let old_cut = marked.board.yard_cut;
    let state = match yard_cut {
        _ if done.is_sawn() => RestState::Cut,
        Some(cut) => RestState::Carried(cut),
        None => RestState::Whole,
    };
    // The tape may say another length than the list, and the yard's cut follows it. What ends at either is as long as it is at the least.
    let off = job.yard_tolerance;
    let found_at = |at: Length| match (old_cut, yard_cut) {
        _ if at == stated => board_end,
        (Some(old), Some(cut)) if at == old - off => cut - off,
        (Some(_), Some(_)) if at == stated - off => board_end - off,
        (Some(old), Some(cut)) if at == old => cut,
        (Some(old), Some(cut)) if at == old + job.saw.kerf => cut + job.saw.kerf,
        _ => at,
    };
    let as_planned = !done.is_otherwise() && board_end == stated && found.bad.is_empty();
    let mut pieces: Vec<Rest> = Vec::new();
    for left in left_pieces(job, &marked, done.sawn()) {
        // What is measured from the far end moves with it.
        let ends = match left.before_post {
            true => left.to + board_end - stated,
            false => found_at(left.to),
        };
        let (from, to) = (found_at(left.from), ends);
        // One of the two pieces of a length that the yard cut ends by itself.
        let to = match done.lacks {
            Some(lacks) if left.to == lacks.to => lacks.from,
            _ => to.min(board_end),
        };
        let piece = LeftPiece { from, to, ..left };
        let length = piece.to - piece.from;
        let bad = piece.bad(&bad);
        let clear = clear_of(job, section, (length, piece.trim, &bad));
        // Nothing can be cut from a piece that is bad throughout.
        if length < SHORTEST || clear.is_empty() {
            continue;
        }
        let kept = match as_planned {
            true => piece.kept,
            false => worth_keeping(job, section, &clear, piece.tail),
        };
        pieces.push(Rest {
            source,
            board: planned.map(|(index, _)| index),
            bought: None,
            section,
            from,
            in_hand: piece.in_hand && !piece.from.is_none(),
            length,
            bad,
            trim: piece.trim,
            sawn_end: piece.before_post,
            state,
            kept,
            strip: None,
            factory_ends: piece.factory_ends,
        });
    }
    pieces.extend(strips(job, planned, (source, section), done));
    pieces
}

/// The strips worth keeping beside what was ripped out of a board so far; a spoiled part leaves none.
fn strips(
    job: &Job,
    planned: Option<(usize, &MarkedBoard)>,
    (source, section): (Source, usize),
    done: &BoardProgress,
) -> Vec<Rest> {
    let runs = planned.iter().flat_map(|(_, marked)| &marked.board.runs);
    let cuts = runs.flat_map(|run| &run.cuts).enumerate().take(done.cut);
    let sound = cuts.filter(|(position, _)| !done.spoiled.contains(position));
    sound
        .filter_map(|(_, placed)| {
            let width = kept_beside(job, placed.part, (source, section))?;
            let piece = &job.parts[placed.part];
            // What goes between others may be marked up to a step short.
            let short = match piece.fitting {
                Fitting::Between => job.step,
                Fitting::Free | Fitting::Ground => Length::ZERO,
            };
            Some(Rest {
                source,
                board: planned.map(|(index, _)| index),
                bought: None,
                section,
                from: placed.start,
                in_hand: false,
                length: piece.length - short,
                bad: Vec::new(),
                trim: Trim::default(),
                sawn_end: false,
                state: RestState::Cut,
                kept: true,
                strip: Some(width),
                factory_ends: [false; 2],
            })
        })
        .collect()
}

/// A board with no cut but the yard's.
fn uncut(source: Source, yard_cut: Option<Length>) -> MarkedBoard {
    MarkedBoard {
        board: PlannedBoard {
            source,
            yard_cut,
            runs: Vec::new(),
        },
        off: Vec::new(),
        for_offcut: Vec::new(),
        freed: Vec::new(),
    }
}

/// Where the yard cuts a length that is in the car: where the plan has it, or so that the first piece is as long as can be. Where the
/// tape says more than the list, the cut moves on as far as the second piece needs to fit.
fn yard_cut(job: &Job, board_end: Length, planned: Option<Length>) -> Option<Length> {
    let carry = job.carry.filter(|carry| board_end > *carry);
    match (planned, carry) {
        (planned, None) => planned,
        (None, Some(carry)) => Some(carry.min(board_end - job.saw.kerf)),
        (Some(cut), Some(carry)) => Some(cut.max(board_end - job.saw.kerf - carry)),
    }
}
