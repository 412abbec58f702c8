//! Appearance: nothing is cut off, too small, or covered by something else, on a phone, in dark colours and on paper.

use crate::harness::{Browser, Paper, Scheme, Screen, Touch};
use crate::page::{
    choose_common_size, demo, laid_out_for_paper, legs_beside_the_demo, new_piece, place, planned,
    small_phone, tick_every_sheet, unfold,
};
use serde_json::json;

const PLACES: [&str; 4] = ["piece", "timber", "plan", "saw"];

#[test]
fn a_board_at_the_saw_fills_the_width_and_its_readings_are_large() {
    let browser = small_phone();
    demo(&browser);
    place(&browser, "saw");
    for _ in 0..3 {
        let seen = browser.run(
            "const box = document.querySelector('#board .drawing').getBoundingClientRect();
             const bar = document.querySelector('#board .lw-bar').getBoundingClientRect();
             const texts = [...document.querySelectorAll('#board .lw text')];
             return [bar.width / box.width, bar.height, Math.min(...texts.map((text) => parseFloat(getComputedStyle(text).fontSize))),
                 texts.every((text) => text.getBoundingClientRect().right <= box.right && text.getBoundingClientRect().bottom <= box.bottom)];",
        );
        assert!(seen[0].as_f64().unwrap() > 0.9, "{seen}");
        assert!(seen[1].as_f64().unwrap() > 30.0, "{seen}");
        assert!(seen[2].as_f64().unwrap() >= 16.0, "{seen}");
        assert_eq!(seen[3], true, "{seen}");
        browser.click("#board-after");
    }
}

#[test]
fn what_is_said_of_a_cut_begins_at_one_place_on_every_row() {
    let browser = small_phone();
    demo(&browser);
    place(&browser, "saw");
    let lefts = browser.run(
        "const lefts = [...document.querySelectorAll('.step .what')].map((one) => Math.round(one.getBoundingClientRect().left));
         const over = [...document.querySelectorAll('.step button *')].filter((one) => {
             const [inner, outer] = [one.getBoundingClientRect(), one.closest('button').getBoundingClientRect()];
             return inner.width > 0 && (inner.right > outer.right || inner.left < outer.left); });
         return [new Set(lefts).size, over.length];",
    );
    assert_eq!(lefts, json!([1, 0]));
}

#[test]
fn no_choice_is_cut_off_and_nothing_scrolls_sideways_on_the_smallest_phone() {
    let browser = small_phone();
    demo(&browser);
    unfold(&browser, 1);
    for name in PLACES {
        place(&browser, name);
        browser
            .run("for (const more of document.querySelectorAll('main details')) more.open = true;");
        let cut = browser.run(
            "const pen = document.createElement('canvas').getContext('2d');
             const ARROW = 22;
             return [...document.querySelectorAll('main select')].filter((one) => one.checkVisibility()).filter((one) => {
                 const style = getComputedStyle(one);
                 pen.font = style.font;
                 const room = one.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight) - ARROW;
                 return pen.measureText(one.selectedOptions[0].text).width > room;
             }).map((one) => one.selectedOptions[0].text);",
        );
        assert_eq!(cut, json!([]), "{name}");
        let sideways = browser.run(
            "return [...document.querySelectorAll('main *')].filter((one) => one.checkVisibility()
                 && ['auto', 'scroll'].includes(getComputedStyle(one).overflowX) && one.scrollWidth > one.clientWidth + 1)
                 .map((one) => one.id || one.className);",
        );
        assert_eq!(sideways, json!([]), "{name}");
    }
}

