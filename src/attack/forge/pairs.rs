//! Searches over pairs of parts: true ones of jobs of one length, and what may be false of one.

use crate::dice::Dice;
use crate::mutate::spoiled_number;
use lengthwise::certificate::{Certificate, LevelProof};
use lengthwise::group::groups;
use lengthwise::io::plan_file;
use lengthwise::job::Job;
use lengthwise::plan::{Level, Measure, Plan, Proof};
use lengthwise::solve::{Watch, proof_by_pairs};
use serde_json::{Value, json};

/// Nodes of a search that is forged.
const NODES: usize = 60;

struct Forever;

impl Watch for Forever {
    fn expired(&mut self) -> bool {
        false
    }
}

/// A job of one length in any number, with parts near halves, thirds and so on of it.
pub fn job(dice: &mut Dice) -> Value {
    let length = 60 * dice.between(10, 60);
    let parts: Vec<Value> = (0..dice.between(2, 6))
        .map(|row| {
            let part = length / dice.between(2, 7) + dice.one_of(&[-20, -3, 0, 0, 1, 40]);
            json!({ "label": format!("p{row}"), "length": part.to_string(), "quantity": dice.between(1, 5) })
        })
        .collect();
    json!({
        "format": "lengthwise-job", "version": 1, "unit": "mm", "aim": "fewest",
        "saw": { "kerf": dice.one_of(&["0", "0", "2.4"]), "keep": "300" },
        "sections": [{ "name": "post", "trim": "0" }],
        "yard": [{ "length": length.to_string(), "price": "7" }], "shed": [], "parts": parts,
    })
}

/// The proofs of a plan with those by pairs in place of the first level's, where they can be had.
pub fn proofs(job: &Job, plan: &Plan) -> Option<Value> {
    let mut proofs = Vec::new();
    for (group, proof) in groups(job).iter().zip(&plan.proofs) {
        let &Level { measure, value, .. } = proof.levels.first()?;
        if measure != Measure::Bought {
            return None;
        }
        let branch = proof_by_pairs(&group.problem, value - 1, NODES, &mut Forever)?;
        let certificate = Certificate {
            levels: vec![LevelProof {
                level: 0,
                earlier: Vec::new(),
                bound: value,
                shown: value,
                lifted: true,
                tree: vec![branch],
            }],
        };
        proofs.push(Proof {
            certificate: Some(group.certificate_of_job(job, &certificate)),
            ..proof.clone()
        });
    }
    let boards = Vec::new();
    Some(plan_file::write_value(&Plan { boards, proofs })["proofs"].clone())
}

/// A search whose nodes are well-formed, from the prices of a leaf.
pub fn tree(dice: &mut Dice, leaf: &Value) -> Value {
    let prices = leaf["parts"].as_array().into_iter().flatten();
    let prices: Vec<i64> = prices.map(|price| price.as_i64().unwrap_or(0)).collect();
    let scale = leaf["scale"].as_i64().unwrap_or(1);
    // Figures of the greatest size are refused, so they are made smaller.
    let by = dice.one_of(&[1, 1 << 20]).min(scale).max(1);
    let prices = prices.iter().map(|price| price / by).collect();
    let mut search = Vec::new();
    let decisions = dice.below(5);
    grow(dice, (scale / by).max(1), prices, decisions, &mut search);
    json!([{ "paired": { "leaf": leaf, "search": search } }])
}

fn grow(
    dice: &mut Dice,
    scale: i64,
    prices: Vec<i64>,
    decisions: usize,
    search: &mut Vec<Vec<i64>>,
) {
    if decisions == 0 || prices.is_empty() {
        let times = dice.one_of(&[1, 1, 1, 2, 3]);
        let dear = dice.below(prices.len() + 1);
        let prices = prices
            .iter()
            .enumerate()
            .map(|(at, price)| match at == dear {
                true => price.saturating_mul(times),
                false => *price,
            });
        search.push([scale].into_iter().chain(prices).collect());
        return;
    }
    let (one, other) = (dice.below(prices.len()), dice.below(prices.len()));
    search.push(vec![0, one as i64, other as i64]);
    let left = dice.below(decisions);
    let mut together = prices.clone();
    together.push(
        prices[one]
            .saturating_add(prices[other])
            .saturating_add(dice.between(0, 1)),
    );
    grow(dice, scale, together, left, search);
    grow(dice, scale, prices, decisions - 1 - left, search);
}

