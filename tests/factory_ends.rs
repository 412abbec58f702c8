//! Parts that go in the ground stand on factory ends: a treated length has two, and gives at most two of them. The rule of the trade is that the end that came
//! treated goes down, never a cut end (NHBC standards 3.3.5; TDCA on cut ends). What fits is worked out by hand beside each job.

mod common;

use common::{checked, job, planned, proven};
use lengthwise::check::CheckedPlan;
use lengthwise::job::Job;
use lengthwise::length::Length;
use lengthwise::plan::{Lies, Measure};
use lengthwise::planner::Planned;
use lengthwise::quantities::work_out;
use lengthwise::wording::lack_text;
use serde_json::{Value, json};

/// Posts of a treated section 75 wide; kerf 2, trims of 10 and steps of 1.
fn posts(parts: Value, yard: Value, shed: Value) -> Value {
    json!({ "format": "lengthwise-job", "version": 1, "step": "1 mm",
        "saw": { "kerf": "2 mm", "keep": "300 mm" },
        "sections": [{ "name": "post", "thickness": "75", "width": "75", "treated": "yes" }],
        "yard": yard, "shed": shed, "parts": parts })
}

fn post(label: &str, length: &str, quantity: u32) -> Value {
    json!({ "label": label, "length": length, "quantity": quantity.to_string(), "goes": "in the ground" })
}

fn read(value: &Value) -> Job {
    job(&value.to_string())
}

/// Where the parts of each board lie, in millimetres, with their labels.
fn laid(job: &Job, checked: &CheckedPlan) -> Vec<Vec<(String, f64, f64)>> {
    let mm = |length: Length| length.ticks() as f64 / 3_200.0;
    let boards = checked.plan().boards.iter();
    boards
        .map(|board| {
            let cuts = board.runs.iter().flat_map(|run| &run.cuts);
            cuts.map(|cut| {
                (
                    job.parts[cut.part].label.clone(),
                    mm(cut.start),
                    mm(cut.end),
                )
            })
            .collect()
        })
        .collect()
}

fn at(label: &str, from: f64, to: f64) -> (String, f64, f64) {
    (label.to_owned(), from, to)
}

#[test]
fn a_treated_length_gives_two_posts_one_from_each_end_and_no_third_from_its_middle() {
    let yard = json!([{ "length": "4800" }]);
    // Three times 1500 and two cuts are 4504: one length, were it not for the middle one.
    let mut value = posts(json!([post("post", "1500", 3)]), yard, json!([]));
    let job = read(&value);
    let plan = checked(&job);
    assert_eq!(proven(&plan, Measure::Bought), 2);
    assert_eq!(
        laid(&job, &plan),
        [
            vec![at("post", 0.0, 1_500.0)],
            vec![at("post", 0.0, 1_500.0), at("post", 3_300.0, 4_800.0)]
        ]
    );
    value["parts"][0]["goes"] = "free".into();
    assert_eq!(proven(&checked(&read(&value)), Measure::Bought), 1);
    // Where nobody knows whether it is treated, nothing is asked of the plan.
    value["parts"][0]["goes"] = "in the ground".into();
    value["sections"][0]["treated"] = "unknown".into();
    assert_eq!(proven(&checked(&read(&value)), Measure::Bought), 1);
}

#[test]
fn a_factory_end_is_not_trimmed_and_other_parts_lie_between_the_posts() {
    let yard = json!([{ "length": "4800" }]);
    let parts = json!([post("post", "1500", 2), { "label": "rail", "length": "1794" }]);
    // 1500 + 2 + 1794 + 2 + 1500 = 4798, and a rail of 1796 fills the length.
    let mut value = posts(parts, yard, json!([]));
    let job = read(&value);
    let plan = checked(&job);
    assert_eq!(
        laid(&job, &plan),
        [vec![
            at("post", 0.0, 1_500.0),
            at("rail", 1_502.0, 3_296.0),
            at("post", 3_300.0, 4_800.0)
        ]]
    );
    value["parts"][1]["length"] = "1796".into();
    assert_eq!(proven(&checked(&read(&value)), Measure::Bought), 1);
    value["parts"][1]["length"] = "1797".into();
    assert_eq!(proven(&checked(&read(&value)), Measure::Bought), 2);
    // Alone, a post may be as long as its length.
    let whole = posts(
        json!([post("post", "4800", 1)]),
        json!([{ "length": "4800" }]),
        json!([]),
    );
    assert_eq!(proven(&checked(&read(&whole)), Measure::Bought), 1);
}

