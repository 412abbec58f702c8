//! Large neighbourhood search: some boards of the best plan planned anew.
//!
//! **Idea** (Shaw 1998). A few boards are taken out of the plan, and what they hold is planned again on all
//! boards that are then free, by the same search, which is exact for so little. What the other boards hold stays. Boards that waste much are likelier
//! to be taken, and more are taken the longer nothing comes of it.
//!
//! **Invariant.** What is taken out and what stays make up the plan. **Why it ends:** a try takes at most
//! [`LARGEST_NEIGHBOURHOOD`](crate::limits::LARGEST_NEIGHBOURHOOD) boards and a search of limited nodes; callers count tries.

use crate::aims::Aims;
use crate::board_shape::clear_length;
use crate::clock::{Clock, Stopped};
use crate::incumbent::{Incumbent, NoListener};
use crate::limits::{
    LARGEST_NEIGHBOURHOOD, NEIGHBOURHOOD_TRIES, NEIGHBOURHOOD_WEIGHT, SMALLEST_NEIGHBOURHOOD,
};
use crate::pattern::Pattern;
use crate::problem::{Problem, Ticks};
use crate::random::SplitMix;

/// Chooses neighbourhoods of the best plan, one after another.
pub(crate) struct Neighbourhoods {
    random: SplitMix,
    boards: usize,
    vain: usize,
}

/// Searches a problem for a plan better than the incumbent.
pub(crate) type Search<'s> = &'s mut dyn FnMut(&mut Incumbent, &mut Clock);

impl Neighbourhoods {
    /// The first neighbourhood is of the fewest boards.
    pub(crate) fn new() -> Self {
        Neighbourhoods {
            random: SplitMix(0x51ab_5eed_0f7e_11a7),
            boards: SMALLEST_NEIGHBOURHOOD,
            vain: 0,
        }
    }

    /// Has one neighbourhood searched; tells whether a better plan came of it.
    pub(crate) fn once(
        &mut self,
        incumbent: &mut Incumbent,
        search: Search,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        clock.go_on()?;
        let Some((taken, rest)) = self.part(incumbent) else {
            return Ok(false);
        };
        let problem = without(incumbent.problem, &rest);
        let problem = with_demand(problem, &taken);
        let Some(found) = better(&problem, incumbent.aims, &taken, search, clock) else {
            return Ok(false);
        };
        let mut better = false;
        if !found.is_empty() {
            let mut plan = rest;
            plan.extend(found);
            better = incumbent.offer(&plan, clock);
        }
        self.vain = if better { 0 } else { self.vain + 1 };
        if self.vain == NEIGHBOURHOOD_TRIES {
            self.vain = 0;
            self.boards = if self.boards == LARGEST_NEIGHBOURHOOD {
                SMALLEST_NEIGHBOURHOOD
            } else {
                self.boards + 1
            };
        }
        clock.go_on()?;
        Ok(better)
    }

    /// The best plan in two: what is taken out and what stays.
    fn part(&mut self, incumbent: &Incumbent) -> Option<(Cuttings, Cuttings)> {
        let best = incumbent.best.as_ref()?;
        let mut rest = best.patterns.clone();
        let total: usize = rest.iter().map(|&(_, count)| count as usize).sum();
        if total <= SMALLEST_NEIGHBOURHOOD {
            return None;
        }
        let mut taken: Cuttings = Vec::new();
        for _ in 0..self.boards.min(total) {
            let weights: Vec<f64> = rest
                .iter()
                .map(|(pattern, count)| {
                    let waste = waste(incumbent.problem, pattern);
                    f64::from(*count) * (NEIGHBOURHOOD_WEIGHT + waste)
                })
                .collect();
            let mut at = self.random.up_to(weights.iter().sum());
            let index = weights
                .iter()
                .position(|weight| {
                    at -= weight;
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
}

type Cuttings = Vec<(Pattern, u32)>;

/// A plan of a problem better than one that is known, empty where none was found; `None` where the known one is no plan.
fn better(
    problem: &Problem,
    aims: Aims,
    known: &[(Pattern, u32)],
    search: Search,
    clock: &mut Clock,
) -> Option<Cuttings> {
    let mut nobody = NoListener;
    let mut inner = Incumbent::new(problem, aims, &mut nobody);
    inner.offer(known, clock);
    let before = inner.best.clone()?;
    search(&mut inner, clock);
    let after = inner.best.filter(|after| after.improves_on(&before));
    Some(after.map_or(Vec::new(), |after| after.patterns))
}

/// What share of its board a pattern leaves without a part.
fn waste(problem: &Problem, pattern: &Pattern) -> f64 {
    let kind = &problem.boards[pattern.board];
    let fits = &problem.sections[kind.section].fits;
    let held: Ticks = pattern
        .counts()
        .iter()
        .map(|&(part, count)| fits[part].map_or(0, |fit| fit.length) * Ticks::from(count))
        .sum();
    let whole = kind.lost + clear_length(&kind.shape);
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
