//! Boards whose runs are all alike, as those of a pack, each filled before the next is touched.
//!
//! **Idea.** A run lies as well in any of these boards as in another. What is cut from one kind of them is told run by run, and laid anew: boards that hold
//! one way of filling a run alone, and then what is over of each way, in order.
//!
//! **Invariant.** The same runs are cut, so that every part is cut as often as before, from the fewest boards that have so many runs. **Why it ends:** one
//! pass over the patterns.

use crate::pattern::Pattern;
use crate::problem::{Problem, Shape};

/// A plan's patterns on the fewest boards; as they are where nothing is gained.
pub(crate) fn on_fewest_boards(
    problem: &Problem,
    mut patterns: Vec<(Pattern, u32)>,
) -> Vec<(Pattern, u32)> {
    let mut several: Vec<usize> = patterns
        .iter()
        .map(|(pattern, _)| pattern.board)
        .filter(|&board| runs_alike(problem, board).is_some())
        .collect();
    order::sort(&mut several);
    several.dedup();
    for board in several {
        let Some(each) = runs_alike(problem, board) else {
            continue;
        };
        let of_board = || {
            patterns
                .iter()
                .filter(|(pattern, _)| pattern.board == board)
        };
        let boards: u64 = of_board().map(|(_, count)| u64::from(*count)).sum();
        let mut runs: Vec<(Vec<(usize, u32)>, u64)> = Vec::new();
        for (pattern, count) in of_board() {
            let filled = pattern.runs.iter().filter(|run| !run.is_empty());
            runs.extend(filled.map(|run| (run.clone(), u64::from(*count))));
        }
        let filled: u64 = runs.iter().map(|(_, count)| count).sum();
        if filled.div_ceil(each as u64) >= boards {
            continue;
        }
        patterns.retain(|(pattern, _)| pattern.board != board);
        patterns.extend(laid_anew(board, each, runs));
    }
    patterns
}

/// How many runs a board has that are all alike; `None` where it has one, or others.
fn runs_alike(problem: &Problem, board: usize) -> Option<usize> {
    let kind = &problem.boards[board];
    match &kind.shape {
        Shape::Runs(runs) if runs.len() > 1 && kind.factory.is_none() => {
            let first = runs[0];
            let alike = runs
                .iter()
                .all(|run| (run.length, run.tail) == (first.length, first.tail));
            alike.then_some(runs.len())
        }
        _ => None,
    }
}

/// So many filled runs on boards of `each` runs.
fn laid_anew(
    board: usize,
    each: usize,
    mut runs: Vec<(Vec<(usize, u32)>, u64)>,
) -> Vec<(Pattern, u32)> {
    order::sort(&mut runs);
    runs.dedup_by(|next, kept| {
        let same = next.0 == kept.0;
        if same {
            kept.1 += next.1;
        }
        same
    });
    let mut laid = Vec::new();
    let mut over = Vec::new();
    for (run, count) in runs {
        let whole = count / each as u64;
        over.extend(std::iter::repeat_n(
            run.clone(),
            (count % each as u64) as usize,
        ));
        if whole > 0 {
            let runs = vec![run; each];
            laid.push((
                Pattern { board, runs },
                u32::try_from(whole).unwrap_or(u32::MAX),
            ));
        }
    }
    for some in over.chunks(each) {
        let mut runs = some.to_vec();
        runs.resize(each, Vec::new());
        laid.push((Pattern { board, runs }, 1));
    }
    laid
}
