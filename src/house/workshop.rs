//! Paths of the workspace, and how other programs are run.

use anyhow::{Context, Result, bail};
use std::ffi::OsStr;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The features of every build of the tests, browser tests included: one set, so that no crate is built twice.
pub const FEATURES: &str = "lengthwise/browser,lengthwise/reference";

/// The words by which a program is built out of the same crates as the tests. A test is among them, else Cargo leaves out what only tests ask of
/// other crates, and builds all that rests on those a second time.
pub const AS_TESTS: [&str; 5] = ["--workspace", "--features", FEATURES, "--test", "cli"];

/// The folder with the workspace's `Cargo.toml`: two levels above this crate's own.
pub fn root() -> &'static Path {
    let own = Path::new(env!("CARGO_MANIFEST_DIR"));
    own.ancestors().nth(2).unwrap_or(own)
}

/// Cargo's target folder: two levels above this program, whatever the settings call it.
pub fn target_folder() -> Result<PathBuf> {
    let program = std::env::current_exe().context("this program's own place is unknown")?;
    let folder = program.parent().and_then(Path::parent);
    Ok(folder
        .context("this program was not started by cargo")?
        .to_path_buf())
}

/// Cargo, the same one that started this program, in the workspace's root.
pub fn cargo<Word: AsRef<OsStr>>(words: impl IntoIterator<Item = Word>) -> Command {
    let mut command = Command::new(std::env::var_os("CARGO").unwrap_or_else(|| "cargo".into()));
    command.args(words).current_dir(root());
    command
}

/// The command line, built in release or as the tests build it.
pub fn command_line(release: bool) -> Result<PathBuf> {
    let mut build = cargo(["build", "--locked", "--quiet", "--bin", "lengthwise"]);
    let folder = match release {
        true => {
            build.arg("--release");
            "release"
        }
        false => {
            build.args(AS_TESTS);
            "debug"
        }
    };
    run(&mut build)?;
    Ok(target_folder()?.join(folder).join("lengthwise"))
}

/// The folders with the sources of crates, one for each registry that any were downloaded from.
pub fn registry_sources() -> Result<Vec<PathBuf>> {
    let home = std::env::var_os("CARGO_HOME").map(PathBuf::from);
    let home = home.or_else(|| Some(std::env::home_dir()?.join(".cargo")));
    let folder = home.context("Cargo's own folder is unknown")?;
    let Ok(entries) = std::fs::read_dir(folder.join("registry/src")) else {
        return Ok(Vec::new());
    };
    let mut folders = entries
        .map(|entry| Ok(entry?.path()))
        .collect::<Result<Vec<_>>>()?;
    folders.sort();
    Ok(folders)
}

/// Runs a program to its end; where that fails, the error names the command.
pub fn run(command: &mut Command) -> Result<()> {
    let shown = format!("{command:?}").replace('"', "");
    let status = command
        .status()
        .with_context(|| format!("{shown} did not start"))?;
    if !status.success() {
        bail!("{shown} failed ({status})");
    }
    Ok(())
}

/// Whether a program of this name is on the search path.
pub fn has_program(name: &str) -> bool {
    let path = std::env::var_os("PATH").unwrap_or_default();
    let file = format!("{name}{}", std::env::consts::EXE_SUFFIX);
    std::env::split_paths(&path).any(|folder| folder.join(&file).is_file())
}

/// Bytes as hexadecimal digits.
pub fn hexadecimal(bytes: &[u8]) -> String {
    bytes.iter().map(|byte| format!("{byte:02x}")).collect()
}
