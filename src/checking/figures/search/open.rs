//! A leaf that prices alone do not settle, as the search over its cuttings needs it.

use crate::figures::boards::Board;
use crate::figures::side::{Counted, Side};
use crate::wood::{Stock, Wood};
use crate::worth::Worths;
use std::rc::Rc;
use timber::job::Job;

/// A leaf, its claim, and the sums of its prices for each board.
pub(in crate::figures) struct Open<'a> {
    pub(in crate::figures) job: &'a Job,
    /// The parts of the group.
    pub(in crate::figures) parts: &'a [usize],
    /// How parts lie on each stock.
    pub(in crate::figures) woods: &'a [(Stock, Wood)],
    pub(in crate::figures) prices: &'a [i64],
    /// The price of each tick used up; zero where it has none.
    pub(in crate::figures) tick_cost: i128,
    /// The most that all cuttings together may lose.
    pub(in crate::figures) gap: i128,
    /// The greatest total that would beat the claim.
    pub(in crate::figures) beaten: i64,
    /// The level, where it is a cost level: an index into the boards' costs.
    pub(in crate::figures) cost_level: Option<usize>,
    /// Which of the limits is on the length used up.
    pub(in crate::figures) used_limit: Option<usize>,
    pub(in crate::figures) boards: Vec<OpenBoard<'a>>,
    /// Whether a split on the way counts the offcuts that are kept.
    pub(in crate::figures) offcuts: bool,
    /// The remaining cost of boards at each bounded level, the leaf's own included where it is a cost level.
    pub(in crate::figures) limits: Vec<i64>,
    /// The splits on the way: the most boards of each set on a `fewer` side; then the least on a `more` side.
    pub(in crate::figures) fewer: Vec<i64>,
    pub(in crate::figures) more: Vec<i64>,
    /// The side of each split, root first.
    pub(in crate::figures) sides: Vec<Side>,
}

/// A kind of board at a leaf.
pub(in crate::figures) struct OpenBoard<'a> {
    pub(in crate::figures) board: &'a Board,
    /// Its index in certificates.
    pub(in crate::figures) index: usize,
    pub(in crate::figures) wood: &'a Wood,
    pub(in crate::figures) worths: Rc<Worths>,
    pub(in crate::figures) charge: i128,
    pub(in crate::figures) excess: i128,
    /// What an offcut that is kept is charged, where they are counted.
    pub(in crate::figures) kept: i128,
    /// The cost of one at each of the limits.
    pub(in crate::figures) costs: &'a [i64],
    /// The indices of the splits that count it, and what each counts.
    pub(in crate::figures) fewer: Vec<(usize, Counted)>,
    pub(in crate::figures) more: Vec<(usize, Counted)>,
}

impl Open<'_> {
    /// Whether the length used up counts, at the level or before it.
    pub(super) fn counts_used(&self) -> bool {
        self.cost_level.is_none() || self.used_limit.is_some()
    }

    /// The prices of all splits of boards on the `fewer` side, and of all on the `more` side.
    pub(super) fn split_prices(&self, prices: &[(usize, i64)]) -> (Vec<i64>, Vec<i64>) {
        let mut all = vec![0; self.sides.len()];
        for &(split, price) in prices {
            if let Some(own) = all.get_mut(split) {
                *own = price;
            }
        }
        let pick = |side: Side| {
            let pairs = all.iter().zip(&self.sides);
            pairs
                .filter(|(_, other)| **other == side)
                .map(|(price, _)| *price)
                .collect()
        };
        (pick(Side::Fewer), pick(Side::More))
    }
}
