//! The dual bound: what a linear program's prices prove, in integers.
//!
//! **Idea.** Prices of a linear program are rounded to integers. Pricing then tells exactly what every board can be worth at these prices, and from
//! that follows a bound that holds whatever the floats did (the inequality is at the head of `certificate.rs`). Where a board of unlimited supply is
//! worth more than its charge, the price of a decision that holds it gives way; what is left is scaled down (Farley, A note on bounding a class of
//! linear programming problems, including cutting stock problems, Operations Research 38, 1990).
//!
//! **Invariant.** No cutting of a board is worth more than the worth noted for the board, and no bound is told unless every board of unlimited supply is
//! covered by its charge. **Why it ends:** one pricing, and passes over parts, boards and decisions.

use crate::arithmetic::ceiling;
use crate::branch_path::{BranchSide, Counted, Decision};
use crate::clock::{Clock, Stopped};
use crate::limits::{
    COLUMNS_PER_ROUND, DENSITY_BITS, LARGEST_PRICE, PRICE_NOISE, PRICE_UNITS, STEEP_PRICE,
    UNAFFORDABLE,
};
use crate::objective::{Objective, tick_cost};
use crate::pattern::Pattern;
use crate::pricing::{Pricer, PricingProblem};
use crate::problem::{Problem, Ticks};
use crate::restricted_master::RestrictedMaster;
use proof::certificate::{Leaf, MOST_FIGURE};

/// What integer prices say of every pattern: a plan that uses one costs at least `total` and, on top, the reduced cost of the pattern, which is its
/// board's charge less its worth; all in price units. Of the worth, a pattern that keeps an offcut has that charge taken off. It is what reduced-cost fixing needs.
#[derive(Clone, Debug, Default)]
pub(crate) struct ReducedCostBound {
    /// The bound before division by the scale.
    pub(crate) total: i128,
    /// For each board its charge with the price of its supply: no pattern is worth more.
    pub(crate) charges: Vec<i64>,
    /// For each board what an offcut that is kept is charged; negative where decisions ask for more of them. Empty where none is charged.
    pub(crate) kept: Vec<i64>,
}

impl ReducedCostBound {
    /// What an offcut of a board is charged that is kept.
    pub(crate) fn kept(&self, board: usize) -> i64 {
        self.kept.get(board).copied().unwrap_or(0)
    }
}

/// Integer prices and what they prove.
pub(crate) struct DualBound {
    pub(crate) bound: i64,
    /// The bound before rounding, to compare bounds by.
    pub(crate) strength: f64,
    /// The prices.
    pub(crate) leaf: Leaf,
    pub(crate) fixing: ReducedCostBound,
    /// Patterns worth more than their board is charged, with their worth: the columns that may enter.
    pub(crate) patterns: Vec<(Pattern, i64)>,
}

impl DualBound {
    /// That a total is at least zero.
    pub(crate) fn zero(parts: usize, earlier: usize) -> Self {
        let leaf = Leaf {
            scale: 1,
            parts: vec![0; parts],
            earlier: vec![0; earlier],
            splits: Vec::new(),
        };
        DualBound {
            bound: 0,
            strength: 0.0,
            leaf,
            fixing: ReducedCostBound::default(),
            patterns: Vec::new(),
        }
    }

    /// What the prices of a master's rows prove at a node.
    pub(crate) fn of(
        master: &RestrictedMaster,
        pricer: &mut Pricer,
        prices: &[f64],
        path: &[Decision],
        clock: &mut Clock,
    ) -> Result<DualBound, Stopped> {
        let mut duals = IntegerDuals::new(master, prices, path);
        let charges = duals.charges_with_supply(prices);
        let tick_cost = duals.tick_cost;
        let pricing = PricingProblem {
            prices: &duals.parts,
            most: &master.demand,
            charges: &charges,
            kept: &duals.kept_charges(),
            tick_cost,
        };
        let priced = pricer.price(&pricing, clock)?;
        duals.worth = priced.worth;
        if tick_cost == 0 {
            for value in &mut duals.worth {
                *value = (*value).max(0);
            }
        }
        let patterns = entering(priced.patterns, &charges);
        duals.let_decisions_give_way();
        Ok(duals.conclude(patterns))
    }
}

