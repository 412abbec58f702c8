//! The exact solver: a [`Problem`] in, the best cuttings found and what is proven of them out.
//!
//! **Idea** (lexicographic optimisation, level by level; each level by branch and price, for which see Vance 1998, Belov and Scheithauer 2006, and
//! for the arc-flow view Valério de Carvalho 1999). The problem is presolved, greedy plans are made, and where there is none it is asked whether
//! there can be one. Then each level is made least in turn, the earlier ones held to their values.
//!
//! A level with a floor is settled by the first plan below it, since all of those are alike there, and later levels are held to the floor.
//!
//! **Invariant.** What is reported proven of a level holds for all plans whose earlier levels are those of the plan reported. **Why it ends:** there
//! are finitely many levels, each ends by itself, and the caller may stop it at any time.

use crate::attainable::AttainableTotals;
use crate::branch_and_price::BranchAndPrice;
use crate::clock::{Clock, Stopped};
use crate::column_generation::{ColumnGeneration, NodeTask};
use crate::greedy::{GreedyRule, greedy};
use crate::incumbent::{Incumbent, NoListener};
use crate::limits::{ALL_TIME, LEVEL_SHARE, NODE_ROUNDS};
use crate::master_size::MasterSize;
use crate::material_bound;
use crate::objective::{Objective, in_order};
use crate::pair_search::told::ToldPairs;
use crate::pair_search::{PairEnd, PairProblem, PairSearch};
use crate::presolve::{LongestRuns, Presolved};
use crate::problem::Problem;
use crate::reporter::{Reporter, ScrapOffset, levels_of};
use proof::certificate::{Branch, Certificate, Leaf, LevelProof, MOST_PAIR_BYTES};

pub use crate::aims::{Aims, ScrapAim};
pub use crate::solution::{Effort, Level, Outcome, Progress, Shortage, Solution};
pub use crate::watch::Watch;

/// Plans one group of sections: the best cuttings, level by level, until all is proven or the watch says stop.
pub fn solve(problem: &Problem, aims: Aims, watch: &mut dyn Watch) -> Outcome {
    let longest_runs = LongestRuns::of(problem);
    let homeless = (0..problem.demand.len())
        .find(|&part| problem.demand[part] > 0 && !longest_runs.take(problem, part));
    if let Some(part) = homeless {
        return Outcome::Impossible(Shortage::Part(part));
    }
    let presolved = Presolved::new(problem);
    let scrap = ScrapOffset::of(&presolved.problem, aims);
    let levels = cost_levels(problem);
    let mut reporter = Reporter::new(&presolved, scrap, aims);
    let mut clock = Clock::new(watch);
    let mut effort = Effort::default();
    let mut incumbent = Incumbent::new(&presolved.problem, aims, &mut reporter);
    // Where time is up already, every level that follows ends at its first question.
    let _ = first_plans(&mut incumbent, levels, &mut clock);
    let searched = MasterSize::of(&presolved.problem) != MasterSize::TooLarge;
    if incumbent.best.is_none() && searched {
        let search = BranchAndPrice::new(Objective::Shortfall, &mut incumbent, &mut effort);
        let shown = search.run(&mut clock).bound;
        if incumbent.best.is_none() && shown > 0 {
            let missing = fewest_left(&presolved.problem, &mut clock).max(shown);
            let missing = u32::try_from(missing).unwrap_or(u32::MAX);
            return Outcome::Impossible(Shortage::Boards { missing });
        }
    }
    if incumbent.best.is_none() {
        return Outcome::NothingYet;
    }
    let proofs = level_proofs(&mut incumbent, searched, &mut effort, &mut clock);
    let Some(best) = incumbent.best.take() else {
        return Outcome::NothingYet;
    };
    let bounds: Vec<i64> = proofs.iter().map(|proof| proof.bound).collect();
    Outcome::Found(Solution {
        cuttings: presolved.cuttings(&best.patterns),
        levels: levels_of(&presolved.problem, &best.totals, &bounds, scrap, aims),
        certificate: certificate(proofs, &presolved),
        effort,
    })
}

