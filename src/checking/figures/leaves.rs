//! Sums over the leaves of a claim's tree.

use super::boards::{Board, index_of, worthiest};
use super::pairs::Pairs;
use super::question::Question;
use super::search::{self, Open, OpenBoard};
use super::side::{Counted, Side};
use super::used;
use crate::lie::Lie;
use crate::steps::{Steps, TooLarge};
use crate::sums::{self, Kind};
use crate::wood::{self, Stock, Wood};
use crate::worth::Worths;
use proof::certificate::{Branch, Leaf, LevelProof, Pairing, Twig};
use std::cell::OnceCell;
use std::rc::Rc;

/// The splits on the way from the root to a node, each with the side taken.
#[derive(Default)]
struct Way<'a> {
    splits: Vec<(&'a [usize], Counted, u32, Side)>,
}

/// The result of checking a tree.
pub(super) struct Shown {
    /// The least bound over its leaves; `None` where no plan is in any of them.
    pub(super) least: Option<i128>,
    /// Whether a leaf stands for an unrecorded search.
    pub(super) searched: bool,
    /// Whether the worth of some board was overstated.
    pub(super) loose: bool,
}

pub(super) enum Stop {
    TooLarge,
    /// A board of unlimited supply is worth more than its charge, but perhaps only because its worth is overstated.
    Loose,
    Lie(Lie),
}

/// Checks the leaves of one claim.
pub(super) struct Adder<'a> {
    pub(super) question: &'a Question<'a>,
    pub(super) claim: &'a LevelProof,
    boards: &'a [Board],
    /// For each board as certificates number it, its index in `boards`.
    places: Vec<Option<usize>>,
    woods: Vec<(Stock, Wood)>,
    /// For each wood, the indices of its boards and their longest run.
    of_wood: Vec<(Vec<usize>, i64)>,
    /// The greatest total that would beat the claim, computed when it is first needed.
    beaten: OnceCell<i64>,
}

