//! The exact engine: a [`Problem`](crate::problem::Problem) in, the best cuttings found and what is proven of them out.

mod branch;
mod clock;
mod closed;
mod dive;
mod fills;
mod keep;
mod lay;
mod list;
mod master;
mod material;
mod merge;
mod pattern;
mod price;
mod relax;
mod rework;
mod simplex;
mod squeeze;
mod stage;
mod start;
mod table;
mod tree;
mod ways;

use crate::problem::{Cutting, Problem};
use clock::{Clock, Stopped};
use keep::{Keep, Listener, Plan};
use merge::{Merged, Rooms};
use proof::certificate::{Certificate, LevelProof};
use relax::{Ask, Relaxation, Size};
use stage::{Lift, Stage};
use start::{Taste, greedy};
use tree::Branching;

/// Who waits for the engine. The engine has no clock of its own; it asks.
pub trait Watch {
    /// Whether to stop now and keep the best found. It is asked every few milliseconds at the most.
    fn expired(&mut self) -> bool;

    /// How much of the time there is has been spent, in thousandths, so that a level leaves time for the levels after it. Nothing, where
    /// no one can tell: then a level may take all there is.
    fn spent(&mut self) -> u32 {
        0
    }

    /// How many prices one place of a proof comes to where proofs are told: the parts of this problem, unless it is one of several that
    /// are told together.
    fn prices(&self, parts: usize) -> usize {
        parts
    }

    /// Told of every better plan, and of the best plan again whenever a better bound is proven of it; complete and ready to be cut,
    /// with the bounds known by then.
    fn better(&mut self, _found: &Progress) {}
}

/// What the engine is to make small.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Aims {
    /// Whether the scrap is a level after the boards' own costs.
    pub scrap: ScrapAim,
}

/// Whether scrap counts.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum ScrapAim {
    /// The scrap is made least after all cost levels.
    Least,
    /// Nothing is asked of the scrap and no level is reported for it.
    Ignored,
}

/// A better plan, while the engine is still at work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Progress {
    /// The boards to cut and how, each with how many are cut so; every part is cut exactly as often as wanted.
    pub cuttings: Vec<(Cutting, u32)>,
    /// The levels, first level first.
    pub levels: Vec<Level>,
}

/// One level of the aims: what the plan comes to and what no plan can beat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Level {
    /// The plan's total: a sum of board costs, or the scrap in ticks.
    pub value: i64,
    /// No plan that keeps to the values of the earlier levels has a smaller total.
    pub bound: i64,
}

impl Level {
    /// Whether no plan is better at this level.
    pub fn proven(self) -> bool {
        self.value == self.bound
    }
}

/// How the engine ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// No plan exists, and this is proven.
    Impossible(Shortage),
    /// A plan, and how much of it is proven.
    Found(Solution),
    /// Stopped before any plan was found. One may exist.
    NothingYet,
}

/// Why no plan exists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shortage {
    /// This part fits none of the boards, not even alone.
    Part(usize),
    /// All parts fit, but the boards are too few: at least so many parts are left over, whatever is cut first.
    Boards {
        /// No plan leaves fewer parts over than these. It may be that none leaves so few.
        missing: u32,
    },
}

/// The best plan found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    /// The boards to cut and how, each with how many are cut so; every part is cut exactly as often as wanted.
    pub cuttings: Vec<(Cutting, u32)>,
    /// The levels, first level first: the boards' cost levels, then the scrap where it is an aim.
    pub levels: Vec<Level>,
    /// Figures that show the bounds; there is none where the engine was stopped before it had any.
    pub certificate: Option<Certificate>,
    /// How much work it was.
    pub effort: Effort,
}

/// How much work a solution took.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Nodes of the search tree whose relaxation was solved.
    pub nodes: u64,
    /// Patterns generated.
    pub columns: u64,
}

/// The share of what time is left that a level takes at most while others are to come, in thousandths.
const SHARE: u32 = 750;
/// All the time that is left.
const WHOLE: u32 = 1000;

