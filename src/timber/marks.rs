//! Where a person's marks go: every position of a plan moved to a graduation of the tape, so that no part comes out short without a
//! warning.
//!
//! **Idea.** A plan is exact, a tape is not. If each position were rounded by itself, a part could come out up to a step short, since its
//! two ends would be rounded independently. So each mark is computed from the one before it, as it is printed: the mark before, the cut
//! (which is never rounded) and the part lead to a position, and the next mark is the first step at or beyond it. A part then comes out at
//! its length or up to one step over. For a part that goes between others it is the other way round: it comes out at its length or up to
//! one step under, since a part that is too long does not go in.
//!
//! **Room.** Each mark moves the rest of its run by less than a step. There is room for that where the last cut leaves scrap, or an offcut
//! that stays long enough to keep. Where there is less room, the marks are chosen so that the greatest loss of any part is as small as
//! possible (`ends`). The loss of each part is reported ([`MarkedBoard::off`]), and whether an offcut is the cause. The cut of a length
//! cut at the yard is on a step too (`yard`).
//!
//! **Mitres.** A mitre at a fresh square end is marked a little from the corner, where there is room ([`MARGIN`]).
//!
//! **Offcuts.** An offcut worth keeping that lies before other cuts comes off as planned: one cut ends it, and another separates it from a
//! bad stretch before it ([`Freed`]). So does one behind the last part where the board ends bad, so that no bad end goes to the shed with it.
//!
//! **Invariant.** Every part lies in the clear run in which it was planned, every cut has its width, and every offcut worth keeping stays
//! so. Source: common practice at the saw (measure each cut from the one before it), no publication. **Why it ends:** each run is walked a
//! fixed number of times.
//!
//! **Factory ends.** A part that stands on the datum end starts there. One that stands on the far end is measured from there, and is as long as its length
//! or up to a step more.
//!
//! The checker works every mark out again with code of its own.

mod ends;
mod freed;
mod lying;
mod marked;
mod walk;
mod yard;

pub use ends::MARGIN;
pub use lying::{cut_width, lying_edges, lying_ends, lying_faces};
pub use marked::{Freed, MarkedBoard, miss};

use crate::clear::carried_runs;
use crate::job::Job;
use crate::length::Length;
use crate::plan::{PlannedBoard, Source};
use walk::{Timber, Walk};

/// Sets the marks of one board of a plan.
pub fn mark_board(job: &Job, planned: &PlannedBoard) -> MarkedBoard {
    let timber = Timber::of(job, planned);
    let yard_cut = planned
        .yard_cut
        .map(|cut| yard::yard_cut(&timber, job, planned, cut));
    let mut marked = MarkedBoard {
        board: PlannedBoard {
            yard_cut,
            ..planned.clone()
        },
        off: Vec::new(),
        for_offcut: Vec::new(),
        freed: Vec::new(),
    };
    let mut walk = Walk {
        job,
        timber: &timber,
        start: Length::ZERO,
        end: yard_cut.unwrap_or(timber.length),
        at: Length::ZERO,
        slanted: false,
        off: &mut marked.off,
        for_offcut: &mut marked.for_offcut,
        freed: &mut marked.freed,
    };
    for (index, (run, exact)) in marked.board.runs.iter_mut().zip(&planned.runs).enumerate() {
        let is_post = |at: usize| timber.far_post && at + 1 == planned.runs.len();
        if is_post(index) {
            walk.post(run);
            continue;
        }
        if let (Some(cut), Some(old), Source::Yard(line)) =
            (yard_cut, planned.yard_cut, planned.source)
        {
            let [first, second] = carried_runs(job, line, cut);
            if exact.from < old {
                run.to = first.to;
            } else {
                walk.start = cut + job.saw.kerf;
                walk.end = timber.length;
                walk.at = walk.start;
                walk.slanted = false;
                run.from = second.from;
            }
        }
        let later = index + 1..planned.runs.len();
        let later = yard_cut.is_none()
            && later
                .into_iter()
                .any(|at| !planned.runs[at].cuts.is_empty() && !is_post(at));
        let ends_bad = !later && !exact.cuts.is_empty() && timber.ends_bad(exact);
        walk.run(run, exact, later || ends_bad);
        if ends_bad {
            walk.pass_untouched(timber.length);
        }
    }
    marked
}
