//! Many jobs, one after the other: a line of JSON in, a line of JSON out.
//!
//! A line depends on nothing but the line it answers: no name, number or clock of another job has a say. So a list of jobs may be cut in
//! pieces, the pieces answered by as many processes as there are cores, and the answers put together in order.

use super::planning::Without;
use crate::bill;
use crate::check::{CheckedPlan, Effort, check_while};
use crate::exact_yard::{joined_both, plan_both};
use crate::fault::{Fault, FaultKind, Place};
use crate::group::groups;
use crate::io::job_file;
use crate::io::plan_file::{PlanFile, with_sizes};
use crate::job::{Job, validate};
use crate::length::Length;
use crate::money::Money;
use crate::patience::{Clock, Limits};
use crate::planner::Planned;
use crate::report;
use crate::sizes;
use crate::wording;
use serde::Serialize;

/// How long each job may take.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Allowed {
    /// Milliseconds for all groups of a job and the check of its plan.
    Milliseconds(f64),
    /// How often the search of each group may check the clock, whatever the time: the same answer on every machine.
    Looks(u64),
}

/// The answer to one job, as it is written.
#[derive(Serialize)]
struct Answer {
    /// The name of the piece; empty where it has none or the line could not be read.
    piece: String,
    /// `proven`, `found`, `impossible`, `nothing`, `faults` or `error`.
    outcome: &'static str,
    /// What a person is told; empty where there are faults.
    headline: String,
    #[serde(skip_serializing_if = "Vec::is_empty")]
    faults: Vec<ToldFault>,
    /// Why there is no plan, or which checks a plan of ours failed.
    #[serde(skip_serializing_if = "Vec::is_empty")]
    why: Vec<String>,
    #[serde(skip_serializing_if = "Option::is_none")]
    bought: Option<Bought>,
    /// The plan file, with its certificate.
    #[serde(skip_serializing_if = "Option::is_none")]
    plan: Option<PlanFile>,
}

/// A fault, with the place of the field in the job file.
#[derive(Serialize)]
struct ToldFault {
    list: String,
    /// Counted from zero.
    row: Option<usize>,
    field: String,
    message: String,
}

/// What a plan buys.
#[derive(Serialize)]
struct Bought {
    lengths: u64,
    /// In ticks of 1/3 200 mm.
    timber: i64,
    /// By the prices alone, in hundredths; none where a price is missing.
    cost: Option<i64>,
    /// By the terms of the yards, in hundredths; none where no terms are given.
    to_pay: Option<i64>,
}

/// Answers one line: a job file in, its answer as one line of JSON out. `clock` gives milliseconds.
///
/// What is wrong with a job is told in its answer, with the place of each field; nothing ends the stream.
///
/// ```
/// use lengthwise::api::stream::{Allowed, answer};
///
/// let job = r#"{ "format": "lengthwise-job", "piece": "Trestle", "sections": [{ "name": "batten" }],
///     "yard": [{ "length": "2.4 m" }], "parts": [{ "label": "leg", "length": 560, "quantity": 8 }] }"#;
/// let told = answer(job, Allowed::Looks(10_000), &|| 0.0);
/// assert!(told.starts_with(r#"{"piece":"Trestle","outcome":"proven""#));
/// assert!(!told.contains('\n'));
/// ```
pub fn answer(line: &str, allowed: Allowed, clock: &Clock) -> String {
    let answered = answered(line, allowed, clock);
    // Plain data of texts and integers always serialises.
    serde_json::to_string(&answered).unwrap_or_default()
}

/// The answer to a line that is too long to be read, or no text.
pub fn refused(fault: Fault) -> String {
    serde_json::to_string(&faulty(String::new(), &[fault])).unwrap_or_default()
}

