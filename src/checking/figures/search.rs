//! Closing a leaf that prices alone do not settle, over a list of all cuttings that they leave open.
//!
//! At a leaf's prices every plan totals at least what the leaf shows and, for each cutting in it, what that cutting is worth less
//! than its board is charged (reduced-cost fixing). So a plan that beats the claim is made of cuttings that lose little, and all of
//! them together may lose no more than the *gap*. Those cuttings are listed here; where only costs count, a cutting to which a wanted part can
//! be added is left out, for the fuller one loses less, and parts may then be cut too often. Cuttings of equal counts are one, that which
//! uses up least.
//!
//! The certificate splits on how often listed cuttings are used and prices each place of that tree. What a place shows over the list
//! is added up as the head of [`proof::certificate`] says. The walk ends with the tree; listing is counted in steps.

mod list;
mod walk;

use super::boards::Board;
use super::side::Side;
use crate::steps::{Steps, TooLarge};
use crate::wood::Wood;
use crate::worth::Worths;
use list::Lister;
use proof::certificate::Twig;
use std::collections::HashMap;
use std::rc::Rc;
use timber::job::Job;
use walk::Walk;

/// Most cuttings that are listed. More would not be searched through in any time a person waits.
const MOST_CUTTINGS: usize = 6_000;
/// Most steps to list the cuttings of one leaf, so that one hard leaf does not use up what all have.
const MOST_STEPS: u64 = 60_000_000;

/// A leaf, its claim, and what its prices say of each board.
pub(super) struct Open<'a> {
    pub(super) job: &'a Job,
    /// The parts of the group.
    pub(super) parts: &'a [usize],
    /// How parts lie on each of the sections.
    pub(super) woods: &'a [(usize, Wood)],
    pub(super) prices: &'a [i64],
    /// What each tick used up costs; nothing at a cost level.
    pub(super) tick_cost: i128,
    /// What all cuttings together may lose.
    pub(super) gap: i128,
    /// The greatest total that would beat the claim.
    pub(super) beaten: i64,
    /// The level, where it is a cost level: an index into the boards' costs.
    pub(super) cost_level: Option<usize>,
    pub(super) boards: Vec<OpenBoard<'a>>,
    /// What boards may still cost at the levels that are bounded, the leaf's own among them where it is a cost level.
    pub(super) limits: Vec<i64>,
    /// The splits on the way: how many of the set may be used at most, or must be used at least.
    pub(super) fewer: Vec<i64>,
    pub(super) more: Vec<i64>,
    /// The side of each split, root first.
    pub(super) sides: Vec<Side>,
}

/// A kind of board at a leaf.
pub(super) struct OpenBoard<'a> {
    pub(super) board: &'a Board,
    /// How certificates count it.
    pub(super) index: usize,
    pub(super) wood: &'a Wood,
    pub(super) worths: Rc<Worths>,
    pub(super) charge: i128,
    pub(super) excess: i128,
    /// What one costs at each of the limits.
    pub(super) costs: &'a [i64],
    /// Which of the splits count it.
    pub(super) fewer: Vec<usize>,
    pub(super) more: Vec<usize>,
}

/// Whether the search shows that no plan is left; `false` shows nothing.
pub(super) fn shows(open: &Open, twigs: &[Twig], steps: &mut Steps) -> Result<bool, TooLarge> {
    // Telling parts and boards apart reads each of them once, with how it lies and what counts it.
    steps.take_each(open.job.parts.len(), 1 + open.woods.len() as u64)?;
    for board in &open.boards {
        steps.take((1 + board.costs.len() + board.fewer.len() + board.more.len()) as u64)?;
    }
    let classes = classes(open);
    let kinds = kinds(open);
    let mut cuttings = Vec::new();
    steps.at_most(MOST_STEPS, |steps| {
        for (index, kind) in kinds.iter().enumerate() {
            let mut lister = Lister::new(open, &classes, kind, steps)?;
            lister.list(steps)?;
            let found = lister.found.into_iter();
            cuttings
                .extend(found.map(|(counts, cost)| Cutting::new(index, counts, cost, &classes)));
        }
        Ok(())
    })?;
    Walk::new(open, (classes, kinds, cuttings)).holds(twigs, steps)
}

/// Parts that lie alike and are worth the same.
struct Class {
    /// The first of them.
    part: usize,
    members: Vec<usize>,
    wanted: u32,
}

fn classes(open: &Open) -> Vec<Class> {
    let mut classes: Vec<Class> = Vec::new();
    let mut known = HashMap::new();
    for &part in open.parts {
        // How it lies on each of the sections of the group, and its price.
        let lies: Vec<_> = open.woods.iter().map(|(_, wood)| wood.lies(part)).collect();
        let class = *known.entry((lies, open.prices[part])).or_insert_with(|| {
            classes.push(Class {
                part,
                members: Vec::new(),
                wanted: 0,
            });
            classes.len() - 1
        });
        classes[class].members.push(part);
        classes[class].wanted += open.job.parts[part].quantity;
    }
    classes
}

/// Boards that nothing tells apart but how many there are.
struct Kind {
    /// The first of them, as an index of [`Open::boards`]: what is said of it holds for all.
    first: usize,
    /// All of them.
    members: Vec<usize>,
    /// How many there are together; none where one of them is without limit.
    supply: Option<i64>,
}

fn kinds(open: &Open) -> Vec<Kind> {
    let mut kinds: Vec<Kind> = Vec::new();
    let mut known = HashMap::new();
    for (index, one) in open.boards.iter().enumerate() {
        let board = one.board;
        let place = (board.section, &board.shape, board.length);
        let kind = *known
            .entry((place, &board.costs, &one.fewer, &one.more))
            .or_insert_with(|| {
                kinds.push(Kind {
                    first: index,
                    members: Vec::new(),
                    supply: Some(0),
                });
                kinds.len() - 1
            });
        let kind = &mut kinds[kind];
        kind.members.push(index);
        let supplies = kind.supply.zip(board.supply);
        kind.supply = supplies.map(|(sum, supply)| sum + i64::from(supply));
    }
    kinds
}

/// What is cut from a kind of board: how many of each class, ascending.
struct Cutting {
    kind: usize,
    counts: Vec<(usize, u32)>,
    /// What one adds to the total of the level.
    cost: i64,
    /// How often it is used, at least and at most.
    low: i64,
    high: i64,
}

impl Cutting {
    fn new(kind: usize, counts: Vec<(usize, u32)>, cost: i64, classes: &[Class]) -> Cutting {
        let enough =
            |&(class, count): &(usize, u32)| i64::from(classes[class].wanted.div_ceil(count));
        let high = counts.iter().map(enough).max().unwrap_or(0);
        Cutting {
            kind,
            counts,
            cost,
            low: 0,
            high,
        }
    }
}

impl Open<'_> {
    /// The prices of all splits of the sides with fewer, and of all of the sides with more.
    fn split_prices(&self, prices: &[(usize, i64)]) -> (Vec<i64>, Vec<i64>) {
        let mut all = vec![0; self.sides.len()];
        for &(split, price) in prices {
            all[split] = price;
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
