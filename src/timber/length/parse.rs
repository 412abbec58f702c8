//! Reading lengths as people write them.
//!
//! Grammar: one or two terms, the larger unit first. A term is a number and a unit. A number is `1200`, `1 200`, `47.25`, `11/16`, `11 1/4`
//! or `11-1/4`; `½` and similar characters count as fractions. A bare number is in the job's unit; after feet it is in inches. The text is
//! read exactly as a fraction and only then rounded to the nearest tick (1/3 200 mm), which matters only for thirds and thousandths of an
//! inch. A text that can be read two ways is refused with a remedy, never guessed.

use super::{Length, Unit};
use crate::lower::push_lower;
use std::fmt;

/// The decimal sign a job is written with.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Decimal {
    /// `2.4`
    #[default]
    Point,
    /// `2,4`
    Comma,
}

impl Decimal {
    /// The sign itself.
    pub const fn sign(self) -> char {
        match self {
            Decimal::Point => '.',
            Decimal::Comma => ',',
        }
    }
}

/// How bare numbers are read.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub struct Reading {
    /// The unit of a bare number.
    pub unit: Unit,
    /// The decimal sign.
    pub decimal: Decimal,
}

/// The longest length that is read: 1 000 m.
const LONGEST_TICKS: i128 = 1_000 * 3_200_000;

/// Why a text is not a length. Its text says what is wrong and how to mend it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum LengthFault {
    /// Nothing was written.
    Empty,
    /// The text starts as a length and is none from here on.
    NotALength(String),
    /// The decimal sign that the job does not use: `1,200` where a point is used.
    OtherDecimalSign(char),
    /// `4.500 mm`: four and a half millimetres, or four and a half metres?
    ThreeDecimalsOfMillimetres,
    /// A word where a unit should be.
    UnknownUnit(String),
    /// Units that do not go together, or the smaller first.
    UnitsOutOfOrder,
    /// `1m5`: five what?
    LooseNumber,
    /// A fraction with the denominator zero.
    OverZero,
    /// Below zero.
    Negative,
    /// Over 1 000 m.
    TooLong,
    /// More than 18 decimals.
    TooManyDecimals,
}

impl fmt::Display for LengthFault {
    fn fmt(&self, formatter: &mut fmt::Formatter<'_>) -> fmt::Result {
        match self {
            LengthFault::Empty => write!(
                formatter,
                "a length is missing; write one such as 1200, 1.2 m or 47 1/4\""
            ),
            LengthFault::NotALength(rest) => {
                write!(
                    formatter,
                    "cannot read \"{rest}\" in a length; write one such as 1200, 1.2 m, 47 1/4\" or 3' 11 1/4\""
                )
            }
            LengthFault::OtherDecimalSign(',') => write!(
                formatter,
                "a comma can mean thousands or a decimal; write 1200 or 1.2, or set the decimal sign of the piece to a comma"
            ),
            LengthFault::OtherDecimalSign(_) => write!(
                formatter,
                "a point can mean thousands or a decimal here; write 1200 or 1,2, or set the decimal sign of the piece to a point"
            ),
            LengthFault::ThreeDecimalsOfMillimetres => write!(
                formatter,
                "three decimals of a millimetre look like metres; write 4.5 m, 4500 mm or 4.5 mm, whichever you mean"
            ),
            LengthFault::UnknownUnit(word) => {
                write!(
                    formatter,
                    "\"{word}\" is no unit; use mm, cm, m, in (or \") or ft (or ')"
                )
            }
            LengthFault::UnitsOutOfOrder => {
                write!(
                    formatter,
                    "these units do not go together; write the larger first, such as 1 m 200 mm or 3' 11\""
                )
            }
            LengthFault::LooseNumber => {
                write!(
                    formatter,
                    "the last number has no unit; write 1 m 50 mm, 1m05 or 1.05 m, whichever you mean"
                )
            }
            LengthFault::OverZero => write!(formatter, "a fraction over zero is no number"),
            LengthFault::Negative => write!(formatter, "a length cannot be below zero"),
            LengthFault::TooLong => write!(formatter, "longer than 1000 m; check the unit"),
            LengthFault::TooManyDecimals => write!(
                formatter,
                "more than {MOST_DECIMALS} decimals; round it to a hundredth of a millimetre"
            ),
        }
    }
}

impl std::error::Error for LengthFault {}

