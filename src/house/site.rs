//! The site: what `www/` holds, the engine, and a service worker that knows by name all that the page asks for.
//!
//! The page has its styles, and two scripts bundled from its modules, inside itself. The modules stay in the site beside it, for
//! whoever wants to read or to try one.
//!
//! The version of a site is a digest of every file in it, so two builds of the same sources are the same version, and any
//! change is a new one. The service worker keeps one cache a version.

use crate::bundle::{Bundle, bundle};
use crate::engine::Engine;
use crate::markup::{attribute, linked, rewritten, shielded};
use crate::page::gzip;
use anyhow::{Context, Result, bail};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// The modules that start the page: what is seen first, then the rest.
const ENTRIES: [&str; 2] = ["first.js", "main.js"];

const WORKER: &str = "worker.js";
const SERVICE_WORKER: &str = "service-worker.js";

/// The job that a page shows at its first start.
const EXAMPLE: &str = include_str!("../../fixtures/jobs/bin_store.json");

/// The files of the site by their path in it, with `/` between folders.
pub struct Site {
    files: BTreeMap<String, Vec<u8>>,
    /// What the page has inside itself; it does not ask for these.
    carried: Vec<String>,
}

impl Site {
    /// Gathers `www`, bundles its script, and adds the engine and the service worker.
    pub fn build(www: &Path, engine: &Engine) -> Result<Site> {
        let mut site = Site::of(BTreeMap::new());
        gather(www, "", &mut site.files)?;
        site.carry_in()?;
        let worker = site.take(WORKER)?;
        let worker = [engine.script.as_bytes(), b"\n", &worker].concat();
        site.files.insert("engine-worker.js".into(), worker);
        site.files
            .insert("engine.wasm".into(), engine.module.clone());

        let service_worker = site.take(SERVICE_WORKER)?;
        let names: Vec<&str> = site.asked_for().map(|(name, _)| name.as_str()).collect();
        let (version, names) = (digest(&site.files), serde_json::to_string(&names)?);
        let head = format!("const VERSION = \"{version:016x}\";\nconst FILES = {names};\n");
        let service_worker = [head.as_bytes(), &service_worker].concat();
        site.files.insert(SERVICE_WORKER.into(), service_worker);
        Ok(site)
    }

    /// A site of these files, as they are.
    pub fn of(files: BTreeMap<String, Vec<u8>>) -> Site {
        let carried = Vec::new();
        Site { files, carried }
    }

    /// The text of one file.
    pub fn text(&self, name: &str) -> Result<&str> {
        let bytes = self.bytes(name)?;
        std::str::from_utf8(bytes).with_context(|| format!("{name} is not text"))
    }

    /// The bytes of one file.
    pub fn bytes(&self, name: &str) -> Result<&[u8]> {
        Ok(self
            .files
            .get(name)
            .with_context(|| format!("{name} is not in the site"))?)
    }

    /// Writes every file below `folder`. What an earlier build left there and this one has not is taken away.
    pub fn write(&self, folder: &Path) -> Result<()> {
        let mark = folder.join(SERVICE_WORKER);
        if folder.exists() && fs::read_dir(folder)?.next().is_some() && !mark.exists() {
            bail!(
                "{} holds something else; name an empty folder, or one of an earlier build",
                folder.display()
            );
        }
        if folder.exists() {
            fs::remove_dir_all(folder)?;
        }
        for (name, bytes) in &self.files {
            let place = folder.join(name);
            fs::create_dir_all(place.parent().unwrap_or(folder))?;
            fs::write(&place, bytes)
                .with_context(|| format!("{} could not be written", place.display()))?;
        }
        Ok(())
    }

    /// What the files that the page asks for come to when each is packed.
    pub fn gzip_size(&self) -> Result<usize> {
        self.asked_for()
            .map(|(_, bytes)| Ok(gzip(bytes)?.len()))
            .sum()
    }

    fn asked_for(&self) -> impl Iterator<Item = (&String, &Vec<u8>)> {
        self.files
            .iter()
            .filter(|(name, _)| !self.carried.contains(name))
    }

    /// Puts the styles, the example and the scripts into `index.html`, where it names them: on a slow phone every file that is
    /// asked for costs time even when it is kept on the device. The scripts are no modules, so that each runs as soon as it is read.
    fn carry_in(&mut self) -> Result<()> {
        let Bundle { scripts, modules } = bundle(self, &ENTRIES)?;
        let mut carried = modules;
        let (mut started, mut examples) = (Vec::new(), 0);
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
            } else {
                None
            })
        })?;
        if (started.as_slice(), examples) != (&[0, 1], 1) {
            bail!(
                "index.html should start {} in this order, and have one place for the example",
                ENTRIES.join(" and ")
            );
        }
        self.files.insert("index.html".into(), page.into_bytes());
        self.carried = carried;
        Ok(())
    }

    fn take(&mut self, name: &str) -> Result<Vec<u8>> {
        self.files
            .remove(name)
            .with_context(|| format!("www/{name} is missing"))
    }
}

/// The style sheet that a link leads to, as an element of the page.
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

/// The example as one line that cannot end the element around it.
fn example() -> Result<String> {
    let job: serde_json::Value = serde_json::from_str(EXAMPLE)?;
    Ok(job.to_string().replace('<', "\\u003c"))
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

/// A digest of names and contents: FNV-1a of 64 bits (Fowler, Noll and Vo). It tells versions apart; it guards nothing.
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
