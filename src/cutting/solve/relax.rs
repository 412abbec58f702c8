//! The relaxation of a node: column generation, with a bound that integers prove.
//!
//! The linear program chooses how often each pattern is cut so that every part is made, limited boards last, earlier levels
//! keep to their values and the splits on the way to the node hold (Gilmore and Gomory 1961). Its prices are rounded to
//! integers; the [`Pricer`] then tells exactly what every board can be worth at these prices, and from that follows a bound
//! that holds whatever the floats did (Farley 1990; the inequality is at the head of `certificate.rs`). Prices are
//! smoothed between the best so far and the newest (Wentges 1997), which saves rounds. It ends when no pattern is worth more than its board, when the bound
//! already rounds up to what the linear program says, or when it reaches the cutoff.

use super::clock::{Clock, Stopped};
use super::keep::digest;
use super::lay::Lay;
use super::pattern::Pattern;
use super::price::{Goals, LARGEST_PRICE, Pricer};
use super::simplex::{Simplex, Verdict};
use super::stage::{Lift, Stage};
use crate::problem::Problem;
use proof::certificate::{Leaf, MOST_FIGURE};
use std::collections::HashMap;

/// A cost of one board, in price units; the finer the less the rounding of prices costs. See [`LARGEST_PRICE`].
const UNIT: i64 = 1 << 36;
/// What leaving one part out costs in the linear program at first, in the largest board cost. It only keeps the program
/// solvable; where parts are left out in the end it is raised.
const LEFT_OUT: f64 = 20.0;
/// How often that cost is raised, a hundredfold each time.
const RAISES: usize = 3;
/// Weight of the best prices so far in the prices asked for.
const SMOOTHING: f64 = 0.6;
/// Patterns worth less than this over their board, in the largest board cost, do not enter.
const ENTERS: f64 = 1e-9;
/// How many prices are averaged for prices from within.
const TILTS: usize = 10;
/// By how much the number of each part is set aside for them; too little to leave the prices of the true numbers.
const TILT: f64 = 1e-4;
/// Patterns that join the program in one round at most, so that thousands of boards do not bring thousands of columns each time.
const ENTRANTS: usize = 600;
/// Entries of the program's columns at most; what would be more is not generated. With its patterns a program of so many takes some 40 MB.
const ENTRIES: usize = 750_000;
/// A program of more rows than this is not made: the inverse of its basis alone would be above 50 MB.
const MOST_ROWS: usize = 2_600;
/// A program of more rows is the only one: none is made beside it for dives and the like, which would come to nothing in any practical time.
const ROWS_BESIDE: usize = 1_000;
/// A section on which parts can lie in more states than this is not priced.
const MOST_STATES: usize = 1 << 18;
/// A value this near to a whole number is whole.
pub(super) const WHOLE: f64 = 1e-5;

/// One side of a split on the number of boards used.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Side {
    /// At most so many.
    Fewer(u32),
    /// At least so many.
    More(u32),
}

/// A split on the way to a node: a set of boards by its index, and the side taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Cut {
    pub(super) set: usize,
    pub(super) side: Side,
}

/// What a node is asked.
pub(super) struct Ask<'a> {
    /// The splits, root first.
    pub(super) path: &'a [Cut],
    /// A bound of this much settles the node.
    pub(super) cutoff: i64,
    /// Raises bounds to totals that can be.
    pub(super) lift: &'a Lift,
    /// Stop after so many rounds even if the prices are not settled.
    pub(super) rounds: usize,
}

/// The relaxation of a node.
#[derive(Clone, Debug)]
pub(super) struct Relaxed {
    /// The bound, lifted.
    pub(super) bound: i64,
    /// The prices that show it.
    pub(super) leaf: Leaf,
    /// How often each pattern is cut: (index into the pool, how often), where not nothing.
    pub(super) solution: Vec<(usize, f64)>,
    /// The sum of parts left out; more than nothing when the node could not be met.
    pub(super) left_out: f64,
    /// What the prices say of every pattern there is.
    pub(super) sums: Sums,
}

