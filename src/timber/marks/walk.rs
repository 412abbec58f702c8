//! The walk along a board that sets its marks one from the other.

use super::lying::{cut_width, lying_ends};
use super::marked::{Freed, miss};
use crate::clear::clear_runs;
use crate::job::Job;
use crate::length::Length;
use crate::part::{Fitting, PartEnd};
use crate::plan::{PlacedPart, PlannedBoard, PlannedRun, Source};
use crate::runs::ClearRun;

/// What the marks of a board depend on beside its parts.
pub(super) struct Timber {
    pub(super) length: Length,
    pub(super) datum: Length,
    pub(super) far: Length,
    pub(super) keep: Length,
    pub(super) step: Length,
    /// Whether the yard cuts it in two.
    pub(super) carried: bool,
    /// Its clear runs as the plan has them. Untouched ones come off whole where they are worth keeping.
    pub(super) clear: Vec<ClearRun>,
}

impl Timber {
    pub(super) fn of(job: &Job, planned: &PlannedBoard) -> Timber {
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
    pub(super) fn room(
        &self,
        job: &Job,
        run: &PlannedRun,
        last: &PlacedPart,
        to: Length,
    ) -> Length {
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
pub(super) struct Walk<'a> {
    pub(super) job: &'a Job,
    pub(super) timber: &'a Timber,
    /// Where the piece in hand starts: its marks are read from there.
    pub(super) start: Length,
    /// Where it ends.
    pub(super) end: Length,
    pub(super) at: Length,
    /// Whether the last cut left a slanted end.
    pub(super) slanted: bool,
    pub(super) off: &'a mut Vec<Length>,
    pub(super) freed: &'a mut Vec<Freed>,
}

impl Walk<'_> {
    /// The first step at or beyond a place.
    pub(super) fn up(&self, at: Length) -> Length {
        self.start + (at - self.start).up_to(self.timber.step)
    }

    /// The last step at or before a place.
    pub(super) fn down(&self, at: Length) -> Length {
        self.start + (at - self.start).down_to(self.timber.step)
    }

    /// Sets the marks of one run; `later` where others are cut behind it in the same piece of timber.
    pub(super) fn run(&mut self, run: &mut PlannedRun, exact: &PlannedRun, later: bool) {
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
