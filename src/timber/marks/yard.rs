//! Where the yard cuts a length that is too long to carry: a mark like any other, at a reading that a yard can saw.
//!
//! It stands on a whole reading, a centimetre or half an inch, in the middle of the slack: between the places that leave each of the two pieces what
//! its parts and their marks need. What would shorten an offcut worth keeping for the sake of scrap is no slack. Where no whole reading lies in
//! the slack, it stands on the step of the tape nearest to the middle.
//!
//! Where there is too little room for that, it stands on the step at which the parts lose least, and what each of them loses is told. What may never be lost: both
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
    let first = run_of(timber, planned, cut, false);
    let second = run_of(timber, planned, cut, true);
    let room = |run: Option<&PlannedRun>| {
        let last = run.and_then(|run| Some((run, run.cuts.last()?)));
        last.map(|(run, last)| timber.room(job, run, last, run.to))
    };
    // A cut where one piece is all trim may move without the other one's run.
    let end = timber.length - timber.carried_trims.far - job.saw.kerf;
    let clear = cut.max(timber.carried_trims.datum).min(end);
    let window = |spare: [Length; 2]| {
        (
            room(first).map_or(hard.0, |room| hard.0.max(clear - room + spare[0])),
            room(second).map_or(hard.1, |room| hard.1.min(clear + room - spare[1])),
        )
    };
    let soft = window([Length::ZERO; 2]);
    // Where each mark of both pieces has its step.
    let (low, high) = window([first, second].map(|run| steps(timber, run)));
    let wish = match low <= high {
        true => {
            let (low, high) = slack(timber, job, [first, second], (low, high), cut);
            low + Length::from_ticks((high - low).ticks() / 2)
        }
        false => shared_out(timber, (first, second), soft),
    };
    let within = |at: &Length| (low..=high).contains(at);
    let whole = job.yard_reading.unwrap_or(timber.step);
    let wholes = [wish.down_to(whole), wish.up_to(whole)];
    let far = |at: &Length| (*at - wish).ticks().abs();
    if let Some(at) = wholes.into_iter().filter(within).min_by_key(far) {
        return at;
    }
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

/// The run that parts are cut from in the first piece, or in the second; not that of a part on the far end, which is measured from there.
fn run_of<'p>(
    timber: &Timber,
    planned: &'p PlannedBoard,
    cut: Length,
    second: bool,
) -> Option<&'p PlannedRun> {
    let runs = planned.runs.len() - usize::from(timber.far_post);
    let mut runs = planned.runs[..runs].iter();
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
    let [from, to] = [timber.carried_trims.datum, timber.carried_trims.far];
    let end = timber.length - to - kerf;
    if run_of(timber, planned, cut, false).is_none() && cut - from >= keep {
        least = least.max(from + keep);
    }
    if timber.far_post {
        most = most.min(end.max(cut));
    }
    if run_of(timber, planned, cut, true).is_none() && end - cut >= keep {
        most = most.min(end - keep);
    }
    (least, most)
}

/// What the marks of a run may move on by: a step for each, and one for the trim before them.
fn steps(timber: &Timber, run: Option<&PlannedRun>) -> Length {
    let cuts = run.map_or(0, |run| run.cuts.len() + 1);
    Length::from_ticks(timber.step.ticks() * cuts as i64)
}

/// Those of the places with room for all marks in the middle of which the cut stands best: where one of the pieces gives an offcut worth keeping
/// and the other scrap alone, not those that make more scrap.
fn slack(
    timber: &Timber,
    job: &Job,
    runs: [Option<&PlannedRun>; 2],
    (low, high): Window,
    cut: Length,
) -> Window {
    let keep = timber.keep.max(Length::from_ticks(1));
    let whole = [
        cut - timber.carried_trims.datum,
        timber.length - timber.carried_trims.far - job.saw.kerf - cut,
    ];
    let keeps = |run: &PlannedRun| {
        let last = run.cuts.last();
        last.is_some_and(|last| timber.keeps(job, run, last))
    };
    let kept = [0, 1].map(|piece| runs[piece].map_or(whole[piece] >= keep, keeps));
    let planned = cut.max(low).min(high);
    match kept {
        _ if job.yard_reading.is_none() => (planned, planned),
        [true, false] => (planned, high),
        [false, true] => (low, planned),
        _ => (low, high),
    }
}

/// Where the cut is if the room there is is shared as it is needed.
fn shared_out(
    timber: &Timber,
    (first, second): (Option<&PlannedRun>, Option<&PlannedRun>),
    (least, most): Window,
) -> Length {
    let one = steps(timber, first).ticks();
    let both = (steps(timber, first) + steps(timber, second))
        .ticks()
        .max(1);
    let share = i128::from((most - least).ticks()) * i128::from(one) / i128::from(both);
    least + Length::from_ticks(share as i64)
}
