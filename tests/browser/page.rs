//! The page as tests meet it: opened on the demo piece, in one of its four places.

use crate::harness::{Browser, Screen, Touch};
use crate::site;

/// The page on the demo piece, planned.
#[track_caller]
pub fn demo(browser: &Browser) {
    browser.go(&site::address());
    planned(browser);
}

/// Waits until a plan stands: proven or found, and nothing is being worked out.
#[track_caller]
pub fn planned(browser: &Browser) {
    browser.wait_until(
        "const outcome = document.getElementById('outcome');
         return ['proven', 'found'].includes(outcome.dataset.outcome) && outcome.getAttribute('aria-busy') === 'false';",
    );
}

/// Goes to one of the four places.
#[track_caller]
pub fn place(browser: &Browser, name: &str) {
    browser.click(&format!("nav.places [data-goes={name}]"));
    browser.wait_until(&format!("return document.body.dataset.place === '{name}';"));
}

/// Opens a new piece that has nothing in it.
#[track_caller]
pub fn new_piece(browser: &Browser, name: &str) {
    browser.click("#open-pieces");
    browser.click("#new-piece");
    browser.wait_until("return document.querySelector('#piece-fields [name=piece]').value === '';");
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

/// Writes a small job by hand: eight legs of 560 mm from lengths of 2.4 and 3 m. Five legs of 560 mm and their cuts take
/// 2809.6 mm of a 3 m length, so two lengths do, and no one length holds eight.
#[track_caller]
pub fn eight_legs(browser: &Browser) {
    new_piece(browser, "Stool");
    place(browser, "timber");
    browser.click("#add-section");
    browser.write("#sections [name=name]", "batten");
    for (row, length) in [(1, "2400"), (2, "3000")] {
        browser.click("#sections .add-length");
        browser.write(
            &format!("#sections .yard .row:nth-child({row}) [name=length]"),
            length,
        );
    }
    place(browser, "piece");
    browser.click("#add-part");
    browser.write("#parts [name=label]", "leg");
    browser.write("#parts [name=length]", "560");
    browser.write("#parts [name=quantity]", "8");
    planned(browser);
}

/// The eight legs on the buying list: two lengths of 2.4 m, of which none is in the car.
#[track_caller]
pub fn legs_to_buy(browser: &Browser) {
    demo(browser);
    eight_legs(browser);
    place(browser, "plan");
}

/// The link that carries the open piece, once its code is drawn.
#[track_caller]
pub fn link_of_piece(browser: &Browser) -> String {
    browser.click("#open-menu");
    browser.click("#menu-share");
    browser.wait_until("return document.querySelector('#share-code svg');");
    browser.value("#share-link")
}
