//! `cargo verify`: every check of the project, one after the other, with its duration.
//!
//! A failed check does not stop the checks that do not depend on it, so one run reports everything that is wrong. A check that could not
//! run counts as failed: nothing is left out without notice.

use crate::again::Again;
use crate::workshop::{AS_TESTS, FEATURES, cargo, root, run as run_program, target_folder};
use crate::{engine, package, page, page_state, setup, spread, third_party};
use anyhow::{Context, Result, bail};
use std::ffi::OsStr;
use std::fs::{self, File};
use std::io::{self, BufRead, BufReader, Seek};
use std::path::Path;
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

/// The test target that drives the page.
const BROWSER_TESTS: &str = "browser";

/// Those browser tests that measure time.
const QUIET_TESTS: &str = "usable::";

/// Those in other engines than Chromium.
const OTHER_ENGINES: &str = "other_engines::";

/// Seconds of the shortened attack. It has one thread and runs beside the steps between the tests and the browser.
const ATTACK_SECONDS: &str = "60";

/// How many browsers run at the same time: one more than the cores of a small machine, since tests often wait for the page, as a person
/// would.
const BROWSERS_AT_ONCE: &str = "3";

/// Whether WebKit and Firefox are installed where they are not here.
#[derive(Clone, Copy, PartialEq, Eq)]
pub enum Engines {
    AsTheyAre,
    All,
}

/// Runs every check; an error where one failed.
pub fn run(engines: Engines) -> Result<()> {
    let began = Instant::now();
    let site = target_folder()?.join("verified-page");
    let mut report = Report::default();
    let browser = report.step("a browser and its driver", setup::browser);
    let of_others = "what matters most, in WebKit and Firefox";
    let others = if engines == Engines::All {
        report.step(
            "WebKit and Firefox and their drivers",
            setup::other_browsers,
        )
    } else {
        setup::has_other_browsers()?
    };
    report.step(
        "Cbc, the solver that plans are compared with",
        setup::reference_solver,
    );
    let axe = report.step(
        "axe-core, which looks for faults of accessibility",
        setup::axe_core,
    );
    let target = report.step("the toolchain", || {
        setup::toolchain().and_then(|()| engine::add_target())
    });
    let node = report.step("Node.js, in which the page's state is tested", setup::node);
    report.step(
        "licences, sources and notices of the crates",
        third_party::check,
    );
    report.unchecked("security advisories of the crates: no registry has a dated copy of them");
    report.step("format", || {
        run_program(&mut cargo(["fmt", "--all", "--check"]))
    });
    report.step("lints", || {
        lint(&["--workspace", "--all-targets", "--features", FEATURES])
    });
    report.step("lints of the engine in the page", || {
        lint(&["--lib", "--target", engine::TARGET])?;
        lint(&["--lib", "--target", engine::TARGET, "--features", "bench"])
    });
    report.step("tests", native_tests);
    // What follows, up to the build of the page, mostly uses one thread; these take the other.
    let attack = Attack::start();
    let second = Again::start();
    report.step("a list of jobs, spread over two workers", spread::check);
    report.step("the examples in the documentation", || test(&["--doc"]));
    report.step("the documentation, without a warning", || {
        let words = ["doc", "--locked", "--workspace", "--no-deps", "--quiet"];
        run_program(cargo(words).env("RUSTDOCFLAGS", "--deny warnings"))
    });
    let of_state = "the page's state, on thousands of spoilt ones";
    if node {
        report.step(of_state, || page_state::test(None));
    } else {
        report.not_run(of_state);
    }
    let of_package = "the package for other programs, installed and used in Node.js";
    if node && target {
        report.step(of_package, package::check);
    } else {
        report.not_run(of_package);
    }
    let built = target && report.step("the page is built", || page::write_anew(&site));
    let again = "the page built again elsewhere is the same bytes";
    if built {
        report.step(again, || second?.same_bytes(&site));
    } else {
        report.not_run(again);
    }
    report.step("the attack, shortened, beside them", || attack?.end());
    // Tests that measure time run with nothing else at work.
    let in_browser: [(&str, bool, &[&str]); 3] = [
        (
            "tests in the browser",
            browser && axe,
            &[
                "--skip",
                QUIET_TESTS,
                "--skip",
                OTHER_ENGINES,
                "--test-threads",
                BROWSERS_AT_ONCE,
            ],
        ),
        (
            of_others,
            others,
            &[OTHER_ENGINES, "--test-threads", BROWSERS_AT_ONCE],
        ),
        (
            "how soon the page can be used",
            browser && axe,
            &[QUIET_TESTS, "--nocapture", "--test-threads", "1"],
        ),
    ];
    for (name, ready, words) in in_browser {
        if name == of_others && !ready && engines == Engines::AsTheyAre {
            report.unchecked(
                "WebKit and Firefox: they are not here; `cargo verify engines` installs them first",
            );
        } else if ready && built {
            let mut unsteady = Vec::new();
            report.step(name, || in_browsers(&site, words, &mut unsteady));
            report.unsteady.extend(unsteady);
        } else {
            report.not_run(name);
        }
    }
    report.close(began.elapsed())
}

