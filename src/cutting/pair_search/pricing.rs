//! Pricing where some blocks are kept apart: the worthiest cuttings of one run.
//!
//! **Idea** (a knapsack's table as the bound of a depth-first search; Bellman 1957, and Sadykov and Vanderbeck 2013 for knapsacks with conflicts). The
//! table has, for each block and each length left, the most that this block and shorter ones can be worth there, conflicts forgotten, where no more is
//! wasted than a plan may waste in all. The search takes blocks longest first and keeps the best cutting for each longest block, so that one round
//! yields many different ones.
//!
//! **Invariant.** What is passed over is worth no more than what is kept, or than what is told as the most. **Why it ends:** each step takes a later
//! block or another copy, and steps are counted; what was not searched to its end is told by the table.

use crate::limits::PAIR_PRICING_STEPS;

/// A block as pricing sees it.
#[derive(Clone, Debug)]
pub(crate) struct PricedBlock {
    pub(crate) block: usize,
    pub(crate) length: usize,
    pub(crate) price: i32,
    /// How many one board may hold.
    pub(crate) most: u32,
    /// The places, in the list, of those that share no board with it.
    pub(crate) apart: Vec<usize>,
}

/// What was found.
pub(crate) struct PricedCuttings {
    /// No cutting is worth more.
    pub(crate) most: i32,
    /// The worthiest of each longest block, where it is worth more than asked: its worth, and the places of its blocks.
    pub(crate) cuttings: Vec<(i32, Vec<usize>)>,
}

/// Less than any worth, however much is added.
const NOTHING: i32 = i32::MIN / 2;

/// Prices of blocks, longest first, on boards that hold `room` and of which at most `waste` is left over.
pub(crate) struct PairPricer<'b> {
    blocks: &'b [PricedBlock],
    room: usize,
    waste: usize,
    /// For each block and each length left, in that order; one row more than blocks.
    table: Vec<i32>,
    used: Vec<u32>,
    /// For each block how many of those taken are to be apart from it.
    barred: Vec<u32>,
    steps: usize,
}

impl<'b> PairPricer<'b> {
    /// Fills the table, in the memory of an earlier one.
    pub(crate) fn new(
        blocks: &'b [PricedBlock],
        room: usize,
        waste: usize,
        mut table: Vec<i32>,
    ) -> Self {
        let width = room + 1;
        table.clear();
        table.resize((blocks.len() + 1) * width, NOTHING);
        let last = blocks.len() * width;
        table[last..=last + waste.min(room)].fill(0);
        for (at, block) in blocks.iter().enumerate().rev() {
            let (before, after) = table.split_at_mut((at + 1) * width);
            let row = &mut before[at * width..];
            let next = &after[..width];
            row.copy_from_slice(next);
            for count in 1..=block.most as usize {
                let taken = count * block.length;
                if taken > room {
                    break;
                }
                let worth = block.price * count as i32;
                for (best, from) in row[taken..].iter_mut().zip(next) {
                    *best = (*best).max(from + worth);
                }
            }
        }
        PairPricer {
            blocks,
            room,
            waste,
            table,
            used: vec![0; blocks.len()],
            barred: vec![0; blocks.len()],
            steps: PAIR_PRICING_STEPS,
        }
    }

    /// The table's memory, for the next.
    pub(crate) fn into_table(self) -> Vec<i32> {
        self.table
    }

    fn beyond(&self, at: usize, left: usize) -> i32 {
        self.table[at * (self.room + 1) + left]
    }

    /// The worthiest cuttings that are worth more than `asked`.
    pub(crate) fn price(&mut self, asked: i32) -> PricedCuttings {
        let mut found = PricedCuttings {
            most: asked,
            cuttings: Vec::new(),
        };
        for first in 0..self.blocks.len() {
            let block = &self.blocks[first];
            if block.length > self.room || block.most == 0 {
                continue;
            }
            let most = block.price + self.beyond(first, self.room - block.length);
            if most <= asked {
                continue;
            }
            let (cutting, complete) = self.with_longest(first, asked);
            if !complete {
                found.most = found.most.max(most);
            }
            if let Some((worth, _)) = cutting {
                found.most = found.most.max(worth);
            }
            found.cuttings.extend(cutting);
        }
        found
    }

    /// The worthiest cutting with this block and none before it, and whether all were looked at.
    fn with_longest(&mut self, first: usize, asked: i32) -> (Option<(i32, Vec<usize>)>, bool) {
        let (mut left, mut worth) = (self.room, 0);
        let mut taken: Vec<usize> = Vec::new();
        let mut best = asked;
        let mut kept = None;
        let mut next = Some(first);
        loop {
            if let Some(at) = next {
                let block = &self.blocks[at];
                (left, worth) = (left - block.length, worth + block.price);
                taken.push(at);
                self.take(at);
                if left <= self.waste && worth > best {
                    best = worth;
                    kept = Some((worth, taken.clone()));
                }
                next = self.following(at, left, best - worth);
            } else {
                let Some(at) = taken.pop() else {
                    return (kept, true);
                };
                self.put_back(at);
                if taken.is_empty() {
                    return (kept, true);
                }
                let block = &self.blocks[at];
                (left, worth) = (left + block.length, worth - block.price);
                next = self.following(at + 1, left, best - worth);
            }
            self.steps = self.steps.saturating_sub(1);
            if self.steps == 0 {
                while let Some(at) = taken.pop() {
                    self.put_back(at);
                }
                return (kept, false);
            }
        }
    }

    /// The next block from `at` on by which more than `least` can be reached.
    fn following(&self, at: usize, left: usize, least: i32) -> Option<usize> {
        let mut at = at;
        while at < self.blocks.len() && self.beyond(at, left) > least {
            let block = &self.blocks[at];
            let again = usize::from(self.used[at] + 1 >= block.most);
            if self.used[at] < block.most
                && self.barred[at] == 0
                && block.length <= left
                && block.price + self.beyond(at + again, left - block.length) > least
            {
                return Some(at);
            }
            at += 1;
        }
        None
    }

    fn take(&mut self, at: usize) {
        self.used[at] += 1;
        for &other in &self.blocks[at].apart {
            self.barred[other] += 1;
        }
    }

    fn put_back(&mut self, at: usize) {
        self.used[at] -= 1;
        for &other in &self.blocks[at].apart {
            self.barred[other] -= 1;
        }
    }
}
