//! Bad input: every fault is found in one pass, each with its place and its remedy.

use lengthwise::io::job_file;
use lengthwise::job::validate;

fn faults_of(text: &str) -> Vec<String> {
    let (draft, mut faults) = job_file::read(text);
    if let Err(more) = validate(&draft) {
        faults.extend(more);
    }
    faults.iter().map(ToString::to_string).collect()
}

#[test]
fn all_faults_of_a_job_are_gathered_in_one_pass() {
    let faults = faults_of(
        r#"{"format":"lengthwise-job","unit":"mm","saw":{"kerf":"1,200"},"aim":"cheepest",
            "sections":[{"name":"batten","width":"45"},{"name":"batten","cover":"wide"}],
            "yard":[{"section":"baten","length":2.4,"price":"4.505"},{"section":"batten","length":3000,"count":-1}],
            "shed":[{"mark":"A","section":"batten","length":"1830","bad":"900..400"},
                    {"mark":"A","section":"batten","length":"90"}],
            "parts":[{"section":"batten","length":"","quantity":"a few"},
                     {"label":"cap","section":"batten","length":"80","ends":"45"}]}"#,
    );
    let expected = [
        "aim: \"cheepest\" is not known here; choose fewest, cheapest, shortest, offcuts, scrap",
        "saw, kerf: \"1,200\": a comma can mean thousands or a decimal; write 1200 or 1.2, or set the decimal sign of the piece to a comma",
        "sections 2, name: \"batten\" is there twice; give each its own name",
        "sections 2, cover: \"wide\": cannot read \"wide\" in a length; write one such as 1200, 1.2 m, 47 1/4\" or 3' 11 1/4\"",
        "yard 1, section: no section is called \"baten\"; did you mean \"batten\"?",
        "yard 1, length: 2.4 mm is not sensible for the length of a board; give 50 mm to 100000 mm, and check the unit",
        "yard 1, price: \"4.505\" is no amount; write digits with at most two decimals, such as 5.40, and no currency sign",
        "yard 2, count: \"-1\" should be a whole number from 0 to 1000000",
        "shed 1, bad: the bad stretch 900..400 should start before it ends, and lie on the board; both are measured from the datum end",
        "shed 2, mark: \"A\" is there twice; give each its own name",
        "shed 2, length: trims and bad stretches leave nothing to cut from; shorten them or drop the board",
        "parts 1, label: the label of the part is missing; fill it in",
        "parts 1, length: a length is missing; write one such as 1200, 1.2 m or 47 1/4\"",
        "parts 1, quantity: \"a few\" should be a whole number from 1 to 10000",
        "parts 2, ends: the mitres meet before they are across the board; the length is from long point to long point, so lengthen the part or flatten the angle",
    ];
    for fault in expected {
        assert!(
            faults.iter().any(|found| found == fault),
            "missing: {fault}\nfound: {faults:#?}"
        );
    }
    assert_eq!(faults.len(), expected.len(), "{faults:#?}");
}

#[test]
fn a_job_without_parts_says_what_to_do_first() {
    assert_eq!(
        faults_of(r#"{"format":"lengthwise-job"}"#),
        ["parts: there are no parts yet; add the first part or a set-out"]
    );
}

#[test]
fn the_cheapest_aim_asks_for_every_price() {
    let faults = faults_of(
        r#"{"format":"lengthwise-job","aim":"cheapest","sections":[{"name":"batten"}],
            "yard":[{"length":"2.4 m"}],"parts":[{"label":"leg","length":560}]}"#,
    );
    assert_eq!(
        faults,
        ["yard 1, price: the price, which the aim \"cheapest\" compares, is missing; fill it in"]
    );
}

#[test]
fn one_section_need_not_be_named_again() {
    let faults = faults_of(
        r#"{"format":"lengthwise-job","sections":[{"name":"batten"}],
            "yard":[{"length":"2.4 m"}],"shed":[{"length":"1 830"}],"parts":[{"label":"leg","length":560}]}"#,
    );
    assert!(faults.is_empty(), "{faults:?}");
}

#[test]
fn a_length_that_is_a_sign_nobody_sees_is_a_missing_one() {
    // U+FEFF begins some files; a text of nothing else looks empty and is.
    let faults = faults_of(
        r#"{"format":"lengthwise-job","saw":{"kerf":"\ufeff"},"sections":[{"name":"batten","width":"\ufeff"}],
            "yard":[{"length":"\ufeff"}],"parts":[{"label":"leg","length":"\ufeff"}]}"#,
    );
    let places = [
        "saw, kerf",
        "sections 1, width",
        "yard 1, length",
        "parts 1, length",
    ];
    let missing = places.map(|place| {
        format!("{place}: a length is missing; write one such as 1200, 1.2 m or 47 1/4\"")
    });
    assert_eq!(faults, missing);
}

#[test]
fn a_letter_that_is_none_or_is_taken_says_which_there_are() {
    let faults = faults_of(
        r#"{"format":"lengthwise-job","sections":[{"name":"batten"}],
            "parts":[{"label":"one","length":500,"letter":"A"},{"label":"two","length":400,"letter":"A"},
                     {"label":"three","length":300,"letter":"b"},{"label":"four","length":300,"letter":"AAA"},
                     {"label":"five","length":300,"letter":"ZZ"}]}"#,
    );
    let told = |row: usize, text: &str| {
        format!(
            "parts {row}, letter: \"{text}\" should be a letter that no other part has, A to Z or AA to ZZ; leave it empty to get the next one"
        )
    };
    assert_eq!(faults, [told(2, "A"), told(3, "b"), told(4, "AAA")]);
}