#[test]
fn a_board_of_the_shed_has_the_factory_ends_that_are_said() {
    let shed =
        |ends: &str| json!([{ "mark": "S", "length": "2000", "trim": "20", "factory_ends": ends }]);
    let parts = json!([post("post", "900", 2)]);
    let plan = |ends: &str, parts: &Value| {
        let value = posts(parts.clone(), json!([{ "length": "2400" }]), shed(ends));
        let job = read(&value);
        let plan = checked(&job);
        let bought = proven(&plan, Measure::Bought);
        (bought, laid(&job, &plan)[0].clone())
    };
    let both = vec![at("post", 0.0, 900.0), at("post", 1_100.0, 2_000.0)];
    assert_eq!(plan("both", &parts), (0, both));
    let one = json!([post("post", "900", 1)]);
    assert_eq!(plan("datum end", &one), (0, vec![at("post", 0.0, 900.0)]));
    assert_eq!(
        plan("far end", &one),
        (0, vec![at("post", 1_100.0, 2_000.0)])
    );
    assert_eq!(plan("none", &one).0, 1);
    assert_eq!(plan("far end", &parts).0, 1);
}

#[test]
fn a_bad_stretch_leaves_a_post_on_the_other_end() {
    let shed = json!([{ "mark": "S", "length": "2000", "bad": "15..30", "trim": "20", "factory_ends": "both" }]);
    let job = read(&posts(json!([post("post", "900", 1)]), json!([]), shed));
    assert_eq!(
        laid(&job, &checked(&job)),
        [vec![at("post", 1_100.0, 2_000.0)]]
    );
}

#[test]
fn a_slanted_top_faces_the_other_parts_and_shares_no_cut() {
    let mut slanted = post("post", "1500", 2);
    slanted["ends"] = "square; 10".into();
    let job = read(&posts(
        json!([slanted]),
        json!([{ "length": "4800" }]),
        json!([]),
    ));
    let plan = checked(&job);
    let [one, other] = [0, 1].map(|run| plan.plan().boards[0].runs[run].cuts[0]);
    assert_eq!([one.lies, other.lies], [Lies::AsWritten, Lies::Turned]);
    let mut value = posts(
        json!([post("post", "1500", 1)]),
        json!([{ "length": "4800" }]),
        json!([]),
    );
    value["parts"][0]["ends"] = "10; 10".into();
    let (draft, _) = lengthwise::io::job_file::read(&value.to_string());
    let faults = lengthwise::job::validate(&draft).expect_err("both ends are slanted");
    assert_eq!(
        faults.iter().map(ToString::to_string).collect::<Vec<_>>(),
        [
            "parts 1, ends: what goes in the ground stands on a factory end, which is square; make one end square"
        ]
    );
}

#[test]
fn where_factory_ends_are_lacking_it_is_said_so() {
    let told = |value: &Value| {
        let job = read(value);
        match planned(&job) {
            Planned::Impossible(lacks) => lacks
                .iter()
                .map(|lack| lack_text(&job, lack))
                .collect::<Vec<_>>(),
            other => panic!("{other:?}"),
        }
    };
    let shed = json!([{ "mark": "S", "length": "2000" }]);
    assert_eq!(
        told(&posts(json!([post("post", "900", 1)]), json!([]), shed)),
        [
            "\"post\" goes in the ground and needs a factory end, and no board of post that is long enough has one; add a length to the yard, or say which ends \
          of a board in the shed are factory ends"
        ]
    );
    let shed = json!([{ "mark": "S", "length": "4000", "factory_ends": "both" }]);
    assert_eq!(
        told(&posts(json!([post("post", "900", 3)]), json!([]), shed)),
        [
            "Posts need a factory end: 3 parts of post go in the ground, and the boards that there are have 2 such ends; raise a count at the yard, add a length, \
          or say which ends of a board in the shed are factory ends"
        ]
    );
}

