//! Adding up the leaves of a claim's tree.

use super::Question;
use super::boards::{Board, index_of};
use super::search::{self, Open, OpenBoard};
use crate::certificate::{Branch, Leaf, LevelProof, Twig};
use crate::check::lie::Lie;
use crate::check::sums::{self, Kind};
use crate::check::wood::Wood;
use crate::check::worth::{Steps, TooLarge, Worths};
use std::rc::Rc;

/// The splits on the way from the root to a place, each with the side that is taken.
#[derive(Default)]
struct Way<'a> {
    splits: Vec<(&'a [usize], u32, Side)>,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    Fewer,
    More,
}

/// What a tree was found to show.
pub(super) struct Shown {
    /// The least over its leaves; `None` where no plan is in any of them.
    pub(super) least: Option<i128>,
    /// Whether a leaf stands for a search.
    pub(super) searched: bool,
    /// Whether some board was taken to be worth more than it can be.
    pub(super) loose: bool,
}

pub(super) enum Stop {
    TooLarge,
    /// A board nobody limits is worth more than it is charged, though this may be for want of exactness.
    Loose,
    Lie(Lie),
}

impl From<TooLarge> for Stop {
    fn from(_: TooLarge) -> Stop {
        Stop::TooLarge
    }
}

/// Adds up the leaves of one claim.
pub(super) struct Adder<'a> {
    question: &'a Question<'a>,
    claim: &'a LevelProof,
    boards: &'a [Board],
    woods: Vec<(usize, Wood)>,
}

impl<'a> Adder<'a> {
    /// Returns `None` where a mitred part is too short for the sums.
    pub(super) fn of(
        question: &'a Question,
        claim: &'a LevelProof,
        boards: &'a [Board],
    ) -> Option<Adder<'a>> {
        let woods = question
            .sections
            .iter()
            .map(|&section| Wood::of(question.job, section).map(|wood| (section, wood)))
            .collect::<Option<Vec<_>>>()?;
        Some(Adder {
            question,
            claim,
            boards,
            woods,
        })
    }

    /// Adds up all leaves of a tree of the right shape.
    pub(super) fn tree(&self, tree: &'a [Branch], steps: &mut Steps) -> Result<Shown, Stop> {
        let mut way = Way::default();
        let mut all = Shown {
            least: None,
            searched: false,
            loose: false,
        };
        for branch in tree {
            let shown = match branch {
                Branch::Split { boards, at } => {
                    way.splits.push((boards, *at, Side::Fewer));
                    continue;
                }
                Branch::Leaf(leaf) => self.leaf(leaf, &way, steps)?.shown(),
                Branch::Searched(leaf) => Shown {
                    searched: true,
                    ..self.leaf(leaf, &way, steps)?.shown()
                },
                Branch::Closed { leaf, search } => self.closed(leaf, search, &way, steps)?,
            };
            all.add(shown);
            way.go_on();
        }
        Ok(all)
    }

    /// What a leaf shows with a search over the cuttings that its prices leave open: the claim, or what its prices alone show.
    fn closed(
        &self,
        leaf: &Leaf,
        search: &[Twig],
        way: &Way,
        steps: &mut Steps,
    ) -> Result<Shown, Stop> {
        let summed = self.leaf(leaf, way, steps)?;
        let shown = summed.shown();
        let bound = self.claim.bound;
        // The greatest total that would beat the claim.
        let beaten = match self.claim.lifted {
            true => sums::last_sum_below(&self.kinds(), bound),
            false => Some(bound - 1),
        };
        let Some(beaten) = beaten else {
            return Err(Stop::TooLarge);
        };
        let scale = i128::from(leaf.scale);
        let cost_level = (!self.used_up()).then_some(self.question.level);
        let open = Open {
            job: self.question.job,
            sections: self.question.sections,
            woods: &self.woods,
            prices: &leaf.parts,
            tick_cost: if self.used_up() { scale } else { 0 },
            gap: scale * i128::from(beaten) - summed.sum,
            beaten,
            cost_level,
            boards: summed
                .boards
                .iter()
                .map(|summed| self.open_board(summed, way))
                .collect(),
            limits: self
                .claim
                .earlier
                .iter()
                .copied()
                .chain(cost_level.map(|_| beaten))
                .collect(),
            fewer: way.sides(Side::Fewer),
            more: way.sides(Side::More),
            sides: way.splits.iter().map(|(_, _, side)| *side).collect(),
        };
        if open.gap < 0 || search::shows(&open, search, steps)? {
            return Ok(Shown {
                least: Some(i128::from(bound)),
                ..shown
            });
        }
        // Where the list rests on a board's exact worth, the search is false; otherwise it may only be out of reach.
        Ok(Shown {
            searched: shown.loose,
            ..shown
        })
    }

    fn open_board<'s>(&'s self, summed: &'s SummedBoard, way: &Way) -> OpenBoard<'s> {
        let index = index_of(self.question.job, summed.board.source);
        let counted = |wanted: Side| {
            let sides = way.splits.iter().filter(|(_, _, side)| *side == wanted);
            sides
                .enumerate()
                .filter(|(_, (set, _, _))| set.contains(&index))
                .map(|(at, _)| at)
                .collect()
        };
        OpenBoard {
            board: summed.board,
            index,
            wood: summed.wood,
            worths: &summed.worths,
            charge: summed.charge,
            excess: summed.excess,
            costs: summed.board.costs[..self.claim.earlier.len() + usize::from(!self.used_up())]
                .to_vec(),
            fewer: counted(Side::Fewer),
            more: counted(Side::More),
        }
    }

    /// What each kind of board costs at this level.
    fn kinds(&self) -> Vec<Kind> {
        self.boards
            .iter()
            .map(|board| (board.costs[self.question.level], board.supply))
            .collect()
    }

    /// Adds one leaf up.
    fn leaf(&self, leaf: &Leaf, way: &Way, steps: &mut Steps) -> Result<Summed<'_>, Stop> {
        let job = self.question.job;
        let in_group = |part: &usize| {
            self.question
                .sections
                .contains(&job.parts[*part].sections[0])
        };
        let mut sum: i128 = (0..job.parts.len())
            .filter(in_group)
            .map(|part| i128::from(leaf.parts[part]) * i128::from(job.parts[part].quantity))
            .sum();
        for (price, total) in leaf.earlier.iter().zip(&self.claim.earlier) {
            sum -= i128::from(*price) * i128::from(*total);
        }
        for (split, price) in &leaf.splits {
            let (_, at, side) = way.splits[*split];
            match side {
                Side::Fewer => sum -= i128::from(*price) * i128::from(at),
                Side::More => sum += i128::from(*price) * (i128::from(at) + 1),
            }
        }
        let mut summed = Summed {
            sum,
            scale: i128::from(leaf.scale),
            loose: false,
            boards: Vec::new(),
        };
        for (section, wood) in &self.woods {
            let boards: Vec<&Board> = self
                .boards
                .iter()
                .filter(|board| board.section == *section)
                .collect();
            let longest = boards
                .iter()
                .map(|board| board.shape.longest())
                .max()
                .unwrap_or(0);
            let worths = Rc::new(wood.worths(&leaf.parts, longest, steps)?);
            for board in boards {
                let worth = match self.used_up() {
                    false => worths.board(&board.shape, steps)?,
                    true => match worths.used_up(board, wood.keep, leaf.scale, steps)? {
                        Some(worth) => worth,
                        None => continue,
                    },
                };
                let charge = self.charge(board, leaf, way);
                let excess = (worth - charge).max(0);
                summed.boards.push(SummedBoard {
                    board,
                    wood,
                    worths: worths.clone(),
                    charge,
                    excess,
                });
                if excess == 0 {
                    continue;
                }
                summed.loose |= board.shape.is_loose();
                match board.supply {
                    Some(supply) => summed.sum -= i128::from(supply) * excess,
                    None if board.shape.is_loose() => return Err(Stop::Loose),
                    None => {
                        return Err(Stop::Lie(Lie::PricesOvercharge {
                            measure: self.question.measure,
                            board: board.source,
                            worth,
                            charge,
                        }));
                    }
                }
            }
        }
        Ok(summed)
    }

    fn used_up(&self) -> bool {
        self.question.level == self.question.costs.len()
    }

    /// What a board is charged in a leaf.
    fn charge(&self, board: &Board, leaf: &Leaf, way: &Way) -> i128 {
        let mut charge = match self.used_up() {
            true => 0,
            false => i128::from(leaf.scale) * i128::from(board.costs[self.question.level]),
        };
        for (price, cost) in leaf.earlier.iter().zip(&board.costs) {
            charge += i128::from(*price) * i128::from(*cost);
        }
        let index = index_of(self.question.job, board.source);
        for (split, price) in &leaf.splits {
            let (set, _, side) = way.splits[*split];
            if set.contains(&index) {
                charge += match side {
                    Side::Fewer => i128::from(*price),
                    Side::More => -i128::from(*price),
                };
            }
        }
        charge
    }
}

