//! The plan beside the plan: what could be bought if the yard sawed exactly at its readings.
//!
//! A job is planned so that no part comes out short however the yard saws within its tolerance. Where that costs a length, a person should know.
//! So each group in which a length is cut at the yard is planned a second time with no tolerance, within a part of the same time
//! ([`Limits::for_both`]). The second plan is one like any other, of a job like any other, and is believed only once it is checked against that job.

use crate::clear::{carried_runs, standing};
use crate::group::{Group, groups};
use crate::job::{Job, Trim};
use crate::length::Length;
use crate::patience::{Clock, Limits, Patience};
use crate::plan::{Plan, PlannedBoard, PlannedRun, Source};
use crate::planner::{Planned, joined, plan_group, plan_group_in_full};

/// The job with a yard that saws exactly at its readings.
pub fn exact_yard(job: &Job) -> Job {
    Job {
        yard_tolerance: Length::ZERO,
        ..job.clone()
    }
}

/// The job as a plan that is being carried out takes it. One that was made before a yard's tolerance counted has its parts right up to a cut that is
/// sawn by now, and keeps to that.
pub fn as_planned(job: &Job, plan: &Plan) -> Job {
    let mut before = exact_yard(job);
    before.yard_reading = None;
    for section in &mut before.sections {
        section.yard_sawn = Trim::default();
    }
    let is_of =
        |job: &Job, board: &PlannedBoard, run: &PlannedRun| match (board.source, board.yard_cut) {
            (Source::Yard(line), Some(cut)) if line < job.yard.len() => {
                let runs = carried_runs(job, line, cut);
                runs.iter()
                    .any(|one| (one.from, one.to) == (run.from, run.to))
            }
            _ => false,
        };
    let boards = plan.boards.iter();
    let mut runs = boards.flat_map(|board| board.runs.iter().map(move |run| (board, run)));
    let mut now = job.clone();
    now.posts_stand = plan.boards.iter().all(|board| posts_stand(job, board));
    before.posts_stand = now.posts_stand;
    match runs.any(|(board, run)| is_of(&before, board, run) && !is_of(job, board, run)) {
        true => before,
        false => now,
    }
}

/// Whether every part of a board that has to stand on a factory end does. What was planned before that counted does not.
fn posts_stand(job: &Job, board: &PlannedBoard) -> bool {
    let section = match board.source {
        Source::Yard(line) => job.yard.get(line).map(|line| line.section),
        Source::Shed(shed) => job.shed.get(shed).map(|board| board.section),
    };
    let Some(section) = section else { return true };
    let standing = standing(job, board).into_iter().flatten().count();
    let placed = board.runs.iter().flat_map(|run| &run.cuts);
    let posts = placed.filter(|placed| {
        let part = job.parts.get(placed.part);
        part.is_some_and(|part| job.stands_on_factory_end(part, section))
    });
    posts.count() == standing
}

/// Whether the tolerance of the yard makes a difference to what these sections may be cut from.
pub fn counts_in(job: &Job, sections: &[usize]) -> bool {
    let carry = job.carry.filter(|_| job.yard_tolerance > Length::ZERO);
    let cut = |carry: Length| {
        job.yard.iter().any(|line| {
            sections.contains(&line.section) && line.length > carry && line.count != Some(0)
        })
    };
    carry.is_some_and(cut)
}

/// Plans one group of a job, and where the tolerance of the yard counts in it, once more for a yard that saws exactly.
pub fn plan_both(
    job: &Job,
    (index, group): (usize, &Group),
    limits: Limits,
    clock: &Clock,
    hear: &mut dyn FnMut(&Plan),
) -> (Planned, Option<Planned>) {
    if !counts_in(job, &group.sections) {
        let planned = plan_group_in_full(job, group, &mut Patience::new(limits, clock, hear));
        return (planned, None);
    }
    let [limits, beside] = limits.for_both();
    let planned = plan_group_in_full(job, group, &mut Patience::new(limits, clock, hear));
    let exact = exact_yard(job);
    let mut unheard = |_: &Plan| {};
    let second = groups(&exact).get(index).map(|group| {
        plan_group(
            &exact,
            group,
            &mut Patience::new(beside, clock, &mut unheard),
        )
    });
    (planned, second)
}

/// Joins what [`plan_both`] made of each group. In a group where the tolerance counts nothing one plan serves for both; `None` where that is all of
/// them.
pub fn joined_both(groups: Vec<(Planned, Option<Planned>)>) -> (Planned, Option<Planned>) {
    let second = groups.iter().any(|(_, second)| second.is_some());
    let beside = second.then(|| {
        let of_each = groups
            .iter()
            .map(|(one, second)| second.as_ref().unwrap_or(one));
        joined(of_each.cloned().collect())
    });
    (
        joined(groups.into_iter().map(|(one, _)| one).collect()),
        beside,
    )
}
