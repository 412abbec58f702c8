//! Planning for the page: a whole job, one of its groups, or the groups' plans joined.

use super::request::{fault_reply, field};
use crate::check::{CheckedPlan, Effort, Lie, check, check_group, check_while};
use crate::exact_yard::{as_planned, exact_yard, joined_both, plan_both};
use crate::fault::Fault;
use crate::group::{Group, groups};
use crate::io::objects::object;
use crate::io::{job_file, plan_file, reply};
use crate::job::{Job, JobDraft};
use crate::patience::Limits;
use crate::plan::Plan;
use crate::planner::{Lack, Planned};
use crate::progress::as_begun;
use crate::report;
use crate::wording;
use serde::Serialize;
use serde_json::Value;

/// The time limit of a group in seconds, where the page gives none.
const USUAL_SECONDS: f64 = 30.0;

/// Joins the plans of groups that were planned side by side, or takes one that is being carried out, and reports on them:
/// `{job, plans: [plan file of each group], spent?: [seconds that were spent on each], seconds?}`. Where `spent` is told, proofs are added up
/// again for no longer than was left of `seconds`. `exact` holds, for each group that has one, its plan for a yard that saws exactly, else null.
pub fn joined_report(request: &Value, clock: &dyn Fn() -> f64) -> Result<String, String> {
    let began = clock();
    let spent = request.get("spent").and_then(Value::as_array);
    let most = spent.map(|spent| spent.iter().filter_map(Value::as_f64).fold(0.0, f64::max));
    let left = most.map(|spent| 1e3 * (seconds(request) - spent));
    let mut expired = || left.is_some_and(|left| clock() - began >= left);
    let job = match read_job(field(request, "job")?) {
        Ok(job) => job,
        Err(faults) => return Ok(faults_reply(&faults).to_string()),
    };
    let plans = field(request, "plans")?
        .as_array()
        .ok_or("\"plans\" should be a list")?;
    let exact = request.get("exact").and_then(Value::as_array);
    let exact = |group: usize| exact?.get(group).filter(|plan| !plan.is_null());
    let planned = plans.iter().enumerate().map(|(group, plan)| {
        let exact = exact(group).map(plan_file::read_value).transpose()?;
        let plan = plan_file::read_under_way(plan)?;
        Ok((Planned::Found(plan), exact.map(Planned::Found)))
    });
    let planned = joined_both(planned.collect::<Result<Vec<_>, String>>()?);
    let job = match &planned.0 {
        Planned::Found(plan) => {
            let job = as_begun(job.clone(), plan).unwrap_or(job);
            match spent {
                None => as_planned(&job, plan),
                Some(_) => job,
            }
        }
        _ => job,
    };
    Ok(planned_reply(&job, planned, &mut expired))
}

/// The limits of work beside planning: the request's `asks`, or its `seconds`, or so many seconds.
pub fn limits_beside(request: &Value, usual: u32) -> Limits {
    match request.get("asks").and_then(Value::as_u64) {
        Some(asks) => Limits::asks(asks),
        None => {
            let asked = request.get("seconds").and_then(Value::as_f64);
            Limits::milliseconds(1e3 * asked.unwrap_or(f64::from(usual)))
        }
    }
}

/// How long planning and checking a group may take together, in seconds.
pub fn seconds(request: &Value) -> f64 {
    let asked = request.get("seconds").and_then(Value::as_f64);
    asked.unwrap_or(USUAL_SECONDS)
}

/// The report of a plan file: `{job, plan}`. An error where the plan does not pass the check.
pub fn report_of(request: &Value) -> Result<report::Report, String> {
    let job = read_job(field(request, "job")?).map_err(|faults| faults[0].to_string())?;
    let plan = plan_file::read_value(field(request, "plan")?)?;
    let checked = check(&job, plan).map_err(|lies| lies[0].to_string())?;
    Ok(report::build(&job, &checked))
}

