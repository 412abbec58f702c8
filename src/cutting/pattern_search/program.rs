//! The linear program over enumerated patterns, with its rows as integers beside it.
//!
//! **Invariant.** Rows come in the order parts, limited boards, earlier levels, decisions, pairs. Row and column bounds are kept as integers, and
//! those of the simplex method follow them; a pattern that waits has no column there. What is fixed is taken off the rows'
//! bounds. **Why it ends:** patterns get columns once each.

use crate::attainable::AttainableTotals;
use crate::branch_path::{BranchSide, SetDecision};
use crate::clock::{Clock, Stopped};
use crate::incumbent::Incumbent;
use crate::limits::{ACTIVATIONS, ACTIVE_COLUMNS, ENTERING_GAIN, UNCUT_COST};
use crate::objective::Objective;
use crate::pattern::Pattern;
use crate::pattern_search::pairs::{Pair, pairs};
use crate::problem::Problem;
use crate::simplex::{Simplex, Verdict};

/// The problem over the enumerated patterns.
pub(crate) struct EnumeratedProblem<'c> {
    pub(crate) objective: Objective,
    pub(crate) earlier: &'c [(Objective, i64)],
    pub(crate) attainable: &'c AttainableTotals,
    pub(crate) patterns: Vec<Pattern>,
    pub(crate) demand: &'c [u32],
    pub(crate) supply: Vec<Option<u32>>,
    /// The decisions that hold.
    pub(crate) path: Vec<SetDecision>,
    /// Whether some of them count the offcuts that are kept; patterns of equal counts are then told apart by how many they keep.
    pub(crate) counts_offcuts: bool,
    /// How many nodes may be searched.
    pub(crate) nodes: usize,
    /// Whether it may split on pairs of parts.
    pub(crate) by_pairs: bool,
    /// The bytes that it may take where it is told, and of how many parts that is.
    pub(crate) room: usize,
    pub(crate) parts_told: usize,
}

/// A row: its bounds less what is fixed.
pub(crate) struct SearchRow {
    pub(crate) lower: i64,
    pub(crate) upper: Option<i64>,
    /// Divides entries and bounds in the linear program.
    pub(crate) scale: i64,
}

impl SearchRow {
    fn new(lower: i64, upper: Option<i64>) -> Self {
        SearchRow {
            lower,
            upper,
            scale: 1,
        }
    }

    /// The bounds as the linear program has them.
    fn float_bounds(&self) -> (f64, f64) {
        let scale = self.scale as f64;
        let upper = self.upper;
        (
            self.lower.max(0) as f64 / scale,
            upper.map_or(f64::INFINITY, |upper| upper.max(0) as f64 / scale),
        )
    }
}

/// A column: a pattern's cost, its entries in the rows, and how often it may yet be cut.
pub(crate) struct SearchColumn {
    pub(crate) cost: i64,
    pub(crate) entries: Vec<(usize, i64)>,
    pub(crate) upper: i64,
}

/// The program of a search.
pub(crate) struct SearchProgram<'s, 'c> {
    pub(crate) given: &'s EnumeratedProblem<'c>,
    pub(crate) rows: Vec<SearchRow>,
    pub(crate) columns: Vec<SearchColumn>,
    pub(crate) simplex: Simplex,
    /// For each column of the simplex method the pattern it is; none where it is artificial.
    pattern_of: Vec<Option<usize>>,
    /// The column of each pattern there; none where the pattern waits for prices at which it would enter.
    column_of: Vec<Option<usize>>,
    /// What an artificial column costs, in the largest cost of a board; more than any plan that is looked for.
    artificial_cost: f64,
    /// The largest cost of one board.
    pub(crate) largest: i64,
    pub(crate) supply_row: Vec<Option<usize>>,
    pub(crate) first_earlier: usize,
    pair_rows: Vec<PairRow>,
    /// The row of the first of them.
    first_pair: usize,
}

/// A row for the boards that hold both of a pair.
struct PairRow {
    pair: Pair,
    /// How many splits on it hold.
    held: usize,
    /// The artificial column that meets it.
    artificial: usize,
}

impl<'s, 'c> SearchProgram<'s, 'c> {
    pub(crate) fn new(given: &'s EnumeratedProblem<'c>, incumbent: &Incumbent) -> Self {
        let problem = incumbent.problem;
        let (rows, supply_row, first_earlier) = rows(given, problem);
        let columns = columns(given, problem, &supply_row, first_earlier);
        let bounds: Vec<(f64, f64)> = rows.iter().map(SearchRow::float_bounds).collect();
        let mut simplex = Simplex::new(&bounds);
        let largest = given.objective.largest_cost(problem);
        let cutoff = incumbent.cutoff(given.objective);
        let artificial_cost = match cutoff {
            i64::MAX => UNCUT_COST,
            _ => 2.0 * cutoff as f64 / largest as f64 + 1.0,
        };
        for (row, bound) in rows.iter().enumerate() {
            if bound.lower > 0 {
                simplex.add_column(artificial_cost, &[(row as u32, 1.0)]);
            }
        }
        let mut program = SearchProgram {
            given,
            first_pair: rows.len(),
            rows,
            pattern_of: vec![None; simplex.columns()],
            column_of: vec![None; columns.len()],
            columns,
            simplex,
            artificial_cost,
            largest,
            supply_row,
            first_earlier,
            pair_rows: Vec::new(),
        };
        if program.columns.len() <= ACTIVE_COLUMNS {
            for pattern in 0..program.columns.len() {
                program.activate(pattern);
            }
        }
        program
    }