fn lint(words: &[&str]) -> Result<()> {
    let all = ["clippy", "--quiet", "--locked"]
        .iter()
        .chain(words)
        .chain(&["--", "--deny", "warnings"]);
    run_program(&mut cargo(all))
}

/// The running attack, in the build of the tests: arithmetic overflow is detected there too.
struct Attack {
    process: Child,
    /// Its output, which is shown when it has ended.
    said: File,
}

impl Attack {
    fn start() -> Result<Attack> {
        let words = ["build", "--quiet", "--locked", "--bin", "attack"];
        run_program(&mut cargo(words.iter().chain(&AS_TESTS)))?;
        let program = target_folder()?.join("debug/attack");
        let said = tempfile::tempfile()?;
        let process = Command::new(program)
            .args(["--seconds", ATTACK_SECONDS])
            .stdout(said.try_clone()?)
            .stderr(said.try_clone()?)
            .spawn()
            .context("the attack did not start")?;
        Ok(Attack { process, said })
    }

    /// Waits for its end; a failing case is an error.
    fn end(mut self) -> Result<()> {
        let status = self.process.wait()?;
        self.said.rewind()?;
        io::copy(&mut self.said, &mut io::stdout())?;
        if !status.success() {
            bail!("the attack ended with {status}");
        }
        Ok(())
    }
}

/// Every test except those in the browser, which need the built page.
fn native_tests() -> Result<()> {
    let mut words = vec!["--lib".to_owned(), "--bins".to_owned()];
    for entry in fs::read_dir(root().join("tests"))? {
        let place = entry?.path();
        let is_target =
            place.join("main.rs").is_file() || place.extension().is_some_and(|end| end == "rs");
        let name = place
            .file_stem()
            .and_then(OsStr::to_str)
            .filter(|name| is_target && *name != BROWSER_TESTS);
        words.extend(
            name.into_iter()
                .flat_map(|name| ["--test".to_owned(), name.to_owned()]),
        );
    }
    test(&words.iter().map(String::as_str).collect::<Vec<_>>())
}

fn test(words: &[&str]) -> Result<()> {
    count_tests(&mut test_command(words))
}

fn test_command(words: &[&str]) -> Command {
    cargo(
        ["test", "--locked", "--workspace", "--features", FEATURES]
            .iter()
            .chain(words),
    )
}

/// Runs tests in browsers. On a busy machine a test may fail for reasons that are not the page's. So failed tests are run once more, alone,
/// and the check fails if one fails again. Those that then pass are added to `unsteady`, so that they are reported.
fn in_browsers(site: &Path, words: &[&str], unsteady: &mut Vec<String>) -> Result<()> {
    let command = |words: &[&str]| {
        let mut command = test_command(&[&["--test", BROWSER_TESTS, "--"], words].concat());
        command.env("LENGTHWISE_SITE", site);
        command
    };
    let mut failed = Vec::new();
    let first = hear_tests(&mut command(words), &mut failed);
    if first.is_ok() || failed.is_empty() {
        return first;
    }
    println!("once more, alone: {}", failed.join(", "));
    let alone = ["--exact", "--nocapture", "--test-threads", "1"];
    let names = failed.iter().map(String::as_str);
    let words: Vec<&str> = names.chain(alone).collect();
    count_tests(&mut command(&words))?;
    unsteady.append(&mut failed);
    Ok(())
}

