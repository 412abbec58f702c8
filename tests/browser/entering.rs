//! Entering a piece and its timber: what is typed stays, is explained where it is wrong, and is planned as it is typed.

use crate::harness::{Browser, Key, Screen, Touch};
use crate::page::{
    choose_common_size, counted, demo, legs_beside_the_demo, legs_to_buy, new_piece, place,
    planned, unfold,
};
use crate::site;

#[test]
fn a_job_typed_by_hand_is_planned_and_proven() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.wait_for_text("#strip-text", "2 lengths");
    place(&browser, "plan");
    assert_soon!(browser.text("#headline").contains("proven"));
    assert_becomes!(browser.text(".buy .count"), "2 ×");
}

#[test]
fn a_wrong_length_is_explained_beside_its_field_and_nothing_is_lost() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.write("#parts [name=length]", "56o");
    browser.wait_for_text("#parts .field-length .fault", "56o");
    browser.wait_for_text("#strip-text", "One thing to put right");
    assert_becomes!(browser.value("#parts [name=length]"), "56o");
    let described = browser.run(
        "const field = document.querySelector('#parts [name=length]');
         const told = document.getElementById(field.getAttribute('aria-describedby').split(' ').at(-1));
         return field.getAttribute('aria-invalid') === 'true' && told.textContent.includes('56o');",
    );
    assert_eq!(described, true);
    browser.reload();
    browser.wait_for_text("#parts .field-length .fault", "56o");
    browser.write("#parts [name=length]", "560");
    browser.wait_for_text("#strip-text", "2 lengths");
}

#[test]
fn typing_keeps_the_focus_while_the_plan_follows() {
    let browser = Browser::desktop();
    legs_beside_the_demo(&browser);
    browser.write("#parts [name=quantity]", "1");
    browser.wait_for_text("#headline", "1 length");
    browser.type_on("1");
    // Eleven legs need three lengths: two of 3 m hold ten.
    browser.wait_for_text("#headline", "3 lengths");
    assert_becomes!(
        browser.run("return document.activeElement.name;"),
        "quantity"
    );
    assert_becomes!(browser.value("#parts [name=quantity]"), "11");
}

#[test]
fn undo_and_redo_bring_back_what_was_typed_and_planned() {
    let browser = Browser::desktop();
    legs_beside_the_demo(&browser);
    browser.write("#parts [name=quantity]", "11");
    browser.wait_for_text("#headline", "3 lengths");
    // On a busy machine a plan is made between two keys, and what is typed after a plan is a step of its own: clearing the field, 1, 11.
    let steps_to = |wanted: &str, step: &dyn Fn()| {
        for _ in 0..3 {
            if browser.value("#parts [name=quantity]") != wanted {
                step();
            }
        }
        assert_becomes!(browser.value("#parts [name=quantity]"), wanted);
    };
    steps_to("8", &|| browser.click("#undo"));
    browser.wait_for_text("#headline", "2 lengths");
    steps_to("11", &|| browser.press(Key::Control('y')));
    browser.wait_for_text("#headline", "3 lengths");
}

#[test]
fn a_reload_finds_the_piece_again() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.reload();
    planned(&browser);
    assert_becomes!(browser.value("#piece-fields [name=piece]"), "Stool");
    assert_becomes!(browser.value("#parts [name=label]"), "leg");
    browser.wait_for_text("#strip-text", "2 lengths");
}

#[test]
fn the_demo_piece_follows_when_its_width_changes() {
    let browser = Browser::desktop();
    demo(&browser);
    unfold(&browser, 1);
    let drawing = "return document.querySelector('.set-out .drawing').textContent;";
    let before = browser.run(drawing);
    let list = browser.text("#all-parts");
    browser.write(".set-out:nth-child(1) [name=width]", "1420");
    browser.wait_for("another drawing", || {
        (browser.run(drawing) != before).then_some(())
    });
    browser.wait_for("another cutting list", || {
        (browser.text("#all-parts") != list).then_some(())
    });
    assert_soon!(browser.text("#all-parts").contains("1420"));
    planned(&browser);
}

