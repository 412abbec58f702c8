//! Helpers for a plan that is carried out: what a person enters at the yard and at the saw.

use crate::harness::Browser;
use crate::page::counted;

/// Waits until so many lengths are to buy, by a finished plan.
#[track_caller]
pub fn to_buy(browser: &Browser, lengths: usize) {
    browser.wait_until(&format!(
        "return document.getElementById('outcome').getAttribute('aria-busy') === 'false'
             && document.getElementById('plan-count').textContent === '{lengths} to buy';"
    ));
}

/// Puts the first of two lengths into the car.
#[track_caller]
pub fn one_of_two_bought(browser: &Browser) {
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "1 of 2");
}

/// The yard has no more of the first line.
#[track_caller]
pub fn not_there(browser: &Browser) {
    browser.click(".buy .open");
    browser.click(".buy .missing");
}

/// The yard has a length that is not on the list.
#[track_caller]
pub fn another_length(browser: &Browser, length: &str) {
    browser.click(".buy .open");
    browser.click(".buy .other");
    browser.write("#ask-fields [name=length]", length);
    browser.click("#ask-yes");
}

/// Enters in what a length of the first line differs from what it was sold as.
#[track_caller]
pub fn not_as_sold(browser: &Browser, field: &str, text: &str) {
    browser.click(".buy .open");
    browser.click(".buy .measured");
    browser.write(&format!("#ask-fields [name={field}]"), text);
    browser.click("#ask-yes");
}

/// Enters the measured length of a board that is already in the car.
#[track_caller]
pub fn board_measured(browser: &Browser, board: &str, length: &str) {
    browser.click(".buy .open");
    browser.click(".buy .measured");
    browser.choose("#ask-fields [name=board]", board);
    browser.write("#ask-fields [name=length]", length);
    browser.click("#ask-yes");
}

/// Waits until this many steps at the saw are done.
#[track_caller]
pub fn cuts_done(browser: &Browser, cuts: usize) {
    counted(browser, ".step.done", cuts);
}

/// Waits until the bench no longer rests from a cut: until then a touch is none.
#[track_caller]
pub fn rested(browser: &Browser) {
    browser.wait_until("return !document.querySelector('#bench').hasAttribute('data-rests');");
}

/// Makes the next cut.
#[track_caller]
pub fn cut(browser: &Browser) {
    rested(browser);
    browser.click("#bench-cut");
}

/// Marks a part of the board at the saw as spoiled, counted from one.
#[track_caller]
pub fn spoil(browser: &Browser, part: usize) {
    browser.click("#went-wrong");
    browser.click(&format!("#wrong-parts button:nth-child({part})"));
}

/// Finishes the piece, whether or not all cuts are ticked.
#[track_caller]
pub fn finish(browser: &Browser) {
    browser.click("#finish");
    browser.click("#ask-yes");
    browser.wait_for_text("#finish", "Finished");
}
