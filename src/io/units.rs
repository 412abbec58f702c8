//! Adds units to the bare numbers of a job file.
//!
//! A bare number is in the unit of its job. It would become another length once the unit changes, or once its row moves to another job as
//! boards of the shed do. So each bare number gets its unit, and its digits stay as typed. Which fields hold lengths is read from the table
//! of fields and from the forms of the set-outs.

use super::job_file;
use crate::job::{Job, examine, split_stretch};
use crate::length::{Decimal, Reading, Unit, exact_text, read_length, with_unit};
use crate::lower::lower;
use crate::mass::Mass;
use crate::setout::{FactValue, Kind, Reference, Sort, with_units};
use crate::usual::{self, Usual};
use serde_json::{Map, Value};
use timber::draft::{LISTS, OwnDraft, PartDraft, SawDraft, ShedDraft};
use timber::fields::{Field, Holds, Row};
use timber::give;
use timber::section::split_sides;

/// A job whose bare numbers have units.
#[derive(Clone, Debug)]
pub struct Spelled {
    /// The job file, its own unit unchanged.
    pub job: Value,
    /// Every text that changed, as pairs of old and new.
    pub changes: Vec<(String, String)>,
}

/// Writes the units into a whole job.
pub fn spell_job(job: &Value) -> Spelled {
    let known = examine(&job_file::read_value(job).0).0;
    let mut spelled = Spelled {
        job: job.clone(),
        changes: Vec::new(),
    };
    let Some(object) = spelled.job.as_object_mut() else {
        return spelled;
    };
    let changes = &mut spelled.changes;
    spell_fields(object, OwnDraft::FIELDS, known.reading, changes);
    for field in OwnDraft::FIELDS
        .iter()
        .filter(|field| field.holds == Holds::Mass)
    {
        if let Some(value) = object.get_mut(field.name) {
            let text = plain(value);
            if let Some(spelled) = Mass::with_unit(&text, known.reading) {
                *value = spelled.clone().into();
                changes.push((text, spelled));
            }
        }
    }
    for (list, own) in [("saw", SawDraft::FIELDS)].into_iter().chain(LISTS) {
        for row in rows_of(object.get_mut(list)) {
            spell_fields(row, own, known.reading, changes);
        }
    }
    for row in rows_of(object.get_mut("set_outs")) {
        spell_set_out(row, &known, changes);
    }
    spelled
}

/// Fills empty fields for saw, timber and set-outs with the usual sizes, where those of the other sort of tape differ. So sizes that nobody
/// filled in stay what they were.
pub fn fill_usual(job: &mut Value, imperial: bool) {
    let reading = Reading {
        unit: match imperial {
            true => Unit::Inch,
            false => Unit::Millimetre,
        },
        decimal: examine(&job_file::read_value(job).0).0.decimal(),
    };
    let Some(object) = job.as_object_mut() else {
        return;
    };
    let saw = object.entry("saw").or_insert_with(|| Map::new().into());
    for row in rows_of(Some(saw)) {
        fill(row, "kerf", usual::KERF, reading);
        fill(row, "keep", usual::KEEP, reading);
        fill(row, "keep_width", usual::KEEP_WIDTH, reading);
    }
    if !object.get("carry").is_none_or(is_empty) {
        fill(object, "yard_tolerance", usual::YARD_TOLERANCE, reading);
    }
    for (list, size) in [("sections", usual::TRIM), ("shed", usual::SHED_TRIM)] {
        let begun = |row: &&mut Map<String, Value>| !row.values().all(is_empty);
        for row in rows_of(object.get_mut(list)).into_iter().filter(begun) {
            fill(row, "trim", size, reading);
        }
    }
    let set_outs = job.as_object_mut().and_then(|job| job.get_mut("set_outs"));
    for row in rows_of(set_outs) {
        let kind = row
            .get("kind")
            .and_then(Value::as_str)
            .and_then(Kind::named);
        for field in kind.iter().flat_map(|kind| kind.about().all_fields()) {
            let (here, there) = (field.usual.text(imperial), field.usual.text(!imperial));
            let zero =
                |text| read_length(text, Reading::default()).is_ok_and(|length| length.is_none());
            let is_size = matches!(field.sort, Sort::Size | Sort::Length);
            let empty = row.get(field.field).is_none_or(is_empty);
            if is_size && empty && here != there && !zero(here) {
                row.insert(field.field.into(), here.into());
            }
        }
    }
}

fn fill(row: &mut Map<String, Value>, field: &str, usual: Usual, reading: Reading) {
    if row.get(field).is_none_or(is_empty) {
        let text = exact_text(usual.on(reading.unit.is_imperial()), reading);
        row.insert(field.into(), text.into());
    }
}

