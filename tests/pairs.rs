//! Parts wanted left and right: one piece where it may be turned over, two where it may not.

mod common;

use common::{checked, hand, job, planned, proven};
use lengthwise::check::{Lie, check};
use lengthwise::io::job_file;
use lengthwise::job::{Job, Leans, validate};
use lengthwise::length::Decimal;
use lengthwise::piece::piece_text;
use lengthwise::plan::{Measure, Plan};
use lengthwise::planner::Planned;
use lengthwise::report;

/// Four braces of a gate, left and right, from boards 95 wide, no trims.
fn gate(ends: &str, leans: &str, faces: &str, face: &str) -> Job {
    job(&format!(
        r#"{{"format":"lengthwise-job","sections":[{{"name":"board","width":"95","trim":"0","faces":"{faces}"}}],
            "yard":[{{"length":"2300","price":"4"}}],
            "parts":[{{"label":"brace","length":"640","quantity":4,"ends":"{ends}","leans":"{leans}","face":"{face}","hand":"left and right"}}]}}"#
    ))
}

const SAME: &str = "the same way";
const OPPOSITE: &str = "opposite ways";
const GOOD: &str = "good face out";

#[test]
fn a_pair_is_one_piece_where_it_may_be_turned_over_or_is_its_own_mirror_image_and_two_else() {
    for (ends, leans, faces, face, pieces) in [
        ("45", SAME, "alike", "either", 1),
        ("45", SAME, "alike", GOOD, 2),
        ("45", SAME, "different", "either", 2),
        ("square; 45", OPPOSITE, "alike", "either", 1),
        ("square; 45", OPPOSITE, "alike", GOOD, 2),
        ("30; 45", OPPOSITE, "different", "either", 2),
        ("45", OPPOSITE, "different", GOOD, 1),
        ("square", SAME, "different", GOOD, 1),
    ] {
        let parts = gate(ends, leans, faces, face).parts;
        assert_eq!(parts.len(), pieces, "{ends}, {leans}, {faces}, {face}");
        let quantities: Vec<u32> = parts.iter().map(|part| part.quantity).collect();
        assert_eq!(quantities, vec![4 / pieces as u32; pieces]);
    }
    // In a mirror the ends change places; those that lean the same way lean the other way.
    let [left, right] = &gate("30; 45", SAME, "alike", GOOD).parts[..] else {
        panic!("two pieces");
    };
    assert_eq!((&left.label[..], &right.label[..]), ("brace L", "brace R"));
    assert_eq!([right.ends[1], right.ends[0]], left.ends);
    assert_eq!((left.leans, right.leans), (Leans::Same, Leans::Mirrored));
    assert!(left.written_edges() != right.written_edges());
}

#[test]
fn left_and_right_with_their_good_faces_out_share_no_cut_with_each_other() {
    // Own arithmetic: four nested take 4 x 640 - 3 x 95 + 3 x 3.4 = 2285.2 of 2300; two and two, nested by themselves, 2380.2.
    let bought = |face: &str| proven(&checked(&gate("45", SAME, "alike", face)), Measure::Bought);
    assert_eq!(bought("either"), 1);
    assert_eq!(bought(GOOD), 2);
}

#[test]
fn plans_with_the_wrong_hand_are_refused() {
    let choosy = gate("45", SAME, "alike", GOOD);
    let free = gate("45", SAME, "alike", "either");
    let Planned::Found(plan) = planned(&free) else {
        panic!("a plan");
    };
    let bare = Plan {
        proofs: Vec::new(),
        ..plan
    };
    // Four of the left: two too many, and none of the right.
    let wrong = |part, wanted, cut| match cut > wanted {
        true => Lie::PartCutTooOften { part, wanted, cut },
        false => Lie::PartForgotten { part, wanted, cut },
    };
    assert_eq!(
        check(&choosy, bare.clone()),
        Err(vec![wrong(0, 2, 4), wrong(1, 2, 0)])
    );
    // Two of them called the right, all nested as before: where left meets right the cut is of two leans.
    let mut called = bare;
    for (index, cut) in called.boards[0].runs[0].cuts.iter_mut().enumerate() {
        cut.part = index / 2;
    }
    assert_eq!(
        check(&choosy, called),
        Err(vec![Lie::MitreSharedWithoutTurning { board: 0, part: 1 }])
    );
}

#[test]
fn sheets_drawings_and_lists_say_left_and_right() {
    let job = gate("45", SAME, "alike", GOOD);
    let report = report::build(&job, &checked(&job));
    let steps = report.boards.iter().flat_map(|board| &board.steps);
    let mut labels: Vec<&str> = steps
        .map(|step| &step.label[..])
        .filter(|label| label.starts_with("brace"))
        .collect();
    labels.sort_unstable();
    assert_eq!(labels, ["brace L", "brace L", "brace R", "brace R"]);
    let legend: Vec<&str> = report.legend.iter().map(|row| &row.label[..]).collect();
    assert_eq!(legend, ["brace L", "brace R"]);
    let text = piece_text(&job);
    for line in [
        "2 x brace L, 640 mm, board, both ends 45\u{b0} leaning the same way, good face out",
        "2 x brace R, 640 mm, board, both ends 45\u{b0} leaning the same way, mirrored, good face out",
    ] {
        assert!(text.contains(line), "{text}");
    }
    let told = |ends, leans| {
        let job = gate(ends, leans, "alike", "either");
        job.parts[0].told_also(Decimal::Point)
    };
    let turned = "left and right: turn half of them over".to_owned();
    assert_eq!(told("45", SAME), Some(turned));
    let alike = "left and right are alike".to_owned();
    assert_eq!(told("45", OPPOSITE), Some(alike));
}

#[test]
fn an_odd_number_is_no_pair() {
    let (draft, _) = job_file::read(
        r#"{"format":"lengthwise-job","sections":[{"name":"board"}],"yard":[{"length":"2300"}],
            "parts":[{"label":"brace","length":"640","quantity":3,"hand":"left and right"}]}"#,
    );
    let faults = validate(&draft).expect_err("three");
    assert_eq!(
        faults[0].to_string(),
        "parts 1, quantity: left and right come in equal numbers; make the quantity even"
    );
    let shelf = |quantity, times| {
        validate(&hand::draft_of(|draft| {
            draft.section("lath", |section| {
                section.thickness = Some("20".into());
                section.width = Some("45".into());
                section.faces = Some("different".into());
            });
            let fields = [
                ("length", "600"),
                ("section", "lath"),
                ("ends", "square; 30"),
                ("hand", "left and right"),
                ("quantity", quantity),
                ("times", times),
            ];
            draft.set_out("shelf", "parts", &fields);
        }))
    };
    assert!(shelf("1", "1").is_err());
    let parts = shelf("1", "2").expect("one of each").parts;
    let labels: Vec<(&str, u32)> = parts
        .iter()
        .map(|part| (&part.label[..], part.quantity))
        .collect();
    assert_eq!(labels, [("shelf: part L", 1), ("shelf: part R", 1)]);
}
