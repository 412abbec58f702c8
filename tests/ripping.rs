//! What is ripped, out of what, and what becomes of the strip that is left.

#[path = "common/hand.rs"]
mod hand;

use hand::{Draft, draft_of, job, marked, mm};
use lengthwise::api;
use lengthwise::check::{Lie, Verdict, check};
use lengthwise::io::{job_file, plan_file};
use lengthwise::job::{Job, validate};
use lengthwise::patience::{Limits, Patience};
use lengthwise::plan::{Plan, Source, Within};
use lengthwise::planner::{Planned, plan_job};
use lengthwise::report::{self, Report, StepKind};
use lengthwise::wording::lack_text;
use serde_json::{Value, json};

fn some(text: &str) -> Option<String> {
    Some(text.into())
}

/// A board of 25 x 145 with a kerf of 3 and no trims, sold in 2400, and parts of it: label, length, how many, width or nothing.
fn gate(draft: &mut Draft, parts: &[(&str, &str, &str, &str)]) {
    draft.saw.kerf = some("3");
    draft.section("board", |section| {
        section.thickness = some("25");
        section.width = some("145");
        section.trim = some("0");
    });
    draft.yard("board", "2400", None, None);
    for (label, length, quantity, ripped) in parts {
        draft.part(label, "board", length, quantity, "square");
        draft.parts.last_mut().expect("a part").ripped = some(ripped);
    }
}

fn asked(job: &Job) -> Planned {
    let (clock, mut hear) = (|| 0.0, |_: &Plan| {});
    plan_job(
        job,
        &mut Patience::new(Limits::asks(100_000), &clock, &mut hear),
    )
}

fn planned(job: &Job) -> (Plan, Report) {
    let Planned::Found(plan) = asked(job) else {
        panic!("no plan");
    };
    let checked = check(job, plan.clone()).expect("the plan holds");
    assert_eq!(checked.verdict(), Verdict::Proven);
    let report = report::build(job, &checked);
    (plan, report)
}

fn answer(action: &str, request: &Value) -> Value {
    let reply = api::call(action, &request.to_string());
    serde_json::from_str(&reply).expect("an answer")
}

/// The job file of a gate whose slats are ripped, with a saw of its own.
fn file(saw: &Value) -> Value {
    json!({
        "format": "lengthwise-job", "version": 1, "saw": saw,
        "sections": [{ "name": "board", "thickness": "25", "width": "145", "trim": "0" }],
        "yard": [{ "section": "board", "length": "2400" }],
        "parts": [{ "label": "slat", "length": "2000", "quantity": 2, "ripped": "40" }],
    })
}

fn of_file(file: &Value) -> (Job, Plan) {
    let (draft, faults) = job_file::read_value(file);
    assert!(faults.is_empty(), "{faults:?}");
    let job = validate(&draft).expect("a job");
    let plan = planned(&job).0;
    (job, plan)
}

#[test]
fn a_strip_that_is_left_goes_to_the_shed_as_a_section_of_its_own_where_it_is_worth_keeping() {
    // 145 - 2 x (40 + 3) leave 59, and 2400 - 2003 a board of 397.
    let back = |saw: Value, spoiled: Value| -> Vec<(String, String)> {
        let file = file(&saw);
        let (_, plan) = of_file(&file);
        let progress = json!({ "boards": [{ "board": 0, "cut": 1, "spoiled": spoiled }], "bought": [{ "line": 0, "count": 1 }] });
        let request =
            json!({ "job": file, "plan": plan_file::write_value(&plan), "progress": progress });
        let shed = answer("finish", &request)["shed"]
            .as_array()
            .expect("boards")
            .clone();
        let text = |value: &Value| value.as_str().expect("a text").to_owned();
        shed.iter()
            .map(|row| (text(&row["section"]), text(&row["length"])))
            .collect()
    };
    let rest = ("board".to_owned(), "397 mm".to_owned());
    let strip = ("board, 59 mm wide".to_owned(), "2000 mm".to_owned());
    let kerf = |more: Value| {
        let mut saw = json!({ "kerf": "3" });
        for (name, value) in more.as_object().expect("fields") {
            saw[name] = value.clone();
        }
        saw
    };
    let both = [rest.clone(), strip.clone()];
    assert_eq!(back(kerf(json!({})), json!([])), both);
    assert_eq!(back(kerf(json!({ "keep_width": "59" })), json!([])), both);
    assert_eq!(
        back(kerf(json!({ "keep_width": "59.5" })), json!([])),
        std::slice::from_ref(&rest)
    );
    // Not as long as an offcut has to be.
    assert_eq!(back(kerf(json!({ "keep": "2001" })), json!([])), []);
    assert_eq!(back(kerf(json!({ "keep": "2000" })), json!([])), [strip]);
    // A spoiled piece leaves no strip that anybody can count on.
    assert_eq!(back(kerf(json!({})), json!([0])), [rest]);
}

