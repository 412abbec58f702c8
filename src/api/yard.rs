//! At the yard: totals of what is in the car, marks for bought boards, and whether a measured length is plausible for its label.

use super::request::{Reply, field, text};
use super::work::progress;
use crate::io::job_file;
use crate::io::objects::object;
use crate::job::{Job, validate};
use crate::length::{Style, read_length, with_unit};
use crate::plan::Plan;
use crate::progress::{Doubt, Marks, doubt};
use crate::report::in_the_car;
use serde_json::Value;

/// Totals of what is in the car: `{times: [{job, progress}]}`, the latest last, gives `{totals: [{key, name, value, amount}], warnings}`.
/// `key` is `count`, `cost`, `length` or `mass`. `value` includes the limit where there is one; `amount` is the figure alone.
pub fn car(request: &Value) -> Reply {
    let times = field(request, "times")?.as_array().into_iter().flatten();
    let times = times.map(|time| {
        let job = read(time)?;
        let progress = progress(
            &job,
            &Plan::default(),
            time.get("progress").unwrap_or(&Value::Null),
        )?;
        Ok((job, progress.bought))
    });
    let times = times.collect::<Result<Vec<_>, String>>()?;
    let times: Vec<_> = times
        .iter()
        .map(|(job, bought)| (job, &bought[..]))
        .collect();
    let car = in_the_car(&times);
    let totals = car.totals.iter().map(|total| {
        object!({ "key": total.figure.key(), "name": total.name, "value": total.value, "amount": total.amount })
    });
    Ok(object!({ "totals": totals.collect::<Vec<_>>(), "warnings": car.warnings }))
}

/// A mark for a board that has none: `{taken: [mark]}` gives `{mark}`, one that is not taken.
pub fn fresh_mark(request: &Value) -> Reply {
    let mut marks = Marks::default();
    for mark in field(request, "taken")?.as_array().into_iter().flatten() {
        marks.take(mark.as_str().unwrap_or_default());
    }
    Ok(object!({ "mark": marks.fresh() }))
}

/// The measured length of a board from a line of the yard: `{job, line, text}` gives `{text}` with its unit, and `{doubt}`, a question,
/// where it is far from the length it was sold as; or `{fault}`.
pub fn measured(request: &Value) -> Reply {
    let job = read(request)?;
    let typed = text(request, "text")?;
    let line = field(request, "line")?
        .as_u64()
        .and_then(|line| usize::try_from(line).ok());
    let sold = line
        .and_then(|line| job.yard.get(line))
        .ok_or("the yard has no such line")?
        .length;
    let measured = match read_length(typed, job.reading) {
        Ok(length) => length,
        Err(fault) => return Ok(object!({ "fault": fault.to_string() })),
    };
    let style = Style::exact(job.unit(), job.decimal());
    let asked = doubt(sold, measured, job.is_imperial()).map(|doubt| {
        let (by, how) = match doubt {
            Doubt::Longer(by) => (by, "longer"),
            Doubt::Shorter(by) => (by, "shorter"),
        };
        format!(
            "{} is {} {how} than the {} on the list. Read the tape again, or take it if it is right.",
            style.show(measured),
            style.show(by),
            style.show(sold)
        )
    });
    let spelled = with_unit(typed, job.reading).unwrap_or_else(|| typed.trim().to_owned());
    Ok(object!({ "text": spelled, "doubt": asked }))
}

fn read(request: &Value) -> Result<Job, String> {
    let (draft, _) = job_file::read_value(field(request, "job")?);
    validate(&draft).map_err(|faults| faults[0].to_string())
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn a_measured_board_far_off_its_label_is_asked_about() {
        let job = json!({ "format": "lengthwise-job", "version": 1, "sections": [{ "name": "batten" }],
            "yard": [{ "section": "batten", "length": "3.6 m" }], "parts": [{ "label": "leg", "length": 560 }] });
        let said = |text: &str| {
            measured(&json!({ "job": job, "line": 0, "text": text })).expect("a reply")
        };
        assert_eq!(said("3612"), json!({ "text": "3612 mm", "doubt": null }));
        assert_eq!(
            said("2 412")["doubt"],
            "2412 mm is 1188 mm shorter than the 3600 mm on the list. Read the tape again, or take it if it is right."
        );
        assert!(said("long")["fault"].is_string());
    }
}
