//! Checks that two builds of the same sources give the same bytes, wherever the sources are. So whoever builds the site can compare it with
//! the published one.
//!
//! The sources are copied to a folder with another name and depth, and built there from scratch. Builds could differ by the path of the
//! sources, which the compiler writes into messages (`engine` replaces it), by an order that changes from run to run, or by the time of
//! day.

use crate::page::{self, Built, ONE_FILE};
use crate::workshop::{registry_sources, root};
use anyhow::{Context, Result, bail};
use std::fs;
use std::path::{Path, PathBuf};
use std::thread::{self, JoinHandle};
use tempfile::TempDir;

/// Files beside the sources that are not copied.
const NOT_COPIED: [&str; 3] = ["target", "site", ".git"];

/// A build of the page from a copy of the sources, in the background.
pub struct Again {
    copy: PathBuf,
    building: JoinHandle<Result<Built>>,
    /// The folder of the copy, deleted when this is dropped.
    _elsewhere: TempDir,
}

impl Again {
    /// Copies the sources and starts the build.
    pub fn start() -> Result<Again> {
        let elsewhere = tempfile::tempdir()?;
        let copy = elsewhere.path().join("another").join("checkout");
        copy_sources(root(), &copy)?;
        let (from, target) = (copy.clone(), elsewhere.path().join("built"));
        Ok(Again {
            copy,
            building: thread::spawn(move || page::build(&from, &target)),
            _elsewhere: elsewhere,
        })
    }

    /// Waits for the build and compares it with the page in `first`.
    pub fn same_bytes(self, first: &Path) -> Result<()> {
        let again = match self.building.join() {
            Ok(built) => built?,
            Err(_) => bail!("the second build ended in a panic"),
        };
        compare(&again, &self.copy, first)
    }
}

fn compare(again: &Built, copy: &Path, first: &Path) -> Result<()> {
    let files = again.site.files();
    let one_file = (ONE_FILE, again.one_file.as_bytes());
    let mut different = Vec::new();
    for (name, bytes) in files.chain([one_file]) {
        let before = fs::read(first.join(name)).with_context(|| format!("{name} is new"))?;
        if before != bytes {
            different.push(name);
        }
    }
    if !different.is_empty() {
        bail!(
            "built again elsewhere, these differ: {}",
            different.join(", ")
        );
    }
    let mut places = registry_sources()?;
    places.extend([root().to_path_buf(), copy.to_path_buf()]);
    for place in places {
        let place = place.to_string_lossy().into_owned();
        let engine = &again.engine.module;
        if engine
            .windows(place.len())
            .any(|here| here == place.as_bytes())
        {
            bail!("the engine names {place}, which is a place of this machine");
        }
    }
    println!("{} files, the same bytes", again.site.files().count() + 1);
    Ok(())
}

fn copy_sources(from: &Path, to: &Path) -> Result<()> {
    fs::create_dir_all(to)?;
    for entry in fs::read_dir(from)? {
        let entry = entry?;
        let (here, there) = (entry.path(), to.join(entry.file_name()));
        if from == root() && NOT_COPIED.iter().any(|name| entry.file_name() == *name) {
            continue;
        }
        if here.is_dir() {
            copy_sources(&here, &there)?;
        } else {
            fs::copy(&here, &there)
                .with_context(|| format!("{} could not be copied", here.display()))?;
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::engine::Engine;
    use crate::site::Site;
    use std::collections::BTreeMap;

    #[test]
    fn a_build_with_other_bytes_or_with_a_place_of_this_machine_in_it_is_refused() {
        let built = |words: &str, module: &str| Built {
            engine: Engine {
                module: module.into(),
                script: String::new(),
            },
            site: Site::of(BTreeMap::from([("page.js".to_owned(), words.into())])),
            one_file: "one".into(),
        };
        let (folder, copy) = (tempfile::tempdir().expect("a folder"), Path::new("/a/copy"));
        let first = folder.path();
        built("let one", "").site.write(first).expect("written");
        fs::write(first.join(ONE_FILE), "one").expect("written");
        let told = |again: Built| compare(&again, copy, first).map_err(|why| why.to_string());
        assert_eq!(told(built("let one", "plain")), Ok(()));
        assert_eq!(
            told(built("let two", "plain")),
            Err("built again elsewhere, these differ: page.js".into())
        );
        let why = "the engine names /a/copy, which is a place of this machine";
        assert_eq!(told(built("let one", "in /a/copy/src")), Err(why.into()));
        fs::write(first.join(ONE_FILE), "another").expect("written");
        let why = told(built("let one", "plain")).expect_err("the one file differs");
        assert!(why.ends_with(ONE_FILE), "{why}");
    }
}
