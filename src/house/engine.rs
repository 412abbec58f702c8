//! The engine as the page takes it: WebAssembly, and the script that speaks to it.
//!
//! Cargo builds the library for `wasm32-unknown-unknown`; wasm-bindgen, used here as a library so that nothing has to be
//! installed, then writes the script. The script is a classic one: a page opened from a file may not start a module Worker.

use crate::workshop::{cargo, has_program, run, target_folder};
use anyhow::{Context, Result, bail};
use std::path::Path;
use std::process::Command;
use wasm_bindgen_cli_support::Bindgen;

/// What the engine is built for.
pub const TARGET: &str = "wasm32-unknown-unknown";

/// The two halves of the engine.
pub struct Engine {
    /// The WebAssembly module.
    pub module: Vec<u8>,
    /// A classic script that defines `wasm_bindgen`.
    pub script: String,
}

/// Builds the engine of the page in release.
pub fn build() -> Result<Engine> {
    build_into(&target_folder()?, &[])
}

/// Builds the same engine with the bench in it, apart from the page's, into `folder`.
pub fn build_for_bench(folder: &Path) -> Result<Engine> {
    build_into(folder, &["--features", "bench"])
}

fn build_into(folder: &Path, words: &[&str]) -> Result<Engine> {
    add_target()?;
    let mut build = cargo([
        "build",
        "--locked",
        "--quiet",
        "--release",
        "--lib",
        "--target",
        TARGET,
        "--target-dir",
    ]);
    // Flags from outside would replace the ones in .cargo/config.toml, SIMD among them.
    run(build
        .arg(folder)
        .args(words)
        .env_remove("RUSTFLAGS")
        .env_remove("CARGO_ENCODED_RUSTFLAGS"))?;
    bind(&folder.join(TARGET).join("release/lengthwise.wasm"))
}

/// Adds the WebAssembly target to the Rust toolchain, unless it has it.
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

fn bind(built: &Path) -> Result<Engine> {
    let mut output = Bindgen::new()
        .input_path(built)
        .no_modules(true)?
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
        module: output.wasm_mut().emit_wasm(),
    })
}