/// Adds units to a row of the shed whose bare numbers are read by `from`, and writes its decimals with `decimal`.
pub fn spell_board(row: &Value, from: Reading, decimal: Decimal) -> Value {
    spell_row(row, ShedDraft::FIELDS, from, decimal)
}

/// The same for a part.
pub fn spell_part(row: &Value, from: Reading, decimal: Decimal) -> Value {
    spell_row(row, PartDraft::FIELDS, from, decimal)
}

fn spell_row(row: &Value, known: &[Field], from: Reading, decimal: Decimal) -> Value {
    let mut row = row.clone();
    if let Some(object) = row.as_object_mut() {
        spell_fields(object, known, from, &mut Vec::new());
        if from.decimal != decimal {
            for field in known.iter().filter(|field| holds_lengths(field)) {
                if let Some(Value::String(text)) = object.get_mut(field.name) {
                    let mut one = |text: &str| Some(with_sign(text, from, decimal));
                    *text = give::rewritten(text, &mut one).unwrap_or_default();
                }
            }
        }
    }
    row
}

/// Lengths with one decimal sign, separated by `;` or `..`, written with the other.
fn with_sign(text: &str, from: Reading, decimal: Decimal) -> String {
    let turned = |text: &str| -> String {
        let mut turned = String::new();
        for sign in text.chars() {
            turned.push(if sign == from.decimal.sign() {
                decimal.sign()
            } else {
                sign
            });
        }
        turned
    };
    let pieces = text.split("..").map(turned).collect::<Vec<_>>();
    pieces.join("..")
}

fn holds_lengths(field: &Field) -> bool {
    matches!(
        field.holds,
        Holds::Length | Holds::TwoLengths | Holds::Stretches | Holds::Sides
    )
}

/// The objects of a list, or the one object where it is no list.
fn rows_of(value: Option<&mut Value>) -> Vec<&mut Map<String, Value>> {
    match value {
        Some(Value::Array(rows)) => rows.iter_mut().filter_map(Value::as_object_mut).collect(),
        Some(Value::Object(object)) => vec![object],
        _ => Vec::new(),
    }
}

fn spell_fields(
    object: &mut Map<String, Value>,
    known: &[Field],
    reading: Reading,
    changes: &mut Vec<(String, String)>,
) {
    for field in known.iter().filter(|field| holds_lengths(field)) {
        if let Some(value) = object.get_mut(field.name) {
            spell_value(value, field.holds, reading, changes);
        }
    }
}

fn spell_value(
    value: &mut Value,
    holds: Holds,
    reading: Reading,
    changes: &mut Vec<(String, String)>,
) {
    match value {
        Value::Array(values) => {
            for value in values {
                spell_value(value, holds, reading, changes);
            }
        }
        Value::String(_) | Value::Number(_) => {
            let text = plain(value);
            if let Some(spelled) = spell_text(&text, holds, reading) {
                *value = spelled.clone().into();
                changes.push((text, spelled));
            }
        }
        _ => {}
    }
}

/// One length, or several separated by `;`, each a pair `from..to` where they are stretches.
fn spell_text(text: &str, holds: Holds, reading: Reading) -> Option<String> {
    let mut bare = false;
    let mut one = |text: &str| {
        let spelled = with_unit(text, reading);
        bare |= spelled.is_some();
        spelled.unwrap_or_else(|| text.trim().to_owned())
    };
    let mut piece = |text: &str| match split_stretch(text).filter(|_| holds == Holds::Stretches) {
        Some((from, to)) => format!("{}..{}", one(from), one(to)),
        None => one(text),
    };
    if holds == Holds::Length {
        return give::rewritten(text, &mut |text| with_unit(text, reading));
    }
    let (parts, between) = match (holds, split_sides(text)) {
        (Holds::Sides, Some(sides)) => (sides.to_vec(), " x "),
        _ => (text.split(';').collect(), "; "),
    };
    let pieces = parts.into_iter().map(&mut piece).collect::<Vec<_>>();
    bare.then(|| pieces.join(between))
}

fn spell_set_out(object: &mut Map<String, Value>, job: &Job, changes: &mut Vec<(String, String)>) {
    let Some(kind) = object
        .get("kind")
        .and_then(Value::as_str)
        .and_then(Kind::named)
    else {
        return;
    };
    for (name, value) in object.iter_mut() {
        let is_size = kind
            .about()
            .field(name)
            .is_some_and(|field| matches!(field.sort, Sort::Size | Sort::Length));
        if is_size && matches!(value, Value::String(_) | Value::Number(_)) {
            let text = plain(value);
            let mut one = |text: &str| with_units(text, job.reading, &|name| is_count(job, name));
            if let Some(spelled) = give::rewritten(&text, &mut one) {
                *value = spelled.clone().into();
                changes.push((text, spelled));
            }
        }
    }
}

