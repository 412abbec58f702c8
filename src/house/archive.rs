//! Archives that have the same bytes whenever and by whomever they are made: names in order, no times, no owners.

use crate::files::gzip;
use anyhow::Result;
use std::collections::BTreeMap;
use tar::{Builder, EntryType, Header};

/// Seconds since 1970 of every file: the first moment that all formats of archives can tell, 1980.
const WHEN: u64 = 315_532_800;

/// A file in an archive.
pub struct Entry {
    pub bytes: Vec<u8>,
    pub is_program: bool,
}

impl Entry {
    pub fn file(bytes: impl Into<Vec<u8>>) -> Entry {
        Entry {
            bytes: bytes.into(),
            is_program: false,
        }
    }
}

/// The files below one folder, as a compressed archive.
pub fn packed(folder: &str, files: &BTreeMap<String, Entry>) -> Result<Vec<u8>> {
    let mut archive = Builder::new(Vec::new());
    for (name, entry) in files {
        let mut header = Header::new_ustar();
        header.set_entry_type(EntryType::Regular);
        header.set_size(entry.bytes.len() as u64);
        header.set_mode(if entry.is_program { 0o755 } else { 0o644 });
        header.set_mtime(WHEN);
        archive.append_data(&mut header, format!("{folder}/{name}"), &entry.bytes[..])?;
    }
    gzip(&archive.into_inner()?)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_archive_holds_its_files_and_is_the_same_bytes_again() {
        let files = || {
            BTreeMap::from([
                ("b.txt".to_owned(), Entry::file("second")),
                (
                    "a/run".to_owned(),
                    Entry {
                        bytes: b"first".to_vec(),
                        is_program: true,
                    },
                ),
            ])
        };
        let archive = packed("all", &files()).expect("packed");
        assert_eq!(archive, packed("all", &files()).expect("packed"));
        let mut read = tar::Archive::new(flate2::read::GzDecoder::new(&archive[..]));
        let told: Vec<(String, u64, u32)> = read
            .entries()
            .expect("entries")
            .map(|entry| {
                let entry = entry.expect("an entry");
                let name = entry.path().expect("a path").display().to_string();
                (name, entry.size(), entry.header().mode().expect("a mode"))
            })
            .collect();
        assert_eq!(
            told,
            [
                ("all/a/run".to_owned(), 5, 0o755),
                ("all/b.txt".to_owned(), 6, 0o644)
            ]
        );
    }
}
