//! Walks through a search over listed cuttings and checks the bounds of its nodes.
//!
//! The search is a list of nodes in preorder. The way to the present node is kept beside it, with what each split on it changed, so the
//! walk needs no recursion. Cuttings, kinds and classes are looked up in maps; each node costs the steps of summing over the whole list.

#[cfg(test)]
mod laws;

use super::alike::{Class, Cutting, Kind};
use super::open::Open;
use super::together::{PairSums, Together};
use crate::figures::side::Side;
use crate::steps::{Steps, TooLarge};
use order::Map;
use proof::certificate::{Twig, TwigLeaf};
use std::rc::Rc;

/// A listed cutting, by its kind, its counts and how many offcuts it keeps, where a split counts them.
type Listed = (usize, Vec<(usize, u32)>, Option<u32>);

/// A walk through the search, root first.
pub(super) struct Walk<'a> {
    open: &'a Open<'a>,
    classes: Vec<Class>,
    kinds: Vec<Kind>,
    cuttings: Vec<Cutting>,
    /// For each board as certificates number it, the index of its kind.
    kind_of: Map<usize, usize>,
    /// For each part, the index of its class.
    class_of: Map<usize, usize>,
    /// The index of a listed cutting.
    listed: Map<Listed, usize>,
    /// The steps of one node, but for those of splits on pairs.
    each: u64,
    /// The listed cuttings that hold both of a pair of parts.
    together: Together,
}

/// A split on the way.
struct Turn {
    what: Bounded,
    /// The greatest number on the first side.
    at: i64,
    /// Whether the bounds left any plan before this split.
    open: bool,
    side: Side,
}

/// What a split bounds.
enum Bounded {
    /// The uses of a listed cutting, with its bounds before this split.
    Uses { cutting: usize, low: i64, high: i64 },
    /// The uses of a cutting that is not listed, so that no better plan has it.
    Unlisted,
    /// The boards that hold both of a pair of parts: the listed cuttings that do.
    Pair(Rc<[usize]>),
}

impl Turn {
    /// The listed cuttings that hold both of the pair that it splits on; none where it splits on a cutting.
    fn holders(&self) -> &[usize] {
        match &self.what {
            Bounded::Pair(holders) => holders,
            _ => &[],
        }
    }
}

