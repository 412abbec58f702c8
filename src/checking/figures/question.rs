//! The question about figures: whether they show the bound of one level of one group.

use crate::groups::Group;
use timber::job::Job;
use timber::plan::Measure;

/// One level of one group, and the plan's claim about it.
pub(crate) struct Question<'a> {
    pub(crate) job: &'a Job,
    pub(crate) group: &'a Group,
    /// Index of the level: a cost level, or the number of cost levels for the length used up.
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
        self.level == self.group.costs().len()
    }
}
