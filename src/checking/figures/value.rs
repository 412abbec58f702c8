//! The most that a whole board can be worth, from the worths of its runs.

use super::boards::{Carried, Run, Shape, Way};
use crate::steps::{Steps, TooLarge};
use crate::wood::Laid;
use crate::worth::Worths;

impl Worths {
    /// The most that the parts on a board can be worth.
    pub(super) fn board(&self, shape: &Shape, steps: &mut Steps) -> Result<i128, TooLarge> {
        match shape {
            Shape::Runs(runs) => {
                steps.take_each(runs.len(), self.endings())?;
                Ok(runs.iter().map(|run| self.best(run.length)).sum())
            }
            &Shape::Carried(Carried {
                together,
                first,
                second,
            }) => {
                // Each fill of the first piece is looked up in one list for each ending of the second.
                steps.take((8 * self.len() + 1).saturating_mul(self.endings()))?;
                let alone = self.best(second);
                let with = self
                    .touched()
                    .filter(|(laid, _)| laid.need <= first)
                    .map(|(laid, worth)| worth + self.best(second.min(together - laid.need)));
                Ok(with.max().unwrap_or(0).max(alone))
            }
        }
    }

    /// The most that a cutting of a board can be worth, less `scale` times the length it uses up and, of one with runs, less `kept` for each offcut
    /// that is kept; `None` where nothing can be cut from the board. An offcut may also be given up: its run is then used up whole.
    ///
    /// Where a part stands on an end of it, nothing else need be cut.
    pub(super) fn used_up(
        &self,
        board: &Way,
        keep: i64,
        (scale, kept): (i64, i128),
        steps: &mut Steps,
    ) -> Result<Option<i128>, TooLarge> {
        let scale = i128::from(scale);
        let lost = scale * i128::from(board.lost());
        let in_runs = match &board.shape {
            Shape::Runs(runs) => {
                steps.take_each(runs.len(), self.len() + 1)?;
                self.used_up_in_runs(runs, keep, (scale, kept), !board.posts.is_empty())
            }
            Shape::Carried(carried) => {
                steps.take(16 * self.len() + 1)?;
                let fills: Vec<(Laid, i128)> = self.touched().collect();
                let untouched = (!board.posts.is_empty())
                    .then(|| carried.used(Laid::NOTHING, Laid::NOTHING, keep))
                    .flatten();
                let untouched = untouched.map(|used| -scale * i128::from(used));
                best_pair(&fills, carried, keep, scale).max(untouched)
            }
        };
        Ok(in_runs.map(|worth| worth - lost))
    }

    /// The most that a run is worth less what it uses up: left alone, and cut from.
    pub(super) fn less_used(
        &self,
        run: &Run,
        keep: i64,
        (scale, kept): (i128, i128),
    ) -> (i128, Option<i128>) {
        let less_used = |(laid, worth): (Laid, i128)| {
            let used = worth - scale * i128::from(run.used(laid, keep));
            if kept == 0 || !run.keeps(laid, keep) {
                return used;
            }
            (used - kept).max(worth - scale * i128::from(run.length + run.tail))
        };
        let touched = self.touched();
        let touched = touched.filter(|(laid, _)| laid.need <= run.length);
        (less_used((Laid::NOTHING, 0)), touched.map(less_used).max())
    }

    fn used_up_in_runs(
        &self,
        runs: &[Run],
        keep: i64,
        (scale, kept): (i128, i128),
        may_be_empty: bool,
    ) -> Option<i128> {
        let mut sum = 0;
        let mut dearest_touch: Option<i128> = None;
        for run in runs {
            let (left_alone, touched) = self.less_used(run, keep, (scale, kept));
            let best = touched.map_or(left_alone, |touched| touched.max(left_alone));
            sum += best;
            // What is lost by cutting this run rather than leaving the whole board alone.
            let touch = touched.map(|touched| best - touched);
            dearest_touch = match (dearest_touch, touch) {
                (Some(one), Some(other)) => Some(one.min(other)),
                (one, other) => one.or(other),
            };
        }
        if may_be_empty {
            return Some(sum);
        }
        dearest_touch.map(|touch| sum - touch)
    }
}

/// The most that two pieces can be worth less `scale` times the length they use up, not both of them untouched.
///
/// For every fill of the first piece, the best fill of the second is looked up. There are four cases. Where neither offcut is kept, both
/// pieces are used up. Where one is kept, it is as long as possible, since the other piece is as short as it needs to be. Where both are
/// kept, the fills are used up. In each case the result is a figure of the first fill plus one of the second, whose length is bounded from
/// above only.
fn best_pair(fills: &[(Laid, i128)], carried: &Carried, keep: i64, scale: i128) -> Option<i128> {
    let &Carried {
        together,
        first: most_first,
        second: most_second,
    } = carried;
    // An offcut of zero length is not kept, whatever the keep length.
    let kept = keep.max(1);
    // The least length of each piece that keeps the other from being too long.
    let (least_first, least_second) = (together - most_second, together - most_first);
    let cost = |ticks: i64| scale * i128::from(ticks);
    let whole = Foremost::new(fills, |laid| laid.need, |_, worth| worth);
    let short = Foremost::new(
        fills,
        |laid| laid.need,
        |laid, worth| worth - cost(laid.need.max(least_second)),
    );
    let open = Foremost::new(
        fills,
        |laid| laid.filled,
        |laid, worth| worth - cost(laid.filled),
    );
    let mut best: Option<i128> = None;
    let mut consider = |worth: Option<i128>| best = best.max(worth);
    for &(first, worth) in [(Laid::NOTHING, 0)].iter().chain(fills) {
        if first.need > most_first {
            continue;
        }
        let room = most_second.min(together - first.need);
        consider(
            whole
                .up_to(room)
                .map(|other| worth + other - cost(together)),
        );
        if first.filled + kept <= most_first {
            let other = short.up_to(room.min(together - first.filled - kept));
            consider(other.map(|other| worth - cost(first.filled) + other));
            let room = (most_second - kept).min(together - first.filled - 2 * kept);
            let other = open.up_to(room);
            consider(other.map(|other| worth - cost(first.filled) + other));
        }
        let cut = first.need.max(least_first);
        let other = open.up_to(together - cut - kept);
        consider(other.map(|other| worth - cost(cut) + other));
        if first != Laid::NOTHING {
            let used = carried.used(first, Laid::NOTHING, keep);
            consider(used.map(|used| worth - cost(used)));
        }
    }
    best
}

