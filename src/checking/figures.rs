//! Whether the figures of a certificate show the bound that they claim.
//!
//! The head of [`proof::certificate`] says what a leaf asserts. Here its sum is computed again from the job: the worth of the parts that
//! fit each board at the leaf's prices ([`super::worth`]), the board's charge, and the bound that follows. Only integers are used; sums are
//! 128-bit, which cannot overflow ([`shape`]). The work is counted, and figures that need more than the limit stay a claim.
//!
//! Prices, splits and trees are taken from the certificate. Everything they apply to is not: the levels and the costs of boards come from
//! the job, and the totals of earlier levels from the plan as added up here. What the certificate says about those is only compared.

mod boards;
#[cfg(test)]
mod laws;
mod leaves;
mod pairs;
mod question;
mod search;
mod shape;
mod side;
mod used;
mod value;

use super::lie::{Lie, Misshape};
use super::settled::{Backing, Reason};
use super::steps::{Steps, TooLarge};
use super::sums::{self, Next};
use boards::boards;
use leaves::{Adder, Shown, Stop};
use proof::certificate::LevelProof;
pub(super) use question::Question;
use timber::plan::Measure;

/// Checks the figures behind a bound.
///
/// # Errors
/// The lie in its figures.
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
    if claim.earlier.len() != question.values.len() {
        return misshapen(Misshape::Levels);
    }
    let target = question.bound.saturating_add(question.offset);
    if target > claim.bound {
        return Err(Lie::BoundAboveFigures {
            measure,
            bound: question.bound,
            figures: claim.bound.saturating_sub(question.offset),
        });
    }
    let boards = boards(question);
    shape::check(question, &claim.tree, &boards)?;
    if claim.earlier != question.values {
        return Ok(Backing::ClaimOnly(Reason::OtherTotals));
    }
    let adder = Adder::of(question, claim, &boards);
    let Some(adder) = adder.filter(|_| shape::within_reach(question, &boards)) else {
        return Ok(Backing::ClaimOnly(Reason::TooLarge));
    };
    let settled = adder
        .tree(&claim.tree, steps)
        .and_then(|shown| settle(&adder, shown, target, steps));
    match settled {
        Ok(backing) => Ok(backing),
        Err(Stop::TooLarge) => Ok(Backing::ClaimOnly(steps.reason())),
        Err(Stop::Loose) => Ok(Backing::ClaimOnly(Reason::Loose { shown: 0 })),
        Err(Stop::Lie(lie)) => Err(lie),
    }
}

/// Compares the bound that was shown with the one that was claimed.
fn settle(adder: &Adder, shown: Shown, target: i64, steps: &mut Steps) -> Result<Backing, Stop> {
    let Adder {
        question, claim, ..
    } = adder;
    let measure = question.measure;
    let claimed = if shown.searched {
        claim.shown
    } else {
        claim.bound
    };
    let Some(least) = shown.least else {
        return Ok(Backing::ReProved);
    };
    let lifted = if claim.lifted && question.used_up() {
        used::next(adder.step(), least).ok_or(Stop::TooLarge)?
    } else if claim.lifted {
        match sums::next_sum(&adder.kinds(), least, steps)? {
            Next::Sum(sum) => sum,
            Next::Beyond => return Ok(Backing::ReProved),
        }
    } else {
        i64::try_from(least).unwrap_or(if least < 0 { i64::MIN } else { i64::MAX })
    };
    // Below what may be bought all totals count as that.
    let lifted = match measure.is_beyond() {
        true => lifted.max(question.group.floor(measure)),
        false => lifted,
    };
    let in_units = |figure: i64| figure.saturating_sub(question.offset);
    let raised = claim.lifted && i128::from(lifted) > least;
    let overstated = || {
        let (claimed, shown) = (in_units(claimed), in_units(lifted));
        Stop::Lie(overstated(measure, raised, (claimed, shown)))
    };
    if lifted >= target {
        return match claimed > lifted && !shown.loose {
            true => Err(overstated()),
            false => Ok(Backing::ReProved),
        };
    }
    if shown.loose && !shown.searched {
        return Ok(Backing::ClaimOnly(Reason::Loose {
            shown: in_units(lifted),
        }));
    }
    if claimed > lifted && !shown.loose {
        return Err(overstated());
    }
    Ok(Backing::ClaimOnly(Reason::Searched {
        shown: in_units(lifted),
    }))
}

fn overstated(measure: Measure, raised: bool, (claimed, shown): (i64, i64)) -> Lie {
    if raised {
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

impl From<TooLarge> for Stop {
    fn from(_: TooLarge) -> Stop {
        Stop::TooLarge
    }
}
