//! Tests of the page's state under Node.js: the modules of `www/state` use no document, so their tests need no browser.
//!
//! The tests are in `tests/page`. One of them starts the state on thousands of stored texts that no page would write.

use crate::workshop::root;
use anyhow::{Context, Result, bail};
use std::ffi::OsStr;
use std::fs;
use std::path::PathBuf;
use std::process::{Command, Stdio};

/// Runs all tests of the page that need no browser; `states` gives the number of spoilt states and the seed, where they are not the usual
/// ones.
pub fn test(states: Option<(u32, u32)>) -> Result<()> {
    let mut node = Command::new("node");
    // The page declares its scripts to be modules; Node is told so here.
    node.args([
        "--experimental-default-type=module",
        "--test",
        "--test-reporter=tap",
    ])
    .args(files()?)
    .current_dir(root())
    .stdout(Stdio::piped());
    if let Some((count, seed)) = states {
        node.env("LENGTHWISE_STATES", count.to_string())
            .env("LENGTHWISE_SEED", seed.to_string());
    }
    let ended = node
        .spawn()
        .context("node did not start")?
        .wait_with_output()?;
    let said = String::from_utf8_lossy(&ended.stdout);
    let count = |name: &str| said.lines().find_map(|line| line.strip_prefix(name));
    let (run, passed) = (count("# tests "), count("# pass "));
    println!(
        "{} tests, of which {} passed",
        run.unwrap_or("0"),
        passed.unwrap_or("0")
    );
    if !ended.status.success() || passed != run {
        bail!("a test of the page's state failed:\n{said}");
    }
    if run.is_none_or(|run| run == "0") {
        bail!("no test of the page's state was run");
    }
    Ok(())
}

/// The files that hold tests.
fn files() -> Result<Vec<PathBuf>> {
    let mut files = Vec::new();
    for entry in fs::read_dir(root().join("tests/page"))? {
        let place = entry?.path();
        let name = place.file_name().and_then(OsStr::to_str);
        if name.is_some_and(|name| name.ends_with(".test.mjs")) {
            files.push(place);
        }
    }
    files.sort();
    Ok(files)
}
