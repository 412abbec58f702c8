//! Helpers for tests of the page: opened on the demo piece, in one of its four places, and what a person enters there.

use crate::harness::{Browser, Screen, Touch};
use crate::site;
use serde_json::Value;

/// The page on the demo piece, planned.
#[track_caller]
pub fn demo(browser: &Browser) {
    browser.go(&site::address());
    planned(browser);
}

/// The page on the demo piece as if it were a piece of one's own, with its boards in one's shed.
#[track_caller]
pub fn own_demo(browser: &Browser) {
    demo(browser);
    browser.run(
        "for (const key of Object.keys(localStorage)) localStorage.setItem(key, localStorage.getItem(key).replaceAll(',\"example\":true', ''));",
    );
    browser.reload();
    planned(browser);
}

/// Waits until there is a plan, proven or found, and no planning is under way.
#[track_caller]
pub fn planned(browser: &Browser) {
    browser.wait_until(
        "const outcome = document.getElementById('outcome');
         return ['proven', 'found'].includes(outcome.dataset.outcome) && outcome.getAttribute('aria-busy') === 'false';",
    );
}

/// Goes to one of the four places, and waits until it is shown.
#[track_caller]
pub fn place(browser: &Browser, name: &str) {
    browser.click(&format!("nav.places [data-goes={name}]"));
    browser.wait_until(&format!(
        "return document.body.dataset.place === '{name}' && document.getElementById('main').getAttribute('aria-busy') !== 'true';"
    ));
}

/// Opens a new piece that has nothing in it.
#[track_caller]
pub fn new_piece(browser: &Browser, name: &str) {
    browser.click("#open-pieces");
    browser.click("#new-piece");
    browser
        .wait_until("return document.querySelector('#piece-fields [name=piece]')?.value === '';");
    browser.write("#piece-fields [name=piece]", name);
}

/// Unfolds a set-out, counted from one.
#[track_caller]
pub fn unfold(browser: &Browser, set_out: usize) {
    let toggle = format!(".set-out:nth-child({set_out}) .toggle");
    browser.wait_until(&format!("return document.querySelector('{toggle}');"));
    if browser.run(&format!(
        "return document.querySelector('{toggle}').getAttribute('aria-expanded');"
    )) == "false"
    {
        browser.click(&toggle);
    }
}

/// The smallest phone that is served.
pub fn small_phone() -> Browser {
    Browser::open(Screen {
        width: 320,
        height: 568,
        touch: Touch::Finger,
    })
}

/// Enters a small job: eight legs of 560 mm from lengths of 2.4 and 3 m. Five legs of 560 mm and their cuts take 2809.6 mm of a 3 m length,
/// so two lengths are enough, and no single length holds eight.
#[track_caller]
pub fn eight_legs(browser: &Browser) {
    new_piece(browser, "Stool");
    add_section(browser, "batten");
    for (row, length) in [(1, "2400"), (2, "3000")] {
        browser.click("#sections .add-length");
        browser.write(
            &format!("#sections .yard .row:nth-child({row}) [name=length]"),
            length,
        );
    }
    place(browser, "piece");
    add_part(browser, "leg", "560");
    browser.write("#parts [name=quantity]", "8");
    planned(browser);
}

/// The eight legs, open and planned; the demo piece lies beside them.
#[track_caller]
pub fn legs_beside_the_demo(browser: &Browser) {
    demo(browser);
    eight_legs(browser);
}

/// The eight legs on the buying list: two lengths of 2.4 m, of which none is in the car.
#[track_caller]
pub fn legs_to_buy(browser: &Browser) {
    legs_beside_the_demo(browser);
    place(browser, "plan");
}

/// The eight legs at the saw, with no cut made.
#[track_caller]
pub fn legs_at_the_saw(browser: &Browser) {
    legs_beside_the_demo(browser);
    place(browser, "saw");
}

/// The link of the open piece, once its QR code is drawn.
#[track_caller]
pub fn link_of_piece(browser: &Browser) -> String {
    open_share(browser);
    browser.value("#share-link")
}

/// Opens the dialog that shares the open piece, and waits for its code.
#[track_caller]
pub fn open_share(browser: &Browser) {
    browser.click("#open-menu");
    browser.click("#menu-share");
    browser.wait_until("return document.querySelector('#share-code svg');");
}

/// Chooses in the menu to save something to a file.
#[track_caller]
pub fn save(browser: &Browser, what: &str) {
    browser.click("#open-menu");
    browser.click(&format!("[data-save={what}]"));
}

/// Waits until a CSS selector finds so many elements.
#[track_caller]
pub fn counted(browser: &Browser, selector: &str, count: usize) {
    browser.wait_until(&format!(
        "return document.querySelectorAll('{selector}').length === {count};"
    ));
}

/// Adds the first section of a piece, by its name.
#[track_caller]
pub fn add_section(browser: &Browser, name: &str) {
    place(browser, "timber");
    browser.click("#add-section");
    browser.write("#sections [name=name]", name);
}

/// Adds the first part of a piece.
#[track_caller]
pub fn add_part(browser: &Browser, label: &str, length: &str) {
    browser.click("#add-part");
    browser.write("#parts [name=label]", label);
    browser.write("#parts [name=length]", length);
}

/// Chooses the first of the common sizes in a field for a section.
#[track_caller]
pub fn choose_common_size(browser: &Browser, field: &str) {
    browser.choose(field, "a common size …");
    browser.click("#sizes li:first-child button");
}

/// Copies the piece on top of the list, which holds so many afterwards.
#[track_caller]
pub fn copy_first_piece(browser: &Browser, pieces: usize) {
    browser.click("#open-pieces");
    browser.click("#piece-list .copy");
    counted(browser, "#piece-list li", pieces);
}

/// Chooses to print everything there is.
#[track_caller]
pub fn tick_every_sheet(browser: &Browser) {
    browser.run("for (const box of document.querySelectorAll('#print-dialog [name=sheet]')) box.checked = true;");
}

/// Shows the sheets as they go to the printer.
#[track_caller]
pub fn laid_out_for_paper(browser: &Browser) {
    browser.on_paper();
    browser.run("dispatchEvent(new Event('beforeprint'));");
}

/// The open piece as the device keeps it.
#[track_caller]
pub fn kept_piece(browser: &Browser) -> Value {
    browser.run(
        "const { open } = JSON.parse(localStorage['lengthwise/index']);
         return JSON.parse(localStorage['lengthwise/piece/' + open]);",
    )
}
