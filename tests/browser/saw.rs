//! At the saw: what is cut stays cut, and the plan follows what goes wrong.

use crate::carried_out::{cut, cuts_done, finish, one_of_two_bought, rested, spoil, to_buy};
use crate::harness::{Browser, Key, Screen, Touch};
use crate::page::{
    add_part, add_section, demo, kept_piece, legs_at_the_saw, legs_beside_the_demo, new_piece,
    place, planned,
};

#[test]
fn cuts_are_ticked_off_and_a_tick_is_taken_back() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.click(".step:nth-child(1) button");
    cuts_done(&browser, 1);
    browser.click(".step:nth-child(2) button");
    cuts_done(&browser, 2);
    browser.click(".step:nth-child(2) button");
    cuts_done(&browser, 1);
    browser.reload();
    cuts_done(&browser, 1);
}

#[test]
fn a_spoiled_part_is_planned_again_and_what_is_cut_stays_cut() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    spoil(&browser, 2);
    // One leg is cut, one is spoiled: seven are left, for the rest of the first board and one more length.
    to_buy(&browser, 1);
    let kept = kept_piece(&browser);
    let legs = kept["work"]["legs"].as_array().unwrap();
    assert_eq!(legs.len(), 2);
    assert_eq!(legs[1]["job"]["parts"][0]["quantity"], "7");
    assert_eq!(legs[1]["job"]["shed"].as_array().unwrap().len(), 1);
    browser.click("#undo");
    to_buy(&browser, 2);
}

#[test]
fn a_board_that_is_bad_from_a_reading_on_is_cut_short() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.click("#went-wrong");
    browser.click("#wrong-bad-take");
    browser.wait_for_text("#wrong-bad .fault", "tape");
    browser.write("#wrong-bad [name=bad_from]", "1800");
    browser.click("#wrong-bad-take");
    // Three legs come from the good 1800 mm, and five from one more length.
    to_buy(&browser, 1);
    planned(&browser);
    // Nothing is cut of it yet, so it keeps its mark and its length.
    browser.wait_for_text("#board h2", "1T, batten, 2400 mm");
    browser.wait_for_text("#board .offcuts", "scrap");
}

#[test]
fn a_board_that_the_tape_finds_shorter_is_planned_with_the_length_it_has() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.click("#went-wrong");
    browser.click("#wrong-length-take");
    browser.wait_for_text("#wrong-length .fault", "read the tape");
    browser.write("#wrong-length [name=real_length]", "2500");
    browser.click("#wrong-length-take");
    browser.wait_for_text("#wrong-length .fault", "is 2400 mm long");
    browser.write("#wrong-length [name=real_length]", "1800");
    browser.click("#wrong-length-take");
    browser.wait_for_text("#notices", "only 1800 mm is in hand");
    to_buy(&browser, 1);
    // It is a board of that length now, whose ends are still to be trimmed, and no longer one with a bad end.
    browser.wait_for_text("#board h2", "1T, batten, 1800 mm");
}

/// Less than the trim of its end lacks, which is still to be cut off where the board really ends.
#[test]
fn a_board_that_lacks_less_than_its_end_trim_goes_to_the_shed_as_long_as_it_is() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.write("#parts [name=quantity]", "2");
    planned(&browser);
    place(&browser, "saw");
    browser.click("#went-wrong");
    browser.write("#wrong-length [name=real_length]", "2394");
    browser.click("#wrong-length-take");
    planned(&browser);
    browser.wait_for_text("#board h2", "1T, batten, 2394 mm");
    finish(&browser);
    place(&browser, "timber");
    // 2394 - 10 - 2 x 562.4 = 1259.2, as the tape of half millimetres reads it.
    let lengths = "for (const row of document.querySelectorAll('#shed .row')) row.unfold();
        return [...document.querySelectorAll('#shed .row')].filter((row) => row.querySelector('[name=section]').value === 'batten')
        .map((row) => row.querySelector('[name=length]').value);";
    assert_becomes!(browser.run(lengths), serde_json::json!(["1259 mm"]));
}

