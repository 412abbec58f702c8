//! What would save a length: single changes of a job that make its plan better, and how much longer its parts could be for nothing.
//!
//! **Idea.** A plan is exact and made in milliseconds, so every change that a person might agree to is simply planned. Changes come in series, each going
//! further than the one before (`ideas`). Where going further never costs more (a shorter part, a thinner saw cut, a longer board in the shed), the
//! first that saves is found by halving; where that does not hold (a size of a set-out moves parts and counts at once), each is tried in turn.
//!
//! **Invariant.** What is told was planned and accepted by the checker against the changed job, and its figures are those of that plan. That no smaller
//! change saves is said to be proven only where the checker has shown that the change one step smaller has no better plan than there is today. **Why it
//! ends:** there are finitely many series, each is finite, and all of it keeps to the limits.

mod change;
mod found;
mod ideas;
mod search;
mod words;

pub use change::Change;
pub use found::{Least, Reserve, Room, Saving, Savings};
pub use ideas::{Asked, GIVES};
pub use words::{change_text, gain_text, least_text, reserve_text, room_text, text};

use crate::check::CheckedPlan;
use crate::job::Aim;
use crate::patience::{Clock, Limits};
use crate::plan::Source;
use crate::trials::Trials;
use search::Tried;

/// Most savings that are told, of those a person can decide on alone and of the others.
const MOST: [usize; 2] = [8, 4];

/// Most spares of which it is told what they cost.
const MOST_RESERVES: usize = 12;

/// What is heard while savings are looked for.
pub enum News<'a> {
    /// One more saving, worse than those before it.
    Saving(&'a Saving),
    /// One more part that could be longer.
    Room(&'a Room),
    /// What one more spare costs.
    Reserve(&'a Reserve),
}

/// Looks for savings in a job with this plan, within these limits. `hear` is called with each as it is found.
///
/// A job whose plan takes nothing from the yard has nothing to save. Nothing is looked for where scrap comes first, which any change of a length changes.
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
        .any(|board| matches!(board.source, Source::Yard(_)));
    if !buys || asked.job.aim == Aim::Scrap {
        return savings;
    }
    let all = ideas::ideas(asked);
    let (hopeful, whole) = search::hopeful(&all, &mut trials);
    let mut told = [0; 2];
    for hope in &hopeful {
        let sort = usize::from(!hope.change.can_be_taken());
        if told[sort] == MOST[sort] {
            continue;
        }
        if trials.is_over() {
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
    for change in ideas::reserves(asked).into_iter().take(MOST_RESERVES) {
        if let Some(reserve) = search::reserve(change, &mut trials) {
            hear(News::Reserve(&reserve));
            savings.reserves.push(reserve);
        }
    }
    savings.complete = whole && !trials.is_over();
    savings
}
