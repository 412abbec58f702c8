//! How long a plan may take.
//!
//! The core has no clock; whoever calls lends one. There are two limits: one on the whole, and a shorter one on what comes after
//! the buying is proven, for nobody at a yard waits a minute to be told of a few millimetres less scrap. A limit on the number
//! of times the solver asks, in place of time, makes a plan the same on every machine.

use crate::plan::{Measure, Plan, Proof};
use crate::planner::Listener;

/// The share of the time that planning leaves to adding its proof up again and to telling the plan; whatever planning does not need
/// comes to it.
pub const RE_PROVING: f64 = 0.05;

/// A clock that a caller lends: milliseconds since some moment of its own.
pub type Clock = dyn Fn() -> f64;

/// What a plan may cost in time.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Limits {
    /// Milliseconds for each group.
    pub milliseconds: f64,
    /// Milliseconds more, at the least, once the buying is proven; as long again as that took where that is more.
    pub after_buying: f64,
    /// How often the solver may ask before it is told to stop, whatever the clock says.
    pub asks: u64,
}

impl Limits {
    /// So many milliseconds, of which half a second on what comes after the buying.
    pub const fn milliseconds(milliseconds: f64) -> Limits {
        Limits {
            milliseconds,
            after_buying: 500.0,
            asks: u64::MAX,
        }
    }

    /// What planning may take of so many milliseconds, the check of the plan inside them.
    pub fn planning_within(milliseconds: f64) -> Limits {
        Limits::milliseconds(milliseconds * (1.0 - RE_PROVING))
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

/// A [`Listener`] that keeps to limits and passes better plans on.
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
    /// Starts waiting now. `clock` gives milliseconds; `hear` is told of every better plan.
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
    /// The limit that holds by now.
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

    /// By the clock when it was last asked.
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

/// Whether the planner says that nothing better can be bought, which is when it may stop. What counts as proven is for `check` to show.
fn buying_is_said_best(proof: &Proof) -> bool {
    proof
        .levels
        .iter()
        .filter(|level| level.measure != Measure::Scrap)
        .all(|level| level.is_said_best())
}
