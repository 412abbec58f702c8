//! What counts as proven: only what the checker has shown itself, for every group and every level of the job. The words, the exit code and
//! the reply to the page agree, whatever a plan file claims.

mod common;

use lengthwise::check::{CheckedPlan, Effort, Lie, Verdict, check, check_group, check_within};
use lengthwise::io::plan_file;
use lengthwise::job::Job;
use lengthwise::plan::{Level, Measure, Plan};
use lengthwise::{api, report, wording};
use serde_json::{Value, json};
use std::io::Write;
use std::process::{Command, Stdio};

/// Six rails of 900: two lengths of 3 m do, at 20.00; two of 2.4 m hold four.
const RAILS: &str = r#"{"format":"lengthwise-job","version":1,"sections":[{"name":"batten"}],
    "yard":[{"length":"3 m","price":"10"},{"length":"2.4 m","price":"8"}],
    "parts":[{"label":"rail","length":900,"quantity":6}]}"#;

/// Rails of two sections, which are two groups.
const TWO_GROUPS: &str = r#"{"format":"lengthwise-job","version":1,"sections":[{"name":"batten"},{"name":"board"}],
    "yard":[{"section":"batten","length":"3 m","price":"10"},{"section":"board","length":"2.4 m","price":"8"}],
    "parts":[{"label":"rail","section":"batten","length":900,"quantity":6},
             {"label":"shelf","section":"board","length":700,"quantity":3}]}"#;

/// Six lengths with one rail each.
fn wasteful(proofs: Value) -> Plan {
    let rail = json!({ "part": 0, "start": 32_000, "end": 2_912_000 });
    let board = json!({ "yard": 0, "runs": [{ "from": 32_000, "to": 9_568_000, "cuts": [rail] }] });
    let boards = vec![board; 6];
    let plan =
        json!({ "format": "lengthwise-plan", "version": 2, "boards": boards, "proofs": proofs });
    plan_file::read_value(&plan).expect("a plan file")
}

/// What the command line makes of a plan file: its code, and what it prints.
fn on_the_command_line(job: &str, plan: &Plan) -> (i32, String) {
    static FILES: std::sync::atomic::AtomicUsize = std::sync::atomic::AtomicUsize::new(0);
    let number = FILES.fetch_add(1, std::sync::atomic::Ordering::Relaxed);
    let path = format!("{}/verdict_{number}.json", env!("CARGO_TARGET_TMPDIR"));
    std::fs::write(&path, plan_file::write(plan)).expect("written");
    let mut child = Command::new(env!("CARGO_BIN_EXE_lengthwise"))
        .args(["check", "-", &path])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the command line starts");
    let mut input = child.stdin.take().expect("a pipe");
    input.write_all(job.as_bytes()).expect("it reads");
    drop(input);
    let output = child.wait_with_output().expect("it ends");
    let text = String::from_utf8(output.stdout).expect("UTF-8");
    (output.status.code().expect("a code"), text)
}

/// Asserts the verdict on a plan in every output that states it: the exit code, the command line's words, the report and the reply to the
/// page.
#[track_caller]
fn said(text: &str, plan: Plan, verdict: Verdict) -> CheckedPlan {
    let job = common::job(text);
    let checked = check(&job, plan.clone()).expect("its cuts are sound");
    assert_eq!(checked.verdict(), verdict);
    let (code, printed) = on_the_command_line(text, &plan);
    let proven = verdict >= Verdict::BuyingProven;
    assert_eq!(code, if proven { 0 } else { 3 }, "{printed}");
    assert_eq!(printed.contains("\nProven: "), proven, "{printed}");
    assert_eq!(printed.contains("\nNot proven."), !proven, "{printed}");
    assert_eq!(printed, wording::check_text(&job, &checked));
    let report = report::build(&job, &checked);
    let headline = &report.headline;
    let first = verdict >= Verdict::FirstProven;
    assert_eq!(headline.contains("proven"), first, "{headline}");
    let all = verdict == Verdict::Proven;
    assert_eq!(report.outcome == report::Outcome::Proven, all);
    let request = json!({ "job": serde_json::from_str::<Value>(text).expect("JSON"), "plans": [plan_file::write_value(&plan)] });
    let reply: Value =
        serde_json::from_str(&api::call("report", &request.to_string())).expect("JSON");
    assert_eq!(reply["outcome"], if all { "proven" } else { "found" });
    assert_eq!(reply["headline"], *headline);
    for (row, level) in report
        .proof
        .iter()
        .zip(checked.groups().iter().flat_map(|group| &group.levels))
    {
        assert_eq!(row.proven, level.is_shown(), "{}", row.text);
        // The check and the report say it in the same words.
        let alone = |figure| wording::figure(&job, level.measure, figure);
        let named = |figure| wording::measured(&job, level.measure, figure);
        let standing = format!("{}.", wording::standing_text(level, &alone));
        assert!(row.text.ends_with(&standing), "{}: {standing}", row.text);
        let standing = format!(": {}\n", wording::standing_text(level, &named));
        assert!(printed.contains(&standing), "{printed}: {standing}");
    }
    checked
}

