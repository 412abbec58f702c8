//! What takes time: a long plan, a screen that would go dark, boards that have lain unused for a year.

use crate::harness::Browser;
use crate::page::{add_section, demo, new_piece, place, planned};
use std::fmt::Write;

/// Sixty part lengths, so many that the search for the least scrap goes on until the time is up. They are steps of 37 mm.
fn many_parts() -> String {
    let mut rows = String::from("label,section,length,quantity\n");
    for step in 0..60 {
        let length = 311 + step * 37 % 1_709;
        writeln!(rows, "part {step},batten,{length},{}", 3 + step % 5).unwrap();
    }
    rows
}

#[test]
fn a_long_plan_tells_how_far_it_is_and_stops_when_asked() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Pergola");
    add_section(&browser, "batten");
    for (row, length) in [(1, "3000"), (2, "4200")] {
        browser.click("#sections .add-length");
        browser.write(
            &format!("#sections .yard .row:nth-child({row}) [name=length]"),
            length,
        );
    }
    place(&browser, "piece");
    browser.click("#open-csv");
    browser.run_with("const field = document.getElementById('csv-text'); field.value = arguments[0]; field.dispatchEvent(new Event('input', { bubbles: true }));", vec![many_parts().into()]);
    browser.wait_for_text("#csv-take", "Add these 60 parts");
    browser.click("#csv-take");
    place(&browser, "plan");
    // What is found is shown while better is looked for, with how far from proven it is. It is stopped in the same breath, for the
    // time may be up soon.
    let seen = browser.wait_until(
        "const [headline, strip, gap, stop] = ['headline', 'strip-text', 'gap', 'stop'].map((id) => document.getElementById(id));
         if (!headline.textContent.startsWith('Buy') || !stop.checkVisibility() || !gap.checkVisibility()) return null;
         const seen = [strip.textContent, gap.textContent];
         stop.click();
         return seen;",
    );
    let [strip, gap] = [0, 1].map(|at| seen[at].as_str().unwrap());
    assert!(strip.starts_with("Planning … Buy"), "{strip}");
    assert!(gap.contains("lengths to buy (no"), "{gap}");
    planned(&browser);
    assert_soon!(
        !browser
            .run("return document.getElementById('working').checkVisibility();")
            .as_bool()
            .unwrap()
    );
    assert_soon!(browser.count(".buy") > 0);
}

#[test]
fn the_screen_is_kept_on_at_the_saw_and_nowhere_else() {
    let browser = Browser::phone();
    // Stands for the device's lock, which a browser without a screen may refuse.
    let lock = "window.locks = [];
        Object.defineProperty(navigator, 'wakeLock', { value: { request: async (kind) => {
            const lock = { kind, released: false, release: async () => { lock.released = true; } };
            window.locks.push(lock);
            return lock;
        } } });";
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        serde_json::json!({ "source": lock }),
    );
    demo(&browser);
    let held = |kinds: &str| {
        browser.wait_until(&format!("return JSON.stringify(window.locks.filter((lock) => !lock.released).map((lock) => lock.kind)) === '{kinds}';"));
    };
    place(&browser, "saw");
    held("[]");
    browser.click("#awake");
    held("[\"screen\"]");
    place(&browser, "plan");
    held("[]");
    place(&browser, "saw");
    held("[\"screen\"]");
    browser.click("#awake");
    held("[]");
}

#[test]
fn what_has_lain_in_the_shed_for_more_than_a_year_is_named() {
    let browser = Browser::phone();
    demo(&browser);
    assert_soon!(!browser.text("#shed").contains("Unused"));
    // 400 days are 13 months of 30.4 days and some; the bin store's plan takes the other boards.
    browser.run(
        "const shed = JSON.parse(localStorage['lengthwise/shed']);
         shed.push({ ...shed[0], id: 'old', since: Date.now() - 400 * 24 * 3600 * 1000, row: { mark: 'X', section: 'slat 21 x 95', length: '120 mm' } });
         localStorage['lengthwise/shed'] = JSON.stringify(shed);",
    );
    browser.reload();
    planned(&browser);
    place(&browser, "timber");
    browser.wait_until(
        "return document.getElementById('shed').textContent.includes('Unused for 13 months');",
    );
}
