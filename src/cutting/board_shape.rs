//! What lengths a board offers, by its shape.

use crate::problem::{Run, Shape, Ticks};

pub(crate) use crate::problem::clear as clear_length;

/// The clear length of the longest run of a board, a length cut once at the yard taken for one run.
pub(crate) fn longest_clear_run(shape: &Shape) -> i64 {
    match shape {
        Shape::Runs(runs) => runs.iter().map(|run| run.length).max().unwrap_or(0),
        &Shape::OneCut { together, .. } => together,
    }
}

/// The longest run that one part can have of such a board; `None` where it offers none.
pub(crate) fn longest_for_a_part(shape: &Shape) -> Option<Ticks> {
    match shape {
        Shape::Runs(runs) => runs.iter().map(|run| run.length).max(),
        &Shape::OneCut { together, each } => {
            let most = each[0].max(each[1]).min(together);
            (together <= each[0] + each[1]).then_some(most)
        }
    }
}

/// The index of the longest run, the last of those alike.
pub(crate) fn longest(runs: &[Run]) -> Option<usize> {
    (0..runs.len()).max_by_key(|&run| runs[run].length)
}

/// How many runs a board has besides its longest.
pub(crate) fn shorter_runs(shape: &Shape) -> usize {
    match shape {
        Shape::Runs(runs) => runs.len().saturating_sub(1),
        Shape::OneCut { .. } => 1,
    }
}

/// The longest that any run but the longest can be; zero for a board of one run.
pub(crate) fn shorter_length(shape: &Shape) -> Ticks {
    match shape {
        Shape::Runs(runs) => {
            let longest = longest(runs);
            (0..runs.len())
                .filter(|&run| Some(run) != longest)
                .map(|run| runs[run].length)
                .max()
                .unwrap_or(0)
        }
        &Shape::OneCut { together, each } => (together / 2).min(each[0].max(each[1])),
    }
}