/// What is sound of a spoiled part is one of the boards that the rest is planned from.
#[test]
fn a_shorter_part_comes_from_what_is_sound_of_a_spoiled_one() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.click("#add-part");
    for (field, text) in [("label", "cap"), ("length", "400")] {
        browser.write(&format!("#parts .row:nth-child(2) [name={field}]"), text);
    }
    planned(&browser);
    place(&browser, "saw");
    // Four legs come from the first board, and the cap from the second.
    browser.wait_for_text("#board .step:nth-child(2)", "leg");
    browser.click("#went-wrong");
    browser.write("#wrong-sound [name=sound]", "570");
    browser.click("#wrong-parts button:nth-child(1)");
    browser.wait_for_text("#wrong-sound .fault", "the part is 560 mm long");
    browser.screenshot("sound-of-a-spoiled-part");
    browser.write("#wrong-sound [name=sound]", "410");
    browser.click("#wrong-parts button:nth-child(1)");
    browser.wait_for_text("#notices", "Leg spoiled, 410 mm of it sound: planned again");
    planned(&browser);
    // The rest of the board is at the saw, not the end of the spoiled leg.
    browser.wait_for_text("#board .mark-line", "the end that was cut last");
    let choice = "return [...document.querySelectorAll('#board-choice option')].map((one) => one.text).find((text) => text.includes(', 410 mm'));";
    let choice = browser.wait_until(choice);
    browser.choose("#board-choice", choice.as_str().unwrap());
    browser.wait_for_text("#board .steps", "cap");
    finish(&browser);
}

/// The rest of a board that is planned again comes before what is still to be bought: it is told by the number that it had.
#[test]
fn a_board_in_hand_that_gets_another_number_says_which_it_had() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.click("#board-after");
    browser.wait_for_text("#board h2", "Board 2: ");
    spoil(&browser, 1);
    planned(&browser);
    browser.wait_for_text("#board h2", "Board 1, was 2: ");
    browser.screenshot("the-number-it-had");
    // The other boards are none that anybody has begun.
    browser.click("#board-after");
    browser.wait_for_text("#board h2", "Board 2: ");
}

/// What goes to the shed is told with the bad stretch that is left on it.
#[test]
fn the_list_of_what_goes_to_the_shed_says_where_it_is_bad() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.write("#parts [name=quantity]", "1");
    planned(&browser);
    place(&browser, "saw");
    browser.click("#went-wrong");
    browser.write("#wrong-bad [name=bad_from]", "1500");
    browser.write("#wrong-bad [name=bad_to]", "1560");
    browser.click("#wrong-bad-take");
    planned(&browser);
    browser.wait_for_text("#board .offcuts", "Write 1T-2 on the offcut");
    browser.click("#finish");
    browser.wait_for_text("#ask-lines", "batten, bad from ");
    browser.screenshot("bad-stretch-of-an-offcut");
}

/// Where the tape is hooked stands beside the reading, before the first cut and after it; what is told wrong is read from the end in hand.
#[test]
fn the_end_that_the_tape_is_hooked_on_stands_beside_each_reading() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.resize(Screen {
        width: 360,
        height: 740,
        touch: Touch::Finger,
    });
    assert_becomes!(browser.text("#bench-hook"), "from the end it came with");
    let in_sight = "const hook = document.getElementById('bench-hook');
         const [box, cut] = [hook, document.getElementById('bench-cut')].map((one) => one.getBoundingClientRect());
         return parseFloat(getComputedStyle(hook).fontSize) >= 18 && box.top >= 0 && cut.bottom <= innerHeight && box.bottom <= cut.top;";
    assert_becomes!(browser.run(in_sight), true);
    browser.wait_for_text("#board .before-cutting", "hooked on the end it came with");
    cut(&browser);
    // The first leg from the mark, or as long as it is from the end that the trim left.
    assert_becomes!(
        browser.text("#bench-hook"),
        "from the end it came with, or 560 mm from the fresh end"
    );
    assert_becomes!(browser.text("#bench-reading"), "570");
    assert_becomes!(browser.run(in_sight), true);
    browser.resize(Screen {
        width: 740,
        height: 500,
        touch: Touch::Finger,
    });
    let low = "const [box, cut] = ['bench-hook', 'bench-cut'].map((id) => document.getElementById(id).getBoundingClientRect());
         return box.height > 0 && Math.max(box.bottom, cut.bottom) <= document.getElementById('main').getBoundingClientRect().bottom;";
    assert_becomes!(browser.run(low), true);
    browser.click("#went-wrong");
    browser.wait_for_text(
        "#wrong-hand",
        "The piece in hand is 2390 mm long. Hook the tape on the fresh end, and read it there.",
    );
    browser.write("#wrong-bad [name=bad_from]", "2500");
    browser.click("#wrong-bad-take");
    browser.wait_for_text("#wrong-bad .fault", "2390 mm long, from the fresh end");
}

