//! Parts that show one face: what may be turned, and what is said of it.

mod common;

use common::{checked, hand, job, proven};
use lengthwise::job::{Job, Sides, validate};
use lengthwise::piece::piece_text;
use lengthwise::plan::{Edge, Lies, Measure};
use lengthwise::report::build;

/// A strut of a well cover, square at one end and at 45 degrees at the other, and a brace with both ends leaning the same way, from boards 95 wide.
/// The length on sale takes both only where they share a cut: 2 x 640 - 95 + 3.4 of 1200.
fn cover(faces: &str, edges: &str, face: &str) -> Job {
    job(&format!(
        r#"{{"format":"lengthwise-job","sections":[{{"name":"board","width":"95","trim":"0","faces":"{faces}","edges":"{edges}"}}],
            "yard":[{{"length":"1200","price":"4"}}],
            "parts":[{{"label":"strut","length":"640","ends":"square; 45","face":"{face}"}},
                     {{"label":"brace","length":"640","ends":"45","leans":"the same way","face":"{face}"}}]}}"#
    ))
}

#[test]
fn a_part_with_its_good_face_out_is_turned_only_so_that_the_face_stays_up() {
    let bought = |job: &Job| proven(&checked(job), Measure::Bought);
    // As both are written the strut's cut leans to the right and the brace's to the left. A half-turn about the normal of the face keeps leans; it
    // takes one of the two that lay a part face down for them to meet.
    for (faces, edges, either, good) in [
        ("alike", "alike", 1, 2),
        ("alike", "different", 1, 2),
        ("different", "alike", 2, 2),
        ("different", "different", 2, 2),
    ] {
        let free = cover(faces, edges, "either");
        assert_eq!(bought(&free), either, "{faces}, {edges}");
        let job = cover(faces, edges, "good face out");
        assert_eq!(bought(&job), good, "{faces}, {edges}");
        // Face up is as written, or turned with its edges changed as well.
        let plan = checked(&job).plan().clone();
        for cut in plan.boards.iter().flat_map(|board| &board.runs[0].cuts) {
            let up = [(Lies::AsWritten, Edge::Far), (Lies::Turned, Edge::Near)];
            assert!(up.contains(&(cut.lies, cut.long_edge)), "{cut:?}");
        }
    }
}

#[test]
fn square_parts_with_a_good_face_leave_others_free_and_angled_ones_keep_a_section_face_up() {
    let mut job = cover("alike", "different", "either");
    job.parts.push(job.parts[0].clone());
    job.parts[1].good_face = true;
    assert_eq!(job.sides(0), (Sides::Different, Sides::Different));
    job.parts[1].ends = Default::default();
    assert_eq!(job.sides(0), (Sides::Alike, Sides::Different));
}

#[test]
fn sheets_and_lists_say_which_face_is_up() {
    let told = |face: &str| {
        let job = cover("alike", "alike", face);
        let report = build(&job, &checked(&job));
        report.boards[0].cautions.clone()
    };
    let keep = "Choose the good face of this board, mark it, and keep it up.".to_owned();
    assert_eq!(told("good face out")[0], keep);
    assert!(!told("either").contains(&keep));
    let text = piece_text(&cover("alike", "alike", "good face out"));
    let line = "  1 x strut, 640 mm, board, ends square and 45\u{b0}, good face out\n";
    assert!(text.contains(line), "{text}");
}

#[test]
fn a_set_out_says_it_of_all_its_parts() {
    let draft = hand::draft_of(|draft| {
        draft.section("lath", |section| {
            section.thickness = Some("20".into());
            section.width = Some("45".into());
        });
        let fields = [
            ("length", "600"),
            ("section", "lath"),
            ("face", "good face out"),
        ];
        draft.set_out("shelf", "parts", &fields);
    });
    let job = validate(&draft).expect("a job");
    assert!(job.parts[0].good_face);
}