/// Reads a length.
///
/// # Errors
/// [`LengthFault`] says what is wrong and how to mend it; lengths below zero or over 1 000 m are refused.
pub fn read_length(text: &str, reading: Reading) -> Result<Length, LengthFault> {
    let plain = plain(text);
    let mut rest = plain.trim();
    if rest.is_empty() {
        return Err(LengthFault::Empty);
    }
    if rest.starts_with('-') {
        return Err(LengthFault::Negative);
    }
    let first = Term::read(&mut rest, reading.decimal)?;
    let Some(unit) = first.unit else {
        if !rest.is_empty() {
            return Err(LengthFault::NotALength(rest.to_owned()));
        }
        return first.length(reading.unit);
    };
    let first_length = first.length(unit)?;
    rest = rest.trim_start();
    if unit == Unit::Foot {
        rest = rest.strip_prefix('-').unwrap_or(rest).trim_start();
    }
    if rest.is_empty() {
        return Ok(first_length);
    }
    let digits = rest.len();
    let second = Term::read(&mut rest, reading.decimal)?;
    if !rest.is_empty() {
        return Err(LengthFault::NotALength(rest.to_owned()));
    }
    let smaller = match (unit, second.unit) {
        (Unit::Metre, Some(Unit::Centimetre | Unit::Millimetre))
        | (Unit::Centimetre, Some(Unit::Millimetre)) => second.unit,
        (Unit::Foot, Some(Unit::Inch) | None) => Some(Unit::Inch),
        // 1m20 and 1m200 read one way only; 1m5 does not.
        (Unit::Metre, None) if second.whole && digits == 2 => Some(Unit::Centimetre),
        (Unit::Metre, None) if second.whole && digits == 3 => Some(Unit::Millimetre),
        (Unit::Metre, None) => return Err(LengthFault::LooseNumber),
        _ => None,
    };
    let smaller = smaller.ok_or(LengthFault::UnitsOutOfOrder)?;
    let second_length = second.length(smaller)?;
    if second_length.ticks() >= unit.ticks() || !first.whole {
        return Err(LengthFault::UnitsOutOfOrder);
    }
    Ok(first_length + second_length)
}

/// One number and the unit after it. The number is `top / bottom`.
struct Term {
    top: i128,
    bottom: i128,
    whole: bool,
    decimals: usize,
    unit: Option<Unit>,
}

impl Term {
    fn read(rest: &mut &str, decimal: Decimal) -> Result<Term, LengthFault> {
        let mut term = Term {
            top: 0,
            bottom: 1,
            whole: true,
            decimals: 0,
            unit: None,
        };
        let (first, grouped) = take_grouped(rest)?;
        term.top = first;
        match rest.chars().next() {
            Some(sign @ ('.' | ',')) => {
                if sign != decimal.sign() {
                    return Err(LengthFault::OtherDecimalSign(sign));
                }
                *rest = &rest[1..];
                let before = rest.len();
                let decimals = take_digits(rest, MOST_DECIMALS, LengthFault::TooManyDecimals)?;
                term.decimals = before - rest.len();
                term.bottom = 10i128.pow(term.decimals as u32);
                term.top = first * term.bottom + decimals;
                term.whole = false;
                if let Some(again @ ('.' | ',')) = rest.chars().next() {
                    return Err(LengthFault::OtherDecimalSign(again));
                }
            }
            Some('/') if !grouped => {
                *rest = &rest[1..];
                term.bottom = take_number(rest)?;
                term.whole = false;
            }
            _ => {
                if let Some((top, bottom, after)) = fraction_ahead(rest) {
                    *rest = after;
                    term.top = first * bottom + top;
                    term.bottom = bottom;
                    term.whole = false;
                }
            }
        }
        if term.bottom == 0 {
            return Err(LengthFault::OverZero);
        }
        term.unit = take_unit(rest)?;
        Ok(term)
    }

    fn length(&self, unit: Unit) -> Result<Length, LengthFault> {
        if unit == Unit::Millimetre && self.decimals == 3 {
            return Err(LengthFault::ThreeDecimalsOfMillimetres);
        }
        let top = self.top * i128::from(unit.ticks());
        let ticks = (2 * top + self.bottom) / (2 * self.bottom);
        if ticks > LONGEST_TICKS {
            return Err(LengthFault::TooLong);
        }
        Ok(Length::from_ticks(ticks as i64))
    }
}

/// Most decimals that are read. A script that prints a float prints up to 17; the seventh decimal of a millimetre is already below a tick.
const MOST_DECIMALS: usize = 18;

/// Reads a whole number of at most nine digits and removes it from `rest`.
fn take_number(rest: &mut &str) -> Result<i128, LengthFault> {
    take_digits(rest, 9, LengthFault::TooLong)
}