/// Plans one group of sections: the best cuttings, level by level, until all is proven or the watch says stop.
pub fn solve(problem: &Problem, aims: Aims, watch: &mut dyn Watch) -> Outcome {
    let rooms = Rooms::of(problem);
    let homeless = (0..problem.demand.len())
        .find(|&part| problem.demand[part] > 0 && !rooms.take(problem, part));
    if let Some(part) = homeless {
        return Outcome::Impossible(Shortage::Part(part));
    }
    let merged = Merged::new(problem);
    let scrap = Scrap::of(&merged.problem, aims);
    let levels = problem.boards.first().map_or(0, |board| board.cost.len());
    let mut teller = Teller {
        merged: &merged,
        bounds: vec![0; levels + 1],
        best: Vec::new(),
        levels,
        scrap,
    };
    let mut clock = Clock::new(watch);
    let mut effort = Effort::default();
    let mut keep = Keep::new(&merged.problem, aims, &mut teller);
    // Where time is up already, every level that follows ends at its first question.
    let _ = first_plans(&mut keep, levels, &mut clock);
    let searched = Size::of(&merged.problem) != Size::TooLarge;
    if keep.best.is_none() && searched {
        let staged = Branching::new(Stage::Missing, &mut keep, &mut effort).run(&mut clock);
        if keep.best.is_none() {
            if staged.bound == 0 {
                return Outcome::NothingYet;
            }
            let missing = left_over(&merged.problem, &mut clock).max(staged.bound);
            let missing = u32::try_from(missing).unwrap_or(u32::MAX);
            return Outcome::Impossible(Shortage::Boards { missing });
        }
    }
    if keep.best.is_none() {
        return Outcome::NothingYet;
    }
    let mut stages: Vec<Stage> = (0..levels).map(Stage::Cost).collect();
    if aims.scrap == ScrapAim::Least {
        stages.push(Stage::Used);
    }
    let mut proofs: Vec<LevelProof> = Vec::new();
    let last = stages.len().saturating_sub(1);
    for (level, &stage) in stages.iter().enumerate() {
        clock.begin(if level < last { SHARE } else { WHOLE });
        // Even to set a level up is work, where there are thousands of rows. What the material asks for is known without.
        let staged = if searched && clock.go_on().is_ok() {
            Branching::new(stage, &mut keep, &mut effort).run(&mut clock)
        } else {
            material::staged(stage, &keep)
        };
        keep.bounded(level, staged.proof.bound, &mut clock);
        proofs.push(staged.proof);
    }
    // A level improved while a later one was at work: what was proven of it still holds, what came after it does not. What the material asks
    // for does.
    let moved = proofs.iter().position(|proof| {
        let best = keep.best.as_ref();
        best.is_some_and(|best| proof.earlier[..] != best.totals[..proof.earlier.len()])
    });
    if let Some(moved) = moved {
        proofs.truncate(moved);
        let again = stages[moved..].iter();
        proofs.extend(again.map(|&stage| material::staged(stage, &keep).proof));
    }
    let Some(best) = keep.best.take() else {
        return Outcome::NothingYet;
    };
    let bounds: Vec<i64> = proofs.iter().map(|proof| proof.bound).collect();
    let levels = levels_of(&best.totals, &bounds, scrap, levels);
    for proof in &mut proofs {
        let tree = std::mem::take(&mut proof.tree).into_iter();
        proof.tree = tree.map(|branch| merged.branch(branch)).collect();
    }
    Outcome::Found(Solution {
        cuttings: merged.cuttings(&best.patterns),
        levels,
        certificate: (!proofs.is_empty()).then_some(Certificate { levels: proofs }),
        effort,
    })
}

/// How many parts are left over at least, whatever is cut: what the prices of the relaxation prove. The search that tells that there
/// is no plan ends at the first part left over.
fn left_over(problem: &Problem, clock: &mut Clock) -> i64 {
    let supply = problem.boards.iter().map(|board| board.supply).collect();
    let mut relaxation = Relaxation::new(
        problem,
        Stage::Missing,
        problem.demand.clone(),
        supply,
        Vec::new(),
    );
    let ask = Ask {
        path: &[],
        cutoff: i64::MAX,
        lift: &Lift::new(problem, Stage::Missing, 0),
        rounds: tree::ROUNDS,
    };
    match relaxation.solve(&ask, clock) {
        Ok(relaxed) => relaxed.bound,
        Err(_) => relaxation.partial.map_or(0, |(bound, _)| bound),
    }
}

/// Greedy plans, to have one at once. Nobody is asked before there is one: a plan is made even where there is no time at all.
fn first_plans(keep: &mut Keep, levels: usize, clock: &mut Clock) -> Result<(), Stopped> {
    let tastes = (0..levels)
        .map(Taste::Cheapest)
        .chain([Taste::Fullest, Taste::Longest]);
    for taste in tastes {
        let mut left = keep.problem.demand.clone();
        let mut supply: Vec<Option<u32>> = keep
            .problem
            .boards
            .iter()
            .map(|board| board.supply)
            .collect();
        let asked = keep.best.is_some().then_some(&mut *clock);
        if let Some(plan) = greedy(keep.problem, taste, &mut left, &mut supply, asked)? {
            keep.offer(&plan, clock);
        }
    }
    Ok(())
}

/// The levels as they are reported: the last, where scrap is an aim, is the length used up less the parts.
fn levels_of(totals: &[i64], bounds: &[i64], scrap: Scrap, cost_levels: usize) -> Vec<Level> {
    totals
        .iter()
        .enumerate()
        .map(|(level, &total)| {
            let Scrap { less, least } = if level >= cost_levels {
                scrap
            } else {
                Scrap::default()
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
struct Scrap {
    /// The lengths of the parts, which are taken off.
    less: i64,
    /// What no plan can be below, whatever is proven. Where mitred ends share cuts their parts overlap, so that scrap may be less than
    /// nothing.
    least: i64,
}

impl Scrap {
    fn of(problem: &Problem, aims: Aims) -> Scrap {
        if aims.scrap != ScrapAim::Least {
            return Scrap::default();
        }
        let less = problem.wanted();
        let mut mitres = problem.sections.iter().flat_map(|section| &section.mitres);
        let overlap = mitres.any(|mitre| mitre.saving > 0);
        Scrap {
            less,
            least: if overlap { -less } else { 0 },
        }
    }
}

/// Passes better plans on in the caller's terms.
struct Teller<'t> {
    merged: &'t Merged,
    /// What is proven of each level, the length used up among them, of plans whose earlier levels are those of `best`.
    bounds: Vec<i64>,
    /// The totals of the plan heard of last.
    best: Vec<i64>,
    /// How many levels depend on buying alone.
    levels: usize,
    scrap: Scrap,
}

impl Listener for Teller<'_> {
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
        let levels = levels_of(&plan.totals, &self.bounds, self.scrap, self.levels);
        clock.watch().better(&Progress {
            cuttings: self.merged.cuttings(&plan.patterns),
            levels,
        });
    }

    fn bounded(&mut self, level: usize, bound: i64, best: &Plan, clock: &mut Clock) {
        if self.bounds[level] < bound {
            self.bounds[level] = bound;
            self.better(best, clock);
        }
    }
}
