//! The text, the table of the saw sheet and the reply to the page say the same of every step and every board, and leave nothing out.

mod common;

use lengthwise::api;
use lengthwise::check::{Effort, check_within};
use lengthwise::io::{csv::rows, plan_file};
use lengthwise::job::{Fitting, Job};
use lengthwise::planner::Planned;
use lengthwise::report::{self, BoardReport, Report, Step, csv};
use serde_json::{Value, json};
use std::collections::{BTreeMap, HashMap};

/// Rails out of wider boards, one of which is told by about where it ends: the board has no step there.
const RIPPED: &str = r#"{"format":"lengthwise-job","version":1,"saw":{"kerf":"3"},"sections":[{"name":"board","width":"95","thickness":"22"}],
    "yard":[{"length":"2400"}],"shed":[{"mark":"A","length":"700.3","trim":"0"}],
    "parts":[{"label":"strip","length":"500","quantity":"4","ripped":"40"},{"label":"p","length":"700.1","ends":"45"}]}"#;

/// The examples, and jobs whose sheets have everything that a sheet can have.
fn jobs() -> Vec<(String, String)> {
    let mut jobs = vec![("ripped".to_owned(), RIPPED.to_owned())];
    for folder in ["fixtures/jobs", "fixtures/sheets"] {
        for entry in std::fs::read_dir(folder).expect("the examples") {
            let path = entry.expect("an example").path();
            let text = std::fs::read_to_string(&path).expect("an example");
            jobs.push((path.display().to_string(), text));
        }
    }
    jobs
}

/// What a sheet says of a step, by the heading of the table.
fn told(step: &Step) -> [(&'static str, String); 15] {
    [
        ("step", step.order.to_string()),
        ("reading", step.reading.clone()),
        ("rounded", if step.rounded { "rounded" } else { "" }.into()),
        ("letter", step.letter.clone()),
        ("label", step.label.clone()),
        ("part length", step.part_length.clone()),
        ("ends", step.ends.clone()),
        ("long edge", step.long_edge.clone()),
        ("turn", step.turn.clone()),
        ("tape", step.tape.clone()),
        ("side", step.side.text().into()),
        ("hint", step.hint.clone()),
        ("misses", step.miss.clone()),
        ("mind", step.caution.clone()),
        ("rip", step.rip.clone()),
    ]
}

/// The lines of the text below the title of a board.
fn lines_of<'a>(text: &'a str, report: &Report, board: usize) -> Vec<&'a str> {
    let mut alike = report.alike.iter();
    let series = alike.find(|one| one.first == board);
    let title = match series.map(|one| one.count) {
        Some(1) => format!("Board {}: ", board + 1),
        _ => format!("Boards {} to ", board + 1),
    };
    let mut lines = text.lines().skip_while(|line| !line.starts_with(&title));
    assert!(lines.next().is_some(), "{title}\n{text}");
    lines.take_while(|line| !line.is_empty()).collect()
}

/// Whether the text has every step of a board on a line of its own, and what concerns the whole board around them.
fn in_text(text: &str, report: &Report, index: usize, board: &BoardReport) {
    let lines = lines_of(text, report, index);
    let minded = &lines[1..=board.cautions.len()];
    for (line, caution) in minded.iter().zip(&board.cautions) {
        assert_eq!(line.trim(), caution);
    }
    let steps = &lines[1 + board.cautions.len()..];
    assert_eq!(steps.len(), board.steps.len() + board.offcuts.len());
    for (line, step) in steps.iter().zip(&board.steps) {
        let sign = if step.rounded { "\u{2248}" } else { "" };
        // A rip is read off the saw's fence and has no reading of the tape.
        let gap = if step.reading.is_empty() { "" } else { "  " };
        let reading = format!("{sign}{}{gap}", step.reading);
        assert!(line.trim_start().starts_with(&reading), "{line}: {reading}");
        for (field, words) in told(step) {
            let square = field == "ends" && !step.angled;
            if !["step", "reading", "rounded"].contains(&field) && !square {
                assert!(line.contains(&words), "{line}: {field} {words}");
            }
        }
    }
    for (line, offcut) in steps[board.steps.len()..].iter().zip(&board.offcuts) {
        assert_eq!(line.trim(), offcut.text);
    }
}

/// Whether the table has a row for every step with all that is said of it.
fn in_table(table: &[HashMap<String, String>], index: usize, board: &BoardReport) {
    let number = (index + 1).to_string();
    let rows: Vec<_> = table.iter().filter(|row| row["board"] == number).collect();
    assert_eq!(rows.len(), board.steps.len());
    for (row, step) in rows.iter().zip(&board.steps) {
        for (field, words) in told(step) {
            assert_eq!(row[field], words, "{field} of step {}", step.order);
        }
        let first = step.order == 1;
        let minded = if first {
            board.cautions.join(" ")
        } else {
            String::new()
        };
        assert_eq!(row["mind with the board"], minded);
    }
    let left: Vec<&str> = board.offcuts.iter().map(|left| &left.text[..]).collect();
    assert_eq!(rows[rows.len() - 1]["left of the board"], left.join("; "));
}

