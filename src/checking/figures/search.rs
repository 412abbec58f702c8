//! Closes a leaf that prices alone do not settle, over a list of all cuttings that they leave open.
//!
//! At a leaf's prices, every plan totals at least the leaf's bound plus, for each cutting in it, the cutting's loss: its board's charge
//! less its worth (reduced-cost fixing). So a plan that beats the claim consists of cuttings that lose little; together they may lose at
//! most the *gap*. Those cuttings are listed here. Where what is used up does not count, a cutting with room for another wanted part is left out, since
//! the fuller one loses less; parts may then be cut more often than wanted. Of cuttings with equal counts, only the one that uses up least
//! is listed; of those that keep as many offcuts, where a split on the way counts them.
//!
//! The certificate splits on how often listed cuttings are used, or on how many boards hold both of two parts, and has prices for each node of that tree. The bound of a node over the
//! list is computed as the head of [`proof::certificate`] says. The walk ends with the tree; the steps of listing are counted.

mod alike;
#[cfg(test)]
mod laws;
mod list;
mod open;
mod together;
mod walk;

pub(super) use open::{Open, OpenBoard};

use crate::steps::{Steps, TooLarge};
use crate::wood::Post;
use alike::{Cutting, classes, kinds};
use list::Lister;
use order::Map;
use proof::certificate::Twig;
use walk::Walk;

/// Most steps to list the cuttings of one leaf, so that one hard leaf does not use up the limit of all.
const MOST_STEPS: u64 = 60_000_000;

/// Whether the search shows that no better plan is left; `false` shows nothing.
pub(super) fn shows(open: &Open, twigs: &[Twig], steps: &mut Steps) -> Result<bool, TooLarge> {
    // Finding equivalent parts and boards reads each of them once, with how it lies and which splits count it.
    steps.take_each(open.job.parts.len(), 1 + open.woods.len() as u64)?;
    for board in &open.boards {
        steps.take((1 + board.costs.len() + board.fewer.len() + board.more.len()) as u64)?;
    }
    let classes = classes(open);
    let kinds = kinds(open);
    let mut cuttings = Vec::new();
    steps.at_most(MOST_STEPS, |steps| {
        for (index, kind) in kinds.iter().enumerate() {
            let board = &open.boards[kind.first];
            // One part of each class is enough; it may stand there as often as the whole class is wanted.
            let posts = board.wood.posts.iter().filter_map(|post| {
                let class = classes.iter().find(|class| class.part == post.part)?;
                let wanted = class.wanted;
                Some(Post { wanted, ..*post })
            });
            let posts: Vec<Post> = posts.collect();
            steps.take_each(posts.len(), (classes.len() + posts.len()) as u64)?;
            let mut found = Map::new();
            for way in board.board.ways(&posts) {
                let mut lister = Lister::new(open, &classes, (kind, &way), found, steps)?;
                lister.list(steps)?;
                found = lister.found;
            }
            let cost = |used: i64| open.cost_level.map_or(used, |level| board.costs[level]);
            let found = found.into_iter();
            cuttings.extend(
                found.map(|(parts, used)| Cutting::new(index, parts, (cost(used), used), &classes)),
            );
        }
        Ok(())
    })?;
    Walk::new(open, (classes, kinds, cuttings)).holds(twigs, steps)
}
