//! The quick requests, one function each.

use super::quantities;
use super::request::{Reply, fault_reply, field, text};
use super::set_outs::{kinds_reply, part_view, views};
use crate::fault::Fault;
use crate::group::groups;
use crate::io::link::{self, Unread};
#[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
use crate::io::schema;
use crate::io::{job_file, qr};
use crate::job::{Job, Part, examine};
use crate::report::{Name, names};
use serde_json::{Value, json};
use timber::give::Gives;

/// Answers one action; the reply is JSON text.
pub fn answer(
    action: &str,
    request: &Value,
    clock: &crate::patience::Clock,
) -> Result<String, String> {
    match action {
        // The report is the largest reply; it is written straight to text instead of being built in memory as one value.
        "report" => super::planning::joined_report(request, clock),
        #[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
        "answer" => super::others::answer(request, clock),
        _ => small(action, request).map(|reply| reply.to_string()),
    }
}

fn small(action: &str, request: &Value) -> Reply {
    match action {
        "new" => Ok(json!({ "job": new_job() })),
        // The page validates a job by reading it; the schema is for other programs.
        #[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
        "schema" => Ok(json!({ "schema": schema::value() })),
        "read" => Ok(read(field(request, "job")?)),
        "read_csv" => super::tables::read_csv(request),
        "read_prices" => super::tables::read_prices(request),
        "write_csv" => super::tables::write_csv(request),
        "set_out_kinds" => Ok(kinds_reply(
            request.get("imperial") == Some(&Value::Bool(true)),
        )),
        "link" => link(request),
        "job_in_link" => job_in_link(text(request, "fragment")?),
        // The page only ever receives checked plans, so it needs no check.
        #[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
        "check" => super::others::checked(request),
        #[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
        "sheet" => super::others::sheet(request),
        "section_table" => Ok(quantities::table_reply()),
        "quantity_rules" => Ok(quantities::rules_reply(
            request.get("imperial") == Some(&Value::Bool(true)),
        )),
        "picture" => super::picture::picture(request),
        "join" => super::pieces::join(request),
        "keep_sizes" => super::units::keep_sizes(request),
        "take_numbers" => super::units::take_numbers(request),
        "spell_job" => super::units::spell_job(request),
        "spell_boards" => super::units::spell_boards(request),
        "spell_length" => super::units::spell_length(request),
        "kerf" => super::kerf::kerf(request),
        "remaining" => super::work::remaining(request),
        "car" => super::yard::car(request),
        "fresh_mark" => super::yard::fresh_mark(request),
        "boards" => super::shed::boards(request),
        "touched" => super::shed::touched(request),
        "measured" => super::yard::measured(request),
        "finish" => super::work::finish(request),
        _ => Err(format!("there is no action \"{action}\"")),
    }
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

/// The job in the fragment of a link: `{fragment}` gives `{job}`, or `{earlier: true}` for a link made by an earlier version.
fn job_in_link(fragment: &str) -> Reply {
    let text = match link::unpack(fragment) {
        Ok(text) => text,
        Err(Unread::Earlier) => return Ok(json!({ "earlier": true })),
        Err(Unread::Damaged) => return Err("the link is cut short or damaged".into()),
    };
    let job: Value = serde_json::from_str(&text).map_err(|_| "the link carries something else")?;
    Ok(json!({ "job": job }))
}

/// Reads a job as far as possible: its faults, its parts, its groups.
fn read(job: &Value) -> Value {
    let (draft, mut faults) = job_file::read_value(job);
    let (job, more) = examine(&draft);
    faults.extend(more);
    // A part that is faulty has values that stand in for its own, so it counts for nothing.
    let mut counted = job.clone();
    for part in &mut counted.list {
        if own_faults(part, &faults).next().is_some() {
            part.quantity = 0;
        }
    }
    json!({
        "faults": faults.iter().map(fault_reply).collect::<Vec<_>>(),
        "parts": job.list.iter().zip(names(&job)).map(|(part, name)| sound_part_view(&job, part, name, &faults)).collect::<Vec<_>>(),
        "set_outs": views(&job, &faults),
        "quantities": quantities::view(&counted),
        "groups": group_replies(&job, &faults),
        "gives": job.sizes.iter().any(|size| matches!(size.gives, Gives::Between(..))),
    })
}

/// A part as the page shows it, with its faulty fields empty: the values that stand in for them while the job is read are not shown.
fn sound_part_view(job: &Job, part: &Part, name: Name, faults: &[Fault]) -> Value {
    let mut view = part_view(job, part);
    view["key"] = name.key.clone().into();
    view["letter"] = name.short().into();
    view["colour"] = name.colour.into();
    for fault in own_faults(part, faults) {
        view["faulty"] = true.into();
        if let Some(field) = view.get_mut(&fault.place.field) {
            *field = json!("");
        }
    }
    view
}

fn own_faults<'a>(part: &Part, faults: &'a [Fault]) -> impl Iterator<Item = &'a Fault> {
    let row = part.row;
    faults
        .iter()
        .filter(move |fault| fault.place.list == "parts" && row.is_some() && fault.place.row == row)
}

/// The groups, where the job can be planned.
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
