//! From what a calculation yields to a finished set-out: names on the parts, all of them counted, the drawing written.

use super::SetOut;
use super::kind::Sort;
use super::kinds::Kind;
use super::sizes::Sizes;
use super::worked::{Fact, FactValue, Misfit, Worked};
use crate::limits;
use crate::part::Part;

/// The set-out.
///
/// # Errors
/// A part that is no length, or more parts than can be planned.
pub fn finished(
    row: usize,
    name: &str,
    kind: Kind,
    sizes: &Sizes,
    worked: Worked,
) -> Result<SetOut, Misfit> {
    let times = sizes.count("times").max(1);
    let mut parts = Vec::new();
    for part in worked.parts {
        if part.length < limits::PART.least || part.length > limits::PART.most {
            let length = sizes.show(part.length);
            return Err(Misfit::new(
                "",
                format!("the {} would be {length} long; check the sizes", part.label),
            ));
        }
        let quantity = part
            .quantity
            .checked_mul(times)
            .filter(|&quantity| !limits::PARTS_IN_ALL.passed_by(quantity as usize));
        parts.push(Part {
            label: format!("{name}: {}", part.label),
            sections: part.sections,
            length: part.length,
            quantity: quantity.ok_or_else(|| {
                Misfit::new(
                    "times",
                    "this is more than can be planned at once; make fewer",
                )
            })?,
            ends: part.ends,
            fitting: part.fitting,
            from: name.to_owned(),
            row: None,
        });
    }
    let mut facts: Vec<Fact> = Vec::new();
    for field in kind.about().all_fields() {
        if !sizes.written.contains(field.field) {
            continue;
        }
        if let (Sort::Size | Sort::Length, Some(length)) = (field.sort, sizes.given(field.field)) {
            facts.push(Fact {
                name: field.field.replace('_', " "),
                value: FactValue::Length(length),
            });
        }
    }
    facts.extend(worked.facts);
    let mut joints = worked.joints;
    for joint in &mut joints {
        joint.count = joint.count.saturating_mul(times);
    }
    let title = format!("{name}: {}", kind.about().title.to_lowercase());
    Ok(SetOut {
        name: name.to_owned(),
        kind: kind.about().kind.to_owned(),
        times,
        parts,
        positions: worked.positions,
        facts,
        notes: worked.notes,
        hazards: worked.hazards,
        joints,
        fill: worked.fill,
        makes: worked.makes,
        svg: worked
            .drawing
            .svg(&format!("set-out-{row}"), &title, &worked.description),
    })
}
