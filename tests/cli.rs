//! The command line as a person uses it: what it prints, what it writes, how it ends.

use std::io::Write;
use std::path::PathBuf;
use std::process::{Command, Output, Stdio};

fn lengthwise(arguments: &[&str], input: &str) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_lengthwise"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command line starts");
    // A command that does not read its input closes the pipe, which is no fault.
    let _ = child
        .stdin
        .take()
        .expect("a pipe")
        .write_all(input.as_bytes());
    child.wait_with_output().expect("it ends")
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8(bytes.to_vec()).expect("UTF-8")
}

#[track_caller]
fn ends(arguments: &[&str], input: &str, code: i32) -> (String, String) {
    let output = lengthwise(arguments, input);
    let (out, err) = (text(&output.stdout), text(&output.stderr));
    assert_eq!(
        output.status.code(),
        Some(code),
        "{arguments:?}\n{out}\n{err}"
    );
    (out, err)
}

/// A file of this test run.
fn scratch(name: &str) -> PathBuf {
    PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join(name)
}

fn demo() -> String {
    format!(
        "{}/fixtures/jobs/bin_store.json",
        env!("CARGO_MANIFEST_DIR")
    )
}

const LEGS: &str = r#"{"format":"lengthwise-job","sections":[{"name":"batten"}],"yard":[{"length":"2.4 m","price":"5"}],
    "parts":[{"label":"leg","length":560,"quantity":8}]}"#;

#[test]
fn plans_the_demo_and_writes_a_plan_that_its_own_check_accepts() {
    let (json, svg, csv) = (
        scratch("demo.json"),
        scratch("demo.svg"),
        scratch("demo.csv"),
    );
    let file = |path: &PathBuf| path.to_str().expect("a plain path").to_owned();
    let (out, _) = ends(
        &[
            "plan",
            &demo(),
            "--json",
            &file(&json),
            "--svg",
            &file(&svg),
            "--csv",
            &file(&csv),
        ],
        "",
        0,
    );
    for heading in [
        "Cutting list",
        "Buy",
        "Board 1",
        "Back to the shed",
        "Proof",
    ] {
        assert!(out.contains(heading), "{heading}");
    }
    assert!(
        std::fs::read_to_string(&svg)
            .expect("a drawing")
            .contains("<svg")
    );
    assert!(
        std::fs::read_to_string(&csv)
            .expect("a table")
            .lines()
            .count()
            > 25
    );
    let (out, _) = ends(&["check", &demo(), &file(&json)], "", 0);
    assert!(out.starts_with("The plan holds"));
    assert!(out.contains("proven again from the certificate"));
}

#[test]
fn a_plan_that_was_tampered_with_is_refused_with_the_reason() {
    let path = scratch("tampered.json");
    let file = path.to_str().expect("a plain path");
    ends(&["plan", "-", "--json", file], LEGS, 0);
    let plan =
        std::fs::read_to_string(&path)
            .expect("the plan")
            .replacen("\"value\":2", "\"value\":1", 1);
    std::fs::write(&path, plan).expect("written");
    let (_, err) = ends(&["check", "-", file], LEGS, 2);
    assert!(err.starts_with("the plan does not hold:\n- "), "{err}");
}

#[test]
fn faults_are_listed_together_and_end_with_two() {
    let faulty = LEGS
        .replace("560", "\"\"")
        .replace("\"price\":\"5\"", "\"price\":\"5.123\"");
    let (out, err) = ends(&["plan", "-"], &faulty, 2);
    assert_eq!(out, "");
    assert!(err.starts_with("- has 2 faults:\n"), "{err}");
    assert!(
        err.contains("\n- yard 1, price: ") && err.contains("\n- parts 1, length: "),
        "{err}"
    );
}

