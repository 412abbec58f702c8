//! Limits the work of checking bounds, by counted steps and, where the caller gives a clock, by time.
//!
//! All work on figures that can grow faster than the plan file takes its steps from here before it is done: list entries, members of split
//! sets, entries of tables of sums, listed cuttings. So the time that figures take is bounded, and what would need more stays a claim. The
//! checker has no clock; the caller may pass a function that checks one.

use crate::settled::Reason;

/// How much work may go into checking bounds, in steps of a few nanoseconds.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Effort(pub u64);

impl Effort {
    /// None: bounds stay claims. For plans that will be replaced in a moment.
    pub const NONE: Effort = Effort(0);
    /// For a finished plan: a few seconds on a phone. Less would leave jobs with fine ticks unproven; more would keep a person waiting.
    pub const USUAL: Effort = Effort(600_000_000);
}

/// The work exceeds its limit.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct TooLarge;

/// The work that is still allowed.
pub(super) struct Steps<'a> {
    left: u64,
    taken: u64,
    /// Steps taken since the clock was last checked.
    unasked: u64,
    expired: &'a mut dyn FnMut() -> bool,
    out_of_time: bool,
}

/// Steps between two checks of the clock: a few milliseconds.
const BETWEEN_ASKS: u64 = 1_000_000;

impl<'a> Steps<'a> {
    pub(super) fn new(effort: Effort, expired: &'a mut dyn FnMut() -> bool) -> Steps<'a> {
        Steps {
            left: effort.0,
            taken: 0,
            // The clock is checked before the first step.
            unasked: BETWEEN_ASKS,
            expired,
            out_of_time: false,
        }
    }

    /// Subtracts steps before the work is done.
    ///
    /// # Errors
    /// Fewer steps are left, or time is up.
    pub(super) fn take(&mut self, steps: u64) -> Result<(), TooLarge> {
        self.unasked = self.unasked.saturating_add(steps);
        if self.unasked >= BETWEEN_ASKS && !self.out_of_time {
            self.unasked = 0;
            self.out_of_time = (self.expired)();
        }
        if self.out_of_time {
            return Err(TooLarge);
        }
        self.left = self.left.checked_sub(steps).ok_or(TooLarge)?;
        self.taken += steps;
        Ok(())
    }

    /// [`Steps::take`] for `count` things that cost `each`.
    pub(super) fn take_each(&mut self, count: usize, each: u64) -> Result<(), TooLarge> {
        self.take((count as u64).saturating_mul(each))
    }

    /// Does work that may take at most this many of the steps.
    pub(super) fn at_most<T>(&mut self, most: u64, work: impl FnOnce(&mut Self) -> T) -> T {
        let kept = self.left.saturating_sub(most);
        self.left -= kept;
        let done = work(self);
        self.left += kept;
        done
    }

    /// The number of steps taken.
    pub(super) fn taken(&self) -> u64 {
        self.taken
    }

    /// Why work was not done.
    pub(super) fn reason(&self) -> Reason {
        if self.out_of_time {
            Reason::OutOfTime
        } else {
            Reason::TooLarge
        }
    }
}

/// Steps for a test of one sum, without a clock.
#[cfg(test)]
pub(super) fn with_steps<T>(steps: u64, work: impl FnOnce(&mut Steps) -> T) -> T {
    let mut never = || false;
    work(&mut Steps::new(Effort(steps), &mut never))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn work_that_may_take_so_many_steps_takes_no_more_and_leaves_the_rest() {
        with_steps(10, |steps| {
            assert_eq!(steps.at_most(4, |steps| steps.take(5)), Err(TooLarge));
            assert_eq!(steps.at_most(4, |steps| steps.take(4)), Ok(()));
            assert_eq!(steps.at_most(20, |steps| steps.take(7)), Err(TooLarge));
            assert_eq!(steps.take(7), Err(TooLarge));
            assert_eq!(steps.take_each(2, 3), Ok(()));
            assert_eq!((steps.take(1), steps.taken()), (Err(TooLarge), 10));
            assert_eq!(steps.reason(), Reason::TooLarge);
        });
    }

    #[test]
    fn the_clock_is_asked_before_the_first_step_once_in_so_many_and_no_more_once_time_is_up() {
        let mut asked = 0;
        let mut third = || {
            asked += 1;
            asked == 3
        };
        let mut steps = Steps::new(Effort::USUAL, &mut third);
        for _ in 0..10 {
            assert_eq!(steps.take(BETWEEN_ASKS / 10), Ok(()));
        }
        assert_eq!(steps.take(BETWEEN_ASKS), Ok(()));
        for _ in 0..3 {
            assert_eq!(steps.take(BETWEEN_ASKS), Err(TooLarge));
        }
        assert_eq!(steps.reason(), Reason::OutOfTime);
        assert_eq!(asked, 3);
    }
}