/// A master's prices as integers, while they are made to prove something.
struct IntegerDuals<'d, 'p> {
    master: &'d RestrictedMaster<'p>,
    path: &'d [Decision],
    /// Price units of one unit of the objective.
    scale: i64,
    parts: Vec<i64>,
    earlier: Vec<i64>,
    /// What each tick that is used up is charged.
    tick_cost: i64,
    /// The price of each decision on the way.
    splits: Vec<i64>,
    /// For each board the most that a cutting can be worth.
    worth: Vec<i64>,
}

impl<'d, 'p> IntegerDuals<'d, 'p> {
    fn new(master: &'d RestrictedMaster<'p>, prices: &[f64], path: &'d [Decision]) -> Self {
        let parts = master.demand.len();
        // Prices far above any board's cost, where parts are hard to place, are told in a coarser unit.
        let steepest = prices
            .iter()
            .fold(1.0, |most: f64, price| most.max(price.abs() / STEEP_PRICE));
        let scale = (((PRICE_UNITS / master.largest) as f64 / steepest) as i64).max(1);
        let unit = scale.saturating_mul(master.largest) as f64;
        let most_price = match master.objective {
            Objective::Shortfall => scale,
            _ => LARGEST_PRICE,
        };
        let price_of = |row: usize| prices.get(row).copied().unwrap_or(0.0);
        let before = |level: usize| {
            let largest = master.largest_earlier[level] as f64;
            -price_of(master.earlier_row(level)) * unit / largest
        };
        // What is used up of a board is charged no more than any board is worth.
        let most = |level: usize| match master.earlier[level].0 {
            Objective::UsedLength => {
                (LARGEST_PRICE << DENSITY_BITS) / master.largest_earlier[level]
            }
            _ => LARGEST_PRICE,
        };
        // Each unit is charged for every tick of that level, so a price of zero that the program has as a hair more must not become one.
        let earlier: Vec<i64> = (0..master.earlier.len())
            .map(|level| ((before(level) - PRICE_NOISE).ceil() as i64).clamp(0, most(level)))
            .collect();
        let tick_cost = tick_cost(master.objective, scale, &master.earlier, &earlier);
        // Where the length used up counts, a cutting of parts worth zero may still be the best there is: it must not be overlooked.
        let least_price = i64::from(tick_cost > 0);
        // By how much the price of a tick was rounded up, which is taken for every tick of a part.
        let used = |level: &usize| master.earlier[*level].0 == Objective::UsedLength;
        let used = (0..earlier.len()).find(used);
        let rounded = used.map_or(0.0, |level| earlier[level] as f64 - before(level));
        let rounded = rounded.clamp(0.0, 1.0);
        let price_of_part = |(part, price): (usize, &f64)| {
            let price = price * unit + rounded * length(master.problem, part) as f64;
            (price.floor() as i64).clamp(least_price, most_price)
        };
        IntegerDuals {
            master,
            path,
            scale,
            parts: prices[..parts]
                .iter()
                .enumerate()
                .map(price_of_part)
                .collect(),
            earlier,
            tick_cost,
            splits: (0..master.sets()).fold(vec![0; path.len()], |mut splits, set| {
                let price = (price_of(master.set_row(set)) * unit) as i64;
                // Where no tick is charged, what is charged for offcuts is not looked at.
                let told = tick_cost > 0 || master.counted(set) == Counted::Boards;
                if let Some(at) = tightest(path, set, price < 0).filter(|_| told) {
                    splits[at] = price.saturating_abs().min(LARGEST_PRICE);
                }
                splits
            }),
            worth: Vec::new(),
        }
    }

    /// What using one board is charged at these prices.
    fn charge(&self, board: usize) -> i64 {
        let mut charge = self.own_charge(board);
        for (price, decision) in self.splits.iter().zip(self.path) {
            if self.master.counts(decision.set, board) {
                match decision.side {
                    BranchSide::AtMost(_) => charge += price,
                    BranchSide::AtLeast(_) => charge -= price,
                }
            }
        }
        charge
    }

    /// The same by the levels alone.
    fn own_charge(&self, board: usize) -> i64 {
        let problem = self.master.problem;
        let levels = self.master.earlier.iter().zip(&self.earlier);
        let before = levels.map(|((level, _), price)| price * level.board_cost(problem, board));
        self.scale * self.master.objective.board_cost(problem, board) + before.sum::<i64>()
    }

    /// What using each board is charged at these prices.
    fn charges(&self) -> Vec<i64> {
        let boards = 0..self.master.problem.boards.len();
        let mut charges: Vec<i64> = boards.map(|board| self.own_charge(board)).collect();
        self.add_prices(Counted::Boards, &mut charges);
        charges
    }

