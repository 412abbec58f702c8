//! Branching: which number of boards to decide on.
//!
//! **Idea** (branching on sums of columns by what they are cut from: Vance 1998, Belov and Scheithauer 2006). A decision on how many boards of a set
//! are used leaves pricing as it is. The sum over all boards that cost something comes first, then sums over the longest so many kinds of a section,
//! then single kinds: wide sets first, since they move the bound most. Within a rank the value nearest to a half is taken. Boards that are free are
//! decided on last; how many of them are used seldom moves a bound.
//!
//! **Invariant.** A set that is chosen has a fractional sum, so each side cuts the solution off. **Why it ends:** one pass over the sets.

use crate::board_shape::longest_clear_run;
use crate::branch_path::{BranchSide, SetDecision};
use crate::limits::{INTEGRAL, INTEGRAL_MARGIN};
use crate::objective::Objective;
use crate::problem::Problem;

/// A set of boards, ascending, and the sum of `used` over it, which is fractional; `None` where every sum is integral.
pub(crate) fn choose(
    problem: &Problem,
    objective: Objective,
    used: &[f64],
) -> Option<(Vec<usize>, f64)> {
    let level = if let Objective::Cost(level) = objective {
        level
    } else {
        0
    };
    let costs = |board: usize| problem.boards[board].cost.get(level).copied().unwrap_or(0) > 0;
    let bought: Vec<usize> = (0..problem.boards.len())
        .filter(|&board| costs(board))
        .collect();
    if let Some(split) = fractional_sum(&bought, used) {
        return Some(split);
    }
    let mut by_length = bought.clone();
    order::sort_by_key(&mut by_length, |&board| {
        (
            problem.boards[board].section,
            -longest_clear_run(&problem.boards[board].shape),
        )
    });
    let mut sets: Vec<Vec<usize>> = Vec::new();
    for end in 2..by_length.len() {
        let section = problem.boards[by_length[end - 1]].section;
        let mut set: Vec<usize> = by_length[..end]
            .iter()
            .copied()
            .filter(|&board| problem.boards[board].section == section)
            .collect();
        order::sort(&mut set);
        sets.push(set);
    }
    sets.extend(bought.iter().map(|&board| vec![board]));
    let nearest = |sets: &[Vec<usize>]| {
        sets.iter()
            .filter_map(|set| fractional_sum(set, used))
            .min_by(|one, other| from_half(one.1).total_cmp(&from_half(other.1)))
    };
    nearest(&sets).or_else(|| {
        let free: Vec<Vec<usize>> = (0..problem.boards.len())
            .filter(|&board| !costs(board))
            .map(|board| vec![board])
            .collect();
        nearest(&free)
    })
}

/// A kind of bought board whose number the path leaves open, though it is integral in the solution: the split that fixes it, as the
/// set, the number split at, and whether the solution is on the side of more. `None` where all are fixed.
pub(crate) fn unfixed_number(
    problem: &Problem,
    objective: Objective,
    used: &[f64],
    path: &[SetDecision],
) -> Option<(usize, u32, bool)> {
    let Objective::Cost(level) = objective else {
        return None;
    };
    (0..problem.boards.len())
        .filter(|&board| {
            problem.boards[board].cost[..=level]
                .iter()
                .any(|&cost| cost > 0)
        })
        .find_map(|board| {
            let now = used[board].round() as u32;
            let (low, high) = range(board, path);
            if high > now
                && problem.boards[board]
                    .supply
                    .is_none_or(|supply| supply > now)
            {
                Some((board, now, false))
            } else if low < now {
                Some((board, now - 1, true))
            } else {
                None
            }
        })
}

/// The least and the most of a kind of board that the path allows.
fn range(board: usize, path: &[SetDecision]) -> (u32, u32) {
    let (mut low, mut high) = (0, u32::MAX);
    for SetDecision { boards, side } in path {
        if boards[..] == [board] {
            match *side {
                BranchSide::AtMost(at) => high = high.min(at),
                BranchSide::AtLeast(at) => low = low.max(at),
            }
        }
    }
    (low, high)
}

fn fractional_sum(set: &[usize], used: &[f64]) -> Option<(Vec<usize>, f64)> {
    if set.is_empty() {
        return None;
    }
    let sum: f64 = set.iter().map(|&board| used[board]).sum();
    ((sum - sum.round()).abs() > INTEGRAL * INTEGRAL_MARGIN).then(|| (set.to_vec(), sum))
}

fn from_half(value: f64) -> f64 {
    (value - value.floor() - 0.5).abs()
}
