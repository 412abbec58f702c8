//! Time, as the engine sees it: someone to ask whether to stop.

use super::Watch;

/// The engine was told to stop. What was found by then stays good.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Stopped;

/// Asks the [`Watch`], and remembers that it said stop.
pub(super) struct Clock<'w> {
    watch: &'w mut dyn Watch,
    stopped: bool,
}

impl<'w> Clock<'w> {
    pub(super) fn new(watch: &'w mut dyn Watch) -> Self {
        Clock {
            watch,
            stopped: false,
        }
    }

    /// Goes on, or stops everything that is under way by the `?` operator.
    pub(super) fn go_on(&mut self) -> Result<(), Stopped> {
        self.stopped = self.stopped || self.watch.expired();
        if self.stopped { Err(Stopped) } else { Ok(()) }
    }

    pub(super) fn watch(&mut self) -> &mut dyn Watch {
        self.watch
    }
}