/// What integer prices say of every pattern: a plan that uses one costs at least `total` and, on top, what the pattern is worth less
/// than its board is charged, all in price units.
#[derive(Clone, Debug, Default)]
pub(super) struct Sums {
    /// The bound before division by the scale.
    pub(super) total: i128,
    /// For each board its charge with the price of its supply: no pattern is worth more.
    pub(super) charges: Vec<i64>,
}

/// Column generation over one problem, kept from node to node.
pub(super) struct Relaxation<'p> {
    pub(super) problem: &'p Problem,
    /// What the program's costs are at the moment: the aim, or for a while whether the rows can be met.
    stage: Stage,
    aim: Stage,
    /// What is to be cut; at most the problem's demand.
    pub(super) demand: Vec<u32>,
    supply: Vec<Option<u32>>,
    earlier: Vec<i64>,
    pricer: Pricer<'p>,
    simplex: Simplex,
    supply_row: Vec<Option<usize>>,
    sets: Vec<(Vec<usize>, usize)>,
    /// For each column its pattern; the first columns leave a part out and have none.
    pub(super) pool: Vec<Pattern>,
    /// The places in the pool by digests of the patterns.
    known: HashMap<u64, usize>,
    slack_columns: Vec<usize>,
    first_column: Vec<Option<usize>>,
    column_of: Vec<usize>,
    /// What each pattern costs, in the largest board cost.
    costs: Vec<f64>,
    left_out_cost: f64,
    largest: i64,
    /// The largest board cost of the aim.
    largest_aim: i64,
    largest_earlier: Vec<i64>,
    /// Patterns generated.
    pub(super) generated: u64,
    /// The best bound and its prices at the node being solved, for when time runs out in the middle of it.
    pub(super) partial: Option<(i64, Leaf)>,
}

/// How a run of column generation ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Ending {
    /// The prices say all they can, or all they were asked.
    Settled,
    /// Rounds ran out, or the figures went bad.
    Unsettled,
}

/// Integer prices and what they prove.
struct Proof {
    bound: i64,
    /// The bound before rounding, to compare proofs by.
    strength: f64,
    leaf: Leaf,
    sums: Sums,
    patterns: Vec<(Pattern, i64)>,
}

impl Proof {
    /// That a total is at least nothing.
    fn nothing(parts: usize, earlier: usize) -> Self {
        let leaf = Leaf {
            scale: 1,
            parts: vec![0; parts],
            earlier: vec![0; earlier],
            splits: Vec::new(),
        };
        Proof {
            bound: 0,
            strength: 0.0,
            leaf,
            sums: Sums::default(),
            patterns: Vec::new(),
        }
    }
}

/// How large the program of a problem is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Size {
    /// Small enough that another can be made beside it.
    Usual,
    /// One such program is the most that memory is for.
    Large,
    /// Beyond what is tried: there are first plans and no bounds.
    TooLarge,
}

impl Size {
    pub(super) fn of(problem: &Problem) -> Size {
        let many = |section| Lay::new(problem, section).states > MOST_STATES;
        match rows(problem) {
            rows if rows > MOST_ROWS => Size::TooLarge,
            _ if problem.sections.iter().any(many) => Size::TooLarge,
            rows if rows > ROWS_BESIDE => Size::Large,
            _ => Size::Usual,
        }
    }
}

/// The rows of a problem's program: parts, limited boards and levels.
fn rows(problem: &Problem) -> usize {
    let limited = problem.boards.iter().filter(|board| board.supply.is_some());
    let levels = problem.boards.first().map_or(0, |board| board.cost.len());
    problem.demand.len() + limited.count() + levels
}

