//! At the yard and at the saw: what is ticked stays ticked, and the plan follows what the world has.

use crate::harness::Browser;
use crate::page::{demo, eight_legs, legs_to_buy, new_piece, place, planned};

/// Both lengths go into the car and get their marks.
#[track_caller]
fn both_ticked(browser: &Browser) {
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "K");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "K, L");
}

/// Says of a length of the first line what is otherwise than it was sold.
#[track_caller]
fn not_as_sold(browser: &Browser, field: &str, text: &str) {
    browser.click(".buy summary");
    browser.click(".buy .measured");
    browser.write(&format!("#ask-fields [name={field}]"), text);
    browser.click("#ask-yes");
}

#[test]
fn lengths_are_ticked_and_added_up_as_they_go_into_the_car() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
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
    legs_to_buy(&browser);
    // Four legs fit 2.4 m (10 + 4 x 562.4 = 2259.6), and without prices the least timber is bought; 3 m serves as well.
    assert_eq!(browser.text(".buy .length"), "2400 mm");
    browser.click(".buy summary");
    browser.click(".buy .missing");
    browser.wait_for_text(".buy .length", "3000 mm");
    assert_eq!(browser.text(".buy .count"), "2 ×");
    // The line is gone, and the focus is on the one in its place.
    browser.wait_until("return document.activeElement === document.querySelector('.buy .tick');");
    browser.click("#undo");
    browser.wait_for_text(".buy .length", "2400 mm");
}

#[test]
fn another_length_at_the_yard_is_taken_where_it_serves() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    browser.click(".buy summary");
    browser.click(".buy .other");
    browser.write("#ask-fields [name=length]", "4800");
    browser.click("#ask-yes");
    // 8 x 560 + 7 x 2.4 = 4496.8, so one length of 4.8 m is all.
    browser.wait_for_text(".buy .length", "4800 mm");
    assert_eq!(browser.text(".buy .count"), "1 ×");
    // 8 x 560 mm was two lengths of 2.4 m, 4.8 m as well.
    browser.wait_for_text(
        "#followed",
        "What changed: In all, 2 lengths before, now 1 length.",
    );
    browser.wait_for_text("#notices", "now 1 length");
    browser.wait_for_text("#says", "4800 mm");
    place(&browser, "timber");
    browser.wait_until("return [...document.querySelectorAll('.yard [name=length]')].some((field) => field.value === '4800 mm');");
}

#[test]
fn a_measured_length_changes_what_else_is_bought() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    // The list sells 2.4 m, so 3010 is asked about: measured again, then taken.
    not_as_sold(&browser, "length", "3010");
    browser.wait_for_text(
        "#ask-text",
        "3010 mm is 610 mm longer than the 2400 mm on the list",
    );
    browser.click("#ask-no");
    browser.wait_for_text("#h-ask", "Not as it was sold");
    assert_eq!(browser.value("#ask-fields [name=length]"), "3010");
    browser.click("#ask-yes");
    browser.wait_for_text("#h-ask", "Is that the length?");
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
fn a_board_that_is_bad_from_a_reading_in_inches_is_cut_short() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Trestle");
    browser.choose("#piece-fields [name=unit]", "inches");
    place(&browser, "timber");
    browser.click("#add-section");
    browser.write("#sections [name=name]", "2 x 4");
    browser.click("#sections .add-length");
    browser.write("#sections .yard .row [name=length]", "16'");
    place(&browser, "piece");
    browser.click("#add-part");
    browser.write("#parts [name=label]", "slat");
    browser.write("#parts [name=length]", "4' 2 1/2");
    browser.write("#parts [name=quantity]", "4");
    planned(&browser);
    place(&browser, "saw");
    browser.click("#went-wrong");
    browser.write("#wrong-bad input", "5'");
    browser.click("#wrong-bad-take");
    // One slat of 50 1/2 in comes from the 5 ft that are sound, three from another length: four would take 202 of its 192 in. The trim of the datum end is the
    // usual 10 mm, which is no fraction of an inch.
    browser.wait_for_text("#board-choice", "K-2");
    planned(&browser);
    place(&browser, "plan");
    browser.wait_for_text("#headline", "Buy 1 length");
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
    // the second 2400 - 10 - 3 x 562.4 = 702.8 mm, shelved as the tape of half millimetres reads it.
    let lengths = "return [...document.querySelectorAll('#shed .row')].filter((row) => row.querySelector('[name=section]').value === 'batten')
        .map((row) => row.querySelector('[name=length]').value);";
    assert_eq!(browser.run(lengths), serde_json::json!(["702.5 mm"]));
    browser.click("#undo");
    browser.wait_until("return ![...document.querySelectorAll('#shed [name=length]')].some((field) => field.value === '702.5 mm');");
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
    // No board is chosen where all are shown.
    assert_eq!(
        browser.run("return document.getElementById('board-choice').checkVisibility();"),
        false
    );
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
    browser.wait_until("return document.getElementById('piece-title').textContent === 'Stool + Stool 2' || document.getElementById('piece-title').textContent === 'Stool 2 + Stool';");
    planned(&browser);
    // Sixteen legs: 16 x 562.4 = 8998.4, so three lengths of 3 m hold fifteen and a fourth is needed.
    place(&browser, "plan");
    browser.wait_for_text("#headline", "4 lengths");
}

