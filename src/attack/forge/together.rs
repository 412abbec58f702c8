//! Searches over listed cuttings that split on pairs of parts: jobs whose scrap needs such, and what may be false of one.

use crate::dice::Dice;
use crate::mutate::spoiled_number;
use serde_json::{Value, json};

/// A job of few parts and lengths, with some boards in the shed, whose scrap is to be least at once or last.
pub fn job(dice: &mut Dice) -> Value {
    let rows = |dice: &mut Dice, least, most| (0..dice.between(least, most)).collect::<Vec<_>>();
    let yard: Vec<Value> = rows(dice, 1, 2)
        .iter()
        .map(|row| json!({ "length": (2_400 + 1_200 * row).to_string(), "price": (6 + 3 * row).to_string() }))
        .collect();
    let shed: Vec<Value> = rows(dice, 0, 3)
        .iter()
        .map(|row| json!({ "label": format!("s{row}"), "length": dice.between(700, 2_200).to_string() }))
        .collect();
    // Of few parts splits on offcuts often leave nothing to a search; of more it splits on pairs.
    let (most, times) = dice.one_of(&[(6, 5), (12, 8)]);
    let parts: Vec<Value> = rows(dice, 3, most)
        .iter()
        .map(|row| json!({ "label": format!("p{row}"), "length": dice.between(250, 1_250).to_string(), "quantity": dice.between(1, times) }))
        .collect();
    json!({
        "format": "lengthwise-job", "version": 1, "unit": "mm", "aim": dice.one_of(&["scrap", "scrap", "cheapest"]),
        "saw": { "kerf": dice.one_of(&["0", "3"]), "keep": dice.one_of(&["300", "9000"]) },
        "sections": [{ "name": "post", "trim": "0" }], "yard": yard, "shed": shed, "parts": parts,
    })
}

/// A split on a pair above a leaf, in a search that is that leaf alone. The side with more is settled by the price of the split, the other by parts
/// that are worth more than they should be, as far as that price allows.
pub fn split(dice: &mut Dice, parts: usize, leaf: &Value) -> Vec<Value> {
    let pair = [dice.below(parts), dice.below(parts)];
    let scale = leaf["scale"].as_i64().unwrap_or(1);
    let price = |dice: &mut Dice| {
        let times = dice.one_of(&[0, 1, 2, 3, 1_000]);
        json!([[0, scale.saturating_mul(times)]])
    };
    let (mut fewer, mut more) = (leaf.clone(), leaf.clone());
    let times = dice.between(1, 4);
    for part in fewer["parts"].as_array_mut().into_iter().flatten() {
        *part = part.as_i64().unwrap_or(0).saturating_mul(times).into();
    }
    fewer["splits"] = price(dice);
    more["splits"] = price(dice);
    let at = dice.one_of(&[0, 0, 1, 2, 5]);
    vec![
        json!({ "pair": { "parts": pair, "at": at } }),
        json!({ "leaf": fewer }),
        json!({ "leaf": more }),
    ]
}

/// Changes a search that splits on pairs; false where it does not.
pub fn lie(dice: &mut Dice, search: &mut Vec<Value>) -> bool {
    let pairs = (0..search.len()).filter(|at| search[*at].get("pair").is_some());
    let pairs: Vec<usize> = pairs.collect();
    if pairs.is_empty() {
        return false;
    }
    let at = dice.one_of(&pairs);
    let second = end(search, at + 1).min(search.len());
    let after = end(search, second).min(search.len());
    match dice.below(7) {
        // The sides change places, one stands for both, or one is missing.
        0 => search[at + 1..after].rotate_left(second - at - 1),
        1 => {
            let first = search[at + 1..second].to_vec();
            search.splice(second..after, first);
        }
        2 => drop(search.drain(second..after)),
        // Another number of boards, or another pair.
        3 => {
            let boards = &mut search[at]["pair"]["at"];
            let told = boards.as_i64().unwrap_or(0);
            *boards = (told + dice.one_of(&[-1, 1])).max(0).into();
        }
        4 => {
            let part = &mut search[at]["pair"]["parts"][dice.below(2)];
            *part = dice.below(7).into();
        }
        // The same split again above itself.
        5 => search.insert(at, search[at].clone()),
        // Prices of splits in the leaves below it.
        _ => {
            let leaves = search[at + 1..after].iter_mut();
            let splits = leaves.filter_map(|twig| twig.get_mut("leaf")?["splits"].as_array_mut());
            for price in splits.flatten() {
                if !dice.once_in(3) {
                    continue;
                }
                let number = dice.below(2);
                let told = price[number].as_i64().unwrap_or(0);
                price[number] = match number {
                    0 => (told + dice.one_of(&[-1, 1])).max(0).into(),
                    _ => spoiled_number(dice, told).into(),
                };
            }
        }
    }
    true
}

/// Where the nodes below one end.
fn end(search: &[Value], from: usize) -> usize {
    let (mut at, mut missing) = (from, 1);
    while missing > 0 && at < search.len() {
        missing = match search[at].get("leaf") {
            None => missing + 1,
            Some(_) => missing - 1,
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
    use lengthwise::io::plan_file;
    use lengthwise::planner::Planned;

    /// Jobs that their planner proves by splits on pairs, the plans as they are written, and the level and node.
    fn told() -> Vec<(lengthwise::job::Job, Value, [usize; 2])> {
        let mut found = Vec::new();
        for seed in 0..400 {
            let job = job(&mut Dice::new(seed));
            let Ok(sound) = planned::read(&job) else {
                continue;
            };
            let Planned::Found(plan) = planned::plan(&sound, planned::ASKS, &mut |_| {}) else {
                continue;
            };
            let written = plan_file::write_value(&plan);
            let levels = written["proofs"][0]["certificate"].as_array();
            for (level, proof) in levels.into_iter().flatten().enumerate() {
                // What is not proven whole hangs on its other nodes.
                let told =
                    &written["proofs"][0]["levels"][proof["level"].as_u64().unwrap_or(0) as usize];
                if told["value"] != told["bound"] {
                    continue;
                }
                let tree = proof["tree"].as_array().into_iter().flatten();
                for (node, branch) in tree.enumerate() {
                    let search = branch["closed"]["search"].as_array();
                    let of_pairs = |twig: &Value| twig.get("pair").is_some();
                    if search.is_some_and(|search| of_pairs(&search[0])) {
                        found.push((sound.clone(), written.clone(), [level, node]));
                    }
                }
            }
        }
        found
    }

    #[test]
    fn true_searches_are_believed_and_ones_whose_sides_changed_places_are_not() {
        let (mut refused, told) = (0, told());
        for (job, mut written, [level, node]) in told {
            let read = |written: &Value| plan_file::read_value(written).expect("a plan file");
            check(&job, read(&written)).expect("the figures hold");
            let closed = &mut written["proofs"][0]["certificate"][level]["tree"][node]["closed"];
            let search = closed["search"].as_array_mut().expect("a search");
            let second = end(search, 1);
            assert_eq!(end(search, second), search.len());
            search[1..].rotate_left(second - 1);
            // Where each side is settled without the price of the split, both stay true.
            refused += usize::from(check(&job, read(&written)).is_err());
        }
        assert!(refused > 0, "no search splits on pairs");
    }
}
