//! The mask of a script: comments, strings, templates and regular expressions are replaced by spaces, byte for byte. So every word and
//! brace in it is code, and has the same index in the text.
//! is a brace, and a place is the same place in the text.

use super::kinds::{Kind, kinds};
use anyhow::Result;

/// The text with spaces for everything that is not code.
pub(super) fn mask(text: &str) -> Result<String> {
    let kinds = kinds(text)?;
    let masked = text.bytes().zip(kinds).map(|(byte, kind)| {
        if kind == Kind::Code || byte == b'\n' {
            byte
        } else {
            b' '
        }
    });
    Ok(String::from_utf8(masked.collect())?)
}

pub(super) fn next(mask: &str, at: usize) -> Option<(usize, char)> {
    mask[at..]
        .char_indices()
        .find(|(_, c)| !c.is_whitespace())
        .map(|(offset, c)| (at + offset, c))
}

pub(super) fn leading_name(text: &str) -> Option<&str> {
    let end = text.find(|c| !is_of_name(c)).unwrap_or(text.len());
    Some(&text[..end])
        .filter(|name| name.starts_with(|c: char| is_of_name(c) && !c.is_ascii_digit()))
}

fn is_of_name(c: char) -> bool {
    c.is_alphanumeric() || matches!(c, '_' | '$')
}

/// Every word of a mask with its index and the number of brackets open around it. Names of properties are left out.
pub(super) fn words(mask: &str) -> impl Iterator<Item = (&str, usize, usize)> {
    let mut depth: usize = 0;
    let mut at = 0;
    std::iter::from_fn(move || {
        while let Some(c) = mask[at..].chars().next() {
            let place = at;
            if is_of_name(c) {
                let word = &mask[at..at
                    + mask[at..]
                        .find(|c| !is_of_name(c))
                        .unwrap_or(mask.len() - at)];
                at += word.len();
                let property =
                    mask[..place].ends_with('.') || mask[at..].trim_start().starts_with(':');
                if !property {
                    return Some((word, place, depth));
                }
                continue;
            }
            at += c.len_utf8();
            match c {
                '{' | '(' | '[' => depth += 1,
                '}' | ')' | ']' => depth = depth.saturating_sub(1),
                _ => {}
            }
        }
        None
    })
}
