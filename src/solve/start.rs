//! First plans, in no time: boards filled greedily, longest parts first.
//!
//! First-fit decreasing, one pattern at a time: for what is left to cut, every kind of board still to be had is filled with
//! the longest parts that fit; the board with the least cost for the length it yields is taken, as often as the pattern can
//! be repeated. Each step uses up a board or a part, so it ends.

use super::pattern::Pattern;
use crate::problem::{Problem, Section, Shape, Ticks};

/// Which board is preferred among those that can be filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Taste {
    /// Least cost at a level per length of parts; free boards by how full they get.
    Cheapest(usize),
    /// The board that is filled best, whatever it costs.
    Fullest,
    /// The board that holds the most length of parts.
    Longest,
}

/// Fills boards until everything is cut; `None` where boards run out. `left` is what is still to be cut, `supply` what is still there.
pub(super) fn greedy(
    problem: &Problem,
    taste: Taste,
    left: &mut [u32],
    supply: &mut [Option<u32>],
) -> Option<Vec<(Pattern, u32)>> {
    let mut plan = Vec::new();
    let length = |part: usize| {
        problem
            .sections
            .iter()
            .find_map(|section| section.fits[part])
            .map_or(0, |fit| fit.length)
    };
    let mut order: Vec<usize> = (0..problem.demand.len()).collect();
    order.sort_by_key(|&part| -length(part));
    while left.iter().any(|&count| count > 0) {
        let mut best: Option<(f64, Pattern)> = None;
        for (index, board) in problem.boards.iter().enumerate() {
            if supply[index] == Some(0) {
                continue;
            }
            let pattern = filled(problem, index, &order, left);
            let yielded: Ticks = pattern
                .counts()
                .iter()
                .map(|&(part, count)| length(part) * Ticks::from(count))
                .sum();
            if yielded == 0 {
                continue;
            }
            let whole = super::stage::clear(&board.shape) + board.lost;
            let fullness = yielded as f64 / whole.max(1) as f64;
            let score = match taste {
                Taste::Cheapest(level) if board.cost.get(level).is_some_and(|&cost| cost > 0) => {
                    -(board.cost[level] as f64) / yielded as f64
                }
                Taste::Cheapest(_) => fullness,
                Taste::Fullest => fullness,
                Taste::Longest => yielded as f64,
            };
            if best.as_ref().is_none_or(|(value, _)| score > *value) {
                best = Some((score, pattern));
            }
        }
        let (_, pattern) = best?;
        let counts = pattern.counts();
        let mut times = counts
            .iter()
            .map(|&(part, count)| left[part] / count)
            .min()?;
        if let Some(supply) = &mut supply[pattern.board] {
            times = times.min(*supply);
            *supply -= times;
        }
        for &(part, count) in &counts {
            left[part] -= count * times;
        }
        plan.push((pattern, times));
    }
    Some(plan)
}

/// One board filled with the longest parts that fit, in order.
fn filled(problem: &Problem, index: usize, order: &[usize], left: &[u32]) -> Pattern {
    let board = &problem.boards[index];
    let section = &problem.sections[board.section];
    let mut left = left.to_vec();
    let runs = match &board.shape {
        Shape::Runs(runs) => runs
            .iter()
            .map(|run| filled_run(section, run.length, order, &mut left))
            .collect(),
        &Shape::OneCut { together, each } if together <= each[0] + each[1] => {
            let first = filled_run(section, each[0].min(together), order, &mut left);
            let rest = (together - section.need(&first)).min(each[1]);
            let second = filled_run(section, rest, order, &mut left);
            vec![first, second]
        }
        Shape::OneCut { .. } => vec![Vec::new(), Vec::new()],
    };
    Pattern { board: index, runs }
}

fn filled_run(
    section: &Section,
    length: Ticks,
    order: &[usize],
    left: &mut [u32],
) -> Vec<(usize, u32)> {
    let mut parts: Vec<(usize, u32)> = Vec::new();
    let mut need = 0;
    for &part in order {
        let Some(fit) = section.fits[part] else {
            continue;
        };
        if left[part] == 0 {
            continue;
        }
        // The largest count that fits, by halving; what a run needs never falls when a part is added.
        let (mut fits, mut fails) = (
            0u32,
            left[part].min(((length - need) / fit.length.max(1)).clamp(0, 1 << 30) as u32 + 2) + 1,
        );
        while fits + 1 < fails {
            let middle = fits.midpoint(fails);
            parts.push((part, middle));
            if middle <= left[part] && section.need(&parts) <= length {
                fits = middle;
            } else {
                fails = middle;
            }
            parts.pop();
        }
        if fits > 0 {
            parts.push((part, fits));
            left[part] -= fits;
            need = section.need(&parts);
        }
    }
    parts.sort_unstable();
    parts
}
