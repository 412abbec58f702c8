//! The boards of the plan as they are drawn: what is bought and cut in them, the blade at the saw, and the slip beside them.

use crate::carried_out::cut;
use crate::harness::{Browser, Scheme, Screen, Touch};
use crate::page::{add_part, add_section, demo, new_piece, own_demo, place, planned};
use crate::site;
use serde_json::json;

#[test]
fn what_is_bought_and_cut_shows_in_the_drawing() {
    let browser = Browser::phone();
    own_demo(&browser);
    place(&browser, "plan");
    // The picture of the piece hangs above its boards.
    browser.wait_until(
        "const picture = document.querySelector('#plan-picture #whole svg');
         return picture !== null && picture.getBoundingClientRect().bottom <= document.querySelector('#plan-drawing').getBoundingClientRect().top;",
    );
    let told = "return [...document.querySelectorAll('.rod > b')].map((one) => one.textContent).filter(Boolean);";
    assert_becomes!(browser.run(told), json!([]));
    assert_becomes!(browser.count("#plan-drawing .cut"), 0);
    browser.click(".buy .tick");
    browser.wait_until("return [...document.querySelectorAll('.rod > b')].some((one) => one.textContent === 'bought');");
    place(&browser, "saw");
    // The drawing of the board fills up as its cuts are ticked, and the blade moves on along the tape.
    let blade = "return Number(document.querySelector('.blade').style.getPropertyValue('--at'));";
    let first = browser.run(blade).as_f64().unwrap();
    cut(&browser);
    browser.wait_until(&format!("return (() => {{ {blade} }})() > {first};"));
    cut(&browser);
    browser.wait_until("return document.querySelectorAll('#board .lw-part.cut').length === 1;");
    for _ in 0..12 {
        if browser.run("return document.querySelector('#bench-cut').checkVisibility();") == false {
            break;
        }
        cut(&browser);
    }
    browser.wait_for_text("#bench-what", "This board is cut.");
    let parts = browser.count("#board .lw-part");
    assert_becomes!(browser.count("#board .lw-part.cut"), parts);
    place(&browser, "plan");
    let told = browser.run(
        "const rod = [...document.querySelectorAll('.rod')].find((one) => /^1\\b/.test(one.querySelector('svg text')?.textContent));
         return [rod.querySelector('b').textContent, rod.querySelectorAll('.lw-part.cut').length];",
    );
    assert_eq!(told, json!(["cut", parts]));
}

#[test]
fn boards_hang_in_the_order_of_their_numbers_at_the_saw() {
    let browser = Browser::phone();
    demo(&browser);
    place(&browser, "plan");
    let boards = browser.count("#board-summaries li");
    browser.wait_until("return document.querySelectorAll('.rod svg').length > 5;");
    // A series of like boards goes on where the one before it ended, and the last board is the last of all.
    let told = browser.run(
        "const numbers = [...document.querySelectorAll('.rod')].map((rod) => rod.querySelector('svg text').textContent.match(/^(\\d+)(?:\\D(\\d+)\\.)?/).slice(1));
         const last = ([first, last]) => Number(last ?? first);
         return { last: last(numbers.at(-1)), gaps: numbers.filter(([first], at) => Number(first) !== (at === 0 ? 0 : last(numbers[at - 1])) + 1) };",
    );
    assert_eq!(told, json!({ "last": boards, "gaps": [] }));
}

#[test]
fn lines_lead_from_the_lit_part_in_the_picture_to_every_place_where_it_is_cut() {
    let browser = Browser::desktop();
    demo(&browser);
    place(&browser, "plan");
    assert_becomes!(browser.count(".leads line"), 0);
    browser.click("#legend .swatch");
    // Each ends at the upper edge of a part on a board, and begins in the picture.
    browser.wait_until(
        "const marks = [...document.querySelectorAll('#plan-drawing .lw-part.lit')].map((one) => one.getBoundingClientRect());
         const picture = document.querySelector('#plan-picture').getBoundingClientRect();
         const origin = document.querySelector('#rods-section').getBoundingClientRect();
         const lines = [...document.querySelectorAll('.leads line')];
         const at = (line, name) => Number(line.getAttribute(name));
         return lines.length > 0 && lines.length === marks.length && lines.every((line) => {
           const [x, y] = [at(line, 'x2') + origin.left, at(line, 'y2') + origin.top];
           const from = [at(line, 'x1') + origin.left, at(line, 'y1') + origin.top];
           return marks.some((box) => Math.abs(box.top - y) < 1 && Math.abs(box.left + box.width / 2 - x) < 1)
             && from[0] >= picture.left && from[0] <= picture.right && from[1] >= picture.top && from[1] <= picture.bottom;
         });",
    );
    // They take no touch: what is below them is what is touched.
    assert_becomes!(
        browser.run("return getComputedStyle(document.querySelector('.leads')).pointerEvents;"),
        json!("none")
    );
    browser.click("#legend .swatch");
    browser.wait_until("return document.querySelectorAll('.leads line').length === 0;");
}

