//! A linear program and a basis of it: rows, columns, values and prices. The step from one basis to the next is in [`crate::simplex::basis`].
//!
//! The invariants are those at the head of [`crate::simplex`]. Nothing here loops but over rows, columns and entries.

use crate::clock::{Clock, Stopped};
use crate::limits::{BOUND_PERTURBATION, ITERATIONS, ITERATIONS_PER_LOOK};
use crate::random::Xorshift;
use crate::simplex::factors::Factors;

/// What became of a run of the method.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Verdict {
    /// Optimal over the columns there are.
    Optimal,
    /// The rows cannot be met by the columns there are, or the figures went bad.
    Failed,
}

/// Where a variable is.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Status {
    /// In the basis.
    Basic,
    /// At its lower bound.
    Lower,
    /// At its upper bound.
    Upper,
}

/// A variable of the program.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Variable {
    /// The activity of a row.
    Row(usize),
    /// A column.
    Column(usize),
}

/// A linear program and a basis of it.
#[derive(Clone, Debug, Default)]
pub(crate) struct Simplex {
    pub(super) row_lower: Vec<f64>,
    pub(super) row_upper: Vec<f64>,
    pub(super) row_status: Vec<Status>,
    starts: Vec<usize>,
    entries: Vec<(u32, f64)>,
    /// The same entries for each row: (column, entry).
    by_row: Vec<Vec<(u32, f64)>>,
    pub(super) cost: Vec<f64>,
    pub(super) upper: Vec<f64>,
    pub(super) status: Vec<Status>,
    pub(super) basis: Vec<Variable>,
    pub(super) factors: Factors,
    /// Whether a row was written, or another basis taken, since the basis was factored.
    pub(super) is_stale: bool,
    pub(super) value: Vec<f64>,
    pub(super) prices: Vec<f64>,
    random: Xorshift,
}

impl Simplex {
    /// Rows with these bounds on their activities, and no columns yet.
    pub(crate) fn new(bounds: &[(f64, f64)]) -> Self {
        let mut simplex = Simplex {
            starts: vec![0],
            random: Xorshift(0x9e37_79b9_7f4a_7c15),
            ..Simplex::default()
        };
        for &(lower, upper) in bounds {
            simplex.row_lower.push(0.0);
            simplex.row_upper.push(0.0);
            simplex.row_status.push(Status::Basic);
            simplex.by_row.push(Vec::new());
            simplex.set_row(simplex.row_lower.len() - 1, lower, upper);
        }
        simplex.reset();
        simplex
    }

    /// How many rows there are.
    pub(crate) fn rows(&self) -> usize {
        self.row_lower.len()
    }

    /// How many columns there are.
    pub(crate) fn columns(&self) -> usize {
        self.cost.len()
    }

    /// How many entries all columns have.
    pub(crate) fn entries(&self) -> usize {
        self.entries.len()
    }

    /// The entries of a column: (row, entry).
    #[inline]
    pub(super) fn column(&self, column: usize) -> &[(u32, f64)] {
        &self.entries[self.starts[column]..self.starts[column + 1]]
    }

    /// Sets the bounds of a row's activity, loosened by a hair.
    pub(crate) fn set_row(&mut self, row: usize, lower: f64, upper: f64) {
        let hair = BOUND_PERTURBATION * (0.5 + 0.5 * self.random.unit());
        self.row_lower[row] = lower - hair;
        self.row_upper[row] = upper + hair;
        if self.row_status[row] == Status::Upper && upper.is_infinite() {
            self.row_status[row] = Status::Lower;
        }
        if self.row_status[row] == Status::Lower && lower.is_infinite() {
            self.row_status[row] = Status::Upper;
        }
    }

    /// Sets the cost of a column; the next solve must be the primal method's, or start from a reset.
    pub(crate) fn set_cost(&mut self, column: usize, cost: f64) {
        self.cost[column] = cost;
    }

    /// The cost of a column.
    pub(crate) fn cost_of(&self, column: usize) -> f64 {
        self.cost[column]
    }

    /// Sets the bound above a column.
    pub(crate) fn set_upper(&mut self, column: usize, upper: f64) {
        self.upper[column] = upper;
        if self.status[column] == Status::Upper && upper.is_infinite() {
            self.status[column] = Status::Lower;
        }
    }

