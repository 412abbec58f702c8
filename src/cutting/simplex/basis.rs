//! The basis of a linear program: what it rests on, the step from one to the next, and its factors, values and prices.
//!
//! The invariants are those at the head of [`crate::simplex`]. Nothing here loops but over rows, columns and entries.

use crate::clock::{Clock, Stopped};
use crate::simplex::program::{Simplex, Status, Variable};

/// A step from one basis to the next.
pub(crate) struct PivotStep {
    /// The position of the basis that is left.
    pub(crate) leaving: usize,
    /// The bound at which the variable there comes to rest.
    pub(crate) end: Status,
    /// The variable that enters, and its reduced cost.
    pub(crate) entering: (Variable, f64),
    /// How far it moves.
    pub(crate) step: f64,
}

/// A basis to come back to.
#[derive(Clone, Debug, Default)]
pub(crate) struct Basis {
    variables: Vec<Variable>,
    rows: Vec<Status>,
}

impl Simplex {
    /// Starts over from the basis of all row activities.
    pub(crate) fn reset(&mut self) {
        let rows = self.rows();
        self.basis = (0..rows).map(Variable::Row).collect();
        self.row_status = vec![Status::Basic; rows];
        self.status = self.upper.iter().map(|_| Status::Lower).collect();
        self.factors.reset(rows);
        self.is_stale = false;
        self.recompute();
    }

    /// The basis, to come back to.
    pub(crate) fn basis_now(&self) -> Basis {
        Basis {
            variables: self.basis.clone(),
            rows: self.row_status.clone(),
        }
    }

    /// Comes back to a basis. Rows that were added since have their activities in it, and columns outside rest at zero.
    pub(crate) fn come_back_to(&mut self, basis: &Basis) {
        self.basis.clone_from(&basis.variables);
        self.row_status.clone_from(&basis.rows);
        for row in basis.rows.len()..self.rows() {
            self.basis.push(Variable::Row(row));
            self.row_status.push(Status::Basic);
        }
        self.status.fill(Status::Lower);
        for &variable in &self.basis {
            if let Variable::Column(column) = variable {
                self.status[column] = Status::Basic;
            }
        }
        self.is_stale = true;
    }

    /// Moves a variable that is not basic from its bound: the basic values follow.
    pub(crate) fn shift(&mut self, step: f64, column: &[f64]) {
        for (value, slope) in self.value.iter_mut().zip(column) {
            *value -= step * slope;
        }
    }

    /// Goes to the next basis; `column` is the inverse times the entering column, `row` the row of the inverse that belongs to the position left.
    pub(crate) fn pivot(&mut self, pivot: PivotStep, column: &[f64], row: &[f64]) {
        let PivotStep {
            leaving,
            end,
            entering: (entering, reduced),
            step,
        } = pivot;
        let start = match entering {
            Variable::Row(row) => self.resting(entering, self.row_status[row]),
            Variable::Column(index) => self.resting(entering, self.status[index]),
        };
        self.shift(step, column);
        self.value[leaving] = start + step;
        self.put(self.basis[leaving], end);
        self.put(entering, Status::Basic);
        self.basis[leaving] = entering;
        self.factors.update(leaving, column);
        let times = reduced / column[leaving];
        for (price, entry) in self.prices.iter_mut().zip(row) {
            *price += times * entry;
        }
    }

    /// Notes where a variable is.
    pub(crate) fn put(&mut self, variable: Variable, status: Status) {
        match variable {
            Variable::Row(row) => self.row_status[row] = status,
            Variable::Column(column) => self.status[column] = status,
        }
    }

    /// Factors the basis afresh where it is due; where it is singular, starts over. Where time is up in the middle of it what is left is a basis
    /// that holds, of all row activities.
    pub(crate) fn factor_when_due(&mut self, clock: &mut Clock) -> Result<bool, Stopped> {
        if !self.is_stale && !self.factors.are_worn() {
            return Ok(false);
        }
        let basis = self.basis.iter().map(|&variable| match variable {
            Variable::Row(row) => vec![(row as u32, -1.0)],
            Variable::Column(column) => self.column(column).to_vec(),
        });
        match self.factors.factor(basis.collect(), clock) {
            Ok(true) => {
                self.is_stale = false;
                self.recompute();
            }
            Ok(false) => self.reset(),
            Err(stopped) => {
                self.reset();
                return Err(stopped);
            }
        }
        Ok(true)
    }

    /// Values and prices from the inverse; due after costs were set.
    pub(crate) fn recompute(&mut self) {
        debug_assert!(!self.is_stale, "the factors are not those of the basis");
        let rows = self.rows();
        let mut activity = vec![0.0; rows];
        for (row, level) in activity.iter_mut().enumerate() {
            if self.row_status[row] != Status::Basic {
                *level += self.resting(Variable::Row(row), self.row_status[row]);
            }
        }
        for column in 0..self.columns() {
            if self.status[column] == Status::Upper {
                for &(row, entry) in self.column(column) {
                    activity[row as usize] -= entry * self.upper[column];
                }
            }
        }
        let costs = self.basis.iter().map(|&variable| match variable {
            Variable::Row(_) => 0.0,
            Variable::Column(column) => self.cost[column],
        });
        self.prices = self.factors.solve_row(costs.collect());
        self.value = self.factors.solve(activity);
    }
}
