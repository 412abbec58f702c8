//! Pairs of parts on one board, and the pair to split on.
//!
//! **Idea** (Ryan and Foster 1981; for cutting stock with demands above one, Vance 1998). Two parts lie on one board together in some patterns; in a
//! plan the number of those boards is an integer. Where it is fractional in a solution, splitting on it changes both sides much more than splitting
//! on one pattern does.
//!
//! **Invariant.** A pair that is chosen has a fractional sum, within the bounds that splits on it have set. **Why it ends:** one pass over patterns and their pairs.

use crate::limits::{INTEGRAL, INTEGRAL_MARGIN};
use crate::pattern::Pattern;
use std::collections::HashMap;

/// Two parts, the lesser index first, that lie on one board together; the same one twice where a board holds two of it.
pub(crate) type Pair = (usize, usize);

/// A side of a split on how many boards hold both of a pair.
#[derive(Clone, Copy)]
pub(crate) struct PairSplit {
    pub(crate) pair: Pair,
    /// The row that bounds them.
    pub(crate) row: usize,
    pub(crate) at: i64,
    /// Whether they are more than `at`.
    pub(crate) more: bool,
}

impl PairSplit {
    /// Whether splitting at a number makes this split stricter on both sides. It does not where the program misses a bound.
    fn lets(&self, pair: Pair, number: f64) -> bool {
        let at = self.at as f64;
        self.pair != pair
            || if self.more {
                number > at + 1.0
            } else {
                number < at
            }
    }
}

/// The pairs of parts on one board.
pub(crate) fn pairs(pattern: &Pattern) -> Vec<Pair> {
    let counts = pattern.counts();
    let mut pairs = Vec::new();
    for (at, &(part, count)) in counts.iter().enumerate() {
        if count > 1 {
            pairs.push((part, part));
        }
        pairs.extend(counts[at + 1..].iter().map(|&(other, _)| (part, other)));
    }
    pairs
}

/// How many boards with both of a pair are fixed: (index of a pattern, how often).
pub(crate) fn fixed_with(patterns: &[Pattern], fixed: &[(usize, i64)], pair: Pair) -> i64 {
    let with_both = fixed
        .iter()
        .filter(|(column, _)| pairs(&patterns[*column]).contains(&pair));
    with_both.map(|(_, count)| count).sum()
}

/// The pair of parts whose number of boards with both on it is nearest to a half, and that number. `values` are those of the patterns, and what is
/// fixed comes on top.
pub(crate) fn fractional_pair(
    patterns: &[Pattern],
    values: &[f64],
    fixed: &[(usize, i64)],
    way: &[Option<PairSplit>],
) -> Option<(Pair, f64)> {
    let mut numbers: HashMap<Pair, f64> = HashMap::new();
    for (pattern, &value) in patterns.iter().zip(values) {
        if value > INTEGRAL {
            for pair in pairs(pattern) {
                *numbers.entry(pair).or_default() += value;
            }
        }
    }
    for &(column, count) in fixed {
        for pair in pairs(&patterns[column]) {
            if let Some(number) = numbers.get_mut(&pair) {
                *number += count as f64;
            }
        }
    }
    let from_half = |number: f64| (number - number.floor() - 0.5).abs();
    numbers
        .into_iter()
        .filter(|&(_, number)| from_half(number) < 0.5 - INTEGRAL_MARGIN * INTEGRAL)
        .filter(|&(pair, number)| way.iter().flatten().all(|split| split.lets(pair, number)))
        .min_by(|one, other| {
            let order = from_half(one.1).total_cmp(&from_half(other.1));
            order.then(one.0.cmp(&other.0))
        })
}
