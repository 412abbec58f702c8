//! Whether the reading that the yard is told is one that it can saw.
//!
//! A yard saws at whole readings: a centimetre, or half an inch. So the cut has to stand on one where one leaves both pieces carried, all parts
//! their room and a step for each mark, and what is worth keeping long enough for that. Where there is none it is a mark like any other and stands on a step of the tape,
//! unless no step at all lets both pieces be carried and an untouched one be kept. How far off the yard saws is no matter here: the clear runs leave that
//! out already.

use super::board::{CheckedBoard, Offcut};
use super::cuts::cut_width;
use super::ground::Ground;
use timber::job::Job;
use timber::length::Length;
use timber::marks::MarkedBoard;
use timber::plan::{Lies, PlannedBoard, PlannedRun};

/// Whether the yard's cut of a board, if it has one, has such a reading; `planned` and `found` are the board before it was marked.
pub(super) fn can_be_sawn(
    job: &Job,
    (ground, marked): (&Ground, &MarkedBoard),
    (planned, far_post): (&PlannedBoard, Option<Length>),
    found: &CheckedBoard,
) -> bool {
    let (Some(cut), Some(carry), Some(exact)) =
        (marked.board.yard_cut, job.carry, planned.yard_cut)
    else {
        return true;
    };
    let is_on = |step: Length| cut.ticks().rem_euclid(step.ticks()) == 0;
    let is_free = |least: Length, most: Length, step: Length| {
        let at = least.max(Length::from_ticks(1)).up_to(step);
        at > Length::ZERO && at <= most
    };
    let board = Board {
        job,
        ground,
        planned,
        found,
        exact,
        far_post,
    };
    let [first, second] = [false, true].map(|second| board.piece(second));
    let rest = ground.length - job.saw.kerf;
    let (least, most) = (
        (rest - carry).max(first.kept),
        carry.min(rest - second.kept),
    );
    let (low, high) = (least.max(first.roomy), most.min(rest - second.roomy));
    let whole_does = |whole: Length| is_on(whole) || !is_free(low, high, whole);
    let on_whole = job.yard_reading.is_some_and(is_on);
    job.yard_reading.is_none_or(whole_does)
        && (on_whole || is_on(job.step) || !is_free(least, most, job.step))
}

/// How long a piece has to be.
struct Least {
    /// For it to stay worth keeping, where nothing is cut from it.
    kept: Length,
    /// For its parts, a step for each of its marks, and what is left of it that is worth keeping.
    roomy: Length,
}

struct Board<'a> {
    job: &'a Job,
    ground: &'a Ground<'a>,
    planned: &'a PlannedBoard,
    found: &'a CheckedBoard,
    /// Where the cut is planned.
    exact: Length,
    /// How long a part is that stands on the far end.
    far_post: Option<Length>,
}

impl Board<'_> {
    fn piece(&self, second: bool) -> Least {
        let mut ends = self.ground.carried_ends(self.job)[usize::from(second)];
        // A part on the far end takes its length to the next step and a cut, in place of the trim.
        let post = self.far_post.filter(|_| second);
        if let Some(post) = post {
            ends += post.up_to(self.job.step) + self.ground.widest_of_section(self.job);
            ends += Length::ZERO - self.ground.trim.far;
        }
        let runs = self.planned.runs.len() - usize::from(self.far_post.is_some());
        let tick = Length::from_ticks(1);
        let keep = self.job.sections[self.ground.section].keep;
        let is_here = |from: Length| (from >= self.exact) == second;
        let run = |run: &&PlannedRun| is_here(run.from) && !run.cuts.is_empty();
        let offcut = |offcut: &&Offcut| is_here(offcut.from) && offcut.kept;
        let kept = self.found.offcuts.iter().find(offcut);
        let Some(run) = self.planned.runs[..runs].iter().find(run) else {
            let least = post.map_or(tick, |_| ends);
            let kept = kept.map_or(least, |_| ends + keep.max(tick));
            return Least { kept, roomy: kept };
        };
        let marks = run.cuts.len() as i64 + 1;
        let mut roomy = ends + Length::from_ticks(self.job.step.ticks() * marks);
        if let Some(last) = run.cuts.last() {
            roomy += last.end - run.from;
            if kept.is_some() {
                let part = self.job.parts[last.part].ends;
                let away = part[usize::from(last.lies == Lies::AsWritten)];
                roomy += cut_width(self.job.saw.kerf, away) + keep.max(tick);
            }
        }
        Least {
            kept: post.map_or(tick, |_| ends),
            roomy,
        }
    }
}
