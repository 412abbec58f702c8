//! What would save a length: single changes of a job that make its plan better, and how much longer its parts could be for nothing.
//!
//! **Idea.** A plan is exact and made in milliseconds, so every change that a person might agree to is simply planned. Changes come in series, each going
//! further than the one before ([`ideas`]). Where going further never costs more (a shorter part, a thinner saw cut, a longer board in the shed), the
//! first that saves is found by halving; where that does not hold (a size of a set-out moves parts and counts at once), each is tried in turn.
//!
//! **Invariant.** What is told was planned and accepted by the checker against the changed job, and its figures are those of that plan. That no smaller
//! change saves is said to be proven only where the checker has shown that the change one step smaller has no better plan than there is today. **Why it
//! ends:** there are finitely many series, each is finite, and all of it keeps to the limits.

mod change;
mod ideas;
mod search;
mod words;

pub use change::Change;
pub use ideas::{Asked, GIVES};
pub(crate) use words::lower;
pub use words::{change_text, gain_text, least_text, room_text, text};

use crate::check::CheckedPlan;
use crate::length::Length;
use crate::patience::{Clock, Limits};
use crate::plan::Measure;
use crate::trials::Trials;
use search::Tried;

/// The share of the time for planning and checking that may go to looking for savings afterwards, of what they leave.
pub const SHARE: f64 = 0.2;

/// Most savings that are told, of those a person can decide on alone and of the others.
const MOST: [usize; 2] = [8, 4];

/// A change that makes the plan better.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saving {
    /// The change.
    pub change: Change,
    /// How much less each measure of the aim is with it, in the order of the aim; below zero where it is more.
    pub gain: Vec<(Measure, i64)>,
    /// What is known of smaller changes.
    pub least: Least,
}

/// Whether a smaller change of the same sort would do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Least {
    /// None would: the checker has shown that a step less has no better plan, and going further never costs more.
    Proven,
    /// None was found: each step before was tried.
    Tried,
    /// None was found by halving; that a step less has no better plan is not shown.
    Claimed,
    /// There is none that is smaller.
    Smallest,
}

/// How long a part could be at no cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Room {
    /// Its row in the job as written.
    pub row: usize,
    /// Its length as written.
    pub from: Length,
    /// The greatest length at which the plan costs no more.
    pub to: Length,
}

/// What was found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Savings {
    /// Changes that save, best first: those a person can decide on, then the others.
    pub found: Vec<Saving>,
    /// Parts that could be longer for nothing.
    pub room: Vec<Room>,
    /// Whether there was time for all of it.
    pub complete: bool,
}

/// What is heard while savings are looked for.
pub enum News<'a> {
    /// One more saving, worse than those before it.
    Saving(&'a Saving),
    /// One more part that could be longer.
    Room(&'a Room),
}

/// Looks for savings in a job with this plan, within these limits. `hear` is called with each as it is found.
///
/// A job whose plan takes nothing from the yard has nothing to save.
pub fn look(
    asked: Asked,
    checked: &CheckedPlan,
    limits: Limits,
    clock: &Clock,
    hear: &mut dyn FnMut(News),
) -> Savings {
    let mut trials = Tried {
        job: asked.job,
        trials: Trials::of_plan(asked.draft, (asked.job, checked), limits, clock),
    };
    let mut savings = Savings {
        complete: true,
        ..Savings::default()
    };
    let buys = checked
        .plan()
        .boards
        .iter()
        .any(|board| matches!(board.source, crate::plan::Source::Yard(_)));
    if !buys {
        return savings;
    }
    let all = ideas::ideas(asked);
    let hopeful = search::hopeful(&all, &mut trials);
    let mut told = [0; 2];
    for hope in &hopeful {
        let sort = usize::from(!hope.change.can_be_taken());
        if told[sort] == MOST[sort] {
            continue;
        }
        if trials.trials.is_over() {
            break;
        }
        if let Some(saving) = search::verified(hope, &all, &mut trials) {
            hear(News::Saving(&saving));
            savings.found.push(saving);
            told[sort] += 1;
        }
    }
    for part in ideas::longer(asked) {
        if let Some(room) = search::room(&part, &mut trials) {
            hear(News::Room(&room));
            savings.room.push(room);
        }
    }
    savings.complete = !trials.trials.is_over();
    savings
}
