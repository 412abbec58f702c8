//! What the vehicle takes: lengths too long to carry are cut once at the yard, and what is in the car has had its cut.

use crate::carried_out::one_of_two_bought;
use crate::harness::Browser;
use crate::page::{legs_beside_the_demo, place, planned};
use crate::wood::{millimetres, sheets};

/// Kerf of a piece that gives none.
const KERF: f64 = 2.4;
/// How far off a yard may saw of which nothing else is said.
const OFF: f64 = 10.0;

#[test]
fn a_length_too_long_to_carry_is_cut_at_the_yard_and_stays_two_pieces() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    place(&browser, "timber");
    browser.write("#saw-fields [name=carry]", "2000");
    planned(&browser);
    place(&browser, "plan");
    // Four legs still come from each length of 2.4 m, two from each piece: 1122.4 of half of 2400 - 2.4, less 10 at both its ends and the 10 that the yard
    // may be off.
    assert_becomes!(browser.text(".buy .length"), "2400 mm");
    assert_becomes!(browser.text(".buy .count"), "2 ×");
    let told = browser.text(".buy .yard-cuts");
    browser.screenshot("cut-at-the-yard");
    for text in told
        .trim_start_matches("At the yard: ")
        .trim_end_matches('.')
        .split(", ")
    {
        let cut = millimetres(text.split_once(" cut at ").unwrap().1);
        assert!(cut <= 2000.0 && 2400.0 - KERF - cut <= 2000.0, "{told}");
    }
    browser.wait_for_text("#cautions", "measure both pieces before they are loaded");
    // What nobody said stands in the plan, and follows the field.
    for (off, said) in [
        ("", "up to 10 mm off"),
        ("4", "up to 4 mm off"),
        ("10", "up to 10 mm off"),
    ] {
        place(&browser, "timber");
        browser.write("#saw-fields [name=yard_tolerance]", off);
        planned(&browser);
        place(&browser, "plan");
        browser.wait_for_text("#explanation", said);
    }

    // The first is in the car and tells its cut with its mark; then there are no more.
    one_of_two_bought(&browser);
    let marked = browser.text(".buy .marks");
    let (mark, rest) = marked
        .strip_prefix("Write ")
        .unwrap()
        .split_once(" (cut at ")
        .unwrap();
    let cut = millimetres(rest.split_once(')').unwrap().0);
    browser.click(".buy .open");
    browser.click(".buy .missing");
    browser.wait_for_text(".buy .length", "3000 mm");
    planned(&browser);
    browser.wait_for_text(
        "#car-before",
        &format!("{mark} cut at {}", rest.split_once(')').unwrap().0),
    );

    // It is two boards now, which the new plan takes as they are: until somebody measures them, as short as the yard may have sawn them.
    place(&browser, "saw");
    let boards = sheets(&browser);
    for (name, length) in [("-2", cut - OFF), ("-3", 2400.0 - KERF - cut - OFF)] {
        let name = format!("Bought {mark}{name}");
        let board = boards.iter().find(|board| board.name == name);
        let seen = board
            .unwrap_or_else(|| panic!("{name} in {boards:?}"))
            .length;
        assert!((seen - length).abs() <= 0.5, "{seen} {length}");
    }
}
