//! Plans and bounds on the way, told to the caller in the caller's terms.

use crate::aims::{Aims, ScrapAim};
use crate::clock::Clock;
use crate::incumbent::{Listener, Plan};
use crate::objective::{Objective, in_order};
use crate::presolve::Presolved;
use crate::problem::Problem;
use crate::solution::{Level, Progress};

/// The levels as they are reported: one with a floor is what is beyond it; the scrap is the length used up less the parts.
pub(crate) fn levels_of(
    problem: &Problem,
    totals: &[i64],
    bounds: &[i64],
    scrap: ScrapOffset,
    aims: Aims,
) -> Vec<Level> {
    in_order(problem, aims)
        .into_iter()
        .zip(totals)
        .enumerate()
        .map(|(level, (objective, &total))| {
            let ScrapOffset { less, least } = match objective {
                Objective::UsedLength => scrap,
                _ => ScrapOffset {
                    less: objective.floor(problem),
                    least: 0,
                },
            };
            let bound = bounds.get(level).copied().unwrap_or(0);
            Level {
                value: total - less,
                bound: (bound - less).max(least).min(total - less),
            }
        })
        .collect()
}

/// How the scrap follows from the length used up.
#[derive(Clone, Copy, Default)]
pub(crate) struct ScrapOffset {
    /// The lengths of the parts, which are taken off.
    less: i64,
    /// What no plan can be below, whatever is proven. Where mitred ends share cuts their parts overlap, so that scrap may be less than
    /// zero.
    least: i64,
}

impl ScrapOffset {
    pub(crate) fn of(problem: &Problem, aims: Aims) -> ScrapOffset {
        if aims.scrap == ScrapAim::Ignored {
            return ScrapOffset::default();
        }
        let less = problem.wanted();
        let mut mitres = problem.sections.iter().flat_map(|section| &section.mitres);
        let overlap = mitres.any(|mitre| mitre.saving > 0);
        ScrapOffset {
            less,
            least: if overlap { -less } else { 0 },
        }
    }
}

/// Passes better plans on in the caller's terms.
pub(crate) struct Reporter<'t> {
    presolved: &'t Presolved,
    /// What is proven of each level, the length used up among them, of plans whose earlier levels are those of `best`.
    bounds: Vec<i64>,
    /// The totals of the plan reported last.
    best: Vec<i64>,
    aims: Aims,
    scrap: ScrapOffset,
}

impl<'t> Reporter<'t> {
    /// Nothing is proven yet.
    pub(crate) fn new(presolved: &'t Presolved, scrap: ScrapOffset, aims: Aims) -> Self {
        Reporter {
            presolved,
            bounds: vec![0; in_order(&presolved.problem, aims).len()],
            best: Vec::new(),
            aims,
            scrap,
        }
    }
}

impl Listener for Reporter<'_> {
    fn better(&mut self, plan: &Plan, clock: &mut Clock) {
        let same = plan
            .totals
            .iter()
            .zip(&self.best)
            .take_while(|(new, old)| new == old)
            .count();
        for bound in self.bounds.iter_mut().skip(same + 1) {
            *bound = 0;
        }
        self.best = plan.totals.clone();
        let levels = levels_of(
            &self.presolved.problem,
            &plan.totals,
            &self.bounds,
            self.scrap,
            self.aims,
        );
        clock.watch().better(&Progress {
            cuttings: self.presolved.cuttings(&plan.patterns),
            levels,
        });
    }

    fn bound_proven(&mut self, level: usize, bound: i64, best: &Plan, clock: &mut Clock) {
        if self.bounds[level] < bound {
            self.bounds[level] = bound;
            self.better(best, clock);
        }
    }
}
