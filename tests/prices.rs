//! Prices as yards give them, from the job file to the buying list.

mod common;

use common::{checked, job, proven};
use lengthwise::io::job_file;
use lengthwise::job::validate;
use lengthwise::plan::Measure;
use lengthwise::report;

fn faults(text: &str) -> Vec<String> {
    let (draft, faults) = job_file::read(text);
    assert_eq!(faults, []);
    let faults = validate(&draft).err().unwrap_or_default();
    faults.iter().map(ToString::to_string).collect()
}

fn posts(section: &str, price: &str) -> String {
    format!(
        r#"{{"format":"lengthwise-job","sections":[{{"name":"post"{section}}}],
            "yard":[{{"length":"3 m","price":"{price}"}}],"parts":[{{"label":"post","length":1400,"quantity":4}}]}}"#
    )
}

/// What the buying list says of the posts: the text and the money.
#[track_caller]
fn told(section: &str, price: &str) -> (String, i64) {
    let job = job(&posts(section, price));
    let checked = checked(&job);
    let money = proven(&checked, Measure::Money);
    let text = report::text::text(&report::build(&job, &checked));
    let line = text.lines().find(|line| line.contains(" each, at "));
    (line.unwrap_or_default().trim().to_owned(), money)
}

/// Own arithmetic: 3 m at 4.20 a metre; 0.045 x 0.095 x 3 m at 500, and 0.05 x 0.1 x 3 m; 1 m3 is 423.776 board feet.
#[test]
fn a_price_per_unit_is_told_as_typed_beside_what_a_length_costs() {
    let real = r#","thickness":45,"width":95"#;
    assert_eq!(
        told("", "4.20 per m"),
        ("3 m post: 12.60 each, at 4.20 per m".into(), 2_520)
    );
    assert_eq!(
        told(real, "500 per m3"),
        (
            "3 m post: 6.41 each, at 500 per m3 of 45 mm x 95 mm, its real size".into(),
            1_282
        )
    );
    let sold = format!(r#"{real},"sold_as":"50 x 100""#);
    assert_eq!(
        told(&sold, "500 per m3"),
        (
            "3 m post: 7.50 each, at 500 per m3 of 50 mm x 100 mm, as it is sold".into(),
            1_500
        )
    );
    // 0.015 m3 are 6.35664 board feet.
    assert_eq!(told(&sold, "620 per MBF").1, 2 * 394);
    assert_eq!(told("", "12.60"), (String::new(), 2_520));
}

/// A yard measures boards by what it sells them as, not by what they measure in hand.
#[test]
fn a_measured_width_changes_no_price() {
    let real = r#","thickness":45,"width":95,"measured":93"#;
    assert_eq!(told(real, "500 per m3").1, 1_282);
}

#[test]
fn a_price_that_cannot_be_read_says_the_way_out() {
    assert_eq!(
        faults(&posts("", "4.20 per yard")),
        [
            "yard 1, price: \"4.20 per yard\" is no price; write what one costs, as 5.40, or a price per unit, as 4.20 per m, 1.28 per ft, 500 per m3 or 620 per MBF, and no currency sign"
        ]
    );
    assert_eq!(
        faults(&posts(r#","thickness":45"#, "500 per m3")),
        [
            "yard 1, price: a price per volume needs the thickness and the width of its section; fill them in for \"post\", or say what size it is sold as"
        ]
    );
    assert_eq!(
        faults(&posts(r#","sold_as":"2 by 4""#, "12")),
        ["sections 1, sold_as: should be a thickness and a width, such as 50 x 100"]
    );
    let dear = faults(&posts("", "999999999 per m"));
    assert_eq!(dear.len(), 1);
    assert!(dear[0].contains("is more than 1000000.00"), "{dear:?}");
}

#[test]
fn the_decimal_sign_of_the_job_counts() {
    let text = posts("", "4,20 per m").replace(r#""sections""#, r#""decimal":"comma","sections""#);
    assert_eq!(proven(&checked(&job(&text)), Measure::Money), 2_520);
    assert_eq!(faults(&posts("", "4,20 per m")).len(), 1);
}
