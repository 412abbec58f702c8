//! Makes false proofs from true ones.
//!
//! First a proof is made to claim what the plan needs: its claimed totals become the plan's, and whole levels are taken from other jobs.
//! Then a few places are changed in ways that fooled checkers of such proofs before: prices are scaled or set to the ends of their range,
//! splits share a price, nodes are left out or repeated, lists are reordered, and searches claim to be closed.

use super::pairs;
use super::place::leaf_of;
use super::plans::Base;
use super::{kept, together, whole};
use crate::dice::Dice;
use crate::mutate::{bend, hostile_number, spoil, spoiled_number};
use serde_json::{Value, json};

/// A plan of the job with a proof that is false unless the plan is the best.
pub fn forged(dice: &mut Dice, base: &Base) -> Value {
    // Now and then it is the best plan, to see that the checker accepts something.
    let best = base.plans.len() - 1;
    let mut plan = base.plans[if dice.once_in(12) {
        best
    } else {
        dice.below(best)
    }]
    .clone();
    for index in 0..plan["proofs"].as_array().map_or(0, Vec::len) {
        claim(dice, base, &mut plan["proofs"][index], index);
    }
    if dice.once_in(40) {
        spoil(dice, &mut plan["proofs"]);
    }
    if dice.once_in(60) {
        spoil(dice, &mut plan["boards"]);
    }
    plan
}

/// Gives one group's levels a proof.
fn claim(dice: &mut Dice, base: &Base, own: &mut Value, index: usize) {
    let levels = own["levels"].as_array().cloned().unwrap_or_default();
    if dice.once_in(30) {
        return;
    }
    let mut proofs = Vec::new();
    for level in 0..levels.len() {
        // A level of another job's proof, the same one or another.
        let other = dice.one_of(&base.proofs);
        let from = if dice.once_in(10) {
            dice.below(levels.len())
        } else {
            level
        };
        let known = other[index]["certificate"].as_array();
        let known =
            known.and_then(|known| known.iter().find(|proof| proof["level"] == json!(from)));
        let mut proof = known.cloned().unwrap_or_else(|| empty(level));
        assert_for(dice, (base, index), &mut proof, &levels, level);
        if dice.once_in(3) {
            proof["tree"] = whole::tree(dice, base, &proof, &levels, level);
        } else {
            for _ in 0..dice.one_of(&[0, 0, 1, 1, 2, 4]) {
                lie(dice, &mut proof);
            }
        }
        proofs.push(proof);
        if dice.once_in(25) {
            proofs.push(empty(level));
        }
    }
    if dice.once_in(12) && !proofs.is_empty() {
        let at = dice.below(proofs.len());
        proofs.swap(0, at);
    }
    own["certificate"] = proofs.into();
    if dice.once_in(10) {
        let at = dice.below(levels.len());
        own["levels"]
            .as_array_mut()
            .map(|levels| levels.truncate(at))
            .unwrap_or_default();
    }
    if dice.once_in(15) && !levels.is_empty() {
        let at = dice.below(levels.len());
        let bound = spoiled_number(dice, levels[at]["bound"].as_i64().unwrap_or(0));
        if let Some(level) = own["levels"].get_mut(at) {
            level["bound"] = bound.into();
        }
    }
}

fn empty(level: usize) -> Value {
    json!({ "level": level, "earlier": vec![0; level], "bound": 0, "shown": 0, "lifted": true, "tree": [] })
}

/// Writes into a proof the totals with which its level looks proven.
fn assert_for(
    dice: &mut Dice,
    (base, index): (&Base, usize),
    proof: &mut Value,
    levels: &[Value],
    level: usize,
) {
    let floors: Vec<i64> = (0..levels.len())
        .map(|level| floor(dice, &base.proofs[0][index], level))
        .collect();
    let value = |level: usize| {
        let value = levels[level]["value"].as_i64().unwrap_or(0);
        value.saturating_add(floors[level])
    };
    if dice.once_in(20) {
        return;
    }
    proof["level"] = level.into();
    proof["earlier"] = (0..level).map(value).collect::<Vec<_>>().into();
    // Scrap is claimed as the length used up, which is greater by the parts' lengths.
    let scrap = levels[level]["measure"] == "scrap";
    let beyond = if scrap {
        dice.one_of(&[0, 1 << 20, 1 << 30])
    } else {
        0
    };
    let bound = value(level).saturating_add(beyond);
    proof["bound"] = bound.into();
    proof["shown"] = dice
        .one_of(&[
            bound,
            bound,
            0,
            i64::MIN,
            proof["shown"].as_i64().unwrap_or(0),
        ])
        .into();
    proof["lifted"] = (!dice.once_in(4)).into();
}

