//! What is asked of figures: whether they show the bound of one level of one group.

use crate::groups::Group;
use timber::job::Job;
use timber::plan::Measure;

/// One level of one group, and what the plan says of it.
pub(crate) struct Question<'a> {
    pub(crate) job: &'a Job,
    pub(crate) group: &'a Group,
    /// The level: one of the costs, or their number for the length used up.
    pub(crate) level: usize,
    /// The plan's totals of the levels before, as they were added up from its boards.
    pub(crate) values: Vec<i64>,
    /// The bound the plan gives, in the units of the level.
    pub(crate) bound: i64,
    /// What the units of the figures are beyond those of the level: the parts' lengths, for scrap.
    pub(crate) offset: i64,
    pub(crate) measure: Measure,
}

impl Question<'_> {
    /// Whether the level is the length used up rather than a cost of boards.
    pub(super) fn used_up(&self) -> bool {
        self.level == self.group.costs().len()
    }
}