    /// Sets the costs of columns outside the basis apart by up to so much, so that prices stay; returns what they were.
    pub(crate) fn perturb_costs(&mut self, most: f64) -> Vec<f64> {
        let costs = self.cost.clone();
        for (cost, &status) in self.cost.iter_mut().zip(&self.status) {
            if status != Status::Basic {
                *cost += most * (0.5 + 0.5 * self.random.unit());
            }
        }
        costs
    }

    /// Takes that back.
    pub(crate) fn restore_costs(&mut self, costs: Vec<f64>) {
        self.cost = costs;
        self.recompute();
    }

    /// Adds a column that starts at zero.
    pub(crate) fn add_column(&mut self, cost: f64, entries: &[(u32, f64)]) -> usize {
        let column = self.cost.len() as u32;
        for &(row, entry) in entries {
            self.by_row[row as usize].push((column, entry));
        }
        self.entries.extend_from_slice(entries);
        self.starts.push(self.entries.len());
        self.cost.push(cost);
        self.upper.push(f64::INFINITY);
        self.status.push(Status::Lower);
        self.cost.len() - 1
    }

    /// Adds a row whose entry in each column is told by `entry`. Its activity joins the basis, so the basis stays one.
    pub(crate) fn add_row(&mut self, lower: f64, upper: f64, entry: impl Fn(usize) -> f64) {
        let row = self.rows();
        self.row_lower.push(0.0);
        self.row_upper.push(0.0);
        self.row_status.push(Status::Basic);
        self.basis.push(Variable::Row(row));
        self.by_row.push(Vec::new());
        self.write_row(row, entry);
        self.set_row(row, lower, upper);
        self.value.push(0.0);
        self.prices.push(0.0);
        self.wrote(row);
    }

    /// Makes another row of one whose activity is in the basis; false where it is not.
    pub(crate) fn replace_row(
        &mut self,
        row: usize,
        (lower, upper): (f64, f64),
        entry: impl Fn(usize) -> f64,
    ) -> bool {
        if self.row_status[row] != Status::Basic {
            return false;
        }
        self.write_row(row, entry);
        self.set_row(row, lower, upper);
        self.wrote(row);
        true
    }

    /// The activity of a row that was written, which is basic, so that its price stays zero; the factors follow later.
    fn wrote(&mut self, row: usize) {
        self.is_stale = true;
        let solution = self.solution();
        let entries = self.by_row[row].iter();
        let level = entries.map(|&(column, entry)| entry * solution[column as usize]);
        let level = level.sum();
        let mut basis = self.basis.iter();
        if let Some(at) = basis.position(|&basic| basic == Variable::Row(row)) {
            self.value[at] = level;
        }
    }

    /// Writes a row's entries over those it has.
    fn write_row(&mut self, row: usize, entry: impl Fn(usize) -> f64) {
        let mut entries = Vec::with_capacity(self.entries.len() + self.columns());
        let mut starts = vec![0];
        self.by_row[row].clear();
        for column in 0..self.columns() {
            let old = self.column(column).iter();
            entries.extend(old.filter(|&&(index, _)| index as usize != row));
            let new = entry(column);
            if new != 0.0 {
                entries.push((row as u32, new));
                self.by_row[row].push((column as u32, new));
            }
            starts.push(entries.len());
        }
        self.entries = entries;
        self.starts = starts;
    }

    /// The values of all columns.
    pub(crate) fn solution(&self) -> Vec<f64> {
        let mut solution: Vec<f64> = (0..self.columns())
            .map(|column| {
                if self.status[column] == Status::Upper {
                    self.upper[column]
                } else {
                    0.0
                }
            })
            .collect();
        for (position, &variable) in self.basis.iter().enumerate() {
            if let Variable::Column(column) = variable {
                solution[column] = self.value[position];
            }
        }
        solution
    }

    /// What one unit more of each row's activity costs.
    pub(crate) fn prices(&self) -> &[f64] {
        &self.prices
    }

    /// The value of the objective.
    pub(crate) fn objective(&self) -> f64 {
        self.solution()
            .iter()
            .zip(&self.cost)
            .map(|(x, cost)| x * cost)
            .sum()
    }

