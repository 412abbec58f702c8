//! Writing the units into an expression, so that it comes to the same size whatever unit the job is in.
//!
//! A number in an expression is either a length or a plain factor, and which of them follows from where it stands: what is
//! added to a length is one, what multiplies a length is not. The expression is read into a small tree, every number that stands
//! for a length gains its unit, and the tree is written out again. A product of plain numbers alone needs the unit once: it goes to
//! the last number that is multiplied, or, where only names are, to a factor of one. The tree is no deeper than its brackets, which are
//! bounded, so the recursion ends.

use super::expression::number;
use super::tokens::{Reference, Token, tokens};
use crate::length::{Reading, with_unit};

/// The nesting of brackets that is still followed.
const DEEPEST: usize = 20;

/// The expression with the unit behind every number that stands for a length; `None` where there is no such number, or where
/// it cannot be read. `is_count` says whether a named size is a plain number.
pub fn with_units(
    text: &str,
    reading: Reading,
    is_count: &dyn Fn(&Reference) -> bool,
) -> Option<String> {
    let tokens = tokens(text).ok()?;
    if let [Token::Operand(text)] = &tokens[..] {
        return with_unit(text, reading);
    }
    let mut parser = Parser {
        tokens: &tokens,
        at: 0,
        depth: 0,
        reading,
        is_count,
    };
    let tree = parser.sum()?;
    if parser.at < tokens.len() {
        return None;
    }
    let before = tree.text();
    let after = tree.spelled(reading).text();
    (after != before).then_some(after)
}

/// What a piece of an expression comes to.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Comes {
    Number,
    Length,
}

#[derive(Clone, Debug)]
enum Tree {
    /// A number, a length or a named size, as it is written.
    Leaf(String, Comes),
    /// Pieces with the sign before each; that of the first is not written.
    Sum(Vec<(Token, Tree)>),
    /// The same of a product.
    Product(Vec<(Token, Tree)>),
}

impl Tree {
    fn comes(&self) -> Comes {
        match self {
            Tree::Leaf(_, comes) => *comes,
            Tree::Sum(pieces) | Tree::Product(pieces) => {
                let any = pieces
                    .iter()
                    .any(|(_, piece)| piece.comes() == Comes::Length);
                if any { Comes::Length } else { Comes::Number }
            }
        }
    }

    /// This piece where a length is wanted, with its units.
    fn spelled(self, reading: Reading) -> Tree {
        match self {
            Tree::Leaf(text, comes) => match with_unit(&text, reading) {
                Some(spelled) => Tree::Leaf(spelled, Comes::Length),
                // A number without a unit of its own is nothing, which is nothing in every unit, or a name.
                None if comes == Comes::Number && number(&text, reading.decimal).is_none() => {
                    once(vec![(Token::Times, Tree::Leaf(text, comes))], reading)
                }
                None => Tree::Leaf(text, comes),
            },
            Tree::Sum(pieces) => Tree::Sum(
                pieces
                    .into_iter()
                    .map(|(sign, piece)| (sign, piece.spelled(reading)))
                    .collect(),
            ),
            Tree::Product(mut pieces) => {
                let length = pieces
                    .iter()
                    .position(|(_, piece)| piece.comes() == Comes::Length);
                let chosen = length.or_else(|| {
                    pieces
                        .iter()
                        .rposition(|(sign, piece)| *sign == Token::Times && piece.can_take(reading))
                });
                match chosen {
                    Some(at) => {
                        let (sign, piece) = pieces.remove(at);
                        pieces.insert(at, (sign, piece.spelled(reading)));
                        Tree::Product(pieces)
                    }
                    None => once(pieces, reading),
                }
            }
        }
    }

    /// Whether a unit may be written into this piece.
    fn can_take(&self, reading: Reading) -> bool {
        match self {
            Tree::Leaf(text, _) => with_unit(text, reading).is_some(),
            Tree::Sum(_) => true,
            Tree::Product(_) => false,
        }
    }

    fn text(&self) -> String {
        match self {
            Tree::Leaf(text, _) => text.clone(),
            Tree::Sum(pieces) | Tree::Product(pieces) => {
                let mut text = String::new();
                for (position, (sign, piece)) in pieces.iter().enumerate() {
                    if position > 0 {
                        text.push_str(match sign {
                            Token::Plus => " + ",
                            Token::Minus => " - ",
                            Token::Over => " / ",
                            _ => " x ",
                        });
                    }
                    let inner = piece.text();
                    let bracketed = matches!(piece, Tree::Sum(_))
                        || (matches!(piece, Tree::Product(_)) && matches!(self, Tree::Product(_)));
                    text.push_str(&if bracketed {
                        format!("({inner})")
                    } else {
                        inner
                    });
                }
                text
            }
        }
    }
}

/// A product of names alone, made a length by a factor of one.
fn once(mut pieces: Vec<(Token, Tree)>, reading: Reading) -> Tree {
    if let Some(one) = with_unit("1", reading) {
        pieces.push((Token::Times, Tree::Leaf(one, Comes::Length)));
    }
    Tree::Product(pieces)
}

struct Parser<'a> {
    tokens: &'a [Token],
    at: usize,
    depth: usize,
    reading: Reading,
    is_count: &'a dyn Fn(&Reference) -> bool,
}

impl Parser<'_> {
    fn sum(&mut self) -> Option<Tree> {
        let mut pieces = vec![(Token::Plus, self.product()?)];
        while let Some(sign @ (Token::Plus | Token::Minus)) = self.tokens.get(self.at) {
            self.at += 1;
            pieces.push((sign.clone(), self.product()?));
        }
        Some(alone_or(pieces, Tree::Sum))
    }

    fn product(&mut self) -> Option<Tree> {
        let mut pieces = vec![(Token::Times, self.factor()?)];
        while let Some(sign @ (Token::Times | Token::Over)) = self.tokens.get(self.at) {
            self.at += 1;
            pieces.push((sign.clone(), self.factor()?));
        }
        Some(alone_or(pieces, Tree::Product))
    }

    fn factor(&mut self) -> Option<Tree> {
        let token = self.tokens.get(self.at)?;
        self.at += 1;
        match token {
            Token::Operand(text) => {
                let plain = number(text, self.reading.decimal).is_some();
                let comes = if plain { Comes::Number } else { Comes::Length };
                Some(Tree::Leaf(text.clone(), comes))
            }
            Token::Named(name) => {
                let comes = if (self.is_count)(name) {
                    Comes::Number
                } else {
                    Comes::Length
                };
                let text = match &name.set_out {
                    Some(set_out) => format!("[{set_out}] {}", name.size),
                    None => name.size.clone(),
                };
                Some(Tree::Leaf(text, comes))
            }
            Token::Open => {
                self.depth += 1;
                if self.depth > DEEPEST {
                    return None;
                }
                let tree = self.sum()?;
                self.depth -= 1;
                self.at += 1;
                (self.tokens.get(self.at - 1) == Some(&Token::Close)).then_some(tree)
            }
            _ => None,
        }
    }
}

fn alone_or(mut pieces: Vec<(Token, Tree)>, many: fn(Vec<(Token, Tree)>) -> Tree) -> Tree {
    match pieces.len() {
        1 => pieces.remove(0).1,
        _ => many(pieces),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::{Decimal, Length, Unit};
    use crate::setout::expression::{Trouble, Value, evaluate};
    use crate::setout::ratio::Ratio;

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
