//! Third-party code: where it comes from, under which licences, and the notices that are distributed with the page and the command line.
//!
//! Cargo reports which crates there are and which of them are linked into the page's engine and the command line. The licence files of each
//! crate are taken from its source. A crate that offers several licences is used under the first of [`ALLOWED`] that it offers.

use crate::engine;
use crate::workshop::{cargo, root};
use anyhow::{Context, Result, bail};
use serde_json::Value;
use spdx::{Expression, LicenseReq, Licensee, ParseMode};
use std::collections::{BTreeMap, BTreeSet};
use std::fmt::Write;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The file of notices, which goes with the command line and with the site.
pub const NOTICES: &str = "NOTICES.txt";

/// The licences that are allowed, the preferred ones first, with the names of the files that hold them.
///
/// All but the last require their notice and nothing else. MPL-2.0 also requires that the source of the crate is available. Only a crate of
/// the browser tests is under it, which is not distributed: without a licence file for it, it cannot be linked.
const ALLOWED: [(&str, &str); 5] = [
    ("MIT", "MIT"),
    ("Zlib", "ZLIB"),
    ("Unicode-3.0", "UNICODE"),
    ("Apache-2.0", "APACHE"),
    ("MPL-2.0", ""),
];

/// The only registry from which crates may come.
const REGISTRY: &str = "registry+https://github.com/rust-lang/crates.io-index";

/// The programs that crates are linked into, with their targets. The set of crates hardly differs between systems. It is computed for one,
/// so that the notices are the same wherever they are made.
const LINKED: [(&str, &str); 2] = [
    ("the page", engine::TARGET),
    ("the command line", "x86_64-unknown-linux-gnu"),
];

/// A third-party crate.
struct Crate {
    name: String,
    version: String,
    /// Empty for a crate that is not from a registry.
    source: String,
    licence: String,
    repository: String,
    folder: PathBuf,
}

/// Checks that every crate is under an allowed licence, comes from the registry, and has its checksum in `Cargo.lock`.
pub fn check() -> Result<()> {
    let crates = crates()?;
    let lock = fs::read_to_string(root().join("Cargo.lock"))?;
    let mut wrong = unlocked(&lock, &own()?);
    for one in &crates {
        if let Err(why) = terms(&one.licence) {
            wrong.push(format!("{} {}: {why}", one.name, one.version));
        }
        if one.source != REGISTRY {
            wrong.push(format!(
                "{} {} comes from \"{}\", not from crates.io",
                one.name, one.version, one.source
            ));
        }
    }
    if notices()? != fs::read_to_string(root().join(NOTICES)).unwrap_or_default() {
        wrong.push(format!(
            "{NOTICES} is not what the crates say; run cargo notices"
        ));
    }
    if !wrong.is_empty() {
        bail!("{}", wrong.join("\n"));
    }
    println!(
        "{} crates, all from crates.io with a checksum, under {}",
        crates.len(),
        ALLOWED.map(|(name, _)| name).join(", ")
    );
    Ok(())
}

/// Rewrites [`NOTICES`].
pub fn write() -> Result<()> {
    fs::write(root().join(NOTICES), notices()?)?;
    println!("{NOTICES} is written");
    Ok(())
}

/// The notices of all crates that are linked into what is distributed. Equal texts occur once.
fn notices() -> Result<String> {
    let crates = crates()?;
    let mut uses: BTreeMap<(String, String), Vec<&str>> = BTreeMap::new();
    for (what, target) in LINKED {
        for one in linked(target)? {
            uses.entry(one).or_default().push(what);
        }
    }
    let mut by_text: BTreeMap<Vec<String>, Vec<String>> = BTreeMap::new();
    let mut order: Vec<Vec<String>> = Vec::new();
    for ((name, version), used) in &uses {
        let one = crates
            .iter()
            .find(|one| one.name == *name && one.version == *version);
        let Some(one) = one else { continue };
        let terms = terms(&one.licence)?;
        let texts = texts(one, &terms)?;
        let names: Vec<String> = terms.iter().map(ToString::to_string).collect();
        let line = format!(
            "{name} {version}, in {}, under {}\n  {}\n",
            used.join(" and "),
            names.join(" and "),
            one.repository
        );
        if !by_text.contains_key(&texts) {
            order.push(texts.clone());
        }
        by_text.entry(texts).or_default().push(line);
    }
    let mut all = HEAD.to_owned();
    for texts in order {
        // Writing to a text cannot fail.
        let _ = write!(all, "{RULE}\n{}", by_text[&texts].concat());
        for text in texts {
            let _ = write!(all, "\n{text}\n");
        }
    }
    Ok(all + RULE + STANDARD_LIBRARY)
}

