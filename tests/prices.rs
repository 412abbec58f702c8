//! Prices as yards give them, from the job file to the buying list.

mod common;

use common::{checked, job, proven};
use lengthwise::check::{Lie, check};
use lengthwise::fields::Row;
use lengthwise::io::job_file;
use lengthwise::job::{JobDraft, validate};
use lengthwise::plan::Measure;
use lengthwise::{api, report, savings, wording};
use serde_json::{Value, json};

fn faults(text: &str) -> Vec<String> {
    let (draft, faults) = job_file::read(text);
    assert_eq!(faults, []);
    faults_of(&draft)
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

/// The rows of the bill, as `name value`.
#[track_caller]
fn bill(text: &str) -> Vec<String> {
    let job = job(text);
    let report = report::build(&job, &checked(&job));
    let rows = report.buying.bill.iter();
    rows.map(|row| format!("{} {}", row.name, row.value))
        .collect()
}

fn with_terms(terms: &str, more: &str) -> String {
    format!(
        r#"{{"format":"lengthwise-job",{more}"sections":[{{"name":"post"}}],"yards":[{terms}],
            "yard":[{{"length":"3 m","price":"12.60"}}],"parts":[{{"label":"post","length":1400,"quantity":4}}]}}"#
    )
}

/// Own arithmetic: two lengths of 12.60 are 25.20; with 40 for delivery 65.20, and a fifth of that is 13.04.
#[test]
fn the_bill_has_delivery_tax_and_the_way_there() {
    assert_eq!(bill(&with_terms("", "")), Vec::<String>::new());
    assert_eq!(
        bill(&with_terms(
            r#"{"tax":"20 %","prices":"without tax","delivery":40,"free_from":200,"trip":"5.5"}"#,
            ""
        )),
        [
            "lengths 25.20",
            "delivery 40.00",
            "tax, 20 % 13.04",
            "to pay 78.24",
            "drive there 5.50",
            "In all 83.74"
        ]
    );
    assert_eq!(
        bill(&with_terms(
            r#"{"name":"Mill","tax":7.5,"delivery":40,"free_from":25}"#,
            ""
        )),
        [
            "Mill: lengths 25.20",
            "Mill: delivery 0.00",
            "Mill: to pay 25.20",
            "Mill: tax in it, 7.5 % 1.76"
        ]
    );
}

/// Where the bill has more than the prices, every figure by the prices says so, and no other is said to be paid.
#[test]
fn figures_by_the_prices_say_so_where_the_bill_has_more() {
    let told = |terms: &str| {
        let job = job(&with_terms(terms, ""));
        [
            savings::gain_text(&job, &[(Measure::Money, 390)]),
            savings::gain_text(&job, &[(Measure::Money, -390)]),
            wording::measured(&job, Measure::Money, 2520),
        ]
    };
    for terms in ["", r#"{"tax":20}"#, r#"{"name":"Mill"}"#] {
        assert_eq!(
            told(terms),
            ["3.90 saved", "3.90 more to pay", "25.20 to pay"]
        );
    }
    for terms in [
        r#"{"delivery":40}"#,
        r#"{"trip":4}"#,
        r#"{"tax":20,"prices":"without tax"}"#,
    ] {
        assert_eq!(
            told(terms),
            [
                "3.90 saved by the prices",
                "3.90 more by the prices",
                "25.20 by the prices"
            ]
        );
    }
}

/// A length too long to carry costs a cut more, so the shorter one at the same price per metre is the cheaper; without the fee the fewest are bought.
#[test]
fn the_fee_of_a_cut_counts_in_what_a_length_costs() {
    let text = |fee: &str| {
        format!(
            r#"{{"format":"lengthwise-job","aim":"cheapest","carry":"3.1 m","sections":[{{"name":"post"}}],"yards":[{{"cut_fee":"{fee}"}}],
                "yard":[{{"length":"3 m","price":"12.60"}},{{"length":"6 m","price":"25.00"}}],
                "parts":[{{"label":"post","length":1400,"quantity":4}}]}}"#
        )
    };
    let money = |fee: &str| proven(&checked(&job(&text(fee))), Measure::Money);
    assert_eq!(
        [money("0"), money("0.20"), money("3")],
        [2_500, 2_520, 2_520]
    );
    assert_eq!(
        bill(&text("0.10")),
        ["lengths 25.00", "cuts at the yard 0.10", "to pay 25.10"]
    );
}

