//! The shed as boards: drawn at one scale, summed up by section, and marked where they are bad.

use crate::harness::{Browser, Key, Screen, Touch};
use crate::page::{demo, new_piece, place, planned};
use serde_json::json;

/// The demo with so many more boards in its shed, at the shed.
fn boards(browser: &Browser, more: usize) {
    demo(browser);
    browser.run_with(
        "const shed = JSON.parse(localStorage['lengthwise/shed']);
         for (let nth = 0; nth < arguments[0]; nth += 1) shed.push({ ...shed[0], id: `more-${nth}`, row: { mark: `R${nth}`, section: ['frame 45 x 70', 'slat 21 x 95'][nth % 2], length: `${600 + 50 * nth} mm` } });
         localStorage['lengthwise/shed'] = JSON.stringify(shed);",
        vec![json!(more)],
    );
    browser.reload();
    planned(browser);
    place(browser, "timber");
    browser.wait_until("return document.querySelector('#shed .shed-rod')?.checkVisibility();");
}

/// Presses a finger on the open board at a hundredth of its length, draws it along to another and lifts it.
fn drawn(browser: &Browser, hundredths: &[i32]) {
    browser.run_with(
        "const rod = document.querySelector('#shed .touch-rod > .shed-rod');
         rod.scrollIntoView({ block: 'center' });
         rod.setPointerCapture = () => {};
         const box = rod.getBoundingClientRect();
         const spots = arguments[0];
         const at = (kind, spot) => rod.dispatchEvent(new PointerEvent(kind, { bubbles: true, button: 0, pointerId: 1, clientX: box.left + box.width * spot / 100, clientY: box.top + 5 }));
         at('pointerdown', spots[0]);
         for (const spot of spots.slice(1)) at('pointermove', spot);
         at('pointerup', spots.at(-1));",
        vec![json!(hundredths)],
    );
}

#[test]
fn forty_boards_are_seen_in_three_phone_screens_at_one_scale_with_what_each_section_has() {
    let browser = Browser::phone();
    boards(&browser, 31);
    let tall =
        browser.run("return document.getElementById('shed').getBoundingClientRect().height;");
    assert!(tall.as_f64().unwrap() <= 3.0 * 740.0, "{tall}");
    // A board of twice the length is twice as long, to a pixel.
    let wide = |mark: &str| {
        let script = "const row = [...document.querySelectorAll('#shed .row')].find((row) => row.querySelector('.mark').textContent === arguments[0]);
            row.scrollIntoView();
            for (let frame = 0; frame < 2; frame += 1) await new Promise(requestAnimationFrame);
            return row.querySelector('.shed-rod').getBoundingClientRect().width;";
        browser
            .run_to_end(script, vec![json!(mark)])
            .as_f64()
            .unwrap()
    };
    assert!((wide("R12") - 2.0 * wide("R0")).abs() < 1.5);
    // R0 to R30 by twos are 16 boards of 600 to 2100 mm, 21.6 m in all, to those of the demo.
    let told = browser.text("#shed .shed-head");
    assert!(
        told.starts_with("frame 45 x 70") && told.contains("boards, ") && told.ends_with(" m"),
        "{told}"
    );
    browser.write("#shed-search", "R1");
    browser.wait_for_text("#shed-count", "11 of 40 boards");
    assert_becomes!(browser.count("#shed .row"), 11);
    // A section that the piece lacks is made where it is looked for.
    browser.write("#shed-search", "25 x 60");
    browser.screenshot("section-of-the-filter");
    browser.click("#shed-make");
    browser.wait_for_text("#timber-count", "4 sections");
    assert_becomes!(
        browser.run("return document.querySelector('#shed-make').hidden;"),
        true
    );
    browser.click("#undo");
    browser.wait_for_text("#timber-count", "3 sections");
    assert_eq!(browser.accessibility_faults(), Vec::<String>::new());
}

