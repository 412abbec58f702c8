//! Planning for the page: a whole job, one of its groups, or the groups' plans joined.

use super::request::{fault_reply, field};
use crate::check::{CheckedPlan, Effort, Lie, check, check_group, check_while};
use crate::exact_yard::{as_planned, exact_yard, joined_both, plan_both};
use crate::fault::Fault;
use crate::group::{Group, groups};
use crate::io::{job_file, plan_file, reply};
use crate::job::{Job, validate};
use crate::patience::Limits;
use crate::plan::Plan;
use crate::planner::Planned;
use crate::progress::as_begun;
use crate::report;
use crate::wording;
use serde::Serialize;
use serde_json::{Value, json};

/// The time limit of a group in seconds, where the page gives none.
const USUAL_SECONDS: f64 = 30.0;

/// Plans a job, or one group of it where the request names one.
///
/// The request is `{job, group?, seconds?, asks?}`: `seconds` limits each group, the check of its plan inside them; `asks` limits how
/// often the solver looks up in place of time, which makes the plan the same everywhere. `clock` gives milliseconds. `progress` hears
/// JSON text at every better plan of a group. One group's plan comes with the seconds that were `spent` on it, and where the yard's tolerance counts with
/// that for a yard that saws exactly, `exact`; both are for [`joined_report`].
pub fn plan(request: &str, clock: &dyn Fn() -> f64, progress: &mut dyn FnMut(&str)) -> String {
    let reply =
        super::request::parsed(request).and_then(|request| try_plan(&request, clock, progress));
    reply.unwrap_or_else(|error| json!({ "error": error }).to_string())
}

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

