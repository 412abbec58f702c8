//! Sets up what the tests need and Cargo does not install.
//!
//! On Debian it installs what is missing; on other systems it says what to install. Programs that are already there are not touched.

use crate::workshop::{cargo, has_program, run, target_folder};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::process::Command;

/// The version of axe-core that the tests are written against.
const AXE_CORE: &str = "4.14.1";

/// The compiler that checks the types of the package for other programs.
pub const TYPESCRIPT: &str = "typescript@5.9.3";

/// The oldest Node.js that runs the tests of the page's state.
const OLDEST_NODE: u32 = 20;

/// The version of the program that drives Firefox.
const GECKODRIVER: &str = "0.37.1";

/// Dask's workers, as a Python package.
const DASK: &str = "distributed==2026.8.0";

/// HiGHS, as a Python package.
const HIGHS: &str = "highspy==1.16.0";

/// Chromium and the program that drives it.
pub fn browser() -> Result<()> {
    let browser = [
        "chromium",
        "chromium-browser",
        "google-chrome",
        "google-chrome-stable",
    ];
    if browser.iter().any(|name| has_program(name)) && has_program("chromedriver") {
        return Ok(());
    }
    // Without a font a page has no text to measure.
    install(
        &["chromium", "chromium-driver", "fonts-liberation"],
        "Chromium and its chromedriver",
    )
}

/// Whether WebKit and Firefox are here with the programs that drive them.
pub fn has_other_browsers() -> Result<bool> {
    let firefox = ["firefox-esr", "firefox"]
        .iter()
        .any(|name| has_program(name));
    let own = target_folder()?.join("tools/bin/geckodriver");
    let drivers = has_program("WebKitWebDriver") && has_program("Xvfb");
    Ok(firefox && drivers && (has_program("geckodriver") || own.is_file()))
}

/// WebKit and Firefox, and the programs that drive them. WebKit needs a screen, which Xvfb has in memory.
pub fn other_browsers() -> Result<()> {
    let firefox = ["firefox-esr", "firefox"]
        .iter()
        .any(|name| has_program(name));
    if !(firefox && has_program("WebKitWebDriver") && has_program("Xvfb")) {
        install(
            &[
                "firefox-esr",
                "webkit2gtk-driver",
                "xvfb",
                "fonts-liberation",
            ],
            "Firefox, WebKitWebDriver with its MiniBrowser, and Xvfb",
        )?;
    }
    let tools = target_folder()?.join("tools");
    if has_program("geckodriver") || tools.join("bin/geckodriver").is_file() {
        return Ok(());
    }
    // Debian has none. Unoptimised it is built in half the time.
    let words = [
        "install",
        "geckodriver",
        "--version",
        GECKODRIVER,
        "--locked",
        "--debug",
        "--quiet",
        "--root",
    ];
    run(cargo(words).arg(&tools))
}

/// The library of Cbc, which tests use to compare plans.
pub fn reference_solver() -> Result<()> {
    let asked = Command::new("pkg-config")
        .args(["--exists", "cbc"])
        .status();
    if asked.is_ok_and(|answer| answer.success()) {
        return Ok(());
    }
    let what = "pkg-config and the Cbc solver with its headers (COIN-OR)";
    install(&["pkg-config", "coinor-libcbc-dev"], what)
}

/// Node.js, of a version whose test runner is complete.
pub fn node() -> Result<()> {
    let what = format!("Node.js {OLDEST_NODE} or newer");
    if !has_program("node") {
        install(&["nodejs"], &what)?;
    }
    let asked = Command::new("node").arg("--version").output()?;
    let version = String::from_utf8_lossy(&asked.stdout);
    let major = version.trim().trim_start_matches('v').split('.').next();
    match major.and_then(|major| major.parse::<u32>().ok()) {
        Some(major) if major >= OLDEST_NODE => Ok(()),
        _ => bail!("install {what}: this one is {}", version.trim()),
    }
}

