//! Every cutting there is, and the best of all plans, found by trying everything.
//!
//! What fits is asked of [`Problem::used`] alone, which knows nothing of states, lists or prices.

use crate::objective::Objective;
use crate::pattern::Pattern;
use crate::problem::{Problem, Shape};
use std::collections::HashMap;

/// Every way to cut a board, with no more of a part in one run than is wanted; the empty one among them.
pub(crate) fn cuttings(problem: &Problem, board: usize) -> Vec<Pattern> {
    let runs = match &problem.boards[board].shape {
        Shape::Runs(runs) => runs.len(),
        Shape::OneCut { .. } => 2,
    };
    let mut all = vec![vec![Vec::new(); runs]];
    for run in 0..runs {
        for (part, &most) in problem.demand.iter().enumerate() {
            let shorter = std::mem::take(&mut all);
            for filled in shorter {
                for count in 0..=most {
                    let mut next = filled.clone();
                    if count > 0 {
                        next[run].push((part, count));
                    }
                    all.push(next);
                }
            }
        }
    }
    all.into_iter()
        .map(|runs| Pattern { board, runs })
        .filter(|pattern| problem.used(&pattern.cutting()).is_some())
        .collect()
}

/// The least total of an objective over all plans, the earlier levels left free; `None` where there is no plan.
pub(crate) fn least(problem: &Problem, objective: Objective) -> Option<i64> {
    let mut best_of_counts: HashMap<(usize, Vec<(usize, u32)>), i64> = HashMap::new();
    for board in 0..problem.boards.len() {
        for pattern in cuttings(problem, board) {
            let cost = objective.cost(problem, &pattern);
            let least = best_of_counts
                .entry((board, pattern.counts()))
                .or_insert(cost);
            *least = cost.min(*least);
        }
    }
    let choices: Vec<Choice> = best_of_counts
        .into_iter()
        .filter(|((_, counts), _)| !counts.is_empty())
        .map(|((board, counts), cost)| Choice {
            board,
            counts,
            cost,
        })
        .collect();
    let supply = problem.boards.iter().map(|board| board.supply).collect();
    rest(
        &choices,
        problem.demand.clone(),
        supply,
        &mut HashMap::new(),
    )
}

struct Choice {
    board: usize,
    counts: Vec<(usize, u32)>,
    cost: i64,
}

type Left = (Vec<u32>, Vec<Option<u32>>);

/// The least total for what is left, over every board that could hold the first part left.
fn rest(
    choices: &[Choice],
    left: Vec<u32>,
    supply: Vec<Option<u32>>,
    known: &mut HashMap<Left, Option<i64>>,
) -> Option<i64> {
    let Some(first) = left.iter().position(|&count| count > 0) else {
        return Some(0);
    };
    if let Some(&known) = known.get(&(left.clone(), supply.clone())) {
        return known;
    }
    let mut best: Option<i64> = None;
    for choice in choices {
        let holds = choice.counts.iter().any(|&(part, _)| part == first);
        let fits = choice
            .counts
            .iter()
            .all(|&(part, count)| count <= left[part]);
        if !holds || !fits || supply[choice.board] == Some(0) {
            continue;
        }
        let (mut less, mut fewer) = (left.clone(), supply.clone());
        for &(part, count) in &choice.counts {
            less[part] -= count;
        }
        if let Some(supply) = &mut fewer[choice.board] {
            *supply -= 1;
        }
        if let Some(after) = rest(choices, less, fewer, known) {
            let total = after + choice.cost;
            best = Some(best.map_or(total, |best| best.min(total)));
        }
    }
    known.insert((left, supply), best);
    best
}
