//! The next total that boards can add up to.
//!
//! A total of a cost level is a sum of board costs, each taken at most as often as its kind's supply. All sums up to a limit are marked in
//! one table of flags, board kind by board kind (dynamic programming, as for subset sums); dividing by the costs' common divisor keeps the
//! table small. For a limited kind, each sum is kept with the fewest boards of that kind that reach it. The entries of the table are
//! counted as work, once for each kind.

use super::steps::{Steps, TooLarge};
use order::Map;

/// A kind of board: its cost and its supply.
pub(super) type Kind = (i64, Option<u32>);

/// Most entries of the table. Eight million flags and counts are 40 MB, enough for sums of money up to 80 000 in hundredths.
const MOST_SUMS: i64 = 8_000_000;

/// The next sum, or that there is none.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Next {
    /// The least sum that is at least the wanted one.
    Sum(i64),
    /// No sum is that large.
    Beyond,
}

/// The least sum of board costs that is at least `least`.
pub(super) fn next_sum(kinds: &[Kind], least: i128, steps: &mut Steps) -> Result<Next, TooLarge> {
    if least <= 0 {
        return Ok(Next::Sum(0));
    }
    let dearest = kinds.iter().map(|kind| kind.0).max().unwrap_or(0);
    // The next sum is at most a sum below the limit plus one board, since boards are added one by one.
    let limit = i64::try_from(least + i128::from(dearest)).map_err(|_| TooLarge)?;
    let table = Table::of(kinds, limit, steps)?;
    let next = table.sums().find(|sum| i128::from(*sum) >= least);
    Ok(next.map_or(Next::Beyond, Next::Sum))
}

/// The greatest sum of board costs below `limit`, which is above zero.
pub(super) fn last_sum_below(
    kinds: &[Kind],
    limit: i64,
    steps: &mut Steps,
) -> Result<i64, TooLarge> {
    let last = limit.checked_sub(1).filter(|last| *last >= 0);
    let table = Table::of(kinds, last.ok_or(TooLarge)?, steps)?;
    Ok(table.sums().last().unwrap_or(0))
}

/// All sums of board costs up to a limit, as the multiples of the divisor that can be reached.
struct Table {
    divisor: i64,
    reached: Vec<bool>,
}

impl Table {
    fn of(kinds: &[Kind], limit: i64, steps: &mut Steps) -> Result<Table, TooLarge> {
        // Kinds with one cost are one kind; a cost of zero adds nothing.
        let mut supplies: Map<i64, Option<u32>> = Map::new();
        for &(cost, supply) in kinds.iter().filter(|kind| kind.0 > 0) {
            let known = supplies.or_insert_with(cost, || Some(0));
            // No sum needs more boards than 32 bits can count.
            *known = known
                .zip(supply)
                .map(|(one, other)| one.saturating_add(other));
        }
        let divisor = supplies
            .keys()
            .fold(0, |divisor, cost| common_divisor(divisor, *cost))
            .max(1);
        let limit = if supplies.is_empty() {
            0
        } else {
            limit / divisor
        };
        if limit >= MOST_SUMS {
            return Err(TooLarge);
        }
        let length = limit as usize + 1;
        steps.take_each(supplies.len() + 1, length as u64)?;
        let mut reached = vec![false; length];
        reached[0] = true;
        let mut taken = vec![0u32; length];
        for (cost, supply) in supplies {
            let step = usize::try_from(cost / divisor).unwrap_or(usize::MAX);
            taken.fill(0);
            for sum in step..length {
                let before = sum - step;
                if !reached[sum]
                    && reached[before]
                    && supply.is_none_or(|supply| taken[before] < supply)
                {
                    reached[sum] = true;
                    taken[sum] = taken[before] + 1;
                }
            }
        }
        Ok(Table { divisor, reached })
    }

    /// Ascending.
    fn sums(&self) -> impl Iterator<Item = i64> {
        let reached = self.reached.iter().enumerate();
        reached
            .filter(|(_, reached)| **reached)
            .map(|(sum, _)| sum as i64 * self.divisor)
    }
}

/// The greatest common divisor (Euclid); that of zero and a number is the number.
pub(super) fn common_divisor(one: i64, other: i64) -> i64 {
    let (mut one, mut other) = (one.abs(), other.abs());
    while other != 0 {
        (one, other) = (other, one % other);
    }
    one
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::steps::with_steps;

    fn next(kinds: &[Kind], least: i128) -> Result<Next, TooLarge> {
        with_steps(100_000, |steps| next_sum(kinds, least, steps))
    }

    #[test]
    fn the_next_sum_is_the_least_of_all_sums() {
        // The oracle tries every choice of counts.
        let kinds: [Kind; 3] = [(6, Some(2)), (10, None), (15, Some(1))];
        let mut sums = Vec::new();
        for sixes in 0..=2 {
            for tens in 0..=20 {
                for fifteens in 0..=1 {
                    sums.push(6 * sixes + 10 * tens + 15 * fifteens);
                }
            }
        }
        for least in 1..150 {
            let expected = sums
                .iter()
                .copied()
                .filter(|sum| *sum >= least)
                .min()
                .unwrap_or(0);
            assert_eq!(
                next(&kinds, i128::from(least)),
                Ok(Next::Sum(expected)),
                "{least}"
            );
        }
    }

    #[test]
    fn nothing_lies_beyond_what_all_boards_cost() {
        assert_eq!(next(&[(5, Some(2))], 11), Ok(Next::Beyond));
        assert_eq!(next(&[(5, Some(2))], 10), Ok(Next::Sum(10)));
        assert_eq!(next(&[(0, None)], 1), Ok(Next::Beyond));
        assert_eq!(next(&[(1, None)], 1 << 40), Err(TooLarge));
        assert_eq!(next(&[(1, None)], i128::MAX >> 1), Err(TooLarge));
    }

    #[test]
    fn supplies_of_one_cost_are_added_up() {
        let kinds = [(5, Some(1)), (7, Some(0)), (5, Some(1))];
        assert_eq!(next(&kinds, 6), Ok(Next::Sum(10)));
        assert_eq!(next(&kinds, 11), Ok(Next::Beyond));
    }

    #[test]
    fn entries_of_the_table_are_work() {
        // Sums up to 1 000 and one length more, of two kinds: some 2 000 entries, and the table itself.
        let kinds = [(1, None), (3, None)];
        let with = |steps| with_steps(steps, |steps| next_sum(&kinds, 1_000, steps));
        assert_eq!(with(3_100), Ok(Next::Sum(1_000)));
        assert_eq!(with(2_000), Err(TooLarge));
        let below = |limit| with_steps(3_100, |steps| last_sum_below(&kinds, limit, steps));
        assert_eq!(below(1_000), Ok(999));
        assert_eq!(below(i64::MIN), Err(TooLarge));
    }
}
