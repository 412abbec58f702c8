//! The command line as a person uses it: what it prints, what it writes, how it ends.

mod common;

use common::command::{ends, lengthwise, text};
use std::path::PathBuf;

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
    let (json, svg, csv, picture) = (
        scratch("demo.json"),
        scratch("demo.svg"),
        scratch("demo.csv"),
        scratch("demo_picture.svg"),
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
            "--picture",
            &file(&picture),
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
    let picture = std::fs::read_to_string(&picture).expect("a picture");
    // Its nine set-outs stand together.
    assert_eq!(picture.matches(">from the front left<").count(), 1);
    let (out, _) = ends(&["check", &demo(), &file(&json)], "", 0);
    assert!(out.starts_with("The plan holds"));
    assert!(out.contains("a second reckoning shows it"));
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
fn a_plan_whose_figures_nobody_had_time_to_add_up_ends_with_three() {
    // The lengths alone ask for two of 2.4 m, which the planner sees at once; no time is left to show it again.
    let (out, _) = ends(&["plan", "-", "--seconds", "0"], LEGS, 3);
    assert!(
        out.contains("\nBuy 2 lengths: the planner found that no plan needs fewer\n"),
        "{out}"
    );
    let unshown = "\n  batten: lengths to buy: 2, and the planner found that no plan does better; time was up before its figures were added up.\n";
    assert!(out.contains(unshown), "{out}");
    // Its cuts are checked all the same; otherwise the plan would not be printed.
    assert!(out.contains("\nSaw sheet\n"), "{out}");
    let (out, _) = ends(&["plan", "-"], LEGS, 0);
    assert!(
        out.contains("\nBuy 2 lengths: proven, no plan does better\n"),
        "{out}"
    );
}

#[test]
fn a_search_ended_by_its_looks_has_the_same_plan_each_time() {
    let planned = |looks: &str, code: i32| {
        let file = scratch("looks.json");
        let name = file.to_str().expect("a plain path");
        let words = ["plan", &demo(), "--looks", looks, "--json", name];
        let (report, _) = ends(&words, "", code);
        (report, std::fs::read_to_string(&file).expect("written"))
    };
    // The proof of this job needs more than two looks, so two end it in the middle.
    let early = planned("2", 3);
    assert_eq!(planned("2", 3), early);
    // Looks beyond those that the proof takes change nothing.
    let whole = planned("2000000", 0);
    assert_eq!(planned("4000000", 0), whole);
    assert_ne!(whole, early);
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
fn lengths_of_a_price_list_are_added_to_the_yard() {
    let table = scratch("prices.csv");
    std::fs::write(&table, "price;length (m);section\n\"4.50\";4.8;batten\n").expect("written");
    let path = table.to_str().expect("a plain path");
    let job = LEGS.replace(r#""parts""#, r#""aim":"shortest","parts""#);
    // Eight legs of 560 and their cuts are 4496.8 mm.
    let (out, _) = ends(&["plan", "-", "--prices", path], &job, 0);
    assert!(out.contains("1 \u{d7}  4.8 m"), "{out}");
    std::fs::write(&table, "price,section\n4.50,batten\n").expect("written");
    let (_, err) = ends(&["plan", "-", "--prices", path], &job, 2);
    assert!(err.contains("no column is headed \"length\""), "{err}");
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
        (
            vec!["plan", "x.json", "--looks", "0"],
            "--looks takes a whole number from 1",
        ),
        (
            vec!["plan", "x.json", "--looks", "9", "--seconds", "1"],
            "--looks takes the place of --seconds; give one of them",
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

/// A folder of this test run with these files in it and nothing else.
fn folder(name: &str, files: &[(&str, &str)]) -> String {
    let folder = scratch(name);
    let _ = std::fs::remove_dir_all(&folder);
    std::fs::create_dir_all(&folder).expect("a folder");
    for (file, text) in files {
        let file = folder.join(file);
        std::fs::create_dir_all(file.parent().expect("a parent")).expect("a folder");
        std::fs::write(file, text).expect("a file");
    }
    folder.to_string_lossy().into_owned()
}

#[test]
fn bench_reads_job_files_beside_instance_files() {
    // Four legs of 560 and three cuts go into 2400, so eight take two lengths at 5; the rail and the cap are groups of their own.
    let two = r#"{"format":"lengthwise-job","sections":[{"name":"batten"},{"name":"board"}],
        "yard":[{"section":"batten","length":"2.4 m","price":"5"},{"section":"board","length":"3 m","price":"9"}],
        "parts":[{"label":"rail","section":"batten","length":900,"quantity":3},{"label":"cap","section":"board","length":700,"quantity":2}]}"#;
    let folder = folder(
        "bench_of_both",
        &[
            ("legs.json", LEGS),
            ("sheds/two.json", two),
            ("sheds/notes.json", r#"{"format":"something else"}"#),
            ("rolls/short.txt", "1\n10\n3 4\n"),
        ],
    );
    let (out, _) = ends(&["bench", &folder], "", 0);
    let row = |start: &str| {
        let row = out.lines().find(|line| line.starts_with(start));
        row.unwrap_or_else(|| panic!("no {start} in\n{out}"))
            .to_owned()
    };
    assert!(
        row("bench_of_both,legs,").contains(",2 1000,2 1000,yes,"),
        "{out}"
    );
    assert!(row("sheds,two,").contains(",2 1000,2 1000,yes,"), "{out}");
    assert!(row("sheds,two.2,").contains(",1 900,1 900,yes,"), "{out}");
    assert!(row("rolls,short,").contains(",2,2,yes,"), "{out}");
    let instances = out.lines().filter(|line| line.contains(",yes,")).count();
    assert_eq!(instances, 4, "{out}");
    // With the scrap as the last level: two lengths of 2400 are all used up but for 8 x 560 of legs.
    let (out, _) = ends(&["bench", &folder, "--only", "legs", "--scrap"], "", 0);
    assert!(out.contains(",2 1000 "), "{out}");
}

#[test]
fn a_bench_folder_with_nothing_in_it_is_an_error() {
    let empty = folder("bench_of_nothing", &[]);
    let (_, err) = ends(&["bench", &empty], "", 2);
    assert!(
        err.contains("bench_of_nothing holds neither instances nor jobs"),
        "{err}"
    );
    let other = folder(
        "bench_of_others",
        &[("a/notes.json", "{}"), ("b/read.me", "?")],
    );
    ends(&["bench", &other], "", 2);
    let (_, err) = ends(&["bench", "no_such_folder_at_all"], "", 2);
    assert!(err.contains("no_such_folder_at_all"), "{err}");
    let legs = folder("bench_of_legs", &[("legs.json", LEGS)]);
    let (_, err) = ends(&["bench", &legs, "--only", "posts"], "", 2);
    assert!(err.contains("\"posts\""), "{err}");
    let faulty = folder(
        "bench_of_faults",
        &[("legs.json", &LEGS.replace("560", "-3"))],
    );
    let (_, err) = ends(&["bench", &faulty], "", 2);
    assert!(err.contains("legs.json"), "{err}");
}
