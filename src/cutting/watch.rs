//! Who waits for the solver, and says when to stop.

use crate::solution::Progress;

/// Who waits for the engine. The engine has no clock of its own; it asks.
pub trait Watch {
    /// Whether to stop now and keep the best found. It is asked every few milliseconds at the most.
    fn expired(&mut self) -> bool;

    /// How much of the time there is has been spent, in thousandths, so that a level leaves time for the levels after it. Zero, where
    /// no one can tell: then a level may take all there is.
    fn spent(&mut self) -> u32 {
        0
    }

    /// How many prices one place of a proof comes to where proofs are told: the parts of this problem, unless it is one of several that
    /// are told together.
    fn prices(&self, parts: usize) -> usize {
        parts
    }

    /// Told of every better plan, and of the best plan again whenever a better bound is proven of it; complete and ready to be cut,
    /// with the bounds known by then.
    fn better(&mut self, _found: &Progress) {}
}
