//! The picture of the piece: live as one types, from all its corners, and a part that is touched is lit wherever it is shown.

use crate::carried_out::spoil;
use crate::harness::{Browser, Key, Paper};
use crate::page::{demo, kept_piece, laid_out_for_paper, place, planned, unfold};
use serde_json::{Value, json};

/// Waits until the description of the picture says this.
#[track_caller]
fn told(browser: &Browser, text: &str) {
    browser.wait_until(&format!(
        "return document.querySelector('#whole svg desc')?.textContent.includes('{text}');"
    ));
}

/// Waits until the picture is called this.
#[track_caller]
fn called(browser: &Browser, title: &str) {
    browser.wait_until(&format!(
        "return document.querySelector('#whole svg title')?.textContent === '{title}';"
    ));
}

/// The keys of the parts that are lit in the picture, each once.
fn lit(browser: &Browser) -> serde_json::Value {
    browser.run("return [...new Set([...document.querySelectorAll('#whole .lit')].map((one) => one.dataset.part))];")
}

#[test]
fn the_picture_follows_what_is_typed_and_holds_while_it_is_faulty() {
    let browser = Browser::desktop();
    demo(&browser);
    // The side boards stand out by 19 on either side of the store's 1410.
    told(
        &browser,
        "1448 mm wide, 834 mm deep and 1265 mm high over all",
    );
    unfold(&browser, 1);
    browser.write(".set-out:nth-child(1) [name=width]", "1500");
    told(&browser, "1538 mm wide");
    assert_soon!(browser.text("#whole-held").is_empty());
    browser.write(".set-out:nth-child(1) [name=width]", "15x00");
    browser.wait_for_text("#whole-held", "Drawn as it was before");
    told(&browser, "1538 mm wide");
    // As it was before from another corner, too.
    browser.click("#walk-right");
    called(&browser, "Store, from the front right");
    told(&browser, "1538 mm wide");
    browser.write(".set-out:nth-child(1) [name=width]", "1600");
    told(&browser, "1638 mm wide");
    assert_soon!(browser.text("#whole-held").is_empty());
}

#[test]
fn at_the_saw_the_picture_shows_the_part_that_is_told() {
    let browser = Browser::desktop();
    demo(&browser);
    browser.click("#open-pieces");
    browser.click_on("Gate");
    planned(&browser);
    place(&browser, "saw");
    // The braces are behind the boards: the gate is seen from where the letter of the next part stands on it.
    for _ in 0..3 {
        browser.wait_until(
            "const letter = document.querySelector('#saw-drawing text.lit');
             const told = document.querySelector('#saw-lit').textContent;
             return letter !== null && told.startsWith(letter.textContent + ' ') && letter.previousElementSibling.tagName !== 'path';",
        );
        browser.click("#board-after");
    }
    browser.screenshot("saw-gate");
}

#[test]
fn one_walks_round_it_and_pulls_it_apart_without_a_bar_to_scroll_sideways() {
    let browser = Browser::phone();
    demo(&browser);
    let fits = || {
        let wide = "const main = document.querySelector('main'); return main.scrollWidth <= main.clientWidth;";
        assert_becomes!(browser.run(wide), true);
        // No field moves with what is drawn: a drawing fills its room, and is not cut.
        let within = browser.run(
            "const [room, svg] = ['.drawing', 'svg'].map((one) => document.querySelector(`#whole ${one}`).getBoundingClientRect());
             return svg.width > 300 && svg.height > 250 && svg.bottom <= room.bottom && svg.right <= room.right;",
        );
        assert_eq!(within, true);
    };
    called(&browser, "Store, from the front left");
    for corner in ["front right", "back right", "back left", "front left"] {
        browser.click("#walk-right");
        called(&browser, &format!("Store, from the {corner}"));
        fits();
    }
    browser.click("#walk-left");
    called(&browser, "Store, from the back left");
    browser.click("#pull-apart");
    called(&browser, "Store, pulled apart, from the back left");
    fits();
    browser.click("#three-views");
    called(&browser, "Store, from the front, the left and above");
    let texts = "return ['1448 mm', '834 mm', '1265 mm'].every((size) =>
        [...document.querySelectorAll('#whole svg text')].some((text) => text.textContent === size));";
    assert_becomes!(browser.run(texts), true);
    fits();
    browser.click("#three-views");
    called(&browser, "Store, from the back left");
}

