//! The site: the files of `www/`, the engine, and a service worker that has the names of all files that the page loads.
//!
//! The page has its styles inside it, and two scripts bundled from its modules. The modules are in the site too, for anyone who wants to
//! read or try one.
//!
//! The version of a site is a digest of every file in it. So two builds of the same sources have the same version, and any change makes a
//! new one. The service worker keeps one cache per version.

use crate::bundle::{Bundle, bundle};
use crate::engine::Engine;
use crate::files::{Files, gzip};
use crate::markup::{attribute, linked, rewritten, shielded};
use crate::policy::{Comes, guarded, integrity};
use anyhow::{Context, Result, bail};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// The modules that start the page: what is seen first, then the rest.
const ENTRIES: [&str; 2] = ["first.js", "main.js"];

const WORKER: &str = "worker.js";
/// The files of the engine, by the names under which the page loads them; the page has the digest of each.
const ENGINE_FILES: [&str; 2] = ["engine-worker.js", "engine.wasm"];

const SERVICE_WORKER: &str = "service-worker.js";

/// The file that marks a folder as one of ours, which may be cleared for the next site.
const MARK: &str = ".lengthwise-page";
const MARK_SAYS: &str =
    "Lengthwise was built into this folder, which is cleared before the next build into it.\n";

/// Third-party licences, as a file of the site.
pub const NOTICES: &str = "notices.txt";

/// The job that a page shows at its first start.
const EXAMPLE: &str = include_str!("../../fixtures/jobs/bin_store.json");

/// The files of the site by their path in it, with `/` between folders.
pub struct Site {
    files: Files,
    /// Files that are inside the page and are not loaded by it.
    carried: Vec<String>,
}

impl Site {
    /// Gathers `www`, bundles its script, and adds the engine and the service worker.
    pub fn build(www: &Path, engine: &Engine) -> Result<Site> {
        let notices = include_bytes!("../../NOTICES.txt");
        let mut site = Site::of(BTreeMap::from([(NOTICES.into(), notices.to_vec())]));
        gather(www, "", &mut site.files.0)?;
        let worker = site.take(WORKER)?;
        let worker = [engine.script.as_bytes(), b"\n", &worker].concat();
        site.files.0.insert(ENGINE_FILES[0].into(), worker);
        site.files
            .0
            .insert(ENGINE_FILES[1].into(), engine.module.clone());
        site.carry_in()?;
        let page = guarded(site.text("index.html")?, Comes::AsSite)?;
        site.files.0.insert("index.html".into(), page.into_bytes());

        let service_worker = site.take(SERVICE_WORKER)?;
        let names: Vec<&str> = site.asked_for().map(|(name, _)| name.as_str()).collect();
        let (version, names) = (digest(&site.files.0), serde_json::to_string(&names)?);
        let head = format!("const VERSION = \"{version:016x}\";\nconst FILES = {names};\n");
        let service_worker = [head.as_bytes(), &service_worker].concat();
        site.files.0.insert(SERVICE_WORKER.into(), service_worker);
        Ok(site)
    }

    /// A site of these files, unchanged.
    pub fn of(files: BTreeMap<String, Vec<u8>>) -> Site {
        Site {
            files: Files(files),
            carried: Vec::new(),
        }
    }

    /// The text of one file.
    pub fn text(&self, name: &str) -> Result<&str> {
        self.files.text(name)
    }

    /// The bytes of one file.
    pub fn bytes(&self, name: &str) -> Result<&[u8]> {
        self.files.bytes(name)
    }

    /// Writes every file below `folder`, which is cleared first where it is one of ours.
    pub fn write(&self, folder: &Path) -> Result<()> {
        expect_ours(folder)?;
        clear(folder)?;
        fs::create_dir_all(folder)?;
        // First, so that the folder can be cleared even if this build is interrupted.
        fs::write(folder.join(MARK), MARK_SAYS)?;
        for (name, bytes) in &self.files.0 {
            let place = folder.join(name);
            fs::create_dir_all(place.parent().unwrap_or(folder))?;
            fs::write(&place, bytes)
                .with_context(|| format!("{} could not be written", place.display()))?;
        }
        Ok(())
    }

    /// Every file, by its path in the site.
    pub fn files(&self) -> impl Iterator<Item = (&str, &[u8])> {
        self.files
            .0
            .iter()
            .map(|(name, bytes)| (name.as_str(), bytes.as_slice()))
    }

