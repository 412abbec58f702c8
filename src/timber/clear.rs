//! Where parts may lie on the boards of a job.

use crate::job::Job;
use crate::length::Length;
use crate::plan::Source;
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
