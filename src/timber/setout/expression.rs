//! Sizes as people write them: a length, or a small sum that names sizes of other set-outs.
//!
//! `[Bin box] width + 2 x 20` is the width of the set-out called "Bin box" plus forty. The name in brackets says which set-out, the words
//! after it which size; words without brackets name a size of the set-out itself. `+` and `-` join lengths, `x` and `/` take a plain number
//! on at least one side, and `( )` group. Because `50-1/2"` is a length and `1/2` a fraction, a minus and a division need spaces around
//! them. An expression that could still be read two ways is refused.
//!
//! A text is parsed into a tree once, here; `evaluate` computes its value and `spelled` adds its units. The parser is a recursive descent
//! over a list of tokens. Each step consumes a token and the nesting of brackets is limited, so it ends, and the tree is no deeper.

use super::ratio::Ratio;
use super::tokens::{Reference, Token, tokens};
use super::trouble::{Trouble, wrong};
use crate::length::Decimal;

/// The deepest nesting of brackets that is read.
const DEEPEST: usize = 20;

/// A size as it is typed, parsed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Expression {
    /// A plain number: its text and its value.
    Number(String, Ratio),
    /// A length as typed; whether it can be read is found out by `evaluate`.
    Length(String),
    /// A size of this set-out or of another.
    Named(Reference),
    /// Terms, each with the sign before it; the sign of the first is not written.
    Sum(Vec<(Join, Expression)>),
    /// Factors, each with the sign before it; the sign of the first is not written.
    Product(Vec<(Scale, Expression)>),
}

/// How a term is joined to those before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Join {
    /// `+`
    Plus,
    /// `-`
    Minus,
}

/// How a factor is applied to those before it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Scale {
    /// `x`
    Times,
    /// `/`
    Over,
}

/// Reads an expression.
///
/// # Errors
/// What is wrong with the text in itself, and how to mend it.
pub fn parse(text: &str, decimal: Decimal) -> Result<Expression, Trouble> {
    let tokens = tokens(text)?;
    let mut parser = Parser {
        tokens: &tokens,
        at: 0,
        depth: 0,
        decimal,
    };
    let expression = parser.sum()?;
    match parser.tokens.get(parser.at) {
        None => Ok(expression),
        Some(Token::Close) => Err(wrong("a ) has no ( before it; take it out")),
        Some(token) => Err(wrong(format!("put + - x or / before {}", token.in_words()))),
    }
}

struct Parser<'a> {
    tokens: &'a [Token],
    at: usize,
    depth: usize,
    decimal: Decimal,
}

impl Parser<'_> {
    fn sum(&mut self) -> Result<Expression, Trouble> {
        let mut terms = vec![(Join::Plus, self.product()?)];
        loop {
            let join = match self.tokens.get(self.at) {
                Some(Token::Plus) => Join::Plus,
                Some(Token::Minus) => Join::Minus,
                _ => return Ok(alone_or(terms, Expression::Sum)),
            };
            if join == Join::Minus {
                self.refuse_double_reading()?;
            }
            self.at += 1;
            terms.push((join, self.product()?));
        }
    }

    fn product(&mut self) -> Result<Expression, Trouble> {
        let mut factors = vec![(Scale::Times, self.factor()?)];
        loop {
            let scale = match self.tokens.get(self.at) {
                Some(Token::Times) => Scale::Times,
                Some(Token::Over) => Scale::Over,
                _ => return Ok(alone_or(factors, Expression::Product)),
            };
            self.at += 1;
            factors.push((scale, self.factor()?));
        }
    }

    fn factor(&mut self) -> Result<Expression, Trouble> {
        let token = self.tokens.get(self.at).cloned();
        self.at += 1;
        match token {
            Some(Token::Operand(text)) => Ok(match number(&text, self.decimal) {
                Some(number) => Expression::Number(text, number),
                None => Expression::Length(text),
            }),
            Some(Token::Named(reference)) => Ok(Expression::Named(reference)),
            Some(Token::Open) => {
                self.depth += 1;
                if self.depth > DEEPEST {
                    return Err(wrong("too many ( in one size; use fewer"));
                }
                let inner = self.sum()?;
                self.depth -= 1;
                if self.tokens.get(self.at) != Some(&Token::Close) {
                    return Err(wrong("a ( has no ) behind it; add one"));
                }
                self.at += 1;
                Ok(inner)
            }
            Some(token) => Err(wrong(format!("put a size before {}", token.in_words()))),
            None => Err(wrong("the last sign has nothing behind it; add a size")),
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

/// A sum or a product of a single operand is that operand.
fn alone_or<Sign>(
    mut pieces: Vec<(Sign, Expression)>,
    many: fn(Vec<(Sign, Expression)>) -> Expression,
) -> Expression {
    match pieces.len() {
        1 => pieces.remove(0).1,
        _ => many(pieces),
    }
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
