//! The cuts of a board, in order from its datum end.
//!
//! Parts come off the datum end one after the other, so that the piece in hand is the long rest of the board. Every mark is measured from
//! the datum end of the piece in hand: the whole board, or each of the two pieces of a length cut at the yard.

use super::step::StepKind;
use super::words::Words;
use crate::clear::standing;
use crate::job::{Angle, PartEnd};
use crate::length::{Length, Shown};
use crate::marks::{Freed, MarkedBoard, cut_width, lying_edges, lying_ends, lying_faces};
use crate::plan::{Edge, PlacedPart, PlannedBoard, PlannedRun};

/// One cut of a board.
#[derive(Clone, Debug)]
pub(super) struct Station {
    pub(super) kind: StepKind,
    /// Where the mark is, from the board's datum end.
    pub(super) at: Length,
    /// Where the datum end of the piece in hand is.
    pub(super) datum: Length,
    /// Which piece is in hand.
    pub(super) piece: Piece,
    /// The part this cut frees.
    pub(super) frees: Option<PlacedPart>,
    /// The part whose first end this cut is.
    pub(super) opens: Option<usize>,
    /// The slant, for a mitre.
    pub(super) slant: Option<Slant>,
    /// Lengths of the two sides that this cut separates.
    pub(super) sides: [Length; 2],
    /// Where the piece in hand ends, from the board's datum end.
    pub(super) end: Length,
    /// The factory end on which the part that it frees stands.
    pub(super) stands: Option<Stands>,
    /// Whether it cuts the bad end of the board off an offcut.
    pub(super) bad_end: bool,
    /// Where the timber in hand starts before it, where a cut made that end, and whether that is slanted.
    pub(super) fresh: Option<(Length, bool)>,
}

/// The factory end of a board on which a part stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stands {
    /// The datum end.
    Datum,
    /// The far end, from which the part is measured; the cut that frees it is the one before it.
    Far,
}

/// The piece of timber in hand.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Piece {
    /// The whole board.
    Whole,
    /// The first or second piece of a length cut at the yard.
    Carried(usize),
}

/// A cut at an angle.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Slant {
    pub(super) angle: Angle,
    /// The edge that the mark is on: the long point.
    pub(super) long_point: Edge,
    /// Which way the blade swings.
    pub(super) leans: Lean,
    /// Whether the long point is on the face that is up, where the blade is tilted.
    pub(super) is_up: bool,
    /// Which way a tilted blade leans: towards the datum at the top, or away from it.
    pub(super) tips: bool,
}

/// On which side of the mark the blade goes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Blade {
    /// On the datum side: the mark starts what is wanted.
    Before,
    /// Away from the datum: the mark ends what is wanted.
    Beyond,
    /// Nothing is cut.
    Idle,
}

impl Station {
    /// The tape's reading at the mark, hooked on the datum end of the piece in hand. A yard's cut between two steps is printed as finely as
    /// lengths are written. No reading of a saw cut lies beyond the timber.
    pub(super) fn reading(&self, words: &Words) -> Shown {
        if self.is_before() {
            return words.reading(self.end - self.at);
        }
        let at = self.at - self.datum;
        let near = words.reading(at);
        if self.kind == StepKind::YardCut {
            words.cut_reading(at)
        } else if self.blade() != Blade::Idle && at.nearest(words.job.step) > self.end - self.datum
        {
            Shown {
                rounded: true,
                ..words.reading(at.down_to(words.job.step))
            }
        } else {
            near
        }
    }

    /// Whether a slanted cut has its long point in the corner of the end and between two steps, so that no mark is made for it.
    pub(super) fn in_the_corner(&self, step: Length) -> bool {
        let at = self.at - self.datum;
        self.slant.is_some() && self.at == self.end && at.down_to(step) != at
    }

    /// Whether it frees a part at the far end by the cut before it.
    pub(super) fn is_before(&self) -> bool {
        self.stands == Some(Stands::Far) && self.at < self.end
    }

    pub(super) fn blade(&self) -> Blade {
        match (self.kind, self.frees) {
            _ if self.is_before() => Blade::Before,
            (StepKind::Finish, Some(_)) => Blade::Idle,
            (StepKind::Finish | StepKind::YardCut, None) | (_, Some(_)) => Blade::Beyond,
            (_, None) => Blade::Before,
        }
    }
}

/// Which way a slanted cut runs, seen from the person.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Lean {
    /// Its far end is further from the datum than its near end.
    Away,
    /// Its far end is nearer the datum.
    Towards,
}

