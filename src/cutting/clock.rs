//! Time, as the solver sees it: someone to ask whether to stop.

use crate::limits::{ALL_TIME, CERTIFICATE_PLACES, CERTIFICATE_PRICES, WORK_PER_LOOK};
use crate::watch::Watch;

/// The engine was told to stop, or a level has had its share of the time. What was found by then stays good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Stopped;

/// Asks the [`Watch`], and remembers that it said stop.
pub(crate) struct Clock<'w> {
    watch: &'w mut dyn Watch,
    stopped: bool,
    /// The time by which the level at hand is to be done, in thousandths of all there is.
    until: Option<u32>,
    /// Work done since the watch was asked last.
    worked: usize,
}

impl<'w> Clock<'w> {
    pub(crate) fn new(watch: &'w mut dyn Watch) -> Self {
        Clock {
            watch,
            stopped: false,
            until: None,
            worked: 0,
        }
    }

    /// A level begins, which may take so many thousandths of the time that is left.
    pub(crate) fn begin(&mut self, share: u32) {
        let spent = self.watch.spent().min(ALL_TIME);
        self.until = (share < ALL_TIME).then(|| spent + (ALL_TIME - spent) * share / ALL_TIME);
    }

    /// Goes on, or stops everything that is under way by the `?` operator.
    pub(crate) fn go_on(&mut self) -> Result<(), Stopped> {
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
    pub(crate) fn worked(&mut self, steps: usize) -> Result<(), Stopped> {
        self.worked = self.worked.saturating_add(steps);
        if self.worked < WORK_PER_LOOK {
            return Ok(());
        }
        self.go_on()
    }

    /// How many places of a proof are kept, of a problem with so many parts.
    pub(crate) fn places(&self, parts: usize) -> usize {
        CERTIFICATE_PLACES.min(CERTIFICATE_PRICES / self.prices(parts).max(1))
    }

    /// How many prices one place of a proof comes to, of a problem with so many parts.
    pub(crate) fn prices(&self, parts: usize) -> usize {
        self.watch.prices(parts).max(parts)
    }

    pub(crate) fn watch(&mut self) -> &mut dyn Watch {
        self.watch
    }
}