#[test]
fn two_pieces_that_were_joined_are_parted_again() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    browser.click("#open-pieces");
    browser.click("#piece-list .copy");
    browser.wait_until("return document.querySelectorAll('#piece-list li').length === 3;");
    browser.click("#piece-list li:nth-child(1) input");
    browser.wait_for_text("#together", "Tick another piece too");
    browser.click("#piece-list li:nth-child(2) input");
    browser.click("#together button");
    browser.wait_for_text("#piece-title", "+");
    browser.click_on("Part them again");
    browser.wait_for_text("#piece-title", "Stool 2");
    planned(&browser);
    browser.click("#open-pieces");
    let cards = browser.text("#piece-list");
    assert!(
        !cards.contains('+') && !cards.contains("archived"),
        "{cards}"
    );
    assert_eq!(browser.count("#together button"), 0);
}

#[test]
fn what_the_yard_said_is_listed_and_taken_back_one_by_one() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    // Not there: 2400. Then 4800 is, which holds all eight legs.
    browser.click(".buy summary");
    browser.click(".buy .missing");
    browser.wait_for_text(".buy .length", "3000 mm");
    browser.wait_for_text("#says", "no more 2400 mm of batten");
    planned(&browser);
    browser.run("document.querySelector('.buy details').open = true;");
    browser.click(".buy .other");
    browser.write("#ask-fields [name=length]", "4800");
    browser.click("#ask-yes");
    browser.wait_for_text(".buy .length", "4800 mm");
    assert_eq!(browser.count("#says li"), 2);
    planned(&browser);
    browser.screenshot("yard-says-phone");
    // The first is taken back and the second stays; nothing is planned otherwise for it.
    browser.click("#says li:first-child button");
    browser.wait_until("return document.querySelectorAll('#says li').length === 1;");
    planned(&browser);
    browser.wait_for_text(".buy .length", "4800 mm");
    // Without 4800 it is 2400 again, as at first, and the piece's own list says so as well.
    browser.click("#says li button");
    browser.wait_for_text(".buy .length", "2400 mm");
    planned(&browser);
    assert_eq!(browser.text(".buy .count"), "2 \u{d7}");
    assert_eq!(browser.count("#says li"), 0);
    let own = browser.run(
        "const { job } = JSON.parse(localStorage['lengthwise/piece/' + JSON.parse(localStorage['lengthwise/index']).open]);
         return job.yard.map((line) => [line.length, line.count ?? 'any']);",
    );
    assert_eq!(own, serde_json::json!([["2400", "any"], ["3000", "any"]]));
    // Undo brings the statement back.
    browser.click("#undo");
    browser.wait_until("return document.querySelectorAll('#says li').length === 1;");
}

