//! Diving: plans from a relaxation, boards fixed one after another.
//!
//! **Idea** (diving as in branch and price, Sadykov and others 2019). Everything the solution uses an integral number of times is fixed, or else the
//! pattern nearest to being used once more; patterns that would cut more than is left are trimmed first. What is left is relaxed again, and so on to
//! the end. With limited discrepancy search (Harvey and Ginsberg 1995) a dive departs from its first choice at one depth, and each dive departs
//! elsewhere.
//!
//! **Invariant.** What is fixed and what is left make up the demand, and what is fixed keeps to the supply. **Why it ends:** each round fixes at
//! least one board.

use crate::attainable::AttainableTotals;
use crate::branch_path::{BranchSide, Decision, SetDecision};
use crate::clock::{Clock, Stopped};
use crate::column_generation::{ColumnGeneration, NodeRelaxation, NodeTask};
use crate::greedy::{GreedyRule, greedy};
use crate::incumbent::Incumbent;
use crate::limits::{DIVE_RESIDUAL_COLUMNS, DIVE_ROUNDS, DIVE_SHORTFALL, INTEGRAL, NEARLY_WHOLE};
use crate::master_size::MasterSize;
use crate::objective::{Earlier, Objective};
use crate::pattern::Pattern;
use crate::problem::Problem;

/// Where a dive departs from its first choice.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Discrepancy {
    /// At which of its choices, counted from zero.
    pub(crate) depth: usize,
    /// Which rank it takes there; zero is the first.
    pub(crate) rank: usize,
}

/// Where a dive starts.
pub(crate) struct Dive<'d> {
    pub(crate) objective: Objective,
    pub(crate) earlier: &'d [(Objective, i64)],
    pub(crate) attainable: &'d AttainableTotals,
    /// The relaxation's solution.
    pub(crate) solution: Vec<(Pattern, f64)>,
    /// Patterns known, best first.
    pub(crate) columns: &'d [Pattern],
    pub(crate) discrepancy: Discrepancy,
    /// The decisions that the plan is to keep to.
    pub(crate) path: &'d [SetDecision],
}

/// Dives; offers what it finds. Tells whether a better plan came of it.
pub(crate) fn dive(
    start: Dive,
    incumbent: &mut Incumbent,
    clock: &mut Clock,
) -> Result<bool, Stopped> {
    let problem = incumbent.problem;
    let mut residual = Residual::new(problem);
    let mut columns = start.columns.to_vec();
    let mut solution = start.solution;
    let (mut depth, mut improved) = (0, false);
    let roomy = MasterSize::of(problem) == MasterSize::Usual;
    loop {
        clock.go_on()?;
        if !residual.fix_integral(&solution) {
            let mut ranked = residual.ranked(&solution);
            if depth == start.discrepancy.depth && !ranked.is_empty() {
                let rank = start.discrepancy.rank.min(ranked.len() - 1);
                ranked.swap(0, rank);
            }
            depth += 1;
            if !residual.fix_first(&ranked) {
                return Ok(improved);
            }
        }
        improved |= residual.complete(incumbent, start.objective, clock)?;
        if residual.left.iter().all(|&count| count == 0) || !roomy {
            return Ok(improved);
        }
        let cutoff = incumbent.cutoff(start.objective);
        let cutoff = cutoff.saturating_sub(residual.cost(start.objective));
        let earlier = start.earlier.iter();
        let earlier: Earlier = earlier
            .map(|&(level, value)| (level, value - residual.cost(level)))
            .collect();
        if cutoff <= 0 || earlier.iter().any(|level| level.1 < 0) {
            return Ok(improved);
        }
        let Some(path) = residual.rest_of(start.path) else {
            return Ok(improved);
        };
        let mut generation = residual.relaxation(start.objective, earlier, (&solution, &columns));
        let path: Vec<Decision> = path
            .into_iter()
            .map(|(decision, side)| Decision {
                set: generation.master.set(&decision.boards, decision.counted),
                side,
            })
            .collect();
        let task = NodeTask {
            path: &path,
            cutoff,
            attainable: start.attainable,
            rounds: DIVE_ROUNDS,
        };
        let relaxed: NodeRelaxation = generation.solve(&task, clock)?;
        if relaxed.bound >= cutoff || relaxed.uncut > DIVE_SHORTFALL {
            return Ok(improved);
        }
        columns = generation.patterns_by_reduced_cost().cloned().collect();
        solution = generation.patterns_of(&relaxed);
    }
}

/// What a dive has fixed, and what is left.
struct Residual<'r> {
    problem: &'r Problem,
    /// What of each part is still to be cut.
    left: Vec<u32>,
    /// What of each board is still there.
    supply: Vec<Option<u32>>,
    fixed: Vec<(Pattern, u32)>,
}

impl<'r> Residual<'r> {
    fn new(problem: &'r Problem) -> Self {
        Residual {
            problem,
            left: problem.demand.clone(),
            supply: problem.boards.iter().map(|board| board.supply).collect(),
            fixed: Vec::new(),
        }
    }

