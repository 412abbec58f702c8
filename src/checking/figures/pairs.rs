//! A search over pairs of blocks: whether its prices show that so few boards do not do.
//!
//! The head of [`proof::certificate`] says what such a search asserts ("Pairs") and why its two sides are all plans. The blocks of a node are worked
//! out here from the job and the decisions alone, and of a leaf's prices it is asked whether some choice of blocks is worth more than a board.
//! Blocks that nothing is kept apart from are put in a table: the most that they are worth in each length left over. The others are put on
//! top of it one by one, conflicts forgotten, and are then chosen depth first, where that table still says that more may be reached; so where all
//! of them are chosen the table is exact. Work is counted before it is done. What needs too many places or steps shows nothing here.

#[cfg(test)]
mod laws;

use super::boards::{Board, Shape};
use super::question::Question;
use crate::steps::{Steps, TooLarge};
use crate::sums::common_divisor;
use crate::wood::{Ends, Wood};
use proof::certificate::{MOST_PAIR_BYTES, MOST_PAIR_DEPTH, Pairing};

/// Most places of a table, 8 bytes each: 64 MB, as much as the planner's.
const MOST_PLACES: usize = 1 << 23;
/// Most pairs that are kept apart at a node, of which there is one for each decision that waits: 26 MB.
const MOST_APART: usize = 4_000;
/// Less than any worth, however much is added.
const NOTHING: i64 = i64::MIN / 2;

/// Boards of one kind and square parts, all lengths in their common divisor with a cut each.
pub(super) struct Pairs {
    /// For each part of the job, the block of all that are laid like it.
    block_of: Vec<Option<usize>>,
    /// How many of these blocks there are.
    parts: usize,
    root: Blocks,
    room: usize,
    waste: usize,
    /// How many boards a better plan may have.
    boards: i64,
}

/// The blocks of a node: the parts, then those joined on the way.
#[derive(Clone, Default)]
struct Blocks {
    lengths: Vec<usize>,
    /// How many are to be placed.
    wanted: Vec<u32>,
    /// Pairs that share no board, in ascending order.
    apart: Vec<[usize; 2]>,
}

/// A block as prices see it.
struct Priced {
    block: usize,
    length: usize,
    price: i64,
    most: usize,
}

impl Pairs {
    /// `None` where the group is not of square parts and boards of one run, or a better plan has not even room for the parts.
    pub(super) fn of(
        question: &Question,
        (boards, wood): (&[Board], &Wood),
        beaten: i64,
    ) -> Option<Pairs> {
        let mut longest = 0;
        let mut cheapest = i64::MAX;
        for board in boards {
            let Shape::Runs(runs) = &board.shape else {
                return None;
            };
            if runs.len() != 1 || board.stands.is_some() || board.stock != boards[0].stock {
                return None;
            }
            longest = runs[0].length.max(longest);
            cheapest = board.costs[question.level].min(cheapest);
        }
        if question.used_up() || cheapest < 1 {
            return None;
        }
        let mut pairs = Pairs {
            block_of: vec![None; question.job.parts.len()],
            parts: 0,
            root: Blocks::default(),
            room: 0,
            waste: 0,
            boards: beaten / cheapest,
        };
        let (mut all, mut divisor) = (0, 0);
        let mut known = Vec::new();
        for &part in &question.group.parts {
            let (length, Ends::Alone(cut)) = wood.lies(part)? else {
                return None;
            };
            let lies = (length, cut);
            let block = known.iter().position(|&other| other == lies);
            let block = block.unwrap_or_else(|| {
                known.push(lies);
                pairs.root.wanted.push(0);
                known.len() - 1
            });
            let wanted = question.job.parts[part].quantity;
            pairs.block_of[part] = Some(block);
            pairs.root.wanted[block] = pairs.root.wanted[block].checked_add(wanted)?;
            all += (length + cut) * i64::from(wanted);
            divisor = common_divisor(divisor, length + cut);
        }
        // The last cut may lie behind the run.
        let room = longest.checked_add(wood.widest_cut())? / divisor.max(1);
        let waste = room.saturating_mul(pairs.boards) - all / divisor.max(1);
        pairs.room = usize::try_from(room).ok()?;
        pairs.waste = usize::try_from(waste.min(room)).ok()?;
        let lengths = known.iter();
        let lengths = lengths.map(|(length, cut)| ((length + cut) / divisor.max(1)) as usize);
        pairs.root.lengths = lengths.collect();
        pairs.parts = known.len();
        Some(pairs)
    }

    /// Whether every node of a search of the right shape holds.
    pub(super) fn hold(&self, search: &[Pairing], steps: &mut Steps) -> Result<bool, TooLarge> {
        if search.iter().map(Pairing::bytes).sum::<usize>() > MOST_PAIR_BYTES {
            return Err(TooLarge);
        }
        let mut waiting = vec![self.root.clone()];
        for pairing in search {
            let Some(mut here) = waiting.pop() else {
                return Ok(false);
            };
            let known = 1 + here.lengths.len() + here.apart.len();
            match pairing {
                Pairing::Split(pair) => {
                    if waiting.len() >= MOST_PAIR_DEPTH || here.apart.len() > MOST_APART {
                        return Err(TooLarge);
                    }
                    // Each pair may become one more, for which room is made among the others.
                    steps.take_each(known, 16 + known as u64 / 8)?;
                    let mut together = here.clone();
                    let [one, other] = pair.map(|block| self.block(block));
                    let pair = one.zip(other);
                    let Some((one, other)) = pair else {
                        return Ok(false);
                    };
                    if !together.join(one, other, self.room) {
                        return Ok(false);
                    }
                    here.keep_apart(one, other);
                    waiting.extend([here, together]);
                }
                Pairing::Leaf { scale, prices } => {
                    steps.take_each(known, 2)?;
                    if !self.leaf_holds(&here, *scale, prices, steps)? {
                        return Ok(false);
                    }
                }
            }
        }
        Ok(true)
    }