/// Reads a whole number of at most `most` digits; the fault `more` where there are more digits.
fn take_digits(rest: &mut &str, most: usize, more: LengthFault) -> Result<i128, LengthFault> {
    let end = rest
        .find(|sign: char| !sign.is_ascii_digit())
        .unwrap_or(rest.len());
    let (digits, after) = rest.split_at(end);
    if digits.is_empty() {
        return Err(LengthFault::NotALength(
            if rest.is_empty() { "nothing" } else { rest }.to_owned(),
        ));
    }
    if digits.len() > most {
        return Err(more);
    }
    *rest = after;
    digits.parse().map_err(|_| more)
}

/// Reads a whole number whose thousands may be grouped by a space, `1 200`, and whether they were.
fn take_grouped(rest: &mut &str) -> Result<(i128, bool), LengthFault> {
    let start = *rest;
    let mut number = take_number(rest)?;
    let mut grouped = false;
    if start.len() - rest.len() > 3 {
        return Ok((number, false));
    }
    while let Some(after) = rest.strip_prefix(' ') {
        let digits = after.bytes().take_while(u8::is_ascii_digit).count();
        if digits != 3 || after[3..].trim_start().starts_with('/') || number >= 1_000_000 {
            break;
        }
        let mut group = after;
        number = number * 1_000 + take_number(&mut group)?;
        *rest = group;
        grouped = true;
    }
    Ok((number, grouped))
}

/// A fraction after a whole number, separated by a space or a dash: ` 1/4`, `-1/4`.
fn fraction_ahead(rest: &str) -> Option<(i128, i128, &str)> {
    let mut ahead = rest.trim_start();
    ahead = ahead.strip_prefix('-').unwrap_or(ahead).trim_start();
    if ahead.len() == rest.len() {
        return None;
    }
    let top = take_number(&mut ahead).ok()?;
    ahead = ahead.strip_prefix('/')?;
    let bottom = take_number(&mut ahead).ok()?;
    Some((top, bottom, ahead))
}

fn take_unit(rest: &mut &str) -> Result<Option<Unit>, LengthFault> {
    let text = rest.trim_start();
    for (mark, unit) in [('"', Unit::Inch), ('\'', Unit::Foot)] {
        if let Some(after) = text.strip_prefix(mark) {
            *rest = after;
            return Ok(Some(unit));
        }
    }
    let end = text
        .find(|sign: char| !sign.is_alphabetic())
        .unwrap_or(text.len());
    let (word, after) = text.split_at(end);
    let unit = match word {
        "" => {
            *rest = text;
            return Ok(None);
        }
        "mm" => Unit::Millimetre,
        "cm" => Unit::Centimetre,
        "m" => Unit::Metre,
        "in" | "inch" | "inches" => Unit::Inch,
        "ft" | "foot" | "feet" => Unit::Foot,
        _ => return Err(LengthFault::UnknownUnit(word.to_owned())),
    };
    *rest = after.strip_prefix('.').unwrap_or(after);
    Ok(Some(unit))
}

