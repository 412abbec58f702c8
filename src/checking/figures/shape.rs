//! Whether figures have a shape with which they can be summed: every split has both its sides, every leaf all the prices it needs.
//!
//! A tree is a list of nodes in preorder. It is read from front to back and the missing sides are counted, without recursion, however deep
//! the tree is.
//!
//! **Why no sum overflows.** Groups beyond the limits of [`within_reach`] are not checked: fewer than 2^28 parts wanted in all; 2^12 kinds
//! of board, with at most 2^20 of each and 2^11 runs; boards shorter than 2^29 ticks that cost less than 2^41 at a level. No legal job is
//! near these. Prices and scales are at most [`MOST_FIGURE`], 2^50, and totals are 64-bit. So in 128-bit sums
//!
//! * a board is worth at most 2^(50 + 28 + 11) and charged at most 2^93, the splits on a way of fewer than 2^30 places among it;
//! * what all boards exceed their charges by is below 2^(93 + 20 + 12), prices times totals below 2^(50 + 63 + 1);
//! * over a list of at most 2^13 cuttings what is spent is held to a total by the limits of its level or, of the length used up, below
//!   2^(13 + 28 + 29), and what cuttings are worth beyond their cost, splits on pairs among it, is below 2^(82 + 28 + 13);
//! * in a search over pairs, whose prices are at most [`MOST_PAIR_FIGURE`], 2^30, a board holds blocks worth less than 2^(30 + 28), in 64 bits.
//!
//! None of these sums reaches 2^127. All else is counted or compared.

use super::boards::{Board, index_of};
use super::question::Question;
use super::side::Counted;
use crate::lie::{Lie, Misshape, Spot};
use order::{Map, Set};
use proof::certificate::{Branch, Leaf, MOST_FIGURE, MOST_PAIR_FIGURE, Pairing, Twig, TwigLeaf};

/// Whether the sums of a group of this size cannot overflow; see the head of this file.
pub(super) fn within_reach(question: &Question, boards: &[Board]) -> bool {
    let parts = question.group.parts.iter();
    let wanted = parts.map(|&part| u64::from(question.job.parts[part].quantity));
    wanted.sum::<u64>() < 1 << 28
        && boards.len() <= 1 << 12
        && boards.iter().all(|board| {
            board.length < 1 << 29
                && board.shape.rooms().len() <= 1 << 11
                && board.supply.is_none_or(|supply| supply <= 1 << 20)
                && board.costs.iter().all(|cost| (0..1 << 41).contains(cost))
        })
}

/// Checks the tree of a claim.
///
/// # Errors
/// The first node of the wrong shape.
pub(super) fn check(question: &Question, tree: &[Branch], boards: &[Board]) -> Result<(), Lie> {
    let lie = |branch: usize, twig: Option<usize>, what: Misshape| Lie::MisshapenFigures {
        measure: question.measure,
        spot: Some(Spot { branch, twig }),
        what,
    };
    let known: Map<usize, &Board> = boards
        .iter()
        .map(|board| (index_of(question.job, board.source), board))
        .collect();
    let covers = |set: &[usize]| {
        let known = set.iter().all(|index| known.get(index).is_some());
        known && !set.is_empty() && set.windows(2).all(|pair| pair[0] < pair[1])
    };
    let counts = |index: &usize| {
        let board = known.get(index);
        board.is_some_and(|board| board.counts_offcuts())
    };
    let mut way = Way::default();
    for (at, branch) in tree.iter().enumerate() {
        let here = |what| lie(at, None, what);
        way.arrive().map_err(here)?;
        match branch {
            Branch::Split { boards, at } => {
                if !covers(boards) {
                    return Err(here(Misshape::Cover));
                }
                let split = (boards.as_slice(), Counted::Boards, *at);
                way.split(split).map_err(here)?;
            }
            Branch::Kept { boards, at } => {
                if !covers(boards) {
                    return Err(here(Misshape::Cover));
                }
                if !question.used_up() || !boards.iter().all(counts) {
                    return Err(here(Misshape::Offcuts));
                }
                let split = (boards.as_slice(), Counted::Offcuts, *at);
                way.split(split).map_err(here)?;
            }
            Branch::Leaf(leaf) | Branch::Searched(leaf) => {
                check_leaf(question, leaf, way.depth()).map_err(here)?;
                way.settle();
            }
            Branch::Paired { leaf, search } => {
                check_leaf(question, leaf, way.depth()).map_err(here)?;
                check_pairs(question, search).map_err(|(twig, what)| lie(at, Some(twig), what))?;
                way.settle();
            }
            Branch::Closed { leaf, search } => {
                check_leaf(question, leaf, way.depth()).map_err(here)?;
                check_search(question, search, way.depth())
                    .map_err(|(twig, what)| lie(at, Some(twig), what))?;
                way.settle();
            }
        }
    }
    way.end().map_err(|what| lie(tree.len(), None, what))
}

