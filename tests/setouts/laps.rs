//! Boards that overlap: how many there are, how far apart they are, and what is ripped.

use super::small::{Sides, draft, fact, faults, inches, marks, mm, number, part, sound};
use crate::common::random::Random;
use lengthwise::job::JobDraft;
use lengthwise::length::Length;
use lengthwise::setout::SetOut;

/// A boarding of one section whose edges meet so.
fn boarded(joint: &str, unit: &str, board: Sides, fields: &[(&str, &str)]) -> JobDraft {
    let mut draft = draft(unit, &[board], &[("it", "boarding", fields)]);
    draft.sections[0].joint = Some(joint.to_owned());
    draft
}

#[track_caller]
fn lapped(board: Sides, fields: &[(&str, &str)]) -> SetOut {
    sound(&boarded("lapped", "mm", board, fields)).set_outs[0].clone()
}

/// A board of this overall width and least lap.
fn board<'a>(width: &'a str, cover: &'a str) -> Sides<'a> {
    ("board", "14", width, cover)
}

fn said(set_out: &SetOut, words: &str) -> bool {
    set_out.notes.iter().any(|note| note.contains(words))
}

#[test]
fn six_lapped_boards_of_150_cover_775_with_nothing_to_rip() {
    // 5 x 125 and the last board's 150.
    let face = [("width", "775"), ("height", "500"), ("gap", "0")];
    let set_out = lapped(board("150", "125"), &face);
    assert_eq!(set_out.parts.len(), 1, "{:?}", set_out.parts);
    assert_eq!(part(&set_out, "board"), (mm("500"), 6));
    assert_eq!(fact(&set_out, "lap"), mm("25"));
    assert_eq!(marks(&set_out, 0)[5], mm("625"));
    // The same section with nothing said of its edges is tongued, as ever.
    let job = sound(&draft(
        "mm",
        &[board("150", "125")],
        &[("it", "boarding", &face)],
    ));
    assert_eq!(number(&job.set_outs[0], "boards"), 7);
    assert_eq!(
        part(&job.set_outs[0], "board ripped to 75 mm"),
        (mm("500"), 2)
    );
}

#[test]
fn laps_are_evened_out_by_the_handbook_rule() {
    // Boards, and the distance of their edges, worked out by hand from n = ceil((S - w) / (w - lap)) + 1 and (S - w) / (n - 1).
    for (face, width, cover, boards, apart, lap) in [
        ("1000", "125", "100", 10, "97.22", "27.78"),
        ("1200", "150", "118", 10, "116.67", "33.33"),
        ("1000", "150", "120", 9, "106.25", "43.75"),
        ("2000", "175", "145", 14, "140.38", "34.62"),
        // Counts of feather-edge pales that sellers print: 18 to a panel of 1800 (bradfords.co.uk), 10 to a metre (diylikethetrade.co.uk).
        ("1800", "125", "100", 18, "98.53", "26.47"),
        ("2900", "100", "75", 39, "73.68", "26.32"),
    ] {
        let fields = [("width", face), ("height", "500")];
        let set_out = lapped(board(width, cover), &fields);
        assert_eq!(number(&set_out, "boards"), boards, "{face}");
        assert_eq!(set_out.parts.len(), 1, "{face}");
        let hundredth = mm("0.01");
        assert_eq!(
            fact(&set_out, "pitch").nearest(hundredth),
            mm(apart),
            "{face}"
        );
        assert_eq!(fact(&set_out, "lap").nearest(hundredth), mm(lap), "{face}");
    }
}

#[test]
fn courses_below_and_beside_a_window_are_those_of_the_navy_s_manual() {
    // US Navy, Builder 3 & 2 volume 2, on bevel siding: 61 in take six courses of 10 1/6, 31 in below take three of 10 1/3, laps 1 1/3 and
    // 1 1/6 on a board of 11 1/2; the least lap there is 1 in.
    for (left, courses, apart) in [("61", 6, "61/6"), ("31", 3, "31/3")] {
        let fields = [
            ("run", "across"),
            ("width", "60"),
            ("height", "90"),
            ("laid", "1"),
            ("left", left),
        ];
        let draft = boarded(
            "lapped",
            "in",
            ("siding", "3/4", "11 1/2", "10 1/2"),
            &fields,
        );
        let set_out = &sound(&draft).set_outs[0];
        assert_eq!(number(set_out, "boards"), 1 + courses);
        assert_eq!(fact(set_out, "pitch"), inches(apart));
        assert_eq!(
            marks(set_out, 0)[(courses + 1) as usize],
            inches("11 1/2") + inches(left)
        );
    }
}

#[test]
fn what_was_taken_for_the_lap_stands_under_the_drawing() {
    let fields = [("width", "1000"), ("height", "500")];
    let set_out = lapped(board("150", "120"), &fields);
    assert_eq!(
        set_out.makes,
        "outside 1000 mm x 500 mm: the face itself; laps of \u{2248}44 mm, evened out from 30 mm"
    );
    assert!(
        said(
            &set_out,
            "9 boards with laps of \u{2248}44 mm, \u{2248}106.5 mm from one edge to the next"
        ),
        "{:?}",
        set_out.notes
    );
}

