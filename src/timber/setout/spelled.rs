//! Adds units to an expression, so that it has the same value whatever unit the job is in.
//!
//! A number in an expression is either a length or a plain factor, and its place decides which: what is added to a length is a length, what
//! multiplies a length is not. Every number that is a length gains its unit, and the tree is written out again. A product of plain numbers
//! needs the unit once. It goes to the last number that is multiplied, or to an added factor of one where there are only names. The tree is
//! no deeper than its brackets, whose nesting is limited, so the recursion ends.
//! to a factor of one. The tree is no deeper than its brackets, which are bounded, so the recursion ends.

use super::expression::{Expression, Join, Scale, parse};
use super::tokens::Reference;
use crate::length::{Reading, with_unit};

/// The expression with a unit after every number that is a length; `None` where there is no such number, or where the expression cannot be
/// read. `is_count` says whether a named size is a plain number.
pub fn with_units(
    text: &str,
    reading: Reading,
    is_count: &dyn Fn(&Reference) -> bool,
) -> Option<String> {
    let tree = parse(text, reading.decimal).ok()?;
    if let Expression::Number(alone, _) | Expression::Length(alone) = &tree
        && !text.contains('(')
    {
        return with_unit(alone, reading);
    }
    let before = written(&tree);
    let after = written(&Speller { reading, is_count }.spelled(tree));
    (after != before).then_some(after)
}

struct Speller<'a> {
    reading: Reading,
    is_count: &'a dyn Fn(&Reference) -> bool,
}

impl Speller<'_> {
    /// Whether the value of an expression is a length rather than a plain number.
    fn is_length(&self, piece: &Expression) -> bool {
        match piece {
            Expression::Number(..) => false,
            Expression::Length(_) => true,
            Expression::Named(name) => !(self.is_count)(name),
            Expression::Sum(terms) => terms.iter().any(|(_, term)| self.is_length(term)),
            Expression::Product(factors) => factors.iter().any(|(_, one)| self.is_length(one)),
        }
    }

    /// An expression of which a length is wanted, with its units.
    fn spelled(&self, piece: Expression) -> Expression {
        match piece {
            Expression::Number(text, _) | Expression::Length(text) => {
                Expression::Length(with_unit(&text, self.reading).unwrap_or(text))
            }
            Expression::Named(_) if self.is_length(&piece) => piece,
            Expression::Named(_) => self.once(vec![(Scale::Times, piece)]),
            Expression::Sum(terms) => {
                let terms = terms.into_iter();
                Expression::Sum(
                    terms
                        .map(|(join, term)| (join, self.spelled(term)))
                        .collect(),
                )
            }
            Expression::Product(mut factors) => {
                let length = factors.iter().position(|(_, one)| self.is_length(one));
                let chosen = length.or_else(|| {
                    let takes = |(scale, one): &(Scale, Expression)| {
                        *scale == Scale::Times && self.can_take(one)
                    };
                    factors.iter().rposition(takes)
                });
                match chosen {
                    Some(at) => {
                        let (scale, factor) = factors.remove(at);
                        factors.insert(at, (scale, self.spelled(factor)));
                        Expression::Product(factors)
                    }
                    None => self.once(factors),
                }
            }
        }
    }

    /// Whether a unit may be added to an expression.
    fn can_take(&self, piece: &Expression) -> bool {
        match piece {
            Expression::Number(text, _) | Expression::Length(text) => {
                with_unit(text, self.reading).is_some()
            }
            Expression::Named(_) | Expression::Product(_) => false,
            Expression::Sum(_) => true,
        }
    }

    /// A product of names alone, made a length by a factor of one with a unit.
    fn once(&self, mut factors: Vec<(Scale, Expression)>) -> Expression {
        if let Some(one) = with_unit("1", self.reading) {
            factors.push((Scale::Times, Expression::Length(one)));
        }
        Expression::Product(factors)
    }
}

