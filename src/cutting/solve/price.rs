//! The most valuable cutting of every board at once.
//!
//! One list of fills ([`super::fills`]) serves all boards of a section, since a board of clear length `u` reads off the best fill up to
//! `u`. A board of several runs takes the best fill of each: all but its longest run are read from a second list, grown only
//! as far as they are long, so that what the longest must still bring is known exactly.
//!
//! All figures are integers. The worth reported for a board is exact where it is more than the charge, and otherwise no cutting
//! is worth more than the charge; both are what a proof needs. Where the length used up counts, a cutting holds a part: the empty one, worth
//! nothing less what touching the board loses, would hide all others when charges are below nothing. The cost follows what can be reached, not how fine a
//! tick is, so it does not matter when a millimetre saw meets lengths in inches.

use super::clock::{Clock, Stopped};
use super::fills::{Bar, Bars, Laid, grow};
use super::lay::Lay;
use super::pattern::Pattern;
use super::ways::{MERGED, Ways};
use crate::problem::{Need, Problem, Run, Section, Shape, Ticks};

/// Prices and values are kept below this, so that no sum or product overflows.
pub(super) const LARGEST_PRICE: i64 = 1 << 38;
/// How many cuttings are returned for one board of one run.
const ALTERNATIVES: usize = 3;

/// What cuttings are worth and what they must be worth.
pub(super) struct Goals<'g> {
    /// Value of one of each part, from 0 to [`LARGEST_PRICE`].
    pub(super) prices: &'g [i64],
    /// The most of each part that one run may hold.
    pub(super) most: &'g [u32],
    /// What a cutting of each board must be worth more than.
    pub(super) charges: &'g [i64],
    /// What every tick used up costs; nothing where only parts count.
    pub(super) tick_cost: i64,
}

/// The answer.
pub(super) struct Priced {
    /// For each board the most a cutting is worth, if that is more than the charge; otherwise the charge.
    pub(super) worth: Vec<i64>,
    /// Cuttings worth more than their charge: at least the best of every board that has one, unless a list was crowded.
    pub(super) patterns: Vec<(Pattern, i64)>,
}

/// Finds the most valuable cuttings.
pub(super) struct Pricer<'p> {
    problem: &'p Problem,
    lays: Vec<Lay>,
    ways: Ways,
}

/// The fills of one section.
struct Fills<'f> {
    section: &'f Section,
    /// Those that can bring a board above its charge, for the longest run of each board.
    long: Vec<Laid>,
    /// All of them, as far as the other runs are long.
    short: Vec<Laid>,
}

impl Fills<'_> {
    /// How many fills are looked at for a board, about.
    fn looks(&self, shape: &Shape, goals: &Goals) -> usize {
        match shape {
            Shape::OneCut { .. } => 8 * (self.long.len() + self.short.len()),
            Shape::Runs(_) if goals.tick_cost > 0 => {
                self.long.len() + self.short.len() * shorter_runs(shape)
            }
            Shape::Runs(_) => 16,
        }
    }
}

impl<'p> Pricer<'p> {
    pub(super) fn new(problem: &'p Problem) -> Self {
        let lays = problem
            .sections
            .iter()
            .map(|section| Lay::new(problem, section))
            .collect();
        Pricer {
            problem,
            lays,
            ways: Ways::default(),
        }
    }

    pub(super) fn lays(&self) -> &[Lay] {
        &self.lays
    }

