//! What matters most, in the engines of the other half of the phones.
//!
//! Their windows do not go as narrow as a phone, and nothing is emulated. Every test has a browser of its own.

use crate::carried_out::{cut, one_of_two_bought};
use crate::harness::{Browser, Key};
use crate::page::{demo, legs_beside_the_demo, legs_to_buy, place, planned};
use crate::serve::Server;
use crate::site;
use serde_json::json;

/// Each of these tests in each of the engines.
macro_rules! in_each {
    ($($test:ident)*) => {
        in_each!(webkit Engine::WebKit: $($test)*);
        in_each!(firefox Engine::Firefox: $($test)*);
    };
    ($name:ident $engine:path: $($test:ident)*) => {
        mod $name {
            use crate::driver::Engine;
            use crate::harness::Browser;
            $(#[test]
            fn $test() {
                super::$test(&Browser::phone_with($engine));
            })*
        }
    };
}

in_each! {
    the_first_start_shows_the_example_planned_and_drawn
    a_job_is_typed_from_field_to_field_planned_and_proven
    a_day_at_the_yard_and_the_saw_is_found_again
    after_one_visit_the_page_works_with_the_server_stopped
    the_one_file_plans_from_the_files_of_a_device
    an_error_is_noticed
}

fn the_first_start_shows_the_example_planned_and_drawn(browser: &Browser) {
    demo(browser);
    browser.wait_until(
        "const drawn = ['.tile-piece svg', '.tile-boards .lw-bar', '.tile-slip p'].map((one) => document.querySelector(one));
         return drawn.every((one) => one?.checkVisibility() && one.getBoundingClientRect().width > 0);",
    );
    assert_becomes!(browser.text(".tile-slip p:first-child"), "2 × 3.6 m");
    // Nothing sticks out at the side.
    assert_becomes!(sticks_out(browser), 0);
    browser.screenshot(&format!("first-{:?}", browser.engine()).to_lowercase());
    place(browser, "plan");
    browser.wait_for_text("#headline", "Buy 16 lengths: proven");
    assert_becomes!(browser.count(".buy"), 7);
    assert_becomes!(sticks_out(browser), 0);
    // Boards are drawn to one scale, once they come into sight.
    browser.wait_until(
        "const bars = [...document.querySelectorAll('#place-plan .lw-bar')];
         bars[0]?.scrollIntoView({ block: 'center' });
         return bars.length > 20 && bars[0].getBoundingClientRect().width > 20;",
    );
    browser.screenshot(&format!("plan-{:?}", browser.engine()).to_lowercase());
}

fn a_job_is_typed_from_field_to_field_planned_and_proven(browser: &Browser) {
    legs_beside_the_demo(browser);
    browser.wait_for_text("#strip-text", "2 lengths");
    // From the name of a part Enter goes through its fields; what stands in the next is typed over.
    browser.click("#parts [name=label]");
    browser.press(Key::Enter);
    let focus = "return document.activeElement.name;";
    while browser.run(focus) != "quantity" {
        assert_ne!(browser.run(focus), "label", "Enter goes on");
        browser.press(Key::Enter);
    }
    browser.type_on("11");
    browser.wait_for_text("#strip-text", "3 lengths");
    assert_becomes!(browser.value("#parts [name=quantity]"), "11");
    assert_becomes!(browser.run(focus), "quantity");
    place(browser, "plan");
    browser.wait_for_text("#headline", "proven");
}

fn a_day_at_the_yard_and_the_saw_is_found_again(browser: &Browser) {
    legs_to_buy(browser);
    one_of_two_bought(browser);
    place(browser, "saw");
    browser.wait_for_text("#bench-count", "0 of 8 parts cut");
    let first = browser.text("#bench-reading");
    browser.screenshot(&format!("saw-{:?}", browser.engine()).to_lowercase());
    // The first step makes the datum end.
    cut(browser);
    cut(browser);
    browser.wait_for_text("#bench-count", "1 of 8 parts cut");
    let next = browser.text("#bench-reading");
    assert_ne!(next, first);
    browser.reload();
    planned(browser);
    browser.wait_for_text("#bench-count", "1 of 8 parts cut");
    assert_becomes!(browser.text("#bench-reading"), next);
    place(browser, "plan");
    browser.wait_for_text(".buy .bought", "1 of 2");
    place(browser, "piece");
    assert_becomes!(browser.value("#piece-fields [name=piece]"), "Stool");
}

fn after_one_visit_the_page_works_with_the_server_stopped(browser: &Browser) {
    let server = Server::start(site::folder(), 0).unwrap();
    let address = server.address();
    browser.go(&address);
    browser.run_to_end("await navigator.serviceWorker.ready;", vec![]);
    drop(server);
    browser.go(&address);
    planned(browser);
    let served = browser.run(
        "return [navigator.serviceWorker.controller !== null, document.documentElement.dataset.engine];",
    );
    assert_eq!(served, json!([true, env!("CARGO_PKG_VERSION")]));
}

fn the_one_file_plans_from_the_files_of_a_device(browser: &Browser) {
    browser.go(&site::one_file());
    planned(browser);
    place(browser, "plan");
    browser.wait_for_text("#headline", "Buy 16 lengths: proven");
}

/// Otherwise no error of the tests above would be.
fn an_error_is_noticed(browser: &Browser) {
    demo(browser);
    assert_eq!(browser.console_errors(), Vec::<String>::new());
    browser.run("console.error('said'); setTimeout(() => { throw new Error('thrown'); }, 0);");
    let mut errors = String::new();
    browser.wait_for("both errors", || {
        errors += &browser.console_errors().concat();
        (errors.contains("said") && errors.contains("thrown")).then_some(())
    });
}

/// By how much the page is wider than its window.
fn sticks_out(browser: &Browser) -> i64 {
    let wide = "const page = document.documentElement; return page.scrollWidth - page.clientWidth;";
    browser.run(wide).as_i64().expect("a number")
}
