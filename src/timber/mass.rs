//! Mass, in whole grams.
//!
//! It is read as people write it, in kilograms or pounds, and rounded once to the nearest gram. A bare number is in kilograms, or in pounds
//! where the tape is imperial. No length depends on it.

use crate::length::Reading;

/// A mass in grams.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Mass(i64);

/// A pound in units of 10^-8 kg: 0.45359237 kg exactly (international yard and pound agreement, 1959).
const POUND: i128 = 45_359_237;
/// A kilogram in the same units.
const KILOGRAM: i128 = 100_000_000;
/// The least and the most payload that is read, in grams: 1 kg and 40 t.
const LEAST: i64 = 1_000;
const MOST: i64 = 40_000_000;

impl Mass {
    /// So many grams.
    pub const fn from_grams(grams: i64) -> Mass {
        Mass(grams)
    }

    /// The number of grams.
    pub const fn grams(self) -> i64 {
        self.0
    }

    /// Reads `300`, `300 kg`, `0.75 t` or `660 lb`; `None` for any other text, and for masses under 1 kg or over 40 t.
    pub fn read(text: &str, reading: Reading) -> Option<Mass> {
        let text = text.trim();
        let end = text
            .find(|sign: char| sign.is_alphabetic())
            .unwrap_or(text.len());
        let (number, unit) = text.split_at(end);
        let per_unit = match unit.trim_end_matches('.').to_ascii_lowercase().as_str() {
            "" => bare(reading),
            "kg" => KILOGRAM,
            "t" => 1_000 * KILOGRAM,
            "lb" | "lbs" => POUND,
            _ => return None,
        };
        let number = number.trim();
        let (whole, decimals) = number
            .split_once(reading.decimal.sign())
            .unwrap_or((number, ""));
        let digits = |text: &str| text.len() <= 6 && text.bytes().all(|byte| byte.is_ascii_digit());
        if whole.is_empty() || !digits(whole) || !digits(decimals) {
            return None;
        }
        let scale = 10i128.pow(decimals.len() as u32);
        let top: i128 = format!("{whole}{decimals}").parse().ok()?;
        let bottom = scale * KILOGRAM / 1_000;
        let grams = (2 * top * per_unit + bottom) / (2 * bottom);
        let grams = i64::try_from(grams).ok()?;
        (LEAST..=MOST).contains(&grams).then_some(Mass(grams))
    }

    /// The text with its unit added, where it is a bare number.
    pub fn with_unit(text: &str, reading: Reading) -> Option<String> {
        let text = text.trim();
        Mass::read(text, reading)?;
        let unit = if bare(reading) == POUND { "lb" } else { "kg" };
        (!text.contains(|sign: char| sign.is_alphabetic())).then(|| format!("{text} {unit}"))
    }
}

fn bare(reading: Reading) -> i128 {
    if reading.unit.is_imperial() {
        POUND
    } else {
        KILOGRAM
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::{Decimal, Unit};

    fn read(text: &str, unit: Unit, decimal: Decimal) -> Option<i64> {
        Mass::read(text, Reading { unit, decimal }).map(Mass::grams)
    }

    #[test]
    fn a_mass_is_read_in_the_units_people_write() {
        // 660 lb = 660 x 453.59237 g = 299 370.96 g.
        for (text, unit, grams) in [
            ("300", Unit::Millimetre, 300_000),
            ("300 kg", Unit::Inch, 300_000),
            ("0.75 t", Unit::Millimetre, 750_000),
            ("660 lb", Unit::Millimetre, 299_371),
            ("660", Unit::Foot, 299_371),
        ] {
            assert_eq!(read(text, unit, Decimal::Point), Some(grams), "{text}");
        }
        assert_eq!(read("62,5", Unit::Metre, Decimal::Comma), Some(62_500));
    }

    #[test]
    fn what_is_no_mass_or_no_sensible_one_is_refused() {
        for text in ["", "kg", "-5", "300 stone", "1,000", "0", "50 t", "1.2.3"] {
            assert_eq!(read(text, Unit::Millimetre, Decimal::Point), None, "{text}");
        }
    }

    #[test]
    fn a_bare_number_gains_the_unit_it_stands_for() {
        let reading = |unit| Reading {
            unit,
            decimal: Decimal::Point,
        };
        let spelled = |text, unit| Mass::with_unit(text, reading(unit));
        assert_eq!(spelled("300", Unit::Millimetre).as_deref(), Some("300 kg"));
        assert_eq!(spelled("660", Unit::Inch).as_deref(), Some("660 lb"));
        assert_eq!(spelled("300 kg", Unit::Inch), None);
    }
}