fn planned(job: &Job) -> Plan {
    common::checked(job).plan().clone()
}

#[test]
fn a_plan_of_our_own_is_proven_and_so_said_everywhere() {
    said(RAILS, planned(&common::job(RAILS)), Verdict::Proven);
    said(
        TWO_GROUPS,
        planned(&common::job(TWO_GROUPS)),
        Verdict::Proven,
    );
}

/// Two shelves of 700 out of a board of 1500 in the shed, to the tick: with a cut of 2 they and the two trimmed ends of 49 are all of it.
#[test]
fn that_nothing_is_below_zero_needs_no_proof_that_was_added_up() {
    let text = r#"{"format":"lengthwise-job","version":1,"sections":[{"name":"board"}],"saw":{"kerf":2},
        "yard":[{"length":"2.4 m","price":"8"}],"shed":[{"mark":"A","length":1500,"trim":"49"}],
        "parts":[{"label":"shelf","length":700,"quantity":2}]}"#;
    let checked = said(text, planned(&common::job(text)), Verdict::Proven);
    let report = report::build(&common::job(text), &checked);
    assert_eq!(
        report.proof[0].text,
        "board: lengths to buy: 0, and no plan does better."
    );
}

#[test]
fn a_plan_without_proofs_is_not_proven() {
    let checked = said(RAILS, wasteful(json!([])), Verdict::Open);
    let printed = wording::check_text(&common::job(RAILS), &checked);
    assert!(
        printed.contains("\n- batten, 6 lengths to buy: better may exist\n"),
        "{printed}"
    );
}

#[test]
fn a_plan_without_levels_is_not_proven() {
    said(
        RAILS,
        wasteful(json!([{ "sections": [0], "levels": [] }])),
        Verdict::Open,
    );
    let first =
        json!([{ "sections": [0], "levels": [{ "measure": "bought", "value": 6, "bound": 6 }] }]);
    said(RAILS, wasteful(first), Verdict::Claimed);
}

#[test]
fn bounds_that_are_only_claimed_are_not_proven() {
    let proofs = json!([{ "sections": [0], "levels": [
        { "measure": "bought", "value": 6, "bound": 6 }, { "measure": "money", "value": 6_000, "bound": 6_000 },
    ] }]);
    let checked = said(RAILS, wasteful(proofs), Verdict::Claimed);
    let printed = wording::check_text(&common::job(RAILS), &checked);
    let line = "\n- batten, 6 lengths to buy: the planner found that no plan does better; the plan brings no figures to add up\n";
    assert!(printed.contains(line), "{printed}");
    assert!(
        printed.contains("\n- batten, 60.00 to pay: the planner found"),
        "{printed}"
    );
}

#[test]
fn a_group_that_the_plan_says_nothing_of_is_not_proven() {
    let mut plan = planned(&common::job(TWO_GROUPS));
    plan.proofs.remove(1);
    let checked = said(TWO_GROUPS, plan.clone(), Verdict::Open);
    let printed = wording::check_text(&common::job(TWO_GROUPS), &checked);
    assert!(
        printed.contains("\n- board, 1 length to buy: better may exist"),
        "{printed}"
    );
    assert!(!printed.contains("\n- batten, "), "{printed}");
    plan.proofs.clear();
    said(TWO_GROUPS, plan, Verdict::Open);
}

#[test]
fn proven_buying_does_not_wait_for_the_scrap() {
    let job = common::job(RAILS);
    let mut plan = planned(&job);
    plan.proofs[0].levels.truncate(2);
    said(RAILS, plan.clone(), Verdict::BuyingProven);
    // Without the money, the lengths are proven and what they cost is not.
    plan.proofs[0].levels.truncate(1);
    said(RAILS, plan, Verdict::FirstProven);
}

#[test]
fn buying_nothing_needs_no_figures() {
    let text = RAILS
        .replace(
            "\"parts\"",
            "\"shed\":[{\"mark\":\"A\",\"length\":2200}],\"parts\"",
        )
        .replace("\"quantity\":6", "\"quantity\":2");
    let mut plan = planned(&common::job(&text));
    plan.proofs.clear();
    let checked = said(&text, plan, Verdict::BuyingProven);
    let bought = &checked.groups()[0].levels[0];
    assert_eq!((bought.measure, bought.value), (Measure::Bought, 0));
}

