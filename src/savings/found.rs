//! What was found that would save.

use super::change::Change;
use crate::length::Length;
use crate::plan::Measure;

/// A change that makes the plan better.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Saving {
    /// The change.
    pub change: Change,
    /// How much less each measure of the aim is with it, in the order of the aim; below zero where it is more.
    pub gain: Vec<(Measure, i64)>,
    /// What is known of smaller changes.
    pub least: Least,
}

/// Whether a smaller change of the same sort would do.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Least {
    /// None would: the checker has shown that a step less has no better plan, and going further never costs more.
    Proven,
    /// None was found: each step before was tried.
    Tried,
    /// None was found by halving; that a step less has no better plan is not shown.
    Claimed,
    /// There is none that is smaller.
    Smallest,
}

/// How long a part could be at no cost.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Room {
    /// Its row in the job as written.
    pub row: usize,
    /// Its length as written.
    pub from: Length,
    /// The greatest length at which the plan costs no more.
    pub to: Length,
}

/// What a spare costs where it is planned with the rest.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Reserve {
    /// The change that plans it.
    pub change: Change,
    /// How much less each measure of the aim is with it, in the order of the aim: zero, or below zero where it is more.
    pub gain: Vec<(Measure, i64)>,
}

/// What was found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Savings {
    /// Changes that save, best first: those a person can decide on, then the others.
    pub found: Vec<Saving>,
    /// Parts that could be longer for nothing.
    pub room: Vec<Room>,
    /// What spares cost.
    pub reserves: Vec<Reserve>,
    /// Whether there was time for all of it.
    pub complete: bool,
}