#[test]
fn the_lines_of_the_yard_have_room_on_the_smallest_phone() {
    let browser = small_phone();
    demo(&browser);
    place(&browser, "timber");
    let row = "#sections .card:first-child .yard .row:last-child";
    for (field, text) in [("length", "2400 mm"), ("price", "112.30"), ("count", "12")] {
        browser.write(&format!("{row} [name={field}]"), text);
    }
    let cut = browser.run(
        "const pen = document.createElement('canvas').getContext('2d');
         return [...document.querySelectorAll('.yard input')].filter((one) => {
             const style = getComputedStyle(one);
             pen.font = style.font;
             return pen.measureText(one.value || one.placeholder).width > one.clientWidth - parseFloat(style.paddingLeft) - parseFloat(style.paddingRight);
         }).map((one) => one.value);",
    );
    assert_eq!(cut, json!([]));
    // At the yard: two ticks, a board that is not as it was sold, a length that is not there.
    place(&browser, "plan");
    browser.click(".buy:nth-child(3) .tick");
    browser.wait_for_text(".buy:nth-child(3) .bought", "1 of");
    browser.click(".buy:nth-child(3) .open");
    browser.click(".buy:nth-child(3) .measured");
    browser.write("#ask-fields [name=length]", "3012");
    browser.click("#ask-yes");
    browser.wait_for_text("#says", "3012 mm");
    planned(&browser);
    browser.click(".buy:last-child .open");
    browser.click(".buy:last-child .missing");
    browser.wait_for_text("#says", "no more");
    planned(&browser);
    browser.run(
        "for (const more of document.querySelectorAll('#place-plan details')) more.open = true;",
    );
    let faults = browser.run(
        "const box = (one) => one.getBoundingClientRect();
         const lines = [...document.querySelectorAll('#says li, #put-back-boards li, .buy .tick, .buy-line, .buy-more .buttons')].filter((one) => one.checkVisibility());
         const parts = (line) => [...line.querySelectorAll('*')].filter((one) => one.children.length === 0 && one.textContent !== '' && one.checkVisibility());
         // Text that runs on has a box a line.
         const boxes = (one) => [...one.getClientRects()];
         const over = (one, other) => boxes(one).some((mine) => boxes(other).some((its) => mine.left < its.right - 1 && its.left < mine.right - 1
             && mine.top < its.bottom - 1 && its.top < mine.bottom - 1));
         return {
             lines: lines.length,
             over: lines.flatMap((line) => parts(line).flatMap((one, at, all) => all.slice(at + 1).filter((other) => over(one, other)).map((other) => `${one.textContent} / ${other.textContent}`))),
             out: lines.flatMap((line) => parts(line).filter((one) => box(one).right > box(line).right + 1 || one.scrollWidth > one.clientWidth + 1 && getComputedStyle(one).overflowX !== 'visible').map((one) => one.textContent)),
             small: lines.flatMap((line) => [...line.querySelectorAll('button, summary')]).filter((one) => one.checkVisibility() && (box(one).height < 44 || box(one).width < 44)).map((one) => one.textContent),
         };",
    );
    assert!(faults["lines"].as_i64().unwrap() > 8, "{faults}");
    for kind in ["over", "out", "small"] {
        assert_eq!(faults[kind], json!([]), "{kind}");
    }
    browser.screenshot("yard-lines-smallest");
}

#[test]
fn readings_stand_out_from_their_ground_in_light_and_dark() {
    let browser = Browser::phone();
    demo(&browser);
    for scheme in [Scheme::Light, Scheme::Dark] {
        browser.colours(scheme);
        for (name, drawing) in [("plan", "#plan-drawing"), ("saw", "#board .drawing")] {
            place(&browser, name);
            // The ratio of WCAG 2.2, from relative luminance; seven to one is its enhanced contrast.
            let least = browser.run(&format!(
                "const light = (text) => {{
                     const [red, green, blue] = text.match(/[\\d.]+/g).map((part) => part / 255)
                         .map((part) => (part <= 0.04045 ? part / 12.92 : ((part + 0.055) / 1.055) ** 2.4));
                     return 0.2126 * red + 0.7152 * green + 0.0722 * blue; }};
                 const box = document.querySelector('{drawing}');
                 // In the dark a drawing's ink and paper change places by a filter.
                 const seen = (one) => {{
                     const turned = Number(/invert\\(([\\d.]+)\\)/.exec(getComputedStyle(one.closest('svg.lw')).filter)?.[1] ?? 0);
                     return getComputedStyle(one).fill.replace(/[\\d.]+/g, (part) => turned * (255 - part) + (1 - turned) * part); }};
                 const ground = light(seen(box.querySelector('.lw-paper')));
                 return Math.min(...[...box.querySelectorAll('.lw-reading')].map((text) => {{
                     const ink = light(seen(text));
                     return (Math.max(ink, ground) + 0.05) / (Math.min(ink, ground) + 0.05); }}));"
            ));
            assert!(least.as_f64().unwrap() > 7.0, "{name}, {scheme:?}: {least}");
        }
    }
}

