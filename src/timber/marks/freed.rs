//! Offcuts worth keeping that come off before later parts: where the cuts that free them are marked.

use super::marked::Freed;
use super::walk::Walk;
use crate::length::Length;
use crate::plan::PlannedRun;
use crate::runs::Stretch;

impl Walk<'_> {
    /// Whether so much clear timber is worth keeping.
    fn kept(&self, length: Length) -> bool {
        length > Length::ZERO && length >= self.timber.keep
    }

    /// Cuts off whole clear runs before this place that are worth keeping and from which nothing is cut.
    pub(super) fn pass_untouched(&mut self, before: Length) {
        let timber = self.timber;
        for clear in timber.clear.iter().map(|clear| clear.stretch) {
            if clear.to < before && clear.from >= self.at && self.kept(clear.to - clear.from) {
                self.free(clear);
            }
        }
    }

    /// Cuts off the rest of a run where it is worth keeping and other runs are cut behind it, or the board ends bad.
    pub(super) fn free_rest(&mut self, run: &PlannedRun) {
        let rest = Stretch {
            from: self.at,
            to: run.to,
        };
        if self.kept(rest.to - rest.from) {
            self.free(rest);
        }
    }

    /// The furthest that the last part of a run may end so that the offcut behind it, up to the last step of the run, stays worth keeping.
    pub(super) fn end_before_others(&self, to: Length, offcut: Length) -> Length {
        let step = self.down(to);
        if self.kept(to - offcut) && self.kept(step - offcut) {
            step
        } else {
            to
        }
    }

    /// Marks the cuts around a clear stretch. Each mark is on the step inside the stretch where the stretch stays worth keeping. Else it is
    /// on the step outside it where the bad timber has room for the saw cut, else exactly where the stretch ends.
    fn free(&mut self, clear: Stretch) {
        let kerf = self.job.saw.kerf;
        let ends_inside = self.down(clear.to);
        let whole_end = self.at == self.start && clear.from == self.timber.datum;
        let (from, begins) = if whole_end || clear.from <= self.at {
            (self.at, false)
        } else if self.kept(ends_inside - self.up(clear.from)) {
            (self.up(clear.from), true)
        } else if self.down(clear.from) > self.at {
            (self.down(clear.from), true)
        } else {
            (self.at, false)
        };
        let sound = from.max(clear.from);
        let next = self.timber.clear.iter().map(|run| run.stretch.from);
        let next = next.filter(|next| *next >= clear.to).min();
        let ends_outside = self.up(clear.to);
        let to = if self.kept(ends_inside - sound) {
            ends_inside
        } else if next.is_some_and(|next| ends_outside + kerf <= next) {
            ends_outside
        } else {
            clear.to
        };
        self.freed.push(Freed {
            from,
            to,
            clear: Stretch {
                from: sound,
                to: to.min(clear.to),
            },
            begins,
        });
        self.at = to + kerf;
        self.slanted = false;
    }
}
