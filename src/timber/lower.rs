//! Texts in lower case.
//!
//! The library's own table has an entry for each of 1 487 letters and is the largest of the engine in the page. Here the letters stand in runs, so
//! the table is an eighth of it. Each letter has the lower case that it has there. A capital sigma at the end of a word becomes the sigma of
//! that place, as there; a word is here a run of letters.

mod runs;

use runs::RUNS;

/// A text in lower case.
pub fn lower(text: &str) -> String {
    let mut written = String::with_capacity(text.len());
    let mut before = None;
    let mut signs = text.chars().peekable();
    while let Some(sign) = signs.next() {
        let is_letter = |sign: Option<char>| sign.is_some_and(char::is_alphabetic);
        if sign == '\u{3a3}' && is_letter(before) && !is_letter(signs.peek().copied()) {
            written.push('\u{3c2}');
        } else {
            push_lower(&mut written, sign);
        }
        before = Some(sign);
    }
    written
}

/// Adds a sign in lower case to a text, wherever it stands in its word.
pub fn push_lower(written: &mut String, sign: char) {
    if sign.is_ascii() {
        return written.push(sign.to_ascii_lowercase());
    }
    if sign == '\u{130}' {
        return written.push_str("i\u{307}");
    }
    let code = u32::from(sign);
    let behind = RUNS.partition_point(|run| run.0 <= code);
    let run = behind.checked_sub(1).map(|run| RUNS[run]);
    let small = run.and_then(|(first, last, step, more)| {
        let is_in_run = code <= last && (code - first).is_multiple_of(u32::from(step));
        is_in_run.then(|| code.checked_add_signed(more))?
    });
    written.push(small.and_then(char::from_u32).unwrap_or(sign));
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_sign_has_the_lower_case_that_the_library_gives_it() {
        let mut with_lower_case = 0;
        for sign in '\0'..=char::MAX {
            let mut ours = String::new();
            push_lower(&mut ours, sign);
            let theirs = sign.to_lowercase().to_string();
            // A library of a later version may know more letters, but a lower case once given stays (Unicode's policy of stability).
            if ours != sign.to_string() || char::UNICODE_VERSION == (17, 0, 0) {
                assert_eq!(ours, theirs, "{sign:?}");
            }
            with_lower_case += usize::from(ours != sign.to_string());
        }
        assert_eq!(with_lower_case, 1_488);
    }

    #[test]
    fn words_have_the_lower_case_that_the_library_gives_them() {
        for text in [
            "",
            "Rail 45 \u{d7} 70",
            "\u{d6}STERREICH, \u{c9}t\u{e9}",
            "\u{130}STANBUL",
            "\u{39f}\u{394}\u{39f}\u{3a3} \u{3a3}\u{3a3}\u{3a3}, \u{3a3}",
            "\u{3a3}\u{391}\u{3a3}1 \u{39f}\u{3a3}.",
            "\u{414}\u{41e}\u{421}\u{41a}\u{410}",
        ] {
            assert_eq!(lower(text), text.to_lowercase());
        }
    }
}