/// The text in lower case, with one kind of quote, dash, space and slash, and fraction characters written out.
fn plain(text: &str) -> String {
    let mut plain = String::with_capacity(text.len() + 4);
    for sign in text.trim_start_matches('\u{feff}').chars() {
        match sign {
            '\u{2018}' | '\u{2019}' | '\u{2032}' | '`' | '\u{b4}' => plain.push('\''),
            '\u{201c}' | '\u{201d}' | '\u{201e}' | '\u{2033}' => plain.push('"'),
            '\u{2010}'..='\u{2015}' | '\u{2212}' => plain.push('-'),
            '\u{2044}' | '\u{2215}' => plain.push('/'),
            '\u{bc}' => plain.push_str(" 1/4"),
            '\u{bd}' => plain.push_str(" 1/2"),
            '\u{be}' => plain.push_str(" 3/4"),
            '\u{2153}' => plain.push_str(" 1/3"),
            '\u{2154}' => plain.push_str(" 2/3"),
            '\u{215b}' => plain.push_str(" 1/8"),
            '\u{215c}' => plain.push_str(" 3/8"),
            '\u{215d}' => plain.push_str(" 5/8"),
            '\u{215e}' => plain.push_str(" 7/8"),
            sign if sign.is_whitespace() => plain.push(' '),
            sign => push_lower(&mut plain, sign),
        }
    }
    plain.replace("''", "\"")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[track_caller]
    fn reads(text: &str, unit: Unit, expected_ticks: i64) {
        let reading = Reading {
            unit,
            decimal: Decimal::Point,
        };
        assert_eq!(
            read_length(text, reading),
            Ok(Length::from_ticks(expected_ticks)),
            "{text}"
        );
    }

    #[track_caller]
    fn refuses(text: &str, fault: LengthFault) {
        let reading = Reading {
            unit: Unit::Millimetre,
            decimal: Decimal::Point,
        };
        assert_eq!(read_length(text, reading), Err(fault), "{text}");
    }

    #[test]
    fn one_length_reads_the_same_however_it_is_written() {
        for text in [
            "1200",
            "1200 mm",
            "1200mm",
            "1 200",
            "1\u{a0}200 mm",
            "120 cm",
            "1.2 m",
            "1.2m",
            "1.20 M",
            "1m20",
            "1m200",
            "1 m 200 mm",
        ] {
            reads(text, Unit::Millimetre, 1_200 * 3_200);
        }
        reads("1.2", Unit::Metre, 1_200 * 3_200);
    }

    #[test]
    fn what_a_script_writes_of_its_floats_is_read_to_the_nearest_tick() {
        // 131.08 mm are 419 456 ticks; the rest is far less than one.
        reads("131.07999999999998", Unit::Millimetre, 419_456);
        refuses("0.1234567890123456789", LengthFault::TooManyDecimals);
    }

    #[test]
    fn feet_and_inches_read_as_carpenters_write_them() {
        // 4' 2 1/2" = 50 1/2" = 1282.7 mm, from 1 in = 25.4 mm.
        let ticks = 12_827 * 320;
        for text in [
            "4' 2 1/2\"",
            "4'2-1/2\"",
            "4\u{2019} 2\u{bd}\u{201d}",
            "4ft 2.5in",
            "4'-2 1/2\"",
            "50 1/2\"",
            "50-1/2 in",
            "50\u{bd}\"",
            "50.5\"",
            "50.5 inches",
            "4' 2\u{2013}1/2''",
            "1282.7 mm",
        ] {
            reads(text, Unit::Millimetre, ticks);
        }
        // 4' 11 3/8" = 59 3/8", a worked conversion in a published table; arithmetic either way.
        reads("4' 11-3/8\"", Unit::Inch, 59 * 81_280 + 3 * 10_160);
        reads("59 3/8", Unit::Inch, 59 * 81_280 + 3 * 10_160);
        reads("4' 11", Unit::Foot, 59 * 81_280);
        reads("\u{be}\"", Unit::Inch, 60_960);
        reads("8'", Unit::Millimetre, 24_384 * 320);
        reads("1/3\"", Unit::Inch, 27_093);
    }

    #[test]
    fn the_decimal_comma_is_read_where_the_job_says_so() {
        let reading = Reading {
            unit: Unit::Metre,
            decimal: Decimal::Comma,
        };
        assert_eq!(read_length("2,4", reading), Ok(Length::from_mm(2_400)));
        assert_eq!(
            read_length("2.400", reading),
            Err(LengthFault::OtherDecimalSign('.'))
        );
    }

    #[test]
    fn what_reads_two_ways_is_refused_with_a_remedy() {
        refuses("1,200", LengthFault::OtherDecimalSign(','));
        refuses("1,200.5", LengthFault::OtherDecimalSign(','));
        refuses("4.500 mm", LengthFault::ThreeDecimalsOfMillimetres);
        refuses("4.500", LengthFault::ThreeDecimalsOfMillimetres);
        refuses("1m5", LengthFault::LooseNumber);
        refuses("200 mm 1 m", LengthFault::UnitsOutOfOrder);
        refuses("1.5 m 20 cm", LengthFault::UnitsOutOfOrder);
        refuses("3' 14\"", LengthFault::UnitsOutOfOrder);
        for fault in [
            LengthFault::OtherDecimalSign(','),
            LengthFault::LooseNumber,
            LengthFault::ThreeDecimalsOfMillimetres,
        ] {
            assert!(fault.to_string().contains("write"), "{fault}");
        }
    }

    #[test]
    fn nonsense_is_refused() {
        refuses("", LengthFault::Empty);
        refuses("  ", LengthFault::Empty);
        refuses("-5", LengthFault::Negative);
        refuses("1/0\"", LengthFault::OverZero);
        refuses("12 yards", LengthFault::UnknownUnit("yards".into()));
        refuses("1200 x", LengthFault::UnknownUnit("x".into()));
        refuses("2000 m", LengthFault::TooLong);
        refuses("99999999999", LengthFault::TooLong);
        refuses("1 20", LengthFault::NotALength("20".into()));
        refuses("12 mm 5", LengthFault::UnitsOutOfOrder);
    }
}
