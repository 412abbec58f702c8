//! Pricing: the most valuable cutting of every board at once.
//!
//! **Idea** (the subproblem of Gilmore and Gomory 1961, 1963, a bounded knapsack). One set of lists or tables serves all boards of a section, since a
//! board of clear length `u` reads off the best fill up to `u`. A board of several runs takes the best fill of each: all but its longest run are read
//! from a second list, grown only as far as they are long, so that what the longest must still bring is known exactly.
//!
//! **Invariant.** All figures are integers. The worth reported for a board is exact where it is more than the charge, and otherwise no cutting
//! is worth more than the charge; both are what a proof needs. Where the length used up counts, a cutting holds a part: the empty one, worth
//! zero less what touching the board loses, would hide all others when charges are below zero. Where an offcut that is kept is charged, it may be
//! given up instead, so that a shorter fill that is worth no less is never the worse one, whatever the charge. **Why it ends:** sections and boards are gone through
//! once. The cost follows what can be reached, not how fine a tick is, so it does not matter when a millimetre saw meets lengths in inches.

mod completion;
pub(crate) mod dominance;
mod lists;
pub(crate) mod partial_pattern;
pub(crate) mod table;
pub(crate) mod traceback;
mod yard_cut;

use crate::board_shape::{longest, shorter_length, shorter_runs};
use crate::clock::{Clock, Stopped};
use crate::limits::{ALTERNATIVES, ONE_RUN_WORK, WORTHLESS, YARD_CUT_WORK};
use crate::pattern::Pattern;
use crate::pricing::lists::grow;
use crate::pricing::partial_pattern::{FilledRun, Threshold, Thresholds};
use crate::pricing::traceback::{NO_PATTERN, Traceback};
use crate::pricing::yard_cut::YardCut;
use crate::problem::{Problem, Run, Section, Shape, Standing, Ticks};
use crate::run_states::RunStates;

pub(crate) use crate::pricing::partial_pattern::PricingProblem;

/// The answer.
pub(crate) struct PricingResult {
    /// For each board the most a cutting is worth, if that is more than the charge; otherwise the charge.
    pub(crate) worth: Vec<i64>,
    /// Cuttings worth more than their charge: at least the best of every board that has one, unless a list was halved for its length.
    pub(crate) patterns: Vec<(Pattern, i64)>,
}

/// Finds the most valuable cuttings.
pub(crate) struct Pricer<'p> {
    problem: &'p Problem,
    /// The ways in which parts stand at the factory ends of each board, in order.
    ways: Vec<(usize, Standing<'p>)>,
    run_states: Vec<RunStates>,
    traceback: Traceback,
}

impl<'p> Pricer<'p> {
    /// A pricer of a problem's boards.
    pub(crate) fn new(problem: &'p Problem) -> Self {
        let sections = problem.sections.iter();
        Pricer {
            problem,
            ways: ways(problem),
            run_states: sections
                .map(|section| RunStates::new(problem, section))
                .collect(),
            traceback: Traceback::default(),
        }
    }

    /// How parts add up on each section.
    pub(crate) fn run_states(&self) -> &[RunStates] {
        &self.run_states
    }

    /// The best cuttings of all boards.
    pub(crate) fn price(
        &mut self,
        pricing: &PricingProblem,
        clock: &mut Clock,
    ) -> Result<PricingResult, Stopped> {
        let mut result = PricingResult {
            worth: pricing.charges.to_vec(),
            patterns: Vec::new(),
        };
        for index in 0..self.problem.sections.len() {
            self.traceback.clear();
            let short = self.short_fills(index, pricing, clock)?;
            let mut fills = SectionFills {
                problem: self.problem,
                section: &self.problem.sections[index],
                pricing,
                long: Vec::new(),
                short,
            };
            let states = &self.run_states[index];
            let mut thresholds = Thresholds::default();
            let (problem, ways) = (self.problem, &self.ways);
            let stood = || {
                let here = ways
                    .iter()
                    .filter(|(board, _)| problem.boards[*board].section == index);
                here.filter_map(|(board, way)| Stood::of(*board, way, pricing))
            };
            for stood in stood() {
                clock.worked(fills.looks_for_threshold(&stood.way.shape))?;
                fills.add_thresholds(&stood, states.overhang, &mut thresholds);
            }
            let traceback = &mut self.traceback;
            fills.long = grow(states, pricing, thresholds, traceback, clock)?;
            for stood in stood() {
                clock.worked(fills.looks(&stood.way.shape))?;
                fills.price(&stood, traceback, &mut result);
            }
        }
        Ok(result)
    }