#[test]
fn what_a_length_with_two_factory_ends_is_worth_is_two_posts() {
    use lengthwise::certificate::{Branch, Leaf};
    use lengthwise::check::{Lie, check};
    use lengthwise::plan::Source;
    let value = posts(
        json!([post("post", "1000", 3)]),
        json!([{ "length": "4800" }]),
        json!([]),
    );
    let job = read(&value);
    let Planned::Found(plan) = planned(&job) else {
        panic!("there is a plan");
    };
    let with_price = |price| {
        let mut plan = plan.clone();
        let certificate = plan.proofs[0].certificate.as_mut().expect("figures");
        certificate.levels[0].tree = vec![Branch::Leaf(Leaf {
            scale: 2,
            parts: vec![price],
            earlier: Vec::new(),
            splits: Vec::new(),
        })];
        check(&job, plan)
    };
    // Half a length each: three are one and a half, which is two. Four would fit the length if they could lie anywhere.
    let checked = with_price(1).expect("figures that hold");
    assert_eq!(proven(&checked, Measure::Bought), 2);
    assert_eq!(
        with_price(2),
        Err(vec![Lie::PricesOvercharge {
            measure: Measure::Bought,
            board: Source::Yard(0),
            worth: 4,
            charge: 2,
        }])
    );
}

#[test]
fn the_sheet_measures_a_post_at_the_far_end_from_there_and_trims_no_factory_end() {
    let value = posts(
        json!([post("post", "1500.4", 2)]),
        json!([{ "length": "4800" }]),
        json!([]),
    );
    let job = read(&value);
    let plan = checked(&job);
    let report = lengthwise::report::build(&job, &plan);
    let steps: Vec<(String, String, Vec<String>)> = report.boards[0]
        .steps
        .iter()
        .map(|step| (step.told_reading(), step.label.clone(), step.says()))
        .collect();
    let says = |texts: &[&str]| {
        texts
            .iter()
            .map(|&text| text.to_owned())
            .collect::<Vec<_>>()
    };
    assert_eq!(
        steps,
        [
            (
                "1501".to_owned(),
                "post".to_owned(),
                says(&[
                    "saw on the far side of the mark",
                    "the datum end is its factory end and goes down: do not trim it",
                ]),
            ),
            (
                "1501".to_owned(),
                "post".to_owned(),
                says(&[
                    "read from the far end, the tape hooked on it",
                    "saw on the datum side of the mark",
                    "the far end is its factory end and goes down: do not trim it",
                ]),
            ),
        ]
    );
    // What is left between the two: 4800 less 1501 and 1501 and two cuts of 2.
    let back: Vec<&str> = report
        .back_to_shed
        .iter()
        .map(|row| row.length.as_str())
        .collect();
    assert_eq!(back, ["1794 mm"]);
}

#[test]
fn what_is_left_keeps_the_factory_end_it_has() {
    use lengthwise::progress::{BoardProgress, Progress, left};
    let value = posts(
        json!([post("post", "1500", 2)]),
        json!([{ "length": "4800" }]),
        json!([]),
    );
    let job = read(&value);
    let plan = checked(&job);
    let rests = |cut: usize| {
        let board = BoardProgress {
            board: 0,
            cut,
            ..BoardProgress::default()
        };
        let progress = Progress {
            boards: vec![board],
            ..Progress::default()
        };
        let left = left(&job, plan.plan(), &progress);
        let rests = left.shed_new.iter();
        rests
            .map(|rest| (rest.length, rest.factory_ends, rest.kept))
            .collect::<Vec<_>>()
    };
    // One post is off: the rest still has the far end. Both are off: what was between them has none.
    assert_eq!(rests(1), [(Length::from_mm(3_298), [false, true], true)]);
    assert_eq!(rests(2), [(Length::from_mm(1_796), [false, false], true)]);
}

#[test]
fn a_length_that_the_yard_cuts_has_a_factory_end_on_each_of_its_pieces() {
    // Each piece of at least 2 m with what its fresh end loses: 10, 10 for the yard and a cut.
    let mut value = posts(
        json!([post("post", "2000", 2), { "label": "block", "length": "300" }]),
        json!([{ "length": "4800" }]),
        json!([]),
    );
    value["carry"] = "2600".into();
    value["yard_tolerance"] = "10".into();
    let job = read(&value);
    let plan = checked(&job);
    assert_eq!(proven(&plan, Measure::Bought), 1);
    let boards = laid(&job, &plan);
    assert_eq!(boards[0][0], at("post", 0.0, 2_000.0));
    assert_eq!(boards[0][2], at("post", 2_800.0, 4_800.0));
    // No post of 2.4 m comes out of either piece: 2400 and what the fresh ends lose twice is more than the length.
    value["parts"][0]["length"] = "2390".into();
    assert_eq!(proven(&checked(&read(&value)), Measure::Bought), 2);
}