/// Fills in ascending order of a length, each with the best figure of all up to it.
struct Foremost(Vec<(i64, i128)>);

impl Foremost {
    fn new(
        fills: &[(Laid, i128)],
        length: impl Fn(Laid) -> i64,
        figure: impl Fn(Laid, i128) -> i128,
    ) -> Foremost {
        let mut list: Vec<(i64, i128)> = fills
            .iter()
            .map(|&(laid, worth)| (length(laid), figure(laid, worth)))
            .collect();
        order::sort(&mut list);
        for at in 1..list.len() {
            list[at].1 = list[at].1.max(list[at - 1].1);
        }
        Foremost(list)
    }

    fn up_to(&self, most: i64) -> Option<i128> {
        let end = self.0.partition_point(|(length, _)| *length <= most);
        Some(self.0[end.checked_sub(1)?].1)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Tries every pair of fills and every place of the cut.
    fn best_of_all(
        fills: &[(Laid, i128)],
        carried: &Carried,
        keep: i64,
        scale: i128,
    ) -> Option<i128> {
        let &Carried {
            together,
            first,
            second,
        } = carried;
        let with_nothing = || {
            [(Laid::NOTHING, 0)]
                .into_iter()
                .chain(fills.iter().copied())
        };
        let kept = |room: i64, filled: i64| {
            let offcut = room - filled;
            if offcut > 0 && offcut >= keep {
                offcut
            } else {
                0
            }
        };
        let mut best: Option<i128> = None;
        for (one, one_worth) in with_nothing() {
            for (other, other_worth) in with_nothing() {
                for cut in (together - second).max(0)..=first.min(together) {
                    let rest = together - cut;
                    let fits = one.need <= cut && other.need <= rest;
                    let used = together - kept(cut, one.filled) - kept(rest, other.filled);
                    let worth = one_worth + other_worth - scale * i128::from(used);
                    if fits && (one.need > 0 || other.need > 0) {
                        best = best.max(Some(worth));
                    }
                }
            }
        }
        best
    }

    #[test]
    fn the_best_pair_is_the_best_of_all_pairs() {
        let fills: Vec<(Laid, i128)> = [(9, 1), (14, 0), (20, 3), (27, 2), (31, 1), (38, 3)]
            .into_iter()
            .zip([4, 9, 9, 15, 14, 20])
            .map(|((need, last_cut), worth)| {
                let filled = need + last_cut;
                (Laid { need, filled }, worth)
            })
            .collect();
        let mut compared = 0;
        for together in 30..80 {
            for (first, second) in [(40, 40), (45, 38), (33, 60), (80, 80)] {
                if together > first + second {
                    continue;
                }
                let carried = Carried {
                    together,
                    first,
                    second,
                };
                for (keep, scale) in [(0, 1), (7, 1), (15, 2), (22, 1), (100, 1)] {
                    let best = best_of_all(&fills, &carried, keep, scale);
                    let found = best_pair(&fills, &carried, keep, scale);
                    assert_eq!(found, best, "{together} {first} {second} {keep}");
                    compared += usize::from(found.is_some());
                }
            }
        }
        assert!(compared > 500, "{compared}");
    }

    #[test]
    fn the_best_pair_of_made_up_fills_is_the_best_of_all_pairs() {
        let mut seed = 3u64;
        let mut below = |end: i64| {
            seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
            (seed >> 33) as i64 % end
        };
        let mut compared = 0;
        for case in 0..6_000 {
            // Some fills are worth little and some much, so that now one piece alone is best and now both, with offcuts kept of one, of both or of none.
            let fills: Vec<(Laid, i128)> = (0..1 + below(3))
                .map(|_| {
                    let need = 1 + below(14);
                    let filled = need + below(4);
                    (Laid { need, filled }, i128::from(below(30)))
                })
                .collect();
            let together = 1 + below(30);
            let (first, second) = (below(together + 1), below(together + 1));
            if together > first + second {
                continue;
            }
            let carried = Carried {
                together,
                first,
                second,
            };
            let (keep, scale) = (below(9), i128::from(below(4)));
            let best = best_of_all(&fills, &carried, keep, scale);
            let found = best_pair(&fills, &carried, keep, scale);
            assert_eq!(
                found, best,
                "{case}: {fills:?} {together} {first} {second} {keep} {scale}"
            );
            compared += usize::from(found.is_some());
        }
        assert!(compared > 2_000, "{compared}");
    }
}