/// Whether a size that is named is a count of another set-out and has no unit.
fn is_count(job: &Job, name: &Reference) -> bool {
    let alike = |one: &str, other: &str| lower(one.trim()) == lower(other.trim());
    let words = name.size.split_whitespace().collect::<Vec<_>>().join(" ");
    name.set_out.as_deref().is_some_and(|set_out| {
        job.set_outs
            .iter()
            .filter(|other| alike(&other.name, set_out))
            .flat_map(|other| &other.facts)
            .any(|fact| alike(&fact.name, &words) && matches!(fact.value, FactValue::Count(_)))
    })
}

fn is_empty(value: &Value) -> bool {
    match value {
        Value::Null => true,
        Value::String(text) => text.trim().is_empty(),
        _ => false,
    }
}

fn plain(value: &Value) -> String {
    match value {
        Value::String(text) => text.clone(),
        value => value.to_string(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Unit;
    use serde_json::json;

    fn board() -> Value {
        json!({ "mark": "12", "section": "45", "length": 1830, "bad": "910..955; 1200 to 1250 mm; 1400-1460", "trim": "20; 2 in", "note": "7" })
    }

    #[test]
    fn a_shed_board_says_the_unit_of_every_length_and_of_nothing_else() {
        assert_eq!(
            spell_board(&board(), Reading::default(), Decimal::Point),
            json!({ "mark": "12", "section": "45", "length": "1830 mm", "bad": "910 mm..955 mm; 1200 mm..1250 mm; 1400 mm..1460 mm",
                "trim": "20 mm; 2 in", "note": "7" })
        );
    }

    #[test]
    fn lists_of_a_job_file_are_spelled_piece_by_piece() {
        let row = json!({ "length": "5", "bad": [[400, "460"], ["1.2 m", 50]], "trim": [10, 0] });
        let inches = Reading {
            unit: Unit::Inch,
            decimal: Decimal::Point,
        };
        assert_eq!(
            spell_board(&row, inches, Decimal::Point),
            json!({ "length": "5\"", "bad": [["400\"", "460\""], ["1.2 m", "50\""]], "trim": ["10\"", 0] })
        );
    }

    #[test]
    fn a_board_typed_with_a_comma_is_kept_with_a_point_where_that_is_the_sign() {
        let comma = Reading {
            unit: Unit::Metre,
            decimal: Decimal::Comma,
        };
        let row = json!({ "length": "1,83", "bad": "0,4..0,5" });
        assert_eq!(
            spell_board(&row, comma, Decimal::Point),
            json!({ "length": "1.83 m", "bad": "0.4 m..0.5 m" })
        );
    }

    #[test]
    fn a_whole_job_keeps_every_size_when_its_unit_changes() {
        for text in [
            include_str!("../../fixtures/jobs/bin_store.json"),
            include_str!("../../fixtures/jobs/cold_frame_inches.json"),
            include_str!("../../fixtures/jobs/log_store.json"),
            include_str!("../../fixtures/jobs/gate_parts.json"),
        ] {
            let mut job: Value = serde_json::from_str(text).expect("a job file");
            job["carry"] = "2.4 m".into();
            let read = |job: &Value| examine(&job_file::read_value(job).0);
            let (before, faults) = read(&job);
            assert_eq!(faults, []);
            let mut spelled = spell_job(&job).job;
            let imperial = before.is_imperial();
            fill_usual(&mut spelled, imperial);
            for unit in ["mm", "cm", "m", "in", "ft"] {
                spelled["unit"] = unit.into();
                let (after, faults) = read(&spelled);
                assert_eq!(faults, []);
                let lengths = |job: &Job| {
                    job.parts
                        .iter()
                        .map(|part| (part.length, part.quantity))
                        .collect::<Vec<_>>()
                };
                assert_eq!(
                    lengths(&before),
                    lengths(&after),
                    "{} in {unit}",
                    before.piece
                );
                assert_eq!(before.sections, after.sections);
                assert_eq!(before.yard, after.yard);
                assert_eq!(before.shed, after.shed);
                assert_eq!(before.saw, after.saw);
                assert_eq!(before.yard_tolerance, after.yard_tolerance);
            }
        }
    }
}