/// A trim and an offcut to keep are cuts too: what is in hand begins behind the last of them, and what was told to be written on an offcut stays.
#[test]
fn a_cut_that_frees_no_part_counts_when_the_board_turns_out_bad() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    planned(&browser);
    place(&browser, "saw");
    cut(&browser);
    cuts_done(&browser, 1);
    browser.click("#went-wrong");
    browser.wait_for_text("#wrong-hand", "2390 mm long");
    browser.write("#wrong-bad [name=bad_from]", "1190");
    browser.write("#wrong-bad [name=bad_to]", "1250");
    browser.click("#wrong-bad-take");
    planned(&browser);
    // The piece in hand is 10 mm shorter than the length was, and its end needs no trim any more.
    browser.wait_for_text("#board h2", "2390 mm");
    browser.wait_for_text(
        "#board .mark-line",
        "Hook the tape on the end that was cut last.",
    );
    assert_becomes!(browser.text("#bench-reading"), "560");
    assert_becomes!(
        browser.text("#bench-hook"),
        "from the end it came with: the end that was cut last"
    );
    place(&browser, "plan");
    browser.wait_for_text("#said", "bad from 1190 mm to 1250 mm");
}

/// One touch that a wet glass takes for two makes one cut, and so does a key that is held down.
#[test]
fn two_touches_at_once_and_a_key_held_down_make_one_cut() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.run("const cut = document.getElementById('bench-cut'); cut.click(); cut.click();");
    cuts_done(&browser, 1);
    rested(&browser);
    cuts_done(&browser, 1);
    browser.run(
        "document.activeElement.blur();
         for (const repeat of [false, true, true]) document.body.dispatchEvent(new KeyboardEvent('keydown', { key: 'ArrowDown', repeat, bubbles: true, cancelable: true }));",
    );
    cuts_done(&browser, 2);
    rested(&browser);
    // Enter and the space bar press the button that has the keyboard.
    browser.run("document.getElementById('bench-cut').focus();");
    browser.press(Key::Enter);
    cuts_done(&browser, 3);
    rested(&browser);
    browser.press(Key::Space);
    cuts_done(&browser, 4);
    let held = "const down = new KeyboardEvent('keydown', { key: 'Enter', repeat: true, bubbles: true, cancelable: true });
         return document.getElementById('bench-cut').dispatchEvent(down);";
    assert_eq!(browser.run(held), false);
}

/// From the last board the way leads to the first that is not cut, and what is said after a mishap leaves the reading where it is.
#[test]
fn the_next_board_is_the_first_that_is_not_cut_and_a_message_moves_no_reading() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.click("#board-after");
    for _ in 0..browser.count("#board .step") {
        cut(&browser);
    }
    browser.wait_for_text("#bench-next", "Next board: 1");
    // What is said of the board stands above the way on.
    assert_becomes!(
        browser.run("const [what, next] = ['bench-what', 'bench-next'].map((id) => document.getElementById(id).getBoundingClientRect()); return what.bottom <= next.top;"),
        true
    );
    browser.run("document.activeElement.blur();");
    browser.press(Key::Right);
    browser.wait_for_text("#board h2", "Board 1");
    let top =
        "return Math.round(document.getElementById('bench-reading').getBoundingClientRect().top);";
    let before = browser.run(top);
    spoil(&browser, 1);
    browser.wait_for_text("#notices", "planned again");
    planned(&browser);
    assert_becomes!(
        browser.run(
            "const [notes, bench] = ['notices', 'bench'].map((id) => document.getElementById(id).getBoundingClientRect());
             return notes.height > 0 && notes.bottom <= bench.top;"
        ),
        true
    );
    assert_soon!((browser.run(top).as_i64().unwrap() - before.as_i64().unwrap()).abs() < 60);
}