/// How long planning and checking a group may take together, in seconds.
fn seconds(request: &Value) -> f64 {
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

/// Checks a plan file against its job: `{job, plan}` gives the check's findings.
#[cfg(not(target_arch = "wasm32"))]
pub fn checked(request: &Value) -> Result<Value, String> {
    let job = match read_job(field(request, "job")?) {
        Ok(job) => job,
        Err(faults) => return Ok(faults_reply(&faults)),
    };
    let plan = plan_file::read_value(field(request, "plan")?)?;
    Ok(match check(&job, plan) {
        Ok(checked) => {
            json!({ "ok": true, "findings": [], "proof": wording::check_text(&job, &checked) })
        }
        Err(lies) => {
            json!({ "ok": false, "findings": lies.iter().map(ToString::to_string).collect::<Vec<_>>() })
        }
    })
}

fn try_plan(
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
    let (draft, mut faults) = job_file::read_value(value);
    match validate(&draft) {
        Ok(job) if faults.is_empty() => Ok(job),
        Ok(_) => Err(faults),
        Err(more) => {
            faults.extend(more);
            Err(faults)
        }
    }
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
        json!({ "text": wording::level_text(job, level), "value": level.value, "bound": level.bound })
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
                let mut reply = json!({ "group": index, "part": part, "spent": spent / 1e3 });
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
    json!({
        "error": "the planner made a plan that does not hold, which is our error",
        "findings": lies.iter().map(ToString::to_string).collect::<Vec<_>>(),
    })
}

fn faults_reply(faults: &[Fault]) -> Value {
    json!({
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
    let none = match planned {
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
        Planned::Impossible(lacks) => json!({
            "outcome": "impossible",
            "headline": "This cannot be cut from the timber there is",
            "explanation": lacks.iter().map(|lack| wording::lack_text(job, lack)).collect::<Vec<_>>(),
        }),
        Planned::NothingYet => json!({
            "outcome": "nothing",
            "headline": "No plan yet",
            "explanation": ["Time was up before a first plan was found. There may be one; give it longer."],
        }),
    };
    none.to_string()
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
mod tests {
    //! The planner makes no plan that fails the check, so these tests spoil one by hand on its way to the page.

    use super::*;
    use crate::patience::Patience;
    use crate::planner::plan_job;

    fn job(second: bool) -> Job {
        let part = |label, section| json!({ "label": label, "section": section, "length": 900, "quantity": 2 });
        let yard = |section| json!({ "section": section, "length": 3_000, "price": "10" });
        let mut parts = vec![part("rail", "batten")];
        parts.extend(second.then(|| part("shelf", "board")));
        let job = json!({
            "format": "lengthwise-job", "sections": [{ "name": "batten" }, { "name": "board" }],
            "yard": [yard("batten"), yard("board")], "parts": parts,
        });
        read_job(&job).expect("the job is sound")
    }

    fn plan_of(job: &Job) -> Plan {
        let mut hear = |_: &Plan| {};
        match plan_job(
            job,
            &mut Patience::new(Limits::asks(100), &|| 0.0, &mut hear),
        ) {
            Planned::Found(plan) => plan,
            other => panic!("no plan: {other:?}"),
        }
    }

    fn value(reply: &str) -> Value {
        serde_json::from_str(reply).expect("a reply is JSON")
    }

    /// The plan with its first part a kerf further on.
    fn spoiled(mut plan: Plan) -> Plan {
        let cut = &mut plan.boards[0].runs[0].cuts[0];
        cut.start += crate::length::Length::from_mm(3);
        cut.end += crate::length::Length::from_mm(3);
        plan
    }

    fn is_a_refusal(reply: &Value) -> bool {
        let ours = reply["error"]
            .as_str()
            .is_some_and(|error| error.contains("our error"));
        let told = reply["findings"]
            .as_array()
            .is_some_and(|all| !all.is_empty());
        let silent = ["part", "report", "plan", "levels"]
            .iter()
            .all(|field| reply.get(field).is_none());
        ours && told && silent
    }

    #[test]
    fn progress_that_does_not_hold_is_not_sent_but_told_as_our_error() {
        let job = job(false);
        let groups = groups(&job);
        let news = |plan: &Plan| {
            value(&progress_reply(
                &job,
                (0, &groups[0], 0.0),
                groups.len(),
                plan,
            ))
        };
        let plan = plan_of(&job);
        assert_eq!(news(&plan)["report"]["outcome"], "found");
        let refused = news(&spoiled(plan));
        assert!(is_a_refusal(&refused), "{refused}");
        assert_eq!(refused["group"], 0);
    }

    #[test]
    fn the_plan_of_a_group_that_does_not_hold_is_not_sent_either() {
        let job = job(true);
        let groups = groups(&job);
        let mut plan = plan_of(&job);
        plan.boards
            .retain(|board| board.source == crate::plan::Source::Yard(1));
        plan.proofs.remove(0);
        let news = |plan: &Plan| {
            value(&progress_reply(
                &job,
                (1, &groups[1], 0.0),
                groups.len(),
                plan,
            ))
        };
        let last = |plan: Plan| {
            value(&group_reply(
                &job,
                (1, &groups[1], 0.0),
                (Planned::Found(plan), None),
            ))
        };
        assert!(news(&plan)["part"].is_object());
        assert!(last(plan.clone())["part"].is_object());
        let spoiled = spoiled(plan.clone());
        assert!(is_a_refusal(&news(&spoiled)));
        assert!(is_a_refusal(&last(spoiled)));
        // A group's plan that lacks a part is no plan of the group.
        plan.boards[0].runs[0].cuts.pop();
        assert!(is_a_refusal(&last(plan)));
    }

    #[test]
    fn a_whole_plan_that_does_not_hold_is_our_error() {
        let job = job(false);
        let reply = value(&planned_reply(
            &job,
            (Planned::Found(spoiled(plan_of(&job))), None),
            &mut || false,
        ));
        assert!(is_a_refusal(&reply), "{reply}");
    }

    /// Whether the proof of a plan was left unchecked for want of time: the proof of so small a job is checked in full otherwise.
    fn out_of_time(reply: &str) -> bool {
        let reply = value(reply);
        let outcome = reply["outcome"].as_str();
        assert!(matches!(outcome, Some("proven" | "found")), "{reply}");
        outcome == Some("found")
    }

    #[test]
    fn a_report_adds_proofs_up_again_only_in_what_is_left_of_the_time() {
        let job = json!({
            "format": "lengthwise-job", "sections": [{ "name": "batten" }],
            "yard": [{ "section": "batten", "length": 3_000, "price": "10" }],
            "parts": [{ "label": "rail", "section": "batten", "length": 900, "quantity": 8 }],
        });
        let request = json!({ "job": job, "group": 0, "seconds": 10 });
        let reply = value(&super::plan(&request.to_string(), &|| 0.0, &mut |_| {}));
        assert_eq!(reply["spent"], 0.0);
        let report = |told: Value| {
            let mut request = json!({ "job": job, "plans": [reply["part"]], "seconds": 10 });
            if !told.is_null() {
                request["spent"] = told;
            }
            joined_report(&request, &|| 0.0).expect("a report")
        };
        assert!(!out_of_time(&report(json!([9.9]))));
        assert!(out_of_time(&report(json!([10]))));
        assert!(out_of_time(&report(json!([0, 12.5, 3]))));
        // A plan that is being carried out was made long ago; no time limit applies.
        assert!(!out_of_time(&report(Value::Null)));
    }

    #[test]
    fn the_time_that_is_given_holds_planning_and_the_check_of_the_plan() {
        let job = json!({
            "format": "lengthwise-job", "sections": [{ "name": "batten" }],
            "yard": [{ "section": "batten", "length": 3_000, "price": "10" }],
            "parts": [{ "label": "rail", "section": "batten", "length": 900, "quantity": 8 }],
        });
        // A clock that stands still and jumps once planning is over: by then the solver has checked it `looks` times.
        let looks = std::cell::Cell::new(0);
        let count = || {
            looks.set(looks.get() + 1);
            0.0
        };
        let request = json!({ "job": job, "seconds": 10 }).to_string();
        assert!(!out_of_time(&super::plan(&request, &count, &mut |_| {})));
        let whole = looks.replace(0);
        let late = |after: usize| {
            looks.set(0);
            let clock = || {
                looks.set(looks.get() + 1);
                if looks.get() > after { 10_001.0 } else { 0.0 }
            };
            super::plan(&request, &clock, &mut |_| {})
        };
        // The last checks of the clock are the checker's.
        assert!(out_of_time(&late(whole - 1)));
        assert!(!out_of_time(&late(whole)));
    }

    #[test]
    fn planning_leaves_a_twentieth_of_the_time_for_the_check() {
        // Forty odd lengths from three, far from proven when time is up. Each look at the clock finds it a millisecond on.
        let parts = (0..40).map(|part| {
            let length = 300 + part * 7_919 % 1_301;
            json!({ "label": "part", "section": "batten", "length": length, "quantity": 3 })
        });
        let yard = [(2_400, "7.10"), (3_000, "8.35"), (4_200, "12.45")].map(
            |(length, price)| json!({ "section": "batten", "length": length, "price": price }),
        );
        let job = json!({
            "format": "lengthwise-job", "sections": [{ "name": "batten" }], "yard": yard,
            "parts": parts.collect::<Vec<_>>(),
        });
        let looks = std::cell::Cell::new(0.0);
        let clock = || {
            looks.set(looks.get() + 1.0);
            looks.get()
        };
        let request = json!({ "job": job, "group": 0, "seconds": 0.4 }).to_string();
        let reply = value(&super::plan(&request, &clock, &mut |_| {}));
        let spent = reply["spent"].as_f64().expect("seconds");
        // Of 400 looks, 380; a few more are made between them.
        assert!((0.38..0.39).contains(&spent), "{spent}");
    }
}