    /// Gives the simplex method the column of a pattern.
    fn activate(&mut self, pattern: usize) {
        let column = &self.columns[pattern];
        let entries = column.entries.iter();
        let entries = entries
            .map(|&(row, entry)| (row as u32, entry as f64 / self.rows[row].scale as f64))
            .collect::<Vec<_>>();
        let cost = column.cost as f64 / self.largest as f64;
        let at = self.simplex.add_column(cost, &entries);
        self.simplex.set_upper(at, column.upper as f64);
        self.column_of[pattern] = Some(at);
        self.pattern_of.push(Some(pattern));
    }

    /// The patterns among these that wait and would enter at the program's prices, the least reduced cost first.
    fn entering(&self, among: impl Iterator<Item = usize>) -> Vec<usize> {
        let prices = self.simplex.prices().iter().zip(&self.rows);
        let prices: Vec<f64> = prices
            .map(|(price, row)| price / row.scale as f64)
            .collect();
        let reduced = |pattern: usize| {
            let column = &self.columns[pattern];
            let mut reduced = column.cost as f64 / self.largest as f64;
            for &(row, entry) in &column.entries {
                reduced -= entry as f64 * prices[row];
            }
            reduced
        };
        let mut entering: Vec<(f64, usize)> = among
            .filter(|&pattern| self.column_of[pattern].is_none() && self.columns[pattern].upper > 0)
            .map(|pattern| (reduced(pattern), pattern))
            .filter(|&(reduced, _)| reduced < -ENTERING_GAIN)
            .collect();
        order::sort_by(&mut entering, |one, other| one.0.total_cmp(&other.0));
        entering.into_iter().map(|(_, pattern)| pattern).collect()
    }

    /// Whether more of something limited is fixed than there is.
    pub(crate) fn is_overdrawn(&self) -> bool {
        let mut rows = self.rows.iter();
        rows.any(|row| row.upper.is_some_and(|upper| upper < 0))
    }

    /// Solves the program: over the patterns that have columns, and as long as ones that wait have a reduced cost below zero those get one. False where
    /// the figures went bad.
    pub(crate) fn solve(&mut self, clock: &mut Clock) -> Result<bool, Stopped> {
        if self.simplex.solve(clock)? == Verdict::Failed {
            self.simplex.reset();
            if self.simplex.solve(clock)? == Verdict::Failed {
                return Ok(false);
            }
        }
        // Those that would have entered are asked again first; all are asked once none of them does.
        let mut asked: Vec<usize> = Vec::new();
        loop {
            let mut entering = self.entering(asked.iter().copied());
            if entering.is_empty() {
                entering = self.entering(0..self.columns.len());
            }
            if entering.is_empty() {
                return Ok(true);
            }
            clock.worked(self.columns.len())?;
            asked = entering.split_off(entering.len().min(ACTIVATIONS));
            for pattern in entering {
                self.activate(pattern);
            }
            if self.simplex.primal(clock)? == Verdict::Failed
                && self.simplex.solve(clock)? == Verdict::Failed
            {
                return Ok(false);
            }
        }
    }

    /// How often each pattern is cut in the program's solution.
    pub(crate) fn values(&self) -> Vec<f64> {
        let solution = self.simplex.solution();
        let columns = self.column_of.iter();
        columns
            .map(|column| column.map_or(0.0, |column| solution[column]))
            .collect()
    }

    /// Fixes so many more (or, taking back, fewer) of a pattern: what is left to cut shrinks.
    pub(crate) fn fix(&mut self, column: usize, count: i64) {
        for at in 0..self.columns[column].entries.len() {
            let (index, entry) = self.columns[column].entries[at];
            // A pair's row that no split holds is not a limit, and may be another pair's by the time this is taken back.
            if index >= self.first_pair && self.pair_rows[index - self.first_pair].held == 0 {
                continue;
            }
            let row = &self.rows[index];
            let upper = row.upper.map(|upper| upper - entry * count);
            self.bound_row(index, row.lower - entry * count, upper);
        }
        let upper = self.columns[column].upper - count;
        self.set_upper(column, upper);
    }

    /// Sets how often a pattern may yet be cut.
    pub(crate) fn set_upper(&mut self, column: usize, upper: i64) {
        self.columns[column].upper = upper;
        if let Some(at) = self.column_of[column] {
            self.simplex.set_upper(at, upper as f64);
        }
    }

    /// Sets the bounds of a row.
    pub(crate) fn bound_row(&mut self, index: usize, lower: i64, upper: Option<i64>) {
        let row = &mut self.rows[index];
        (row.lower, row.upper) = (lower, upper);
        let (lower, upper) = row.float_bounds();
        self.simplex.set_row(index, lower, upper);
    }

