//! Cuts with the blade tilted: ends that are bevelled through the thickness, alone or with a mitre, and bevelled long edges.

mod common;

use common::{checked, job, proven};
use lengthwise::check::{Lie, check};
use lengthwise::job::{Job, Leans, PartEnd, examine};
use lengthwise::length::Length;
use lengthwise::marks::{lying_edges, lying_faces};
use lengthwise::plan::{Edge, Lies, Measure, PlacedPart};
use lengthwise::report::{StepKind, build};

/// Two legs of 600 from boards of 45 x 95, sold in one length; 3 mm kerf, no trims.
fn legs(length: &str, ends: &str, more: &str) -> Job {
    job(&format!(
        r#"{{"format":"lengthwise-job","saw":{{"kerf":"3"}},
            "sections":[{{"name":"board","thickness":"45","width":"95","trim":"0"}}],
            "yard":[{{"length":"{length}"}}],
            "parts":[{{"label":"leg","length":"600","quantity":"2","ends":"{ends}"{more}}}]}}"#
    ))
}

const SAME: &str = r#","leans":"the same way""#;

#[test]
fn a_tilted_cut_takes_its_own_width_and_is_shared_with_nothing() {
    let bought = |length: &str, ends: &str| {
        let job = legs(length, ends, SAME);
        proven(&checked(&job), Measure::Bought)
    };
    // Between two braces at 45 degrees lie 3 / cos 45 - 95 = -90.8; with the blade tilted by 30 as well 3 / (cos 45 cos 30) = 4.899, and with a tilt alone
    // 3 / cos 30 = 3.464.
    assert_eq!(bought("1110", "45"), 1);
    assert_eq!(bought("1204.8", "45 tilt 30"), 2);
    assert_eq!(bought("1204.9", "45 tilt 30"), 1);
    assert_eq!(bought("1203.4", "tilt 30"), 2);
    assert_eq!(bought("1203.5", "tilt 30"), 1);
}

#[test]
fn a_plan_that_shares_a_tilted_cut_is_refused() {
    let plain = legs("1110", "45", SAME);
    let plan = checked(&plain).plan().clone();
    let tilted = legs("1110", "45 tilt 30", SAME);
    let Err(lies) = check(&tilted, plan) else {
        panic!("it was believed");
    };
    let needed = Length::from_ticks(15_677);
    assert!(
        lies.iter()
            .any(|lie| matches!(lie, Lie::NoRoomForTheSaw { needed: told, .. } if *told == needed)),
        "{lies:?}"
    );
}

#[test]
fn the_sheet_says_how_the_blade_stands_and_which_face_has_the_long_point() {
    let says = |ends: &str, more: &str| {
        let job = legs("1300", ends, more);
        let report = build(&job, &checked(&job));
        let steps = &report.boards[0].steps;
        let cuts = steps.iter().filter(|step| step.kind == StepKind::Mitre);
        let told: Vec<(String, String)> = cuts
            .map(|step| (step.long_edge.clone(), step.turn.clone()))
            .collect();
        told
    };
    let told = says("45 tilt 30", SAME);
    assert_eq!(
        told[..2],
        [
            (
                "long point on the unmarked edge, upper face".to_owned(),
                "swing the saw off square so: \\ at 45\u{b0} tilt 30\u{b0}".to_owned()
            ),
            // The other end is parallel: nothing is set anew.
            (
                "long point on the marked edge, lower face".to_owned(),
                "leave the saw as it is: \\ at 45\u{b0} tilt 30\u{b0}".to_owned()
            ),
        ]
    );
    // Few mitre saws swing beyond 50 degrees off square; said where the saw is set, not again for the parallel end.
    let told = says("60.6", SAME);
    assert_eq!(
        [&told[0].1[..], &told[1].1[..]],
        [
            "swing the saw off square so: \\ at 60.6\u{b0}, further than most mitre saws swing: saw this by hand, to the line",
            "leave the saw as it is: \\ at 60.6\u{b0}",
        ]
    );
    assert!(!says("50", SAME)[0].1.contains("further"));
    let told = says("tilt 30; square", "");
    assert_eq!(
        told[0],
        (
            "long point on the upper face".to_owned(),
            "saw square across: tilt 30\u{b0}".to_owned()
        )
    );
    // Both long points on the upper face: the blade leans the other way for the other end.
    let told = says("tilt 30", "");
    assert!(
        told.iter()
            .all(|(edge, _)| edge == "long point on the upper face")
    );
    assert_eq!(told[1].1, "saw square across: tilt 30\u{b0}");
    let job = legs("1300", "tilt 30", "");
    let cautions = lengthwise::cautions::beside_the_plan(&job);
    assert!(
        cautions
            .iter()
            .any(|text| text.starts_with("A tilted blade: see that it clears"))
    );
}

/// The corner of the long point of an end: towards the far end, the far edge and the upper face, or away from them.
type Corner = [i32; 3];

fn corners(job: &Job, lies: Lies, long_edge: Edge) -> [Corner; 2] {
    let zero = Length::ZERO;
    let placed = PlacedPart {
        part: 0,
        start: zero,
        end: zero,
        lies,
        long_edge,
    };
    let (edges, faces) = (lying_edges(job, &placed), lying_faces(job, &placed));
    [0, 1].map(|end| {
        let sign = |is: bool| if is { 1 } else { -1 };
        [
            sign(end == 1),
            sign(edges[end] == Edge::Far),
            sign(faces[end]),
        ]
    })
}