/// A split of a search over listed cuttings.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
enum Fork<'a> {
    Cutting(usize, &'a [(usize, u32)], Option<u32>, u32),
    Pair([usize; 2], u32),
}

/// Checks a search over listed cuttings; an error names the node.
fn check_search(
    question: &Question,
    search: &[Twig],
    splits: usize,
) -> Result<(), (usize, Misshape)> {
    let parts_known = question.job.parts.len();
    let mut way: Way<Fork> = Way::default();
    for (at, twig) in search.iter().enumerate() {
        let here = |what| (at, what);
        way.arrive().map_err(here)?;
        match twig {
            Twig::Pair { parts, at } => {
                if parts.iter().any(|part| *part >= parts_known) {
                    return Err(here(Misshape::Pair));
                }
                way.split(Fork::Pair(*parts, *at)).map_err(here)?;
            }
            Twig::Split {
                board,
                parts,
                kept,
                at,
            } => {
                let known = parts
                    .iter()
                    .all(|(part, count)| *part < parts_known && *count > 0);
                if parts.is_empty() || !known || !parts.windows(2).all(|pair| pair[0].0 < pair[1].0)
                {
                    return Err(here(Misshape::Cutting));
                }
                let fork = Fork::Cutting(*board, parts, *kept, *at);
                way.split(fork).map_err(here)?;
            }
            Twig::Leaf(leaf) => {
                check_twig(question, leaf, splits + way.depth()).map_err(here)?;
                // Of the splits in the search those on pairs alone have prices.
                let mut within = leaf.splits.iter();
                let is_pair = |at: usize| matches!(way.splits[at].0, Fork::Pair(..));
                if !within.all(|(at, _)| at.checked_sub(splits).is_none_or(is_pair)) {
                    return Err(here(Misshape::Splits));
                }
                way.settle();
            }
        }
    }
    way.end().map_err(|what| (search.len(), what))
}

/// Checks a search over pairs; an error names the node.
fn check_pairs(question: &Question, search: &[Pairing]) -> Result<(), (usize, Misshape)> {
    let parts = question.job.parts.len();
    // How many blocks each of the nodes has that are still missing.
    let mut missing = vec![parts];
    for (at, pairing) in search.iter().enumerate() {
        let here = |what| (at, what);
        let blocks = missing.pop().ok_or(here(Misshape::TooLong))?;
        match pairing {
            Pairing::Split(pair) => {
                if pair.iter().any(|block| *block >= blocks) {
                    return Err(here(Misshape::Pair));
                }
                missing.extend([blocks, blocks + 1]);
            }
            Pairing::Leaf { scale, prices } => {
                if prices.len() != blocks {
                    return Err(here(Misshape::Parts));
                }
                if *scale < 1 || prices.iter().any(|price| *price < 0) {
                    return Err(here(Misshape::BelowZero));
                }
                if prices
                    .iter()
                    .chain([scale])
                    .any(|&figure| figure > MOST_PAIR_FIGURE)
                {
                    return Err(here(Misshape::TooGreat));
                }
            }
        }
    }
    match missing[..] {
        [] => Ok(()),
        _ => Err((search.len(), Misshape::TooShort)),
    }
}