#[test]
fn drawings_keep_their_paper_and_ink_where_a_device_darkens_pages_by_itself() {
    let browser = Browser::phone();
    demo(&browser);
    unfold(&browser, 1);
    for (name, drawing) in [
        ("piece", ".set-out .drawing svg"),
        ("plan", "#plan-drawing .rod:first-child svg.lw"),
        ("plan", "#legend svg"),
        ("saw", "#board .drawing > svg"),
    ] {
        place(&browser, name);
        if name == "plan" {
            // What is found later moves the drawing, by parts of a pixel too.
            browser.wait_until(
                "const note = document.querySelector('#savings-note').textContent;
                 return note !== '' && !note.startsWith('Looking');",
            );
        }
        let seen = |darkened: bool| {
            browser.devtools(
                "Emulation.setAutoDarkModeOverride",
                json!({ "enabled": darkened }),
            );
            [drawing, "nav.places"].map(|selector| browser.picture_of(selector))
        };
        let ([drawn, around], [dark_drawn, dark_around]) = (seen(false), seen(true));
        assert!(around != dark_around, "{name}: nothing was darkened");
        assert!(drawn == dark_drawn, "{name}: {drawing} is darkened");
    }
}

#[test]
fn readings_of_one_row_stand_apart() {
    let browser = small_phone();
    demo(&browser);
    // What two readings run together say is another reading. The space that DejaVu Sans leaves between words is 0.32 of its
    // height, less than 4 pixels at the smaller of the two sizes.
    let least = |drawing: &str| {
        browser.run(&format!(
            "const boxes = [...document.querySelectorAll('{drawing} .lw-reading')].map((text) => text.getBoundingClientRect());
             const gaps = boxes.flatMap((one) => boxes.filter((other) => other.top === one.top && other.left > one.left)
                 .map((other) => other.left - one.right));
             return gaps.length ? Math.min(...gaps) : null;"
        ))
    };
    place(&browser, "plan");
    assert!(least("#plan-drawing").as_f64().unwrap() >= 4.0);
    place(&browser, "saw");
    for _ in 1..browser.count("#board-choice option") {
        if let Some(least) = least("#board").as_f64() {
            assert!(least >= 5.0, "{least}");
        }
        browser.click("#board-after");
    }
}

#[test]
fn paper_keeps_every_board_whole_and_says_what_is_alike_once() {
    let browser = Browser::desktop();
    demo(&browser);
    tick_every_sheet(&browser);
    for (name, paper) in [
        ("print-all-a4", Paper::A4),
        ("print-all-letter", Paper::Letter),
    ] {
        let sheets = browser.print(name, paper);
        assert!((10..=27).contains(&sheets), "{name}: {sheets} sheets");
    }
    laid_out_for_paper(&browser);
    let seen = browser.run(
        "const blocks = [...document.querySelectorAll('#paper .drawn, #paper .saw-board:not(.set-out-paper)')];
         const over = (one, other) => one.parentElement === other.parentElement && one.getBoundingClientRect().bottom > other.getBoundingClientRect().top + 0.5;
         const spills = [...document.querySelectorAll('#paper svg.lw')].filter((drawing) => {
             const [box, drawn] = [drawing.getBoundingClientRect(), drawing.getBBox()];
             return drawn.y + drawn.height > box.height + 1; });
         return {
             whole: blocks.every((one) => getComputedStyle(one).breakInside === 'avoid'),
             over: blocks.slice(1).filter((one, index) => over(blocks[index], one)).length,
             spills: spills.length,
             boards: document.querySelectorAll('#board-summaries li').length,
             told: document.querySelectorAll('#paper .saw-board .paper-steps').length,
             several: [...document.querySelectorAll('#paper .saw-board h2')].filter((head) => / \\d+ × /.test(head.textContent)).length,
         };",
    );
    assert_eq!(seen["whole"], true);
    assert_eq!(seen["over"], 0);
    assert_eq!(seen["spills"], 0);
    assert!(seen["several"].as_i64().unwrap() > 0, "{seen}");
    assert!(
        seen["told"].as_i64().unwrap() < seen["boards"].as_i64().unwrap(),
        "{seen}"
    );
}

