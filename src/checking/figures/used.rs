//! Which lengths plans can use up.
//!
//! The length used up of a board is its length less the offcuts that are kept. An offcut is a run with its tail, less the parts in it and
//! their cuts. Of a length cut once at the yard it is its piece less the piece's parts, and [`Carried::used`] tries only certain places of
//! the cut. So every length used up is a sum and difference of a few lengths, and a multiple of their common divisor.
//!
//! [`Carried::used`]: super::boards::Carried::used

use super::boards::{Board, Shape, worthiest};
use crate::sums::common_divisor;
use crate::wood::{Stock, Wood};

/// A common divisor of all lengths that can be used up; at least one.
pub(super) fn step(boards: &[Board], woods: &[(Stock, Wood)]) -> i64 {
    let mut step = 0;
    let mut add = |length: i64| step = common_divisor(step, length);
    for board in boards {
        add(board.length);
        let wood = woods.iter().find(|(stock, _)| *stock == board.stock);
        let posts = wood.map_or(&[][..], |(_, wood)| &wood.posts);
        for way in board.ways(&worthiest(posts, |_| 0)) {
            match &way.shape {
                Shape::Runs(runs) => runs.iter().for_each(|run| add(run.length + run.tail)),
                Shape::Carried(carried) => {
                    [carried.together, carried.first, carried.second]
                        .into_iter()
                        .for_each(&mut add);
                    wood.into_iter().for_each(|(_, wood)| add(wood.keep));
                }
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
    use super::super::boards::{Carried, Run};
    use super::*;
    use crate::ground::Ground;
    use crate::laws::job;
    use timber::plan::Source;

    /// Everything is a whole number of millimetres but one length, which is a tick more: the step is a millimetre unless that length counts.
    #[test]
    fn every_length_that_goes_into_what_is_used_up_goes_into_the_step() {
        let mut job = job(&[], &[("400", "square", "1")], |_| ());
        let mm = |count: i64| count * 3_200;
        let step_of = |job: &timber::job::Job, length: i64, shape: Shape| {
            let stock = Stock::of(job, &Ground::of(job, Source::Yard(0)).expect("a length"));
            let wood = Wood::of(job, stock).expect("a wood");
            let board = Board {
                stands: None,
                source: Source::Yard(0),
                stock,
                shape,
                length,
                costs: vec![],
                supply: None,
            };
            step(&[board], &[(stock, wood)])
        };
        let runs = |length, tail| Shape::Runs(vec![Run { length, tail }]);
        let carried = |together, first, second| {
            Shape::Carried(Carried {
                together,
                first,
                second,
            })
        };
        let whole = || runs(mm(2_980), mm(10));
        assert_eq!(step_of(&job, mm(3_000), whole()), mm(1));
        assert_eq!(step_of(&job, mm(3_000) + 1, whole()), 1);
        assert_eq!(step_of(&job, mm(3_000), runs(mm(2_980) + 1, mm(10))), 1);
        assert_eq!(step_of(&job, mm(3_000), runs(mm(2_980), mm(10) + 1)), 1);
        // What a run holds with its tail counts, not each by itself.
        let both = runs(mm(2_980) - 1, mm(10) + 1);
        assert_eq!(step_of(&job, mm(3_000), both), mm(1));
        let cut = || carried(mm(2_970), mm(2_000), mm(1_900));
        assert_eq!(step_of(&job, mm(3_000), cut()), mm(1));
        for (together, first, second) in [(1, 0, 0), (0, 1, 0), (0, 0, 1)] {
            let shape = carried(mm(2_970) + together, mm(2_000) + first, mm(1_900) + second);
            assert_eq!(step_of(&job, mm(3_000), shape), 1);
        }
        // How long an offcut has to be decides where a length is cut at the yard, and nothing else.
        job.sections[0].keep = timber::length::Length::from_ticks(mm(300) + 1);
        assert_eq!(step_of(&job, mm(3_000), cut()), 1);
        assert_eq!(step_of(&job, mm(3_000), whole()), mm(1));
        job.parts[0].length = timber::length::Length::from_ticks(mm(400) + 1);
        assert_eq!(step_of(&job, mm(3_000), whole()), 1);
    }

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
