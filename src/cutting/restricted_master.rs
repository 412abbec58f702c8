//! The restricted master: the linear program over the patterns known so far.
//!
//! **Idea** (Gilmore and Gomory 1961). A column says how often a pattern is cut. Rows ask that every part is cut as often as wanted, that limited
//! boards last, that earlier levels keep to their values, and that a set of boards is used as often as decisions on the way to a node allow, or that as many offcuts of it are kept. An
//! artificial column for each part and each set keeps the program feasible (common practice).
//!
//! **Invariant.** The columns are the artificial ones and one for each pattern of the pool, each pattern once. Rows come in the order parts, limited
//! boards, earlier levels, sets. Costs are those of one objective at a time, divided by the largest of them.

use crate::branch_path::{BranchSide, Counted, Decision};
use crate::limits::{ARTIFICIAL_COST, ARTIFICIAL_RAISE, MOST_BOARDS, ROWS_BESIDE, ROWS_WITH_SETS};
use crate::master_size::rows;
use crate::objective::{Earlier, Objective};
use crate::pattern::Pattern;
use crate::problem::Problem;
use crate::simplex::Simplex;
use proof::certificate::Leaf;
use std::collections::HashMap;

/// A set of boards to decide on.
struct CountedSet {
    boards: Vec<usize>,
    counted: Counted,
    row: usize,
    /// What the decisions on the way to the node at hand allow.
    bounds: (f64, f64),
}

/// A column of a pattern of whose offcuts some are given up.
struct GivenUp {
    /// The pattern's place in the pool.
    at: usize,
    /// How many are.
    offcuts: usize,
    column: usize,
    cost: f64,
}

/// The program over the patterns known so far, kept from node to node.
pub(crate) struct RestrictedMaster<'p> {
    pub(crate) problem: &'p Problem,
    /// Whose costs the columns have now: the aim, or the shortfall while it is asked whether the rows can be met.
    pub(crate) objective: Objective,
    aim: Objective,
    /// What is to be cut; at most the problem's demand.
    pub(crate) demand: Vec<u32>,
    pub(crate) supply: Vec<Option<u32>>,
    /// The values that the earlier levels keep to.
    pub(crate) earlier: Earlier,
    pub(crate) simplex: Simplex,
    pub(crate) supply_row: Vec<Option<usize>>,
    first_earlier: usize,
    sets: Vec<CountedSet>,
    /// The patterns known.
    pub(crate) pool: Vec<Pattern>,
    /// The places in the pool by digests of the patterns.
    known: HashMap<u64, usize>,
    artificial_columns: Vec<usize>,
    /// Columns of patterns of whose offcuts some are given up, in the order of the pool; there where offcuts are counted.
    given_up: Vec<GivenUp>,
    /// Whether decisions count offcuts.
    counts_offcuts: bool,
    /// For each column its pattern's place in the pool.
    pattern_of_column: Vec<Option<usize>>,
    /// For each pattern of the pool its column.
    column_of: Vec<usize>,
    /// What each pattern costs, in the largest cost of the aim.
    costs: Vec<f64>,
    artificial_cost: f64,
    /// The largest cost of one board for the objective.
    pub(crate) largest: i64,
    largest_of_aim: i64,
    /// The same for the earlier levels.
    pub(crate) largest_earlier: Vec<i64>,
}

impl<'p> RestrictedMaster<'p> {
    /// A master without patterns: `demand` and `supply` may be less than the problem's, for what is left to cut.
    pub(crate) fn new(
        problem: &'p Problem,
        objective: Objective,
        demand: Vec<u32>,
        supply: Vec<Option<u32>>,
        earlier: Earlier,
    ) -> Self {
        let mut bounds: Vec<(f64, f64)> = demand
            .iter()
            .map(|&count| (f64::from(count), f64::INFINITY))
            .collect();
        let total: u64 = demand.iter().map(|&count| u64::from(count)).sum();
        let mut supply_row = vec![None; problem.boards.len()];
        for (board, limit) in supply.iter().enumerate() {
            if let Some(limit) = limit
                && (u64::from(*limit) < total || objective == Objective::Stretch)
            {
                supply_row[board] = Some(bounds.len());
                bounds.push(match objective {
                    Objective::Stretch => (f64::NEG_INFINITY, 0.0),
                    _ => (0.0, f64::from(*limit)),
                });
            }
        }
        let first_earlier = bounds.len();
        let largest_earlier: Vec<i64> = earlier
            .iter()
            .map(|(level, _)| level.largest_cost(problem))
            .collect();
        for (&(_, value), &largest) in earlier.iter().zip(&largest_earlier) {
            bounds.push((0.0, value as f64 / largest as f64));
        }
        let largest = objective.largest_cost(problem);
        let mut master = RestrictedMaster {
            problem,
            objective,
            aim: objective,
            simplex: Simplex::new(&bounds),
            supply_row,
            first_earlier,
            sets: Vec::new(),
            pool: Vec::new(),
            known: HashMap::new(),
            artificial_columns: Vec::new(),
            given_up: Vec::new(),
            counts_offcuts: false,
            pattern_of_column: Vec::new(),
            column_of: Vec::new(),
            costs: Vec::new(),
            artificial_cost: match objective {
                Objective::Shortfall => 1.0,
                _ => ARTIFICIAL_COST,
            },
            largest,
            largest_of_aim: largest,
            largest_earlier,
            demand,
            supply,
            earlier,
        };
        master.add_own_columns();
        master
    }

