//! The quick questions, one function each.

use super::quantities;
use super::set_outs::{kinds_reply, part_view, views};
use crate::fault::Fault;
use crate::group::groups;
use crate::io::link::{self, Unread};
use crate::io::{job_file, qr, schema};
use crate::job::{Fitting, Job, Part, PartDraft, PartEnd, examine};
use serde_json::{Value, json};

pub type Reply = Result<Value, String>;

/// Answers one action; the reply is JSON text.
pub fn answer(
    action: &str,
    request: &Value,
    clock: &crate::patience::Clock,
) -> Result<String, String> {
    match action {
        // The largest reply of all is never one value in memory.
        "report" => super::planning::joined_report(request, clock),
        _ => small(action, request).map(|reply| reply.to_string()),
    }
}

fn small(action: &str, request: &Value) -> Reply {
    match action {
        "new" => Ok(json!({ "job": new_job() })),
        "schema" => Ok(json!({ "schema": schema::value() })),
        "read" => Ok(read(field(request, "job")?)),
        "read_csv" => super::tables::read_csv(request),
        "write_csv" => super::tables::write_csv(request),
        "set_out_kinds" => Ok(kinds_reply(
            request.get("imperial") == Some(&Value::Bool(true)),
        )),
        "link" => link(request),
        "job_in_link" => job_in_link(text(request, "fragment")?),
        "check" => super::planning::checked(request),
        "section_table" => Ok(quantities::table_reply()),
        "quantity_rules" => Ok(quantities::rules_reply(
            request.get("imperial") == Some(&Value::Bool(true)),
        )),
        "join" => super::pieces::join(request),
        "keep_sizes" => super::units::keep_sizes(request),
        "take_numbers" => super::units::take_numbers(request),
        "spell_job" => super::units::spell_job(request),
        "spell_boards" => super::units::spell_boards(request),
        "spell_length" => super::units::spell_length(request),
        "remaining" => super::work::remaining(request),
        "car" => super::yard::car(request),
        "fresh_mark" => super::yard::fresh_mark(request),
        "measured" => super::yard::measured(request),
        "finish" => super::work::finish(request),
        _ => Err(format!("there is no action \"{action}\"")),
    }
}

pub fn field<'a>(request: &'a Value, name: &str) -> Result<&'a Value, String> {
    request
        .get(name)
        .ok_or_else(|| format!("the request has no \"{name}\""))
}

pub fn text<'a>(request: &'a Value, name: &str) -> Result<&'a str, String> {
    field(request, name)?
        .as_str()
        .ok_or_else(|| format!("\"{name}\" should be a text"))
}

fn new_job() -> Value {
    json!({
        "format": job_file::FORMAT, "version": job_file::VERSION, "piece": "", "unit": "mm", "aim": "fewest",
        "saw": { "kerf": "2.4 mm", "keep": "300 mm" },
        "sections": [], "yard": [], "shed": [], "parts": [], "set_outs": [],
    })
}

/// A link to the page at `address` that carries a job, with its code or why there is none: `{job, address}` gives `{link, svg, why}`.
fn link(request: &Value) -> Reply {
    let fragment = link::pack(&field(request, "job")?.to_string());
    let link = format!("{}#{fragment}", text(request, "address")?);
    let (svg, why) = match qr::svg(&link) {
        Ok(svg) => (Some(svg), None),
        Err(why) => (None, Some(why)),
    };
    Ok(json!({ "link": link, "svg": svg, "why": why }))
}

/// The job that the fragment of a link carries: `{fragment}` gives `{job}`, or `{earlier: true}` for a link of an earlier version.
fn job_in_link(fragment: &str) -> Reply {
    let text = match link::unpack(fragment) {
        Ok(text) => text,
        Err(Unread::Earlier) => return Ok(json!({ "earlier": true })),
        Err(Unread::Damaged) => return Err("the link is cut short or damaged".into()),
    };
    let job: Value = serde_json::from_str(&text).map_err(|_| "the link carries something else")?;
    Ok(json!({ "job": job }))
}

/// Reads a job as far as it goes: its faults, its parts, its groups.
fn read(job: &Value) -> Value {
    let (draft, mut faults) = job_file::read_value(job);
    let (job, more) = examine(&draft);
    faults.extend(more);
    json!({
        "faults": faults.iter().map(fault_reply).collect::<Vec<_>>(),
        "parts": job.parts.iter().map(|part| sound_part_view(&job, part, &faults)).collect::<Vec<_>>(),
        "set_outs": views(&job, &faults),
        "quantities": quantities::view(&job),
        "groups": group_replies(&job, &faults),
    })
}

/// A part whose faulty fields are left empty: what stands in for them while the job is read is nobody's size.
fn sound_part_view(job: &Job, part: &Part, faults: &[Fault]) -> Value {
    let mut view = part_view(job, part);
    let own = faults.iter().filter(|fault| {
        fault.place.list == "parts" && part.row.is_some() && fault.place.row == part.row
    });
    for fault in own {
        if let Some(field) = view.get_mut(&fault.place.field) {
            *field = json!("");
        }
    }
    view
}

/// A fault as the page is told of it.
pub fn fault_reply(fault: &Fault) -> Value {
    json!({
        "list": fault.place.list,
        "row": fault.place.row,
        "field": fault.place.field,
        "message": fault.kind.to_string(),
        "text": fault.to_string(),
    })
}

/// Groups are only told of where the job can be planned.
fn group_replies(job: &Job, faults: &[Fault]) -> Vec<Value> {
    if !faults.is_empty() {
        return Vec::new();
    }
    let names = |sections: &[usize]| -> Vec<&str> {
        sections
            .iter()
            .map(|&section| job.sections[section].name.as_str())
            .collect()
    };
    groups(job)
        .iter()
        .map(|group| json!({ "sections": names(&group.sections) }))
        .collect()
}

/// The ends of a part in words a parts table reads back.
pub fn ends_text(ends: &[PartEnd; 2]) -> String {
    let word = |end: &PartEnd| match end {
        PartEnd::Square => "square".to_owned(),
        PartEnd::Mitre(angle) => angle.degrees(),
    };
    if ends[0] == ends[1] {
        word(&ends[0])
    } else {
        format!("{}; {}", word(&ends[0]), word(&ends[1]))
    }
}

pub fn part_row(part: &PartDraft) -> Value {
    json!({
        "label": part.label, "section": part.section, "length": part.length, "quantity": part.quantity, "ends": part.ends, "goes": part.goes,
    })
}

/// A part with its texts written so that they read back exactly.
pub fn part_draft(job: &Job, part: &Part) -> PartDraft {
    let sections: Vec<&str> = part
        .sections
        .iter()
        .filter_map(|&section| job.sections.get(section))
        .map(|section| section.name.as_str())
        .collect();
    PartDraft {
        label: Some(part.label.clone()),
        section: Some(sections.join("; ")),
        length: Some(crate::length::exact_text(part.length, job.reading)),
        quantity: Some(part.quantity.to_string()),
        ends: Some(ends_text(&part.ends)),
        goes: (part.fitting != Fitting::Free).then(|| part.fitting.word().to_owned()),
    }
}