impl<'p> Relaxation<'p> {
    /// A relaxation without patterns: `demand` and `supply` may be less than the problem's, for what is left to cut.
    pub(super) fn new(
        problem: &'p Problem,
        stage: Stage,
        demand: Vec<u32>,
        supply: Vec<Option<u32>>,
        earlier: Vec<i64>,
    ) -> Self {
        let mut bounds: Vec<(f64, f64)> = demand
            .iter()
            .map(|&count| (f64::from(count), f64::INFINITY))
            .collect();
        let total: u64 = demand.iter().map(|&count| u64::from(count)).sum();
        let mut supply_row = vec![None; problem.boards.len()];
        for (board, limit) in supply.iter().enumerate() {
            if let Some(limit) = limit
                && (u64::from(*limit) < total || stage == Stage::Stretch)
            {
                supply_row[board] = Some(bounds.len());
                bounds.push(match stage {
                    Stage::Stretch => (f64::NEG_INFINITY, 0.0),
                    _ => (0.0, f64::from(*limit)),
                });
            }
        }
        let largest_earlier: Vec<i64> = (0..earlier.len())
            .map(|level| Stage::Cost(level).largest_cost(problem))
            .collect();
        for (&value, &largest) in earlier.iter().zip(&largest_earlier) {
            bounds.push((0.0, value as f64 / largest as f64));
        }
        let mut relaxation = Relaxation {
            problem,
            stage,
            aim: stage,
            pricer: Pricer::new(problem),
            simplex: Simplex::new(&bounds),
            supply_row,
            sets: Vec::new(),
            pool: Vec::new(),
            known: HashMap::new(),
            slack_columns: Vec::new(),
            first_column: Vec::new(),
            column_of: Vec::new(),
            costs: Vec::new(),
            left_out_cost: if stage == Stage::Missing {
                1.0
            } else {
                LEFT_OUT
            },
            largest: stage.largest_cost(problem),
            largest_aim: stage.largest_cost(problem),
            largest_earlier,
            generated: 0,
            partial: None,
            demand,
            supply,
            earlier,
        };
        if stage == Stage::Stretch {
            let limits = relaxation.supply_row.iter().zip(&relaxation.supply);
            let entries: Vec<(u32, f64)> = limits
                .filter_map(|(row, limit)| Some(((*row)? as u32, -f64::from((*limit)?))))
                .collect();
            relaxation.simplex.add_column(1.0, &entries);
            relaxation.first_column.push(None);
        }
        for part in 0..relaxation.demand.len() {
            let column = relaxation
                .simplex
                .add_column(relaxation.left_out_cost, &[(part as u32, 1.0)]);
            relaxation.first_column.push(None);
            relaxation.slack_columns.push(column);
        }
        relaxation
    }

    /// Lets the program use a pattern; returns its place in the pool.
    pub(super) fn add(&mut self, pattern: Pattern) -> usize {
        let digest = digest(&pattern);
        let known = self.known.get(&digest).copied();
        if let Some(at) = known.filter(|&at| self.pool[at] == pattern) {
            return at;
        }
        let counts = pattern.counts();
        let mut entries: Vec<(u32, f64)> = counts
            .iter()
            .filter(|&&(part, _)| self.demand[part] > 0)
            .map(|&(part, count)| (part as u32, f64::from(count)))
            .collect();
        if let Some(row) = self.supply_row[pattern.board] {
            entries.push((row as u32, 1.0));
        }
        let first_earlier = self.simplex.rows() - self.sets.len() - self.earlier.len();
        for (level, &largest) in self.largest_earlier.iter().enumerate() {
            let cost = self.problem.boards[pattern.board].cost[level];
            if cost != 0 {
                entries.push(((first_earlier + level) as u32, cost as f64 / largest as f64));
            }
        }
        for (boards, row) in &self.sets {
            if boards.binary_search(&pattern.board).is_ok() {
                entries.push((*row as u32, 1.0));
            }
        }
        let cost = self.aim.cost(self.problem, &pattern) as f64 / self.largest_aim as f64;
        self.costs.push(cost);
        let column = self.simplex.add_column(
            if self.stage == Stage::Missing {
                0.0
            } else {
                cost
            },
            &entries,
        );
        let at = self.pool.len();
        self.first_column.push(Some(at));
        self.column_of.push(column);
        self.known.insert(digest, at);
        self.pool.push(pattern);
        at
    }

    /// A set of boards to split on; returns its index.
    pub(super) fn set(&mut self, boards: &[usize]) -> usize {
        if let Some(at) = self.sets.iter().position(|(known, _)| known == boards) {
            return at;
        }
        let row = self.simplex.rows();
        let most = 4.0
            * self
                .demand
                .iter()
                .map(|&count| f64::from(count))
                .sum::<f64>()
            + 4.0;
        let (first_column, pool) = (&self.first_column, &self.pool);
        self.simplex.add_row(0.0, most, |column| {
            let held = first_column[column]
                .is_some_and(|at| boards.binary_search(&pool[at].board).is_ok());
            if held { 1.0 } else { 0.0 }
        });
        // More boards than can be had are made up by a column of their own, so that the program always has a solution.
        let column = self
            .simplex
            .add_column(self.left_out_cost, &[(row as u32, 1.0)]);
        self.first_column.push(None);
        self.slack_columns.push(column);
        self.sets.push((boards.to_vec(), row));
        self.sets.len() - 1
    }

