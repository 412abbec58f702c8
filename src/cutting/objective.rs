//! The objective: what one level of the lexicographic aims makes least, and the objectives of auxiliary programs.

use crate::aims::{Aims, ScrapAim};
use crate::board_shape::clear_length;
use crate::pattern::Pattern;
use crate::problem::Problem;

/// One step of the lexicographic aims.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Objective {
    /// Fewest parts left uncut, whatever it costs. It settles whether a plan exists.
    Shortfall,
    /// One cost level of the boards.
    Cost(usize),
    /// The length used up.
    UsedLength,
    /// The length of the boards touched. No aim of its own: with a limit on what is bought it tells plans that leave room
    /// from plans that waste it, which the cost itself cannot.
    TouchedLength,
    /// How far the boards would have to be stretched for everything to fit: no aim either. Its prices leave the least slack
    /// in a given choice of boards, which is what tells the patterns that can be in a plan from those that cannot.
    Stretch,
}

/// The objectives of all levels, in order.
pub(crate) fn in_order(problem: &Problem, aims: Aims) -> Vec<Objective> {
    let levels = problem.boards.first().map_or(0, |board| board.cost.len());
    let mut objectives: Vec<Objective> = (0..levels).map(Objective::Cost).collect();
    match aims.scrap {
        ScrapAim::Least => objectives.push(Objective::UsedLength),
        ScrapAim::LeastAfter(place) => objectives.insert(place.min(levels), Objective::UsedLength),
        ScrapAim::Ignored => {}
    }
    objectives
}

/// The values that the earlier levels keep to, in order.
pub(crate) type Earlier = Vec<(Objective, i64)>;

/// Whether the length used up is among these levels.
pub(crate) fn counts_used(objective: Objective, earlier: &[(Objective, i64)]) -> bool {
    let mut levels = earlier.iter().map(|level| level.0).chain([objective]);
    levels.any(|level| level == Objective::UsedLength)
}

/// What a tick that is used up is charged, where the objective has this scale and the earlier levels these prices.
pub(crate) fn tick_cost(
    objective: Objective,
    scale: i64,
    earlier: &[(Objective, i64)],
    prices: &[i64],
) -> i64 {
    let before = earlier
        .iter()
        .map(|level| level.0)
        .zip(prices.iter().copied());
    let mut levels = before.chain([(objective, scale)]);
    let used = levels.find(|(level, _)| *level == Objective::UsedLength);
    used.map_or(0, |(_, price)| price)
}

impl Objective {
    /// What using a pattern costs at this objective.
    pub(crate) fn cost(self, problem: &Problem, pattern: &Pattern) -> i64 {
        match self {
            Objective::Shortfall | Objective::Stretch => 0,
            Objective::Cost(level) => problem.boards[pattern.board].cost[level],
            Objective::UsedLength => pattern.used(problem),
            Objective::TouchedLength => self.board_cost(problem, pattern.board),
        }
    }

    /// What one board costs at this objective before anything is cut from it.
    pub(crate) fn board_cost(self, problem: &Problem, board: usize) -> i64 {
        match self {
            Objective::Shortfall | Objective::UsedLength | Objective::Stretch => 0,
            Objective::Cost(level) => problem.boards[board].cost[level],
            Objective::TouchedLength => {
                problem.boards[board].lost + clear_length(&problem.boards[board].shape)
            }
        }
    }

    /// What a total counts as at least.
    pub(crate) fn floor(self, problem: &Problem) -> i64 {
        match self {
            Objective::Cost(level) => problem.floor(level),
            _ => 0,
        }
    }

    /// The largest cost one board can have at this objective; at least one.
    pub(crate) fn largest_cost(self, problem: &Problem) -> i64 {
        let largest = match self {
            Objective::Shortfall | Objective::Stretch => Some(1),
            Objective::Cost(level) => problem.boards.iter().map(|board| board.cost[level]).max(),
            Objective::UsedLength | Objective::TouchedLength => problem
                .boards
                .iter()
                .map(|board| board.lost + clear_length(&board.shape))
                .max(),
        };
        largest.unwrap_or(1).max(1)
    }
}
