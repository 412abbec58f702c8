//! The words of pricing: what is asked, partial patterns (*fills* of one run, for short), and what they must be worth.

use crate::problem::{Need, Ticks};

/// A pricing problem: what cuttings are worth and what they must be worth.
pub(crate) struct PricingProblem<'g> {
    /// Value of one of each part, from 0 to [`LARGEST_PRICE`](crate::limits::LARGEST_PRICE).
    pub(crate) prices: &'g [i64],
    /// The most of each part that one run may hold.
    pub(crate) most: &'g [u32],
    /// What a cutting of each board must be worth more than.
    pub(crate) charges: &'g [i64],
    /// For each board what keeping an offcut is charged, where they are counted; below zero where it is worth something by itself. An offcut may be given
    /// up too: it is then used up and charged nothing.
    pub(crate) kept: &'g [i64],
    /// What every tick used up costs; zero where only parts count.
    pub(crate) tick_cost: i64,
}

/// A partial pattern of one run: a length taken, what it is worth, and the link to how it was reached.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct PartialPattern {
    pub(crate) length: Ticks,
    pub(crate) value: i64,
    pub(crate) link: u32,
}

/// A partial pattern with its state resolved: what a run filled so needs.
#[derive(Clone, Copy, Debug)]
pub(crate) struct FilledRun {
    pub(crate) need: Need,
    pub(crate) value: i64,
    pub(crate) link: u32,
}

/// A length of fill and the value that a fill of at most that length must exceed.
#[derive(Clone, Copy, Debug)]
pub(crate) struct Threshold {
    pub(crate) capacity: Ticks,
    pub(crate) value: i64,
}

/// What fills must exceed to be of use.
#[derive(Debug, Default)]
pub(crate) struct Thresholds {
    /// By value alone.
    pub(crate) full: Vec<Threshold>,
    /// By value less the cost of every tick filled.
    pub(crate) open: Vec<Threshold>,
}