    /// Whether there is no room for another set to split on.
    pub(super) fn is_full(&self) -> bool {
        let least = rows(self.problem) + ROWS_BESIDE / 10;
        self.simplex.rows() >= least.max(2 * ROWS_BESIDE)
    }

    /// How parts add up on each section.
    pub(super) fn lays(&self) -> &[Lay] {
        self.pricer.lays()
    }

    /// The boards of a set.
    pub(super) fn boards_of(&self, set: usize) -> &[usize] {
        &self.sets[set].0
    }

    /// How much a pattern costs more than it is worth at the program's prices, in the largest board cost.
    pub(super) fn reduced_cost(&self, at: usize) -> f64 {
        self.simplex.reduced_cost(self.column_of[at])
    }

    /// All patterns of the pool, those that cost least over their worth first.
    pub(super) fn by_reduced_cost(&self) -> Vec<usize> {
        let mut order: Vec<(f64, usize)> = (0..self.pool.len())
            .map(|at| (self.reduced_cost(at), at))
            .collect();
        order.sort_by(|one, other| one.0.total_cmp(&other.0));
        order.into_iter().map(|(_, at)| at).collect()
    }

    /// Solves a node.
    pub(super) fn solve(&mut self, ask: &Ask, clock: &mut Clock) -> Result<Relaxed, Stopped> {
        self.apply(ask.path);
        self.partial = None;
        let mut best = Proof::nothing(self.demand.len(), self.earlier.len());
        if self.stage == Stage::Stretch {
            best.strength = f64::NEG_INFINITY;
        }
        let mut verdict = self.simplex.solve(clock)?;
        let mut raises = 0;
        while verdict == Verdict::Optimal {
            // Whether the rows can be met at all is settled first, by patterns that are made for it.
            if !matches!(self.stage, Stage::Missing | Stage::Stretch) && self.left_out() > WHOLE {
                let ending = self.shortfall(ask, &mut best, clock)?;
                if best.bound >= ask.cutoff || raises == RAISES || ending == Ending::Unsettled {
                    break;
                }
                verdict = self.simplex.primal(clock)?;
            }
            if verdict == Verdict::Failed
                || self.generate(ask, &mut best, clock)? == Ending::Unsettled
            {
                break;
            }
            if ask.lift.up(best.bound) >= ask.cutoff
                || self.left_out() <= WHOLE
                || self.stage == Stage::Missing
            {
                break;
            }
            raises += 1;
            self.left_out_cost *= 100.0;
            self.cost_as(self.stage);
            self.simplex.reset();
            verdict = self.simplex.solve(clock)?;
        }
        let left_out = if verdict == Verdict::Failed {
            f64::INFINITY
        } else {
            self.left_out()
        };
        let relaxed = self.relaxed(ask, best, left_out);
        if raises > 0 {
            self.left_out_cost = LEFT_OUT;
            self.cost_as(self.stage);
            self.simplex.reset();
        }
        Ok(relaxed)
    }

