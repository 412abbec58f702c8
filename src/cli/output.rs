//! Output to the terminal, and reading the files named on the command line, with errors that a person can act on.

use super::codes::{FAILURE, PROVEN};
use lengthwise::limits;
use lengthwise::shown;
use std::io::{Read, Write};
use std::path::Path;

/// Prints to standard output and returns the exit code: a failure where not all of it could be printed, as on a full disk or where the
/// reader ended early, as `| head` does.
pub fn print(text: &str) -> u8 {
    let mut out = std::io::stdout().lock();
    // Text after the last line end stays in the buffer until it is flushed.
    match out
        .write_all(shown::lines(text).as_bytes())
        .and_then(|()| out.flush())
    {
        Ok(()) => PROVEN,
        Err(error) => {
            tell(&format!("lengthwise: cannot print: {error}"));
            FAILURE
        }
    }
}

/// Writes a message to standard error. Where that fails, the exit code still says what happened.
pub fn tell(message: &str) {
    let _ = writeln!(std::io::stderr(), "{}", shown::lines(message));
}

/// Whether a path stands for standard input.
pub fn is_stdin(path: &Path) -> bool {
    path == Path::new("-")
}

/// Reads a text file; `-` is standard input. A byte-order mark, which some editors write, is dropped.
pub fn read(path: &Path) -> Result<String, String> {
    // No input file may be longer than the longest plan file; reading one byte more is enough to refuse it.
    let most = limits::PLAN_FILE.most as u64 + 1;
    let mut bytes = Vec::new();
    let read = if is_stdin(path) {
        let input = std::io::stdin().lock();
        input.take(most).read_to_end(&mut bytes).map(|_| ())
    } else {
        std::fs::File::open(path)
            .and_then(|file| file.take(most).read_to_end(&mut bytes))
            .map(|_| ())
    };
    if bytes.len() as u64 == most {
        return Err(format!(
            "{}: {}",
            path.display(),
            limits::PLAN_FILE.told(bytes.len())
        ));
    }
    read.map_err(|error| format!("cannot read {}: {error}", path.display()))?;
    let text = String::from_utf8(bytes)
        .map_err(|_| format!("{} is not UTF-8 text; save it as UTF-8", path.display()))?;
    Ok(text.strip_prefix('\u{feff}').unwrap_or(&text).to_owned())
}