#[test]
fn a_part_touched_in_the_picture_is_lit_in_the_list_and_the_other_way_round() {
    let browser = Browser::phone();
    demo(&browser);
    called(&browser, "Store, from the front left");
    assert_becomes!(lit(&browser), json!([]));
    // The boards of the lid, the first part of the eighth set-out.
    browser.click("#whole text[data-part='7/0']");
    assert_becomes!(lit(&browser), json!(["7/0"]));
    let lines = "return [...document.querySelectorAll('#all-parts tr.lit')].map((row) => [row.querySelector('button').textContent,
        row.querySelector('button').getAttribute('aria-pressed'), row.querySelector('span').textContent]);";
    assert_becomes!(
        browser.run(lines),
        json!([["T", "true", "Lid boards: board"]])
    );
    browser.wait_for_text("#whole-lit", "T: ");
    // It stays lit from another corner, and from place to place.
    browser.click("#walk-right");
    called(&browser, "Store, from the front right");
    assert_becomes!(lit(&browser), json!(["7/0"]));
    place(&browser, "plan");
    place(&browser, "piece");
    assert_becomes!(lit(&browser), json!(["7/0"]));
    // By the keyboard, through the letter of a line: the upright inside the store's back.
    browser.run("document.querySelector('#all-parts tbody tr:nth-child(3) .letter').focus();");
    browser.press(Key::Enter);
    assert_becomes!(lit(&browser), json!(["0/2"]));
    browser.wait_for_text("#whole-lit", "C: 1 × Store: back upright, 1040 mm");
    browser.press(Key::Enter);
    assert_becomes!(lit(&browser), json!([]));
    assert_becomes!(browser.run(lines), json!([]));
}

#[test]
fn a_sheet_of_paper_has_the_whole_with_its_sizes_and_a_key() {
    let browser = Browser::desktop();
    demo(&browser);
    browser.run("for (const box of document.querySelectorAll('#print-dialog [name=sheet]')) box.checked = box.value === 'picture';");
    // A browser that prints does not wait, so the drawings are there beforehand.
    browser.wait_until("dispatchEvent(new Event('beforeprint')); return document.querySelectorAll('#paper figure svg').length === 4;");
    assert_eq!(browser.print("whole-a4", Paper::A4), 1);
    assert_eq!(browser.print("whole-letter", Paper::Letter), 1);
    laid_out_for_paper(&browser);
    let seen = browser.run(
        "const texts = (selector) => [...document.querySelectorAll(`#paper ${selector}`)].map((one) => one.textContent);
         const within = (svg) => [svg.closest('figure'), svg].map((one) => one.getBoundingClientRect());
         return { captions: texts('figcaption'), key: texts('.legend li').length, third: texts('.legend li')[2], sizes: texts('svg text').filter((text) => text.endsWith(' mm')),
             cut: [...document.querySelectorAll('#paper svg')].filter((svg) => within(svg)[1].right > within(svg)[0].right + 1).length };",
    );
    let captions = [
        "Store, from the front left",
        "Store, from the back right",
        "Store, pulled apart, from the front left",
        "Store, from the front, the left and above",
    ];
    assert_eq!(seen["captions"], json!(captions));
    assert_eq!(seen["sizes"], json!(["1448 mm", "834 mm", "1265 mm"]));
    assert_eq!((&seen["key"], &seen["cut"]), (&json!(22), &json!(0)));
    assert_eq!(seen["third"], "C 1 × Store: back upright, 1040\u{a0}mm");
}

#[test]
fn a_sheet_of_paper_has_the_order_of_putting_together_with_marks_and_fixings() {
    let browser = Browser::desktop();
    demo(&browser);
    browser.run("for (const box of document.querySelectorAll('#print-dialog [name=sheet]')) box.checked = box.value === 'order';");
    browser.wait_until("dispatchEvent(new Event('beforeprint')); return document.querySelectorAll('#paper .order-step svg').length === 9;");
    assert_eq!(browser.print("order-a4", Paper::A4), 3);
    laid_out_for_paper(&browser);
    let seen = browser.run(
        "const steps = [...document.querySelectorAll('#paper .order-step')];
         return steps.map((step) => ({ title: step.querySelector('h2').textContent, text: step.textContent,
             drawn: [...new Set([...step.querySelectorAll('polygon[data-part]')].map((one) => Number(one.dataset.part.split('/')[0])))].sort(),
             now: [...new Set([...step.querySelectorAll('polygon[data-part]:not(.before)')].map((one) => Number(one.dataset.part.split('/')[0])))] }));",
    );
    let steps = seen.as_array().cloned().unwrap_or_default();
    assert_eq!(steps[0]["title"], "1. Store (A, B, C, D, E, F, G)");
    for (nth, step) in steps.iter().enumerate() {
        let count = |field: &str| step[field].as_array().map_or(0, Vec::len);
        assert_becomes!((count("drawn"), count("now")), (nth + 1, 1), "{step}");
    }
    // Each is fixed in itself, or to what it stands on.
    let fixed = steps
        .iter()
        .filter(|step| step["text"].to_string().contains("Fixed at"));
    assert_eq!(fixed.count(), 9);
    assert!(
        steps[0]["text"]
            .to_string()
            .contains("Square where both diagonals are")
    );
}

