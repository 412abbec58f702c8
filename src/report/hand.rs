//! What a person has in hand at the saw, and what a reading of the tape on it means.
//!
//! All cuts that are ticked are made, whatever they freed: the timber in hand begins behind the last of them. A person measures from that end, for the
//! end that the board came with is cut off.

use super::sheet::steps_of;
use super::stations::{Piece, Station, pieces, stations};
use super::step::{CAME, FRESH, StepKind, YARD_SAWN};
use super::words::{Words, held};
use crate::job::{Job, Stretch};
use crate::left::{Sawn, left_pieces};
use crate::length::Length;
use crate::marks::mark_board;
use crate::plan::PlannedBoard;

/// The timber in hand once some steps of a board's sheet are done.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct InHand {
    /// How far the board is sawn.
    pub sawn: Sawn,
    /// Where the timber in hand starts and ends on the board.
    pub lies: Stretch,
    /// The end from which its readings are, in words.
    pub hooked: &'static str,
    /// Which piece of a length that the yard cut it is, in words.
    pub piece: &'static str,
}

impl InHand {
    /// How long it is said to be.
    pub fn told_length(&self, job: &Job) -> String {
        held(job.style(), self.lies.to - self.lies.from)
    }

    /// The end of it that is not there where it is only so long.
    pub fn lacks(&self, job: &Job, only: Length) -> Result<Stretch, String> {
        self.bad(job, only, None)
    }

    /// The bad stretch that the tape shows on it, on the board; without an end it goes on to the far end.
    pub fn bad(&self, job: &Job, from: Length, to: Option<Length>) -> Result<Stretch, String> {
        let length = self.lies.to - self.lies.from;
        match to {
            _ if from >= length => Err(format!(
                "the {} is {} long, from {}",
                self.piece,
                self.told_length(job),
                self.hooked
            )),
            Some(to) if to <= from => Err("a bad stretch ends beyond where it begins".into()),
            _ => Ok(Stretch {
                from: self.lies.from + from,
                to: self.lies.from + to.unwrap_or(length).min(length),
            }),
        }
    }
}

/// The timber in hand once the first `steps` of a board's sheet are done.
pub fn in_hand(job: &Job, board: &PlannedBoard, steps: usize) -> InHand {
    let words = Words::of(job);
    let marked = mark_board(job, board);
    let (_, length) = job.board(board.source);
    let cuts = stations(&words, &marked, length);
    let done = steps_of(&words, board.source, &cuts);
    let done = done.iter().filter(|step| **step < steps).count();
    let made = &cuts[..done];
    let saw = |cut: &&Station| cut.kind != StepKind::YardCut;
    let sawn = Sawn {
        parts: made.iter().filter(|cut| cut.frees.is_some()).count(),
        mark: made.iter().rev().find(saw).map(|cut| cut.at),
    };
    let piece = cuts
        .get(done)
        .or(cuts.last())
        .map_or(Piece::Whole, |cut| cut.piece);
    let yard_cut = marked.board.yard_cut;
    let mut all = pieces(&words, &marked.board, length).into_iter();
    let own = all.find(|(own, ..)| *own == piece);
    let (start, end) = own.map_or((Length::ZERO, length), |(_, start, end)| (start, end));
    let (name, came) = match piece {
        Piece::Whole => ("piece in hand", CAME),
        Piece::Carried(1) => ("first carried piece", CAME),
        Piece::Carried(_) => ("second carried piece", YARD_SAWN),
    };
    let left = left_pieces(job, &marked, sawn);
    let within = left
        .iter()
        .rev()
        .find(|one| one.from >= start && one.from < end);
    let lies = match (within, piece, yard_cut) {
        // Before the yard's cut it is the whole length.
        (_, Piece::Whole, Some(_)) => Stretch {
            from: start,
            to: end,
        },
        (Some(one), ..) => Stretch {
            from: one.from,
            to: one.to,
        },
        (None, ..) => Stretch { from: end, to: end },
    };
    InHand {
        sawn,
        hooked: if lies.from > start { FRESH } else { came },
        lies,
        piece: name,
    }
}
