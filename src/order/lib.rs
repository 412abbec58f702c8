//! Sorting of lists that are sorted once, and maps of some hundreds, in little code.
//!
//! The compiler writes the whole of the library's sort anew for every type and every order it is used with, some five kilobytes each time,
//! and the engine in the page had thirty of them. Here the places of a list are sorted, numbers all of them, by one sort that asks back how
//! two of them compare, and the list is then brought into that order. It costs a call for each comparison and some numbers for the length of
//! the list; what is sorted again and again uses the library's own.

mod map;

pub use map::{Map, Set};
use std::cmp::Ordering;

/// Lists of no more than so many items are sorted where they stand, which is less work than asking.
const SHORT: usize = 16;

/// Sorts a list; what compares as equal stays in the order it had.
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

/// Sorts a list by a key of its items, which is asked for once; items of equal keys stay in the order they had.
pub fn sort_by_key<Item, Key: Ord>(list: &mut [Item], key: impl FnMut(&Item) -> Key) {
    let keys: Vec<Key> = list.iter().map(key).collect();
    let mut places = places(keys.len(), &mut |one, other| keys[one].cmp(&keys[other]));
    bring(&mut places, &mut |one, other| list.swap(one, other));
}

/// Sorts a list; items that are equal stay in the order they had.
pub fn sort<Item: Ord>(list: &mut [Item]) {
    sort_by(list, Item::cmp);
}

/// For each place of the sorted list the place its item has now.
fn places(count: usize, compare: &mut dyn FnMut(usize, usize) -> Ordering) -> Vec<usize> {
    let mut places: Vec<usize> = (0..count).collect();
    places.sort_by(|&one, &other| compare(one, other));
    places
}

/// Follows every circle of places that hand their items on, one swap for each. A place that is done names itself, so each is met once.
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
