//! The page starts, and its engine answers.

use crate::harness::Browser;
use crate::site;

#[test]
fn the_page_loads_and_its_engine_answers_on_a_phone() {
    let browser = Browser::phone();
    browser.go(&site::address());
    assert_eq!(engine_version(&browser), env!("CARGO_PKG_VERSION"));
    browser.screenshot("start-phone");
}

#[test]
fn the_page_loads_and_its_engine_answers_on_a_laptop() {
    let browser = Browser::desktop();
    browser.go(&site::address());
    assert_eq!(engine_version(&browser), env!("CARGO_PKG_VERSION"));
    browser.screenshot("start-desktop");
}

#[test]
fn an_error_on_the_console_fails_a_test() {
    let browser = Browser::desktop();
    browser.go(&site::address());
    browser.run("console.error('seen');");
    let errors = browser.console_errors();
    assert_eq!(errors.len(), 1);
    assert!(errors[0].contains("seen"));
}

/// What a fresh engine of the page says it is.
fn engine_version(browser: &Browser) -> String {
    let script = "const { Engine } = await import('./engine.js'); return new Engine().ready;";
    browser
        .run_to_end(script, vec![])
        .as_str()
        .unwrap_or_default()
        .to_owned()
}
