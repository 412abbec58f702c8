//! Nothing that was typed is lost: a device without room, a device whose texts are damaged.

use crate::harness::{Browser, Key, Scheme};
use crate::page::{counted, place, planned};
use crate::site;
use serde_json::{Value, json};

/// A storage without room for pieces while `window.full` is set.
const FULL: &str = "const setItem = Storage.prototype.setItem;
    Storage.prototype.setItem = function (name, text) {
        if (window.full && name.startsWith('lengthwise/piece/')) throw new DOMException('no room', 'QuotaExceededError');
        return setItem.call(this, name, text);
    };";

const NOTICE: &str = "#notices";
const NAME: &str = "#piece-fields [name=piece]";

/// The name of the open piece as the device keeps it.
fn kept_name(browser: &Browser) -> Value {
    browser.run(
        "const kept = (name) => JSON.parse(localStorage.getItem(`lengthwise/${name}`));
         return kept(`piece/${kept('index').open}`).job.piece;",
    )
}

fn without_notice(browser: &Browser) {
    counted(browser, ".notice", 0);
}

/// Looks at a notice or a dialog in light and dark, and keeps pictures of it.
fn clean(browser: &Browser, name: &str) {
    for (scheme, called) in [(Scheme::Light, "light"), (Scheme::Dark, "dark")] {
        browser.colours(scheme);
        browser.screenshot(&format!("{name}-{called}"));
        let faults = browser.accessibility_faults();
        assert!(faults.is_empty(), "{name}, {scheme:?}: {faults:#?}");
    }
    browser.colours(Scheme::Light);
}

#[test]
fn a_piece_the_device_has_no_room_for_is_told_of_until_it_is_kept_and_goes_to_a_file() {
    for (browser, screen) in [(Browser::phone(), "phone"), (Browser::desktop(), "desktop")] {
        browser.devtools(
            "Page.addScriptToEvaluateOnNewDocument",
            json!({ "source": FULL }),
        );
        browser.go(&site::address());
        planned(&browser);
        browser.run("window.full = true;");
        browser.write(NAME, "Log store");
        // The shed and the index are written after the piece, and kept: that says nothing of the piece.
        browser.wait_for_text(
            NOTICE,
            "Not kept on this device: “Log store” (no room is left)",
        );
        clean(&browser, &format!("not-kept-{screen}"));
        place(&browser, "timber");
        place(&browser, "piece");
        browser.type_on("");
        browser.click(NAME);
        browser.press(Key::Control('a'));
        browser.type_on("Log store, long");
        browser.wait_for_text(NOTICE, "Not kept on this device: “Log store, long”");
        assert_becomes!(browser.count(".notice"), 1);
        assert_ne!(kept_name(&browser), "Log store, long");
        browser.click_on("Save this piece");
        let saved: Value =
            serde_json::from_slice(&browser.download("log-store-long.json")).unwrap();
        assert_eq!(saved["piece"], "Log store, long");
        browser.click_on("Save all");
        let saved: Value = serde_json::from_slice(&browser.download("lengthwise.json")).unwrap();
        assert_eq!(saved["pieces"][0]["job"]["piece"], "Log store, long");
        assert_becomes!(browser.count(".notice"), 1);
        browser.run("window.full = false;");
        browser.write(NAME, "Log store, short");
        without_notice(&browser);
        assert_becomes!(kept_name(&browser), "Log store, short");
    }
}

/// A browser gives a page about five million characters. All but a few are filled.
#[test]
fn a_storage_that_is_really_full_loses_nothing_and_is_mended_by_room() {
    let browser = Browser::phone();
    browser.go(&site::address());
    planned(&browser);
    browser.run(
        "let text = 'x'.repeat(2 ** 22);
         for (let number = 0; text.length > 0; number += 1) {
             try { localStorage.setItem(`filler${number}`, text); } catch { text = text.slice(0, text.length >> 1); }
         }",
    );
    browser.run_with(
        "const field = document.querySelector(arguments[0]);
         field.value = 'Log store '.repeat(30000);
         field.dispatchEvent(new Event('input', { bubbles: true }));",
        vec![json!(NAME)],
    );
    browser.wait_for_text(NOTICE, "Not kept on this device");
    browser.write(NAME, &"Well cover, ".repeat(4));
    browser.run("for (const name of Object.keys(localStorage)) if (name.startsWith('filler')) localStorage.removeItem(name);");
    browser.click(NAME);
    browser.type_on("low");
    without_notice(&browser);
    assert_soon!(kept_name(&browser).as_str().unwrap().contains("low"));
}

