//! The primal simplex method, from a basis that meets the rows.
//!
//! **Idea.** The variable enters whose reduced cost promises most for its weight, which tells how long a way a step of it is (Devex, Harris 1973):
//! weights are one at first and follow from the row of each pivot, as reduced costs do. Of the variables it drives to a bound within the tolerance
//! the one with the largest pivot leaves (Harris again), which keeps the factors sound. A variable that meets its own other bound first
//! only crosses over.
//!
//! Of many columns only those nearest to the basis are looked at from pivot to pivot: the basic ones and those of the least reduced costs (partial
//! pricing, as in Maros 2003, chapter 9). Where none of them promises anything, reduced costs of all are worked out afresh and others are chosen.
//!
//! **Invariant.** Every basic variable stays within its bounds, but for the tolerance. That none promises anything is said of all reduced costs, worked out
//! afresh. **Why it ends:** every step lowers the objective or is one of the rare degenerate ones; the limit on iterations ends what is left.

use crate::clock::{Clock, Stopped};
use crate::limits::{
    ACTIVITY_TOLERANCE, MANY_COLUMNS, NEAR_COLUMNS_PER_ROW, PIVOT_TOLERANCE, REDUCED_COST_TOLERANCE,
};
use crate::simplex::basis::PivotStep;
use crate::simplex::program::{Simplex, Status, Variable, Verdict};

/// What the choice of the entering variable goes by: reduced costs and weights of columns, and weights of rows' activities.
struct Devex {
    reduced: Vec<f64>,
    columns: Vec<f64>,
    rows: Vec<f64>,
    /// The columns looked at, ascending, among them all that are basic; none where all are.
    near: Option<Vec<usize>>,
}

impl Devex {
    fn new(simplex: &Simplex) -> Self {
        let reduced = simplex.reduced_costs();
        Devex {
            near: simplex.near_columns(&reduced),
            reduced,
            columns: vec![1.0; simplex.columns()],
            rows: vec![1.0; simplex.rows()],
        }
    }

    /// Works reduced costs out afresh: of all columns, or of those looked at.
    fn refresh(&mut self, simplex: &Simplex, all: bool) {
        match &self.near {
            Some(near) if !all => {
                for &column in near {
                    self.reduced[column] = simplex.reduced_cost(column);
                }
            }
            _ => {
                self.reduced = simplex.reduced_costs();
                self.near = simplex.near_columns(&self.reduced);
            }
        }
    }

    /// Follows a pivot that is about to be made: `slope` is its entry, `row` the row of the inverse that belongs to the position left.
    fn follow(&mut self, simplex: &Simplex, pivot: &PivotStep, slope: f64, row: &[f64]) {
        let (entering, reduced) = pivot.entering;
        let weight = match entering {
            Variable::Row(row) => self.rows[row],
            Variable::Column(column) => self.columns[column],
        };
        let mut moved = |column: usize, product: f64| {
            if product != 0.0 {
                let share = product / slope;
                self.reduced[column] -= reduced * share;
                self.columns[column] = self.columns[column].max(share * share * weight);
            }
        };
        match &self.near {
            Some(near) => {
                for &column in near {
                    moved(column, simplex.dot(column, row));
                }
            }
            None => {
                for (column, product) in simplex.times_columns(row).into_iter().enumerate() {
                    moved(column, product);
                }
            }
        }
        for (index, _, _) in simplex.nonbasic_rows() {
            let share = row[index] / slope;
            self.rows[index] = self.rows[index].max(share * share * weight);
        }
        let left = (weight / (slope * slope)).max(1.0);
        match simplex.basic_at(pivot.leaving).0 {
            Variable::Row(row) => self.rows[row] = left,
            Variable::Column(column) => {
                self.columns[column] = left;
                self.reduced[column] = -reduced / slope;
            }
        }
    }
}

