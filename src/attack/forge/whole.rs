//! Complete arguments, well-formed at every node, in which one step is false.
//!
//! Random changes seldom leave a split with both its sides, or a search with lists of the right length. These arguments do. If a checker
//! left out any sum of a split or of a closed search, one of them would pass.

use super::place::leaf_of;
use super::plans::Base;
use super::{pairs, together};
use crate::dice::Dice;
use serde_json::{Value, json};

/// A tree for a level: a leaf of the proof at hand, or a plain one, split or closed.
pub fn tree(dice: &mut Dice, base: &Base, proof: &Value, levels: &[Value], level: usize) -> Value {
    let known = proof["tree"].as_array().into_iter().flatten();
    let known = known
        .cloned()
        .filter_map(|mut place| leaf_of(&mut place).cloned());
    let known: Vec<Value> = known.filter(|leaf| leaf["splits"] == json!([])).collect();
    let leaf = match known.is_empty() {
        true => {
            json!({ "scale": 1, "parts": vec![0; base.parts], "earlier": vec![0; level], "splits": [] })
        }
        false => dice.one_of(&known),
    };
    if dice.once_in(4) {
        pairs::tree(dice, &leaf)
    } else if dice.once_in(2) {
        split(dice, base, &leaf, levels, level)
    } else {
        closed(dice, base, &leaf, level)
    }
}

/// All plans split by how many boards of a set they use. The side with more is true where the level counts boards. On the side with fewer,
/// parts are worth more than they should be, as far as the split's price allows.
fn split(dice: &mut Dice, base: &Base, leaf: &Value, levels: &[Value], level: usize) -> Value {
    let of_yard: Vec<usize> = (0..base.yard).collect();
    let all: Vec<usize> = (0..base.boards).collect();
    let some: Vec<usize> = all.iter().copied().filter(|_| dice.once_in(2)).collect();
    let boards = dice.one_of(&[of_yard, all, some]);
    let scale = leaf["scale"].as_i64().unwrap_or(1);
    let value = levels[level]["value"].as_i64().unwrap_or(1);
    let at = dice.one_of(&[value - 1, value, 0, 1, 2]).clamp(0, 1_000);
    let times = dice.between(1, 4);
    let mut fewer = leaf.clone();
    multiply(&mut fewer["parts"], times);
    fewer["splits"] = json!([[0, scale.saturating_mul(times - 1)]]);
    let mut more = leaf.clone();
    if dice.once_in(2) {
        multiply(&mut more["parts"], 0);
    }
    more["splits"] = json!([[0, dice.one_of(&[scale, scale.saturating_mul(times), 0])]]);
    json!([{ "split": { "boards": boards, "at": at } }, { "leaf": fewer }, { "leaf": more }])
}

/// A search that settles all plans by one leaf, as if the list had few cuttings or none: one part is worth very much, or all are worth more
/// than they should be.
fn closed(dice: &mut Dice, base: &Base, leaf: &Value, level: usize) -> Value {
    let dear = dice.one_of(&[1, 1 << 20, 1 << 40]);
    let only = dice.below(base.parts);
    let parts: Vec<i64> = (0..base.parts)
        .map(|part| if part == only { dear } else { 0 })
        .collect();
    let mut all = leaf["parts"].clone();
    multiply(&mut all, dice.between(2, 4));
    let limited = dice.one_of(&[0, 1, dear]);
    let twig = json!({
        "scale": if dice.once_in(2) { json!(1) } else { leaf["scale"].clone() },
        "parts": if dice.once_in(2) { json!(parts) } else { all },
        "boards": vec![limited; base.boards],
        "earlier": vec![dice.one_of(&[0, 1, dear]); level],
        "splits": [],
    });
    let search = match dice.once_in(2) {
        true => together::split(dice, base.parts, &twig),
        false => vec![json!({ "leaf": twig })],
    };
    json!([{ "closed": { "leaf": leaf, "search": search } }])
}

fn multiply(prices: &mut Value, times: i64) {
    for price in prices.as_array_mut().into_iter().flatten() {
        *price = price.as_i64().unwrap_or(0).saturating_mul(times).into();
    }
}
