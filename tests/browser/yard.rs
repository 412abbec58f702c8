//! At the yard: what is bought stays bought, and the plan follows what the yard has.

use crate::carried_out::{
    another_length, board_measured, cuts_done, not_as_sold, not_there, one_of_two_bought, spoil,
    to_buy,
};
use crate::harness::Browser;
use crate::page::{
    counted, demo, kept_piece, laid_out_for_paper, legs_beside_the_demo, legs_to_buy, place,
    planned, unfold,
};
use serde_json::json;

/// Both lengths go into the car and get their marks.
#[track_caller]
fn both_ticked(browser: &Browser) {
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "1T");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "1T, 2T");
}

#[test]
fn lengths_are_ticked_and_added_up_as_they_go_into_the_car() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    one_of_two_bought(&browser);
    browser.wait_for_text("#car", "1 length");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "all 2");
    browser.wait_for_text("#plan-count", "all bought");
    browser.reload();
    browser.wait_for_text(".buy .bought", "all 2");
    browser.click(".buy .open");
    browser.click(".buy .untick");
    browser.wait_for_text(".buy .bought", "1 of 2");
}

#[test]
fn what_is_below_a_line_stays_in_its_place_when_the_first_length_is_ticked() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    let tall =
        || browser.run("return document.querySelector('#buying').getBoundingClientRect().height;");
    let before = tall();
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "Write 1T on its end.");
    assert_eq!(tall(), before);
}

#[test]
fn a_length_that_is_not_there_is_planned_without() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    // Four legs fit 2.4 m (10 + 4 x 562.4 = 2259.6), and without prices the least timber is bought; 3 m serves as well.
    assert_becomes!(browser.text(".buy .length"), "2400 mm");
    not_there(&browser);
    browser.wait_for_text(".buy .length", "3000 mm");
    assert_becomes!(browser.text(".buy .count"), "2 ×");
    // The line is gone, and the focus is on the one in its place.
    browser.wait_until("return document.activeElement === document.querySelector('.buy .tick');");
    browser.click("#undo");
    browser.wait_for_text(".buy .length", "2400 mm");
}

#[test]
fn another_length_at_the_yard_is_taken_where_it_serves() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    another_length(&browser, "4800");
    // 8 x 560 + 7 x 2.4 = 4496.8, so one length of 4.8 m is all.
    browser.wait_for_text(".buy .length", "4800 mm");
    assert_becomes!(browser.text(".buy .count"), "1 ×");
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

/// Opens the question after another width in the row of the demo's boards.
#[track_caller]
fn ask_width(browser: &Browser) {
    browser.run(
        "const row = [...document.querySelectorAll('.buy')].find((row) => row.querySelector('.section').textContent === 'board 19 x 145');
         row.querySelector('.open').click(); row.querySelector('.width').click();",
    );
    browser.wait_for_text("#h-ask", "Boards of another width");
}

#[test]
fn boards_that_measure_another_width_at_the_yard_are_set_out_anew() {
    let browser = Browser::phone();
    demo(&browser);
    place(&browser, "plan");
    // A board as narrow as its tongue is no board.
    ask_width(&browser);
    browser.write("#ask-fields [name=measured]", "8");
    browser.click("#ask-yes");
    browser.wait_for_text("#ask-fields", "8 mm is not sensible for the measured width");
    browser.write("#ask-fields [name=measured]", "141");
    browser.screenshot("yard-width-phone");
    browser.click("#ask-yes");
    browser.wait_for_text("#cautions", "\"board 19 x 145\" is 141 mm, not 145 mm");
    planned(&browser);
    let kept = kept_piece(&browser);
    assert_eq!(kept["job"]["sections"][1]["measured"], "141 mm");
    place(&browser, "piece");
    unfold(&browser, 3);
    let notes = ".set-out:nth-child(3) .notes";
    browser.wait_for_text(
        notes,
        "measures 141 mm at the yard, not 145 mm: as sold it took",
    );
    // Once a length is in the car the parts are settled, and that is said.
    place(&browser, "plan");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "1 of");
    ask_width(&browser);
    browser.click("#ask-yes");
    browser.wait_for_text("#ask-fields", "plan afresh with it");
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
    assert_becomes!(browser.value("#ask-fields [name=length]"), "3010");
    browser.click("#ask-yes");
    browser.wait_for_text("#h-ask", "Is that the length?");
    browser.click("#ask-yes");
    browser.wait_for_text("#car", "1 length");
    browser.wait_for_text("#car-before", "3010");
    // Five legs come from the measured one, three more from one length to buy.
    to_buy(&browser, 1);
}

