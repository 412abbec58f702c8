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
    /// worth zero. Its board indices count the yard's lines first and the shed's boards after them. Its levels are those of `levels`, in their
    /// order. Its used-up level is the scrap plus the parts' lengths.
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

/// The levels that decide what is bought: all but the scrap where it comes after them.
pub fn deciding<L>(levels: &[L], measure: impl Fn(&L) -> Measure) -> &[L] {
    match levels.split_last() {
        Some((last, before)) if measure(last) == Measure::Scrap => before,
        _ => levels,
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
    /// Lengths bought beyond those that may be bought; zero within them.
    LengthsBeyond,
    /// Ticks of bought timber beyond what may be bought; zero within that.
    TimberBeyond,
}

impl Measure {
    /// Whether it is what passes an allowance: a floor under the sum that it measures.
    pub const fn is_beyond(self) -> bool {
        matches!(self, Measure::LengthsBeyond | Measure::TimberBeyond)
    }

    /// What it measures, as every text names it.
    pub const fn name(self) -> &'static str {
        match self {
            Measure::Bought => "lengths to buy",
            Measure::Money => "money",
            Measure::BoughtLength => "timber to buy",
            Measure::Scrap => "scrap",
            Measure::LengthsBeyond => "lengths beyond those allowed",
            Measure::TimberBeyond => "timber beyond what is allowed",
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_level_is_said_to_be_the_best_just_where_its_bound_is_its_value() {
        let said = |value, bound| {
            let measure = Measure::Scrap;
            Level {
                measure,
                value,
                bound,
            }
            .is_said_best()
        };
        assert!(said(3, 3) && said(0, 0) && said(-2, -2));
        assert!(!said(3, 2) && !said(2, 3) && !said(0, -1));
    }

    #[test]
    fn what_is_said_of_blanks_is_nothing_where_the_claim_is_whole_and_another_sentence_for_each_limit()
     {
        let all = [Within::Everything, Within::SideBySide, Within::TheseBlanks];
        assert!(all.is_sorted() && Within::default() == all[0]);
        let [none, side_by_side, these] = all.map(Within::said);
        assert_eq!(none, "");
        assert_eq!(side_by_side, " with narrow parts side by side");
        assert_eq!(these, " with these blanks");
        let [none, side_by_side, these] = all.map(Within::why);
        assert_eq!(none, "");
        assert!(side_by_side.contains("side by side in blanks"));
        assert!(these.contains("these blanks"));
    }

    #[test]
    fn measures_have_names_of_their_own() {
        let all = [
            Measure::Bought,
            Measure::Money,
            Measure::BoughtLength,
            Measure::Scrap,
            Measure::LengthsBeyond,
            Measure::TimberBeyond,
        ];
        let mut names = all.map(Measure::name).to_vec();
        assert_eq!(
            names[..4],
            ["lengths to buy", "money", "timber to buy", "scrap"]
        );
        names.dedup();
        assert_eq!(names.len(), all.len());
        let beyond = all.map(Measure::is_beyond);
        assert_eq!(beyond, [false, false, false, false, true, true]);
    }
}
