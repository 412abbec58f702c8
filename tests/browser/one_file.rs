//! The page as one file, opened from the device's files.

use crate::harness::{Browser, Network};
use crate::page::{planned, save};
use crate::site;

#[test]
fn the_one_file_opens_from_the_files_of_a_device_and_its_worker_answers() {
    let browser = Browser::phone();
    browser.network(Network::Off);
    browser.go(&site::one_file());
    // The one file has no modules to ask for; what its own engine said is on the page.
    browser.wait_until("return document.documentElement.dataset.engine;");
    browser.screenshot("one-file-phone");
}

/// A link to a file leads nowhere on another device.
#[test]
fn the_one_file_offers_the_job_file_in_place_of_a_link() {
    let browser = Browser::phone();
    browser.go(&site::one_file());
    planned(&browser);
    browser.click("#open-menu");
    browser.click("#menu-share");
    assert_becomes!(
        browser.run("return document.getElementById('share-link').checkVisibility();"),
        false
    );
    browser.click("#share-save");
    let job: serde_json::Value =
        serde_json::from_slice(&browser.download("bin-store.json")).unwrap();
    assert_eq!(job["piece"], "Bin store");
}

#[test]
fn the_notices_of_others_travel_with_the_one_file_and_with_the_site() {
    let file = concat!(env!("CARGO_MANIFEST_DIR"), "/NOTICES.txt");
    let notices = std::fs::read(file).expect("the notices");
    let browser = Browser::phone();
    for address in [site::one_file(), site::address()] {
        browser.go(&address);
        planned(&browser);
        save(&browser, "notices");
        assert!(browser.download("lengthwise-notices.txt") == notices);
    }
}
