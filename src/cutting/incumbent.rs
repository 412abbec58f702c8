//! The incumbent: the best plan so far, and how plans compare.
//!
//! **Invariant.** A [`Plan`] cuts every part exactly as often as wanted, from boards that there are; [`Plan::of`] is the only way to one. So
//! whatever a heuristic or a float proposed, an incumbent is a plan.

use crate::aims::Aims;
use crate::clock::Clock;
use crate::fewer_boards::on_fewest_boards;
use crate::limits::COMPARED_PATTERNS;
use crate::objective::{Earlier, Objective, in_order};
use crate::pattern::Pattern;
use crate::problem::{Board, Problem, Ticks};
use proof::certificate::Pairing;
use std::collections::HashMap;

/// A complete plan: every part is cut exactly as often as wanted.
#[derive(Clone, Debug)]
pub(crate) struct Plan {
    pub(crate) patterns: Vec<(Pattern, u32)>,
    /// The levels in order, none below its floor.
    pub(crate) totals: Vec<i64>,
    /// Saw settings (different patterns) and boards touched: they decide between plans that are equal otherwise.
    ties: (usize, u64),
}

impl Plan {
    /// Trims what is cut too often, fills boards of several runs one after another, and adds up. `None` where a part is missing or boards are overdrawn.
    pub(crate) fn of(problem: &Problem, aims: Aims, patterns: &[(Pattern, u32)]) -> Option<Plan> {
        let patterns = trimmed_to_demand(problem, patterns)?;
        let patterns = on_fewest_boards(problem, patterns);
        let mut spent = vec![0u64; problem.boards.len()];
        for (pattern, count) in &patterns {
            spent[pattern.board] += u64::from(*count);
        }
        let mut boards = problem.boards.iter().zip(&spent);
        let overdrawn = |(board, &spent): (&Board, &u64)| {
            board.supply.is_some_and(|supply| spent > u64::from(supply))
        };
        if boards.any(overdrawn) {
            return None;
        }
        let total = |objective: Objective| -> i64 {
            if let Objective::Cost(level) = objective {
                let boards = spent.iter().zip(&problem.boards);
                let costs = boards.map(|(&spent, board)| spent as i64 * board.cost[level]);
                return problem.floor(level).max(costs.sum());
            }
            let used = patterns.iter();
            used.map(|(pattern, count)| pattern.used(problem) * Ticks::from(*count))
                .sum()
        };
        let totals = in_order(problem, aims).into_iter().map(total).collect();
        Some(Plan {
            ties: (patterns.len(), spent.iter().sum()),
            patterns,
            totals,
        })
    }

    /// Whether this plan is to be preferred to another.
    pub(crate) fn beats(&self, other: &Plan) -> bool {
        (&self.totals, self.ties) < (&other.totals, other.ties)
    }

    /// Whether this plan is better in a level, not only in the ties.
    pub(crate) fn improves_on(&self, other: &Plan) -> bool {
        self.totals < other.totals
    }
}

/// The patterns with what is cut too often taken off, the same one only once; `None` where a part is missing.
fn trimmed_to_demand(
    problem: &Problem,
    patterns: &[(Pattern, u32)],
) -> Option<Vec<(Pattern, u32)>> {
    let mut left = problem.demand.clone();
    let mut kept = PatternTally::default();
    for (pattern, count) in patterns {
        let whole = take_times(&mut left, &pattern.counts(), *count);
        kept.add(pattern.clone(), whole);
        let mut count = count - whole;
        while count > 0 {
            let Some(trimmed) = pattern.trimmed(&left) else {
                break;
            };
            let times = take_times(&mut left, &trimmed.counts(), count);
            kept.add(trimmed, times);
            count -= times;
        }
    }
    left.iter()
        .all(|&count| count == 0)
        .then_some(kept.patterns)
}

/// Takes such counts off what is left, as often as all of them are there and at most `most` times; returns how often.
fn take_times(left: &mut [u32], counts: &[(usize, u32)], most: u32) -> u32 {
    let each = counts.iter().map(|&(part, each)| left[part] / each);
    let times = each.min().unwrap_or(0).min(most);
    for &(part, each) in counts {
        left[part] -= each * times;
    }
    times
}

/// Patterns and how often each is cut, the same one only once.
#[derive(Default)]
struct PatternTally {
    patterns: Vec<(Pattern, u32)>,
    /// The places of patterns by a digest of them, once there are too many to go through.
    places: HashMap<u64, Vec<usize>>,
}

