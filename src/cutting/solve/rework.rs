//! Some boards of the best plan planned anew.
//!
//! A large neighbourhood (Shaw 1998): a few boards are taken out of the plan, and what they hold is planned again on all
//! boards that are then free, by the same search, which is exact for so little. What the other boards hold stays. Boards that waste much are likelier
//! to be taken, and more are taken the longer nothing comes of it. The choice is by a generator of fixed seed, so that the
//! same problem is planned the same way everywhere.

use super::Effort;
use super::clock::{Clock, Stopped};
use super::keep::{Keep, Silent};
use super::pattern::Pattern;
use super::stage::{Stage, clear};
use super::tree::Branching;
use crate::problem::{Problem, Ticks};

/// The fewest boards taken out.
const FEWEST: usize = 2;
/// The most.
const MOST: usize = 9;
/// Tries in vain before one more is taken.
const PATIENCE: usize = 12;
/// Nodes of a search.
const NODES: usize = 25;

/// Where this has got to.
pub(super) struct Rework {
    random: u64,
    boards: usize,
    vain: usize,
}

impl Rework {
    pub(super) fn new() -> Self {
        Rework {
            random: 0x51ab_5eed_0f7e_11a7,
            boards: FEWEST,
            vain: 0,
        }
    }

    /// Tries once; tells whether a better plan came of it.
    pub(super) fn once(
        &mut self,
        stage: Stage,
        keep: &mut Keep,
        effort: &mut Effort,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        clock.go_on()?;
        let Some((taken, rest)) = self.part(keep) else {
            return Ok(false);
        };
        let problem = without(keep.problem, &rest);
        let problem = with_demand(problem, &taken);
        let mut silent = Silent;
        let mut inner = Keep::new(&problem, keep.aims, &mut silent);
        inner.offer(&taken, clock);
        let Some(before) = inner.best.clone() else {
            return Ok(false);
        };
        Branching::new(stage, &mut inner, effort)
            .brief(NODES)
            .run(clock);
        let mut better = false;
        if let Some(after) = inner.best.filter(|after| after.improves_on(&before)) {
            let mut plan = rest;
            plan.extend(after.patterns);
            better = keep.offer(&plan, clock);
        }
        self.vain = if better { 0 } else { self.vain + 1 };
        if self.vain == PATIENCE {
            self.vain = 0;
            self.boards = if self.boards == MOST {
                FEWEST
            } else {
                self.boards + 1
            };
        }
        clock.go_on()?;
        Ok(better)
    }

    /// The best plan in two: what is taken out and what stays.
    fn part(&mut self, keep: &Keep) -> Option<(Cuts, Cuts)> {
        let best = keep.best.as_ref()?;
        let mut rest = best.patterns.clone();
        let total: usize = rest.iter().map(|&(_, count)| count as usize).sum();
        if total <= FEWEST {
            return None;
        }
        let mut taken: Cuts = Vec::new();
        for _ in 0..self.boards.min(total) {
            let wasted: Vec<f64> = rest
                .iter()
                .map(|(pattern, count)| f64::from(*count) * (0.02 + wasted(keep.problem, pattern)))
                .collect();
            let mut at = self.below(wasted.iter().sum());
            let index = wasted
                .iter()
                .position(|share| {
                    at -= share;
                    at < 0.0
                })
                .unwrap_or(0);
            let (pattern, count) = &mut rest[index];
            *count -= 1;
            match taken.iter_mut().find(|entry| entry.0 == *pattern) {
                Some(entry) => entry.1 += 1,
                None => taken.push((pattern.clone(), 1)),
            }
            rest.retain(|entry| entry.1 > 0);
        }
        Some((taken, rest))
    }

    /// A number from nothing up to `end` (SplitMix64, Steele and others 2014).
    fn below(&mut self, end: f64) -> f64 {
        self.random = self.random.wrapping_add(0x9e37_79b9_7f4a_7c15);
        let mut mixed = self.random;
        mixed = (mixed ^ (mixed >> 30)).wrapping_mul(0xbf58_476d_1ce4_e5b9);
        mixed = (mixed ^ (mixed >> 27)).wrapping_mul(0x94d0_49bb_1331_11eb);
        mixed ^= mixed >> 31;
        end * (mixed >> 11) as f64 / (1u64 << 53) as f64
    }
}

type Cuts = Vec<(Pattern, u32)>;

/// What share of its board a pattern leaves without a part.
fn wasted(problem: &Problem, pattern: &Pattern) -> f64 {
    let kind = &problem.boards[pattern.board];
    let fits = &problem.sections[kind.section].fits;
    let held: Ticks = pattern
        .counts()
        .iter()
        .map(|&(part, count)| fits[part].map_or(0, |fit| fit.length) * Ticks::from(count))
        .sum();
    let whole = kind.lost + clear(&kind.shape);
    (whole - held).max(0) as f64 / whole.max(1) as f64
}

/// The problem with the boards gone that these patterns take.
fn without(problem: &Problem, patterns: &[(Pattern, u32)]) -> Problem {
    let mut left = problem.clone();
    for (pattern, count) in patterns {
        if let Some(supply) = &mut left.boards[pattern.board].supply {
            *supply -= count;
        }
    }
    left
}

/// The problem with just the parts wanted that these patterns make.
fn with_demand(mut problem: Problem, patterns: &[(Pattern, u32)]) -> Problem {
    problem.demand.fill(0);
    for (pattern, count) in patterns {
        for (part, each) in pattern.counts() {
            problem.demand[part] += each * count;
        }
    }
    problem
}
