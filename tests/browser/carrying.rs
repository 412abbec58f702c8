//! Carrying a job elsewhere: files, tables, links, codes and paper.

use crate::carried_out::one_of_two_bought;
use crate::harness::{Browser, Key, Paper};
use crate::page::{
    counted, demo, kept_piece, laid_out_for_paper, legs_beside_the_demo, legs_to_buy,
    link_of_piece, new_piece, open_share, place, planned, save, tick_every_sheet,
};
use crate::site;
use lengthwise::io::link;
use serde_json::{Value, json};

#[test]
fn a_job_file_goes_out_and_comes_back_as_a_piece_of_its_own() {
    let browser = Browser::desktop();
    legs_beside_the_demo(&browser);
    save(&browser, "piece");
    let file = browser.download("stool.json");
    let job: Value = serde_json::from_slice(&file).unwrap();
    assert_eq!(job["format"], "lengthwise-job");
    assert_eq!(job["parts"][0]["length"], "560");

    let place_of_file =
        std::env::temp_dir().join(format!("lengthwise-{}.json", std::process::id()));
    std::fs::write(
        &place_of_file,
        String::from_utf8(file).unwrap().replace("Stool", "Trestle"),
    )
    .unwrap();
    browser.write("#open-file", &place_of_file.to_string_lossy());
    browser.wait_for_text("#piece-title", "Trestle");
    planned(&browser);
    browser.wait_for_text("#headline", "2 lengths");
    std::fs::remove_file(place_of_file).unwrap();
}

#[test]
fn parts_from_a_table_are_shown_before_they_are_taken() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.click("#open-csv");
    browser.write(
        "#csv-text",
        "part;timber;length;no.;colour\nstretcher;batten;410;2;red",
    );
    browser.wait_for_text("#csv-take", "Add this part");
    let taken_for = browser.run(
        "return [...document.querySelectorAll('#csv-columns select')].map((field) => field.value);",
    );
    assert_eq!(
        taken_for,
        serde_json::json!(["label", "section", "length", "quantity", ""])
    );
    browser.click("#csv-take");
    counted(&browser, "#parts .row", 2);
    assert_becomes!(
        browser.value("#parts .row:nth-child(2) [name=length]"),
        "410"
    );
    planned(&browser);
    browser.click_on("Undo");
    counted(&browser, "#parts .row", 1);
}

#[test]
fn a_table_without_headings_is_taken_as_a_person_says() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    browser.click("#open-csv");
    // As a spreadsheet of a country with decimal commas writes it, in the old Western letters: \u{e9} is one byte.
    let place = std::env::temp_dir().join(format!("lengthwise-{}.csv", std::process::id()));
    std::fs::write(
        &place,
        b"barre, pos\xe9e;red oak;41,05;2\r\n;;;\r\nrail;red oak;x;1\r\n",
    )
    .unwrap();
    browser.write("#csv-file", &place.to_string_lossy());
    browser.wait_for_text("#csv-told", "No column is taken for the length");
    for (column, field) in [
        ("0", "part"),
        ("1", "section"),
        ("2", "quantity"),
        ("2", "length"),
        ("3", "quantity"),
    ] {
        browser.choose(&format!("#csv-columns [name='{column}']"), field);
        browser.wait_until(&format!(
            "return document.querySelector(\"#csv-columns [name='{column}']\").selectedOptions[0].text === '{field}';"
        ));
    }
    browser.wait_for_text("#csv-take", "Add these 2 parts");
    browser.wait_for_text("#csv-told", "2 of 2 parts need mending");
    browser.choose("#csv-reads [name=unit]", "centimetres");
    browser.choose("#csv-reads [name=decimal]", "a comma: 1,5");
    browser.choose("#csv-sections [name='0']", "batten");
    browser.wait_for_text("#csv-told", "One part needs mending");
    browser.wait_for_text("#csv-faults", "Line 3, length");
    browser.click("#csv-take");
    counted(&browser, "#parts .row", 3);
    let row = |name: &str| browser.value(&format!("#parts .row:nth-child(2) [name={name}]"));
    assert_eq!(
        ["label", "section", "length", "quantity"].map(row),
        ["barre, pos\u{e9}e", "batten", "41.05 cm", "2"]
    );
    std::fs::remove_file(place).unwrap();
}

