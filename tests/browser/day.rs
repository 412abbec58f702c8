//! A day with the page: one file on a phone, no network, from the sketch to the offcuts, and a second piece from them.

use crate::carried_out::{finish, spoil};
use crate::harness::{Browser, Network};
use crate::page::{add_part, add_section, new_piece, place, planned, unfold};
use crate::site;
use crate::wood::{Board, Wood, millimetres, sheets};

#[test]
fn a_day_from_the_drawing_to_the_offcuts_without_a_network() {
    let browser = Browser::phone();
    browser.network(Network::Off);
    browser.go(&site::one_file());
    planned(&browser);

    // Set out: the demo piece, made a little wider.
    unfold(&browser, 1);
    browser.write(".set-out:nth-child(1) [name=width]", "1420");
    planned(&browser);
    browser.screenshot("day-1-set-out");

    // Three more boards in the shed.
    place(&browser, "timber");
    for (mark, length) in [("X1", "2300"), ("X2", "1750"), ("X3", "1200")] {
        browser.click("#add-board");
        let row = "#shed .row:not(.folded)";
        browser.write(&format!("{row} [name=mark]"), mark);
        browser.choose(&format!("{row} [name=section]"), "frame 45 x 70");
        browser.write(&format!("{row} [name=length]"), length);
    }
    planned(&browser);
    browser.screenshot("day-2-shed");

    // At the yard: the first length is measured long, two others are not there.
    place(&browser, "plan");
    browser.screenshot("day-3-plan");
    browser.click(".buy:nth-child(1) .open");
    browser.click(".buy:nth-child(1) .measured");
    let sold = browser.text(".buy:nth-child(1) .length");
    // The yard says it in metres, the tape in millimetres.
    let long = millimetres(&sold) + 12.0;
    browser.write("#ask-fields [name=length]", &long.to_string());
    browser.click("#ask-yes");
    browser.wait_for_text("#car", "1 length");
    planned(&browser);
    for _ in 0..2 {
        let gone = last_row(&browser);
        browser.click(".buy:last-child .open");
        browser.click(".buy:last-child .missing");
        browser.wait_for("the list without it", || {
            (!rows(&browser).contains(&gone)).then_some(())
        });
        planned(&browser);
    }
    browser.screenshot("day-4-yard");
    let morning = shed(&browser);
    let mut wood = Wood(morning.clone());
    let measured = browser.text(".buy:nth-child(1) .section");
    wood.0.push(Board::new(section_named(&measured), long));
    wood.0.extend(to_buy(&browser));
    // A new length gets its mark from the engine before it counts as bought, so each tick is waited for.
    while browser.count(".buy .tick:not(:disabled)") != 0 {
        let before = bought(&browser);
        browser.click(".buy .tick:not(:disabled)");
        browser.wait_for("the tick", || (bought(&browser) != before).then_some(()));
        planned(&browser);
    }

    // At the saw: half of the boards, then a part is spoiled.
    place(&browser, "saw");
    let planned_first = sheets(&browser);
    let boards = planned_first.len();
    choose_board(&browser, 0);
    for sheet in &planned_first[..boards / 2] {
        browser.run("for (const button of document.querySelectorAll('.step:not(.done) button')) button.click();");
        browser.click("#board-after");
        wood.cut(sheet);
    }
    browser.screenshot("day-5-half-cut");
    spoil(&browser, 1);
    wood.spoil_first(&planned_first[boards / 2]);
    browser.wait_for("fewer boards", || {
        (browser.count("#board-choice option") < boards).then_some(())
    });
    planned(&browser);
    browser.screenshot("day-6-again");

    // Finish, and find the offcuts that the plan listed, and the boards that are as they were in the morning.
    place(&browser, "plan");
    let told = told_to_go_back(&browser);
    place(&browser, "saw");
    for sheet in &sheets(&browser) {
        wood.cut(sheet);
    }
    finish(&browser);
    place(&browser, "timber");
    let offcuts = shed(&browser);
    assert!(told.len() > 2, "{told:?}");
    let mut not_told = Wood(offcuts.clone());
    for board in &told {
        not_told.take(&board.section, board.length);
    }
    assert!(not_told.0.iter().all(|board| morning.contains(board)));
    wood.assert_kept(&offcuts);
    browser.screenshot("day-7-shed");

    // A second piece is planned from them.
    new_piece(&browser, "Shelf");
    add_section(&browser, "frame 45 x 70");
    place(&browser, "piece");
    add_part(&browser, "bearer", "300");
    planned(&browser);
    place(&browser, "plan");
    assert_soon!(browser.text("#buying-totals").contains("no lengths"));
    browser.screenshot("day-8-second-piece");
}

