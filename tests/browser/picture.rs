//! The picture of the piece: live as one types, from all its corners, and a part that is touched is lit wherever it is shown.

use crate::harness::{Browser, Key, Paper};
use crate::page::{demo, laid_out_for_paper, place, unfold};
use serde_json::json;

/// Waits until the description of the picture says this.
#[track_caller]
fn told(browser: &Browser, text: &str) {
    browser.wait_until(&format!(
        "return document.querySelector('#whole svg desc')?.textContent.includes('{text}');"
    ));
}

/// Waits until the picture is called this.
#[track_caller]
fn called(browser: &Browser, title: &str) {
    browser.wait_until(&format!(
        "return document.querySelector('#whole svg title')?.textContent === '{title}';"
    ));
}

/// The keys of the parts that are lit in the picture, each once.
fn lit(browser: &Browser) -> serde_json::Value {
    browser.run("return [...new Set([...document.querySelectorAll('#whole .lit')].map((one) => one.dataset.part))];")
}

#[test]
fn the_picture_follows_what_is_typed_and_holds_while_it_is_faulty() {
    let browser = Browser::desktop();
    demo(&browser);
    // The side boards stand out by 19 on either side of the store's 1410.
    told(
        &browser,
        "1448 mm wide, 834 mm deep and 1265 mm high over all",
    );
    unfold(&browser, 1);
    browser.write(".set-out:nth-child(1) [name=width]", "1500");
    told(&browser, "1538 mm wide");
    assert!(browser.text("#whole-held").is_empty());
    browser.write(".set-out:nth-child(1) [name=width]", "15x00");
    browser.wait_for_text("#whole-held", "Drawn as it was before");
    told(&browser, "1538 mm wide");
    // As it was before from another corner, too.
    browser.click("#walk-right");
    called(&browser, "Store, from the front right");
    told(&browser, "1538 mm wide");
    browser.write(".set-out:nth-child(1) [name=width]", "1600");
    told(&browser, "1638 mm wide");
    assert!(browser.text("#whole-held").is_empty());
}

#[test]
fn one_walks_round_it_and_pulls_it_apart_without_a_bar_to_scroll_sideways() {
    let browser = Browser::phone();
    demo(&browser);
    let fits = || {
        let wide = "const main = document.querySelector('main'); return main.scrollWidth <= main.clientWidth;";
        assert_eq!(browser.run(wide), true);
        // No field moves with what is drawn: a drawing fills its room, and is not cut.
        let within = browser.run(
            "const [room, svg] = ['.drawing', 'svg'].map((one) => document.querySelector(`#whole ${one}`).getBoundingClientRect());
             return svg.width > 300 && svg.height > 250 && svg.bottom <= room.bottom && svg.right <= room.right;",
        );
        assert_eq!(within, true);
    };
    called(&browser, "Store, from the front left");
    for corner in ["front right", "back right", "back left", "front left"] {
        browser.click("#walk-right");
        called(&browser, &format!("Store, from the {corner}"));
        fits();
    }
    browser.click("#walk-left");
    called(&browser, "Store, from the back left");
    browser.click("#pull-apart");
    called(&browser, "Store, pulled apart, from the back left");
    fits();
    browser.click("#three-views");
    called(&browser, "Store, from the front, the left and above");
    let texts = "return ['1448 mm', '834 mm', '1265 mm'].every((size) =>
        [...document.querySelectorAll('#whole svg text')].some((text) => text.textContent === size));";
    assert_eq!(browser.run(texts), true);
    fits();
    browser.click("#three-views");
    called(&browser, "Store, from the back left");
}

#[test]
fn a_part_touched_in_the_picture_is_lit_in_the_list_and_the_other_way_round() {
    let browser = Browser::phone();
    demo(&browser);
    called(&browser, "Store, from the front left");
    assert_eq!(lit(&browser), json!([]));
    // The boards of the lid, the first part of the eighth set-out.
    browser.click("#whole text[data-part='7/0']");
    assert_eq!(lit(&browser), json!(["7/0"]));
    let lines = "return [...document.querySelectorAll('#all-parts tr.lit')].map((row) => [row.querySelector('button').textContent,
        row.querySelector('button').getAttribute('aria-pressed'), row.querySelector('span').textContent]);";
    assert_eq!(
        browser.run(lines),
        json!([["T", "true", "Lid boards: board"]])
    );
    browser.wait_for_text("#whole-lit", "T: ");
    // It stays lit from another corner, and from place to place.
    browser.click("#walk-right");
    called(&browser, "Store, from the front right");
    assert_eq!(lit(&browser), json!(["7/0"]));
    place(&browser, "plan");
    place(&browser, "piece");
    assert_eq!(lit(&browser), json!(["7/0"]));
    // By the keyboard, through the letter of a line: the upright inside the store's back.
    browser.run("document.querySelector('#all-parts tbody tr:nth-child(3) .letter').focus();");
    browser.press(Key::Enter);
    assert_eq!(lit(&browser), json!(["0/2"]));
    browser.wait_for_text("#whole-lit", "C: 1 × Store: back upright, 1040 mm");
    browser.press(Key::Enter);
    assert_eq!(lit(&browser), json!([]));
    assert_eq!(browser.run(lines), json!([]));
}

#[test]
fn a_sheet_of_paper_has_the_whole_with_its_sizes_and_a_key() {
    let browser = Browser::desktop();
    demo(&browser);
    browser.run("for (const box of document.querySelectorAll('#print-dialog [name=sheet]')) box.checked = box.value === 'picture';");
    // A browser that prints does not wait, so the drawings are there beforehand.
    browser.wait_until("dispatchEvent(new Event('beforeprint')); return document.querySelectorAll('#paper figure svg').length === 4;");
    assert_eq!(browser.print("whole-a4", Paper::A4), 1);
    assert_eq!(browser.print("whole-letter", Paper::Letter), 1);
    laid_out_for_paper(&browser);
    let seen = browser.run(
        "const texts = (selector) => [...document.querySelectorAll(`#paper ${selector}`)].map((one) => one.textContent);
         const within = (svg) => [svg.closest('figure'), svg].map((one) => one.getBoundingClientRect());
         return { captions: texts('figcaption'), key: texts('.legend li').length, third: texts('.legend li')[2], sizes: texts('svg text').filter((text) => text.endsWith(' mm')),
             cut: [...document.querySelectorAll('#paper svg')].filter((svg) => within(svg)[1].right > within(svg)[0].right + 1).length };",
    );
    let captions = [
        "Store, from the front left",
        "Store, from the back right",
        "Store, pulled apart, from the front left",
        "Store, from the front, the left and above",
    ];
    assert_eq!(seen["captions"], json!(captions));
    assert_eq!(seen["sizes"], json!(["1448 mm", "834 mm", "1265 mm"]));
    assert_eq!((&seen["key"], &seen["cut"]), (&json!(22), &json!(0)));
    assert_eq!(seen["third"], "C 1 × Store: back upright, 1040\u{a0}mm");
}
