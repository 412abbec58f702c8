//! The page starts, and its engine answers.

use crate::harness::Browser;
use crate::page::{add_part, add_section, counted, demo, new_piece, place, planned};
use crate::site;
use serde_json::json;

/// Records every text that the headline, the saw and the counts of the places show.
const LISTEN: &str = "window.seen = new Set();
    const listen = () => {
        for (const one of document.querySelectorAll('#headline, #saw-why, nav.places small')) window.seen.add(one.textContent.trim());
        requestAnimationFrame(listen);
    };
    requestAnimationFrame(listen);";

#[test]
fn the_page_loads_and_its_engine_answers_on_a_phone() {
    let browser = Browser::phone();
    browser.go(&site::address());
    assert_becomes!(engine_version(&browser), env!("CARGO_PKG_VERSION"));
    browser.screenshot("start-phone");
}

#[test]
fn the_page_loads_and_its_engine_answers_on_a_laptop() {
    let browser = Browser::desktop();
    browser.go(&site::address());
    assert_becomes!(engine_version(&browser), env!("CARGO_PKG_VERSION"));
    browser.screenshot("start-desktop");
}

/// At the first frame with the first field: types in it, presses a button, chooses a unit. Records whether the sections, which belong to
/// the rest of the page, were already there.
const AT_ONCE: &str = "(() => {
    const look = () => {
        const field = document.querySelector('main input');
        if (!field?.checkVisibility()) return requestAnimationFrame(look);
        window.atOnce = { rest: document.querySelector('#sections .card') !== null, parts: document.querySelectorAll('#parts .row').length };
        field.focus();
        field.select();
        document.execCommand('insertText', false, 'Woodshed');
        document.querySelector('#add-part').click();
        const unit = document.querySelector('#piece-fields select');
        unit.value = 'cm';
        unit.dispatchEvent(new Event('change', { bubbles: true }));
    };
    requestAnimationFrame(look);
})();";

#[test]
fn what_is_typed_pressed_and_chosen_before_the_rest_of_the_page_is_there_is_done() {
    for address in [site::address(), site::one_file()] {
        let browser = Browser::phone();
        browser.devtools(
            "Page.addScriptToEvaluateOnNewDocument",
            json!({ "source": AT_ONCE }),
        );
        browser.slow_down(6);
        browser.go(&address);
        browser.wait_for_text("#h-ask", "Numbers without a unit become centimetres");
        browser.click("#ask-no");
        let seen = browser.run(
            "const kept = (name) => JSON.parse(localStorage.getItem(`lengthwise/${name}`));
             const { job } = kept(`piece/${kept('index').open}`);
             return [window.atOnce.rest, document.querySelector('main input').value, job.piece, job.unit ?? 'mm',
                 document.querySelectorAll('#parts .row').length - window.atOnce.parts, job.parts.length - window.atOnce.parts];",
        );
        assert_eq!(seen, json!([false, "Woodshed", "Woodshed", "mm", 1, 1]));
        planned(&browser);
    }
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

/// The version that a fresh engine of the page reports.
fn engine_version(browser: &Browser) -> String {
    let script = "const { Engine } = await import('./engine.js'); return new Engine().ready;";
    browser
        .run_to_end(script, vec![])
        .as_str()
        .unwrap_or_default()
        .to_owned()
}

#[test]
fn nothing_is_called_empty_before_the_piece_is_read() {
    let browser = Browser::phone();
    browser.devtools(
        "Page.addScriptToEvaluateOnNewDocument",
        json!({ "source": LISTEN }),
    );
    browser.slow_down(6);
    for place in ["plan", "saw"] {
        browser.go(&format!("{}#{place}", site::address()));
        planned(&browser);
        let seen = browser.run("return [...window.seen];");
        let seen: Vec<&str> = seen
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(|text| text.as_str())
            .collect();
        assert!(seen.contains(&"Getting ready …"), "{place}: {seen:?}");
        let empty = |text: &&str| {
            text.starts_with("Nothing") || *text == "nothing yet" || text.starts_with("0 ")
        };
        assert!(!seen.iter().any(empty), "{place}: {seen:?}");
        // Reloaded at another place, not moved to.
        browser.go("about:blank");
    }
}

#[test]
fn a_piece_with_nothing_in_it_leads_from_plan_and_saw_to_where_it_begins() {
    let browser = Browser::phone();
    browser.go(&site::address());
    planned(&browser);
    new_piece(&browser, "Trestle");
    for from in ["plan", "saw"] {
        place(&browser, from);
        let way = if from == "plan" {
            "#way-on"
        } else {
            "#saw-way-on"
        };
        browser.wait_for_text(way, "Go to Piece");
        browser.click(way);
        browser.wait_until("return document.body.dataset.place === 'piece';");
    }
}

#[test]
fn the_shed_and_the_buying_list_have_addresses_of_their_own() {
    let browser = Browser::phone();
    for (address, in_place, heading) in [("shed", "timber", "h-shed"), ("yard", "plan", "h-buying")]
    {
        browser.go("about:blank");
        browser.go(&format!("{}#{address}", site::address()));
        planned(&browser);
        browser.wait_until(&format!(
            "const top = document.getElementById('{heading}').getBoundingClientRect().top;
             return document.body.dataset.place === '{in_place}' && top > 0 && top < 200;"
        ));
    }
    // From the top of Timber, past its sections.
    place(&browser, "timber");
    browser.click("#place-timber [href='#shed']");
    browser.wait_until("return document.activeElement.id === 'h-shed';");
}

#[test]
fn a_section_without_a_length_is_something_to_fill_in_with_the_way_to_it() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Trestle");
    add_section(&browser, "rail");
    place(&browser, "piece");
    add_part(&browser, "leg", "560");
    place(&browser, "plan");
    browser.wait_for_text("#headline", "Give a length of rail that the yard sells");
    browser.wait_for_text("#plan-count", "lengths to give");
    // Nothing else is said of it, least of all that it could not be planned.
    let said = browser.run(
        "const visible = (id) => document.getElementById(id).checkVisibility();
         return [document.getElementById('explanation').textContent, visible('plan-body'), visible('way-on')];",
    );
    assert_eq!(said, serde_json::json!(["", false, true]));
    browser.click("#way-on");
    browser.wait_until("return document.body.dataset.place === 'timber';");
}