    /// The total size of the files that the page loads, each compressed with gzip.
    pub fn gzip_size(&self) -> Result<usize> {
        self.asked_for()
            .map(|(_, bytes)| Ok(gzip(bytes)?.len()))
            .sum()
    }

    fn asked_for(&self) -> impl Iterator<Item = (&String, &Vec<u8>)> {
        self.files
            .0
            .iter()
            .filter(|(name, _)| !self.carried.contains(name))
    }

    /// Moves the styles, the example and the scripts into `index.html`, where it names them: on a slow phone every file that is loaded
    /// costs time, even from the cache. The scripts are not modules, so each runs as soon as it is read.
    fn carry_in(&mut self) -> Result<()> {
        let Bundle { scripts, modules } = bundle(&self.files, &ENTRIES)?;
        let mut carried = modules;
        let (mut started, mut examples, mut forms) = (Vec::new(), 0, 0);
        let page = rewritten(self.text("index.html")?, |tag| {
            let source = attribute(tag, "src");
            let entry = ENTRIES.iter().position(|entry| source == Some(entry));
            Ok(if attribute(tag, "rel") == Some("stylesheet") {
                carried.push(linked(tag)?.to_owned());
                Some(style(self, tag)?)
            } else if let Some(entry) = entry {
                started.push(entry);
                let kind = if entry == 0 {
                    ""
                } else {
                    " type=\"text/rest\""
                };
                Some(format!("<script{kind}>\n{}", shielded(&scripts[entry])))
            } else if attribute(tag, "id") == Some("example-job") {
                examples += 1;
                Some(format!("{tag}{}", example()?))
            } else if attribute(tag, "id") == Some("starting-pieces") {
                forms += 1;
                Some(format!("{tag}{}", shielded(&starting_pieces()?)))
            } else if attribute(tag, "id") == Some("job-fields") {
                forms += 1;
                Some(format!(
                    "{tag}{}",
                    shielded(&lengthwise::io::forms::value().to_string())
                ))
            } else if attribute(tag, "id") == Some("engine-digests") {
                Some(format!("{tag}{}", engine_digests(self)?))
            } else {
                None
            })
        })?;
        if (started.as_slice(), examples, forms) != (&[0, 1], 1, 2) {
            bail!(
                "index.html should start {} in this order, and have one place each for the example, the pieces to start from and the fields of its forms",
                ENTRIES.join(" and ")
            );
        }
        self.files.0.insert("index.html".into(), page.into_bytes());
        self.carried = carried;
        Ok(())
    }

    fn take(&mut self, name: &str) -> Result<Vec<u8>> {
        self.files
            .0
            .remove(name)
            .with_context(|| format!("www/{name} is missing"))
    }
}

/// Refuses a folder that holds anything and lacks the mark.
pub fn expect_ours(folder: &Path) -> Result<()> {
    let holds_something = folder.exists() && fs::read_dir(folder)?.next().is_some();
    if holds_something && !folder.join(MARK).is_file() {
        bail!(
            "{} holds files of another making, which would have to be cleared; name a new or an empty folder",
            folder.display()
        );
    }
    Ok(())
}

fn clear(folder: &Path) -> Result<()> {
    if !folder.exists() {
        return Ok(());
    }
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        if entry.file_type()?.is_dir() {
            fs::remove_dir_all(entry.path())?;
        } else {
            fs::remove_file(entry.path())?;
        }
    }
    Ok(())
}

/// The style sheet of a link, as an element of the page.
fn style(site: &Site, tag: &str) -> Result<String> {
    let text = site.text(linked(tag)?)?;
    if text.contains("@import")
        || text
            .replace("url(data:", "")
            .replace("url(\"data:", "")
            .replace("url(#", "")
            .contains("url(")
    {
        bail!("a style that leads to another file is not carried into one file");
    }
    let media = attribute(tag, "media")
        .map(|media| format!(" media=\"{media}\""))
        .unwrap_or_default();
    Ok(format!("<style{media}>\n{text}</style>"))
}

/// The example on one line, written so that it cannot end the element around it.
fn example() -> Result<String> {
    let job: serde_json::Value = serde_json::from_str(EXAMPLE)?;
    Ok(job.to_string().replace('<', "\\u003c"))
}