    /// The best cuttings of all boards for these goals.
    pub(super) fn price(&mut self, goals: &Goals, clock: &mut Clock) -> Result<Priced, Stopped> {
        let mut priced = Priced {
            worth: goals.charges.to_vec(),
            patterns: Vec::new(),
        };
        for (index, section) in self.problem.sections.iter().enumerate() {
            self.ways.clear();
            let lay = &self.lays[index];
            let shorter = self
                .boards_of(index)
                .map(|board| shorter_length(&self.problem.boards[board].shape))
                .max()
                .unwrap_or(0);
            let short = if shorter > 0 {
                let anything = Bar {
                    capacity: shorter + lay.overhang,
                    value: i64::MIN / 4,
                };
                let bars = Bars {
                    full: vec![anything],
                    open: Vec::new(),
                };
                grow(lay, goals, bars, &mut self.ways, clock)?
            } else {
                Vec::new()
            };
            let bars = self.bars(index, &short, goals, clock)?;
            let long = grow(lay, goals, bars, &mut self.ways, clock)?;
            let fills = Fills {
                section,
                long,
                short,
            };
            for board in self.boards_of(index) {
                clock.worked(fills.looks(&self.problem.boards[board].shape, goals))?;
                match &self.problem.boards[board].shape {
                    Shape::Runs(runs) if runs.len() == 1 && goals.tick_cost == 0 => {
                        self.one_run(board, runs[0], &fills, goals, &mut priced);
                    }
                    Shape::Runs(runs) => self.several_runs(board, runs, &fills, goals, &mut priced),
                    &Shape::OneCut { together, each } => {
                        self.cut_once(board, (together, each), &fills, goals, &mut priced)
                    }
                }
            }
        }
        Ok(priced)
    }

