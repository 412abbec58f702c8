//! Tests of the harness itself, on a page made for the purpose.

use crate::harness::{Browser, Key, Network, Paper, Scheme, Screen, Touch};
use crate::site;
use serde_json::json;

const PAGE: &str =
    "data:text/html,<!doctype html><html lang=en><title>trial</title><main><h1>Trial</h1>
    <label>Length <input id=reach value=900></label>
    <label>Timber <select id=timber><option>post<option>rail</select></label>
    <button onclick='said.textContent = reach.value + timber.value'>Say</button>
    <p id=said></p><p id=dark></p><div style='break-before:page'>second sheet</div></main>
    <script>
      const query = matchMedia('(prefers-color-scheme: dark)');
      const show = () => dark.textContent = query.matches ? 'dark' : 'light';
      query.onchange = show; show();
    </script>";

#[test]
fn a_person_writes_chooses_presses_and_clicks() {
    let browser = Browser::desktop();
    browser.go(PAGE);
    browser.write("#reach", "1200");
    assert_becomes!(browser.value("#reach"), "1200");
    browser.choose("#timber", "rail");
    browser.click_on("Say");
    browser.wait_for_text("#said", "1200rail");

    browser.click("#reach");
    browser.press(Key::Control('a'));
    browser.type_on("34");
    for key in [Key::Left, Key::Left, Key::Right] {
        browser.press(key);
    }
    browser.type_on("0");
    browser.press(Key::Escape);
    for key in [Key::Tab, Key::Up, Key::Tab, Key::Enter] {
        browser.press(key);
    }
    assert_becomes!(browser.text("#said"), "304post");
    browser.press(Key::ShiftTab);
    browser.press(Key::Down);
    browser.press(Key::Tab);
    browser.press(Key::Space);
    assert_becomes!(browser.text("#said"), "304rail");
    assert_becomes!(browser.count("p"), 2);
    browser.reload();
    assert_becomes!(browser.text("#said"), "");
}

#[test]
fn a_screen_has_the_size_and_the_colours_asked_for() {
    let browser = Browser::phone();
    browser.go(PAGE);
    let screen = "return [innerWidth, innerHeight, matchMedia('(pointer: coarse)').matches];";
    browser.run("document.head.insertAdjacentHTML('beforeend', '<meta name=viewport content=\"width=device-width\">');");
    assert_eq!(
        browser.wait_until(screen),
        serde_json::json!([360, 740, true])
    );
    browser.resize(Screen {
        width: 320,
        height: 640,
        touch: Touch::Mouse,
    });
    assert_eq!(
        browser.wait_until(screen),
        serde_json::json!([320, 640, false])
    );
    browser.colours(Scheme::Dark);
    browser.wait_for_text("#dark", "dark");
    browser.colours(Scheme::Light);
    browser.wait_for_text("#dark", "light");
    browser.slow_down(6);
    browser.slow_down(1);
}

#[test]
fn a_print_has_its_sheets_and_a_download_its_bytes() {
    let browser = Browser::desktop();
    browser.go(PAGE);
    assert_eq!(browser.print("trial-a4", Paper::A4), 2);
    assert_eq!(browser.print("trial-letter", Paper::Letter), 2);
    browser.run(
        "const link = document.createElement('a');
         link.download = 'boards.csv';
         link.href = URL.createObjectURL(new Blob(['2400;rail']));
         link.click();",
    );
    assert_eq!(browser.download("boards.csv"), b"2400;rail");
}

#[test]
fn a_fault_of_accessibility_is_found_and_a_good_page_has_none() {
    let browser = Browser::desktop();
    browser.go(PAGE);
    assert_eq!(browser.accessibility_faults(), Vec::<String>::new());
    browser.run("document.querySelector('label').replaceWith(document.createElement('input'));");
    let faults = browser.accessibility_faults();
    assert!(
        faults.len() == 1 && faults[0].starts_with("label: <input>"),
        "{faults:#?}"
    );
}

#[test]
fn without_a_network_nothing_is_reached() {
    let browser = Browser::desktop();
    let page = crate::site::address();
    browser.go(&page);
    let reach = "return fetch(arguments[0], { cache: 'no-store' }).then(() => 'reached', () => 'not reached');";
    let reach = |browser: &Browser| browser.run_to_end(reach, vec![format!("{page}none").into()]);
    browser.network(Network::Off);
    assert_becomes!(reach(&browser), "not reached");
    browser.network(Network::On);
    assert_becomes!(reach(&browser), "reached");
    // What the page itself asks for in the meantime does not count.
    let errors = browser.console_errors();
    let of_reach = errors.iter().filter(|error| error.contains("none"));
    assert_eq!(
        of_reach.count(),
        2,
        "one for the network, one for a file that is not there: {errors:#?}"
    );
}

#[test]
fn a_browser_that_goes_from_test_to_test_has_nothing_of_the_test_before() {
    // A file beside the page, of its address and without scripts.
    let beside = format!("{}notices.txt", site::address());
    for _ in 0..3 {
        let browser = Browser::phone();
        browser.go(&beside);
        let found = browser.run_to_end(
            "const caches_kept = await caches.keys();
             const workers = await navigator.serviceWorker.getRegistrations();
             return [localStorage.length, document.cookie, caches_kept.length, workers.length, matchMedia('print').matches,
                 history.length, window.left ?? null];",
            vec![],
        );
        // The empty tab that it came with, and this file.
        assert_eq!(found, json!([0, "", 0, 0, false, 2, null]));
        browser.devtools(
            "Page.addScriptToEvaluateOnNewDocument",
            json!({ "source": "window.left = true;" }),
        );
        browser.go(&site::address());
        browser.run_to_end("await navigator.serviceWorker.ready;", vec![]);
        browser.run("localStorage.left = 'typed'; document.cookie = 'left=typed';");
        browser.on_paper();
        assert_becomes!(browser.run("return window.left;"), true);
    }
}
