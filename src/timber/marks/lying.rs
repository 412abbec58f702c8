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

/// Whether the long points of a part's ends sawn with the blade tilted are on the upper face as it lies: towards the datum, away from it. Half-turns
/// that change ends or edges, but not both, turn it over.
pub fn lying_faces(job: &Job, placed: &PlacedPart) -> [bool; 2] {
    let is_over = (placed.lies == Lies::Turned) != (placed.long_edge == Edge::Near);
    let [one, other] = job.parts[placed.part]
        .written_faces()
        .map(|upper| upper != is_over);
    match placed.lies {
        Lies::AsWritten => [one, other],
        Lies::Turned => [other, one],
    }
}

/// Length of board that the cut behind a part takes.
pub fn cut_width(job: &Job, placed: &PlacedPart) -> Length {
    lying_ends(job, placed)[1].cut(job.saw.kerf)
}
