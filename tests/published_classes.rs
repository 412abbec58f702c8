//! One instance or two of each published class, proven and shown again by the checker. Where they are from:
//!
//! - Of one length: the collection of M. Delorme, M. Iori and S. Martello (BPPLIB), in its cutting-stock form, with the classes of Falkenauer, Scholl,
//!   Schwerin, Waescher, Hard28 (Belov and Scheithauer), AI and ANI, GI (Gschwind and Irnich) and the randomly generated ones. `bounds.csv` has the values
//!   published there. The instance of Fieldhouse is of those without the rounding property; its value is ours, shown again here.
//! - Of several lengths (VSCSP): instances of Belov, Crainic and others, Hemmelmayr and others, and random ones. Nothing is published beside them; the values
//!   below were proven by HiGHS too (`cargo compare fixtures/classes --only VSCSP --highs 100`), but for that of Belov, which it left open.

mod common;

use common::command::ends;
use std::collections::BTreeMap;
use std::fs;

/// Far more than any of them takes, so that a slow machine proves them too.
const SECONDS: &str = "900";

/// The values of instances of several lengths; `None` where there is no plan.
const SEVERAL: [(&str, Option<i64>); 5] = [
    ("Belov1_31", Some(17_365_500)),
    ("Crainic3_200_1_3_002", Some(4_970)),
    ("Hemmelmayr1_100_7_2_8", Some(8_116)),
    ("random12_48_39_0_0", Some(25_374)),
    ("random15_45_53_0_0", None),
];

fn folder() -> String {
    format!("{}/fixtures/classes", env!("CARGO_MANIFEST_DIR"))
}

/// The names of the classes.
fn classes() -> Vec<String> {
    let entries = fs::read_dir(folder()).expect("the folder");
    let places = entries.map(|entry| entry.expect("an entry").path());
    let folders = places.filter(|place| place.is_dir());
    let names = folders.map(|place| place.file_name().expect("a name").to_owned());
    let mut names: Vec<String> = names
        .map(|name| name.into_string().expect("a plain name"))
        .collect();
    names.sort();
    names
}

/// The rows of a CSV table until its first empty line, each by the names of its columns.
fn rows(csv: &str) -> Vec<BTreeMap<&str, &str>> {
    let mut lines = csv.lines().take_while(|line| !line.is_empty());
    let names: Vec<&str> = lines.next().expect("a header").split(',').collect();
    lines
        .map(|line| names.iter().copied().zip(line.split(',')).collect())
        .collect()
}

#[test]
fn every_class_is_proven_at_its_published_value() {
    let (out, _) = ends(
        &["bench", &folder(), "--seconds", SECONDS, "--threads", "1"],
        "",
        0,
    );
    let published = fs::read_to_string(format!("{}/bounds.csv", folder())).expect("the bounds");
    let published: BTreeMap<&str, Option<i64>> = rows(&published)
        .iter()
        .map(|row| {
            assert_eq!(row["lower"], row["upper"], "an open instance");
            (row["instance"], row["upper"].parse().ok())
        })
        .chain(SEVERAL)
        .chain([("Fieldhouse", Some(6))])
        .collect();
    let solved = rows(&out);
    assert_eq!(solved.len(), published.len());
    for row in &solved {
        let name = row["instance"];
        let value = row["stock_used_or_cost"].parse().ok();
        assert_eq!(row["proven"], "yes", "{name}");
        assert_eq!(value, published[name], "{name}");
        assert!(value.is_some() || row["stock_used_or_cost"] == "impossible");
    }
    let in_classes: Vec<&str> = solved.iter().map(|row| row["class"]).collect();
    for class in classes() {
        assert!(in_classes.contains(&&*class), "{class} was left out");
    }
}

#[test]
fn every_proof_for_a_class_of_one_length_is_shown_again() {
    let mut levels = 0;
    for class in classes() {
        // The lengths of the instance without the rounding property are too short for a board.
        if class.starts_with("VSCSP") || class == "NIRUP" {
            continue;
        }
        let only = format!("{class}/");
        let asked = [
            "bench",
            &folder(),
            "--only",
            &only,
            "--check",
            "--seconds",
            SECONDS,
        ];
        let (out, _) = ends(&asked, "", 0);
        for row in rows(&out) {
            assert_eq!(row["levels_proven"], row["again"], "{}", row["instance"]);
            levels += row["again"].parse::<u32>().expect("a count");
        }
    }
    assert!(levels >= 16 * 3 - 1, "{levels} levels of 16 instances");
}