    /// Cost less the worth of the entries.
    #[inline]
    pub(crate) fn reduced_cost(&self, column: usize) -> f64 {
        self.cost[column] - self.dot(column, &self.prices)
    }

    /// Counts the work of an iteration, and looks at the clock after so many at the latest.
    pub(crate) fn iterated(&self, iteration: usize, clock: &mut Clock) -> Result<(), Stopped> {
        if iteration % ITERATIONS_PER_LOOK == ITERATIONS_PER_LOOK - 1 {
            clock.go_on()
        } else {
            clock.worked((self.factors.entries() + self.entries.len()) / 4)
        }
    }

    /// Iterations that any run of a method may take.
    pub(crate) fn iteration_limit(&self) -> usize {
        let (alone, each) = ITERATIONS;
        alone + each * self.rows()
    }

    /// The positions of the basis: the variable and the value of each.
    pub(crate) fn basic(&self) -> impl Iterator<Item = (Variable, f64)> {
        self.basis.iter().copied().zip(self.value.iter().copied())
    }

    /// The variable and the value at a position of the basis.
    pub(crate) fn basic_at(&self, position: usize) -> (Variable, f64) {
        (self.basis[position], self.value[position])
    }

    /// The rows whose activity may enter: those that are not basic and whose bounds leave it room, each with where it is and its reduced cost.
    pub(crate) fn nonbasic_rows(&self) -> impl Iterator<Item = (usize, Status, f64)> {
        (0..self.rows())
            .filter(|&row| self.row_status[row] != Status::Basic)
            .map(|row| (row, self.row_status[row], self.prices[row]))
    }

    /// Whether a row's bounds leave its activity room.
    pub(crate) fn has_range(&self, row: usize) -> bool {
        self.row_lower[row] < self.row_upper[row]
    }

    /// Where a column is that may enter: one that is not basic and may be above zero.
    #[inline]
    pub(crate) fn may_enter(&self, column: usize) -> Option<Status> {
        let status = self.status[column];
        (status != Status::Basic && self.upper[column] > 0.0).then_some(status)
    }

    /// The row of the inverse that belongs to a position of the basis.
    pub(crate) fn inverse_row(&self, position: usize) -> Vec<f64> {
        self.factors.row(position)
    }

    /// The bounds of a variable.
    #[inline]
    pub(crate) fn bounds(&self, variable: Variable) -> (f64, f64) {
        match variable {
            Variable::Row(row) => (self.row_lower[row], self.row_upper[row]),
            Variable::Column(column) => (0.0, self.upper[column]),
        }
    }

    /// The bound at which a variable outside the basis rests.
    #[inline]
    pub(super) fn resting(&self, variable: Variable, status: Status) -> f64 {
        let (lower, upper) = self.bounds(variable);
        if status == Status::Upper {
            upper
        } else {
            lower
        }
    }

    /// The sum of a column's entries, each times that of its row.
    #[inline]
    pub(crate) fn dot(&self, column: usize, with: &[f64]) -> f64 {
        // A loop, for this is asked most of all, and where code is kept small a chain of iterators is a chain of calls. The sum of nothing
        // has the sign that the library gives it.
        let mut sum = -0.0;
        for &(row, entry) in self.column(column) {
            sum += entry * with[row as usize];
        }
        sum
    }

    /// A row of the inverse times each column.
    pub(crate) fn times_columns(&self, row: &[f64]) -> Vec<f64> {
        let mut products = vec![0.0; self.columns()];
        for (times, entries) in row.iter().zip(&self.by_row) {
            if *times != 0.0 {
                for &(column, entry) in entries {
                    products[column as usize] += times * entry;
                }
            }
        }
        products
    }

    /// The inverse times a variable's column.
    pub(crate) fn times_inverse(&self, variable: Variable) -> Vec<f64> {
        let mut column = vec![0.0; self.rows()];
        match variable {
            Variable::Row(row) => column[row] = -1.0,
            Variable::Column(index) => {
                for &(row, entry) in self.column(index) {
                    column[row as usize] = entry;
                }
            }
        }
        self.factors.solve(column)
    }
}
