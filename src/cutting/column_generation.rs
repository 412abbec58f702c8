//! Column generation: the relaxation of a node, with a bound that integers prove.
//!
//! **Idea** (Gilmore and Gomory 1961; Desaulniers, Desrosiers and Solomon, Column Generation, 2005). The restricted master is solved, its prices go
//! to pricing, and the patterns found enter as columns. Prices are smoothed between the best so far and the newest (Wentges 1997), which saves
//! rounds. The prices to begin with may be given: where many boards are limited, the program's own are wild for dozens of rounds. Whether the rows can be met
//! at all is settled first, by patterns that are made for it (a first phase, common practice).
//!
//! **Invariant.** The best bound so far is proved by the integers of [`crate::dual_bound`] alone. **Why it ends:** it ends when no pattern is worth
//! more than its board, when the bound already rounds up to what the linear program says, or when it reaches the cutoff; a round that adds no column
//! drops the smoothing and then ends it, and there are finitely many patterns. A limit on rounds is a fuse.

use crate::attainable::AttainableTotals;
use crate::branch_path::Decision;
use crate::clock::{Clock, Stopped};
use crate::dual_bound::{DualBound, ReducedCostBound};
use crate::limits::{
    ARTIFICIAL_RAISES, ENTERING_GAIN, INTEGRAL, INTEGRAL_MARGIN, MASTER_ENTRIES,
    OBJECTIVE_TOLERANCE, SMOOTHING,
};
use crate::objective::{Earlier, Objective};
use crate::pattern::Pattern;
use crate::pricing::Pricer;
use crate::problem::Problem;
use crate::restricted_master::RestrictedMaster;
use crate::run_states::RunStates;
use crate::simplex::Verdict;
use proof::certificate::Leaf;

/// What a node is asked.
pub(crate) struct NodeTask<'a> {
    /// The splits, root first.
    pub(crate) path: &'a [Decision],
    /// A bound of this much settles the node.
    pub(crate) cutoff: i64,
    /// Raises bounds to totals that can be.
    pub(crate) attainable: &'a AttainableTotals,
    /// Stop after so many rounds even if the prices are not settled.
    pub(crate) rounds: usize,
}

/// The relaxation of a node, solved.
#[derive(Clone, Debug)]
pub(crate) struct NodeRelaxation {
    /// The bound, rounded up to a total that there can be.
    pub(crate) bound: i64,
    /// The prices that show it.
    pub(crate) leaf: Leaf,
    /// How often each pattern is cut: (place in the pool, how often), where not zero.
    pub(crate) solution: Vec<(usize, f64)>,
    /// How many offcuts of a pattern are given up that could be kept.
    pub(crate) given_up: Vec<(usize, f64)>,
    /// The sum of parts left uncut; above zero when the node could not be met.
    pub(crate) uncut: f64,
    /// What the prices say of every pattern there is.
    pub(crate) fixing: ReducedCostBound,
}

/// Column generation over one problem, kept from node to node.
pub(crate) struct ColumnGeneration<'p> {
    pub(crate) master: RestrictedMaster<'p>,
    pub(crate) pricer: Pricer<'p>,
    /// Patterns generated.
    pub(crate) generated: u64,
    /// The best bound and its prices at the node being solved, for when time runs out in the middle of it.
    pub(crate) partial: Option<(i64, Leaf)>,
    /// Prices of the rows that a level of costs is asked at first, where any are known; used once.
    pub(crate) first_prices: Option<Vec<f64>>,
}

/// How a run of column generation ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum GenerationEnd {
    /// The prices say all they can, or all they were asked.
    Settled,
    /// Rounds ran out, or the figures went bad.
    Unsettled,
}

impl<'p> ColumnGeneration<'p> {
    /// Column generation without patterns: `demand` and `supply` may be less than the problem's, for what is left to cut.
    pub(crate) fn new(
        problem: &'p Problem,
        objective: Objective,
        demand: Vec<u32>,
        supply: Vec<Option<u32>>,
        earlier: Earlier,
    ) -> Self {
        ColumnGeneration {
            master: RestrictedMaster::new(problem, objective, demand, supply, earlier),
            pricer: Pricer::new(problem),
            generated: 0,
            partial: None,
            first_prices: None,
        }
    }

