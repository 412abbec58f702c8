//! Jobs whose blanks were forged: a strip too many, one too few or another one, a blank of another length, another number of blanks. No plan of such a job may pass.

use crate::dice::Dice;
use crate::part::Met;
use crate::planned;
use lengthwise::check::{Effort, check_within};
use lengthwise::job::Job;
use lengthwise::length::Length;
use lengthwise::planner::Planned;

/// Forges one blank of the job and has its plan checked.
pub fn judge(mut job: Job, seed: u64) -> Result<Met, String> {
    let dice = &mut Dice::new(seed);
    let blanks: Vec<usize> = (0..job.parts.len())
        .filter(|&part| !job.parts[part].strips.is_empty())
        .collect();
    if blanks.is_empty() {
        return Ok(vec!["jobs without narrow parts"]);
    }
    let before = job.clone();
    let rows = job.list.len();
    let blank = &mut job.parts[dice.one_of(&blanks)];
    let at = dice.below(blank.strips.len());
    match dice.below(5) {
        0 => blank.strips.push(blank.strips[at]),
        1 => drop(blank.strips.remove(at)),
        2 => blank.strips[at] = (blank.strips[at] + dice.below(rows) + 1) % (rows + 1),
        3 => blank.length += Length::from_ticks(dice.one_of(&[-1, 1])),
        _ => blank.quantity += 1,
    }
    // Planned as it is forged, for a plan of the true job would be refused for its lengths.
    let Planned::Found(plan) = planned::plan(&job, planned::ASKS, &mut |_| {}) else {
        return Ok(vec!["forged blanks without a plan"]);
    };
    match check_within(&job, plan, Effort::NONE) {
        Err(_) => Ok(vec!["forged blanks"]),
        Ok(_) if job.parts == before.parts => Ok(vec!["not read"]),
        Ok(_) => Err("a forged blank passes".into()),
    }
}
