//! For everyone: no finding of axe-core in any place, usable by keyboard alone, on the smallest phone, and on a slow one.

use crate::carried_out::cuts_done;
use crate::harness::{Browser, Key, Scheme, Screen, Touch};
use crate::page::{counted, demo, open_share, place, planned, small_phone, unfold};
use crate::site;
use serde_json::json;

const PLACES: [&str; 4] = ["piece", "timber", "plan", "saw"];

#[track_caller]
fn is_clean(browser: &Browser) {
    unfold(browser, 1);
    for scheme in [Scheme::Light, Scheme::Dark] {
        browser.colours(scheme);
        for name in PLACES {
            place(browser, name);
            let faults = browser.accessibility_faults();
            assert!(faults.is_empty(), "{name}, {scheme:?}: {faults:#?}");
        }
    }
}

#[test]
fn every_place_is_clean_for_axe_on_a_phone_light_and_dark() {
    let browser = Browser::phone();
    demo(&browser);
    is_clean(&browser);
}

#[test]
fn every_place_is_clean_for_axe_on_a_laptop_light_and_dark() {
    let browser = Browser::desktop();
    demo(&browser);
    is_clean(&browser);
}

/// Each place as a person finds it, with something in it.
#[test]
fn every_dialog_is_clean_for_axe_light_and_dark() {
    let browser = Browser::phone();
    demo(&browser);
    let faultless = |what: &str| {
        for scheme in [Scheme::Light, Scheme::Dark] {
            browser.colours(scheme);
            let faults = browser.accessibility_faults();
            assert!(faults.is_empty(), "{what}, {scheme:?}: {faults:#?}");
        }
    };
    let clean = |what: &str| {
        faultless(what);
        browser.run("document.querySelector('dialog[open]').close();");
    };
    let from_menu = |act: &str| {
        browser.click("#open-menu");
        browser.click(act);
    };
    browser.click("#open-menu");
    clean("menu");
    from_menu("#menu-print");
    clean("print");
    from_menu("#menu-share");
    browser.wait_until("return document.querySelector('#share-code svg');");
    let link = browser.value("#share-link");
    clean("share");
    browser.click("#open-pieces");
    browser.click("#new-piece");
    browser.click("#open-pieces");
    browser.click("#piece-list .card:nth-child(2) .archive");
    browser.click("#piece-list .archived .delete");
    faultless("pieces");
    browser.click("#piece-gone button");
    browser.click("#piece-list .archived .open");
    planned(&browser);
    browser.click("#add-set-out");
    clean("kinds");
    browser.click("#open-csv");
    browser.write(
        "#csv-text",
        "a list\npart,section,length,colour\nleg,red oak,x,red\nall,,,\n",
    );
    browser.wait_for_text("#csv-faults", "Line 3");
    clean("table");
    place(&browser, "timber");
    browser.click("#open-sizes");
    browser.write("#size-search", "45");
    clean("sizes");
    browser.run_with(
        "location.hash = arguments[0];",
        vec![json!(link[link.find('#').unwrap()..])],
    );
    browser.wait_for_text("#ask-text", "here already");
    clean("a question");
    place(&browser, "saw");
    browser.click("#went-wrong");
    clean("something went wrong");
}

#[test]
fn nothing_in_a_dialog_is_wider_than_the_smallest_phone() {
    let browser = small_phone();
    demo(&browser);
    let fits = |name: &str| {
        let wide = browser.run("const dialog = document.querySelector('dialog[open]'); return dialog.scrollWidth > dialog.clientWidth;");
        assert_eq!(wide, false, "{name} is wider than the screen");
        browser.run("document.querySelector('dialog[open]').close();");
    };
    browser.click("#open-menu");
    fits("menu");
    browser.click("#open-pieces");
    fits("pieces");
    open_share(&browser);
    fits("share");
    browser.click("#open-csv");
    browser.write("#csv-text", "part,section,length,quantity,ends\na part with a long name,a section with a long name,1234.5 mm,12,45; square\n");
    browser.wait_for_text("#csv-take", "Add this part");
    fits("table");
}

