//! Printing lengths as people read them.
//!
//! Metric lengths print as decimals without trailing zeros, imperial ones with a reduced fraction. A length that the style cannot show
//! exactly is rounded to the nearest step, and [`Shown::rounded`] says so, so that a report can mark it. Each reading is rounded from its
//! own exact value, so a column of running readings never drifts.

use super::parse::read_length;
use super::{Decimal, Length, Reading, Unit};
use std::fmt;

/// How a length is to be printed.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Style {
    /// The unit; inches and feet print fractions.
    pub unit: Unit,
    /// The finest step that is printed, above zero: 0.1 mm, 1/16 in and the like.
    pub step: Length,
    /// The decimal sign of metric units.
    pub decimal: Decimal,
    /// Whether the unit is printed behind the number. Imperial marks are always printed.
    pub with_unit: bool,
}

/// A length as text, and whether the text is exact.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Shown {
    /// The text.
    pub text: String,
    /// Whether the text stands for a length other than the exact one.
    pub rounded: bool,
}

impl Shown {
    /// The text, with the sign for about where it is rounded.
    pub fn told(self) -> String {
        match self.rounded {
            true => format!("\u{2248}{}", self.text),
            false => self.text,
        }
    }
}

impl fmt::Display for Shown {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        formatter.write_str(&self.text)
    }
}

impl Style {
    /// The style for sums of lengths: in metres to the nearest hundredth, or in feet to the same step.
    pub const fn for_sums(self) -> Style {
        if self.unit.is_imperial() {
            return Style {
                unit: Unit::Foot,
                with_unit: true,
                ..self
            };
        }
        Style {
            unit: Unit::Metre,
            step: Length::from_mm(10),
            decimal: self.decimal,
            with_unit: true,
        }
    }

    /// The style that shows every length that a person can type on a tape exactly: to 0.01 mm, or to 1/128 in.
    pub const fn exact(unit: Unit, decimal: Decimal) -> Style {
        let step = if unit.is_imperial() {
            Length(635)
        } else {
            Length(32)
        };
        Style {
            unit,
            step,
            decimal,
            with_unit: true,
        }
    }

    /// Prints a length.
    pub fn show(&self, length: Length) -> Shown {
        let near = length.nearest(self.step);
        let sign = if near.0 < 0 { "\u{2212}" } else { "" };
        let body = match self.unit {
            Unit::Inch => inches(near.0.abs(), self.step.0),
            Unit::Foot => feet(near.0.abs(), self.step.0),
            unit => self.metric(near.0.abs(), unit),
        };
        Shown {
            text: format!("{sign}{body}"),
            rounded: near != length,
        }
    }

    fn metric(&self, ticks: i64, unit: Unit) -> String {
        let (name, places) = match unit {
            Unit::Millimetre => ("mm", 2),
            Unit::Centimetre => ("cm", 3),
            _ => ("m", 5),
        };
        // Hundredths of a millimetre, the finest decimal that is printed.
        let hundredths = (ticks + 16) / 32;
        let scale = 10i64.pow(places);
        let mut text = (hundredths / scale).to_string();
        let fraction = format!("{:0width$}", hundredths % scale, width = places as usize);
        let fraction = fraction.trim_end_matches('0');
        if !fraction.is_empty() {
            text.push(self.decimal.sign());
            text.push_str(fraction);
        }
        if self.with_unit {
            text.push(' ');
            text.push_str(name);
        }
        text
    }
}

/// A text that reads back as exactly this length: in the unit of the reading where that is exact, else in millimetres, of which a tick is
/// 0.0003125.
pub fn exact_text(length: Length, reading: Reading) -> String {
    let style = Style::exact(reading.unit, reading.decimal);
    let shown = style.show(length);
    if !shown.rounded && length.0 >= 0 {
        return shown.text;
    }
    let mut decimals = format!("{:07}", length.0.unsigned_abs() % 3_200 * 3_125);
    decimals.truncate(decimals.trim_end_matches('0').len());
    if decimals.len() == 3 {
        // Three decimals of a millimetre are refused as ambiguous with metres; four are not.
        decimals.push('0');
    }
    let whole = length.0 / 3_200;
    if decimals.is_empty() {
        return format!("{whole} mm");
    }
    format!("{whole}{}{decimals} mm", reading.decimal.sign())
}

/// A length as a person would type it: a bare number where that reads back exactly, else with its unit.
pub fn typed(length: Length, reading: Reading) -> String {
    let style = Style {
        with_unit: false,
        ..Style::exact(reading.unit, reading.decimal)
    };
    let bare = style.show(length).text;
    match read_length(&bare, reading) {
        Ok(read) if read == length => bare,
        _ => exact_text(length, reading),
    }
}