#[test]
fn the_list_of_what_goes_back_and_the_sheet_name_the_strip() {
    let (job, _) = of_file(&file(&json!({ "kerf": "3" })));
    let report = planned(&job).1;
    let rows = report.back_to_shed.iter();
    let rows: Vec<_> = rows
        .map(|row| [&row.section[..], &row.length, &row.from])
        .collect();
    assert_eq!(
        rows,
        [
            ["board", "397 mm", "board 1"],
            ["board, 59 mm wide", "2000 mm", "board 1"]
        ]
    );
    let marks: Vec<&str> = report
        .back_to_shed
        .iter()
        .map(|row| &row.mark[..])
        .collect();
    assert!(marks[0] != marks[1] && !marks.contains(&""), "{marks:?}");
}

#[test]
fn a_strip_is_in_the_shed_of_the_job_that_is_left_and_its_parts_may_be_made_of_it() {
    let file = file(&json!({ "kerf": "3" }));
    let (_, plan) = of_file(&file);
    let progress =
        json!({ "boards": [{ "board": 0, "cut": 1 }], "bought": [{ "line": 0, "count": 1 }] });
    let request =
        json!({ "job": file, "plan": plan_file::write_value(&plan), "progress": progress });
    let mut left = answer("remaining", &request)["job"].clone();
    assert_eq!(left["sections"][1]["name"], "board, 59 mm wide");
    left["parts"] = json!([{ "label": "rung", "section": "board, 59 mm wide", "length": "990", "quantity": 2 }]);
    let (job, plan) = of_file(&left);
    let section = &job.sections[1];
    assert_eq!(
        (section.thickness, section.width),
        (Some(mm(25)), Some(mm(59)))
    );
    assert!(
        plan.boards
            .iter()
            .all(|board| matches!(board.source, Source::Shed(_)))
    );
}

#[test]
fn a_saw_that_only_cuts_across_leaves_narrow_parts_as_wide_as_their_boards() {
    let with = |rips: &str| {
        job(|draft| {
            gate(draft, &[("slat", "1190", "4", "40")]);
            draft.saw.rips = some(rips);
        })
    };
    // Side by side three go in one piece, alone two go on a length.
    let (here, report) = planned(&with("yes"));
    assert_eq!(here.boards.len(), 1);
    let rips = |report: &Report| {
        let steps = report.boards.iter().flat_map(|board| &board.steps);
        steps.filter(|step| step.kind == StepKind::Rip).count()
    };
    assert_eq!(rips(&report), 2);
    let across = with("no");
    let (elsewhere, report) = planned(&across);
    assert_eq!((elsewhere.boards.len(), rips(&report)), (2, 0));
    assert_eq!(
        check(&across, elsewhere).expect("a plan").within(),
        Within::Everything
    );
    let steps = &report.boards[0].steps;
    let told = "leave it as wide as its board, to be ripped to 40 mm where there is a saw for it";
    assert_eq!(steps[0].rip, told);
    assert!(
        report
            .back_to_shed
            .iter()
            .all(|row| !row.section.contains("wide"))
    );
    // A plan that rips nevertheless is refused.
    let mut ripping = with("yes");
    ripping.saw.rips = false;
    let lies = check(&ripping, here).expect_err("a lie");
    assert_eq!(lies[0], Lie::UnlikeStrips { part: 0, row: 0 });
}

#[test]
fn what_is_ripped_comes_out_of_boards_that_may_be_ripped() {
    let with = |treated: &str, yard: &str| {
        job(|draft| {
            gate(
                draft,
                &[("slat", "900", "2", "40"), ("rail", "900", "1", "")],
            );
            draft.parts[1].ripped = None;
            draft.yard[0].length = some(yard);
            draft.shed("A", "board", "1000", "");
            let board = draft.shed.last_mut().expect("a board");
            (board.trim, board.treated) = (some("0"), some(treated));
        })
    };
    let from = |job: &Job| -> Vec<(Source, bool)> {
        let (plan, _) = planned(job);
        let placed = plan.boards.iter().flat_map(|board| {
            let cuts = board.runs.iter().flat_map(|run| &run.cuts);
            cuts.map(|cut| (board.source, job.parts[cut.part].strips.is_empty()))
        });
        placed.collect()
    };
    // One new length of 1000 besides board A: where A may not be ripped the rail is what comes out of it.
    for treated in ["unknown", "yes"] {
        let placed = from(&with(treated, "1000"));
        assert!(placed.contains(&(Source::Shed(0), true)), "{placed:?}");
        assert!(placed.contains(&(Source::Yard(0), false)), "{placed:?}");
    }
    // A plan that has it the other way round is refused.
    let sound = with("no", "1000");
    let (mut other, _) = planned(&sound);
    let on_a = |plan: &Plan| {
        let board = plan
            .boards
            .iter()
            .find(|board| board.source == Source::Shed(0));
        board.map(|board| board.runs[0].cuts[0].part)
    };
    if on_a(&other) != Some(0) {
        let [one, two] = [0, 1].map(|at| other.boards[at].source);
        (other.boards[0].source, other.boards[1].source) = (two, one);
    }
    assert_eq!(on_a(&other), Some(0));
    let mut unknown = sound;
    unknown.shed[0].treated = lengthwise::job::Treated::Unknown;
    let lies = check(&unknown, other).expect_err("a lie");
    let at = lies
        .iter()
        .any(|lie| matches!(lie, Lie::WrongTimber { part: 0, .. }));
    assert!(at, "{lies:?}");
}

