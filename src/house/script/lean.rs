//! A script without the parts that only its readers need.

use super::kinds::{Kind, kinds};
use anyhow::Result;

/// The text without its comments, blank lines and indentation, since a slow device has to parse the page's scripts at each start.
pub fn lean(text: &str) -> Result<String> {
    let kinds = kinds(text)?;
    let mut lean = String::new();
    let mut start = 0;
    for line in text.split_inclusive('\n') {
        let places = start..start + line.len();
        let kept: String = line
            .char_indices()
            .filter(|(at, _)| kinds[start + at] != Kind::Comment)
            .map(|(_, c)| c)
            .collect();
        let quoted = |at: usize| kinds.get(at) == Some(&Kind::Quoted);
        // A template may continue over several lines, and its spaces belong to it.
        let goes_on = places.start > 0 && quoted(places.start - 1);
        let kept = if goes_on { &kept } else { kept.trim_start() };
        lean.push_str(if quoted(places.end - 1) || kept.is_empty() {
            kept
        } else {
            kept.trim_end()
        });
        if !kept.is_empty() && line.ends_with('\n') && !quoted(places.end - 1) {
            lean.push('\n');
        }
        start = places.end;
    }
    Ok(lean)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_is_read_by_people_alone_is_left_out_and_what_is_quoted_stays() {
        let text = "// Says.\n\nfunction say() {\n  const a = \"// no\"; // yes\n  return `one // ${ a /* b */ }\n    two`;\n}\n";
        assert_eq!(
            lean(text).unwrap(),
            "function say() {\nconst a = \"// no\";\nreturn `one // ${ a  }\n    two`;\n}\n"
        );
    }
}