/// The pieces of timber a board is cut from: where each starts and ends.
pub(super) fn pieces(
    words: &Words,
    planned: &PlannedBoard,
    length: Length,
) -> Vec<(Piece, Length, Length)> {
    match planned.yard_cut {
        None => vec![(Piece::Whole, Length::ZERO, length)],
        Some(cut) => vec![
            (Piece::Carried(1), Length::ZERO, cut),
            (Piece::Carried(2), cut + words.job.saw.kerf, length),
        ],
    }
}

/// All cuts of a board as its marks make them.
pub(super) fn stations(words: &Words, marked: &MarkedBoard, length: Length) -> Vec<Station> {
    let planned = &marked.board;
    let mut freed = marked.freed.iter().peekable();
    let standing = standing(words.job, planned);
    let mut stations = Vec::new();
    if let Some(cut) = planned.yard_cut {
        stations.push(Station {
            kind: StepKind::YardCut,
            at: cut,
            datum: Length::ZERO,
            piece: Piece::Whole,
            frees: None,
            opens: None,
            slant: None,
            sides: [cut, length - cut - words.job.saw.kerf],
            end: length,
            stands: None,
            bad_end: false,
            fresh: None,
        });
    }
    for (piece, start, end) in pieces(words, planned, length) {
        let mut walk = Walk {
            words,
            piece,
            start,
            end,
            at: start,
            slanted: false,
            trim: words.trim_of(planned.source).datum,
            standing,
            stations: &mut stations,
        };
        let runs: Vec<&PlannedRun> = planned
            .runs
            .iter()
            .filter(|run| run.from >= start && run.to <= end && !run.cuts.is_empty())
            .collect();
        for run in runs {
            while let Some(offcut) = freed.next_if(|offcut| offcut.to <= run.from) {
                walk.free_offcut(offcut);
            }
            walk.run(run);
        }
        // What is left is all of the last piece of timber: a length that the yard cuts has no offcut to cut off.
        for offcut in freed.by_ref() {
            walk.free_offcut(offcut);
            walk.bad_end();
        }
    }
    stations
}

/// A walk along one piece of timber; all before `at` is cut away.
struct Walk<'a, 'b> {
    words: &'a Words<'a>,
    piece: Piece,
    start: Length,
    end: Length,
    at: Length,
    /// Whether the last cut left a slanted end.
    slanted: bool,
    /// The trim of the whole board's datum end; a clear run that starts there starts behind the trim.
    trim: Length,
    /// The parts on the ends of the board.
    standing: [Option<PlacedPart>; 2],
    stations: &'b mut Vec<Station>,
}

impl Walk<'_, '_> {
    fn push(&mut self, kind: StepKind, at: Length, width: Length) -> &mut Station {
        let rest = (self.end - at - width).ticks().max(0);
        self.stations.push(Station {
            kind,
            at,
            datum: self.start,
            piece: self.piece,
            frees: None,
            opens: None,
            slant: None,
            sides: [at - self.at, Length::from_ticks(rest)],
            end: self.end,
            stands: None,
            bad_end: false,
            fresh: (self.at > self.start).then_some((self.at, self.slanted)),
        });
        let last = self.stations.len() - 1;
        &mut self.stations[last]
    }

    /// Cuts an offcut free: before it, outside its start, and at its end.
    fn free_offcut(&mut self, offcut: &Freed) {
        let kerf = self.words.job.saw.kerf;
        if offcut.begins {
            self.push(StepKind::Bad, offcut.from, Length::ZERO);
            self.at = offcut.from;
        }
        self.push(StepKind::Finish, offcut.to, kerf);
        self.at = offcut.to + kerf;
        self.slanted = false;
    }

    /// The cut that ended an offcut just now also cuts the bad end of the board off.
    fn bad_end(&mut self) {
        if let Some(cut) = self.stations.last_mut() {
            cut.bad_end = true;
        }
    }