impl PatternTally {
    fn add(&mut self, pattern: Pattern, count: u32) {
        if count == 0 {
            return;
        }
        if self.patterns.len() == COMPARED_PATTERNS && self.places.is_empty() {
            for (at, (known, _)) in self.patterns.iter().enumerate() {
                self.places.entry(known.digest()).or_default().push(at);
            }
        }
        let same = |&at: &usize| self.patterns[at].0 == pattern;
        let known = match self.patterns.len() {
            0..COMPARED_PATTERNS => (0..self.patterns.len()).find(same),
            _ => {
                let places = self.places.get(&pattern.digest());
                places.and_then(|places| places.iter().copied().find(same))
            }
        };
        if let Some(at) = known {
            self.patterns[at].1 += count;
            return;
        }
        if self.patterns.len() >= COMPARED_PATTERNS {
            let places = self.places.entry(pattern.digest()).or_default();
            places.push(self.patterns.len());
        }
        self.patterns.push((pattern, count));
    }
}

/// Hears of each better plan and of each better bound.
pub(crate) trait Listener {
    fn better(&mut self, plan: &Plan, clock: &mut Clock);

    /// No plan that keeps to the earlier levels of `best` has a smaller total at `level` than `bound`.
    fn bound_proven(&mut self, level: usize, bound: i64, best: &Plan, clock: &mut Clock);
}

/// Nobody is told of what is tried.
pub(crate) struct NoListener;

impl Listener for NoListener {
    fn better(&mut self, _plan: &Plan, _clock: &mut Clock) {}

    fn bound_proven(&mut self, _level: usize, _bound: i64, _best: &Plan, _clock: &mut Clock) {}
}

/// The best plan so far.
pub(crate) struct Incumbent<'i> {
    pub(crate) problem: &'i Problem,
    pub(crate) aims: Aims,
    pub(crate) best: Option<Plan>,
    /// So many boards do not do, as a search over pairs showed, and that search where it is told.
    pub(crate) too_few: Option<(i64, Option<Vec<Pairing>>)>,
    listener: &'i mut dyn Listener,
}

impl<'i> Incumbent<'i> {
    pub(crate) fn new(problem: &'i Problem, aims: Aims, listener: &'i mut dyn Listener) -> Self {
        Incumbent {
            problem,
            aims,
            best: None,
            too_few: None,
            listener,
        }
    }

    /// Takes a plan in if it is better; tells whether it was.
    pub(crate) fn offer(&mut self, patterns: &[(Pattern, u32)], clock: &mut Clock) -> bool {
        let Some(plan) = Plan::of(self.problem, self.aims, patterns) else {
            return false;
        };
        let improves = self.best.as_ref().is_none_or(|best| plan.improves_on(best));
        if self.best.as_ref().is_none_or(|best| plan.beats(best)) {
            if improves {
                self.listener.better(&plan, clock);
            }
            self.best = Some(plan);
        }
        improves
    }

    /// The index of an objective's level among the totals.
    pub(crate) fn level_of(&self, objective: Objective) -> usize {
        let levels = in_order(self.problem, self.aims);
        let own = levels.iter().position(|level| *level == objective);
        own.unwrap_or(match objective {
            Objective::Shortfall => 0,
            _ => levels.len(),
        })
    }

    /// What the levels before one come to in the best plan.
    pub(crate) fn earlier(&self, level: usize) -> Earlier {
        let levels = in_order(self.problem, self.aims).into_iter().take(level);
        let totals = self
            .best
            .iter()
            .flat_map(|best| best.totals.iter().copied());
        levels.zip(totals).collect()
    }

    /// Passes on what is proven of a level, the earlier ones as in the best plan.
    pub(crate) fn bound_proven(&mut self, level: usize, bound: i64, clock: &mut Clock) {
        if let Some(best) = &self.best {
            self.listener.bound_proven(level, bound, best, clock);
        }
    }

    /// The best plan's total at a level; the largest number there is, where there is no plan.
    pub(crate) fn value(&self, level: usize) -> i64 {
        self.best
            .as_ref()
            .map_or(i64::MAX, |best| best.totals[level])
    }
}

impl Incumbent<'_> {
    /// What a plan must come to less than, for an objective, to be any better.
    pub(crate) fn cutoff(&self, objective: Objective) -> i64 {
        match objective {
            Objective::Shortfall => i64::from(self.best.is_none()),
            Objective::TouchedLength | Objective::Stretch => i64::MAX,
            Objective::Cost(_) | Objective::UsedLength => self.value(self.level_of(objective)),
        }
    }
}
