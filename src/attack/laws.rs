//! Laws (metamorphic tests): what must hold between two jobs, whatever their plans are.
//!
//! The same job typed in another way is bought in the same way, and a job with more to choose from costs no more. No second solver is
//! needed to see that. Only levels that are proven in both are compared, in their order, up to the first that is not. A new law is one more
//! row of [`LAWS`].

mod said;
mod wider;

use crate::dice::Dice;
use crate::jobs;
use crate::part::{Attack, Met};
use crate::planned;
use lengthwise::job::Job;
use lengthwise::plan::{Measure, Within};
use lengthwise::planner::Planned;
use serde_json::{Value, json};

/// The totals of the second job's plan, compared with those of the first.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Relation {
    /// The same.
    Same,
    /// The same, with lengths in this proportion.
    Scaled(i64, i64),
    /// No more; the first level that differs is less.
    NoMore,
}

/// A law: it makes the second job from the first.
pub struct Law {
    name: &'static str,
    relation: Relation,
    /// `None` where the law does not apply to such a job.
    other: fn(&mut Dice, &Value) -> Option<Value>,
}

const LAWS: &[Law] = &[
    Law {
        name: "rows in another order",
        relation: Relation::Same,
        other: said::shuffled,
    },
    Law {
        name: "lengths in sixteenths of an inch",
        relation: Relation::Scaled(5_080, 3_200),
        other: said::in_inches,
    },
    Law {
        name: "units spelled out",
        relation: Relation::Same,
        other: said::spelled,
    },
    Law {
        name: "other names",
        relation: Relation::Same,
        other: said::renamed,
    },
    Law {
        name: "a row in two",
        relation: Relation::Same,
        other: said::row_in_two,
    },
    Law {
        name: "a pair in two rows",
        relation: Relation::Same,
        other: said::pair_in_two,
    },
    Law {
        name: "equal rows in one",
        relation: Relation::Same,
        other: said::rows_in_one,
    },
    Law {
        name: "boards the other way round",
        relation: Relation::Same,
        other: said::turned,
    },
    Law {
        name: "stock that is too short",
        relation: Relation::Same,
        other: said::useless_stock,
    },
    Law {
        name: "another board in the shed",
        relation: Relation::NoMore,
        other: wider::shed_board,
    },
    Law {
        name: "another length at the yard",
        relation: Relation::NoMore,
        other: wider::yard_length,
    },
    Law {
        name: "more at the yard",
        relation: Relation::NoMore,
        other: wider::counts,
    },
    Law {
        name: "either section",
        relation: Relation::NoMore,
        other: wider::sections,
    },
    Law {
        name: "made from anything",
        relation: Relation::NoMore,
        other: wider::made_from,
    },
    Law {
        name: "either face",
        relation: Relation::NoMore,
        other: wider::either_face,
    },
    Law {
        name: "fewer parts",
        relation: Relation::NoMore,
        other: wider::fewer_parts,
    },
    Law {
        name: "a shorter part",
        relation: Relation::NoMore,
        other: wider::shorter_part,
    },
    Law {
        name: "a thinner saw",
        relation: Relation::NoMore,
        other: wider::thinner_saw,
    },
    Law {
        name: "a longer vehicle",
        relation: Relation::NoMore,
        other: wider::vehicle,
    },
    Law {
        name: "a yard that saws better",
        relation: Relation::NoMore,
        other: wider::better_yard,
    },
    Law {
        name: "cheaper",
        relation: Relation::NoMore,
        other: wider::cheaper,
    },
];

/// Laws that do not hold of scrap to the tick: a tape has other steps and a slant other ticks in another unit, what less is cut from a board may be too
/// short to keep, and an end that is not trimmed is kept with the offcut.
const NOT_OF_SCRAP: [&str; 8] = [
    "lengths in sixteenths of an inch",
    "units spelled out",
    "boards the other way round",
    "fewer parts",
    "a shorter part",
    "a thinner saw",
    "a longer vehicle",
    "a yard that saws better",
];

/// The law of the aims, which compares plans of one job.
const AIMS: &str = "each aim is best at its own";

/// This part of the attack.
pub struct Laws;

impl Attack for Laws {
    fn make(&mut self, dice: &mut Dice) -> Value {
        let law = match dice.below(LAWS.len() + 2) {
            at if at < LAWS.len() => LAWS[at].name,
            _ => AIMS,
        };
        json!({ "law": law, "seed": dice.next() >> 12, "job": jobs::job(dice) })
    }

