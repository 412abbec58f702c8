//! Which lengths plans can use up.
//!
//! The length used up of a board is its length less the offcuts that are kept. An offcut is a run with its tail, less the parts in it and
//! their cuts. Of a length cut once at the yard it is its piece less the piece's parts, and [`Carried::used`] tries only certain places of
//! the cut. So every length used up is a sum and difference of a few lengths, and a multiple of their common divisor.
//!
//! [`Carried::used`]: super::boards::Carried::used

use super::boards::{Board, Shape};
use crate::sums::common_divisor;
use crate::wood::{Stock, Wood};

/// A common divisor of all lengths that can be used up; at least one.
pub(super) fn step(boards: &[Board], woods: &[(Stock, Wood)]) -> i64 {
    let mut step = 0;
    let mut add = |length: i64| step = common_divisor(step, length);
    for board in boards {
        add(board.length);
        match &board.shape {
            Shape::Runs(runs) => runs.iter().for_each(|run| add(run.length + run.tail)),
            Shape::Carried(carried) => {
                [carried.together, carried.first, carried.second]
                    .into_iter()
                    .for_each(&mut add);
                let wood = woods.iter().find(|(stock, _)| *stock == board.stock);
                wood.into_iter().for_each(|(_, wood)| add(wood.keep));
            }
        }
    }
    for (_, wood) in woods {
        wood.lengths().for_each(&mut add);
    }
    step.max(1)
}

/// The least multiple of `step` that is at least `least`; `None` where it does not fit 64 bits.
pub(super) fn next(step: i64, least: i128) -> Option<i64> {
    let step = i128::from(step);
    let steps = least.div_euclid(step) + i128::from(least.rem_euclid(step) > 0);
    i64::try_from(steps * step).ok()
}

/// The greatest multiple of `step` below `limit`; `None` where it does not fit 64 bits.
pub(super) fn last_below(step: i64, limit: i64) -> Option<i64> {
    let below = limit.checked_sub(1)?;
    below.checked_sub(below.rem_euclid(step))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lengths_are_raised_and_lowered_to_multiples() {
        assert_eq!(next(640, 0), Some(0));
        assert_eq!(next(640, 1), Some(640));
        assert_eq!(next(640, 640), Some(640));
        assert_eq!(next(640, -1), Some(0));
        assert_eq!(next(640, i128::from(i64::MAX)), None);
        assert_eq!(last_below(640, 641), Some(640));
        assert_eq!(last_below(640, 640), Some(0));
        assert_eq!(last_below(640, 0), Some(-640));
        assert_eq!(last_below(640, i64::MIN), None);
    }
}