#[test]
fn what_cannot_be_read_is_put_aside_told_saved_to_a_file_and_thrown_away() {
    for (browser, screen) in [(Browser::phone(), "phone"), (Browser::desktop(), "desktop")] {
        browser.go(&site::address());
        planned(&browser);
        let damaged = browser.run(
            "const { open } = JSON.parse(localStorage.getItem('lengthwise/index'));
             const piece = JSON.parse(localStorage.getItem(`lengthwise/piece/${open}`));
             piece.says = [null];
             piece.job.piece = 'Cold frame';
             localStorage.setItem(`lengthwise/piece/${open}`, JSON.stringify(piece));
             localStorage.setItem('lengthwise/shed', '[{\"id\": \"half');
             return JSON.stringify(piece);",
        );
        browser.reload();
        planned(&browser);
        assert_becomes!(browser.value(NAME), "Cold frame");
        browser.wait_for_text(
            NOTICE,
            "put aside as it was: the piece “Cold frame”, the shed.",
        );
        clean(&browser, &format!("aside-notice-{screen}"));
        place(&browser, "timber");
        assert_becomes!(browser.count(".notice"), 1);
        browser.click_on("Look at it");
        browser.wait_for_text("#aside-list", "the shed");
        clean(&browser, &format!("aside-{screen}"));
        browser.click("#aside-list .card:nth-child(1) .save");
        let saved = String::from_utf8(browser.download(".txt")).unwrap();
        assert_eq!(Some(saved.as_str()), damaged.as_str());
        browser.click("#aside-list .card:nth-child(1) .throw");
        browser.wait_for_text("#h-ask", "Throw away the piece “Cold frame”?");
        browser.click("#ask-yes");
        counted(&browser, "#aside-list .card", 1);
        browser.click("#aside-dialog [data-close]");
        without_notice(&browser);
        // What is left over is under More, and is reported at the next start.
        browser.reload();
        planned(&browser);
        browser.wait_for_text(NOTICE, "put aside as it was: the shed.");
        browser.click("#open-menu");
        browser.wait_for_text("#menu-aside", "What could not be read (1)");
        browser.click("#menu-aside");
        browser.click("#aside-list .throw");
        browser.click("#ask-yes");
        browser.wait_for_text("#aside-none", "Nothing is left here.");
        assert_becomes!(
            browser
                .run("return Object.keys(localStorage).filter((name) => name.includes('aside'));"),
            json!([])
        );
    }
}

#[test]
fn a_backup_that_cannot_be_shown_is_refused_and_not_stored() {
    let browser = Browser::phone();
    browser.go(&site::address());
    planned(&browser);
    let before = browser.run("return JSON.stringify({ ...localStorage });");
    let file = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("shelves-backup.json");
    let piece = json!({ "id": "x1", "says": [null], "uses": [], "job": { "format": "lengthwise-job", "version": 1, "piece": "Shelves",
        "sections": [{ "name": "board", "thickness": 21, "width": 145, "treated": "yes" }], "yard": [], "shed": [], "parts": [], "saw": {} } });
    let backup =
        json!({ "format": "lengthwise-everything", "version": 1, "shed": [], "pieces": [piece] });
    std::fs::write(&file, backup.to_string()).unwrap();
    browser.write("#open-file", file.to_str().unwrap());
    browser.wait_for_text(NOTICE, "was not taken: it is damaged");
    assert_becomes!(
        browser.run("return JSON.stringify({ ...localStorage });"),
        before
    );
    browser.reload();
    planned(&browser);
}

/// The states made by the tests under Node, in the page: it starts on each, every place is opened, and no view fails.
#[test]
fn the_page_shows_what_it_can_of_dozens_of_spoilt_states() {
    let makers = [
        include_str!("../page/random.mjs"),
        include_str!("../page/hostile.mjs"),
    ];
    let makers = makers.concat().replace("export ", "");
    let many = |name: &str, usual: u64| {
        std::env::var(name)
            .ok()
            .and_then(|text| text.parse().ok())
            .unwrap_or(usual)
    };
    let (states, seed) = (
        many("LENGTHWISE_SHOWN_STATES", 40),
        many("LENGTHWISE_SEED", 1),
    );
    let browser = Browser::desktop();
    browser.go(&site::address());
    planned(&browser);
    place(&browser, "saw");
    // A sound state with work in it: a board begun, two lengths bought.
    browser.click(".step .tick-step");
    place(&browser, "plan");
    browser.click("#buying .tick");
    browser.wait_until("return !document.querySelector('#buying .untick').hidden;");
    let sound = browser.run("return Object.fromEntries(Object.entries(localStorage).map(([name, text]) => [name.replace('lengthwise/', ''), text]));");
    for state in 0..states {
        let script = format!(
            "{makers}
             const texts = spoil(new Chance(arguments[0]), arguments[1]);
             localStorage.clear();
             for (const [name, text] of Object.entries(texts)) localStorage.setItem(`lengthwise/${{name}}`, text);"
        );
        browser.run_with(&script, vec![json!(seed * 1000 + state), sound.clone()]);
        browser.reload();
        browser.wait_until("return document.documentElement.dataset.engine && document.getElementById('outcome').getAttribute('aria-busy') === 'false';");
        for name in ["piece", "timber", "plan", "saw"] {
            place(&browser, name);
        }
        let errors = browser.console_errors();
        assert!(
            errors.is_empty(),
            "state {state} of seed {seed}: {errors:#?}"
        );
        let sections = browser.run("return document.querySelectorAll('nav.places a').length;");
        assert_eq!(sections, 4);
    }
}
