//! How a part lies on its board, and what the cut behind it takes.

use crate::job::Job;
use crate::length::Length;
use crate::part::PartEnd;
use crate::plan::{Edge, Lies, PlacedPart};

/// The ends of a part as it lies: towards the datum, away from it.
pub fn lying_ends(job: &Job, placed: &PlacedPart) -> [PartEnd; 2] {
    let [one, other] = job.parts[placed.part].ends;
    match placed.lies {
        Lies::AsWritten => [one, other],
        Lies::Turned => [other, one],
    }
}

/// The edges of the long points of a part's ends as it lies: towards the datum, away from it.
pub fn lying_edges(job: &Job, placed: &PlacedPart) -> [Edge; 2] {
    let edges = job.parts[placed.part].written_edges();
    let [one, other] = edges.map(|edge| match placed.long_edge {
        Edge::Far => edge,
        Edge::Near => edge.across(),
    });
    match placed.lies {
        Lies::AsWritten => [one, other],
        Lies::Turned => [other, one],
    }
}

/// Length of board that the cut behind a part takes.
pub fn cut_width(job: &Job, placed: &PlacedPart) -> Length {
    lying_ends(job, placed)[1].cut(job.saw.kerf)
}
