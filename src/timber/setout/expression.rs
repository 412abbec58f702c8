//! Sizes as people write them: a length, or a small sum that names sizes of other set-outs.
//!
//! `[Bin box] width + 2 x 20` is the width of the set-out called "Bin box" and forty more. A name in brackets says which set-out
//! is meant, the words behind it say which size; words without brackets are a size of the set-out itself. `+` and `-` join
//! lengths, `x` and `/` take a plain number on one side, and `( )` group. Because `50-1/2"` is a length and `1/2` a fraction, a
//! minus and a division stand between spaces; what could still be read two ways is refused. Recursive descent over a list of
//! tokens: each step consumes one, so it ends.

use super::ratio::Ratio;
use super::tokens::{Token, tokens};
use crate::length::{Decimal, Length, LengthFault, Reading, read_length};

pub use super::tokens::Reference;

/// What an expression comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Value {
    /// A plain number, which is a length in the unit of the job where a length is wanted.
    Number(Ratio),
    /// A length, in ticks.
    Length(Ratio),
}

/// Why an expression has no value.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Trouble {
    /// One of its lengths cannot be read.
    Length(String, LengthFault),
    /// It is wrong in itself; the message says how to mend it.
    Wrong(String),
    /// It names a size that is not known because of a fault of its own, which is reported there.
    Waits(String),
}

/// The nesting of brackets that is still followed.
const DEEPEST: usize = 20;

/// Works out an expression. `look_up` gives the sizes it names.
///
/// # Errors
/// What is wrong with the text, or what it waits for.
pub fn evaluate(
    text: &str,
    reading: Reading,
    look_up: &mut dyn FnMut(&Reference) -> Result<Value, Trouble>,
) -> Result<Value, Trouble> {
    let tokens = tokens(text)?;
    if let [Token::Operand(text)] = &tokens[..] {
        let length = read_length(text, reading)
            .map_err(|fault| Trouble::Length(text.trim().to_owned(), fault))?;
        return Ok(Value::Length(Ratio::of(length)));
    }
    let mut parser = Parser {
        tokens: &tokens,
        at: 0,
        depth: 0,
        reading,
        look_up,
    };
    let value = parser.sum()?;
    match parser.tokens.get(parser.at) {
        None => Ok(value),
        Some(Token::Close) => Err(wrong("a ) has no ( before it; take it out")),
        Some(token) => Err(wrong(format!("put + - x or / before {}", token.in_words()))),
    }
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

struct Parser<'a> {
    tokens: &'a [Token],
    at: usize,
    depth: usize,
    reading: Reading,
    look_up: &'a mut dyn FnMut(&Reference) -> Result<Value, Trouble>,
}