#[test]
fn what_the_yard_said_is_listed_and_taken_back_one_by_one() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    // Not there: 2400. Then 4800 is, which holds all eight legs.
    not_there(&browser);
    browser.wait_for_text(".buy .length", "3000 mm");
    browser.wait_for_text("#says", "no more 2400 mm of batten");
    planned(&browser);
    browser.click(".buy .open");
    browser.click(".buy .other");
    browser.write("#ask-fields [name=length]", "4800");
    browser.click("#ask-yes");
    browser.wait_for_text(".buy .length", "4800 mm");
    assert_becomes!(browser.count("#says li"), 2);
    planned(&browser);
    browser.screenshot("yard-says-phone");
    // The first is taken back and the second stays; nothing is planned otherwise for it.
    browser.click("#says li:first-child button");
    counted(&browser, "#says li", 1);
    planned(&browser);
    browser.wait_for_text(".buy .length", "4800 mm");
    // Without 4800 it is 2400 again, as at first, and the piece's own list says so as well.
    browser.click("#says li button");
    browser.wait_for_text(".buy .length", "2400 mm");
    planned(&browser);
    assert_becomes!(browser.text(".buy .count"), "2 \u{d7}");
    assert_becomes!(browser.count("#says li"), 0);
    let kept = kept_piece(&browser);
    let own = kept["job"]["yard"].as_array().unwrap();
    let own: Vec<_> = own
        .iter()
        .map(|line| (line["length"].as_str().unwrap(), line["count"].is_null()))
        .collect();
    assert_eq!(own, [("2400", true), ("3000", true)]);
    // Undo brings the statement back.
    browser.click("#undo");
    counted(&browser, "#says li", 1);
}

#[test]
fn a_bought_board_gets_a_mark_and_one_the_plan_does_not_need_is_named() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    // The demo's shed wears other marks: 1T to 9T are the example's alone.
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "Write 1T on its end.");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "Write 1T, 2T on their ends.");
    browser.wait_for_text("#headline", "All 2 lengths bought");
    place(&browser, "saw");
    browser.wait_for_text("#board", "Write 1T on an end of this board");
    assert_soon!(browser.text("#board-choice").contains("1T: New 2400 mm"));
    // A length that holds all eight legs turns up: the two in the car are used all the same, for they are paid for.
    place(&browser, "piece");
    browser.write("#parts [name=quantity]", "8");
    place(&browser, "saw");
    spoil(&browser, 1);
    // The first leg is spoiled, so eight are still wanted: three from the rest of 1T, four from 2T, one more from a new length.
    browser.wait_for_text("#board-choice", "1T-2");
    planned(&browser);
    assert_soon!(browser.text("#board-choice").contains(": 2T, 2400 mm"));
    browser.screenshot("marks-phone");
}

