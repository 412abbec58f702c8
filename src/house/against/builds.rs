//! The two command lines, built alike: in release, without features, each from its own lock file.

use crate::workshop::{cargo, hexadecimal, root, run, target_folder};
use anyhow::{Context, Result, bail};
use sha2::{Digest, Sha256};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The full hash of a commit.
pub fn hash(commit: &str) -> Result<String> {
    let commit_only = format!("{commit}^{{commit}}");
    let mut asked = git(&[
        "rev-parse",
        "--verify",
        "--quiet",
        "--end-of-options",
        &commit_only,
    ]);
    match asked.output().context("git did not start")? {
        output if output.status.success() => Ok(text(&output.stdout)),
        _ => bail!(
            "there is no commit \"{commit}\" in this repository; git log --oneline lists those there are"
        ),
    }
}

/// The state of this tree: its commit, and whether it was changed since.
pub fn state() -> Result<String> {
    let changed = git(&["status", "--porcelain"]).output()?.stdout;
    let changes = if changed.is_empty() {
        ""
    } else {
        ", with changes that are not committed"
    };
    Ok(format!("this tree ({}{changes})", hash("HEAD")?))
}

/// The program of this tree as it is now.
pub fn of_this_tree() -> Result<PathBuf> {
    let kept = folder()?.join("this-tree");
    build(root(), &target_folder()?, &kept)
}

/// The program of a commit, from a temporary checkout. It is built once and kept, since a commit does not change.
pub fn of_commit(hash: &str) -> Result<PathBuf> {
    let kept = folder()?.join(format!("{hash}-{}", compiler()?));
    let program = kept.join(program_name());
    if program.is_file() {
        return Ok(program);
    }
    // Outside this tree: a checkout inside it would use this tree's workspace and Cargo settings.
    let place = tempfile::tempdir()?;
    let checkout = Checkout::of(hash, place.path().join("tree"))?;
    build(&checkout.0, &folder()?.join("built"), &kept)
}

/// Builds the command line from the sources in `tree` and puts it into `kept`, where no other build replaces it.
fn build(tree: &Path, target: &Path, kept: &Path) -> Result<PathBuf> {
    let words = ["build", "--locked", "--quiet", "--release", "--bin"];
    let mut build = cargo(words);
    build.args(["lengthwise", "--target-dir"]).arg(target);
    run(build.current_dir(tree))?;
    fs::create_dir_all(kept)?;
    let program = kept.join(program_name());
    fs::copy(target.join("release").join(program_name()), &program)?;
    Ok(program)
}

fn folder() -> Result<PathBuf> {
    Ok(target_folder()?.join("against"))
}

fn program_name() -> String {
    format!("lengthwise{}", std::env::consts::EXE_SUFFIX)
}

/// A short name of the compiler and of the flags that Cargo gets from the environment.
fn compiler() -> Result<String> {
    let version = Command::new("rustc").arg("-vV").output();
    let mut digest = Sha256::new();
    digest.update(version.context("rustc did not start")?.stdout);
    digest.update(std::env::var("RUSTFLAGS").unwrap_or_default());
    Ok(hexadecimal(&digest.finalize()[..4]))
}

fn git(words: &[&str]) -> Command {
    let mut command = Command::new("git");
    command.args(words).current_dir(root());
    command
}

fn text(bytes: &[u8]) -> String {
    String::from_utf8_lossy(bytes).trim().to_owned()
}

/// The sources of a commit in a folder, deleted when this is dropped.
struct Checkout(PathBuf);

impl Checkout {
    fn of(hash: &str, place: PathBuf) -> Result<Checkout> {
        let mut add = git(&["worktree", "add", "--quiet", "--detach"]);
        run(add.arg(&place).arg(hash))?;
        Ok(Checkout(place))
    }
}

impl Drop for Checkout {
    fn drop(&mut self) {
        let mut remove = git(&["worktree", "remove", "--force"]);
        if let Err(why) = run(remove.arg(&self.0)) {
            eprintln!("house: {why:#}");
        }
    }
}