    /// A block as certificates number it.
    fn block(&self, block: usize) -> Option<usize> {
        match block.checked_sub(self.block_of.len()) {
            Some(join) => Some(self.parts + join),
            None => self.block_of[block],
        }
    }

    /// Whether no choice of blocks is worth more than a board and all are worth more than the boards.
    fn leaf_holds(
        &self,
        here: &Blocks,
        scale: i64,
        prices: &[i64],
        steps: &mut Steps,
    ) -> Result<bool, TooLarge> {
        let mut worths = vec![0; here.lengths.len()];
        for (part, block) in self.block_of.iter().enumerate() {
            if let Some(block) = *block {
                worths[block] = prices[part];
            }
        }
        worths[self.parts..].copy_from_slice(&prices[self.block_of.len()..]);
        let each = worths.iter().zip(&here.wanted);
        let all: i64 = each
            .map(|(&worth, &wanted)| worth * i64::from(wanted))
            .sum();
        if all <= scale.saturating_mul(self.boards) {
            return Ok(false);
        }
        let mut conflicts = vec![(false, false); here.lengths.len()];
        for &[one, other] in &here.apart {
            if here.wanted[one] > 0 && here.wanted[other] > 0 {
                conflicts[one].0 |= one == other;
                (conflicts[one].1, conflicts[other].1) = (true, true);
            }
        }
        let (mut free, mut tied) = (Vec::new(), Vec::new());
        for (block, &length) in here.lengths.iter().enumerate() {
            let (alone, is_tied) = conflicts[block];
            let wanted = if alone { 1 } else { usize::MAX }.min(here.wanted[block] as usize);
            let most = wanted.min(self.room / length);
            if most > 0 {
                let list = if is_tied { &mut tied } else { &mut free };
                list.push(Priced {
                    block,
                    length,
                    price: worths[block],
                    most,
                });
            }
        }
        self.none_is_worth_more(here, (&free, &tied), scale, steps)
    }

    /// Whether no choice of blocks that fits a board, wastes little enough and holds none that are apart is worth more than this.
    fn none_is_worth_more(
        &self,
        here: &Blocks,
        (free, tied): (&[Priced], &[Priced]),
        most: i64,
        steps: &mut Steps,
    ) -> Result<bool, TooLarge> {
        let width = self.room + 1;
        if width.saturating_mul(tied.len() + 1) > MOST_PLACES {
            return Err(TooLarge);
        }
        let copies: usize = free.iter().chain(tied).map(|priced| priced.most + 1).sum();
        steps.take_each(copies + tied.len() + 1, width as u64)?;
        let mut table = vec![NOTHING; width];
        table[..=self.waste].fill(0);
        for priced in free {
            put(&mut table, priced);
        }
        for (at, priced) in tied.iter().enumerate() {
            table.extend_from_within(at * width..);
            put(&mut table[(at + 1) * width..], priced);
        }
        // How many of each are chosen, the last first: (those not chosen yet, the length left, the worth, how many of the one chosen last).
        let mut chosen = vec![0; tied.len() + 1];
        let mut waiting = vec![(tied.len(), self.room, 0, 0)];
        while let Some((at, left, worth, count)) = waiting.pop() {
            chosen[at] = count;
            if worth + table[at * width + left] <= most {
                continue;
            }
            if at == 0 {
                return Ok(false);
            }
            let next = &tied[at - 1];
            steps.take((1 + next.most + tied.len() - at) as u64 * 8)?;
            let barred = (at..tied.len())
                .any(|other| chosen[other] > 0 && here.are_apart(next.block, tied[other].block));
            let most = if barred { 0 } else { next.most };
            for count in 0..=most.min(left / next.length) {
                let (taken, price) = (next.length * count, next.price * count as i64);
                waiting.push((at - 1, left - taken, worth + price, count));
            }
        }
        Ok(true)
    }
}

/// Puts a block on top of those in a table.
fn put(table: &mut [i64], priced: &Priced) {
    for _ in 0..priced.most {
        for left in (priced.length..table.len()).rev() {
            table[left] = table[left].max(table[left - priced.length] + priced.price);
        }
    }
}

impl Blocks {
    fn are_apart(&self, one: usize, other: usize) -> bool {
        let pair = [one.min(other), one.max(other)];
        self.apart.binary_search(&pair).is_ok()
    }

    /// Joins a copy of each; false where there are not both, they are kept apart, or no board has room for them.
    fn join(&mut self, one: usize, other: usize, room: usize) -> bool {
        let joined = self.lengths.len();
        if one.max(other) >= joined || self.are_apart(one, other) {
            return false;
        }
        let length = self.lengths[one] + self.lengths[other];
        for block in [one, other] {
            let Some(left) = self.wanted[block].checked_sub(1) else {
                return false;
            };
            self.wanted[block] = left;
        }
        self.lengths.push(length);
        self.wanted.push(1);
        for [first, second] in self.apart.clone() {
            if [one, other].contains(&first) {
                self.keep_apart(second, joined);
            }
            if [one, other].contains(&second) {
                self.keep_apart(first, joined);
            }
        }
        length <= room
    }

    fn keep_apart(&mut self, one: usize, other: usize) {
        let pair = [one.min(other), one.max(other)];
        if let Err(place) = self.apart.binary_search(&pair) {
            self.apart.insert(place, pair);
        }
    }
}
