//! Many jobs as lines: each answered in its line, in order, whoever the neighbours are and however many processes share the work.

mod common;

use common::command::{ends, lengthwise, text};
use lengthwise::api::stream::{Allowed, answer};
use lengthwise::check;
use lengthwise::io::{job_file, plan_file};
use lengthwise::job::validate;
use lengthwise::limits;
use serde_json::{Value, json};
use std::fs;

const LOOKS: u64 = 2_000;

/// The job files of the fixtures, each as one line, with their names.
fn fixtures() -> Vec<(String, String)> {
    let folders =
        ["jobs", "pieces"].map(|name| format!("{}/fixtures/{name}", env!("CARGO_MANIFEST_DIR")));
    let mut files: Vec<_> = folders
        .iter()
        .flat_map(|folder| fs::read_dir(folder).expect("the fixtures"))
        .map(|entry| entry.expect("an entry").path())
        .filter(|path| path.extension().is_some_and(|end| end == "json"))
        .collect();
    files.sort();
    let line = |path: &std::path::PathBuf| {
        let text = fs::read_to_string(path).expect("a job file");
        let job: Value = serde_json::from_str(&text).expect("JSON");
        (path.display().to_string(), job.to_string())
    };
    files.iter().map(line).collect()
}

fn read(line: &str) -> Value {
    serde_json::from_str(line).expect("an answer is JSON")
}

fn through(lines: &[&str], words: &[&str]) -> Vec<Value> {
    let words = [&["plan", "--stream"], words].concat();
    let (out, err) = ends(&words, &(lines.join("\n") + "\n"), 0);
    assert_eq!(err, "");
    out.lines().map(read).collect()
}

#[test]
fn every_job_of_the_fixtures_is_answered_as_by_itself() {
    let jobs = fixtures();
    let lines: Vec<&str> = jobs.iter().map(|(_, line)| line.as_str()).collect();
    let answers = through(&lines, &["--looks", &LOOKS.to_string()]);
    assert_eq!(answers.len(), jobs.len());
    let mut plans = 0;
    for ((path, line), told) in jobs.iter().zip(&answers) {
        // The plan of the command for one file, byte for byte.
        let file = std::path::PathBuf::from(env!("CARGO_TARGET_TMPDIR")).join("streamed.json");
        let words = ["plan", path, "--looks", &LOOKS.to_string(), "--json"];
        let alone = lengthwise(
            &[&words[..], &[file.to_str().expect("a path")]].concat(),
            "",
        );
        let outcome = told["outcome"].as_str().expect("an outcome");
        let code = match outcome {
            "proven" => 0,
            "faults" => 2,
            "found" | "nothing" => 3,
            "impossible" => 4,
            other => panic!("{path}: {other}"),
        };
        assert_eq!(alone.status.code(), Some(code), "{path}: {outcome}");
        if matches!(outcome, "proven" | "found") {
            plans += 1;
            let written = fs::read_to_string(&file).expect("a plan file");
            assert_eq!(told["plan"], read(&written), "{path}");
            assert!(
                text(&alone.stdout).contains(told["headline"].as_str().expect("a headline")),
                "{path}"
            );
            assert_eq!(told["bought"], bought(line, &told["plan"]), "{path}");
        }
    }
    assert!(plans > 10, "{plans} plans");
}

/// What a plan buys, from the job and the plan file alone. Terms of yards are tested in `bills`.
fn bought(line: &str, plan: &Value) -> Value {
    let (draft, faults) = job_file::read(line);
    assert!(faults.is_empty());
    let (plan, lengths) = plan_file::read_with_sizes(&plan.to_string()).expect("a plan file");
    let mut job = validate(&draft).expect("a job");
    if !lengths.is_empty() {
        job = validate(&lengthwise::sizes::as_planned(&draft, &job, &lengths).expect("sizes"))
            .expect("a job");
    }
    let told = answer(line, Allowed::Looks(LOOKS), &|| 0.0);
    let to_pay = read(&told)["bought"]["to_pay"].clone();
    let checked = check::check(&job, plan).expect("the plan holds");
    let (mut lengths, mut timber, mut cost) = (0, 0, Some(0));
    for (at, line) in job.yard.iter().enumerate() {
        let cut = checked
            .plan()
            .boards
            .iter()
            .filter(|board| board.source == lengthwise::plan::Source::Yard(at));
        let cut = cut.count() as u64;
        let pack = u64::from(line.pack.max(1));
        let packs = cut.div_ceil(pack);
        lengths += packs * pack;
        timber += (packs * pack) as i64 * line.length.ticks();
        let fee = if job.is_cut_at_yard(at) {
            job.cut_fee(at).minor() * (packs * pack) as i64
        } else {
            0
        };
        if packs > 0 {
            cost = cost
                .zip(line.price)
                .map(|(cost, price)| cost + price.minor() * packs as i64 + fee);
        }
    }
    json!({ "lengths": lengths, "timber": timber, "cost": cost, "to_pay": to_pay })
}

const LEGS: &str = r#"{"format":"lengthwise-job","piece":"Legs","sections":[{"name":"batten"}],"yard":[{"length":"2.4 m","price":"5"}],"parts":[{"label":"leg","length":560,"quantity":8}]}"#;

