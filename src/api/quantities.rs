//! Quantities and common sections for the page, ready to print.

use crate::io::objects::object;
use crate::job::Job;
use crate::length::{Decimal, Length, Style, Unit};
use crate::quantities::{self, RULES, Row, Rule, SectionRow};
use crate::section_table::{Region, SECTIONS, TableRow};
use serde_json::{Map, Value};

/// The quantities of a job besides its lengths, as rows to print.
pub fn view(job: &Job) -> Value {
    let quantities = quantities::work_out(job);
    object!({
        "rows": quantities::rows(job, &quantities).iter().map(row_view).collect::<Vec<_>>(),
        "by_section": quantities::section_rows(job, &quantities).iter().map(section_view).collect::<Vec<_>>(),
    })
}

/// The assumptions that a person may change. `imperial` chooses the usual values.
pub fn rules_reply(imperial: bool) -> Value {
    let rule = |rule: &Rule| {
        object!({
            "field": rule.field,
            "label": rule.label,
            "hint": rule.hint,
            "usual": if imperial { rule.usual_imperial } else { rule.usual },
        })
    };
    object!({ "fields": RULES.iter().map(rule).collect::<Vec<_>>() })
}

/// Common sections, each with the texts of its sides as they are typed.
pub fn table_reply() -> Value {
    object!({ "rows": SECTIONS.iter().map(table_view).collect::<Vec<_>>() })
}

fn row_view(row: &Row) -> Value {
    object!({ "name": row.name, "value": row.value, "basis": row.basis })
}

/// Columns that are of no use are left out: board feet in a metric job.
fn section_view(row: &SectionRow) -> Value {
    let mut view = Map::new();
    view.insert("section".into(), row.section.as_str().into());
    view.insert("parts".into(), row.parts.into());
    view.insert("length".into(), row.length.as_str().into());
    view.insert("spare".into(), row.spare.as_str().into());
    let mass = row.mass.as_deref().unwrap_or("sides unknown");
    view.insert("mass".into(), mass.into());
    if let Some(feet) = &row.board_feet {
        view.insert("board_feet".into(), feet.as_str().into());
    }
    Value::Object(view)
}

fn table_view(row: &TableRow) -> Value {
    let unit = match row.region {
        Region::NorthAmerica => Unit::Inch,
        Region::Europe | Region::Australasia => Unit::Millimetre,
    };
    let style = Style::exact(unit, Decimal::Point);
    let text = |length: Option<Length>| length.map(|length| style.show(length).text);
    object!({
        "name": row.name,
        "thickness": text(row.thickness),
        "width": text(Some(row.width)),
        "cover": text(row.cover),
        "joint": row.joint.word(),
        "region": row.region.name(),
        "imperial": unit == Unit::Inch,
        "source": row.source,
    })
}