impl Simplex {
    /// Goes on from a basis that meets the rows, to the optimum over the columns there are.
    pub(crate) fn primal(&mut self, clock: &mut Clock) -> Result<Verdict, Stopped> {
        let mut devex = Devex::new(self);
        for iteration in 0..self.iteration_limit() {
            self.iterated(iteration, clock)?;
            let mut chosen = self.entering(&devex);
            if chosen.is_none() {
                devex.refresh(self, true);
                chosen = self.entering(&devex);
            }
            let Some((entering, reduced, direction)) = chosen else {
                return Ok(Verdict::Optimal);
            };
            let column = self.times_inverse(entering);
            let (lower, upper) = self.bounds(entering);
            let range = upper - lower;
            let mut step = f64::INFINITY;
            for (position, &slope) in column.iter().enumerate() {
                if let Some(room) = self.room(position, slope * direction) {
                    step = step.min((room + ACTIVITY_TOLERANCE) / slope.abs());
                }
            }
            if range <= step && range.is_finite() {
                self.shift(direction * range, &column);
                let crossed = if direction > 0.0 {
                    Status::Upper
                } else {
                    Status::Lower
                };
                self.put(entering, crossed);
                continue;
            }
            let Some(leaving) = self.leaving(&column, direction, step) else {
                return Ok(Verdict::Failed);
            };
            let slope = column[leaving] * direction;
            let room = self.room(leaving, slope).unwrap_or(0.0).max(0.0);
            let end = if slope > 0.0 {
                Status::Lower
            } else {
                Status::Upper
            };
            let pivot = PivotStep {
                leaving,
                end,
                entering: (entering, reduced),
                step: direction * room / slope.abs(),
            };
            let row = self.inverse_row(leaving);
            devex.follow(self, &pivot, column[leaving], &row);
            self.pivot(pivot, &column, &row);
            if self.factor_when_due(clock)? {
                devex.refresh(self, false);
            }
        }
        Ok(Verdict::Failed)
    }

    /// The reduced cost of each column.
    pub(super) fn reduced_costs(&self) -> Vec<f64> {
        (0..self.columns())
            .map(|column| self.reduced_cost(column))
            .collect()
    }

    /// The variable outside the basis that promises most: itself, its reduced cost, and which way it moves.
    fn entering(&self, devex: &Devex) -> Option<(Variable, f64, f64)> {
        let mut best = 0.0;
        let mut chosen = None;
        let mut consider = |variable: Variable, status: Status, reduced: f64, weight: f64| {
            let (gain, direction) = match status {
                Status::Basic => return,
                Status::Lower => (-reduced, 1.0),
                Status::Upper => (reduced, -1.0),
            };
            if gain > REDUCED_COST_TOLERANCE && gain * gain > best * weight {
                best = gain * gain / weight;
                chosen = Some((variable, reduced, direction));
            }
        };
        for (row, status, price) in self.nonbasic_rows() {
            consider(Variable::Row(row), status, price, devex.rows[row]);
        }
        let mut consider_column = |column: usize, reduced: f64, weight: f64| {
            if reduced.abs() > REDUCED_COST_TOLERANCE
                && let Some(status) = self.may_enter(column)
            {
                consider(Variable::Column(column), status, reduced, weight);
            }
        };
        match &devex.near {
            Some(near) => {
                for &column in near {
                    consider_column(column, devex.reduced[column], devex.columns[column]);
                }
            }
            None => {
                let both = devex.reduced.iter().zip(&devex.columns);
                for (column, (&reduced, &weight)) in both.enumerate() {
                    consider_column(column, reduced, weight);
                }
            }
        }
        chosen
    }

    /// The basic columns and those that promise most at these reduced costs, or are nearest to it; none where the columns are few, for all of them then.
    fn near_columns(&self, reduced: &[f64]) -> Option<Vec<usize>> {
        let count = NEAR_COLUMNS_PER_ROW * self.rows();
        if self.columns() <= MANY_COLUMNS.max(2 * count) {
            return None;
        }
        // One that may not enter would take the place of one that does.
        let away = |column: usize| match (self.status[column], self.may_enter(column)) {
            (Status::Basic, _) => f64::NEG_INFINITY,
            (_, None) => f64::INFINITY,
            (Status::Lower, _) => reduced[column],
            (Status::Upper, _) => -reduced[column],
        };
        let mut near: Vec<usize> = (0..self.columns()).collect();
        near.select_nth_unstable_by(count, |&one, &other| {
            away(one).total_cmp(&away(other)).then(one.cmp(&other))
        });
        near.truncate(count);
        near.sort_unstable();
        Some(near)
    }

    /// Of the positions that a step of this length would drive to a bound, the one with the largest pivot.
    fn leaving(&self, column: &[f64], direction: f64, step: f64) -> Option<usize> {
        let mut leaving = None;
        let mut largest = 0.0;
        for (position, &slope) in column.iter().enumerate() {
            if let Some(room) = self.room(position, slope * direction)
                && room / slope.abs() <= step
                && slope.abs() > largest
            {
                largest = slope.abs();
                leaving = Some(position);
            }
        }
        leaving
    }

    /// How far the variable at `position` may move against `slope` before it meets a bound.
    fn room(&self, position: usize, slope: f64) -> Option<f64> {
        let (variable, value) = self.basic_at(position);
        let (lower, upper) = self.bounds(variable);
        if slope > PIVOT_TOLERANCE && lower.is_finite() {
            Some((value - lower).max(0.0))
        } else if slope < -PIVOT_TOLERANCE && upper.is_finite() {
            Some((upper - value).max(0.0))
        } else {
            None
        }
    }
}