#[test]
fn the_movement_gap_is_not_added_to_a_lap() {
    let with_gap = |gap| {
        let fields = [("width", "1000"), ("height", "500"), ("gap", gap)];
        lapped(board("125", "100"), &fields)
    };
    let (none, wide) = (with_gap("0"), with_gap("6"));
    assert_eq!(
        (&none.parts, &none.positions),
        (&wide.parts, &wide.positions)
    );
    assert!(!said(&none, "movement gap") && said(&wide, "movement gap is not added to a lap"));
}

#[test]
fn a_lapped_board_that_is_ripped_is_named_by_its_overall_width_and_the_edge_that_stays() {
    let face = |width, edges| {
        let fields = [
            ("width", width),
            ("height", "500"),
            ("laps", "as the cover width says"),
            ("edges", edges),
        ];
        lapped(board("150", "125"), &fields)
    };
    // 5 x 125 leave 90 of 715.
    let set_out = face("715", "rip the last board only");
    assert_eq!(part(&set_out, "board"), (mm("500"), 5));
    let last = "last board ripped to 90 mm overall, its edge over the one before stays";
    assert_eq!(part(&set_out, last), (mm("500"), 1));
    // (715 + 25 - 4 x 125) / 2.
    let set_out = face("715", "rip both edges alike");
    let [first, last] = [
        "first board ripped to 120 mm overall, its edge under the next stays",
        "last board ripped to 120 mm overall, its edge over the one before stays",
    ];
    assert_eq!(part(&set_out, first), (mm("500"), 1));
    assert_eq!(part(&set_out, last), (mm("500"), 1));
    // Half a cover width is 62.5: what leaves 40 is shared.
    let set_out = face("665", "share where the last is thin");
    assert_eq!(
        set_out.parts[1].label,
        "it: first board ripped to 95 mm overall, its edge under the next stays"
    );
}

#[test]
fn a_lapped_board_is_not_ripped_below_its_lap_and_what_holds_it() {
    let face = |width, edges| {
        let fields = [
            ("width", width),
            ("height", "500"),
            ("laps", "as the cover width says"),
            ("edges", edges),
        ];
        boarded("lapped", "mm", board("150", "125"), &fields)
    };
    // 25 of lap and 25 beside it: 50 is ripped, 49 is not.
    let sound_one = sound(&face("675", "rip the last board only"));
    assert_eq!(number(&sound_one.set_outs[0], "boards"), 6);
    let refused = faults(&face("674", "rip the last board only"));
    assert_eq!(refused.len(), 1);
    assert_eq!(
        refused[0].to_string(),
        "set_outs 1, laps: the last board would be ripped to 49 mm overall, and less than 50 mm leaves nothing beside its lap to hold it; even the laps out"
    );
    // Laps cannot be evened out over 160: two boards would lie 10 apart. Both edges can be ripped, (160 + 25) / 2 each.
    let narrow = |edges| {
        let fields = [("width", "160"), ("height", "500"), ("edges", edges)];
        boarded("lapped", "mm", board("150", "125"), &fields)
    };
    let refused = faults(&narrow("rip the last board only"));
    assert_eq!(refused[0].place.field, "edges");
    let shared = sound(&narrow("share where the last is thin"));
    assert_eq!(
        marks(&shared.set_outs[0], 0),
        [mm("0"), mm("67.5"), mm("160")]
    );
    // Evened out it is six whole boards.
    let fields = [
        ("width", "674"),
        ("height", "500"),
        ("edges", "rip the last board only"),
    ];
    assert_eq!(part(&lapped(board("150", "125"), &fields), "board").1, 6);
}

#[test]
fn lapped_boards_fill_every_face_and_are_whole_where_laps_can_be_evened_out() {
    let mut random = Random(71);
    let (mut even, mut refused) = (0, 0);
    for _ in 0..600 {
        let width = random.between(8_000, 25_000);
        let lap = random.between(1_000, 3_500);
        let span = random.between(width / 2, 300_000);
        let text = |hundredths: u64| format!("{}.{:02} mm", hundredths / 100, hundredths % 100);
        let texts = [width, width - lap, span].map(text);
        let laps = random.pick(&["evened out", "as the cover width says"]);
        let edges = random.pick(&[
            "share where the last is thin",
            "rip the last board only",
            "rip both edges alike",
        ]);
        let fields = [
            ("width", texts[2].as_str()),
            ("height", "1 m"),
            ("laps", laps),
            ("edges", edges),
        ];
        let board = ("board", "9 mm", texts[0].as_str(), texts[1].as_str());
        let draft = boarded("lapped", "mm", board, &fields);
        if !faults(&draft).is_empty() {
            refused += 1;
            continue;
        }
        let set_out = &sound(&draft).set_outs[0];
        let [width, lap, span] = [width, lap, span].map(|one| mm(&text(one)));
        let marks = marks(set_out, 0);
        let boards = marks.len() - 1;
        assert_eq!((marks[0], marks[boards]), (Length::ZERO, span));
        let last = span - marks[boards - 1];
        if set_out.parts.len() == 1 && boards > 1 {
            // Whole boards: no lap under the least, none over two others, and evenly spread to the tick.
            assert_eq!(last, width);
            let steps: Vec<Length> = marks[..boards]
                .windows(2)
                .map(|pair| pair[1] - pair[0])
                .collect();
            assert!(
                steps
                    .iter()
                    .all(|&step| width - step >= lap && step >= mm("25")),
                "{steps:?}"
            );
            let (least, most) = (
                steps.iter().min().expect("two"),
                steps.iter().max().expect("two"),
            );
            assert!((*most - *least).ticks() <= 1, "{steps:?}");
            even += 1;
        } else if boards > 1 {
            assert!(last >= lap + mm("25"), "{last:?}");
            assert!(last <= width);
        }
        if laps == "evened out" && boards > 3 {
            assert_eq!(set_out.parts.len(), 1, "{fields:?}");
        }
    }
    assert!(even > 200 && refused < 200, "{even} {refused}");
}