    /// What an offcut of each board that is kept is charged at these prices.
    fn kept_charges(&self) -> Vec<i64> {
        let mut charges = vec![0; self.master.problem.boards.len()];
        self.add_prices(Counted::Kept, &mut charges);
        charges
    }

    /// Adds the prices of the decisions that count so to what is charged for each board.
    fn add_prices(&self, counted: Counted, charges: &mut [i64]) {
        for (price, decision) in self.splits.iter().zip(self.path) {
            if self.master.counted(decision.set) != counted {
                continue;
            }
            for &board in self.master.boards_of(decision.set) {
                match decision.side {
                    BranchSide::AtMost(_) => charges[board] += price,
                    BranchSide::AtLeast(_) => charges[board] -= price,
                }
            }
        }
    }

    /// The same with the price of a limited board's supply.
    fn charges_with_supply(&self, prices: &[f64]) -> Vec<i64> {
        let master = self.master;
        let unit = self.scale.saturating_mul(master.largest) as f64;
        let mut charges = self.charges();
        for (board, charge) in charges.iter_mut().enumerate() {
            match (master.supply[board], master.supply_row[board]) {
                (Some(0), _) => *charge = UNAFFORDABLE,
                (_, Some(row)) => {
                    *charge += ((-prices[row] * unit).ceil() as i64).clamp(0, LARGEST_PRICE);
                }
                _ => {}
            }
        }
        charges
    }

    /// A board of unlimited supply must not be worth more than its charge. Where a decision on the way holds it, the decision's price gives way.
    fn let_decisions_give_way(&mut self) {
        for board in 0..self.worth.len() {
            if self.master.supply[board].is_some() {
                continue;
            }
            let excess = self.worth[board] - self.charge(board);
            if excess <= 0 {
                continue;
            }
            let mut missing = excess;
            for (at, decision) in self.path.iter().enumerate().rev() {
                if missing == 0 || !self.master.counts(decision.set, board) {
                    continue;
                }
                if let BranchSide::AtLeast(_) = decision.side {
                    let give = self.splits[at].min(missing);
                    self.splits[at] -= give;
                    missing -= give;
                }
            }
            let at_most = |at: &usize| {
                let decision = self.path[*at];
                matches!(decision.side, BranchSide::AtMost(_))
                    && self.master.counts(decision.set, board)
            };
            if missing > 0
                && let Some(at) = (0..self.path.len()).rev().find(at_most)
            {
                self.splits[at] = self.splits[at].saturating_add(missing).min(MOST_FIGURE);
            }
        }
    }

    /// The boards of unlimited supply.
    fn unlimited(&self) -> impl Iterator<Item = usize> + use<'d, 'p> {
        let supply = &self.master.supply;
        (0..supply.len()).filter(|&board| supply[board].is_none())
    }

    /// Farley's factor for what is still worth too much, as a fraction: the least of charge by worth.
    fn farley(&self, charges: &[i64]) -> (i128, i128) {
        let mut factor = (1i128, 1i128);
        for board in self.unlimited() {
            if self.worth[board] > charges[board] {
                let charge = i128::from(charges[board].max(0));
                let worth = i128::from(self.worth[board]);
                if charge * factor.1 < factor.0 * worth {
                    factor = (charge, worth);
                }
            }
        }
        factor
    }

    /// Scales the prices of parts down by a factor.
    fn scale_down(&mut self, (numerator, denominator): (i128, i128)) {
        let scaled = |value: i64| (i128::from(value) * numerator / denominator) as i64;
        for price in &mut self.parts {
            *price = scaled(*price);
        }
        for value in &mut self.worth {
            *value = scaled(*value) + 1;
        }
    }

    /// Where the length used up counts, what boards are worth too much is taken off each part; tells whether that proves anything.
    ///
    /// Every cutting that counts here holds a part, so what is taken off each part is taken off every cutting. A part that is worth
    /// less than that is then worth zero; a cutting of such parts alone is worth zero too, less what it uses up, which
    /// is enough where no charge is below zero. Where keeping an offcut is worth something by itself, as decisions ask for more of
    /// them, such a cutting may be worth that, and the charge must cover it.
    fn take_off_parts(&mut self, charges: &[i64]) -> bool {
        let excess = self
            .unlimited()
            .map(|board| self.worth[board] - charges[board])
            .max()
            .unwrap_or(0)
            .max(0);
        let kept = self.kept_charges();
        let covered = |board: usize| charges[board] >= (-kept[board]).max(0);
        let proven = self.unlimited().all(covered)
            || (0..self.parts.len())
                .all(|part| self.master.demand[part] == 0 || self.parts[part] >= excess);
        if excess > 0 {
            for price in &mut self.parts {
                *price = (*price - excess).max(0);
            }
            for board in self.unlimited() {
                self.worth[board] = self.worth[board].min(charges[board]);
            }
        }
        proven
    }

