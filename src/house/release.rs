//! `cargo release`: all that is handed out, in one folder, with the digest of each file.
//!
//! The same sources and the same compiler give the same bytes, wherever and whenever they are built: archives have no times (`archive`), and the
//! compiler writes no place of this machine (`engine::build_release`). Whoever builds it again compares `SHA256SUMS`.

use crate::archive::{Entry, packed};
use crate::engine::build_release;
use crate::package;
use crate::page::{self, Built, ONE_FILE};
use crate::site::{self, Site};
use crate::workshop::{hexadecimal, root, target_folder};
use anyhow::{Context, Result, bail};
use sha2::{Digest, Sha256};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;
use std::process::Command;
use std::time::Instant;

pub const HELP: &str = "cargo release --out DIR  the site, the page as one file, the command line, the package for other programs, and the digest of each, in DIR";

/// The version of what is built.
const VERSION: &str = env!("CARGO_PKG_VERSION");

/// The list of digests, as `sha256sum --check` reads it.
const SUMS: &str = "SHA256SUMS";

/// What goes with the command line.
const BESIDE: [&str; 5] = [
    "README.md",
    "CHANGELOG.md",
    "LICENSE-APACHE",
    "LICENSE-MIT",
    "NOTICES.txt",
];

/// Does what the words after `cargo release` ask for.
pub fn run(words: &[String]) -> Result<()> {
    match words {
        [option, folder] if option == "--out" => write(Path::new(folder)),
        _ => bail!("where to is missing\n{HELP}"),
    }
}

fn write(folder: &Path) -> Result<()> {
    let began = Instant::now();
    // Checked before the work is done.
    site::expect_ours(folder)?;
    let files = built(root(), &target_folder()?)?;
    let mut sums = String::new();
    for (name, bytes) in &files {
        sums.push_str(&format!(
            "{}  {name}\n",
            hexadecimal(&Sha256::digest(bytes))
        ));
        println!("{:7} KB  {name}", bytes.len().div_ceil(1024));
    }
    let count = files.len();
    let mut files = files;
    files.insert(SUMS.to_owned(), sums.into_bytes());
    Site::of(files).write(folder)?;
    println!(
        "{count} files and {SUMS} in {} ({:.0} s)",
        folder.display(),
        began.elapsed().as_secs_f64()
    );
    Ok(())
}

/// All files of a release but their digests, from the sources in `from`, built into the folder `target`.
fn built(from: &Path, target: &Path) -> Result<BTreeMap<String, Vec<u8>>> {
    let Built { site, one_file, .. } = page::build(from, target)?;
    let of_site = site
        .files()
        .map(|(name, bytes)| (name.to_owned(), Entry::file(bytes)));
    let of_site: BTreeMap<String, Entry> = of_site.collect();
    let site_folder = format!("lengthwise-{VERSION}-site");
    let program_folder = format!("lengthwise-{VERSION}-{}", host()?);
    let mut program = BTreeMap::new();
    for name in BESIDE {
        let bytes = fs::read(from.join(name)).with_context(|| format!("{name} is missing"))?;
        program.insert(name.to_owned(), Entry::file(bytes));
    }
    let bytes = command_line(from, target)?;
    program.insert(
        format!("lengthwise{}", std::env::consts::EXE_SUFFIX),
        Entry {
            bytes,
            is_program: true,
        },
    );
    Ok(BTreeMap::from([
        (ONE_FILE.to_owned(), one_file.into_bytes()),
        (
            format!("{site_folder}.tar.gz"),
            packed(&site_folder, &of_site)?,
        ),
        (
            format!("{program_folder}.tar.gz"),
            packed(&program_folder, &program)?,
        ),
        (package::name(), package::build(from, target)?),
        (
            "NOTICES.txt".to_owned(),
            fs::read(from.join("NOTICES.txt"))?,
        ),
    ]))
}

/// The kind of machine that this is, as the compiler calls it.
fn host() -> Result<String> {
    let asked = Command::new("rustc")
        .arg("-vV")
        .output()
        .context("rustc did not start")?;
    let said = String::from_utf8_lossy(&asked.stdout).into_owned();
    let host = said.lines().find_map(|line| line.strip_prefix("host: "));
    Ok(host
        .context("rustc does not say what machine this is")?
        .to_owned())
}

/// The command line, without the names of its functions and with no place of this machine in it.
fn command_line(from: &Path, target: &Path) -> Result<Vec<u8>> {
    let host = host()?;
    let words = [
        "--bin",
        "lengthwise",
        "--config",
        "profile.release.strip=true",
    ];
    build_release((&host, &words), from, target)?;
    let name = format!("lengthwise{}", std::env::consts::EXE_SUFFIX);
    Ok(fs::read(target.join(host).join("release").join(name))?)
}
