//! The knapsack's table against a plain one, and dominance of lists.

use crate::clock::Clock;
use crate::laws::made_up::{Forever, Random};
use crate::pricing::dominance::merge_nondominated;
use crate::pricing::partial_pattern::PartialPattern;
use crate::pricing::table::KnapsackTable;
use crate::pricing::traceback::Traceback;

/// The most that fills of exactly each length are worth, copy by copy.
fn plain(longest: usize, parts: &[(i64, i64, i64)]) -> Vec<Option<i64>> {
    let mut best = vec![None; longest + 1];
    best[0] = Some(0);
    for &(length, price, copies) in parts {
        for _ in 0..copies {
            for end in (length as usize..=longest).rev() {
                let with = best[end - length as usize].map(|worth: i64| worth + price);
                best[end] = best[end].max(with);
            }
        }
    }
    best
}

#[test]
fn a_table_holds_what_copies_added_one_by_one_come_to() {
    let mut random = Random::new(3);
    for index in 0..200 {
        let (longest, step) = (60, 4);
        let parts: Vec<(i64, i64, i64)> = (0..4)
            .map(|_| {
                let length = step * (1 + random.below(5));
                (length, 1 + random.below(40), 1 + random.below(9))
            })
            .collect();
        // The table begins from a list in which the first part was added already.
        let mut traceback = Traceback::default();
        traceback.clear();
        let mut list = vec![PartialPattern {
            length: 0,
            value: 0,
            link: 0,
        }];
        let (length, price, copies) = parts[0];
        for copy in 1..=copies.min(longest / length) {
            let link = traceback.add(list[list.len() - 1].link, 0);
            list.push(PartialPattern {
                length: length * copy,
                value: price * copy,
                link,
            });
        }
        let bundles = parts[1..].iter();
        let bundles = bundles.map(|&(_, _, copies)| KnapsackTable::bundles(copies));
        let room = (bundles.sum(), &traceback);
        let Some(mut table) = KnapsackTable::instead_of(&list, step, longest, room) else {
            continue;
        };
        let mut watch = Forever;
        for (part, &(length, price, copies)) in parts.iter().enumerate().skip(1) {
            let added = table.add(part, (length, price), copies, &mut Clock::new(&mut watch));
            added.expect("no limit of time");
        }
        let found = table.into_list(&mut traceback);
        let mut wanted = Vec::new();
        for (end, worth) in plain(longest as usize, &parts).into_iter().enumerate() {
            let better = |&(_, known): &(i64, i64)| worth > Some(known);
            if worth.is_some() && wanted.last().is_none_or(better) {
                wanted.push((end as i64, worth.unwrap_or(0)));
            }
        }
        let told: Vec<(i64, i64)> = found.iter().map(|fill| (fill.length, fill.value)).collect();
        assert_eq!(told, wanted, "case {index}: {parts:?}");
        for fill in &found {
            let parts_of = traceback.trace(fill.link);
            let total = |figure: fn(&(i64, i64, i64)) -> i64| -> i64 {
                let counts = parts_of.iter();
                counts
                    .map(|&(part, count)| figure(&parts[part]) * i64::from(count))
                    .sum()
            };
            assert_eq!(total(|part| part.0), fill.length, "case {index}");
            assert_eq!(total(|part| part.1), fill.value, "case {index}");
            let within = |&(part, count): &(usize, u32)| i64::from(count) <= parts[part].2;
            assert!(parts_of.iter().all(within), "case {index}");
        }
    }
}

#[test]
fn merged_lists_hold_all_that_nothing_dominates_and_nothing_else() {
    let mut random = Random::new(4);
    let mut spare = Vec::new();
    for index in 0..300 {
        let mut ascending = || {
            let (mut length, mut value) = (0, 0);
            let count = random.below(6);
            let list = (0..count).map(|_| {
                length += 1 + random.below(4);
                value += 1 + random.below(4);
                PartialPattern {
                    length,
                    value,
                    link: 0,
                }
            });
            list.collect::<Vec<_>>()
        };
        let (one, other) = (ascending(), ascending());
        let mut all = [one.clone(), other.clone()].concat();
        all.sort_by_key(|fill| (fill.length, -fill.value));
        let mut best = i64::MIN;
        all.retain(|fill| {
            let better = fill.value > best;
            best = best.max(fill.value);
            better
        });
        let mut merged = one;
        merge_nondominated(&mut merged, &other, &mut spare);
        assert_eq!(merged, all, "case {index}");
    }
}