#[test]
fn a_new_set_out_asks_for_its_sizes_and_is_not_called_wrong() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Rack");
    browser.click("#add-set-out");
    browser.click("#kinds li:first-child button");
    browser.wait_for_text("#strip-text", "Give the width, height");
    assert_becomes!(browser.run("return document.activeElement.name;"), "width");
    assert_becomes!(browser.count("[aria-invalid=true]"), 0);
    browser.write(".set-out [name=width]", "6oo");
    browser.write(".set-out [name=height]", "900");
    choose_common_size(&browser, ".set-out [name=section]");
    browser.wait_for_text(".set-out .field-width .fault", "6oo");
}

#[test]
fn the_example_is_put_away_with_its_boards() {
    let browser = Browser::phone();
    demo(&browser);
    browser.click_on("Put the example away");
    browser.click("#ask-yes");
    browser.wait_for_text("#strip-text", "Nothing to plan yet");
    counted(&browser, "#shed .row", 0);
    browser.reload();
    browser.wait_for_text("#strip-text", "Nothing to plan yet");
}

#[test]
fn a_common_size_brings_its_section_and_the_usual_lengths() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Rack");
    place(&browser, "timber");
    browser.click("#open-sizes");
    browser.write("#size-search", "45 95 planed");
    browser.click("#sizes li:first-child button");
    counted(&browser, "#sections .yard .row", 5);
    assert_becomes!(browser.value("#sections [name=thickness]"), "45 mm");
    assert_becomes!(browser.value("#sections [name=width]"), "95 mm");
}

#[test]
fn keys_walk_the_choices_and_a_dialog_opens_where_they_enter_it() {
    let browser = Browser::desktop();
    legs_beside_the_demo(&browser);
    let opened = "return document.getElementById('sizes-dialog').open;";
    let kept = "return document.querySelector('#parts [name=section]').value === 'batten' && !document.querySelector('.choices-below');";
    let marked = |text: &str| {
        browser.wait_until(&format!("const field = document.querySelector('#parts [name=section]'); return document.getElementById(field.getAttribute('aria-activedescendant'))?.textContent === '{text}';"));
    };
    browser.run("document.querySelector('#parts [name=section]').focus();");
    browser.press(Key::Down);
    marked("batten");
    // Past the only section is what asks for a common size.
    browser.press(Key::Down);
    marked("a common size …");
    browser.press(Key::Up);
    marked("batten");
    browser.press(Key::Down);
    browser.press(Key::Tab);
    browser.wait_until(kept);
    browser.press(Key::ShiftTab);
    browser.press(Key::Down);
    browser.press(Key::Escape);
    browser.wait_until(kept);
    assert_becomes!(browser.run(opened), false);
    browser.press(Key::Down);
    browser.press(Key::Down);
    browser.press(Key::Enter);
    browser.wait_until(opened);
}

#[test]
fn what_is_unfolded_stays_with_its_part_when_one_above_is_removed() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Rack");
    for (nth, name) in ["post", "rail", "pale"].iter().enumerate() {
        browser.click("#add-part");
        counted(&browser, "#parts .row", nth + 1);
        browser.write(
            &format!("#parts .row:nth-child({}) [name=label]", nth + 1),
            name,
        );
    }
    browser.click("#parts .row:nth-child(2) .more summary");
    browser.click("#parts .row:nth-child(1) .remove");
    counted(&browser, "#parts .row", 2);
    let unfolded = browser.run(
        "return [...document.querySelectorAll('#parts .row:has(> .more[open]) [name=label]')].map((field) => field.value);",
    );
    assert_eq!(unfolded, serde_json::json!(["rail"]));
    // What is typed goes to the part that it is typed at.
    browser.write("#parts .row:nth-child(2) [name=length]", "640");
    browser.click("#undo");
    browser.wait_until(
        "return document.querySelector('#parts .row:nth-child(2) [name=length]').value === '';",
    );
    assert_becomes!(
        browser.value("#parts .row:nth-child(2) [name=label]"),
        "pale"
    );
}

