//! From what a calculation yields to a finished set-out: names on the parts, all of them counted, the drawing written.

use super::kind::Sort;
use super::kinds::Kind;
use super::names::{self, Names};
use super::sizes::Sizes;
use super::taken;
use super::worked::{Fact, FactValue, Fill, Hazard, Joint, Misfit, Positions, Slope, Worked};
use crate::fault::ODD_PAIR;
use crate::length::{Length, Shown, Style};
use crate::limits;
use crate::lower::lower;
use crate::money::Money;
use crate::part::{FACES, MadeFrom, Part};
use crate::shown;

/// A set-out, worked out. One with a fault keeps its name and kind and has no parts.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct SetOut {
    /// Its name in the piece.
    pub name: String,
    /// Which calculation it is, as the job file names it.
    pub kind: String,
    /// How many of it are made. The quantities of `parts` and `joints` are for all of them, `fill` is for one.
    pub times: u32,
    /// Its parts.
    pub parts: Vec<Part>,
    /// Running marks, each from its datum.
    pub positions: Vec<Positions>,
    /// Named sizes: its own fields first, then the sizes worked out. Other set-outs refer to them by these names.
    pub facts: Vec<Fact>,
    /// Notes for the person.
    pub notes: Vec<String>,
    /// Its hazards; `cautions` has the words for them.
    pub hazards: Vec<Hazard>,
    /// Where parts meet and are fixed.
    pub joints: Vec<Joint>,
    /// What one of them is filled with.
    pub fill: Option<Fill>,
    /// What else is bought for all of them, and how many of it.
    pub bought: Vec<(u32, String)>,
    /// Width, height and thickness of a piece sawn out of a sheet, where it is one.
    pub sawn: Option<[Length; 3]>,
    /// What its sheets cost, where it has any and a price is given.
    pub sheets_cost: Option<Money>,
    /// Whether its upper face is covered with a sheet off the roll.
    pub covered: bool,
    /// How its top slopes, where it does.
    pub(super) slope: Option<Slope>,
    /// The elevation as SVG, empty where there is nothing to draw.
    pub svg: String,
    /// Its outside sizes and what was added to the sizes given, as one line below its drawing.
    pub makes: String,
    /// Its fields, from which its members follow.
    pub(super) sizes: Option<Sizes>,
}

impl SetOut {
    /// One of its sizes in words: where it is the length of a part, rounded as that is.
    pub fn shown(&self, length: Length, style: Style) -> Shown {
        let mut parts = self.parts.iter();
        let part = parts.find(|part| part.length == length);
        part.map_or_else(|| style.show(length), |part| part.told_length(style))
    }

    /// A named size.
    pub fn length(&self, name: &str) -> Option<Length> {
        let fact = self.facts.iter().find(|fact| fact.name == name)?;
        match fact.value {
            FactValue::Length(length) => Some(length),
            FactValue::Count(_) => None,
        }
    }
}

/// The set-out.
///
/// # Errors
/// A part that is no length, more parts than can be planned, or names for parts that are not there.
pub fn finished(
    row: usize,
    name: &str,
    kind: Kind,
    sizes: Sizes,
    mut worked: Worked,
) -> Result<SetOut, Misfit> {
    Names::read(sizes.text(names::FIELD))?.name(&mut worked)?;
    let times = sizes.count("times").max(1);
    let made_from = sizes.choice("from", MadeFrom::WORDS.map(|(_, from)| from));
    let good_face = sizes.choice("face", FACES.map(|(_, good)| good));
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
        if part.pair && quantity.is_some_and(|quantity| quantity % 2 == 1) {
            return Err(Misfit::new("quantity", ODD_PAIR));
        }
        parts.push(Part {
            label: format!("{name}: {}", part.label),
            quantity: quantity.ok_or_else(|| {
                Misfit::new(
                    "times",
                    "this is more than can be planned at once; make fewer",
                )
            })?,
            from: name.to_owned(),
            made_from,
            good_face,
            ..part
        });
    }
    let mut facts: Vec<Fact> = Vec::new();
    for field in kind.about().all_fields() {
        if !sizes.written.contains(field.field) && !taken::is_taken(kind, &sizes, field.field) {
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
    let mut bought = match bought(sizes.text("bought"))? {
        none if none.is_empty() => worked.bought,
        bought => bought,
    };
    for (count, _) in &mut bought {
        *count = count.saturating_mul(times);
    }
    bought.extend(worked.sheets);
    let mut joints = worked.joints;
    for joint in &mut joints {
        joint.count = joint.count.saturating_mul(times);
    }
    let mut makes = worked.makes;
    if !sizes.stands.on.is_empty() {
        makes += &taken::told(kind, &sizes);
    }
    let title = format!("{name}: {}", lower(kind.about().title));
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
        bought,
        sawn: worked.sawn,
        sheets_cost: worked.sheets_cost,
        covered: sizes.choice("covered", [false, true]),
        slope: worked.slope,
        makes,
        svg: worked
            .drawing
            .svg(&format!("set-out-{row}"), &title, &worked.description),
        sizes: Some(sizes),
    })
}

/// Reads what else is bought, `2 hinges; 1 latch`.
fn bought(text: &str) -> Result<Vec<(u32, String)>, Misfit> {
    let items = text.split(';').map(str::trim);
    let read = |item: &str| {
        let (count, name) = item.split_once(' ')?;
        let (count, name) = (count.parse().ok()?, shown::line(name).trim().to_owned());
        let counts = 1..=limits::PARTS_IN_ALL.most as u32;
        (counts.contains(&count) && !name.is_empty()).then_some((count, name))
    };
    let items: Option<Vec<(u32, String)>> =
        items.filter(|item| !item.is_empty()).map(read).collect();
    items.ok_or_else(|| {
        Misfit::new(
            "bought",
            "write a number and a name for each thing, such as 2 hinges; 1 latch",
        )
    })
}
