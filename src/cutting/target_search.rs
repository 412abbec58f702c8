//! Plans of a given total: what is bought is limited, and the length of the boards touched is the objective instead.
//!
//! **Idea** (our own; a change of objective as in the feasibility pump, Fischetti, Glover and Lodi 2005). Where what is bought settles the cost, the
//! relaxation has many solutions of equal cost and shows no dive the way: it wastes good boards as readily as it fills them. With the total held to a
//! target and the length touched as the objective, the patterns are tight and the slack is left to the last board. Targets go up from the bound; the
//! first plan found ends it.
//!
//! **Invariant.** A plan that is found is no dearer than its target. **Why it ends:** targets and dives are counted.

use crate::attainable::AttainableTotals;
use crate::branch_path::{Decision, SetDecision};
use crate::clock::{Clock, Stopped};
use crate::column_generation::{ColumnGeneration, NodeTask};
use crate::diving::{Discrepancy, Dive, dive};
use crate::incumbent::Incumbent;
use crate::limits::{INTEGRAL, TARGET_DIVES, TARGET_ROUNDS, TARGETS};
use crate::objective::Objective;
use crate::pattern::Pattern;

/// What plans are looked for.
pub(crate) struct TargetSearch<'q> {
    pub(crate) objective: Objective,
    pub(crate) earlier: &'q [(Objective, i64)],
    pub(crate) attainable: &'q AttainableTotals,
    /// The patterns known.
    pub(crate) pool: &'q [Pattern],
    /// The decisions that plans are to keep to.
    pub(crate) path: &'q [SetDecision],
    pub(crate) bound: i64,
}

impl TargetSearch<'_> {
    /// Tries targets; better plans are offered to the incumbent.
    pub(crate) fn run(&self, incumbent: &mut Incumbent, clock: &mut Clock) -> Result<(), Stopped> {
        let mut last = None;
        for step in 0..TARGETS {
            let value = incumbent.cutoff(self.objective);
            let between = (value - 1 - self.bound) * step / TARGETS;
            let target = self.attainable.round_up(self.bound + between);
            if target >= value || last == Some(target) {
                continue;
            }
            last = Some(target);
            if self.aim_at(target, incumbent, clock)? {
                return Ok(());
            }
        }
        Ok(())
    }

    /// Whether a plan of at most this total was found.
    fn aim_at(
        &self,
        target: i64,
        incumbent: &mut Incumbent,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let problem = incumbent.problem;
        let mut earlier = self.earlier.to_vec();
        earlier.push((self.objective, target));
        let objective = Objective::TouchedLength;
        let supply = problem.boards.iter().map(|board| board.supply).collect();
        let demand = problem.demand.clone();
        let mut generation =
            ColumnGeneration::new(problem, objective, demand, supply, earlier.clone());
        for pattern in self.pool {
            generation.master.add(pattern.clone());
        }
        let path: Vec<Decision> = self
            .path
            .iter()
            .map(|decision| Decision {
                set: generation.master.set(&decision.boards, decision.counted),
                side: decision.side,
            })
            .collect();
        let attainable = AttainableTotals::new(problem, objective, 0);
        let task = NodeTask {
            path: &path,
            cutoff: i64::MAX,
            attainable: &attainable,
            rounds: TARGET_ROUNDS,
        };
        let relaxed = generation.solve(&task, clock)?;
        if relaxed.uncut > INTEGRAL {
            return Ok(false);
        }
        let columns: Vec<Pattern> = generation.patterns_by_reduced_cost().cloned().collect();
        for rank in 0..TARGET_DIVES {
            let start = Dive {
                objective,
                earlier: &earlier,
                attainable: &attainable,
                solution: generation.patterns_of(&relaxed),
                columns: &columns,
                discrepancy: Discrepancy { depth: 0, rank },
                path: self.path,
            };
            dive(start, incumbent, clock)?;
            if incumbent.cutoff(self.objective) <= target {
                return Ok(true);
            }
        }
        Ok(false)
    }
}