/// Changes a search over pairs.
pub fn lie(dice: &mut Dice, search: &mut Vec<Value>) {
    if search.is_empty() {
        return search.push(json!([1, 1]));
    }
    let at = dice.below(search.len());
    let is_split = search[at]
        .as_array()
        .is_some_and(|figures| figures.len() == 3)
        && search[at][0] == 0;
    match dice.below(8) {
        // A node is missing, is there twice, or the list ends.
        0 => drop(search.remove(at)),
        1 => search.insert(at, search[at].clone()),
        2 => search.truncate(at + 1),
        // The sides of a decision change places.
        3 if is_split => {
            let (first, second) = (end(search, at + 1), end(search, end(search, at + 1)));
            let first = first - at - 1;
            search[at + 1..second].rotate_left(first);
        }
        // The same decision again on both its sides, or a block with itself.
        4 if is_split => {
            let again = search[at].clone();
            search.insert(at + 1, again.clone());
            let second = end(search, at + 1).min(search.len());
            search.insert(second, again);
        }
        5 if is_split => search[at][1] = search[at][2].clone(),
        // More nodes than are read.
        6 if dice.once_in(20) => {
            let many = vec![search[at].clone(); (2 << 20) / (4 + search[at].to_string().len())];
            search.splice(at..at, many);
        }
        _ => {
            let figures = search[at].as_array_mut();
            for figure in figures.into_iter().flatten() {
                if dice.once_in(3) {
                    *figure = spoiled_number(dice, figure.as_i64().unwrap_or(0)).into();
                }
            }
        }
    }
}

/// Where the nodes below one end.
fn end(search: &[Value], from: usize) -> usize {
    let (mut at, mut missing) = (from, 1);
    while missing > 0 && at < search.len() {
        missing = if search[at][0] == 0 {
            missing + 1
        } else {
            missing - 1
        };
        at += 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::planned;
    use lengthwise::check::check;
    use lengthwise::planner::Planned;

    #[test]
    fn a_true_search_is_believed_and_one_whose_sides_changed_places_is_refused() {
        // A published problem that five lengths would do for in fractions and six do: 3 halves, 5 thirds and 9 fifths, tenfold.
        let job = json!({ "format": "lengthwise-job", "saw": { "kerf": "0" }, "sections": [{ "name": "post", "trim": "0" }],
            "yard": [{ "length": "300" }], "parts": [
                { "label": "a", "length": 150, "quantity": 3 }, { "label": "b", "length": 100, "quantity": 5 },
                { "label": "c", "length": 60, "quantity": 9 }] });
        let sound = planned::read(&job).expect("a sound job");
        let Planned::Found(plan) = planned::plan(&sound, planned::ASKS, &mut |_| {}) else {
            panic!("there is a plan")
        };
        let proofs = proofs(&sound, &plan).expect("a proof by pairs");
        let mut written = plan_file::write_value(&plan);
        written["proofs"] = proofs;
        let read = |written: &Value| plan_file::read_value(written).expect("a plan file");
        let checked = check(&sound, read(&written)).expect("the figures hold");
        assert!(checked.groups()[0].levels[0].is_shown());
        let paired = &mut written["proofs"][0]["certificate"][0]["tree"][0]["paired"];
        let search = paired["search"].as_array_mut().expect("a search");
        assert_eq!(search[0][0], 0, "a decision");
        let second = end(search, 1);
        assert_eq!(end(search, second), search.len());
        let first = second - 1;
        search[1..].rotate_left(first);
        assert!(check(&sound, read(&written)).is_err());
    }
}