    /// Prices from within: a node that was just solved has many prices of the same bound, and the simplex method ends at an outermost.
    /// Asked for a little more of some parts and a little less of others it ends at another, and the mean of several is as good a bound at which far
    /// fewer patterns cost nothing over their worth: only those that are so for each of them.
    pub(super) fn within(&mut self, ask: &Ask, clock: &mut Clock) -> Result<Relaxed, Stopped> {
        let mut mean = vec![0.0; self.simplex.rows()];
        let mut random = 0x2545_f491_4f6c_dd1d_u64;
        for _ in 0..TILTS {
            for part in 0..self.demand.len() {
                random ^= random << 13;
                random ^= random >> 7;
                random ^= random << 17;
                let aside = (random >> 11) as f64 / (1u64 << 52) as f64 - 1.0;
                let wanted = f64::from(self.demand[part]) + TILT * aside;
                self.simplex.set_row(part, wanted.max(0.0), f64::INFINITY);
            }
            let mut scratch = Proof::nothing(self.demand.len(), self.earlier.len());
            scratch.strength = f64::NEG_INFINITY;
            if self.simplex.solve(clock)? == Verdict::Optimal {
                self.generate(ask, &mut scratch, clock)?;
            }
            for (mean, price) in mean.iter_mut().zip(self.simplex.prices()) {
                *mean += price / TILTS as f64;
            }
        }
        for part in 0..self.demand.len() {
            let wanted = f64::from(self.demand[part]);
            self.simplex.set_row(part, wanted, f64::INFINITY);
        }
        self.simplex.solve(clock)?;
        let proof = self.prove(&mean, ask.path, clock)?;
        let left_out = self.left_out();
        Ok(self.relaxed(ask, proof, left_out))
    }

    /// Shows that parts must be left out, or finds the patterns with which none need be.
    fn shortfall(
        &mut self,
        ask: &Ask,
        best: &mut Proof,
        clock: &mut Clock,
    ) -> Result<Ending, Stopped> {
        let (stage, largest) = (self.stage, self.largest);
        (self.stage, self.largest) = (Stage::Missing, 1);
        self.cost_as(Stage::Missing);
        let lift = Lift::new(self.problem, Stage::Missing, 0);
        let question = Ask {
            path: ask.path,
            cutoff: 1,
            lift: &lift,
            rounds: ask.rounds,
        };
        let mut shown = Proof::nothing(self.demand.len(), self.earlier.len());
        let ending = match self.simplex.primal(clock) {
            Ok(Verdict::Optimal) => self.generate(&question, &mut shown, clock),
            Ok(Verdict::Failed) => Ok(Ending::Unsettled),
            Err(stopped) => Err(stopped),
        };
        (self.stage, self.largest) = (stage, largest);
        self.cost_as(stage);
        self.partial = Some((ask.lift.up(best.bound), best.leaf.clone()));
        let ending = ending?;
        if shown.bound > 0 {
            // Left-out parts cannot be bought at any cost, so the prices prove a bound in the smallest unit there is.
            let bound = i64::try_from(shown.sums.total).unwrap_or(i64::MAX);
            *best = Proof {
                bound,
                leaf: Leaf {
                    scale: 1,
                    ..shown.leaf
                },
                ..shown
            };
            best.sums = Sums::default();
        }
        Ok(ending)
    }

    /// Sets all costs of the program.
    fn cost_as(&mut self, stage: Stage) {
        let slack = if stage == Stage::Missing {
            1.0
        } else {
            self.left_out_cost
        };
        for &column in &self.slack_columns {
            self.simplex.set_cost(column, slack);
        }
        for at in 0..self.pool.len() {
            let cost = if stage == Stage::Missing {
                0.0
            } else {
                self.costs[at]
            };
            self.simplex.set_cost(self.column_of[at], cost);
        }
        self.simplex.recompute();
    }

