//! What a whole board can be worth, from what its runs can be worth.

use super::boards::{Board, Shape};
use crate::check::worth::{Steps, TooLarge, Worths};

impl Worths {
    /// The most that the parts on a board can be worth.
    pub(super) fn board(&self, shape: &Shape, steps: &mut Steps) -> Result<i128, TooLarge> {
        match shape {
            Shape::Runs(runs) => Ok(runs.iter().map(|run| self.best(run.length().ticks())).sum()),
            &Shape::Carried {
                together,
                first,
                second,
            } => {
                *steps = steps.checked_sub(8 * self.len()).ok_or(TooLarge)?;
                let alone = self.best(second.min(together));
                let with = self
                    .touched()
                    .filter(|(need, _, _)| *need <= first.min(together))
                    .map(|(need, _, worth)| worth + self.best(second.min(together - need)));
                Ok(with.max().unwrap_or(0).max(alone))
            }
        }
    }

    /// The most that a cutting of a board can be worth less `scale` times what it uses up; `None` where nothing can be cut from it.
    pub(super) fn used_up(
        &self,
        board: &Board,
        keep: i64,
        scale: i64,
        steps: &mut Steps,
    ) -> Result<Option<i128>, TooLarge> {
        let scale = i128::from(scale);
        match &board.shape {
            Shape::Runs(runs) => {
                *steps = steps
                    .checked_sub(self.len() * runs.len() as u64)
                    .ok_or(TooLarge)?;
                let mut sum = 0;
                let mut dearest_touch: Option<i128> = None;
                let mut lost = board.length;
                for run in runs {
                    let (length, tail) = (run.length().ticks(), run.tail.ticks());
                    lost -= length + tail;
                    let used = |filled: i64| {
                        let offcut = if length > filled {
                            length - filled + tail
                        } else {
                            0
                        };
                        length + tail - if offcut >= keep { offcut } else { 0 }
                    };
                    let left_alone = -scale * i128::from(used(0));
                    let touched = self
                        .touched()
                        .filter(|(need, _, _)| *need <= length)
                        .map(|(_, filled, worth)| worth - scale * i128::from(used(filled)))
                        .max();
                    let best = touched.map_or(left_alone, |touched| touched.max(left_alone));
                    sum += best;
                    // What it costs to touch this run rather than leave the whole board alone.
                    let touch = touched.map(|touched| best - touched);
                    dearest_touch = match (dearest_touch, touch) {
                        (Some(one), Some(other)) => Some(one.min(other)),
                        (one, other) => one.or(other),
                    };
                }
                Ok(dearest_touch.map(|touch| sum - touch - scale * i128::from(lost)))
            }
            &Shape::Carried {
                together,
                first,
                second,
            } => {
                *steps = steps
                    .checked_sub(self.len() * self.len() + 1)
                    .ok_or(TooLarge)?;
                let lost = i128::from(board.length - together);
                let fills: Vec<(i64, i64, i128)> =
                    [(0, 0, 0)].into_iter().chain(self.touched()).collect();
                let mut best: Option<i128> = None;
                for (one_at, one) in fills.iter().enumerate() {
                    for (other_at, other) in fills.iter().enumerate() {
                        if one_at + other_at == 0 {
                            continue;
                        }
                        let (low, high) =
                            (one.0.max(together - second), first.min(together - other.0));
                        if low > high {
                            continue;
                        }
                        let kept = |room: i64, filled: i64| {
                            if room - filled >= keep.max(1) {
                                room - filled
                            } else {
                                0
                            }
                        };
                        let offcuts = [low, high, one.1 + keep, together - other.1 - keep]
                            .into_iter()
                            .map(|cut| cut.clamp(low, high))
                            .map(|cut| kept(cut, one.1) + kept(together - cut, other.1))
                            .max()
                            .unwrap_or(0);
                        let worth =
                            one.2 + other.2 - scale * (lost + i128::from(together - offcuts));
                        best = Some(best.map_or(worth, |best| best.max(worth)));
                    }
                }
                Ok(best)
            }
        }
    }
}
