//! Why no plan does better: integers that anyone can add up again.
//!
//! A certificate claims one bound for each level of the aim, in order. A level is one of the boards' costs, or the length used up (see
//! `Problem::used`), which is the last of them or comes before some costs. That length less the parts' own lengths is the scrap. The claim for a level is: every plan whose
//! total at each earlier level is at most the entry of `earlier` has a total of at least `bound` at this level. A tree shows it. An inner
//! node splits the plans in two, by how many boards of a set they use, or how many offcuts of them they keep. A leaf shows the bound for its plans by integer prices, in the
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
//! * at the used-up level `kept(b)` = what an offcut of `b` that is kept is charged: for each split on the way that counts the offcuts of a set with `b`
//!   in it ([`Branch::Kept`]), `+ q` on its `fewer` side, `- q` on its `more` side. It is taken off the worth of a cutting for each of its runs that keeps
//!   an offcut. A cutting may also give an offcut up, for this sum alone: its run is then used up whole and charged nothing. Such splits are no part of
//!   `charge`;
//! * `excess(b)` = `max(0, value(b) - charge(b))`. It must be zero for a board of unlimited supply.
//!
//! Then every plan in this leaf, `x` boards of each kind, satisfies
//!
//! `S * total >= sum of p * demand - sum of e_j * earlier_j - sum over fewer splits of q * at + sum over more splits of q * (at + 1)
//! - sum of supply(b) * excess(b)`.
//!
//! The reason: the parts of each cutting are worth at most what it uses up, its board's charge and that of its offcuts, plus its excess. Together the parts are worth what is wanted,
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
//! be cut more often than wanted. Cuttings of the same parts count as one, the one that uses up least, but where a split on the way counts offcuts those
//! that keep another number of them are told apart, and none gives one up. [`Branch::Closed`] splits on how often listed cuttings are used, and a [`TwigLeaf`] bounds its plans over
//! the list alone. Let `x` be at least `low` and at most `high` for each cutting. Subtract what the `low` give from all that is wanted or
//! limited, with what is wanted never below zero. Then
//! `S * total >= S * spent + sum of p * wanted - sum of u * supply - sum of e_j * earlier_j - sum over fewer splits of q * at
//! + sum over more splits of q * (at + 1) + sum of min(0, reduced) * (high - low)`,
//!
//! where `reduced` is what a cutting costs, charges included, less its worth; a split that counts offcuts counts as many of a cutting as it keeps. A node is also settled where the `low` overdraw a supply, an
//! earlier level or a split. `high` starts as the number of uses that makes every part of the cutting as often as it is wanted; more uses never help.
//!
//! A search may also split on a pair of parts ([`Twig::Pair`], Ryan and Foster 1981): on how many boards hold both, or two of the one where the two
//! are the same or are laid alike. A use of a listed cutting that holds the pair counts once, however often it holds it. That is sound though the
//! list leaves cuttings off. What a search shows is that no plan *over the list* is better than the claim. A better plan is filled up first, with
//! fuller cuttings of the list in place of its own, and holds the pair on as many boards as these do, which may be more than before. Whatever that
//! number is, it is an integer, so the filled plan is on one side of the split and on one only. Let `given` be what the `low` of the cuttings that
//! hold the pair come to, and `q` the price of the split. On its `fewer` side the inequality has `- q * (at - given)` and each `reduced` of such a
//! cutting `+ q`; on its `more` side `+ q * max(0, at + 1 - given)` and `- q`. A node is settled where `given` is more than `at` on the `fewer` side.
//! These splits are numbered on: the search's root is numbered as many as splits of boards are on the way to the leaf that is closed, and each node
//! one more than the one above it. Splits on cuttings count, but have no price.
//!
//! **Pairs** (Ryan and Foster 1981, here for parts wanted more than once as well). A level of costs may also be settled by deciding which parts lie
//! on one board together. *Blocks* are what is to be placed: at the root each part, as often as it is wanted, parts that are laid alike as one. Take a
//! plan that cuts each part just as often as it is wanted, and at a node two blocks that are left to be placed: two copies, where they are the same.
//! Either some board holds both or none does. On the first side one copy of each is taken away, and a *joined* block, as long as both and wanted
//! once, is placed for them; it is kept apart from all that either was kept apart from. On the second side no board holds both. So each such plan is
//! on one of the two sides, however often the blocks are wanted, and it stays one that places every block of its side just as often as that is
//! wanted: more copies of the two may lie together or not. A plan that cuts parts in vain totals what it totals without them. [`Pairing`] is
//! such a tree in preorder, the side with both together first. Blocks are numbered: the parts first, then the joined blocks in the order of the way.
//!
//! Take all boards for the longest of them at the cost of the cheapest, `c`. A plan below the claim has at most `n` of them, the greatest
//! total below it divided by `c`, and so one board wastes no more than `n` boards less all parts: `w`. A leaf has a scale `S` and a price
//! `p` for each block. No choice of blocks left to be placed, each no more often than it is wanted, none of them apart, that fits a board
//! and wastes no more than `w`, may be worth more than `S`; then a plan with at most `n` boards places blocks worth `S * n` at most. So there is
//! none where the sum of `p` over all blocks to be placed is more. This holds for boards of one run with square cuts alone.
//!
//! **Offcuts.** A run keeps its offcut where that is as long as the section asks of one. So each plan keeps a whole number of them and is on one side of
//! [`Branch::Kept`]. Only boards are counted whose runs are the same whatever is cut from them: none that is cut at the yard, where the place of that cut
//! decides which piece keeps one, and none at whose ends a part may stand.
//!
//! The claimed bound is the least over the leaves, each lifted. A branch settled in any other way is [`Branch::Searched`]. A certificate
//! that holds one shows only what its other leaves and [`LevelProof::shown`] say.