/// Runs tests and shows their output. An error where no test ran, since a check of nothing always passes.
fn count_tests(command: &mut Command) -> Result<()> {
    hear_tests(command, &mut Vec::new())
}

/// The same; the names of failed tests are added to `failed`.
fn hear_tests(command: &mut Command, failed: &mut Vec<String>) -> Result<()> {
    let mut process = command.stdout(Stdio::piped()).spawn()?;
    let said = process.stdout.take().context("the tests cannot be heard")?;
    let mut run = 0;
    for line in BufReader::new(said).lines() {
        let line = line?;
        let count = line
            .strip_prefix("running ")
            .and_then(|rest| rest.split(' ').next()?.parse::<usize>().ok());
        run += count.unwrap_or(0);
        failed.extend(failed_test(&line).map(str::to_owned));
        println!("{line}");
    }
    let status = process.wait()?;
    if !status.success() {
        bail!("tests failed ({status})");
    }
    if run == 0 {
        bail!("no test was run");
    }
    Ok(())
}

/// The name of the failed test in a line of the test runner's output.
fn failed_test(line: &str) -> Option<&str> {
    line.strip_prefix("test ")?.strip_suffix(" ... FAILED")
}

/// The results of all steps.
#[derive(Default)]
struct Report {
    lines: Vec<String>,
    failed: usize,
    /// What no step checks, and why.
    unchecked: Vec<&'static str>,
    /// Tests that failed among others and passed alone.
    unsteady: Vec<String>,
}

impl Report {
    /// Runs one step and prints its result. Returns whether it succeeded.
    fn step(&mut self, name: &str, act: impl FnOnce() -> Result<()>) -> bool {
        println!("\n== {name}");
        let began = Instant::now();
        let outcome = act();
        let verdict = if outcome.is_ok() { "passed" } else { "FAILED" };
        if let Err(failure) = &outcome {
            println!("{failure:#}");
            self.failed += 1;
        }
        let line = format!("{verdict}  {:>7}  {name}", seconds(began.elapsed()));
        println!("{line}");
        self.lines.push(line);
        outcome.is_ok()
    }

    fn not_run(&mut self, name: &str) {
        self.failed += 1;
        self.lines.push(format!(
            "FAILED  {:>7}  {name}: not run, what they need is missing",
            "-"
        ));
    }

    /// Says what no step checks, so that nobody believes that it was checked.
    fn unchecked(&mut self, what: &'static str) {
        self.unchecked.push(what);
    }

    fn close(self, all: Duration) -> Result<()> {
        println!(
            "\n== summary\n{}\n{:>15}  in all",
            self.lines.join("\n"),
            seconds(all)
        );
        for what in &self.unchecked {
            println!("not checked       {what}");
        }
        for test in &self.unsteady {
            println!("passed only alone {test}");
        }
        if self.failed > 0 {
            bail!("{} of {} checks failed", self.failed, self.lines.len());
        }
        println!("all {} checks passed", self.lines.len());
        Ok(())
    }
}

fn seconds(time: Duration) -> String {
    format!("{:.1} s", time.as_secs_f64())
}

#[cfg(test)]
mod tests {
    use super::failed_test;

    #[test]
    fn a_failed_test_is_known_by_its_line() {
        let line = "test saw::a_cut_is_ticked ... FAILED";
        assert_eq!(failed_test(line), Some("saw::a_cut_is_ticked"));
        assert_eq!(failed_test("test saw::a_cut_is_ticked ... ok"), None);
        assert_eq!(failed_test("test result: FAILED. 154 passed"), None);
    }
}
