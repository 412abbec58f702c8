//! A field of a board in the shed is one line of a table, from which all code about boards as typed takes it. These tests go through the
//! table, so a field that is added to it is tested here without a change.

use lengthwise::api;
use lengthwise::draft::ShedDraft;
use lengthwise::fields::{Field, Holds, Row};
use lengthwise::io::{csv, forms, job_file, schema};
use serde_json::{Value, json};

/// A text for a field that says what it holds.
fn sample(field: &Field) -> String {
    match field.holds {
        Holds::Text => format!("some {}", field.name),
        Holds::Length => "2100 mm".into(),
        Holds::TwoLengths => "11 mm; 12 mm".into(),
        Holds::Count => "3".into(),
        Holds::Mass => "4 kg".into(),
        Holds::Money | Holds::Price => "5.00".into(),
        Holds::Sides => "50 mm x 100 mm".into(),
        Holds::Word(words) => words[words.len() - 1].0.into(),
        Holds::Stretches => "1900 mm..1950 mm".into(),
        Holds::Section | Holds::Sections => "batten".into(),
        Holds::Ends => "45".into(),
    }
}

/// A board of the shed with something in every field.
fn board() -> Value {
    let fields = ShedDraft::FIELDS.iter();
    fields
        .map(|field| (field.name.to_owned(), Value::from(sample(field))))
        .collect::<serde_json::Map<_, _>>()
        .into()
}

fn job() -> Value {
    json!({ "format": "lengthwise-job", "version": 1, "sections": [{ "name": "batten" }], "shed": [board()],
        "yard": [{ "length": "2.4 m" }], "parts": [{ "label": "rung", "length": 560, "quantity": 2 }] })
}

fn call(action: &str, request: &Value) -> Value {
    serde_json::from_str(&api::call(action, &request.to_string())).expect("a reply")
}

#[test]
fn every_field_of_a_board_is_read_and_written() {
    let (draft, faults) = job_file::read_value(&job());
    assert_eq!(faults, []);
    for (field, text) in ShedDraft::FIELDS.iter().zip(draft.shed[0].texts()) {
        assert_eq!(
            text.as_deref(),
            Some(sample(field).as_str()),
            "{}",
            field.name
        );
    }
    let table = csv::write_shed(&draft.shed);
    let rows = csv::rows(&table).expect("a table");
    for (at, field) in ShedDraft::FIELDS.iter().enumerate() {
        assert_eq!(rows[0].cells[at], field.name);
        assert_eq!(rows[1].cells[at], sample(field));
    }
}

#[test]
fn every_field_of_a_board_stands_in_the_schema_and_in_the_forms() {
    let shed = &schema::value()["properties"]["shed"]["items"]["properties"];
    let forms = forms::value();
    for (at, field) in ShedDraft::FIELDS.iter().enumerate() {
        let said = &ShedDraft::SAID[at];
        assert_eq!(shed[field.name]["description"], said.about);
        let form = &forms["shed"][at];
        assert_eq!([&form["name"], &form["label"]], [field.name, said.label]);
    }
}

#[test]
fn no_field_of_a_board_is_lost_when_work_goes_on() {
    let job = job();
    let plan = api::plan(
        &json!({ "job": job, "asks": 100 }).to_string(),
        &|| 0.0,
        &mut |_| {},
    );
    let plan: Value = serde_json::from_str(&plan).expect("a reply");
    let plan = &plan["plan"];
    assert_eq!(plan["boards"][0]["shed"], 0, "{plan}");
    // Before the first cut the board is as it was. With one part cut, the fields of the rest are new, and all others stay.
    for (cut, told_anew) in [
        (0, &[][..]),
        (
            1,
            &["mark", "length", "bad", "trim", "note", "factory_ends"][..],
        ),
    ] {
        let boards = json!([{ "board": 0, "cut": cut, "spoiled": [] }]);
        let progress = json!({ "boards": boards, "bought": [], "missing": [] });
        let left = call(
            "remaining",
            &json!({ "job": job, "plan": plan, "progress": progress }),
        );
        let row = &left["job"]["shed"][0];
        for field in ShedDraft::FIELDS {
            match told_anew.contains(&field.name) {
                true => assert!(row[field.name].is_string(), "{}: {row}", field.name),
                false => assert_eq!(row[field.name], sample(field), "{}", field.name),
            }
        }
    }
}

#[test]
fn the_page_offers_and_compares_the_aims_that_the_job_file_has() {
    let aims = &schema::value()["properties"]["aim"]["enum"];
    let words = aims.as_array().expect("an aim is one of some words");
    let words: Vec<&str> = words.iter().filter_map(Value::as_str).collect();
    let offered = include_str!("../www/index.html").split(r#"name="aim" value=""#);
    let offered: Vec<&str> = offered
        .skip(1)
        .filter_map(|rest| rest.split('"').next())
        .collect();
    assert_eq!(offered, words);
    let compared = include_str!("../www/state/side-by-side.js");
    let compared = compared
        .split("export const AIMS = ")
        .nth(1)
        .expect("the aims that are compared");
    let compared = compared.split(';').next().expect("they end");
    let compared: Vec<String> = serde_json::from_str(compared).expect("a list of words");
    assert_eq!(compared, words);
}

#[test]
fn a_usual_length_of_the_yard_is_known_however_it_is_written() {
    let lengths = ["2.4 m", "3.0 m", "4.8 m", "8'"];
    let known = |unit: &str, decimal: &str, texts: &[&str]| -> Vec<Option<&str>> {
        let line = |text: &&str| json!({ "section": "batten", "length": text, "price": "2.90/m" });
        let yard: Vec<Value> = texts.iter().map(line).collect();
        let job = json!({ "format": "lengthwise-job", "unit": unit, "decimal": decimal, "sections": [{ "name": "batten" }], "yard": yard });
        let reply = call("read", &json!({ "job": job, "lengths": lengths }));
        let lines = reply["yard"].as_array().expect("what is said of each line");
        assert_eq!(lines.len(), texts.len());
        let usual = lines.iter().map(|line| line["usual"].as_u64());
        usual.map(|at| at.map(|at| lengths[at as usize])).collect()
    };
    let same = ["3.0 m", "3 m", " 3.0  m ", "3000", "300 cm"];
    assert_eq!(known("mm", "point", &same), [Some("3.0 m"); 5]);
    assert_eq!(known("mm", "comma", &["3,00m"]), [Some("3.0 m")]);
    assert_eq!(known("in", "point", &["8 '", "96"]), [Some("8'"); 2]);
    assert_eq!(known("mm", "point", &["4.80 m"]), [Some("4.8 m")]);
    let other = ["3.6 m", "30 m", "3.05 m", "3", ""];
    assert_eq!(known("mm", "point", &other), [None; 5]);
}
