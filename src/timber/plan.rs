//! A plan: which boards are cut, and where every part lies on them.
//!
//! All positions are exact and measured along a board from its datum end, on which the tape is hooked. A plan does not claim to be correct:
//! only the checker can make a `CheckedPlan` from it, by the job alone.

pub use proof::claim::{Level, Measure, Proof, Within, deciding};

use crate::length::Length;

/// A plan for a whole job.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Plan {
    /// The boards that are cut, shed boards first, in the order they are cut.
    pub boards: Vec<PlannedBoard>,
    /// The claims about each group of sections.
    pub proofs: Vec<Proof>,
}

/// One physical board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlannedBoard {
    /// Which board it is.
    pub source: Source,
    /// For a length that is too long to carry, where the yard's one cut starts, from the datum end. The cut takes one kerf; the second
    /// carried piece starts behind it.
    pub yard_cut: Option<Length>,
    /// The clear runs parts are laid in, ascending; runs without parts are left out.
    pub runs: Vec<PlannedRun>,
}

/// Where a board comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub enum Source {
    /// Index into the job's shed.
    Shed(usize),
    /// Index into the job's yard.
    Yard(usize),
}

/// A clear run and the parts in it.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlannedRun {
    /// Where the clear run starts, behind the end trim, bad stretch or cut before it.
    pub from: Length,
    /// Where it ends.
    pub to: Length,
    /// The parts, in cutting order from the datum end.
    pub cuts: Vec<PlacedPart>,
}

/// A part on a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct PlacedPart {
    /// Index into the job's parts.
    pub part: usize,
    /// Where its long-point length starts.
    pub start: Length,
    /// Where its long-point length ends; the cut takes its kerf beyond this.
    pub end: Length,
    /// Whether its first end (as the part is written) lies towards the datum.
    pub lies: Lies,
    /// The edge that the long point of its first mitred end is on, as the part is written; the other end's is on the same, or on the one across
    /// where both lean the same way. A mirror image of those has each on the edge across from that. Neighbours that share a cut meet with long points on different edges.
    pub long_edge: Edge,
}

/// Which way round a part lies.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Lies {
    /// As written: its first end towards the datum.
    #[default]
    AsWritten,
    /// Turned end for end.
    Turned,
}

/// An edge of a board as it lies at the saw, the datum end to the left.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Edge {
    /// The edge away from the person.
    #[default]
    Far,
    /// The edge nearest the person.
    Near,
}

impl Edge {
    /// The edge across the board.
    pub fn across(self) -> Edge {
        match self {
            Edge::Far => Edge::Near,
            Edge::Near => Edge::Far,
        }
    }
}
