//! Tables in and out: parts from a table, shown before they are taken, and tables for a spreadsheet.

use super::parts::{part_draft, part_row};
use super::request::{Reply, field, text};
use super::units::reading_of;
use crate::fault::Fault;
use crate::io::objects::object;
use crate::io::parts_table::{self, PartsTable, Said};
use crate::io::{csv, job_file, price_table, units};
use crate::job::{JobDraft, PartDraft, Spare, examine};
use crate::length::Reading;
use crate::lower::lower;
use crate::report;
use serde_json::Value;

/// Parts from a table: `{text, job, headed?, columns?, unit?, decimal?, sections?}` gives how the table is read, its parts as the job would
/// take them, and the faults of each part there.
///
/// `headed` and `columns` are a person's corrections of how the table is read. `unit` and `decimal` say how its bare numbers are read where
/// that differs from the job. `sections` maps section names that the job does not have to sections that it has.
pub fn read_csv(request: &Value) -> Reply {
    let file = field(request, "job")?;
    let (mut draft, _) = job_file::read_value(file);
    let job = examine(&draft).0;
    let bare = |name: &str| said(request, name).or(file.get(name));
    let from = reading_of(&object!({ "unit": bare("unit"), "decimal": bare("decimal") }));
    let mut table = parts_table::read(text(request, "text")?, &said_about(request));
    let mut unknown: Vec<(String, usize)> = Vec::new();
    let names: Vec<(&str, String)> = job
        .sections
        .iter()
        .map(|section| (section.name.as_str(), alike(&section.name)))
        .collect();
    for (_, part) in &mut table.parts {
        place_section(part, &names, said(request, "sections"), &mut unknown);
        if from != job.reading {
            convert(part, from, job.reading);
        }
    }
    draft.parts = table.parts.iter().map(|(_, part)| part.clone()).collect();
    let faults = examine(&draft).1;
    Ok(reply(&table, &faults, &unknown))
}

/// What a yard sells, from a table: `{text}` gives `{rows, faults}`.
pub fn read_prices(request: &Value) -> Reply {
    let (rows, faults) = match price_table::read(text(request, "text")?) {
        Ok(rows) => (rows, Vec::new()),
        Err(faults) => (Vec::new(), faults),
    };
    let rows: Vec<Value> = rows
        .iter()
        .map(|row| Value::Object(super::work::row_of(row)))
        .collect();
    let faults: Vec<Value> = faults.iter().map(super::request::fault_reply).collect();
    Ok(object!({ "rows": rows, "faults": faults }))
}

/// A field of the request, where it is there and not null.
fn said<'a>(request: &'a Value, name: &str) -> Option<&'a Value> {
    request.get(name).filter(|value| !value.is_null())
}

fn said_about(request: &Value) -> Said {
    let columns = said(request, "columns").and_then(Value::as_array);
    Said {
        headed: said(request, "headed").and_then(Value::as_bool),
        columns: columns.map(|fields| {
            let fields = fields.iter().map(|field| field.as_str().map(str::to_owned));
            fields.collect()
        }),
    }
}

/// Replaces the section that a part names by a section of the job: the one of that name, however spaced; else the one that the person
/// chose; else, where the part names none, the job's only one. Names that match nothing are counted.
fn place_section(
    part: &mut PartDraft,
    names: &[(&str, String)],
    said: Option<&Value>,
    unknown: &mut Vec<(String, usize)>,
) {
    let written = part.section.clone().unwrap_or_default();
    let mut placed = Vec::new();
    for one in written.split(';').map(str::trim) {
        let wanted = alike(one);
        let known = names
            .iter()
            .find(|(_, plain)| *plain == wanted)
            .map(|(name, _)| *name);
        let only = names
            .first()
            .map(|(name, _)| *name)
            .filter(|_| names.len() == 1 && one.is_empty());
        let meant = said.and_then(|said| said.get(one)).and_then(Value::as_str);
        if known.or(only).is_none() {
            match unknown.iter_mut().find(|(name, _)| name == one) {
                Some((_, count)) => *count += 1,
                None => unknown.push((one.to_owned(), 1)),
            }
        }
        placed.push(known.or(only).or(meant).unwrap_or(one));
    }
    let placed = placed.join("; ");
    part.section = Some(placed).filter(|placed| !placed.is_empty());
}

fn alike(name: &str) -> String {
    let plain = lower(name).replace('\u{d7}', "x");
    plain.chars().filter(|sign| !sign.is_whitespace()).collect()
}

/// Writes the lengths of a part that was read otherwise than the job reads so that the job reads them right.
fn convert(part: &mut PartDraft, from: Reading, to: Reading) {
    let spelled = units::spell_part(&part_row(part), from, to.decimal);
    let spelled = |name: &str| spelled[name].as_str().map(str::to_owned);
    for (name, text) in [
        ("length", &mut part.length),
        ("over", &mut part.over),
        ("ripped", &mut part.ripped),
    ] {
        *text = spelled(name).or(text.take());
    }
}

