//! The tokens of an expression: which characters are operators, and which belong to a length or a name.
//!
//! A tape writes `50-1/2"` and `1/2`. So a minus or a division needs spaces around it, or follows a name, after which no length goes on.
//! Every pass of the loop consumes at least one character, so it ends.

use super::trouble::{Trouble, wrong};

/// The most tokens in one expression.
const LONGEST: usize = 200;

/// A size that is named in an expression.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reference {
    /// The set-out, `None` for the one the expression stands in.
    pub set_out: Option<String>,
    /// The size.
    pub size: String,
}

/// A sign, a length or number as written, or a named size.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Token {
    /// `+`
    Plus,
    /// `-`
    Minus,
    /// `x`
    Times,
    /// `/`
    Over,
    /// `(`
    Open,
    /// `)`
    Close,
    /// A length or a number.
    Operand(String),
    /// A named size.
    Named(Reference),
}

impl Token {
    /// How a message names it.
    pub fn in_words(&self) -> String {
        match self {
            Token::Plus => "the +".into(),
            Token::Minus => "the -".into(),
            Token::Times => "the x".into(),
            Token::Over => "the /".into(),
            Token::Open => "the (".into(),
            Token::Close => "the )".into(),
            Token::Operand(text) => format!("\"{}\"", text.trim()),
            Token::Named(name) => match &name.set_out {
                Some(set_out) => format!("\"[{set_out}] {}\"", name.size),
                None => format!("\"{}\"", name.size),
            },
        }
    }
}

/// Splits an expression into tokens; at least one.
pub fn tokens(text: &str) -> Result<Vec<Token>, Trouble> {
    let signs: Vec<char> = text.chars().collect();
    let mut tokens = Vec::new();
    let mut operand = String::new();
    let mut at = 0;
    while at < signs.len() {
        let sign = signs[at];
        if sign == '[' {
            flush(&mut operand, &mut tokens);
            let end = signs[at..]
                .iter()
                .position(|&sign| sign == ']')
                .ok_or_else(|| wrong("a [ has no ] behind it; write [Name] and then the size"))?;
            let name: String = signs[at + 1..at + end].iter().collect();
            at += end + 1;
            let size = size_words(&signs, &mut at);
            if size.is_empty() {
                return Err(wrong(format!(
                    "say which size of \"{0}\" is meant, such as [{0}] width",
                    name.trim()
                )));
            }
            tokens.push(Token::Named(Reference {
                set_out: Some(name.trim().to_owned()),
                size,
            }));
        } else if operand.trim().is_empty()
            && sign.is_alphabetic()
            && operator(&signs, at).is_none()
        {
            operand.clear();
            let size = size_words(&signs, &mut at);
            tokens.push(Token::Named(Reference {
                set_out: None,
                size,
            }));
        } else if let Some(token) = operator(&signs, at) {
            flush(&mut operand, &mut tokens);
            tokens.push(token);
            at += 1;
        } else {
            operand.push(sign);
            at += 1;
        }
        if tokens.len() > LONGEST {
            return Err(wrong("this is too long to work out; use fewer sizes"));
        }
    }
    flush(&mut operand, &mut tokens);
    if tokens.is_empty() {
        tokens.push(Token::Operand(String::new()));
    }
    Ok(tokens)
}

fn flush(operand: &mut String, tokens: &mut Vec<Token>) {
    if !operand.trim().is_empty() {
        tokens.push(Token::Operand(operand.trim().to_owned()));
    }
    operand.clear();
}

/// Reads the words of a size: letters and what is between them, up to a character that no size contains.
fn size_words(signs: &[char], at: &mut usize) -> String {
    let mut words = String::new();
    while let Some(&sign) = signs.get(*at) {
        let ends = matches!(sign, '[' | ']' | '/') || is_dash(sign);
        if ends || operator(signs, *at).is_some() {
            break;
        }
        words.push(sign);
        *at += 1;
    }
    words.trim().to_owned()
}

const fn is_dash(sign: char) -> bool {
    matches!(sign, '-' | '\u{2010}'..='\u{2015}' | '\u{2212}')
}

/// The operator at an index, where the character there is one and not part of a length.
fn operator(signs: &[char], at: usize) -> Option<Token> {
    let before = at.checked_sub(1).map(|before| signs[before]);
    let after = signs.get(at + 1).copied();
    let open_before = before.is_none_or(|sign| sign.is_whitespace() || matches!(sign, ')' | ']'));
    let open_after = after.is_none_or(|sign| sign.is_whitespace() || matches!(sign, '(' | '['));
    let apart = open_before && open_after;
    let digit = |sign: Option<char>| sign.is_some_and(|sign| sign.is_ascii_digit());
    // After the words of a size no length goes on, so a dash or a slash there needs no spaces.
    let behind_words = before.is_some_and(char::is_alphabetic) && words_behind(signs, at);
    match signs[at] {
        '+' => Some(Token::Plus),
        '*' | '\u{d7}' => Some(Token::Times),
        '(' => Some(Token::Open),
        ')' => Some(Token::Close),
        'x' | 'X' if at > 0 && (apart || (digit(before) && (digit(after) || open_after))) => {
            Some(Token::Times)
        }
        '/' if apart || behind_words => Some(Token::Over),
        sign if is_dash(sign) && at > 0 && (apart || behind_words) => Some(Token::Minus),
        _ => None,
    }
}

/// Whether the letters just before `at` are the words of a size: no digit stands directly before them, as in `1200mm`.
fn words_behind(signs: &[char], at: usize) -> bool {
    let mut letters = signs[..at].iter().rev().skip_while(|s| s.is_alphabetic());
    match letters.next() {
        None => true,
        Some(']') => true,
        Some(sign) if sign.is_whitespace() => letters
            .find(|sign| !sign.is_whitespace())
            .is_none_or(|sign| !sign.is_ascii_digit()),
        Some(_) => false,
    }
}