    fn judge(&mut self, case: &Value) -> Result<Met, String> {
        let job = &case["job"];
        if case["law"] == AIMS {
            return aims(job);
        }
        let law = LAWS.iter().find(|law| case["law"] == law.name);
        let law = law.ok_or("there is no such law")?;
        if in_reserve(job) && NOT_OF_RESERVE.contains(&law.name) {
            return Ok(vec!["not spoken of by the law"]);
        }
        if job["aim"] == "scrap" && NOT_OF_SCRAP.contains(&law.name) {
            return Ok(vec!["not spoken of by the law"]);
        }
        let mut dice = Dice::new(case["seed"].as_u64().unwrap_or(0));
        let Some(other) = (law.other)(&mut dice, job) else {
            return Ok(vec!["not spoken of by the law"]);
        };
        let Some(one) = Answer::of(job)? else {
            return Ok(vec!["jobs with faults"]);
        };
        let Some(two) = Answer::of(&other)? else {
            // A law may lead beyond a limit, as that of a kerf.
            return Ok(vec!["beyond a limit"]);
        };
        one.compare(&two, law.relation)
            .map_err(|why| format!("{}: {why}", law.name))
    }

    fn held(&self) -> &'static [&'static str] {
        &["law", "seed"]
    }
}

/// Whether narrow parts of a job share blanks.
fn shares(job: &Job) -> bool {
    job.parts.iter().any(|part| part.strips.len() > 1)
}

/// What a job comes to.
enum Answer {
    /// The levels of all groups added up; proven where each group's level is.
    Totals(Vec<Total>),
    Impossible,
    /// No plan yet, or groups whose levels measure different things.
    Unknown,
}

#[derive(Clone, Copy)]
struct Total {
    measure: Measure,
    value: i64,
    proven: bool,
}

impl Answer {
    fn of(job: &Value) -> Result<Option<Answer>, String> {
        let Ok(job) = planned::read(job) else {
            return Ok(None);
        };
        let plan = match planned::plan(&job, planned::ASKS, &mut |_| {}) {
            Planned::Found(plan) => plan,
            // Other blanks might have been possible.
            Planned::Impossible(_) if shares(&job) => return Ok(Some(Answer::Unknown)),
            Planned::Impossible(_) => return Ok(Some(Answer::Impossible)),
            Planned::NothingYet => return Ok(Some(Answer::Unknown)),
        };
        let checked = planned::checked(&job, plan)?;
        let mut totals: Vec<Total> = Vec::new();
        for (index, group) in checked.groups().iter().enumerate() {
            let own: Vec<Total> = group
                .deciding()
                .iter()
                .map(|level| Total {
                    measure: level.measure,
                    value: level.value,
                    proven: level.bound == Some(level.value) && level.within == Within::Everything,
                })
                .collect();
            if index == 0 {
                totals = own;
                continue;
            }
            let alike = totals.len() == own.len()
                && totals
                    .iter()
                    .zip(&own)
                    .all(|(one, other)| one.measure == other.measure);
            if !alike {
                return Ok(Some(Answer::Unknown));
            }
            for (sum, own) in totals.iter_mut().zip(&own) {
                sum.value += own.value;
                sum.proven &= own.proven;
            }
        }
        Ok(Some(Answer::Totals(totals)))
    }

    fn compare(&self, other: &Answer, relation: Relation) -> Result<Met, String> {
        let (one, two) = match (self, other) {
            (Answer::Totals(one), Answer::Totals(two)) => (one, two),
            (Answer::Unknown, _) | (_, Answer::Unknown) => return Ok(vec!["not settled"]),
            (Answer::Impossible, Answer::Impossible) => return Ok(vec!["impossible in both"]),
            (Answer::Impossible, _) if relation == Relation::NoMore => {
                return Ok(vec!["possible only with more"]);
            }
            (Answer::Impossible, _) => {
                return Err("impossible, and possible when said otherwise".into());
            }
            (_, Answer::Impossible) => {
                return Err("possible, and impossible in the other job".into());
            }
        };
        let mut met = Vec::new();
        for (one, two) in one.iter().zip(two) {
            if one.measure != two.measure || !one.proven || !two.proven {
                break;
            }
            let scaled = match relation {
                Relation::Scaled(by, of) if one.measure == Measure::BoughtLength => {
                    i128::from(one.value) * i128::from(by) / i128::from(of)
                }
                _ => i128::from(one.value),
            };
            met.push("levels compared");
            let found = i128::from(two.value);
            if found < scaled && relation == Relation::NoMore {
                break;
            }
            if found != scaled {
                return Err(format!("{:?} is {scaled} and then {found}", one.measure));
            }
        }
        Ok(met)
    }
}