/// A proof by the search over pairs alone that so few boards do not do; `None` where they do, or where it is not settled within so many nodes. The solver
/// settles small problems in other ways: this is for those who try the checker.
pub fn proof_by_pairs(
    problem: &Problem,
    boards: i64,
    nodes: usize,
    watch: &mut dyn Watch,
) -> Option<Branch> {
    let presolved = Presolved::new(problem);
    let problem = &presolved.problem;
    let mut clock = Clock::new(watch);
    let mut nobody = NoListener;
    let scrap = ScrapAim::Ignored;
    let mut incumbent = Incumbent::new(problem, Aims { scrap }, &mut nobody);
    let given = PairProblem::of(problem, boards)?;
    let told = ToldPairs::new(clock.prices(presolved.part_to.len()), MOST_PAIR_BYTES);
    let mut search = PairSearch::new(given, problem, &[], told);
    let end = search.run(nodes, &mut incumbent, &mut clock).ok()?;
    let (search, _) = search.told.finish().filter(|_| end == PairEnd::Exhausted)?;
    let leaf = Leaf {
        scale: 1,
        parts: vec![0; problem.demand.len()],
        ..Leaf::default()
    };
    Some(presolved.branch(Branch::Paired { leaf, search }))
}

/// How many levels depend on buying alone.
fn cost_levels(problem: &Problem) -> usize {
    problem.boards.first().map_or(0, |board| board.cost.len())
}

/// Makes each level least in turn; returns what is proven of each, for the plan that is then the incumbent.
fn level_proofs(
    incumbent: &mut Incumbent,
    searched: bool,
    effort: &mut Effort,
    clock: &mut Clock,
) -> Vec<LevelProof> {
    let objectives = in_order(incumbent.problem, incumbent.aims);
    let mut proofs: Vec<LevelProof> = Vec::new();
    let last = objectives.len().saturating_sub(1);
    for (level, &objective) in objectives.iter().enumerate() {
        clock.begin(if level < last { LEVEL_SHARE } else { ALL_TIME });
        // Even to set a level up is work, where there are thousands of rows. What the material asks for is known without.
        let settled = incumbent.value(level) == objective.floor(incumbent.problem);
        let proof = if searched && !settled && clock.go_on().is_ok() {
            BranchAndPrice::new(objective, incumbent, effort).run(clock)
        } else {
            material_bound::level_proof(objective, incumbent)
        };
        incumbent.bound_proven(level, proof.bound, clock);
        proofs.push(proof);
    }
    // A level improved while a later one was at work: what was proven of it still holds, what came after it does not. What the material asks
    // for does.
    let moved = proofs.iter().position(|proof| {
        let best = incumbent.best.as_ref();
        best.is_some_and(|best| proof.earlier[..] != best.totals[..proof.earlier.len()])
    });
    if let Some(moved) = moved {
        proofs.truncate(moved);
        let again = objectives[moved..].iter();
        proofs.extend(again.map(|&objective| material_bound::level_proof(objective, incumbent)));
    }
    proofs
}

/// The proofs in the caller's indices; `None` where there is none.
fn certificate(mut proofs: Vec<LevelProof>, presolved: &Presolved) -> Option<Certificate> {
    for proof in &mut proofs {
        let tree = std::mem::take(&mut proof.tree).into_iter();
        proof.tree = tree.map(|branch| presolved.branch(branch)).collect();
    }
    (!proofs.is_empty()).then_some(Certificate { levels: proofs })
}

/// How many parts are left uncut at least, whatever is cut: what the prices of the relaxation prove. The search that tells that there
/// is no plan ends at the first part left uncut.
fn fewest_left(problem: &Problem, clock: &mut Clock) -> i64 {
    let supply = problem.boards.iter().map(|board| board.supply).collect();
    let (objective, demand) = (Objective::Shortfall, problem.demand.clone());
    let mut generation = ColumnGeneration::new(problem, objective, demand, supply, Vec::new());
    let task = NodeTask {
        path: &[],
        cutoff: i64::MAX,
        attainable: &AttainableTotals::new(problem, objective, 0),
        rounds: NODE_ROUNDS,
    };
    match generation.solve(&task, clock) {
        Ok(relaxed) => relaxed.bound,
        Err(_) => generation.partial.map_or(0, |(bound, _)| bound),
    }
}

/// Greedy plans, to have one at once. Nobody is asked before there is one: a plan is made even where there is no time at all.
fn first_plans(incumbent: &mut Incumbent, levels: usize, clock: &mut Clock) -> Result<(), Stopped> {
    let rules = (0..levels)
        .map(GreedyRule::Cheapest)
        .chain([GreedyRule::Fullest, GreedyRule::Longest]);
    for rule in rules {
        let boards = incumbent.problem.boards.iter();
        let mut left = incumbent.problem.demand.clone();
        let mut supply: Vec<Option<u32>> = boards.map(|board| board.supply).collect();
        let asked = incumbent.best.is_some().then_some(&mut *clock);
        if let Some(plan) = greedy(incumbent.problem, rule, &mut left, &mut supply, asked)? {
            incumbent.offer(&plan, clock);
        }
    }
    Ok(())
}
