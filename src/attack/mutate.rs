//! Mutates texts and JSON in small ways that keep most of what was right, so that the result gets past a reader's first check.

use crate::dice::Dice;
use serde_json::{Map, Number, Value};

/// Texts that have broken readers of some kind: invisible characters, digits of other scripts, numbers at the ends of their range.
const HOSTILE: &[&str] = &[
    "",
    " ",
    "\u{feff}",
    "\u{0}",
    "\u{1}\u{1f}",
    "\u{ffff}",
    "\u{202e}abc",
    "\u{2028}",
    "\r\n",
    "0",
    "-0",
    "-1",
    "1e999",
    "1e-999",
    "NaN",
    "9223372036854775807",
    "9223372036854775808",
    "-9223372036854775808",
    "4294967296",
    "18446744073709551616",
    "1/0",
    "0/0",
    "1/3",
    "1 1/2",
    "1/2/3",
    "47 1/4\"",
    "3' 11 1/4\"",
    "3′ 11¼″",
    "½",
    "1½½",
    "1.2 m",
    "1,2 m",
    "1.2.3",
    "1 200",
    "1\u{202f}200",
    "12e3",
    "0x10",
    "٣",
    "１２",
    "1..2",
    "1..",
    "..2",
    "400..460; 900..950",
    "5..5; 5..4",
    ";",
    ";;;",
    "square",
    "square; 45",
    "45; 45; 45",
    "89.9999",
    "0.0001",
    "75",
    "=1+1",
    "+cmd",
    "@x",
    "\"",
    "\"\"\"",
    "a\tb",
    "a,b;c",
    "null",
    "true",
    "[Store] width",
    "[Store",
    "]",
    "((((((((",
    "1 + ",
    "- - 1",
    "1/128",
    "mm",
    "1mmm",
    "\u{1f4a9}",
    "e\u{301}",
    "<script>",
    "&amp;",
    "__proto__",
    "constructor",
    "\\u0000",
];

/// Integers at the ends of the ranges that fields may have.
const NUMBERS: &[i64] = &[
    0,
    1,
    -1,
    2,
    3,
    7,
    255,
    256,
    65_535,
    99_999,
    100_000,
    100_001,
    1_000_000,
    2_147_483_647,
    2_147_483_648,
    4_294_967_295,
    4_294_967_296,
    9_007_199_254_740_993,
    4_611_686_018_427_387_904,
    -4_611_686_018_427_387_904,
    i64::MAX,
    i64::MAX - 1,
    i64::MIN,
    i64::MIN + 1,
];

/// A text that nobody would type.
pub fn hostile_text(dice: &mut Dice) -> String {
    match dice.below(40) {
        0 => dice.one_of(HOSTILE).repeat(dice.below(300)),
        1 => "9".repeat(1 + dice.below(400)),
        2 => "(".repeat(1 + dice.below(3_000)),
        3 => "x".repeat(100_000),
        4..=12 => dice.one_of(HOSTILE).to_owned() + dice.one_of(HOSTILE),
        _ => dice.one_of(HOSTILE).to_owned(),
    }
}

/// A number that nobody would count to.
pub fn hostile_number(dice: &mut Dice) -> i64 {
    match dice.below(3) {
        0 => dice.between(-3, 40),
        1 => dice.one_of(NUMBERS).wrapping_add(dice.between(-2, 2)),
        _ => dice.one_of(NUMBERS),
    }
}

/// An arbitrary value.
pub fn hostile_value(dice: &mut Dice) -> Value {
    match dice.below(12) {
        0 => Value::Null,
        1 => Value::Bool(dice.once_in(2)),
        2..=4 => hostile_number(dice).into(),
        5 => Number::from_f64(dice.one_of(&[0.5, -0.0, 1e300, 5e-324, 1e18, 2.4]))
            .map_or(Value::Null, Value::Number),
        6 => Value::Array(Vec::new()),
        7 => Value::Object(Map::new()),
        8 => u64::MAX.into(),
        _ => hostile_text(dice).into(),
    }
}

/// Mutates one place of a value.
pub fn spoil(dice: &mut Dice, value: &mut Value) {
    // On the way down, the chance to stop is small where there is much below.
    match value {
        Value::Object(fields) if !fields.is_empty() && !dice.once_in(8) => {
            let at = dice.below(fields.len());
            if let Some((_, field)) = fields.iter_mut().nth(at) {
                spoil(dice, field);
            }
        }
        Value::Array(rows) if !rows.is_empty() && !dice.once_in(6) => {
            let at = dice.below(rows.len());
            spoil(dice, &mut rows[at]);
        }
        _ => spoil_here(dice, value),
    }
}

