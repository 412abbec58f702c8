//! The value of an expression.
//!
//! Everything is exact: only the final length is rounded. The tree is walked once, so evaluation ends.

use super::expression::{Expression, Join, Scale, parse};
use super::ratio::Ratio;
use super::tokens::Reference;
use super::trouble::{Trouble, wrong};
use crate::length::{Length, LengthFault, Reading, read_length};

/// The value of an expression.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Value {
    /// A plain number; where a length is wanted, it is in the unit of the job.
    Number(Ratio),
    /// A length, in ticks.
    Length(Ratio),
}

impl Value {
    /// The length this is, to the nearest tick; a plain number is in the unit of the job.
    pub fn length(self, reading: Reading) -> Option<Length> {
        let ticks = self.in_ticks(reading)?.nearest();
        i64::try_from(ticks).ok().map(Length::from_ticks)
    }

    fn in_ticks(self, reading: Reading) -> Option<Ratio> {
        match self {
            Value::Length(ticks) => Some(ticks),
            Value::Number(number) => {
                number.times(Ratio::of(Length::from_ticks(reading.unit.ticks())))
            }
        }
    }
}

/// Evaluates an expression. `look_up` returns the sizes that it names.
///
/// # Errors
/// What is wrong with the text, or the name of a size that has a fault itself.
pub fn evaluate(
    text: &str,
    reading: Reading,
    look_up: &mut dyn FnMut(&Reference) -> Result<Value, Trouble>,
) -> Result<Value, Trouble> {
    match &parse(text, reading.decimal)? {
        // A number alone, without any bracket, is read as a length, and its faults are those of a length.
        Expression::Number(alone, _) | Expression::Length(alone) if !text.contains('(') => {
            let length = read_length(alone, reading)
                .map_err(|fault| Trouble::Length(alone.trim().to_owned(), fault))?;
            Ok(Value::Length(Ratio::of(length)))
        }
        expression => Evaluator { reading, look_up }.value(expression),
    }
}

struct Evaluator<'a> {
    reading: Reading,
    look_up: &'a mut dyn FnMut(&Reference) -> Result<Value, Trouble>,
}

impl Evaluator<'_> {
    fn value(&mut self, expression: &Expression) -> Result<Value, Trouble> {
        match expression {
            Expression::Number(_, number) => Ok(Value::Number(*number)),
            Expression::Length(text) => self.length(text),
            Expression::Named(reference) => (self.look_up)(reference),
            Expression::Sum(terms) => self.sum(terms),
            Expression::Product(factors) => self.product(factors),
        }
    }

    fn sum(&mut self, terms: &[(Join, Expression)]) -> Result<Value, Trouble> {
        let mut value = None;
        for (join, term) in terms {
            let other = self.value(term)?;
            value = Some(match value {
                None => other,
                Some(value) => self.joined(value, *join, other)?,
            });
        }
        value.ok_or_else(too_large)
    }

    fn joined(&self, one: Value, join: Join, other: Value) -> Result<Value, Trouble> {
        let of = |one: Ratio, other: Ratio| {
            let joined = match join {
                Join::Plus => one.plus(other),
                Join::Minus => one.minus(other),
            };
            joined.ok_or_else(too_large)
        };
        if let (Value::Number(one), Value::Number(other)) = (one, other) {
            return Ok(Value::Number(of(one, other)?));
        }
        let ticks = |value: Value| value.in_ticks(self.reading).ok_or_else(too_large);
        Ok(Value::Length(of(ticks(one)?, ticks(other)?)?))
    }

    fn product(&mut self, factors: &[(Scale, Expression)]) -> Result<Value, Trouble> {
        let mut value = None;
        for (scale, factor) in factors {
            let other = self.value(factor)?;
            value = Some(match value {
                None => other,
                Some(value) => scaled(value, *scale, other)?,
            });
        }
        value.ok_or_else(too_large)
    }

    fn length(&self, text: &str) -> Result<Value, Trouble> {
        match read_length(text, self.reading) {
            Ok(length) => Ok(Value::Length(Ratio::of(length))),
            Err(LengthFault::NotALength(rest)) if rest.starts_with(['-', '/']) => Err(wrong(
                format!("put a space on each side of the sign in \"{text}\""),
            )),
            Err(fault) => Err(Trouble::Length(text.to_owned(), fault)),
        }
    }
}

