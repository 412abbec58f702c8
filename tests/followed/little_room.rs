//! Boards with too little room to round every mark up: which part loses length, how much, and what the sheet says about it.

use super::{read, reported};
use lengthwise::report::Step;
use serde_json::{Value, json};

/// The steps of the first board of a job: reading, hint, and loss.
fn steps(job: &Value) -> Vec<(String, String, String)> {
    let told = |step: &Step| (step.reading.clone(), step.hint.clone(), step.miss.clone());
    reported(&read(job)).boards[0]
        .steps
        .iter()
        .map(told)
        .collect()
}

fn readings(steps: &[(String, String, String)]) -> Vec<&str> {
    steps.iter().map(|(reading, ..)| &reading[..]).collect()
}

fn misses(steps: &[(String, String, String)]) -> Vec<&str> {
    let told = steps.iter().map(|(_, _, miss)| &miss[..]);
    told.filter(|miss| !miss.is_empty()).collect()
}

#[test]
fn where_a_board_is_full_the_part_that_loses_most_loses_as_little_as_can_be() {
    let steps = steps(&json!({
        "format": "lengthwise-job", "version": 1, "step": "5", "saw": { "kerf": "3.17" }, "sections": [{ "name": "rail" }],
        "shed": [{ "mark": "A", "length": "1787", "trim": "3.5; 0" }],
        "parts": [
            { "label": "long", "length": "905" },
            { "label": "noggin", "length": "349", "quantity": "2", "goes": "between others" },
            { "label": "short", "length": "170.4" },
        ],
    }));
    // From 5 and in the order of the plan: 5 + 905 = 910; 913.17 + 349 is 1262.17, so 1260; 1263.17 + 349 is 1612.17, so 1610; 1613.17 + 170.4 is
    // 1783.57, and the board ends at 1787, 3.43 over and less than a step. Whatever the order is, none has to lose more than 0.4.
    let lost = misses(&steps);
    assert!(
        lost.iter()
            .all(|miss| miss.starts_with("comes out 0.4 mm short")),
        "{steps:?}"
    );
}

#[test]
fn a_mitre_that_ends_with_its_board_between_two_steps_has_its_long_point_in_the_corner() {
    let job = |length: &str| {
        steps(&json!({
            "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" },
            "sections": [{ "name": "rail", "width": "70", "thickness": "20" }],
            "shed": [{ "mark": "A", "length": length, "trim": "0" }], "parts": [{ "label": "p", "length": "700.1", "ends": "45" }],
        }))
    };
    // The mark would be at 700.5, beyond the timber; at the corner the part is 0.2 over, at 700 it would be 0.1 short.
    let between = job("700.3");
    assert_eq!(misses(&between), [""; 0]);
    assert_eq!(
        between[1].1,
        "no mark to make: its long point is the corner of the end"
    );
    // Where the end lies on a step, it is a mark like any other.
    let on_a_step = job("700.5");
    assert_eq!(readings(&on_a_step), ["0", "700.5"]);
    assert_eq!((&on_a_step[1].1[..], misses(&on_a_step).len()), ("", 0));
}

#[test]
fn a_part_that_is_short_for_the_sake_of_an_offcut_says_so() {
    let steps = steps(&json!({
        "format": "lengthwise-job", "version": 1, "step": "1", "saw": { "kerf": "2", "keep": "300" }, "sections": [{ "name": "rail" }],
        "shed": [{ "mark": "A", "length": "1001.8", "trim": "0" }], "parts": [{ "label": "p", "length": "699.8" }],
    }));
    // 1001.8 - 699.8 - 2 leaves just 300; at 700 it would leave 299.8.
    assert_eq!(
        misses(&steps),
        ["comes out 0.8 mm short: rounded up, it would leave what is behind it too short to keep"]
    );
}

#[test]
fn what_a_part_misses_is_never_told_less_than_it_is() {
    let steps = steps(&json!({
        "format": "lengthwise-job", "version": 1, "step": "5", "saw": { "kerf": "0" }, "sections": [{ "name": "rail" }],
        "shed": [{ "mark": "A", "length": "1017", "trim": "0; 0.1" }], "parts": [{ "label": "p", "length": "40 1/32\"" }],
    }));
    // 40 1/32 in are 1016.79375 mm, 1.79375 more than the last step that the board has room for.
    assert_eq!(
        misses(&steps),
        ["comes out 1.8 mm short: the board has no room to round it up"]
    );
}
