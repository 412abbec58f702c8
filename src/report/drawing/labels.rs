//! Labels that never overlap: they are put in as many rows as that takes.

/// Width of a drawing on the narrowest phone in pixels: 320 less the margins of a page.
pub(super) const NARROW: i64 = 296;

/// The sizes of a drawing's text, in pixels.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Type {
    /// Height of the letters.
    pub(super) height: i64,
    /// Width of a letter or digit, rather too large than too small: wide fonts take 0.64 of the height. Readings in one row keep at least
    /// this distance, or 50 and 280 would read as one number.
    letter: i64,
    /// Distance from one row of text to the next.
    pub(super) row: i64,
}

/// For a drawing of many boards.
pub(super) const SMALL: Type = Type {
    height: 12,
    letter: 8,
    row: 14,
};
/// For one board that fills the width and is read from where the saw stands.
pub(super) const LARGE: Type = Type {
    height: 16,
    letter: 11,
    row: 18,
};

/// Most characters in a line of a small heading on the narrowest phone.
const HEADING: usize = 38;

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

impl Type {
    /// Pixels a text takes.
    pub(super) fn width(self, text: &str) -> i64 {
        text.chars().count() as i64 * self.letter
    }
}

/// Gives each label the first row in which it fits. The labels are in ascending order of position.
pub(super) fn put(labels: &[Label], size: Type) -> Vec<Put> {
    let mut ends: Vec<i64> = Vec::new();
    labels
        .iter()
        .map(|label| {
            let width = size.width(&label.text);
            let (from, anchor) = if label.at < width / 2 {
                (label.at, "start")
            } else if label.at + width / 2 > NARROW {
                (label.at - width, "end")
            } else {
                (label.at - width / 2, "middle")
            };
            let row = ends
                .iter()
                .position(|end| *end + size.letter <= from)
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