/// axe-core, from the npm registry, into the target folder.
pub fn axe_core() -> Result<()> {
    let folder = target_folder()?.join("tools");
    let about = folder.join("node_modules/axe-core/package.json");
    let wanted = format!("\"version\": \"{AXE_CORE}\"");
    if fs::read_to_string(&about).is_ok_and(|text| text.contains(&wanted)) {
        return Ok(());
    }
    npm(&folder, &[&format!("axe-core@{AXE_CORE}")])
}

/// Installs packages of the npm registry, or packed files, into a folder.
pub fn npm(folder: &Path, packages: &[&str]) -> Result<()> {
    if !has_program("npm") {
        install(&["npm"], "npm, which comes with Node.js")?;
    }
    fs::create_dir_all(folder)?;
    let words = [
        "install",
        "--no-save",
        "--no-audit",
        "--no-fund",
        "--ignore-scripts",
        "--loglevel=error",
        "--prefix",
    ];
    run(Command::new("npm")
        .args(words)
        .arg(folder)
        .args(packages)
        .current_dir(folder))
}

/// A Python with HiGHS, in `folder`. Only `cargo compare` needs it.
pub fn highs(folder: &Path) -> Result<PathBuf> {
    python_with(folder, "highspy", HIGHS)
}

/// A Python with Dask's workers, in `folder`.
pub fn dask(folder: &Path) -> Result<PathBuf> {
    python_with(folder, "distributed", DASK)
}

/// A Python that has a module, in `folder`; where it lacks it, the package is installed.
fn python_with(folder: &Path, module: &str, package: &str) -> Result<PathBuf> {
    let python = folder.join("bin/python");
    let has = |words: &[&str]| {
        let asked = Command::new(&python).args(words).output();
        asked.is_ok_and(|answer| answer.status.success())
    };
    if !has(&["-c", &format!("import {module}")]) {
        let made = run(Command::new("python3").args(["-m", "venv"]).arg(folder));
        if made.is_err() {
            install(&["python3-venv"], "Python 3 with its venv module")?;
            run(Command::new("python3").args(["-m", "venv"]).arg(folder))?;
        }
        run(Command::new(&python).args(["-m", "pip", "install", "--quiet", package]))?;
    }
    Ok(python)
}

/// GNU parallel; another program of that name is no substitute.
pub fn parallel() -> Result<()> {
    let asked = Command::new("parallel").arg("--version").output();
    let is_gnu = |said: &[u8]| String::from_utf8_lossy(said).starts_with("GNU parallel");
    if asked.is_ok_and(|answer| is_gnu(&answer.stdout)) {
        return Ok(());
    }
    install(&["parallel"], "GNU parallel")
}

/// The parts of the Rust toolchain beyond the compiler.
pub fn toolchain() -> Result<()> {
    for (program, component) in [("cargo-fmt", "rustfmt"), ("cargo-clippy", "clippy")] {
        let present = Command::new(program)
            .arg("--version")
            .output()
            .is_ok_and(|answer| answer.status.success());
        if !present {
            let add = run(Command::new("rustup").args(["component", "add", component]));
            add.with_context(|| format!("the Rust toolchain lacks {component}"))?;
        }
    }
    Ok(())
}

/// Installs Debian packages, or says that `what` is to be installed.
fn install(packages: &[&str], what: &str) -> Result<()> {
    let system = fs::read_to_string("/etc/os-release").unwrap_or_default();
    if !system.lines().any(|line| line == "ID=debian") {
        bail!("install {what}, and put it on the search path");
    }
    let is_root = Command::new("id")
        .arg("-u")
        .output()
        .is_ok_and(|answer| answer.stdout == b"0\n");
    let by_hand = || {
        format!(
            "as root: apt-get update && apt-get install {}",
            packages.join(" ")
        )
    };
    for words in [
        &["update"][..],
        &[&["install", "--yes", "--no-install-recommends"], packages].concat(),
    ] {
        let mut command = Command::new(if is_root { "apt-get" } else { "sudo" });
        if !is_root {
            command.args(["--non-interactive", "apt-get"]);
        }
        run(command.args(words).env("DEBIAN_FRONTEND", "noninteractive")).with_context(by_hand)?;
    }
    Ok(())
}
