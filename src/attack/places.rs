//! Where failing cases are written, and where those of earlier runs are kept.

use serde_json::{Value, json};
use std::fs;
use std::path::{Path, PathBuf};
use std::process;

/// The folders of a run.
pub struct Places {
    finds: PathBuf,
    kept: PathBuf,
}

impl Places {
    /// Failing cases are written below the folder Cargo builds into; cases that are kept for good are among the fixtures.
    ///
    /// # Errors
    /// A folder that cannot be made.
    pub fn open() -> Result<Places, String> {
        let program = std::env::current_exe().map_err(|error| error.to_string())?;
        let target = program.parent().and_then(Path::parent);
        let target = target.ok_or("this program was not started by cargo")?;
        let finds = target.join("attack/finds");
        fs::create_dir_all(&finds).map_err(|error| format!("{}: {error}", finds.display()))?;
        let kept = Path::new(env!("CARGO_MANIFEST_DIR"))
            .join("../..")
            .join("fixtures/attack");
        Ok(Places { finds, kept })
    }

    /// The cases of a part that are kept for good, by file name.
    pub fn kept(&self, part: &str) -> Vec<(String, Value)> {
        let mut found: Vec<(String, Value)> = fs::read_dir(&self.kept)
            .into_iter()
            .flatten()
            .filter_map(|entry| {
                let path = entry.ok()?.path();
                let (own, case) = read(&path).ok()?;
                let name = path.file_name()?.to_string_lossy().into_owned();
                (own == part).then_some((name, case))
            })
            .collect();
        found.sort_by(|one, other| one.0.cmp(&other.0));
        found
    }

    /// Writes down the case that is about to be judged. Where that fails, only the report of a crash suffers.
    pub fn begin(&self, part: &str, case: &Value) {
        let _ = fs::write(
            self.under_way(part, process::id()),
            text(part, "the run died here", case),
        );
    }

    /// Removes that note: no case is being judged.
    pub fn end(&self, part: &str) {
        let _ = fs::remove_file(self.under_way(part, process::id()));
    }

    /// Writes the case that a crashed process was judging as a failing case; returns the message about it.
    pub fn left_behind(&self, part: &str, process: u32, why: &str) -> Option<String> {
        let file = self.under_way(part, process);
        let (_, case) = read(&file).ok()?;
        let _ = fs::remove_file(file);
        Some(self.write_find(part, why, &case))
    }

    /// Writes a failing case; returns the name of its file, or why there is none.
    pub fn write_find(&self, part: &str, why: &str, case: &Value) -> String {
        let text = text(part, why, case);
        let mark = text.bytes().fold(0xcbf2_9ce4_8422_2325_u64, |sum, byte| {
            (sum ^ u64::from(byte)).wrapping_mul(0x0100_0000_01b3)
        });
        let file = self.finds.join(format!("{part}-{mark:016x}.json"));
        match fs::write(&file, text) {
            Ok(()) => file.display().to_string(),
            Err(error) => format!("{}: {error}", file.display()),
        }
    }

    fn under_way(&self, part: &str, process: u32) -> PathBuf {
        self.finds.join(format!("under-way-{part}-{process}.json"))
    }
}

fn text(part: &str, why: &str, case: &Value) -> String {
    json!({ "part": part, "why": why, "case": case }).to_string()
}

/// Reads the part and the case of a file.
///
/// # Errors
/// A file that cannot be read, or that is no case.
pub fn read(path: &Path) -> Result<(String, Value), String> {
    let text = fs::read_to_string(path).map_err(|error| format!("{}: {error}", path.display()))?;
    let value: Value =
        serde_json::from_str(&text).map_err(|error| format!("{}: {error}", path.display()))?;
    let part = value["part"]
        .as_str()
        .ok_or_else(|| format!("{} is no find", path.display()))?;
    Ok((part.to_owned(), value["case"].clone()))
}
