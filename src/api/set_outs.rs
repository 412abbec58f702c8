//! Set-outs for the page: their forms, and the result of each set-out of a job.

use crate::cautions;
use crate::fault::Fault;
use crate::io::objects::object;
use crate::job::{Fitting, Job, Part, PartEnd, ends_told};
use crate::length::{Decimal, Reading, Style, Unit, exact_text};
use crate::report::{Name, names};
use crate::setout::{Fact, FactValue, Field, Kind, KindInfo, Positions, SetOut, formerly, kinds};
use crate::usual::{self, Usual};
use serde_json::Value;

/// Every kind with its form, and the usual sizes of saw and timber. `imperial` chooses the usual values.
pub fn kinds_reply(imperial: bool) -> Value {
    let field = |kind: &str, field: &'static Field| {
        let kind = Kind::named(kind);
        object!({
            "field": field.field,
            "label": field.label,
            "hint": field.hint,
            "holds": field.sort.word(),
            "choices": field.sort.choices(),
            "formerly": field.sort.choices().unwrap_or_default().iter().filter_map(|word| Some((formerly(word)?, *word))).collect::<Value>(),
            "needed": field.usual == crate::setout::Usual::Needed,
            "of_face": kind.is_some_and(|kind| kind.takes(field.field)),
            "usual": field.usual.text(imperial),
            "in_sight": field.in_sight || field.usual == crate::setout::Usual::Needed,
        })
    };
    let kind = |info: &&'static KindInfo| {
        object!({
            "kind": info.kind,
            "title": info.title,
            "name": info.name,
            "about": info.about,
            "fields": info.all_fields().map(|one| field(info.kind, one)).collect::<Vec<_>>(),
        })
    };
    let reading = Reading {
        unit: if imperial {
            Unit::Inch
        } else {
            Unit::Millimetre
        },
        decimal: Decimal::Point,
    };
    let size = |usual: Usual| exact_text(usual.on(imperial), reading);
    object!({
        "kinds": kinds().iter().map(kind).collect::<Vec<_>>(),
        "usual": {
            "kerf": size(usual::KERF), "keep": size(usual::KEEP), "keep_width": size(usual::KEEP_WIDTH), "trim": size(usual::TRIM), "shed_trim": size(usual::SHED_TRIM),
            "yard_tolerance": size(usual::YARD_TOLERANCE),
        },
    })
}

/// The set-outs of a job, worked out as far as possible, each with its own faults.
pub fn views(job: &Job, faults: &[Fault]) -> Vec<Value> {
    let names = names(job);
    // In the list of the job the parts of all set-outs come last, in their order.
    let made: usize = job.set_outs.iter().map(|set_out| set_out.parts.len()).sum();
    let mut names = names[names.len() - made..].iter();
    let set_outs = job.set_outs.iter().enumerate();
    set_outs
        .map(|(row, set_out)| view(job, (row, set_out), &mut names, faults))
        .collect()
}

/// `names` gives the names of its parts next.
fn view<'n>(
    job: &Job,
    (row, set_out): (usize, &SetOut),
    names: &mut impl Iterator<Item = &'n Name>,
    faults: &[Fault],
) -> Value {
    let named = |(part, name): (&Part, &Name)| {
        let mut view = part_view(job, part);
        view["letter"] = name.short().into();
        view
    };
    let style = job.style();
    let own = faults
        .iter()
        .filter(|fault| fault.place.list == "set_outs" && fault.place.row == Some(row));
    object!({
        "name": set_out.name,
        "kind": set_out.kind,
        "times": set_out.times,
        "svg": set_out.svg,
        "makes": set_out.makes,
        "facts": set_out.facts.iter().map(|fact| fact_view(set_out, style, fact)).collect::<Vec<_>>(),
        "parts": set_out.parts.iter().zip(names).map(named).collect::<Vec<_>>(),
        "positions": set_out.positions.iter().map(|positions| positions_view(style, positions)).collect::<Vec<_>>(),
        "notes": set_out.notes,
        "cautions": cautions::for_set_out(set_out, &job.sections, style),
        "sawn": set_out.sawn.map(|[wide, high, thick]| object!({
            "width": style.show(wide).text, "height": style.show(high).text, "thickness": style.show(thick).text,
        })),
        "faults": own.map(|fault| object!({ "field": fault.place.field, "message": fault.kind.to_string() })).collect::<Vec<_>>(),
    })
}

/// A part for a table: its texts ready to print.
pub fn part_view(job: &Job, part: &Part) -> Value {
    let sections = part
        .sections
        .iter()
        .filter_map(|&section| job.sections.get(section));
    object!({
        "label": part.label,
        "section": sections.map(|section| section.name.as_str()).collect::<Vec<_>>().join("; "),
        "length": part.told_length(job.style()).told(),
        "quantity": part.quantity,
        "ends": ends_told(part, job.decimal()),
        "square": part.ends.iter().all(|end| *end == PartEnd::Square),
        "angled": !part.ends.contains(&PartEnd::Square),
        "measured": part.fitting == Fitting::Between,
        "over": part.told_over(job.style()),
        "also": part.told_also(job.decimal()),
        "wanted": job.told_wanted(part),
        "ripped": part.told_rip(job.style()),
        "from": part.from,
        "row": part.row,
    })
}

fn fact_view(set_out: &SetOut, style: Style, fact: &Fact) -> Value {
    let (value, rounded) = match fact.value {
        FactValue::Length(length) => {
            let shown = set_out.shown(length, style);
            (shown.text, shown.rounded)
        }
        FactValue::Count(count) => (count.to_string(), false),
    };
    object!({ "name": fact.name, "value": value, "rounded": rounded })
}

fn positions_view(style: Style, positions: &Positions) -> Value {
    let marks = positions.marks.iter().map(|mark| {
        let shown = style.show(mark.at);
        object!({ "label": mark.label, "reading": shown.text, "rounded": shown.rounded })
    });
    object!({ "title": positions.title, "datum": positions.datum, "marks": marks.collect::<Vec<_>>() })
}