/// Plans a job, or one group of it where the request names one.
///
/// The request is `{job, group?, seconds?, asks?}`: `seconds` limits each group, the check of its plan inside them; `asks` limits how
/// often the solver looks up in place of time, which makes the plan the same everywhere. `clock` gives milliseconds. `progress` hears
/// JSON text at every better plan of a group. One group's plan comes with the seconds that were `spent` on it, and where the yard's tolerance counts with
/// that for a yard that saws exactly, `exact`; both are for [`joined_report`].
pub fn plan(
    request: &Value,
    clock: &dyn Fn() -> f64,
    progress: &mut dyn FnMut(&str),
) -> Result<String, String> {
    let job = match read_job(field(request, "job")?) {
        Ok(job) => job,
        Err(faults) => return Ok(faults_reply(&faults).to_string()),
    };
    let began = clock();
    let milliseconds = 1e3 * seconds(request);
    let asks = request.get("asks").and_then(Value::as_u64);
    let limits = match asks {
        Some(asks) => Limits::asks(asks),
        None => Limits::planning_within(milliseconds),
    };
    let groups = groups(&job);
    let whole = milliseconds * groups.len() as f64;
    let only = match request.get("group").and_then(Value::as_u64) {
        Some(only) if (only as usize) < groups.len() => Some(only as usize),
        Some(_) => return Err("the job has no such group".into()),
        None => None,
    };
    let mut planned = Vec::new();
    for (index, group) in groups
        .iter()
        .enumerate()
        .filter(|(index, _)| only.is_none_or(|only| only == *index))
    {
        let mut hear = |plan: &Plan| {
            let spent = clock() - began;
            progress(&progress_reply(
                &job,
                (index, group, spent),
                groups.len(),
                plan,
            ));
        };
        planned.push(plan_both(&job, (index, group), limits, clock, &mut hear));
    }
    Ok(match only {
        Some(only) => {
            let planned = planned.pop().unwrap_or((Planned::NothingYet, None));
            group_reply(&job, (only, &groups[only], clock() - began), planned)
        }
        None => planned_reply(&job, joined_both(planned), &mut || {
            asks.is_none() && clock() - began >= whole
        }),
    })
}

fn read_job(value: &Value) -> Result<Job, Vec<Fault>> {
    read_written(value).map(|(_, job)| job)
}

/// A job as written and as understood.
pub fn read_written(value: &Value) -> Result<(JobDraft, Job), Vec<Fault>> {
    let (draft, faults) = job_file::read_value(value);
    job_file::understood(&draft, faults).map(|job| (draft, job))
}

/// A better plan of one group, while the solver is still at work: its levels, and the plan to keep when the solver is stopped. Where the
/// job has no other group, this plan is the whole plan and its report is included.
///
/// Its cuts are checked like those of any plan. A plan that fails is not sent; the reply is our error instead.
fn progress_reply(
    job: &Job,
    (index, group, spent): (usize, &Group, f64),
    groups: usize,
    plan: &Plan,
) -> String {
    let checked = match check_group(job, &group.sections, plan.clone(), Effort::NONE) {
        Ok(checked) => checked,
        Err(lies) => {
            let mut refused = refusal(&lies);
            refused["group"] = index.into();
            return refused.to_string();
        }
    };
    let levels = plan.proofs.iter().flat_map(|proof| &proof.levels);
    let levels = levels.map(|level| {
        object!({ "text": wording::level_text(job, level), "value": level.value, "bound": level.bound })
    });
    let report = (groups == 1).then(|| report::build(job, &checked));
    let report = report.as_ref();
    text_of(&News {
        group: index,
        levels: levels.collect(),
        part: plan_file::write_value(plan),
        spent: spent / 1e3,
        report: report.map(|report| reply::report(report, checked.plan())),
    })
}

/// The message about a better plan.
#[derive(Serialize)]
struct News<'a> {
    group: usize,
    levels: Vec<Value>,
    part: Value,
    /// Seconds since planning began.
    spent: f64,
    report: Option<reply::Told<'a>>,
}

/// The reply as JSON text. Plain data always serialises.
fn text_of(reply: &impl Serialize) -> String {
    serde_json::to_string(reply).unwrap_or_default()
}