fn rows(browser: &Browser) -> Vec<String> {
    let rows = browser.run("return [...document.querySelectorAll('.buy')].map((row) => row.querySelector('.length').textContent + ' ' + row.querySelector('.section').textContent);");
    let rows = rows.as_array().unwrap().iter();
    rows.map(|row| row.as_str().unwrap().to_owned()).collect()
}

fn last_row(browser: &Browser) -> String {
    rows(browser).pop().expect("something is to be bought")
}

/// How many of each row are bought, as the page says it.
fn bought(browser: &Browser) -> serde_json::Value {
    browser
        .run("return [...document.querySelectorAll('.buy .bought')].map((one) => one.textContent);")
}

/// The boards of the shed as its rows show them.
fn shed(browser: &Browser) -> Vec<Board> {
    let rows = browser.run(
        "return [...document.querySelectorAll('#shed .row')].map((row) => {
             row.unfold();
             return ['section', 'length', 'bad'].map((name) => row.querySelector(`[name=${name}]`).value);
         });",
    );
    let rows = rows.as_array().unwrap().iter();
    rows.map(|row| {
        let [section, length, bad] = [0, 1, 2].map(|at| row[at].as_str().unwrap());
        let bad = bad
            .split("; ")
            .filter_map(|stretch| stretch.split_once(".."));
        Board {
            bad: bad
                .map(|(from, to)| (millimetres(from), millimetres(to)))
                .collect(),
            ..Board::new(section, millimetres(length))
        }
    })
    .collect()
}

/// What the plan says goes back to the shed: "337.5 mm, board 19 x 145, marked 4T-2 (from board 4)".
fn told_to_go_back(browser: &Browser) -> Vec<Board> {
    let lines = browser.run("return [...document.querySelectorAll('#back-to-shed li')].map((line) => line.textContent.split(', '));");
    let lines = lines.as_array().unwrap().iter();
    lines
        .map(|line| {
            // A sound board has nothing between its section and where it comes from.
            let section = line[1].as_str().unwrap().split(" (from ").next().unwrap();
            let strip = line
                .get(2)
                .and_then(|more| more.as_str())
                .and_then(|more| more.split(" (from ").next());
            let strip = strip
                .filter(|more| more.ends_with(" wide"))
                .map(|wide| format!("{section}, {wide}"));
            let length = millimetres(line[0].as_str().unwrap());
            Board::new(strip.as_deref().unwrap_or(section), length)
        })
        .collect()
}

/// The lengths on the buying list that are not bought yet.
fn to_buy(browser: &Browser) -> Vec<Board> {
    let rows = browser.run(
        "const text = (row, name) => row.querySelector('.' + name).textContent;
         return [...document.querySelectorAll('.buy')].map((row) => ['count', 'length', 'section'].map((name) => text(row, name)));",
    );
    let rows = rows.as_array().unwrap().iter();
    rows.flat_map(|row| {
        let [count, length, section] = [0, 1, 2].map(|at| row[at].as_str().unwrap());
        let count: usize = count.trim_end_matches(" ×").parse().unwrap();
        vec![Board::new(section_named(section), millimetres(length)); count]
    })
    .collect()
}

/// "frame 45 x 70, 9.60 each" is a line of frame 45 x 70.
fn section_named(line: &str) -> &str {
    line.split(", ").next().unwrap()
}

fn choose_board(browser: &Browser, index: usize) {
    let option = format!("#board-choice option:nth-child({})", index + 1);
    browser.choose("#board-choice", &browser.text(&option));
}