impl<'a> Walk<'a> {
    pub(super) fn new(
        open: &'a Open,
        (classes, kinds, cuttings): (Vec<Class>, Vec<Kind>, Vec<Cutting>),
    ) -> Walk<'a> {
        let kind_of = kinds.iter().enumerate().flat_map(|(at, kind)| {
            let members = kind.members.iter();
            members.map(move |&board| (open.boards[board].index, at))
        });
        let class_of = classes.iter().enumerate().flat_map(|(at, class)| {
            let members = class.members.iter();
            members.map(move |&part| (part, at))
        });
        let offcuts = open.offcuts;
        let listed = cuttings.iter().enumerate().map(|(at, cutting)| {
            let kept = offcuts.then_some(cutting.kept);
            ((cutting.kind, cutting.counts.clone(), kept), at)
        });
        let each = cuttings.iter().map(|cutting| {
            let board = &open.boards[kinds[cutting.kind].first];
            let counted = board.costs.len() + board.fewer.len() + board.more.len();
            1 + cutting.counts.len() + counted
        });
        let rest = classes.len() + kinds.len() + 2 * open.sides.len() + open.limits.len() + 1;
        Walk {
            each: (each.sum::<usize>() + rest) as u64,
            kind_of: kind_of.collect(),
            class_of: class_of.collect(),
            listed: listed.collect(),
            together: Together::default(),
            open,
            classes,
            kinds,
            cuttings,
        }
    }

    /// Whether every node of a search of the right shape holds.
    pub(super) fn holds(&mut self, twigs: &[Twig], steps: &mut Steps) -> Result<bool, TooLarge> {
        let mut way: Vec<Turn> = Vec::new();
        // Whether the bounds on the way leave any plan.
        let mut open = true;
        for twig in twigs {
            match twig {
                Twig::Leaf(leaf) => {
                    let pairs = way.iter().map(|turn| 1 + turn.holders().len() as u64);
                    steps.take(self.each + pairs.sum::<u64>())?;
                    if open && !self.leaf_holds(leaf, &way) {
                        return Ok(false);
                    }
                    open = self.go_on(&mut way);
                }
                Twig::Split {
                    board,
                    parts,
                    kept,
                    at,
                } => {
                    steps.take(1 + parts.len() as u64)?;
                    let what = match self.listed(*board, parts, *kept) {
                        Some(cutting) => Bounded::Uses {
                            cutting,
                            low: self.cuttings[cutting].low,
                            high: self.cuttings[cutting].high,
                        },
                        None => Bounded::Unlisted,
                    };
                    open = self.turn(&mut way, (what, *at), open);
                }
                Twig::Pair { parts, at } => {
                    steps.take(1)?;
                    let classes = parts.map(|part| self.class_of.get(&part).copied());
                    let holders = self.together.holders(classes, &self.cuttings, steps)?;
                    open = self.turn(&mut way, (Bounded::Pair(holders), *at), open);
                }
            }
        }
        Ok(true)
    }

    /// Takes the first side of a split; returns whether the bounds leave any plan.
    fn turn(&mut self, way: &mut Vec<Turn>, (what, at): (Bounded, u32), open: bool) -> bool {
        let turn = Turn {
            what,
            at: i64::from(at),
            open,
            side: Side::Fewer,
        };
        let open = self.take(&turn);
        way.push(turn);
        open
    }

    /// Sets a cutting's bounds to those of a side of a split; returns whether that leaves any plan.
    fn take(&mut self, turn: &Turn) -> bool {
        let leaves = match turn.what {
            Bounded::Uses { cutting, low, high } => {
                let (low, high) = match turn.side {
                    Side::Fewer => (low, high.min(turn.at)),
                    Side::More => (low.max(turn.at + 1), high),
                };
                self.cuttings[cutting].low = low;
                self.cuttings[cutting].high = high;
                low <= high
            }
            Bounded::Unlisted => turn.side == Side::Fewer,
            // Prices show where a side of it is empty.
            Bounded::Pair(_) => true,
        };
        turn.open && leaves
    }

    /// Goes on to the node after a leaf: the second side of the last split of which only the first was visited. Returns whether the bounds
    /// leave any plan.
    fn go_on(&mut self, way: &mut Vec<Turn>) -> bool {
        while let Some(mut turn) = way.pop() {
            if turn.side == Side::Fewer {
                turn.side = Side::More;
                let open = self.take(&turn);
                way.push(turn);
                return open;
            }
            if let Bounded::Uses { cutting, low, high } = turn.what {
                self.cuttings[cutting].low = low;
                self.cuttings[cutting].high = high;
            }
        }
        false
    }

    /// The index of the listed cutting of a split.
    fn listed(&self, board: usize, parts: &[(usize, u32)], kept: Option<u32>) -> Option<usize> {
        let kind = *self.kind_of.get(&board)?;
        let mut counts = Map::new();
        for (part, count) in parts {
            let sum = counts.or_insert_with(*self.class_of.get(part)?, || 0u32);
            *sum = sum.checked_add(*count)?;
        }
        self.listed
            .get(&(kind, counts.into_iter().collect(), kept))
            .copied()
    }

    /// What one use of a cutting takes of each limit.
    fn costs(&self, cutting: &Cutting) -> impl Iterator<Item = i64> {
        let costs = self.open.boards[self.kinds[cutting.kind].first].costs;
        let (used_limit, used) = (self.open.used_limit, cutting.used);
        let costs = costs.iter().enumerate();
        costs.map(move |(at, cost)| if used_limit == Some(at) { used } else { *cost })
    }

    /// What the splits on pairs on the way come to at the prices of a leaf; `None` where what is fixed overdraws one.
    fn pair_sums(&self, leaf: &TwigLeaf, way: &[Turn]) -> Option<PairSums> {
        let mut sums = PairSums::new(self.cuttings.len());
        let first = self.open.sides.len();
        let within = leaf.splits.partition_point(|(split, _)| *split < first);
        let mut prices = leaf.splits[within..].iter().peekable();
        for (number, turn) in (first..).zip(way) {
            let price = prices.next_if(|(split, _)| *split == number);
            let price = price.map_or(0, |(_, price)| *price);
            if let Bounded::Pair(holders) = &turn.what
                && !sums.add((turn.side, turn.at), price, holders, &self.cuttings)
            {
                return None;
            }
        }
        Some(sums)
    }

    /// Whether the prices show that no plan over the list, used within its bounds, beats the claim.
    fn leaf_holds(&self, leaf: &TwigLeaf, way: &[Turn]) -> bool {
        let Some(pairs) = self.pair_sums(leaf, way) else {
            return true;
        };
        let open = self.open;
        let wide = |amounts: &[i64]| amounts.iter().copied().map(i128::from).collect::<Vec<_>>();
        let wanted = self.classes.iter().map(|class| i128::from(class.wanted));
        let mut wanted: Vec<i128> = wanted.collect();
        let supplies = self.kinds.iter().map(|kind| kind.supply.map(i128::from));
        let mut supplies: Vec<Option<i128>> = supplies.collect();
        let mut limits = wide(&open.limits);
        let (mut fewer, mut more) = (wide(&open.fewer), wide(&open.more));
        let mut spent: i128 = 0;
        for cutting in self.cuttings.iter().filter(|cutting| cutting.low > 0) {
            let board = &open.boards[self.kinds[cutting.kind].first];
            let low = i128::from(cutting.low);
            for &(class, count) in &cutting.counts {
                wanted[class] -= low * i128::from(count);
            }
            supplies[cutting.kind] = supplies[cutting.kind].map(|supply| supply - low);
            for (limit, cost) in limits.iter_mut().zip(self.costs(cutting)) {
                *limit -= low * i128::from(cost);
            }
            for &(split, counted) in &board.fewer {
                fewer[split] -= low * i128::from(cutting.adds(counted));
            }
            for &(split, counted) in &board.more {
                more[split] -= low * i128::from(cutting.adds(counted));
            }
            spent += low * i128::from(cutting.cost);
        }
        let overdrawn = |left: &i128| *left < 0;
        if supplies.iter().flatten().any(overdrawn)
            || limits.iter().any(overdrawn)
            || fewer.iter().any(overdrawn)
        {
            return true;
        }
        let scale = i128::from(leaf.scale);
        let product = |price: i64, amount: i128| i128::from(price) * amount;
        let (fewer_prices, more_prices) = open.split_prices(&leaf.splits);
        let mut sum = scale * spent + pairs.sum;
        for (class, left) in self.classes.iter().zip(&wanted) {
            sum += product(leaf.parts[class.part], (*left).max(0));
        }
        for (kind, left) in self.kinds.iter().zip(&supplies) {
            let price = leaf.boards[open.boards[kind.first].index];
            match left {
                Some(left) => sum -= product(price, *left),
                None if price > 0 => return false,
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
        let free = |cutting: &Cutting| cutting.high > cutting.low;
        let charges = self.cuttings.iter().zip(&pairs.charges);
        for (cutting, charge) in charges.filter(|(cutting, _)| free(cutting)) {
            let board = &open.boards[self.kinds[cutting.kind].first];
            let mut reduced =
                scale * i128::from(cutting.cost) + i128::from(leaf.boards[board.index]) + charge;
            for &(class, count) in &cutting.counts {
                reduced -= product(leaf.parts[self.classes[class].part], i128::from(count));
            }
            for (price, cost) in leaf.earlier.iter().zip(self.costs(cutting)) {
                reduced += product(*price, i128::from(cost));
            }
            for &(split, counted) in &board.fewer {
                reduced += product(fewer_prices[split], i128::from(cutting.adds(counted)));
            }
            for &(split, counted) in &board.more {
                reduced -= product(more_prices[split], i128::from(cutting.adds(counted)));
            }
            sum += reduced.min(0) * i128::from(cutting.high - cutting.low);
        }
        sum > scale * i128::from(open.beaten)
    }
}
