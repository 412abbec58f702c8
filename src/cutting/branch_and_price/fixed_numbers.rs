//! A search among boards of fixed numbers, told as a certificate tells a node.
//!
//! **Idea** (our own). At a node whose path fixes the number of each board bought, a search is made over supplies. A certificate knows no such
//! supplies, but it knows the decisions on the way; so each board is charged for its number by the price of the decision that limits it.
//!
//! **Invariant.** With these prices the certificate's sum of a plan is what the search's was. **Why it ends:** one pass over boards and decisions.

use crate::branch_and_price::state::TreeNode;
use crate::branch_path::{BranchSide, Counted};
use crate::column_generation::NodeRelaxation;
use crate::problem::Problem;
use crate::restricted_master::RestrictedMaster;
use proof::certificate::{Leaf, MOST_FIGURE, Twig};

/// The decisions on the way that fix the number of each board bought.
pub(crate) struct FixedNumbers {
    /// (board, place of its decision on the way).
    splits: Vec<(usize, usize)>,
}

impl FixedNumbers {
    /// `None` where some board is limited by neither a decision nor its own supply.
    pub(crate) fn new(
        node: &TreeNode,
        supply: &[Option<u32>],
        problem: &Problem,
        master: &RestrictedMaster,
    ) -> Option<FixedNumbers> {
        let limited = |board: usize, most: u32| {
            node.path.iter().position(|decision| {
                decision.side == BranchSide::AtMost(most)
                    && master.counted(decision.set) == Counted::Boards
                    && master.boards_of(decision.set) == [board]
            })
        };
        let mut splits = Vec::new();
        for (board, most) in supply.iter().enumerate() {
            if *most != problem.boards[board].supply {
                splits.push((board, limited(board, (*most)?)?));
            }
        }
        Some(FixedNumbers { splits })
    }

    /// The prices of the whole search: each board is charged what it can be worth. One of which there is none left is worth an unknown amount
    /// and is charged more than all parts are worth together and a better plan may lose, which keeps it off the list as well. `None`
    /// where a charge is greater than a certificate may hold.
    pub(crate) fn leaf(
        &self,
        relaxed: &NodeRelaxation,
        gap: i64,
        demand: &[u32],
        earlier: usize,
    ) -> Option<Leaf> {
        let parts = relaxed.leaf.parts.iter().zip(demand);
        let all: i128 = parts
            .map(|(&price, &count)| i128::from(price) * i128::from(count))
            .sum();
        let beyond = all + i128::from(gap) + 1;
        let charge = |&(board, split): &(usize, usize)| {
            let charge = i128::from(relaxed.fixing.charges[board].max(0)).min(beyond);
            let charge = i64::try_from(charge).ok();
            Some((split, charge.filter(|charge| *charge <= MOST_FIGURE)?))
        };
        let mut splits: Vec<(usize, i64)> =
            self.splits.iter().map(charge).collect::<Option<_>>()?;
        order::sort(&mut splits);
        Some(Leaf {
            scale: 1,
            parts: relaxed.leaf.parts.clone(),
            earlier: vec![0; earlier],
            splits,
        })
    }

    /// A place of the search, with what boards are charged for their number told as the price of their decision. `None` where one is
    /// greater than a certificate may hold.
    pub(crate) fn twig(&self, twig: Twig) -> Option<Twig> {
        let Twig::Leaf(mut leaf) = twig else {
            return Some(twig);
        };
        for &(board, split) in &self.splits {
            let charge = std::mem::take(&mut leaf.boards[board]);
            match leaf.splits.binary_search_by_key(&split, |entry| entry.0) {
                Ok(at) => leaf.splits[at].1 += charge,
                Err(at) => leaf.splits.insert(at, (split, charge)),
            }
        }
        let held = leaf.splits.iter().all(|(_, price)| *price <= MOST_FIGURE);
        held.then_some(Twig::Leaf(leaf))
    }
}
