//! How long a plan may take.
//!
//! The core has no clock; the caller lends one. There are two time limits: one for the whole, and a shorter one for what follows once the
//! buying is proven, since nobody at a yard waits a minute for a few millimetres less scrap. Where the number of clock checks is limited
//! instead of time, the plan is the same on every machine.

use crate::plan::{Plan, Proof, deciding};
use crate::planner::Listener;

/// The share of the time that planning leaves for checking the plan's proof and for the report. Time that planning does not use is added to
/// it.
pub const RE_PROVING: f64 = 0.05;

/// The share of the time for planning that goes to the second plan, where there is one: the plan with a yard that saws exactly.
pub const EXACT_YARD: f64 = 0.2;

/// The share of the time for planning that may go to choosing sizes within their ranges first.
pub const CHOOSING: f64 = 0.3;

/// The share of the time for planning and checking that may go to looking for savings, of what they leave.
pub const SAVING: f64 = 0.2;

/// The share of the time for planning and checking that may go to looking for other choices, of what they leave.
pub const CHOICES: f64 = 0.1;

/// A clock that a caller lends: milliseconds since some moment of its own.
pub type Clock<'a> = dyn Fn() -> f64 + 'a;

/// How much time a plan may take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Milliseconds for each group.
    pub milliseconds: f64,
    /// Least milliseconds for the rest once the buying is proven. The rest may take as long as the buying did, where that is more.
    pub after_buying: f64,
    /// How often the solver may check the clock before it is stopped, whatever the time.
    pub asks: u64,
}

impl Limits {
    /// A limit in milliseconds for each group, with half a second or more for what follows the buying.
    pub const fn milliseconds(milliseconds: f64) -> Limits {
        Limits {
            milliseconds,
            after_buying: 500.0,
            asks: u64::MAX,
        }
    }

    /// The same, with a little for scrap once what is bought is settled: plans that are told by what they come to.
    pub fn with_scrap(self) -> Limits {
        Limits {
            after_buying: 200.0,
            ..self
        }
    }

    /// The limits of planning where planning and the check of the plan share this many milliseconds.
    pub fn planning_within(milliseconds: f64) -> Limits {
        Limits::milliseconds(milliseconds * (1.0 - RE_PROVING))
    }

    /// The limits of a plan and of the one beside it, with a yard that saws exactly, where both are made within these.
    pub fn for_both(self) -> [Limits; 2] {
        let part = |share: f64| Limits {
            milliseconds: self.milliseconds * share,
            ..self
        };
        let asks = (self.asks as f64 * EXACT_YARD) as u64;
        [
            Limits {
                asks: self.asks.saturating_sub(asks),
                ..part(1.0 - EXACT_YARD)
            },
            Limits {
                asks,
                ..part(EXACT_YARD)
            },
        ]
    }

    /// The limits of choosing sizes, where planning has these.
    pub fn for_choosing(self) -> Limits {
        self.part(CHOOSING)
    }

    /// The limits of looking for savings, where planning had these and so many milliseconds of them are spent.
    pub fn for_saving(self, spent: f64) -> Limits {
        self.part_of_rest(SAVING, spent)
    }

    /// The limits of looking for choices, in the same way.
    pub fn for_choices(self, spent: f64) -> Limits {
        self.part_of_rest(CHOICES, spent)
    }

    fn part_of_rest(self, share: f64, spent: f64) -> Limits {
        let part = self.part(share);
        Limits {
            milliseconds: part.milliseconds.min(self.milliseconds - spent),
            ..part
        }
    }

    /// Half of it, where there are yards to compare; else nothing of it goes there.
    pub fn for_yards(self, yards: usize) -> [Limits; 2] {
        match yards {
            0 | 1 => [Limits::asks(0), self],
            _ => [self.part(0.5), self.part(0.5)],
        }
    }

    fn part(self, share: f64) -> Limits {
        Limits {
            milliseconds: self.milliseconds * share,
            asks: (self.asks as f64 * share) as u64,
            ..self
        }
    }

    /// So many asks and no clock.
    pub const fn asks(asks: u64) -> Limits {
        Limits {
            milliseconds: f64::INFINITY,
            after_buying: f64::INFINITY,
            asks,
        }
    }
}

