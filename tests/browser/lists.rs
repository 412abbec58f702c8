//! Lists that a person drives home by: lines that read alike stay two lines, a note is a note, and the board at the saw stays the board.

use crate::carried_out::{board_measured, spoil, to_buy};
use crate::harness::Browser;
use crate::page::{counted, demo, legs_at_the_saw, place, planned};
use serde_json::{Value, json};

/// Takes a piece in from a file and waits for its plan.
fn taken_in(browser: &Browser, job: &Value) {
    demo(browser);
    let name = job["piece"].as_str().unwrap();
    let file = std::env::temp_dir().join(format!(
        "lengthwise-lists-{name}-{}.json",
        std::process::id()
    ));
    std::fs::write(&file, job.to_string()).unwrap();
    browser.write("#open-file", &file.to_string_lossy());
    browser.wait_for_text("#piece-title", name);
    planned(browser);
    std::fs::remove_file(file).unwrap();
    place(browser, "plan");
}

#[test]
fn of_two_lines_that_read_alike_each_is_ticked_by_itself() {
    let browser = Browser::phone();
    // Four legs come from a length of 2.4 m, and of the cheap ones there is one: one of each line.
    taken_in(
        &browser,
        &json!({ "format": "lengthwise-job", "version": 1, "piece": "trestle", "sections": [{ "name": "batten" }],
            "yard": [{ "section": "batten", "length": "2.4 m", "price": "5.00", "count": "1" },
                { "section": "batten", "length": "2.4 m", "price": "6.00" }],
            "parts": [{ "label": "leg", "section": "batten", "length": "560", "quantity": "8" }] }),
    );
    counted(&browser, ".buy", 2);
    browser.click(".buy:nth-child(2) .tick");
    browser.wait_for_text(".buy:nth-child(2) .bought", "all 1");
    assert_becomes!(browser.text(".buy:nth-child(1) .bought"), "0 of 1 bought");
    assert_becomes!(browser.text("#plan-count"), "1 to buy");
    browser.click(".buy:nth-child(1) .tick");
    browser.wait_for_text("#plan-count", "all bought");
    browser.wait_for_text("#sum", "11.00");
}

#[test]
fn a_note_that_reads_like_one_of_ours_gives_no_orders() {
    let browser = Browser::phone();
    taken_in(
        &browser,
        &json!({ "format": "lengthwise-job", "version": 1, "piece": "shelf", "sections": [{ "name": "batten" }],
            "yard": [{ "section": "batten", "length": "2.4 m", "price": "5.00" }],
            "shed": [{ "mark": "S", "section": "batten", "length": "500 mm", "note": "bought for this piece" }],
            "parts": [{ "label": "leg", "section": "batten", "length": "560", "quantity": "4" }] }),
    );
    browser.click(".buy .tick");
    browser.wait_for_text("#plan-count", "all bought");
    board_measured(&browser, "1T, ticked already", "2412");
    browser.wait_for_text("#says", "2412 mm");
    // Only what was bought may go back to the yard; the list stands under a fold.
    browser.click("#put-back summary");
    browser.wait_for_text("#put-back-boards", "1T, 2412 mm of batten");
    assert_becomes!(browser.count("#put-back-boards li"), 1);
    // The board of 500 mm lies in the shed at home, whatever its note says.
    assert_becomes!(browser.count("#aside li"), 0);
}

#[test]
fn undoing_a_spoiled_part_shows_the_board_that_was_at_the_saw() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.click("#board-after");
    assert_becomes!(
        browser.run("return document.getElementById('board-choice').selectedIndex;"),
        1
    );
    spoil(&browser, 2);
    to_buy(&browser, 1);
    browser.click("#undo");
    to_buy(&browser, 2);
    assert_becomes!(
        browser.run("return document.getElementById('board-choice').selectedIndex;"),
        1
    );
}