#[test]
fn a_claim_that_a_length_is_needed_holds_only_where_the_board_of_the_shed_may_not_be_ripped() {
    let with = |treated: &str| {
        job(|draft| {
            gate(draft, &[("slat", "900", "2", "40")]);
            draft.shed("A", "board", "1000", "");
            let board = draft.shed.last_mut().expect("a board");
            (board.trim, board.treated) = (some("0"), some(treated));
        })
    };
    let (unknown, no) = (with("unknown"), with("no"));
    let (bought, _) = planned(&unknown);
    assert_eq!(bought.boards[0].source, Source::Yard(0));
    assert_eq!(planned(&no).0.boards[0].source, Source::Shed(0));
    // The same plan and proof where A may be ripped: its bound is not shown.
    let mut claim = bought;
    marked(&mut claim, 0, |_| ());
    let lies = check(&no, claim);
    assert!(lies.is_err() || lies.is_ok_and(|checked| checked.verdict() != Verdict::Proven));
}

#[test]
fn where_no_board_may_be_ripped_that_is_said_with_the_way_out() {
    let job = job(|draft| {
        gate(draft, &[("slat", "2500", "1", "40")]);
        draft.shed("A", "board", "2600", "");
        let board = draft.shed.last_mut().expect("a board");
        (board.trim, board.treated) = (some("0"), some("unknown"));
    });
    let Planned::Impossible(lacks) = asked(&job) else {
        panic!("a plan");
    };
    assert_eq!(
        lack_text(&job, &lacks[0]),
        "\"slat\" is 2500 mm long and ripped to its width, and no board that may be ripped takes it; board A of the shed is perhaps treated \
         (nobody knows): add a longer length to the yard, or say that it is not treated where you know"
    );
    let draft = draft_of(|draft| {
        gate(draft, &[("slat", "900", "1", "40")]);
        draft.saw.rips = some("maybe");
    });
    let faults = validate(&draft).expect_err("a fault");
    assert!(
        faults[0].to_string().starts_with("saw, rips: "),
        "{faults:?}"
    );
}

#[test]
fn an_untreated_board_of_a_treated_section_is_ripped_and_a_treated_one_is_not() {
    let with = |own: &str| {
        job(|draft| {
            gate(draft, &[("slat", "900", "1", "40")]);
            draft.sections[0].treated = some("yes");
            draft.yard.clear();
            draft.shed("A", "board", "1000", "");
            let board = draft.shed.last_mut().expect("a board");
            (board.trim, board.treated) = (some("0"), some(own));
        })
    };
    let told = |own: &str| -> Vec<String> {
        let steps = planned(&with(own)).1.boards.remove(0).steps;
        steps.into_iter().map(|step| step.rip).collect()
    };
    assert_eq!(
        told("no"),
        [
            "",
            "to 40 mm, with a push stick; 102 mm wide is left: keep it"
        ]
    );
    for own in ["yes", "unknown", "as its section"] {
        let [said] = &told(own)[..] else {
            panic!("{:?}", told(own))
        };
        assert!(said.starts_with("do not rip it: its board is "), "{said}");
        assert_eq!(
            said.ends_with("perhaps treated (nobody knows)"),
            own == "unknown",
            "{own}: {said}"
        );
    }
}

#[test]
fn a_strip_beside_what_goes_between_others_is_counted_on_for_a_step_less() {
    let job = job(|draft| {
        gate(draft, &[("noggin", "900", "1", "40")]);
        draft.own.step = some("1");
        draft.parts[0].goes = some("between others");
    });
    let rows = planned(&job).1.back_to_shed;
    let strip = rows.iter().find(|row| row.section.ends_with(" wide"));
    assert_eq!(strip.expect("a strip").length, "899 mm");
}

#[test]
fn a_bar_has_a_line_where_it_is_ripped_and_none_where_it_is_not() {
    let lines = |rips: &str, treated: &str| {
        let job = job(|draft| {
            gate(draft, &[("slat", "900", "1", "40")]);
            draft.saw.rips = some(rips);
            draft.sections[0].treated = some(treated);
        });
        // All across the part, which begins at the length's end.
        planned(&job).1.drawing.matches("H").count()
    };
    let ripped = lines("yes", "no");
    assert_eq!(lines("no", "no") + 1, ripped);
    assert_eq!(lines("yes", "yes"), lines("no", "no"));
}
