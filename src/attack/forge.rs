//! A forger: plans that hold but are not the best, with false proofs that they are.
//!
//! A plan is made from jobs like the one at hand ([`plans`]): with fewer lengths on sale, with another aim, or with parts moved to boards
//! of their own. A false proof is made from true ones, of the best plan and of those other jobs. The figures that the plan would need are
//! written into it, and then it is changed anywhere ([`lies`]), or a new argument is built around it ([`whole`]). Whatever the checker then
//! says of such a plan, it must not say that nothing better can be bought. The true optimum is the planner's proven answer, which another
//! part of the attack compares with another solver.

mod blanks;
mod kept;
mod lies;
mod pairs;
mod place;
mod plans;
mod together;
mod whole;

use crate::dice::Dice;
use crate::jobs;
use crate::part::{Attack, Met};
use crate::planned;
use lengthwise::check::{CheckedPlan, Effort, check_within};
use lengthwise::io::plan_file;
use lengthwise::plan::Measure;
use plans::Base;
use serde_json::{Value, json};
use std::panic::{AssertUnwindSafe, catch_unwind};

/// How many forgeries are made for one job.
const FORGERIES: usize = 400;

/// Limit of the checker's sums for most forgeries; a few get the limit of a person's plan.
const LITTLE_EFFORT: u64 = 3_000_000;
const FULL_EFFORT_IN: usize = 100;

/// This part of the attack.
#[derive(Default)]
pub struct Forger {
    base: Option<(Value, Base)>,
    left: usize,
    /// The least totals of the job that was judged last, with that job's text.
    truth: Option<(String, Option<Truth>)>,
}

/// For each group, in the checker's order, the least that can be bought, level by level; only proven levels.
type Truth = Vec<Vec<(Measure, i64)>>;

impl Attack for Forger {
    fn make(&mut self, dice: &mut Dice) -> Value {
        while self.left == 0 || self.base.is_none() {
            let job = match dice.below(6) {
                0 => pairs::job(dice),
                1 => together::job(dice),
                _ => jobs::job(dice),
            };
            match catch_unwind(AssertUnwindSafe(|| Base::of(&job, dice))) {
                Ok(Some(base)) => self.base = Some((job, base)),
                Ok(None) => continue,
                // The planner failed; judging the bare job will show it.
                Err(_) => return json!({ "job": job }),
            }
            self.left = FORGERIES;
        }
        self.left -= 1;
        let Some((job, base)) = &self.base else {
            return Value::Null;
        };
        let effort = if dice.once_in(FULL_EFFORT_IN) {
            Effort::USUAL.0
        } else {
            LITTLE_EFFORT
        };
        if dice.once_in(20) {
            return json!({ "job": job, "blanks": dice.next() >> 12 });
        }
        json!({ "job": job, "plan": lies::forged(dice, base), "effort": effort })
    }

    fn judge(&mut self, case: &Value) -> Result<Met, String> {
        let Ok(job) = planned::read(&case["job"]) else {
            return Ok(vec!["jobs with faults"]);
        };
        if let Some(seed) = case["blanks"].as_u64() {
            return blanks::judge(job, seed);
        }
        let key = case["job"].to_string();
        if self.truth.as_ref().is_none_or(|(known, _)| *known != key) {
            let truth = planned::checked_plan(&job)?.and_then(|checked| truth(&checked));
            self.truth = Some((key, truth));
        }
        let Some((_, Some(truth))) = &self.truth else {
            return Ok(vec!["jobs without a proven plan"]);
        };
        let Ok(plan) = plan_file::read_value(&case["plan"]) else {
            return Ok(vec!["not read"]);
        };
        let effort = case["effort"].as_u64().unwrap_or(LITTLE_EFFORT);
        match check_within(&job, plan, Effort(effort.min(Effort::USUAL.0))) {
            Err(lies) if lies.is_empty() => Err("refused without a word".into()),
            Err(_) => Ok(vec!["refused"]),
            Ok(checked) => verdict(&checked, truth),
        }
    }
}

/// The least totals, where every level that decides what is bought is proven.
fn truth(checked: &CheckedPlan) -> Option<Truth> {
    let groups = checked.groups().iter().map(|group| {
        let levels = group.deciding().iter().map(|level| {
            (level.bound == Some(level.value)).then_some((level.measure, level.value))
        });
        levels.collect::<Option<Vec<_>>>()
    });
    groups.collect()
}

/// Compares the checker's verdict on a forgery with the truth.
fn verdict(checked: &CheckedPlan, truth: &Truth) -> Result<Met, String> {
    if checked.groups().len() != truth.len() {
        return Err("groups: there are others than before".into());
    }
    let mut best = true;
    for (group, least) in checked.groups().iter().zip(truth) {
        for (level, &(measure, least)) in group.levels.iter().zip(least) {
            if level.measure != measure {
                return Err(format!(
                    "levels: {:?} stands for {measure:?}",
                    level.measure
                ));
            }
            if level.value < least {
                return Err(format!(
                    "the planner is beaten: {} of {measure:?}, not {least}",
                    level.value
                ));
            }
            if level.value > least {
                best = false;
                if level.is_shown() {
                    return Err(format!(
                        "a lie is believed: {} of {measure:?} is called the least, {least} is",
                        level.value
                    ));
                }
                // Later levels are about plans with this greater total, and the true optimum for those is not known here.
                break;
            }
        }
    }
    let settled = checked.verdict().settles_buying();
    match (settled, best) {
        (true, false) => Err("a lie is believed: the buying is called settled".into()),
        (true, true) => Ok(vec!["true plans, believed"]),
        (false, true) => Ok(vec!["true plans, not believed"]),
        (false, false) => Ok(vec!["false plans, not believed"]),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_lie_that_is_believed_is_told() {
        let job = json!({ "format": "lengthwise-job", "sections": [{ "name": "post" }],
            "yard": [{ "length": "2400", "price": "6" }, { "length": "3000", "price": "7" }],
            "parts": [{ "label": "leg", "length": 1_000, "quantity": 2 }] });
        let sound = planned::read(&job).expect("a sound job");
        let checked = planned::checked_plan(&sound)
            .expect("a plan that holds")
            .expect("a plan");
        let known = truth(&checked).expect("a proven plan");
        assert_eq!(known, [[(Measure::Bought, 1), (Measure::Money, 600)]]);
        assert_eq!(verdict(&checked, &known), Ok(vec!["true plans, believed"]));
        // If less could be bought, the proof of this plan would be false.
        for less in [
            [(Measure::Bought, 0), (Measure::Money, 600)],
            [(Measure::Bought, 1), (Measure::Money, 599)],
        ] {
            let why = verdict(&checked, &vec![less.to_vec()]).expect_err("a lie");
            assert!(why.starts_with("a lie is believed"), "{why}");
        }
        let more = vec![vec![(Measure::Bought, 2), (Measure::Money, 1_200)]];
        let why = verdict(&checked, &more).expect_err("a plan that beats the planner");
        assert!(why.starts_with("the planner is beaten"), "{why}");
    }
}
