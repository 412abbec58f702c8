//! The page as one file, opened from the device's files.

use crate::harness::{Browser, Network};
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
