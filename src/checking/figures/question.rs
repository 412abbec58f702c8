//! The question about figures: whether they show the bound of one level of one group.

use crate::groups::Group;
use timber::job::Job;
use timber::plan::Measure;

/// One level of one group, and the plan's claim about it.
pub(crate) struct Question<'a> {
    pub(crate) job: &'a Job,
    pub(crate) group: &'a Group,
    /// Index of the level in the group's measures.
    pub(crate) level: usize,
    /// The plan's totals of the earlier levels, as added up from its boards; one that may be bought within an allowance counts as that at least.
    pub(crate) values: Vec<i64>,
    /// The bound the plan gives, in the units of the level.
    pub(crate) bound: i64,
    /// What is added to the level's unit in the figures: the sum of the parts' lengths, for scrap; what may be bought, for what is beyond that; otherwise
    /// zero.
    pub(crate) offset: i64,
    pub(crate) measure: Measure,
}

impl Question<'_> {
    /// Whether the level is the length used up rather than a cost of boards.
    pub(super) fn used_up(&self) -> bool {
        self.measure == Measure::Scrap
    }

    /// Which of the earlier levels is the length used up.
    pub(super) fn used_before(&self) -> Option<usize> {
        let mut before = self.group.measures[..self.level].iter();
        before.position(|measure| *measure == Measure::Scrap)
    }

    /// What each tick used up is charged at these prices; `None` where it is charged nothing.
    pub(super) fn tick_price(&self, scale: i64, earlier: &[i64]) -> Option<i64> {
        let before = || self.used_before().map(|level| earlier[level]);
        let price = self.used_up().then_some(scale).or_else(before);
        price.filter(|price| *price > 0)
    }
}
