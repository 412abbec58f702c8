//! Files by their path, with `/` between folders, and compression.

use anyhow::{Context, Result};
use flate2::Compression;
use flate2::write::GzEncoder;
use std::collections::BTreeMap;
use std::io::Write;

/// Files by their path.
#[derive(Default)]
pub struct Files(pub BTreeMap<String, Vec<u8>>);

impl Files {
    /// The text of one file.
    pub fn text(&self, name: &str) -> Result<&str> {
        let bytes = self.bytes(name)?;
        std::str::from_utf8(bytes).with_context(|| format!("{name} is not text"))
    }

    /// The bytes of one file.
    pub fn bytes(&self, name: &str) -> Result<&[u8]> {
        let file = self.0.get(name);
        Ok(file.with_context(|| format!("{name} is not in the site"))?)
    }
}

/// Bytes compressed with gzip at its highest level.
pub fn gzip(bytes: &[u8]) -> Result<Vec<u8>> {
    let mut packer = GzEncoder::new(Vec::new(), Compression::best());
    packer.write_all(bytes)?;
    Ok(packer.finish()?)
}
