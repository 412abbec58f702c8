//! Names that no person should type, in every text that is written: an independent parser must read each of them.

mod common;

use common::{checked, job};
use lengthwise::io::{csv, job_file, parts_table, plan_file};
use lengthwise::job::{JobDraft, PartDraft, ShedDraft};
use lengthwise::piece::piece_text;
use lengthwise::report::{self, Report};
use lengthwise::shown;
use serde_json::{Value, json};

/// Names that break something somewhere: control characters, noncharacters, marks of direction, and the syntax of XML, CSV, JSON and
/// spreadsheets.
fn hostile() -> Vec<String> {
    let controls = (0..0x20).chain(0x7f..0xa0).filter_map(char::from_u32);
    let mut names: Vec<String> = controls.map(|sign| format!("a{sign}b")).collect();
    let others = [
        "a\u{fffe}b",
        "a\u{ffff}b",
        "a\u{1ffff}b",
        "a\u{fdd0}b",
        "a\u{feff}b",
        "a\u{e000}b",
        "\u{1b}[2J\u{1b}]0;title\u{7}",
        "a\u{202e}b",
        "a\u{2066}b",
        "a\u{200f}b",
        "a\u{2028}b",
        "\u{5de}\u{5d3}\u{5e3}",
        "e\u{301}\u{302}\u{303}",
        "\u{1f468}\u{200d}\u{1f469}\u{200d}\u{1f467}",
        "\"quoted\"",
        "it's",
        "]]>",
        "<script>alert(1)</script>",
        "<!-- --",
        "&amp;",
        "&#0;",
        "<?xml?>",
        "a\nb",
        "a\r\nb",
        "a\tb",
        "=1+1",
        "+1",
        "-1+1",
        "@sum",
        "\t=1",
        "\r=1",
        " =1",
        "'=1",
        "''=1",
        "a,b",
        ",",
        "\\u0000",
        "\\",
        "\\ud800",
        "{}",
        "%s%n",
        "__proto__",
        "NaN",
        "../../x",
        "\u{0}",
    ];
    names.extend(others.map(str::to_owned));
    names.push("word ".repeat(18));
    names.push("\u{301}".repeat(90));
    names
}

/// A job in which every text that a person makes up is this one.
fn job_of(name: &str) -> Value {
    // A semicolon parts the sections of a part.
    let section = name.replace(';', ":");
    json!({
        "format": "lengthwise-job", "version": 1, "piece": name,
        "sections": [{ "name": section, "thickness": 45, "width": 70 }],
        "yard": [{ "section": section, "length": "2.4 m", "price": 5 }],
        "shed": [{ "mark": name, "section": section, "length": 900, "bad": "400..420", "note": name }],
        "parts": [{ "label": name, "section": section, "length": 560, "quantity": 4, "ends": "45" }],
    })
}

fn report_of(file: &Value) -> Report {
    let job = job(&file.to_string());
    report::build(&job, &checked(&job))
}

/// The drawings of a report, each read by a parser of XML; the texts in them.
#[track_caller]
fn texts_of(drawing: &str) -> Vec<String> {
    let read =
        roxmltree::Document::parse(drawing).unwrap_or_else(|why| panic!("{why}: {drawing:?}"));
    let names: Vec<&str> = read
        .descendants()
        .filter(|node| node.is_element())
        .map(|node| node.tag_name().name())
        .collect();
    assert!(!names.contains(&"script"), "{drawing}");
    let texts = read
        .descendants()
        .filter_map(|node| node.text().filter(|_| node.is_text()));
    texts.map(str::to_owned).collect()
}

/// The rows of a table, read by the usual library for CSV.
#[track_caller]
fn rows_of(table: &str) -> Vec<Vec<String>> {
    let mut reader = ::csv::ReaderBuilder::new()
        .has_headers(false)
        .from_reader(table.as_bytes());
    let rows = reader
        .records()
        .map(|row| row.unwrap_or_else(|why| panic!("{why}: {table:?}")));
    rows.map(|row| row.iter().map(str::to_owned).collect())
        .collect()
}

#[test]
fn every_drawing_is_xml_and_says_the_name() {
    for name in hostile() {
        let report = report_of(&job_of(&name));
        let whole = report::standalone(&report.drawing, 1_060);
        let said = shown::line(name.trim());
        assert_eq!(texts_of(&whole)[0], format!("The plan of {said}"));
        let boards = report.boards.iter().map(|board| &board.svg);
        let swatches = report.legend.iter().map(|row| &row.swatch);
        for drawing in boards.chain(swatches).chain(&report.drawings) {
            texts_of(drawing);
        }
        let first = texts_of(&report.boards[0].svg);
        assert!(
            first.iter().any(|text| text.contains(&said)),
            "{name:?}: {first:?}"
        );
    }
}