#[test]
fn a_piece_starts_from_a_ready_one_and_follows_its_sizes() {
    let browser = Browser::phone();
    browser.go(&site::address());
    planned(&browser);
    browser.click("#open-pieces");
    assert_becomes!(browser.count("#starting-list button"), 7);
    browser.screenshot("starting-phone");
    let start = |title: &str| {
        browser.run(&format!(
            "[...document.querySelectorAll('#starting-list button')].find((button) => button.textContent.endsWith('{title}')).click();"
        ));
    };
    start("Log store");
    browser.wait_until(
        "return document.querySelector('#piece-fields [name=piece]').value === 'Log store';",
    );
    place(&browser, "plan");
    browser.wait_for_text("#headline", "Buy 28 lengths: proven");
    // The example's shed is no part of it, and its own sizes can be changed.
    browser.click("#open-pieces");
    start("Trestle pair");
    browser.wait_for_text("#headline", "Buy 3 lengths: proven");
    place(&browser, "piece");
    browser.wait_for_text("#set-outs .made", "legs at");
    browser.screenshot("started-phone");
}

/// A store 1200 wide, 600 deep, 1500 and 1300 high with a sloping lid, posts and rails, slatted sides, at a phone from the first start on: its picture,
/// its buying list and its first reading at the saw take at most 20 taps and 10 typed fields.
#[test]
fn a_store_from_a_sketch_takes_few_taps_and_fields() {
    let browser = Browser::phone();
    browser.go(&site::address());
    planned(&browser);
    let (taps, fields) = (std::cell::Cell::new(0), std::cell::Cell::new(0));
    let tap = |selector: &str| {
        taps.set(taps.get() + 1);
        browser.click(selector);
    };
    let write = |selector: &str, text: &str| {
        fields.set(fields.get() + 1);
        browser.write(selector, text);
    };
    tap(".ways button:nth-child(1)");
    tap("#starting-list li:nth-child(1) button");
    browser.wait_until(
        "return document.querySelector('#piece-fields [name=piece]').value === 'Log store';",
    );
    tap("#set-outs .set-out:nth-child(1) .toggle");
    for (name, size) in [
        ("width", "1200"),
        ("depth", "600"),
        ("height", "1500"),
        ("back_height", "1300"),
    ] {
        write(
            &format!("#set-outs .set-out:nth-child(1) [name={name}]"),
            size,
        );
    }
    browser.wait_for_text(
        "#set-outs .made",
        "outside 1200 mm x 600 mm, 1500 mm at the front and 1300 mm at the back",
    );
    browser.wait_until("return document.querySelectorAll('#whole svg polygon').length > 100;");
    tap("nav.places [data-goes=plan]");
    // A plan of the sizes it had before would have 28.
    browser.wait_for_text("#headline", "Buy 21 lengths: proven");
    assert_soon!(browser.text("#place-plan").contains("slat 20 x 45"));
    tap("nav.places [data-goes=saw]");
    browser.wait_for_text("#place-saw", "trim");
    println!("{} taps and {} typed fields", taps.get(), fields.get());
    assert!(taps.get() <= 20 && fields.get() <= 10);
    browser.screenshot("store-phone");
    place(&browser, "piece");
    browser.screenshot("store-piece-phone");
}

