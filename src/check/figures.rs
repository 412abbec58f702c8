//! Whether the figures of a certificate show the bound they claim.
//!
//! What a leaf asserts is at the head of [`crate::certificate`]. Here it is added up again from the job: what the parts that fit each
//! board are worth at the leaf's prices ([`super::worth`]), what the board is charged, and what is left for the bound. Integers only;
//! products are taken in 128 bits. The work is counted, and figures that would need more than is allowed stay a claim.

mod boards;
mod leaves;
mod search;
mod shape;
mod value;

use super::lie::{Lie, Misshape};
use super::sums::{self, Kind, Next};
use super::worth::Steps;
use super::{Backing, Reason};
use crate::certificate::LevelProof;
use crate::job::Job;
use crate::plan::Measure;
use boards::{Board, boards};
use leaves::{Adder, Shown, Stop};

/// One level of one group, and what the plan says of it.
pub(super) struct Question<'a> {
    pub(super) job: &'a Job,
    /// The sections of the group.
    pub(super) sections: &'a [usize],
    /// What the cost levels measure.
    pub(super) costs: &'a [Measure],
    /// The level: one of the costs, or their number for the length used up.
    pub(super) level: usize,
    /// The plan's totals of the levels before.
    pub(super) values: Vec<i64>,
    /// The bound the plan gives, in the units of the level.
    pub(super) bound: i64,
    /// What the units of the figures are beyond those of the level: the parts' lengths, for scrap.
    pub(super) offset: i64,
    pub(super) measure: Measure,
}

/// What stands behind a bound.
///
/// # Errors
/// What is false about its figures.
pub(super) fn back(
    question: &Question,
    claim: &LevelProof,
    steps: &mut Steps,
) -> Result<Backing, Lie> {
    let measure = question.measure;
    let misshapen = |what| {
        Err(Lie::MisshapenFigures {
            measure,
            spot: None,
            what,
        })
    };
    let cost_level = question.level < question.costs.len();
    if claim.earlier.len() != question.values.len() {
        return misshapen(Misshape::Levels);
    }
    if claim.lifted && !cost_level {
        return misshapen(Misshape::Lift);
    }
    let target = question.bound.saturating_add(question.offset);
    if target > claim.bound {
        return Err(Lie::BoundAboveFigures {
            measure,
            bound: question.bound,
            figures: claim.bound - question.offset,
        });
    }
    let boards = boards(question);
    shape::check(question, &claim.tree, &boards)?;
    if claim
        .earlier
        .iter()
        .zip(&question.values)
        .any(|(earlier, value)| earlier < value)
    {
        return Ok(Backing::ClaimOnly(Reason::OtherTotals));
    }
    let Some(adder) = Adder::of(question, claim, &boards) else {
        return Ok(Backing::ClaimOnly(Reason::TooLarge));
    };
    let shown = match adder.tree(&claim.tree, steps) {
        Ok(shown) => shown,
        Err(Stop::TooLarge) => return Ok(Backing::ClaimOnly(Reason::TooLarge)),
        Err(Stop::Loose) => return Ok(Backing::ClaimOnly(Reason::Loose { shown: 0 })),
        Err(Stop::Lie(lie)) => return Err(lie),
    };
    settle(question, claim, &boards, shown, target)
}

/// Compares what was shown with what was claimed.
fn settle(
    question: &Question,
    claim: &LevelProof,
    boards: &[Board],
    shown: Shown,
    target: i64,
) -> Result<Backing, Lie> {
    let measure = question.measure;
    let claimed = if shown.searched {
        claim.shown
    } else {
        claim.bound
    };
    let Some(least) = shown.least else {
        return Ok(Backing::ReProved);
    };
    let lifted = if claim.lifted {
        let kinds: Vec<Kind> = boards
            .iter()
            .map(|board| (board.costs[question.level], board.supply))
            .collect();
        match sums::next_sum(&kinds, least) {
            Next::Sum(sum) => sum,
            Next::Beyond => return Ok(Backing::ReProved),
            Next::TooLarge => return Ok(Backing::ClaimOnly(Reason::TooLarge)),
        }
    } else {
        i64::try_from(least).unwrap_or(if least < 0 { i64::MIN } else { i64::MAX })
    };
    let in_units = |figure: i64| figure.saturating_sub(question.offset);
    if lifted >= target {
        return match claimed > lifted {
            true if shown.loose => Ok(Backing::ReProved),
            true => Err(overstated(
                measure,
                claim,
                least,
                in_units(claimed),
                in_units(lifted),
            )),
            false => Ok(Backing::ReProved),
        };
    }
    if shown.loose && !shown.searched {
        return Ok(Backing::ClaimOnly(Reason::Loose {
            shown: in_units(lifted),
        }));
    }
    if claimed > lifted && !shown.loose {
        return Err(overstated(
            measure,
            claim,
            least,
            in_units(claimed),
            in_units(lifted),
        ));
    }
    Ok(Backing::ClaimOnly(Reason::Searched {
        shown: in_units(lifted),
    }))
}

fn overstated(measure: Measure, claim: &LevelProof, least: i128, claimed: i64, shown: i64) -> Lie {
    if claim.lifted && i128::from(shown) > least {
        Lie::LiftedTooFar {
            measure,
            claimed,
            next: shown,
        }
    } else {
        Lie::BoundNotShown {
            measure,
            claimed,
            shown,
        }
    }
}