    /// The column of the stretch, where that is the objective, and an artificial column for each part.
    fn add_own_columns(&mut self) {
        if self.objective == Objective::Stretch {
            let limits = self.supply_row.iter().zip(&self.supply);
            let entries: Vec<(u32, f64)> = limits
                .filter_map(|(row, limit)| Some(((*row)? as u32, -f64::from((*limit)?))))
                .collect();
            self.simplex.add_column(1.0, &entries);
            self.pattern_of_column.push(None);
        }
        for part in 0..self.demand.len() {
            self.add_artificial(part);
        }
    }

    /// An artificial column for a row.
    fn add_artificial(&mut self, row: usize) {
        let entries = [(row as u32, 1.0)];
        let column = self.simplex.add_column(self.artificial_cost, &entries);
        self.pattern_of_column.push(None);
        self.artificial_columns.push(column);
    }

    /// Lets the program use a pattern; returns its place in the pool.
    pub(crate) fn add(&mut self, pattern: Pattern) -> usize {
        let digest = pattern.digest();
        let known = self.known.get(&digest).copied();
        if let Some(at) = known.filter(|&at| self.pool[at] == pattern) {
            return at;
        }
        let kept = match self.counts_offcuts {
            true => pattern.kept(self.problem).len() as u32,
            false => 0,
        };
        let entries = self.entries(&pattern, kept);
        let cost = self.aim.cost(self.problem, &pattern) as f64 / self.largest_of_aim as f64;
        self.costs.push(cost);
        let own = match self.objective {
            Objective::Shortfall => 0.0,
            _ => cost,
        };
        let column = self.simplex.add_column(own, &entries);
        let at = self.pool.len();
        self.pattern_of_column.push(Some(at));
        self.column_of.push(column);
        self.known.insert(digest, at);
        self.pool.push(pattern);
        if self.counts_offcuts {
            self.add_given_up(at);
        }
        at
    }

    /// What a pattern adds to each row where so many of its offcuts are kept.
    fn entries(&self, pattern: &Pattern, kept: u32) -> Vec<(u32, f64)> {
        let counts = pattern.counts();
        let mut entries: Vec<(u32, f64)> = counts
            .iter()
            .filter(|&&(part, _)| self.demand[part] > 0)
            .map(|&(part, count)| (part as u32, f64::from(count)))
            .collect();
        if let Some(row) = self.supply_row[pattern.board] {
            entries.push((row as u32, 1.0));
        }
        let earlier = self.earlier.iter().zip(&self.largest_earlier);
        for (at, (&(level, _), &largest)) in earlier.enumerate() {
            let cost = level.cost(self.problem, pattern);
            if cost != 0 {
                entries.push((self.earlier_row(at) as u32, cost as f64 / largest as f64));
            }
        }
        let held = |set: &&CountedSet| set.boards.binary_search(&pattern.board).is_ok();
        for set in self.sets.iter().filter(held) {
            let adds = match set.counted {
                Counted::Boards => 1,
                Counted::Kept => kept,
            };
            if adds > 0 {
                entries.push((set.row as u32, f64::from(adds)));
            }
        }
        entries
    }

