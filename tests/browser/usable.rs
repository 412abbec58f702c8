//! How soon a person can type, on a device six times slower than this one: a measurement.
//!
//! The goal is 300 ms. It is printed beside the measured time and decides nothing, since the time depends on the machine. What must hold is
//! that the field becomes usable at each load. `fixtures/BENCHMARKS.md` says how close to the goal the page is.

use crate::harness::Browser;
use crate::site;
use serde_json::json;

/// The goal: milliseconds from the start of loading until the first field shows.
const WISH: f64 = 300.0;

/// How many times the device is slowed down.
const SLOWER: u32 = 6;

/// How many loads are measured; the first one finds nothing stored.
const LOADS: usize = 9;

/// Checks at every frame whether there is a field to type in. The page fills its fields only once they can be used.
const LOOK: &str = "(() => {
    const look = () => {
        const field = document.querySelector('main input');
        if (field?.checkVisibility()) window.usableAt = performance.now();
        else requestAnimationFrame(look);
    };
    requestAnimationFrame(look);
})();";

#[test]
fn the_first_field_becomes_usable_on_a_slow_device() {
    let browser = Browser::phone();
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({ "source": LOOK }),
    );
    browser.slow_down(SLOWER);
    for (name, address) in [
        ("the site", site::address()),
        ("the one file", site::one_file()),
    ] {
        let times: Vec<f64> = (0..LOADS)
            .map(|_| {
                browser.go(&address);
                let usable = browser.wait_until("return window.usableAt ?? null;");
                usable.as_f64().expect("a time in milliseconds")
            })
            .collect();
        let mut again = times[1..].to_vec();
        again.sort_by(f64::total_cmp);
        println!(
            "{name}: first field usable after {:.0} ms at the first load, then {:.0} ms at best and {:.0} ms in the median; wished for: {WISH} ms",
            times[0],
            again[0],
            again[again.len() / 2],
        );
    }
}
