//! Branching: which number of boards to decide on.
//!
//! **Idea** (branching on sums of columns by what they are cut from: Vance 1998, Belov and Scheithauer 2006). A decision on how many boards of a set
//! are used leaves pricing as it is. The sum over all boards that cost something comes first, then sums over the longest so many kinds of a section,
//! then single kinds: wide sets first, since they move the bound most. Within a rank the value nearest to a half is taken. Boards that are free are
//! decided on last; how many of them are used seldom moves a bound. Of the length used up it is decided first how many offcuts are kept (our own): a
//! solution mixes cuttings that leave next to nothing with ones that keep an offcut as long as a board, and no plan has half of an offcut.
//!
//! **Invariant.** A set that is chosen has a fractional sum, so each side cuts the solution off. **Why it ends:** one pass over the sets.

use crate::board_shape::longest_clear_run;
use crate::branch_path::{BranchSide, Counted, SetDecision};
use crate::limits::{INTEGRAL, INTEGRAL_MARGIN};
use crate::objective::Objective;
use crate::problem::Problem;

/// A split to be made.
pub(crate) struct Split {
    /// The set of boards, ascending.
    pub(crate) boards: Vec<usize>,
    pub(crate) counted: Counted,
    pub(crate) at: u32,
    /// Whether the solution is on the side of more.
    pub(crate) more: bool,
}

/// A set of boards, ascending, what is counted of them, and that number in a solution, which is fractional; `None` where every number is integral.
/// `used` has how many of each board are used, `kept` how many offcuts of each are kept.
pub(crate) fn choose(
    problem: &Problem,
    objective: Objective,
    used: &[f64],
    kept: impl FnOnce() -> Vec<f64>,
) -> Option<(Vec<usize>, Counted, f64)> {
    let offcuts = || match objective {
        Objective::UsedLength => fractional_offcuts(problem, &kept()),
        _ => None,
    };
    let of = |counted| move |(boards, value)| (boards, counted, value);
    let boards = || fractional_boards(problem, objective, used);
    offcuts()
        .map(of(Counted::Kept))
        .or_else(|| boards().map(of(Counted::Boards)))
}

/// A set of boards of which a fractional number of offcuts is kept: all of which they are counted, or one kind of them.
fn fractional_offcuts(problem: &Problem, kept: &[f64]) -> Option<(Vec<usize>, f64)> {
    let counted_of = with_offcuts(problem);
    fractional_sum(&counted_of, kept).or_else(|| {
        let each = counted_of.iter().map(|&board| vec![board]);
        nearest_half(&each.collect::<Vec<_>>(), kept)
    })
}

/// The boards of which offcuts are counted.
fn with_offcuts(problem: &Problem) -> Vec<usize> {
    let boards = 0..problem.boards.len();
    boards
        .filter(|&board| problem.lasting_runs(board).is_some())
        .collect()
}

/// The set whose sum is nearest to a half, of those whose sum is fractional.
fn nearest_half(sets: &[Vec<usize>], of: &[f64]) -> Option<(Vec<usize>, f64)> {
    sets.iter()
        .filter_map(|set| fractional_sum(set, of))
        .min_by(|one, other| from_half(one.1).total_cmp(&from_half(other.1)))
}

/// A set of boards of which a fractional number is used.
fn fractional_boards(
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
    nearest_half(&sets, used).or_else(|| {
        let free: Vec<Vec<usize>> = (0..problem.boards.len())
            .filter(|&board| !costs(board))
            .map(|board| vec![board])
            .collect();
        nearest_half(&free, used)
    })
}

/// A number that the path leaves open, though it is integral in the solution: the split that fixes it. `None` where all are fixed. Of the costs these are
/// the numbers of each kind of board bought; of the length used up, how many offcuts are kept and how many there are of each kind of board, since both
/// together nearly settle it.
pub(crate) fn unfixed_number(
    problem: &Problem,
    objective: Objective,
    (used, kept): (&[f64], impl FnOnce() -> Vec<f64>),
    path: &[SetDecision],
) -> Option<Split> {
    let boards = 0..problem.boards.len();
    let fix = |boards: Vec<usize>, counted: Counted, of: &[f64]| {
        fixing(problem, (boards, counted), of, path)
    };
    match objective {
        Objective::Cost(level) => {
            let costs = |board: &usize| {
                let mut costs = problem.boards[*board].cost[..=level].iter();
                costs.any(|&cost| cost > 0)
            };
            let mut bought = boards.filter(costs);
            bought.find_map(|board| fix(vec![board], Counted::Boards, used))
        }
        Objective::UsedLength => {
            let (kept, counted_of) = (kept(), with_offcuts(problem));
            let mut numbers = boards.map(|board| (vec![board], Counted::Boards, used));
            let mut each = counted_of
                .iter()
                .map(|&board| (vec![board], Counted::Kept, &kept[..]));
            let all = fix(counted_of.clone(), Counted::Kept, &kept);
            all.or_else(|| numbers.find_map(|(boards, counted, of)| fix(boards, counted, of)))
                .or_else(|| each.find_map(|(boards, counted, of)| fix(boards, counted, of)))
        }
        _ => None,
    }
}

/// The split that fixes a number of a set, where the path leaves it open.
fn fixing(
    problem: &Problem,
    (boards, counted): (Vec<usize>, Counted),
    of: &[f64],
    path: &[SetDecision],
) -> Option<Split> {
    let sum: f64 = boards.iter().map(|&board| of[board]).sum();
    let now = sum.round() as u32;
    let (low, mut high) = range(&boards, counted, path);
    let supply = |&board: &usize| problem.boards[board].supply;
    if let Some(supply) = boards.iter().map(supply).sum::<Option<u32>>() {
        high = high.min(supply);
    }
    let split = |at: u32, more: bool| Split {
        boards,
        counted,
        at,
        more,
    };
    if high > now {
        Some(split(now, false))
    } else if low < now {
        Some(split(now - 1, true))
    } else {
        None
    }
}

/// The least and the most of what is counted of a set that the path allows.
fn range(set: &[usize], counts: Counted, path: &[SetDecision]) -> (u32, u32) {
    let (mut low, mut high) = (0, u32::MAX);
    for SetDecision {
        boards,
        counted,
        side,
    } in path
    {
        if *counted == counts && boards[..] == *set {
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
