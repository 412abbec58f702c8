//! What would save: found without being asked, taken with one touch, undone with one more, and on paper.

use crate::harness::Browser;
use crate::page::{add_part, add_section, demo, laid_out_for_paper, new_piece, place, planned};
use crate::site;

/// Seventy-two pales of 1 200 from lengths of 3 600: two come out of each, and three do where a pale is 1 190.
fn pales(browser: &Browser) {
    browser.go(&site::address());
    new_piece(browser, "Fence");
    add_section(browser, "pale");
    browser.click("#sections .add-length");
    browser.write("#sections .yard .row:nth-child(1) [name=length]", "3600");
    browser.write("#sections .yard .row:nth-child(1) [name=price]", "3.90");
    place(browser, "piece");
    add_part(browser, "pale", "1200");
    browser.write("#parts [name=quantity]", "72");
    planned(browser);
    place(browser, "plan");
}

#[test]
fn a_saving_is_found_taken_and_undone_on_a_phone() {
    let browser = Browser::phone();
    pales(&browser);
    browser.wait_for_text("#headline", "Buy 36 lengths");
    let first = "#savings li:nth-child(1)";
    browser.wait_for_text(first, "12 lengths fewer, 46.80 saved");
    browser.wait_for_text(first, "pale 8.5 mm shorter, 1191.5 mm");
    browser.wait_until(
        "return document.querySelector('#savings-note').textContent.startsWith('Each by itself');",
    );
    browser.screenshot("savings-phone");
    browser.click(&format!("{first} button"));
    browser.wait_for_text("#headline", "Buy 24 lengths");
    browser.wait_for_text("#notices", "Taken: pale 8.5 mm shorter");
    // Its own undo takes back this change alone, and not what was done since.
    browser.click("#aim label:nth-of-type(2)");
    browser.click("#notices button");
    browser.wait_for_text("#headline", "Buy 36 lengths");
    assert_becomes!(
        browser.run("return document.querySelector('#aim input:checked').value;"),
        "cheapest"
    );
    browser.click("#aim label:nth-of-type(1)");
    browser.wait_for_text(first, "pale 8.5 mm shorter, 1191.5 mm");
    browser.wait_until(
        "return document.querySelector('#savings-note').textContent.startsWith('Each by itself');",
    );
    browser.click(&format!("{first} button"));
    browser.wait_for_text("#headline", "Buy 24 lengths");
    // The same change is not offered again.
    browser.wait_until(
        "return document.querySelector('#savings-note').textContent !== 'Looking for what would save …'
             && !document.querySelector('#savings-section').textContent.includes('1191.5');",
    );
    browser.click("#undo");
    browser.wait_for_text("#headline", "Buy 36 lengths");
    browser.wait_for_text(first, "pale 8.5 mm shorter, 1191.5 mm");
    place(&browser, "piece");
    assert_becomes!(browser.value("#parts [name=length]"), "1200");
}

#[test]
fn a_spare_is_priced_planned_with_the_rest_and_taken_back() {
    let browser = Browser::phone();
    pales(&browser);
    browser.wait_for_text("#headline", "Buy 36 lengths");
    browser.run("for (const one of ['spoiled-more', 'reserves-more']) document.getElementById(one).open = true;");
    browser.wait_for_text("#spoiled", "pale: one more 3600 mm, 3.90");
    let part = "#reserves li:nth-child(2)";
    browser.wait_until(&format!("return document.querySelector('{part}');"));
    browser.wait_for_text(part, "a spare pale");
    browser.wait_for_text(part, "1 length more, 3.90 more to pay");
    browser.click(&format!("{part} button"));
    browser.wait_for_text("#headline", "Buy 37 lengths");
    browser.wait_for_text("#spoiled", "pale: there is a spare");
    browser.wait_for_text("#legend", "pale, spare");
    browser.screenshot("spares-phone");
    browser.click("#notices button");
    browser.wait_for_text("#headline", "Buy 36 lengths");
    place(&browser, "piece");
    browser.click("#parts .more summary");
    assert_becomes!(browser.value("#parts [name=spares]"), "");
}

#[test]
fn savings_of_set_outs_are_taken_into_their_fields_and_printed() {
    let browser = Browser::desktop();
    demo(&browser);
    place(&browser, "plan");
    let line = "#savings li:nth-child(1)";
    browser.wait_for_text(line, "Store, height");
    browser.click(&format!("{line} button"));
    browser.wait_for_text("#headline", "Buy 15 lengths");
    place(&browser, "piece");
    crate::page::unfold(&browser, 1);
    assert_becomes!(browser.value(".set-out:nth-child(1) [name=height]"), "1128");
    place(&browser, "plan");
    browser.wait_until("return document.querySelector('#savings li');");
    laid_out_for_paper(&browser);
    browser.wait_for_text("#paper", "What would save");
}

#[test]
fn sizes_within_ranges_are_chosen_and_stand_beside_what_is_wanted() {
    let browser = Browser::phone();
    pales(&browser);
    browser.wait_for_text("#headline", "Buy 36 lengths");
    place(&browser, "piece");
    browser.write("#parts [name=length]", "1200, may be 1150 to 1200");
    browser.wait_for_text("#all-parts", "1191.5 mm, 1200 mm wanted");
    assert_becomes!(
        browser.value("#parts [name=length]"),
        "1200, may be 1150 to 1200"
    );
    place(&browser, "plan");
    browser.wait_for_text("#headline", "Buy 24 lengths");
    browser.wait_for_text("#explanation", "pale: 1191.5 mm, 1200 mm wanted");
    browser.wait_for_text(
        "#explanation",
        "proven by the plan with every such part at its shortest",
    );
    place(&browser, "saw");
    browser.wait_for_text("#place-saw", "1191.5");
    // What is not a range is told at its field.
    place(&browser, "piece");
    browser.write("#parts [name=length]", "1200, may be 1250 to 1300");
    browser.wait_for_text("#parts", "the range does not hold the size before it");
    // As typed again, without a range.
    browser.write("#parts [name=length]", "1200");
    place(&browser, "plan");
    browser.wait_for_text("#headline", "Buy 36 lengths");
    browser.wait_until(
        "return !document.querySelector('#explanation').textContent.includes('wanted');",
    );
}