#[test]
fn a_board_that_is_bad_from_a_reading_in_inches_is_cut_short() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Trestle");
    browser.choose("#piece-fields [name=unit]", "inches");
    add_section(&browser, "2 x 4");
    browser.click("#sections .add-length");
    browser.write("#sections .yard .row [name=length]", "16'");
    place(&browser, "piece");
    add_part(&browser, "slat", "4' 2 1/2");
    browser.write("#parts [name=quantity]", "4");
    planned(&browser);
    place(&browser, "saw");
    browser.click("#went-wrong");
    browser.write("#wrong-bad [name=bad_from]", "5'");
    browser.click("#wrong-bad-take");
    // One slat of 50 1/2 in comes from the 5 ft that are sound, three from another length: four would take 202 of its 192 in. The trim of the datum end is the
    // usual 10 mm, which is no fraction of an inch.
    browser.wait_for_text("#board-choice", "1T,");
    planned(&browser);
    place(&browser, "plan");
    browser.wait_for_text("#headline", "Buy 1 length");
}

#[test]
fn a_finished_piece_leaves_its_offcuts_in_the_shed_for_the_next() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.write("#parts [name=quantity]", "7");
    planned(&browser);
    place(&browser, "saw");
    finish(&browser);
    place(&browser, "timber");
    // A length of 2.4 m holds four legs and no more, so seven can only be cut as four and three: of the first too little is left to keep, of
    // the second 2400 - 10 - 3 x 562.4 = 702.8 mm, shelved as the tape of half millimetres reads it.
    let lengths = "for (const row of document.querySelectorAll('#shed .row')) row.unfold();
        return [...document.querySelectorAll('#shed .row')].filter((row) => row.querySelector('[name=section]').value === 'batten')
        .map((row) => row.querySelector('[name=length]').value);";
    assert_becomes!(browser.run(lengths), serde_json::json!(["702.5 mm"]));
    browser.click("#undo");
    browser.wait_until("return ![...document.querySelectorAll('#shed [name=length]')].some((field) => field.value === '702.5 mm');");
    planned(&browser);
}

#[test]
fn equal_settings_stand_together_over_all_boards() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.click("#group-settings");
    browser.wait_for_text("#settings", "8 ×");
    assert_becomes!(browser.count("#settings .setting"), 1);
    // No board is chosen where all are shown.
    assert_becomes!(
        browser.run("return document.getElementById('board-choice').checkVisibility();"),
        false
    );
}

#[test]
fn a_finished_piece_says_so_and_asks_first_where_cuts_are_not_ticked() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.click("#finish");
    browser.wait_for_text("#ask-text", "No board is ticked as cut.");
    browser.click("#ask-no");
    browser.click(".step:first-child button");
    cuts_done(&browser, 1);
    browser.click("#finish");
    browser.wait_for_text("#h-ask", "Finished all the same?");
    browser.click("#ask-yes");
    browser.wait_for_text("#finish", "Finished on");
    place(&browser, "plan");
    browser.wait_for_text("#headline", "Finished on");
    assert_becomes!(browser.text("#plan-count"), "finished");
    assert_becomes!(browser.count(".buy .tick:not(:disabled)"), 0);
    assert_soon!(!browser.text("#buying").contains("of 2"));
    browser.screenshot("finished-phone");
}

/// Changes what the device keeps of the plan under way, then starts the page again.
fn kept_otherwise(browser: &Browser, change: &str) {
    browser.run(&format!(
        "const name = 'lengthwise/piece/' + JSON.parse(localStorage['lengthwise/index']).open;
         const piece = JSON.parse(localStorage[name]);
         const {{ plan }} = piece.work.legs.at(-1);
         {change}
         localStorage[name] = JSON.stringify(piece);"
    ));
    browser.reload();
}