#[test]
fn every_drawing_of_a_set_out_is_xml_and_says_its_name() {
    for name in hostile()
        .iter()
        .map(|name| name.replace(['[', ']', ';'], "/"))
    {
        let mut file = job_of(&name);
        file["set_outs"] = json!([{ "kind": "boarding", "name": name, "section": file["sections"][0]["name"],
            "width": 900, "height": 600, "run": "across", "gap": 4, "supports": 3 }]);
        let job = job(&file.to_string());
        let texts = texts_of(&job.set_outs[0].svg);
        let said = shown::line(name.trim());
        assert!(
            texts.iter().any(|text| text.contains(&said)),
            "{name:?}: {texts:?}"
        );
    }
}

#[test]
fn every_table_has_its_cells_and_none_begins_like_a_formula() {
    for name in hostile() {
        let report = report_of(&job_of(&name));
        for table in [
            report::csv::saw(&report),
            report::csv::buying(&report),
            report::csv::back_to_shed(&report),
        ] {
            let rows = rows_of(&table);
            let begins = |cell: &String| cell.starts_with(['=', '+', '@', '\t', '\r']);
            assert!(!rows.iter().flatten().any(begins), "{name:?}: {table}");
        }
        let saw = rows_of(&report::csv::saw(&report));
        let said = shown::line(name.trim());
        let labels = saw
            .iter()
            .filter(|row| row[3] == "mitre")
            .map(|row| row[7].trim_start_matches('\''));
        assert!(labels.count() >= 4);
        assert!(
            saw.iter()
                .any(|row| row[7].trim_start_matches('\'') == said.trim_start_matches('\'')),
            "{name:?}: {saw:?}"
        );
    }
}

#[test]
fn parts_and_boards_come_back_from_their_tables_as_they_were_typed() {
    // A table may hold more than a job takes.
    for name in hostile().into_iter().chain(["\"=word\n".repeat(1_400)]) {
        let text = Some(name.clone());
        let part = PartDraft {
            label: text.clone(),
            section: text.clone(),
            length: Some("560".into()),
            ..PartDraft::default()
        };
        let table = csv::write_parts(std::slice::from_ref(&part));
        assert_eq!(rows_of(&table).len(), 2);
        if name.trim().is_empty() {
            continue;
        }
        assert_eq!(
            parts_table::read_strictly(&table),
            Ok(vec![part]),
            "{name:?}"
        );
        let board = ShedDraft {
            mark: text.clone(),
            note: text,
            ..ShedDraft::default()
        };
        let row = &rows_of(&csv::write_shed(&[board]))[1];
        assert!(row[0] == name || row[0] == format!("'{name}"), "{row:?}");
        assert_eq!(row[0], row[5]);
    }
}

#[test]
fn the_text_for_a_terminal_moves_no_terminal() {
    for name in hostile() {
        let file = job_of(&name);
        let job = job(&file.to_string());
        let text = piece_text(&job) + &report::text::text(&report_of(&file));
        let bad = |sign: char| {
            (sign.is_control() && sign != '\n')
                || matches!(sign, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}')
        };
        assert!(!text.contains(bad), "{name:?}: {text:?}");
    }
}

#[test]
fn a_plan_and_a_reply_read_back_as_they_were() {
    for name in hostile() {
        let file = job_of(&name);
        let (read, faults) = job_file::read(&file.to_string());
        assert_eq!(faults, []);
        // What is typed stays in the job.
        if !name.trim().is_empty() {
            assert_eq!(read.parts[0].label.as_deref(), Some(name.as_str()));
        }
        let job = job(&file.to_string());
        let checked = checked(&job);
        let plan = plan_file::write(checked.plan());
        assert_eq!(plan_file::read(&plan).as_ref(), Ok(checked.plan()));
        let built = report::build(&job, &checked);
        let reply = lengthwise::io::reply::report(&built, checked.plan());
        let reply = serde_json::to_value(reply).expect("plain data");
        assert_eq!(
            serde_json::from_str::<Value>(&reply.to_string()).ok(),
            Some(reply)
        );
    }
}

#[test]
fn what_is_wrong_with_a_job_is_told_on_one_line() {
    for name in hostile() {
        let mut file = job_of(&name);
        file["parts"][0]["length"] = json!(name);
        file["parts"][0]["section"] = json!(format!("not {name}"));
        file[name.as_str()] = json!(1);
        let (draft, mut faults) = job_file::read(&file.to_string());
        faults.extend(lengthwise::job::validate(&draft).expect_err("no length"));
        assert!(faults.len() >= 3);
        for fault in faults {
            let told = fault.to_string();
            assert_eq!(told, shown::line(&told));
        }
    }
}

#[test]
fn half_a_sign_in_json_is_a_fault_with_its_place() {
    let text = job_of("leg")
        .to_string()
        .replacen("\"label\":\"leg\"", "\"label\":\"\\ud800\"", 1);
    let (draft, faults) = job_file::read(&text);
    assert_eq!(draft, JobDraft::default());
    let told: Vec<String> = faults.iter().map(ToString::to_string).collect();
    assert_eq!(told.len(), 1);
    assert!(
        told[0].starts_with("line 1, column ") && told[0].ends_with("hex escape"),
        "{told:?}"
    );
}