impl Parser<'_> {
    fn sum(&mut self) -> Result<Value, Trouble> {
        let mut value = self.product()?;
        while let Some(sign @ (Token::Plus | Token::Minus)) = self.tokens.get(self.at) {
            if *sign == Token::Minus {
                self.refuse_double_reading()?;
            }
            self.at += 1;
            let other = self.product()?;
            value = match (value, other) {
                (Value::Number(one), Value::Number(other)) => {
                    Value::Number(join(sign, one, other)?)
                }
                (one, other) => {
                    let ticks = |value: Value| value.in_ticks(self.reading).ok_or_else(too_large);
                    Value::Length(join(sign, ticks(one)?, ticks(other)?)?)
                }
            };
        }
        Ok(value)
    }

    fn product(&mut self) -> Result<Value, Trouble> {
        let mut value = self.factor()?;
        while let Some(sign @ (Token::Times | Token::Over)) = self.tokens.get(self.at) {
            self.at += 1;
            let other = self.factor()?;
            value = match (sign, value, other) {
                (Token::Times, Value::Length(length), Value::Number(number))
                | (Token::Times, Value::Number(number), Value::Length(length)) => {
                    Value::Length(length.times(number).ok_or_else(too_large)?)
                }
                (Token::Times, Value::Number(one), Value::Number(other)) => {
                    Value::Number(one.times(other).ok_or_else(too_large)?)
                }
                (Token::Times, Value::Length(_), Value::Length(_)) => {
                    return Err(wrong(
                        "two lengths cannot be multiplied; one side of the x is a plain number",
                    ));
                }
                (_, _, Value::Length(_)) => {
                    return Err(wrong(
                        "a size is divided by a plain number only, such as / 2",
                    ));
                }
                (_, _, Value::Number(number)) if number.is_zero() => {
                    return Err(wrong("nothing can be divided by zero"));
                }
                (_, Value::Length(length), Value::Number(number)) => {
                    Value::Length(length.over(number).ok_or_else(too_large)?)
                }
                (_, Value::Number(one), Value::Number(other)) => {
                    Value::Number(one.over(other).ok_or_else(too_large)?)
                }
            };
        }
        Ok(value)
    }

    fn factor(&mut self) -> Result<Value, Trouble> {
        let token = self.tokens.get(self.at).cloned();
        self.at += 1;
        match token {
            Some(Token::Operand(text)) => match number(&text, self.reading.decimal) {
                Some(number) => Ok(Value::Number(number)),
                None => self.length(text),
            },
            Some(Token::Named(reference)) => (self.look_up)(&reference),
            Some(Token::Open) => {
                self.depth += 1;
                if self.depth > DEEPEST {
                    return Err(wrong("too many ( in one size; use fewer"));
                }
                let value = self.sum()?;
                self.depth -= 1;
                if self.tokens.get(self.at) != Some(&Token::Close) {
                    return Err(wrong("a ( has no ) behind it; add one"));
                }
                self.at += 1;
                Ok(value)
            }
            Some(token) => Err(wrong(format!("put a size before {}", token.in_words()))),
            None => Err(wrong("the last sign has nothing behind it; add a size")),
        }
    }

    fn length(&self, text: String) -> Result<Value, Trouble> {
        match read_length(&text, self.reading) {
            Ok(length) => Ok(Value::Length(Ratio::of(length))),
            Err(LengthFault::NotALength(rest)) if rest.starts_with(['-', '/']) => Err(wrong(
                format!("put a space on each side of the sign in \"{text}\""),
            )),
            Err(fault) => Err(Trouble::Length(text, fault)),
        }
    }

    /// `50 - 1/2"` is fifty and a half to one person and fifty less a half to another.
    fn refuse_double_reading(&self) -> Result<(), Trouble> {
        let before = self.at.checked_sub(1).and_then(|at| self.tokens.get(at));
        let (Some(Token::Operand(left)), Some(Token::Operand(right))) =
            (before, self.tokens.get(self.at + 1))
        else {
            return Ok(());
        };
        let bare = left.ends_with(|sign: char| sign.is_ascii_digit());
        let fraction = right
            .split_once('/')
            .is_some_and(|(top, _)| top.bytes().all(|byte| byte.is_ascii_digit()));
        if bare && fraction {
            return Err(wrong(format!(
                "\"{left} - {right}\" can be read two ways; write {left} {right}, or give {left} its unit"
            )));
        }
        Ok(())
    }
}

fn join(sign: &Token, one: Ratio, other: Ratio) -> Result<Ratio, Trouble> {
    let joined = match sign {
        Token::Minus => one.minus(other),
        _ => one.plus(other),
    };
    joined.ok_or_else(too_large)
}

/// A plain number: `2`, `1.5`, `3/4`, `1 1/2`.
pub fn number(text: &str, decimal: Decimal) -> Option<Ratio> {
    let whole = |text: &str| -> Option<i128> {
        let digits = !text.is_empty() && text.len() <= 9;
        (digits && text.bytes().all(|byte| byte.is_ascii_digit()))
            .then(|| text.parse().ok())
            .flatten()
    };
    let text = text.trim();
    if let Some(number) = whole(text) {
        return Ratio::new(number, 1);
    }
    if let Some((before, after)) = text.split_once(decimal.sign()) {
        let scale = 10i128.pow(after.len().min(9) as u32);
        return Ratio::new(whole(before)? * scale + whole(after)?, scale);
    }
    let (before, fraction) = text.rsplit_once(' ').unwrap_or(("0", text));
    let (top, bottom) = fraction.split_once('/')?;
    let bottom = whole(bottom)?;
    Ratio::new(whole(before.trim())? * bottom + whole(top)?, bottom)
}

/// Trouble with the text itself; the message says how to mend it.
pub fn wrong(message: impl Into<String>) -> Trouble {
    Trouble::Wrong(message.into())
}

fn too_large() -> Trouble {
    wrong("this comes to more than can be worked out; check the sizes")
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Unit;

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
        // 1/3 of 600 and twice that: nothing is rounded on the way.
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