    fn boards_of(&self, section: usize) -> impl Iterator<Item = usize> + use<'p> {
        let boards = &self.problem.boards;
        (0..boards.len()).filter(move |&board| boards[board].section == section)
    }

    /// What fills of a section must exceed: at the full length of a board's longest run, and where an offcut is kept.
    fn bars(
        &self,
        index: usize,
        short: &[Laid],
        goals: &Goals,
        clock: &mut Clock,
    ) -> Result<Bars, Stopped> {
        let section = &self.problem.sections[index];
        let overhang = self.lays[index].overhang;
        let mut bars = Bars {
            full: Vec::new(),
            open: Vec::new(),
        };
        for board in self.boards_of(index) {
            let kind = &self.problem.boards[board];
            let charge = goals.charges[board].saturating_add(goals.tick_cost * kind.lost);
            if let Shape::OneCut { .. } = kind.shape {
                clock.worked(short.len())?;
            } else if goals.tick_cost > 0 {
                clock.worked(short.len() * shorter_runs(&kind.shape))?;
            }
            match &kind.shape {
                Shape::Runs(runs) => {
                    let Some(longest) = longest(runs) else {
                        continue;
                    };
                    let others: i64 = (0..runs.len())
                        .filter(|&run| run != longest)
                        .filter_map(|run| {
                            best(section, short, runs[run], goals).map(|(_, worth)| worth)
                        })
                        .sum();
                    let run = runs[longest];
                    let whole = goals.tick_cost * (run.length + run.tail);
                    bars.full.push(Bar {
                        capacity: run.length + overhang,
                        value: charge.saturating_add(whole - others),
                    });
                    if goals.tick_cost > 0 {
                        let capacity = (run.length - 1).min(run.length + run.tail - section.keep);
                        bars.open.push(Bar {
                            capacity,
                            value: charge - others,
                        });
                    }
                }
                &Shape::OneCut { together, each } => {
                    // The other piece is the shorter one, at most half of the whole; every tick that is needed is used up in any
                    // case, but not the last cut, which may fall into the yard's.
                    let half = short.partition_point(|fill| fill.need.length <= together / 2);
                    let other = short[..half]
                        .iter()
                        .map(|fill| fill.value - goals.tick_cost * fill.need.length)
                        .max();
                    let value = charge.saturating_sub(other.unwrap_or(0));
                    let capacity = each[0].max(each[1]).min(together) + overhang;
                    bars.full.push(Bar {
                        capacity,
                        value: value.saturating_add(goals.tick_cost * together),
                    });
                    if goals.tick_cost > 0 {
                        bars.open.push(Bar {
                            capacity,
                            value: value.saturating_sub(goals.tick_cost * overhang),
                        });
                    }
                }
            }
        }
        Ok(bars)
    }

    /// The best cuttings of a board with one run where only parts count.
    fn one_run(&self, board: usize, run: Run, fills: &Fills, goals: &Goals, priced: &mut Priced) {
        let end = fills
            .long
            .partition_point(|fill| fill.need.length <= run.length);
        let worthy = fills.long[..end]
            .iter()
            .rev()
            .take_while(|fill| fill.value > goals.charges[board]);
        for fill in worthy.take(ALTERNATIVES) {
            priced.worth[board] = priced.worth[board].max(fill.value);
            if fill.link != MERGED {
                priced.patterns.push((
                    Pattern {
                        board,
                        runs: vec![self.ways.trace(fill.link)],
                    },
                    fill.value,
                ));
            }
        }
    }

    fn several_runs(
        &self,
        board: usize,
        runs: &[Run],
        fills: &Fills,
        goals: &Goals,
        priced: &mut Priced,
    ) {
        let Some(longest) = longest(runs) else { return };
        let list = |run: usize| {
            if run == longest {
                &fills.long
            } else {
                &fills.short
            }
        };
        let mut total = -goals.tick_cost * self.problem.boards[board].lost;
        let mut chosen = Vec::with_capacity(runs.len());
        for (index, &run) in runs.iter().enumerate() {
            let Some((fill, worth)) = best(fills.section, list(index), run, goals) else {
                return;
            };
            total += worth;
            chosen.push((fill.link, worth));
        }
        if chosen.iter().all(|&(link, _)| link == 0) {
            // The run that loses least by holding something, which is all that is asked of the board.
            let forced = runs.iter().enumerate().filter_map(|(index, &run)| {
                let fills_of = list(index).get(1..)?;
                let (fill, worth) = best(fills.section, fills_of, run, goals)?;
                Some((worth - chosen[index].1, index, fill.link))
            });
            let Some((loss, index, link)) = forced.max_by_key(|&(loss, _, _)| loss) else {
                return;
            };
            total += loss;
            chosen[index].0 = link;
        }
        let links = chosen.into_iter().map(|(link, _)| link).collect();
        self.take(board, total, links, goals, priced);
    }

    /// The best two carried pieces of a length cut once at the yard: the longer from the one list, the shorter from the other, either
    /// of them with the datum end.
    fn cut_once(
        &self,
        board: usize,
        (together, each): (Ticks, [Ticks; 2]),
        fills: &Fills,
        goals: &Goals,
        priced: &mut Priced,
    ) {
        if together > each[0] + each[1] {
            return;
        }
        let end = |list: &[Laid], most: Ticks| {
            list.partition_point(|fill| fill.need.length <= most.min(together))
        };
        let long = &fills.long[..end(&fills.long, each[0].max(each[1]))];
        let short = &fills.short[..end(&fills.short, together / 2)];
        let mut best: Option<(i64, Vec<u32>)> = None;
        // Pieces that may be equally long are alike.
        let turns: &[bool] = if each[0] == each[1] {
            &[false]
        } else {
            &[false, true]
        };
        for &turned in turns {
            let pieces = Pieces {
                section: fills.section,
                together,
                each: if turned { [each[1], each[0]] } else { each },
                tick_cost: goals.tick_cost,
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
        if let Some((total, links)) = best {
            let total = total - goals.tick_cost * self.problem.boards[board].lost;
            self.take(board, total, links, goals, priced);
        }
    }

    fn take(&self, board: usize, total: i64, links: Vec<u32>, goals: &Goals, priced: &mut Priced) {
        if total <= goals.charges[board] || links.iter().all(|&link| link == 0) {
            return;
        }
        priced.worth[board] = total;
        if !links.contains(&MERGED) {
            let runs = links
                .into_iter()
                .map(|link| self.ways.trace(link))
                .collect();
            priced.patterns.push((Pattern { board, runs }, total));
        }
    }
}

/// The best fill of a run, and what it is worth.
fn best<'l>(
    section: &Section,
    fills: &'l [Laid],
    run: Run,
    goals: &Goals,
) -> Option<(&'l Laid, i64)> {
    let end = fills.partition_point(|fill| fill.need.length <= run.length);
    if goals.tick_cost == 0 {
        return fills[..end].last().map(|fill| (fill, fill.value));
    }
    let worth = |fill: &Laid| fill.value - goals.tick_cost * section.used(run, fill.need);
    fills[..end]
        .iter()
        .map(|fill| (fill, worth(fill)))
        .max_by_key(|&(_, worth)| worth)
}

/// The two carried pieces of a length cut once at the yard, and what they are worth together: the value of both fills less what
/// [`Section::used_cut_once`] says is used up.
struct Pieces<'s> {
    section: &'s Section,
    together: Ticks,
    /// The most that the first and the second may be long.
    each: [Ticks; 2],
    tick_cost: i64,
}