#[test]
fn a_bought_board_gets_a_mark_and_one_the_plan_does_not_need_is_named() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    // The demo's shed wears A to H and J.
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "Write K on its end.");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "Write K, L on their ends.");
    browser.wait_for_text("#headline", "All 2 lengths bought");
    place(&browser, "saw");
    browser.wait_for_text("#board", "Write K on an end of this board");
    assert!(browser.text("#board-choice").contains("K: New 2400 mm"));
    // A length that holds all eight legs turns up: the two in the car are used all the same, for they are paid for.
    place(&browser, "piece");
    browser.write("#parts [name=quantity]", "8");
    place(&browser, "saw");
    browser.click("#went-wrong");
    browser.click("#wrong-parts button:first-child");
    // The first leg is spoiled, so eight are still wanted: three from the rest of K, four from L, one more from a new length.
    browser.wait_for_text("#board-choice", "K-2");
    planned(&browser);
    assert!(browser.text("#board-choice").contains("Shed L"));
    browser.screenshot("marks-phone");
}

#[test]
fn a_board_put_back_is_forgotten_with_what_was_measured_of_it() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    both_ticked(&browser);
    // The board that is ticked already is the one that was measured: it is not counted twice.
    browser.click(".buy summary");
    browser.click(".buy .measured");
    browser.choose("#ask-fields [name=board]", "L, ticked already");
    browser.write("#ask-fields [name=length]", "2390");
    browser.click("#ask-yes");
    browser.wait_for_text("#says", "L measured 2390 mm, sold as 2400 mm of batten");
    planned(&browser);
    browser.wait_for_text("#car-totals", "2 lengths");
    browser.wait_for_text("#headline", "All 2 lengths bought");
    let shown = browser.run("return document.getElementById('board-summaries').textContent;");
    let shown = shown.as_str().unwrap();
    assert!(shown.contains("2390 mm"), "{shown}");
    // Put back: the yard has it again as sold, and the car one less.
    browser.click("#put-back summary");
    browser.wait_for_text("#put-back-boards", "L, 2390 mm of batten");
    browser.click("#put-back-boards li:nth-child(2) button");
    browser.wait_for_text("#car-totals", "1 length");
    browser.wait_until("return document.querySelectorAll('#says li').length === 0;");
    planned(&browser);
    assert_eq!(browser.text(".buy .length"), "2400 mm");
    assert_eq!(browser.text(".buy .count"), "1 \u{d7}");
    assert!(!browser.text("#plan-drawing").contains("2390"));
    let kept = browser.run(
        "return localStorage['lengthwise/piece/' + JSON.parse(localStorage['lengthwise/index']).open];",
    );
    let kept: serde_json::Value = serde_json::from_str(kept.as_str().unwrap()).unwrap();
    let legs = kept["work"]["legs"].as_array().unwrap();
    assert!(!legs.last().unwrap()["job"].to_string().contains("2390"));
    let lengths = legs.iter().map(|leg| leg["progress"]["bought"].to_string());
    assert!(lengths.into_iter().all(|bought| !bought.contains("2390")));
}

#[test]
fn a_bad_stretch_found_at_the_yard_is_planned_around() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    not_as_sold(&browser, "bad", "900..3000");
    // It ends beyond the board: said beside what was typed, and asked again.
    browser.wait_for_text("#ask-fields .field-bad .fault", "900..3000");
    browser.write("#ask-fields [name=bad]", "1000..1100");
    browser.click("#ask-yes");
    browser.wait_for_text("#says", "K bad at 1000..1100, sold as 2400 mm of batten");
    planned(&browser);
    // Each side of it holds legs of 560: 10 + 562.4 on the near one, 1300 / 562.4 on the far one, so three of the eight come
    // from this board and five from another length, which only 3 m holds (2809.6 and the trim).
    browser.wait_for_text(".buy .length", "3000 mm");
    assert_eq!(browser.text(".buy .count"), "1 \u{d7}");
    place(&browser, "saw");
    assert!(browser.text("#board").contains("bad stretch"));
}

