//! Units for the page: what happens to bare numbers when the unit of a piece changes, and lengths that are used outside the piece they were
//! typed in.

use super::request::{Reply, field, text};
use crate::io::objects::object;
use crate::io::{job_file, units};
use crate::job::{Job, Saw, examine};
use crate::length::{Length, Reading, read_length, with_unit};
use crate::mass::Mass;
use serde_json::Value;

/// A job in another unit with every size kept: `{job, unit}` gives `{job, changes: [[was, is]]}`.
///
/// A reading step belongs to the tape, not to the piece. Where the sort of tape changes, a step that is a bare number or the usual one is
/// dropped, and the usual step of the new tape holds.
pub fn keep_sizes(request: &Value) -> Reply {
    let file = field(request, "job")?;
    let before = read(file);
    if !file.is_object() {
        return Err(NO_JOB.into());
    }
    let mut spelled = units::spell_job(file);
    let mut after = spelled.job.clone();
    after["unit"] = text(request, "unit")?.into();
    let other_tape = read(&after).is_imperial() != before.is_imperial();
    if other_tape {
        units::fill_usual(&mut after, before.is_imperial());
        let step = file.get("step").cloned().unwrap_or(Value::Null);
        if step != after["step"] || before.step == usual_step(file) {
            spelled.changes.retain(|(was, _)| *was != plain(&step));
            if let Some(job) = after.as_object_mut() {
                job.remove("step");
            }
        }
    }
    if sizes(&before) != sizes(&read(&after)) {
        return Err("a size cannot be kept in another unit; give it its unit by hand first".into());
    }
    Ok(object!({ "job": after, "changes": spelled.changes }))
}

/// A job in another unit whose bare numbers are read in it: `{job, unit}` gives `{job}`. A bare reading step is dropped, as above.
pub fn take_numbers(request: &Value) -> Reply {
    let file = field(request, "job")?;
    if !file.is_object() {
        return Err(NO_JOB.into());
    }
    let before = read(file);
    let mut after = file.clone();
    after["unit"] = text(request, "unit")?.into();
    let bare = units::spell_job(file).job.get("step") != file.get("step");
    if read(&after).is_imperial() != before.is_imperial()
        && (bare || before.step == usual_step(file))
        && let Some(job) = after.as_object_mut()
    {
        job.remove("step");
    }
    Ok(object!({ "job": after }))
}

/// A job whose every length says its unit: `{job}` gives `{job}`.
pub fn spell_job(request: &Value) -> Reply {
    Ok(object!({ "job": units::spell_job(field(request, "job")?).job }))
}

/// Boards of the shed whose every length says its unit: `{boards: [{row, unit, decimal}], decimal}` gives `{rows}`.
pub fn spell_boards(request: &Value) -> Reply {
    let boards = field(request, "boards")?
        .as_array()
        .ok_or("\"boards\" should be a list")?;
    let decimal = reading_of(request).decimal;
    let rows = boards.iter().map(|board| {
        let row = board.get("row").unwrap_or(&Value::Null);
        units::spell_board(row, reading_of(board), decimal)
    });
    Ok(object!({ "rows": rows.collect::<Vec<_>>() }))
}

/// One length as typed in a piece: `{text, unit, decimal}` gives `{text}` with its unit, or `{fault}`.
pub fn spell_length(request: &Value) -> Reply {
    let (text, reading) = (text(request, "text")?, reading_of(request));
    Ok(match read_length(text, reading) {
        Ok(_) => {
            object!({ "text": with_unit(text, reading).unwrap_or_else(|| text.trim().to_owned()) })
        }
        Err(fault) => object!({ "fault": fault.to_string() }),
    })
}

const NO_JOB: &str = "\"job\" should be an object";

fn read(file: &Value) -> Job {
    examine(&job_file::read_value(file).0).0
}

fn plain(value: &Value) -> String {
    value
        .as_str()
        .map_or_else(|| value.to_string(), str::to_owned)
}

