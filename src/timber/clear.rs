//! Where parts may lie on the boards of a job.

use crate::job::{Job, Stretch, Trim};
use crate::length::Length;
use crate::plan::{PlacedPart, PlannedBoard, Source};
use crate::runs::{ClearRun, runs_between};

/// The clear runs of a board, ascending. A length of the yard has one. Lengths that are cut at the yard are not handled here.
pub fn clear_runs(job: &Job, source: Source) -> Vec<ClearRun> {
    match source {
        Source::Yard(line) => {
            let yard = &job.yard[line];
            let trim = job.sections[yard.section].trim;
            runs_between(yard.length, trim.datum, trim.far, &[], job.saw.kerf)
        }
        Source::Shed(index) => {
            let board = &job.shed[index];
            runs_between(
                board.length,
                board.trim.datum,
                board.trim.far,
                &board.bad,
                match board.bad.is_empty() {
                    true => job.saw.kerf,
                    false => widest_cut(job, board.section),
                },
            )
        }
    }
}

/// What a length that the yard cuts loses at its ends and around the cut, the cut itself not counted: at the datum end what the first carried
/// piece loses, its fresh end included, at the far end what the second does. The yard saws up to its tolerance off the reading, and each piece is
/// planned as if it came out that much shorter.
pub fn carried_trims(job: &Job, section: usize) -> Trim {
    let section = &job.sections[section];
    let (trim, fresh, off) = (section.trim, section.yard_sawn, job.yard_tolerance);
    Trim {
        datum: trim.datum + fresh.far + off,
        far: trim.far + fresh.datum + off,
    }
}

/// The clear runs of both carried pieces of a length of the yard that is cut at a reading. Parts are measured from the datum end of the first piece
/// and from the fresh end of the second, so the tolerance is taken off the other end of each. A cut so near an end that its piece has
/// no run takes its kerf from sound timber all the same.
pub fn carried_runs(job: &Job, line: usize, cut: Length) -> [Stretch; 2] {
    let yard = &job.yard[line];
    let (section, both) = (
        &job.sections[yard.section],
        carried_trims(job, yard.section),
    );
    let (kerf, off) = (job.saw.kerf, job.yard_tolerance);
    let cut = cut.max(both.datum).min(yard.length - both.far - kerf);
    let (trim, fresh) = (section.trim, section.yard_sawn);
    [
        Stretch {
            from: trim.datum,
            to: cut - fresh.far - off,
        },
        Stretch {
            from: cut + kerf + fresh.datum,
            to: yard.length - trim.far - off,
        },
    ]
}

/// The parts that stand on the datum end and the far end of a planned board: there it has no other ends than theirs. One at the far end is a run of its own.
pub fn standing(job: &Job, planned: &PlannedBoard) -> [Option<PlacedPart>; 2] {
    let (section, length) = job.board(planned.source);
    let stands = |placed: &&PlacedPart| {
        let part = job.parts.get(placed.part);
        part.is_some_and(|part| job.stands_on_factory_end(part, section))
    };
    let first = planned.runs.first().and_then(|run| run.cuts.first());
    let datum = first
        .filter(stands)
        .filter(|placed| placed.start == Length::ZERO);
    let last = planned.runs.last().map_or(&[][..], |run| &run.cuts[..]);
    let far = match last {
        [one] => Some(one).filter(stands),
        _ => None,
    };
    let far = far.filter(|placed| placed.end == length && placed.start != Length::ZERO);
    [datum.copied(), far.copied()]
}

/// The clear runs of a planned board of which nothing is cut at the yard: where a part stands on its datum end the first begins there, where one stands on its
/// far end the last leaves it room, to the next step of the tape, and room for a cut.
pub fn runs_beside_standing(job: &Job, planned: &PlannedBoard) -> Vec<ClearRun> {
    let mut runs = clear_runs(job, planned.source);
    let [datum, far] = standing(job, planned);
    if let (Some(post), Some(first)) = (datum, runs.first_mut()) {
        first.stretch.from = Length::ZERO;
        let (_, length) = job.board(planned.source);
        if post.end == length {
            // It is the board as it came.
            (first.stretch.to, first.tail) = (length, Length::ZERO);
        }
    }
    if let (Some(far), Some(last)) = (far, runs.last_mut()) {
        let (section, length) = job.board(planned.source);
        let long = job.parts[far.part].length.up_to(job.step);
        last.stretch.to = length - long - widest_cut(job, section);
        last.tail = Length::ZERO;
    }
    runs.retain(|run| run.stretch.to > run.stretch.from);
    runs
}

/// For the datum end and the far end of a board, where it is a factory end on which a part may stand, the trim that then is not taken off. A bad stretch
/// that reaches into the trim leaves no part there.
pub fn standing_trims(job: &Job, source: Source) -> [Option<Length>; 2] {
    let (section, length) = job.board(source);
    let (trim, bad, widest) = match source {
        Source::Yard(_) => (job.sections[section].trim, &[][..], job.saw.kerf),
        Source::Shed(index) => {
            let board = &job.shed[index];
            (board.trim, &board.bad[..], widest_cut(job, section))
        }
    };
    let clear = [
        bad.iter().all(|bad| bad.from > trim.datum),
        bad.iter()
            .all(|bad| bad.to.max(bad.from + widest) < length - trim.far),
    ];
    let ends = job.factory_ends(source);
    let trims = [trim.datum, trim.far];
    [0, 1].map(|end| (ends[end] && clear[end]).then_some(trims[end]))
}

/// The widest cut that a part of a section ends in: a kerf, or that of the steepest mitre. The cut behind the last part of a run may go into
/// the bad stretch behind it, and must not reach the run beyond.
pub fn widest_cut(job: &Job, section: usize) -> Length {
    let ends = job
        .parts
        .iter()
        .filter(|part| part.sections.contains(&section))
        .flat_map(|part| part.ends);
    let cuts = ends.map(|end| end.cut(job.saw.kerf));
    cuts.fold(job.saw.kerf, Length::max)
}