#[test]
fn a_board_put_back_is_forgotten_with_what_was_measured_of_it() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    both_ticked(&browser);
    // The board that is ticked already is the one that was measured: it is not counted twice.
    board_measured(&browser, "2T, ticked already", "2390");
    browser.wait_for_text("#says", "2T measured 2390 mm, sold as 2400 mm of batten");
    planned(&browser);
    browser.wait_for_text("#car-totals", "2 lengths");
    browser.wait_for_text("#headline", "All 2 lengths bought");
    let shown = browser.run("return document.getElementById('board-summaries').textContent;");
    let shown = shown.as_str().unwrap();
    assert!(shown.contains("2390 mm"), "{shown}");
    // Put back: the yard has it again as sold, and the car one less.
    browser.click("#put-back summary");
    browser.wait_for_text("#put-back-boards", "2T, 2390 mm of batten");
    browser.click("#put-back-boards li:nth-child(2) button");
    browser.wait_for_text("#car-totals", "1 length");
    counted(&browser, "#says li", 0);
    planned(&browser);
    assert_becomes!(browser.text(".buy .length"), "2400 mm");
    assert_becomes!(browser.text(".buy .count"), "1 \u{d7}");
    assert_soon!(!browser.text("#plan-drawing").contains("2390"));
    let kept = kept_piece(&browser);
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
    browser.wait_for_text("#says", "1T bad at 1000..1100, sold as 2400 mm of batten");
    planned(&browser);
    // Each side of it holds legs of 560: 10 + 562.4 on the near one, 1300 / 562.4 on the far one, so three of the eight come
    // from this board and five from another length, which only 3 m holds (2809.6 and the trim).
    browser.wait_for_text(".buy .length", "3000 mm");
    assert_becomes!(browser.text(".buy .count"), "1 \u{d7}");
    place(&browser, "saw");
    assert_soon!(browser.text("#board").contains("bad stretch"));
}

#[test]
fn a_measured_board_the_plan_does_not_need_may_stay_at_the_yard() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    both_ticked(&browser);
    browser.click(".buy .open");
    browser.click(".buy .untick");
    browser.click(".buy .open");
    browser.wait_for_text(".buy .bought", "1 of 2");
    // 2T is measured short by far: 560 and a trim, and the second board is no more of it.
    not_as_sold(&browser, "length", "500");
    browser.wait_for_text("#ask-text", "shorter");
    browser.click("#ask-yes");
    browser.wait_for_text(
        "#aside",
        "2T, 500 mm of batten, is bought and this plan does not need it",
    );
    browser.wait_for_text("#says", "2T measured 500 mm, sold as 2400 mm of batten");
    browser.wait_for_text("#car-totals", "2 lengths");
    planned(&browser);
    browser.screenshot("aside-phone");
    browser.click("#aside button");
    browser.wait_for_text("#car-totals", "1 length");
    counted(&browser, "#says li, #aside li", 0);
    planned(&browser);
    // 1T is in the car; one more is to be bought.
    assert_becomes!(browser.text(".buy .count"), "1 \u{d7}");
}

#[test]
fn what_is_paid_still_to_pay_and_in_all_is_one_table_on_screen_and_on_paper() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.write("#parts [name=quantity]", "12");
    place(&browser, "timber");
    for (row, price) in [(1, "5"), (2, "7")] {
        browser.write(
            &format!("#sections .yard .row:nth-child({row}) [name=price]"),
            price,
        );
    }
    planned(&browser);
    place(&browser, "plan");
    browser.wait_for_text("#buying-totals", "15.00");
    assert_becomes!(
        browser.run("return document.querySelector('#sum').hidden;"),
        true
    );
    let rows = "return [...document.querySelectorAll('#sum tr')].map((row) => [...row.cells].map((cell) => cell.textContent).join(' ').trim()).join('; ');";
    browser.click(".buy .tick");
    assert_becomes!(
        browser.run(rows),
        "Lengths Cost Timber; Paid 1 length 5.00 2.4 m; Still to pay 2 lengths 10.00 4.8 m; In all 3 lengths 15.00 7.2 m"
    );
    assert_becomes!(browser.text("#buying-totals"), "");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "1T, 2T");
    // The third is not there: a longer one takes its place, and the sum is of all plans.
    not_there(&browser);
    browser.wait_for_text(".buy .length", "3000 mm");
    assert_becomes!(
        browser.run(rows),
        "Lengths Cost Timber; Paid 2 lengths 10.00 4.8 m; Still to pay 1 length 7.00 3 m; In all 3 lengths 17.00 7.8 m"
    );
    // What the aims come to is of what is left to buy.
    browser.wait_for_text(
        "#aim label:nth-of-type(1) small",
        "from here on 1 length, 7.00, 3 m",
    );
    browser.screenshot("sum-phone");
    // The two that were bought are cut alike, so they are drawn and listed once. One cut of the first is ticked.
    place(&browser, "saw");
    browser.wait_for_text("#board h2", "Bought 1T");
    browser.click(".step:nth-child(1) button");
    cuts_done(&browser, 1);
    laid_out_for_paper(&browser);
    let paper = browser.run(
        "const texts = (selector) => [...document.querySelectorAll('#paper ' + selector)].map((one) => one.textContent);
         return { boards: texts('.saw-board:not(.set-out-paper) h2'), boxes: texts('.saw-board:first-of-type .boxes').slice(0, 2),
             tables: texts('.sheet:first-child td').join(' '), drawn: document.querySelectorAll('#paper .drawn').length };",
    );
    assert_eq!(
        paper["boards"],
        json!([
            "1\u{2013}2 of 3: 2 \u{d7} Bought 1T, 2T, batten, 2400 mm",
            "3 of 3: New 3000 mm, batten"
        ])
    );
    assert_eq!(
        paper["boxes"],
        json!(["\u{2611}\u{2610}", "\u{2610}\u{2610}"])
    );
    assert_eq!(paper["drawn"], 2);
    let tables = paper["tables"].as_str().unwrap();
    assert!(
        tables.contains("Still to pay 1 length 7.00 3 m In all 3 lengths 17.00 7.8 m"),
        "{tables}"
    );
    assert!(
        browser
            .text("#paper")
            .contains("2 \u{d7} 2400 mm of batten, marked 1T, 2T")
    );
}

