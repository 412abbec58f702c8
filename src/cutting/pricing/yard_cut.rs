//! The best two pieces of a length that is cut once at the yard.
//!
//! **Idea** (our own; a two-sided search over sorted lists). Both pieces are filled from sorted lists. The value of a pair is the value of both
//! fills less what the board uses up, and in each of a few cases that is a sum of one figure of each piece. So for each first fill the second is
//! the best one up to some length, found in a list of prefix maxima.
//!
//! **Invariant.** In each case the figure is no more than what the pair is worth, and in one of them it is that. **Why it ends:** one pass over the
//! first fills, with binary searches in the others.

use crate::limits::WORTHLESS;
use crate::pricing::partial_pattern::FilledRun;
use crate::problem::{Need, Run, Section, Ticks};

/// The two carried pieces of a length cut once at the yard, and what they are worth together: the value of both fills less what
/// [`Section::used_cut_once`] says is used up.
pub(crate) struct YardCut<'s> {
    pub(crate) section: &'s Section,
    pub(crate) together: Ticks,
    /// The most that the first and the second may be long.
    pub(crate) each: [Ticks; 2],
    pub(crate) tick_cost: i64,
    /// Whether both may be empty, as where a part at a factory end is cut from the length besides.
    pub(crate) may_be_empty: bool,
}

impl YardCut<'_> {
    /// The best pair that is not empty, if all the slack lies with the first as far as it may be long: (worth, link, link).
    ///
    /// The second piece is as long as it needs to be, or what the first leaves at its longest where it needs less. In the first case what is used up
    /// is the whole, or what both need and the last cut of the first where enough to keep is left beyond it. Either is a sum of one figure of each,
    /// so that for each first fill the second is the best up to some length, found in a list of such best ones. In the second case the lengths of the
    /// pieces are given, and each is chosen by itself. Where both leave enough to keep, what both fill is used up.
    pub(crate) fn best(
        &self,
        firsts: &[FilledRun],
        seconds: &[FilledRun],
    ) -> Option<(i64, u32, u32)> {
        let [most, most_second] = self.each;
        let rest = (self.together - most).max(0);
        let seconds = &seconds[..seconds.partition_point(|fill| fill.need.length <= most_second)];
        let own = |fill: &FilledRun| fill.value - self.tick_cost * fill.need.length;
        let all = PrefixBest::new(seconds, 0, |fill| fill.value);
        let fitted = seconds.partition_point(|fill| fill.need.length < rest);
        let exact = PrefixBest::new(seconds, fitted, own);
        let run = |length| Run { length, tail: 0 };
        let beside = self.tick_cost > 0 && rest > 0;
        let shorter = PrefixBest::new(seconds, 0, |fill| {
            if beside && fill.need.length <= rest {
                fill.value - self.tick_cost * self.section.used(run(rest), fill.need)
            } else {
                WORTHLESS
            }
        });
        let left = self.section.keep.max(1);
        let filled = if beside { by_fill(seconds) } else { Vec::new() };
        let kept = PrefixBest::new(&filled, 0, own);
        let mut best: Option<(i64, u32, u32)> = None;
        for first in firsts.iter().filter(|fill| fill.need.length <= most) {
            let empty = first.link == 0 && !self.may_be_empty;
            let mut consider =
                |worth: i64, (among, fills): (&PrefixBest, &[FilledRun]), most: Ticks| {
                    if let Some((other, link)) = among.up_to(fills, most, empty) {
                        let found = (worth + other, first.link, link);
                        if best.is_none_or(|best| found.0 > best.0) {
                            best = Some(found);
                        }
                    }
                };
            let room = self.together - first.need.length;
            consider(
                first.value - self.tick_cost * self.together,
                (&all, seconds),
                room,
            );
            let whole = first.need.length + first.need.last_cut;
            if self.tick_cost > 0 {
                consider(
                    first.value - self.tick_cost * whole,
                    (&exact, seconds),
                    self.together - whole - left,
                );
            }
            if beside {
                let used = self.section.used(run(most), first.need);
                consider(
                    first.value - self.tick_cost * used,
                    (&shorter, seconds),
                    rest,
                );
                if whole + left <= most {
                    let room = self.together - whole - 2 * left;
                    consider(
                        first.value - self.tick_cost * whole,
                        (&kept, &filled),
                        room.min(most_second - left),
                    );
                }
            }
        }
        best
    }
}

/// The fills as if their last cut were needed too, ascending by that.
fn by_fill(fills: &[FilledRun]) -> Vec<FilledRun> {
    let mut filled: Vec<FilledRun> = fills.to_vec();
    for fill in &mut filled {
        fill.need = Need {
            length: fill.need.length + fill.need.last_cut,
            last_cut: 0,
        };
    }
    order::sort_by_key(&mut filled, |fill| fill.need.length);
    filled
}

/// For each fill of a list, ascending by need, the best from some place on up to it, with and without the empty one.
struct PrefixBest {
    from: usize,
    best: Vec<(i64, usize)>,
    /// The same without the empty fill.
    filled: Vec<(i64, usize)>,
}

impl PrefixBest {
    fn new(fills: &[FilledRun], from: usize, worth: impl Fn(&FilledRun) -> i64) -> Self {
        let mut foremost = PrefixBest {
            from,
            best: Vec::with_capacity(fills.len() - from),
            filled: Vec::with_capacity(fills.len() - from),
        };
        for (at, fill) in fills.iter().enumerate().skip(from) {
            let own = (worth(fill), at);
            let better = |list: &[(i64, usize)], own: (i64, usize)| {
                list.last().map_or(own, |&last| own.max(last))
            };
            foremost.best.push(better(&foremost.best, own));
            let filled = if fill.link == 0 { (WORTHLESS, at) } else { own };
            foremost.filled.push(better(&foremost.filled, filled));
        }
        foremost
    }

    /// The best that needs at most `most`: its worth and its link.
    fn up_to(&self, fills: &[FilledRun], most: Ticks, filled: bool) -> Option<(i64, u32)> {
        let end = fills.partition_point(|fill| fill.need.length <= most);
        let list = if filled { &self.filled } else { &self.best };
        let &(worth, at) = list[..end.checked_sub(self.from)?].last()?;
        (worth > WORTHLESS / 2).then(|| (worth, fills[at].link))
    }
}