#[test]
fn sections_that_a_table_names_are_made_with_its_parts() {
    let browser = Browser::phone();
    demo(&browser);
    new_piece(&browser, "Rack");
    browser.click("#open-csv");
    browser.write(
        "#csv-text",
        "part;section;length;number\npost;45x70;1310;4\nrail;20 x 45;905;6\npale;20 x 45;640;9\nback;plank;500;1\n",
    );
    browser.wait_for_text("#csv-told", "4 of 4 parts need mending");
    browser.wait_for_text("#csv-sections", "make 45x70, sold in 2.4, 3.0");
    // A name that gives no sides is offered nothing.
    counted(&browser, "#csv-sections .field", 2);
    // All of them in one touch; each is then led elsewhere, or left, as it was.
    assert_becomes!(
        browser.text("#csv-make-all"),
        "Make all 2 sections, in the lengths usually sold"
    );
    browser.click("#csv-make-all");
    browser.wait_for_text("#csv-told", "One part needs mending");
    assert_becomes!(
        browser.run("return document.getElementById('csv-make-all').hidden;"),
        true
    );
    browser.screenshot("all-sections-of-a-table");
    for field in [1, 2] {
        let choice = format!("#csv-sections .field:nth-child({field}) select");
        browser.choose(&choice, "left as it is");
    }
    browser.wait_for_text("#csv-told", "4 of 4 parts need mending");
    browser.click("#csv-sections .field:nth-child(1) .offer");
    browser.wait_for_text("#csv-told", "3 of 4 parts need mending");
    browser.click("#csv-sections .field:nth-child(2) .offer");
    browser.wait_for_text("#csv-told", "One part needs mending");
    browser.screenshot("sections-of-a-table");
    browser.click("#csv-take");
    counted(&browser, "#parts .row", 4);
    browser.wait_for_text("#timber-count", "2 sections");
    browser.click("#undo");
    counted(&browser, "#parts .row", 0);
    browser.wait_for_text("#timber-count", "0 sections");
    // Of prices, the lengths are those of the table.
    place(&browser, "timber");
    browser.click("#open-prices");
    browser.write(
        "#prices-text",
        "section;length;price\n20 x 45;2.4 m;3.10\n20 x 45;3 m;3.90\n",
    );
    browser.click("#prices-sections .offer");
    counted(&browser, "#prices-sections .offer", 0);
    browser.click("#prices-take");
    assert_becomes!(browser.value("#sections [name=thickness]"), "20 mm");
    counted(&browser, "#sections .yard .row", 2);
    assert_eq!(browser.console_errors(), Vec::<String>::new());
}

#[test]
fn tables_of_parts_and_of_the_buying_list_are_saved() {
    let browser = Browser::desktop();
    legs_beside_the_demo(&browser);
    save(&browser, "parts-csv");
    assert!(
        String::from_utf8(browser.download("stool-parts.csv"))
            .unwrap()
            .contains("leg")
    );
    save(&browser, "buying-csv");
    assert!(
        String::from_utf8(browser.download("stool-buying.csv"))
            .unwrap()
            .contains("batten")
    );
}

#[test]
fn everything_on_the_device_is_saved_to_one_file() {
    let browser = Browser::desktop();
    demo(&browser);
    save(&browser, "everything");
    let all: Value = serde_json::from_slice(&browser.download("lengthwise.json")).unwrap();
    assert_eq!(all["pieces"][0]["job"]["piece"], "Bin store");
    assert_eq!(all["shed"].as_array().unwrap().len(), 9);
}

#[test]
fn a_link_carries_the_piece_to_another_device() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    let link = link_of_piece(&browser);

    let other = Browser::phone();
    other.go(&link);
    other.wait_for_text("#h-ask", "Stool");
    other.click("#ask-yes");
    other.wait_for_text("#piece-title", "Stool");
    planned(&other);
    other.wait_for_text("#strip-text", "2 lengths");
    assert_becomes!(other.run("return location.hash;"), "#piece");
}

#[test]
fn a_link_that_is_cut_short_is_told_of_and_one_taken_twice_opens_what_is_here() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    let link = link_of_piece(&browser);

    let other = Browser::phone();
    other.go(&link[..link.len() - 40]);
    other.wait_for_text("#notices", "holds no piece that can be read");
    other.wait_for_text("#piece-title", "Bin store");

    // The browser takes a change of the fragment alone for no new start.
    let fragment = &link[link.find('#').unwrap()..];
    let open = format!("location.hash = {fragment:?};");
    other.run(&open);
    other.wait_for_text("#ask-text", "nothing that is here is changed");
    other.click("#ask-yes");
    other.wait_for_text("#notices", "“Bin store” is as it was");
    other.click_on("Back to “Bin store”");
    other.wait_for_text("#piece-title", "Bin store");
    other.run(&open);
    other.wait_for_text("#ask-text", "It is here already");
    other.click("#ask-yes");
    other.wait_for_text("#piece-title", "Stool");
    other.click("#open-pieces");
    assert_becomes!(other.count("#piece-list .card"), 2);
}