#[test]
fn no_lapped_board_lies_over_two_others() {
    // Three boards of 150 over 280 would lie 65 apart, so that the third is over the first: two and a ripped one instead.
    let fields = [("width", "280"), ("height", "500")];
    let set_out = lapped(board("150", "125"), &fields);
    let ripped = set_out
        .parts
        .iter()
        .filter(|part| part.label.contains("ripped"));
    assert!(ripped.count() > 0, "{:?}", set_out.parts);
    assert!(
        marks(&set_out, 0)
            .windows(3)
            .all(|three| three[2] - three[0] >= mm("150") || three[2] == mm("280"))
    );
}

#[test]
fn a_lapped_face_measured_again_evens_the_rest_out() {
    // Eight boards are planned 122.14 apart; after four, 480 are left and not 488.6: four more, 120 apart.
    let fields = [
        ("width", "1005"),
        ("height", "500"),
        ("laid", "4"),
        ("left", "480"),
    ];
    let set_out = lapped(board("150", "125"), &fields);
    assert_eq!(part(&set_out, "board"), (mm("500"), 8));
    let marks = marks(&set_out, 0);
    assert_eq!(marks[5] - marks[4], mm("120"));
    assert_eq!(marks[8] - marks[3], mm("150") + mm("480"));
    assert!(said(&set_out, "Shared out again from 480 mm measured"));
}

#[test]
fn a_rebated_board_keeps_its_rebate_and_the_gap_opens_it() {
    let face = |gap| {
        let fields = [
            ("width", "600"),
            ("height", "500"),
            ("gap", gap),
            ("edges", "rip the last board only"),
        ];
        boarded("rebated", "mm", board("145", "130"), &fields)
    };
    // 145 and then 132 each: three more are 541, and 59 is left, which with its lap of 13 is 72 overall.
    let set_out = &sound(&face("2")).set_outs[0];
    assert_eq!(fact(set_out, "pitch"), mm("132"));
    assert_eq!(fact(set_out, "lap"), mm("13"));
    assert_eq!(part(set_out, "board"), (mm("500"), 4));
    let last = "last board ripped to 72 mm overall, its edge over the one before stays";
    assert_eq!(part(set_out, last), (mm("500"), 1));
    let wide = faults(&face("15"));
    assert_eq!(wide[0].place.field, "gap");
}

#[test]
fn tongued_widths_are_said_overall_with_the_edge_that_stays() {
    let fields = [("width", "600"), ("height", "500"), ("gap", "0")];
    for joint in ["tongued", "by cover"] {
        let draft = boarded(joint, "mm", ("board", "20", "145", "137"), &fields);
        let set_out = &sound(&draft).set_outs[0];
        assert_eq!(part(set_out, "board ripped to 94.5 mm"), (mm("500"), 2));
        assert!(said(
            set_out,
            "Rip the first to 102.5 mm overall: its groove goes, its tongue stays."
        ));
        assert!(said(
            set_out,
            "Rip the last to 94.5 mm overall: its tongue goes, its groove stays."
        ));
    }
}

#[test]
fn a_cover_width_and_how_edges_meet_must_agree() {
    let fields = [("width", "600"), ("height", "500")];
    let told = |joint, cover| -> Vec<String> {
        let draft = boarded(joint, "mm", ("board", "20", "145", cover), &fields);
        faults(&draft).iter().map(ToString::to_string).collect()
    };
    for joint in ["tongued", "rebated", "lapped"] {
        assert_eq!(told(joint, "137"), Vec::<String>::new());
        for cover in ["", "145"] {
            assert_eq!(
                told(joint, cover),
                ["sections 1, cover: the cover width, less than the width, is missing; fill it in"]
            );
        }
    }
    assert_eq!(told("square", ""), Vec::<String>::new());
    assert_eq!(
        told("square", "137"),
        ["sections 1, cover: should be no cover width, as square edges cover the whole width"]
    );
}