fn scaled(value: Value, scale: Scale, other: Value) -> Result<Value, Trouble> {
    let known = |ratio: Option<Ratio>| ratio.ok_or_else(too_large);
    Ok(match (scale, value, other) {
        (Scale::Times, Value::Length(length), Value::Number(number))
        | (Scale::Times, Value::Number(number), Value::Length(length)) => {
            Value::Length(known(length.times(number))?)
        }
        (Scale::Times, Value::Number(one), Value::Number(other)) => {
            Value::Number(known(one.times(other))?)
        }
        (Scale::Times, Value::Length(_), Value::Length(_)) => {
            return Err(wrong(
                "two lengths cannot be multiplied; one side of the x is a plain number",
            ));
        }
        (Scale::Over, _, Value::Length(_)) => {
            return Err(wrong(
                "a size is divided by a plain number only, such as / 2",
            ));
        }
        (Scale::Over, _, Value::Number(number)) if number.is_zero() => {
            return Err(wrong("nothing can be divided by zero"));
        }
        (Scale::Over, Value::Length(length), Value::Number(number)) => {
            Value::Length(known(length.over(number))?)
        }
        (Scale::Over, Value::Number(one), Value::Number(other)) => {
            Value::Number(known(one.over(other))?)
        }
    })
}

fn too_large() -> Trouble {
    wrong("this comes to more than can be worked out; check the sizes")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::{Decimal, Unit};

    fn known(reference: &Reference) -> Result<Value, Trouble> {
        match (reference.set_out.as_deref(), reference.size.as_str()) {
            (Some("Bin box"), "width") => Ok(Value::Length(Ratio::of(Length::from_mm(600)))),
            (None, "clear height") => Ok(Value::Length(Ratio::of(Length::from_mm(90)))),
            _ => Err(Trouble::Waits(reference.size.clone())),
        }
    }

    fn value(text: &str, unit: Unit) -> Result<Option<Length>, Trouble> {
        let reading = Reading {
            unit,
            decimal: Decimal::Point,
        };
        evaluate(text, reading, &mut known).map(|value| value.length(reading))
    }

    #[track_caller]
    fn comes_to(text: &str, mm: i64) {
        assert_eq!(
            value(text, Unit::Millimetre),
            Ok(Some(Length::from_mm(mm))),
            "{text}"
        );
    }

    #[test]
    fn sums_follow_named_sizes() {
        comes_to("1200", 1_200);
        comes_to("[Bin box] width + 2 x 20", 640);
        comes_to("[Bin box] width+2x20", 640);
        comes_to("[Bin box] width-40", 560);
        comes_to("[Bin box] width/2", 300);
        comes_to("2 x ([Bin box] width - 45 mm) / 3", 370);
        comes_to("clear height \u{2212} 10", 80);
        comes_to("clear height x 1/2", 45);
        comes_to("1.5 x 20 mm", 30);
        comes_to("1 m - 40", 960);
        comes_to("100 x 3", 300);
        // 1/3 of 600, and that twice: nothing is rounded in between.
        comes_to("[Bin box] width / 7 x 7", 600);
    }

    #[test]
    fn fractions_and_dashes_of_a_tape_stay_lengths() {
        let half = Length::from_inch_64ths(50 * 64 + 32);
        assert_eq!(value("50-1/2\"", Unit::Inch), Ok(Some(half)));
        assert_eq!(value("50 1/2", Unit::Inch), Ok(Some(half)));
        assert_eq!(
            value("50 1/2 + 1/2", Unit::Inch),
            Ok(Some(Length::from_inch_64ths(51 * 64)))
        );
        assert_eq!(
            value("51\" - 1/2\"", Unit::Inch),
            Ok(Some(half)),
            "a unit settles it"
        );
    }

    #[track_caller]
    fn refused(text: &str, words: &str) {
        match value(text, Unit::Millimetre) {
            Err(Trouble::Wrong(message)) => assert!(message.contains(words), "{text}: {message}"),
            other => panic!("{text}: {other:?}"),
        }
    }

    #[test]
    fn what_makes_no_sense_is_refused_with_a_remedy() {
        refused("50 - 1/2", "two ways");
        refused("1200-40 + 5", "space on each side");
        refused("[Bin box] width x [Bin box] width", "plain number");
        refused("20 / [Bin box] width", "plain number");
        refused("[Bin box] width / 0", "zero");
        refused("[Bin box]", "which size");
        refused("[Bin box width", "no ]");
        refused("(20 + 30", "no )");
        refused("20 + 30)", "no (");
        refused("20 +", "nothing behind");
        refused("+ 20", "before the +");
        refused("2 [Bin box] width", "put + - x or /");
        let deep = "(".repeat(40) + "1";
        refused(&deep, "too many (");
    }

    #[test]
    fn a_single_length_keeps_its_own_faults() {
        assert_eq!(
            value("1,200", Unit::Millimetre),
            Err(Trouble::Length(
                "1,200".into(),
                LengthFault::OtherDecimalSign(',')
            ))
        );
        assert_eq!(
            value("", Unit::Millimetre),
            Err(Trouble::Length(String::new(), LengthFault::Empty))
        );
    }
}
