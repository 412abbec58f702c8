//! Carrying a job elsewhere: files, tables, links, codes and paper.

use crate::harness::{Browser, Paper};
use crate::page::{demo, eight_legs, place, planned};
use serde_json::Value;

#[test]
fn a_job_file_goes_out_and_comes_back_as_a_piece_of_its_own() {
    let browser = Browser::desktop();
    demo(&browser);
    eight_legs(&browser);
    browser.click("#open-menu");
    browser.click("[data-save=piece]");
    let file = browser.download("stool.json");
    let job: Value = serde_json::from_slice(&file).unwrap();
    assert_eq!(job["format"], "lengthwise-job");
    assert_eq!(job["parts"][0]["length"], "560");

    let place_of_file =
        std::env::temp_dir().join(format!("lengthwise-{}.json", std::process::id()));
    std::fs::write(
        &place_of_file,
        String::from_utf8(file).unwrap().replace("Stool", "Bench"),
    )
    .unwrap();
    browser.write("#open-file", &place_of_file.to_string_lossy());
    browser.wait_for_text("#piece-title", "Bench");
    planned(&browser);
    browser.wait_for_text("#headline", "2 lengths");
    std::fs::remove_file(place_of_file).unwrap();
}

#[test]
fn parts_from_a_table_are_shown_before_they_are_taken() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    browser.click("#open-csv");
    browser.write(
        "#csv-text",
        "part;timber;length;no.;colour\nstretcher;batten;410;2;red",
    );
    browser.wait_for_text("#csv-preview", "left out");
    assert!(browser.text("#csv-preview").contains("quantity"));
    browser.click("#csv-take");
    browser.wait_until("return document.querySelectorAll('#parts .row').length === 2;");
    assert_eq!(
        browser.value("#parts .row:nth-child(2) [name=length]"),
        "410"
    );
    planned(&browser);
}

#[test]
fn tables_of_parts_and_of_the_buying_list_are_saved() {
    let browser = Browser::desktop();
    demo(&browser);
    eight_legs(&browser);
    browser.click("#open-menu");
    browser.click("[data-save=parts-csv]");
    assert!(
        String::from_utf8(browser.download("stool-parts.csv"))
            .unwrap()
            .contains("leg")
    );
    browser.click("#open-menu");
    browser.click("[data-save=buying-csv]");
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
    browser.click("#open-menu");
    browser.click("[data-save=everything]");
    let all: Value = serde_json::from_slice(&browser.download("lengthwise.json")).unwrap();
    assert_eq!(all["pieces"][0]["job"]["piece"], "Bin store");
    assert_eq!(all["shed"].as_array().unwrap().len(), 9);
}

#[test]
fn a_link_carries_the_piece_to_another_device() {
    let browser = Browser::phone();
    demo(&browser);
    eight_legs(&browser);
    browser.click("#open-menu");
    browser.click("#menu-share");
    browser.wait_until("return document.querySelector('#share-code svg');");
    let link = browser.value("#share-link");

    let other = Browser::phone();
    other.go(&link);
    other.wait_for_text("#h-ask", "Stool");
    other.click("#ask-yes");
    other.wait_for_text("#piece-title", "Stool");
    planned(&other);
    other.wait_for_text("#strip-text", "2 lengths");
    assert_eq!(other.run("return location.hash;"), "#piece");
}

#[test]
fn the_plan_is_printed_on_a4_and_on_letter() {
    let browser = Browser::desktop();
    demo(&browser);
    place(&browser, "plan");
    for (name, paper) in [("print-a4", Paper::A4), ("print-letter", Paper::Letter)] {
        let sheets = browser.print(name, paper);
        assert!((3..=40).contains(&sheets), "{sheets} sheets");
    }
}