/// At the saw: the members that are filled in the picture, as `key:nth`, each once; the keys that are lit, whether any is marked as spoiled, and what is
/// said of it.
const AT_THE_SAW: &str = "const faces = (which) => [...document.querySelectorAll(`#saw-drawing ${which}`)];
    const member = ({ dataset }) => `${dataset.part}:${dataset.nth}`;
    return { cut: [...new Set(faces('.cut').map(member))].sort(), lit: [...new Set(faces('.lit').map((one) => one.dataset.part))],
        again: faces('.again').length > 0, told: document.getElementById('saw-lit').textContent };";

/// Ticks the steps up to the one that frees the first part of the board.
fn cut_first_part(browser: &Browser) {
    let first = browser.run(
        "return [...document.querySelectorAll('.step')].findIndex((one) => one.querySelector('.part-length').textContent !== '') + 1;",
    );
    browser.click(&format!(".step:nth-child({first}) button"));
}

#[test]
fn at_the_saw_the_next_part_is_lit_in_the_piece_and_what_is_cut_is_filled() {
    let browser = Browser::phone();
    demo(&browser);
    planned(&browser);
    place(&browser, "plan");
    let known = browser.run(
        "return [...document.querySelectorAll('#legend li')].map((one) => `${one.querySelector('svg title').textContent}  ${one.querySelector('span').textContent.split(', ')[0]}`);",
    );
    place(&browser, "saw");
    browser.wait_until("return document.querySelector('#saw-drawing .lit') !== null;");
    let before = browser.run(AT_THE_SAW);
    assert_eq!(
        (&before["cut"], &before["again"]),
        (&json!([]), &json!(false))
    );
    let first = before["lit"][0].as_str().unwrap_or_default().to_owned();
    assert!(before["told"].to_string().contains(": 0 cut, "), "{before}");
    cut_first_part(&browser);
    browser.wait_until("return document.querySelector('#saw-drawing .cut') !== null;");
    assert_becomes!(
        browser.run(AT_THE_SAW)["cut"],
        json!([format!("{first}:0")])
    );
    browser.screenshot("saw-picture-phone");
    // What follows trouble has no set-outs of its own, and the picture stays what it was: one is cut, one spoiled.
    let letters = "return [...document.querySelectorAll('.step .label')].map((one) => one.textContent).filter((text) => /^[A-Z]+\\s\\s/.test(text));";
    let known: Vec<Value> = known.as_array().cloned().unwrap_or_default();
    spoil(&browser, 2);
    planned(&browser);
    browser.wait_until("return document.querySelector('#saw-drawing .again') !== null;");
    let after = browser.run(AT_THE_SAW);
    assert_eq!(after["cut"], json!([format!("{first}:0")]));
    let now = browser.run(letters);
    for label in now.as_array().into_iter().flatten() {
        assert!(known.contains(label), "{label} is none of {known:?}");
    }
    assert_becomes!(
        kept_piece(&browser)["work"]["legs"][1]["job"]["set_outs"],
        json!(null)
    );
    browser.screenshot("saw-picture-after-trouble");
}

#[test]
fn a_part_that_is_touched_in_the_plan_is_lit_in_its_boards_its_legend_and_the_picture() {
    let browser = Browser::desktop();
    demo(&browser);
    planned(&browser);
    place(&browser, "plan");
    browser.click("#legend li:nth-child(2) button");
    browser.wait_until("return document.querySelector('#plan-drawing polygon.lit') !== null;");
    let keys = browser.run("return [...new Set([...document.querySelectorAll('#plan-drawing .lit')].map((one) => one.dataset.part))];");
    assert_becomes!(browser.count("#legend li.lit"), 1);
    browser.screenshot("plan-lit");
    place(&browser, "piece");
    browser.wait_until("return document.querySelector('#whole .lit') !== null;");
    assert_becomes!(lit(&browser), keys);
    place(&browser, "saw");
    browser.wait_until("return document.querySelector('#saw-drawing .lit') !== null;");
    browser.screenshot("saw-picture-desktop");
    place(&browser, "plan");
    browser.click("#legend li:nth-child(2) button");
    browser.wait_until("return document.querySelector('#plan-drawing .lit') === null;");
}
