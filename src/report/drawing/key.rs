//! The key to the drawings: every part with its letter, and a swatch of its colour and texture.

use super::labels::{NARROW, SMALL};
use super::pen::Pen;
use super::{style, texture};
use crate::length::Length;
use crate::report::legend::{self, COLOURS, LegendRow};
use crate::report::words::Words;
use crate::shown;

/// The parts as the drawings show them.
pub(in crate::report) fn key(words: &Words) -> Vec<LegendRow> {
    (0..words.job.parts.len())
        .map(|part| LegendRow {
            letter: words.letter(part),
            keys: words.keys(part).to_vec(),
            label: words.job.parts[part].label.clone(),
            length: words.part_length(&words.job.parts[part]),
            colour: COLOURS[legend::colour(words.look(part))],
            swatch: swatch(words, part),
            texture: legend::texture(words.look(part)).word(),
            count: words.job.parts[part].quantity,
        })
        .collect()
}

/// A piece of a bar in a part's colour and texture, with its letter. One millimetre is one pixel in it.
fn swatch(words: &Words, part: usize) -> String {
    // Browsers that darken pages by themselves treat small drawings as icons and turn their ink white. At four fifths of its size, 64
    // pixels still count as an icon and 70 do not (seen in Chromium).
    const WIDTH: i64 = 90;
    const HEIGHT: i64 = 40;
    let pen = Pen {
        words,
        longest: Length::from_mm(NARROW),
        size: SMALL,
        high: HEIGHT,
    };
    let end = Length::from_mm(WIDTH);
    let lines = texture::texture(&pen, Length::ZERO, end, legend::texture(words.look(part)));
    format!(
        "<svg xmlns=\"http://www.w3.org/2000/svg\" role=\"img\" viewBox=\"0 0 {WIDTH} {HEIGHT}\" \
         font-family=\"system-ui, sans-serif\" font-size=\"20\" font-weight=\"700\"><title>{letter}</title>\
         <rect width=\"{WIDTH}\" height=\"{HEIGHT}\" fill=\"{colour}\" stroke=\"{ink}\" stroke-width=\"2\"/>\
         <path class=\"lw-texture\" fill=\"none\" stroke=\"{ink}\" stroke-opacity=\".5\" d=\"{lines}\"/>\
         <text x=\"{middle}\" y=\"27\" text-anchor=\"middle\" fill=\"{ink}\" stroke=\"{paper}\" stroke-width=\"5\" \
         paint-order=\"stroke\">{letter}</text></svg>",
        letter = shown::markup(&words.letter(part)),
        colour = COLOURS[legend::colour(words.look(part))],
        ink = style::INK,
        paper = style::PAPER,
        middle = WIDTH / 2,
    )
}