#[test]
fn yards_are_named_where_there_are_several() {
    let two = r#"{"name":"A"},{"name":"B;"},{"name":"A"}"#;
    assert_eq!(
        faults(&with_terms(two, r#""buy_at":"Cray","#)),
        [
            "yards 2, name: should be a name without a semicolon",
            "yards 3, name: \"A\" is there twice; give each its own name",
            "buy_at: no yard is called \"Cray\"; add it to the yards first",
            "yard 1, yard: the yard is missing; fill it in",
        ]
    );
}

/// What is bought elsewhere is in no plan.
#[test]
fn timber_is_bought_where_it_is_said() {
    let text = |at: &str| {
        format!(
            r#"{{"format":"lengthwise-job","aim":"cheapest","buy_at":"{at}","sections":[{{"name":"post"}}],"yards":[{{"name":"A"}},{{"name":"B"}}],
                "yard":[{{"length":"3 m","price":"12.60","yard":"A"}},{{"length":"3 m","price":"12.50","yard":"B"}}],
                "parts":[{{"label":"post","length":1400,"quantity":4}}]}}"#
        )
    };
    let money = |at: &str| proven(&checked(&job(&text(at))), Measure::Money);
    assert_eq!(
        ["", "A", "B", "A; B"].map(money),
        [2_500, 2_520, 2_500, 2_500]
    );
    assert_eq!(bill(&text("A")), ["A: lengths 25.20", "A: to pay 25.20"]);
}

/// The checker works the fee of a cut out by itself.
#[test]
fn a_plan_that_leaves_the_fee_of_a_cut_out_is_refused() {
    let text = r#"{"format":"lengthwise-job","aim":"cheapest","carry":"3.1 m","sections":[{"name":"post"}],"yards":[{"cut_fee":"3"}],
        "yard":[{"length":"6 m","price":"25.00"}],"parts":[{"label":"post","length":1400,"quantity":4}]}"#;
    let job = job(text);
    let mut plan = checked(&job).plan().clone();
    assert_eq!(plan.proofs[0].levels[0].value, 2_800);
    plan.proofs[0].levels[0].value = 2_500;
    plan.proofs[0].levels[0].bound = 2_500;
    let lie = Lie::WrongValue {
        measure: Measure::Money,
        claimed: 2_500,
        found: 2_800,
    };
    assert_eq!(check(&job, plan).expect_err("a lie"), [lie]);
}

fn call(action: &str, request: &Value) -> Value {
    serde_json::from_str(&api::call(action, &request.to_string())).expect("a reply")
}

/// A job with something in every field of a yard, and of what it sells.
fn full() -> Value {
    json!({
        "format": "lengthwise-job", "version": 1, "buy_at": "Mill; Depot",
        "sections": [{ "name": "post", "thickness": "45", "width": "95", "sold_as": "50 x 100" }],
        "yards": [
            { "name": "Mill", "tax": "20", "prices": "without tax", "delivery": "40", "free_from": "200", "trip": "6", "cut_fee": "1.50" },
            { "name": "Depot", "tax": "20", "prices": "without tax" },
        ],
        "yard": [
            { "section": "post", "length": "3000", "price": "4.20 per m", "count": "9", "pack": "2", "yard": "Mill" },
            { "section": "post", "length": "2400", "price": "500 per m3", "yard": "Depot" },
        ],
        "parts": [{ "label": "leg", "length": "560" }],
    })
}

#[test]
fn yards_and_prices_go_into_a_link_and_out_of_it_as_they_are() {
    let job = full();
    let (draft, faults) = job_file::read_value(&job);
    assert_eq!(faults, []);
    for (list, rows) in [
        (
            "yards",
            draft
                .yards
                .iter()
                .map(|row| row.texts())
                .collect::<Vec<_>>(),
        ),
        ("yard", draft.yard.iter().map(|row| row.texts()).collect()),
    ] {
        assert!(
            rows[0].iter().all(|text| text.is_some()),
            "{list}: every field is read"
        );
    }
    assert_eq!(faults_of(&draft), Vec::<String>::new());
    let link = call(
        "link",
        &json!({ "job": job, "address": "https://page.example/" }),
    );
    let fragment = link["link"]
        .as_str()
        .and_then(|link| link.split_once('#'))
        .expect("a link")
        .1;
    let back = call("job_in_link", &json!({ "fragment": fragment }));
    assert_eq!(back["job"], job);
    let spelled = call("spell_job", &json!({ "job": job }));
    assert_eq!(spelled["job"]["sections"][0]["sold_as"], "50 mm x 100 mm");
    assert_eq!(spelled["job"]["yard"][0]["price"], "4.20 per m");
}

fn faults_of(draft: &JobDraft) -> Vec<String> {
    let faults = validate(draft).err().unwrap_or_default();
    faults.iter().map(ToString::to_string).collect()
}

/// Pieces that are bought for together have the yards of all.
#[test]
fn pieces_are_joined_with_their_yards() {
    let mut other = full();
    other["piece"] = "other".into();
    let joint = call("join", &json!({ "jobs": [full(), other] }));
    assert_eq!(joint["job"]["yards"], full()["yards"]);
    assert_eq!(joint["job"]["yard"], full()["yard"]);
}
