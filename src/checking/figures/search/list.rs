//! Lists the cuttings of one kind of board that lose no more than the gap.
//!
//! Depth-first search, run by run and part by part, the parts with the greatest worth per length first. A branch is left where even the
//! best filling of the free length could not be worth enough. It ends because every choice is a count between zero and the demand. The
//! choices are kept in a list, since a board of many runs and a job of many parts would be too deep for recursion.

use super::alike::{Class, Kind};
use super::open::{Open, OpenBoard};
use crate::figures::boards::{Shape, Way};
use crate::steps::{Steps, TooLarge};
use crate::wood::{Ending, Laid};
use order::Map;

/// Most cuttings that are listed. A search over more would take longer than a person waits.
const MOST_CUTTINGS: usize = 6_000;

/// The state of the listing: the next item to choose for a run, and the worth of the choices so far less what they use up.
#[derive(Clone, Copy)]
struct Place {
    run: usize,
    item: usize,
    worth: i128,
}

/// How many of an item go in a run: the run's fill for each count, from zero on.
struct Choice {
    place: Place,
    trail: Vec<(i64, Ending)>,
    /// Counts below this are still untried.
    untried: usize,
    chosen: u32,
}

/// Lists the cuttings of one kind of board that lose no more than the gap.
pub(super) struct Lister<'a> {
    open: &'a Open<'a>,
    kind: &'a Kind,
    board: &'a OpenBoard<'a>,
    /// What stands on its ends, the classes of that, and what else may lie.
    way: &'a Way,
    /// The greatest clear length of each run.
    rooms: Vec<i64>,
    classes: &'a [Class],
    /// Classes that may be made of this board, in descending order of worth per length, with the least that they add to a fill.
    items: Vec<(usize, i64)>,
    widest: i64,
    left: Vec<u32>,
    counts: Vec<u32>,
    fills: Vec<(i64, Ending)>,
    /// For each run, the most that it and the runs after it can be worth.
    later: Vec<i128>,
    needed: i128,
    /// What the parts that stand on its ends are worth.
    standing: i128,
    /// Whether a split counts offcuts.
    offcuts: bool,
    /// The cuttings found, by their parts and how many offcuts they keep where that counts, with the least that each uses up, where that counts.
    pub(super) found: Found,
}

/// Cuttings by their parts and how many offcuts they keep, with the least that each uses up.
pub(super) type Found = Map<(Vec<(usize, u32)>, u32), i64>;

