//! Why no plan does better: integers that anyone can add up again.
//!
//! A certificate claims one bound for each level of the aim, in order. A level is one of the boards' costs, or the length used up (see
//! `Problem::used`), which is the last of them or comes before some costs. That length less the parts' own lengths is the scrap. The claim for a level is: every plan whose
//! total at each earlier level is at most the entry of `earlier` has a total of at least `bound` at this level. A tree shows it. An inner
//! node splits the plans in two, by how many boards of a set they use. A leaf shows the bound for its plans by integer prices, in the
//! manner of linear-programming duality (Farley 1990 for the scaling). A tree is stored as a list of its nodes in preorder, root first:
//! after a split comes all of its `fewer` side, then all of its `more` side. So trees of any depth are written, read and walked without
//! recursion.
//!
//! **What a leaf asserts.** Let `S` be its scale, `p` its part prices, `e` the prices of the earlier levels, `q` those of the
//! splits on the way from the root. For a board `b` let
//!
//! * `value(b)` = the most that a cutting of `b` can be worth: the sum of `p` over its parts, less `t * used(cutting)`. Here `t`, the price
//!   of a tick, is `S` at the used-up level, `e[j]` where that is the earlier level `j`, and else zero. A cutting is any choice of part
//!   counts, each no more than the demand, that fits the board. The empty cutting does not count where `t` is above zero; elsewhere it is
//!   worth zero;
//! * `charge(b)` = `S * cost[level] + sum of e[j] * cost[j]` over the earlier levels, where the used-up level has a cost of zero,
//!   and for each split on the way whose set holds `b`: `+ q` on its `fewer` side, `- q` on its `more` side;
//! * `excess(b)` = `max(0, value(b) - charge(b))`. It must be zero for a board of unlimited supply.
//!
//! Then every plan in this leaf, `x` boards of each kind, satisfies
//!
//! `S * total >= sum of p * demand - sum of e_j * earlier_j - sum over fewer splits of q * at + sum over more splits of q * (at + 1)
//! - sum of supply(b) * excess(b)`.
//!
//! The reason: the parts of each cutting are worth at most its board's charge plus its excess. Together the parts are worth what is wanted,
//! and the splits and the earlier levels bound the sums of the other charges. All prices are at least zero. Divided by `S` and rounded up
//! this is a lower bound on the leaf's total.
//!
//! **Lifting.** A total of a cost level is a sum of board costs, each taken at most as often as there are boards of its kind. Where
//! `lifted` is set, the bound of a leaf is raised to the least such sum that is not below it. At the used-up level the bound is raised to
//! the next multiple of a common divisor: that of all lengths a used-up length can consist of. These are the lengths of boards, runs,
//! tails, parts and cuts, what shared cuts save among them, and, where the yard cuts lengths, what is carried and kept.
//!
//! **Closing** (reduced-cost fixing). The loss of a cutting is its board's `charge + excess` less what the cutting is worth. By the
//! inequality above, the cuttings of a plan in the leaf with a total of `t` lose together at most `S * t` less its right side. Take for `t`
//! the greatest total below the claim: a cutting that loses more than that is in no plan better than the claim. All others are listed.
//! Where neither the level nor an earlier one is the length used up, cuttings with room for another wanted part are left off the list, since a fuller one loses less; parts may then
//! be cut more often than wanted. [`Branch::Closed`] splits on how often listed cuttings are used, and a [`TwigLeaf`] bounds its plans over
//! the list alone. Let `x` be at least `low` and at most `high` for each cutting. Subtract what the `low` give from all that is wanted or
//! limited, with what is wanted never below zero. Then
//! `S * total >= S * spent + sum of p * wanted - sum of u * supply - sum of e_j * earlier_j - sum over fewer splits of q * at
//! + sum over more splits of q * (at + 1) + sum of min(0, reduced) * (high - low)`,
//!
//! where `reduced` is what a cutting costs, charges included, less its worth. A node is also settled where the `low` overdraw a supply, an
//! earlier level or a split. `high` starts as the number of uses that makes every part of the cutting as often as it is wanted; more uses never help.
//!
//! The claimed bound is the least over the leaves, each lifted. A branch settled in any other way is [`Branch::Searched`]. A certificate
//! that holds one shows only what its other leaves and [`LevelProof::shown`] say.

/// The greatest price or scale a certificate may hold. The planner stays well below it. The checker's sums rely on it not to overflow, so
/// the checker refuses greater figures as misshapen (see `checking/figures/shape`).
pub const MOST_FIGURE: i64 = 1 << 50;

/// The claims for all levels, first level first.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Certificate {
    /// One for each level that the plan reports.
    pub levels: Vec<LevelProof>,
}

/// The claim for one level.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct LevelProof {
    /// The index of the level in the order of the aim.
    pub level: usize,
    /// The totals of the earlier levels that a plan must keep to, one for each.
    pub earlier: Vec<i64>,
    /// No plan has a smaller total at this level. At the used-up level it is a length used up, not scrap.
    pub bound: i64,
    /// The bound that the tree shows when each [`Branch::Searched`] node counts for no more than its own prices show. It equals `bound`
    /// where nothing was searched.
    pub shown: i64,
    /// Whether the bounds of leaves are raised to the next total that can occur ("Lifting" above).
    pub lifted: bool,
    /// The tree's nodes in preorder (see the head of this file).
    pub tree: Vec<Branch>,
}

/// A node in the tree of a level: its plans are split until prices settle each part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Branch {
    /// Plans that use at most `at` of the `boards` together, and plans that use more.
    Split {
        /// Indices into `Problem::boards`, ascending.
        boards: Vec<usize>,
        /// The greatest number of these boards that a plan on the `fewer` side uses.
        at: u32,
    },
    /// Settled by prices.
    Leaf(Leaf),
    /// Settled by a search that is not written down; the leaf holds what prices alone show here.
    Searched(Leaf),
    /// Settled by listing every cutting that, at the leaf's prices, a better plan could use, and by splitting on how often these are cut.
    Closed {
        /// The prices from which the list follows.
        leaf: Leaf,
        /// The splits on cuttings, a tree in preorder.
        search: Vec<Twig>,
    },
}

/// A node in a search over listed cuttings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Twig {
    /// Plans that use a cutting at most `at` times, and plans that use it more often.
    Split {
        /// The board it is cut from; boards that differ in nothing count as one.
        board: usize,
        /// Pairs of part and count, ascending; parts that are laid alike count as one.
        parts: Vec<(usize, u32)>,
        /// The greatest number of uses on the `fewer` side.
        at: u32,
    },
    /// Settled by prices, for the listed cuttings alone.
    Leaf(TwigLeaf),
}

/// Integer prices of a leaf in a search over listed cuttings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TwigLeaf {
    /// How many price units are one unit of the level.
    pub scale: i64,
    /// What one of each part is worth.
    pub parts: Vec<i64>,
    /// What one board of each kind is charged for its limited supply.
    pub boards: Vec<i64>,
    /// What one unit of each earlier level is charged.
    pub earlier: Vec<i64>,
    /// Pairs of split and charge, ascending: a split of boards is numbered by its depth on the way from the root, the root's being 0.
    /// Splits that are not listed are charged zero.
    pub splits: Vec<(usize, i64)>,
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
    /// Pairs of split and charge, ascending: a split is numbered by its depth on the way from the root, the root's being 0. Splits that are
    /// not listed are charged zero.
    pub splits: Vec<(usize, i64)>,
}
