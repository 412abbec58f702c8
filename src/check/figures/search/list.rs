//! Listing the cuttings of one kind of board that lose no more than the gap.
//!
//! Run by run and part by part, most worth for their length first; a branch is left where even the best filling of what is free
//! could not be worth enough. It ends because every choice is a count between nothing and what is wanted.

use super::{Class, MOST_CUTTINGS, Open, OpenBoard};
use crate::check::figures::boards::Shape;
use crate::check::worth::{Ending, Steps, TooLarge};
use std::collections::BTreeMap;

/// Lists the cuttings of one kind of board that lose no more than the gap.
pub(super) struct Lister<'a> {
    open: &'a Open<'a>,
    board: &'a OpenBoard<'a>,
    /// Length of each run, and what an offcut at its end counts beyond it.
    runs: Vec<(i64, i64)>,
    classes: &'a [Class],
    /// Classes that may be made of this board, most worth for their length first, with the least they add to a fill.
    items: Vec<(usize, i64)>,
    widest: i64,
    left: Vec<u32>,
    counts: Vec<u32>,
    fills: Vec<(i64, Ending)>,
    /// The most that the runs from each on can be worth.
    later: Vec<i128>,
    needed: i128,
    lost: i64,
    /// What is found, with what it adds to the total.
    pub(super) found: BTreeMap<Vec<(usize, u32)>, i64>,
}

impl<'a> Lister<'a> {
    pub(super) fn new(
        open: &'a Open<'a>,
        classes: &'a [Class],
        board: &'a OpenBoard<'a>,
    ) -> Lister<'a> {
        let Shape::Runs(clear) = &board.board.shape else {
            unreachable!("carried lengths are not listed")
        };
        let runs: Vec<(i64, i64)> = clear
            .iter()
            .map(|run| (run.length().ticks(), run.tail.ticks()))
            .collect();
        let mut items: Vec<(usize, i64)> = (0..classes.len())
            .filter_map(|class| {
                board
                    .wood
                    .least(classes[class].part)
                    .map(|least| (class, least.max(1)))
            })
            .collect();
        let price = |class: usize| i128::from(open.prices[classes[class].part]);
        items.sort_by(|one, other| {
            let (a, b) = (
                price(one.0) * i128::from(other.1),
                price(other.0) * i128::from(one.1),
            );
            b.cmp(&a).then(one.0.cmp(&other.0))
        });
        let mut later = vec![0; runs.len() + 1];
        for at in (0..runs.len()).rev() {
            later[at] = later[at + 1] + board.worths.best(runs[at].0);
        }
        let lost =
            board.board.length - runs.iter().map(|(length, tail)| length + tail).sum::<i64>();
        Lister {
            open,
            board,
            classes,
            items,
            widest: board.wood.widest_cut(),
            left: classes.iter().map(|class| class.wanted).collect(),
            counts: vec![0; classes.len()],
            fills: vec![(0, board.wood.untouched()); runs.len()],
            later,
            // A cutting loses its board's charge and excess less its worth.
            needed: board.charge + board.excess - open.gap,
            lost,
            runs,
            found: BTreeMap::new(),
        }
    }

    pub(super) fn list(&mut self, steps: &mut Steps) -> Result<(), TooLarge> {
        if self.runs.is_empty() || self.board.board.supply == Some(0) {
            return Ok(());
        }
        let start = -self.open.tick_cost * i128::from(self.lost);
        self.choose(0, 0, start, steps)
    }

    /// Chooses how many of each item from `at` on go in this run, then goes to the next run. `worth` is what is chosen so far, less
    /// what it uses up.
    fn choose(
        &mut self,
        run: usize,
        at: usize,
        worth: i128,
        steps: &mut Steps,
    ) -> Result<(), TooLarge> {
        *steps = steps.checked_sub(1).ok_or(TooLarge)?;
        let (fill, ending) = self.fills[run].clone();
        let (length, _) = self.runs[run];
        if at == self.items.len() {
            return self.next_run(run, worth, steps);
        }
        let tick_cost = self.open.tick_cost;
        let (class, least) = self.items[at];
        let price = i128::from(self.open.prices[self.classes[class].part]);
        // No item from here on is worth more for its length, and what is used up is at least what is filled but one cut.
        let space = i128::from((length + self.widest - fill).max(0));
        let gain = (price - tick_cost * i128::from(least)).max(0);
        let used = tick_cost * i128::from(fill - self.widest);
        let most = worth - used.max(0) + gain * space / i128::from(least) + 1 + self.later[run + 1];
        if most < self.needed {
            return Ok(());
        }
        let mut trail = vec![(fill, ending)];
        while trail.len() <= self.left[class] as usize {
            let (fill, ending) = &trail[trail.len() - 1];
            let (next, amount) = self.board.wood.with(self.classes[class].part, ending);
            if fill + amount > length + self.widest {
                break;
            }
            trail.push((fill + amount, next));
        }
        for count in (0..trail.len()).rev() {
            let chosen = count as u32;
            self.fills[run] = trail[count].clone();
            self.left[class] -= chosen;
            self.counts[class] += chosen;
            let done = self.choose(run, at + 1, worth + price * i128::from(chosen), steps);
            self.left[class] += chosen;
            self.counts[class] -= chosen;
            done?;
        }
        self.fills[run] = trail[0].clone();
        Ok(())
    }

    fn next_run(&mut self, run: usize, worth: i128, steps: &mut Steps) -> Result<(), TooLarge> {
        let (length, tail) = self.runs[run];
        let (need, filled) = self.board.wood.need(self.fills[run].0, &self.fills[run].1);
        if need > length {
            return Ok(());
        }
        let used = self.used_of_run(length, tail, filled);
        let worth = worth - self.open.tick_cost * i128::from(used);
        if run + 1 < self.runs.len() {
            return self.choose(run + 1, 0, worth, steps);
        }
        let counts: Vec<(usize, u32)> = self
            .counts
            .iter()
            .copied()
            .enumerate()
            .filter(|(_, count)| *count > 0)
            .collect();
        let in_gap = worth >= self.needed && !counts.is_empty();
        if in_gap && (self.open.tick_cost > 0 || self.is_full()) {
            let cost = match self.open.cost_level {
                Some(level) => self.board.costs[level],
                None => self.used(),
            };
            let least = self.found.entry(counts).or_insert(cost);
            *least = cost.min(*least);
            if self.found.len() > MOST_CUTTINGS {
                return Err(TooLarge);
            }
        }
        Ok(())
    }

    /// What the chosen parts use up of the board.
    fn used(&self) -> i64 {
        let runs = self.fills.iter().zip(&self.runs);
        let used = runs.map(|((fill, ending), &(length, tail))| {
            let (_, filled) = self.board.wood.need(*fill, ending);
            self.used_of_run(length, tail, filled)
        });
        self.lost + used.sum::<i64>()
    }

    fn used_of_run(&self, length: i64, tail: i64, filled: i64) -> i64 {
        let offcut = if length > filled {
            length - filled + tail
        } else {
            0
        };
        length + tail
            - if offcut >= self.board.wood.keep {
                offcut
            } else {
                0
            }
    }

    /// Whether no wanted part can be added to any run.
    fn is_full(&self) -> bool {
        let fits = |class: usize| {
            self.fills
                .iter()
                .zip(&self.runs)
                .any(|((fill, ending), (length, _))| {
                    let (next, amount) = self.board.wood.with(self.classes[class].part, ending);
                    self.board.wood.need(fill + amount, &next).0 <= *length
                })
        };
        !self
            .items
            .iter()
            .any(|&(class, _)| self.left[class] > 0 && fits(class))
    }
}