/// The pieces to start from, in the order in which they are offered, each in millimetres and in inches.
macro_rules! pieces {
    ($($name:literal),*) => {
        [$([
            include_str!(concat!("../../fixtures/pieces/", $name, "_metric.json")),
            include_str!(concat!("../../fixtures/pieces/", $name, "_imperial.json")),
        ]),*]
    };
}
const PIECES: [[&str; 2]; 7] = pieces!(
    "log_store",
    "gate",
    "fence_run",
    "cold_frame",
    "trestle_pair",
    "well_cover",
    "shelf"
);

/// The pieces to start from as one list on one line.
fn starting_pieces() -> Result<String> {
    let piece = |[metric, imperial]: [&str; 2]| -> Result<serde_json::Value> {
        let job = |text| serde_json::from_str::<serde_json::Value>(text);
        Ok(serde_json::json!({ "metric": job(metric)?, "imperial": job(imperial)? }))
    };
    let pieces: Result<Vec<serde_json::Value>> = PIECES.into_iter().map(piece).collect();
    Ok(serde_json::Value::from(pieces?).to_string())
}

/// The digests of the engine's files, by their names.
fn engine_digests(site: &Site) -> Result<String> {
    let mut digests = serde_json::Map::new();
    for name in ENGINE_FILES {
        digests.insert(name.into(), integrity(site.bytes(name)?).into());
    }
    Ok(serde_json::Value::Object(digests).to_string())
}

fn gather(folder: &Path, prefix: &str, files: &mut BTreeMap<String, Vec<u8>>) -> Result<()> {
    for entry in
        fs::read_dir(folder).with_context(|| format!("{} could not be read", folder.display()))?
    {
        let entry = entry?;
        let name = entry.file_name();
        let name = name
            .to_str()
            .with_context(|| format!("{name:?} is no name for a file of a site"))?;
        let path = format!("{prefix}{name}");
        if entry.file_type()?.is_dir() {
            gather(&entry.path(), &format!("{path}/"), files)?;
        } else if !name.starts_with('.') {
            files.insert(path, fs::read(entry.path())?);
        }
    }
    Ok(())
}

/// A digest of names and contents: FNV-1a with 64 bits (Fowler, Noll and Vo). It tells versions apart; it is no protection against
/// tampering.
fn digest(files: &BTreeMap<String, Vec<u8>>) -> u64 {
    const BASIS: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    let step = |digest: u64, byte: &u8| (digest ^ u64::from(*byte)).wrapping_mul(PRIME);
    files.iter().fold(BASIS, |digest, (name, bytes)| {
        let lengths = [name.len().to_le_bytes(), bytes.len().to_le_bytes()].concat();
        lengths
            .iter()
            .chain(name.as_bytes())
            .chain(bytes)
            .fold(digest, step)
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    fn site(name: &str) -> Site {
        Site::of(BTreeMap::from([(name.to_owned(), b"text".to_vec())]))
    }

    fn names(folder: &Path) -> Vec<String> {
        let entries = fs::read_dir(folder).expect("a folder");
        let mut names: Vec<String> = entries
            .map(|entry| {
                entry
                    .expect("an entry")
                    .file_name()
                    .to_string_lossy()
                    .into_owned()
            })
            .collect();
        names.sort();
        names
    }

    #[test]
    fn a_folder_of_an_earlier_build_is_cleared_and_no_other_is_touched() {
        let place = tempfile::tempdir().expect("a folder");
        let ours = place.path().join("new/ours");
        site("old.html").write(&ours).expect("a new folder");
        site("parts/new.html").write(&ours).expect("one of ours");
        assert_eq!(names(&ours), [MARK, "parts"]);
        // A service worker is no mark: other sites have one too.
        for held in ["letter.txt", "service-worker.js", ".hidden"] {
            let other = place.path().join(held.replace('.', ""));
            fs::create_dir(&other).expect("a folder");
            fs::write(other.join(held), "mine").expect("written");
            let refused = site("index.html")
                .write(&other)
                .expect_err("a folder of somebody's");
            assert!(
                refused
                    .to_string()
                    .contains("name a new or an empty folder"),
                "{refused}"
            );
            assert_eq!(names(&other), [held]);
        }
        let empty = place.path().join("empty");
        fs::create_dir(&empty).expect("a folder");
        site("index.html").write(&empty).expect("an empty folder");
        assert_eq!(names(&empty), [MARK, "index.html"]);
    }
}