    /// How parts add up on each section.
    pub(crate) fn run_states(&self) -> &[RunStates] {
        self.pricer.run_states()
    }

    /// All patterns known, those of the least reduced cost first.
    pub(crate) fn patterns_by_reduced_cost(&self) -> impl Iterator<Item = &Pattern> {
        let order = self.master.by_reduced_cost().into_iter();
        order.map(|at| &self.master.pool[at])
    }

    /// The patterns of a solution, each with how often it is cut.
    pub(crate) fn patterns_of(&self, relaxed: &NodeRelaxation) -> Vec<(Pattern, f64)> {
        let solution = relaxed.solution.iter();
        solution
            .map(|&(at, times)| (self.master.pool[at].clone(), times))
            .collect()
    }

    /// What is proved before anything is.
    pub(crate) fn zero_bound(&self) -> DualBound {
        DualBound::zero(self.master.demand.len(), self.master.earlier.len())
    }

    /// What prices of the master's rows prove.
    pub(crate) fn prove(
        &mut self,
        prices: &[f64],
        path: &[Decision],
        clock: &mut Clock,
    ) -> Result<DualBound, Stopped> {
        DualBound::of(&self.master, &mut self.pricer, prices, path, clock)
    }

    /// Solves a node.
    pub(crate) fn solve(
        &mut self,
        task: &NodeTask,
        clock: &mut Clock,
    ) -> Result<NodeRelaxation, Stopped> {
        let objective = self.master.objective;
        self.master.apply(task.path);
        self.partial = None;
        let mut best = self.zero_bound();
        if objective == Objective::Stretch {
            best.strength = f64::NEG_INFINITY;
        }
        let mut verdict = self.master.simplex.solve(clock)?;
        let mut raises = 0;
        while verdict == Verdict::Optimal {
            let has_first_phase = !matches!(objective, Objective::Shortfall | Objective::Stretch);
            if has_first_phase && self.master.uncut() > INTEGRAL {
                let end = self.first_phase(task, &mut best, clock)?;
                if best.bound >= task.cutoff
                    || raises == ARTIFICIAL_RAISES
                    || end == GenerationEnd::Unsettled
                {
                    break;
                }
                verdict = self.master.simplex.primal(clock)?;
            }
            if verdict == Verdict::Failed
                || self.generate(task, &mut best, clock)? == GenerationEnd::Unsettled
            {
                break;
            }
            if task.attainable.round_up(best.bound) >= task.cutoff
                || self.master.uncut() <= INTEGRAL
                || objective == Objective::Shortfall
            {
                break;
            }
            raises += 1;
            self.master.raise_artificial_cost();
            verdict = self.master.simplex.solve(clock)?;
        }
        let uncut = if verdict == Verdict::Failed {
            f64::INFINITY
        } else {
            self.master.uncut()
        };
        let relaxed = self.relaxed(task, best, uncut);
        if raises > 0 {
            self.master.lower_artificial_cost();
        }
        Ok(relaxed)
    }

    /// The first phase: shows that parts must be left uncut, or finds the patterns with which none need be.
    fn first_phase(
        &mut self,
        task: &NodeTask,
        best: &mut DualBound,
        clock: &mut Clock,
    ) -> Result<GenerationEnd, Stopped> {
        let objective = self.master.objective;
        self.master.set_objective(Objective::Shortfall);
        let attainable = AttainableTotals::new(self.master.problem, Objective::Shortfall, 0);
        let question = NodeTask {
            path: task.path,
            cutoff: 1,
            attainable: &attainable,
            rounds: task.rounds,
        };
        let mut shown = self.zero_bound();
        let end = match self.master.simplex.primal(clock) {
            Ok(Verdict::Optimal) => self.generate(&question, &mut shown, clock),
            Ok(Verdict::Failed) => Ok(GenerationEnd::Unsettled),
            Err(stopped) => Err(stopped),
        };
        self.master.set_objective(objective);
        self.partial = Some((task.attainable.round_up(best.bound), best.leaf.clone()));
        let end = end?;
        if shown.bound > 0 {
            // Parts left uncut cannot be made up for at any cost, so the prices prove a bound in the smallest unit there is.
            let bound = i64::try_from(shown.fixing.total).unwrap_or(i64::MAX);
            *best = DualBound {
                bound,
                leaf: Leaf {
                    scale: 1,
                    ..shown.leaf
                },
                fixing: ReducedCostBound::default(),
                ..shown
            };
        }
        Ok(end)
    }

