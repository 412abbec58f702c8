//! The next total that boards can add up to.
//!
//! A total of a cost level is a sum of board costs, each taken at most as often as there are boards of its kind. All sums up to a
//! limit are marked in one table of flags, board kind by board kind; the costs' common divisor keeps the table small. A limited kind
//! is followed by counting, for every sum, how few of that kind reach it.

/// One kind of board: what it costs, and how many there are.
pub(super) type Kind = (i64, Option<u32>);

/// Most entries of the table. Eight million flags and counts are 40 MB, for sums of money up to 80 000 in minor units.
const MOST_SUMS: i64 = 8_000_000;

/// What was found out about the next sum.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Next {
    /// The least sum that is not below.
    Sum(i64),
    /// No sum is that large.
    Beyond,
    /// The table would be too large.
    TooLarge,
}

/// The least sum of board costs that is at least `least`.
pub(super) fn next_sum(kinds: &[Kind], least: i128) -> Next {
    if least <= 0 {
        return Next::Sum(0);
    }
    let dearest = kinds.iter().map(|kind| kind.0).max().unwrap_or(0);
    // A sum below the limit and one board more is the most that can be the next: boards go in one by one.
    let Some(limit) = i64::try_from(least)
        .ok()
        .and_then(|least| least.checked_add(dearest))
    else {
        return Next::TooLarge;
    };
    match sums(kinds, limit) {
        None => Next::TooLarge,
        Some(sums) => sums
            .into_iter()
            .find(|sum| i128::from(*sum) >= least)
            .map_or(Next::Beyond, Next::Sum),
    }
}

/// The greatest sum of board costs below `limit`, which is above zero; `None` where the table would be too large.
pub(super) fn last_sum_below(kinds: &[Kind], limit: i64) -> Option<i64> {
    sums(kinds, limit - 1)?.pop()
}

/// All sums of board costs up to a limit, ascending; `None` where the table would be too large.
fn sums(kinds: &[Kind], limit: i64) -> Option<Vec<i64>> {
    let divisor = kinds
        .iter()
        .fold(0, |divisor, kind| common_divisor(divisor, kind.0));
    if divisor == 0 {
        return Some(vec![0]);
    }
    let limit = limit / divisor;
    if limit >= MOST_SUMS {
        return None;
    }
    let mut reached = vec![false; limit as usize + 1];
    reached[0] = true;
    for &(cost, supply) in kinds {
        let step = (cost / divisor) as usize;
        if step == 0 {
            continue;
        }
        let mut taken = vec![0u32; reached.len()];
        for sum in step..reached.len() {
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
    let sums = reached.iter().enumerate().filter(|(_, reached)| **reached);
    Some(sums.map(|(sum, _)| sum as i64 * divisor).collect())
}

/// The greatest common divisor; that of zero and a number is the number.
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

    #[test]
    fn the_next_sum_is_the_least_of_all_sums() {
        // Every choice of counts is tried beside it.
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
                next_sum(&kinds, i128::from(least)),
                Next::Sum(expected),
                "{least}"
            );
        }
    }

    #[test]
    fn nothing_lies_beyond_what_all_boards_cost() {
        assert_eq!(next_sum(&[(5, Some(2))], 11), Next::Beyond);
        assert_eq!(next_sum(&[(5, Some(2))], 10), Next::Sum(10));
        assert_eq!(next_sum(&[(0, None)], 1), Next::Beyond);
        assert_eq!(next_sum(&[(1, None)], 1 << 40), Next::TooLarge);
    }
}