#[test]
fn a_half_cut_plan_of_an_older_version_is_cut_on() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.click(".step:nth-child(1) button");
    browser.click(".step:nth-child(2) button");
    cuts_done(&browser, 2);
    kept_otherwise(
        &browser,
        "plan.version = 1;
         for (const proof of plan.proofs) for (const level of proof.certificate ?? []) level.tree = { split: { fewer: {}, more: {} } };",
    );
    cuts_done(&browser, 2);
    // The second leg is spoiled: one is cut, seven of the eight are left.
    spoil(&browser, 2);
    let left = browser.wait_until(
        "const key = JSON.parse(localStorage['lengthwise/index']).open;
         return JSON.parse(localStorage['lengthwise/piece/' + key]).work.legs[1]?.job.parts[0].quantity ?? null;",
    );
    assert_eq!(left, "7");
    planned(&browser);
}

#[test]
fn a_half_cut_plan_that_nobody_can_read_leaves_all_that_is_known_and_a_way_on() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.click(".step:nth-child(1) button");
    cuts_done(&browser, 1);
    place(&browser, "plan");
    one_of_two_bought(&browser);
    kept_otherwise(&browser, "plan.boards = [{ plank: 3 }]; plan.version = 9;");
    browser.wait_for_text("#headline", "cannot be read here");
    browser.wait_for_text("#explanation", "version 9");
    browser.wait_for_text("#explanation", "1 × 2400 mm of batten, marked 1T");
    browser.wait_for_text("#explanation", "1 board has cuts ticked");
    place(&browser, "saw");
    browser.click("#saw-way-on");
    browser.click("#begin-anew");
    planned(&browser);
    // A piece of its own, with all eight legs and the bought length in the shed: 2400 mm holds four, so one more is bought.
    browser.wait_for_text("#headline", "Buy 1 length");
    place(&browser, "piece");
    assert_becomes!(browser.value("#parts [name=quantity]"), "8");
    let old = browser.run(
        "const pieces = JSON.parse(localStorage['lengthwise/index']).pieces.map((key) => JSON.parse(localStorage['lengthwise/piece/' + key]));
         const { archived, work } = pieces.find((piece) => piece.job.piece === 'Stool');
         return [archived, work.legs[0].progress.boards[0].steps];",
    );
    assert_eq!(old, serde_json::json!([true, 1]));
}

#[test]
fn what_is_to_be_minded_with_a_board_stands_before_its_first_cut() {
    let browser = Browser::phone();
    demo(&browser);
    planned(&browser);
    place(&browser, "saw");
    // The example has boards with bad stretches; the first of them is looked for.
    browser.wait_until(
        "if (document.querySelector('#board .cautions').textContent.includes('Mark the bad stretches first')) return true;
         document.getElementById('board-after').click();
         return false;",
    );
    let before = browser.run(
        "const [cautions, steps] = ['.cautions', '.steps'].map((name) => document.querySelector(`#board ${name}`));
         return cautions.getBoundingClientRect().bottom <= steps.getBoundingClientRect().top && steps.children.length > 0;",
    );
    assert_eq!(before, true);
}

#[test]
fn a_rest_in_hand_is_named_by_its_length_and_an_offcut_by_the_mark_to_write_on_it() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.write("#parts [name=quantity]", "7");
    planned(&browser);
    place(&browser, "plan");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .bought", "1 of 2");
    browser.click(".buy .tick");
    browser.wait_for_text(".buy .marks", "1T, 2T");
    place(&browser, "saw");
    // Three legs come from one length, of which 2400 - 10 - 3 x 562.4 = 702.8 mm are left, and four from the other, which leaves scrap.
    browser.wait_for_text("#board .offcuts", "you keep");
    assert_becomes!(
        browser.text("#board .offcuts"),
        "702.5 mm left from 1697.5, keep it\nWrite 1T-2 on the offcut of 702.5 mm that you keep."
    );
    // Bad from 1800 on, and nothing is cut of it: it is what it was, and called by that.
    browser.click("#went-wrong");
    browser.write("#wrong-bad [name=bad_from]", "1800");
    browser.click("#wrong-bad-take");
    planned(&browser);
    browser.wait_for_text("#board-choice", "1: 1T, 2400 mm");
    let names = browser.run(
        "return [...document.querySelectorAll('#board-choice option')].map((option) => option.textContent);",
    );
    assert_eq!(
        names,
        serde_json::json!(["1: 1T, 2400 mm", "2: 2T, 2400 mm"])
    );
}