    /// The sum that bounds every plan's total, in price units, without what limited boards are worth too much.
    fn total(&self) -> i128 {
        let mut total: i128 = 0;
        for (price, &count) in self.parts.iter().zip(&self.master.demand) {
            total += i128::from(*price) * i128::from(count);
        }
        for (price, &(_, value)) in self.earlier.iter().zip(&self.master.earlier) {
            total -= i128::from(*price) * i128::from(value);
        }
        for (price, decision) in self.splits.iter().zip(self.path) {
            match decision.side {
                BranchSide::AtMost(at) => total -= i128::from(*price) * i128::from(at),
                BranchSide::AtLeast(at) => total += i128::from(*price) * i128::from(at),
            }
        }
        total
    }

    /// Makes the prices prove what they can.
    fn conclude(mut self, patterns: Vec<(Pattern, i64)>) -> DualBound {
        let charges = self.charges();
        let mut proven = true;
        // Scaling notes worths rounded up by a unit. No board is worth that unit, for the prices were rounded down.
        let mut rounding = 0;
        if self.tick_cost > 0 {
            proven = self.take_off_parts(&charges);
        } else {
            let factor = self.farley(&charges);
            if factor.0 != factor.1 {
                self.scale_down(factor);
                rounding = 1;
            }
        }
        let mut total = self.total();
        for (board, &charge) in charges.iter().enumerate() {
            let excess = i128::from(self.worth[board]) - i128::from(charge);
            match self.master.supply[board] {
                Some(limit) if excess > 0 => total -= excess * i128::from(limit),
                None if excess > rounding => proven = false,
                _ => {}
            }
        }
        let bound = if proven {
            i64::try_from(ceiling(total, i128::from(self.scale)))
                .unwrap_or(0)
                .max(0)
        } else {
            0
        };
        let strength = if proven {
            total as f64 / self.scale as f64
        } else {
            0.0
        };
        let charges = charges.iter().enumerate().map(|(board, &charge)| {
            let limited = self.master.supply[board].is_some();
            charge.max(if limited { self.worth[board] } else { i64::MIN })
        });
        let charges = charges.collect();
        DualBound {
            bound,
            strength,
            fixing: ReducedCostBound {
                total,
                charges,
                kept: self.kept_charges(),
            },
            leaf: Leaf {
                scale: self.scale,
                parts: self.parts,
                earlier: self.earlier,
                splits: above_zero(&self.splits),
            },
            patterns,
        }
    }
}

/// The length of a part, which is the same on every section.
fn length(problem: &Problem, part: usize) -> Ticks {
    let mut fits = problem.sections.iter().map(|section| section.fits[part]);
    fits.find_map(|fit| fit).map_or(0, |fit| fit.length)
}

/// The decision on a set that binds: the least at most where `at_most`, else the greatest at least.
fn tightest(path: &[Decision], set: usize, at_most: bool) -> Option<usize> {
    let on_set = path.iter().enumerate().filter(|(_, decision)| {
        decision.set == set && matches!(decision.side, BranchSide::AtMost(_)) == at_most
    });
    let tightest = on_set.min_by_key(|(_, decision)| match decision.side {
        BranchSide::AtMost(at) => i64::from(at),
        BranchSide::AtLeast(at) => -i64::from(at),
    });
    tightest.map(|(at, _)| at)
}

/// The patterns that are to enter the program: all, or of too many those that are worth most over their charge.
fn entering(mut patterns: Vec<(Pattern, i64)>, charges: &[i64]) -> Vec<(Pattern, i64)> {
    if patterns.len() > COLUMNS_PER_ROUND {
        order::sort_by_key(&mut patterns, |(pattern, worth)| {
            charges[pattern.board].saturating_sub(*worth)
        });
        patterns.truncate(COLUMNS_PER_ROUND);
    }
    patterns
}

/// The prices of decisions that are above zero, with their places on the way.
fn above_zero(splits: &[i64]) -> Vec<(usize, i64)> {
    let prices = splits.iter().copied().enumerate();
    prices.filter(|(_, price)| *price != 0).collect()
}
