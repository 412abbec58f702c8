//! What may know what. Cargo forbids most of it: a crate cannot name one it does not depend on. Held here is what Cargo cannot see, and that
//! the crates depend on no more than they should.

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

/// What knows neither clock nor files nor the wire.
const CORE: &[&str] = &[
    "proof", "cutting", "timber", "checking", "cells", "group", "layout", "patience", "piece",
    "planner", "progress", "report", "wording",
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
        "cutting/pattern_search",
        "cutting/random",
        "cutting/restricted_master",
        "cutting/simplex",
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

/// The path of a file below its crate, as modules are named.
fn module(within: &Path, file: &Path) -> String {
    let inside = file.strip_prefix(within).expect("a file of the crate");
    let names = inside.with_extension("");
    names
        .to_string_lossy()
        .replace(std::path::MAIN_SEPARATOR, "::")
}

/// The module at the top of its crate.
fn top_module(module: &str) -> String {
    module.split("::").next().unwrap_or("").to_owned()
}

/// The paths that code names: all that comes after `crate::`, alone or in a list.
fn named(code: &str) -> Vec<String> {
    let end = |sign: char| !sign.is_ascii_alphanumeric() && sign != '_' && sign != ':';
    let path = |text: &str| text.trim().split(end).next().unwrap_or("").to_owned();
    let places = code.split("crate::").skip(1);
    places
        .flat_map(|rest| {
            let list = rest
                .strip_prefix('{')
                .and_then(|list| list.split('}').next());
            match list {
                Some(list) => list.split(',').map(path).collect::<Vec<_>>(),
                None => vec![path(rest)],
            }
        })
        .collect()
}

/// What each module of a crate names. `known` finds the module of a path, for files by their own names or for the top ones.
fn imports(
    within: &Path,
    files: &[(PathBuf, String)],
    known: &dyn Fn(&str) -> String,
) -> BTreeMap<String, BTreeSet<String>> {
    let mut all: BTreeMap<String, BTreeSet<String>> = BTreeMap::new();
    for (path, code) in files {
        let own = known(&module(within, path));
        let named = named(code).into_iter().map(|path| known(&path));
        let named: BTreeSet<String> = named.filter(|name| *name != own).collect();
        all.entry(own).or_default().extend(named);
    }
    all
}

/// Takes away modules that name none of those that are left, until there is no more of them; what stays is tied in circles.
fn circles(mut imports: BTreeMap<String, BTreeSet<String>>) -> Vec<String> {
    loop {
        let left: BTreeSet<String> = imports.keys().cloned().collect();
        let before = imports.len();
        imports.retain(|_, named| named.intersection(&left).next().is_some());
        if imports.len() == before {
            return imports.into_keys().collect();
        }
    }
}

#[test]
fn no_modules_name_each_other_in_a_circle() {
    for name in CRATES {
        let within = root().join("src").join(name);
        assert_eq!(
            circles(imports(&within, &sources(name), &top_module)),
            [""; 0],
            "{name}"
        );
    }
    let within = root().join("src");
    let mut own = Vec::new();
    for entry in fs::read_dir(&within).expect("a readable folder") {
        let path = entry.expect("a readable entry").path();
        // The face of the crate hands on what others hold.
        let is_face = ["lib.rs", "main.rs"]
            .iter()
            .any(|name| path.ends_with(name));
        if !path.join("Cargo.toml").is_file() && !is_face {
            add(&path, &mut own);
        }
    }
    assert_eq!(
        circles(imports(&within, &own, &top_module)),
        [""; 0],
        "lengthwise"
    );
    // A circle is seen where there is one.
    let both = [("a", "b"), ("b", "a"), ("c", "a")];
    let both = both.map(|(one, other)| (one.to_owned(), BTreeSet::from([other.to_owned()])));
    assert_eq!(circles(both.into()), ["a", "b", "c"]);
}

#[test]
fn no_files_of_the_solver_name_each_other_in_a_circle() {
    let within = root().join("src/cutting");
    let files = sources("cutting");
    let modules: BTreeSet<String> = files
        .iter()
        .map(|(path, _)| module(&within, path))
        .collect();
    // A path names the file that is the longest beginning of it; what is no file's is an item of the crate's face, which names nothing.
    let file_of = |path: &str| {
        let mut path = path.trim_end_matches(':');
        while !modules.contains(path) {
            match path.rsplit_once("::") {
                Some((start, _)) => path = start,
                None => return "lib".to_owned(),
            }
        }
        path.to_owned()
    };
    for (path, code) in &files {
        // Names are looked for behind `crate::`; so nothing may be named from where a file stands.
        let own = module(&within, path);
        for relative in ["super::", "self::", "crate::{"] {
            assert!(!code.contains(relative), "{own} names by {relative}");
        }
    }
    let imports = imports(&within, &files, &file_of);
    assert!(imports["pricing"].contains("pricing::lists"));
    assert!(imports["pricing::lists"].contains("pricing::table"));
    assert_eq!(circles(imports), [""; 0]);
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
