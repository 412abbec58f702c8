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

mod alike;
mod list;
mod open;
mod walk;

pub(super) use open::{Open, OpenBoard};

use crate::steps::{Steps, TooLarge};
use alike::{Cutting, classes, kinds};
use list::Lister;
use proof::certificate::Twig;
use walk::Walk;

/// Most steps to list the cuttings of one leaf, so that one hard leaf does not use up what all have.
const MOST_STEPS: u64 = 60_000_000;

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