#[test]
fn a_size_that_is_in_no_list_is_made_where_it_is_named() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Rack");
    browser.click("#add-part");
    browser.choose("#parts [name=section]", "a common size …");
    browser.write("#size-search", "oak");
    browser.wait_for_text("#no-sizes", "as in 20 x 45");
    browser.write("#size-search", "23 x 47");
    browser.wait_for_text("#sizes", "make 23 x 47, sold in 2.4, 3.0");
    browser.click("#sizes li:first-child button");
    assert_becomes!(browser.value("#parts [name=section]"), "23 x 47");
    // What is typed next is the length.
    browser.wait_until("return document.activeElement.name === 'length';");
    place(&browser, "timber");
    counted(&browser, "#sections .yard .row", 5);
    assert_becomes!(browser.value("#sections [name=thickness]"), "23 mm");
    assert_becomes!(browser.value("#sections [name=width]"), "47 mm");
    // Which of the usual lengths it is sold in is seen at once, and each is taken off or put on by a touch.
    let taken = "return [...document.querySelectorAll('#sections .usual [aria-pressed=true]')].map((one) => one.textContent).join();";
    assert_becomes!(browser.run(taken), "2.4 m,3.0 m,3.6 m,4.2 m,4.8 m");
    browser.write("#sections .yard .row:nth-child(1) [name=price]", "2.90/m");
    for length in ["3.0 m", "4.2 m", "4.8 m"] {
        browser.click_on(length);
    }
    assert_becomes!(browser.run(taken), "2.4 m,3.6 m");
    counted(&browser, "#sections .yard .row", 2);
    browser.screenshot("usual-lengths");
    assert_eq!(browser.accessibility_faults(), Vec::<String>::new());
    // A price per unit goes along.
    browser.write("#sections .yard .row:nth-child(2) [name=price]", "2.90/m");
    browser.click_on("3.0 m");
    assert_becomes!(
        browser.value("#sections .yard .row:nth-child(3) [name=length]"),
        "3.0 m"
    );
    assert_becomes!(
        browser.value("#sections .yard .row:nth-child(3) [name=price]"),
        "2.90/m"
    );
    browser.click("#undo");
    assert_becomes!(browser.run(taken), "2.4 m,3.6 m");
    // The key behind the last length makes no other by itself.
    browser
        .run("document.querySelector('#sections .yard .row:nth-child(2) [name=count]').focus();");
    browser.press(Key::Enter);
    browser.wait_until("return document.activeElement.className === 'add-length';");
    counted(&browser, "#sections .yard .row", 2);
    // What is typed is taken too.
    browser.write("#sections .yard .row:nth-child(2) [name=length]", "4.80 m");
    assert_becomes!(browser.run(taken), "2.4 m,4.8 m");
    // Nothing that was looked for is kept for another time.
    browser.click("#open-sizes");
    assert_becomes!(browser.value("#size-search"), "");
}