impl Pieces<'_> {
    /// The best pair that is not empty, if all the slack lies with the first as far as it may be long: (worth, link, link).
    ///
    /// The second piece is as long as it needs to be, or what the first leaves at its longest where it needs less. In the first case what is used up is the
    /// whole, or what both need and the last cut of the first where enough to keep is left beyond it. Either is a sum of one figure of each, so
    /// that for each first fill the second is the best up to some length, found in a list of such best ones. In the second case
    /// the lengths of the pieces are given, and each is chosen by itself. Where both leave enough to keep, what both fill is used up.
    fn best(&self, firsts: &[Laid], seconds: &[Laid]) -> Option<(i64, u32, u32)> {
        let [most, most_second] = self.each;
        let rest = (self.together - most).max(0);
        let seconds = &seconds[..seconds.partition_point(|fill| fill.need.length <= most_second)];
        let own = |fill: &Laid| fill.value - self.tick_cost * fill.need.length;
        let all = Foremost::new(seconds, 0, |fill| fill.value);
        let fitted = seconds.partition_point(|fill| fill.need.length < rest);
        let exact = Foremost::new(seconds, fitted, own);
        let run = |length| Run { length, tail: 0 };
        let beside = self.tick_cost > 0 && rest > 0;
        let shorter = Foremost::new(seconds, 0, |fill| {
            if beside && fill.need.length <= rest {
                fill.value - self.tick_cost * self.section.used(run(rest), fill.need)
            } else {
                i64::MIN / 4
            }
        });
        let left = self.section.keep.max(1);
        let filled = if beside { by_fill(seconds) } else { Vec::new() };
        let kept = Foremost::new(&filled, 0, own);
        let mut best: Option<(i64, u32, u32)> = None;
        for first in firsts.iter().filter(|fill| fill.need.length <= most) {
            let empty = first.link == 0;
            let mut consider = |worth: i64, (among, fills): (&Foremost, &[Laid]), most: Ticks| {
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
fn by_fill(fills: &[Laid]) -> Vec<Laid> {
    let mut filled: Vec<Laid> = fills.to_vec();
    for fill in &mut filled {
        fill.need = Need {
            length: fill.need.length + fill.need.last_cut,
            last_cut: 0,
        };
    }
    filled.sort_by_key(|fill| fill.need.length);
    filled
}

/// For each fill of a list, ascending by need, the best from some place on up to it, with and without the empty one.
struct Foremost {
    from: usize,
    best: Vec<(i64, usize)>,
    /// The same without the empty fill.
    filled: Vec<(i64, usize)>,
}

impl Foremost {
    fn new(fills: &[Laid], from: usize, worth: impl Fn(&Laid) -> i64) -> Self {
        let mut foremost = Foremost {
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
            let filled = if fill.link == 0 {
                (i64::MIN / 4, at)
            } else {
                own
            };
            foremost.filled.push(better(&foremost.filled, filled));
        }
        foremost
    }

    /// The best that needs at most `most`: its worth and its link.
    fn up_to(&self, fills: &[Laid], most: Ticks, filled: bool) -> Option<(i64, u32)> {
        let end = fills.partition_point(|fill| fill.need.length <= most);
        let list = if filled { &self.filled } else { &self.best };
        let &(worth, at) = list[..end.checked_sub(self.from)?].last()?;
        (worth > i64::MIN / 8).then(|| (worth, fills[at].link))
    }
}

/// The index of the longest run.
fn longest(runs: &[Run]) -> Option<usize> {
    (0..runs.len()).max_by_key(|&run| runs[run].length)
}

/// How many runs a board has besides its longest.
fn shorter_runs(shape: &Shape) -> usize {
    match shape {
        Shape::Runs(runs) => runs.len().saturating_sub(1),
        Shape::OneCut { .. } => 1,
    }
}

/// The longest that any run but the longest can be; nothing for a board of one run.
fn shorter_length(shape: &Shape) -> Ticks {
    match shape {
        Shape::Runs(runs) => {
            let longest = longest(runs);
            (0..runs.len())
                .filter(|&run| Some(run) != longest)
                .map(|run| runs[run].length)
                .max()
                .unwrap_or(0)
        }
        &Shape::OneCut { together, each } => (together / 2).min(each[0].max(each[1])),
    }
}
