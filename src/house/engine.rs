//! The engine for the page: WebAssembly, and the script that calls it.
//!
//! Cargo builds the library for `wasm32-unknown-unknown`. Then wasm-bindgen writes the script; it is used as a library here, so that
//! nothing has to be installed. The script is a classic one, since a page opened from a file may not start a module Worker. Before that
//! [`crate::fractions`] takes out what nobody asks for; after it
//! [`crate::unplaced`] takes the places of panics out, [`crate::uniform`] writes the functions in one way and each of them once, and
//! [`crate::alike`] puts them in an order that packs well.

use crate::alike::beside_their_like;
use crate::fractions::without_writers;
use crate::uniform::written_alike;
use crate::unplaced::without_places;
use crate::workshop::{cargo, has_program, registry_sources, root, run};
use anyhow::{Context, Result, bail};
use std::path::Path;
use std::process::Command;
use wasm_bindgen_cli_support::Bindgen;

/// The target for which the engine is built.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// The two halves of the engine.
pub struct Engine {
    /// The WebAssembly module.
    pub module: Vec<u8>,
    /// A classic script that defines `wasm_bindgen`.
    pub script: String,
}

/// Builds the engine of the page in release, from the sources in `from`, into `folder`.
pub fn build(from: &Path, folder: &Path) -> Result<Engine> {
    build_into(from, folder, &[], Script::Classic)
}

/// Builds the engine for other programs from the sources in `from`, into `folder`; its script is a module.
pub fn build_for_package(from: &Path, folder: &Path) -> Result<Engine> {
    build_into(from, folder, &["--features", "package"], Script::Module)
}

/// Builds the same engine with the benchmark in it, separately from the page's, into `folder`.
pub fn build_for_bench(folder: &Path) -> Result<Engine> {
    build_into(root(), folder, &["--features", "bench"], Script::Classic)
}

fn build_into(from: &Path, folder: &Path, words: &[&str], script: Script) -> Result<Engine> {
    add_target()?;
    // As a library of the engine alone: a kind that other crates could use beside it would keep the linker from optimising all crates as one.
    let words = [&["--lib", "--crate-type", "cdylib"], words].concat();
    build_release((TARGET, &words), from, folder)?;
    bind(&folder.join(TARGET).join("release/lengthwise.wasm"), script)
}

/// Builds what the words name of the package `lengthwise` for a target in release, from the sources in `from`, into `folder`: with no place of this
/// machine in it, and the same wherever it is built.
pub fn build_release((target, words): (&str, &[&str]), from: &Path, folder: &Path) -> Result<()> {
    let package = [
        "--package",
        "lengthwise",
        "--target",
        target,
        "--target-dir",
    ];
    // Flags from the environment would replace those in .cargo/config.toml, SIMD among them.
    run(cargo(["rustc", "--locked", "--quiet", "--release"])
        .args(package)
        .arg(folder)
        .args(words)
        .arg("--config")
        .arg(other_names(target, from)?)
        .current_dir(from)
        .env_remove("RUSTFLAGS")
        .env_remove("CARGO_ENCODED_RUSTFLAGS"))
}

/// A Cargo setting by which the compiler replaces the paths of sources with names that are the same on every machine. Those paths occur in
/// the messages of panics. Cargo adds these flags to those of `.cargo/config.toml`.
fn other_names(target: &str, from: &Path) -> Result<String> {
    let crates = registry_sources()?.into_iter();
    let flags = crates
        .map(|folder| (folder, "/crates"))
        .chain([(from.to_path_buf(), "/lengthwise")])
        .map(|(folder, name)| format!("--remap-path-prefix={}={name}", folder.display()))
        .collect::<Vec<_>>();
    // A list of texts is written the same in JSON and TOML.
    let flags = serde_json::to_string(&flags)?;
    Ok(format!("target.{target}.rustflags={flags}"))
}

/// Adds the WebAssembly target to the Rust toolchain, where it is missing.
pub fn add_target() -> Result<()> {
    let asked = Command::new("rustc")
        .args(["--print", "target-libdir", "--target", TARGET])
        .output();
    let answer = asked.context("rustc did not start")?;
    if Path::new(String::from_utf8_lossy(&answer.stdout).trim()).is_dir() {
        return Ok(());
    }
    if !has_program("rustup") {
        bail!(
            "the Rust toolchain lacks the target {TARGET}: install rustup, or this target by your system's means"
        );
    }
    run(Command::new("rustup").args(["target", "add", TARGET]))
}

/// How the script of an engine is loaded.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Script {
    /// As a classic script.
    Classic,
    /// As a module of other programs.
    Module,
}

fn bind(built: &Path, script: Script) -> Result<Engine> {
    let module = without_writers(&std::fs::read(built)?)?;
    let mut bindgen = Bindgen::new();
    match script {
        Script::Classic => bindgen.no_modules(true)?,
        Script::Module => bindgen.web(true)?,
    };
    let mut output = bindgen
        .input_bytes("lengthwise", module)
        .typescript(false)
        .omit_default_module_path(true)
        .remove_name_section(true)
        .remove_producers_section(true)
        .generate_output()?;
    if output
        .snippets()
        .values()
        .any(|scripts| !scripts.is_empty())
        || !output.npm_dependencies().is_empty()
    {
        bail!("a crate of the engine brings scripts of its own, which the page does not carry");
    }
    Ok(Engine {
        script: output.js().to_owned(),
        module: beside_their_like(&written_alike(&without_places(
            &output.wasm_mut().emit_wasm(),
        )?)?)?,
    })
}
