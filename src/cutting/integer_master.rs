//! The restricted master in integers: a small integer program over the patterns that look best, for a good plan early.
//!
//! **Idea** (the restricted master heuristic; common practice in branch and price, see Sadykov and others 2019). Of the patterns that the relaxation
//! uses, and then those of the least reduced cost, so few are taken that branch and bound of a general solver is done with them at once. The solver
//! is microlp, by way of good_lp; it works in floats and has no clock that it is lent, which is why its size is what bounds it.
//!
//! **Invariant.** Its answer is a hint like any other: the plan it makes is added up in integers and kept only if it is better. **Why it ends:**
//! plans of very many boards are left out, and a limit of time that no practical job comes near ends what branches without end all the same.

use crate::column_generation::{ColumnGeneration, NodeRelaxation};
use crate::limits::{INTEGER_BOARDS, INTEGER_COLUMNS, INTEGER_FUSE, INTEGER_ROWS};
use crate::pattern::Pattern;
use crate::problem::Problem;
use good_lp::{
    Expression, ProblemVariables, Solution, SolverModel, Variable, WithTimeLimit, microlp, variable,
};

/// The best plan over few patterns, where there is one.
pub(crate) fn plan(
    generation: &ColumnGeneration,
    relaxed: &NodeRelaxation,
) -> Option<Vec<(Pattern, u32)>> {
    let master = &generation.master;
    let (problem, objective, earlier) = (master.problem, master.objective, &master.earlier);
    let boards: f64 = relaxed.solution.iter().map(|&(_, times)| times).sum();
    if boards > INTEGER_BOARDS || problem.demand.len() + problem.boards.len() > INTEGER_ROWS {
        return None;
    }
    let chosen = chosen(generation, relaxed);
    let mut all = ProblemVariables::new();
    let times: Vec<Variable> = chosen
        .iter()
        .map(|pattern| all.add(variable().integer().min(0).max(most(problem, pattern))))
        .collect();
    let sum = |entry: &dyn Fn(&Pattern) -> f64| -> Expression {
        let terms = chosen.iter().zip(&times);
        terms.map(|(pattern, &times)| entry(pattern) * times).sum()
    };
    let largest = objective.largest_cost(problem) as f64;
    let cost = sum(&|pattern| objective.cost(problem, pattern) as f64 / largest);
    let mut model = all
        .minimise(cost)
        .using(microlp)
        .with_time_limit(INTEGER_FUSE);
    for (part, &wanted) in problem.demand.iter().enumerate() {
        let made = sum(&|pattern| {
            let counts = pattern.counts();
            let of_part = counts.iter().find(|entry| entry.0 == part);
            of_part.map_or(0.0, |&(_, count)| f64::from(count))
        });
        model.add_constraint(made.geq(f64::from(wanted)));
    }
    for (board, kind) in problem.boards.iter().enumerate() {
        if let Some(supply) = kind.supply {
            let taken = sum(&|pattern| f64::from(u8::from(pattern.board == board)));
            model.add_constraint(taken.leq(f64::from(supply)));
        }
    }
    for &(level, value) in earlier {
        let largest = level.largest_cost(problem) as f64;
        let spent = sum(&|pattern| level.cost(problem, pattern) as f64 / largest);
        model.add_constraint(spent.leq(value as f64 / largest));
    }
    let solution = model.solve().ok()?;
    let plan = chosen
        .into_iter()
        .zip(times)
        .map(|(pattern, times)| (pattern, solution.value(times).round() as u32));
    Some(plan.filter(|&(_, times)| times > 0).collect())
}

/// The patterns the relaxation uses most, and then those that cost least over their worth.
fn chosen(generation: &ColumnGeneration, relaxed: &NodeRelaxation) -> Vec<Pattern> {
    let mut used = relaxed.solution.clone();
    order::sort_by(&mut used, |one, other| other.1.total_cmp(&one.1));
    let mut chosen: Vec<usize> = used
        .into_iter()
        .map(|(at, _)| at)
        .take(INTEGER_COLUMNS)
        .collect();
    for at in generation.master.by_reduced_cost() {
        if chosen.len() == INTEGER_COLUMNS {
            break;
        }
        if !chosen.contains(&at) {
            chosen.push(at);
        }
    }
    let pool = &generation.master.pool;
    chosen.into_iter().map(|at| pool[at].clone()).collect()
}

/// How often a pattern is of any use.
fn most(problem: &Problem, pattern: &Pattern) -> u32 {
    let counts = pattern.counts();
    let of_part = counts
        .iter()
        .map(|&(part, count)| problem.demand[part].div_ceil(count));
    let supply = problem.boards[pattern.board].supply.unwrap_or(u32::MAX);
    of_part.max().unwrap_or(0).min(supply)
}
