//! The scale of a drawing, and how its coordinates are written.

use super::labels::{NARROW, SMALL, Type};
use crate::check::CheckedPlan;
use crate::length::Length;
use crate::report::words::Words;

/// The scale of a drawing, and the words of its job.
#[derive(Clone, Copy)]
pub(super) struct Pen<'a> {
    pub(super) words: &'a Words<'a>,
    /// The length that fills the width.
    pub(super) longest: Length,
    pub(super) size: Type,
    /// Height of the bar in pixels.
    pub(super) high: i64,
}

/// Heights of bars in pixels: of the narrowest face, and of the widest of the job.
const LOW: i64 = 30;
const HIGH: i64 = 46;

impl<'a> Pen<'a> {
    pub(super) fn of(words: &'a Words<'a>, checked: &CheckedPlan) -> Pen<'a> {
        let longest = checked
            .boards()
            .iter()
            .map(|board| board.length)
            .max()
            .unwrap_or(Length::from_mm(1));
        Pen {
            words,
            longest,
            size: SMALL,
            high: HIGH,
        }
    }

    /// The same for boards of a section: the wider its face, the higher their bars. Without a width it is between the ends.
    pub(super) fn of_section(self, section: usize) -> Pen<'a> {
        let sections = &self.words.job.sections;
        let widest = sections.iter().filter_map(|one| one.width).max();
        let high = match (sections[section].width, widest) {
            (Some(width), Some(widest)) if widest > Length::ZERO => {
                LOW + (HIGH - LOW) * width.ticks() / widest.ticks()
            }
            _ => (LOW + HIGH) / 2,
        };
        Pen { high, ..self }
    }

    /// A position along a board, in per cent of the drawing's width.
    pub(super) fn across(&self, at: Length) -> String {
        let thousandths = i128::from(at.ticks()) * 100_000 / i128::from(self.longest.ticks());
        format!("{}%", decimal(thousandths as i64, 3))
    }

    /// A position along a board, in pixels on the narrowest phone.
    pub(super) fn narrow(&self, at: Length) -> i64 {
        (i128::from(at.ticks()) * i128::from(NARROW) / i128::from(self.longest.ticks())) as i64
    }

    /// A number of pixels on the narrowest phone, as a length along a board.
    pub(super) fn along(&self, pixels: i64) -> Length {
        Length::from_ticks(self.longest.ticks() / NARROW * pixels)
    }
}

/// Millimetres to a hundredth, as a coordinate inside a bar.
pub(super) fn mm(length: Length) -> String {
    let hundredths = (length.ticks().abs() + 16) / 32 * length.ticks().signum();
    decimal(hundredths, 2)
}

/// A whole number of units in the last of `places` decimals, without needless zeros.
pub(in crate::report) fn decimal(units: i64, places: u32) -> String {
    let scale = 10i64.pow(places);
    let (whole, rest) = (units.abs() / scale, units.abs() % scale);
    let sign = if units < 0 { "-" } else { "" };
    let text = format!("{sign}{whole}.{rest:0width$}", width = places as usize);
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}