#[test]
fn what_cannot_be_cut_is_named_and_ends_with_four() {
    let (_, err) = ends(&["plan", "-"], &LEGS.replace("560", "2600"), 4);
    assert!(
        err.contains("\"leg\" is 2600 mm long, and no board of batten takes it"),
        "{err}"
    );
    let (_, err) = ends(
        &["plan", "-"],
        &LEGS.replace("\"price\":\"5\"", "\"count\":1"),
        4,
    );
    assert!(
        err.contains("there are too few boards of batten: at least "),
        "{err}"
    );
}

#[test]
fn no_time_is_not_impossible_and_ends_with_three_or_a_proven_plan() {
    let output = lengthwise(&["plan", &demo(), "--seconds", "0"], "");
    let code = output.status.code();
    assert!(code == Some(3) || code == Some(0), "{code:?}");
    assert!(!text(&output.stderr).contains("no board"));
}

#[test]
fn parts_of_a_table_are_added_to_the_job() {
    let table = scratch("parts.csv");
    std::fs::write(&table, "Part;Length;Qty\nrail;\"470\";4\n").expect("written");
    let (out, _) = ends(
        &[
            "plan",
            "-",
            "--parts",
            table.to_str().expect("a plain path"),
        ],
        LEGS,
        0,
    );
    assert!(out.contains("4 x rail, 470 mm, batten"), "{out}");
}

#[test]
fn a_wrong_word_on_the_command_line_says_where_to_look() {
    for (arguments, says) in [
        (vec!["plna"], "there is no command \"plna\""),
        (vec!["plan"], "plan takes a job file"),
        (
            vec!["plan", "x.json", "--seconds", "soon"],
            "--seconds takes a number",
        ),
        (vec!["check", "a"], "check takes a job file and a plan file"),
        (
            vec!["plan", "no/such/file.json"],
            "cannot read no/such/file.json",
        ),
        (vec!["bench"], "bench needs a folder"),
    ] {
        let (_, err) = ends(&arguments, "", 2);
        assert!(err.contains(says), "{arguments:?}: {err}");
    }
}

#[test]
fn a_file_that_cannot_be_written_is_known_before_any_planning() {
    let (out, err) = ends(&["plan", "-", "--svg", "no/such/folder/plan.svg"], LEGS, 1);
    assert_eq!(out, "");
    assert!(
        err.contains("cannot write no/such/folder/plan.svg"),
        "{err}"
    );
}

#[test]
fn the_schema_names_every_field_of_the_demo() {
    let (out, _) = ends(&["schema"], "", 0);
    let schema: serde_json::Value = serde_json::from_str(&out).expect("the schema is JSON");
    let demo: serde_json::Value =
        serde_json::from_str(&std::fs::read_to_string(demo()).expect("the demo"))
            .expect("the demo is JSON");
    for (list, rows) in demo.as_object().expect("an object") {
        let about = &schema["properties"][list];
        assert!(about.is_object(), "{list}");
        for row in rows
            .as_array()
            .into_iter()
            .flatten()
            .filter(|_| list != "set_outs")
        {
            for field in row.as_object().expect("a row").keys() {
                assert!(
                    about["items"]["properties"][field].is_object(),
                    "{list} {field}"
                );
            }
        }
    }
}

#[test]
fn the_notices_of_others_go_with_the_program() {
    let (out, _) = ends(&["notices"], "", 0);
    // The one crate that can be had under the Apache licence alone, and one under MIT, each with its text.
    assert!(
        out.contains("\nmicrolp ")
            && out.contains("TERMS AND CONDITIONS FOR USE, REPRODUCTION, AND DISTRIBUTION")
    );
    assert!(
        out.contains("\ngood_lp ") && out.contains("Permission is hereby granted, free of charge")
    );
}

#[test]
fn help_lists_the_commands() {
    let (out, _) = ends(&["--help"], "", 0);
    for command in ["plan JOB", "check JOB PLAN", "schema", "notices", "bench"] {
        assert!(out.contains(command), "{command}");
    }
}