    /// A set of boards to decide on, and what is counted of them; returns its index.
    pub(crate) fn set(&mut self, boards: &[usize], counted: Counted) -> usize {
        let known = |set: &CountedSet| set.boards == boards && set.counted == counted;
        if let Some(at) = self.sets.iter().position(known) {
            return at;
        }
        let row = self.simplex.rows();
        let (pattern_of_column, pool) = (&self.pattern_of_column, &self.pool);
        let (most, problem, known) = (self.most_boards(), self.problem, &self.given_up);
        self.simplex.add_row(0.0, most, |column| {
            let given_up = known.binary_search_by_key(&column, |given_up| given_up.column);
            let given_up = given_up.ok().map(|place| &known[place]);
            let at = pattern_of_column[column].or(given_up.map(|given_up| given_up.at));
            let adds = at.map_or(0, |at| counted.of(problem, boards, &pool[at]));
            match (counted, given_up) {
                (Counted::Kept, Some(given_up)) if adds > 0 => {
                    f64::from(adds) - given_up.offcuts as f64
                }
                _ => f64::from(adds),
            }
        });
        self.add_artificial(row);
        self.sets.push(CountedSet {
            boards: boards.to_vec(),
            counted,
            row,
            bounds: (0.0, most),
        });
        if counted == Counted::Kept && !self.counts_offcuts {
            self.counts_offcuts = true;
            for at in 0..self.pool.len() {
                self.add_given_up(at);
            }
        }
        self.sets.len() - 1
    }

    /// Further columns for a pattern that keeps offcuts, in which some are given up, the shortest first: they are used up, and no decision counts them. So
    /// no pattern is worth anything for leaving too little to keep, and pricing need not look for such ones.
    fn add_given_up(&mut self, at: usize) {
        if self.aim != Objective::UsedLength {
            return;
        }
        let kept = self.pool[at].kept(self.problem);
        let mut used = self.pool[at].used(self.problem);
        for (given_up, offcut) in kept.iter().enumerate() {
            used += offcut;
            let cost = used as f64 / self.largest_of_aim as f64;
            let own = match self.objective {
                Objective::Shortfall => 0.0,
                _ => cost,
            };
            let kept = (kept.len() - given_up - 1) as u32;
            let entries = self.entries(&self.pool[at], kept);
            let column = self.simplex.add_column(own, &entries);
            self.pattern_of_column.push(None);
            self.given_up.push(GivenUp {
                at,
                offcuts: given_up + 1,
                column,
                cost,
            });
        }
    }

    /// More boards than any plan uses.
    fn most_boards(&self) -> f64 {
        let parts: f64 = self.demand.iter().map(|&count| f64::from(count)).sum();
        let (alone, each) = MOST_BOARDS;
        each * parts + alone
    }

    /// Whether there is no room for another set to decide on.
    pub(crate) fn is_full(&self) -> bool {
        let least = rows(self.problem) + ROWS_BESIDE / 10;
        self.simplex.rows() >= least.max(ROWS_WITH_SETS)
    }

    /// How many sets there are.
    pub(crate) fn sets(&self) -> usize {
        self.sets.len()
    }

    /// The boards of a set.
    pub(crate) fn boards_of(&self, set: usize) -> &[usize] {
        &self.sets[set].boards
    }

    /// What is counted of them.
    pub(crate) fn counted(&self, set: usize) -> Counted {
        self.sets[set].counted
    }

    /// Whether the boards are counted of a set that holds this one.
    pub(crate) fn counts(&self, set: usize, board: usize) -> bool {
        let set = &self.sets[set];
        set.counted == Counted::Boards && set.boards.binary_search(&board).is_ok()
    }

    /// The row of a set.
    pub(crate) fn set_row(&self, set: usize) -> usize {
        self.sets[set].row
    }

    /// The row of an earlier level.
    pub(crate) fn earlier_row(&self, level: usize) -> usize {
        self.first_earlier + level
    }

    /// The prices of the rows at which parts are worth what a leaf of this objective says, and limited boards so much beyond their cost.
    pub(crate) fn prices_of(&self, leaf: &Leaf, excess: &[i64]) -> Vec<f64> {
        let unit = leaf.scale as f64 * self.largest as f64;
        let mut prices = vec![0.0; self.simplex.rows()];
        for (price, &of_leaf) in prices.iter_mut().zip(&leaf.parts) {
            *price = of_leaf as f64 / unit;
        }
        for (row, &excess) in self.supply_row.iter().zip(excess) {
            if let Some(row) = *row {
                prices[row] = -excess as f64 / unit;
            }
        }
        prices
    }

    /// The cost of a pattern less its worth at the program's prices, in the largest cost.
    pub(crate) fn reduced_cost(&self, at: usize) -> f64 {
        let own = self.simplex.reduced_cost(self.column_of[at]);
        let first = self.given_up.partition_point(|given_up| given_up.at < at);
        let given_up = self.given_up[first..].iter();
        let given_up = given_up.take_while(|given_up| given_up.at == at);
        given_up.fold(own, |least, given_up| {
            least.min(self.simplex.reduced_cost(given_up.column))
        })
    }

