//! The dual simplex method, from a basis whose reduced costs have the right signs.
//!
//! **Idea** (Lemke 1954). The basic variable that misses its bound by most for its weight leaves (Devex, Harris 1973: weights are one at first and
//! follow from the column of each pivot). Of the variables that could take its place the one whose reduced
//! cost reaches zero first enters; of those alike within the tolerance, the one with the largest pivot (Harris 1973).
//!
//! **Invariant.** Reduced costs keep their signs, so that every objective on the way is a lower bound. **Why it ends:** every step raises the objective
//! or is degenerate; the limit on iterations ends what is left.

use crate::clock::{Clock, Stopped};
use crate::limits::{ACTIVITY_TOLERANCE, MISSED, PIVOT_TOLERANCE, REDUCED_COST_TOLERANCE};
use crate::simplex::basis::PivotStep;
use crate::simplex::program::{Simplex, Status, Variable, Verdict};

impl Simplex {
    /// Meets the rows, in so many iterations at most.
    pub(crate) fn dual(&mut self, limit: usize, clock: &mut Clock) -> Result<Verdict, Stopped> {
        let mut weights = vec![1.0; self.rows()];
        let mut costs = self.reduced_costs();
        for iteration in 0..limit {
            self.iterated(iteration, clock)?;
            let Some((leaving, end, missed_by)) = self.most_missed(&weights) else {
                return Ok(Verdict::Optimal);
            };
            let row = self.inverse_row(leaving);
            let products = self.times_columns(&row);
            let Some((entering, reduced)) = self.ratio_test((&row, &products), &costs, end) else {
                return Ok(Verdict::Failed);
            };
            let column = self.times_inverse(entering);
            if column[leaving].abs() < PIVOT_TOLERANCE {
                return Ok(Verdict::Failed);
            }
            let pivot = PivotStep {
                leaving,
                end,
                entering: (entering, reduced),
                step: missed_by / column[leaving],
            };
            let share = reduced / column[leaving];
            for (cost, product) in costs.iter_mut().zip(&products) {
                *cost -= share * product;
            }
            if let Variable::Column(left) = self.basic_at(leaving).0 {
                costs[left] = -share;
            }
            let weight = weights[leaving] / (column[leaving] * column[leaving]);
            for (other, slope) in weights.iter_mut().zip(&column) {
                *other = f64::max(*other, slope * slope * weight);
            }
            weights[leaving] = weight.max(1.0);
            self.pivot(pivot, &column, &row);
            if self.factor_when_due(clock)? {
                costs = self.reduced_costs();
            }
        }
        Ok(Verdict::Failed)
    }

    /// The position of the basis that misses its bound by most for its weight, that bound, and the value less the bound.
    fn most_missed(&self, weights: &[f64]) -> Option<(usize, Status, f64)> {
        let least = ACTIVITY_TOLERANCE * MISSED;
        let mut worst = 0.0;
        let mut leaving = None;
        for (position, (variable, value)) in self.basic().enumerate() {
            let (lower, upper) = self.bounds(variable);
            let (end, missed) = if value < lower {
                (Status::Lower, value - lower)
            } else {
                (Status::Upper, value - upper)
            };
            if missed.abs() > least
                && (end == Status::Lower || missed > 0.0)
                && missed * missed > worst * weights[position]
            {
                worst = missed * missed / weights[position];
                leaving = Some((position, end, missed));
            }
        }
        leaving
    }

    /// The variable that enters when the one at `leaving` is driven to its bound at `end`, with its reduced cost.
    fn ratio_test(
        &self,
        (row, products): (&[f64], &[f64]),
        costs: &[f64],
        end: Status,
    ) -> Option<(Variable, f64)> {
        let sign = if end == Status::Lower { 1.0 } else { -1.0 };
        let mut least = f64::INFINITY;
        let mut chosen = None;
        let mut largest = 0.0;
        let mut consider = |variable: Variable, status: Status, reduced: f64, slope: f64| {
            let toward = match status {
                Status::Basic => return,
                Status::Lower => -slope * sign,
                Status::Upper => slope * sign,
            };
            if toward <= PIVOT_TOLERANCE {
                return;
            }
            let ratio = reduced.abs() / toward;
            if ratio < least - REDUCED_COST_TOLERANCE
                || (ratio <= least + REDUCED_COST_TOLERANCE && toward > largest)
            {
                least = least.min(ratio);
                largest = toward;
                chosen = Some((variable, reduced));
            }
        };
        for (index, status, price) in self.nonbasic_rows() {
            if self.has_range(index) {
                consider(Variable::Row(index), status, price, -row[index]);
            }
        }
        for (column, &product) in products.iter().enumerate() {
            if product.abs() > PIVOT_TOLERANCE
                && let Some(status) = self.may_enter(column)
            {
                consider(Variable::Column(column), status, costs[column], product);
            }
        }
        chosen
    }
}
