//! Choices side by side: found without being asked, one is taken with a touch of its entry or of its point, undone with one more, and on paper.

use crate::harness::{Browser, Paper, Scheme};
use crate::page::{add_part, add_section, laid_out_for_paper, new_piece, place, planned};
use crate::site;
use serde_json::Value;

/// Four rails of 1 400: two lengths of 3 000 at 10.00, or up to four of 1 500 at 4.00.
fn rails(browser: &Browser) {
    browser.go(&site::address());
    new_piece(browser, "Fence");
    add_section(browser, "rail");
    for (row, length, price) in [(1, "3000", "10"), (2, "1500", "4")] {
        browser.click("#sections .add-length");
        let row = format!("#sections .yard .row:nth-child({row})");
        browser.write(&format!("{row} [name=length]"), length);
        browser.write(&format!("{row} [name=price]"), price);
    }
    place(browser, "piece");
    add_part(browser, "rail", "1400");
    browser.write("#parts [name=quantity]", "4");
    planned(browser);
    place(browser, "plan");
    browser.wait_for_text("#choices li:nth-child(3)", "4 lengths, 16.00, 6 m");
}

fn pressed(browser: &Browser) -> Value {
    browser.run(
        "return [...document.querySelectorAll('#choices-section [aria-pressed=true]')]
             .map((one) => one.dataset.choice ?? [...one.closest('ul').children].indexOf(one.parentElement)).join(' ');",
    )
}

#[test]
fn a_choice_is_taken_and_the_plan_follows_on_a_phone() {
    let browser = Browser::phone();
    rails(&browser);
    browser.wait_for_text("#headline", "Buy 2 lengths");
    assert_becomes!(pressed(&browser), "0 0");
    browser.wait_for_text("#choices li:nth-child(1)", "proven: no plan is better");
    browser.screenshot("choices-phone");
    browser.click("#choices li:nth-child(3) button");
    browser.wait_for_text("#headline", "Buy 4 lengths: proven");
    browser.wait_for_text("#notices", "Taken: 4 lengths, 16.00, 6 m.");
    browser.wait_until(
        "return document.querySelector('#choices li:nth-child(3) [aria-pressed=true]');",
    );
    assert_becomes!(pressed(&browser), "2 2");
    browser.click("#notices button");
    browser.wait_for_text("#headline", "Buy 2 lengths");
    assert_becomes!(pressed(&browser), "0 0");
    // The point in the picture does the same, with the keyboard too.
    browser.run(
        "const point = document.querySelector('#choices-picture [data-choice=\"1\"]');
         point.focus();
         point.dispatchEvent(new KeyboardEvent('keydown', { key: 'Enter', bubbles: true }));
         return point === document.activeElement;",
    );
    browser.wait_for_text("#headline", "Buy 3 lengths: proven");
    place(&browser, "timber");
    browser.click("#sections .more summary");
    assert_becomes!(browser.value("#sections [name=allowed]"), "3");
    place(&browser, "plan");
    browser.click("#undo");
    browser.wait_for_text("#headline", "Buy 2 lengths");
    laid_out_for_paper(&browser);
    browser.wait_for_text("#paper", "Saw settings");
}

#[test]
fn what_each_aim_comes_to_stands_beside_the_sizes_and_stays_once_a_length_is_bought() {
    let browser = Browser::desktop();
    rails(&browser);
    place(&browser, "piece");
    browser.reload();
    planned(&browser);
    assert_eq!(browser.run("return document.body.dataset.place;"), "piece");
    let found = [
        "2 lengths, 20.00, 6 m",
        "4 lengths, 16.00, 6 m",
        "4 lengths, 16.00, 6 m",
        "2 lengths, 20.00, 6 m",
    ];
    for (nth, text) in found.iter().enumerate() {
        browser.wait_for_text(&format!("#aim label:nth-of-type({}) small", nth + 1), text);
    }
    browser.wait_for_text("#aim label:nth-of-type(5) small", "of scrap");
    browser.screenshot("aims-desktop");
    // They follow the sizes, and stay once one of them is bought.
    browser.write("#parts [name=quantity]", "2");
    browser.wait_for_text("#aim label:nth-of-type(2) small", "2 lengths, 8.00, 3 m");
    browser.wait_for_text("#aim label:nth-of-type(4) small", "1 length, 10.00, 3 m");
    place(&browser, "plan");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "all 1");
    for (nth, text) in [
        (2, "2 lengths, 8.00, 3 m"),
        (4, "1 length, 10.00, 3 m"),
        (5, "of scrap"),
    ] {
        browser.wait_for_text(&format!("#aim label:nth-of-type({nth}) small"), text);
    }
}

#[test]
fn choices_fit_every_screen_and_a_sheet_of_paper() {
    for (browser, name) in [(Browser::phone(), "phone"), (Browser::desktop(), "desktop")] {
        rails(&browser);
        for scheme in [Scheme::Light, Scheme::Dark] {
            browser.colours(scheme);
            browser.run("document.querySelector('#h-choices').scrollIntoView();");
            browser.screenshot(&format!("choices-{name}-{scheme:?}"));
            assert_becomes!(
                browser.run("return document.documentElement.scrollWidth - document.documentElement.clientWidth;"),
                0
            );
        }
        browser.colours(Scheme::Light);
        // The longest offcuts are an aim too, with the same choices.
        browser.click("#aim label:nth-of-type(4)");
        browser.wait_for_text("#explanation", "longest offcuts that were found");
        browser.wait_until(
            "return !document.querySelector('#choices-section').hidden
                 && !document.querySelector('#choices-note').textContent.includes('Still looking');",
        );
        browser.print(&format!("choices-{name}"), Paper::A4);
    }
}