/// What came of one group: its plan, whose cuts are checked, for [`joined_report`], or why there is none.
///
/// The group's plan for a yard that saws exactly goes with it as it is: it is checked where it is made use of.
fn group_reply(
    job: &Job,
    (index, group, spent): (usize, &Group, f64),
    (planned, exact): (Planned, Option<Planned>),
) -> String {
    match planned {
        Planned::Found(plan) => match check_group(job, &group.sections, plan, Effort::NONE) {
            Ok(checked) => {
                let part = plan_file::write_value(checked.plan());
                let mut reply = object!({ "group": index, "part": part, "spent": spent / 1e3 });
                if let Some(Planned::Found(exact)) = exact {
                    reply["exact"] = plan_file::write_value(&exact);
                }
                reply.to_string()
            }
            Err(lies) => refusal(&lies).to_string(),
        },
        none => planned_reply(job, (none, exact), &mut || false),
    }
}

/// The reply where a plan of our own fails the check. The plan itself is shown to nobody.
fn refusal(lies: &[Lie]) -> Value {
    object!({
        "error": wording::NOT_HELD,
        "findings": lies.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}

/// What a reply says of a job with faults.
pub fn faults_reply(faults: &[Fault]) -> Value {
    object!({
        "outcome": "faults",
        "headline": if faults.len() == 1 { "One field needs mending".to_owned() } else { format!("{} fields need mending", faults.len()) },
        "faults": faults.iter().map(fault_reply).collect::<Vec<_>>(),
    })
}

/// The whole answer: a checked plan as a report, or why there is none; with the plan for a yard that saws exactly, where that is another.
/// Proofs are added up again until `expired`.
fn planned_reply(
    job: &Job,
    (planned, exact): (Planned, Option<Planned>),
    expired: &mut dyn FnMut() -> bool,
) -> String {
    let told = match planned {
        Planned::Found(plan) => match checked_both(job, (plan, exact), expired) {
            Ok((checked, exact)) => {
                let mut report = report::build(job, &checked);
                if let Some(exact) = exact {
                    report.tell_of_exact_cuts(job, &checked, &exact);
                }
                return text_of(&reply::report(&report, checked.plan()));
            }
            Err(lies) => refusal(&lies),
        },
        Planned::Impossible(lacks) => none_reply(Without::impossible(job, &lacks)),
        Planned::NothingYet => none_reply(Without::nothing_yet()),
    };
    told.to_string()
}

fn none_reply(none: Without) -> Value {
    object!({ "outcome": none.outcome, "headline": none.headline, "explanation": none.why })
}

/// Why there is no plan.
pub struct Without {
    pub outcome: &'static str,
    pub headline: &'static str,
    pub why: Vec<String>,
}

impl Without {
    /// None exists.
    pub fn impossible(job: &Job, lacks: &[Lack]) -> Without {
        Without {
            outcome: "impossible",
            headline: "This cannot be cut from the timber there is",
            why: lacks
                .iter()
                .map(|lack| wording::lack_text(job, lack))
                .collect(),
        }
    }

    /// None was found in time.
    pub fn nothing_yet() -> Without {
        Without {
            outcome: "nothing",
            headline: "No plan yet",
            why: vec![
                "Time was up before a first plan was found. There may be one; give it longer."
                    .into(),
            ],
        }
    }
}

/// Checks a plan, and the one for a yard that saws exactly against the job of that yard.
fn checked_both(
    job: &Job,
    (plan, exact): (Plan, Option<Planned>),
    expired: &mut dyn FnMut() -> bool,
) -> Result<(CheckedPlan, Option<CheckedPlan>), Vec<Lie>> {
    let checked = check_while(job, plan, Effort::USUAL, expired)?;
    let exact = match exact {
        Some(Planned::Found(exact)) => Some(check_while(
            &exact_yard(job),
            exact,
            Effort::USUAL,
            expired,
        )?),
        _ => None,
    };
    Ok((checked, exact))
}

#[cfg(test)]
mod tests;
