//! Which part may depend on which. Cargo enforces most of it, since a crate cannot name one it does not depend on. These tests enforce what
//! Cargo cannot see, and that the crates depend on no more than they should.

#[path = "layers/files.rs"]
mod files;

use files::Imports;
use std::collections::{BTreeMap, BTreeSet};
use std::fs;
use std::path::{Path, PathBuf};

fn root() -> &'static Path {
    Path::new(env!("CARGO_MANIFEST_DIR"))
}

/// Every source file below a path, with its code: comment lines and unit tests left out.
fn sources(path: &str) -> Vec<(PathBuf, String)> {
    let place = root().join("src").join(path);
    let mut found = Vec::new();
    if place.with_extension("rs").is_file() {
        add(&place.with_extension("rs"), &mut found);
    }
    if place.is_dir() {
        add(&place, &mut found);
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

/// The crates below the top one.
const CRATES: [&str; 5] = ["order", "proof", "cutting", "timber", "checking"];

/// What must not use a clock, files or the network.
const CORE: &[&str] = &[
    "proof", "cutting", "timber", "checking", "cells", "group", "layout", "patience", "piece",
    "planner", "progress", "report", "savings", "wording",
];

/// What a crate depends on, as its manifest says.
fn depends(name: &str) -> BTreeSet<String> {
    let place = root().join("src").join(name).join("Cargo.toml");
    let manifest = fs::read_to_string(place).expect("a manifest");
    let (_, rest) = manifest
        .split_once("\n[dependencies]\n")
        .unwrap_or(("", ""));
    rest.lines()
        .take_while(|line| !line.starts_with('['))
        .filter_map(|line| line.split(['.', ' ', '=']).next())
        .filter(|name| !name.is_empty())
        .map(str::to_owned)
        .collect()
}

#[test]
fn a_crate_of_trust_depends_on_no_more_than_it_must() {
    let wanted: [(&str, &[&str]); 5] = [
        ("order", &[]),
        // What may be claimed is said in words of its own.
        ("proof", &[]),
        // A problem is bare integers.
        ("cutting", &["good_lp", "order", "proof"]),
        ("timber", &["order", "proof"]),
        // A plan is worked out again from the job alone; the solver is nothing it could ask.
        ("checking", &["order", "proof", "timber"]),
    ];
    for (name, wanted) in wanted {
        let wanted: BTreeSet<String> = wanted.iter().map(|&name| name.to_owned()).collect();
        assert_eq!(depends(name), wanted, "{name}");
    }
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
    // The fuse of the small integer program is a length of time that is handed on, not a clock.
    let fuse = ["cutting/integer_master"];
    forbidden(
        CORE,
        &words,
        &fuse,
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
        // The solver's hints; what it proves is worked out in integers beside them.
        "cutting/branch_and_price",
        "cutting/branching",
        "cutting/column_generation",
        "cutting/diving",
        "cutting/dual_bound",
        "cutting/greedy",
        "cutting/integer_master",
        "cutting/interior_duals",
        "cutting/laws",
        "cutting/limits",
        "cutting/neighbourhood",
        "cutting/pair_search",
        "cutting/pattern_search",
        "cutting/random",
        "cutting/restricted_master",
        "cutting/simplex",
        "patience",
        "sizes/together",
        "api/others",
        "api/planning",
        "api/stream",
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

/// The files of a crate with their code, by the paths of their modules: the crate's face by the empty path.
fn files_of(name: &str) -> BTreeMap<String, String> {
    let within = match name {
        "lengthwise" => root().join("src"),
        below => root().join("src").join(below),
    };
    let mut found = Vec::new();
    for entry in fs::read_dir(&within).expect("a readable folder") {
        let path = entry.expect("a readable entry").path();
        if !path.join("Cargo.toml").is_file() {
            add(&path, &mut found);
        }
    }
    let module = |file: &Path| {
        let inside = file.strip_prefix(&within).expect("a file of the crate");
        let path = inside.with_extension("").to_string_lossy().into_owned();
        match path.as_str() {
            "lib" => String::new(),
            // Beside a library the program is one more file.
            "main" if within.join("lib.rs").is_file() => path,
            "main" => String::new(),
            _ => path.replace(std::path::MAIN_SEPARATOR, "::"),
        }
    };
    let mut files: BTreeMap<String, String> = found
        .into_iter()
        .map(|(path, code)| (module(&path), code))
        .collect();
    if name == "house" {
        // Two of its files are the attack's.
        let theirs = files_of("attack");
        files.extend(["dice", "jobs"].map(|file| (file.to_owned(), theirs[file].clone())));
    }
    files
}

/// The crates of the workspace.
fn crates() -> impl Iterator<Item = &'static str> {
    CRATES.into_iter().chain(["lengthwise", "house", "attack"])
}

/// The members of circles: what remains after repeatedly removing everything that depends on nothing left, or on which nothing left
/// depends.
fn circles(mut imports: Imports) -> Vec<String> {
    loop {
        let before = imports.len();
        let left: BTreeSet<String> = imports.keys().cloned().collect();
        imports.retain(|_, named| !named.is_disjoint(&left));
        let named: BTreeSet<String> = imports.values().flatten().cloned().collect();
        imports.retain(|file, _| named.contains(file));
        if imports.len() == before {
            return imports.into_keys().collect();
        }
    }
}

#[test]
fn no_files_of_a_crate_name_each_other_in_a_circle() {
    for name in crates() {
        let imports = files::imports(&files_of(name));
        assert_eq!(circles(imports), [""; 0], "{name}");
    }
}

#[test]
fn no_modules_of_a_crate_name_each_other_in_a_circle() {
    for name in crates() {
        let top = |file: &str| file.split("::").next().unwrap_or("").to_owned();
        let mut modules = Imports::new();
        for (file, named) in files::imports(&files_of(name)) {
            // What lies below a module names its own face as a part of it.
            let named = named.iter().map(|file| top(file));
            let own = top(&file);
            let others = named.filter(|module| *module != own);
            modules.entry(own.clone()).or_default().extend(others);
        }
        assert_eq!(circles(modules), [""; 0], "{name}");
    }
}

#[test]
fn a_circle_is_seen_where_there_is_one() {
    let circles_of = |files: &[(&str, &str)]| {
        let files = files
            .iter()
            .map(|(file, code)| (file.to_string(), code.to_string()));
        circles(files::imports(&files.collect()))
    };
    let face = ("", "mod a; mod b; pub use a::One;");
    // Through the face, which hands on what a file holds.
    let taken = [
        face,
        (
            "a",
            "use crate::b::{self, Two as Other}; pub struct One(Other);",
        ),
        ("b", "pub(super) fn two(one: crate::One) {} pub struct Two;"),
    ];
    assert_eq!(circles_of(&taken), ["a", "b"]);
    // Below a file, by names that start where it stands.
    let below = [
        (
            "a",
            "mod inner; fn one() { inner::two(); } pub struct Held;",
        ),
        ("a::inner", "use super::Held; pub fn two() {}"),
    ];
    assert_eq!(circles_of(&below), ["a", "a::inner"]);
    // A face that only hands on names nothing, and what is in quotes or of another crate is no name.
    let straight = [
        face,
        (
            "a",
            "use other::b::Two; pub struct One; const TEXT: &str = \"crate::b\";",
        ),
        ("b", "use super::a::One; pub(in crate::a) struct Two;"),
    ];
    assert_eq!(circles_of(&straight), [""; 0]);
    // What hangs on a circle is no part of it.
    let hanging = [
        ("a", "use crate::b;"),
        ("b", "use crate::a; use crate::c;"),
        ("c", ""),
        ("d", "use crate::a;"),
    ];
    assert_eq!(circles_of(&hanging), ["a", "b"]);
}

#[test]
fn every_build_of_what_is_believed_checks_for_overflow() {
    let cargo = root().join("Cargo.toml");
    let manifest = fs::read_to_string(cargo).expect("a readable file");
    let mut here = "";
    let mut without = BTreeSet::new();
    let mut release = false;
    for line in manifest.lines() {
        if line.starts_with('[') {
            here = line;
        }
        if line.starts_with("overflow-checks") {
            release |= here == "[profile.release]" && line.ends_with("true");
            if !line.ends_with("true") {
                without.insert(here);
            }
        }
    }
    assert!(
        release,
        "a sum that wraps in the checker could pass for a proof"
    );
    // What the solver says is worked out again, and nothing is believed of the crates of others. Builds for tests take the checks from the
    // compiler there too.
    let allowed = [
        "[profile.release.package.\"*\"]",
        "[profile.release.package.cutting]",
    ];
    assert_eq!(without, BTreeSet::from(allowed));
}