    /// Generates columns from a solved program until the prices settle what is asked.
    fn generate(
        &mut self,
        ask: &Ask,
        best: &mut Proof,
        clock: &mut Clock,
    ) -> Result<Ending, Stopped> {
        let mut best_prices: Option<Vec<f64>> = None;
        let mut smoothing = SMOOTHING;
        for _ in 0..ask.rounds {
            let newest = self.simplex.prices();
            let asked: Vec<f64> = match &best_prices {
                Some(centre) if smoothing > 0.0 => centre
                    .iter()
                    .zip(newest)
                    .map(|(old, new)| smoothing * old + (1.0 - smoothing) * new)
                    .collect(),
                _ => newest.to_vec(),
            };
            let proof = self.prove(&asked, ask.path, clock)?;
            let mut entered = false;
            for (pattern, _) in &proof.patterns {
                if self.simplex.entries() > ENTRIES {
                    break;
                }
                let before = self.pool.len();
                let at = self.add(pattern.clone());
                self.generated += (self.pool.len() - before) as u64;
                entered |= self.reduced_cost(at) < -ENTERS;
            }
            if best_prices.is_none() || proof.strength > best.strength {
                best_prices = Some(asked);
            }
            if proof.strength > best.strength {
                *best = Proof {
                    patterns: Vec::new(),
                    ..proof
                };
                self.partial = Some((ask.lift.up(best.bound), best.leaf.clone()));
            }
            let lifted = ask.lift.up(best.bound);
            if lifted >= ask.cutoff {
                return Ok(Ending::Settled);
            }
            let objective = self.simplex.objective() * self.largest as f64;
            let objective = (objective - 1e-6 * objective.abs().max(1.0)).ceil() as i64;
            if self.stage != Stage::Missing
                && ask.lift.up(objective) <= lifted
                && self.left_out() < WHOLE
            {
                return Ok(Ending::Settled);
            }
            if self.stage == Stage::Missing && self.left_out() < WHOLE / 10.0 {
                return Ok(Ending::Settled);
            }
            if entered {
                if self.simplex.primal(clock)? == Verdict::Failed
                    && self.simplex.solve(clock)? == Verdict::Failed
                {
                    return Ok(Ending::Unsettled);
                }
                smoothing = SMOOTHING;
            } else if self.simplex.entries() > ENTRIES {
                return Ok(Ending::Unsettled);
            } else if smoothing > 0.0 {
                smoothing = 0.0;
            } else {
                return Ok(Ending::Settled);
            }
        }
        Ok(Ending::Unsettled)
    }

    fn relaxed(&self, ask: &Ask, best: Proof, left_out: f64) -> Relaxed {
        let values = self.simplex.solution();
        let solution = (0..self.pool.len())
            .map(|at| (at, values[self.column_of[at]]))
            .filter(|&(_, value)| value > WHOLE / 10.0)
            .collect();
        Relaxed {
            bound: ask.lift.up(best.bound),
            leaf: best.leaf,
            solution,
            left_out,
            sums: best.sums,
        }
    }

    fn left_out(&self) -> f64 {
        let values = self.simplex.solution();
        self.slack_columns
            .iter()
            .map(|&column| values[column])
            .sum()
    }

    /// Bounds of the split rows for a node.
    fn apply(&mut self, path: &[Cut]) {
        let most = 4.0
            * self
                .demand
                .iter()
                .map(|&count| f64::from(count))
                .sum::<f64>()
            + 4.0;
        for set in 0..self.sets.len() {
            let mut lower = 0.0;
            let mut upper = most;
            for cut in path.iter().filter(|cut| cut.set == set) {
                match cut.side {
                    Side::Fewer(at) => upper = f64::min(upper, f64::from(at)),
                    Side::More(at) => lower = f64::max(lower, f64::from(at)),
                }
            }
            self.simplex
                .set_row(self.sets[set].1, lower, upper.max(lower));
        }
    }

