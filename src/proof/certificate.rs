//! Why no plan does better: figures that anyone can add up again.
//!
//! A certificate claims one bound for each level of a `Problem`. A level is one of the boards' costs, in order, and
//! after them the length used up (see `Problem::used`), which less the parts' own lengths is the scrap.
//! The claim for a level is: every plan whose earlier levels come to no more than `earlier` has a total of at least `bound`
//! at this level. It is shown by a tree. An inner node splits the plans in two by how many boards of a set they use. A leaf
//! shows its part by integer prices, in the manner of linear-programming duality (Farley 1990 for the scaling).
//! A tree is kept as a list of its places, root first: behind a split all of its side with fewer, then all of its side with more. So
//! trees of any depth are written, read and walked through without a stack of calls.
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
//! `lifted` is set, the bound of a leaf is raised to the least such sum that is not below it. A length used up is made up of lengths of boards,
//! runs, tails, parts and cuts, what shared cuts save among them, and of what is carried and kept where lengths are cut at the yard; so it is
//! a multiple of the common divisor of all that can be in it, and at the used-up level the bound is raised to the next multiple.
//!
//! **Closing.** By the same sum a plan of the leaf with a total of `t` has cuttings that lose, each `charge + excess` of its board less
//! its own worth, at most `S * t` less the leaf's sum in all. So every cutting of a plan better than the claim is on the list of those
//! that lose no more than that for the greatest total below the claim. Where only costs count, cuttings to which a wanted part can
//! be added are left off it: a fuller one loses less, and parts are then cut at least as often as wanted. [`Branch::Closed`] splits on
//! how often listed cuttings are used, and a [`TwigLeaf`] shows its part over the list alone. With `x` at least `low` and at most
//! `high` for each cutting, what the `low` give taken off all that is wanted or limited (and what is wanted never below nothing),
//!
//! `S * total >= S * spent + sum of p * wanted - sum of u * supply - sum of e[j] * earlier[j] - sum over fewer splits of q * at
//! + sum over more splits of q * (at + 1) + sum of min(0, reduced) * (high - low)`,
//!
//! where `reduced` is what a cutting costs, charges and all, less its worth. A place is also settled where something limited is overdrawn.
//! `high` is at first the number of times that gives every part of the cutting as often as it is wanted; no more are ever of use.
//!
//! The claimed bound is the least over the leaves, each lifted. A branch settled in any other way is [`Branch::Searched`], and a
//! certificate that holds one shows only what its other leaves and [`LevelProof::shown`] say.

/// The greatest price or scale a certificate may hold. The planner stays well below it; the checker, which rests on it for sums that cannot
/// overflow (see `check/figures/shape`), takes figures above it for misshapen.
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
    /// The index of the level: a cost level, or the number of cost levels for the length used up.
    pub level: usize,
    /// The totals of the earlier levels that a plan must keep to, one for each.
    pub earlier: Vec<i64>,
    /// No plan has a smaller total at this level. At the used-up level it is a length used up, not scrap.
    pub bound: i64,
    /// What the tree shows when every [`Branch::Searched`] place is believed to show no more than its own prices do;
    /// equal to `bound` where nothing was searched.
    pub shown: i64,
    /// Whether leaves are raised to the next total that there can be.
    pub lifted: bool,
    /// The argument, in the order that is told at the head of this file.
    pub tree: Vec<Branch>,
}

/// A place in the tree of a level, whose plans are parted until prices settle each part.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Branch {
    /// Plans that use at most `at` of the `boards` together, and plans that use more.
    Split {
        /// Indices into `Problem::boards`, ascending.
        boards: Vec<usize>,
        /// The most that the first side uses.
        at: u32,
    },
    /// Settled by prices.
    Leaf(Leaf),
    /// Settled by a search that is not written down; the leaf is what prices alone show here.
    Searched(Leaf),
    /// Settled by listing every cutting that the leaf's prices leave to a better plan, and splitting on how often these are cut.
    Closed {
        /// What prices alone show here, and what the list follows from.
        leaf: Leaf,
        /// The splits on cuttings, in the order of a tree.
        search: Vec<Twig>,
    },
}

/// A place in a search over listed cuttings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Twig {
    /// Plans that use a cutting at most `at` times, and plans that use it more often.
    Split {
        /// The board it is cut from; boards that nothing tells apart count as one.
        board: usize,
        /// How many of each part it has, ascending; parts that lie alike count as one.
        parts: Vec<(usize, u32)>,
        /// The most that the first side uses.
        at: u32,
    },
    /// Settled by prices, for the listed cuttings alone.
    Leaf(TwigLeaf),
}

/// Integer prices of a place in a search over listed cuttings.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct TwigLeaf {
    /// How many price units are one unit of the level.
    pub scale: i64,
    /// What one of each part is worth.
    pub parts: Vec<i64>,
    /// What one board of each kind is charged for being limited.
    pub boards: Vec<i64>,
    /// What one unit of each earlier level is charged.
    pub earlier: Vec<i64>,
    /// What splits of boards on the way from the root are charged: their places on that way, ascending, the root's being 0. The others
    /// are charged nothing.
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
    /// What splits on the way from the root are charged: their places on that way, ascending, the root's being 0. The others are
    /// charged nothing.
    pub splits: Vec<(usize, i64)>,
}