/// Whether the page is sent every step with all that is said of it.
fn in_reply(reply: &Value, board: &BoardReport) {
    let minded: Vec<Value> = board.cautions.iter().cloned().map(Value::from).collect();
    assert_eq!(reply["cautions"], Value::from(minded));
    let steps = reply["steps"].as_array().expect("steps");
    assert_eq!(steps.len(), board.steps.len());
    for (sent, step) in steps.iter().zip(&board.steps) {
        let says: Vec<&str> = sent["says"]
            .as_array()
            .into_iter()
            .flatten()
            .filter_map(Value::as_str)
            .collect();
        for (field, words) in told(step) {
            let name = match field {
                "step" | "rounded" => continue,
                "part length" => "part_length",
                "long edge" => "long_edge",
                "misses" => "miss",
                "mind" => "caution",
                other => other,
            };
            assert_eq!(sent[name], words, "{field}");
            let listed = ["long edge", "turn", "tape", "side", "hint", "misses", "rip"];
            if listed.contains(&field) && !words.is_empty() {
                assert!(says.contains(&&words[..]), "{field}: {words}: {says:?}");
            }
        }
        assert_eq!(sent["rounded"], step.rounded);
    }
}

fn reported(text: &str) -> (Job, Report, Value) {
    let job = common::job(text);
    let Planned::Found(plan) = common::planned_within(&job, 60) else {
        panic!("no plan");
    };
    let checked = check_within(&job, plan, Effort::NONE).expect("a plan that holds");
    let request = json!({
        "job": serde_json::from_str::<Value>(text).expect("JSON"), "plans": [plan_file::write_value(checked.plan())],
        "spent": [1], "seconds": 1,
    });
    let reply = api::call("report", &request.to_string());
    let report = report::build(&job, &checked);
    (job, report, serde_json::from_str(&reply).expect("JSON"))
}

#[test]
fn text_table_and_page_carry_every_step_with_all_that_is_said_of_it() {
    let mut met: BTreeMap<&str, usize> = BTreeMap::new();
    for (name, text) in jobs() {
        println!("{name}");
        let (job, report, reply) = reported(&text);
        let printed = report::text::text(&report);
        let mut table = rows(&csv::saw(&report)).expect("a table").into_iter();
        let heads = table.next().expect("headings").cells;
        let table: Vec<HashMap<String, String>> = table
            .map(|row| heads.iter().cloned().zip(row.cells).collect())
            .collect();
        for (index, board) in report.boards.iter().enumerate() {
            if report.alike.iter().any(|one| one.first == index) {
                in_text(&printed, &report, index, board);
            }
            in_table(&table, index, board);
            in_reply(&reply["boards"][index], board);
            for step in &board.steps {
                for (field, words) in told(step) {
                    *met.entry(field).or_default() += usize::from(!words.is_empty());
                }
                // Letters are those of the job's parts in their order; none of these jobs has more than 26.
                let letter = step.letter.bytes().next();
                let part = letter.map(|letter| &job.parts[usize::from(letter - b'A')]);
                let between = part.is_some_and(|part| part.fitting == Fitting::Between);
                let measured = step.hint.contains("measure first where it goes");
                assert_eq!(measured, between, "{}", step.label);
                *met.entry("measured first").or_default() += usize::from(measured);
            }
            *met.entry("with a board").or_default() += board.cautions.len();
            *met.entry("left").or_default() += board.offcuts.len();
        }
    }
    let never: Vec<_> = met.iter().filter(|(_, count)| **count == 0).collect();
    assert!(never.is_empty(), "said of no step: {never:?}");
}

/// Four rails of a length: one is of the line of which there is one, the other of the dearer line that reads alike.
#[test]
fn two_lines_that_read_alike_are_two_rows_of_the_buying_list() {
    let text = r#"{"format":"lengthwise-job","version":1,"sections":[{"name":"batten"}],
        "yard":[{"length":"2.4 m","price":"5.00","count":"1"},{"length":"2.4 m","price":"6.00"}],
        "parts":[{"label":"rail","length":"560","quantity":"8"}]}"#;
    let (_, report, reply) = reported(text);
    let told = |row: &report::BuyingRow| (row.line, row.count, row.length.clone());
    let told: Vec<_> = report.buying.rows.iter().map(told).collect();
    let one = |line| (line, 1, "2.4 m".to_owned());
    assert_eq!(told, [one(0), one(1)]);
    let sent = reply["buying"]["rows"].as_array().expect("rows");
    let lines: Vec<&Value> = sent.iter().map(|row| &row["line"]).collect();
    assert_eq!(lines, [0, 1]);
    let mut yard: Vec<_> = reply["plan"]["boards"]
        .as_array()
        .into_iter()
        .flatten()
        .map(|board| board["yard"].clone())
        .collect();
    yard.sort_by_key(Value::as_u64);
    assert_eq!(yard, [0, 1]);
}
