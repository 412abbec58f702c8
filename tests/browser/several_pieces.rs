//! Several pieces on one device: what one holds is not offered to another, and two are bought and cut as one.

use crate::harness::Browser;
use crate::page::{copy_first_piece, legs_beside_the_demo, own_demo, place, planned};

#[test]
fn a_board_in_the_plan_of_one_piece_is_not_offered_to_its_copy() {
    let browser = Browser::phone();
    own_demo(&browser);
    copy_first_piece(&browser, 2);
    browser.click("#pieces-dialog [data-close]");
    planned(&browser);
    place(&browser, "timber");
    browser.wait_until(
        "return document.getElementById('shed').textContent.includes('Held for “Bin store”');",
    );
    place(&browser, "plan");
    assert_soon!(!browser.text("#plan-drawing").contains("Shed 1T,"));
}

#[test]
fn two_pieces_are_bought_on_one_list() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    copy_first_piece(&browser, 3);
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
    legs_beside_the_demo(&browser);
    copy_first_piece(&browser, 3);
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
    assert_becomes!(browser.count("#together button"), 0);
}