#[test]
fn what_is_wrong_with_a_line_is_told_in_its_place_and_the_rest_is_planned() {
    let faulty = LEGS
        .replace("\"quantity\":8", "\"quantity\":\"eight\"")
        .replace("Legs", "Faulty");
    let long = LEGS.replace("560", "5600").replace("Legs", "Long");
    let broken = r#"{"format":"lengthwise-job","#;
    let lines = [LEGS, &faulty, "", broken, "[]", &long, LEGS];
    let told = through(&lines, &["--looks", "2000"]);
    let outcomes: Vec<&str> = told
        .iter()
        .map(|told| told["outcome"].as_str().expect("an outcome"))
        .collect();
    assert_eq!(
        outcomes,
        [
            "proven",
            "faults",
            "faults",
            "faults",
            "faults",
            "impossible",
            "proven"
        ]
    );
    assert_eq!(told[0], told[6]);
    assert_eq!(
        told[0]["bought"],
        json!({ "lengths": 2, "timber": 2 * 2_400 * 3_200, "cost": 1_000, "to_pay": null })
    );
    let fault = &told[1]["faults"][0];
    assert_eq!(
        [&fault["list"], &fault["row"], &fault["field"]],
        [&json!("parts"), &json!(0), &json!("quantity")]
    );
    assert_eq!(told[1]["piece"], "Faulty");
    assert!(
        fault["message"]
            .as_str()
            .expect("a message")
            .contains("eight")
    );
    assert!(
        told[2]["faults"][0]["message"]
            .as_str()
            .expect("a message")
            .contains("no job in this line")
    );
    assert!(
        told[5]["why"][0]
            .as_str()
            .expect("a reason")
            .contains("leg")
    );
    for told in &told {
        assert_eq!(told.get("plan").is_some(), told["outcome"] == "proven");
    }
}

#[test]
fn a_line_that_is_too_long_or_no_text_is_refused_and_the_next_is_planned() {
    let long = format!("{}\n{LEGS}\n", " ".repeat(limits::FILE.most + 1));
    let (out, _) = ends(&["plan", "--stream", "--looks", "2000"], &long, 0);
    let told: Vec<Value> = out.lines().map(read).collect();
    assert_eq!(told.len(), 2);
    assert_eq!(told[0]["outcome"], "faults");
    assert!(
        told[0]["faults"][0]["message"]
            .as_str()
            .expect("a message")
            .contains("bytes")
    );
    assert_eq!(told[1]["outcome"], "proven");
}

#[test]
fn an_answer_depends_on_its_line_alone() {
    let jobs = fixtures();
    let lines: Vec<&str> = jobs.iter().map(|(_, line)| line.as_str()).collect();
    let whole = through(&lines, &["--looks", "300"]);
    // As two processes with half of the jobs each, and in another order.
    let (first, second) = lines.split_at(lines.len() / 2);
    let halves = [
        through(first, &["--looks", "300"]),
        through(second, &["--looks", "300"]),
    ]
    .concat();
    assert_eq!(whole, halves);
    let backwards: Vec<&str> = lines.iter().rev().copied().collect();
    let mut turned = through(&backwards, &["--looks", "300"]);
    turned.reverse();
    assert_eq!(whole, turned);
}

#[test]
fn an_answer_is_written_before_the_next_job_is_sent() {
    use std::io::{BufRead, BufReader, Write};
    use std::process::{Command, Stdio};
    let mut child = Command::new(env!("CARGO_BIN_EXE_lengthwise"))
        .args(["plan", "--stream", "--looks", "2000"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .expect("the command line starts");
    let mut input = child.stdin.take().expect("a pipe");
    let mut output = BufReader::new(child.stdout.take().expect("a pipe"));
    for _ in 0..3 {
        writeln!(input, "{LEGS}").expect("it reads");
        let mut line = String::new();
        output.read_line(&mut line).expect("it answers");
        assert_eq!(read(&line)["outcome"], "proven");
    }
    drop(input);
    assert!(child.wait().expect("it ends").success());
}

#[test]
fn a_stream_takes_a_limit_and_no_file() {
    for more in [
        &["job.json"][..],
        &["--json", "plan.json"],
        &["--parts", "parts.csv"],
    ] {
        let (out, err) = ends(&[&["plan", "--stream"], more].concat(), "", 2);
        assert_eq!(out, "");
        assert!(
            err.contains("--stream reads its jobs from standard input"),
            "{err}"
        );
    }
    let (out, _) = ends(
        &["plan", "--stream", "--seconds", "5"],
        &format!("{LEGS}\n"),
        0,
    );
    assert_eq!(read(out.trim_end())["outcome"], "proven");
    assert_eq!(ends(&["plan", "--stream"], "", 0).0, "");
}

#[test]
fn a_reader_that_goes_away_is_told_as_our_failure() {
    use std::io::Write;
    use std::process::{Command, Stdio};
    let mut child = Command::new(env!("CARGO_BIN_EXE_lengthwise"))
        .args(["plan", "--stream", "--looks", "2000"])
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command line starts");
    drop(child.stdout.take());
    let _ = writeln!(child.stdin.take().expect("a pipe"), "{LEGS}");
    let ended = child.wait_with_output().expect("it ends");
    assert_eq!(ended.status.code(), Some(1));
    assert!(text(&ended.stderr).contains("the stream ended early"));
}