#[test]
fn a_measured_board_the_plan_does_not_need_may_stay_at_the_yard() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    both_ticked(&browser);
    browser.click(".buy .untick");
    browser.wait_for_text(".buy .bought", "1 of 2");
    // L is measured short by far: 560 and a trim, and the second board is L's no more.
    not_as_sold(&browser, "length", "500");
    browser.wait_for_text("#ask-text", "shorter");
    browser.click("#ask-yes");
    browser.wait_for_text(
        "#aside",
        "L, 500 mm of batten, is bought and this plan does not need it",
    );
    browser.wait_for_text("#says", "L measured 500 mm, sold as 2400 mm of batten");
    browser.wait_for_text("#car-totals", "2 lengths");
    planned(&browser);
    browser.screenshot("aside-phone");
    browser.click("#aside button");
    browser.wait_for_text("#car-totals", "1 length");
    browser.wait_until("return document.querySelectorAll('#says li, #aside li').length === 0;");
    planned(&browser);
    // K is in the car; one more is to be bought.
    assert_eq!(browser.text(".buy .count"), "1 \u{d7}");
}

#[test]
fn a_finished_piece_says_so_and_asks_first_where_cuts_are_not_ticked() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "saw");
    browser.click("#finish");
    browser.wait_for_text("#ask-text", "No board is ticked as cut.");
    browser.click("#ask-no");
    browser.click(".step:first-child button");
    browser.wait_until("return document.querySelectorAll('.step.done').length === 1;");
    browser.click("#finish");
    browser.wait_for_text("#h-ask", "Finished all the same?");
    browser.click("#ask-yes");
    browser.wait_for_text("#finish", "Finished on");
    place(&browser, "plan");
    browser.wait_for_text("#headline", "Finished on");
    assert_eq!(browser.text("#plan-count"), "finished");
    assert_eq!(browser.count(".buy .tick:not(:disabled)"), 0);
    assert!(!browser.text("#buying").contains("of 2"));
    browser.screenshot("finished-phone");
}

#[test]
fn a_load_over_the_payload_is_said_and_the_setting_is_kept() {
    let browser = Browser::desktop();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "timber");
    browser.write("#sections [name=thickness]", "45");
    browser.write("#sections [name=width]", "70");
    browser.write("#saw-fields [name=payload]", "6");
    planned(&browser);
    place(&browser, "plan");
    // Two lengths of 2.4 m: 0.045 x 0.070 x 4.8 m at 420 kg/m3 is 6.35 kg.
    browser.wait_for_text(
        "#explanation",
        "Too heavy for the vehicle: 6.4 kg of timber, and it may carry 6.0 kg.",
    );
    browser.screenshot("payload-desktop");
    browser.click(".buy .tick");
    browser.wait_for_text("#car-totals", "3.2 kg of 6.0 kg");
    browser.click(".buy .tick");
    browser.wait_for_text("#car-warnings", "Too heavy");
    place(&browser, "timber");
    browser.write("#saw-fields [name=payload]", "six");
    browser.wait_for_text("#saw-fields .field-payload .fault", "no mass");
}

/// Changes what the device keeps of the plan under way, then starts the page again.
fn kept_otherwise(browser: &Browser, change: &str) {
    browser.run(&format!(
        "const name = 'lengthwise/piece/' + JSON.parse(localStorage['lengthwise/index']).open;
         const piece = JSON.parse(localStorage[name]);
         const {{ plan }} = piece.work.legs.at(-1);
         {change}
         localStorage[name] = JSON.stringify(piece);"
    ));
    browser.reload();
}

#[test]
fn a_half_cut_plan_of_an_older_version_is_cut_on() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "saw");
    browser.click(".step:nth-child(1) button");
    browser.click(".step:nth-child(2) button");
    browser.wait_until("return document.querySelectorAll('.step.done').length === 2;");
    kept_otherwise(
        &browser,
        "plan.version = 1;
         for (const proof of plan.proofs) for (const level of proof.certificate ?? []) level.tree = { split: { fewer: {}, more: {} } };",
    );
    browser.wait_until("return document.querySelectorAll('.step.done').length === 2;");
    // The second leg is spoiled: one is cut, seven of the eight are left.
    browser.click("#went-wrong");
    browser.click("#wrong-parts button:nth-child(2)");
    let left = browser.wait_until(
        "const key = JSON.parse(localStorage['lengthwise/index']).open;
         return JSON.parse(localStorage['lengthwise/piece/' + key]).work.legs[1]?.job.parts[0].quantity ?? null;",
    );
    assert_eq!(left, "7");
    planned(&browser);
}

