//! Nothing from elsewhere: the page loads nothing beyond its own address, and runs no script that was not built into it. An engine that is
//! lost or damaged is noticed.

use crate::harness::{Browser, Key, Network, Paper, Scheme};
use crate::page::{eight_legs, open_share, place, planned, save, tick_every_sheet};
use crate::serve::Server;
use crate::site;
use serde_json::{Value, json};
use std::fs;

/// Records each violation of the policy, and each address that is loaded.
const LISTEN: &str = "window.breaches = [];
    window.asked = new Set();
    document.addEventListener('securitypolicyviolation', (event) => breaches.push([event.violatedDirective, event.blockedURI, event.sample]));
    new PerformanceObserver((list) => list.getEntries().forEach((entry) => asked.add(entry.name))).observe({ type: 'resource', buffered: true });";

/// Keeps every Worker that the page starts.
const WORKERS: &str = "window.workers = [];
    window.Worker = class extends Worker { constructor(...words) { super(...words); workers.push(this); } };";

/// In this page no lock is ever granted, as in a page that may not use locks.
const NO_LOCKS: &str = "LockManager.prototype.request = () => new Promise(() => {});";

fn from_the_start(browser: &Browser, script: &str) {
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({ "source": script }),
    );
}

/// Visits everything that adds to the document: drawings, paper, a QR code, tables, files.
fn walk(browser: &Browser) {
    planned(browser);
    browser.write("#piece-fields [name=piece]", "Fence run");
    for name in ["timber", "plan", "saw", "piece"] {
        place(browser, name);
    }
    browser.click("#open-menu");
    browser.click("#menu-print");
    tick_every_sheet(browser);
    browser.press(Key::Escape);
    assert!(browser.print("guarded", Paper::A4) > 3);
    browser.click("#open-csv");
    browser.write("#csv-text", "part,length\npale,900\n");
    browser.wait_for_text("#csv-take", "Add this part");
    browser.click("#csv-take");
    save(browser, "shed-csv");
    browser.download("-shed.csv");
}

fn asked(browser: &Browser) -> Vec<String> {
    let asked = browser.run("return [...window.asked];");
    let names = asked.as_array().unwrap().iter();
    names
        .map(|name| name.as_str().unwrap().to_owned())
        .collect()
}

#[test]
fn the_site_asks_for_nothing_beyond_its_own_address_and_keeps_its_policy() {
    let browser = Browser::desktop();
    from_the_start(&browser, LISTEN);
    browser.go(&site::address());
    walk(&browser);
    open_share(&browser);
    browser.press(Key::Escape);
    assert_becomes!(browser.run("return window.breaches;"), json!([]));
    let asked = asked(&browser);
    assert!(
        asked.iter().any(|name| name.ends_with("engine.wasm")),
        "{asked:?}"
    );
    let own = |name: &String| {
        name.starts_with(&site::address())
            || name.starts_with(&format!("blob:{}", site::address()))
            || name.starts_with("data:")
    };
    assert!(asked.iter().all(own), "{asked:?}");
    // The header says the same, and what only a header may say.
    let said = browser.run_to_end(
        "const meta = document.querySelector('[http-equiv=Content-Security-Policy]').content;
         const header = (name) => fetch(name, { cache: 'reload' }).then((answer) => answer.headers.get('Content-Security-Policy'));
         return [meta, await header('./index.html'), await header('./service-worker.js')];",
        vec![],
    );
    let meta = said[0].as_str().unwrap();
    assert_eq!(said[1], format!("{meta}; frame-ancestors 'none'"));
    assert_eq!(
        said[2],
        "default-src 'none'; connect-src 'self'; frame-ancestors 'none'"
    );
    assert!(meta.starts_with("default-src 'none'; "));
    assert!(!meta.contains("unsafe-inline") && !meta.contains("'unsafe-eval'"));
}

#[test]
fn the_one_file_asks_for_nothing_at_all_and_keeps_its_policy() {
    let browser = Browser::phone();
    from_the_start(&browser, LISTEN);
    browser.go(&site::one_file());
    walk(&browser);
    assert_becomes!(browser.run("return window.breaches;"), json!([]));
    let within = |name: &String| name.starts_with("data:") || name.starts_with("blob:");
    let asked = asked(&browser);
    assert!(
        asked.iter().all(within),
        "{:?}",
        asked.iter().find(|name| !within(name))
    );
}

#[test]
fn a_script_that_gets_into_the_page_does_not_run_and_nothing_is_fetched_from_elsewhere() {
    for address in [site::address(), site::one_file()] {
        let browser = Browser::phone();
        from_the_start(&browser, LISTEN);
        browser.go(&address);
        planned(&browser);
        browser.run(
            "const script = document.createElement('script');
             script.textContent = 'window.ran = true';
             document.body.append(script);
             const box = document.createElement('div');
             box.innerHTML = '<button onclick=\"window.ran = true\">x</button><img src=\"http://127.0.0.1:9/a.png\"><p style=\"color: red\">x</p>';
             document.body.append(box);
             box.querySelector('button').click();
             fetch('http://127.0.0.1:9/b').catch(() => {});",
        );
        browser.wait_until(
            "return new Set(window.breaches.map(([directive]) => directive)).size >= 5;",
        );
        let broken = browser
            .run("return [...new Set(window.breaches.map(([directive]) => directive))].sort();");
        assert_eq!(
            broken,
            json!([
                "connect-src",
                "img-src",
                "script-src-attr",
                "script-src-elem",
                "style-src-attr"
            ])
        );
        assert_becomes!(browser.run("return window.ran ?? false;"), false);
        let errors = browser.console_errors();
        let of_policy = |error: &String| error.contains("Content Security Policy");
        assert!(errors.iter().all(of_policy), "{errors:#?}");
    }
}

