//! Splits on how many offcuts are kept: what may be false of one.

use crate::dice::Dice;
use serde_json::{Value, json};

/// Changes a split on offcuts in a tree, or puts one into it.
pub fn lie(dice: &mut Dice, tree: &mut Vec<Value>) {
    let splits = (0..tree.len()).filter(|at| tree[*at].get("kept").is_some());
    let splits: Vec<usize> = splits.collect();
    if splits.is_empty() || dice.once_in(6) {
        let at = dice.below(tree.len());
        let (boards, most) = ([dice.below(4)], dice.one_of(&[0_i64, 1, 4_294_967_295]));
        let split = json!({ "kept": { "boards": boards, "at": most } });
        // A side of its own, or the next node for both.
        let side = tree[at].clone();
        tree.insert(at, split);
        if dice.once_in(2) {
            tree.insert(at + 1, side);
        }
        return;
    }
    let at = dice.one_of(&splits);
    let second = end(tree, at + 1);
    let after = end(tree, second);
    match dice.below(7) {
        // The sides change places, one stands for both, or one is missing.
        0 => tree[at + 1..after].rotate_left(second - at - 1),
        1 => {
            let first = tree[at + 1..second].to_vec();
            tree.splice(second..after, first);
        }
        2 => drop(tree.drain(second..after)),
        // Another number of offcuts.
        3 => {
            let most = &mut tree[at]["kept"]["at"];
            let told = most.as_i64().unwrap_or(0);
            *most = (told + dice.one_of(&[-1, 1])).max(0).into();
        }
        // Other boards.
        4 => {
            if let Some(boards) = tree[at]["kept"]["boards"].as_array_mut() {
                match dice.below(3) {
                    0 if !boards.is_empty() => drop(boards.remove(dice.below(boards.len()))),
                    1 => boards.push(dice.below(6).into()),
                    _ => *boards = vec![dice.below(4).into()],
                }
            }
        }
        // Boards counted for offcuts.
        5 => tree[at] = json!({ "split": tree[at]["kept"] }),
        // How many offcuts a cutting keeps, in the searches below it.
        _ => {
            let searches = tree[at + 1..after].iter_mut();
            let searches =
                searches.filter_map(|node| node.get_mut("closed")?["search"].as_array_mut());
            for split in searches.flatten().filter_map(|twig| twig.get_mut("split")) {
                if dice.once_in(3) {
                    split["kept"] = dice.one_of(&[json!(0), json!(1), json!(2), Value::Null]);
                }
            }
        }
    }
}

/// Where the nodes below one end.
fn end(tree: &[Value], from: usize) -> usize {
    let (mut at, mut missing) = (from.min(tree.len()), 1);
    while missing > 0 && at < tree.len() {
        let splits = tree[at].get("split").or(tree[at].get("kept")).is_some();
        missing = if splits { missing + 1 } else { missing - 1 };
        at += 1;
    }
    at
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::forge::together::job;
    use crate::planned;
    use lengthwise::check::check;
    use lengthwise::io::plan_file;
    use lengthwise::planner::Planned;

    /// A job that its planner proves by splits on offcuts, its plan as it is written, and the level and the node.
    fn told() -> (lengthwise::job::Job, Value, [usize; 2]) {
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
                let tree = proof["tree"].as_array().into_iter().flatten();
                let told =
                    &written["proofs"][0]["levels"][proof["level"].as_u64().unwrap_or(0) as usize];
                let node = tree.clone().position(|node| node.get("kept").is_some());
                if let Some(node) = node.filter(|_| told["value"] == told["bound"]) {
                    return (sound, written.clone(), [level, node]);
                }
            }
        }
        panic!("no tree splits on offcuts")
    }

    #[test]
    fn a_true_split_on_offcuts_is_believed_and_one_whose_sides_changed_places_is_not() {
        let (job, mut written, [level, node]) = told();
        let read = |written: &Value| plan_file::read_value(written).expect("a plan file");
        check(&job, read(&written)).expect("the figures hold");
        let tree = &mut written["proofs"][0]["certificate"][level]["tree"];
        let tree = tree.as_array_mut().expect("a tree");
        let second = end(tree, node + 1);
        let after = end(tree, second);
        tree[node + 1..after].rotate_left(second - node - 1);
        assert!(check(&job, read(&written)).is_err());
    }
}