#[test]
fn the_blade_stands_at_the_reading_that_is_next() {
    let browser = Browser::phone();
    demo(&browser);
    place(&browser, "saw");
    // What is measured is where the line to the reading's mark is drawn, for each cut of three boards.
    for _ in 0..3 {
        for _ in 0..12 {
            let seen = browser.run(
                "const blade = document.querySelector('.blade');
                 if (blade.hidden || !document.querySelector('#bench-cut').checkVisibility()) return null;
                 const reading = document.querySelector('#bench-reading').textContent.replace('≈', '');
                 blade.style.transition = 'none';
                 const labels = [...document.querySelectorAll('#board .lw-reading')].filter((one) => one.textContent.replace('≈', '') === reading);
                 const box = blade.getBoundingClientRect();
                 const lines = labels.map((one) => one.previousElementSibling.getBoundingClientRect().left);
                 return { reading, off: Math.min(...lines.map((left) => Math.abs(left - (box.left + box.right) / 2))) };",
            );
            if seen.is_null() {
                break;
            }
            assert!(seen["off"].as_f64().unwrap() < 2.0, "{seen}");
            cut(&browser);
        }
        browser.click("#board-after");
    }
}

#[test]
fn price_and_stock_are_changed_in_the_line_itself() {
    let browser = Browser::phone();
    own_demo(&browser);
    place(&browser, "plan");
    assert_becomes!(browser.text(".buy .buy-cost"), "19.20");
    browser.click(".buy .open");
    browser.write(".buy .buy-more [name=price]", "9.61");
    browser.wait_for_text(".buy .buy-cost", "19.22");
    planned(&browser);
    // What is wrong with a price is said where it was typed, and it is the price in Timber too.
    browser.write(".buy .buy-more [name=price]", "1o");
    browser.wait_until(
        "return document.querySelector('.buy .buy-more .field-price .fault').checkVisibility();",
    );
    browser.write(".buy .buy-more [name=price]", "9.62");
    browser.wait_for_text(".buy .buy-cost", "19.24");
    place(&browser, "timber");
    assert_soon!(browser.run("return [...document.querySelectorAll('#sections .yard [name=price]')].map((one) => one.value);").to_string().contains("9.62"));
    browser.click("#undo");
}

#[test]
fn what_each_aim_comes_to_stands_beside_it_and_is_what_its_plan_buys() {
    let browser = Browser::phone();
    browser.go(&site::address());
    new_piece(&browser, "Fence");
    add_section(&browser, "rail");
    for (row, length, price) in [(1, "3000", "10"), (2, "1500", "4")] {
        browser.click("#sections .add-length");
        let row = format!("#sections .yard .row:nth-child({row})");
        browser.write(&format!("{row} [name=length]"), length);
        browser.write(&format!("{row} [name=price]"), price);
    }
    place(&browser, "piece");
    add_part(&browser, "rail", "1400");
    browser.write("#parts [name=quantity]", "4");
    planned(&browser);
    place(&browser, "plan");
    let figures = |aim: &str| format!("#aim label:has([value={aim}]) small");
    // Two of 3 000 at 10.00, or four of 1 500 at 4.00; both are 6 m.
    browser.wait_for_text(&figures("cheapest"), "4 lengths, 16.00, 6 m");
    assert_becomes!(browser.text(&figures("fewest")), "2 lengths, 20.00, 6 m");
    assert_becomes!(browser.text(&figures("shortest")), "4 lengths, 16.00, 6 m");
    browser.click("#aim [value=cheapest]");
    browser.wait_for_text("#headline", "Buy 4 lengths");
    // Where a choice between them is taken, the aim decides within it alone: no figures are said then.
    browser.wait_until(
        "const choice = document.querySelector('#choices li:nth-child(2) button');
         return choice !== null && choice.checkVisibility() && choice.textContent.includes('3 lengths');",
    );
    browser.click("#choices li:nth-child(2) button");
    browser.wait_for_text("#headline", "Buy 3 lengths");
    assert_becomes!(browser.text(&figures("fewest")), "");
}