/// Laws that do not hold where timber is planned in reserve: a spare piece is as long as the longest part of its section and made of what that is made
/// of, which these change.
const NOT_OF_RESERVE: [&str; 2] = ["a shorter part", "either section"];

/// Whether a section has timber in reserve.
fn in_reserve(job: &Value) -> bool {
    let mut sections = job["sections"].as_array().into_iter().flatten();
    sections
        .any(|section| section.get("spares").is_some() || section.get("hidden_defects").is_some())
}

/// Checks that each aim's plan is the best of all these plans at what that aim counts first.
fn aims(job: &Value) -> Result<Met, String> {
    const FIRST: [(&str, Measure); 4] = [
        ("fewest", Measure::Bought),
        ("cheapest", Measure::Money),
        ("shortest", Measure::BoughtLength),
        ("scrap", Measure::Scrap),
    ];
    let mut plans = Vec::new();
    // What may be bought is cheapest or has the least scrap within it, so that the aims are two.
    let said = |section: &Value| section.get("allowed").is_some();
    let allowed = job["sections"].as_array().into_iter().flatten().any(said);
    let packs = job["yard"].as_array().into_iter().flatten();
    let packs = packs.into_iter().any(|line| line.get("pack").is_some());
    let first = &FIRST[..if allowed || packs { 3 } else { 4 }];
    for (aim, _) in first {
        let mut job = job.clone();
        job["aim"] = (*aim).into();
        let Ok(job) = planned::read(&job) else {
            return Ok(vec!["jobs with faults"]);
        };
        let Some(checked) = planned::checked_plan(&job)? else {
            return Ok(vec!["not settled"]);
        };
        plans.push((job, checked));
    }
    let bought = |at: usize, measure: Measure| -> i64 {
        let (job, checked) = &plans[at];
        if measure == Measure::Scrap {
            return checked
                .boards()
                .iter()
                .map(|board| board.scrap.ticks())
                .sum();
        }
        // Whole packs are bought, and the yard's cuts are paid for.
        let lines = lengthwise::bill::bought(job, checked.plan()).into_iter();
        lines
            .map(|(line, count)| match measure {
                Measure::Money => job.paid(line, count).unwrap_or_default().minor(),
                Measure::BoughtLength => job.yard[line].length.ticks() * count as i64,
                _ => count as i64,
            })
            .sum()
    };
    for (at, &(aim, measure)) in first.iter().enumerate() {
        let groups = plans[at].1.groups();
        let proven = groups.iter().all(|group| {
            group
                .levels
                .first()
                .is_some_and(|level| level.bound == Some(level.value))
        });
        let best = (0..first.len()).map(|other| bought(other, measure)).min();
        if proven && best < Some(bought(at, measure)) {
            return Err(format!(
                "{AIMS}: {aim} comes to {}, another aim to {best:?}",
                bought(at, measure)
            ));
        }
    }
    Ok(vec!["aims compared"])
}

#[cfg(test)]
mod tests {
    use super::*;

    fn totals(values: &[i64]) -> Answer {
        let measures = [Measure::Bought, Measure::Money];
        let totals = values.iter().zip(measures);
        Answer::Totals(
            totals
                .map(|(&value, measure)| Total {
                    measure,
                    value,
                    proven: true,
                })
                .collect(),
        )
    }

    #[test]
    fn a_law_that_is_broken_is_told() {
        let one = totals(&[3, 900]);
        assert!(one.compare(&totals(&[3, 901]), Relation::Same).is_err());
        assert!(one.compare(&totals(&[3, 901]), Relation::NoMore).is_err());
        assert!(one.compare(&totals(&[2, 950]), Relation::NoMore).is_ok());
        assert!(one.compare(&Answer::Impossible, Relation::NoMore).is_err());
        assert!(Answer::Impossible.compare(&one, Relation::Same).is_err());
    }

    #[test]
    fn every_law_speaks_of_some_job() {
        let mut dice = Dice::new(5);
        let jobs: Vec<Value> = (0..200).map(|_| jobs::job(&mut dice)).collect();
        for law in LAWS {
            let spoken = jobs
                .iter()
                .filter(|job| (law.other)(&mut dice, job).is_some())
                .count();
            assert!(spoken > 5, "{} of {}", spoken, law.name);
        }
    }
}