/// The greatest price or scale a certificate may hold. The planner stays well below it. The checker's sums rely on it not to overflow, so
/// the checker refuses greater figures as misshapen (see `checking/figures/shape`).
pub const MOST_FIGURE: i64 = 1 << 50;

/// The greatest price or scale in a search over pairs. It keeps what a board holds within 64 bits.
pub const MOST_PAIR_FIGURE: i64 = 1 << 30;
/// The most bytes that one search over pairs takes in a plan file. What would take more is not told by the planner and not read by the checker:
/// a page keeps plans, and a phone adds them up.
pub const MOST_PAIR_BYTES: usize = 1 << 20;
/// The most decisions on pairs that wait for their second side, which bounds the checker's memory.
pub const MOST_PAIR_DEPTH: usize = 400;

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
    /// Plans that keep at most `at` offcuts of the `boards` together, and plans that keep more. The level is the length used up.
    Kept {
        /// Indices into `Problem::boards`, ascending: boards that are not cut at the yard and at whose ends no part may stand.
        boards: Vec<usize>,
        /// The greatest number of offcuts that a plan on the `fewer` side keeps.
        at: u32,
    },
    /// Settled by prices.
    Leaf(Leaf),
    /// Settled by a search that is not written down; the leaf holds what prices alone show here.
    Searched(Leaf),
    /// Settled by listing every cutting that, at the leaf's prices, a better plan could use, and by splitting on how often these are cut and
    /// on how many boards hold both of two parts.
    Closed {
        /// The prices from which the list follows.
        leaf: Leaf,
        /// The splits, a tree in preorder.
        search: Vec<Twig>,
    },
    /// Settled by deciding which parts lie on one board together ("Pairs" above).
    Paired {
        /// What prices alone show here.
        leaf: Leaf,
        /// The decisions, a tree in preorder.
        search: Vec<Pairing>,
    },
}

/// A node in a search over pairs of blocks.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Pairing {
    /// Plans in which some board holds both of two blocks, and plans in which none does.
    Split([usize; 2]),
    /// Settled by prices.
    Leaf {
        /// How many price units a board is.
        scale: i64,
        /// What each block is worth: the parts, then the joined blocks on the way.
        prices: Vec<i64>,
    },
}

impl Pairing {
    /// Tells it of other parts: `from` has for each of them the one of `parts` parts that it is laid as, if any.
    pub fn renumber(&mut self, parts: usize, from: &[Option<usize>]) {
        match self {
            Pairing::Split(pair) => {
                for block in pair {
                    let same = |part: &Option<usize>| *part == Some(*block);
                    *block = match block.checked_sub(parts) {
                        Some(join) => from.len() + join,
                        None => from.iter().position(same).unwrap_or_default(),
                    };
                }
            }
            Pairing::Leaf { prices, .. } => {
                let of = |part: &Option<usize>| part.map_or(0, |part| prices[part]);
                let mut all: Vec<i64> = from.iter().map(of).collect();
                all.extend_from_slice(&prices[parts..]);
                *prices = all;
            }
        }
    }