#[test]
fn a_load_over_the_payload_is_said_and_the_setting_is_kept() {
    let browser = Browser::desktop();
    legs_beside_the_demo(&browser);
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

#[test]
fn what_changed_counts_what_is_in_the_car_too() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    one_of_two_bought(&browser);
    not_as_sold(&browser, "length", "2410");
    // Two lengths before and two now, one of them longer than it was sold as; the buying list alone went from two to none.
    browser.wait_for_text(
        "#followed",
        "What changed: In all, timber 4.8 m before, now 4.81 m.",
    );
    browser.wait_for_text(
        "#notices",
        "2T measured 2410 mm: planned again. In all, timber 4.8 m before, now 4.81 m.",
    );
    browser.click("#notices .act");
    browser.wait_until("return document.getElementById('followed').hidden;");
}

#[test]
fn what_the_yard_is_said_to_have_is_mended_where_it_was_typed() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    browser.click(".buy .open");
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
        assert_becomes!(browser.value("#ask-fields [name=length]"), length);
        assert_becomes!(browser.value("#ask-fields [name=price]"), "1.2.3");
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
    one_of_two_bought(&browser);
    place(&browser, "piece");
    browser.write("#parts [name=length]", "abc");
    browser.wait_for_text("#parts .fault:not([hidden])", "abc");
    place(&browser, "plan");
    assert_soon!(browser.text("#headline").starts_with("Buy 2 lengths"));
    browser.click(".buy .tick");
    browser.wait_for_text("#headline", "All 2 lengths bought");
}

#[test]
fn a_price_typed_over_is_told_at_once_at_the_line_that_was_planned_with_the_old_one() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    one_of_two_bought(&browser);
    let told = "const price = document.querySelector('.buy .old-price p'); return price.checkVisibility() && price.textContent;";
    assert_becomes!(browser.run(told), false);
    place(&browser, "timber");
    browser.write("#sections .yard .row:nth-child(1) [name=price]", "7.50");
    place(&browser, "plan");
    assert_becomes!(
        browser.run(told),
        "Planned with the old price, no price; Timber says 7.50 now."
    );
    browser.click("#undo");
    browser.wait_until(&format!("return (() => {{ {told} }})() === false;"));
    // What is left is planned with it where that is asked for.
    browser.click("#redo");
    browser.wait_until(&format!("return (() => {{ {told} }})() !== false;"));
    browser.click(".buy .with-price");
    browser.wait_until(&format!("return (() => {{ {told} }})() === false;"));
    planned(&browser);
    browser.wait_for_text(".buy .buy-cost", "7.50");
}
