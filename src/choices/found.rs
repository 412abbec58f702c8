//! What choices there are.

use crate::length::Length;
use crate::money::Money;
use timber::edit::Edit;

/// Most choices that are told.
pub const MOST_TOLD: usize = 16;

/// A plan that may be chosen, by what it comes to.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choice {
    /// How many lengths are bought.
    pub lengths: i64,
    /// What they cost; none where a price is missing.
    pub money: Option<Money>,
    /// How long they are in all.
    pub timber: Length,
    /// What ends up on the floor.
    pub scrap: Length,
    /// How many offcuts are worth keeping.
    pub kept: usize,
    /// How long those are in all.
    pub kept_length: Length,
    /// How many of its boards are cut in another way than the one before.
    pub settings: usize,
    /// Whether it is the plan as it is today.
    pub today: bool,
    /// Whether some other choice beats it. Only the plan as it is today is told though it is beaten.
    pub beaten: bool,
    /// Whether it is proven that nothing beats it.
    pub proven: bool,
    /// What writes it into the job, whichever choice is there.
    pub edits: Vec<Edit>,
}

/// What was found.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Choices {
    /// The choices, fewest lengths first; none where there is nothing to choose.
    pub found: Vec<Choice>,
    /// Whether there was time for all of it.
    pub complete: bool,
    /// Whether the plan as it is today is proven to be the only one that no other beats.
    pub only: bool,
    /// Whether money is compared: every length has a price.
    pub priced: bool,
    /// How many more there are than are told.
    pub untold: usize,
}