#[test]
fn a_fault_is_named_as_the_person_named_it_and_leads_to_its_field() {
    let browser = Browser::phone();
    demo(&browser);
    place(&browser, "timber");
    browser.write("#sections .card:nth-child(1) [name=width]", "2,4");
    place(&browser, "plan");
    browser.wait_for_text("#outcome-faults", "frame 45 x 70, width");
    browser.wait_for_text("#outcome-faults", "write 2.4 or 24");
    browser.wait_for_text("#buying-stale", "the plan from before");
    place(&browser, "saw");
    browser.wait_for_text("#saw-stale", "the plan from before");
    browser.click("#saw-stale a");
    browser.wait_until("return document.body.dataset.place === 'timber' && document.activeElement.name === 'width';");
    assert_becomes!(browser.run("return document.activeElement.value;"), "2,4");
    browser.write("#sections .card:nth-child(1) [name=width]", "70");
    planned(&browser);
    place(&browser, "saw");
    browser.wait_until("return document.getElementById('saw-stale').hidden;");
}

#[test]
fn an_empty_field_is_asked_for_and_a_faulty_length_is_no_length() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.click("#add-part");
    browser.write("#parts .row:nth-child(2) [name=label]", "rail");
    browser.wait_for_text("#strip-text", "Give the length of rail");
    assert_becomes!(browser.count("[aria-invalid=true]"), 0);
    browser.write("#parts .row:nth-child(2) [name=length]", "4x4");
    browser.wait_for_text("#strip-text", "One thing to put right");
    let length = "return document.querySelector('#all-parts tbody tr:nth-child(2) td:nth-child(3)').textContent;";
    assert_becomes!(browser.run(length), "");
}

#[test]
fn a_common_size_may_be_chosen_for_a_part_of_a_new_piece() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Stool");
    browser.click("#add-part");
    browser.write("#parts [name=label]", "leg");
    choose_common_size(&browser, "#parts [name=section]");
    browser.write("#parts [name=length]", "450");
    planned(&browser);
    place(&browser, "plan");
    browser.wait_for_text("#no-prices", "No prices yet");
    browser.click("#no-prices a");
    browser.wait_until("return document.body.dataset.place === 'timber';");
}

#[test]
fn a_link_too_long_for_codes_is_sent_without_one() {
    let browser = Browser::phone();
    demo(&browser);
    // The example fits a code; with some thousand parts more, no two alike, not even twenty codes hold it.
    browser.click("#open-csv");
    browser.run(
        "const rows = Array.from({ length: 1900 }, (_, row) => `${[1, 2, 3].map((by) => ((row + by) * by * 2654435761 % 4294967291).toString(36)).join('-')},${300 + row * 7919 % 641}`);
         const text = document.getElementById('csv-text');
         text.value = ['part,length', ...rows].join('\\n');
         text.dispatchEvent(new Event('input', { bubbles: true }));",
    );
    browser.wait_for_text("#csv-take", "Add these 1900 parts");
    browser.click("#csv-take");
    browser.click("#open-menu");
    browser.click("#menu-share");
    browser.wait_for_text(
        "#share-code",
        "at most 20 are shown; send the link or a file. Or leave the shed boards out.",
    );
    assert_becomes!(browser.count("#share-code svg"), 0);
    assert_soon!(browser.value("#share-link").contains("#job2="));
}

/// An installed page wears its top bar's colour around itself, in the dark too.
#[test]
fn the_frame_of_an_installed_page_has_the_colour_of_its_ground() {
    let browser = Browser::phone();
    demo(&browser);
    for scheme in [Scheme::Light, Scheme::Dark] {
        browser.colours(scheme);
        let seen = browser.run(
            "const worn = [...document.querySelectorAll('meta[name=theme-color]')].filter((meta) => matchMedia(meta.media).matches).map((meta) => meta.content);
             return [worn, getComputedStyle(document.documentElement).getPropertyValue('--ground')];",
        );
        assert_eq!(seen[0], serde_json::json!([seen[1]]), "{scheme:?}");
    }
}