    /// Rounds prices to integers and finds what they prove.
    fn prove(&mut self, prices: &[f64], path: &[Cut], clock: &mut Clock) -> Result<Proof, Stopped> {
        let parts = self.demand.len();
        // Prices far above any board's cost, where parts are hard to place, are told in a coarser unit.
        let steepest = prices
            .iter()
            .fold(1.0, |most: f64, price| most.max(price.abs() / 4.0));
        let scale = (((UNIT / self.largest) as f64 / steepest) as i64).max(1);
        let unit = scale.saturating_mul(self.largest) as f64;
        let most_price = if self.stage == Stage::Missing {
            scale
        } else {
            LARGEST_PRICE
        };
        // Where the length used up counts, a cutting of parts worth nothing may still be the best there is: it must not be overlooked.
        let least_price = i64::from(self.stage == Stage::Used);
        let mut part_prices: Vec<i64> = prices[..parts]
            .iter()
            .map(|price| ((price * unit).floor() as i64).clamp(least_price, most_price))
            .collect();
        let first_set = self.simplex.rows() - self.sets.len();
        let first_earlier = first_set - self.earlier.len();
        let earlier: Vec<i64> = (0..self.earlier.len())
            .map(|level| {
                let price = -prices.get(first_earlier + level).copied().unwrap_or(0.0) * unit
                    / self.largest_earlier[level] as f64;
                (price.ceil() as i64).clamp(0, LARGEST_PRICE)
            })
            .collect();
        let mut splits = vec![0i64; path.len()];
        for set in 0..self.sets.len() {
            let price = (prices.get(first_set + set).copied().unwrap_or(0.0) * unit) as i64;
            let tightest = path
                .iter()
                .enumerate()
                .filter(|(_, cut)| {
                    cut.set == set && matches!(cut.side, Side::Fewer(_)) == (price < 0)
                })
                .min_by_key(|(_, cut)| match cut.side {
                    Side::Fewer(at) => i64::from(at),
                    Side::More(at) => -i64::from(at),
                });
            if let Some((at, _)) = tightest {
                splits[at] = price.saturating_abs().min(LARGEST_PRICE);
            }
        }
        let boards = self.problem.boards.len();
        let charges = self.charges(scale, &earlier, &splits, path);
        let goals_charges: Vec<i64> = (0..boards)
            .map(|board| match (self.supply[board], self.supply_row[board]) {
                (Some(0), _) => i64::MAX / 8,
                (_, Some(row)) => {
                    charges[board] + ((-prices[row] * unit).ceil() as i64).clamp(0, LARGEST_PRICE)
                }
                _ => charges[board],
            })
            .collect();
        let goals = Goals {
            prices: &part_prices,
            most: &self.demand,
            charges: &goals_charges,
            tick_cost: if self.stage == Stage::Used { scale } else { 0 },
        };
        let priced = self.pricer.price(&goals, clock)?;
        let mut worth = priced.worth;
        if self.stage != Stage::Used {
            for value in &mut worth {
                *value = (*value).max(0);
            }
        }
        // A board of unlimited supply must not be worth more than its charge. Where a split on the way holds it, its price gives way.
        for (board, &value) in worth.iter().enumerate() {
            if self.supply[board].is_some() {
                continue;
            }
            let excess = value - self.charge(board, (scale, &earlier), (&splits, path));
            if excess <= 0 {
                continue;
            }
            let mut missing = excess;
            for (at, cut) in path.iter().enumerate().rev() {
                if missing == 0 || self.sets[cut.set].0.binary_search(&board).is_err() {
                    continue;
                }
                match cut.side {
                    Side::More(_) => {
                        let give = splits[at].min(missing);
                        splits[at] -= give;
                        missing -= give;
                    }
                    Side::Fewer(_) => {}
                }
            }
            if missing > 0
                && let Some(at) = (0..path.len()).rev().find(|&at| {
                    matches!(path[at].side, Side::Fewer(_))
                        && self.sets[path[at].set].0.binary_search(&board).is_ok()
                })
            {
                splits[at] = splits[at].saturating_add(missing).min(MOST_FIGURE);
            }
        }
        let charges = self.charges(scale, &earlier, &splits, path);
        // Farley's scaling for what is still worth too much.
        let mut scaled = (1i128, 1i128);
        for board in 0..boards {
            if self.supply[board].is_none()
                && worth[board] > charges[board]
                && self.stage != Stage::Used
            {
                let (top, bottom) = (i128::from(charges[board].max(0)), i128::from(worth[board]));
                if top * scaled.1 < scaled.0 * bottom {
                    scaled = (top, bottom);
                }
            }
        }
        let shrink = |value: i64| (i128::from(value) * scaled.0 / scaled.1) as i64;
        let mut proven = true;
        if self.stage == Stage::Used {
            // Every cutting that counts here holds a part, so what is taken off each part is taken off every cutting. A part that is worth
            // less than that is then worth nothing; a cutting of such parts alone is worth nothing either, less what it uses up, which
            // is enough where no charge is below nothing.
            let unlimited = || (0..boards).filter(|&board| self.supply[board].is_none());
            let excess = unlimited()
                .map(|board| worth[board] - charges[board])
                .max()
                .unwrap_or(0)
                .max(0);
            proven = unlimited().all(|board| charges[board] >= 0)
                || (0..parts).all(|part| self.demand[part] == 0 || part_prices[part] >= excess);
            if excess > 0 {
                for price in &mut part_prices {
                    *price = (*price - excess).max(0);
                }
                for board in unlimited() {
                    worth[board] = worth[board].min(charges[board]);
                }
            }
        }
        if scaled.0 != scaled.1 {
            for price in &mut part_prices {
                *price = shrink(*price);
            }
            for value in &mut worth {
                *value = shrink(*value) + 1;
            }
        }
        let mut total: i128 = 0;
        for (price, &count) in part_prices.iter().zip(&self.demand) {
            total += i128::from(*price) * i128::from(count);
        }
        for (price, &value) in earlier.iter().zip(&self.earlier) {
            total -= i128::from(*price) * i128::from(value);
        }
        for (price, cut) in splits.iter().zip(path) {
            match cut.side {
                Side::Fewer(at) => total -= i128::from(*price) * i128::from(at),
                Side::More(at) => total += i128::from(*price) * i128::from(at),
            }
        }
        for board in 0..boards {
            let excess = i128::from(worth[board]) - i128::from(charges[board]);
            match self.supply[board] {
                Some(limit) if excess > 0 => total -= excess * i128::from(limit),
                None if excess > i128::from(i64::from(scaled.0 != scaled.1)) => proven = false,
                _ => {}
            }
        }
        let bound = if proven {
            i64::try_from(ceiling(total, i128::from(scale)))
                .unwrap_or(0)
                .max(0)
        } else {
            0
        };
        let charges = (0..boards).map(|board| {
            charges[board].max(if self.supply[board].is_some() {
                worth[board]
            } else {
                i64::MIN
            })
        });
        let sums = Sums {
            total,
            charges: charges.collect(),
        };
        let strength = if proven {
            total as f64 / scale as f64
        } else {
            0.0
        };
        Ok(Proof {
            bound,
            strength,
            leaf: Leaf {
                scale,
                parts: part_prices,
                earlier,
                splits: charged(&splits),
            },
            sums,
            patterns: entrants(priced.patterns, &goals_charges),
        })
    }