    /// Generates columns from a solved program until the prices settle what is asked.
    pub(crate) fn generate(
        &mut self,
        task: &NodeTask,
        best: &mut DualBound,
        clock: &mut Clock,
    ) -> Result<GenerationEnd, Stopped> {
        let mut first = match self.master.objective {
            Objective::Cost(_) => self.first_prices.take(),
            _ => None,
        };
        first = first.filter(|prices| prices.len() == self.master.simplex.rows());
        let mut centre = first.clone();
        let mut smoothing = SMOOTHING;
        for _ in 0..task.rounds {
            let newest = self.master.simplex.prices();
            let asked = first
                .take()
                .unwrap_or_else(|| smoothed(centre.as_deref(), newest, smoothing));
            let proof = self.prove(&asked, task.path, clock)?;
            let entered = self.enter(&proof.patterns);
            if centre.is_none() || proof.strength > best.strength {
                centre = Some(asked);
            }
            if proof.strength > best.strength {
                *best = DualBound {
                    patterns: Vec::new(),
                    ..proof
                };
                let bound = task.attainable.round_up(best.bound);
                self.partial = Some((bound, best.leaf.clone()));
            }
            if self.is_settled(task, best) {
                return Ok(GenerationEnd::Settled);
            }
            if entered {
                if self.master.simplex.primal(clock)? == Verdict::Failed
                    && self.master.simplex.solve(clock)? == Verdict::Failed
                {
                    return Ok(GenerationEnd::Unsettled);
                }
                smoothing = SMOOTHING;
            } else if self.master.simplex.entries() > MASTER_ENTRIES {
                return Ok(GenerationEnd::Unsettled);
            } else if smoothing > 0.0 {
                smoothing = 0.0;
            } else {
                return Ok(GenerationEnd::Settled);
            }
        }
        Ok(GenerationEnd::Unsettled)
    }

    /// Lets priced patterns enter the master; tells whether any promises a gain.
    fn enter(&mut self, patterns: &[(Pattern, i64)]) -> bool {
        let mut entered = false;
        for (pattern, _) in patterns {
            if self.master.simplex.entries() > MASTER_ENTRIES {
                break;
            }
            let before = self.master.pool.len();
            let at = self.master.add(pattern.clone());
            self.generated += (self.master.pool.len() - before) as u64;
            entered |= self.master.reduced_cost(at) < -ENTERING_GAIN;
        }
        entered
    }

    /// Whether the bound settles what is asked, or no further round can raise it.
    fn is_settled(&self, task: &NodeTask, best: &DualBound) -> bool {
        let master = &self.master;
        let bound = task.attainable.round_up(best.bound);
        if bound >= task.cutoff {
            return true;
        }
        if master.objective == Objective::Shortfall {
            return master.uncut() < INTEGRAL / INTEGRAL_MARGIN;
        }
        let objective = master.simplex.objective() * master.largest as f64;
        let tolerance = OBJECTIVE_TOLERANCE * objective.abs().max(1.0);
        let objective = (objective - tolerance).ceil() as i64;
        task.attainable.round_up(objective) <= bound && master.uncut() < INTEGRAL
    }

    /// What came of a node.
    pub(crate) fn relaxed(&self, task: &NodeTask, best: DualBound, uncut: f64) -> NodeRelaxation {
        let [solution, given_up] = self.master.solution(INTEGRAL / INTEGRAL_MARGIN);
        NodeRelaxation {
            bound: task.attainable.round_up(best.bound),
            leaf: best.leaf,
            solution,
            given_up,
            uncut,
            fixing: best.fixing,
        }
    }
}

/// Prices between the centre, the best so far, and the newest.
fn smoothed(centre: Option<&[f64]>, newest: &[f64], smoothing: f64) -> Vec<f64> {
    match centre {
        Some(centre) if smoothing > 0.0 => centre
            .iter()
            .zip(newest)
            .map(|(old, new)| smoothing * old + (1.0 - smoothing) * new)
            .collect(),
        _ => newest.to_vec(),
    }
}
