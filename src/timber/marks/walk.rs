//! The walk along a board in which each mark is computed from the one before it.

use super::lying::{cut_width, lying_ends};
use super::marked::Freed;
use crate::clear::{carried_trims, runs_beside_standing, standing, widest_cut};
use crate::job::{Job, Trim};
use crate::length::Length;
use crate::part::PartEnd;
use crate::plan::{PlacedPart, PlannedBoard, PlannedRun, Source};
use crate::runs::ClearRun;

/// What the marks of a board depend on, apart from its parts.
pub(super) struct Timber {
    pub(super) length: Length,
    pub(super) datum: Length,
    /// The trim of its far end.
    far: Length,
    /// What it loses at both ends and around the yard's cut, where the yard cuts it.
    pub(super) carried_trims: Trim,
    /// Whether a part stands on its far end: the last run.
    pub(super) far_post: bool,
    pub(super) keep: Length,
    pub(super) step: Length,
    /// Whether the yard cuts it in two.
    pub(super) carried: bool,
    /// Its clear runs in the plan. Those from which nothing is cut come off whole where they are worth keeping.
    pub(super) clear: Vec<ClearRun>,
}

impl Timber {
    pub(super) fn of(job: &Job, planned: &PlannedBoard) -> Timber {
        let (section, length, trim) = match planned.source {
            Source::Yard(line) => {
                let yard = &job.yard[line];
                let trim = job.sections[yard.section].trim;
                (yard.section, yard.length, trim)
            }
            Source::Shed(shed) => {
                let board = &job.shed[shed];
                (board.section, board.length, board.trim)
            }
        };
        // A part on the far end is lost there in place of the trim, with the cut before it.
        let far_post = standing(job, planned)[1];
        let mut lost = carried_trims(job, section);
        if let Some(post) = far_post {
            let long = job.parts[post.part].length.up_to(job.step);
            lost.far += long + widest_cut(job, section) - job.sections[section].trim.far;
        }
        Timber {
            length,
            datum: trim.datum,
            far: trim.far,
            carried_trims: lost,
            far_post: far_post.is_some(),
            keep: job.sections[section].keep,
            step: job.step,
            carried: planned.yard_cut.is_some(),
            clear: runs_beside_standing(job, planned),
        }
    }

    /// Whether nothing behind the last run with parts, which is this one, is worth keeping up to the far end: there the board is bad, or a bad stretch leaves
    /// too little. What is worth keeping before that is then cut off.
    pub(super) fn ends_bad(&self, run: &PlannedRun) -> bool {
        let Some(last) = self
            .clear
            .last()
            .filter(|_| !self.carried && !self.far_post)
        else {
            return false;
        };
        let stretch = last.stretch;
        let other = stretch.from > run.from;
        stretch.to < self.length - self.far
            || other && stretch.to - stretch.from + last.tail < self.keep
    }

    /// How far the last mark of a run may be beyond its planned position, where the run ends at `to`; below zero where it must be before
    /// it.
    pub(super) fn room(
        &self,
        job: &Job,
        run: &PlannedRun,
        last: &PlacedPart,
        to: Length,
    ) -> Length {
        let room = to - last.end;
        let Some(tail) = self.tail_kept(job, run, last) else {
            return room;
        };
        // An offcut has some length however small the keep length is, and the end's trim alone is no offcut.
        let tick = Length::from_ticks(1);
        let width = cut_width(job, last);
        (room - width + tail - self.keep).min(room - width - tick)
    }

    /// Whether the plan leaves an offcut worth keeping behind the last part of a run.
    pub(super) fn keeps(&self, job: &Job, run: &PlannedRun, last: &PlacedPart) -> bool {
        self.tail_kept(job, run, last).is_some()
    }

    /// The trim that counts with what the plan leaves behind the last part of a run, where that is an offcut worth keeping.
    fn tail_kept(&self, job: &Job, run: &PlannedRun, last: &PlacedPart) -> Option<Length> {
        let (planned, width) = (run.to - last.end, cut_width(job, last));
        // An end nobody cuts keeps its trim.
        let clear = self.clear.iter().filter(|_| !self.carried);
        let tail = clear
            .filter(|clear| clear.stretch.from == run.from)
            .map(|clear| clear.tail)
            .next()
            .unwrap_or_default();
        (planned > width && planned - width + tail >= self.keep).then_some(tail)
    }
}

/// A walk along one piece of timber in hand; what is before `at` is cut away.
pub(super) struct Walk<'a> {
    pub(super) job: &'a Job,
    pub(super) timber: &'a Timber,
    /// Where the piece in hand starts, from which its marks are read.
    pub(super) start: Length,
    /// Where it ends.
    pub(super) end: Length,
    pub(super) at: Length,
    /// Whether the last cut left a slanted end.
    pub(super) slanted: bool,
    pub(super) off: &'a mut Vec<Length>,
    pub(super) for_offcut: &'a mut Vec<bool>,
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

    /// Sets the mark of a part that stands on the far end: it is measured from there.
    pub(super) fn post(&mut self, run: &mut PlannedRun) {
        for placed in &mut run.cuts {
            let long = self.job.parts[placed.part].length;
            placed.end = self.timber.length;
            placed.start = self.timber.length - long.up_to(self.timber.step);
            self.off.push(Length::ZERO);
            self.for_offcut.push(false);
        }
    }

    /// Sets the marks of one run; `later` where others are cut behind it in the same piece of timber, or that ends bad.
    pub(super) fn run(&mut self, run: &mut PlannedRun, exact: &PlannedRun, later: bool) {
        // How far the whole run was moved, where the yard cuts elsewhere than planned.
        let moved = run.from - exact.from;
        let Some(last) = exact.cuts.last() else {
            return;
        };
        self.pass_untouched(run.from);
        let to = match later {
            true => self.end_before_others(run.to, last.end + cut_width(self.job, last)),
            false => run.to,
        };
        let room = self.timber.room(self.job, exact, last, to - moved);
        let for_offcut = self.timber.tail_kept(self.job, exact, last).is_some();
        let ends = self.ends(run, exact, moved + room);
        for (placed, made) in run.cuts.iter_mut().zip(ends) {
            (placed.start, placed.end) = (made.start, made.end);
            self.off.push(made.off);
            self.for_offcut.push(for_offcut);
        }
        if let Some(last) = run.cuts.last() {
            self.at = last.end + cut_width(self.job, last);
            self.slanted = lying_ends(self.job, last)[1] != PartEnd::Square;
        }
        if later {
            self.free_rest(run);
        }
    }
}
