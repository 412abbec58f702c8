//! Choices side by side: all plans that are not beaten on lengths, money and timber bought.
//!
//! **Idea.** A plan is beaten where another buys no more lengths, costs no more and takes no more timber, and is less in one of them. Within so many
//! lengths and so much timber the cheapest plan, of those the one with the fewest lengths, of those the one with the least timber, is beaten by none
//! (`front`). What is bought for groups of sections adds up, so choices of the whole job are sums of theirs (`sums`). A choice is kept in the job as
//! what may be bought of its sections, and the job then has just this plan.
//!
//! **Invariant.** Each choice told was planned and accepted by the checker; it is said to be proven only where the checker has shown each of its levels.
//! **Why it ends:** each plan takes a piece off what is not looked at yet, their number is limited, and all of it keeps to the limits.

mod drawn;
mod found;
mod front;
mod sums;
mod words;

pub use drawn::picture;
pub use found::{Choice, Choices};
pub use words::{about_text, aims, bought_text, cells, choice_text, note_text, proof_text, text};

use crate::check::CheckedPlan;
use crate::draft::{JobDraft, SectionDraft};
use crate::group::groups;
use crate::job::{Aim, Job};
use crate::patience::{Allowance, Clock, Limits};

/// Looks for all choices of a job with this plan, within these limits; for none where scrap comes first. `hear` is called with what is known after each that was found.
pub fn look(
    (draft, job): (&JobDraft, &Job),
    checked: &CheckedPlan,
    limits: Limits,
    clock: &Clock,
    hear: &mut dyn FnMut(&Choices),
) -> Choices {
    if job.aim == Aim::Scrap {
        // What may be bought then leaves scrap first, and is another plan than the one that is told.
        return Choices {
            complete: true,
            ..Choices::default()
        };
    }
    let mut allowance = Allowance::new(limits, clock);
    let rows = &written_rows(draft);
    let of = sums::Of { draft, rows, job };
    let groups = groups(job);
    let mut fronts: Vec<front::Front> = groups
        .iter()
        .map(|group| front::Front::today(job, &group.sections, checked))
        .collect();
    for at in 0..fronts.len() {
        let mut found = 0;
        while fronts[at].look_on(job, &mut allowance) {
            if found < fronts[at].points.len() {
                found = fronts[at].points.len();
                hear(&sums::sums(of, &fronts, false));
            }
        }
    }
    let complete = fronts.iter().all(|front| front.is_complete());
    sums::sums(of, &fronts, complete)
}

/// The rows of sections that say anything, as the job counts them.
fn written_rows(draft: &JobDraft) -> Vec<usize> {
    let rows = draft.sections.iter().enumerate();
    let written = rows.filter(|(_, row)| **row != SectionDraft::default());
    written.map(|(row, _)| row).collect()
}