#[test]
fn drawings_are_dark_in_the_dark_and_light_on_paper() {
    let browser = Browser::phone();
    demo(&browser);
    browser.colours(Scheme::Dark);
    for (name, drawing) in [
        ("piece", "#whole .drawing svg"),
        ("plan", "#plan-drawing svg.lw"),
        ("saw", "#board .drawing svg.lw"),
    ] {
        place(&browser, name);
        browser.wait_until(&format!(
            "return document.querySelector('{drawing}') !== null;"
        ));
        let filter = browser.run(&format!(
            "return getComputedStyle(document.querySelector('{drawing}')).filter;"
        ));
        assert!(
            filter.as_str().unwrap().starts_with("invert(0.9)"),
            "{name}: {filter}"
        );
    }
    browser.on_paper();
    let filter = browser
        .run("return getComputedStyle(document.querySelector('#plan-drawing svg.lw')).filter;");
    assert_eq!(filter, "none");
}

#[test]
fn boards_fill_a_wide_screen_and_the_slip_stays_beside_them() {
    let browser = Browser::open(Screen {
        width: 1920,
        height: 1080,
        touch: Touch::Mouse,
    });
    demo(&browser);
    place(&browser, "plan");
    let seen = browser.run(
        "const box = (selector) => document.querySelector(selector).getBoundingClientRect();
         const [rods, slip] = [box('#plan-drawing'), box('#slip')];
         document.querySelector('#main').scrollTop = 1200;
         return { covered: (rods.width + slip.width) / innerWidth, beside: slip.left >= rods.right, top: box('#slip').top, inSight: box('#slip .buy').top > 0 };",
    );
    assert!(seen["covered"].as_f64().unwrap() > 0.93, "{seen}");
    assert_eq!(
        (&seen["beside"], &seen["inSight"]),
        (&json!(true), &json!(true)),
        "{seen}"
    );
    let widest = browser.run(
        "const room = document.querySelector('.rod').clientWidth;
         return Math.max(...[...document.querySelectorAll('#plan-drawing .lw-bar')].map((one) => one.getBoundingClientRect().width)) / room;",
    );
    assert!(widest.as_f64().unwrap() > 0.99, "{widest}");
    browser.screenshot("plan-wide");
}

#[test]
fn a_small_number_is_offered_as_metres() {
    let browser = Browser::phone();
    browser.go(&site::address());
    new_piece(&browser, "Shelf");
    add_section(&browser, "rail");
    browser.click("#sections .add-length");
    browser.write("#sections .yard [name=length]", "2.4");
    assert_becomes!(browser.text("#sections .yard .offer"), "2.4 m");
    browser.click("#sections .yard .offer");
    browser.wait_until(
        "return document.querySelector('#sections .yard [name=length]').value === '2.4 m';",
    );
    browser.write("#sections .yard [name=length]", "2400");
    assert_becomes!(
        browser.run("return document.querySelector('#sections .yard .offer').checkVisibility();"),
        false
    );
}

#[test]
fn all_of_the_list_is_ticked_at_once_before_what_went_wrong_is_planned_around() {
    let browser = Browser::phone();
    own_demo(&browser);
    place(&browser, "saw");
    cut(&browser);
    browser.click("#went-wrong");
    assert_soon!(
        browser
            .text("#wrong-bought")
            .contains("counts as not bought yet")
    );
    browser.click("#wrong-bought-all");
    browser.wait_until("return !document.querySelector('#wrong-bought').checkVisibility();");
    browser.click("#wrong-dialog [data-close]");
    browser.wait_for_text("#plan-count", "all bought");
    place(&browser, "plan");
    // Each board has a mark of its own, and it was one act.
    let marks = browser.run(
        "const marks = [...document.querySelectorAll('.buy .marks')].flatMap((one) => one.textContent.match(/\\d+T(?= on|,)/g) ?? []);
         return [marks.length, new Set(marks).size];",
    );
    assert_eq!(marks[0], marks[1], "{marks}");
    assert!(marks[0].as_u64().unwrap() >= 7, "{marks}");
    browser.click("#undo");
    browser.wait_for_text("#plan-count", "16 to buy");
}
