//! A cut at the yard is a rough one: what is planned for it, where the yard is told to saw, what is said of the vehicle, and what it costs.
//!
//! All expected figures are sums of the sizes in the job, done beside them.

mod common;

use common::{checked, job};
use lengthwise::api;
use lengthwise::check::{Verdict, check};
use lengthwise::exact_yard::{exact_yard, joined_both, plan_both};
use lengthwise::group::groups;
use lengthwise::patience::{EXACT_YARD, Limits};
use lengthwise::planner::Planned;
use lengthwise::report::{self, Report, csv, text::text};
use serde_json::{Value, json};

/// A job of one section that is not trimmed: what is said of the yard and the vehicle, and posts of one length.
fn posts(says: &str, yard: &str, length: &str, quantity: u32) -> String {
    format!(
        r#"{{"format":"lengthwise-job",{says}"saw":{{"kerf":2.4,"keep":300}},"sections":[{{"name":"rail","width":70,"trim":0}}],
            "yard":[{yard}],"parts":[{{"label":"post","length":"{length}","quantity":{quantity}}}]}}"#
    )
}

const LONG: &str = r#"{"length":"4.8 m","price":4.80}"#;

fn reported(text: &str) -> Report {
    let job = job(text);
    report::build(&job, &checked(&job))
}

/// The yard's cut of the first board: its reading, what is said of it, and what to mind.
fn yard_step(text: &str) -> (String, String, String) {
    let report = reported(text);
    let step = &report.boards[0].steps[0];
    (
        step.reading.clone(),
        step.hint.clone(),
        step.caution.clone(),
    )
}

#[test]
fn where_nothing_is_said_the_yard_may_be_ten_millimetres_off_and_its_ends_are_trimmed_as_usual() {
    let rough = |says: &str| {
        let job = job(&format!(
            r#"{{"format":"lengthwise-job",{says}"sections":[{{"name":"rail","trim":"4; 7"}}],
                "yard":[{{"length":"4.8 m"}}],"parts":[{{"label":"post","length":"600"}}]}}"#
        ));
        let ends = job.sections[0].yard_sawn;
        [job.yard_tolerance, ends.far, ends.datum].map(|length| length.ticks() / 3_200)
    };
    assert_eq!(rough(""), [10, 7, 4]);
    assert_eq!(rough(r#""yard_tolerance":3,"yard_trim":12,"#), [3, 12, 12]);
    // 1/2 in is 12.7 mm; nothing else is in inches here.
    let inches = job(
        r#"{"format":"lengthwise-job","unit":"in","sections":[{"name":"rail"}],
            "yard":[{"length":"16'"}],"parts":[{"label":"post","length":"20"}]}"#,
    );
    assert_eq!(inches.yard_tolerance.ticks() * 10, 127 * 3_200);
}

#[test]
fn the_yard_is_told_a_whole_reading_in_the_middle_of_the_slack() {
    // Both pieces need two posts, a cut and the tolerance: 2002.4 + 10. Of 4797.6 the first may have 2012.4 to 2785.2, less three steps of half a
    // millimetre for the marks on either side; but the vehicle takes 2600, so from 2197.6 on and no more than 2600. The middle is 2398.8.
    let said = r#""carry":2600,"#;
    let (reading, hint, caution) = yard_step(&posts(said, LONG, "1000", 4));
    assert_eq!(reading, "2400");
    assert_eq!(hint, "sawn up to 10 mm off it, no part comes out short");
    assert_eq!(caution, "");
    // In inches: 15' less an eighth are 179 7/8; each piece needs 80 1/8 and 1/2, and three sixteenths for its marks, so the first has 80 13/16 to
    // 99 1/16. The middle is 89 15/16, and a yard saws at 90.
    let inches = r#"{"format":"lengthwise-job","unit":"in","carry":"100","saw":{"kerf":"1/8","keep":"100"},
        "sections":[{"name":"rail","width":"3","trim":"0"}],"yard":[{"length":"15'"}],
        "parts":[{"label":"post","length":"40","quantity":4}]}"#;
    let (reading, hint, _) = yard_step(inches);
    assert_eq!(reading, "90\"");
    assert_eq!(hint, "sawn up to 1/2\" off it, no part comes out short");
}

