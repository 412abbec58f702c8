//! Closing a leaf that prices alone do not settle, over a list of all cuttings that they leave open.
//!
//! At a leaf's prices every plan totals at least what the leaf shows and, for each cutting in it, what that cutting is worth less
//! than its board is charged (reduced-cost fixing). So a plan that beats the claim is made of cuttings that lose little, and all of
//! them together may lose no more than the *gap*. Those cuttings are listed here; where only costs count, a cutting to which a wanted part can
//! be added is left out, for the fuller one loses less, and parts may then be cut too often. Cuttings of equal counts are one, that which
//! uses up least.
//!
//! The certificate splits on how often listed cuttings are used and prices each place of that tree. What a place shows over the list
//! is added up as the head of [`crate::certificate`] says. The walk ends with the tree; listing is counted in steps.

mod list;
mod walk;

use super::boards::Board;
use super::leaves::Side;
use crate::certificate::Twig;
use crate::check::wood::Wood;
use crate::check::worth::{Steps, TooLarge, Worths};
use crate::job::Job;
use list::Lister;
use walk::Walk;

/// Most cuttings that are listed. More would not be searched through in any time a person waits.
const MOST_CUTTINGS: usize = 6_000;
/// Most steps to list the cuttings of one leaf, so that one hard leaf does not use up what all have.
const MOST_STEPS: u64 = 60_000_000;

/// A leaf, its claim, and what its prices say of each board.
pub(super) struct Open<'a> {
    pub(super) job: &'a Job,
    pub(super) sections: &'a [usize],
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
    pub(super) worths: &'a Worths,
    pub(super) charge: i128,
    pub(super) excess: i128,
    /// What one costs at each of the limits.
    pub(super) costs: Vec<i64>,
    /// Which of the splits count it.
    pub(super) fewer: Vec<usize>,
    pub(super) more: Vec<usize>,
}

/// Whether the search shows that no plan is left; `false` shows nothing.
pub(super) fn shows(open: &Open, twigs: &[Twig], steps: &mut Steps) -> Result<bool, TooLarge> {
    let classes = classes(open);
    let kinds = kinds(open);
    let mut cuttings = Vec::new();
    let mut own = (*steps).min(MOST_STEPS);
    let before = own;
    for (kind, indices) in kinds.iter().enumerate() {
        let mut lister = Lister::new(open, &classes, &open.boards[indices[0]]);
        if lister.list(&mut own).is_err() {
            *steps = steps.saturating_sub(before - own);
            return Err(TooLarge);
        }
        let found = lister.found.into_iter();
        cuttings.extend(found.map(|(counts, cost)| Cutting::new(kind, counts, cost, &classes)));
    }
    *steps -= before - own;
    let mut walk = Walk {
        open,
        twigs,
        classes,
        kinds,
        cuttings,
    };
    walk.holds(steps)
}

/// Parts that lie alike and are worth the same.
struct Class {
    /// The first of them.
    part: usize,
    members: Vec<usize>,
    wanted: u32,
}

fn classes(open: &Open) -> Vec<Class> {
    // How each part lies on each section of the group, and its price.
    let key = |part: usize| {
        let lies = open.woods.iter().map(|(_, wood)| wood.lies(part));
        (lies.collect::<Vec<_>>(), open.prices[part])
    };
    let keys: Vec<_> = (0..open.job.parts.len()).map(key).collect();
    let mut classes: Vec<Class> = Vec::new();
    for (part, wanted) in open.job.parts.iter().enumerate() {
        if !open.sections.contains(&wanted.sections[0]) {
            continue;
        }
        match classes
            .iter_mut()
            .find(|class| keys[class.part] == keys[part])
        {
            Some(class) => {
                class.wanted += wanted.quantity;
                class.members.push(part);
            }
            None => classes.push(Class {
                part,
                members: vec![part],
                wanted: wanted.quantity,
            }),
        }
    }
    classes
}

/// Boards that nothing tells apart, as indices.
fn kinds(open: &Open) -> Vec<Vec<usize>> {
    let mut kinds: Vec<Vec<usize>> = Vec::new();
    for (index, one) in open.boards.iter().enumerate() {
        let alike = |kind: &&mut Vec<usize>| {
            let other = &open.boards[kind[0]];
            let (a, b) = (one.board, other.board);
            (a.section, &a.shape, a.length, &a.costs) == (b.section, &b.shape, b.length, &b.costs)
                && (&one.fewer, &one.more) == (&other.fewer, &other.more)
        };
        match kinds.iter_mut().find(alike) {
            Some(kind) => kind.push(index),
            None => kinds.push(vec![index]),
        }
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