#[test]
fn a_section_is_made_in_the_field_that_names_it() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    let section = "#parts [name=section]";
    let names = "return [...document.querySelectorAll('#sections [name=name]')].map((field) => field.value).join();";
    // The key that goes on takes what is typed, and goes on.
    browser.write(section, "20 x 45");
    browser.wait_for_text(
        ".choices-below",
        "make 20 x 45, sold in 2.4, 3.0, 3.6, 4.2, 4.8 m",
    );
    browser.screenshot("section-typed");
    assert_eq!(browser.accessibility_faults(), Vec::<String>::new());
    browser.press(Key::Enter);
    browser.wait_until("return document.activeElement.name === 'length';");
    browser.wait_for_text("#timber-count", "2 sections");
    browser.click("#undo");
    browser.wait_for_text("#timber-count", "1 section");
    assert_becomes!(browser.value(section), "20 x 45");
    // What was left typed is offered, and one touch takes it.
    browser.click("#parts .offer");
    browser.wait_for_text("#timber-count", "2 sections");
    assert_becomes!(
        browser.run("return document.querySelector('#parts .field-section .offer').hidden;"),
        true
    );
    // A section that is there is found however it is spaced.
    browser.write(section, "20X45");
    browser.press(Key::Tab);
    assert_becomes!(browser.value(section), "20 x 45");
    browser.wait_for_text("#timber-count", "2 sections");
    // One that is typed in full is made on the way to the next field, too.
    browser.write(section, "25 x 50");
    browser.press(Key::Tab);
    browser.wait_until("return document.activeElement.name === 'length';");
    browser.wait_for_text("#timber-count", "3 sections");
    browser.click("#undo");
    browser.wait_for_text("#timber-count", "2 sections");
    browser.write(section, "bat");
    browser.click(".choices-below li:first-child");
    assert_becomes!(browser.value(section), "batten");
    // The shed's boards and its filter, and a set-out.
    place(&browser, "timber");
    assert_becomes!(browser.run(names), "batten,20 x 45");
    browser.click("#add-board");
    browser.write("#shed .row:not(.folded) [name=section]", "oak 30 x 60");
    browser.click(".choices-below li:first-child");
    assert_becomes!(browser.run(names), "batten,20 x 45,oak 30 x 60");
    assert_becomes!(
        browser.value("#shed .row:not(.folded) [name=section]"),
        "oak 30 x 60"
    );
    browser.click("#undo");
    assert_becomes!(browser.run(names), "batten,20 x 45");
    place(&browser, "piece");
    browser.click("#add-set-out");
    browser.click("#kinds li:nth-child(6) button");
    browser.write(".set-out [name=section]", "2 x 4");
    browser.wait_for_text(".choices-below", "make 2 x 4, sold in 8', 10'");
    browser.press(Key::Enter);
    place(&browser, "timber");
    assert_becomes!(browser.run(names), "batten,20 x 45,2 x 4");
    assert_becomes!(
        browser.value("#sections > :nth-child(3) [name=thickness]"),
        "1 1/2\""
    );
    assert_eq!(browser.console_errors(), Vec::<String>::new());
}

#[test]
fn nothing_is_called_wrong_while_a_figure_is_being_typed() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    place(&browser, "timber");
    let field = "#sections .yard .row:nth-child(1) [name=length]";
    browser.run(
        "window.seen = new Set();
         const look = () => {
             for (const one of document.querySelectorAll('.fault:not([hidden])')) if (one.textContent) window.seen.add(one.textContent);
             window.seen.add(document.getElementById('strip-text').textContent);
         };
         window.seen.clear();
         window.watcher = new MutationObserver(look);
         window.watcher.observe(document.body, { subtree: true, childList: true, attributes: true, characterData: true });",
    );
    // 3, 30 and 300 mm are each less than a board may have or a part needs.
    for digit in ["3", "0", "0", "0"] {
        if digit == "3" {
            browser.run(&format!("document.querySelector('{field}').select();"));
        }
        browser.type_on(digit);
        std::thread::sleep(std::time::Duration::from_millis(250));
    }
    browser.wait_for_text("#strip-text", "2 lengths");
    let seen = browser.run("return [...window.seen].filter((text) => text.includes('50 mm') || text.includes('put right'));");
    assert_eq!(seen, serde_json::json!([]));
    // Left as it is, it is told.
    browser.run(&format!("document.querySelector('{field}').select();"));
    browser.type_on("3");
    browser.wait_for_text("#sections .fault:not([hidden])", "50 mm");
    browser.wait_for_text("#strip-text", "One thing to put right");
}

/// It is laid out a moment after the place that is opened, and is then seen in full.
#[test]
fn the_plan_beside_a_place_comes_with_it() {
    let browser = Browser::desktop();
    demo(&browser);
    place(&browser, "saw");
    for beside in ["piece", "timber", "piece"] {
        place(&browser, beside);
        browser.wait_until(
            "return document.querySelector('#place-plan:not(.comes) #headline')?.checkVisibility();",
        );
        browser.wait_for_text("#headline", "Buy");
    }
}

#[test]
fn a_place_is_found_again_where_it_was_left() {
    let browser = Browser::phone();
    demo(&browser);
    place(&browser, "timber");
    browser.run("document.getElementById('main').scrollTop = 700;");
    place(&browser, "plan");
    assert_becomes!(
        browser.run("return document.getElementById('main').scrollTop;"),
        0
    );
    place(&browser, "timber");
    assert_becomes!(
        browser.run("return document.getElementById('main').scrollTop;"),
        700
    );
}