const RULE: &str =
    "\n--------------------------------------------------------------------------------\n";

const HEAD: &str = "\
Lengthwise itself is under MIT or Apache-2.0, as you choose. It is built from crates of others, which are named here with the terms they
are used under and their notices: those linked into the page's engine, and those linked into the command line as it is built for Linux.
`cargo notices` writes this file from the crates themselves.
";

const STANDARD_LIBRARY: &str = "
The standard library of Rust, in the page and the command line, under MIT
  https://github.com/rust-lang/rust

Copyright (c) The Rust Project Contributors

Permission is hereby granted, free of charge, to any
person obtaining a copy of this software and associated
documentation files (the \"Software\"), to deal in the
Software without restriction, including without
limitation the rights to use, copy, modify, merge,
publish, distribute, sublicense, and/or sell copies of
the Software, and to permit persons to whom the Software
is furnished to do so, subject to the following
conditions:

The above copyright notice and this permission notice
shall be included in all copies or substantial portions
of the Software.

THE SOFTWARE IS PROVIDED \"AS IS\", WITHOUT WARRANTY OF
ANY KIND, EXPRESS OR IMPLIED, INCLUDING BUT NOT LIMITED
TO THE WARRANTIES OF MERCHANTABILITY, FITNESS FOR A
PARTICULAR PURPOSE AND NONINFRINGEMENT. IN NO EVENT
SHALL THE AUTHORS OR COPYRIGHT HOLDERS BE LIABLE FOR ANY
CLAIM, DAMAGES OR OTHER LIABILITY, WHETHER IN AN ACTION
OF CONTRACT, TORT OR OTHERWISE, ARISING FROM, OUT OF OR
IN CONNECTION WITH THE SOFTWARE OR THE USE OR OTHER
DEALINGS IN THE SOFTWARE.
";

/// Every crate in the lock file except our own.
fn crates() -> Result<Vec<Crate>> {
    let own = own()?;
    let packages = packages("--all-features")?;
    let text = |package: &Value, field: &str| {
        let text = package[field].as_str().unwrap_or_default();
        text.trim().to_owned()
    };
    let crates = packages.iter().map(|package| Crate {
        name: text(package, "name"),
        version: text(package, "version"),
        source: text(package, "source"),
        licence: text(package, "license"),
        repository: text(package, "repository"),
        folder: Path::new(&text(package, "manifest_path"))
            .parent()
            .map(Path::to_path_buf)
            .unwrap_or_default(),
    });
    Ok(crates.filter(|one| !own.contains(&one.name)).collect())
}

/// The names of the crates of this workspace.
fn own() -> Result<BTreeSet<String>> {
    let packages = packages("--no-deps")?;
    let names = packages
        .iter()
        .filter_map(|package| package["name"].as_str());
    Ok(names.map(str::to_owned).collect())
}

/// Cargo's metadata of the packages that `which` selects.
fn packages(which: &str) -> Result<Vec<Value>> {
    let words = [
        "metadata",
        "--locked",
        "--quiet",
        "--format-version",
        "1",
        which,
    ];
    let mut told: Value = serde_json::from_str(&said(&mut cargo(words))?)?;
    match told["packages"].take() {
        Value::Array(packages) => Ok(packages),
        _ => bail!("cargo metadata names no packages"),
    }
}

/// The names and versions of what is linked for a target, without macros and what only builds or tests need.
fn linked(target: &str) -> Result<BTreeSet<(String, String)>> {
    let words = [
        "tree",
        "--package",
        "lengthwise",
        "--locked",
        "--quiet",
        "--edges",
        "normal,no-proc-macro",
        "--prefix",
        "none",
        "--format",
        "{p}",
        "--target",
        target,
    ];
    let told = said(&mut cargo(words))?;
    let crates = told.lines().filter_map(|line| {
        let (name, rest) = line.split_once(" v")?;
        let version = rest.split(' ').next()?;
        Some((name.to_owned(), version.to_owned()))
    });
    Ok(crates.collect())
}

fn said(command: &mut Command) -> Result<String> {
    let output = command.output().context("cargo did not start")?;
    if !output.status.success() {
        bail!("{}", String::from_utf8_lossy(&output.stderr).trim());
    }
    Ok(String::from_utf8(output.stdout)?)
}

/// The licences under which a crate is used: the fewest and most preferred ones that its licence expression allows.
fn terms(expression: &str) -> Result<Vec<LicenseReq>> {
    let allowed: Vec<Licensee> = ALLOWED
        .iter()
        .map(|(name, _)| Licensee::parse(name))
        .collect::<Result<_, _>>()?;
    let read = Expression::parse_mode(expression, ParseMode::LAX)
        .map_err(|why| anyhow::anyhow!("its licence is not understood: {why}"))?;
    read.minimized_requirements(allowed.iter())
        .with_context(|| format!("its licence \"{expression}\" is not on the list"))
}

/// The texts of a crate's licences, and its further notices, from its source.
fn texts(one: &Crate, terms: &[LicenseReq]) -> Result<Vec<String>> {
    let mut names: Vec<String> = fs::read_dir(&one.folder)?
        .filter_map(|entry| entry.ok()?.file_name().into_string().ok())
        .collect();
    names.sort();
    let mut texts = Vec::new();
    for term in terms {
        let id = term.to_string();
        let word = ALLOWED.iter().find(|(name, _)| *name == id);
        let word = word.map(|(_, word)| *word).unwrap_or_default();
        if word.is_empty() {
            bail!("{} {} may not be linked under {id}", one.name, one.version);
        }
        let upper = |name: &String| name.to_uppercase();
        let held = names
            .iter()
            .find(|name| {
                let name = upper(name);
                name.starts_with("LICEN") && name.contains(word) && !name.contains("LLVM")
            })
            .or_else(|| {
                let plain = |name: &&String| upper(name).split('.').next() == Some("LICENSE");
                names.iter().find(plain)
            });
        let held =
            held.with_context(|| format!("{} {} has no file for {id}", one.name, one.version))?;
        texts.push(tidy(&fs::read_to_string(one.folder.join(held))?));
    }
    for further in names
        .iter()
        .filter(|name| name.to_uppercase().starts_with("NOTICE"))
    {
        texts.push(tidy(&fs::read_to_string(one.folder.join(further))?));
    }
    Ok(texts)
}

/// A text with uniform line ends and without trailing spaces, so that equal texts compare as equal.
fn tidy(text: &str) -> String {
    let lines: Vec<&str> = text
        .trim_matches(['\u{feff}', '\n', '\r', '\u{c}'])
        .lines()
        .map(str::trim_end)
        .collect();
    lines.join("\n").trim_end().to_owned()
}

/// Crates in the lock file without a checksum, or not from the registry. Cargo compares what it downloads with the checksum.
fn unlocked(lock: &str, own: &BTreeSet<String>) -> Vec<String> {
    let mut wrong = Vec::new();
    for package in lock.split("[[package]]").skip(1) {
        let field = |name: &str| {
            package.lines().find_map(|line| {
                let value = line.strip_prefix(name)?.strip_prefix(" = \"")?;
                value.strip_suffix('"')
            })
        };
        let name = field("name").unwrap_or("a package without a name");
        if own.contains(name) {
            continue;
        }
        if field("source") != Some(REGISTRY) {
            wrong.push(format!("{name} is not from crates.io by Cargo.lock"));
        }
        if field("checksum").is_none_or(|sum| sum.len() != 64) {
            wrong.push(format!("{name} has no checksum in Cargo.lock"));
        }
    }
    wrong
}

#[cfg(test)]
mod tests {
    use super::*;

    fn names(expression: &str) -> Vec<String> {
        let terms = terms(expression).expect("allowed");
        terms.iter().map(ToString::to_string).collect()
    }

    #[test]
    fn of_several_licences_the_liked_one_is_taken_and_of_joined_ones_all() {
        assert_eq!(names("Apache-2.0 OR MIT"), ["MIT"]);
        assert_eq!(names("Apache-2.0 / MIT"), ["MIT"]);
        assert_eq!(names("Zlib"), ["Zlib"]);
        assert_eq!(
            names("(MIT OR Apache-2.0) AND Unicode-3.0"),
            ["MIT", "Unicode-3.0"]
        );
        assert_eq!(
            names("Apache-2.0 WITH LLVM-exception OR Apache-2.0 OR MIT"),
            ["MIT"]
        );
    }

    #[test]
    fn a_licence_that_is_not_on_the_list_is_refused() {
        for expression in ["GPL-3.0-only", "MIT AND GPL-3.0-only", "", "my own"] {
            assert!(terms(expression).is_err(), "{expression}");
        }
    }

    #[test]
    fn what_is_not_locked_to_the_registry_is_named() {
        let lock = |more: &str| format!("version = 4\n\n[[package]]\nname = \"a\"\n{more}");
        let sum = "0".repeat(64);
        let good = format!("source = \"{REGISTRY}\"\nchecksum = \"{sum}\"\n");
        assert_eq!(unlocked(&lock(&good), &BTreeSet::new()), [""; 0]);
        // A crate of ours has neither and needs none.
        let ours = BTreeSet::from(["a".to_owned()]);
        assert_eq!(unlocked(&lock(""), &ours), [""; 0]);
        let elsewhere = format!("source = \"git+https://example.org/a\"\nchecksum = \"{sum}\"\n");
        assert_eq!(
            unlocked(&lock(&elsewhere), &BTreeSet::new()),
            ["a is not from crates.io by Cargo.lock"]
        );
        assert_eq!(
            unlocked(
                &lock(&format!("source = \"{REGISTRY}\"\n")),
                &BTreeSet::new()
            ),
            ["a has no checksum in Cargo.lock"]
        );
        assert_eq!(unlocked(&lock(""), &BTreeSet::new()).len(), 2);
    }

    #[test]
    fn every_crate_of_others_is_locked_and_every_crate_of_ours_is_known() {
        let lock = fs::read_to_string(root().join("Cargo.lock")).expect("a lock file");
        let own = own().expect("the crates of the workspace");
        assert_eq!(unlocked(&lock, &own), [""; 0]);
        for name in [
            "lengthwise",
            "proof",
            "cutting",
            "timber",
            "checking",
            "house",
        ] {
            assert!(own.contains(name), "{name}");
        }
    }

    #[test]
    fn the_notices_name_what_is_linked_and_nothing_that_only_tests_use() {
        let notices = notices().expect("notices");
        for crate_of_both in ["serde_json ", "good_lp ", "microlp "] {
            let line = notices
                .lines()
                .find(|line| line.starts_with(crate_of_both))
                .expect("named");
            assert!(
                line.contains("in the page and the command line, under "),
                "{line}"
            );
        }
        for test_only in ["fantoccini", "tokio", "roxmltree", "serde_derive", "anyhow"] {
            let begins = |line: &str| line.starts_with(&format!("{test_only} "));
            assert!(!notices.lines().any(begins), "{test_only}");
        }
        assert_eq!(notices.matches("TERMS AND CONDITIONS FOR USE").count(), 1);
    }
}
