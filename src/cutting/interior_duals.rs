//! Prices from the interior of the optimal face.
//!
//! **Idea** (interior duals: Rousseau, Gendreau and Feillet 2007). A node that was just solved has many prices of the same bound, and the simplex
//! method ends at a corner of them. Asked for a little more of some parts and a little less of others it ends at another, and the mean of several is
//! as good a bound at which far fewer patterns have a reduced cost of zero: only those that have it at each corner.
//!
//! **Invariant.** The mean is proved in integers like any prices, so it holds whatever the corners were. **Why it ends:** the samples are counted.

use crate::clock::{Clock, Stopped};
use crate::column_generation::{ColumnGeneration, NodeRelaxation, NodeTask};
use crate::limits::{INTERIOR_SAMPLES, INTERIOR_TILT};
use crate::random::Xorshift;
use crate::simplex::Verdict;

/// The relaxation of a node that was just solved, at prices from the interior.
pub(crate) fn interior(
    generation: &mut ColumnGeneration,
    task: &NodeTask,
    clock: &mut Clock,
) -> Result<NodeRelaxation, Stopped> {
    let parts = generation.master.demand.len();
    let mut mean = vec![0.0; generation.master.simplex.rows()];
    let mut random = Xorshift(0x2545_f491_4f6c_dd1d);
    for _ in 0..INTERIOR_SAMPLES {
        for part in 0..parts {
            let aside = 2.0 * random.unit() - 1.0;
            let wanted = f64::from(generation.master.demand[part]) + INTERIOR_TILT * aside;
            let simplex = &mut generation.master.simplex;
            simplex.set_row(part, wanted.max(0.0), f64::INFINITY);
        }
        let mut scratch = generation.zero_bound();
        scratch.strength = f64::NEG_INFINITY;
        if generation.master.simplex.solve(clock)? == Verdict::Optimal {
            generation.generate(task, &mut scratch, clock)?;
        }
        let prices = generation.master.simplex.prices();
        for (mean, price) in mean.iter_mut().zip(prices) {
            *mean += price / INTERIOR_SAMPLES as f64;
        }
    }
    for part in 0..parts {
        let wanted = f64::from(generation.master.demand[part]);
        let simplex = &mut generation.master.simplex;
        simplex.set_row(part, wanted, f64::INFINITY);
    }
    generation.master.simplex.solve(clock)?;
    let bound = generation.prove(&mean, task.path, clock)?;
    let uncut = generation.master.uncut();
    Ok(generation.relaxed(task, bound, uncut))
}
