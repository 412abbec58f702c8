//! Where a person's marks go: every position of a plan set on the step of the tape, so that no part comes out short without a word.
//!
//! **Idea.** A plan is exact, a tape is not. Rounding each position by itself makes a part up to a step too short, for its two ends are rounded
//! apart. So marks are set one from the other, as they are made: from the mark before, as it is printed, the cut (which is never
//! rounded) and the part lead to a place, and the next mark is the first step at or beyond it. A part is then between its length and one step
//! over. A part that goes between others is the other way round: between one step under its length and its length, for what is too long
//! does not go in.
//!
//! **Room.** Each mark moves the rest of its run by less than a step. That room is there where the last cut leaves scrap, or an offcut that stays
//! long enough to keep. Where there is less, no mark goes further beyond its exact place than the room allows; what a part loses by that is
//! told ([`MarkedBoard::off`]). A length cut at the yard has its cut on a step too ([`yard`]).
//!
//! **Offcuts.** An offcut worth keeping that lies before other cuts comes off as it is planned: a cut ends it, and another one parts it from a bad
//! stretch before it ([`Freed`]).
//!
//! **Invariant.** Every part lies in the clear run it was planned in, every cut has its width, every offcut worth keeping stays so. Source:
//! common practice at the saw (measure a cut from the one before it), no publication. It ends: each cut is visited once.
//!
//! `check` re-derives every mark with code of its own.

mod freed;
mod yard;

pub use freed::Freed;

use crate::clear::clear_runs;
use crate::job::Job;
use crate::length::Length;
use crate::part::{Fitting, PartEnd};
use crate::plan::{Lies, PlacedPart, PlannedBoard, PlannedRun, Source};
use crate::runs::ClearRun;

/// A board as it comes out when its marks are followed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct MarkedBoard {
    /// The board, each part where the marks put it: `end - start` is the length it comes out at.
    pub board: PlannedBoard,
    /// For each part along the board, by how much it misses what it should be: below zero where it comes out too short, above zero
    /// where it is too long to go between others. Zero where it is within a step on the right side.
    pub off: Vec<Length>,
    /// The offcuts worth keeping that a cut ends, ascending. What is left at the end of a piece of timber is none of them.
    pub freed: Vec<Freed>,
}

/// What a part that comes out `made` long misses: zero from its length to one step over, and for a part that goes between others from one
/// step under to its length.
pub fn miss(wanted: Length, made: Length, fitting: Fitting, step: Length) -> Length {
    let over = made - wanted;
    let good = match fitting {
        Fitting::Free => over >= Length::ZERO && over < step,
        Fitting::Between => over <= Length::ZERO && over > -step,
    };
    if good { Length::ZERO } else { over }
}

/// Sets the marks of one board of a plan.
pub fn mark_board(job: &Job, planned: &PlannedBoard) -> MarkedBoard {
    let timber = Timber::of(job, planned);
    let yard_cut = planned
        .yard_cut
        .map(|cut| yard::yard_cut(&timber, job, planned, cut));
    let mut marked = MarkedBoard {
        board: PlannedBoard {
            yard_cut,
            ..planned.clone()
        },
        off: Vec::new(),
        freed: Vec::new(),
    };
    let mut walk = Walk {
        job,
        timber: &timber,
        start: Length::ZERO,
        end: yard_cut.unwrap_or(timber.length),
        at: Length::ZERO,
        slanted: false,
        off: &mut marked.off,
        freed: &mut marked.freed,
    };
    for (index, (run, exact)) in marked.board.runs.iter_mut().zip(&planned.runs).enumerate() {
        if let (Some(cut), Some(old)) = (yard_cut, planned.yard_cut) {
            // A cut in the trim of an end leaves all of the clear timber to the other piece.
            let clear = cut
                .max(timber.datum)
                .min(timber.length - timber.far - job.saw.kerf);
            if exact.from < old {
                run.to = clear;
            } else {
                walk.start = cut + job.saw.kerf;
                walk.end = timber.length;
                walk.at = walk.start;
                walk.slanted = false;
                run.from = clear + job.saw.kerf;
            }
        }
        let later = planned.runs[index + 1..].iter();
        let later = yard_cut.is_none() && later.clone().any(|run| !run.cuts.is_empty());
        walk.run(run, exact, later);
    }
    marked
}

/// What the marks of a board depend on beside its parts.
struct Timber {
    length: Length,
    datum: Length,
    far: Length,
    keep: Length,
    step: Length,
    /// Whether the yard cuts it in two.
    carried: bool,
    /// Its clear runs as the plan has them. Untouched ones come off whole where they are worth keeping.
    clear: Vec<ClearRun>,
}

impl Timber {
    fn of(job: &Job, planned: &PlannedBoard) -> Timber {
        let (section, length, trim) = match planned.source {
            Source::Yard(line) => {
                let yard = &job.yard[line];
                (yard.section, yard.length, job.sections[yard.section].trim)
            }
            Source::Shed(shed) => {
                let board = &job.shed[shed];
                (board.section, board.length, board.trim)
            }
        };
        Timber {
            length,
            datum: trim.datum,
            far: trim.far,
            keep: job.sections[section].keep,
            step: job.step,
            carried: planned.yard_cut.is_some(),
            clear: clear_runs(job, planned.source),
        }
    }