/// The splits on the way to a node, each with whether its second side is reached; at first only the root is missing.
struct Way<S> {
    splits: Vec<(S, bool)>,
    known: Set<S>,
    /// Whether a node is still missing.
    open: bool,
}

impl<S> Default for Way<S> {
    fn default() -> Self {
        Way {
            splits: Vec::new(),
            known: Set::default(),
            open: true,
        }
    }
}

impl<S: Copy + Ord> Way<S> {
    /// How many splits there are on the way.
    fn depth(&self) -> usize {
        self.splits.len()
    }

    /// Notes that a node follows; an error where none is missing.
    fn arrive(&self) -> Result<(), Misshape> {
        if self.open {
            Ok(())
        } else {
            Err(Misshape::TooLong)
        }
    }

    /// The node is a split.
    fn split(&mut self, split: S) -> Result<(), Misshape> {
        if !self.known.insert(split) {
            return Err(Misshape::Repeated);
        }
        self.splits.push((split, false));
        Ok(())
    }

    /// The node is a leaf: next comes the second side of the last split of which only the first was visited.
    fn settle(&mut self) {
        while let Some((split, second)) = self.splits.last_mut() {
            if !*second {
                *second = true;
                return;
            }
            self.known.remove(split);
            self.splits.pop();
        }
        self.open = false;
    }

    /// Notes the end of the list; an error where a node is missing.
    fn end(&self) -> Result<(), Misshape> {
        if self.open {
            Err(Misshape::TooShort)
        } else {
            Ok(())
        }
    }
}

fn check_leaf(question: &Question, leaf: &Leaf, depth: usize) -> Result<(), Misshape> {
    check_prices(question, leaf.scale, &leaf.parts, &leaf.earlier)?;
    check_splits(&leaf.splits, depth)
}

fn check_twig(question: &Question, leaf: &TwigLeaf, depth: usize) -> Result<(), Misshape> {
    if leaf.boards.len() != question.job.yard.len() + question.job.shed.len()
        || leaf.boards.iter().any(|price| *price < 0)
    {
        return Err(Misshape::Boards);
    }
    check_greatest(leaf.boards.iter())?;
    check_prices(question, leaf.scale, &leaf.parts, &leaf.earlier)?;
    check_splits(&leaf.splits, depth)
}

fn check_prices(
    question: &Question,
    scale: i64,
    parts: &[i64],
    earlier: &[i64],
) -> Result<(), Misshape> {
    if parts.len() != question.job.parts.len() {
        return Err(Misshape::Parts);
    }
    if earlier.len() != question.values.len() {
        return Err(Misshape::Earlier);
    }
    if scale < 1 || parts.iter().chain(earlier).any(|price| *price < 0) {
        return Err(Misshape::BelowZero);
    }
    check_greatest(parts.iter().chain(earlier).chain([&scale]))
}

/// An error where a figure is greater than the sums allow.
fn check_greatest<'a>(mut figures: impl Iterator<Item = &'a i64>) -> Result<(), Misshape> {
    if figures.any(|figure| *figure > MOST_FIGURE) {
        return Err(Misshape::TooGreat);
    }
    Ok(())
}

fn check_splits(splits: &[(usize, i64)], depth: usize) -> Result<(), Misshape> {
    if splits.iter().any(|(at, _)| *at >= depth)
        || !splits.windows(2).all(|pair| pair[0].0 < pair[1].0)
    {
        return Err(Misshape::Splits);
    }
    if splits.iter().any(|(_, price)| *price < 0) {
        return Err(Misshape::BelowZero);
    }
    check_greatest(splits.iter().map(|(_, price)| price))
}
