//! Where the yard cuts a length that is too long to carry: a mark like any other.
//!
//! It stands on a step as near as can be to where the plan has the cut, with room on both sides for the marks of both pieces. Where there is
//! too little room, it stands on the step at which the parts lose least, and what each of them loses is told. What may never be lost: both
//! pieces can be carried, and a piece that goes back whole stays worth keeping. Only where no step keeps to that does the cut stand between two
//! steps; its reading is then told as finely as lengths are written.

use super::walk::Timber;
use crate::job::Job;
use crate::length::{Length, Style};
use crate::plan::{PlannedBoard, PlannedRun};

/// The least and the most that something may be.
type Window = (Length, Length);

pub(super) fn yard_cut(timber: &Timber, job: &Job, planned: &PlannedBoard, cut: Length) -> Length {
    let hard = never_lost(timber, job, planned, cut);
    let first = run_of(planned, cut, false);
    let second = run_of(planned, cut, true);
    let room = |run: Option<&PlannedRun>| {
        let last = run.and_then(|run| Some((run, run.cuts.last()?)));
        last.map(|(run, last)| timber.room(job, run, last, run.to))
    };
    let soft = (
        room(first).map_or(hard.0, |room| hard.0.max(cut - room)),
        room(second).map_or(hard.1, |room| hard.1.min(cut + room)),
    );
    let wish = wish(timber, (first, second), soft, cut);
    let inside = |at: &Length| (hard.0..=hard.1).contains(at);
    let loses = |at: &Length| (soft.0 - *at).max(*at - soft.1).max(Length::ZERO);
    let step = timber.step;
    let steps = [
        wish.nearest(step),
        wish.down_to(step),
        wish.up_to(step),
        hard.0.up_to(step),
        hard.1.down_to(step),
    ];
    if let Some(at) = steps.into_iter().filter(inside).min_by_key(loses) {
        return at;
    }
    let fine = Style::exact(job.unit(), job.decimal()).step;
    let written = [cut.nearest(fine), cut.down_to(fine), cut.up_to(fine)];
    written.into_iter().find(inside).unwrap_or(cut)
}

/// The run that parts are cut from in the first piece, or in the second.
fn run_of(planned: &PlannedBoard, cut: Length, second: bool) -> Option<&PlannedRun> {
    let mut runs = planned.runs.iter();
    runs.find(|run| (run.from >= cut) == second && !run.cuts.is_empty())
}

/// Between which places the cut has to be whatever the parts lose by it.
fn never_lost(timber: &Timber, job: &Job, planned: &PlannedBoard, cut: Length) -> Window {
    let tick = Length::from_ticks(1);
    let carry = job.carry.unwrap_or(timber.length);
    let kerf = job.saw.kerf;
    let mut least = (timber.length - kerf - carry).max(tick.min(cut));
    let mut most = carry.min((timber.length - kerf - tick).max(cut));
    let keep = timber.keep.max(tick);
    // A piece that nothing is cut from is an offcut as a whole.
    if run_of(planned, cut, false).is_none() && cut - timber.datum >= keep {
        least = least.max(timber.datum + keep);
    }
    let end = timber.length - timber.far - kerf;
    if run_of(planned, cut, true).is_none() && end - cut >= keep {
        most = most.min(end - keep);
    }
    (least, most)
}

/// Where the cut would best be: as planned where each mark of both pieces has its step, else so that the room is shared as it is needed.
fn wish(
    timber: &Timber,
    (first, second): (Option<&PlannedRun>, Option<&PlannedRun>),
    (least, most): Window,
    cut: Length,
) -> Length {
    let steps = |run: Option<&PlannedRun>| {
        let cuts = run.map_or(0, |run| run.cuts.len() + 1);
        Length::from_ticks(timber.step.ticks() * cuts as i64)
    };
    let (low, high) = (least + steps(first), most - steps(second));
    if low <= high {
        return cut.max(low).min(high);
    }
    let one = steps(first).ticks();
    let both = (steps(first) + steps(second)).ticks().max(1);
    let share = i128::from((most - least).ticks()) * i128::from(one) / i128::from(both);
    least + Length::from_ticks(share as i64)
}
