//! Sorting for lists that are sorted once, and maps of a few hundred entries, compiled to little code.
//!
//! The compiler generates the library's sort anew for each item type and each ordering, about five kilobytes a time. The engine in the page
//! had thirty such copies. Here one sort works on indices alone and calls back to compare the items at two of them; the list is then
//! permuted into that order. The price is one indirect call per comparison, and memory for one index per item. A list that is sorted again
//! and again uses the library's sort.

mod map;

pub use map::{Map, Set};
use std::cmp::Ordering;

/// Lists of at most this many items are sorted in place by insertion; for them the indices would cost more than they save.
const SHORT: usize = 16;

/// Sorts a list. The sort is stable: items that compare as equal keep their order.
pub fn sort_by<Item>(list: &mut [Item], mut compare: impl FnMut(&Item, &Item) -> Ordering) {
    if list.len() <= SHORT {
        for end in 1..list.len() {
            let mut at = end;
            while at > 0 && compare(&list[at - 1], &list[at]) == Ordering::Greater {
                list.swap(at - 1, at);
                at -= 1;
            }
        }
        return;
    }
    let mut places = places(list.len(), &mut |one, other| {
        compare(&list[one], &list[other])
    });
    bring(&mut places, &mut |one, other| list.swap(one, other));
}

/// Sorts a list by a key, computed once for each item. The sort is stable.
pub fn sort_by_key<Item, Key: Ord>(list: &mut [Item], key: impl FnMut(&Item) -> Key) {
    let keys: Vec<Key> = list.iter().map(key).collect();
    let mut places = places(keys.len(), &mut |one, other| keys[one].cmp(&keys[other]));
    bring(&mut places, &mut |one, other| list.swap(one, other));
}

/// Sorts a list. The sort is stable.
pub fn sort<Item: Ord>(list: &mut [Item]) {
    sort_by(list, Item::cmp);
}

/// The sorted order as indices: entry `i` is the present index of the item that belongs at `i`.
fn places(count: usize, compare: &mut dyn FnMut(usize, usize) -> Ordering) -> Vec<usize> {
    let mut places: Vec<usize> = (0..count).collect();
    places.sort_by(|&one, &other| compare(one, other));
    places
}

/// Brings a list into the order that [`places`] computed, cycle by cycle of the permutation, with one swap per entry. An entry that is done
/// is set to its own index, so the walk meets each entry once and ends.
fn bring(places: &mut [usize], swap: &mut dyn FnMut(usize, usize)) {
    for start in 0..places.len() {
        let mut at = start;
        loop {
            let from = std::mem::replace(&mut places[at], at);
            if from == start {
                break;
            }
            swap(at, from);
            at = from;
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_come_out_as_the_library_sorts_them() {
        let mut seed = 1u64;
        for length in 0..200 {
            let list: Vec<(u64, usize)> = (0..length)
                .map(|at| {
                    seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
                    ((seed >> 33) % 20, at)
                })
                .collect();
            let mut ours = list.clone();
            let mut theirs = list;
            // Many keys are equal, so the second figure shows whether the order among them is kept.
            sort_by_key(&mut ours, |item| item.0);
            theirs.sort_by_key(|item| item.0);
            assert_eq!(ours, theirs);
            sort_by(&mut ours, |one, other| other.cmp(one));
            theirs.sort_by(|one, other| other.cmp(one));
            assert_eq!(ours, theirs);
            sort(&mut ours);
            theirs.sort();
            assert_eq!(ours, theirs);
        }
    }
}