impl<'a> Adder<'a> {
    /// Returns `None` where a mitred part is too short for the sums.
    pub(super) fn of(
        question: &'a Question,
        claim: &'a LevelProof,
        boards: &'a [Board],
    ) -> Option<Adder<'a>> {
        let job = question.job;
        let stocks = wood::stocks(job, &question.group.sections).into_iter();
        let woods = stocks
            .map(|stock| Wood::of(job, stock).map(|wood| (stock, wood)))
            .collect::<Option<Vec<_>>>()?;
        let mut places = vec![None; job.yard.len() + job.shed.len()];
        let mut of_wood = vec![(Vec::new(), 0); woods.len()];
        for (place, board) in boards.iter().enumerate() {
            places[index_of(job, board.source)] = Some(place);
            let wood = woods.binary_search_by_key(&board.stock, |(stock, _)| *stock);
            let (of_stock, longest) = &mut of_wood[wood.ok()?];
            of_stock.push(place);
            *longest = board.shape.longest().max(*longest);
        }
        Some(Adder {
            question,
            claim,
            boards,
            places,
            woods,
            of_wood,
            beaten: OnceCell::new(),
        })
    }

    /// Checks all leaves of a tree of the right shape.
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
                    way.splits.push((boards, Counted::Boards, *at, Side::Fewer));
                    continue;
                }
                Branch::Kept { boards, at } => {
                    way.splits
                        .push((boards, Counted::Offcuts, *at, Side::Fewer));
                    continue;
                }
                Branch::Leaf(leaf) => self.leaf(leaf, &way, steps)?.shown(),
                Branch::Searched(leaf) => Shown {
                    searched: true,
                    ..self.leaf(leaf, &way, steps)?.shown()
                },
                Branch::Closed { leaf, search } => self.closed(leaf, search, &way, steps)?,
                Branch::Paired { leaf, search } => self.paired(leaf, search, &way, steps)?,
            };
            all.add(shown);
            way.go_on();
        }
        Ok(all)
    }

    /// The greatest total that would beat the claim.
    fn beaten(&self, steps: &mut Steps) -> Result<i64, TooLarge> {
        if let Some(beaten) = self.beaten.get() {
            return Ok(*beaten);
        }
        let bound = self.claim.bound;
        let beaten = match (self.claim.lifted, self.question.used_up()) {
            (true, true) => used::last_below(self.step(), bound).ok_or(TooLarge)?,
            (true, false) => sums::last_sum_below(&self.kinds(), bound, steps)?,
            (false, _) => bound.checked_sub(1).ok_or(TooLarge)?,
        };
        Ok(*self.beaten.get_or_init(|| beaten))
    }

    /// The bound that a leaf shows by a search over the cuttings that its prices leave open: the claim, or the bound of its prices alone.
    fn closed(
        &self,
        leaf: &Leaf,
        search: &[Twig],
        way: &Way,
        steps: &mut Steps,
    ) -> Result<Shown, Stop> {
        let summed = self.leaf(leaf, way, steps)?;
        let shown = summed.shown();
        let beaten = self.beaten(steps)?;
        let scale = i128::from(leaf.scale);
        let used_up = self.question.used_up();
        let cost_level = (!used_up).then_some(self.question.level);
        let tick_price = self.question.tick_price(leaf.scale, &leaf.earlier);
        let open = Open {
            job: self.question.job,
            parts: &self.question.group.parts,
            woods: &self.woods,
            prices: &leaf.parts,
            tick_cost: tick_price.map_or(0, i128::from),
            gap: scale * i128::from(beaten) - summed.sum,
            beaten,
            cost_level,
            used_limit: self.question.used_before(),
            limits: self
                .question
                .values
                .iter()
                .copied()
                .chain(cost_level.map(|_| beaten))
                .collect(),
            fewer: way.sides(Side::Fewer),
            more: way.sides(Side::More),
            sides: way.splits.iter().map(|(_, _, _, side)| *side).collect(),
            boards: self.open_boards(summed, way, steps)?,
            offcuts: way.splits.iter().any(|split| split.1 == Counted::Offcuts),
        };
        if open.gap < 0 || search::shows(&open, search, steps)? {
            return Ok(Shown {
                least: Some(i128::from(self.claim.bound)),
                ..shown
            });
        }
        // Where the list depends only on exact worths, the search is false; otherwise it may only not be reproducible.
        Ok(Shown {
            searched: shown.loose,
            ..shown
        })
    }

    /// The bound that a leaf shows by a search over pairs: the claim, or the bound of its prices alone.
    fn paired(
        &self,
        leaf: &Leaf,
        search: &[Pairing],
        way: &Way,
        steps: &mut Steps,
    ) -> Result<Shown, Stop> {
        let shown = self.leaf(leaf, way, steps)?.shown();
        let stocks = self.boards.first().map(|board| board.stock);
        let wood = self.woods.iter().find(|(stock, _)| Some(*stock) == stocks);
        let beaten = self.beaten(steps)?;
        let pairs = wood.and_then(|(_, wood)| {
            let timber = (self.boards, wood);
            Pairs::of(self.question, timber, beaten)
        });
        let least = match pairs {
            Some(pairs) if pairs.hold(search, steps)? => Some(i128::from(self.claim.bound)),
            _ => shown.least,
        };
        Ok(Shown { least, ..shown })
    }

    /// The boards of a leaf, with the splits on the way that count them.
    fn open_boards<'s>(
        &'s self,
        summed: Summed<'s>,
        way: &Way,
        steps: &mut Steps,
    ) -> Result<Vec<OpenBoard<'s>>, TooLarge> {
        let mut fewer = vec![Vec::new(); self.boards.len()];
        let mut more = fewer.clone();
        let (mut fewer_before, mut more_before) = (0, 0);
        for (set, what, _, side) in &way.splits {
            steps.take(1 + set.len() as u64)?;
            let (counted, before) = match side {
                Side::Fewer => (&mut fewer, &mut fewer_before),
                Side::More => (&mut more, &mut more_before),
            };
            for place in set.iter().filter_map(|&index| self.places[index]) {
                counted[place].push((*before, *what));
            }
            *before += 1;
        }
        // The bounded levels: the earlier ones, and the leaf's own where boards cost anything at it.
        let levels = self.question.values.len() + usize::from(!self.question.used_up());
        let open = summed.boards.into_iter().map(|summed| OpenBoard {
            board: summed.board,
            index: index_of(self.question.job, summed.board.source),
            wood: summed.wood,
            worths: summed.worths,
            charge: summed.charge,
            excess: summed.excess,
            kept: summed.kept,
            costs: &summed.board.costs[..levels],
            fewer: std::mem::take(&mut fewer[summed.place]),
            more: std::mem::take(&mut more[summed.place]),
        });
        Ok(open.collect())
    }

    /// A common divisor of all lengths that can be used up.
    pub(super) fn step(&self) -> i64 {
        used::step(self.boards, &self.woods)
    }

    /// The cost of each kind of board at this level, and its supply.
    pub(super) fn kinds(&self) -> Vec<Kind> {
        self.boards
            .iter()
            .map(|board| (board.costs[self.question.level], board.supply))
            .collect()
    }

    /// Computes the sum of one leaf.
    fn leaf(&self, leaf: &Leaf, way: &Way, steps: &mut Steps) -> Result<Summed<'_>, Stop> {
        let job = self.question.job;
        let parts = &self.question.group.parts;
        steps.take((parts.len() + self.boards.len() + leaf.splits.len() + 1) as u64)?;
        let mut sum: i128 = parts
            .iter()
            .map(|&part| i128::from(leaf.parts[part]) * i128::from(job.parts[part].quantity))
            .sum();
        for (price, total) in leaf.earlier.iter().zip(&self.question.values) {
            sum -= i128::from(*price) * i128::from(*total);
        }
        for (split, price) in &leaf.splits {
            let (_, _, at, side) = way.splits[*split];
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
        let charges = self.charges(leaf, way, steps)?;
        let kept = self.kept_charges(leaf, way, steps)?;
        for ((_, wood), (places, longest)) in self.woods.iter().zip(&self.of_wood) {
            let worths = Rc::new(wood.worths(&leaf.parts, *longest, steps)?);
            for &place in places {
                let board = &self.boards[place];
                let Some(worth) = self.worth(board, (wood, &worths), (leaf, kept[place]), steps)?
                else {
                    continue;
                };
                let charge = charges[place];
                let excess = (worth - charge).max(0);
                summed.boards.push(SummedBoard {
                    place,
                    board,
                    wood,
                    worths: worths.clone(),
                    charge,
                    excess,
                    kept: kept[place],
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

    /// The most that a cutting of a board can be worth, whatever stands on its ends; `None` where nothing can be cut from it.
    fn worth(
        &self,
        board: &Board,
        (wood, worths): (&Wood, &Worths),
        (leaf, kept): (&Leaf, i128),
        steps: &mut Steps,
    ) -> Result<Option<i128>, TooLarge> {
        let posts = match board.stands {
            None => Vec::new(),
            Some(_) => worthiest(&wood.posts, |part| leaf.parts[part]),
        };
        steps.take(wood.posts.len() as u64)?;
        steps.take_each(posts.len(), 1 + posts.len() as u64)?;
        let tick_price = self.question.tick_price(leaf.scale, &leaf.earlier);
        let mut most = None;
        for way in board.ways(&posts) {
            let worth = match tick_price {
                None => Some(worths.board(&way.shape, steps)?),
                Some(price) => worths.used_up(&way, wood.keep, (price, kept), steps)?,
            };
            let posts = way.posts.iter().map(|&post| i128::from(leaf.parts[post]));
            most = most.max(worth.map(|worth| worth + posts.sum::<i128>()));
        }
        Ok(most)
    }

    /// The charge of each board in a leaf. Every member of a priced set is one step.
    fn charges(&self, leaf: &Leaf, way: &Way, steps: &mut Steps) -> Result<Vec<i128>, TooLarge> {
        let own = |board: &Board| match self.question.used_up() {
            true => 0,
            false => i128::from(leaf.scale) * i128::from(board.costs[self.question.level]),
        };
        let before = |board: &Board| {
            let pairs = leaf.earlier.iter().zip(&board.costs);
            pairs
                .map(|(price, cost)| i128::from(*price) * i128::from(*cost))
                .sum::<i128>()
        };
        let mut charges: Vec<i128> = self
            .boards
            .iter()
            .map(|board| own(board) + before(board))
            .collect();
        self.add_prices(Counted::Boards, (leaf, way), &mut charges, steps)?;
        Ok(charges)
    }

    /// What an offcut of each board that is kept is charged in a leaf.
    fn kept_charges(
        &self,
        leaf: &Leaf,
        way: &Way,
        steps: &mut Steps,
    ) -> Result<Vec<i128>, TooLarge> {
        let mut charges = vec![0; self.boards.len()];
        self.add_prices(Counted::Offcuts, (leaf, way), &mut charges, steps)?;
        Ok(charges)
    }

    /// Adds the prices of the splits that count so to what is charged for each board.
    fn add_prices(
        &self,
        counted: Counted,
        (leaf, way): (&Leaf, &Way),
        charges: &mut [i128],
        steps: &mut Steps,
    ) -> Result<(), TooLarge> {
        for (split, price) in &leaf.splits {
            let (set, what, _, side) = way.splits[*split];
            steps.take(1)?;
            if what != counted {
                continue;
            }
            steps.take(set.len() as u64)?;
            let charge = match side {
                Side::Fewer => i128::from(*price),
                Side::More => -i128::from(*price),
            };
            for place in set.iter().filter_map(|&index| self.places[index]) {
                charges[place] += charge;
            }
        }
        Ok(())
    }
}

/// The sums of a leaf.
struct Summed<'a> {
    sum: i128,
    scale: i128,
    loose: bool,
    boards: Vec<SummedBoard<'a>>,
}

/// The sums of a leaf for a kind of board.
struct SummedBoard<'a> {
    place: usize,
    board: &'a Board,
    wood: &'a Wood,
    worths: Rc<Worths>,
    charge: i128,
    excess: i128,
    /// What an offcut that is kept is charged.
    kept: i128,
}

impl Summed<'_> {
    fn shown(&self) -> Shown {
        // Rounded up, since a total is a whole number.
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
    /// Combines this with the result of another node.
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
    /// Goes on to the next node after a leaf: the second side of the last split of which only the first was visited.
    fn go_on(&mut self) {
        while let Some((_, _, _, side)) = self.splits.last_mut() {
            if *side == Side::Fewer {
                *side = Side::More;
                return;
            }
            self.splits.pop();
        }
    }

    /// The bounds of the splits on one side: at most this many boards or offcuts, or at least this many.
    fn sides(&self, wanted: Side) -> Vec<i64> {
        let sides = self.splits.iter();
        let sides = sides.filter(|(_, _, _, side)| *side == wanted);
        sides
            .map(|(_, _, at, side)| i64::from(*at) + i64::from(*side == Side::More))
            .collect()
    }
}
