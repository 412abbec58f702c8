//! Where the parts of one run start and end.
//!
//! **Idea.** Where there is room, each mark is the one step at which its part has its full length, and there is no choice. Where there is
//! not, a mark may be a step or two before that; this part then loses length, and all parts after it gain room. Among all such choices the
//! greatest loss of a part is minimised first, then the sum of all losses. This is a dynamic program over the marks: a walk from part to
//! part that keeps the best way to each position.
//!
//! **Invariant.** The first of the ways is always feasible: it moves no mark further beyond its exact position than the last mark may be
//! moved, so each part fits. **Why it ends:** each part is visited twice, with at most [`WAYS`] ways.

use super::lying::{cut_width, lying_ends};
use super::marked::miss;
use super::walk::Walk;
use crate::length::Length;
use crate::part::{Fitting, PartEnd};
use crate::plan::PlannedRun;

/// How far from the corner of a square end the long point of a mitre is marked, where there is room: a blade that is set a little off then
/// does not cut off the tip (common practice, no source).
pub const MARGIN: Length = Length::from_mm(2);

/// How many ways to mark a run are kept side by side.
const WAYS: usize = 64;

/// A part as its marks make it.
#[derive(Clone, Copy, Debug)]
pub(super) struct Made {
    pub(super) start: Length,
    pub(super) end: Length,
    /// Its loss.
    pub(super) off: Length,
}

/// A way to mark a run up to some part.
#[derive(Clone, Copy)]
struct Way {
    made: Made,
    /// Index of the way, in the layer of the part before, that this one continues.
    before: usize,
    /// The greatest loss of a part so far, and the sum of all losses.
    loss: (i64, i64),
}

