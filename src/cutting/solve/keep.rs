//! The best plan so far, and how plans compare.

use super::clock::Clock;
use super::pattern::Pattern;
use super::stage::Stage;
use super::{Aims, ScrapAim};
use crate::problem::{Problem, Ticks};
use std::collections::HashMap;
use std::hash::{DefaultHasher, Hash, Hasher};

/// A complete plan: every part is cut exactly as often as wanted.
#[derive(Clone, Debug)]
pub(super) struct Plan {
    pub(super) patterns: Vec<(Pattern, u32)>,
    /// The cost levels, then the length used up where it is an aim.
    pub(super) totals: Vec<i64>,
    /// Saw settings (different patterns) and boards touched: they decide between plans that are equal otherwise.
    ties: (usize, u64),
}

impl Plan {
    /// Trims what is cut too often and adds up. `None` where a part is missing or boards are overdrawn.
    pub(super) fn of(problem: &Problem, aims: Aims, patterns: &[(Pattern, u32)]) -> Option<Plan> {
        let mut left = problem.demand.clone();
        let mut kept = Kept::default();
        for (pattern, count) in patterns {
            let mut count = *count;
            let counts = pattern.counts();
            let whole = counts
                .iter()
                .map(|&(part, each)| left[part] / each)
                .min()
                .unwrap_or(0)
                .min(count);
            for &(part, each) in &counts {
                left[part] -= each * whole;
            }
            kept.add(pattern.clone(), whole);
            count -= whole;
            while count > 0 {
                let Some(trimmed) = pattern.trimmed(&left) else {
                    break;
                };
                let counts = trimmed.counts();
                let times = counts
                    .iter()
                    .map(|&(part, each)| left[part] / each)
                    .min()
                    .unwrap_or(0)
                    .min(count);
                for &(part, each) in &counts {
                    left[part] -= each * times;
                }
                kept.add(trimmed, times);
                count -= times;
            }
        }
        if left.iter().any(|&count| count > 0) {
            return None;
        }
        let kept = kept.patterns;
        let mut spent = vec![0u64; problem.boards.len()];
        for (pattern, count) in &kept {
            spent[pattern.board] += u64::from(*count);
        }
        let overdrawn =
            problem.boards.iter().zip(&spent).any(|(board, &spent)| {
                board.supply.is_some_and(|supply| spent > u64::from(supply))
            });
        if overdrawn {
            return None;
        }
        let levels = problem.boards.first().map_or(0, |board| board.cost.len());
        let mut totals: Vec<i64> = (0..levels)
            .map(|level| {
                spent
                    .iter()
                    .zip(&problem.boards)
                    .map(|(&spent, board)| spent as i64 * board.cost[level])
                    .sum()
            })
            .collect();
        if aims.scrap == ScrapAim::Least {
            totals.push(
                kept.iter()
                    .map(|(pattern, count)| pattern.used(problem) * Ticks::from(*count))
                    .sum(),
            );
        }
        let ties = (kept.len(), spent.iter().sum());
        Some(Plan {
            patterns: kept,
            totals,
            ties,
        })
    }

    /// Whether this plan is to be preferred to another.
    pub(super) fn beats(&self, other: &Plan) -> bool {
        (&self.totals, self.ties) < (&other.totals, other.ties)
    }

    /// Whether this plan is better in a level, not only in the ties.
    pub(super) fn improves_on(&self, other: &Plan) -> bool {
        self.totals < other.totals
    }
}

/// Patterns and how often each is cut, the same one only once.
#[derive(Default)]
struct Kept {
    patterns: Vec<(Pattern, u32)>,
    /// The places of patterns by a digest of them, once there are too many to go through.
    places: HashMap<u64, Vec<usize>>,
}

/// So many patterns are gone through one by one.
const FEW: usize = 64;

impl Kept {
    fn add(&mut self, pattern: Pattern, count: u32) {
        if count == 0 {
            return;
        }
        if self.patterns.len() == FEW && self.places.is_empty() {
            for (at, (known, _)) in self.patterns.iter().enumerate() {
                self.places.entry(digest(known)).or_default().push(at);
            }
        }
        let same = |&at: &usize| self.patterns[at].0 == pattern;
        let known = match self.patterns.len() {
            0..FEW => (0..self.patterns.len()).find(same),
            _ => {
                let places = self.places.get(&digest(&pattern));
                places.and_then(|places| places.iter().copied().find(same))
            }
        };
        if let Some(at) = known {
            self.patterns[at].1 += count;
            return;
        }
        if self.patterns.len() >= FEW {
            let places = self.places.entry(digest(&pattern)).or_default();
            places.push(self.patterns.len());
        }
        self.patterns.push((pattern, count));
    }
}

/// A number that equal patterns have in common.
pub(super) fn digest(pattern: &Pattern) -> u64 {
    let mut hasher = DefaultHasher::new();
    pattern.hash(&mut hasher);
    hasher.finish()
}

/// Hears of each better plan and of each better bound.
pub(super) trait Listener {
    fn better(&mut self, plan: &Plan, clock: &mut Clock);

    /// No plan that keeps to the earlier levels of `best` has a smaller total at `level` than `bound`.
    fn bounded(&mut self, level: usize, bound: i64, best: &Plan, clock: &mut Clock);
}

/// Nobody is told of what is tried.
pub(super) struct Silent;

impl Listener for Silent {
    fn better(&mut self, _plan: &Plan, _clock: &mut Clock) {}

    fn bounded(&mut self, _level: usize, _bound: i64, _best: &Plan, _clock: &mut Clock) {}
}

/// The best plan so far.
pub(super) struct Keep<'k> {
    pub(super) problem: &'k Problem,
    pub(super) aims: Aims,
    pub(super) best: Option<Plan>,
    listener: &'k mut dyn Listener,
}

impl<'k> Keep<'k> {
    pub(super) fn new(problem: &'k Problem, aims: Aims, listener: &'k mut dyn Listener) -> Self {
        Keep {
            problem,
            aims,
            best: None,
            listener,
        }
    }

    /// Takes a plan in if it is better; tells whether it was.
    pub(super) fn offer(&mut self, patterns: &[(Pattern, u32)], clock: &mut Clock) -> bool {
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

    /// The index of a stage's level among the totals.
    pub(super) fn level_of(&self, stage: Stage) -> usize {
        match stage {
            Stage::Missing => 0,
            Stage::Cost(level) => level,
            Stage::Used | Stage::Touched | Stage::Stretch => self
                .problem
                .boards
                .first()
                .map_or(0, |board| board.cost.len()),
        }
    }

    /// Passes on what is proven of a level, the earlier ones as in the best plan.
    pub(super) fn bounded(&mut self, level: usize, bound: i64, clock: &mut Clock) {
        if let Some(best) = &self.best {
            self.listener.bounded(level, bound, best, clock);
        }
    }

    /// The best plan's total at a level; the largest number there is, where there is no plan.
    pub(super) fn value(&self, level: usize) -> i64 {
        self.best
            .as_ref()
            .map_or(i64::MAX, |best| best.totals[level])
    }
}
