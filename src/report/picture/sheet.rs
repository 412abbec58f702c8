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

/// Which point of a text stands where it is written.
#[derive(Clone, Copy)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// What is drawn so far.
#[derive(Default)]
pub(super) struct Sheet {
    /// The markup.
    pub(super) markup: String,
    /// How far down it reaches.
    pub(super) bottom: i64,
    /// What is drawn or written lies within this: from the left to the right, from the top down. The origin does too.
    pub(super) ends: [[i64; 2]; 2],
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
            self.text([x, y], &line, Anchor::Start, look);
        }
    }

    /// A text on a base line at a point.
    pub(super) fn text(&mut self, [x, y]: [i64; 2], text: &str, anchor: Anchor, look: &str) {
        let wide = text.chars().count() as i64 * LETTER;
        let (left, anchored) = match anchor {
            Anchor::Start => (x, ""),
            Anchor::Middle => (x - wide / 2, " text-anchor=\"middle\""),
            Anchor::End => (x - wide, " text-anchor=\"end\""),
        };
        self.reach([left, y - LETTERS]);
        self.reach([left + wide, y + LETTERS / 4]);
        let (x, y, text) = (units(x), units(y), shown::markup(text));
        self.markup += &format!("<text x=\"{x}\" y=\"{y}\"{anchored}{look}>{text}</text>\n");
    }

    /// Lines in ink, from point to point; without a look they have that of the group they are in.
    pub(super) fn strokes(&mut self, lines: &[[[i64; 2]; 2]], look: &str) {
        if lines.is_empty() {
            return;
        }
        let (mut path, mut last) = (String::new(), None);
        for [from, to] in lines {
            if last != Some(from) {
                path += &format!("M{}", point(*from));
            }
            path += &format!("L{}", point(*to));
            last = Some(to);
            self.reach(*from);
            self.reach(*to);
        }
        let ink = match look {
            "" => String::new(),
            _ => format!(" stroke=\"{INK}\""),
        };
        self.markup += &format!("<path{ink}{look} d=\"{path}\"/>\n");
    }

    /// A filled outline with attributes of its own. Its colour runs over its edge a little, so that no light shines between neighbours.
    pub(super) fn outline(&mut self, corners: &[[i64; 2]], colour: &str, attributes: &str) {
        self.markup += &format!(
            "<polygon{attributes} fill=\"{colour}\" stroke=\"{colour}\" stroke-width=\".3\" points=\""
        );
        for (at, &corner) in corners.iter().enumerate() {
            self.reach(corner);
            if at > 0 {
                self.markup.push(' ');
            }
            self.markup += &point(corner);
        }
        self.markup += "\"/>\n";
    }

    fn reach(&mut self, point: [i64; 2]) {
        for (ends, at) in self.ends.iter_mut().zip(point) {
            *ends = [ends[0].min(at), ends[1].max(at)];
        }
    }
}

/// The attribute that says which part something is of, none without a key.
pub(super) fn of_part(key: &str) -> String {
    match key {
        "" => String::new(),
        _ => format!(" data-part=\"{key}\""),
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