    /// All fills, as far as the runs of a section are long that are not the longest of their board.
    fn short_fills(
        &mut self,
        index: usize,
        pricing: &PricingProblem,
        clock: &mut Clock,
    ) -> Result<Vec<FilledRun>, Stopped> {
        let shorter = boards_of(self.problem, index)
            .map(|board| shorter_length(&self.problem.boards[board].shape))
            .max()
            .unwrap_or(0);
        if shorter <= 0 {
            return Ok(Vec::new());
        }
        let states = &self.run_states[index];
        let anything = Threshold {
            capacity: shorter + states.overhang,
            value: WORTHLESS,
        };
        let thresholds = Thresholds {
            full: vec![anything],
            open: Vec::new(),
        };
        grow(states, pricing, thresholds, &mut self.traceback, clock)
    }
}

/// The boards of a section.
fn boards_of(problem: &Problem, section: usize) -> impl Iterator<Item = usize> + '_ {
    let boards = &problem.boards;
    (0..boards.len()).filter(move |&board| boards[board].section == section)
}

/// The ways in which parts stand at the factory ends of each board.
fn ways(problem: &Problem) -> Vec<(usize, Standing<'_>)> {
    let boards = problem.boards.len();
    let mut ways = Vec::with_capacity(boards);
    for board in 0..boards {
        ways.extend(problem.standings(board).map(|way| (board, way)));
    }
    ways
}

/// A board with certain parts at its factory ends.
struct Stood<'w> {
    board: usize,
    way: &'w Standing<'w>,
    /// Those parts, as the last run of a pattern, and what they are worth.
    posts: Vec<(usize, u32)>,
    worth: i64,
    /// What its other parts must be worth more than.
    charge: i64,
}

impl<'w> Stood<'w> {
    /// `None` where so many of a part may not stand there.
    fn of(board: usize, way: &'w Standing<'w>, pricing: &PricingProblem) -> Option<Self> {
        let posts = way.run();
        if posts
            .iter()
            .any(|&(post, count)| count > pricing.most[post])
        {
            return None;
        }
        let worths = posts
            .iter()
            .map(|&(post, count)| pricing.prices[post] * i64::from(count));
        let worth = worths.sum();
        Some(Stood {
            board,
            way,
            posts,
            worth,
            charge: pricing.charges[board].saturating_sub(worth),
        })
    }
}

/// The fills of one section, from which its boards are read off.
struct SectionFills<'f> {
    problem: &'f Problem,
    section: &'f Section,
    pricing: &'f PricingProblem<'f>,
    /// Those that can bring a board above its charge, for the longest run of each board.
    long: Vec<FilledRun>,
    /// All of them, as far as the other runs are long.
    short: Vec<FilledRun>,
}