/// Counts looks and watches the clock for many short plans that share a limit.
pub struct Allowance<'a> {
    limits: Limits,
    clock: &'a Clock<'a>,
    began: f64,
    asked: u64,
}

impl<'a> Allowance<'a> {
    /// Starts the time now.
    pub fn new(limits: Limits, clock: &'a Clock<'a>) -> Allowance<'a> {
        Allowance {
            limits,
            clock,
            began: clock(),
            asked: 0,
        }
    }

    /// Counts so many looks.
    pub fn take(&mut self, asks: u64) {
        self.asked = self.asked.saturating_add(asks);
    }

    /// Whether it is used up.
    pub fn is_over(&self) -> bool {
        self.asked >= self.limits.asks || self.milliseconds_left() < 0.0
    }

    /// How much of it is used up, in thousandths.
    pub fn spent(&self) -> u32 {
        let by_clock = 1.0 - self.milliseconds_left() / self.limits.milliseconds;
        let by_asks = self.asked as f64 / self.limits.asks as f64;
        // No limit is no number, and none of it is used up.
        (1_000.0 * by_clock.max(by_asks)) as u32
    }

    /// What is left of it for one plan with at most so many looks; nothing of that goes to what is not bought.
    pub fn left(&self, asks: u64) -> Limits {
        Limits {
            milliseconds: self.milliseconds_left(),
            after_buying: 0.0,
            asks: asks.min(self.limits.asks.saturating_sub(self.asked)),
        }
    }

    fn milliseconds_left(&self) -> f64 {
        self.limits.milliseconds - ((self.clock)() - self.began)
    }

    /// The clock.
    pub fn clock(&self) -> &'a Clock<'a> {
        self.clock
    }
}

/// A [`Listener`] that applies the limits and passes better plans on.
pub struct Patience<'a> {
    limits: Limits,
    clock: &'a dyn Fn() -> f64,
    began: f64,
    buying_proven: Option<f64>,
    asked: u64,
    spent: f64,
    hear: &'a mut dyn FnMut(&Plan),
}

impl<'a> Patience<'a> {
    /// Starts the time now. `clock` gives milliseconds; `hear` is called with every better plan.
    pub fn new(
        limits: Limits,
        clock: &'a dyn Fn() -> f64,
        hear: &'a mut dyn FnMut(&Plan),
    ) -> Patience<'a> {
        Patience {
            limits,
            clock,
            began: clock(),
            buying_proven: None,
            asked: 0,
            spent: 0.0,
            hear,
        }
    }
}

impl Patience<'_> {
    /// How often the clock was checked.
    pub fn asked(&self) -> u64 {
        self.asked
    }

    /// The limit in milliseconds that holds now: the shorter one once the buying is said to be best.
    fn milliseconds(&self) -> f64 {
        let after = |proven: f64| proven + self.limits.after_buying.max(proven);
        self.buying_proven
            .map_or(self.limits.milliseconds, |proven| {
                after(proven).min(self.limits.milliseconds)
            })
    }
}

impl Listener for Patience<'_> {
    fn expired(&mut self) -> bool {
        self.asked += 1;
        if self.asked > self.limits.asks {
            return true;
        }
        self.spent = (self.clock)() - self.began;
        self.spent > self.milliseconds()
    }

    /// Thousandths of the limit that are used up, by the clock as it was last checked.
    fn spent(&mut self) -> u32 {
        let by_clock = self.spent / self.milliseconds();
        let by_asks = self.asked as f64 / self.limits.asks as f64;
        (1000.0 * by_clock.max(by_asks)) as u32
    }

    fn better(&mut self, plan: &Plan) {
        if self.buying_proven.is_none() && plan.proofs.iter().all(buying_is_said_best) {
            self.buying_proven = Some((self.clock)() - self.began);
        }
        (self.hear)(plan);
    }
}

/// Whether the planner claims that nothing better can be bought, from when on the shorter limit holds. Only the checker can show that the
/// claim is true.
fn buying_is_said_best(proof: &Proof) -> bool {
    let deciding = deciding(&proof.levels, |level| level.measure);
    deciding.iter().all(|level| level.is_said_best())
}