/// What a level counts beyond what is told of it, from the figures of the true proof: what may be bought, of what is beyond that; the parts, of scrap.
/// Now and then another.
fn floor(dice: &mut Dice, truth: &Value, level: usize) -> i64 {
    let told = &truth["levels"][level];
    let measure = told["measure"].as_str().unwrap_or_default();
    let is_beyond = measure.ends_with("_beyond");
    if !is_beyond && measure != "scrap" {
        return 0;
    }
    let figures = truth["certificate"].as_array();
    let held = figures.and_then(|figures| {
        figures
            .iter()
            .find_map(|proof| proof["earlier"].get(level)?.as_i64())
    });
    if held.is_none() && !is_beyond {
        return 0;
    }
    let floor = held.unwrap_or(0) - told["value"].as_i64().unwrap_or(0);
    floor + dice.one_of(&[0, 0, 0, 1, -1, 5])
}

/// One change to a proof.
fn lie(dice: &mut Dice, proof: &mut Value) {
    let Some(tree) = proof["tree"].as_array_mut() else {
        return bend(dice, proof);
    };
    if tree.is_empty() || dice.once_in(8) {
        return bend(dice, proof);
    }
    let at = dice.below(tree.len());
    let paired = tree[at].get_mut("paired");
    if let Some(search) = paired.and_then(|paired| paired.get_mut("search")?.as_array_mut())
        && !dice.once_in(4)
    {
        return pairs::lie(dice, search);
    }
    let closed = tree[at].get_mut("closed");
    if let Some(search) = closed.and_then(|closed| closed.get_mut("search")?.as_array_mut())
        && !dice.once_in(4)
        && together::lie(dice, search)
    {
        return;
    }
    if dice.once_in(8) || tree.iter().any(|node| node.get("kept").is_some()) && dice.once_in(3) {
        return kept::lie(dice, tree);
    }
    match dice.below(9) {
        0 => bend(dice, &mut tree[at]),
        1 => drop(tree.remove(at)),
        2 => {
            let again = tree[at].clone();
            tree.insert(dice.below(tree.len()), again);
        }
        3 => tree[at] = another_sort(dice, &tree[at]),
        4 => tree.truncate(at + 1),
        5 => {
            // The bound for fewer boards is claimed for more of them too.
            let split = json!({ "split": { "boards": [dice.below(4)], "at": dice.one_of(&[0_i64, 1, 4_294_967_295]) } });
            tree.insert(at, split);
        }
        _ => prices(dice, &mut tree[at]),
    }
}

/// The same node as if it were settled in another way.
fn another_sort(dice: &mut Dice, place: &Value) -> Value {
    let mut place = place.clone();
    let Some(leaf) = leaf_of(&mut place).cloned() else {
        return place;
    };
    match dice.below(5) {
        0 => json!({ "leaf": leaf }),
        4 => json!({ "paired": { "leaf": leaf, "search": [[1]] } }),
        1 => json!({ "searched": leaf }),
        2 => json!({ "closed": { "leaf": leaf, "search": [] } }),
        _ => {
            let twig = json!({ "leaf": { "scale": 1, "parts": leaf["parts"], "boards": vec![0; dice.below(8)], "earlier": leaf["earlier"], "splits": [] } });
            json!({ "closed": { "leaf": leaf, "search": [twig] } })
        }
    }
}

/// Changes the prices of a leaf: all of a list alike, or one of them.
fn prices(dice: &mut Dice, place: &mut Value) {
    let factor = dice.one_of(&[0, 1, 2, 3, 1_000, 1 << 31, 1 << 62]);
    // A search has leaves of its own.
    let twigs = place
        .get_mut("closed")
        .and_then(|closed| closed.get_mut("search"))
        .and_then(Value::as_array_mut);
    let leaf = match twigs {
        Some(twigs) if !twigs.is_empty() && dice.once_in(2) => {
            let at = dice.below(twigs.len());
            let twig = &mut twigs[at];
            if let Some(split) = twig.get_mut("split") {
                return bend(dice, split);
            }
            twig.get_mut("leaf")
        }
        _ => leaf_of(place),
    };
    let Some(leaf) = leaf else {
        return bend(dice, place);
    };
    let list = dice.one_of(&["parts", "earlier", "boards", "scale", "splits"]);
    match leaf.get_mut(list) {
        Some(Value::Array(prices)) if !prices.is_empty() => {
            let only = dice.once_in(2).then(|| dice.below(prices.len()));
            for (at, price) in prices.iter_mut().enumerate() {
                if only.is_none_or(|only| only == at) {
                    match price.as_i64() {
                        Some(amount) if only.is_none() => {
                            *price = amount.wrapping_mul(factor).into()
                        }
                        Some(amount) => *price = spoiled_number(dice, amount).into(),
                        None => bend(dice, price),
                    }
                }
            }
        }
        Some(Value::Array(prices)) => prices.push(json!([0, hostile_number(dice)])),
        Some(price) => *price = spoiled_number(dice, price.as_i64().unwrap_or(1)).into(),
        None => bend(dice, leaf),
    }
}
