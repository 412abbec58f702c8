//! What each byte of a script belongs to: code, a comment, or a literal.

use anyhow::{Context, Result, bail};

/// What a byte of a script belongs to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Kind {
    Code,
    /// A line end is never part of a comment, since it may end a statement.
    Comment,
    /// A string, a regular expression, or the text of a template.
    Quoted,
}

pub(super) fn kinds(text: &str) -> Result<Vec<Kind>> {
    let bytes = text.as_bytes();
    // Everything but code is blank in this copy, so that the code before a `/` can be seen.
    let mut mask = bytes.to_vec();
    let mut kinds = vec![Kind::Code; bytes.len()];
    // For each open template, the number of braces that are open inside its current `${`.
    let mut templates: Vec<usize> = Vec::new();
    let mut at = 0;
    while at < bytes.len() {
        let (kind, end) = match (bytes[at], bytes.get(at + 1)) {
            (b'/', Some(b'/')) => (
                Kind::Comment,
                at + text[at..].find('\n').unwrap_or(text.len() - at),
            ),
            (b'/', Some(b'*')) => (
                Kind::Comment,
                at + text[at..].find("*/").context("a comment is not closed")? + 2,
            ),
            (b'/', _) if may_begin_expression(&mask[..at]) => {
                (Kind::Quoted, regular_expression_end(bytes, at)?)
            }
            (quote @ (b'"' | b'\''), _) => (Kind::Quoted, quoted_end(bytes, at, quote)?),
            (b'`', _) => (Kind::Quoted, template_end(bytes, at + 1, &mut templates)?),
            (b'}', _) if templates.last() == Some(&0) => {
                templates.pop();
                (Kind::Quoted, template_end(bytes, at + 1, &mut templates)?)
            }
            (byte, _) => {
                if let Some(open) = templates.last_mut() {
                    *open = match byte {
                        b'{' => *open + 1,
                        b'}' => *open - 1,
                        _ => *open,
                    };
                }
                at += 1;
                continue;
            }
        };
        for place in at..end {
            if bytes[place] != b'\n' {
                mask[place] = b' ';
            }
            if bytes[place] != b'\n' || kind == Kind::Quoted {
                kinds[place] = kind;
            }
        }
        at = end;
    }
    Ok(kinds)
}

/// Reads template text from `at` to the closing quote, or to the first `${`, which stays open.
fn template_end(bytes: &[u8], mut at: usize, templates: &mut Vec<usize>) -> Result<usize> {
    while at < bytes.len() {
        match (bytes[at], bytes.get(at + 1)) {
            (b'\\', _) => at += 2,
            (b'`', _) => return Ok(at + 1),
            (b'$', Some(b'{')) => {
                templates.push(0);
                return Ok(at + 2);
            }
            _ => at += 1,
        }
    }
    bail!("a template is not closed")
}

fn quoted_end(bytes: &[u8], start: usize, quote: u8) -> Result<usize> {
    let mut at = start + 1;
    while at < bytes.len() && bytes[at] != b'\n' {
        match bytes[at] {
            b'\\' => at += 2,
            byte if byte == quote => return Ok(at + 1),
            _ => at += 1,
        }
    }
    bail!("a string is not closed")
}

fn regular_expression_end(bytes: &[u8], start: usize) -> Result<usize> {
    let (mut at, mut in_class) = (start + 1, false);
    while at < bytes.len() && bytes[at] != b'\n' {
        match bytes[at] {
            b'\\' => at += 1,
            b'[' => in_class = true,
            b']' => in_class = false,
            b'/' if !in_class => return Ok(at + 1),
            _ => {}
        }
        at += 1;
    }
    bail!("a regular expression is not closed")
}

/// Whether a `/` after this code begins a regular expression rather than dividing. After a value or a closing bracket it divides.
fn may_begin_expression(code: &[u8]) -> bool {
    let code = code.trim_ascii_end();
    let Some(last) = code.last() else { return true };
    if last.is_ascii_alphanumeric() || matches!(last, b'_' | b'$') || *last >= 0x80 {
        let start = code
            .iter()
            .rposition(|byte| !byte.is_ascii_alphanumeric() && !matches!(byte, b'_' | b'$'));
        let word = &code[start.map_or(0, |place| place + 1)..];
        return matches!(
            word,
            b"return" | b"typeof" | b"case" | b"in" | b"of" | b"await" | b"yield" | b"void"
        );
    }
    // A string or template is blank here, so the code before it decides; none is ever divided in our modules.
    !matches!(last, b')' | b']' | b'}')
}
