//! What may know what: the dependencies that are forbidden, read from the sources.

use std::fs;
use std::path::{Path, PathBuf};

/// Every source file below a path, with its code: comment lines and unit tests left out.
fn sources(path: &str) -> Vec<(PathBuf, String)> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("src").join(path);
    let mut found = Vec::new();
    if root.with_extension("rs").is_file() {
        add(&root.with_extension("rs"), &mut found);
    }
    if root.is_dir() {
        add(&root, &mut found);
    }
    assert!(!found.is_empty(), "there is no source {path}");
    found
}

fn add(path: &Path, found: &mut Vec<(PathBuf, String)>) {
    if path.is_dir() {
        for entry in fs::read_dir(path).expect("a readable folder") {
            add(&entry.expect("a readable entry").path(), found);
        }
    } else if path.extension().is_some_and(|extension| extension == "rs") {
        let text = fs::read_to_string(path).expect("a readable file");
        let code = text.split("#[cfg(test)]").next().unwrap_or("");
        let code = code
            .lines()
            .filter(|line| !line.trim_start().starts_with("//"));
        found.push((path.to_owned(), code.collect::<Vec<_>>().join("\n")));
    }
}

/// No source below any of `paths` may contain any of `words`, but those below `except` may.
#[track_caller]
fn forbidden(paths: &[&str], words: &[&str], except: &[&str], why: &str) {
    let allowed: Vec<PathBuf> = except
        .iter()
        .flat_map(|path| sources(path))
        .map(|(path, _)| path)
        .collect();
    for (path, code) in paths.iter().flat_map(|path| sources(path)) {
        for word in words {
            assert!(
                allowed.contains(&path) || !code.contains(word),
                "{} names {word}: {why}",
                path.display()
            );
        }
    }
}

const CORE: &[&str] = &[
    "cells",
    "certificate",
    "check",
    "fault",
    "group",
    "job",
    "layout",
    "length",
    "mass",
    "money",
    "patience",
    "piece",
    "plan",
    "planner",
    "problem",
    "progress",
    "report",
    "setout",
    "shown",
    "solve",
    "wording",
];

#[test]
fn the_checker_knows_nothing_of_the_solver() {
    let solver = [
        "crate::solve",
        "crate::problem",
        "crate::group",
        "crate::layout",
        "crate::planner",
    ];
    forbidden(
        &["check"],
        &solver,
        &[],
        "a plan is worked out again from the job alone",
    );
}

#[test]
fn the_solver_knows_nothing_of_the_world() {
    let world = [
        "crate::report",
        "crate::io",
        "crate::api",
        "crate::check",
        "crate::job",
        "crate::length",
        "crate::plan::",
    ];
    forbidden(
        &["solve", "problem"],
        &world,
        &[],
        "a problem is bare integers",
    );
}

#[test]
fn the_core_has_no_clock_no_files_and_no_wire() {
    let words = [
        "std::time",
        "std::fs",
        "std::env",
        "std::net",
        "println!",
        "serde",
        "wasm_bindgen",
    ];
    forbidden(
        CORE,
        &words,
        &[],
        "input, output and time come from outside",
    );
}

#[test]
fn field_names_of_files_live_at_the_edges() {
    forbidden(
        &[""],
        &["serde"],
        &["io", "api", "web", "house", "attack"],
        "only io, api and web know the wire",
    );
    forbidden(
        &[""],
        &["wasm_bindgen"],
        &["web", "house"],
        "only web knows the browser",
    );
}

#[test]
fn floats_decide_nothing() {
    let uses = ["f64", "f32"];
    let hints = [
        "solve",
        "patience",
        "api/planning",
        "cli",
        "bench",
        "web",
        "house",
        "attack",
    ];
    forbidden(
        &[""],
        &uses,
        &hints,
        "lengths, money and bounds are integers",
    );
}

#[test]
fn every_build_checks_for_overflow() {
    let cargo = Path::new(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml");
    let manifest = fs::read_to_string(cargo).expect("a readable file");
    let (_, release) = manifest
        .split_once("\n[profile.release]\n")
        .expect("a release profile");
    let release = release.split("\n[").next().unwrap_or("");
    assert!(
        release.lines().any(|line| line == "overflow-checks = true"),
        "a sum that wraps in the checker could pass for a proof"
    );
    // Builds for tests take it from the compiler, and no setting takes it away again.
    let off = |line: &str| line.starts_with("overflow-checks") && !line.ends_with("true");
    assert!(!manifest.lines().any(off));
}
