//! The sheet on which a picture is put together, from the top down. Coordinates are hundredths of a unit.

use crate::report::drawing::{INK, decimal};
use crate::shown;

/// Width of the sheet.
pub(super) const WIDTH: i64 = 100_000;
/// Space at its edges.
pub(super) const MARGIN: i64 = 1_500;
/// Height of the letters.
pub(super) const LETTERS: i64 = 1_200;
/// Width of a letter, rather too large than too small: wide fonts take 0.64 of the height.
pub(super) const LETTER: i64 = 770;
/// From one line of text to the next.
pub(super) const LINE: i64 = 1_700;
/// Most characters in a line across the whole sheet.
const ACROSS: usize = ((WIDTH - 2 * MARGIN) / LETTER) as usize;

/// What is drawn so far.
#[derive(Default)]
pub(super) struct Sheet {
    /// The markup.
    pub(super) markup: String,
    /// How far down it reaches.
    pub(super) bottom: i64,
}

impl Sheet {
    /// A line of text below everything, in as many lines as it takes.
    pub(super) fn line(&mut self, text: &str) {
        self.lines(text, MARGIN, "");
    }

    /// The same as a heading.
    pub(super) fn heading(&mut self, text: &str) {
        self.bottom += LINE;
        self.lines(text, MARGIN, " font-weight=\"700\"");
    }

    /// Text from `x` on, wrapped at the right margin.
    pub(super) fn lines(&mut self, text: &str, x: i64, look: &str) {
        let room = ACROSS - ((x - MARGIN) / LETTER) as usize;
        for line in wrapped(text, room) {
            self.bottom += LINE;
            let y = self.bottom;
            self.text([x, y], &line, look);
        }
    }

    /// A text with its first letter at a point, unless `look` anchors it otherwise.
    pub(super) fn text(&mut self, [x, y]: [i64; 2], text: &str, look: &str) {
        let (x, y, text) = (units(x), units(y), shown::markup(text));
        self.markup += &format!("<text x=\"{x}\" y=\"{y}\"{look}>{text}</text>\n");
    }

    /// Lines in ink, from point to point.
    pub(super) fn strokes(&mut self, lines: &[[[i64; 2]; 2]], look: &str) {
        if lines.is_empty() {
            return;
        }
        let path: String = lines
            .iter()
            .map(|[from, to]| format!("M{}L{}", point(*from), point(*to)))
            .collect();
        self.markup += &format!("<path stroke=\"{INK}\"{look} d=\"{path}\"/>\n");
    }

    /// A filled outline. Its own colour runs over its edge a little, so that no light shines between neighbours.
    pub(super) fn outline(&mut self, corners: &[[i64; 2]], colour: &str) {
        let points: Vec<String> = corners.iter().map(|&corner| point(corner)).collect();
        self.markup += &format!(
            "<polygon fill=\"{colour}\" stroke=\"{colour}\" stroke-width=\".3\" points=\"{}\"/>\n",
            points.join(" ")
        );
    }
}

/// A text in lines of at most `room` characters; a longer word is broken.
pub(super) fn wrapped(text: &str, room: usize) -> Vec<String> {
    let mut lines: Vec<String> = Vec::new();
    for word in text.split(' ') {
        let letters: Vec<char> = word.chars().collect();
        for (at, piece) in letters.chunks(room.max(1)).enumerate() {
            let piece = String::from_iter(piece);
            let fits = |line: &&mut String| {
                at == 0 && line.chars().count() + 1 + piece.chars().count() <= room
            };
            match lines.last_mut().filter(fits) {
                Some(line) => *line += &format!(" {piece}"),
                None => lines.push(piece),
            }
        }
    }
    lines
}

fn point([x, y]: [i64; 2]) -> String {
    format!("{} {}", units(x), units(y))
}

/// Hundredths of a unit as a decimal.
pub(super) fn units(hundredths: i64) -> String {
    decimal(hundredths, 2)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn no_line_is_longer_than_its_room_and_no_letter_is_lost() {
        for (text, lines) in [
            ("", vec![]),
            ("one two three", vec!["one two", "three"]),
            ("seventeenletters a", vec!["seventee", "nletters", "a"]),
        ] {
            let text_lines = wrapped(text, 8);
            assert_eq!(text_lines, lines, "{text}");
        }
    }
}