/// Changes one place of a value without changing its type, so that a strict reader accepts it.
pub fn bend(dice: &mut Dice, value: &mut Value) {
    match value {
        Value::Object(fields) if !fields.is_empty() => {
            let at = dice.below(fields.len());
            if let Some((_, field)) = fields.iter_mut().nth(at) {
                bend(dice, field);
            }
        }
        Value::Array(rows) if !rows.is_empty() && !dice.once_in(4) => {
            let at = dice.below(rows.len());
            bend(dice, &mut rows[at]);
        }
        Value::Array(rows) if !rows.is_empty() => {
            let (one, other) = (dice.below(rows.len()), dice.below(rows.len()));
            match dice.below(5) {
                0 => drop(rows.remove(one)),
                1 => {
                    let again = rows[one].clone();
                    rows.insert(other, again);
                }
                2 => rows.swap(one, other),
                3 => rows.truncate(one),
                _ => rows.rotate_left(one),
            }
        }
        Value::Number(number) => {
            if let Some(whole) = number.as_i64() {
                *value = spoiled_number(dice, whole).into();
            }
        }
        Value::Bool(is) => *value = Value::Bool(!*is),
        _ => {}
    }
}

fn spoil_here(dice: &mut Dice, value: &mut Value) {
    match value {
        Value::Object(fields) if !fields.is_empty() => spoil_fields(dice, fields),
        Value::Array(rows) if !rows.is_empty() => spoil_rows(dice, rows),
        Value::String(text) => *text = spoiled_text(dice, text),
        Value::Number(number) => {
            if let Some(whole) = number.as_i64() {
                *value = spoiled_number(dice, whole).into();
            } else {
                *value = hostile_value(dice);
            }
        }
        Value::Bool(is) if !dice.once_in(5) => *value = Value::Bool(!*is),
        _ => *value = hostile_value(dice),
    }
}

fn spoil_fields(dice: &mut Dice, fields: &mut Map<String, Value>) {
    let names: Vec<String> = fields.keys().cloned().collect();
    let (one, other) = (dice.one_of(&names), dice.one_of(&names));
    match dice.below(5) {
        0 => drop(fields.remove(&one)),
        1 => drop(fields.insert(one, hostile_value(dice))),
        2 => drop(fields.insert(hostile_text(dice), hostile_value(dice))),
        3 => {
            let there = fields[&one].clone();
            fields.insert(other, there);
        }
        _ => {
            let there = fields.remove(&one).unwrap_or_default();
            fields.insert(one.to_uppercase(), there);
        }
    }
}

fn spoil_rows(dice: &mut Dice, rows: &mut Vec<Value>) {
    let (one, other) = (dice.below(rows.len()), dice.below(rows.len()));
    match dice.below(7) {
        0 => drop(rows.remove(one)),
        1 => {
            let again = rows[one].clone();
            rows.insert(other, again);
        }
        2 => rows.swap(one, other),
        3 => rows[one] = hostile_value(dice),
        4 => rows.truncate(one),
        5 => rows.reverse(),
        _ => {
            let again = rows[one].clone();
            let many = dice.one_of(&[2, 10, 300]);
            rows.extend(std::iter::repeat_n(again, many));
        }
    }
}

/// The text with one place changed, or another text.
pub fn spoiled_text(dice: &mut Dice, text: &str) -> String {
    let signs: Vec<char> = text.chars().collect();
    let at = dice.below(signs.len() + 1);
    let (head, tail): (String, String) =
        (signs[..at].iter().collect(), signs[at..].iter().collect());
    match dice.below(6) {
        0 => hostile_text(dice),
        1 => head,
        2 => tail,
        3 => format!("{head}{}{tail}", dice.one_of(HOSTILE)),
        4 => format!("{head}{}", tail.chars().skip(1).collect::<String>()),
        _ => {
            let sign = dice.one_of(&[
                '0', '9', '.', ',', '/', '-', ' ', '"', '\'', ';', '[', 'm', '½', '\u{feff}',
            ]);
            format!("{head}{sign}{}", tail.chars().skip(1).collect::<String>())
        }
    }
}

/// An integer changed a little, or much.
pub fn spoiled_number(dice: &mut Dice, whole: i64) -> i64 {
    match dice.below(8) {
        0 | 1 => whole.wrapping_add(dice.between(-2, 2)),
        2 => whole.wrapping_mul(dice.between(2, 12)),
        3 => whole.wrapping_neg(),
        4 => whole / 2,
        5 => 0,
        _ => hostile_number(dice),
    }
}

/// The text with some bytes changed, decoded again as text.
pub fn spoiled_bytes(dice: &mut Dice, text: &str) -> String {
    let mut bytes = text.as_bytes().to_vec();
    for _ in 0..=dice.below(6) {
        let at = dice.below(bytes.len() + 1);
        match dice.below(5) {
            0 if at < bytes.len() => bytes[at] ^= 1 << dice.below(8),
            1 if at < bytes.len() => drop(bytes.remove(at)),
            2 => bytes.insert(at, dice.next() as u8),
            3 => bytes.truncate(at),
            _ => {
                let from = dice.below(bytes.len() + 1);
                let more: Vec<u8> = bytes[from..].iter().take(dice.below(40)).copied().collect();
                bytes.splice(at..at, more);
            }
        }
    }
    String::from_utf8_lossy(&bytes).into_owned()
}
