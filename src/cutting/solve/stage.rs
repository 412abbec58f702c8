//! What is made small at the moment, and which totals it can come to.

use super::pattern::Pattern;
use crate::problem::{Problem, Shape, Trailing};

/// One step of the lexicographic aims.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Stage {
    /// Fewest parts left over; nothing but that counts. It settles whether a plan exists.
    Missing,
    /// One cost level of the boards.
    Cost(usize),
    /// The length used up.
    Used,
    /// The length of the boards touched. No aim of its own: with a limit on what is bought it tells plans that leave room
    /// from plans that waste it, which the cost itself cannot.
    Touched,
    /// How far the boards would have to be stretched for everything to fit: no aim either. Its prices leave the least slack
    /// in a given choice of boards, which is what tells the patterns that can be in a plan from those that cannot.
    Stretch,
}

impl Stage {
    /// What using a pattern costs at this stage.
    pub(super) fn cost(self, problem: &Problem, pattern: &Pattern) -> i64 {
        match self {
            Stage::Missing | Stage::Stretch => 0,
            Stage::Cost(level) => problem.boards[pattern.board].cost[level],
            Stage::Used => pattern.used(problem),
            Stage::Touched => self.board_cost(problem, pattern.board),
        }
    }

    /// What one board costs at this stage before anything is cut from it.
    pub(super) fn board_cost(self, problem: &Problem, board: usize) -> i64 {
        match self {
            Stage::Missing | Stage::Used | Stage::Stretch => 0,
            Stage::Cost(level) => problem.boards[board].cost[level],
            Stage::Touched => problem.boards[board].lost + clear(&problem.boards[board].shape),
        }
    }

    /// The largest cost one board can have at this stage; at least one.
    pub(super) fn largest_cost(self, problem: &Problem) -> i64 {
        let largest = match self {
            Stage::Missing | Stage::Stretch => Some(1),
            Stage::Cost(level) => problem.boards.iter().map(|board| board.cost[level]).max(),
            Stage::Used | Stage::Touched => problem
                .boards
                .iter()
                .map(|board| board.lost + clear(&board.shape))
                .max(),
        };
        largest.unwrap_or(1).max(1)
    }
}

/// The clear length of a board with its tails.
pub(super) fn clear(shape: &Shape) -> i64 {
    match shape {
        Shape::Runs(runs) => runs.iter().map(|run| run.length + run.tail).sum(),
        Shape::OneCut { together, .. } => *together,
    }
}

/// The totals that a stage can come to, sums of board costs or of lengths used up: a bound is raised to the next of them.
pub(super) struct Lift {
    divisor: i64,
    /// Whether `index * divisor` can be reached; beyond its end every multiple is taken for reachable.
    reachable: Vec<bool>,
}

/// Totals are listed one by one up to this many.
const LISTED: i64 = 1 << 20;
/// Listing them takes no more steps than this, one for each total and board.
const LIST_STEPS: i64 = 1 << 26;

impl Lift {
    /// The totals of a stage that matter: up to `most`.
    pub(super) fn new(problem: &Problem, stage: Stage, most: i64) -> Self {
        let every = |divisor| Lift {
            divisor,
            reachable: Vec::new(),
        };
        let level = match stage {
            Stage::Cost(level) => level,
            Stage::Used => return every(step_of_used(problem)),
            Stage::Missing | Stage::Touched | Stage::Stretch => return every(1),
        };
        let priced = || problem.boards.iter().filter(|board| board.cost[level] > 0);
        let divisor = priced()
            .fold(0, |divisor, board| {
                greatest_common_divisor(divisor, board.cost[level])
            })
            .max(1);
        let length = most / divisor + 1;
        let kinds = priced().count() as i64;
        if !(0..LISTED).contains(&length) || length * kinds > LIST_STEPS {
            return Lift {
                divisor,
                reachable: Vec::new(),
            };
        }
        let length = length as usize;
        let mut reachable = vec![false; length];
        reachable[0] = true;
        for board in priced() {
            let step = (board.cost[level] / divisor) as usize;
            let supply = board.supply.unwrap_or(u32::MAX);
            // How many boards of this kind the total has used at least; unreached totals have used too many.
            let mut spent = vec![0u32; length];
            for total in step..length {
                if !reachable[total] && reachable[total - step] && spent[total - step] < supply {
                    reachable[total] = true;
                    spent[total] = spent[total - step] + 1;
                }
            }
        }
        Lift { divisor, reachable }
    }

    /// The least total that is at least `bound`.
    pub(super) fn up(&self, bound: i64) -> i64 {
        if bound <= 0 {
            return 0;
        }
        let first = (bound + self.divisor - 1) / self.divisor;
        let next = (first as usize..self.reachable.len()).find(|&index| self.reachable[index]);
        next.map_or(first.max(self.reachable.len() as i64), |index| index as i64) * self.divisor
    }

    /// The greatest total that is less than `value`, as far as totals are listed.
    pub(super) fn below(&self, value: i64) -> i64 {
        let last = (value - 1).div_euclid(self.divisor);
        let known = (0..self.reachable.len().min((last + 1).max(0) as usize))
            .rev()
            .find(|&index| self.reachable[index]);
        match known {
            Some(index) if (last as usize) < self.reachable.len() => index as i64 * self.divisor,
            _ => last * self.divisor,
        }
    }
}

/// What every length used up is a multiple of: the common divisor of all that one is made up of. By
/// [`Section::used`](crate::problem::Section::used) a run is used up whole, with its tail, or as far as its parts and cuts fill it; of a length cut at the yard the
/// cut is where a piece is as long as it may be, is filled to its end, or leaves an offcut just long enough to keep
/// ([`Section::cut_once`](crate::problem::Section::cut_once)).
fn step_of_used(problem: &Problem) -> i64 {
    let mut made_of = Vec::new();
    for board in &problem.boards {
        made_of.push(board.lost);
        match &board.shape {
            Shape::Runs(runs) => made_of.extend(runs.iter().map(|run| run.length + run.tail)),
            &Shape::OneCut { together, each } => {
                let keep = problem.sections[board.section].keep;
                made_of.extend([together, each[0], each[1], keep]);
            }
        }
    }
    for section in &problem.sections {
        let turnable = section.mitres.iter().any(|mitre| mitre.saving > 0);
        for fit in section.fits.iter().flatten() {
            made_of.push(fit.length);
            match section.trailing(fit.ends, turnable) {
                Trailing::Own(cut) => made_of.push(cut),
                Trailing::Both(mitre) | Trailing::One(mitre) => {
                    let mitre = section.mitres[mitre];
                    made_of.extend([mitre.kerf, mitre.saving, section.kerf]);
                }
            }
        }
    }
    made_of.into_iter().fold(0, greatest_common_divisor).max(1)
}

pub(super) fn greatest_common_divisor(a: i64, b: i64) -> i64 {
    if b == 0 {
        a
    } else {
        greatest_common_divisor(b, a % b)
    }
}
