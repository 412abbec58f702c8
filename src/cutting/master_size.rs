//! How large the program of a problem is, and whether it is made at all.

use crate::limits::{MASTER_ROWS, ROWS_BESIDE, RUN_STATES};
use crate::problem::Problem;
use crate::run_states::RunStates;

/// How large the program of a problem is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum MasterSize {
    /// Small enough that another can be made beside it.
    Usual,
    /// One such program is the most that memory is for.
    Large,
    /// Beyond what is tried: there are first plans and no bounds.
    TooLarge,
}

impl MasterSize {
    pub(crate) fn of(problem: &Problem) -> MasterSize {
        let many = |section| RunStates::new(problem, section).states > RUN_STATES;
        match rows(problem) {
            rows if rows > MASTER_ROWS => MasterSize::TooLarge,
            _ if problem.sections.iter().any(many) => MasterSize::TooLarge,
            rows if rows > ROWS_BESIDE => MasterSize::Large,
            _ => MasterSize::Usual,
        }
    }
}

/// The rows of a problem's program: parts, limited boards and levels.
pub(crate) fn rows(problem: &Problem) -> usize {
    let limited = problem.boards.iter().filter(|board| board.supply.is_some());
    let levels = problem.boards.first().map_or(0, |board| board.cost.len());
    problem.demand.len() + limited.count() + levels
}
