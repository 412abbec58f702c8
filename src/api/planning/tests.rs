//! The planner makes no plan that fails the check, so these tests spoil one by hand on its way to the page.

use super::*;
use crate::patience::Patience;
use crate::planner::plan_job;
use serde_json::json;

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
    let reply = value(&crate::api::plan(
        &request.to_string(),
        &|| 0.0,
        &mut |_| {},
    ));
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
    assert!(!out_of_time(&crate::api::plan(
        &request,
        &count,
        &mut |_| {}
    )));
    let whole = looks.replace(0);
    let late = |after: usize| {
        looks.set(0);
        let clock = || {
            looks.set(looks.get() + 1);
            if looks.get() > after { 10_001.0 } else { 0.0 }
        };
        crate::api::plan(&request, &clock, &mut |_| {})
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
    let yard = [(2_400, "7.10"), (3_000, "8.35"), (4_200, "12.45")]
        .map(|(length, price)| json!({ "section": "batten", "length": length, "price": price }));
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
    let reply = value(&crate::api::plan(&request, &clock, &mut |_| {}));
    let spent = reply["spent"].as_f64().expect("seconds");
    // Of 400 looks, 380; a few more are made between them.
    assert!((0.38..0.39).contains(&spent), "{spent}");
}
