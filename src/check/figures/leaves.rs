//! Adding up the leaves of a claim's tree.

use super::Question;
use super::boards::{Board, index_of};
use crate::certificate::{Leaf, LevelProof, Tree};
use crate::check::lie::Lie;
use crate::check::worth::{Steps, TooLarge, Wood};

/// What is known of the way from the root to a leaf.
pub(super) struct Way<'a> {
    pub(super) splits: Vec<(&'a [usize], u32, Side)>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
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

    pub(super) fn tree(
        &self,
        tree: &'a Tree,
        way: &mut Way<'a>,
        steps: &mut Steps,
    ) -> Result<Shown, Stop> {
        match tree {
            Tree::Split {
                boards,
                at,
                fewer,
                more,
            } => {
                way.splits.push((boards, *at, Side::Fewer));
                let one = self.tree(fewer, way, steps)?;
                way.splits.pop();
                way.splits.push((boards, *at, Side::More));
                let other = self.tree(more, way, steps)?;
                way.splits.pop();
                Ok(Shown {
                    least: match (one.least, other.least) {
                        (Some(one), Some(other)) => Some(one.min(other)),
                        (one, other) => one.or(other),
                    },
                    searched: one.searched || other.searched,
                    loose: one.loose || other.loose,
                })
            }
            Tree::Leaf(leaf) => self.leaf(leaf, way, steps),
            Tree::Searched(leaf) => Ok(Shown {
                searched: true,
                ..self.leaf(leaf, way, steps)?
            }),
        }
    }

    /// What one leaf shows.
    fn leaf(&self, leaf: &Leaf, way: &Way, steps: &mut Steps) -> Result<Shown, Stop> {
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
        for (price, (_, at, side)) in leaf.splits.iter().zip(&way.splits) {
            match side {
                Side::Fewer => sum -= i128::from(*price) * i128::from(*at),
                Side::More => sum += i128::from(*price) * (i128::from(*at) + 1),
            }
        }
        let mut loose = false;
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
            let worths = wood.worths(&leaf.parts, longest, steps)?;
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
                if excess == 0 {
                    continue;
                }
                loose |= board.shape.is_loose();
                match board.supply {
                    Some(supply) => sum -= i128::from(supply) * excess,
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
        // Rounded up: a total is a whole number.
        let scale = i128::from(leaf.scale);
        let least = sum.div_euclid(scale) + i128::from(sum.rem_euclid(scale) > 0);
        Ok(Shown {
            least: Some(least),
            searched: false,
            loose,
        })
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
        for (price, (set, _, side)) in leaf.splits.iter().zip(&way.splits) {
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
