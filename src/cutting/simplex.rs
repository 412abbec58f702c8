//! The linear program behind the prices: a bounded revised simplex method with an explicit inverse of the basis.
//!
//! **Idea** (Dantzig 1947; the revised method of 1953, the dual method of Lemke 1954; bounds as in Chvátal, Linear Programming, 1983, chapter
//! 8). Rows are `sum of a[i][j] * x[j] = g[i]` with bounds on the activity `g[i]`; columns have `0 <= x[j] <= upper[j]` and a
//! cost of at least zero. So the basis of all row activities is dual feasible, whatever the bounds are, and stays a
//! starting point for the dual method after any change of bounds; the primal method takes over when columns are added. That
//! is all that column generation and branching ask for, and it is why no first phase exists.
//!
//! **Invariant.** The inverse is that of the basis, values and prices follow from it, and every variable outside the basis rests at one of
//! its bounds. **Why it ends:** row bounds are loosened by tiny different amounts (perturbation, Charnes 1952), which makes ties, and with
//! them cycling, rare; a limit on iterations ends what is left.
//!
//! Floats live here and only propose: a solution is rounded to cuttings that are checked, and prices are rounded to integers
//! that are proved. An inverse kept dense costs `rows^2` a pivot. That is cheap here: rows are part lengths and limited boards, seldom over
//! 200, while a general sparse code spends more on its bookkeeping (see the figures in the developers' notes).

mod dual;
mod inverse;
mod primal;
mod program;

use crate::clock::{Clock, Stopped};
use crate::limits::{COST_PERTURBATION, FIRST_TRY};

pub(crate) use crate::simplex::program::{Simplex, Verdict};

impl Simplex {
    /// Repairs the basis by the dual method, then finishes by the primal one. Where many costs are alike the dual method may stall
    /// among reduced costs of zero; then it starts over with costs set apart, and the primal method ends with the true ones.
    pub(crate) fn solve(&mut self, clock: &mut Clock) -> Result<Verdict, Stopped> {
        self.recompute();
        let (alone, each) = FIRST_TRY;
        let first_try = alone + each * self.rows();
        if self.dual(first_try, clock)? == Verdict::Optimal
            && self.primal(clock)? == Verdict::Optimal
        {
            return Ok(Verdict::Optimal);
        }
        let costs = self.perturb_costs(COST_PERTURBATION);
        self.reset();
        let met = self.dual(self.iteration_limit(), clock);
        self.restore_costs(costs);
        if met? == Verdict::Optimal {
            self.primal(clock)
        } else {
            Ok(Verdict::Failed)
        }
    }
}
