//! What comes out: a plan with its levels, how it was proven, or why there is none.

use crate::problem::Cutting;
use proof::certificate::Certificate;

/// A better plan, while the engine is still at work.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Progress {
    /// The boards to cut and how, each with how many are cut so; every part is cut exactly as often as wanted.
    pub cuttings: Vec<(Cutting, u32)>,
    /// The levels, first level first.
    pub levels: Vec<Level>,
}

/// One level of the aims: what the plan comes to and what no plan can beat.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Level {
    /// The plan's total: a sum of board costs, or the scrap in ticks.
    pub value: i64,
    /// No plan that keeps to the values of the earlier levels has a smaller total.
    pub bound: i64,
}

impl Level {
    /// Whether no plan is better at this level.
    pub fn proven(self) -> bool {
        self.value == self.bound
    }
}

/// How the engine ended.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Outcome {
    /// No plan exists, and this is proven.
    Impossible(Shortage),
    /// A plan, and how much of it is proven.
    Found(Solution),
    /// Stopped before any plan was found. One may exist.
    NothingYet,
}

/// Why no plan exists.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Shortage {
    /// This part fits none of the boards, not even alone.
    Part(usize),
    /// All parts fit, but the boards are too few: at least so many parts are left over, whatever is cut first.
    Boards {
        /// No plan leaves fewer parts over than these. It may be that none leaves so few.
        missing: u32,
    },
}

/// The best plan found.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solution {
    /// The boards to cut and how, each with how many are cut so; every part is cut exactly as often as wanted.
    pub cuttings: Vec<(Cutting, u32)>,
    /// The levels, first level first: the boards' cost levels, then the scrap where it is an aim.
    pub levels: Vec<Level>,
    /// Figures that show the bounds; there is none where the engine was stopped before it had any.
    pub certificate: Option<Certificate>,
    /// How much work it was.
    pub effort: Effort,
}

/// How much work a solution took.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Effort {
    /// Nodes of the search tree whose relaxation was solved.
    pub nodes: u64,
    /// Patterns generated.
    pub columns: u64,
}