fn answered(line: &str, allowed: Allowed, clock: &Clock) -> Answer {
    let began = clock();
    if line.trim().is_empty() {
        let kind = FaultKind::Unreadable("there is no job in this line".into());
        return faulty(String::new(), &[Fault::new(Place::line(1, 1), kind)]);
    }
    let (draft, faults) = job_file::read(line);
    let job = match job_file::understood(&draft, faults) {
        Ok(job) => job,
        Err(faults) => return faulty(draft.own.piece.unwrap_or_default(), &faults),
    };
    let spent = || clock() - began;
    let (job, lengths) = match sizes::choose(&draft, &job, limits_of(allowed).for_choosing(), clock)
    {
        None => (job, Vec::new()),
        Some(chosen) => match validate(&chosen.draft) {
            Ok(sized) => {
                let lengths = chosen.sizes.into_iter();
                let lengths = lengths.map(|size| (size.place, size.chosen)).collect();
                (sized, lengths)
            }
            Err(faults) => {
                let why = faults.iter().map(ToString::to_string).collect();
                return ours(&job, wording::SIZE_NOT_HELD, why);
            }
        },
    };
    let (planned, _) = planned(&job, allowed, &spent);
    let expired = &mut || matches!(allowed, Allowed::Milliseconds(most) if spent() > most);
    told(&job, planned, &lengths, expired)
}

fn limits_of(allowed: Allowed) -> Limits {
    match allowed {
        Allowed::Milliseconds(most) => Limits::milliseconds(most),
        Allowed::Looks(most) => Limits::asks(most),
    }
}

/// Plans the groups of a job one after the other. What one leaves of the time goes to those behind it.
fn planned(job: &Job, allowed: Allowed, spent: &Clock) -> (Planned, Option<Planned>) {
    let groups = groups(job);
    let count = groups.len();
    let each = groups.iter().enumerate().map(|(index, group)| {
        let limits = match allowed {
            Allowed::Milliseconds(most) => {
                Limits::planning_within((most - spent()) / (count - index) as f64)
            }
            Allowed::Looks(most) => Limits::asks(most),
        };
        plan_both(job, (index, group), limits, spent, &mut |_| {})
    });
    joined_both(each.collect())
}

fn told(
    job: &Job,
    planned: Planned,
    lengths: &[(Place, Length)],
    expired: &mut dyn FnMut() -> bool,
) -> Answer {
    let plan = match planned {
        Planned::Found(plan) => plan,
        Planned::Impossible(lacks) => return without(job, Without::impossible(job, &lacks)),
        Planned::NothingYet => return without(job, Without::nothing_yet()),
    };
    match check_while(job, plan, Effort::USUAL, expired) {
        Ok(checked) => Answer {
            headline: report::build(job, &checked).headline,
            bought: Some(bought(job, &checked)),
            plan: Some(with_sizes(checked.plan(), lengths)),
            ..bare(job.piece.clone(), outcome_of(&checked))
        },
        Err(lies) => {
            let why = lies.iter().map(ToString::to_string).collect();
            ours(job, wording::NOT_HELD, why)
        }
    }
}

fn outcome_of(checked: &CheckedPlan) -> &'static str {
    match checked.verdict().settles_buying() {
        true => "proven",
        false => "found",
    }
}

fn bought(job: &Job, checked: &CheckedPlan) -> Bought {
    let bought = bill::bought(job, checked.plan());
    let paid = bought.iter().map(|&(line, count)| job.paid(line, count));
    let bills = bill::bills(job, &bought);
    let timber = bought.iter().map(|&(line, count)| {
        job.yard[line]
            .length
            .ticks()
            .saturating_mul(i64::try_from(count).unwrap_or(i64::MAX))
    });
    Bought {
        lengths: bought.iter().map(|(_, count)| count).sum(),
        timber: timber.fold(0, i64::saturating_add),
        cost: paid.sum::<Option<Money>>().map(Money::minor),
        to_pay: bills.map(|bills| bill::in_all(&bills).minor()),
    }
}

fn bare(piece: String, outcome: &'static str) -> Answer {
    Answer {
        piece,
        outcome,
        headline: String::new(),
        faults: Vec::new(),
        why: Vec::new(),
        bought: None,
        plan: None,
    }
}

fn faulty(piece: String, faults: &[Fault]) -> Answer {
    let told = faults.iter().map(|fault| ToldFault {
        list: fault.place.list.clone(),
        row: fault.place.row,
        field: fault.place.field.clone(),
        message: fault.to_string(),
    });
    Answer {
        faults: told.collect(),
        ..bare(piece, "faults")
    }
}

fn without(job: &Job, none: Without) -> Answer {
    Answer {
        headline: none.headline.to_owned(),
        why: none.why,
        ..bare(job.piece.clone(), none.outcome)
    }
}

fn ours(job: &Job, what: &str, why: Vec<String>) -> Answer {
    Answer {
        headline: what.to_owned(),
        why,
        ..bare(job.piece.clone(), "error")
    }
}
