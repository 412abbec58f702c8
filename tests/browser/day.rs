//! A day with the page: one file on a phone, no network, from the sketch to the offcuts, and a second piece from them.

use crate::harness::{Browser, Network};
use crate::page::{new_piece, place, planned, unfold};
use crate::site;

#[test]
fn a_day_from_the_drawing_to_the_offcuts_without_a_network() {
    let browser = Browser::phone();
    browser.network(Network::Off);
    browser.go(&site::one_file());
    planned(&browser);

    // Set out: the demo piece, made a little wider.
    unfold(&browser, 1);
    browser.write(".set-out:nth-child(1) [name=width]", "1420");
    planned(&browser);
    browser.screenshot("day-1-set-out");

    // Three more boards in the shed.
    place(&browser, "timber");
    for (mark, length) in [("X1", "2300"), ("X2", "1750"), ("X3", "1200")] {
        let before = browser.count("#shed .row");
        browser.click("#add-board");
        let row = format!("#shed .row:nth-child({})", before + 1);
        browser.write(&format!("{row} [name=mark]"), mark);
        browser.choose(&format!("{row} [name=section]"), "frame 45 x 70");
        browser.write(&format!("{row} [name=length]"), length);
    }
    planned(&browser);
    browser.screenshot("day-2-shed");

    // At the yard: the first length is measured long, two others are not there.
    place(&browser, "plan");
    browser.screenshot("day-3-plan");
    browser.click(".buy:nth-child(1) summary");
    browser.click(".buy:nth-child(1) .measured");
    let sold = browser.text(".buy:nth-child(1) .length");
    // The yard says it in metres, the tape in millimetres.
    let metres: f64 = sold.trim_end_matches(" m").parse().unwrap();
    let millimetres = (metres * 1_000.0).round() as u32;
    browser.write("#ask-fields [name=length]", &(millimetres + 12).to_string());
    browser.click("#ask-yes");
    browser.wait_for_text("#car", "1 length");
    planned(&browser);
    for _ in 0..2 {
        let gone = last_row(&browser);
        browser.run("document.querySelector('.buy:last-child details').open = true;");
        browser.click(".buy:last-child .missing");
        browser.wait_for("the list without it", || {
            (!rows(&browser).contains(&gone)).then_some(())
        });
        planned(&browser);
    }
    browser.screenshot("day-4-yard");
    // A new length gets its mark from the engine before it counts as bought, so each tick is waited for.
    while browser.count(".buy .tick:not(:disabled)") != 0 {
        let before = bought(&browser);
        browser.click(".buy .tick:not(:disabled)");
        browser.wait_for("the tick", || (bought(&browser) != before).then_some(()));
        planned(&browser);
    }

    // At the saw: half of the boards, then a part is spoiled.
    place(&browser, "saw");
    let boards = browser.count("#board-choice option");
    for _ in 0..boards / 2 {
        browser.run("for (const button of document.querySelectorAll('.step:not(.done) button')) button.click();");
        browser.click("#board-after");
    }
    browser.screenshot("day-5-half-cut");
    browser.click("#went-wrong");
    browser.click("#wrong-parts button:first-child");
    browser.wait_for("fewer boards", || {
        (browser.count("#board-choice option") < boards).then_some(())
    });
    planned(&browser);
    browser.screenshot("day-6-again");

    // Finish, and find the offcuts.
    place(&browser, "saw");
    browser.click("#finish");
    browser.click("#ask-yes");
    browser.wait_for_text("#finish", "Finished");
    place(&browser, "timber");
    let offcuts = browser.run(
        "return [...document.querySelectorAll('#shed [name=length]')].map((field) => field.value);",
    );
    let offcuts = offcuts.as_array().unwrap();
    assert!(!offcuts.is_empty());
    browser.screenshot("day-7-shed");

    // A second piece is planned from them.
    new_piece(&browser, "Shelf");
    place(&browser, "timber");
    browser.click("#add-section");
    browser.write("#sections [name=name]", "frame 45 x 70");
    place(&browser, "piece");
    browser.click("#add-part");
    browser.write("#parts [name=label]", "bearer");
    browser.write("#parts [name=length]", "300");
    planned(&browser);
    place(&browser, "plan");
    assert!(browser.text("#buying-totals").contains("nothing"));
    browser.screenshot("day-8-second-piece");
}

fn rows(browser: &Browser) -> Vec<String> {
    let rows = browser.run("return [...document.querySelectorAll('.buy')].map((row) => row.querySelector('.length').textContent + ' ' + row.querySelector('.section').textContent);");
    let rows = rows.as_array().unwrap().iter();
    rows.map(|row| row.as_str().unwrap().to_owned()).collect()
}

fn last_row(browser: &Browser) -> String {
    rows(browser).pop().expect("something is to be bought")
}

/// How many of each row are bought, as the page says it.
fn bought(browser: &Browser) -> serde_json::Value {
    browser
        .run("return [...document.querySelectorAll('.buy .bought')].map((one) => one.textContent);")
}