/// How the bare numbers of an object with a `unit` and a `decimal` are read.
pub fn reading_of(value: &Value) -> Reading {
    let bare = object!({ "unit": value.get("unit"), "decimal": value.get("decimal") });
    read(&bare).reading
}

/// The step of a job that gives none.
fn usual_step(file: &Value) -> Length {
    read(&object!({ "unit": file.get("unit") })).step
}

type Sizes = (Vec<(Length, u32)>, Saw, Option<Mass>, Option<Length>);

/// What must not change: the parts, the saw, what the vehicle may carry, and where lengths are cut for it, how far off the yard saws.
fn sizes(job: &Job) -> Sizes {
    let parts = job.list.iter().map(|part| (part.length, part.quantity));
    let off = job.carry.map(|_| job.yard_tolerance);
    (parts.collect(), job.saw, job.payload, off)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::length::Unit;
    use serde_json::json;

    fn job(unit: &str, step: Value) -> Value {
        json!({ "format": "lengthwise-job", "version": 1, "unit": unit, "step": step,
            "sections": [{ "name": "batten", "width": 45 }], "yard": [{ "section": "batten", "length": "2.4 m" }],
            "parts": [{ "label": "leg", "section": "batten", "length": "1400" }] })
    }

    fn kept(unit: &str, step: Value, new: &str) -> Value {
        keep_sizes(&json!({ "job": job(unit, step), "unit": new })).expect("sizes are kept")
    }

    #[test]
    fn keeping_sizes_writes_the_old_unit_behind_bare_numbers_and_says_which() {
        let reply = kept("mm", Value::Null, "in");
        assert_eq!(reply["job"]["unit"], "in");
        assert_eq!(reply["job"]["parts"][0]["length"], "1400 mm");
        assert_eq!(reply["job"]["sections"][0]["width"], "45 mm");
        assert_eq!(
            reply["changes"],
            json!([["45", "45 mm"], ["1400", "1400 mm"]])
        );
    }

    #[test]
    fn the_reading_step_follows_the_tape_unless_it_was_set_with_its_unit() {
        for bare in [json!(0.5), json!("1"), json!("0.5 mm")] {
            assert_eq!(kept("mm", bare.clone(), "in")["job"].get("step"), None);
            let request = json!({ "job": job("mm", bare), "unit": "in" });
            let taken = take_numbers(&request).expect("numbers are taken");
            assert_eq!(taken["job"].get("step"), None);
        }
        assert_eq!(kept("mm", json!("2 mm"), "in")["job"]["step"], "2 mm");
        assert_eq!(kept("mm", json!("1"), "cm")["job"]["step"], "1 mm");
        let read = read(&kept("mm", json!("0.5"), "in")["job"]);
        assert_eq!(read.step, Length::from_inch_64ths(4));
    }

    #[test]
    fn what_is_no_job_has_no_unit_to_change() {
        for job in [json!(5), json!("mm"), json!([]), Value::Null] {
            let request = json!({ "job": job, "unit": "in" });
            for answer in [take_numbers(&request), keep_sizes(&request)] {
                assert_eq!(answer, Err("\"job\" should be an object".into()));
            }
        }
    }

    #[test]
    fn what_has_units_needs_no_change() {
        let reply =
            keep_sizes(&json!({ "job": kept("mm", Value::Null, "in")["job"], "unit": "ft" }));
        assert_eq!(reply.expect("nothing to keep")["changes"], json!([]));
    }

    #[test]
    fn one_length_gains_the_unit_of_the_piece_it_was_typed_in() {
        let spelled = |text: &str, unit: &str| {
            spell_length(&json!({ "text": text, "unit": unit })).expect("a reply")
        };
        assert_eq!(spelled("2412", "mm"), json!({ "text": "2412 mm" }));
        assert_eq!(spelled("8' 1", "in"), json!({ "text": "8' 1" }));
        assert!(spelled("banana", "mm")["fault"].is_string());
        assert_eq!(
            Unit::Inch.ticks(),
            reading_of(&json!({ "unit": "in" })).unit.ticks()
        );
    }
}
