//! How lengths are sold: in packs, at several yards with terms of their own, by the volume of a size.

use super::written::{money, rows};
use crate::dice::Dice;
use serde_json::{Value, json};

/// Packs of some lengths. A job with lengths to carry in two, with posts, or of the least scrap has none, for that is a fault.
pub fn packs(dice: &mut Dice, job: &mut Value) {
    let stands = |part: &Value| part["goes"] == "in the ground";
    let stands = rows(job, "parts").iter().any(stands);
    if stands || job.get("carry").is_some() || job["aim"] == "scrap" {
        return;
    }
    for line in rows(job, "yard") {
        if dice.once_in(2) {
            line["pack"] = dice.between(1, 5).into();
        }
    }
}

/// Up to three yards, with what each asks besides its prices.
pub fn yards(dice: &mut Dice, job: &mut Value) {
    let names = ["mill", "quay", "depot"];
    let names = &names[..dice.between(1, 3) as usize];
    let terms = names.iter().map(|name| {
        let mut terms = json!({ "name": name });
        let mut some = |field: &str, text: String| {
            if dice.once_in(2) {
                terms[field] = text.into();
            }
        };
        some("tax", "20".into());
        some("prices", "without tax".into());
        some("delivery", "35".into());
        some("free_from", "90".into());
        some("trip", "4.50".into());
        some("cut_fee", "1.20".into());
        terms
    });
    let terms: Vec<Value> = terms.collect();
    job["yards"] = terms.into();
    for line in rows(job, "yard") {
        line["yard"] = dice.one_of(names).into();
    }
    if dice.once_in(4) {
        job["buy_at"] = dice.one_of(names).into();
    }
}

/// Prices by the volume of the size that sections are sold as.
pub fn by_volume(dice: &mut Dice, job: &mut Value) {
    for section in rows(job, "sections") {
        if dice.once_in(2) {
            section["sold_as"] = "50 mm x 100 mm".into();
        }
    }
    for line in rows(job, "yard") {
        if line.get("price").is_some() && dice.once_in(2) {
            line["price"] = format!("{} per m3", money(dice.between(30_000, 90_000))).into();
        }
    }
}