#[test]
fn where_no_whole_reading_lies_in_the_slack_what_is_left_on_either_side_is_told() {
    // Two posts, a cut and the tolerance are 2396.4 in each piece, and 4797.6 less that are 2401.2: but the vehicle takes 2399.9, so the first
    // has 2397.9, with its three steps, to 2399.7. The middle is 2398.8, and a tape of half millimetres shows 2399 of it.
    let (reading, hint, _) = yard_step(&posts(r#""carry":"2399.9","#, LONG, "1192", 4));
    assert_eq!(reading, "2399");
    assert_eq!(
        hint,
        "measure well: it leaves 2399 mm before it and 2398.6 mm beyond it; sawn up to 10 mm off it, no part comes out short"
    );
}

#[test]
fn a_length_that_just_goes_into_the_car_in_two_pieces_stays_possible_and_is_told_of() {
    // 4800 less the cut is 4797.6, so that 2397.6 and 2400 go in: sawn 10 off, one of them is 10 longer than the car takes.
    let report = reported(&posts(r#""carry":2400,"#, LONG, "1100", 4));
    let longer = "sawn 10 mm off, a piece comes out 10 mm longer than the vehicle takes";
    let step = &report.boards[0].steps[0];
    assert_eq!((&step.reading[..], &step.caution[..]), ("2400", longer));
    let notes = [
        "A cut at the yard: sawn up to 10 mm off it, no part comes out short.".to_owned(),
        format!("Cut at 2400 mm: {longer}."),
    ];
    assert_eq!(report.at_the_yard, notes);
    let told = text(&report);
    assert!(notes.iter().all(|note| told.contains(note)), "{told}");
    assert!(csv::saw(&report).contains(longer));
    // A yard that is 2 off makes it 2 longer, one that saws exactly no longer at all.
    let at = |off: &str| {
        let says = format!(r#""carry":2400,"yard_tolerance":{off},"#);
        yard_step(&posts(&says, LONG, "1100", 4)).2
    };
    assert_eq!(
        at("2"),
        "sawn 2 mm off, a piece comes out 2 mm longer than the vehicle takes"
    );
    assert_eq!(at("0"), "");
}

/// What the page is told: planned as a whole, and group by group with the parts joined.
fn told(text: &str) -> [Value; 2] {
    let job: Value = serde_json::from_str(text).expect("JSON");
    let parsed = |reply: String| serde_json::from_str::<Value>(&reply).expect("JSON");
    let plan =
        |request: &Value| parsed(api::plan(&request.to_string(), &|| 0.0, &mut |_: &str| {}));
    let whole = plan(&json!({ "job": job }));
    let part = plan(&json!({ "job": job, "group": 0 }));
    if part.get("part").is_none() {
        return [whole, part];
    }
    let request =
        json!({ "job": job, "plans": [part["part"]], "exact": [part["exact"]], "spent": [0] });
    [whole, parsed(api::call("report", &request.to_string()))]
}

#[test]
fn what_the_tolerance_costs_is_said_with_the_plan_there_would_be_without() {
    // Two posts of 1195 and a cut are 2392.4: they go into 2398.8, but not into 10 less. Without, one length does for all four posts; cut anywhere
    // from 2397.6 to 2400, or the vehicle does not take both.
    let text = posts(r#""carry":2400,"#, LONG, "1195", 4);
    let line = "With a cut at exactly 2400 mm at the yard: one length fewer, 4.80 less.";
    for reply in told(&text) {
        assert_eq!(reply["outcome"], "proven", "{reply}");
        assert_eq!(reply["buying"]["totals"]["count"], 2);
        for list in ["explanation", "at_the_yard"] {
            let last = reply[list].as_array().and_then(|list| list.last());
            assert_eq!(last, Some(&json!(line)), "{list}");
        }
    }
    // Where one length does with the tolerance too, nothing is said.
    for reply in told(&posts(r#""carry":2400,"#, LONG, "1192", 4)) {
        assert_eq!(reply["buying"]["totals"]["count"], 1);
        assert!(
            !reply["explanation"].to_string().contains("exactly"),
            "{reply}"
        );
    }
}

#[test]
fn what_the_tolerance_costs_is_told_by_the_aim_of_the_job() {
    let line = |aim: &str, yard: &str| {
        let says = format!(r#""aim":"{aim}","carry":2400,"#);
        let [whole, joined] = told(&posts(&says, yard, "1195", 4));
        assert_eq!(whole["at_the_yard"], joined["at_the_yard"]);
        let last = whole["at_the_yard"].as_array().and_then(|list| list.last());
        last.and_then(Value::as_str).unwrap_or_default().to_owned()
    };
    // Two lengths of 2.4 m at 2 are cheaper than one of 4.8 m at 4.80 in any case, and no longer.
    let short = r#"{"length":"4.8 m","price":4.80},{"length":"2.4 m","price":2}"#;
    assert!(!line("cheapest", short).contains("exactly"));
    assert_eq!(
        line("fewest", short),
        "With a cut at exactly 2400 mm at the yard: one length fewer, 0.80 more."
    );
    // 4.8 m in all with or without.
    assert!(!line("shortest", short).contains("exactly"));
    assert_eq!(
        line("shortest", LONG),
        "With a cut at exactly 2400 mm at the yard: one length fewer, 4.8 m less, 4.80 less."
    );
}

#[test]
fn the_plan_without_the_tolerance_is_one_like_any_other() {
    let job = job(&posts(r#""carry":2400,"#, LONG, "1195", 4));
    let exact = exact_yard(&job);
    let all = groups(&job);
    let mut unheard = |_: &_| ();
    let both = plan_both(
        &job,
        (0, &all[0]),
        Limits::asks(5_000),
        &|| 0.0,
        &mut unheard,
    );
    let (Planned::Found(heeding), Some(Planned::Found(other))) = joined_both(vec![both]) else {
        panic!("two plans");
    };
    let verdicts = [
        check(&job, heeding.clone()).map(|checked| checked.verdict()),
        check(&exact, other.clone()).map(|checked| checked.verdict()),
    ];
    assert_eq!(verdicts, [Ok(Verdict::Proven), Ok(Verdict::Proven)]);
    assert_eq!((heeding.boards.len(), other.boards.len()), (2, 1));
    // It is no plan for the yard there is.
    assert!(check(&job, other).is_err());
    // A job without a vehicle, or with a yard that saws exactly, is planned once.
    let once = |job: &lengthwise::job::Job| {
        let all = groups(job);
        plan_both(
            job,
            (0, &all[0]),
            Limits::asks(5_000),
            &|| 0.0,
            &mut |_: &_| (),
        )
        .1
    };
    assert_eq!(once(&exact), None);
    let whole = common::job(&posts("", LONG, "1195", 4));
    assert_eq!(once(&whole), None);
}

#[test]
fn the_plan_without_the_tolerance_takes_its_part_of_the_time_asked_for() {
    let [first, second] = Limits::asks(1_000).for_both();
    assert_eq!((first.asks, second.asks), (800, 200));
    let [first, second] = Limits::milliseconds(1_000.0).for_both();
    assert_eq!(second.milliseconds, 1_000.0 * EXACT_YARD);
    assert_eq!(first.milliseconds + second.milliseconds, 1_000.0);
}

#[test]
fn a_part_that_only_an_exact_cut_leaves_room_for_says_so() {
    // 2395 goes into a piece of 2398.8, and not into one that may be 10 less.
    for reply in told(&posts(r#""carry":2400,"#, LONG, "2395", 1)) {
        assert_eq!(reply["outcome"], "impossible");
        assert_eq!(
            reply["explanation"],
            json!([
                "\"post\" is 2395 mm long, and no board of rail takes it once its ends are trimmed and the yard's cut may be 10 mm off; say that the yard saws nearer its reading, if it does, make the trim less where the ends are good, add a longer length to the yard, or shorten the part"
            ])
        );
    }
}

#[test]
fn a_plan_under_way_from_before_the_tolerance_counted_keeps_its_cut_and_its_parts() {
    // Sawn at 1996, the first piece has both legs up to the cut, and the second one leg from its fresh end on; 4000 - 1996 - 4 = 2000.
    let says = r#""carry":2200,"#;
    let job = posts(says, r#"{"length":"4 m"}"#, "990", 3).replace("2.4", "4");
    let mm = |millimetres: i64| millimetres * 3_200;
    let cut = |start: i64| json!({ "part": 0, "start": mm(start), "end": mm(start + 990) });
    let plan = json!({
        "format": "lengthwise-plan", "version": 2, "proofs": [],
        "boards": [{ "yard": 0, "yard_cut": mm(1996), "runs": [
            { "from": 0, "to": mm(1996), "cuts": [cut(0), cut(994)] },
            { "from": mm(2000), "to": mm(4000), "cuts": [cut(2000)] },
        ] }],
    });
    let file: Value = serde_json::from_str(&job).expect("JSON");
    let call = |action: &str, request: Value| -> Value {
        serde_json::from_str(&api::call(action, &request.to_string())).expect("JSON")
    };
    let report = call("report", json!({ "job": file, "plans": [plan] }));
    assert_eq!(report["boards"][0]["yard_cut"], "1996 mm", "{report}");
    assert_eq!(report["at_the_yard"], json!([]));
    let progress = json!({ "boards": [], "bought": [{ "line": 0, "lengths": [null] }] });
    let left = call(
        "remaining",
        json!({ "job": file, "plan": plan, "progress": progress, "taken": [] }),
    );
    let lengths: Vec<&Value> = left["job"]["shed"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|row| &row["length"])
        .collect();
    assert_eq!(lengths, ["1996 mm", "2000 mm"], "{left}");
    // As a plan to begin with it is refused: the yard may be 10 off.
    let fresh = call(
        "report",
        json!({ "job": file, "plans": [plan], "spent": [0] }),
    );
    assert!(fresh["findings"].is_array(), "{fresh}");
}