    /// How much further the last mark of a run may go than it is planned, where the run ends at `to`; below zero where it must stay before.
    fn room(&self, job: &Job, run: &PlannedRun, last: &PlacedPart, to: Length) -> Length {
        let (planned, room) = (run.to - last.end, to - last.end);
        let width = cut_width(job, last);
        // An end nobody cuts keeps its trim.
        let clear = self.clear.iter().filter(|_| !self.carried);
        let tail = clear
            .filter(|clear| clear.stretch.from == run.from)
            .map(|clear| clear.tail)
            .next()
            .unwrap_or_default();
        if planned > width && planned - width + tail >= self.keep {
            // What has no length is no offcut, however little is worth keeping; and the end's trim alone is none.
            let tick = Length::from_ticks(1);
            (room - width + tail - self.keep).min(room - width - tick)
        } else {
            room
        }
    }
}

/// A walk along one piece of timber in hand; what is before `at` is cut away.
struct Walk<'a> {
    job: &'a Job,
    timber: &'a Timber,
    /// Where the piece in hand starts: its marks are read from there.
    start: Length,
    /// Where it ends.
    end: Length,
    at: Length,
    /// Whether the last cut left a slanted end.
    slanted: bool,
    off: &'a mut Vec<Length>,
    freed: &'a mut Vec<Freed>,
}

impl Walk<'_> {
    /// The first step at or beyond a place.
    fn up(&self, at: Length) -> Length {
        self.start + (at - self.start).up_to(self.timber.step)
    }

    /// The last step at or before a place.
    fn down(&self, at: Length) -> Length {
        self.start + (at - self.start).down_to(self.timber.step)
    }

    /// Sets the marks of one run; `later` where others are cut behind it in the same piece of timber.
    fn run(&mut self, run: &mut PlannedRun, exact: &PlannedRun, later: bool) {
        // How far the run was moved as a whole, where the yard cuts elsewhere than planned.
        let moved = run.from - exact.from;
        let Some(last) = exact.cuts.last() else {
            return;
        };
        self.pass_untouched(run);
        let to = match later {
            true => self.end_before_others(run.to, last.end + cut_width(self.job, last)),
            false => run.to,
        };
        let room = self.timber.room(self.job, exact, last, to - moved);
        let count = run.cuts.len();
        for index in 0..count {
            let gap = match index {
                0 => Length::ZERO,
                _ => exact.cuts[index].start - exact.cuts[index - 1].end,
            };
            let start = self.first_end(run, index, gap);
            let latest = exact.cuts[index].end + moved + room;
            let end = self.mark(run, index, start, latest);
            let placed = &mut run.cuts[index];
            (placed.start, placed.end) = (start, end);
            let part = &self.job.parts[placed.part];
            self.off.push(miss(
                part.length,
                end - start,
                part.fitting,
                self.timber.step,
            ));
        }
        if let Some(last) = run.cuts.last() {
            self.at = last.end + cut_width(self.job, last);
            self.slanted = lying_ends(self.job, last)[1] != PartEnd::Square;
        }
        if later {
            self.free_rest(run);
        }
    }

    /// Where a part starts: behind the cut before it, or at a mark of its own.
    fn first_end(&self, run: &PlannedRun, index: usize, gap: Length) -> Length {
        let placed = &run.cuts[index];
        let [near, _] = lying_ends(self.job, placed);
        let Some(before) = index.checked_sub(1).map(|before| &run.cuts[before]) else {
            let marked = near != PartEnd::Square || run.from > self.at || self.slanted;
            return if marked { self.up(run.from) } else { run.from };
        };
        let behind = before.end + gap;
        let [_, away] = lying_ends(self.job, before);
        let shared = gap < cut_width(self.job, before);
        let squares = away == PartEnd::Square && near == PartEnd::Square;
        if shared || squares {
            behind
        } else {
            self.up(behind)
        }
    }

    /// Where a part that starts at `start` ends, no further than `latest`.
    fn mark(&self, run: &PlannedRun, index: usize, start: Length, latest: Length) -> Length {
        let part = &self.job.parts[run.cuts[index].part];
        let exact = start + part.length;
        let step = self.timber.step;
        let wish = match part.fitting {
            Fitting::Free => self.up(exact),
            Fitting::Between => self.down(exact),
        };
        // Nothing is sawn off the end of a board that is less than a step; but a slanted end is always sawn, at a mark on the timber.
        let [_, away] = lying_ends(self.job, &run.cuts[index]);
        let ends_here =
            away == PartEnd::Square && index + 1 == run.cuts.len() && run.to == self.end;
        let made = self.end - start;
        let whole = miss(part.length, made, part.fitting, step) == Length::ZERO;
        if ends_here && (exact >= self.end || whole) {
            return self.end;
        }
        let at = wish.min(self.down(latest));
        if at <= start {
            // A step coarser than the part: the exact place, printed as nearly as the tape shows it.
            exact.min(latest)
        } else {
            at
        }
    }
}

/// The ends of a part as it lies: towards the datum, away from it.
pub fn lying_ends(job: &Job, placed: &PlacedPart) -> [PartEnd; 2] {
    let [one, other] = job.parts[placed.part].ends;
    match placed.lies {
        Lies::AsWritten => [one, other],
        Lies::Turned => [other, one],
    }
}

/// Length of board that the cut behind a part takes.
pub fn cut_width(job: &Job, placed: &PlacedPart) -> Length {
    match lying_ends(job, placed)[1] {
        PartEnd::Square => job.saw.kerf,
        PartEnd::Mitre(angle) => angle.kerf(job.saw.kerf),
    }
}
