//! The package for other programs: the engine as a module with its types, packed as the npm registry's programs pack.

use crate::archive::{Entry, packed};
use crate::engine::{self, Engine};
use crate::workshop::{command_line, root, run, target_folder};
use crate::{setup, typings};
use anyhow::{Context, Result};
use serde_json::json;
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The folder in the archive; the registry's programs expect this one.
const FOLDER: &str = "package";

/// The files of the package that are kept as they are.
const KEPT: [&str; 4] = ["README.md", "lengthwise.js", "node.js", "web.js"];

/// Those at the top of the project that go with it.
const TERMS: [&str; 4] = [
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "NOTICES.txt",
    "CHANGELOG.md",
];

/// The name of the packed file.
pub fn name() -> String {
    format!("lengthwise-{}.tgz", env!("CARGO_PKG_VERSION"))
}

/// The package from the sources in `from`, packed; its engine is built into the folder `target`.
pub fn build(from: &Path, target: &Path) -> Result<Vec<u8>> {
    let engine = engine::build_for_package(from, target)?;
    packed(FOLDER, &files(from, engine)?)
}

fn files(from: &Path, engine: Engine) -> Result<BTreeMap<String, Entry>> {
    let mut files = BTreeMap::new();
    let mut add = |name: &str, bytes: Vec<u8>| files.insert(name.to_owned(), Entry::file(bytes));
    let read = |path: PathBuf| {
        fs::read(&path).with_context(|| format!("{} cannot be read", path.display()))
    };
    for name in KEPT {
        add(name, read(from.join("src/package").join(name))?);
    }
    for name in TERMS {
        add(name, read(from.join(name))?);
    }
    let answers = String::from_utf8(read(from.join("src/package/answers.d.ts"))?)?;
    let types = typings::of_job(&lengthwise::io::schema::value())? + "\n" + &answers;
    add("index.d.ts", types.into_bytes());
    add("engine.js", engine.script.into_bytes());
    add("engine.wasm", engine.module);
    add("package.json", format!("{:#}\n", about()).into_bytes());
    Ok(files)
}

fn about() -> serde_json::Value {
    json!({
        "name": "lengthwise",
        "version": env!("CARGO_PKG_VERSION"),
        "description": "Plans timber: the fewest lengths to buy, every cut as a tape reading, and a proof that no plan does better.",
        "license": "MIT OR Apache-2.0",
        "type": "module",
        "types": "./index.d.ts",
        "exports": { ".": { "types": "./index.d.ts", "node": "./node.js", "default": "./web.js" } },
        "engines": { "node": ">=20" },
        "sideEffects": true,
    })
}

/// Builds the package, installs it from its packed file in a folder of its own, and tests it there: the functions against the command line, every
/// example of its README, and its types with the TypeScript compiler.
pub fn check() -> Result<()> {
    let target = target_folder()?;
    let file = target.join("tools").join(name());
    fs::create_dir_all(target.join("tools"))?;
    fs::write(&file, build(root(), &target)?)?;
    println!("{} KB packed", fs::metadata(&file)?.len().div_ceil(1024));
    let program = command_line(false)?;
    let folder = tempfile::tempdir()?;
    fs::write(
        folder.path().join("package.json"),
        "{ \"private\": true, \"type\": \"module\" }\n",
    )?;
    setup::npm(
        folder.path(),
        &[&file.display().to_string(), setup::TYPESCRIPT],
    )?;
    run(Command::new("node")
        .args(["--test", "--test-reporter=spec"])
        .arg(root().join("tests/package/package.test.mjs"))
        .env("LENGTHWISE_PACKAGE", folder.path())
        .env("LENGTHWISE_PROGRAM", program)
        .current_dir(root()))
}
