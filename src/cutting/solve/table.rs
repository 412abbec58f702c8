//! Fills in a table, for when they would crowd a list.
//!
//! Once most lengths can be reached, a list of fills costs more to merge than a table with a place for every multiple of the parts'
//! common step costs to go through: no order need be kept, and each place is one addition and one comparison (Gilmore and Gomory
//! 1966). A part wanted `n` times is added in bundles of 1, 2, 4 and so on of it, and one of the rest, which make up every
//! number up to `n`; so a part takes as many passes as `n` has binary digits. A pass reads one table and writes another, so that no bundle is
//! taken twice. The figures are the same integers as in the lists.

use super::clock::{Clock, Stopped};
use super::fills::Fill;
use super::ways::{Bundle, MERGED, Memory, Ways};
use crate::problem::Ticks;

/// The most places of a table.
const PLACES: usize = 1 << 16;
/// The most that a table may remember of how it was filled: places times bundles, a byte each.
const MEMORY: usize = 24 << 20;
/// A table pays where a list has more than one fill for so many places.
const PLACES_PER_FILL: usize = 10;
/// Worth of a fill that cannot be reached; no sum of prices makes it worth anything.
const UNREACHED: i64 = i64::MIN / 4;

/// The most each multiple of a step can be worth as a fill.
pub(super) struct Table {
    step: Ticks,
    worth: Vec<i64>,
    next: Vec<i64>,
    memory: Memory,
}

impl Table {
    /// A table that starts from a list, where one pays: `step` divides all lengths, fills go up to `longest`, and so many bundles are to come.
    pub(super) fn instead_of(
        list: &[Fill],
        step: Ticks,
        longest: Ticks,
        (bundles, ways): (usize, &Ways),
    ) -> Option<Table> {
        let places = usize::try_from(longest / step).ok()? + 1;
        let pays = places <= PLACES
            && list.len() > places / PLACES_PER_FILL
            && places * bundles <= MEMORY
            && ways.has_room();
        if !pays || list.iter().any(|fill| fill.link == MERGED) {
            return None;
        }
        let mut worth = vec![UNREACHED; places];
        let mut before = vec![0; places];
        for fill in list {
            let place = (fill.length / step) as usize;
            worth[place] = fill.value;
            before[place] = fill.link;
        }
        Some(Table {
            step,
            next: worth.clone(),
            worth,
            memory: Memory {
                before,
                taken: Vec::with_capacity(places * bundles),
                ..Memory::default()
            },
        })
    }

    /// In how many bundles so many copies of a part are added.
    pub(super) fn bundles(copies: i64) -> usize {
        (i64::BITS - copies.max(0).leading_zeros()) as usize
    }

    /// Adds a part of this length and price, up to `copies` times.
    pub(super) fn add(
        &mut self,
        part: usize,
        (length, price): (Ticks, i64),
        copies: i64,
        clock: &mut Clock,
    ) -> Result<(), Stopped> {
        let mut left = copies;
        let mut count = 1;
        while left > 0 {
            let bundle = count.min(left);
            self.pass(part, bundle, length * bundle, price * bundle);
            left -= bundle;
            count *= 2;
            clock.go_on()?;
        }
        Ok(())
    }

    fn pass(&mut self, part: usize, count: i64, length: Ticks, price: i64) {
        let steps = (length / self.step) as usize;
        let places = self.worth.len();
        if steps >= places {
            return;
        }
        let start = self.memory.taken.len();
        self.memory.taken.resize(start + places, 0);
        let taken = &mut self.memory.taken[start + steps..];
        self.next[..steps].copy_from_slice(&self.worth[..steps]);
        let shorter = &self.worth[..places - steps];
        let same = &self.worth[steps..];
        for (((next, taken), &without), &shorter) in self.next[steps..]
            .iter_mut()
            .zip(taken)
            .zip(same)
            .zip(shorter)
        {
            // The greater of two, told by the sign of their difference, of which vector units have more than of comparisons of 64 bits. Nothing
            // here comes near overflowing: prices and sums of them are far below `UNREACHED`.
            let with = shorter.wrapping_add(price);
            let less = without.wrapping_sub(with) >> 63;
            *taken = less as u8;
            *next = without.wrapping_sub(without.wrapping_sub(with) & less);
        }
        std::mem::swap(&mut self.worth, &mut self.next);
        self.memory.bundles.push(Bundle {
            part,
            count: count as u32,
            steps,
        });
    }

    /// The fills that can be reached and are worth more than every shorter one, ascending; the ways to them are kept.
    pub(super) fn into_list(self, ways: &mut Ways) -> Vec<Fill> {
        let first = ways.keep(self.memory);
        let mut best = i64::MIN / 8;
        let mut list = Vec::new();
        for (place, &value) in self.worth.iter().enumerate() {
            if value > best {
                best = value;
                let link = if place == 0 { 0 } else { first + place as u32 };
                list.push(Fill {
                    length: self.step * place as Ticks,
                    value,
                    link,
                });
            }
        }
        list
    }
}
