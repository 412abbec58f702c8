//! The completion bound: which partial patterns can still exceed a threshold.
//!
//! **Idea** (the bound of G. B. Dantzig 1957 for one knapsack; common practice in labelling algorithms). A partial pattern grows by parts worth at
//! most so much per tick, the *density* of the best part still to come. So what is left of a run can add no more than the density times its
//! length, and a partial pattern that does not exceed any threshold even so is dropped. Near the end of column generation, when charges and
//! values meet, that leaves few.
//!
//! **Invariant.** What is dropped has no completion that exceeds a threshold. **Why it ends:** thresholds are gone through once for each density
//! and once for each list in order of length.

use crate::limits::DENSITY_BITS;
use crate::pricing::partial_pattern::{PartialPattern, Threshold, Thresholds};
use crate::problem::Ticks;

/// The least value a fill of a given length must have so that some threshold can still be passed.
pub(crate) struct CompletionBound {
    thresholds: Thresholds,
    tick_cost: i64,
    density: i64,
    open_density: i64,
    /// For each threshold, the least over it and longer ones of the value needed at length zero.
    full_needed: Vec<i64>,
    open_needed: Vec<i64>,
}

impl CompletionBound {
    pub(crate) fn new(mut thresholds: Thresholds, tick_cost: i64) -> Self {
        order::sort_by_key(&mut thresholds.full, |threshold| threshold.capacity);
        order::sort_by_key(&mut thresholds.open, |threshold| threshold.capacity);
        let (full_needed, open_needed) = (
            vec![0; thresholds.full.len()],
            vec![0; thresholds.open.len()],
        );
        CompletionBound {
            thresholds,
            tick_cost,
            density: 0,
            open_density: 0,
            full_needed,
            open_needed,
        }
    }

    /// The longest fill there can be.
    pub(crate) fn longest(&self) -> Ticks {
        self.thresholds
            .full
            .last()
            .map_or(0, |threshold| threshold.capacity)
    }

    /// From here on, length can be filled at no more than this value each (times two to the [`DENSITY_BITS`]).
    pub(crate) fn lower(&mut self, density: i64) {
        self.density = density;
        self.open_density = (density - (self.tick_cost << DENSITY_BITS)).max(0);
        let set = |thresholds: &[Threshold], density: i64, needed: &mut Vec<i64>| {
            let mut least = i64::MAX;
            for (threshold, needed) in thresholds.iter().zip(needed.iter_mut()).rev() {
                let reach = density.saturating_mul(threshold.capacity.max(0));
                least = least.min(
                    threshold
                        .value
                        .saturating_mul(1 << DENSITY_BITS)
                        .saturating_sub(reach),
                );
                *needed = least;
            }
        };
        set(&self.thresholds.full, self.density, &mut self.full_needed);
        set(
            &self.thresholds.open,
            self.open_density,
            &mut self.open_needed,
        );
    }

    pub(crate) fn scan(&self) -> CompletionScan<'_> {
        let open_density = self
            .open_density
            .saturating_add(self.tick_cost << DENSITY_BITS);
        CompletionScan {
            completion: self,
            full_at: 0,
            open_at: 0,
            full_slope: Slope::new(self.density),
            open_slope: Slope::new(open_density),
        }
    }

    /// Drops from a list what can pass no threshold.
    pub(crate) fn clear(&self, list: &mut Vec<PartialPattern>) {
        let mut scan = self.scan();
        list.retain(|fill| scan.passes(fill.length, fill.value));
    }
}

/// [`CompletionBound`] asked in order of ascending length.
pub(crate) struct CompletionScan<'h> {
    completion: &'h CompletionBound,
    full_at: usize,
    open_at: usize,
    full_slope: Slope,
    open_slope: Slope,
}

/// A density times a length, or the largest number there is. WebAssembly tells an overflow only by multiplying in 128 bits, which
/// is slow; so what cannot overflow is told once for all lengths.
struct Slope {
    density: i64,
    safe: Ticks,
}

impl Slope {
    /// `density` is at least zero.
    pub(crate) fn new(density: i64) -> Self {
        Slope {
            density,
            safe: i64::MAX / density.max(1),
        }
    }

    /// `length` is at least zero.
    pub(crate) fn at(&self, length: Ticks) -> i64 {
        if length <= self.safe {
            self.density.wrapping_mul(length)
        } else {
            i64::MAX
        }
    }
}

impl CompletionScan<'_> {
    pub(crate) fn passes(&mut self, length: Ticks, value: i64) -> bool {
        let completion = self.completion;
        let worth = value << DENSITY_BITS;
        while completion
            .thresholds
            .full
            .get(self.full_at)
            .is_some_and(|threshold| threshold.capacity < length)
        {
            self.full_at += 1;
        }
        if let Some(needed) = completion.full_needed.get(self.full_at)
            && worth > needed.saturating_add(self.full_slope.at(length))
        {
            return true;
        }
        while completion
            .thresholds
            .open
            .get(self.open_at)
            .is_some_and(|threshold| threshold.capacity < length)
        {
            self.open_at += 1;
        }
        completion
            .open_needed
            .get(self.open_at)
            .is_some_and(|needed| worth > needed.saturating_add(self.open_slope.at(length)))
    }
}