    /// Fixes the integral part of a solution; tells whether that was anything.
    fn fix_integral(&mut self, solution: &[(Pattern, f64)]) -> bool {
        let mut any = false;
        for (pattern, times) in solution {
            any |= self.fix(pattern, (times + INTEGRAL).floor() as u32) > 0;
        }
        any
    }

    /// The patterns of a solution trimmed to what is left, those that are used most first.
    fn ranked(&self, solution: &[(Pattern, f64)]) -> Vec<(f64, Pattern)> {
        let mut ranked: Vec<(f64, Pattern)> = solution
            .iter()
            .filter_map(|(pattern, times)| Some((*times, pattern.trimmed(&self.left)?)))
            .collect();
        order::sort_by(&mut ranked, |left, right| right.0.total_cmp(&left.0));
        ranked
    }

    /// Fixes the first choice once, and what is used nearly once; tells whether that was anything.
    fn fix_first(&mut self, ranked: &[(f64, Pattern)]) -> bool {
        let mut any = false;
        for (at, (times, pattern)) in ranked.iter().enumerate() {
            if at == 0 || *times >= NEARLY_WHOLE {
                any |= self.fix(pattern, 1) > 0;
            }
        }
        any
    }

    /// Fixes a pattern up to `times`, never cutting more than is left; returns how often.
    fn fix(&mut self, pattern: &Pattern, times: u32) -> u32 {
        let counts = pattern.counts();
        let mut times = counts
            .iter()
            .map(|&(part, count)| self.left[part] / count)
            .min()
            .unwrap_or(0)
            .min(times);
        if let Some(supply) = &mut self.supply[pattern.board] {
            times = times.min(*supply);
            *supply -= times;
        }
        if times > 0 {
            for &(part, count) in &counts {
                self.left[part] -= count * times;
            }
            self.fixed.push((pattern.clone(), times));
        }
        times
    }

    /// What the fixed boards cost.
    fn cost(&self, objective: Objective) -> i64 {
        let fixed = self.fixed.iter();
        fixed
            .map(|(pattern, count)| objective.cost(self.problem, pattern) * i64::from(*count))
            .sum()
    }

    /// Finishes what is fixed greedily and offers it; tells whether that was better.
    fn complete(
        &self,
        incumbent: &mut Incumbent,
        objective: Objective,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let level = match objective {
            Objective::Cost(level) => level,
            _ => 0,
        };
        let mut improved = false;
        for rule in [GreedyRule::Cheapest(level), GreedyRule::Fullest] {
            let (mut left, mut supply) = (self.left.clone(), self.supply.clone());
            let rest = greedy(self.problem, rule, &mut left, &mut supply, Some(clock))?;
            if let Some(rest) = rest {
                let mut plan = self.fixed.clone();
                plan.extend(rest);
                improved |= incumbent.offer(&plan, clock);
            }
        }
        Ok(improved)
    }

    /// The decisions for what is left, with the sides lowered by what is fixed; `None` where too much is fixed already.
    fn rest_of<'a>(&self, path: &'a [SetDecision]) -> Option<Vec<(&'a SetDecision, BranchSide)>> {
        path.iter()
            .map(|decision| {
                let counted = decision.counted;
                let adds = |(pattern, count): &(Pattern, u32)| {
                    count * counted.of(self.problem, &decision.boards, pattern)
                };
                let used: u32 = self.fixed.iter().map(adds).sum();
                let side = match decision.side {
                    BranchSide::AtMost(at) => BranchSide::AtMost(at.checked_sub(used)?),
                    BranchSide::AtLeast(at) => BranchSide::AtLeast(at.saturating_sub(used)),
                };
                Some((decision, side))
            })
            .collect()
    }

    /// A relaxation of what is left, that knows the patterns of the solution before it and the first of other columns, trimmed. Of thousands of columns
    /// with a reduced cost of zero few are in the solution, and without those the program begins with parts uncut.
    fn relaxation(
        &self,
        objective: Objective,
        earlier: Earlier,
        (solution, columns): (&[(Pattern, f64)], &[Pattern]),
    ) -> ColumnGeneration<'r> {
        let (left, supply) = (self.left.clone(), self.supply.clone());
        let mut rest = ColumnGeneration::new(self.problem, objective, left, supply, earlier);
        let (alone, each) = DIVE_RESIDUAL_COLUMNS;
        let limit = alone + each * self.left.iter().filter(|&&count| count > 0).count();
        let solved = solution.iter().map(|(pattern, _)| pattern);
        let there = solved
            .chain(columns)
            .filter(|pattern| self.supply[pattern.board] != Some(0));
        for trimmed in there.filter_map(|pattern| pattern.trimmed(&self.left)) {
            rest.master.add(trimmed);
            if rest.master.pool.len() >= limit {
                break;
            }
        }
        rest
    }
}
