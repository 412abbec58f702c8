//! Levels behind the length used up, told a second time: a tick that is used up has a price, and every choice of parts is tried.

use super::{MM, not_shown, of_one_level, overstated, question};
use crate::groups::groups;
use crate::laws::{job, some};
use crate::settled::Backing;
use crate::steps::with_steps;
use proof::certificate::{Branch, Leaf, LevelProof};
use timber::job::Job;
use timber::plan::Measure;

/// The lines of the yard in millimetres: their length, what one costs and how many there are. Nothing is trimmed.
pub(super) const LINES: [(i64, i64, i64); 2] = [(1_000, 5, 3), (1_300, 7, 2)];

/// A board of the shed that costs nothing.
pub(super) const SHED: i64 = 900;

pub(super) const KERF: i64 = 3;

/// Three parts of 400, two of 300.
pub(super) const PARTS: [(i64, i64); 2] = [(400, 3), (300, 2)];

pub(super) fn scrap_first(keep: i64) -> Job {
    job(
        &[("900", "", "0")],
        &[("400", "square", "3"), ("300", "square", "2")],
        |draft| {
            draft.own.aim = some("scrap");
            draft.saw.keep = some(&keep.to_string());
            draft.sections[0].trim = some("0");
            draft.yard[0].price = some("0.05");
            draft.yard.push(draft.yard[0].clone());
            for (line, (length, price, count)) in draft.yard.iter_mut().zip(LINES) {
                line.length = Some(length.to_string());
                line.price = Some(format!("0.0{price}"));
                line.count = Some(count.to_string());
            }
        },
    )
}

/// Millimetres of a board that some parts use up: all but what is left behind the last cut, where that is kept.
pub(super) fn used(length: i64, counts: [i64; 2], keep: i64) -> Option<i64> {
    let parts: i64 = (0..2).map(|at| counts[at] * PARTS[at].0).sum();
    let cuts = counts[0] + counts[1];
    if parts + (cuts - 1) * KERF > length {
        return None;
    }
    let left = length - parts - cuts * KERF;
    Some(if left > 0 && left >= keep {
        length - left
    } else {
        length
    })
}

/// What a leaf shows by the head of [`proof::certificate`].
fn told(leaf: &Leaf, level: usize, values: &[i64], keep: i64) -> i64 {
    let mut sum = 3 * leaf.parts[0] + 2 * leaf.parts[1];
    let priced = leaf.earlier.iter().zip(values);
    sum -= priced.map(|(price, value)| price * value).sum::<i64>();
    let shed = (SHED, 0, 1);
    for (length, price, supply) in LINES.into_iter().chain([shed]) {
        let bought = i64::from(length != SHED);
        let costs = [0, bought, price];
        let tick = leaf.earlier[0] * MM;
        let every = (0..=3).flat_map(|one| (0..=2).map(move |other| [one, other]));
        let worths = every.filter(|counts| *counts != [0; 2] || tick == 0);
        let worths = worths.filter_map(|counts| {
            let worth = counts[0] * leaf.parts[0] + counts[1] * leaf.parts[1];
            Some(
                worth
                    - tick
                        * if counts == [0; 2] {
                            0
                        } else {
                            used(length, counts, keep)?
                        },
            )
        });
        let before: i64 = (0..level).map(|at| leaf.earlier[at] * costs[at]).sum();
        let charge = leaf.scale * costs[level] + before;
        let worth = worths.max().expect("a part fits each board");
        sum -= supply * (worth - charge).max(0);
    }
    sum.div_euclid(leaf.scale) + i64::from(sum.rem_euclid(leaf.scale) > 0)
}

#[test]
fn what_is_used_up_is_charged_at_the_levels_behind_it() {
    let mut seed = 3u64;
    let mut below = |end: i64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        ((seed >> 33) % end as u64) as i64
    };
    let mut shown = std::collections::BTreeSet::new();
    for case in 0..600 {
        let keep = [0, 250, 2_000][case % 3];
        let job = scrap_first(keep);
        let group = &groups(&job)[0];
        let expected = [Measure::Scrap, Measure::Bought, Measure::Money];
        assert_eq!(group.measures, expected);
        let level = 1 + case % 2;
        // Parts are worth about what they use up.
        let tick = below(3);
        let mut each = |length: i64| tick * length * MM + below(2_000_000);
        let leaf = Leaf {
            scale: 1_000_000,
            parts: vec![each(400), each(300)],
            earlier: [tick, below(1_000_000)][..level].to_vec(),
            splits: Vec::new(),
        };
        let values = [(1_800 + below(900)) * MM, 2 + below(3)][..level].to_vec();
        let told = told(&leaf, level, &values, keep);
        let claim = LevelProof {
            level,
            earlier: values.clone(),
            bound: 1_000_000,
            shown: 1_000_000,
            lifted: false,
            tree: vec![Branch::Leaf(leaf)],
        };
        let measure = group.measures[level];
        let question = question(&job, group, level, values, 1_000_000);
        let found = with_steps(1_000_000, |steps| super::back(&question, &claim, steps));
        let expected = overstated(measure, 1_000_000, told);
        assert_eq!(found, expected, "{claim:?} {keep}");
        shown.insert(told);
    }
    assert!(shown.len() > 20 && shown.last() > Some(&2), "{shown:?}");
}

/// All is cut from the board of the shed and one length: 1 800 mm of parts, with a cut behind each but where one reaches the end.
#[test]
fn figures_of_other_scrap_show_nothing() {
    let job = scrap_first(250);
    let claim = |used: i64| LevelProof {
        level: 1,
        earlier: vec![used],
        bound: 1,
        shown: 1,
        lifted: true,
        tree: vec![Branch::Leaf(Leaf {
            scale: 1,
            parts: vec![0; 2],
            earlier: vec![0],
            splits: Vec::new(),
        })],
    };
    let other = of_one_level(&job, 1, vec![1_815 * MM], &claim(1_814 * MM));
    let reason = crate::settled::Reason::OtherTotals;
    assert_eq!(other, Ok(Backing::ClaimOnly(reason)));
    // No price at all shows nothing of one length.
    let nothing = of_one_level(&job, 1, vec![1_815 * MM], &claim(1_815 * MM));
    assert_eq!(nothing, not_shown(1, 0));
}