/// The bars keep to two fifths: on the smallest phone, and where a laptop's page is made twice as large.
#[test]
fn three_fifths_of_the_height_are_left_for_what_is_looked_at() {
    let browser = Browser::phone();
    demo(&browser);
    for (width, height) in [(320, 568), (640, 400)] {
        browser.resize(Screen {
            width,
            height,
            touch: Touch::Mouse,
        });
        for name in ["piece", "timber", "plan", "saw"] {
            place(&browser, name);
            let share = "const main = document.getElementById('main').getBoundingClientRect();
                 return innerHeight > 350 && main.height >= 0.6 * innerHeight && main.bottom <= innerHeight;";
            assert_becomes!(browser.run(share), true);
        }
    }
}

#[test]
fn in_a_type_twice_as_large_no_text_of_the_bars_is_cut_off_or_lies_over_another() {
    let browser = Browser::phone();
    demo(&browser);
    browser.run("document.documentElement.style.fontSize = '200%';");
    for name in ["piece", "timber", "plan", "saw"] {
        place(&browser, name);
        assert_becomes!(
            browser.run(
                "const seen = [...document.querySelectorAll('.top button, .places a')].filter((one) => one.checkVisibility());
                 const inside = (one) => one.scrollWidth <= one.clientWidth + 1 && one.getBoundingClientRect().bottom <= innerHeight + 1 && one.getBoundingClientRect().right <= innerWidth + 1;
                 return [seen.length, seen.filter((one) => !inside(one)).map((one) => one.textContent).join('|'), document.querySelector('.piece-name').getBoundingClientRect().width >= 44,
                     document.querySelector('.strip').scrollHeight <= document.querySelector('.strip').clientHeight + 1].join();"
            ),
            "8,,true,true"
        );
    }
}

#[test]
fn what_is_wrong_with_a_narrow_field_is_read_in_lines() {
    let browser = Browser::desktop();
    legs_beside_the_demo(&browser);
    browser.write("#parts [name=length]", "56o");
    browser.wait_for_text("#parts .field-length .fault", "56o");
    assert_becomes!(
        browser.run("return document.querySelector('#parts .field-length .fault').getBoundingClientRect().height < 50;"),
        true
    );
}

/// The heading of a table begins where its rows do.
#[test]
fn the_heading_of_the_quantities_by_section_stands_in_line_with_its_rows() {
    let browser = Browser::phone();
    demo(&browser);
    let apart = "const table = [...document.querySelectorAll('#quantities table')].find((one) => one.caption?.textContent === 'By section');
         table?.scrollIntoView();
         const left = (one) => {
             const range = document.createRange();
             range.selectNodeContents(one);
             return range.getBoundingClientRect().left;
         };
         return table ? Math.abs(left(table.caption) - left(table.querySelector('tbody td'))) < 1 : null;";
    for width in [360, 1280] {
        browser.resize(Screen {
            width,
            height: 740,
            touch: Touch::Finger,
        });
        assert_becomes!(browser.run(apart), true);
    }
}

/// That a part's length may give is said where it is typed.
#[test]
fn an_empty_length_of_a_part_says_how_one_that_may_give_is_typed() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Rack");
    browser.wait_for_text("#place-piece", "One that may give: 600, may be 585 to 620.");
    browser.click("#add-part");
    let said = "const field = document.querySelector('#parts [name=length]');
         const style = getComputedStyle(field);
         const own = getComputedStyle(field, '::placeholder');
         const pen = document.createElement('canvas').getContext('2d');
         pen.font = `italic ${own.fontSize} ${style.fontFamily}`;
         const room = field.clientWidth - 2 * parseFloat(style.paddingLeft);
         return field.placeholder === '600, may be 585 to 620' && (own.opacity === '1') === (pen.measureText(field.placeholder).width <= room);";
    for width in [360, 1280] {
        browser.resize(Screen {
            width,
            height: 740,
            touch: Touch::Finger,
        });
        assert_becomes!(browser.run(said), true);
    }
    browser.write("#parts [name=length]", "1770, may be 1750 to 1790");
    assert_becomes!(
        browser.run("return document.querySelector('#parts .fault:not([hidden])') === null;"),
        true
    );
}
