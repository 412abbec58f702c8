//! The objective: what one level of the lexicographic aims makes least, and the objectives of auxiliary programs.

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
