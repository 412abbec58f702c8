//! Labels that never lie over each other: as many rows as it takes.

use super::NARROW;

/// Pixels of a letter or digit at 12 pixels height, on the generous side.
const LETTER: i64 = 7;
/// Pixels between rows of text.
pub(super) const ROW: i64 = 14;
/// Most letters of a heading in one line on the narrowest phone.
const HEADING: usize = 42;

/// A label and where it belongs.
pub(super) struct Label {
    pub(super) text: String,
    /// Pixels from the left on the narrowest phone.
    pub(super) at: i64,
}

/// A label with its row, counted from the bar, and how it is anchored.
pub(super) struct Put {
    pub(super) row: i64,
    pub(super) anchor: &'static str,
}

/// Pixels a text takes.
pub(super) fn width(text: &str) -> i64 {
    text.chars().count() as i64 * LETTER
}

/// Gives each label, ascending by place, the first row it fits in.
pub(super) fn put(labels: &[Label]) -> Vec<Put> {
    let mut ends: Vec<i64> = Vec::new();
    labels
        .iter()
        .map(|label| {
            let width = width(&label.text);
            let (from, anchor) = if label.at < width / 2 {
                (label.at, "start")
            } else if label.at + width / 2 > NARROW {
                (label.at - width, "end")
            } else {
                (label.at - width / 2, "middle")
            };
            let row = ends
                .iter()
                .position(|end| *end + 3 <= from)
                .unwrap_or(ends.len());
            if row == ends.len() {
                ends.push(i64::MIN / 2);
            }
            ends[row] = from + width;
            Put {
                row: row as i64,
                anchor,
            }
        })
        .collect()
}

/// A heading in lines that fit.
pub(super) fn wrapped(text: &str) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        match lines.last_mut() {
            Some(line) if line.chars().count() + 1 + word.chars().count() <= HEADING => {
                line.push(' ');
                line.push_str(word);
            }
            _ => lines.push(word.to_owned()),
        }
    }
    lines
}
