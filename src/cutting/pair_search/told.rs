//! A search over pairs as a certificate tells it.
//!
//! **Idea.** Nodes are noted as they are settled or split, which is preorder, since the side with both of a pair together is searched first. The prices
//! of a leaf are rounded down to the coarsest scale that still proves it, so that they are short.
//!
//! **Invariant.** What is told is a leaf's own integer proof. Rounding down never makes a cutting worth more than a board, and the sum is added up
//! again at each scale. **Why it ends:** there are finitely many scales.

use crate::limits::COARSEST_SCALE;
use crate::pair_search::blocks::{BlockPair, PairNode};
use proof::certificate::{MOST_PAIR_DEPTH, Pairing, digits};

/// The prices of a node that prove that so few boards do not do.
pub(crate) struct PairPrices<'p> {
    pub(crate) boards: i64,
    /// What no cutting is worth more than.
    pub(crate) worth: i64,
    /// A scale at which the prices prove it.
    pub(crate) scale: i64,
    /// The price of each block at the scale `worth`.
    pub(crate) prices: &'p [(usize, i64)],
}

/// The nodes told by now.
pub(crate) struct ToldPairs {
    told: Vec<Pairing>,
    /// The bytes that it may take, and those it takes.
    room: usize,
    bytes: usize,
    /// How many prices the parts of a leaf have where it is told.
    parts_told: usize,
}

impl ToldPairs {
    /// Of leaves that are told with so many prices for their parts; in so many bytes.
    pub(crate) fn new(parts_told: usize, room: usize) -> Self {
        ToldPairs {
            told: Vec::new(),
            room,
            bytes: 0,
            parts_told,
        }
    }

    /// The search starts over.
    pub(crate) fn start(&mut self) {
        self.told.clear();
        self.bytes = 0;
    }

    /// All nodes, and their bytes; `None` where they are too many.
    pub(crate) fn finish(self) -> Option<(Vec<Pairing>, usize)> {
        (self.bytes <= self.room).then_some((self.told, self.bytes))
    }

    fn note(&mut self, pairing: Pairing, bytes: usize) {
        self.bytes = self.bytes.saturating_add(bytes);
        if self.bytes <= self.room {
            self.told.push(pairing);
        }
    }

    /// The search comes to a node behind so many decisions.
    pub(crate) fn arrive(&mut self, decisions: usize) {
        if decisions > MOST_PAIR_DEPTH {
            self.bytes = usize::MAX;
        }
    }

    /// A node is split.
    pub(crate) fn split(&mut self, parts: usize, node: &PairNode, pair: BlockPair) {
        let join = |block: usize| node.joins.iter().position(|join| join.block == block);
        let place = |block| join(block).map_or(block, |at| parts + at);
        let split = Pairing::Split([place(pair.0), place(pair.1)]);
        // Where they are told of more parts, blocks have greater numbers.
        let greatest = 2 * digits((self.parts_told + node.joins.len()) as i64);
        self.note(split, 6 + greatest);
    }

    /// A node is settled by prices.
    pub(crate) fn leaf(&mut self, parts: usize, node: &PairNode, shown: &PairPrices) {
        if self.bytes > self.room {
            return;
        }
        let mut scale = COARSEST_SCALE;
        while scale < shown.scale && !shown.proves_at(node, scale) {
            scale *= 10;
        }
        let scale = scale.min(shown.scale);
        let mut prices = vec![0; parts + node.joins.len()];
        for &(block, price) in shown.prices {
            let join = node.joins.iter().position(|join| join.block == block);
            prices[join.map_or(block, |at| parts + at)] = shown.rounded(price, scale);
        }
        let greatest = prices.iter().copied().max().unwrap_or(0).max(scale);
        let count = self.parts_told + node.joins.len() + 1;
        let bytes = 3 + count * (1 + digits(greatest));
        self.note(Pairing::Leaf { scale, prices }, bytes);
    }
}

impl PairPrices<'_> {
    fn rounded(&self, price: i64, scale: i64) -> i64 {
        price * scale / self.worth
    }

    /// Whether all blocks together are worth more than the boards, rounded down to a scale.
    pub(crate) fn proves_at(&self, node: &PairNode, scale: i64) -> bool {
        let each = self
            .prices
            .iter()
            .map(|&(block, price)| self.rounded(price, scale) * i64::from(node.wanted[block]));
        each.sum::<i64>() > self.boards * scale
    }
}