impl Walk<'_> {
    /// The parts of a run with their marks, where no mark may be further beyond its planned position than `room`.
    pub(super) fn ends(&self, run: &PlannedRun, exact: &PlannedRun, room: Length) -> Vec<Made> {
        let good = |ends: &[Made]| ends.iter().all(|made| made.off == Length::ZERO);
        let eased = self.one_by_one(run, exact, room, MARGIN.up_to(self.timber.step));
        if good(&eased) {
            return eased;
        }
        let plain = self.one_by_one(run, exact, room, Length::ZERO);
        match good(&plain) {
            true => plain,
            false => self.shared_out(run, exact, room, &plain),
        }
    }

    /// Each mark at the step at which its part has its full length, as far as there is room.
    fn one_by_one(
        &self,
        run: &PlannedRun,
        exact: &PlannedRun,
        room: Length,
        margin: Length,
    ) -> Vec<Made> {
        let mut ends: Vec<Made> = Vec::new();
        for index in 0..run.cuts.len() {
            let behind = ends.last().map(|made| made.end);
            let mut start = self.first_end(run, exact, index, behind);
            if self.opens_in_a_corner(run, index) {
                start += margin;
            }
            let latest = exact.cuts[index].end + room;
            let end = self.mark(run, index, start, latest);
            ends.push(self.made(run, index, start, end));
        }
        ends
    }

    /// Whether a part starts with a mitre whose long point would be in the corner of a fresh square end.
    fn opens_in_a_corner(&self, run: &PlannedRun, index: usize) -> bool {
        let [near, _] = lying_ends(self.job, &run.cuts[index]);
        let square_before = match index.checked_sub(1) {
            None => run.from <= self.at && !self.slanted,
            Some(before) => lying_ends(self.job, &run.cuts[before])[1] == PartEnd::Square,
        };
        near != PartEnd::Square && square_before
    }

    /// The marks with the least loss; `plain` is one feasible way to set them.
    fn shared_out(
        &self,
        run: &PlannedRun,
        exact: &PlannedRun,
        room: Length,
        plain: &[Made],
    ) -> Vec<Made> {
        let Some(last) = exact.cuts.last() else {
            return Vec::new();
        };
        let latest = last.end + room;
        let mut layers: Vec<Vec<Way>> = Vec::new();
        for (index, plain) in plain.iter().enumerate() {
            let before: &[Way] = layers.last().map_or(&[], |layer| layer);
            let mut ways: Vec<Way> = Vec::new();
            let starts: Vec<_> = match before {
                [] => vec![(0, None, (0, 0))],
                ways => ways
                    .iter()
                    .enumerate()
                    .map(|(nth, way)| (nth, Some(way.made.end), way.loss))
                    .collect(),
            };
            for (nth, behind, loss) in starts {
                let start = self.first_end(run, exact, index, behind);
                for end in self.choices(run, index, start, latest) {
                    ways.push(onward(self.made(run, index, start, end), nth, loss));
                }
            }
            order::sort_by_key(&mut ways, |way| (way.made.end, way.loss));
            ways.dedup_by_key(|way| way.made.end);
            order::sort_by_key(&mut ways, |way| (way.loss, way.made.end));
            ways.truncate(WAYS - 1);
            // The plain way stays the first of each layer.
            let loss = before.first().map_or((0, 0), |way| way.loss);
            ways.insert(0, onward(*plain, 0, loss));
            layers.push(ways);
        }
        let ends = layers.last().map_or(&[][..], |layer| layer);
        let best = (0..ends.len()).min_by_key(|&nth| (ends[nth].loss, nth));
        let mut at = best.unwrap_or_default();
        let mut made = Vec::new();
        for layer in layers.iter().rev() {
            made.push(layer[at].made);
            at = layer[at].before;
        }
        made.reverse();
        made
    }

    fn made(&self, run: &PlannedRun, index: usize, start: Length, end: Length) -> Made {
        let part = &self.job.parts[run.cuts[index].part];
        let off = miss(part.length, end - start, part.fitting, self.timber.step);
        Made { start, end, off }
    }

    /// Where a part starts: behind the cut before it, which is made at `before`, or at a mark of its own.
    fn first_end(
        &self,
        run: &PlannedRun,
        exact: &PlannedRun,
        index: usize,
        before: Option<Length>,
    ) -> Length {
        let [near, _] = lying_ends(self.job, &run.cuts[index]);
        let Some((end, before)) = before.zip(index.checked_sub(1)) else {
            let marked = near != PartEnd::Square || run.from > self.at || self.slanted;
            return if marked { self.up(run.from) } else { run.from };
        };
        let gap = exact.cuts[index].start - exact.cuts[before].end;
        let before = &run.cuts[before];
        let behind = end + gap;
        let [_, away] = lying_ends(self.job, before);
        let shared = gap < cut_width(self.job, before);
        let squares = away == PartEnd::Square && near == PartEnd::Square;
        if shared || squares {
            behind
        } else {
            self.up(behind)
        }
    }

    /// The step at which a part that starts at `start` has its full length.
    fn wish(&self, run: &PlannedRun, index: usize, start: Length) -> Length {
        let part = &self.job.parts[run.cuts[index].part];
        match part.fitting {
            Fitting::Free | Fitting::Ground => self.up(start + part.length),
            Fitting::Between => self.down(start + part.length),
        }
    }

    /// The end of the timber in hand, where the last part of a run ends there and not at a step. That is so for a square end with less than
    /// a step to saw off, and for a slanted end whose step would be beyond the timber: its long point is in the corner. Not where an offcut is to stay
    /// behind it, so that the last mark is no later than `latest`.
    fn ends_here(
        &self,
        run: &PlannedRun,
        index: usize,
        start: Length,
        latest: Length,
    ) -> Option<Length> {
        if index + 1 < run.cuts.len() || run.to != self.end || latest < self.end {
            return None;
        }
        let part = &self.job.parts[run.cuts[index].part];
        let made = self.end - start;
        let whole = miss(part.length, made, part.fitting, self.timber.step) == Length::ZERO;
        let [_, away] = lying_ends(self.job, &run.cuts[index]);
        let here = match away {
            PartEnd::Square => whole || part.length >= made,
            PartEnd::Mitre(_) => whole && self.wish(run, index, start) > self.end,
        };
        here.then_some(self.end)
    }

    /// Where a part that starts at `start` ends, no further than `latest`.
    fn mark(&self, run: &PlannedRun, index: usize, start: Length, latest: Length) -> Length {
        if let Some(end) = self.ends_here(run, index, start, latest) {
            return end;
        }
        let at = self.wish(run, index, start).min(self.down(latest));
        if at <= start {
            // The tape's step is coarser than the part: the exact position is used, and printed as nearly as the tape shows it.
            (start + self.job.parts[run.cuts[index].part].length).min(latest)
        } else {
            at
        }
    }

    /// The positions to choose from where a loss cannot be avoided: the one with the full length, and one or two steps before it.
    fn choices(
        &self,
        run: &PlannedRun,
        index: usize,
        start: Length,
        latest: Length,
    ) -> Vec<Length> {
        if let Some(end) = self.ends_here(run, index, start, latest) {
            return vec![end];
        }
        let (good, step) = (self.wish(run, index, start), self.timber.step);
        let places = [good, good - step, good - step - step];
        let fits = |end: &Length| *end > start && *end <= latest;
        places.into_iter().filter(fits).collect()
    }
}

fn onward(made: Made, before: usize, loss: (i64, i64)) -> Way {
    let off = made.off.ticks().abs();
    Way {
        made,
        before,
        loss: (loss.0.max(off), loss.1 + off),
    }
}