#[test]
fn boards_that_were_cut_on_an_earlier_plan_stay_counted() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    let steps = browser.run("return document.querySelectorAll('#board .step').length;");
    let steps = steps.as_u64().expect("a number") as usize;
    for step in 1..=steps {
        browser.click(&format!(".step:nth-child({step}) button"));
        cuts_done(&browser, step);
    }
    browser.wait_for_text("#saw-count", "1 of 2 cut");
    browser.click("#board-after");
    spoil(&browser, 1);
    // Of four legs of the second board one is spoiled: its rest holds three, and one more length holds the fourth.
    browser.wait_for_text("#saw-count", "1 of 3 cut");
}

#[test]
fn the_next_cut_is_large_in_reach_and_leads_from_board_to_board() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    let reading = |browser: &Browser| browser.text("#bench-reading");
    let steps = browser.count("#board .step");
    assert_becomes!(
        reading(&browser),
        browser.text("#board .step:nth-child(1) .reading")
    );
    let size =
        "return parseFloat(getComputedStyle(document.getElementById('bench-reading')).fontSize);";
    assert_soon!(browser.run(size).as_f64().is_some_and(|size| size >= 72.0));
    browser.wait_for_text("#bench-count", "0 of 8 parts cut");
    browser.screenshot("bench-phone");
    cut(&browser);
    browser.wait_for_text("#bench-what", "leg");
    assert_becomes!(
        reading(&browser),
        browser.text("#board .step:nth-child(2) .reading")
    );
    // The arrow keys do the same, and take it back.
    browser.run("document.activeElement.blur();");
    rested(&browser);
    browser.press(Key::Down);
    browser.wait_for_text("#bench-count", "1 of 8 parts cut");
    rested(&browser);
    browser.press(Key::Up);
    browser.wait_for_text("#bench-count", "0 of 8 parts cut");
    for _ in 1..steps {
        cut(&browser);
    }
    browser.wait_for_text("#bench-what", "This board is cut.");
    browser.wait_for_text("#bench-next", "Next board: 2");
    browser.click("#bench-next");
    browser.wait_for_text("#board h2", "Board 2");
    // Undo keeps the board in hand.
    cut(&browser);
    browser.click("#undo");
    browser.wait_for_text("#board h2", "Board 2");
    browser.wait_for_text("#bench-count", "4 of 8 parts cut");
}

#[test]
fn the_next_cut_is_in_reach_in_a_low_window_too() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    browser.resize(Screen {
        width: 500,
        height: 553,
        touch: Touch::Mouse,
    });
    browser.wait_until(
        "document.getElementById('main').scrollTop = 0;
         const cut = document.getElementById('bench-cut').getBoundingClientRect();
         return cut.height >= 44 && cut.bottom <= document.getElementById('main').getBoundingClientRect().bottom;",
    );
}

#[test]
fn what_is_cut_of_the_piece_stays_counted_when_it_is_planned_again() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    spoil(&browser, 2);
    to_buy(&browser, 1);
    place(&browser, "saw");
    browser.wait_for_text("#bench-count", "1 of 8 parts cut");
}

#[test]
fn behind_the_last_cut_the_bench_leads_to_what_goes_to_the_shed() {
    let browser = Browser::phone();
    legs_at_the_saw(&browser);
    let boards = browser.count("#board-choice option");
    for board in 1..=boards {
        browser.wait_for_text("#board h2", &format!("Board {board}"));
        for _ in 0..browser.count("#board .tick-step") {
            cut(&browser);
        }
        if board < boards {
            browser.click("#bench-next");
        }
    }
    browser.wait_for_text("#bench-what", "Every board is cut.");
    browser.wait_for_text("#bench-next", "Piece is finished");
    browser.click("#bench-next");
    browser.wait_for_text("#h-ask", "The piece is finished?");
    // What is cut was bought, though nobody ticked it.
    browser.click("#ask-yes");
    browser.wait_for_text("#finish", "Finished");
    place(&browser, "plan");
    browser.wait_for_text("#sum tbody tr:nth-child(2)", "nothing");
}