/// Counts what a person touches and what is typed.
struct Hand<'a> {
    browser: &'a Browser,
    taps: std::cell::Cell<u32>,
    fields: std::cell::Cell<u32>,
}

impl Hand<'_> {
    fn of(browser: &Browser) -> Hand<'_> {
        Hand {
            browser,
            taps: 0.into(),
            fields: 0.into(),
        }
    }

    fn tap(&self, selector: &str) {
        self.taps.set(self.taps.get() + 1);
        self.browser.click(selector);
    }

    /// Types into the field that has the focus, and goes on with the key that does so.
    fn write_on(&self, text: &str) {
        self.fields.set(self.fields.get() + 1);
        self.browser.type_on(text);
        self.browser.press(Key::Enter);
    }

    /// One touch opens a list of choices, another takes one.
    fn choose(&self, selector: &str, option: &str) {
        self.taps.set(self.taps.get() + 2);
        self.browser.choose(selector, option);
    }

    fn told(&self, taps: u32, fields: u32) {
        println!(
            "{} taps and {} typed fields",
            self.taps.get(),
            self.fields.get()
        );
        assert!(self.taps.get() <= taps && self.fields.get() <= fields);
    }
}

#[test]
fn a_list_of_five_parts_with_lengths_and_boards_takes_few_taps_and_fields() {
    let browser = Browser::phone();
    demo(&browser);
    let hand = Hand::of(&browser);
    hand.tap("#open-pieces");
    hand.tap("#new-piece");
    hand.tap("#add-part");
    hand.choose("#parts [name=section]", "a common size …");
    hand.tap("#sizes li:first-child button");
    hand.tap("#parts [name=label]");
    for (label, length, quantity) in [
        ("post", "1310", "4"),
        ("rail", "905", "6"),
        ("pale", "640", "9"),
        ("brace", "720", "2"),
        ("ledge", "600", "3"),
    ] {
        for text in [label, length, quantity] {
            hand.write_on(text);
        }
    }
    hand.tap("nav.places [data-goes=timber]");
    hand.tap("#add-board");
    for length in ["1800", "1250"] {
        // The mark is offered, so the length is what is typed first.
        browser.wait_until(
            "return document.querySelector('#shed .row:not(.folded) [name=mark]').value !== '' && document.activeElement.name === 'length' && document.activeElement.value === '';",
        );
        hand.write_on(length);
        // Bad stretches and a note: none.
        browser.press(Key::Enter);
        browser.press(Key::Enter);
    }
    hand.tap("nav.places [data-goes=plan]");
    browser.wait_for_text("#headline", "proven");
    browser.wait_for_text("#explanation", "2 boards from the shed used");
    assert_soon!(browser.count("#sections .yard .row") >= 3);
    // 37 taps and 27 fields before rows followed each other.
    hand.told(15, 20);
}

#[test]
fn a_mitred_frame_takes_few_taps_and_fields() {
    let browser = Browser::phone();
    demo(&browser);
    let hand = Hand::of(&browser);
    hand.tap("#open-pieces");
    hand.tap("#new-piece");
    hand.tap("#add-set-out");
    hand.tap("#kinds li:nth-child(6) button");
    for (field, size) in [("width", "900"), ("depth", "600")] {
        browser.write(&format!(".set-out [name={field}]"), size);
        hand.fields.set(hand.fields.get() + 1);
    }
    hand.choose(".set-out [name=section]", "a common size …");
    hand.tap("#sizes li:first-child button");
    hand.tap("nav.places [data-goes=plan]");
    browser.wait_for_text("#headline", "proven");
    hand.told(8, 5);
}

#[test]
fn a_common_feather_edge_is_lapped_from_the_start() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Rack");
    place(&browser, "timber");
    browser.click("#open-sizes");
    browser.write("#size-search", "feather 150");
    browser.click("#sizes li:first-child button");
    counted(&browser, "#sections .yard .row", 5);
    browser.click("#sections .more summary");
    assert_becomes!(browser.value("#sections [name=joint]"), "lapped");
    assert_becomes!(browser.value("#sections [name=cover]"), "125 mm");
}