/// A leaf, added up.
struct Summed<'a> {
    sum: i128,
    scale: i128,
    loose: bool,
    boards: Vec<SummedBoard<'a>>,
}

/// What a leaf's prices say of a kind of board.
struct SummedBoard<'a> {
    board: &'a Board,
    wood: &'a Wood,
    worths: Rc<Worths>,
    charge: i128,
    excess: i128,
}

impl Summed<'_> {
    fn shown(&self) -> Shown {
        // Rounded up: a total is a whole number.
        let least =
            self.sum.div_euclid(self.scale) + i128::from(self.sum.rem_euclid(self.scale) > 0);
        Shown {
            least: Some(least),
            searched: false,
            loose: self.loose,
        }
    }
}

impl Shown {
    /// Takes in what another place shows.
    fn add(&mut self, other: Shown) {
        self.least = match (self.least, other.least) {
            (Some(one), Some(other)) => Some(one.min(other)),
            (one, other) => one.or(other),
        };
        self.searched |= other.searched;
        self.loose |= other.loose;
    }
}

impl Way<'_> {
    /// Goes on to the next place behind a leaf: the second side of the last split that lacks it.
    fn go_on(&mut self) {
        while let Some((_, _, side)) = self.splits.last_mut() {
            if *side == Side::Fewer {
                *side = Side::More;
                return;
            }
            self.splits.pop();
        }
    }

    /// The bounds of the splits of one side: at most so many, at least so many.
    fn sides(&self, wanted: Side) -> Vec<i64> {
        let sides = self.splits.iter().filter(|(_, _, side)| *side == wanted);
        sides
            .map(|(_, at, side)| i64::from(*at) + i64::from(*side == Side::More))
            .collect()
    }
}