/// What the Saw shows of the board at hand: which it is, and how many of its lines are ticked.
fn at_the_saw(browser: &Browser) -> Value {
    place(browser, "saw");
    counted(browser, "#board .step.done", 2);
    browser.run(
        "return [document.getElementById('board-choice').selectedIndex, document.querySelector('#board h2')?.textContent,
             [...document.querySelectorAll('#board .step')].map((line) => [line.textContent, line.classList.contains('done')])];",
    )
}

/// Two cuts into the second board of the eight legs, with one length in the car.
fn half_cut(browser: &Browser) {
    legs_to_buy(browser);
    one_of_two_bought(browser);
    place(browser, "saw");
    let steps = browser.count("#board .step");
    for step in 1..=steps {
        browser.click(&format!(".step:nth-child({step}) button"));
        counted(browser, "#board .step.done", step);
    }
    browser.click("#board-after");
    counted(browser, "#board .step.done", 0);
    for step in [1, 2] {
        browser.click(&format!(".step:nth-child({step}) button"));
        counted(browser, "#board .step.done", step);
    }
}

#[test]
fn a_link_carries_the_work_to_the_same_cut_of_the_same_plan() {
    let browser = Browser::phone();
    half_cut(&browser);
    let seen = at_the_saw(&browser);
    let link = link_of_piece(&browser);
    assert_soon!(
        browser
            .text("#share-work-label")
            .starts_with("With its progress: 5 of 8 parts cut, 1 length bought.")
    );

    let other = Browser::phone();
    other.go(&link);
    other.wait_for_text(
        "#ask-text",
        "It comes with 5 of 8 parts cut, 1 length bought",
    );
    other.click("#ask-yes");
    other.wait_for_text("#piece-title", "Stool");
    other.wait_for_text("#notices", "“Stool” is open, with 5 of 8 parts cut");
    assert_becomes!(at_the_saw(&other), seen);
    let work = |browser: &Browser| kept_piece(browser)["work"].clone();
    assert_becomes!(work(&other), work(&browser));
    assert_becomes!(other.run("return location.hash;"), "#saw");

    // What was done there comes back, and what was here goes to the archive.
    other.click(".step:nth-child(3) button");
    counted(&other, "#board .step.done", 3);
    let back = link_of_piece(&other);
    let fragment = &back[back.find('#').unwrap()..];
    browser.press(Key::Escape);
    browser.run(&format!("location.hash = {fragment:?};"));
    browser.wait_for_text(
        "#ask-text",
        "It is here too, with 5 of 8 parts cut, 1 length bought, as it was before: that one goes to the archive.",
    );
    browser.click("#ask-yes");
    browser.wait_for_text("#notices", "What was here of it is in the archive");
    place(&browser, "saw");
    counted(&browser, "#board .step.done", 3);
    browser.run(&format!("location.hash = {fragment:?};"));
    browser.wait_for_text("#ask-text", "It is here already, just as it came");
    browser.click("#ask-yes");
    place(&browser, "saw");
    counted(&browser, "#board .step.done", 3);
}

#[test]
fn without_its_progress_a_piece_is_planned_from_the_start() {
    let browser = Browser::phone();
    half_cut(&browser);
    open_share(&browser);
    let all = browser.value("#share-link");
    browser.click("#share-work");
    browser.wait_until(&format!(
        "return document.getElementById('share-link').value.length < {};",
        all.len()
    ));
    let link = browser.value("#share-link");
    let other = Browser::phone();
    other.go(&link);
    other.wait_for_text("#ask-text", "It is added to the pieces on this device");
    other.click("#ask-yes");
    planned(&other);
    assert_becomes!(kept_piece(&other)["work"], Value::Null);
}