#[test]
fn a_bad_stretch_is_set_by_drawing_along_it_by_two_touches_or_with_the_keys() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Tray");
    place(&browser, "timber");
    browser.click("#add-section");
    browser.write("#sections [name=name]", "lath");
    browser.click("#add-board");
    let row = "#shed .row:not(.folded)";
    browser.write(&format!("{row} [name=length]"), "2000");
    // The example's boards have the first letters, but they are not of this shed.
    browser.wait_until(&format!(
        "return document.querySelector('{row} [name=mark]').value === '1T';"
    ));
    let bad = |text: &str| {
        browser.wait_until(&format!(
            "return document.querySelector('{row} [name=bad]').value.replaceAll(' mm', '') === '{text}';"
        ));
    };
    browser.wait_until("return document.querySelector('.touch-rod button').disabled === false;");
    drawn(&browser, &[20, 25, 30]);
    bad("400..600");
    drawn(&browser, &[80]);
    browser.wait_for_text(".touch-rod [role=status]", "now touch where it ends");
    drawn(&browser, &[70]);
    bad("400..600; 1400..1600");
    // The handles of both ends are sliders: the arrow keys move them by a step of the tape, and delete takes the stretch away.
    browser.wait_until("return document.querySelectorAll('.thumb').length === 4;");
    browser.run("document.querySelectorAll('.thumb')[1].focus();");
    browser.press(Key::Right);
    bad("400..605; 1400..1600");
    browser.wait_until(
        "return document.querySelectorAll('.thumb')[1].getAttribute('aria-valuetext') === '605';",
    );
    assert_eq!(browser.accessibility_faults(), Vec::<String>::new());
    browser.run("document.querySelectorAll('.thumb')[0].dispatchEvent(new KeyboardEvent('keydown', { key: 'Delete', bubbles: true }));");
    bad("1400..1600");
    // A finger has a button for each.
    browser.click_on("Remove 1400 to 1600");
    bad("");
    // What is typed is drawn too.
    browser.write(&format!("{row} [name=bad]"), "0..500");
    browser.wait_until(
        "return document.querySelector('.touch-rod .stretches > .bad').style.width === '25%';",
    );
}

/// Of a board that has nothing typed yet there is nothing to draw, so what is said of it is read whole.
#[test]
fn what_is_said_of_an_empty_board_of_the_shed_is_not_cut_off() {
    let browser = Browser::phone();
    demo(&browser);
    place(&browser, "timber");
    browser.click("#add-board");
    browser.wait_until(
        "return document.querySelector('#shed .row:not(.folded) [name=mark]').value !== '';",
    );
    browser.click("#shed .row:not(.folded) .toggle");
    let whole = "const told = [...document.querySelectorAll('#shed .toggle .more')].find((one) => one.textContent.startsWith('Give its length'));
         const [box, row] = [told, told?.closest('.row')].map((one) => one?.getBoundingClientRect());
         return told !== undefined && told.scrollWidth <= told.clientWidth && box.bottom <= row.bottom && getComputedStyle(told).whiteSpace === 'normal';";
    for width in [360, 1280] {
        browser.resize(Screen {
            width,
            height: 740,
            touch: Touch::Finger,
        });
        assert_becomes!(browser.run(whole), true);
    }
    browser.screenshot("empty-board-of-the-shed");
}

#[test]
fn a_part_with_a_faulty_length_is_said_not_to_count_and_changes_no_count() {
    let browser = Browser::phone();
    demo(&browser);
    let parts = browser.text("#piece-count");
    browser.click("#add-part");
    // A row that nobody has touched is no fault.
    assert_becomes!(browser.text("#piece-count"), parts);
    browser.write("#parts [name=label]", "leg");
    browser.write("#parts [name=length]", "9x");
    // There is room for one figure, and for one alone: what is to be done.
    assert_becomes!(browser.text("#piece-count"), "1 to mend");
    assert_becomes!(
        browser.run("const count = document.getElementById('piece-count'); return count.scrollWidth <= count.clientWidth;"),
        true
    );
    browser.wait_for_text(
        "#uncounted",
        "One part is not counted until it is put right.",
    );
    browser.write("#parts [name=length]", "900");
    browser.wait_for_text("#piece-count", "74 parts");
    assert_becomes!(browser.text("#uncounted"), "");
}