fn reply(table: &PartsTable, faults: &[Fault], unknown: &[(String, usize)]) -> Value {
    let columns = table.columns.iter().map(|column| {
        object!({ "heading": column.heading, "sample": column.sample, "taken_for": column.field })
    });
    let rows = table.parts.iter().enumerate().map(|(index, (line, part))| {
        let own = faults
            .iter()
            .filter(|fault| fault.place.list == "parts" && fault.place.row == Some(index));
        let own = own.map(
            |fault| object!({ "field": fault.place.field, "message": fault.kind.to_string() }),
        );
        object!({ "line": line, "part": part_row(part), "faults": own.collect::<Vec<_>>() })
    });
    let unknown = unknown
        .iter()
        .map(|(name, count)| object!({ "name": name, "count": count }));
    object!({
        "headed": table.headed,
        "above": table.above,
        "columns": columns.collect::<Vec<_>>(),
        "rows": rows.collect::<Vec<_>>(),
        "without_length": table.without_length,
        "unknown_sections": unknown.collect::<Vec<_>>(),
        "faults": table.faults.iter().map(super::request::fault_reply).collect::<Vec<_>>(),
    })
}

/// A table for a spreadsheet: `{job, what, plan?}` gives `{text}`. Lengths carry their unit, so that they mean the same wherever they are
/// read.
pub fn write_csv(request: &Value) -> Reply {
    let (draft, _) = job_file::read_value(&units::spell_job(field(request, "job")?).job);
    let text = match text(request, "what")? {
        "parts" => csv::write_parts(&all_parts(&draft)),
        "shed" => csv::write_shed(&draft.shed),
        "buying" => report::csv::buying(&super::planning::report_of(request)?),
        "saw" => report::csv::saw(&super::planning::report_of(request)?),
        other => return Err(format!("\"{other}\" cannot be written as a table")),
    };
    Ok(object!({ "text": text }))
}

/// Parts as typed, followed by those of the set-outs.
fn all_parts(draft: &JobDraft) -> Vec<PartDraft> {
    let (job, _) = examine(draft);
    let from_set_outs = job
        .list
        .iter()
        .filter(|part| part.row.is_none() && part.spare == Spare::No)
        .map(|part| part_draft(&job, part));
    draft.parts.iter().cloned().chain(from_set_outs).collect()
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    fn job() -> Value {
        json!({ "format": "lengthwise-job", "version": 1, "saw": { "kerf": "3" },
            "sections": [{ "name": "frame 45 x 70", "thickness": "45", "width": "70" }, { "name": "slat", "thickness": "21", "width": "95" }] })
    }

    fn asked(text: &str, more: Value) -> Value {
        let mut request = json!({ "text": text, "job": job() });
        for (name, value) in more.as_object().into_iter().flatten() {
            request[name] = value.clone();
        }
        read_csv(&request).expect("an answer")
    }

    #[test]
    fn a_table_of_other_numbers_means_the_same_lengths_in_the_job() {
        let text = "part;section;length\nleg;Frame 45x70;56,5\nrail;slat;1,2 m\n";
        let seen = asked(text, json!({ "unit": "cm", "decimal": "comma" }));
        assert_eq!(seen["rows"][0]["part"]["length"], "56.5 cm");
        assert_eq!(seen["rows"][0]["part"]["section"], "frame 45 x 70");
        assert_eq!(seen["rows"][1]["part"]["length"], "1.2 m");
        for row in [0, 1] {
            assert_eq!(seen["rows"][row]["faults"], json!([]));
        }
        // Unless a person says so, a comma is not taken for a decimal sign.
        let seen = asked(text, json!({}));
        assert_eq!(seen["rows"][0]["faults"][0]["field"], "length");
    }

    #[test]
    fn a_section_that_the_job_lacks_is_told_of_once_and_placed_as_a_person_says() {
        let text = "part,section,length,qty\na,oak,500,1\nb,oak,600,none\nc,slat,700,1\n";
        let seen = asked(text, json!({}));
        assert_eq!(
            seen["unknown_sections"],
            json!([{ "name": "oak", "count": 2 }])
        );
        assert_eq!(seen["rows"][0]["faults"][0]["field"], "section");
        let seen = asked(text, json!({ "sections": { "oak": "slat" } }));
        assert_eq!(seen["unknown_sections"][0]["name"], "oak");
        assert_eq!(seen["rows"][0]["part"]["section"], "slat");
        assert_eq!(seen["rows"][0]["faults"], json!([]));
        assert_eq!(seen["rows"][1]["faults"][0]["field"], "quantity");
        assert_eq!(seen["rows"][1]["line"], 3);
    }

    #[test]
    fn the_parts_of_the_examples_come_back_from_their_table() {
        for text in [
            include_str!("../../fixtures/jobs/bin_store.json"),
            include_str!("../../fixtures/jobs/gate_parts.json"),
            include_str!("../../fixtures/jobs/cold_frame_inches.json"),
        ] {
            let job: Value = serde_json::from_str(text).expect("an example is JSON");
            let table = write_csv(&json!({ "job": job, "what": "parts" })).expect("a table");
            let mut bare = job.clone();
            bare["parts"] = json!([]);
            bare["set_outs"] = json!([]);
            // Read where bare numbers are millimetres, since a table may be read into any piece.
            let mut other = bare.clone();
            other["unit"] = "mm".into();
            let seen =
                read_csv(&json!({ "text": table["text"], "job": other })).expect("an answer");
            let rows = seen["rows"].as_array().expect("rows");
            bare["parts"] = rows.iter().map(|row| row["part"].clone()).collect();
            let parts = |job: &Value| {
                let job = examine(&job_file::read_value(job).0).0;
                let parts = job.parts.into_iter();
                let told = parts.map(|part| {
                    (
                        part.label,
                        part.sections,
                        part.length,
                        part.quantity,
                        (part.ends, part.leans),
                        part.fitting,
                    )
                });
                told.collect::<Vec<_>>()
            };
            assert!(!parts(&job).is_empty());
            assert_eq!(parts(&bare), parts(&job));
        }
    }
}