    /// What using one board is charged at these prices.
    fn charge(
        &self,
        board: usize,
        (scale, earlier): (i64, &[i64]),
        (splits, path): (&[i64], &[Cut]),
    ) -> i64 {
        let costs = &self.problem.boards[board].cost;
        let levels = earlier.iter().zip(costs);
        let mut charge = scale * self.stage.board_cost(self.problem, board)
            + levels.map(|(price, cost)| price * cost).sum::<i64>();
        for (price, cut) in splits.iter().zip(path) {
            if self.sets[cut.set].0.binary_search(&board).is_ok() {
                match cut.side {
                    Side::Fewer(_) => charge += price,
                    Side::More(_) => charge -= price,
                }
            }
        }
        charge
    }

    /// What using each board is charged at these prices.
    fn charges(&self, scale: i64, earlier: &[i64], splits: &[i64], path: &[Cut]) -> Vec<i64> {
        let mut charges: Vec<i64> = (0..self.problem.boards.len())
            .map(|board| {
                let costs = &self.problem.boards[board].cost;
                let own = scale * self.stage.board_cost(self.problem, board);
                own + earlier
                    .iter()
                    .zip(costs)
                    .map(|(price, cost)| price * cost)
                    .sum::<i64>()
            })
            .collect();
        for (price, cut) in splits.iter().zip(path) {
            for &board in &self.sets[cut.set].0 {
                match cut.side {
                    Side::Fewer(_) => charges[board] += price,
                    Side::More(_) => charges[board] -= price,
                }
            }
        }
        charges
    }
}

/// The patterns that are to join the program: all, or of too many those that are worth most over their charge.
fn entrants(mut patterns: Vec<(Pattern, i64)>, charges: &[i64]) -> Vec<(Pattern, i64)> {
    if patterns.len() > ENTRANTS {
        patterns.sort_by_key(|(pattern, worth)| charges[pattern.board].saturating_sub(*worth));
        patterns.truncate(ENTRANTS);
    }
    patterns
}

/// The prices of splits that are more than nothing, with their places on the way.
fn charged(splits: &[i64]) -> Vec<(usize, i64)> {
    let prices = splits.iter().copied().enumerate();
    prices.filter(|(_, price)| *price != 0).collect()
}

fn ceiling(top: i128, bottom: i128) -> i128 {
    top.div_euclid(bottom) + i128::from(top.rem_euclid(bottom) != 0)
}
