//! What a plan claims: for each group of sections, the levels of the aim and the figures that prove them.

use crate::certificate::Certificate;

/// What a plan claims about one group of sections.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Proof {
    /// Indices of the sections of the group.
    pub sections: Vec<usize>,
    /// The levels of the aim in order, each with the plan's value and a lower bound on the value of any plan.
    pub levels: Vec<Level>,
    /// The figures that prove the levels, where there are any. Its part indices are those of the job's parts; a part of another group is
    /// worth zero. Its board indices count the yard's lines first and the shed's boards after them. Its cost levels are those of `levels`
    /// that depend on buying alone, in their order. Its used-up level is the scrap plus the parts' lengths.
    pub certificate: Option<Certificate>,
}

/// One level of the aim.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Level {
    /// What it measures.
    pub measure: Measure,
    /// The plan's value, in the unit of `measure`.
    pub value: i64,
    /// The planner's lower bound on the value of any plan, in the same unit; equal to `value` where it claims that no plan is better.
    pub bound: i64,
}

impl Level {
    /// Whether the planner claims that no plan is better at this level, the levels before it kept. Only the checker can show that the claim
    /// holds.
    pub const fn is_said_best(&self) -> bool {
        self.value == self.bound
    }
}

/// Within what nothing better exists, as far as narrow parts decide it. The wider comes first.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Within {
    /// However narrow parts are cut.
    #[default]
    Everything,
    /// Wherever narrow parts lie side by side in blanks, whichever of them lie together. One behind the other in a ripped strip was not looked at.
    SideBySide,
    /// With these blanks: other narrow parts together may do better.
    TheseBlanks,
}

impl Within {
    /// What is said behind a claim: `no plan does better with these blanks`.
    pub const fn said(self) -> &'static str {
        match self {
            Within::Everything => "",
            Within::SideBySide => " with narrow parts side by side",
            Within::TheseBlanks => " with these blanks",
        }
    }

    /// Why that is not the whole of it; empty where it is.
    pub const fn why(self) -> &'static str {
        match self {
            Within::Everything => "",
            Within::SideBySide => {
                "The proof holds for narrow parts that lie side by side in blanks; one behind the other in a ripped strip was not looked at."
            }
            Within::TheseBlanks => {
                "The proof holds for these blanks; other narrow parts side by side may need less."
            }
        }
    }
}

/// What a level of the aim measures.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Measure {
    /// Lengths bought.
    Bought,
    /// Money, in hundredths of the currency's unit.
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