/// The links of the codes that the dialog shows, each of which is drawn as the engine draws it.
fn links_of_codes(browser: &Browser) -> Vec<String> {
    open_share(browser);
    let link = browser.value("#share-link");
    let (address, fragment) = link.split_once('#').expect("a fragment");
    let Ok(link::Held::Text(text)) = link::unpack(fragment) else {
        panic!("{fragment}");
    };
    let told = browser.text("#code-nth");
    let of = told.strip_prefix("Code 1 of ").expect("several codes");
    let links = link::pack_in_parts(&text, of.parse().expect("a number"));
    let links: Vec<String> = links
        .iter()
        .map(|part| format!("{address}#{part}"))
        .collect();
    let drawn = "return document.querySelector('#share-code path').getAttribute('d');";
    for (nth, link) in links.iter().enumerate() {
        browser.wait_for_text("#code-nth", &format!("Code {} of {of}", nth + 1));
        let shown = browser.run(drawn);
        let code = lengthwise::io::qr::svg(link).expect("a code");
        assert!(code.contains(shown.as_str().expect("a path")), "{nth}");
        if nth + 1 < links.len() {
            browser.click("#code-after");
        }
    }
    browser.press(Key::Escape);
    links
}

/// The eight legs and so many other parts, no two alike, so that one code is not enough.
fn many_parts(browser: &Browser, parts: usize) {
    browser.click("#open-csv");
    browser.run(&format!(
        "const rows = Array.from({{ length: {parts} }}, (_, row) => `part ${{row * 7919 % 1009}},${{300 + row * 7 % 641}}`);
         const text = document.getElementById('csv-text');
         text.value = ['part,length', ...rows].join('\\n');
         text.dispatchEvent(new Event('input', {{ bubbles: true }}));"
    ));
    browser.wait_for_text("#csv-take", &format!("Add these {parts} parts"));
    browser.click("#csv-take");
    counted(browser, "#parts .row", parts + 1);
}

fn open(browser: &Browser, link: &str) {
    browser.run(&format!(
        "location.hash = {:?};",
        &link[link.find('#').expect("a fragment")..]
    ));
}

#[test]
fn a_piece_too_large_for_one_code_comes_in_several_in_any_order() {
    let browser = Browser::phone();
    legs_beside_the_demo(&browser);
    many_parts(&browser, 400);
    let links = links_of_codes(&browser);
    assert_eq!(links.len(), 3);
    browser.write("#piece-fields [name=piece]", "Bench");
    let of_another = links_of_codes(&browser);

    // Each code opens the page anew, as the camera of a phone does.
    let other = Browser::phone();
    other.go(&links[2]);
    other.wait_for_text(
        "#notices",
        "Code 3 of 3 of a piece has come. Codes 1 and 2 are still missing",
    );
    other.wait_for_text("#piece-title", "Bin store");
    open(&other, &of_another[1]);
    other.wait_for_text(
        "#notices",
        "Code 2 of 3 of a piece has come. Codes 1 and 3 are still missing",
    );
    other.wait_for_text("#notices", "another piece");
    other.go(&site::address());
    open(&other, &links[0]);
    other.wait_for_text("#notices", "Code 2 is still missing");
    // A spoilt one says so, and loses nothing.
    let spoilt = links[1].replace('7', "8");
    open(&other, &spoilt);
    other.wait_for_text("#notices", "holds no piece that can be read");
    other.wait_for_text("#notices", "Codes that came before are kept");
    open(&other, &links[0]);
    other.wait_for_text("#notices", "Code 2 is still missing");
    open(&other, &links[1]);
    other.wait_for_text("#h-ask", "“Stool” came with this link");
    other.click("#ask-yes");
    other.wait_for_text("#piece-title", "Stool");
    counted(&other, "#parts .row", 401);
    let kept = other.run(
        "return JSON.parse(localStorage['lengthwise/codes']).map(({ links }) => links.length);",
    );
    assert_eq!(kept, json!([1]));
    // What came of the other is thrown away once it is told so.
    open(&other, &of_another[0]);
    other.wait_for_text("#notices", "Code 3 is still missing");
    other.click_on("Throw it away");
    other.wait_until("return localStorage['lengthwise/codes'] === undefined;");
}

#[test]
fn a_link_of_an_earlier_make_says_that_it_should_be_made_anew() {
    let browser = Browser::phone();
    demo(&browser);
    browser.run("location.hash = '#job1=YE5EQCG5N+CZ566JAL9-NWRHRGM6Q5-8RMSB4Z14YJ/TRL005GA.0E';");
    browser.wait_for_text("#notices", "of an earlier make");
    browser.wait_for_text("#notices", "made anew");
    browser.wait_for_text("#piece-title", "Bin store");
}

