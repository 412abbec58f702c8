//! Splits on how many offcuts are kept, told a second time: each leaf is added up over every choice of parts, its offcut kept or given up.

use super::scrap_first::{KERF, LINES, PARTS, SHED, scrap_first, used};
use super::{MM, of_one_level, overstated};
use crate::laws::{job, some};
use crate::lie::{Lie, Misshape, Spot};
use proof::certificate::{Branch, Leaf, LevelProof};
use timber::job::Job;
use timber::plan::Measure;

/// A split on the way: its boards, whether it counts their offcuts, the number and whether it is on the side of more.
type Split = (&'static [usize], bool, i64, bool);

/// What a leaf shows by the head of [`proof::certificate`], and whether a board without limit is worth more than its charge.
fn told(leaf: &Leaf, way: &[Split], keep: i64) -> i64 {
    let mut sum = 3 * leaf.parts[0] + 2 * leaf.parts[1];
    let signed = |more: bool, price: i64| if more { -price } else { price };
    for &(split, price) in &leaf.splits {
        let (_, _, at, more) = way[split];
        sum -= signed(more, price) * (at + i64::from(more));
    }
    let boards = LINES.iter().map(|&(length, _, supply)| (length, supply));
    for (index, (length, supply)) in boards.chain([(SHED, 1)]).enumerate() {
        let charged = |offcuts: bool| {
            let splits = leaf.splits.iter();
            let own = splits
                .filter(|(split, _)| way[*split].0.contains(&index) && way[*split].1 == offcuts);
            own.map(|&(split, price)| signed(way[split].3, price))
                .sum::<i64>()
        };
        let mut worth = i64::MIN;
        for counts in (0..=3).flat_map(|one| (0..=2).map(move |other| [one, other])) {
            let Some(used) = used(length, counts, keep).filter(|_| counts != [0, 0]) else {
                continue;
            };
            let parts = counts[0] * leaf.parts[0] + counts[1] * leaf.parts[1];
            let given_up = parts - leaf.scale * length * MM;
            worth = worth.max(given_up);
            if used < length {
                worth = worth.max(parts - leaf.scale * used * MM - charged(true));
            }
        }
        sum -= supply * (worth - charged(false)).max(0);
    }
    // Rounded up.
    sum.div_euclid(leaf.scale) + i64::from(sum.rem_euclid(leaf.scale) > 0)
}

fn claim(tree: Vec<Branch>) -> LevelProof {
    LevelProof {
        level: 0,
        earlier: Vec::new(),
        bound: 1 << 40,
        shown: 1 << 40,
        lifted: false,
        tree,
    }
}

fn split(way: &Split) -> Branch {
    let (boards, at) = (way.0.to_vec(), way.2 as u32);
    match way.1 {
        true => Branch::Kept { boards, at },
        false => Branch::Split { boards, at },
    }
}

#[test]
fn a_tree_split_on_offcuts_shows_the_least_that_its_leaves_come_to() {
    let sets: [&[usize]; 4] = [&[0], &[1, 2], &[0, 1, 2], &[2]];
    let mut seed = 5u64;
    let mut below = |end: i64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        ((seed >> 33) % end as u64) as i64
    };
    let mut shown = std::collections::BTreeSet::new();
    for case in 0..600 {
        let keep = [1, 150, 400][case % 3];
        let job = scrap_first(keep);
        let mut leaf = |depth: usize| {
            let scale = 1 + below(3);
            // A tick costs as much as one of a part is worth, or a little less.
            let price = |length: i64, more: i64| scale * (length + KERF + more) * MM;
            Leaf {
                scale,
                parts: PARTS
                    .map(|(length, _)| price(length, below(40) - 10))
                    .to_vec(),
                earlier: Vec::new(),
                splits: (0..depth).map(|at| (at, below(300) * scale * MM)).collect(),
            }
        };
        let leaves = [leaf(2), leaf(2), leaf(1)];
        let (one, other) = (sets[below(4) as usize], sets[below(4) as usize]);
        let (at, deeper) = (below(3), 3 + below(2));
        let on_boards = below(2) == 0;
        let ways: [&[Split]; 3] = [
            &[(one, true, at, false), (other, on_boards, deeper, false)],
            &[(one, true, at, false), (other, on_boards, deeper, true)],
            &[(one, true, at, true)],
        ];
        let expected = leaves.iter().zip(ways);
        let expected = expected.map(|(leaf, way)| told(leaf, way, keep)).min();
        let expected = expected.expect("three leaves");
        let splits = ways[0].iter().map(split);
        let claim = claim(splits.chain(leaves.map(Branch::Leaf)).collect());
        let found = of_one_level(&job, 1 << 40, Vec::new(), &claim);
        let told = overstated(Measure::Scrap, 1 << 40, expected);
        assert_eq!(found, told, "{case}: {claim:?}");
        shown.insert(expected / MM / 100);
    }
    assert!(shown.len() > 5, "{shown:?}");
}

#[test]
fn a_split_on_offcuts_that_are_not_counted_is_refused() {
    let leaf = |level: usize| Leaf {
        scale: 1,
        parts: vec![0, 0],
        earlier: vec![0; level],
        splits: Vec::new(),
    };
    let found = |job: &Job, level: usize, boards: Vec<usize>| {
        let tree = vec![
            Branch::Kept { boards, at: 0 },
            Branch::Leaf(leaf(level)),
            Branch::Leaf(leaf(level)),
        ];
        let claim = LevelProof {
            level,
            earlier: vec![0; level],
            bound: 0,
            shown: 0,
            ..claim(tree)
        };
        of_one_level(job, 0, vec![0; level], &claim)
    };
    let refused = |measure, what| {
        Err(Lie::MisshapenFigures {
            measure,
            spot: Some(Spot {
                branch: 0,
                twig: None,
            }),
            what,
        })
    };
    let plain = scrap_first(150);
    assert!(found(&plain, 0, vec![0, 2]).is_ok());
    for boards in [vec![], vec![7], vec![1, 0]] {
        let cover = refused(Measure::Scrap, Misshape::Cover);
        assert_eq!(found(&plain, 0, boards), cover);
    }
    // At a level that is not the length used up.
    let measure = crate::groups::groups(&plain)[0].measures[1];
    assert_eq!(
        found(&plain, 1, vec![0]),
        refused(measure, Misshape::Offcuts)
    );
    // Of a length that is cut at the yard.
    let carried = job(
        &[("900", "", "0")],
        &[("400", "square", "3"), ("300", "square", "2")],
        |draft| {
            draft.own.aim = some("scrap");
            draft.own.carry = some("1600");
        },
    );
    assert!(found(&carried, 0, vec![1]).is_ok());
    let offcuts = refused(Measure::Scrap, Misshape::Offcuts);
    assert_eq!(found(&carried, 0, vec![0, 1]), offcuts);
}
