//! What the sheet, the list of the shed and the table say about what is left, and about a board as a whole.

use super::{read, reported, rows, sheet};
use lengthwise::report::{self, csv};
use serde_json::json;

/// What is left of the boards of an example, as the sheet says it, and what goes back to the shed.
fn told(name: &str) -> (Vec<String>, Vec<String>) {
    let text = std::fs::read_to_string(format!("fixtures/sheets/{name}.json")).expect("a job");
    let job = read(&serde_json::from_str(&text).expect("JSON"));
    let report = reported(&job);
    let offcuts = report.boards.iter().flat_map(|board| &board.offcuts);
    let rips = report.boards.iter().flat_map(|board| &board.steps);
    let rips = rips
        .map(|step| step.rip.clone())
        .filter(|rip| !rip.is_empty());
    let back = report.back_to_shed.iter();
    (
        offcuts
            .map(|offcut| offcut.text.clone())
            .chain(rips)
            .collect(),
        back.map(|row| {
            [&row.mark[..], &row.length, &row.flaws]
                .join(" ")
                .trim()
                .to_owned()
        })
        .collect(),
    )
}

#[test]
fn an_offcut_between_two_bad_stretches_is_cut_off_at_both_its_ends() {
    let text = std::fs::read_to_string("fixtures/sheets/an-offcut-between-two-bad-stretches.json");
    let steps = sheet(&serde_json::from_str(&text.expect("a job")).expect("JSON"));
    let readings: Vec<_> = steps
        .iter()
        .map(|(kind, reading, _)| (&kind[..], &reading[..]))
        .collect();
    // Bad from 100 to 140 and from 600 to 640: 460 clear between them.
    let cuts = [
        ("bad", "140"),
        ("finish", "600"),
        ("bad", "640"),
        ("cut", "1640"),
    ];
    assert_eq!(readings, cuts);
    let (offcuts, back) = told("an-offcut-between-two-bad-stretches");
    // 1700 - 1640 - 2.4 = 57.6, and a tape of half millimetres shows 57.5 of it.
    assert_eq!(
        offcuts,
        [
            "100 mm left from 0, scrap",
            "460 mm left from 140, keep it",
            "57.5 mm left from 1642.5, scrap"
        ]
    );
    assert_eq!(back, ["S-2 460 mm"]);
}

#[test]
fn what_is_left_of_a_carried_piece_is_read_from_its_own_start_and_told_alike_everywhere() {
    // The first piece is its trim of 10, a post of 1940, and 10 of its fresh end that may be 10 short: 1970 and two steps, so a yard saws at 1980. Of
    // the second 3000 - 1980 - 2.4 - 10 = 1007.6 are left at the least, and of the first 1960 - 1952.4. With whole millimetres and two posts of
    // 970 the marks are 980 and 1953, and the yard saws at 1980 too.
    for (name, scrap, length) in [
        (
            "a-first-carried-piece-that-nothing-is-cut-from",
            "7.5 mm left from 1952.5",
            "1007.5 mm",
        ),
        (
            "a-second-carried-piece-that-goes-back",
            "4 mm left from 1955",
            "1007 mm",
        ),
    ] {
        let (offcuts, back) = told(name);
        assert_eq!(
            offcuts,
            [
                format!("{scrap} of the first carried piece, scrap"),
                format!("{length} left from 0 of the second carried piece, keep it")
            ]
        );
        assert_eq!(back, [format!("1T {length} 10 mm to cut off its start")]);
    }
}

#[test]
fn a_rest_that_is_scrap_on_the_sheet_does_not_go_back() {
    for path in std::fs::read_dir("fixtures/sheets").expect("the examples") {
        let name = path.expect("an example").path();
        let (offcuts, back) = told(
            name.file_stem()
                .and_then(|name| name.to_str())
                .expect("a name"),
        );
        let kept = offcuts
            .iter()
            .filter(|text| text.contains("keep it"))
            .count();
        assert_eq!(kept, back.len(), "{}", name.display());
        assert!(
            !offcuts
                .iter()
                .any(|text| text.starts_with("0 ") || text.starts_with("0\"")),
            "{offcuts:?}"
        );
    }
}

#[test]
fn a_bad_stretch_in_what_goes_back_is_told_however_short_it_is() {
    // 1010 - 492 = 518 go back, and the millimetre from 636 to 637 is inside them: 640 - 490 = 150 at most from the start of the rest.
    let job = read(&json!({
        "format": "lengthwise-job", "version": 1, "step": "10", "saw": { "kerf": "2", "keep": "300" },
        "sections": [{ "name": "lath", "trim": "0" }],
        "shed": [{ "mark": "A", "length": "1010", "bad": "636..637", "trim": "0" }], "parts": [{ "label": "bar", "length": "490" }],
    }));
    let report = reported(&job);
    assert_eq!(
        report.boards[0].offcuts[0].text,
        "510 mm left from 490, keep it, bad from 630 to 640"
    );
    let row = &report.back_to_shed[0];
    assert_eq!(
        (&row.length[..], &row.flaws[..]),
        ("510 mm", "bad from 140 to 150")
    );
}