#[test]
fn a_renamed_section_keeps_its_lengths_parts_and_plan() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    place(&browser, "timber");
    browser.write("#sections [name=name]", "lath");
    counted(&browser, "#sections .yard .row", 2);
    place(&browser, "plan");
    browser.wait_for_text(".buy .section", "lath");
}

#[test]
fn the_first_start_shows_the_demo_piece_proven() {
    let browser = Browser::phone();
    browser.go(&site::address());
    planned(&browser);
    assert_becomes!(browser.value("#piece-fields [name=piece]"), "Bin store");
    place(&browser, "plan");
    assert_soon!(browser.text("#headline").contains("proven"));
    assert_soon!(browser.count("#plan-drawing .rod svg.lw") > 10);
    browser.screenshot("plan-phone");
}

#[test]
fn an_archived_piece_and_a_copy_stand_in_the_list_of_pieces() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.click("#open-pieces");
    counted(&browser, "#piece-list li", 2);
    browser.click("#piece-list li:last-child .copy");
    counted(&browser, "#piece-list li", 3);
    assert_soon!(browser.text("#piece-list").contains("Bin store 2"));
    browser.click("#piece-list li:last-child .archive");
    browser.wait_for_text("#piece-list", "archived");
}

#[test]
fn a_board_of_the_shed_is_a_line_that_unfolds_and_says_what_is_wrong_with_it() {
    let browser = Browser::phone();
    demo(&browser);
    place(&browser, "timber");
    let shown = |row: &str| {
        browser.run(&format!(
            "return document.querySelector('{row} [name=length]')?.checkVisibility() ?? false;"
        ))
    };
    // Behind the heading of the first section.
    let (first, next) = ("#shed .row:nth-child(2)", "#shed .row:nth-child(3)");
    let added = "#shed .row:not(.folded)";
    browser.wait_for_text("#shed .shed-head", "frame 45 x 70");
    // Nine boards on less than two screens, and what counts of each is read without unfolding it.
    let tall =
        browser.run("return document.getElementById('shed').getBoundingClientRect().height;");
    assert!(tall.as_f64().unwrap() < 2.0 * 740.0, "{tall}");
    let line = browser.text("#shed .row:nth-child(2) .toggle");
    for told in ["1T", "1870 mm", "Bad 910", "In this plan"] {
        assert!(line.contains(told), "{line}");
    }
    assert_becomes!(shown(first), false);
    browser.click("#shed .row:nth-child(2) .toggle");
    assert_becomes!(shown(first), true);
    // A board is added open, with the focus in it, and the one before is folded.
    browser.click("#add-board");
    browser.write("#shed .row:not(.folded) [name=mark]", "Q");
    assert_becomes!(browser.value("#shed .row:not(.folded) [name=mark]"), "Q");
    assert_becomes!([shown(first), shown(added)], [false, true]);
    // That it has no length yet is said where it is to be filled in; nothing else waits for it.
    browser.wait_for_text(
        "#shed .row:not(.folded)",
        "Give its length; until then nothing is planned with it.",
    );
    // The Plan names it as a thing to fill in, no fault, and leads there.
    place(&browser, "plan");
    browser.wait_for_text("#to-finish", "Shed board Q");
    assert_becomes!(browser.count("#outcome-faults li"), 0);
    browser.click("#to-finish a");
    browser.wait_until("return document.activeElement === document.querySelector('#shed .row:not(.folded) [name=length]');");
    // Folded, it still says what is wrong, and the list of faults unfolds it.
    browser.write("#shed .row:not(.folded) [name=length]", "2,4,");
    browser.wait_for_text("#shed .row:not(.folded) .fault:not([hidden])", "comma");
    browser.click("#shed .row:not(.folded) .toggle");
    assert_becomes!(browser.count(added), 0);
    browser.wait_for_text("#shed .row.faulty .more", "To mend: \"2,4,\"");
    place(&browser, "plan");
    browser.click("#outcome-faults a");
    browser.wait_until("return document.activeElement.name === 'length' && document.activeElement.value === '2,4,';");
    // With the keyboard: the line folds by Enter, and the focus goes on to the next line when one is removed.
    browser.run("document.querySelector('#shed .row:nth-child(3) .toggle').focus();");
    browser.press(Key::Enter);
    assert_becomes!(shown(next), true);
    browser.click("#shed .row:nth-child(3) .remove");
    browser.wait_until("return document.activeElement === document.querySelector('#shed .row:nth-child(3) .toggle');");
}

