//! The same job typed in another way has the same answer: in other units, in another order, with stock that nobody needs.

mod common;

use common::{checked, job};
use lengthwise::job::Job;
use lengthwise::plan::Measure;

struct Said {
    unit: &'static str,
    kerf: &'static str,
    sections: &'static str,
    yard: Vec<String>,
    shed: Vec<String>,
    parts: Vec<String>,
}

impl Said {
    fn job(&self, aim: &str) -> Job {
        job(&format!(
            r#"{{"format":"lengthwise-job","unit":"{}","aim":"{aim}","saw":{{"kerf":"{}","keep":"12 in"}},
                "sections":[{}],"yard":[{}],"shed":[{}],"parts":[{}]}}"#,
            self.unit,
            self.kerf,
            self.sections,
            self.yard.join(","),
            self.shed.join(","),
            self.parts.join(",")
        ))
    }
}

/// What is to be bought and what it costs, both proven least.
fn answer(said: &Said, aim: &str) -> (i64, i64) {
    let checked = checked(&said.job(aim));
    let total = |measure: Measure| {
        let levels = checked.groups().iter().flat_map(|group| &group.levels);
        let level = levels
            .into_iter()
            .find(|level| level.measure == measure)
            .expect("both are measured");
        assert_eq!(level.bound, Some(level.value), "so small a job is settled");
        level.value
    };
    (total(Measure::Bought), total(Measure::Money))
}

/// A small trestle said in millimetres; an inch is 25.4 mm exactly, so every size is whole in both.
fn in_millimetres() -> Said {
    Said {
        unit: "mm",
        kerf: "3.175",
        sections: r#"{"name":"batten","width":"88.9","trim":"12.7"}"#,
        yard: vec![
            r#"{"length":2438.4,"price":"6.10"}"#.into(),
            r#"{"length":"3.048 m","price":"7.90"}"#.into(),
            r#"{"length":3657.6,"price":"9.20","count":3}"#.into(),
        ],
        shed: vec![
            r#"{"mark":"A","length":"1828.8","bad":"609.6..660.4","trim":"25.4"}"#.into(),
            r#"{"mark":"B","length":"1270","trim":"25.4"}"#.into(),
        ],
        parts: vec![
            r#"{"label":"leg","length":"431.8","quantity":6}"#.into(),
            r#"{"label":"rail","length":"1206.5","quantity":4}"#.into(),
            r#"{"label":"cap","length":"660.4","quantity":4,"ends":45}"#.into(),
            r#"{"label":"brace","length":"355.6","quantity":5,"ends":"square; 45"}"#.into(),
        ],
    }
}

fn in_inches() -> Said {
    Said {
        unit: "in",
        kerf: "1/8",
        sections: r#"{"name":"batten","width":"3 1/2","trim":"1/2"}"#,
        yard: vec![
            r#"{"length":"8'","price":"6.10"}"#.into(),
            r#"{"length":"10'","price":"7.90"}"#.into(),
            r#"{"length":144,"price":"9.20","count":3}"#.into(),
        ],
        shed: vec![
            r#"{"mark":"A","length":"6'","bad":"24..26","trim":1}"#.into(),
            r#"{"mark":"B","length":"4' 2\"","trim":1}"#.into(),
        ],
        parts: vec![
            r#"{"label":"leg","length":17,"quantity":6}"#.into(),
            r#"{"label":"rail","length":"47 1/2","quantity":4}"#.into(),
            r#"{"label":"cap","length":26,"quantity":4,"ends":45}"#.into(),
            r#"{"label":"brace","length":14,"quantity":5,"ends":"square; 45"}"#.into(),
        ],
    }
}

#[test]
fn inches_and_millimetres_give_the_same_plan() {
    // 3.175 mm has three decimals, which the reader takes for metres unless it is told otherwise.
    let millimetres = Said {
        kerf: "3.1750",
        ..in_millimetres()
    };
    for aim in ["fewest", "cheapest"] {
        assert_eq!(
            answer(&millimetres, aim),
            answer(&in_inches(), aim),
            "{aim}"
        );
    }
}

#[test]
fn the_order_of_the_lists_does_not_matter() {
    let plain = answer(&in_inches(), "fewest");
    for turn in 1..4 {
        let mut turned = in_inches();
        turned.parts.rotate_left(turn);
        turned.yard.rotate_left(turn % 3);
        turned.shed.rotate_left(turn % 2);
        assert_eq!(answer(&turned, "fewest"), plain, "turned by {turn}");
    }
}

#[test]
fn one_line_written_as_several_does_not_matter() {
    let mut split = in_inches();
    split.parts[0] = r#"{"label":"leg","length":17,"quantity":4}"#.into();
    split
        .parts
        .push(r#"{"label":"back leg","length":17,"quantity":2}"#.into());
    assert_eq!(answer(&split, "cheapest"), answer(&in_inches(), "cheapest"));
}

#[test]
fn stock_that_is_too_short_or_too_dear_changes_nothing() {
    for aim in ["fewest", "cheapest"] {
        let plain = answer(&in_inches(), aim);
        let mut more = in_inches();
        more.yard.push(r#"{"length":"10","price":"0.50"}"#.into());
        more.yard.push(r#"{"length":"10' ","price":"70"}"#.into());
        more.shed
            .push(r#"{"mark":"C","length":"12","trim":1}"#.into());
        assert_eq!(answer(&more, aim), plain, "{aim}");
    }
}

#[test]
fn more_stock_never_costs_more() {
    let plain = answer(&in_inches(), "cheapest");
    let mut more = in_inches();
    more.yard.push(r#"{"length":"14'","price":"10.30"}"#.into());
    assert!(answer(&more, "cheapest").1 <= plain.1);
}
