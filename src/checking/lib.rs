//! The checker: works every plan out again from the job alone.
//!
//! The planner may have faults, and a board sawn too short cannot be made longer. So no plan reaches a person before this crate has derived
//! it a second time: the clear runs of every board, the length of every cut, the counts, the totals and the bounds. Its code is slow and
//! obvious, and shares nothing with the planner's. Each false statement is a [`Lie`] with exact figures; all are gathered.
//!
//! Only this crate makes a [`CheckedPlan`]. It keeps the results that were worked out: the offcuts of every board, and how well each claim
//! is shown.

mod blanks;
mod board;
mod cuts;
mod family;
mod figures;
mod ground;
mod groups;
#[cfg(test)]
mod laws;
mod lie;
mod marks;
mod settled;
mod sharing;
mod steps;
mod sums;
mod totals;
mod verdict;
mod wood;
mod worth;
mod yard_reading;

pub use board::{CheckedBoard, Offcut};
pub use lie::{Lie, LieKind, Misshape, Spot};
pub use settled::{Backing, CheckedGroup, CheckedLevel, Reason, Standing};
pub use steps::Effort;
pub use verdict::Verdict;

use groups::{Group, groups};
use sharing::Sharing;
use steps::Steps;
use timber::job::Job;
use timber::marks::{MarkedBoard, mark_board};
use timber::plan::{Plan, Within};

/// A plan that was worked out again from its job and holds.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct CheckedPlan {
    plan: Plan,
    marked: Vec<MarkedBoard>,
    boards: Vec<CheckedBoard>,
    groups: Vec<CheckedGroup>,
    steps: u64,
}

impl CheckedPlan {
    /// The plan.
    pub fn plan(&self) -> &Plan {
        &self.plan
    }

    /// Each board as it comes out when its marks are followed, in the plan's order.
    pub fn marked(&self) -> &[MarkedBoard] {
        &self.marked
    }

    /// The result for each board, its offcuts included, in the plan's order.
    pub fn boards(&self) -> &[CheckedBoard] {
        &self.boards
    }

    /// The results for each group of sections, in the order of their first sections.
    pub fn groups(&self) -> &[CheckedGroup] {
        &self.groups
    }

    /// How far the plan is proven by what was shown here. Words and exit codes follow from this alone.
    pub fn verdict(&self) -> Verdict {
        Verdict::of(&self.groups)
    }

    /// Within what all that is shown of the plan holds.
    pub fn within(&self) -> Within {
        let levels = self.groups.iter().flat_map(|group| &group.levels);
        levels.map(|level| level.within).max().unwrap_or_default()
    }

    /// How many steps of work it took to prove bounds again, as [`Effort`] counts them.
    pub fn steps(&self) -> u64 {
        self.steps
    }
}

/// Checks a plan.
///
/// # Errors
/// Everything that is false about it, never an empty list.
pub fn check(job: &Job, plan: Plan) -> Result<CheckedPlan, Vec<Lie>> {
    check_within(job, plan, Effort::USUAL)
}

/// [`check`] with a limit on the work of checking bounds. All else is always checked in full.
///
/// # Errors
/// Everything that is false about it, never an empty list.
pub fn check_within(job: &Job, plan: Plan, effort: Effort) -> Result<CheckedPlan, Vec<Lie>> {
    check_while(job, plan, effort, &mut || false)
}

/// [`check_within`] with a time limit: `expired` is called every few milliseconds. Once it returns true, bounds that are not shown yet stay
/// claims.
///
/// # Errors
/// Everything that is false about it, never an empty list.
pub fn check_while(
    job: &Job,
    plan: Plan,
    effort: Effort,
    expired: &mut dyn FnMut() -> bool,
) -> Result<CheckedPlan, Vec<Lie>> {
    work_out(job, &groups(job), plan, &mut Steps::new(effort, expired))
}

/// Checks the plan of one group alone, before the plans of the groups are joined: all parts of these sections and no others. `sections` are
/// those of the group, ascending.
///
/// # Errors
/// Everything that is false about it, never an empty list; [`Lie::WrongGroup`] where the job has no such group.
pub fn check_group(
    job: &Job,
    sections: &[usize],
    plan: Plan,
    effort: Effort,
) -> Result<CheckedPlan, Vec<Lie>> {
    let mut group = groups(job);
    group.retain(|group| group.sections == sections);
    if group.is_empty() {
        return Err(vec![Lie::WrongGroup {
            sections: sections.to_vec(),
        }]);
    }
    work_out(job, &group, plan, &mut Steps::new(effort, &mut || false))
}

fn work_out(
    job: &Job,
    groups: &[Group],
    plan: Plan,
    steps: &mut Steps,
) -> Result<CheckedPlan, Vec<Lie>> {
    let mut lies = Vec::new();
    blanks::check_blanks(job, &mut lies);
    if !lies.is_empty() {
        // What is cut across boards is not what is wanted.
        return Err(lies);
    }
    let sharing = Sharing::of_all(job);
    let mut boards: Vec<CheckedBoard> = plan
        .boards
        .iter()
        .enumerate()
        .filter_map(|(index, board)| board::check_board(job, &sharing, (index, board), &mut lies))
        .collect();
    totals::check_counts(job, groups, &plan, &mut lies);
    if !lies.is_empty() {
        // Where boards cannot be cut as planned, totals and bounds would only hide the fault.
        return Err(lies);
    }
    let marked = marks(job, &plan, &mut boards, &mut lies);
    let groups = totals::check_claims(job, groups, (&plan, &boards), steps, &mut lies);
    if !lies.is_empty() {
        return Err(lies);
    }
    Ok(CheckedPlan {
        plan,
        marked,
        boards,
        groups,
        steps: steps.taken(),
    })
}

/// Checks the marks of boards that can be cut as planned; from here on, the offcuts of each board are those of its marks.
fn marks(
    job: &Job,
    plan: &Plan,
    boards: &mut [CheckedBoard],
    lies: &mut Vec<Lie>,
) -> Vec<MarkedBoard> {
    let mut all: Vec<MarkedBoard> = Vec::with_capacity(plan.boards.len());
    for (index, (planned, found)) in plan.boards.iter().zip(boards).enumerate() {
        let marked = mark_board(job, planned);
        found.offcuts = marks::check_marks(job, index, planned, found, &marked, lies);
        all.push(marked);
    }
    all
}