#[test]
fn what_a_cut_leaves_of_a_bad_stretch_at_the_end_of_what_goes_back_is_told() {
    // Clear from 15 to 354, worth keeping with 339 and at no step less: the cut is at 355, a millimetre into the bad stretch.
    let report = reported(&read(&json!({
        "format": "lengthwise-job", "version": 1, "step": "5", "saw": { "kerf": "3", "keep": "339" },
        "sections": [{ "name": "lath", "trim": "0" }],
        "shed": [{ "mark": "A", "length": "1450", "bad": "354..419", "trim": "15; 10" }], "parts": [{ "label": "bar", "length": "1017" }],
    })));
    let row = &report.back_to_shed[0];
    assert_eq!(
        (&row.length[..], &row.flaws[..]),
        (
            "355 mm",
            "15 mm to cut off its start, 5 mm to cut off its end"
        )
    );
}

#[test]
fn a_scrap_that_is_long_enough_but_for_its_trim_says_so() {
    // 340 clear from the end, 50 of them to be trimmed: 290 of the 300 worth keeping.
    let report = reported(&read(&json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3", "keep": "300" },
        "sections": [{ "name": "lath", "trim": "0" }],
        "shed": [{ "mark": "A", "length": "993", "bad": "340..380", "trim": "50; 0" }], "parts": [{ "label": "bar", "length": "610" }],
    })));
    let told: Vec<_> = report.boards[0]
        .offcuts
        .iter()
        .map(|offcut| &offcut.text[..])
        .collect();
    assert_eq!(
        told,
        ["340 mm left from 0, scrap: too short to keep once its end is trimmed"]
    );
}

#[test]
fn nothing_is_said_of_a_rest_where_nothing_is_left() {
    // 10 + 1190 = 1200, and the cut of 10 ends with the board: nothing is left beyond the last part to hold or to throw away.
    let job = read(&json!({
        "format": "lengthwise-job", "version": 1, "saw": { "kerf": "10", "keep": "300" },
        "sections": [{ "name": "lath", "trim": "0" }],
        "shed": [{ "mark": "A", "length": "1210", "trim": "0" }], "parts": [{ "label": "bar", "length": "1200" }],
    }));
    let report = reported(&job);
    assert_eq!(report.boards[0].offcuts, []);
    assert_eq!(report.boards[0].steps[0].hint, "");
}

#[test]
fn a_piece_that_ends_with_its_part_is_called_a_piece_and_a_board_a_board() {
    let ends = |carry: &str, length: &str| {
        let job = json!({
            "format": "lengthwise-job", "version": 1, "carry": carry, "yard_tolerance": "0", "yard_trim": "0", "saw": { "kerf": "3" }, "sections": [{ "name": "rail", "trim": "0" }],
            "yard": [{ "length": length }], "parts": [{ "label": "p", "length": "900", "quantity": 2 }],
        });
        let hint = reported(&read(&job)).boards[0]
            .steps
            .last()
            .map(|step| step.hint.clone());
        hint.expect("a step")
    };
    assert_eq!(ends("1200", "1803"), "nothing to cut: the piece ends here");
    assert_eq!(ends("2000", "1803"), "nothing to cut: the board ends here");
}

#[test]
fn the_table_of_the_saw_sheet_says_how_to_mark_what_to_mind_with_a_board_and_what_is_left_of_it() {
    let text = std::fs::read_to_string("fixtures/sheets/an-offcut-between-two-bad-stretches.json");
    let job = read(&serde_json::from_str(&text.expect("a job")).expect("JSON"));
    let table = rows(&csv::saw(&reported(&job)));
    let column = |name: &str| {
        table
            .iter()
            .map(|row| row[name].clone())
            .collect::<Vec<_>>()
    };
    assert_eq!(column("how to mark"), [report::MARKING, "", "", ""]);
    let minded = column("mind with the board");
    assert!(
        minded[0].starts_with("Mark the bad stretches first"),
        "{minded:?}"
    );
    assert_eq!(minded[1..], ["", "", ""]);
    let left =
        "100 mm left from 0, scrap; 460 mm left from 140, keep it; 57.5 mm left from 1642.5, scrap";
    assert_eq!(column("left of the board"), ["", "", "", left]);
}