    fn run(&mut self, run: &PlannedRun) {
        let Some(first) = run.cuts.first() else {
            return;
        };
        let [near_datum, _] = lying_ends(self.words.job, first);
        if self.standing[1] == Some(*first) && first.start > self.at {
            return self.far_post(first, near_datum);
        }
        match near_datum {
            PartEnd::Mitre(angle) => self.open_mitre(first, angle),
            PartEnd::Square if first.start > self.at || self.slanted => {
                let carried = self.piece != Piece::Whole;
                let trims = carried || run.from == self.start + self.trim;
                let kind = if trims && !self.slanted {
                    StepKind::Trim
                } else {
                    StepKind::Bad
                };
                let station = self.push(kind, first.start, Length::ZERO);
                station.opens = Some(first.part);
                self.at = first.start;
            }
            PartEnd::Square => {}
        }
        for (index, placed) in run.cuts.iter().enumerate() {
            self.part(placed, run.cuts.get(index + 1));
        }
    }

    /// Cuts free a part that stands on the far end.
    fn far_post(&mut self, placed: &PlacedPart, top: PartEnd) {
        let (kind, slant) = match top {
            PartEnd::Square => (StepKind::Cut, None),
            PartEnd::Mitre(angle) => {
                let [edge, _] = lying_edges(self.words.job, placed);
                let [is_up, _] = lying_faces(self.words.job, placed);
                (
                    StepKind::Mitre,
                    Some(slant(angle, (edge, is_up), Side::Datum)),
                )
            }
        };
        let before = placed.start - self.at;
        let station = self.push(kind, placed.start, Length::ZERO);
        station.frees = Some(*placed);
        station.slant = slant;
        // The side of the part comes first.
        station.sides = [station.end - placed.start, before];
        station.stands = Some(Stands::Far);
        self.at = placed.end;
    }

    fn part(&mut self, placed: &PlacedPart, next: Option<&PlacedPart>) {
        let [_, away] = lying_ends(self.words.job, placed);
        let width = cut_width(self.words.job, placed);
        let next_end = next.map(|next| lying_ends(self.words.job, next)[0]);
        let shared = next.filter(|next| next.start < placed.end + width);
        let kind = match away {
            PartEnd::Square if placed.end >= self.end => StepKind::Finish,
            PartEnd::Square => StepKind::Cut,
            PartEnd::Mitre(_) => StepKind::Mitre,
        };
        let slant = match away {
            PartEnd::Mitre(angle) => {
                let [_, edge] = lying_edges(self.words.job, placed);
                let [_, is_up] = lying_faces(self.words.job, placed);
                Some(slant(angle, (edge, is_up), Side::Away))
            }
            PartEnd::Square => None,
        };
        let stands = [Stands::Datum, Stands::Far].into_iter().zip(self.standing);
        let stands = stands
            .filter(|(_, post)| *post == Some(*placed))
            .map(|(end, _)| end)
            .next();
        let station = self.push(kind, placed.end, width);
        station.stands = stands;
        station.frees = Some(*placed);
        station.slant = slant.filter(|_| kind == StepKind::Mitre);
        let squared = away == PartEnd::Square && next_end == Some(PartEnd::Square);
        station.opens = next
            .filter(|_| shared.is_some() || squared)
            .map(|next| next.part);
        self.at = shared.map_or(placed.end + width, |next| next.start);
        self.slanted = away != PartEnd::Square;
        let (Some(next), None) = (next, shared) else {
            return;
        };
        match next_end {
            Some(PartEnd::Mitre(angle)) => self.open_mitre(next, angle),
            Some(PartEnd::Square) if away != PartEnd::Square => {
                let station = self.push(StepKind::Cut, next.start, Length::ZERO);
                station.opens = Some(next.part);
            }
            _ => {}
        }
    }

    /// Cuts the first end of a part at an angle.
    fn open_mitre(&mut self, placed: &PlacedPart, angle: Angle) {
        let [edge, _] = lying_edges(self.words.job, placed);
        let [is_up, _] = lying_faces(self.words.job, placed);
        let station = self.push(StepKind::Mitre, placed.start, Length::ZERO);
        station.opens = Some(placed.part);
        station.slant = Some(slant(angle, (edge, is_up), Side::Datum));
        self.at = placed.start;
    }
}

enum Side {
    Datum,
    Away,
}

/// The long point is further out than the short one, so its edge shows which way the cut runs.
fn slant(angle: Angle, (long_point, is_up): (Edge, bool), side: Side) -> Slant {
    let tips = is_up == matches!(side, Side::Away);
    let leans = match (long_point, side) {
        (Edge::Far, Side::Away) | (Edge::Near, Side::Datum) => Lean::Away,
        (Edge::Far, Side::Datum) | (Edge::Near, Side::Away) => Lean::Towards,
    };
    Slant {
        angle,
        long_point,
        leans,
        is_up,
        tips,
    }
}
