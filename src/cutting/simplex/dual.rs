//! The dual simplex method, from a basis whose reduced costs have the right signs.
//!
//! **Idea** (Lemke 1954). The basic variable that misses its bound by most leaves. Of the variables that could take its place the one whose reduced
//! cost reaches zero first enters; of those alike within the tolerance, the one with the largest pivot (Harris 1973).
//!
//! **Invariant.** Reduced costs keep their signs, so that every objective on the way is a lower bound. **Why it ends:** every step raises the objective
//! or is degenerate; the limit on iterations ends what is left.

use crate::clock::{Clock, Stopped};
use crate::limits::{ACTIVITY_TOLERANCE, MISSED, PIVOT_TOLERANCE, REDUCED_COST_TOLERANCE};
use crate::simplex::program::{PivotStep, Simplex, Status, Variable, Verdict};

impl Simplex {
    /// Meets the rows, in so many iterations at most.
    pub(crate) fn dual(&mut self, limit: usize, clock: &mut Clock) -> Result<Verdict, Stopped> {
        for iteration in 0..limit {
            self.iterated(iteration, clock)?;
            let Some((leaving, end, missed_by)) = self.most_missed() else {
                return Ok(Verdict::Optimal);
            };
            let Some((entering, reduced)) = self.ratio_test(leaving, end) else {
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
            self.pivot(pivot, &column);
            self.invert_when_due(clock)?;
        }
        Ok(Verdict::Failed)
    }

    /// The position of the basis that misses its bound by most, that bound, and the value less the bound.
    fn most_missed(&self) -> Option<(usize, Status, f64)> {
        let mut worst = ACTIVITY_TOLERANCE * MISSED;
        let mut leaving = None;
        for (position, (variable, value)) in self.basic().enumerate() {
            let (lower, upper) = self.bounds(variable);
            if lower - value > worst {
                worst = lower - value;
                leaving = Some((position, Status::Lower, value - lower));
            } else if value - upper > worst {
                worst = value - upper;
                leaving = Some((position, Status::Upper, value - upper));
            }
        }
        leaving
    }

    /// The variable that enters when the one at `leaving` is driven to its bound at `end`, with its reduced cost.
    fn ratio_test(&self, leaving: usize, end: Status) -> Option<(Variable, f64)> {
        let row = self.inverse_row(leaving);
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
        for column in 0..self.columns() {
            if let Some(status) = self.may_enter(column) {
                consider(
                    Variable::Column(column),
                    status,
                    self.reduced_cost(column),
                    self.dot(column, row),
                );
            }
        }
        chosen
    }
}
