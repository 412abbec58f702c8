//! Ordinary jobs of every kind, end to end: planned, checked, written to files and read again.
//!
//! Every plan that the planner reports on the way must hold, since a person may stop there. The planner's proofs of the buying should be
//! confirmed by the checker; the report counts how often they are.

use crate::dice::Dice;
use crate::jobs;
use crate::part::{Attack, Met};
use crate::planned;
use lengthwise::check::{Effort, Standing, check_group};
use lengthwise::io::plan_file;
use lengthwise::job::Job;
use lengthwise::plan::{Measure, Plan};
use lengthwise::planner::Planned;
use lengthwise::{report, wording};
use serde_json::{Value, json};

/// This part of the attack.
pub struct Ordinary;

impl Attack for Ordinary {
    fn make(&mut self, dice: &mut Dice) -> Value {
        json!({ "job": jobs::job(dice) })
    }

    fn judge(&mut self, case: &Value) -> Result<Met, String> {
        let Ok(job) = planned::read(&case["job"]) else {
            return Ok(vec!["jobs with faults"]);
        };
        let mut on_the_way = Ok(());
        let found = planned::plan(&job, planned::ASKS, &mut |plan| {
            if on_the_way.is_ok() {
                on_the_way = holds(&job, plan);
            }
        });
        on_the_way?;
        match found {
            Planned::Found(plan) => follow(&job, plan),
            Planned::Impossible(lacks) => {
                for lack in &lacks {
                    if wording::lack_text(&job, lack).trim().is_empty() {
                        return Err("impossible without a word".into());
                    }
                }
                Ok(vec!["impossible"])
            }
            Planned::NothingYet => Ok(vec!["without a plan yet"]),
        }
    }
}

/// Whether the cuts of an intermediate plan hold. A group reports by itself, before the others have a plan.
fn holds(job: &Job, plan: &Plan) -> Result<(), String> {
    let [proof] = plan.proofs.as_slice() else {
        return Err("a plan on the way is of several groups: one is expected".into());
    };
    check_group(job, &proof.sections, plan.clone(), Effort::NONE)
        .map(drop)
        .map_err(|lies| format!("a plan on the way is refused: {}", lies[0]))
}

fn follow(job: &Job, plan: Plan) -> Result<Met, String> {
    let checked = planned::checked(job, plan)?;
    let mut met = vec!["planned"];
    for level in checked.groups().iter().flat_map(|group| &group.levels) {
        if level.measure == Measure::Scrap {
            continue;
        }
        met.push(match level.standing() {
            Standing::ReProved => "levels of buying proven again",
            Standing::ClaimOnly(_) => "levels of buying only claimed",
            Standing::Gap => "levels of buying open",
        });
    }
    let written = plan_file::write(checked.plan());
    let again = plan_file::read(&written)?;
    if &again != checked.plan() {
        return Err("a plan file is written otherwise: it reads as another plan".into());
    }
    let report = report::build(job, &checked);
    let texts = [
        report::text::text(&report),
        report::standalone(&report.drawing, 1_000),
        report::csv::saw(&report),
        report::csv::buying(&report),
        wording::check_text(job, &checked),
    ];
    match texts.iter().all(|text| !text.is_empty()) {
        true => Ok(met),
        false => Err("an output is empty".into()),
    }
}