#[test]
fn the_first_screen_shows_the_example_small_and_three_ways_to_begin() {
    let browser = Browser::phone();
    demo(&browser);
    // All of it is in sight at once, drawn from the example's own plan.
    let seen = browser.wait_until(
        "const bottom = document.querySelector('#main').getBoundingClientRect().bottom;
         const drawn = [document.querySelectorAll('.tile-piece svg').length, document.querySelectorAll('.tile-boards .lw-bar').length, document.querySelectorAll('.tile-slip p').length];
         const ways = [...document.querySelectorAll('.ways button')];
         if (drawn.includes(0)) return null;
         return { drawn, ways: ways.map((one) => one.querySelector('b').textContent), inSight: ways.every((one) => one.getBoundingClientRect().bottom <= bottom) };",
    );
    assert_eq!(
        seen["ways"],
        json!(["From sizes", "From a list", "From a table"])
    );
    assert_eq!(seen["inSight"], true, "{seen}");
    assert_becomes!(browser.text(".tile-slip p:first-child"), "2 × 3.6 m");
    browser.wait_for_text(".tile-piece small", "73 parts");
    browser.screenshot("first-minute-phone");
    browser.click(".ways button:nth-child(2)");
    browser.wait_until("return document.activeElement.name === 'label';");
    counted(&browser, "#parts .row", 1);
    assert_soon!(
        !browser
            .run("return document.querySelector('.beginning').checkVisibility();")
            .as_bool()
            .unwrap()
    );
}

#[test]
fn a_table_is_a_way_to_begin() {
    let browser = Browser::phone();
    demo(&browser);
    browser.click(".ways button:nth-child(3)");
    browser.wait_until("return document.getElementById('csv-dialog').open;");
    assert_becomes!(browser.value("#piece-fields [name=piece]"), "");
}

#[test]
fn the_boards_of_the_example_are_for_the_example_alone() {
    let browser = Browser::phone();
    demo(&browser);
    place(&browser, "timber");
    assert_soon!(browser.count("#shed .row") > 5);
    new_piece(&browser, "Rack");
    add_section(&browser, "frame 45 x 70");
    counted(&browser, "#shed .row", 0);
    browser.click("#add-board");
    counted(&browser, "#shed .row", 1);
    // One of one’s own has a mark of the example’s too, and the example is planned without it.
    browser.write("#shed [name=length]", "1500");
    browser.click("#open-pieces");
    browser.click("#piece-list li:last-child .open");
    planned(&browser);
    place(&browser, "timber");
    assert_soon!(browser.count("#shed .row") > 6);
}

#[test]
fn a_price_that_is_missing_is_asked_for_with_the_way_to_it() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Trestle");
    add_section(&browser, "rail");
    for (row, length, price) in [(1, "2.4 m", "7.20"), (2, "3.0 m", "")] {
        browser.click("#sections .add-length");
        let field = |name: &str| format!("#sections .yard .row:nth-child({row}) [name={name}]");
        browser.write(&field("length"), length);
        browser.write(&field("price"), price);
    }
    place(&browser, "piece");
    add_part(&browser, "leg", "560");
    browser.write("#parts [name=quantity]", "9");
    planned(&browser);
    place(&browser, "plan");
    browser.wait_for_text("#buying .buy:nth-child(2) .buy-cost", "no price");
    browser.wait_for_text("#buying-totals", "a price is missing");
    browser.click("#aim [value=cheapest]");
    browser.wait_for_text("#headline", "Give the price of 3.0 m of rail");
    browser.wait_for_text(
        "#buying-stale",
        "until you give the price of 3.0 m of rail.",
    );
    // Nothing is cut yet, and a field is called what the page calls it.
    browser.wait_until("return !/left to cut|yard 2|cheapest/.test(document.getElementById('outcome').textContent);");
    browser.wait_for_text("#way-on", "Go to Timber");
    browser.click("#way-on");
    browser.wait_until(
        "const one = document.activeElement; return one.name === 'price' && one.closest('[data-row]').dataset.row === 'yard/1' && document.body.dataset.place === 'timber';",
    );
}

#[test]
fn a_list_that_is_only_begun_has_nothing_to_put_right() {
    let browser = Browser::phone();
    demo(&browser);
    browser.click(".ways button:nth-child(2)");
    counted(&browser, "#parts .row", 1);
    browser.wait_for_text("#strip-text", "Nothing to plan yet");
    browser.write("#parts [name=label]", "rail");
    browser.wait_for_text("#strip-text", "Give the section and length of rail");
    browser.click("#parts .more summary");
    browser.write("#parts [name=length]", "900");
    browser.write("#parts [name=over]", "2 x");
    place(&browser, "plan");
    browser.wait_for_text("#outcome-faults", "rail, left long by");
}