    /// How many bytes it takes in a plan file at most.
    pub fn bytes(&self) -> usize {
        match self {
            Pairing::Split(pair) => {
                6 + pair.map(|block| digits(block as i64)).iter().sum::<usize>()
            }
            Pairing::Leaf { scale, prices } => {
                let figures = prices.iter().chain([scale]);
                3 + figures.map(|&figure| 1 + digits(figure)).sum::<usize>()
            }
        }
    }
}

impl Twig {
    /// How many bytes it takes in a plan file that has so many parts and boards at most.
    pub fn bytes(&self, parts_told: usize) -> usize {
        let each = |figure: i64| 1 + digits(figure);
        match self {
            Twig::Split {
                board, parts, at, ..
            } => {
                let parts = parts
                    .iter()
                    .map(|(_, count)| each(i64::from(*count)) + 3 + digits(parts_told as i64));
                52 + each(*board as i64) + each(i64::from(*at)) + parts.sum::<usize>()
            }
            Twig::Pair { at, .. } => 28 + 2 * each(parts_told as i64) + each(i64::from(*at)),
            Twig::Leaf(leaf) => {
                let greatest = leaf.parts.iter().copied().max().unwrap_or(0);
                let parts = parts_told * each(greatest);
                let others = leaf.boards.iter().chain(&leaf.earlier).chain([&leaf.scale]);
                let others: usize = others.map(|&figure| each(figure)).sum();
                let splits = leaf.splits.iter();
                let splits = splits.map(|&(at, price)| 2 + each(at as i64) + each(price));
                70 + parts + others + splits.sum::<usize>()
            }
        }
    }
}

/// How many characters a figure is written with.
pub fn digits(figure: i64) -> usize {
    let sign = usize::from(figure < 0);
    sign + 1 + figure.unsigned_abs().checked_ilog10().unwrap_or(0) as usize
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
        /// How many offcuts it keeps, where a split on the way to the leaf that is closed counts them.
        kept: Option<u32>,
        /// The greatest number of uses on the `fewer` side.
        at: u32,
    },
    /// Plans in which at most `at` boards hold both of two parts, and plans in which more do.
    Pair {
        /// The two parts; parts that are laid alike count as one. Where they are the same, boards are counted that hold two or more of it.
        parts: [usize; 2],
        /// The greatest number of such boards on the `fewer` side.
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
    /// Pairs of split and charge, ascending: a split of boards is numbered by its depth on the way from the root, the root's being 0. Splits on
    /// pairs of parts are numbered on, by their depth in the search. Splits that are not listed are charged zero.
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

#[cfg(test)]
mod tests {
    use super::*;

    fn leaf(prices: &[i64]) -> Pairing {
        Pairing::Leaf {
            scale: 9,
            prices: prices.to_vec(),
        }
    }

    #[test]
    fn a_decision_and_its_prices_are_told_of_other_parts_with_joined_blocks_behind_them() {
        // Of two parts, the first stands for the second and the fourth of five, the other for the third.
        let from = [None, Some(0), Some(1), Some(0), None];
        let renumbered = |mut pairing: Pairing| {
            pairing.renumber(2, &from);
            pairing
        };
        assert_eq!(renumbered(Pairing::Split([0, 1])), Pairing::Split([1, 2]));
        assert_eq!(renumbered(Pairing::Split([1, 1])), Pairing::Split([2, 2]));
        assert_eq!(renumbered(Pairing::Split([3, 2])), Pairing::Split([6, 5]));
        assert_eq!(renumbered(leaf(&[4, 7])), leaf(&[0, 4, 7, 4, 0]));
        assert_eq!(renumbered(leaf(&[4, 7, 11])), leaf(&[0, 4, 7, 4, 0, 11]));
    }

    #[test]
    fn figures_are_counted_with_all_their_characters() {
        for figure in [0, 7, 9, 10, 99, 100, 1 << 50, i64::MAX, -1, -10, i64::MIN] {
            assert_eq!(digits(figure), figure.to_string().len(), "{figure}");
        }
        assert_eq!(leaf(&[10, 0, 123]).bytes(), "[9,10,0,123],".len() + 1);
        assert_eq!(Pairing::Split([3, 205]).bytes(), "[0,3,205],".len());
    }
}
