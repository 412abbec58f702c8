//! The strip that is left of a board's width once a narrow part, or several side by side, are ripped out of a piece of it.

use crate::job::Job;
use crate::length::Length;
use crate::part::PartEnd;
use crate::plan::Source;
use crate::section::{EdgeJoint, Treated};

/// How wide the strip is, to the step of the tape below it; zero where nothing is left or the width of a board of this section is not known. `piece` is an index of the job's
/// parts. Each strip takes its width as the fence shows it and a cut; a set-out's tongued board has its tongue besides.
pub fn left_beside(job: &Job, piece: usize, section: usize) -> Length {
    let of = &job.sections[section];
    let mut left = of.broad().unwrap_or_default();
    for &row in &job.parts[piece].strips {
        let part = &job.list[row];
        let width = part.rip.map(|rip| rip.width).unwrap_or_default();
        left -= width.up_to(job.step) + job.saw.kerf;
        if of.joint == EdgeJoint::Tongued && part.row.is_none() {
            left -= of.lap();
        }
    }
    left.max(Length::ZERO).down_to(job.step)
}

/// The width of that strip where it is worth keeping: it is wide enough and as long as an offcut of its section has to be, square at both ends, and of a board that is ripped here.
pub fn kept_beside(job: &Job, piece: usize, (source, section): (Source, usize)) -> Option<Length> {
    let part = &job.parts[piece];
    let width = left_beside(job, piece, section);
    let is_ripped = !part.strips.is_empty() && is_ripped_here(job, source);
    let enough = width > Length::ZERO
        && width >= job.saw.keep_width
        && part.length >= job.sections[section].keep;
    (is_ripped && enough && part.ends == [PartEnd::Square; 2]).then_some(width)
}

/// Whether narrow parts are ripped out of a board: the saw rips, and the board is not treated. A board of the shed says so itself, whatever its section is.
pub fn is_ripped_here(job: &Job, source: Source) -> bool {
    job.saw.rips && job.treated(source) == Treated::No
}