#[test]
fn what_is_bought_is_shown_before_the_scrap_of_any_group() {
    // Steps for all of what is bought and one more are too few for the scrap, whichever group comes first.
    let job = common::job(TWO_GROUPS);
    let plan = planned(&job);
    let mut bought = plan.clone();
    for proof in &mut bought.proofs {
        proof.levels.truncate(2);
    }
    let steps = check(&job, bought).expect("sound").steps();
    let checked = check_within(&job, plan, Effort(steps + 1)).expect("sound");
    assert_eq!(checked.verdict(), Verdict::BuyingProven);
}

#[test]
fn the_plan_of_one_group_is_checked_by_itself() {
    let job = common::job(TWO_GROUPS);
    let whole = planned(&job);
    let mut one = whole.clone();
    one.boards.retain(|board| board.runs[0].cuts[0].part == 1);
    one.proofs.remove(0);
    let checked = check_group(&job, &[1], one.clone(), Effort::USUAL).expect("it holds");
    assert_eq!(
        (checked.groups().len(), checked.verdict()),
        (1, Verdict::Proven)
    );
    // Parts of another group are not among those it is to make, and its own may not lack.
    let lie = |part, wanted, cut| match cut > wanted {
        true => Lie::PartCutTooOften { part, wanted, cut },
        false => Lie::PartForgotten { part, wanted, cut },
    };
    assert_eq!(
        check_group(&job, &[0], one.clone(), Effort::USUAL),
        Err(vec![lie(0, 6, 0), lie(1, 0, 3)])
    );
    let none = Lie::WrongGroup {
        sections: vec![0, 1],
    };
    assert_eq!(
        check_group(&job, &[0, 1], one, Effort::USUAL),
        Err(vec![none])
    );
}

#[test]
fn while_planning_what_the_planner_says_is_told_as_its_word() {
    let mut heard: Vec<Value> = Vec::new();
    let request =
        json!({ "job": serde_json::from_str::<Value>(RAILS).expect("JSON"), "asks": 4_000 });
    api::plan(&request.to_string(), &|| 0.0, &mut |news| {
        heard.push(serde_json::from_str(news).expect("JSON"));
    });
    let last = heard.last().expect("better plans are told of");
    let text = last["levels"][0]["text"].as_str().expect("words");
    assert_eq!(
        text,
        "2 lengths to buy (no plan needs fewer, says the planner)"
    );
    assert_eq!(last["report"]["outcome"], "found");
    assert_eq!(last["report"]["proof"][0]["proven"], false);
    let headline = last["report"]["headline"].as_str().expect("words");
    assert_eq!(
        headline,
        "Buy 2 lengths: the planner found that no plan needs fewer"
    );
}

/// Where mitred ends may share cuts, all that is known of the scrap at first is that parts have lengths, which is a figure below zero.
#[test]
fn a_bound_below_zero_is_told_to_nobody() {
    let scrap = |bound| Level {
        measure: Measure::Scrap,
        value: 1_530 * 3_200,
        bound,
    };
    let told = |bound| wording::level_text(&common::job(RAILS), &scrap(bound));
    assert_eq!(told(-14_270 * 3_200), "1.53 m of scrap (not proven)");
    assert_eq!(
        told(320_000),
        "1.53 m of scrap (not proven: no plan leaves less scrap than 0.1 m, says the planner)"
    );
}

/// Four braces that lie along each other's slants: their lengths tip to tip come to more than the timber they are cut from.
#[test]
fn a_check_and_a_report_tell_the_same_scrap_where_slanted_ends_overlap() {
    let text = r#"{"format":"lengthwise-job","version":1,"sections":[{"name":"rail","width":70}],
        "yard":[{"length":"2.4 m","price":"5"}],
        "parts":[{"label":"brace","length":640,"quantity":4,"ends":"45","leans":"the same way"}]}"#;
    let job = common::job(text);
    let lengthwise::planner::Planned::Found(plan) = common::planned_within(&job, 2_000) else {
        panic!("it is planned");
    };
    let checked = check(&job, plan).expect("it holds");
    let value = checked.groups()[0].levels[2].value;
    assert!(value < 0, "the level's own value: {value}");
    let row = report::build(&job, &checked).proof.remove(2);
    let line = format!("  {} of scrap: no plan does better", row.value);
    let printed = wording::check_text(&job, &checked);
    assert!(printed.contains(&line), "{line}\n{printed}");
    assert!(!row.value.contains(['-', '\u{2212}']), "{}", row.value);
}