/// An expression as text.
fn written(piece: &Expression) -> String {
    match piece {
        Expression::Number(text, _) | Expression::Length(text) => text.clone(),
        Expression::Named(name) => match &name.set_out {
            Some(set_out) => format!("[{set_out}] {}", name.size),
            None => name.size.clone(),
        },
        Expression::Sum(terms) => joined(terms.iter().map(|(join, term)| {
            let sign = match join {
                Join::Plus => " + ",
                Join::Minus => " - ",
            };
            (sign, bracketed(term, matches!(term, Expression::Sum(_))))
        })),
        Expression::Product(factors) => joined(factors.iter().map(|(scale, factor)| {
            let sign = match scale {
                Scale::Times => " x ",
                Scale::Over => " / ",
            };
            let grouped = matches!(factor, Expression::Sum(_) | Expression::Product(_));
            (sign, bracketed(factor, grouped))
        })),
    }
}

fn bracketed(piece: &Expression, grouped: bool) -> String {
    match grouped {
        true => format!("({})", written(piece)),
        false => written(piece),
    }
}

/// Texts joined by the signs between them; the sign of the first is left out.
fn joined(pieces: impl Iterator<Item = (&'static str, String)>) -> String {
    let mut text = String::new();
    for (position, (sign, piece)) in pieces.enumerate() {
        if position > 0 {
            text.push_str(sign);
        }
        text.push_str(&piece);
    }
    text
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::{Decimal, Length, Unit};
    use crate::setout::evaluate::{Value, evaluate};
    use crate::setout::ratio::Ratio;
    use crate::setout::trouble::Trouble;

    fn is_count(name: &Reference) -> bool {
        name.size == "boards"
    }

    fn known(name: &Reference) -> Result<Value, Trouble> {
        if is_count(name) {
            return Ratio::new(7, 1)
                .map(Value::Number)
                .ok_or(Trouble::Waits(String::new()));
        }
        Ok(Value::Length(Ratio::of(Length::from_mm(600))))
    }

    fn in_unit(unit: Unit) -> Reading {
        Reading {
            unit,
            decimal: Decimal::Point,
        }
    }

    fn value(text: &str, unit: Unit) -> Option<Length> {
        let value = evaluate(text, in_unit(unit), &mut known).ok()?;
        value.length(in_unit(unit))
    }

    #[test]
    fn numbers_that_stand_for_lengths_gain_their_unit_and_plain_factors_do_not() {
        for (text, expected) in [
            ("1400", "1400 mm"),
            ("[Bin box] width + 2 x 20", "[Bin box] width + 2 x 20 mm"),
            ("[Bin box] width / 2 - 15", "[Bin box] width / 2 - 15 mm"),
            ("(10 + 20) x 3", "(10 + 20) x 3 mm"),
            (
                "2 x ([Bin box] width - 40)",
                "2 x ([Bin box] width - 40 mm)",
            ),
            ("[Lid] boards x 95", "[Lid] boards x 95 mm"),
            (
                "[Lid] boards x [Lid] boards",
                "[Lid] boards x [Lid] boards x 1 mm",
            ),
            ("900 / 2", "900 mm / 2"),
            ("1 200 + 30", "1 200 mm + 30 mm"),
        ] {
            let spelled = with_units(text, in_unit(Unit::Millimetre), &is_count);
            assert_eq!(spelled.as_deref(), Some(expected));
        }
    }

    #[test]
    fn an_expression_that_has_its_units_or_cannot_be_read_stays_as_it_was_typed() {
        for text in [
            "[Bin box] width",
            "[Bin box] width / 2",
            "2 x 20 mm",
            "[Bin box] width + 0",
            "[Bin box] width + 2 in",
            "(10 + 20",
            "10 +",
        ] {
            assert_eq!(
                with_units(text, in_unit(Unit::Millimetre), &is_count),
                None,
                "{text}"
            );
        }
    }

    #[test]
    fn a_spelled_expression_comes_to_the_same_in_every_unit() {
        let texts = [
            "[Bin box] width + 2 x 20",
            "(10 + 20) x 3 / 4",
            "3 x (2 x (5 + [Lid] boards) + 1)",
            "[Lid] boards x [Lid] boards - 3",
            "[Lid] boards",
            "width - 2 x (9 + 1/2) / 3",
            "12 / 5 x 2 x (1 + 1)",
        ];
        let units = [Unit::Millimetre, Unit::Inch, Unit::Foot];
        for text in texts {
            for unit in units {
                let meant = value(text, unit);
                assert!(meant.is_some(), "{text}");
                let spelled = with_units(text, in_unit(unit), &is_count).expect("bare numbers");
                for other in units {
                    assert_eq!(value(&spelled, other), meant, "{spelled}");
                }
            }
        }
    }
}