impl SectionFills<'_> {
    /// How many fills are looked at for a board, about.
    fn looks(&self, shape: &Shape) -> usize {
        match shape {
            Shape::OneCut { .. } => YARD_CUT_WORK * (self.long.len() + self.short.len()),
            Shape::Runs(_) if self.pricing.tick_cost > 0 => {
                self.long.len() + self.short.len() * shorter_runs(shape)
            }
            Shape::Runs(_) => ONE_RUN_WORK,
        }
    }

    /// The same for its threshold.
    fn looks_for_threshold(&self, shape: &Shape) -> usize {
        match shape {
            Shape::OneCut { .. } => self.short.len(),
            Shape::Runs(_) if self.pricing.tick_cost > 0 => self.short.len() * shorter_runs(shape),
            Shape::Runs(_) => 0,
        }
    }

    /// What fills must exceed for this board: at the full length of its longest run, and where an offcut is kept.
    fn add_thresholds(&self, stood: &Stood, overhang: Ticks, thresholds: &mut Thresholds) {
        let tick_cost = self.pricing.tick_cost;
        let charge = stood.charge.saturating_add(tick_cost * stood.way.lost);
        let kept_charge = self.kept_charge(stood.board);
        match &*stood.way.shape {
            Shape::Runs(runs) => {
                let Some(longest) = longest(runs) else {
                    return;
                };
                let others: i64 = (0..runs.len())
                    .filter(|&run| run != longest)
                    .filter_map(|run| {
                        let best = self.best(&self.short, runs[run], kept_charge);
                        best.map(|(_, worth)| worth)
                    })
                    .sum();
                let run = runs[longest];
                let whole = tick_cost * (run.length + run.tail);
                thresholds.full.push(Threshold {
                    capacity: run.length + overhang,
                    value: charge.saturating_add(whole - others),
                });
                if tick_cost > 0 {
                    let kept = run.length + run.tail - self.section.keep;
                    thresholds.open.push(Threshold {
                        capacity: (run.length - 1).min(kept),
                        value: charge.saturating_add(kept_charge).saturating_sub(others),
                    });
                }
            }
            &Shape::OneCut { together, each } => {
                // The other piece is the shorter one, at most half of the whole; every tick that is needed is used up in any
                // case, but not the last cut, which may fall into the yard's.
                let fits = |fill: &FilledRun| fill.need.length <= together / 2;
                let half = self.short.partition_point(fits);
                let other = self.short[..half]
                    .iter()
                    .map(|fill| fill.value - tick_cost * fill.need.length)
                    .max();
                let value = charge.saturating_sub(other.unwrap_or(0));
                let capacity = each[0].max(each[1]).min(together) + overhang;
                thresholds.full.push(Threshold {
                    capacity,
                    value: value.saturating_add(tick_cost * together),
                });
                if tick_cost > 0 {
                    thresholds.open.push(Threshold {
                        capacity,
                        value: value.saturating_sub(tick_cost * overhang),
                    });
                }
            }
        }
    }

    /// What an offcut of a board is charged that is kept; zero where they are not counted.
    fn kept_charge(&self, board: usize) -> i64 {
        match self.problem.lasting_runs(board) {
            Some(_) => self.pricing.kept[board],
            None => 0,
        }
    }

    /// The best cuttings of a board.
    fn price(&self, stood: &Stood, traceback: &Traceback, result: &mut PricingResult) {
        let best = match &*stood.way.shape {
            Shape::Runs(runs) if runs.len() == 1 && self.pricing.tick_cost == 0 => {
                self.one_run(stood, runs[0], traceback, result);
                None
            }
            Shape::Runs(runs) => self.several_runs(stood, runs),
            &Shape::OneCut { together, each } => self.yard_cut(stood, together, each),
        };
        let Some((total, links)) = best else { return };
        let empty = stood.posts.is_empty() && links.iter().all(|&link| link == 0);
        if total <= stood.charge || empty {
            return;
        }
        self.note(stood, total, &links, traceback, result);
    }

    /// Notes a cutting with these fills in its runs, which are worth so much.
    fn note(
        &self,
        stood: &Stood,
        worth: i64,
        links: &[u32],
        traceback: &Traceback,
        result: &mut PricingResult,
    ) {
        let (board, total) = (stood.board, worth + stood.worth);
        result.worth[board] = result.worth[board].max(total);
        if !links.contains(&NO_PATTERN) {
            let runs = links.iter().map(|&link| traceback.trace(link));
            let mut runs: Vec<_> = runs.collect();
            if self.problem.boards[board].factory.is_some() {
                runs.push(stood.posts.clone());
            }
            result.patterns.push((Pattern { board, runs }, total));
        }
    }

    /// The best cuttings of a board with one run where only parts count.
    fn one_run(&self, stood: &Stood, run: Run, traceback: &Traceback, result: &mut PricingResult) {
        let fits = |fill: &FilledRun| fill.need.length <= run.length;
        let end = self.long.partition_point(fits);
        let worthy = self.long[..end]
            .iter()
            .rev()
            .take_while(|fill| fill.value > stood.charge);
        for fill in worthy.take(ALTERNATIVES) {
            self.note(stood, fill.value, &[fill.link], traceback, result);
        }
    }

    /// The best fill of each run of a board: what they are worth, and their links.
    fn several_runs(&self, stood: &Stood, runs: &[Run]) -> Option<(i64, Vec<u32>)> {
        let longest = longest(runs)?;
        let list = |run: usize| {
            if run == longest {
                &self.long
            } else {
                &self.short
            }
        };
        let mut total = -self.pricing.tick_cost * stood.way.lost;
        let kept_charge = self.kept_charge(stood.board);
        let mut chosen = Vec::with_capacity(runs.len());
        for (index, &run) in runs.iter().enumerate() {
            let (fill, worth) = self.best(list(index), run, kept_charge)?;
            total += worth;
            chosen.push((fill.link, worth));
        }
        if stood.posts.is_empty() && chosen.iter().all(|&(link, _)| link == 0) {
            // The run that loses least by holding something, which is all that is asked of the board.
            let forced = runs.iter().enumerate().filter_map(|(index, &run)| {
                let (fill, worth) = self.best(list(index).get(1..)?, run, kept_charge)?;
                Some((worth - chosen[index].1, index, fill.link))
            });
            let (loss, index, link) = forced.max_by_key(|&(loss, _, _)| loss)?;
            total += loss;
            chosen[index].0 = link;
        }
        Some((total, chosen.into_iter().map(|(link, _)| link).collect()))
    }

    /// The best two carried pieces of a length cut once at the yard: the longer from the one list, the shorter from the other, either
    /// of them with the datum end.
    fn yard_cut(
        &self,
        stood: &Stood,
        together: Ticks,
        each: [Ticks; 2],
    ) -> Option<(i64, Vec<u32>)> {
        if together > each[0] + each[1] {
            return None;
        }
        let up_to = |list: &[FilledRun], most: Ticks| {
            list.partition_point(|fill| fill.need.length <= most.min(together))
        };
        let long = &self.long[..up_to(&self.long, each[0].max(each[1]))];
        let short = &self.short[..up_to(&self.short, together / 2)];
        let mut best: Option<(i64, Vec<u32>)> = None;
        // Pieces that may be equally long are alike.
        let turns: &[bool] = if each[0] == each[1] {
            &[false]
        } else {
            &[false, true]
        };
        for &turned in turns {
            let pieces = YardCut {
                section: self.section,
                together,
                each: if turned { [each[1], each[0]] } else { each },
                tick_cost: self.pricing.tick_cost,
                may_be_empty: !stood.posts.is_empty(),
            };
            for (first, second) in [(long, short), (short, long)] {
                let Some((total, first, second)) = pieces.best(first, second) else {
                    continue;
                };
                if best.as_ref().is_none_or(|best| total > best.0) {
                    let links = match turned {
                        true => vec![second, first],
                        false => vec![first, second],
                    };
                    best = Some((total, links));
                }
            }
        }
        let lost = self.pricing.tick_cost * stood.way.lost;
        best.map(|(total, links)| (total - lost, links))
    }

    /// The best fill of a run where keeping an offcut is charged so much, and what it is worth. The charge is not paid where the offcut is
    /// rather given up; so no longer fill is worth more for leaving none, and lists need not hold it.
    fn best<'l>(
        &self,
        fills: &'l [FilledRun],
        run: Run,
        kept_charge: i64,
    ) -> Option<(&'l FilledRun, i64)> {
        let end = fills.partition_point(|fill| fill.need.length <= run.length);
        if self.pricing.tick_cost == 0 {
            return fills[..end].last().map(|fill| (fill, fill.value));
        }
        let tick_cost = self.pricing.tick_cost;
        let worth = |fill: &FilledRun| {
            let used = fill.value - tick_cost * self.section.used(run, fill.need);
            if kept_charge == 0 || !self.section.keeps(run, fill.need) {
                return used;
            }
            (used - kept_charge).max(fill.value - tick_cost * (run.length + run.tail))
        };
        fills[..end]
            .iter()
            .map(|fill| (fill, worth(fill)))
            .max_by_key(|&(_, worth)| worth)
    }
}
