//! Writing to the terminal and to files, with errors a person can act on.

use std::io::{ErrorKind, Read, Write};
use std::path::Path;

/// Prints to standard output. A reader that has gone away, as with `| head`, is no failure.
pub fn print(text: &str) -> u8 {
    match std::io::stdout().lock().write_all(text.as_bytes()) {
        Ok(()) => super::PROVEN,
        Err(error) if error.kind() == ErrorKind::BrokenPipe => super::PROVEN,
        Err(error) => {
            eprintln!("lengthwise: cannot print: {error}");
            super::FAILURE
        }
    }
}

/// Reads a text file; `-` is standard input.
pub fn read(path: &Path) -> Result<String, String> {
    let mut bytes = Vec::new();
    let read = if path == Path::new("-") {
        std::io::stdin().lock().read_to_end(&mut bytes).map(|_| ())
    } else {
        std::fs::File::open(path)
            .and_then(|mut file| file.read_to_end(&mut bytes))
            .map(|_| ())
    };
    read.map_err(|error| format!("cannot read {}: {error}", path.display()))?;
    String::from_utf8(bytes)
        .map_err(|_| format!("{} is not UTF-8 text; save it as UTF-8", path.display()))
}

/// A file that is written at the end but opened at the start, so that a wrong path is known before the work is done.
pub struct Target {
    path: std::path::PathBuf,
    file: std::fs::File,
}

impl Target {
    /// Opens a file to write to.
    pub fn open(path: &Path) -> Result<Target, String> {
        let file = std::fs::OpenOptions::new()
            .write(true)
            .create(true)
            .truncate(false)
            .open(path);
        let file = file.map_err(|error| format!("cannot write {}: {error}", path.display()))?;
        Ok(Target {
            path: path.to_owned(),
            file,
        })
    }

    /// Replaces what the file holds.
    pub fn write(mut self, text: &str) -> Result<(), String> {
        let written = self
            .file
            .set_len(0)
            .and_then(|()| self.file.write_all(text.as_bytes()));
        written.map_err(|error| format!("cannot write {}: {error}", self.path.display()))
    }
}