    /// Notes that one more split holds a pair's row, or one less.
    pub(crate) fn hold_pair(&mut self, row: usize, holds: bool) {
        let held = &mut self.pair_rows[row - self.first_pair].held;
        *held = if holds { *held + 1 } else { *held - 1 };
    }

    /// A row for a pair: one it has, one no split holds any more, or a new one.
    pub(crate) fn row_of(&mut self, pair: Pair) -> usize {
        let held = |known: &PairRow| known.pair == pair && known.held > 0;
        if let Some(at) = self.pair_rows.iter().position(held) {
            return self.first_pair + at;
        }
        let patterns = self.given.patterns.iter();
        let holds: Vec<bool> = patterns
            .map(|pattern| pairs(pattern).contains(&pair))
            .collect();
        let at = self.free_pair_row(&holds);
        self.pair_rows[at].pair = pair;
        let row = self.first_pair + at;
        for (column, &holds) in self.columns.iter_mut().zip(&holds) {
            column.entries.retain(|&(index, _)| index != row);
            if holds {
                column.entries.push((row, 1));
            }
        }
        row
    }

    /// A row of the patterns that hold both of a pair, without bounds: one that no split holds any more, or a new one.
    fn free_pair_row(&mut self, holds: &[bool]) -> usize {
        let pattern_of = &self.pattern_of;
        let entry = |column: usize| {
            let holds = pattern_of[column].is_some_and(|pattern| holds[pattern]);
            f64::from(u8::from(holds))
        };
        let everything = (f64::NEG_INFINITY, f64::INFINITY);
        for (at, known) in self.pair_rows.iter().enumerate() {
            let artificial = known.artificial;
            let own = |column: usize| {
                if column == artificial {
                    1.0
                } else {
                    entry(column)
                }
            };
            let row = self.first_pair + at;
            if known.held == 0 && self.simplex.replace_row(row, everything, own) {
                return at;
            }
        }
        let row = self.rows.len() as u32;
        self.simplex.add_row(everything.0, everything.1, entry);
        // No patterns may be able to meet what a split asks for, and the program is to show it by its cost.
        let artificial = self.simplex.add_column(self.artificial_cost, &[(row, 1.0)]);
        self.pattern_of.push(None);
        self.rows.push(SearchRow::new(0, None));
        self.pair_rows.push(PairRow {
            pair: (0, 0),
            held: 0,
            artificial,
        });
        self.pair_rows.len() - 1
    }
}

/// The rows, for each board the row of its supply, and the first row of the earlier levels.
fn rows(
    given: &EnumeratedProblem,
    problem: &Problem,
) -> (Vec<SearchRow>, Vec<Option<usize>>, usize) {
    let parts = given.demand.iter();
    let mut rows: Vec<SearchRow> = parts
        .map(|&count| SearchRow::new(i64::from(count), None))
        .collect();
    let mut supply_row = vec![None; problem.boards.len()];
    for (board, supply) in given.supply.iter().enumerate() {
        if let Some(supply) = supply {
            supply_row[board] = Some(rows.len());
            rows.push(SearchRow::new(0, Some(i64::from(*supply))));
        }
    }
    let first_earlier = rows.len();
    for &(level, value) in given.earlier {
        rows.push(SearchRow {
            scale: level.largest_cost(problem),
            ..SearchRow::new(0, Some(value))
        });
    }
    for decision in &given.path {
        rows.push(match decision.side {
            BranchSide::AtMost(at) => SearchRow::new(0, Some(i64::from(at))),
            BranchSide::AtLeast(at) => SearchRow::new(i64::from(at), None),
        });
    }
    (rows, supply_row, first_earlier)
}

/// The columns of all patterns.
fn columns(
    given: &EnumeratedProblem,
    problem: &Problem,
    supply_row: &[Option<usize>],
    first_earlier: usize,
) -> Vec<SearchColumn> {
    let first_decision = first_earlier + given.earlier.len();
    let column = |pattern: &Pattern| {
        let counts = pattern.counts();
        let mut entries: Vec<(usize, i64)> = counts
            .iter()
            .map(|&(part, count)| (part, i64::from(count)))
            .collect();
        entries.extend(supply_row[pattern.board].map(|row| (row, 1)));
        for (at, (level, _)) in given.earlier.iter().enumerate() {
            let cost = level.cost(problem, pattern);
            if cost != 0 {
                entries.push((first_earlier + at, cost));
            }
        }
        for (at, decision) in given.path.iter().enumerate() {
            let adds = decision.counted.of(problem, &decision.boards, pattern);
            if adds > 0 {
                entries.push((first_decision + at, i64::from(adds)));
            }
        }
        let most = counts
            .iter()
            .map(|&(part, count)| given.demand[part].div_ceil(count))
            .max()
            .unwrap_or(0);
        SearchColumn {
            cost: given.objective.cost(problem, pattern),
            entries,
            upper: i64::from(most),
        }
    };
    given.patterns.iter().map(column).collect()
}