#[test]
fn workers_that_vanish_are_started_again_and_typing_goes_on() {
    for script in [WORKERS.to_owned(), format!("{WORKERS}{NO_LOCKS}")] {
        let browser = Browser::desktop();
        from_the_start(&browser, &script);
        browser.go(&site::address());
        planned(&browser);
        let before = browser.run(
            "for (const worker of workers) worker.terminate();
             return workers.length;",
        );
        // Five legs go on one length of 3 m, so two lengths of 2.4 m hold the eight: see where they are written.
        eight_legs(&browser);
        browser.wait_for_text("#headline", "Buy 2 lengths");
        assert_becomes!(browser.count(".notice"), 0);
        let after = browser.run("return workers.length;");
        assert!(after.as_u64() > before.as_u64(), "{before} then {after}");
    }
}

#[test]
fn a_plan_over_which_the_engine_is_lost_twice_is_told_and_the_next_one_is_made() {
    let browser = Browser::desktop();
    from_the_start(
        &browser,
        "const post = Worker.prototype.postMessage;
         Worker.prototype.postMessage = function (message) {
             post.call(this, message);
             if (message.plan !== undefined && window.deadly !== false) {
                 window.lost = (window.lost ?? 0) + 1;
                 this.terminate();
             }
         };",
    );
    browser.go(&site::address());
    browser.wait_for_text("#notices", "The engine was lost twice over this");
    // The example is planned in three groups side by side, each of which was asked once more.
    let lost = browser.run("return window.lost;");
    assert!(lost.as_u64().is_some_and(|lost| lost >= 2), "{lost}");
    browser.run("window.deadly = false;");
    eight_legs(&browser);
    browser.wait_for_text("#headline", "Buy 2 lengths");
}

/// Puts half of the engine in place of the whole in the cache of the service worker.
fn damage(browser: &Browser) {
    browser.run_to_end("await navigator.serviceWorker.ready;", vec![]);
    browser.run_to_end(
        "const [name] = (await caches.keys()).filter((one) => one.startsWith('lengthwise-'));
         const cache = await caches.open(name);
         const whole = await cache.match('engine.wasm');
         const bytes = await whole.arrayBuffer();
         await cache.put('engine.wasm', new Response(bytes.slice(0, bytes.byteLength / 2), { headers: whole.headers }));",
        vec![],
    );
}

/// How many bytes of the engine the cache holds.
fn cached(browser: &Browser) -> Value {
    browser.run_to_end(
        "return (await (await caches.match('engine.wasm')).arrayBuffer()).byteLength;",
        vec![],
    )
}

/// The browser writes to the console that a digest did not match.
fn only_of_digests(errors: &[String]) {
    let about = |error: &String| error.contains("integrity") || error.contains("ERR_");
    assert!(errors.iter().all(about), "{errors:#?}");
}

#[test]
fn a_damaged_engine_in_the_cache_is_noticed_and_fetched_again_and_told_where_it_cannot_be() {
    let whole = fs::metadata(site::folder().join("engine.wasm"))
        .unwrap()
        .len();
    let folder = site::copy("damaged-cache");
    let server = Server::start(&folder, 0).unwrap();
    let browser = Browser::phone();
    browser.go(&server.address());
    planned(&browser);
    damage(&browser);
    assert_becomes!(cached(&browser), whole / 2);
    browser.reload();
    planned(&browser);
    assert_becomes!(cached(&browser), whole);
    only_of_digests(&browser.console_errors());

    damage(&browser);
    let address = server.address();
    drop(server);
    // A connection that was open already is still answered for a while.
    fs::remove_file(folder.join("engine.wasm")).unwrap();
    browser.network(Network::Off);
    browser.go(&address);
    browser.wait_for_text("#notices", "missing or damaged");
    browser.wait_for_text("#notices", "What you typed is kept.");
    pictures(&browser, "damaged-engine-phone");
    // What is typed without an engine is kept.
    browser.write("#piece-fields [name=piece]", "Trestle");
    assert_soon!(
        browser
            .run("return JSON.stringify({ ...localStorage }).includes('Trestle');")
            .as_bool()
            .unwrap()
    );
    only_of_digests(&browser.console_errors());
}

#[test]
fn a_damaged_one_file_says_so() {
    let text = fs::read_to_string(site::folder().join("lengthwise.html")).unwrap();
    let begin = text.find("id=\"engine-module\">").unwrap() + 200_000;
    let other = if &text[begin..=begin] == "A" {
        "B"
    } else {
        "A"
    };
    let damaged = format!("{}{other}{}", &text[..begin], &text[begin + 1..]);
    let place = std::path::Path::new(env!("CARGO_TARGET_TMPDIR")).join("damaged.html");
    fs::write(&place, damaged).unwrap();
    let browser = Browser::desktop();
    browser.go(&format!("file://{}", place.display()));
    browser.wait_for_text("#notices", "This file is damaged");
    pictures(&browser, "damaged-file-desktop");
    browser.console_errors();
}

fn pictures(browser: &Browser, name: &str) {
    for (scheme, called) in [(Scheme::Light, "light"), (Scheme::Dark, "dark")] {
        browser.colours(scheme);
        browser.screenshot(&format!("{name}-{called}"));
        assert_eq!(browser.accessibility_faults(), Vec::<String>::new());
    }
}
