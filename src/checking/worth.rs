//! The most that the parts that fit a board can be worth.
//!
//! Parts are added to a run one at a time, in the job's order. Three things matter about the parts so far: how much of the run they fill,
//! what they are worth, and their ending ([`super::wood`]), on which the cuts of further parts depend. For each ending only those fills are
//! kept that are worth more than every smaller fill (Nemhauser & Ullmann 1969). So the lists hold reachable fills alone, and fine ticks
//! cost nothing by themselves.
//!
//! It ends: every part is added at most as often as it is wanted, and a fill beyond the longest run is dropped. The result for one run is
//! exact. The runs of one board are each allowed the whole demand, which can only overstate what the board is worth.

use super::steps::{Steps, TooLarge};
use super::wood::{Ending, Laid, Wood};
use order::Map;

/// A fill and its worth.
type Point = (i64, i128);

/// The worths of fills on one section, for runs up to a certain length.
pub(super) struct Worths {
    lists: Map<Ending, Vec<Point>>,
    /// The savings that each ending loses where rings are opened, and its last cut.
    closing: Map<Ending, (i64, i64)>,
}

impl Wood {
    /// The worths of fills of runs up to `longest` at these prices, one price for each part of the job.
    pub(super) fn worths(
        &self,
        prices: &[i64],
        longest: i64,
        steps: &mut Steps,
    ) -> Result<Worths, TooLarge> {
        let empty = self.untouched();
        let widest = self.widest_cut();
        let mut lists = Map::from_iter([(empty, vec![(0i64, 0i128)])]);
        for part in &self.parts {
            steps.take(1)?;
            let price = i128::from(prices[part.part]);
            for _ in 0..part.wanted {
                let mut grown: Map<Ending, Vec<Point>> = lists.clone();
                let mut changed = false;
                for (ending, list) in lists.iter() {
                    let (next, amount) = self.add(part, ending);
                    let added: Vec<Point> = list
                        .iter()
                        .map(|&(fill, worth)| (fill + amount, worth + price))
                        .filter(|point| point.0 <= longest + widest)
                        .collect();
                    let work = added.len() as u64 + list.len() as u64 + 1;
                    steps.take(work)?;
                    let merged = grown.or_insert_with(next, Vec::new);
                    changed |= merge(merged, &added);
                }
                lists = grown;
                if !changed {
                    break;
                }
            }
        }
        let closing = lists
            .keys()
            .map(|ending| (ending.clone(), self.close(ending)))
            .collect();
        Ok(Worths { lists, closing })
    }
}

impl Worths {
    /// The most that the parts in a run of this length can be worth; an empty run is worth zero.
    pub(super) fn best(&self, run: i64) -> i128 {
        self.lists
            .iter()
            .filter_map(|(ending, list)| {
                let (owed, last_cut) = self.closing[ending];
                let room = run - owed + last_cut;
                let fitting = list.partition_point(|point| point.0 <= room);
                fitting.checked_sub(1).map(|last| list[last].1)
            })
            .max()
            .unwrap_or(0)
    }

    /// Every listed fill with its worth, except the untouched run.
    pub(super) fn touched(&self) -> impl Iterator<Item = (Laid, i128)> {
        self.lists
            .iter()
            .filter(|(ending, _)| ending.touched)
            .flat_map(|(ending, list)| {
                let (owed, last_cut) = self.closing[ending];
                list.iter().map(move |&(fill, worth)| {
                    let laid = Laid {
                        need: fill + owed - last_cut,
                        filled: fill + owed,
                    };
                    (laid, worth)
                })
            })
    }

    /// How many fills are listed.
    pub(super) fn len(&self) -> u64 {
        self.lists.values().map(|list| list.len() as u64).sum()
    }

    /// How many endings they have, which is the number of steps of [`Worths::best`].
    pub(super) fn endings(&self) -> u64 {
        self.lists.len() as u64
    }
}

/// Merges sorted points into a sorted list and keeps those that are worth more than every smaller fill. Returns whether the list changed.
fn merge(list: &mut Vec<Point>, added: &[Point]) -> bool {
    if added.is_empty() {
        return false;
    }
    let mut merged: Vec<Point> = Vec::with_capacity(list.len() + added.len());
    let (mut left, mut right) = (list.as_slice(), added);
    loop {
        let point = match (left, right) {
            ([], []) => break,
            ([one, rest @ ..], [other, ..]) if (one.0, -one.1) <= (other.0, -other.1) => {
                left = rest;
                *one
            }
            (_, [other, rest @ ..]) => {
                right = rest;
                *other
            }
            ([one, rest @ ..], []) => {
                left = rest;
                *one
            }
        };
        if merged.last().is_none_or(|last| point.1 > last.1) {
            merged.push(point);
        }
    }
    let changed = merged != *list;
    *list = merged;
    changed
}

#[cfg(test)]
mod tests;
