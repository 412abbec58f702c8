//! The linear program behind the prices: a bounded revised simplex method over sparse factors of the basis.
//!
//! **Idea** (Dantzig 1947; the revised method of 1953, the dual method of Lemke 1954; bounds as in Chvátal, Linear Programming, 1983, chapter
//! 8). Rows are `sum of a[i][j] * x[j] = g[i]` with bounds on the activity `g[i]`; columns have `0 <= x[j] <= upper[j]` and a
//! cost of at least zero. So the basis of all row activities is dual feasible, whatever the bounds are, and stays a
//! starting point for the dual method after any change of bounds; the primal method takes over when columns are added. That
//! is all that column generation and branching ask for, and it is why no first phase exists.
//!
//! **Invariant.** The factors are those of the basis, values and prices follow from them, and every variable outside the basis rests at one of
//! its bounds. **Why it ends:** row bounds are loosened by tiny different amounts (perturbation, Charnes 1952), which makes ties, and with
//! them cycling, rare; a limit on iterations ends what is left.
//!
//! Floats live here and only propose: a solution is rounded to cuttings that are checked, and prices are rounded to integers
//! that are proved.

mod basis;
mod dual;
mod factors;
mod primal;
mod program;

use crate::clock::{Clock, Stopped};
use crate::limits::{COST_PERTURBATION, FIRST_TRY, TRACE_OF_COST};

pub(crate) use crate::simplex::basis::Basis;
pub(crate) use crate::simplex::program::{Simplex, Verdict};

impl Simplex {
    /// Repairs the basis by the dual method, then finishes by the primal one. Where that fails it starts over with costs further apart, and the
    /// primal method ends with the true ones.
    pub(crate) fn solve(&mut self, clock: &mut Clock) -> Result<Verdict, Stopped> {
        self.make_current(clock)?;
        if self.dual(self.first_try(), clock)? == Verdict::Optimal
            && self.primal(clock)? == Verdict::Optimal
        {
            return Ok(Verdict::Optimal);
        }
        self.reset();
        if self.dual_apart(COST_PERTURBATION, self.iteration_limit(), clock)? == Verdict::Optimal {
            self.primal(clock)
        } else {
            Ok(Verdict::Failed)
        }
    }

    /// Meets the rows by the dual method, in so many iterations as are tried first, where all costs are alike: there it stalls among reduced costs
    /// of zero, so costs are set apart by a trace meanwhile.
    pub(crate) fn repair(&mut self, clock: &mut Clock) -> Result<Verdict, Stopped> {
        self.make_current(clock)?;
        self.dual_apart(TRACE_OF_COST, self.first_try(), clock)
    }

    fn first_try(&self) -> usize {
        let (alone, each) = FIRST_TRY;
        alone + each * self.rows()
    }

    /// Factors, values and prices of what was set since.
    fn make_current(&mut self, clock: &mut Clock) -> Result<(), Stopped> {
        if !self.factor_when_due(clock)? {
            self.recompute();
        }
        Ok(())
    }

    /// The dual method with costs set apart by up to so much, and then the true ones.
    fn dual_apart(
        &mut self,
        most: f64,
        limit: usize,
        clock: &mut Clock,
    ) -> Result<Verdict, Stopped> {
        let costs = self.perturb_costs(most);
        let met = self.dual(limit, clock);
        self.restore_costs(costs);
        met
    }
}