#[test]
fn the_plan_is_printed_on_a4_and_on_letter() {
    let browser = Browser::desktop();
    demo(&browser);
    place(&browser, "plan");
    tick_every_sheet(&browser);
    for (name, paper) in [("print-a4", Paper::A4), ("print-letter", Paper::Letter)] {
        let sheets = browser.print(name, paper);
        assert!((3..=40).contains(&sheets), "{sheets} sheets");
    }
}

/// What is short shares a sheet with what follows: the buying list, the drawing, the saw sheets, the cutting list and the labels of two lengths.
#[test]
fn a_small_piece_is_printed_on_two_sheets() {
    let browser = Browser::desktop();
    legs_to_buy(&browser);
    tick_every_sheet(&browser);
    assert_eq!(browser.print("print-small", Paper::A4), 2);
}

/// A piece sawn out of a sheet has a label as any part; labels are of one width, and a mark or a length stays on one line.
#[test]
fn what_is_sawn_out_of_sheets_has_labels_of_the_same_width() {
    let browser = Browser::desktop();
    legs_beside_the_demo(&browser);
    browser.click("#add-set-out");
    let nth = browser.run("return [...document.querySelectorAll('#kinds li b')].findIndex((title) => title.textContent === 'Sheet') + 1;");
    browser.click(&format!("#kinds li:nth-child({nth}) button"));
    for (field, text) in [("width", "600"), ("height", "400"), ("times", "2")] {
        browser.run("document.querySelector('.set-out .more').open = true;");
        browser.write(&format!(".set-out [name={field}]"), text);
    }
    planned(&browser);
    place(&browser, "plan");
    tick_every_sheet(&browser);
    laid_out_for_paper(&browser);
    let labels = browser.run(
        "const labels = [...document.querySelectorAll('#paper .label')];
         const wide = labels.map((label) => label.getBoundingClientRect().width);
         return { sheets: labels.map((label) => label.innerText.replace(/\\s+/g, ' ').trim()).filter((text) => text.startsWith('Sheet')), uneven: Math.max(...wide) - Math.min(...wide),
             lines: labels.flatMap((label) => [...label.querySelectorAll('.label-head b')]).filter((one) => one.getClientRects().length && one.offsetHeight > 30).length };",
    );
    assert_eq!(
        labels["sheets"],
        json!([
            "Sheet sheet, 600 mm \u{d7} 400 mm \u{d7} 18 mm 1 of 2, Stool",
            "Sheet sheet, 600 mm \u{d7} 400 mm \u{d7} 18 mm 2 of 2, Stool"
        ])
    );
    assert!(labels["uneven"].as_f64().unwrap() < 0.5, "{labels}");
    assert_eq!(labels["lines"], 0);
}

/// A line at the very edge of the page is printed at half its width; a number without its unit would be read as another length.
#[test]
fn sheets_say_whose_they_are_and_nothing_on_them_is_cut_off_or_parted() {
    let browser = Browser::desktop();
    demo(&browser);
    place(&browser, "plan");
    tick_every_sheet(&browser);
    laid_out_for_paper(&browser);
    let seen = browser.run(
        "const within = (element) => element.closest('.sheet').getBoundingClientRect().right - element.getBoundingClientRect().right;
         const labels = [...document.querySelectorAll('#paper .label')];
         const marks = [...document.querySelectorAll('#paper .marks li')].map((line) => line.textContent);
         const made = [...document.querySelectorAll('#paper .set-out-paper .beside li')].map((line) => line.textContent).filter((text) => / × /.test(text));
         return { made, page: document.adoptedStyleSheets.flatMap((sheet) => [...sheet.cssRules].map((rule) => rule.cssText)).join(' '), tightest: Math.min(...labels.map(within)),
             parted: marks.filter((text) => /\\d (mm|m)\\b/.test(text)), marks: marks.length, last: labels.at(-1).textContent };",
    );
    let page = seen["page"].as_str().unwrap();
    assert!(
        page.contains("\"Bin store\"") && page.contains("counter(pages)"),
        "{page}"
    );
    // Each part that a set-out makes has its letter before it.
    let made: Vec<&str> = seen["made"]
        .as_array()
        .unwrap()
        .iter()
        .filter_map(Value::as_str)
        .collect();
    assert!(
        made.len() > 8 && made.iter().all(|line| line[1..].starts_with("  ")),
        "{made:?}"
    );
    assert!(seen["tightest"].as_f64().unwrap() > 0.9, "{seen}");
    assert_eq!(seen["parted"], serde_json::json!([]));
    assert!(seen["marks"].as_u64().unwrap() > 10);
    let last = seen["last"].as_str().unwrap();
    assert!(
        last.starts_with("Shed\u{a0}") && last.contains("from Bin store"),
        "{last}"
    );
}

