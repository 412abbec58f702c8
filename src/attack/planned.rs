//! Steps that several parts share: reading a job, planning it without a clock, checking the plan.

use lengthwise::check::{CheckedPlan, Effort, check_within};
use lengthwise::io::job_file;
use lengthwise::job::{Job, validate};
use lengthwise::patience::{Limits, Patience};
use lengthwise::plan::Plan;
use lengthwise::planner::{Planned, plan_job};
use serde_json::Value;

/// This many checks of the clock are enough to settle nearly every job that is made up here.
pub const ASKS: u64 = 2_000;

/// A job without faults.
///
/// # Errors
/// The first fault of the job.
pub fn read(job: &Value) -> Result<Job, String> {
    let (draft, faults) = job_file::read_value(job);
    if let Some(fault) = faults.first() {
        return Err(fault.to_string());
    }
    validate(&draft).map_err(|faults| faults[0].to_string())
}

/// Plans a job without a clock; `hear` is called with every better plan.
pub fn plan(job: &Job, asks: u64, hear: &mut dyn FnMut(&Plan)) -> Planned {
    let clock = || 0.0;
    plan_job(job, &mut Patience::new(Limits::asks(asks), &clock, hear))
}

/// Checks a plan of our own, which must hold.
///
/// # Errors
/// The checker's findings.
pub fn checked(job: &Job, plan: Plan) -> Result<CheckedPlan, String> {
    check_within(job, plan, Effort::USUAL)
        .map_err(|lies| format!("our own plan is refused: {}", lies[0]))
}

/// Plans a job and checks the plan; `None` where there is no plan.
///
/// # Errors
/// As [`checked`].
pub fn checked_plan(job: &Job) -> Result<Option<CheckedPlan>, String> {
    match plan(job, ASKS, &mut |_| {}) {
        Planned::Found(plan) => checked(job, plan).map(Some),
        Planned::Impossible(_) | Planned::NothingYet => Ok(None),
    }
}
