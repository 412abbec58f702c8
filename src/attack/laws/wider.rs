//! Laws: the same job with more to choose from, or with less to do. No plan of it costs more.

use crate::dice::Dice;
use crate::jobs::{add_row, millimetres, money, rows};
use serde_json::{Value, json};

fn a_section(dice: &mut Dice, job: &Value) -> Option<Value> {
    let sections = job["sections"].as_array()?;
    let section = sections.get(dice.below(sections.len()))?;
    section.get("name").cloned()
}

pub fn shed_board(dice: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let section = a_section(dice, job)?;
    let row = json!({ "mark": "one more", "section": section, "length": dice.between(500, 2_600).to_string(), "trim": "20",
        "bad": dice.one_of(&["", "310..340", "100..101"]) });
    add_row(&mut other, "shed", row);
    Some(other)
}

/// Whether all lengths of a section have prices; `None` where it has no length. A first length, or a first one without a price, would
/// change which measures count.
fn priced(job: &Value, section: &Value) -> Option<bool> {
    let lines = job["yard"]
        .as_array()?
        .iter()
        .filter(|line| line["section"] == *section);
    let prices: Vec<bool> = lines.map(|line| line.get("price").is_some()).collect();
    (!prices.is_empty()).then(|| prices.iter().all(|&priced| priced))
}

pub fn yard_length(dice: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let section = a_section(dice, job)?;
    let priced = priced(job, &section)?;
    let mut row =
        json!({ "section": section, "length": (1_500 + 300 * dice.between(0, 12)).to_string() });
    if priced {
        row["price"] = money(dice.between(200, 2_000)).into();
    }
    add_row(&mut other, "yard", row);
    Some(other)
}

pub fn counts(dice: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let mut more = false;
    for line in rows(&mut other, "yard") {
        if let Some(count) = line.get("count").and_then(Value::as_i64) {
            more = true;
            if dice.once_in(2) {
                line["count"] = (count + dice.between(0, 2)).into();
            } else {
                line.as_object_mut()?.remove("count");
            }
        }
    }
    more.then_some(other)
}

/// Applies only where every length has a price, or none has: two groups that become one must have had the same measures.
pub fn sections(dice: &mut Dice, job: &Value) -> Option<Value> {
    let names: Vec<&str> = job["sections"]
        .as_array()?
        .iter()
        .filter_map(|section| section["name"].as_str())
        .collect();
    let prices: Vec<Option<bool>> = names
        .iter()
        .map(|&name| priced(job, &name.into()))
        .collect();
    if names.len() < 2
        || prices
            .iter()
            .any(|priced| priced.is_none() || *priced != prices[0])
    {
        return None;
    }
    // Mitred parts must fit the width of each section. A ripped part of either section has its blank
    // to itself, so that it may need more timber than one of a single section.
    let mut other = job.clone();
    for part in rows(&mut other, "parts") {
        let stays = part.get("ends").is_some() || part.get("ripped").is_some();
        if !stays && dice.once_in(2) {
            part["section"] = names.join("; ").into();
        }
    }
    Some(other)
}

pub fn made_from(dice: &mut Dice, job: &Value) -> Option<Value> {
    without(dice, job, "from")
}

pub fn either_face(dice: &mut Dice, job: &Value) -> Option<Value> {
    without(dice, job, "face")
}

/// The job with a field of one of its parts left out.
fn without(dice: &mut Dice, job: &Value, field: &str) -> Option<Value> {
    let mut other = job.clone();
    let parts = rows(&mut other, "parts");
    let at = dice.below(parts.len());
    let part = parts.get_mut(at)?.as_object_mut()?;
    part.remove(field).map(|_| other)
}

pub fn fewer_parts(dice: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let parts = rows(&mut other, "parts");
    let at = dice.below(parts.len());
    // Half of a pair is none.
    if parts.get(at)?.get("hand").is_some() {
        return None;
    }
    let quantity = parts
        .get(at)?
        .get("quantity")?
        .as_i64()
        .filter(|&quantity| quantity > 1)?;
    parts[at]["quantity"] = dice.between(1, quantity - 1).into();
    Some(other)
}

/// Square parts only: a mitred part may not be shorter than its slants.
pub fn shorter_part(dice: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let parts = rows(&mut other, "parts");
    let at = dice.below(parts.len());
    let part = parts
        .get_mut(at)
        .filter(|part| part.get("ends").is_none())?;
    let length = millimetres(part).filter(|&length| length > 150)?;
    part["length"] = (length - dice.between(1, length - 100)).to_string().into();
    Some(other)
}

pub fn thinner_saw(dice: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let kerf: f64 = job["saw"]["kerf"].as_str()?.parse().ok()?;
    // Whether a mitre's cut is shared depends on the kerf too.
    let mitred = rows(&mut other, "parts")
        .iter()
        .any(|part| part.get("ends").is_some());
    if kerf < 2.0 || mitred {
        return None;
    }
    other["saw"]["kerf"] = dice.one_of(&["0", "1", "1.5"]).into();
    Some(other)
}

/// Square parts only: a piece that ends at the yard's cut, which is square, needs no room for the wider cut of a mitre behind its last part.
pub fn vehicle(dice: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    let mut parts = rows(&mut other, "parts").iter();
    if parts.any(|part| part.get("ends").is_some()) {
        return None;
    }
    let carry: i64 = job.get("carry")?.as_str()?.parse().ok()?;
    if dice.once_in(2) {
        other.as_object_mut()?.remove("carry");
    } else {
        other["carry"] = (carry + dice.between(1, 900)).to_string().into();
    }
    Some(other)
}

/// A cut that comes out nearer its reading, or ends that need less off, leave more of both pieces.
pub fn better_yard(dice: &mut Dice, job: &Value) -> Option<Value> {
    job.get("carry")?;
    let mut other = job.clone();
    other[dice.one_of(&["yard_tolerance", "yard_trim"])] = "0".into();
    Some(other)
}

/// Money is the first thing counted, or not at all.
pub fn cheaper(dice: &mut Dice, job: &Value) -> Option<Value> {
    let mut other = job.clone();
    if job["aim"] != "cheapest" {
        return None;
    }
    let lines = rows(&mut other, "yard");
    let at = dice.below(lines.len());
    let line = lines.get_mut(at)?;
    let price: f64 = line.get("price")?.as_str()?.parse().ok()?;
    let minor = (price * 100.0).round() as i64;
    line["price"] = money(dice.between(0, minor)).into();
    Some(other)
}
