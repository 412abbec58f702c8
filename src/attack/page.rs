//! Hostile states for the page. The page's own tests in Node.js make and judge them; they are given the number of states and the seed.

use crate::run::Counts;
use std::path::Path;
use std::process::Command;
use std::time::{Duration, Instant};

/// The part's name in the report.
pub const NAME: &str = "page";
/// The part's description, for the help.
pub const ABOUT: &str = "stored states that the page must survive, in Node.js";
/// The part's share of the time.
pub const SHARE: u32 = 1;

/// The tests that make states.
const TESTS: [&str; 2] = ["tests/page/states.test.mjs", "tests/page/carried.test.mjs"];

/// States in the first run; each later run has as many as the remaining time allows.
const FIRST_STATES: f64 = 300.0;

/// Whether there are such tests.
pub fn is_there() -> bool {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    TESTS.iter().all(|tests| root.join(tests).is_file())
}

/// Makes Node.js take scripts for modules, as the page declares its own to be.
const AS_MODULES: &str = "--experimental-default-type=module";

/// Runs the tests for this many seconds. The first run is always made.
///
/// # Errors
/// Node.js cannot be started.
pub fn run(seconds: f64, seed: u64) -> Result<Counts, String> {
    let until = Instant::now() + Duration::from_secs_f64(seconds);
    let mut counts = Counts::default();
    let mut states = FIRST_STATES;
    // JavaScript's integers are exact only up to 2^53.
    let mut seed = seed % (1 << 50);
    loop {
        let began = Instant::now();
        let said = Command::new("node")
            .args([AS_MODULES, "--test", "--test-reporter=tap"])
            .args(TESTS)
            .current_dir(Path::new(env!("CARGO_MANIFEST_DIR")).join("../.."))
            .env("LENGTHWISE_STATES", format!("{states:.0}"))
            .env("LENGTHWISE_SEED", seed.to_string())
            .output()
            .map_err(|error| format!("Node.js did not start: {error}"))?;
        counts.cases += states as u64;
        if !said.status.success() {
            counts.finds += 1;
            counts.told.push(format!(
                "LENGTHWISE_STATES={states:.0} LENGTHWISE_SEED={seed} node {AS_MODULES} --test {}\n{}",
                TESTS.join(" "),
                String::from_utf8_lossy(&said.stdout)
            ));
            return Ok(counts);
        }
        let left = until
            .saturating_duration_since(Instant::now())
            .as_secs_f64();
        // Half of what there is time for, since no two runs take the same time.
        states = 0.5 * states * left / began.elapsed().as_secs_f64().max(0.01);
        seed += 1;
        if states < FIRST_STATES {
            return Ok(counts);
        }
    }
}
