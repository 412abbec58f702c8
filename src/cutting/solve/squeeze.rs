//! Plans of a given total: what is bought is limited, and the length of the boards touched made small instead.
//!
//! Where what is bought settles the cost, the relaxation has many solutions of equal cost and shows no dive the way: it wastes
//! good boards as readily as it fills them. With the total held to a target and the length touched as the objective, the
//! patterns are tight and the slack is left to the last board. Targets go up from the bound; the first plan found ends it.

use super::clock::{Clock, Stopped};
use super::dive::{Dive, Swerve, cutoff, dive};
use super::keep::Keep;
use super::pattern::Pattern;
use super::relax::{Ask, Cut, Relaxation, WHOLE};
use super::stage::{Lift, Stage};

/// Targets tried between the bound and the best plan.
const TARGETS: i64 = 6;
/// Dives for each.
const DIVES: usize = 3;
/// Rounds of column generation for a target.
const ROUNDS: usize = 300;

/// What is squeezed.
pub(super) struct Squeeze<'q> {
    pub(super) stage: Stage,
    pub(super) earlier: &'q [i64],
    pub(super) lift: &'q Lift,
    pub(super) pool: &'q [Pattern],
    pub(super) path: &'q [(Vec<usize>, Cut)],
    pub(super) bound: i64,
}

impl Squeeze<'_> {
    /// Tries targets; better plans are offered to `keep`.
    pub(super) fn run(&self, keep: &mut Keep, clock: &mut Clock) -> Result<(), Stopped> {
        let mut last = None;
        for step in 0..TARGETS {
            let value = cutoff(keep, self.stage);
            let target = self
                .lift
                .up(self.bound + (value - 1 - self.bound) * step / TARGETS);
            if target >= value || last == Some(target) {
                continue;
            }
            last = Some(target);
            if self.aim_at(target, keep, clock)? {
                return Ok(());
            }
        }
        Ok(())
    }

    /// Whether a plan of at most this total was found.
    fn aim_at(&self, target: i64, keep: &mut Keep, clock: &mut Clock) -> Result<bool, Stopped> {
        let problem = keep.problem;
        let mut earlier = self.earlier.to_vec();
        earlier.push(target);
        let supply = problem.boards.iter().map(|board| board.supply).collect();
        let mut relaxation = Relaxation::new(
            problem,
            Stage::Touched,
            problem.demand.clone(),
            supply,
            earlier.clone(),
        );
        for pattern in self.pool {
            relaxation.add(pattern.clone());
        }
        let path: Vec<Cut> = self
            .path
            .iter()
            .map(|(boards, cut)| Cut {
                set: relaxation.set(boards),
                side: cut.side,
            })
            .collect();
        let lift = Lift::new(problem, Stage::Touched, 0);
        let ask = Ask {
            path: &path,
            cutoff: i64::MAX,
            lift: &lift,
            rounds: ROUNDS,
        };
        let relaxed = relaxation.solve(&ask, clock)?;
        if relaxed.left_out > WHOLE {
            return Ok(false);
        }
        let seeds: Vec<Pattern> = relaxation
            .by_reduced_cost()
            .into_iter()
            .map(|at| relaxation.pool[at].clone())
            .collect();
        for rank in 0..DIVES {
            let solution = relaxed
                .solution
                .iter()
                .map(|&(at, times)| (relaxation.pool[at].clone(), times))
                .collect();
            let path = self.path.to_vec();
            let start = Dive {
                stage: Stage::Touched,
                earlier: &earlier,
                lift: &lift,
                solution,
                seeds: &seeds,
                swerve: Swerve { choice: 0, rank },
                path,
            };
            dive(start, keep, clock)?;
            if cutoff(keep, self.stage) <= target {
                return Ok(true);
            }
        }
        Ok(false)
    }
}