impl<'a> Lister<'a> {
    pub(super) fn new(
        open: &'a Open<'a>,
        classes: &'a [Class],
        (kind, way): (&'a Kind, &'a Way),
        found: Found,
        steps: &mut Steps,
    ) -> Result<Lister<'a>, TooLarge> {
        let board = &open.boards[kind.first];
        let rooms = way.shape.rooms();
        steps.take_each(rooms.len(), board.worths.endings())?;
        steps.take(classes.len() as u64)?;
        let mut items: Vec<(usize, i64)> = (0..classes.len())
            .filter_map(|class| {
                board
                    .wood
                    .least(classes[class].part)
                    .map(|least| (class, least.max(1)))
            })
            .collect();
        let price = |class: usize| i128::from(open.prices[classes[class].part]);
        order::sort_by(&mut items, |one, other| {
            let (a, b) = (
                price(one.0) * i128::from(other.1),
                price(other.0) * i128::from(one.1),
            );
            b.cmp(&a).then(one.0.cmp(&other.0))
        });
        let mut later = vec![0; rooms.len() + 1];
        for at in (0..rooms.len()).rev() {
            let most = match &way.shape {
                Shape::Runs(runs) if open.tick_cost > 0 => {
                    steps.take(board.worths.len() + 1)?;
                    let prices = (open.tick_cost, board.kept);
                    let (alone, cut) = board.worths.less_used(&runs[at], board.wood.keep, prices);
                    cut.map_or(alone, |cut| cut.max(alone))
                }
                _ => board.worths.best(rooms[at]),
            };
            later[at] = later[at + 1] + most;
        }
        let mut left: Vec<u32> = classes.iter().map(|class| class.wanted).collect();
        let mut counts = vec![0; classes.len()];
        let mut standing = 0;
        for (at, class) in classes.iter().enumerate() {
            let here = way.posts.iter().filter(|post| **post == class.part);
            counts[at] = here.count() as u32;
            left[at] = left[at].saturating_sub(counts[at]);
            standing += price(at) * i128::from(counts[at]);
        }
        Ok(Lister {
            way,
            open,
            kind,
            board,
            classes,
            items,
            widest: board.wood.widest_cut(),
            left,
            counts,
            fills: vec![(0, board.wood.untouched()); rooms.len()],
            later,
            // A cutting loses its board's charge plus excess less its worth.
            needed: board.charge + board.excess - open.gap,
            standing,
            offcuts: open.offcuts,
            rooms,
            found,
        })
    }

    pub(super) fn list(&mut self, steps: &mut Steps) -> Result<(), TooLarge> {
        if self.rooms.is_empty() || self.kind.supply == Some(0) {
            return Ok(());
        }
        let mut choices: Vec<Choice> = Vec::new();
        let mut place = Some(Place {
            run: 0,
            item: 0,
            worth: self.standing - self.open.tick_cost * i128::from(self.way.lost()),
        });
        loop {
            while let Some(here) = place {
                steps.take(1)?;
                place = if here.item == self.items.len() {
                    self.end_run(here, steps)?
                } else {
                    choices.extend(self.choice(here, steps)?);
                    None
                };
            }
            let Some(choice) = choices.last_mut() else {
                return Ok(());
            };
            place = self.go_on(choice);
            if place.is_none() {
                choices.pop();
            }
        }
    }

    /// The counts that an item can have here; `None` where even the best completion is not worth enough.
    fn choice(&self, here: Place, steps: &mut Steps) -> Result<Option<Choice>, TooLarge> {
        let Place { run, item, worth } = here;
        let (fill, ending) = self.fills[run].clone();
        let length = self.room(run);
        let tick_cost = self.open.tick_cost;
        let (class, least) = self.items[item];
        let price = i128::from(self.open.prices[self.classes[class].part]);
        // No later item is worth more per length, and the length used up is at least the fill at the end less one cut, which may lie
        // beyond the run. While the fill is shorter than that cut, `used` is below zero: the part that comes next may need none.
        let space = i128::from((length + self.widest - fill).max(0));
        let gain = (price - tick_cost * i128::from(least)).max(0);
        let used = tick_cost * i128::from(fill - self.widest);
        // Keeping an offcut may be worth something by itself.
        let kept = (-self.board.kept).max(0);
        let later = self.later[run + 1];
        let most = worth - used + gain * space / i128::from(least) + 1 + kept + later;
        if most < self.needed {
            return Ok(None);
        }
        let mut trail = vec![(fill, ending)];
        while trail.len() <= self.left[class] as usize {
            steps.take(1)?;
            let (fill, ending) = &trail[trail.len() - 1];
            let (next, amount) = self.board.wood.with(self.classes[class].part, ending);
            if fill + amount > length + self.widest {
                break;
            }
            trail.push((fill + amount, next));
        }
        Ok(Some(Choice {
            place: here,
            untried: trail.len(),
            trail,
            chosen: 0,
        }))
    }

    /// Makes the next choice, the greatest count first; returns the state after it, or `None` where all counts were tried.
    fn go_on(&mut self, choice: &mut Choice) -> Option<Place> {
        let Place { run, item, worth } = choice.place;
        let (class, _) = self.items[item];
        self.left[class] += choice.chosen;
        self.counts[class] -= choice.chosen;
        choice.chosen = 0;
        if choice.untried == 0 {
            self.fills[run] = choice.trail[0].clone();
            return None;
        }
        choice.untried -= 1;
        choice.chosen = choice.untried as u32;
        self.fills[run] = choice.trail[choice.untried].clone();
        self.left[class] -= choice.chosen;
        self.counts[class] += choice.chosen;
        let price = i128::from(self.open.prices[self.classes[class].part]);
        Some(Place {
            run,
            item: item + 1,
            worth: worth + price * i128::from(choice.chosen),
        })
    }

    /// A run is filled: goes on to the next run, or lists the finished cutting.
    fn end_run(&mut self, here: Place, steps: &mut Steps) -> Result<Option<Place>, TooLarge> {
        let Place { run, worth, .. } = here;
        let laid = self.laid(run);
        if laid.need > self.room(run) {
            return Ok(None);
        }
        if run + 1 < self.rooms.len() {
            // Of a length carried in two pieces, the needed length is used up wherever the cut is.
            let used = match &self.way.shape {
                Shape::Runs(runs) => runs[run].used(laid, self.board.wood.keep),
                Shape::Carried(_) => laid.need,
            };
            let kept = self.board.kept * i128::from(self.keeps(run));
            return Ok(Some(Place {
                run: run + 1,
                item: 0,
                worth: worth - self.open.tick_cost * i128::from(used) - kept,
            }));
        }
        self.take(steps)?;
        Ok(None)
    }

    /// Lists the chosen cutting, if it loses no more than the gap.
    fn take(&mut self, steps: &mut Steps) -> Result<(), TooLarge> {
        steps.take((self.fills.len() + self.counts.len()) as u64)?;
        let runs = 0..self.fills.len();
        let laid: Vec<Laid> = runs.clone().map(|run| self.laid(run)).collect();
        let kept = match self.offcuts {
            true => runs.filter(|run| self.keeps(*run)).count() as u32,
            false => 0,
        };
        let Some(used) = self.way.used(&laid, self.board.wood.keep) else {
            return Ok(());
        };
        let counts: Vec<(usize, u32)> = self
            .counts
            .iter()
            .copied()
            .enumerate()
            .filter(|(_, count)| *count > 0)
            .collect();
        let price = |class: usize| i128::from(self.open.prices[self.classes[class].part]);
        let worth = counts
            .iter()
            .map(|&(class, count)| price(class) * i128::from(count))
            .sum::<i128>()
            - self.open.tick_cost * i128::from(used)
            - self.board.kept * i128::from(kept);
        let in_gap = worth >= self.needed && !counts.is_empty();
        let counts_used = self.open.counts_used();
        if in_gap && (counts_used || self.is_full(steps)?) {
            let used = if counts_used { used } else { 0 };
            let least = self.found.or_insert_with((counts, kept), || used);
            *least = used.min(*least);
            if self.found.len() > MOST_CUTTINGS {
                return Err(TooLarge);
            }
        }
        Ok(())
    }

    /// Whether a run keeps an offcut of a board of which splits may count them.
    fn keeps(&self, run: usize) -> bool {
        match &self.way.shape {
            Shape::Runs(runs) if self.board.board.counts_offcuts() => {
                runs[run].keeps(self.laid(run), self.board.wood.keep)
            }
            _ => false,
        }
    }

    /// The clear length of a run, given that those before it are filled.
    fn room(&self, run: usize) -> i64 {
        match &self.way.shape {
            Shape::Carried(carried) if run == 1 => {
                let first = self.laid(0).need;
                // Two pieces with the same greatest length are interchangeable; the first is then the one that needs more.
                let most = match carried.first == carried.second {
                    true => first,
                    false => carried.second,
                };
                most.min(carried.together - first)
            }
            _ => self.rooms[run],
        }
    }

    fn laid(&self, run: usize) -> Laid {
        let (fill, ending) = &self.fills[run];
        self.board.wood.laid(*fill, ending)
    }

    /// Whether no wanted part can be added to any run.
    fn is_full(&self, steps: &mut Steps) -> Result<bool, TooLarge> {
        let runs = self.fills.len();
        steps.take_each(self.items.len() * runs, runs as u64)?;
        let mut laid: Vec<Laid> = (0..runs).map(|run| self.laid(run)).collect();
        for &(class, _) in self.items.iter().filter(|(class, _)| self.left[*class] > 0) {
            for run in 0..runs {
                let (fill, ending) = &self.fills[run];
                let (next, amount) = self.board.wood.with(self.classes[class].part, ending);
                let before = laid[run];
                laid[run] = self.board.wood.laid(fill + amount, &next);
                if self.way.used(&laid, 0).is_some() {
                    return Ok(false);
                }
                laid[run] = before;
            }
        }
        Ok(true)
    }
}
