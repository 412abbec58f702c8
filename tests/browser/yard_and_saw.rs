//! At the yard and at the saw: what is ticked stays ticked, and the plan follows what the world has.

use crate::harness::Browser;
use crate::page::{demo, eight_legs, place, planned};

#[test]
fn lengths_are_ticked_and_added_up_as_they_go_into_the_car() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "plan");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "1 of 2");
    browser.wait_for_text("#car", "1 length");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "all 2");
    browser.wait_for_text("#plan-count", "all bought");
    browser.reload();
    browser.wait_for_text(".buy .bought", "all 2");
    browser.click(".buy .untick");
    browser.wait_for_text(".buy .bought", "1 of 2");
}

#[test]
fn a_length_that_is_not_there_is_planned_without() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "plan");
    // Four legs fit 2.4 m (10 + 4 x 562.4 = 2259.6), and without prices the least timber is bought; 3 m serves as well.
    assert_eq!(browser.text(".buy .length"), "2400 mm");
    browser.click(".buy summary");
    browser.click(".buy .missing");
    browser.wait_for_text(".buy .length", "3000 mm");
    assert_eq!(browser.text(".buy .count"), "2 ×");
    browser.click("#undo");
    browser.wait_for_text(".buy .length", "2400 mm");
}

#[test]
fn another_length_at_the_yard_is_taken_where_it_serves() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "plan");
    browser.click(".buy summary");
    browser.click(".buy .other");
    browser.write("#ask-fields [name=length]", "4800");
    browser.click("#ask-yes");
    // 8 x 560 + 7 x 2.4 = 4496.8, so one length of 4.8 m is all.
    browser.wait_for_text(".buy .length", "4800 mm");
    assert_eq!(browser.text(".buy .count"), "1 ×");
    browser.wait_for_text("#followed", "To buy");
    browser.wait_for_text("#said", "4800");
    place(&browser, "timber");
    browser.wait_until("return [...document.querySelectorAll('.yard [name=length]')].some((field) => field.value === '4800');");
}

#[test]
fn a_measured_length_changes_what_else_is_bought() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "plan");
    browser.click(".buy summary");
    browser.click(".buy .measured");
    browser.write("#ask-fields [name=length]", "3010");
    browser.click("#ask-yes");
    browser.wait_for_text("#car", "1 length");
    browser.wait_for_text("#car-before", "3010");
    // Five legs come from the measured one, three more from one length to buy.
    browser.wait_until("return document.querySelector('.buy .count').textContent === '1 ×';");
}

#[test]
fn cuts_are_ticked_off_and_a_tick_is_taken_back() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "saw");
    browser.click(".step:nth-child(1) button");
    browser.wait_until("return document.querySelectorAll('.step.done').length === 1;");
    browser.click(".step:nth-child(2) button");
    browser.wait_until("return document.querySelectorAll('.step.done').length === 2;");
    browser.click(".step:nth-child(2) button");
    browser.wait_until("return document.querySelectorAll('.step.done').length === 1;");
    browser.reload();
    browser.wait_until("return document.querySelectorAll('.step.done').length === 1;");
}

#[test]
fn a_spoiled_part_is_planned_again_and_what_is_cut_stays_cut() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "saw");
    browser.click("#went-wrong");
    browser.click("#wrong-parts button:nth-child(2)");
    // One leg is cut, one is spoiled: seven are left, for the rest of the first board and one more length.
    browser.wait_until("return document.getElementById('outcome').getAttribute('aria-busy') === 'false' && document.querySelector('.buy .count')?.textContent === '1 ×';");
    let legs = browser.run(
        "const key = JSON.parse(localStorage['lengthwise/index']).open;
         const { legs } = JSON.parse(localStorage['lengthwise/piece/' + key]).work;
         return [legs.length, legs[1].job.parts[0].quantity, legs[1].job.shed.length];",
    );
    assert_eq!(legs, serde_json::json!([2, "7", 1]));
    browser.click("#undo");
    browser.wait_until("return document.querySelector('.buy .count')?.textContent === '2 ×';");
}

#[test]
fn a_board_that_is_bad_from_a_reading_on_is_cut_short() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "saw");
    browser.click("#went-wrong");
    browser.click("#wrong-bad-take");
    browser.wait_for_text("#wrong-bad .fault", "tape");
    browser.write("#wrong-bad input", "1800");
    browser.click("#wrong-bad-take");
    // Three legs come from the good 1800 mm, and five from one more length.
    browser.wait_until("return document.querySelector('.buy .count')?.textContent === '1 ×';");
    planned(&browser);
    browser.wait_for_text(".board-head h2", "1800 mm");
}

#[test]
fn a_finished_piece_leaves_its_offcuts_in_the_shed_for_the_next() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    browser.write("#parts [name=quantity]", "7");
    planned(&browser);
    place(&browser, "saw");
    browser.click("#finish");
    browser.click("#ask-yes");
    browser.wait_for_text("#finish", "Finished");
    place(&browser, "timber");
    // A length of 2.4 m holds four legs and no more, so seven can only be cut as four and three: of the first too little is left to keep, of
    // the second 2400 - 10 - 3 x 562.4 = 702.8 mm.
    let lengths = "return [...document.querySelectorAll('#shed .row')].filter((row) => row.querySelector('[name=section]').value === 'batten')
        .map((row) => row.querySelector('[name=length]').value);";
    assert_eq!(browser.run(lengths), serde_json::json!(["702.8 mm"]));
    browser.click("#undo");
    browser.wait_until("return ![...document.querySelectorAll('#shed [name=length]')].some((field) => field.value === '702.8 mm');");
    planned(&browser);
}

#[test]
fn equal_settings_stand_together_over_all_boards() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "saw");
    browser.click("#group-settings");
    browser.wait_for_text("#settings", "8 ×");
    assert_eq!(browser.count("#settings .setting"), 1);
}

#[test]
fn a_board_in_the_plan_of_one_piece_is_not_offered_to_its_copy() {
    let browser = Browser::phone();
    demo(&browser);
    browser.click("#open-pieces");
    browser.click("#piece-list .copy");
    browser.wait_until("return document.querySelectorAll('#piece-list li').length === 2;");
    browser.click("#pieces-dialog [data-close]");
    planned(&browser);
    place(&browser, "timber");
    browser.wait_for_text("#shed", "Held for “Bin store”");
    place(&browser, "plan");
    assert!(!browser.text("#plan-drawing").contains("Shed A,"));
}

#[test]
fn two_pieces_are_bought_on_one_list() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    browser.click("#open-pieces");
    browser.click("#piece-list .copy");
    browser.wait_until("return document.querySelectorAll('#piece-list li').length === 3;");
    let boxes = browser.run(
        "return [...document.querySelectorAll('#piece-list li')].map((card, index) => [index + 1, card.querySelector('.title').textContent])
            .filter(([, title]) => title.startsWith('Stool')).map(([index]) => index);",
    );
    for index in boxes.as_array().unwrap() {
        browser.click(&format!("#piece-list li:nth-child({index}) input"));
    }
    browser.click("#together button");
    browser.wait_until("return document.getElementById('piece-title').textContent === 'Stool + Stool (2)' || document.getElementById('piece-title').textContent === 'Stool (2) + Stool';");
    planned(&browser);
    // Sixteen legs: 16 x 562.4 = 8998.4, so three lengths of 3 m hold fifteen and a fourth is needed.
    place(&browser, "plan");
    browser.wait_for_text("#headline", "4 lengths");
}
