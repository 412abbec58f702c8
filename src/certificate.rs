//! Why no plan does better: figures that anyone can add up again.
//!
//! A certificate claims one bound for each level of a [`Problem`](crate::problem::Problem). A level is one of the boards' costs, in order, and
//! after them the length used up (see [`Problem::used`](crate::problem::Problem::used)), which less the parts' own lengths is the scrap.
//! The claim for a level is: every plan whose earlier levels come to no more than `earlier` has a total of at least `bound`
//! at this level. It is shown by a tree. An inner node splits the plans in two by how many boards of a set they use. A leaf
//! shows its part by integer prices, in the manner of linear-programming duality (Farley 1990 for the scaling).
//!
//! **What a leaf asserts.** Let `S` be its scale, `p` its part prices, `e` the prices of the earlier levels, `q` those of the
//! splits on the way from the root. For a board `b` let
//!
//! * `value(b)` = the most that a cutting of `b` can be worth: the sum of `p` over its parts, and at the used-up level less
//!   `S * used(cutting)`. A cutting is any choice of part counts, each no more than the demand, that fits the board. The
//!   empty cutting does not count at the used-up level; elsewhere it is worth nothing;
//! * `charge(b)` = `S * cost[level]` (nothing at the used-up level) `+ sum of e[j] * cost[j]` over the earlier levels,
//!   and for each split on the way whose set holds `b`: `+ q` on its `fewer` side, `- q` on its `more` side;
//! * `excess(b)` = `max(0, value(b) - charge(b))`. It must be zero for a board of unlimited supply.
//!
//! Then every plan in this leaf, `x` boards of each kind, satisfies
//!
//! `S * total >= sum of p * demand - sum of e[j] * earlier[j] - sum over fewer splits of q * at + sum over more splits of q * (at + 1)
//! - sum of supply(b) * excess(b)`,
//!
//! because each cutting's parts are worth no more than its board's charge and excess, the parts together are worth what is
//! wanted, and the splits and the earlier levels bound the sums of the other charges. All prices are at least zero. Divided
//! by `S` and rounded up this is a lower bound on the leaf's total.
//!
//! **Lifting.** A total of a cost level is a sum of board costs, each taken at most as often as there are boards of its kind. Where
//! `lifted` is set, the bound of a leaf is raised to the least such sum that is not below it.
//!
//! The claimed bound is the least over the leaves, each lifted. A branch closed by searching through patterns cannot be put
//! in these terms; it is [`Tree::Searched`], and a certificate that holds one shows only what its other leaves and
//! [`LevelProof::shown`] say.

/// The claims for all levels, first level first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Certificate {
    /// One for each level that the plan reports.
    pub levels: Vec<LevelProof>,
}

/// The claim for one level.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LevelProof {
    /// The index of the level: a cost level, or the number of cost levels for the length used up.
    pub level: usize,
    /// The totals of the earlier levels that a plan must keep to, one for each.
    pub earlier: Vec<i64>,
    /// No plan has a smaller total at this level. At the used-up level it is a length used up, not scrap.
    pub bound: i64,
    /// What the tree shows when every [`Tree::Searched`] branch is believed to show no more than its own prices do;
    /// equal to `bound` where nothing was searched.
    pub shown: i64,
    /// Whether leaves are raised to the next sum of board costs.
    pub lifted: bool,
    /// The argument.
    pub tree: Tree,
}

/// The plans of a level, parted until prices settle each part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Tree {
    /// Plans that use at most `at` of the `boards` together, and plans that use more.
    Split {
        /// Indices into [`Problem::boards`](crate::problem::Problem::boards), ascending.
        boards: Vec<usize>,
        /// The most that the first side uses.
        at: u32,
        /// Plans with at most `at` of them.
        fewer: Box<Tree>,
        /// Plans with at least `at + 1` of them.
        more: Box<Tree>,
    },
    /// Settled by prices.
    Leaf(Leaf),
    /// Settled by a search over patterns that prices cannot repeat; the leaf is what prices alone show here.
    Searched(Leaf),
}

/// Integer prices. What they assert is at the head of this file.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Leaf {
    /// How many price units are one unit of the level; at least one.
    pub scale: i64,
    /// What one of each part is worth.
    pub parts: Vec<i64>,
    /// What one unit of each earlier level is charged.
    pub earlier: Vec<i64>,
    /// What each split on the way from the root is charged, root first.
    pub splits: Vec<i64>,
}
