//! The quick requests, one function each.

use super::quantities;
use super::request::{Reply, fault_reply, field, text};
use super::set_outs::{kinds_reply, part_view, views};
use crate::fault::{Fault, Place};
use crate::group::groups;
use crate::io::link::{self, Held, Unread};
use crate::io::objects::object;
#[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
use crate::io::schema;
use crate::io::{job_file, qr};
use crate::job::{Job, Part, examine};
use crate::length::{Reading, read_length};
use crate::limits;
use crate::report::{Name, names};
use order::Map;
use serde_json::Value;
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
        "new" => Ok(object!({ "job": new_job() })),
        // The page validates a job by reading it; the schema is for other programs.
        #[cfg(any(not(target_arch = "wasm32"), feature = "package"))]
        "schema" => Ok(object!({ "schema": schema::value() })),
        "read" => Ok(read(field(request, "job")?, request.get("lengths"))),
        "read_csv" => super::tables::read_csv(request),
        "read_prices" => super::tables::read_prices(request),
        "write_csv" => super::tables::write_csv(request),
        "set_out_kinds" => Ok(kinds_reply(
            request.get("imperial") == Some(&Value::Bool(true)),
        )),
        "link" => link(request),
        "job_in_link" => job_in_link(request),
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
        "in_hand" => super::work::hand(request),
        _ => Err(format!("there is no action \"{action}\"")),
    }
}

fn new_job() -> Value {
    object!({
        "format": job_file::FORMAT, "version": job_file::VERSION, "piece": "", "unit": "mm", "aim": "fewest",
        "saw": { "kerf": "2.4 mm", "keep": "300 mm" },
        "sections": [], "yard": [], "shed": [], "parts": [], "set_outs": [],
    })
}

/// A link to the page at `address` that carries a job, or whatever the page keeps, with its codes or why there are none: `{job, address}` gives
/// `{link, codes, why}`. One code is of the link; several are of links that carry it in parts.
fn link(request: &Value) -> Reply {
    let text_of_job = field(request, "job")?.to_string();
    if limits::LINK.passed_by(text_of_job.len()) {
        return Ok(object!({ "why": limits::LINK.told(text_of_job.len()) }));
    }
    let address = text(request, "address")?;
    let link = format!("{address}#{}", link::pack(&text_of_job));
    let (codes, why) = match qr::svg(&link) {
        Some(code) => (vec![code], None),
        None => match codes_of_parts(&text_of_job, address) {
            Ok(codes) => (codes, None),
            Err(why) => (Vec::new(), Some(why)),
        },
    };
    Ok(object!({ "link": link, "codes": codes, "why": why }))
}

/// The fewest codes that carry a text in parts, or why there are none.
fn codes_of_parts(text: &str, address: &str) -> Result<Vec<String>, String> {
    let fewest = link::weight(text).div_ceil(qr::MOST_BYTES);
    let codes = |of: usize| {
        let parts = link::pack_in_parts(text, u8::try_from(of).ok()?);
        let code = |part: &String| qr::svg(&format!("{address}#{part}"));
        parts.iter().map(code).collect()
    };
    let found = (fewest.max(2)..=limits::CODES.most).find_map(codes);
    found.ok_or_else(|| limits::CODES.told(fewest.max(limits::CODES.most + 1)))
}

/// What is in the fragment of a link: `{fragment}` gives `{job}`, `{part: {number, of, whole}}`, or `{earlier: true}` for a link made by an earlier
/// version. `{parts}`, all fragments of one link in parts, gives `{job}`.
fn job_in_link(request: &Value) -> Reply {
    let damaged = || "the link is cut short or damaged".to_owned();
    let text = match request.get("parts").and_then(Value::as_array) {
        Some(parts) => {
            let part = |part: &Value| match link::unpack(part.as_str()?) {
                Ok(Held::Part(part)) => Some(part),
                _ => None,
            };
            let parts = parts.iter().map(part).collect::<Option<Vec<_>>>();
            parts.and_then(link::joined).ok_or_else(damaged)?
        }
        None => match link::unpack(text(request, "fragment")?) {
            Ok(Held::Text(text)) => text,
            Ok(Held::Part(link::Part {
                number, of, whole, ..
            })) => {
                return Ok(
                    object!({ "part": { "number": number, "of": of, "whole": format!("{whole:08x}") } }),
                );
            }
            Err(Unread::Earlier) => return Ok(object!({ "earlier": true })),
            Err(Unread::Damaged) => return Err(damaged()),
        },
    };
    let job: Value = serde_json::from_str(&text).map_err(|_| "the link carries something else")?;
    Ok(object!({ "job": job }))
}

/// Reads a job as far as possible: its faults, its parts, its groups, and which of some lengths the yard's are.
fn read(job: &Value, lengths: Option<&Value>) -> Value {
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
    object!({
        "faults": faults.iter().map(fault_reply).collect::<Vec<_>>(),
        "parts": job.list.iter().zip(names(&job)).map(|(part, name)| sound_part_view(&job, part, name, &faults)).collect::<Vec<_>>(),
        "set_outs": views(&job, &faults),
        "quantities": quantities::view(&counted),
        "groups": group_replies(&job, &faults),
        "yard": sold(&job, &faults, lengths),
        "gives": job.sizes.iter().any(|size| matches!(size.gives, Gives::Between(..))),
    })
}

/// For each line of the yard which of the lengths it is, each with its unit, and whether its price is per unit.
fn sold(job: &Job, faults: &[Fault], lengths: Option<&Value>) -> Vec<Value> {
    let texts = lengths.and_then(Value::as_array).into_iter().flatten();
    let mut places = Map::new();
    for (place, text) in texts.enumerate() {
        if let Ok(length) = read_length(text.as_str().unwrap_or(""), Reading::default()) {
            places.or_insert_with(length, || place);
        }
    }
    let views = job.yard.iter().enumerate().map(|(row, line)| {
        // A length that is faulty has one that stands in for it.
        let mut faults = faults.iter().map(|fault| &fault.place);
        let is_faulty = faults.any(|place| *place == Place::row("yard", row, "length"));
        let usual = places.get(&line.length).filter(|_| !is_faulty);
        object!({ "usual": usual, "per_unit": line.per.is_some() })
    });
    views.collect()
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
            *field = "".into();
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
        .map(|group| object!({ "sections": names(&group.sections) }))
        .collect()
}