/// The example's plan as the engine reports it, and what the screen at the saw and the saw sheets on paper show of it, line by line.
#[test]
fn screen_and_paper_carry_every_step_with_all_that_is_said_of_it() {
    let browser = Browser::desktop();
    demo(&browser);
    planned(&browser);
    place(&browser, "saw");
    let screen = browser.run(
        "const boards = [];
         for (;;) {
             const texts = (name) => [...document.querySelectorAll(`#board ${name}`)].map((line) => line.textContent);
             boards.push({ steps: texts('.step'), cautions: texts('.cautions li'), offcuts: texts('.offcuts li') });
             const after = document.getElementById('board-after');
             if (after.disabled) return boards;
             after.click();
         }",
    );
    // The first tick keeps the plan.
    browser.click(".step:nth-child(1) button");
    counted(&browser, ".step.done", 1);
    let leg = &kept_piece(&browser)["work"]["legs"][0];
    place(&browser, "plan");
    tick_every_sheet(&browser);
    laid_out_for_paper(&browser);
    let paper = browser.run(
        "return [...document.querySelectorAll('#paper .saw-board:not(.set-out-paper, .order-step)')].map((board) => ({
             steps: [...board.querySelectorAll('.paper-steps li')].map((line) => line.textContent), notes: board.textContent }));",
    );
    let asked = json!({ "job": leg["job"], "plans": [leg["plan"]], "spent": [1], "seconds": 1 });
    let reply = lengthwise::api::call("report", &asked.to_string());
    let report: Value = serde_json::from_str(&reply).expect("JSON");
    let list = |value: &Value| value.as_array().cloned().expect("a list");
    let boards = list(&report["boards"]);
    let told = |line: &Value, step: &Value| {
        let line = line.as_str().expect("a line");
        let mut said = list(&step["says"]);
        let fields = ["reading", "letter", "label", "part_length", "caution"];
        said.extend(fields.map(|field| step[field].clone()));
        for words in said {
            assert!(
                line.contains(words.as_str().expect("words")),
                "{line}: {words}"
            );
        }
    };
    assert_eq!(list(&screen).len(), boards.len());
    let mut cautions = 0;
    for (shown, board) in list(&screen).iter().zip(&boards) {
        let steps = list(&board["steps"]);
        assert_eq!(list(&shown["steps"]).len(), steps.len());
        for (line, step) in list(&shown["steps"]).iter().zip(&steps) {
            told(line, step);
            cautions += usize::from(step["caution"] != "");
        }
        assert_eq!(shown["cautions"], board["cautions"]);
        let left = list(&board["offcuts"]);
        let left: Vec<&Value> = left.iter().map(|offcut| &offcut["text"]).collect();
        // Below them stand the marks to write on those that are kept.
        assert_eq!(json!(list(&shown["offcuts"])[..left.len()]), json!(left));
        cautions += list(&board["cautions"]).len();
    }
    assert!(cautions > 2, "{cautions}");
    let alike = list(&report["alike"]);
    let mut ticked = 0;
    assert_eq!(list(&paper).len(), alike.len());
    for (printed, alike) in list(&paper).iter().zip(&alike) {
        let board = &boards[alike["first"].as_u64().expect("an index") as usize];
        let steps = list(&board["steps"]);
        assert_eq!(list(&printed["steps"]).len(), steps.len());
        for (line, step) in list(&printed["steps"]).iter().zip(&steps) {
            told(line, step);
            let boxes = "\u{2610}".repeat(alike["count"].as_u64().expect("a count") as usize);
            let line = line.as_str().expect("a line");
            assert!(line.replace('\u{2611}', "\u{2610}").starts_with(&boxes));
            ticked += line.matches('\u{2611}').count();
        }
        let notes = printed["notes"].as_str().expect("text");
        let left = list(&board["offcuts"]);
        let left = left.iter().map(|offcut| &offcut["text"]);
        for words in list(&board["cautions"]).iter().chain(left) {
            assert!(
                notes.contains(words.as_str().expect("words")),
                "{notes}: {words}"
            );
        }
    }
    // The one cut that was made on screen is ticked on paper.
    assert_eq!(ticked, 1);
}