#[test]
fn the_keyboard_alone_takes_parts_from_a_table_and_copies_a_link() {
    let browser = Browser::desktop();
    demo(&browser);
    let to = |selector: &str| {
        let there = format!("return document.activeElement.matches({selector:?});");
        let steps = (0..40).find(|_| {
            let found = browser.run(&there) == true;
            if !found {
                // As a key of the keyboard: a field for a file would take what is typed into it for a path.
                for kind in ["rawKeyDown", "keyUp"] {
                    let key = json!({ "type": kind, "key": "Tab", "code": "Tab", "windowsVirtualKeyCode": 9 });
                    browser.devtools("Input.dispatchKeyEvent", key);
                }
            }
            found
        });
        assert!(steps.is_some(), "the keyboard does not come to {selector}");
    };
    browser.run("document.getElementById('open-csv').focus();");
    browser.press(Key::Enter);
    to("#csv-text");
    browser.type_on("spare,500\nother,600");
    browser.wait_for_text("#csv-told", "No column is taken for the length");
    // The first letters of a choice choose it.
    to("#csv-columns [name='0']");
    browser.type_on("pa");
    browser.wait_until(
        "return document.querySelector(\"#csv-columns [name='0']\").value === 'label';",
    );
    to("#csv-columns [name='1']");
    browser.type_on("len");
    browser.wait_for_text("#csv-take", "Add these 2 parts");
    to("#csv-sections select");
    browser.type_on("fr");
    browser.wait_for_text("#csv-rows", "frame 45 x 70");
    // Every cell stands under its own heading, also where the table has other columns.
    let read = "const table = document.getElementById('csv-rows');
         const [heads, cells] = [table.tHead.rows[0].cells, table.tBodies[0].rows[0].cells];
         return [...heads].map((head, at) => `${head.textContent}=${cells[at].textContent}`).join() + (cells.length - heads.length);";
    assert_becomes!(
        browser.run(read),
        "Part=spare,Quantity=,Length=500,Section=frame 45 x 700"
    );
    to("#csv-take");
    browser.press(Key::Enter);
    counted(&browser, "#parts .row", 2);

    browser.run("document.getElementById('open-menu').focus();");
    browser.press(Key::Enter);
    to("#menu-share");
    browser.press(Key::Enter);
    browser.wait_until("return document.querySelector('#share-code svg');");
    to("#share-shed");
    let long = browser.value("#share-link").len();
    browser.press(Key::Space);
    browser.wait_until(&format!(
        "return document.getElementById('share-link').value.length < {long};"
    ));
    to("#share-copy");
}

#[test]
fn nothing_is_wider_than_the_smallest_phone_and_every_target_is_44_pixels() {
    let browser = small_phone();
    demo(&browser);
    unfold(&browser, 1);
    for name in PLACES {
        place(&browser, name);
        let wide = browser.run("return document.querySelector('main').scrollWidth > innerWidth;");
        assert_eq!(wide, false, "{name} is wider than the screen");
        let small = browser.run(
            "const targets = document.querySelectorAll('button, nav a, .strip a, input[type=text], select, summary, label.check, label.button');
             return [...targets].filter((target) => target.checkVisibility()).filter((target) => {
                 const { width, height } = target.getBoundingClientRect();
                 return width > 2 && (width < 43.5 || height < 39.5 || (height < 43.5 && !target.closest('.strip')));
             }).map((target) => target.outerHTML);",
        );
        assert_eq!(small, json!([]), "{name}");
    }
}

#[test]
fn the_keyboard_alone_goes_from_a_new_part_to_its_tick_at_the_saw() {
    let browser = Browser::desktop();
    demo(&browser);
    browser.run("document.querySelector('nav.places [data-goes=piece]').focus();");
    browser.press(Key::Enter);
    browser.run("document.getElementById('add-part').focus();");
    browser.press(Key::Enter);
    browser.type_on("spare slat");
    browser.press(Key::Tab);
    browser.press(Key::Tab);
    browser.type_on("500");
    planned(&browser);
    assert_soon!(browser.text("#all-parts").contains("spare slat"));
    browser.run("document.querySelector('nav.places [data-goes=saw]').focus();");
    browser.press(Key::Enter);
    browser.wait_until("return document.querySelector('.step button') !== null;");
    browser.run("document.querySelector('.step button').focus();");
    browser.press(Key::Space);
    cuts_done(&browser, 1);
}

#[test]
fn a_dialog_gives_the_focus_back_when_escape_closes_it() {
    let browser = Browser::desktop();
    demo(&browser);
    browser.run("document.getElementById('open-menu').focus();");
    browser.press(Key::Enter);
    browser.wait_until("return document.getElementById('menu-dialog').open;");
    browser.press(Key::Escape);
    browser.wait_until("return !document.getElementById('menu-dialog').open && document.activeElement.id === 'open-menu';");
}

#[test]
fn every_board_is_told_in_words() {
    let browser = Browser::desktop();
    demo(&browser);
    place(&browser, "plan");
    let told = browser.run(
        "const words = [...document.querySelectorAll('#board-summaries li')].map((line) => line.textContent);
         return [words.length, words.every((text) => text.length > 30)];",
    );
    place(&browser, "saw");
    assert_becomes!(told[0], browser.count("#board-choice option"));
    assert_eq!(told[1], true);
}

/// How long that takes is measured in `usable`, with nothing else running.
#[test]
fn a_slow_device_comes_to_a_first_input_too() {
    let browser = Browser::phone();
    demo(&browser);
    browser.slow_down(6);
    browser.reload();
    browser.wait_until("return performance.getEntriesByName('usable').length === 1;");
    assert_becomes!(
        browser.run("return document.querySelector('main input').checkVisibility();"),
        true
    );
}

#[test]
fn nothing_jumps_while_the_page_starts() {
    let browser = Browser::open(Screen {
        width: 360,
        height: 740,
        touch: Touch::Finger,
    });
    browser.go(&site::address());
    planned(&browser);
    browser.reload();
    planned(&browser);
    let shift = browser.run_to_end(
        "return new Promise((resolve) => new PerformanceObserver((list) =>
            resolve(list.getEntries().filter((entry) => !entry.hadRecentInput).reduce((sum, entry) => sum + entry.value, 0)))
            .observe({ type: 'layout-shift', buffered: true }) || setTimeout(() => resolve(0), 300));",
        vec![],
    );
    assert!(shift.as_f64().unwrap() < 0.1, "shifted by {shift}");
}