#[test]
fn what_is_proven_is_one_line_until_it_is_asked_for() {
    let browser = Browser::phone();
    legs_to_buy(&browser);
    browser.wait_for_text("#proven-sum", "o plan does better");
    assert_becomes!(browser.text("#proven"), "");
    browser.click("#proven-sum");
    browser.wait_for_text("#proven", "lengths to buy: 2");
    // What is not proven stands in the open.
    let open = "return [...document.querySelectorAll('#proof .proof')].every((one) => one.textContent.includes('better may exist'));";
    assert_becomes!(browser.run(open), true);
}

/// What a frame of 900 by 600 comes out at is seen where its sizes are typed, and what they are the sizes of is chosen by a picture.
#[test]
fn a_mitred_frame_shows_what_changes_its_size_and_what_it_comes_out_at() {
    for (browser, name) in [
        (Browser::phone(), "mitred-frame-phone"),
        (Browser::desktop(), "mitred-frame-desktop"),
    ] {
        demo(&browser);
        new_piece(&browser, "Cold frame");
        browser.click("#add-set-out");
        browser.click("#kinds li:nth-child(6) button");
        browser.write(".set-out [name=width]", "900");
        browser.write(".set-out [name=depth]", "600");
        choose_common_size(&browser, ".set-out [name=section]");
        // 20 mm stand out on each side where nothing else is said.
        let cap = "outside 940 mm x 640 mm: 900 mm x 600 mm and 20 mm all round";
        browser.wait_for_text(".set-out .made", cap);
        let under = "const [drawing, made] = ['.drawing', '.made'].map((name) => document.querySelector(`.set-out ${name}`));
             return [made.checkVisibility(), drawing.getBoundingClientRect().bottom <= made.getBoundingClientRect().top];";
        assert_becomes!(browser.run(under), serde_json::json!([true, true]));
        for field in ["around", "overhang", "fit"] {
            let inside = format!(
                "const field = document.querySelector('.set-out [name={field}]');
                 return [field.checkVisibility(), field.closest('details') === null];"
            );
            assert_becomes!(browser.run(&inside), serde_json::json!([true, true]));
        }
        let pressed = "return [...document.querySelectorAll('.set-out .pictures button')].map((one) => one.getAttribute('aria-pressed'));";
        assert_becomes!(
            browser.run(pressed),
            serde_json::json!(["true", "false", "false"])
        );
        browser.click(".set-out .pictures button:nth-child(3)");
        browser.wait_for_text(".set-out .made", "outside 900 mm x 600 mm as given");
        assert_becomes!(
            browser.value(".set-out [name=around]"),
            "the outside of the frame"
        );
        assert_becomes!(
            browser.run(pressed),
            serde_json::json!(["false", "false", "true"])
        );
        browser.screenshot(name);
    }
}

