//! Names and messages in a form that can be shown, whatever a job holds.
//!
//! What is typed stays in the job unchanged. Where it is shown, characters that are invisible and affect the text around them are replaced
//! by a visible sign. These are control characters, which move a terminal's cursor or are forbidden in XML; characters that reverse the
//! direction of all that follows, readings included; and Unicode's noncharacters. Combining accents, marks inside words of other scripts,
//! and joiners of an emoji are kept.

/// What replaces a character that cannot be shown: Unicode's replacement character.
const UNSHOWN: char = '\u{fffd}';

/// A text on one line. Line ends and tabs become spaces.
pub fn line(text: &str) -> String {
    text.chars()
        .map(|sign| match sign {
            '\t' | '\n' | '\r' | '\u{b}' | '\u{c}' | '\u{85}' | '\u{2028}' | '\u{2029}' => ' ',
            sign => visible(sign),
        })
        .collect()
}

/// A text of several lines; line ends are kept.
pub fn lines(text: &str) -> String {
    text.chars()
        .map(|sign| match sign {
            '\n' => '\n',
            '\t' => '\t',
            sign => visible(sign),
        })
        .collect()
}

/// A text on one line, escaped for an element or an attribute of XML or HTML.
pub fn markup(text: &str) -> String {
    let mut safe = String::with_capacity(text.len());
    for sign in line(text).chars() {
        match sign {
            '&' => safe.push_str("&amp;"),
            '<' => safe.push_str("&lt;"),
            '>' => safe.push_str("&gt;"),
            '"' => safe.push_str("&quot;"),
            '\'' => safe.push_str("&#39;"),
            sign => safe.push(sign),
        }
    }
    safe
}

fn visible(sign: char) -> char {
    let turns = matches!(sign, '\u{202a}'..='\u{202e}' | '\u{2066}'..='\u{2069}');
    let no_sign =
        matches!(sign, '\u{fdd0}'..='\u{fdef}') || matches!(sign as u32 & 0xffff, 0xfffe | 0xffff);
    if sign.is_control() || turns || no_sign {
        UNSHOWN
    } else {
        sign
    }
}

/// A count with its noun: `1 length`, `4 lengths`.
pub fn counted(count: u64, one: &str, more: &str) -> String {
    if count == 1 {
        format!("1 {one}")
    } else {
        format!("{count} {more}")
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_nobody_can_see_is_made_visible_and_what_scripts_need_is_kept() {
        assert_eq!(
            line("a\u{0}b\u{1b}[2Jc\u{9b}d\u{7f}"),
            "a\u{fffd}b\u{fffd}[2Jc\u{fffd}d\u{fffd}"
        );
        assert_eq!(
            line("a\u{202e}b\u{2066}c\u{ffff}d\u{1fffe}"),
            "a\u{fffd}b\u{fffd}c\u{fffd}d\u{fffd}"
        );
        assert_eq!(line("two\nlines\tand\r\nmore"), "two lines and  more");
        assert_eq!(lines("two\nlines\ta\rb"), "two\nlines\ta\u{fffd}b");
        // A family of three joined by joiners, Hebrew with its mark of direction, an accent of its own.
        for kept in [
            "\u{1f468}\u{200d}\u{1f469}\u{200d}\u{1f467}",
            "\u{5de}\u{5d3}\u{5e3}\u{200f}",
            "e\u{301}",
        ] {
            assert_eq!(line(kept), kept);
        }
    }

    #[test]
    fn no_text_ends_the_element_or_the_attribute_around_it() {
        assert_eq!(
            markup("<b>\"R&D\" isn't]]>"),
            "&lt;b&gt;&quot;R&amp;D&quot; isn&#39;t]]&gt;"
        );
    }
}
