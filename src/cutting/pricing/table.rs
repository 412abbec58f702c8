//! Partial patterns in a table, for when they would make lists too long.
//!
//! **Idea** (Gilmore and Gomory 1966; bundles as in Martello and Toth, Knapsack Problems, 1990, chapter 3). Once most lengths can be reached, a list
//! costs more to merge than a table with a place for every multiple of the parts' common step costs to go through: no order need be kept, and
//! each place is one addition and one comparison. A part wanted `n` times is added in bundles of 1, 2, 4 and so on of it, and one of the rest,
//! which make up every number up to `n`; so a part takes as many passes as `n` has binary digits. A pass reads one table and writes another, so
//! that no bundle is taken twice.
//!
//! **Invariant.** After each bundle a place holds the most that a fill of exactly that length can be worth with the bundles so far; the figures are
//! the same integers as in the lists. **Why it ends:** one pass over the places for each bundle.

use crate::arithmetic::greatest_common_divisor;
use crate::clock::{Clock, Stopped};
use crate::limits::{TABLE_CHOICES, TABLE_PLACES, TABLE_PLACES_PER_PATTERN, WORTHLESS};
use crate::pricing::partial_pattern::PartialPattern;
use crate::pricing::traceback::{Bundle, NO_PATTERN, TableChoices, Traceback};
use crate::problem::Ticks;

/// The most each multiple of a step can be worth as a fill.
pub(crate) struct KnapsackTable {
    step: Ticks,
    worth: Vec<i64>,
    next: Vec<i64>,
    choices: TableChoices,
}

impl KnapsackTable {
    /// A table that starts from a list, where one pays: `step` divides all lengths, fills go up to `longest`, and so many bundles are to come.
    pub(crate) fn instead_of(
        list: &[PartialPattern],
        step: Ticks,
        longest: Ticks,
        (bundles, traceback): (usize, &Traceback),
    ) -> Option<KnapsackTable> {
        let places = usize::try_from(longest / step).ok()? + 1;
        let pays = places <= TABLE_PLACES
            && list.len() > places / TABLE_PLACES_PER_PATTERN
            && places * bundles <= TABLE_CHOICES
            && traceback.has_room();
        if !pays || list.iter().any(|fill| fill.link == NO_PATTERN) {
            return None;
        }
        let mut worth = vec![WORTHLESS; places];
        let mut before = vec![0; places];
        for fill in list {
            let place = (fill.length / step) as usize;
            worth[place] = fill.value;
            before[place] = fill.link;
        }
        Some(KnapsackTable {
            step,
            next: worth.clone(),
            worth,
            choices: TableChoices {
                before,
                taken: Vec::with_capacity(places * bundles),
                ..TableChoices::default()
            },
        })
    }

    /// In how many bundles so many copies of a part are added.
    pub(crate) fn bundles(copies: i64) -> usize {
        (i64::BITS - copies.max(0).leading_zeros()) as usize
    }

    /// Adds a part of this length and price, up to `copies` times.
    pub(crate) fn add(
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
        let start = self.choices.taken.len();
        self.choices.taken.resize(start + places, 0);
        let taken = &mut self.choices.taken[start + steps..];
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
            // here comes near overflowing: prices and sums of them are far from `WORTHLESS`.
            let with = shorter.wrapping_add(price);
            let less = without.wrapping_sub(with) >> 63;
            *taken = less as u8;
            *next = without.wrapping_sub(without.wrapping_sub(with) & less);
        }
        std::mem::swap(&mut self.worth, &mut self.next);
        self.choices.bundles.push(Bundle {
            part,
            count: count as u32,
            steps,
        });
    }

    /// The fills that can be reached and are worth more than every shorter one, ascending; how they were reached is kept.
    pub(crate) fn into_list(self, traceback: &mut Traceback) -> Vec<PartialPattern> {
        let first = traceback.keep(self.choices);
        let mut best = WORTHLESS / 2;
        let mut list = Vec::new();
        for (place, &value) in self.worth.iter().enumerate() {
            if value > best {
                best = value;
                let link = if place == 0 { 0 } else { first + place as u32 };
                list.push(PartialPattern {
                    length: self.step * place as Ticks,
                    value,
                    link,
                });
            }
        }
        list
    }
}

/// The greatest step of which all these lengths are multiples; at least one.
pub(crate) fn common_step(lengths: impl Iterator<Item = Ticks>) -> Ticks {
    lengths.fold(0, greatest_common_divisor).max(1)
}