#[test]
fn a_half_cut_plan_that_nobody_can_read_leaves_all_that_is_known_and_a_way_on() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    place(&browser, "saw");
    browser.click(".step:nth-child(1) button");
    browser.wait_until("return document.querySelectorAll('.step.done').length === 1;");
    place(&browser, "plan");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "1 of 2");
    kept_otherwise(&browser, "plan.boards = [{ plank: 3 }]; plan.version = 9;");
    browser.wait_for_text("#headline", "cannot be read here");
    browser.wait_for_text("#explanation", "version 9");
    browser.wait_for_text("#explanation", "1 × 2400 mm of batten, marked K");
    browser.wait_for_text("#explanation", "1 board has cuts ticked");
    place(&browser, "saw");
    browser.click("#saw-way-on");
    browser.click("#begin-anew");
    planned(&browser);
    // A piece of its own, with all eight legs and the bought length in the shed: 2400 mm holds four, so one more is bought.
    browser.wait_for_text("#headline", "Buy 1 length");
    place(&browser, "piece");
    assert_eq!(browser.value("#parts [name=quantity]"), "8");
    let old = browser.run(
        "const pieces = JSON.parse(localStorage['lengthwise/index']).pieces.map((key) => JSON.parse(localStorage['lengthwise/piece/' + key]));
         const { archived, work } = pieces.find((piece) => piece.job.piece === 'Stool');
         return [archived, work.legs[0].progress.boards[0].steps];",
    );
    assert_eq!(old, serde_json::json!([true, 1]));
}

#[test]
fn what_changed_counts_what_is_in_the_car_too() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "1 of 2");
    not_as_sold(&browser, "length", "2410");
    // Two lengths before and two now, one of them longer than it was sold as; the buying list alone went from two to none.
    browser.wait_for_text(
        "#followed",
        "What changed: In all, timber 4.8 m before, now 4.81 m.",
    );
    browser.wait_for_text(
        "#notices",
        "L measured 2410 mm: planned again. In all, timber 4.8 m before, now 4.81 m.",
    );
    browser.click("#notices .act");
    browser.wait_until("return document.getElementById('followed').hidden;");
}

#[test]
fn what_the_yard_is_said_to_have_is_mended_where_it_was_typed() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    browser.click(".buy summary");
    browser.click(".buy .other");
    let fault = |field: &str| {
        browser
            .run(&format!(
                "return document.querySelector('#ask-fields .field-{field} .fault').textContent;"
            ))
            .as_str()
            .unwrap_or_default()
            .to_owned()
    };
    browser.click("#ask-yes");
    browser.wait_for_text("#ask-fields .field-length .fault", "give the length");
    // Each typing error is told beside its field, and stands there as it was typed.
    for length in ["2,4,", "-5", "abc", "2400mm x"] {
        browser.write("#ask-fields [name=length]", length);
        browser.write("#ask-fields [name=price]", "1.2.3");
        browser.write("#ask-fields [name=count]", "some");
        browser.click("#ask-yes");
        browser.wait_until(&format!(
            "return document.querySelector('#ask-fields .field-length .fault').textContent.includes('{length}');"
        ));
        for field in ["length", "price", "count"] {
            assert_ne!(fault(field), "", "{field} of {length}");
        }
        assert_eq!(browser.value("#ask-fields [name=length]"), length);
        assert_eq!(browser.value("#ask-fields [name=price]"), "1.2.3");
    }
    browser.write("#ask-fields [name=length]", "4800");
    browser.write("#ask-fields [name=price]", "");
    browser.write("#ask-fields [name=count]", "3");
    browser.click("#ask-yes");
    browser.wait_for_text(".buy .length", "4800 mm");
}

#[test]
fn a_typing_error_in_the_piece_does_not_stop_the_plan_that_is_being_carried_out() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "1 of 2");
    place(&browser, "piece");
    browser.write("#parts [name=length]", "abc");
    browser.wait_for_text("#parts .fault:not([hidden])", "abc");
    place(&browser, "plan");
    assert!(browser.text("#headline").starts_with("Buy 2 lengths"));
    browser.click(".buy .tick");
    browser.wait_for_text("#headline", "All 2 lengths bought");
}
