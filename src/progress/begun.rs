//! A job as a plan has it that may have been made before narrow parts shared blanks. What is cut stays cut: such a plan is not lost.

use crate::job::Job;
use crate::plan::{Plan, Source};

/// The job whose parts the plan cuts: this one, or this one with every narrow part cut by itself; `None` where it is of another job.
pub fn as_begun(job: Job, plan: &Plan) -> Option<Job> {
    let shares = job.parts.iter().any(|part| part.strips.len() > 1);
    if !shares || plan.boards.is_empty() || cuts_all(&job, plan) {
        return fits(&job, plan).then_some(job);
    }
    let apart = job.without_blanks();
    fits(&apart, plan).then_some(apart)
}

/// Whether every index of the plan exists in the job.
fn fits(job: &Job, plan: &Plan) -> bool {
    plan.boards.iter().all(|board| {
        let known = match board.source {
            Source::Shed(shed) => shed < job.shed.len(),
            Source::Yard(line) => line < job.yard.len(),
        };
        known
            && board
                .runs
                .iter()
                .flat_map(|run| &run.cuts)
                .all(|cut| cut.part < job.parts.len())
    })
}

/// Whether the plan cuts every part of the job as often as it is wanted and at its length.
fn cuts_all(job: &Job, plan: &Plan) -> bool {
    let mut left: Vec<u32> = job.parts.iter().map(|part| part.quantity).collect();
    let runs = plan.boards.iter().flat_map(|board| &board.runs);
    for cut in runs.flat_map(|run| &run.cuts) {
        match left.get_mut(cut.part) {
            Some(left) if *left > 0 && cut.end - cut.start == job.parts[cut.part].length => {
                *left -= 1;
            }
            _ => return false,
        }
    }
    left.iter().all(|left| *left == 0)
}
