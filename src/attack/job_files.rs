//! Job files made from the table of their fields: any field may occur, with a value of its kind or with a wrong one.
//!
//! A field that is added to `draft` is attacked without a change here.

use crate::dice::Dice;
use crate::mutate::{hostile_text, hostile_value};
use lengthwise::draft::{LISTS, OwnDraft, SawDraft};
use lengthwise::fields::{Field, Holds, Row};
use lengthwise::setout::{COMMON_FIELDS, kinds};
use serde_json::{Map, Value, json};

/// Names of sections, some of them twice.
const NAMES: &[&str] = &["post", "rail", "slat", "post", "=post", "post\u{1}"];

/// A job file. One in so many of its fields is wrong.
pub fn job(dice: &mut Dice) -> Value {
    let wrong = dice.one_of(&[6, 30, 200]);
    let mut job = object(dice, OwnDraft::FIELDS, wrong);
    job.insert("format".into(), "lengthwise-job".into());
    if dice.once_in(2) {
        job.insert("version".into(), 1.into());
    }
    job.insert("saw".into(), object(dice, SawDraft::FIELDS, wrong).into());
    for (list, table) in LISTS {
        let rows: Vec<Value> = (0..dice.below(4))
            .map(|_| object(dice, table, wrong).into())
            .collect();
        job.insert(list.into(), rows.into());
    }
    if dice.once_in(3) {
        let rows: Vec<Value> = (0..=dice.below(3)).map(|_| set_out(dice, wrong)).collect();
        job.insert("set_outs".into(), rows.into());
    }
    if dice.once_in(8) {
        let rules = lengthwise::quantities::RULES.iter();
        let rules = rules
            .filter(|_| dice.once_in(3))
            .map(|rule| rule.field.to_owned());
        let rules: Vec<String> = rules.collect();
        let rules: Map<String, Value> =
            rules.into_iter().map(|rule| (rule, number(dice))).collect();
        job.insert("quantities".into(), rules.into());
    }
    job.into()
}

fn object(dice: &mut Dice, table: &[Field], wrong: usize) -> Map<String, Value> {
    let mut object = Map::new();
    for field in table {
        if field.needed && !dice.once_in(40) || dice.once_in(2) {
            let value = if dice.once_in(wrong) {
                hostile_value(dice)
            } else {
                value(dice, field.name, field.holds)
            };
            object.insert(field.name.into(), value);
        }
    }
    object
}

/// A value of a kind.
fn value(dice: &mut Dice, name: &str, holds: Holds) -> Value {
    match holds {
        Holds::Section => dice.one_of(NAMES).into(),
        Holds::Text if name == "name" => dice.one_of(NAMES).into(),
        Holds::Text => dice
            .one_of(&["A", "B", "leg", "=1+1", "two\nlines", "x\u{0}y", "½ \"q\""])
            .into(),
        Holds::Sections => {
            dice.one_of(&[json!("post"), json!("post; rail"), json!(["post", "slat"])])
        }
        Holds::Length => length(dice),
        Holds::TwoLengths => match dice.below(3) {
            0 => length(dice),
            1 => json!([length(dice), length(dice)]),
            _ => format!("{}; {}", dice.between(0, 60), dice.between(0, 60)).into(),
        },
        Holds::Price if dice.below(2) == 0 => {
            let unit = dice.one_of(&["m", "ft", "m3", "MBF", "bf", "yd"]);
            format!("{} per {unit}", dice.between(0, 2_000)).into()
        }
        Holds::Count | Holds::Mass | Holds::Money | Holds::Price => number(dice),
        Holds::Sides => format!("{} x {}", dice.between(0, 90), dice.between(0, 300)).into(),
        Holds::Word(words) => dice.one_of(words).0.into(),
        Holds::Stretches => match dice.below(3) {
            0 => json!([[dice.between(0, 900), dice.between(0, 1_800)]]),
            1 => "".into(),
            _ => format!("{}..{}", dice.between(0, 900), dice.between(0, 1_800)).into(),
        },
        Holds::Ends => dice.one_of(&[
            json!("square"),
            json!(45),
            json!("45; 22.5"),
            json!(["square", 30]),
            json!("0.1"),
        ]),
        // A kind that is added to the table is attacked with arbitrary values until it has a row here.
        #[allow(unreachable_patterns)]
        _ => hostile_value(dice),
    }
}

fn length(dice: &mut Dice) -> Value {
    match dice.below(8) {
        0 => dice.between(1, 100_001).into(),
        1 => format!("{}.{} m", dice.between(0, 6), dice.between(0, 99)).into(),
        2 => format!("{} {}/16\"", dice.between(1, 90), dice.between(0, 16)).into(),
        3 => dice
            .one_of(&["100 m", "1/128\"", "0.01 mm", "328 ft", "1 mm"])
            .into(),
        _ => dice.between(40, 2_400).into(),
    }
}

fn number(dice: &mut Dice) -> Value {
    match dice.below(6) {
        0 => dice
            .one_of(&["9999999999.99", "100000", "1000000", "0", "1500", "50"])
            .into(),
        1 => format!("{}.{:02}", dice.between(0, 99), dice.between(0, 99)).into(),
        _ => dice.between(0, 12).into(),
    }
}

/// A set-out from the table of its kind, sizes that refer to others among them.
fn set_out(dice: &mut Dice, wrong: usize) -> Value {
    const SIZES: &[&str] = &[
        "600",
        "[Lid] width",
        "[Lid] height - 20",
        "(600 + 2 x 45) / 3",
        "[Lid] inside width / 2",
        "1.2 m",
        "3' 2\"",
        "2 x [Lid]",
        "-5",
        "0",
    ];
    let kinds = kinds();
    let kind = dice.one_of(&kinds);
    let mut object = Map::new();
    object.insert("kind".into(), kind.kind.into());
    object.insert(
        "name".into(),
        dice.one_of(&["Lid", "Box", "Lid", ""]).into(),
    );
    for field in kind.all_fields() {
        if dice.once_in(4) {
            continue;
        }
        let choices = field.sort.choices().unwrap_or_default();
        let value: Value = if dice.once_in(wrong) {
            hostile_text(dice).into()
        } else if !choices.is_empty() && !dice.once_in(9) {
            json!(choices[dice.below(choices.len())])
        } else if field.field == "section" {
            dice.one_of(NAMES).into()
        } else if dice.once_in(2) {
            dice.one_of(SIZES).into()
        } else {
            dice.between(0, 900).into()
        };
        object.insert(field.field.into(), value);
    }
    debug_assert!(
        !COMMON_FIELDS.is_empty(),
        "every kind has a section and a number of times"
    );
    object.into()
}
