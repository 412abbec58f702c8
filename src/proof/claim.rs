//! What a plan claims of itself: for each group of sections the levels of the aim, and the figures that prove them.

use crate::certificate::Certificate;

/// What a plan claims about one group of sections.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Proof {
    /// Indices of the sections of the group.
    pub sections: Vec<usize>,
    /// The levels of the aim in order, each with what the plan reaches and what nobody can go below.
    pub levels: Vec<Level>,
    /// The figures that prove the levels, where there are any. Its part indices are those of the job's parts (a part of another
    /// group is worth nothing); its board indices count the yard's lines first and the shed's boards after them. Its cost levels
    /// are those of `levels` that depend on buying alone, in their order; its used-up level is the scrap plus the parts' lengths.
    pub certificate: Option<Certificate>,
}

/// One level of the aim.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Level {
    /// What it measures.
    pub measure: Measure,
    /// What the plan reaches.
    pub value: i64,
    /// What the planner found that nobody can go below; equal to `value` where it says that nothing better exists.
    pub bound: i64,
}

impl Level {
    /// Whether the planner says that nothing better exists at this level, the levels before it kept. Whether that is so is for `check`
    /// to show.
    pub const fn is_said_best(&self) -> bool {
        self.value == self.bound
    }
}

/// What a level of the aim measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measure {
    /// Lengths bought.
    Bought,
    /// Money in minor units.
    Money,
    /// Ticks of bought timber.
    BoughtLength,
    /// Ticks of scrap.
    Scrap,
}

impl Measure {
    /// What it measures, as every text names it.
    pub const fn name(self) -> &'static str {
        match self {
            Measure::Bought => "lengths to buy",
            Measure::Money => "money",
            Measure::BoughtLength => "timber to buy",
            Measure::Scrap => "scrap",
        }
    }
}