#[test]
fn a_part_with_angled_ends_is_asked_how_they_lean_and_a_brace_is_touched() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.wait_for_text("#strip-text", "2 lengths");
    place(&browser, "timber");
    browser.write("#sections [name=width]", "95");
    place(&browser, "piece");
    browser.click("#parts .more summary");
    let asked = "return document.querySelector('#parts [name=leans]').checkVisibility();";
    assert_becomes!(browser.run(asked), false);
    browser.write("#parts [name=ends]", "30");
    browser.wait_until(asked);
    assert_becomes!(browser.run(asked), true);
    assert_becomes!(
        browser.run("return document.activeElement.name;"),
        "ends",
        "typing keeps its place"
    );
    let pressed = "return [...document.querySelectorAll('#parts .field-leans .pictures button')].map((one) => one.getAttribute('aria-pressed'));";
    assert_becomes!(
        browser.run(pressed),
        serde_json::json!(["true", "false", "false"])
    );
    // The third is the mirror image of the second.
    browser.click("#parts .field-leans .pictures button:nth-child(3)");
    assert_becomes!(
        browser.run(pressed),
        serde_json::json!(["false", "false", "true"])
    );
    browser.wait_for_text("#all-parts", "30\u{b0}, the same way, mirrored");
    browser.click("#parts .field-leans .pictures button:nth-child(2)");
    assert_becomes!(
        browser.run(pressed),
        serde_json::json!(["false", "true", "false"])
    );
    assert_becomes!(browser.value("#parts [name=leans]"), "the same way");
    browser.wait_for_text("#all-parts", "30\u{b0}, the same way");
    browser.screenshot("a-brace");
    // Where both ends are square again the question is hidden, and the earlier choice is kept.
    browser.write("#parts [name=ends]", "");
    browser.wait_until("return !document.querySelector('#parts [name=leans]').checkVisibility();");
    assert_becomes!(browser.run(asked), false);
    browser.write("#parts [name=ends]", "30; square");
    browser.wait_for_text("#all-parts", "30°; square");
    assert_becomes!(browser.run(asked), false);
    browser.write("#parts [name=ends]", "30");
    assert_becomes!(
        browser.run(pressed),
        serde_json::json!(["false", "true", "false"])
    );
}

#[test]
fn the_kerf_is_worked_out_from_ten_cuts_and_taken_back_by_undo() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    place(&browser, "timber");
    let before = browser.value("#saw-fields [name=kerf]");
    browser.click("#measure-kerf");
    browser.write("#ask-fields [name=before]", "500");
    browser.write("#ask-fields [name=after]", "501");
    browser.screenshot("kerf-dialog");
    browser.click("#ask-yes");
    browser.wait_for_text("#ask-fields", "no shorter together than the scrap was");
    browser.write("#ask-fields [name=after]", "476.5");
    browser.click("#ask-yes");
    browser.wait_until(
        "return document.querySelector('#saw-fields [name=kerf]').value === '2.35 mm';",
    );
    browser.click("#undo");
    browser.wait_until(&format!(
        "return document.querySelector('#saw-fields [name=kerf]').value === '{before}';"
    ));
}

#[test]
fn narrow_parts_share_a_board_and_the_saw_says_how_it_is_ripped() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.wait_for_text("#strip-text", "2 lengths");
    place(&browser, "timber");
    browser.write("#sections [name=thickness]", "22");
    browser.write("#sections [name=width]", "145");
    place(&browser, "piece");
    browser.click("#parts .more summary");
    browser.wait_until("return document.querySelector('#parts [name=keeps]') !== null;");
    let asked = "return document.querySelector('#parts [name=keeps]').checkVisibility();";
    assert_becomes!(browser.run(asked), false, "no edge stays of a whole board");
    // Three of 40 and two cuts of 2.4 are 124.8 wide: eight legs are three blanks of 560, which one length of 2.4 m holds.
    browser.write("#parts [name=ripped]", "40");
    browser.wait_for_text("#all-parts", "ripped to 40 mm");
    browser.wait_for_text("#strip-text", "1 length");
    planned(&browser);
    browser.screenshot("narrow-parts-typed");
    place(&browser, "plan");
    browser.screenshot("narrow-parts-planned");
    place(&browser, "saw");
    browser.wait_for_text("#place-saw", "fence to 40 mm");
    browser.wait_for_text("#place-saw", "push stick");
    browser.screenshot("narrow-parts-at-the-saw");
    // The rip is a step to tick of its own, after the cut that frees the piece.
    let lines =
        "return [...document.querySelectorAll('#place-saw .label')].map((one) => one.textContent);";
    let lines = browser.run(lines);
    let lines: Vec<&str> = lines
        .as_array()
        .expect("lines")
        .iter()
        .filter_map(|line| line.as_str())
        .collect();
    let rip = lines.iter().position(|line| line.starts_with("rip A1"));
    let rip = rip.expect("a rip");
    assert!(rip > 0 && lines[rip - 1].starts_with("A "), "{lines:?}");
    browser.resize(Screen {
        width: 1280,
        height: 800,
        touch: Touch::Mouse,
    });
    browser.screenshot("narrow-parts-at-the-saw-wide");
    assert_eq!(browser.console_errors(), Vec::<String>::new());
}
