//! Time, as the engine sees it: someone to ask whether to stop.

use super::Watch;

/// The engine was told to stop, or a level has had its share of the time. What was found by then stays good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stopped;

/// Asks the [`Watch`], and remembers that it said stop.
pub(super) struct Clock<'w> {
    watch: &'w mut dyn Watch,
    stopped: bool,
    /// The time by which the level at hand is to be done, in thousandths of all there is.
    until: Option<u32>,
    /// Work done since the watch was asked last.
    worked: usize,
}

/// Trees with more nodes than this are not kept for the certificate, which then shows the root's bound only.
const KEPT_NODES: usize = 20_000;
/// Nor trees whose places come to more prices than this, for a plan file is read on a phone.
const KEPT_PRICES: usize = 1_000_000;
/// The most work between two looks at the watch, in steps of some nanoseconds: a part looked at for a board, a fill, an entry of a matrix.
const WORK: usize = 1 << 19;

impl<'w> Clock<'w> {
    pub(super) fn new(watch: &'w mut dyn Watch) -> Self {
        Clock {
            watch,
            stopped: false,
            until: None,
            worked: 0,
        }
    }

    /// A level begins, which may take so many thousandths of the time that is left.
    pub(super) fn begin(&mut self, share: u32) {
        let spent = self.watch.spent().min(1000);
        self.until = (share < 1000).then(|| spent + (1000 - spent) * share / 1000);
    }

    /// Goes on, or stops everything that is under way by the `?` operator.
    pub(super) fn go_on(&mut self) -> Result<(), Stopped> {
        self.worked = 0;
        self.stopped = self.stopped || self.watch.expired();
        let late = self.until.is_some_and(|until| self.watch.spent() > until);
        if self.stopped || late {
            Err(Stopped)
        } else {
            Ok(())
        }
    }

    /// Counts work done, and asks whether to go on once it has added up. What is small never asks here, so that it asks as often as it
    /// would without.
    pub(super) fn worked(&mut self, steps: usize) -> Result<(), Stopped> {
        self.worked = self.worked.saturating_add(steps);
        if self.worked < WORK {
            return Ok(());
        }
        self.go_on()
    }

    /// How many places of a proof are kept, of a problem with so many parts.
    pub(super) fn places(&self, parts: usize) -> usize {
        KEPT_NODES.min(KEPT_PRICES / self.watch.prices(parts).max(parts).max(1))
    }

    pub(super) fn watch(&mut self) -> &mut dyn Watch {
        self.watch
    }
}
