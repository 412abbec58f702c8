//! Limits on a text before it is parsed: how many bytes it has, and how deeply its lists and objects are nested.
//!
//! Both are checked first, because a parser takes many times a text's bytes in memory.

use crate::fault::{Fault, FaultKind, Place};
use crate::limits::{self, Most};

/// Checks the size and the nesting of a JSON text.
///
/// # Errors
/// Too many bytes, or lists and objects nested too deeply: a fault with the place and the way out.
pub fn json(text: &str, bytes: &'static Most) -> Result<(), Box<Fault>> {
    size(text.len(), bytes)?;
    depth(text)
}

/// Checks the size of a text, in bytes.
///
/// # Errors
/// More bytes than the limit.
pub fn size(found: usize, limit: &'static Most) -> Result<(), Box<Fault>> {
    if limit.passed_by(found) {
        let kind = FaultKind::TooMany { found, limit };
        return Err(Fault::new(Place::default(), kind).into());
    }
    Ok(())
}

/// Counts brackets outside quoted texts. Whether they match is for the parser to find out.
fn depth(text: &str) -> Result<(), Box<Fault>> {
    let limit = &limits::DEPTH;
    let (mut deep, mut quoted, mut escaped) = (0usize, false, false);
    let (mut line, mut start) = (1, 0);
    for (at, byte) in text.bytes().enumerate() {
        match byte {
            _ if escaped => escaped = false,
            b'\\' if quoted => escaped = true,
            b'"' => quoted = !quoted,
            b'\n' => (line, start) = (line + 1, at + 1),
            _ if quoted => {}
            b'[' | b'{' => deep += 1,
            b']' | b'}' => deep = deep.saturating_sub(1),
            _ => {}
        }
        if limit.passed_by(deep) {
            let place = Place::line(line, text[start..at].chars().count() + 1);
            let kind = FaultKind::TooMany { found: deep, limit };
            return Err(Fault::new(place, kind).into());
        }
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn brackets_are_counted_where_they_open_something_and_not_within_texts() {
        let deep = "[".repeat(limits::DEPTH.most + 1);
        let fault = json(&format!("{{}}\n {deep}"), &limits::FILE).expect_err("too deep");
        assert_eq!(
            fault.to_string(),
            "line 2, column 34: this file has 33 lists and objects inside each other; at most 32 are read; \
             a job file and a plan file have no more than 16; look for a bracket that is never closed"
        );
        for sound in [
            &deep[1..],
            &format!("\"{deep}\""),
            &format!("\"\\\"{deep}\""),
            &"[]".repeat(1_000),
        ] {
            assert_eq!(json(sound, &limits::FILE), Ok(()), "{sound}");
        }
    }

    #[test]
    fn a_file_of_too_many_bytes_is_refused_before_it_is_read() {
        let long = " ".repeat(limits::FILE.most + 1);
        let fault = json(&long, &limits::FILE).expect_err("too long");
        assert_eq!(
            fault.to_string(),
            "this file has 4 194 305 bytes; at most 4 194 304 are read; split the piece in two"
        );
        assert_eq!(json(&long[1..], &limits::FILE), Ok(()));
    }
}
