//! Writing the unit behind a bare number, so that the text means the same wherever it is read.
//!
//! Nothing is converted: the number stays as typed and only gains its unit. The new text is read back before it is returned, so it always
//! stands for the same length as the old one.

use super::{Length, LengthFault, Reading, Unit, read_length};

/// The text with its unit added, where it is a bare number read by `reading`. `None` where it has a unit, is no length, or is zero in every
/// unit.
pub fn with_unit(text: &str, reading: Reading) -> Option<String> {
    let meant = read_length(text, reading).ok()?;
    if read_in(text, Unit::Millimetre, reading) == read_in(text, Unit::Inch, reading) {
        return None;
    }
    let sign = match reading.unit {
        Unit::Millimetre => " mm",
        Unit::Centimetre => " cm",
        Unit::Metre => " m",
        Unit::Inch => "\"",
        Unit::Foot => "'",
    };
    let spelled = format!("{}{sign}", text.trim());
    [Unit::Millimetre, Unit::Inch]
        .iter()
        .all(|&unit| read_in(&spelled, unit, reading) == Ok(meant))
        .then_some(spelled)
}

fn read_in(text: &str, unit: Unit, reading: Reading) -> Result<Length, LengthFault> {
    read_length(text, Reading { unit, ..reading })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Decimal;

    fn spelled(text: &str, unit: Unit) -> Option<String> {
        let decimal = Decimal::Point;
        with_unit(text, Reading { unit, decimal })
    }

    #[test]
    fn a_bare_number_gains_the_unit_it_was_typed_in_and_keeps_its_digits() {
        for (text, unit, expected) in [
            ("1400", Unit::Millimetre, "1400 mm"),
            (" 1 200 ", Unit::Millimetre, "1 200 mm"),
            ("2.4", Unit::Metre, "2.4 m"),
            ("47 1/4", Unit::Inch, "47 1/4\""),
            ("\u{bd}", Unit::Inch, "\u{bd}\""),
            ("5 1/2", Unit::Foot, "5 1/2'"),
        ] {
            assert_eq!(spelled(text, unit).as_deref(), Some(expected));
        }
    }

    #[test]
    fn what_has_its_unit_or_is_no_length_stays_as_it_was_typed() {
        for text in [
            "1400 mm",
            "1m20",
            "3' 11 1/4\"",
            "3' 11",
            "0",
            "",
            "2x4",
            "-5",
        ] {
            assert_eq!(spelled(text, Unit::Inch), None, "{text}");
        }
    }

    #[test]
    fn the_spelled_text_is_the_same_length_in_every_unit() {
        let units = [
            Unit::Millimetre,
            Unit::Centimetre,
            Unit::Metre,
            Unit::Inch,
            Unit::Foot,
        ];
        for unit in units {
            for text in ["1", "7.5", "12 3/8", "5/16", "1 000", "33.33"] {
                let reading = Reading {
                    unit,
                    decimal: Decimal::Point,
                };
                let meant = read_length(text, reading);
                let spelled = with_unit(text, reading).expect("a bare number");
                for unit in units {
                    assert_eq!(read_in(&spelled, unit, reading), meant, "{spelled}");
                }
            }
        }
    }
}
