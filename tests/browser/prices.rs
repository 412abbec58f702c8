//! Prices as yards give them: per unit, in packs, at several yards, with their terms.

use crate::harness::Browser;
use crate::page::{
    add_part, add_section, counted, demo, laid_out_for_paper, new_piece, place, planned,
};
use crate::site;

/// Six posts of 1 400, two out of each length of 3 m at 4.20 a metre.
fn posts(browser: &Browser) {
    browser.go(&site::address());
    new_piece(browser, "Fence");
    add_section(browser, "post");
    browser.click("#sections .add-length");
    browser.write("#sections .yard .row:nth-child(1) [name=length]", "3000");
    browser.write(
        "#sections .yard .row:nth-child(1) [name=price]",
        "4.20 per m",
    );
    place(browser, "piece");
    add_part(browser, "post", "1400");
    browser.write("#parts [name=quantity]", "6");
    planned(browser);
}

#[test]
fn a_price_per_unit_is_given_to_all_lengths_of_a_section_with_one_touch() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Rack");
    place(&browser, "timber");
    browser.click("#open-sizes");
    browser.click("#sizes li:first-child button");
    counted(&browser, "#sections .yard .row", 5);
    let prices = "return [...document.querySelectorAll('#sections .yard [name=price]')].map((field) => field.value).join('|');";
    let nth = |row: usize| format!("#sections .yard .row:nth-child({row}) [name=price]");
    browser.write(&nth(2), "9.40");
    browser.write(&nth(3), "2.90 per m");
    browser.click("#sections .yard .row:nth-child(3) .field-price .offer");
    let all = "2.90 per m|9.40|2.90 per m|2.90 per m|2.90 per m";
    assert_becomes!(browser.run(prices), all);
    // A price of one length is of that alone.
    assert_becomes!(browser.count("#sections .yard .offer:not([hidden])"), 0);
    browser.click("#undo");
    assert_becomes!(browser.run(prices), "|9.40|2.90 per m||");
    assert_eq!(browser.console_errors(), Vec::<String>::new());
}

#[test]
fn a_price_per_metre_is_typed_and_two_yards_are_compared_on_a_phone() {
    let browser = Browser::phone();
    posts(&browser);
    place(&browser, "plan");
    browser.wait_for_text(".buy .each", "12.60 each, at 4.20 per m");
    browser.wait_for_text(".buy .buy-cost", "37.80");
    place(&browser, "timber");
    browser.click("#add-yard");
    browser.write("#yards .row:nth-child(1) [name=name]", "Mill");
    browser.write("#yards .row:nth-child(1) [name=trip]", "6");
    browser.click("#add-yard");
    browser.write("#yards .row:nth-child(2) [name=name]", "Depot");
    browser.write("#yards .row:nth-child(2) [name=delivery]", "9");
    browser.write("#yards .row:nth-child(2) [name=free_from]", "40");
    assert_becomes!(browser.value(".yard .row:nth-child(1) [name=yard]"), "Mill");
    browser.click("#sections .add-length");
    browser.write(".yard .row:nth-child(2) [name=length]", "3000");
    browser.write(".yard .row:nth-child(2) [name=price]", "12.70");
    browser.choose(".yard .row:nth-child(2) [name=yard]", "Depot");
    browser.screenshot("yards-phone");
    place(&browser, "plan");
    counted(&browser, "#orders li", 2);
    assert_soon!(browser.text("#orders li:nth-child(1)").contains("43.80"));
    browser.wait_for_text("#orders li:nth-child(1)", "Mill, as planned");
    browser.wait_for_text("#orders li:nth-child(2)", "47.10");
    browser.wait_for_text("#bill", "Mill: drive there");
    browser.screenshot("where-to-buy-phone");
    browser.click("#orders li:nth-child(2) button");
    browser.wait_for_text("#bill", "Depot: delivery");
    // Own arithmetic: one length of 12.70 more makes 50.80, and delivery is free; that is more than 47.10.
    assert_becomes!(browser.count("#offers li"), 0);
    browser.wait_for_text("#orders li:nth-child(2)", "Depot, as planned");
    browser.click("#undo");
    browser.wait_for_text("#orders li:nth-child(1)", "Mill, as planned");
    laid_out_for_paper(&browser);
    browser.wait_for_text("#paper", "Where to buy");
    browser.wait_for_text("#paper", "Mill: drive there");
    assert_eq!(browser.console_errors(), Vec::<String>::new());
}

#[test]
fn a_pack_is_bought_whole_and_what_is_left_of_it_goes_to_the_shed() {
    let browser = Browser::phone();
    posts(&browser);
    browser.write("#parts [name=length]", "2900");
    browser.write("#parts [name=quantity]", "3");
    place(&browser, "timber");
    browser.click("#show-packs");
    browser.write(".yard .row:nth-child(1) [name=pack]", "4");
    place(&browser, "plan");
    browser.wait_for_text(".buy .each", "1 pack of 4; 50.40 a pack, at 4.20 per m");
    browser.wait_for_text(".buy .count", "4");
    browser.wait_for_text("#back-to-shed", "3000 mm");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "all 4");
    browser.click(".buy .open");
    browser.click(".buy .untick");
    browser.wait_for_text(".buy .bought", "0 of 4");
}

/// A price list out of a table goes into a piece, is kept under the name of a yard, and goes into another piece.
#[test]
fn prices_come_from_a_table_and_are_kept_for_other_pieces() {
    let browser = Browser::phone();
    posts(&browser);
    place(&browser, "timber");
    browser.click("#open-prices");
    browser.write(
        "#prices-text",
        "Price;Length (mm);Timber\n8.00;2400;post\n15.10;3600;post",
    );
    browser.wait_for_text("#prices-take", "Add 2 lengths");
    browser.click("#prices-take");
    counted(&browser, ".yard .row", 3);
    assert_becomes!(
        browser.value(".yard .row:nth-child(3) [name=length]"),
        "3600 mm"
    );
    browser.click("#save-prices");
    browser.write("#ask-fields [name=yard]", "Mill");
    browser.click("#ask-yes");
    browser.wait_for_text("#price-lists", "Mill: 3 lengths.");
    browser.reload();
    new_piece(&browser, "Gate");
    add_section(&browser, "post");
    browser.wait_until(
        "return document.querySelectorAll('#price-lists button:enabled').length === 2;",
    );
    browser.click("#price-lists button");
    counted(&browser, ".yard .row", 3);
    assert_becomes!(browser.value("#yards [name=name]"), "Mill");
    assert_becomes!(
        browser.value(".yard .row:nth-child(1) [name=price]"),
        "4.20 per m"
    );
    assert_eq!(browser.accessibility_faults(), Vec::<String>::new());
    assert_eq!(browser.console_errors(), Vec::<String>::new());
}