#[test]
fn long_points_go_where_half_turns_of_the_part_take_them() {
    for leans in ["opposite ways", "the same way", "the same way, mirrored"] {
        let job = legs("1300", "45 tilt 30", &format!(r#","leans":"{leans}""#));
        let written = corners(&job, Lies::AsWritten, Edge::Far);
        assert_eq!(written[0][2], 1);
        // Half-turns about the normal of the face, the length, and the width.
        for (lies, edge, turn) in [
            (Lies::Turned, Edge::Near, [-1, -1, 1]),
            (Lies::AsWritten, Edge::Near, [1, -1, -1]),
            (Lies::Turned, Edge::Far, [-1, 1, -1]),
        ] {
            let mut turned = written.map(|corner| [0, 1, 2].map(|axis| corner[axis] * turn[axis]));
            turned.sort_unstable();
            assert_eq!(
                corners(&job, lies, edge),
                turned,
                "{leans} {lies:?} {edge:?}"
            );
        }
    }
    // Parallel ends have their long points in opposite corners, as a plane along the other does.
    let job = legs("1300", "45 tilt 30", SAME);
    let [one, other] = corners(&job, Lies::AsWritten, Edge::Far);
    assert_eq!(one.map(|at| -at), other);
}

#[test]
fn left_and_right_legs_with_a_tilt_are_two_pieces_and_mirror_images() {
    let job = legs(
        "1300",
        "45 tilt 30",
        r#","leans":"the same way","hand":"left and right""#,
    );
    let labels: Vec<&str> = job.parts.iter().map(|part| part.label.as_str()).collect();
    assert_eq!(labels, ["leg L", "leg R"]);
    assert_eq!(job.parts[1].leans, Leans::Mirrored);
    let mut right = job.clone();
    right.parts.remove(0);
    let left = corners(&job, Lies::AsWritten, Edge::Far);
    // In a mirror along the length the edges change and nothing else.
    let mirrored = left.map(|[end, edge, face]| [end, -edge, face]);
    assert_eq!(corners(&right, Lies::AsWritten, Edge::Far), mirrored);
    // A part that is its own mirror image stays one piece.
    let job = legs("1300", "45 tilt 30", r#","hand":"left and right""#);
    assert_eq!(job.parts.len(), 1);
}

/// Narrow parts of 60 from boards of 20 x 145.
fn staves(more: &str) -> (Job, Vec<String>) {
    let text = format!(
        r#"{{"format":"lengthwise-job","saw":{{"kerf":"3"}},
            "sections":[{{"name":"board","thickness":"20","width":"145","trim":"0"}}],
            "yard":[{{"length":"1000"}}],
            "parts":[{{"label":"stave","length":"900","quantity":"2"{more}}}]}}"#
    );
    let (draft, _) = lengthwise::io::job_file::read(&text);
    let (job, faults) = examine(&draft);
    (job, faults.iter().map(ToString::to_string).collect())
}

#[test]
fn bevelled_edges_are_ripped_from_a_board_each_and_said_wherever_the_part_is() {
    let bought = |more: &str| {
        let (job, faults) = staves(more);
        assert_eq!(faults, Vec::<String>::new());
        proven(&checked(&job), Measure::Bought)
    };
    // Two of 60 with a kerf fit a board of 145; with bevelled edges each has a board.
    assert_eq!(bought(r#","ripped":"60""#), 1);
    assert_eq!(bought(r#","ripped":"60","bevel":"22.5""#), 2);
    let (job, _) = staves(r#","bevel":"22.5; square""#);
    let rip = job.parts[0].rip.expect("it is ripped");
    assert_eq!(rip.width, Length::from_mm(145));
    assert_eq!(rip.edges[1], PartEnd::Square);
    let report = build(&job, &checked(&job));
    let rip = report.boards[0]
        .steps
        .iter()
        .find(|step| step.kind == StepKind::Rip);
    let rip = &rip.expect("a step").rip;
    assert!(
        rip.contains("long edges bevelled 22.5\u{b0}; square"),
        "{rip}"
    );
    let list = lengthwise::piece::piece_text(&job);
    assert!(
        list.contains("long edges bevelled 22.5\u{b0}; square"),
        "{list}"
    );
    let cautions = lengthwise::cautions::beside_the_plan(&job);
    assert!(
        cautions
            .iter()
            .any(|text| text.starts_with("Bevelled edges: set the fence"))
    );
}

#[test]
fn what_cannot_be_tilted_is_told_at_its_field() {
    let told = |more: &str| staves(more).1;
    assert_eq!(
        told(r#","ripped":"30","bevel":"45""#),
        [
            "parts 1, bevel: the bevels meet within the thickness; make the part wider, or the bevels less"
        ]
    );
    assert!(told(r#","bevel":"tilt 10""#)[0].starts_with("parts 1, bevel: \"tilt 10\" is no end"));
    assert!(told(r#","ends":"tilt 61""#)[0].starts_with("parts 1, ends: \"tilt 61\" is no end"));
    // 900 long: what stands back through 20 mm at 45 degrees is no matter, and it has its thickness.
    assert_eq!(told(r#","ends":"tilt 45""#), Vec::<String>::new());
    let text = r#"{"format":"lengthwise-job","sections":[{"name":"board","width":"145"}],"yard":[{"length":"1000"}],
        "parts":[{"label":"stave","length":"900","ends":"tilt 45"}]}"#;
    let (draft, _) = lengthwise::io::job_file::read(text);
    let told: Vec<String> = examine(&draft).1.iter().map(ToString::to_string).collect();
    assert_eq!(
        told,
        [
            "parts 1, ends: a tilted cut needs the thickness of its section; fill in the thickness of \"board\""
        ]
    );
}
