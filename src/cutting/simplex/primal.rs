//! The primal simplex method, from a basis that meets the rows.
//!
//! **Idea.** The variable whose reduced cost promises most enters (Dantzig 1947). Of the variables it drives to a bound within the tolerance the
//! one with the largest pivot leaves (Harris 1973), which keeps the inverse sound. A variable that meets its own other bound first only
//! crosses over.
//!
//! **Invariant.** Every basic variable stays within its bounds, but for the tolerance. **Why it ends:** every step lowers the objective or is one of
//! the rare degenerate ones; the limit on iterations ends what is left.

use crate::clock::{Clock, Stopped};
use crate::limits::{ACTIVITY_TOLERANCE, PIVOT_TOLERANCE, REDUCED_COST_TOLERANCE};
use crate::simplex::program::{PivotStep, Simplex, Status, Variable, Verdict};

impl Simplex {
    /// Goes on from a basis that meets the rows, to the optimum over the columns there are.
    pub(crate) fn primal(&mut self, clock: &mut Clock) -> Result<Verdict, Stopped> {
        for iteration in 0..self.iteration_limit() {
            self.iterated(iteration, clock)?;
            let Some((entering, reduced, direction)) = self.entering() else {
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
            self.pivot(pivot, &column);
            self.invert_when_due(clock)?;
        }
        Ok(Verdict::Failed)
    }

    /// The variable outside the basis that lowers the cost fastest: itself, its reduced cost, and which way it moves.
    fn entering(&self) -> Option<(Variable, f64, f64)> {
        let mut best = REDUCED_COST_TOLERANCE;
        let mut chosen = None;
        let mut consider = |variable: Variable, status: Status, reduced: f64| {
            let (gain, direction) = match status {
                Status::Basic => return,
                Status::Lower => (-reduced, 1.0),
                Status::Upper => (reduced, -1.0),
            };
            if gain > best {
                best = gain;
                chosen = Some((variable, reduced, direction));
            }
        };
        for (row, status, price) in self.nonbasic_rows() {
            consider(Variable::Row(row), status, price);
        }
        for column in 0..self.columns() {
            if let Some(status) = self.may_enter(column) {
                consider(Variable::Column(column), status, self.reduced_cost(column));
            }
        }
        chosen
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
