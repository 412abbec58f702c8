//! How much the wood of a board moves: shown with its source, and added to no size.

use super::small::{Sides, fact, mm, one};
use lengthwise::setout::SetOut;

const BOARD: Sides = ("board", "20", "145", "");

fn moving(board: Sides, wood: &str, [now, later]: [&str; 2], gap: &str) -> SetOut {
    let fields = [
        ("width", "600"),
        ("height", "500"),
        ("gap", gap),
        ("wood", wood),
        ("moisture", now),
        ("moisture_later", later),
    ];
    one("mm", board, "boarding", &fields)
}

#[track_caller]
fn told(set_out: &SetOut, words: &str) {
    assert!(
        set_out.notes.iter().any(|note| note.contains(words)),
        "{words}: {:?}",
        set_out.notes
    );
}

#[test]
fn movement_follows_the_coefficients_of_the_wood_handbook() {
    // Wood Handbook FPL-GTR-190: table 13-5, tangential, over four points of 145 mm; and table 4-3 over 30 points, where moisture is beyond
    // 6 to 14 %: 145 x 7.6 % / 30 x 4, 145 x 10.5 % / 30 x 4, 145 x 5 % / 30 x 4.
    for (wood, moisture, moved) in [
        ("softwood: Douglas-fir", ["8", "12"], "1.55"),
        ("hardwood: white oak", ["10", "14"], "2.12"),
        ("hardwood: American beech", ["12", "8"], "2.5"),
        ("hardwood: white ash", ["8", "12"], "1.59"),
        ("softwood: Douglas-fir", ["14", "18"], "1.47"),
        ("hardwood: white oak", ["20", "16"], "2.03"),
        ("softwood: western redcedar", ["14", "18"], "0.97"),
        // BS EN 1313-1: 0.25 % a point.
        ("softwood of no known kind", ["16", "20"], "1.45"),
    ] {
        let set_out = moving(BOARD, wood, moisture, "2");
        assert_eq!(
            fact(&set_out, "movement of a board").nearest(mm("0.01")),
            mm(moved),
            "{wood}"
        );
    }
}

#[test]
fn movement_is_told_with_its_source_and_changes_no_size() {
    let plain = one(
        "mm",
        BOARD,
        "boarding",
        &[("width", "600"), ("height", "500"), ("gap", "2")],
    );
    let set_out = moving(BOARD, "softwood: Douglas-fir", ["8", "12"], "2");
    assert_eq!(
        (&set_out.parts, &set_out.positions),
        (&plain.parts, &plain.positions)
    );
    told(
        &set_out,
        "A flat-sawn board of 145 mm swells \u{2248}1.5 mm across from 8 to 12 % moisture. The gap of 2 mm takes that. Source: Wood Handbook (FPL-GTR-190), table 13-5, 0.00267 a point.",
    );
    let tight = moving(BOARD, "softwood: Douglas-fir", ["8", "12"], "1");
    told(
        &tight,
        "The gap of 1 mm does not take that: give 2 mm or more.",
    );
    let other_plain = one(
        "mm",
        BOARD,
        "boarding",
        &[("width", "600"), ("height", "500"), ("gap", "1")],
    );
    assert_eq!(tight.parts, other_plain.parts);
}

#[test]
fn boards_that_shrink_tell_what_stays_behind_the_joint() {
    let tongued = ("board", "20", "145", "137");
    let set_out = moving(tongued, "softwood: Douglas-fir", ["14", "8"], "2");
    told(
        &set_out,
        "The joint opens to \u{2248}4.5 mm, which the 8 mm behind it still closes.",
    );
    let set_out = moving(tongued, "hardwood: American beech", ["30", "8"], "2");
    told(&set_out, "no longer closes it");
    told(
        &moving(BOARD, "softwood: Douglas-fir", ["12", "8"], "2"),
        "The gap of 2 mm opens to \u{2248}3.5 mm.",
    );
}

#[test]
fn slats_tell_their_movement_beside_their_gap() {
    let fields = [
        ("span", "450"),
        ("length", "1200"),
        ("count", "6"),
        ("wood", "hardwood: red oak"),
        ("moisture", "8"),
        ("moisture_later", "13"),
    ];
    let set_out = one("mm", ("slat", "20", "70", ""), "slats", &fields);
    // 70 x 0.00369 x 5.
    assert_eq!(
        fact(&set_out, "movement of a board").nearest(mm("0.01")),
        mm("1.29")
    );
    told(&set_out, "The gap of 6 mm takes that.");
}

#[test]
fn a_moisture_that_is_missing_or_beyond_the_table_is_told_and_stops_nothing() {
    let fields = [
        ("width", "600"),
        ("height", "500"),
        ("wood", "hardwood: red oak"),
        ("moisture", "12"),
    ];
    let set_out = one("mm", BOARD, "boarding", &fields);
    told(&set_out, "when both moistures are filled in");
    assert!(!set_out.parts.is_empty());
    let set_out = moving(BOARD, "hardwood: red oak", ["12", "18"], "2");
    told(&set_out, "holds from 6 to 14 % moisture only");
}
