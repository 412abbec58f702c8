//! Walking through a search over listed cuttings, and adding up what its places show.
//!
//! The search is a list of places; the way to the place at hand is kept beside it, with what each split on it changed, so that the walk
//! goes on behind a leaf without a stack of calls.

use super::{Class, Cutting, Open};
use crate::certificate::{Twig, TwigLeaf};
use crate::check::figures::leaves::Side;
use crate::check::worth::{Steps, TooLarge};
use std::collections::BTreeMap;

/// A walk through the search, root first.
pub(super) struct Walk<'a> {
    pub(super) open: &'a Open<'a>,
    pub(super) twigs: &'a [Twig],
    pub(super) classes: Vec<Class>,
    pub(super) kinds: Vec<Vec<usize>>,
    pub(super) cuttings: Vec<Cutting>,
}

/// A split on the way.
struct Turn {
    /// The cutting it bounds; none where it is not on the list, and no better plan has it.
    cutting: Option<usize>,
    /// The most that the first side uses.
    at: i64,
    /// The bounds before it.
    low: i64,
    high: i64,
    /// Whether there could be plans before it.
    open: bool,
    side: Side,
}

impl Walk<'_> {
    /// Whether every place of a search of the right shape holds.
    pub(super) fn holds(&mut self, steps: &mut Steps) -> Result<bool, TooLarge> {
        let mut way: Vec<Turn> = Vec::new();
        // Whether the counts on the way leave any plan.
        let mut open = true;
        for twig in self.twigs {
            *steps = steps
                .checked_sub(4 * self.cuttings.len() as u64 + 1)
                .ok_or(TooLarge)?;
            match twig {
                Twig::Leaf(leaf) => {
                    if open && !self.leaf_holds(leaf) {
                        return Ok(false);
                    }
                    open = self.go_on(&mut way);
                }
                Twig::Split { board, parts, at } => {
                    let cutting = self.listed(*board, parts);
                    let bounds = cutting.map(|index| &self.cuttings[index]);
                    way.push(Turn {
                        cutting,
                        at: i64::from(*at),
                        low: bounds.map_or(0, |cutting| cutting.low),
                        high: bounds.map_or(0, |cutting| cutting.high),
                        open,
                        side: Side::Fewer,
                    });
                    open = self.take(&way[way.len() - 1]);
                }
            }
        }
        Ok(true)
    }

    /// Bounds a cutting as the side of a split says; returns whether that leaves any plan.
    fn take(&mut self, turn: &Turn) -> bool {
        let (low, high) = match turn.side {
            Side::Fewer => (turn.low, turn.high.min(turn.at)),
            Side::More => (turn.low.max(turn.at + 1), turn.high),
        };
        if let Some(index) = turn.cutting {
            self.cuttings[index].low = low;
            self.cuttings[index].high = high;
        }
        turn.open && low <= high
    }

    /// Goes on to the place behind a leaf: the second side of the last split that lacks it. Returns whether there can be plans.
    fn go_on(&mut self, way: &mut Vec<Turn>) -> bool {
        while let Some(mut turn) = way.pop() {
            if turn.side == Side::Fewer {
                turn.side = Side::More;
                let open = self.take(&turn);
                way.push(turn);
                return open;
            }
            if let Some(index) = turn.cutting {
                self.cuttings[index].low = turn.low;
                self.cuttings[index].high = turn.high;
            }
        }
        false
    }

    /// The listed cutting that a split speaks of.
    fn listed(&self, board: usize, parts: &[(usize, u32)]) -> Option<usize> {
        let board = self
            .open
            .boards
            .iter()
            .position(|other| other.index == board)?;
        let kind = self.kinds.iter().position(|kind| kind.contains(&board))?;
        let mut counts = BTreeMap::new();
        for &(part, count) in parts {
            let class = self
                .classes
                .iter()
                .position(|class| class.members.contains(&part))?;
            *counts.entry(class).or_insert(0u32) += count;
        }
        let counts: Vec<(usize, u32)> = counts.into_iter().collect();
        self.cuttings
            .iter()
            .position(|cutting| cutting.kind == kind && cutting.counts == counts)
    }

    /// Whether prices show that no plan over the list, used within its bounds, beats the claim.
    fn leaf_holds(&self, leaf: &TwigLeaf) -> bool {
        let open = self.open;
        let mut wanted: Vec<i64> = self
            .classes
            .iter()
            .map(|class| i64::from(class.wanted))
            .collect();
        let supply = |kind: &Vec<usize>| -> Option<i64> {
            kind.iter()
                .map(|&board| open.boards[board].board.supply.map(i64::from))
                .sum()
        };
        let mut supplies: Vec<Option<i64>> = self.kinds.iter().map(supply).collect();
        let (mut limits, mut fewer, mut more) =
            (open.limits.clone(), open.fewer.clone(), open.more.clone());
        let mut spent: i128 = 0;
        for cutting in self.cuttings.iter().filter(|cutting| cutting.low > 0) {
            let board = &open.boards[self.kinds[cutting.kind][0]];
            let low = cutting.low;
            for &(class, count) in &cutting.counts {
                wanted[class] -= low * i64::from(count);
            }
            supplies[cutting.kind] = supplies[cutting.kind].map(|supply| supply - low);
            for (limit, cost) in limits.iter_mut().zip(&board.costs) {
                *limit -= low * cost;
            }
            for &split in &board.fewer {
                fewer[split] -= low;
            }
            for &split in &board.more {
                more[split] -= low;
            }
            spent += i128::from(low) * i128::from(cutting.cost);
        }
        let overdrawn = |left: &i64| *left < 0;
        if supplies.iter().flatten().any(overdrawn)
            || limits.iter().any(overdrawn)
            || fewer.iter().any(overdrawn)
        {
            return true;
        }
        let scale = i128::from(leaf.scale);
        let product = |price: i64, amount: i64| i128::from(price) * i128::from(amount);
        let (fewer_prices, more_prices) = open.split_prices(&leaf.splits);
        let mut sum = scale * spent;
        for (class, left) in self.classes.iter().zip(&wanted) {
            sum += product(leaf.parts[class.part], (*left).max(0));
        }
        for (kind, left) in self.kinds.iter().zip(&supplies) {
            match left {
                Some(left) => sum -= product(leaf.boards[open.boards[kind[0]].index], *left),
                None if leaf.boards[open.boards[kind[0]].index] > 0 => return false,
                None => {}
            }
        }
        for (price, left) in leaf.earlier.iter().zip(&limits) {
            sum -= product(*price, *left);
        }
        for (price, left) in fewer_prices.iter().zip(&fewer) {
            sum -= product(*price, *left);
        }
        for (price, left) in more_prices.iter().zip(&more) {
            sum += product(*price, (*left).max(0));
        }
        for cutting in self
            .cuttings
            .iter()
            .filter(|cutting| cutting.high > cutting.low)
        {
            let board = &open.boards[self.kinds[cutting.kind][0]];
            let mut reduced =
                scale * i128::from(cutting.cost) + i128::from(leaf.boards[board.index]);
            for &(class, count) in &cutting.counts {
                reduced -= product(leaf.parts[self.classes[class].part], i64::from(count));
            }
            for (price, cost) in leaf.earlier.iter().zip(&board.costs) {
                reduced += product(*price, *cost);
            }
            for &split in &board.fewer {
                reduced += i128::from(fewer_prices[split]);
            }
            for &split in &board.more {
                reduced -= i128::from(more_prices[split]);
            }
            sum += reduced.min(0) * i128::from(cutting.high - cutting.low);
        }
        sum > scale * i128::from(open.beaten)
    }
}
