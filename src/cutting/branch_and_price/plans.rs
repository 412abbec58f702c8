//! How the search looks for plans: dives, targets, a small integer program, neighbourhoods.
//!
//! **Invariant.** Plans are offered to the incumbent, which takes them only if they hold; nothing else of the search depends on them. **Why it
//! ends:** all tries are counted.

use crate::attainable::AttainableTotals;
use crate::branch_and_price::state::{BranchAndPrice, TreeNode};
use crate::branch_path::SetDecision;
use crate::clock::{Clock, Stopped};
use crate::column_generation::{NodeRelaxation, NodeTask};
use crate::diving::{Discrepancy, Dive, dive};
use crate::incumbent::Incumbent;
use crate::integer_master;
use crate::limits::{
    DISCREPANCIES, DIVE_COLUMNS, NODE_ROUNDS, NODES_PER_DIVE, NODES_PER_TARGETS, ROOT_DIVES,
    VAIN_DIVES,
};
use crate::objective::Objective;
use crate::pattern::Pattern;
use crate::target_search::TargetSearch;
use std::ops::Range;

impl BranchAndPrice<'_, '_> {
    /// Looks for better plans from a node's solution.
    pub(crate) fn plans_of_node(
        &mut self,
        node: &TreeNode,
        relaxed: &NodeRelaxation,
        clock: &mut Clock,
    ) -> Result<(), Stopped> {
        let path = self.path_of(node);
        if !node.path.is_empty() {
            if self.effort.nodes.is_multiple_of(NODES_PER_DIVE) {
                let rank = self.rank;
                self.rank = (self.rank + 1) % ROOT_DIVES;
                self.dive(&path, relaxed, Discrepancy { depth: 0, rank }, clock)?;
            }
            return Ok(());
        }
        let mut vain = 0;
        for rank in 0..ROOT_DIVES {
            let better = self.dive(&path, relaxed, Discrepancy { depth: 0, rank }, clock)?;
            vain = if better { 0 } else { vain + 1 };
            if relaxed.bound >= self.cutoff() || vain == VAIN_DIVES {
                break;
            }
        }
        if matches!(self.objective, Objective::Cost(_)) && relaxed.bound < self.cutoff() {
            let plan = integer_master::plan(&self.generation, relaxed);
            if plan.is_some_and(|plan| self.incumbent.offer(&plan, clock)) {
                self.learn();
            }
        }
        Ok(())
    }

    /// Dives from a solution; tells whether a better plan came of it.
    fn dive(
        &mut self,
        path: &[SetDecision],
        relaxed: &NodeRelaxation,
        discrepancy: Discrepancy,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let (alone, each) = DIVE_COLUMNS;
        let most = each * self.incumbent.problem.demand.len() + alone;
        let columns = self.generation.patterns_by_reduced_cost().take(most);
        let columns: Vec<Pattern> = columns.cloned().collect();
        let start = Dive {
            objective: self.objective,
            earlier: &self.earlier,
            attainable: &self.attainable,
            solution: self.generation.patterns_of(relaxed),
            columns: &columns,
            discrepancy,
            path,
        };
        let better = dive(start, self.incumbent, clock)?;
        if better {
            self.learn();
        }
        Ok(better)
    }

    /// Tries plans of certain totals from the bound upward.
    pub(crate) fn plans_of_targets(
        &mut self,
        node: &TreeNode,
        bound: i64,
        clock: &mut Clock,
    ) -> Result<(), Stopped> {
        if !matches!(self.objective, Objective::Cost(_)) || !self.roomy {
            return Ok(());
        }
        let path = self.path_of(node);
        let targets = TargetSearch {
            objective: self.objective,
            earlier: &self.earlier,
            attainable: &self.attainable,
            pool: &self.generation.master.pool,
            path: &path,
            bound,
        };
        targets.run(self.incumbent, clock)
    }

    /// Tries plans of certain totals where what is bought is settled by a node's solution and only free boards are left to split on: that seldom moves
    /// the bound, but it goes on for as many nodes as there are such boards. It is done where the bound has risen, and again after so many nodes.
    pub(crate) fn plans_before_free_boards(
        &mut self,
        node: &TreeNode,
        bound: i64,
        boards: &[usize],
        clock: &mut Clock,
    ) -> Result<(), Stopped> {
        let Objective::Cost(level) = self.objective else {
            return Ok(());
        };
        let of_problem = &self.incumbent.problem.boards;
        let free = boards
            .iter()
            .all(|&board| of_problem[board].cost[level] == 0);
        let due = bound > self.targeted || self.effort.nodes >= self.targets_due;
        if !free || !due || self.neighbourhoods.is_none() {
            return Ok(());
        }
        self.targeted = self.targeted.max(bound);
        self.targets_due = self.effort.nodes + NODES_PER_TARGETS;
        self.plans_of_targets(node, bound, clock)
    }

    /// Plans boards of the best plan anew, in so many tries.
    pub(crate) fn plans_of_neighbourhoods(
        &mut self,
        tries: usize,
        clock: &mut Clock,
    ) -> Result<(), Stopped> {
        if !self.roomy {
            return Ok(());
        }
        let Some(mut neighbourhoods) = self.neighbourhoods.take() else {
            return Ok(());
        };
        let mut ending = Ok(());
        for _ in 0..tries {
            let (objective, nested, effort) = (self.objective, self.nested, &mut *self.effort);
            let mut search = |inner: &mut Incumbent, clock: &mut Clock| {
                nested(objective, inner, effort, clock);
            };
            match neighbourhoods.once(self.incumbent, &mut search, clock) {
                Ok(false) => {}
                Ok(true) => self.learn(),
                Err(stopped) => {
                    ending = Err(stopped);
                    break;
                }
            }
        }
        self.neighbourhoods = Some(neighbourhoods);
        ending
    }

    /// Looks for better plans where nothing is left to split but something is not proven: dives from the root that depart from the first choice
    /// at one depth or another, and boards of the best plan planned anew, in turns.
    pub(crate) fn last_tries(
        &mut self,
        tries: Range<usize>,
        bound: i64,
        clock: &mut Clock,
    ) -> Result<(), Stopped> {
        if self.neighbourhoods.is_none() || !self.is_level() {
            return Ok(());
        }
        let mut root: Option<NodeRelaxation> = None;
        for index in tries {
            if bound >= self.cutoff() {
                return Ok(());
            }
            clock.go_on()?;
            // Departures nearest the top and of the lowest ranks come first: (0, 1), (1, 1), (0, 2), (2, 1), (1, 2) and so on.
            if index < DISCREPANCIES * DISCREPANCIES {
                let relaxed = match root.take() {
                    Some(relaxed) => relaxed,
                    None => self.generation.solve(&root_task(&self.attainable), clock)?,
                };
                let better = self.dive(&[], &relaxed, nth_discrepancy(index), clock)?;
                root = (!better).then_some(relaxed);
            }
            self.plans_of_neighbourhoods(1, clock)?;
        }
        Ok(())
    }
}

/// The relaxation of the root, to its end.
fn root_task(attainable: &AttainableTotals) -> NodeTask<'_> {
    NodeTask {
        path: &[],
        cutoff: i64::MAX,
        attainable,
        rounds: NODE_ROUNDS,
    }
}

/// The departures from the first choice one after another: (depth, rank) along the diagonals.
fn nth_discrepancy(index: usize) -> Discrepancy {
    let (mut diagonal, mut at) = (1, index);
    while at >= diagonal {
        at -= diagonal;
        diagonal += 1;
    }
    Discrepancy {
        depth: diagonal - 1 - at,
        rank: at + 1,
    }
}