    /// All patterns of the pool, those of the least reduced cost first.
    pub(crate) fn by_reduced_cost(&self) -> Vec<usize> {
        let mut order: Vec<(f64, usize)> = (0..self.pool.len())
            .map(|at| (self.reduced_cost(at), at))
            .collect();
        order::sort_by(&mut order, |one, other| one.0.total_cmp(&other.0));
        order.into_iter().map(|(_, at)| at).collect()
    }

    /// How often each pattern is cut in the program's solution, where more often than `least`: (place in the pool, how often). Then how many of
    /// its offcuts are given up in it.
    pub(crate) fn solution(&self, least: f64) -> [Vec<(usize, f64)>; 2] {
        let values = self.simplex.solution();
        let columns = self.column_of.iter();
        let mut times: Vec<f64> = columns.map(|&column| values[column]).collect();
        let given_up = self.given_up.iter();
        let given_up = given_up.filter(|given_up| values[given_up.column] > least);
        let given_up = given_up.map(|given_up| {
            let value = values[given_up.column];
            times[given_up.at] += value;
            (given_up.at, value * given_up.offcuts as f64)
        });
        let given_up: Vec<(usize, f64)> = given_up.collect();
        let times = times.into_iter().enumerate();
        let times = times.filter(|&(_, value)| value > least).collect();
        [times, given_up]
    }

    /// The sum of all artificial variables: parts left uncut, and what sets miss.
    pub(crate) fn uncut(&self) -> f64 {
        let values = self.simplex.solution();
        self.artificial_columns
            .iter()
            .map(|&column| values[column])
            .sum()
    }

    /// Bounds the rows of the sets by the decisions on the way to a node.
    pub(crate) fn apply(&mut self, path: &[Decision]) {
        let most = self.most_boards();
        for set in 0..self.sets.len() {
            let mut lower = 0.0;
            let mut upper = most;
            for decision in path.iter().filter(|decision| decision.set == set) {
                match decision.side {
                    BranchSide::AtMost(at) => upper = f64::min(upper, f64::from(at)),
                    BranchSide::AtLeast(at) => lower = f64::max(lower, f64::from(at)),
                }
            }
            self.sets[set].bounds = (lower, upper.max(lower));
            self.bound_set(set);
        }
    }

    /// Bounds the row of a set. What counts offcuts is left free while it is asked whether all can be cut: nothing is used up then, and giving up an offcut
    /// or keeping one is for nothing.
    fn bound_set(&mut self, set: usize) {
        let CountedSet {
            counted,
            row,
            bounds,
            ..
        } = self.sets[set];
        let free = counted == Counted::Kept && self.objective != self.aim;
        let (lower, upper) = if free {
            (0.0, self.most_boards())
        } else {
            bounds
        };
        self.simplex.set_row(row, lower, upper);
    }

    /// Gives all columns the costs of the aim, or of the shortfall.
    pub(crate) fn set_objective(&mut self, objective: Objective) {
        self.objective = objective;
        self.largest = objective.largest_cost(self.problem);
        let shortfall = objective == Objective::Shortfall;
        for set in 0..self.sets.len() {
            if self.sets[set].counted == Counted::Kept {
                self.bound_set(set);
            }
        }
        let artificial = if shortfall { 1.0 } else { self.artificial_cost };
        for &column in &self.artificial_columns {
            self.simplex.set_cost(column, artificial);
        }
        let given_up = self.given_up.iter();
        let given_up = given_up.map(|given_up| (&given_up.column, &given_up.cost));
        for (&column, &cost) in self.column_of.iter().zip(&self.costs).chain(given_up) {
            self.simplex
                .set_cost(column, if shortfall { 0.0 } else { cost });
        }
        self.simplex.recompute();
    }

    /// Makes artificial variables dearer, and starts over.
    pub(crate) fn raise_artificial_cost(&mut self) {
        self.artificial_cost *= ARTIFICIAL_RAISE;
        self.set_objective(self.objective);
        self.simplex.reset();
    }

    /// Takes all raises back, and starts over.
    pub(crate) fn lower_artificial_cost(&mut self) {
        self.artificial_cost = ARTIFICIAL_COST;
        self.set_objective(self.objective);
        self.simplex.reset();
    }
}