/// `ticks` in inches: `50 1/2"`, `1/2"`, `0"`.
fn inches(ticks: i64, step: i64) -> String {
    let whole = ticks / Unit::Inch.ticks();
    match (whole, fraction(ticks % Unit::Inch.ticks(), step)) {
        (whole, None) => format!("{whole}\""),
        (0, Some(fraction)) => format!("{fraction}\""),
        (whole, Some(fraction)) => format!("{whole} {fraction}\""),
    }
}

/// `ticks` in feet and inches: `4' 2 1/2"`, `4'`, `2 1/2"`.
fn feet(ticks: i64, step: i64) -> String {
    let (whole, rest) = (ticks / Unit::Foot.ticks(), ticks % Unit::Foot.ticks());
    match (whole, rest) {
        (0, rest) => inches(rest, step),
        (whole, 0) => format!("{whole}'"),
        (whole, rest) => format!("{whole}' {}", inches(rest, step)),
    }
}

/// A part of an inch as a reduced fraction. Binary steps are exact down to 1/128 in; any other step is rounded to 1/128 in.
fn fraction(ticks: i64, step: i64) -> Option<String> {
    let finest = if step % 635 == 0 { step / 635 } else { 1 };
    let mut top = (ticks + 635 * finest / 2) / (635 * finest) * finest;
    let mut bottom = 128;
    if top == 0 {
        return None;
    }
    while top % 2 == 0 {
        top /= 2;
        bottom /= 2;
    }
    if bottom == 0 {
        None
    } else {
        Some(format!("{top}/{bottom}"))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn shows(ticks: i64, unit: Unit, step: i64, expected: &str, rounded: bool) {
        let style = Style {
            unit,
            step: Length(step),
            decimal: Decimal::Point,
            with_unit: true,
        };
        let shown = style.show(Length(ticks));
        assert_eq!((shown.text.as_str(), shown.rounded), (expected, rounded));
    }

    #[test]
    fn metric_lengths_print_without_needless_zeros() {
        shows(3_200 * 1_200, Unit::Millimetre, 320, "1200 mm", false);
        shows(
            3_200 * 1_200 + 1_280,
            Unit::Millimetre,
            320,
            "1200.4 mm",
            false,
        );
        shows(3_200 * 2_400, Unit::Metre, 32, "2.4 m", false);
        shows(-3_200 * 25, Unit::Centimetre, 32, "\u{2212}2.5 cm", false);
        shows(3_200 * 7 + 1_700, Unit::Millimetre, 3_200, "8 mm", true);
    }

    #[test]
    fn imperial_lengths_print_as_reduced_fractions() {
        // 4' 2 1/2" = 50 1/2" = 1282.7 mm: arithmetic from 1 in = 25.4 mm.
        let half = 635 * 64;
        shows(50 * 81_280 + half, Unit::Inch, 635 * 8, "50 1/2\"", false);
        shows(50 * 81_280 + half, Unit::Foot, 635 * 8, "4' 2 1/2\"", false);
        shows(48 * 81_280, Unit::Foot, 635 * 8, "4'", false);
        shows(half, Unit::Foot, 635 * 8, "1/2\"", false);
        shows(0, Unit::Inch, 635 * 8, "0\"", false);
    }

    #[test]
    fn running_reading_to_a_thirty_second() {
        // 73.0185 in is 6 ft 1 1/32 in to the nearest 1/32 (73.0185 = 2336.6/32, rounds to 2337/32).
        shows(
            730_185 * 81_280 / 10_000,
            Unit::Foot,
            635 * 4,
            "6' 1 1/32\"",
            true,
        );
    }

    #[test]
    fn an_exact_text_reads_back_to_the_tick() {
        for unit in [
            Unit::Millimetre,
            Unit::Centimetre,
            Unit::Metre,
            Unit::Inch,
            Unit::Foot,
        ] {
            for decimal in [Decimal::Point, Decimal::Comma] {
                let reading = Reading { unit, decimal };
                for ticks in [
                    0, 1, 32, 400, 635, 1_600, 3_200, 27_093, 32_000, 81_280, 3_840_123, 7_679_999,
                    9_999_360,
                ] {
                    let text = exact_text(Length(ticks), reading);
                    assert_eq!(
                        crate::length::read_length(&text, reading),
                        Ok(Length(ticks)),
                        "{text}"
                    );
                }
            }
        }
    }
}
