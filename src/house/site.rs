//! The site: what `www/` holds, the engine, and a service worker that knows by name all that the page asks for.
//!
//! The page asks for one script, bundled from its modules, since on a slow phone every file costs time even when it is kept
//! on the device. The modules stay in the site beside it, for whoever wants to read or to try one.
//!
//! The version of a site is a digest of every file in it, so two builds of the same sources are the same version, and any
//! change is a new one. The service worker keeps one cache a version.

use crate::bundle::{Bundle, bundle};
use crate::engine::Engine;
use crate::page::gzip;
use anyhow::{Context, Result, bail};
use std::collections::BTreeMap;
use std::fs;
use std::path::Path;

/// The module that starts the page.
const ENTRY: &str = "main.js";

const WORKER: &str = "worker.js";
const SERVICE_WORKER: &str = "service-worker.js";

/// The page's script, as the site has it.
const SCRIPT: &str = "lengthwise.js";

/// The files of the site by their path in it, with `/` between folders.
pub struct Site {
    files: BTreeMap<String, Vec<u8>>,
    /// The modules that the page's script was made of; the page does not ask for them.
    bundled: Vec<String>,
}

impl Site {
    /// Gathers `www`, bundles its script, and adds the engine and the service worker.
    pub fn build(www: &Path, engine: &Engine) -> Result<Site> {
        let mut site = Site::of(BTreeMap::new());
        gather(www, "", &mut site.files)?;
        site.bundle_script()?;
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
        let bundled = Vec::new();
        Site { files, bundled }
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
            .filter(|(name, _)| !self.bundled.contains(name))
    }

    /// Puts one script in the place of the module that `index.html` starts with.
    fn bundle_script(&mut self) -> Result<()> {
        let entry = format!("src=\"{ENTRY}\"");
        let page = self.text("index.html")?;
        if page.matches(&entry).count() != 1 {
            bail!("index.html should start {ENTRY}, once");
        }
        let page = page.replace(&entry, &format!("src=\"{SCRIPT}\""));
        let Bundle { script, modules } = bundle(self, ENTRY)?;
        self.files.insert("index.html".into(), page.into_bytes());
        self.files.insert(SCRIPT.into(), script.into_bytes());
        self.bundled = modules;
        Ok(())
    }

    fn take(&mut self, name: &str) -> Result<Vec<u8>> {
        self.files
            .remove(name)
            .with_context(|| format!("www/{name} is missing"))
    }
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
