//! What the tests of whole jobs share: a job in, a checked plan out.

#![allow(dead_code)] // Not every test file uses all of it.

pub mod command;
pub mod hand;
pub mod random;

use lengthwise::check::{CheckedPlan, Standing, check};
use lengthwise::io::job_file;
use lengthwise::job::{Job, validate};
use lengthwise::patience::{Limits, Patience};
use lengthwise::plan::{Measure, Plan};
use lengthwise::planner::{Planned, plan_job};

/// This many checks of the clock settle the buying in every job of these tests, in the same way on every machine.
const ASKS: u64 = 4_000;

#[track_caller]
pub fn job(text: &str) -> Job {
    let (draft, faults) = job_file::read(text);
    assert_eq!(faults, []);
    validate(&draft).unwrap_or_else(|faults| panic!("faults: {faults:?}"))
}

pub fn planned(job: &Job) -> Planned {
    planned_within(job, ASKS)
}

/// Plans a job, and stops after this many checks of the clock.
pub fn planned_within(job: &Job, asks: u64) -> Planned {
    let clock = || 0.0;
    let mut hear = |_: &Plan| {};
    let mut patience = Patience::new(Limits::asks(asks), &clock, &mut hear);
    plan_job(job, &mut patience)
}

/// Plans and checks a job that can be planned.
#[track_caller]
pub fn checked(job: &Job) -> CheckedPlan {
    match planned(job) {
        Planned::Found(plan) => check(job, plan).unwrap_or_else(|lies| panic!("lies: {lies:?}")),
        other => panic!("no plan: {other:?}"),
    }
}

/// The total of a measure over all groups; in every group the planner must have proven it and the checker confirmed it.
#[track_caller]
pub fn proven(checked: &CheckedPlan, measure: Measure) -> i64 {
    let levels = checked
        .groups()
        .iter()
        .flat_map(|group| &group.levels)
        .filter(|level| level.measure == measure);
    let mut total = 0;
    let mut met = 0;
    for level in levels {
        assert_eq!(level.standing(), Standing::ReProved, "{level:?}");
        total += level.value;
        met += 1;
    }
    assert!(met > 0, "nothing measures {measure:?}");
    total
}