#[test]
fn the_ways_to_stand_on_the_boards_of_a_section_are_counted_before_anything_is_planned() {
    use lengthwise::limits::STANDING;
    let faults = |lengths: usize, kinds: usize| {
        let yard: Vec<Value> = (0..lengths)
            .map(|at| json!({ "length": (3_000 + at).to_string() }))
            .collect();
        // Each length twice: equal parts are one.
        let parts: Vec<Value> = (0..2 * kinds)
            .map(|at| post(&format!("post {at}"), &(1_000 + at / 2).to_string(), 1))
            .collect();
        let value = posts(parts.into(), yard.into(), json!([]));
        let (draft, _) = lengthwise::io::job_file::read(&value.to_string());
        let faults = lengthwise::job::validate(&draft).err().unwrap_or_default();
        faults.iter().map(ToString::to_string).collect::<Vec<_>>()
    };
    // Fifty lengths, each with any two of 30 posts, one or none: 50 x 31 x 31.
    assert_eq!(faults(50, 30), Vec::<String>::new());
    let told = STANDING.told(50 * 32 * 32);
    assert_eq!(faults(50, 31), [format!("sections 1: {told}")]);
}

#[test]
fn the_end_that_a_post_stands_on_is_not_brushed() {
    let rail = json!({ "label": "rail", "length": "900", "quantity": "2" });
    let parts = json!([post("post", "1500", 3), rail]);
    let treated = |treated: &str| {
        let mut value = posts(parts.clone(), json!([{ "length": "4800" }]), json!([]));
        value["sections"][0]["treated"] = treated.into();
        work_out(&read(&value))
    };
    // Three posts have one cut end each and two rails two, all of 75 by 75; where nobody knows of a treatment all ten are cut.
    let side = i128::from(Length::from_mm(75).ticks()).pow(2);
    let [said, unknown] = ["yes", "unknown"].map(treated);
    assert_eq!((said.treated_ends, said.treated_end_area), (7, 7 * side));
    assert_eq!(
        (unknown.treated_ends, unknown.treated_end_area),
        (10, 10 * side)
    );
}

#[test]
fn a_part_at_the_far_end_is_held_against_the_trim_as_it_is_measured() {
    // 300.2 is measured as 301 from the far end, of which 300.3 would be trimmed; 300 is measured as 300.
    let job = |length: &str| {
        let shed = json!([{ "mark": "S", "length": "2000", "trim": "20; 300.3", "factory_ends": "far end" }]);
        read(&posts(json!([post("post", length, 1)]), json!([]), shed))
    };
    let plan = checked(&job("300.2"));
    assert_eq!(plan.plan().boards.len(), 1);
    assert!(matches!(planned(&job("300")), Planned::Impossible(_)));
}

#[test]
fn a_set_out_part_with_two_slanted_ends_that_goes_in_the_ground_is_told_at_its_field() {
    let told = |ends: &str, treated: &str| {
        let mut value = posts(json!([]), json!([{ "length": "4800" }]), json!([]));
        value["sections"][0]["treated"] = treated.into();
        value["set_outs"] = json!([
            { "kind": "parts", "name": "Rails", "length": "900", "section": "post", "ends": "45" },
            { "kind": "parts", "name": "Stakes", "length": "900", "section": "post", "ends": ends, "goes": "in the ground" },
        ]);
        let (draft, faults) = lengthwise::io::job_file::read(&value.to_string());
        assert!(faults.is_empty(), "{faults:?}");
        let faults = lengthwise::job::validate(&draft).err().unwrap_or_default();
        faults.iter().map(ToString::to_string).collect::<Vec<_>>()
    };
    assert_eq!(
        told("45; 30", "yes"),
        [
            "set_outs 2, ends: what goes in the ground stands on a factory end, which is square; make one end square"
        ]
    );
    assert_eq!(told("45; square", "yes"), Vec::<String>::new());
    assert_eq!(told("45", "no"), Vec::<String>::new());
}
