//! Units: a number means what it meant when it was typed, in the piece and in the shed that all pieces share.

use crate::harness::Browser;
use crate::page::{
    add_part, add_section, counted, demo, legs_beside_the_demo, legs_to_buy, new_piece, own_demo,
    place, planned,
};
use serde_json::json;

const INCHES: &str = "inches";

#[test]
fn changing_the_unit_asks_and_keeps_the_sizes() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    browser.click("#proven-all summary");
    let before = browser.text("#proven");
    assert!(before.contains("2"));
    place(&browser, "piece");
    browser.choose("#piece-fields [name=unit]", INCHES);
    browser.wait_for_text("#ask-yes", "Keep the sizes (2400 becomes 2400 mm)");
    assert_becomes!(browser.text("#ask-other"), "Take the numbers as inches");
    browser.screenshot("unit-question-phone");
    browser.click("#ask-yes");
    browser.wait_until("return document.querySelector('#parts [name=length]').value === '560 mm';");
    planned(&browser);
    place(&browser, "plan");
    // The yard is asked for what it sells.
    browser.wait_for_text(".buy .length", "2400 mm");
    assert_becomes!(browser.text(".buy .count"), "2 \u{d7}");
    place(&browser, "saw");
    browser.wait_until("return [...document.querySelectorAll('.step .reading')].every((reading) => /^([0-9]+ )?[0-9]+(\\/(2|4|8|16))?\"$/.test(reading.textContent));");
    // One step of undo brings all of it back.
    browser.click("#undo");
    place(&browser, "piece");
    browser.wait_until("return document.querySelector('#parts [name=length]').value === '560';");
}

#[test]
fn numbers_are_taken_in_the_new_unit_where_that_was_meant_and_nothing_changes_for_no() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Tray");
    add_part(&browser, "rail", "22 1/2");
    browser.choose("#piece-fields [name=unit]", INCHES);
    browser.wait_for_text("#ask-yes", "22 1/2 becomes 22 1/2 mm");
    browser.click("#ask-no");
    browser
        .wait_until("return document.querySelector('#piece-fields [name=unit]').value === 'mm';");
    browser.choose("#piece-fields [name=unit]", INCHES);
    browser.click("#ask-other");
    browser.wait_for_text("#all-parts", "22 1/2\"");
    assert_becomes!(browser.value("#parts [name=length]"), "22 1/2");
}

#[test]
fn a_new_piece_without_sizes_changes_its_unit_unasked_and_its_saw_stays_sensible() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Tray");
    browser.choose("#piece-fields [name=unit]", INCHES);
    browser
        .wait_until("return document.querySelector('#piece-fields [name=unit]').value === 'in';");
    assert_becomes!(
        browser.run("return document.getElementById('ask-dialog').open;"),
        false
    );
    place(&browser, "timber");
    assert_becomes!(browser.value("#saw-fields [name=kerf]"), "2.4 mm");
    assert_becomes!(browser.count("#saw-fields [aria-invalid]"), 0);
}

#[test]
fn a_board_of_the_shed_is_one_length_in_pieces_of_any_unit() {
    let browser = Browser::phone();
    own_demo(&browser);
    new_piece(&browser, "Tray");
    browser.choose("#piece-fields [name=unit]", INCHES);
    add_section(&browser, "slat");
    browser.click("#add-board");
    // A new board has a section of this piece.
    let row = "#shed .row:not(.folded)";
    assert_becomes!(browser.value(&format!("{row} [name=section]")), "slat");
    browser.write(&format!("{row} [name=mark]"), "Z");
    browser.write(&format!("{row} [name=length]"), "60");
    browser.write(&format!("{row} [name=bad]"), "10..11 1/2");
    browser.write(&format!("{row} [name=note]"), "old 5 bar gate");
    let said = format!(
        "const row = document.querySelector('{row}'); return ['length', 'bad', 'note'].map((name) => row.querySelector(`[name=${{name}}]`).value);"
    );
    browser.wait_until(&format!(
        "return (() => {{ {said} }})()[1] === '10\"..11 1/2\"';"
    ));
    let texts = json!(["60\"", "10\"..11 1/2\"", "old 5 bar gate"]);
    assert_becomes!(browser.run(&said), texts);
    // The boards of the demo, which were typed as millimetres, say so.
    browser.wait_until("return document.getElementById('shed').textContent.includes('1870 mm');");
    browser.screenshot("shed-units-phone");
    // In the millimetre piece it is the same board, and a reload changes nothing.
    browser.click("#open-pieces");
    browser.run("[...document.querySelectorAll('#piece-list li')].find((card) => card.querySelector('.title').textContent === 'Bin store').querySelector('.open').click();");
    browser.reload();
    planned(&browser);
    place(&browser, "timber");
    browser.run("[...document.querySelectorAll('#shed .row')].find((row) => row.querySelector('.mark').textContent === 'Z').unfold();");
    assert_becomes!(browser.run(&said), texts);
}

#[test]
fn undo_goes_on_after_a_reload() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.write("#parts [name=quantity]", "4");
    planned(&browser);
    browser.reload();
    planned(&browser);
    browser.click("#undo");
    browser.wait_until("return document.querySelector('#parts [name=quantity]').value === '8';");
}

#[test]
fn a_part_by_hand_may_start_from_a_common_size() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Tray");
    browser.click("#add-part");
    browser.choose("#parts [name=section]", "a common size \u{2026}");
    browser.wait_until("return document.getElementById('sizes-dialog').open;");
    browser.click("#sizes li:first-child button");
    browser.wait_until("return document.querySelector('#parts [name=section]').value !== '' && document.querySelector('#timber-count').textContent === '1 section';");
}

#[test]
fn an_archived_piece_is_deleted_and_put_back() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.click("#open-pieces");
    let card = |title: &str, button: &str| {
        browser.run(&format!(
            "[...document.querySelectorAll('#piece-list li')].find((card) => card.querySelector('.title').textContent === '{title}').querySelector('.{button}').click();"
        ));
    };
    assert_becomes!(browser.run("return [...document.querySelectorAll('#piece-list .delete')].filter((button) => button.checkVisibility()).length;"), 0);
    card("Bin store", "archive");
    card("Bin store", "delete");
    browser.wait_for_text("#piece-gone", "\u{201c}Bin store\u{201d} is deleted.");
    assert_becomes!(browser.count("#piece-list li"), 1);
    browser.screenshot("deleted-phone");
    browser.click("#piece-gone button");
    counted(&browser, "#piece-list li", 2);
    card("Bin store", "delete");
    browser.reload();
    browser.click("#open-pieces");
    assert_becomes!(browser.count("#piece-list li"), 1);
}
