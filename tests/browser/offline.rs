//! After one visit the page needs no network, and it takes a new version without losing anything.

use crate::harness::{Browser, Network};
use crate::serve::Server;
use crate::site;
use std::fs;

#[test]
fn after_one_visit_the_page_works_with_the_server_stopped() {
    let server = Server::start(site::folder(), 0).unwrap();
    let browser = Browser::phone();
    browser.go(&server.address());
    let address = server.address();
    wait_for_service_worker(&browser);
    drop(server);
    browser.network(Network::Off);
    browser.go(&address);
    let version = browser.wait_until("return document.documentElement.dataset.engine;");
    assert_eq!(version, env!("CARGO_PKG_VERSION"));
}

#[test]
fn a_new_version_is_taken_at_the_next_start_and_keeps_what_was_stored() {
    let folder = site::copy("two-versions");
    let server = Server::start(&folder, 0).unwrap();
    let browser = Browser::desktop();
    browser.go(&server.address());
    wait_for_service_worker(&browser);
    browser.run("localStorage.setItem('typed', 'twelve noggins');");

    let page = folder.join("index.html");
    let text = fs::read_to_string(&page).unwrap();
    fs::write(
        &page,
        text.replace("<head>", "<head><meta name=\"version\" content=\"two\">"),
    )
    .unwrap();
    let worker = folder.join("service-worker.js");
    let text = fs::read_to_string(&worker).unwrap();
    fs::write(
        &worker,
        text.replacen("const VERSION = \"", "const VERSION = \"two-", 1),
    )
    .unwrap();

    // The first start after the change may be too quick to see it; the next one may not.
    browser.go(&server.address());
    browser.run_to_end(
        "const registration = await navigator.serviceWorker.getRegistration();
         await registration.update();",
        vec![],
    );
    browser.wait_for("the new version to be taken at a start", || {
        browser.go(&server.address());
        std::thread::sleep(std::time::Duration::from_millis(500));
        let seen = "return document.querySelector('meta[name=version]')?.content === 'two';";
        (browser.run(seen) == true).then_some(())
    });
    assert_eq!(
        browser.run("return localStorage.getItem('typed');"),
        "twelve noggins"
    );
    let caches = browser.run_to_end(
        "return (await caches.keys()).filter((name) => name.startsWith('lengthwise-'));",
        vec![],
    );
    let caches: Vec<&str> = caches
        .as_array()
        .unwrap()
        .iter()
        .filter_map(|name| name.as_str())
        .collect();
    assert_eq!(caches.len(), 1);
    assert!(caches[0].starts_with("lengthwise-two-"));
}

fn wait_for_service_worker(browser: &Browser) {
    browser.run_to_end("await navigator.serviceWorker.ready;", vec![]);
}
