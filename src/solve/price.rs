//! The most valuable cutting of every board at once.
//!
//! For each section one list of *fills* is grown part by part, best value per length first: a fill is a length taken, a
//! value, and the way it was reached. A fill that takes no less and is worth no more than another in the same state of
//! [`Lay`] is dropped (the sparse form of Gilmore and Gomory's knapsack, 1966; dominance as in Nemhauser and Ullmann 1969).
//! One list serves all lengths, since a board of clear length `u` reads off the best fill up to `u`.
//!
//! Only cuttings worth more than their board is charged matter. A fill from which no board can reach its charge, even if
//! all the rest were filled at the value per length of the best part still to come, is dropped too; near the end of
//! column generation, when charges and values meet, that leaves few. So the cost follows what can be reached, not how fine a
//! tick is, and it does not matter when a millimetre saw meets lengths in inches.
//!
//! All figures are integers. The worth reported for a board is exact where it is more than the charge, and otherwise
//! no cutting is worth more than the charge; both are what a proof needs. Where a list would grow beyond [`CROWD`],
//! neighbouring fills are merged into one that takes the lesser length and is worth the greater value: no longer a cutting, still
//! an upper bound.

use super::clock::{Clock, Stopped};
use super::lay::{Item, Lay};
use super::pattern::Pattern;
use crate::problem::{Need, Problem, Run, Shape, Ticks};

/// The longest list of fills kept for one state. Longer ones are thinned to half of it. At 24 bytes a fill and 8 for its link, a few
/// lists of this length stay far below the memory of a browser tab.
const CROWD: usize = 200_000;
/// The links kept at once; beyond it lists are thinned hard, since every new fill costs a link.
const LINKS: usize = 6_000_000;
/// The longest list kept then.
const FEW: usize = 2_000;
/// Prices and values are kept below this, so that no sum or product below overflows.
pub(super) const LARGEST_PRICE: i64 = 1 << 38;
/// Fraction bits of a value per length.
const FRACTION: u32 = 8;
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
    /// Cuttings worth more than their charge: at least the best of every board that has one, unless the list was crowded.
    pub(super) patterns: Vec<(Pattern, i64)>,
}

#[derive(Clone, Copy)]
struct Fill {
    length: Ticks,
    value: i64,
    link: u32,
}

/// A fill that no cutting stands behind.
const MERGED: u32 = u32::MAX;

/// A fill with its state resolved.
#[derive(Clone, Copy)]
struct Laid {
    need: Need,
    value: i64,
    link: u32,
}

/// A capacity and the value that a fill must exceed there, when every tick of fill costs `tick_cost`.
#[derive(Clone, Copy)]
struct Bar {
    capacity: Ticks,
    value: i64,
}

/// Finds the most valuable cuttings.
pub(super) struct Pricer<'p> {
    problem: &'p Problem,
    lays: Vec<Lay>,
    links: Vec<(u32, u32)>,
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
            links: Vec::new(),
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
        for section in 0..self.lays.len() {
            let fills = self.fill(section, goals, clock)?;
            for (index, board) in self.problem.boards.iter().enumerate() {
                if board.section == section {
                    self.read_off(index, &fills, goals, &mut priced);
                }
            }
        }
        Ok(priced)
    }

    /// All fills of one section worth keeping.
    fn fill(
        &mut self,
        section: usize,
        goals: &Goals,
        clock: &mut Clock,
    ) -> Result<Vec<Laid>, Stopped> {
        let lay = &self.lays[section];
        self.links.clear();
        self.links.push((0, u32::MAX));
        let mut items: Vec<Item> = lay
            .items
            .iter()
            .copied()
            .filter(|item| goals.prices[item.part] > 0 && goals.most[item.part] > 0)
            .collect();
        // By value per length, compared crosswise.
        items.sort_by(|left, right| {
            let a = i128::from(goals.prices[left.part]) * i128::from(right.least);
            let b = i128::from(goals.prices[right.part]) * i128::from(left.least);
            b.cmp(&a).then(left.part.cmp(&right.part))
        });
        let densities: Vec<i64> = items
            .iter()
            .map(|item| {
                let density = (i128::from(goals.prices[item.part]) << FRACTION)
                    / i128::from(item.least.max(1))
                    + 1;
                i64::try_from(density).unwrap_or(i64::MAX)
            })
            .collect();
        let steepest = densities.first().copied().unwrap_or(0);
        let (full, open) = self.bars(section, steepest, goals);
        let longest = full.last().map_or(0, |bar| bar.capacity);
        let start = Fill {
            length: 0,
            value: 0,
            link: 0,
        };
        let mut lists: Vec<Vec<Fill>> = vec![Vec::new(); lay.states];
        lists[0].push(start);
        let mut hurdles = Hurdles::new(full, open, goals.tick_cost);
        let mut merged = Vec::new();
        for (item, &density) in items.iter().zip(&densities) {
            hurdles.lower(density);
            for list in &mut lists {
                hurdles.clear(list);
            }
            let copies = i64::from(goals.most[item.part]).min(longest / item.least.max(1));
            let mut fresh = lists.clone();
            for _ in 0..copies {
                let mut candidates: Vec<Vec<Fill>> = vec![Vec::new(); lay.states];
                for (state, fills) in fresh.iter().enumerate() {
                    if fills.is_empty() {
                        continue;
                    }
                    let (amount, next) = lay.add(item, state);
                    let mut gate = hurdles.gate();
                    let mut grown = Vec::with_capacity(fills.len());
                    for fill in fills {
                        let length = fill.length + amount;
                        let value = fill.value + goals.prices[item.part];
                        if length > longest {
                            break;
                        }
                        if gate.passes(length, value) {
                            let link = if fill.link == MERGED {
                                MERGED
                            } else {
                                self.links.push((fill.link, item.part as u32));
                                (self.links.len() - 1) as u32
                            };
                            grown.push(Fill {
                                length,
                                value,
                                link,
                            });
                        }
                    }
                    if candidates[next].is_empty() {
                        candidates[next] = grown;
                    } else {
                        let mut both = Vec::new();
                        merge(&candidates[next], &grown, &mut both, &mut Vec::new());
                        candidates[next] = both;
                    }
                }
                let mut any = false;
                for state in 0..lay.states {
                    fresh[state].clear();
                    if candidates[state].is_empty() {
                        continue;
                    }
                    merge(
                        &lists[state],
                        &candidates[state],
                        &mut merged,
                        &mut fresh[state],
                    );
                    std::mem::swap(&mut lists[state], &mut merged);
                    any |= !fresh[state].is_empty();
                    let limit = if self.links.len() > LINKS { FEW } else { CROWD };
                    if lists[state].len() > limit {
                        thin(&mut lists[state]);
                        if fresh[state].len() > limit / 2 {
                            thin(&mut fresh[state]);
                        }
                    }
                }
                clock.go_on()?;
                if !any {
                    break;
                }
            }
        }
        let mut laid: Vec<Laid> = Vec::new();
        for (state, list) in lists.iter().enumerate() {
            laid.extend(list.iter().map(|fill| Laid {
                need: lay.need(fill.length, state),
                value: fill.value,
                link: fill.link,
            }));
        }
        if !laid
            .iter()
            .any(|fill| fill.value == 0 && fill.need.length == 0)
        {
            laid.push(Laid {
                need: lay.need(0, 0),
                value: 0,
                link: 0,
            });
        }
        laid.sort_by_key(|fill| (fill.need.length, -fill.value));
        if goals.tick_cost == 0 {
            let mut best = -1;
            laid.retain(|fill| {
                let better = fill.value > best;
                best = best.max(fill.value);
                better
            });
        }
        Ok(laid)
    }

    /// What fills of a section must exceed: at the full length of a run, and where an offcut is kept.
    fn bars(&self, section: usize, steepest: i64, goals: &Goals) -> (Vec<Bar>, Vec<Bar>) {
        let overhang = self.lays[section].overhang;
        let keep = self.problem.sections[section].keep;
        let at_most = |run: &Run| {
            let all = (i128::from(steepest) * i128::from(run.length + overhang)) >> FRACTION;
            i64::try_from(all).unwrap_or(i64::MAX / 4) + 1
        };
        let mut full = Vec::new();
        let mut open = Vec::new();
        for (index, board) in self.problem.boards.iter().enumerate() {
            if board.section != section {
                continue;
            }
            let charge = goals.charges[index] + goals.tick_cost * board.lost;
            let mut add = |run: Run, others: i64| {
                let rest = goals.tick_cost * (run.length + run.tail);
                full.push(Bar {
                    capacity: run.length + overhang,
                    value: charge - others + rest,
                });
                if goals.tick_cost > 0 {
                    let capacity = (run.length - 1).min(run.length + run.tail - keep);
                    open.push(Bar {
                        capacity,
                        value: charge - others,
                    });
                }
            };
            match &board.shape {
                Shape::Runs(runs) => {
                    let all: i64 = runs.iter().map(at_most).fold(0, i64::saturating_add);
                    for run in runs {
                        add(*run, all - at_most(run));
                    }
                }
                &Shape::OneCut { together, each } => {
                    let run = Run {
                        length: each.min(together),
                        tail: 0,
                    };
                    add(run, at_most(&run));
                    if goals.tick_cost > 0 {
                        // Where the yard's cut falls decides what is kept; every tick of fill is used up in any case.
                        open.push(Bar {
                            capacity: run.length + overhang,
                            value: charge - at_most(&run),
                        });
                    }
                }
            }
        }
        (suffix_least(full), suffix_least(open))
    }

    /// The best cuttings of one board among the fills of its section.
    fn read_off(&self, index: usize, fills: &[Laid], goals: &Goals, priced: &mut Priced) {
        let board = &self.problem.boards[index];
        let charge = goals.charges[index];
        match &board.shape {
            Shape::Runs(runs) if runs.len() == 1 && goals.tick_cost == 0 => {
                let end = fills.partition_point(|fill| fill.need.length <= runs[0].length);
                let mut kept = 0;
                for fill in fills[..end].iter().rev() {
                    if fill.value <= charge || kept == ALTERNATIVES {
                        break;
                    }
                    priced.worth[index] = priced.worth[index].max(fill.value);
                    if fill.link != MERGED {
                        priced.patterns.push((
                            Pattern {
                                board: index,
                                runs: vec![self.trace(fill.link)],
                            },
                            fill.value,
                        ));
                        kept += 1;
                    }
                }
            }
            Shape::Runs(runs) => {
                let section = &self.problem.sections[board.section];
                let mut total = -goals.tick_cost * board.lost;
                let mut parts = Vec::with_capacity(runs.len());
                let mut sound = true;
                for &run in runs {
                    let end = fills.partition_point(|fill| fill.need.length <= run.length);
                    let worth = |fill: &Laid| {
                        if goals.tick_cost == 0 {
                            fill.value
                        } else {
                            fill.value - goals.tick_cost * section.used(run, fill.need)
                        }
                    };
                    if let Some(best) = fills[..end].iter().max_by_key(|fill| worth(fill)) {
                        total += worth(best);
                        sound &= best.link != MERGED;
                        parts.push(if best.link == MERGED {
                            Vec::new()
                        } else {
                            self.trace(best.link)
                        });
                    }
                }
                if total > charge && parts.iter().any(|run| !run.is_empty()) {
                    priced.worth[index] = total;
                    if sound {
                        priced.patterns.push((
                            Pattern {
                                board: index,
                                runs: parts,
                            },
                            total,
                        ));
                    }
                }
            }
            &Shape::OneCut { together, each } => {
                self.read_off_cut_once(index, fills, goals, (together, each), priced)
            }
        }
    }

    /// The best two carried pieces of a length cut once at the yard.
    fn read_off_cut_once(
        &self,
        index: usize,
        fills: &[Laid],
        goals: &Goals,
        (together, each): (Ticks, Ticks),
        priced: &mut Priced,
    ) {
        let lost = goals.tick_cost * self.problem.boards[index].lost;
        // At the used-up level a fill uses at least what it needs, so this is an upper bound on the worth there.
        let worth = |fill: &Laid| fill.value - goals.tick_cost * fill.need.length;
        let end = fills.partition_point(|fill| fill.need.length <= each.min(together));
        let mut best_below: Vec<usize> = Vec::with_capacity(end);
        for at in 0..end {
            let before = best_below.last().copied().unwrap_or(at);
            best_below.push(if worth(&fills[at]) > worth(&fills[before]) {
                at
            } else {
                before
            });
        }
        // The pieces must also not be too long: together they make up the whole, so neither may be shorter than the rest;
        // a piece may always be longer than its parts need, up to `each`.
        if together > 2 * each {
            return;
        }
        let mut best: Option<(i64, usize, usize)> = None;
        for at in 0..end {
            let room = together - fills[at].need.length;
            let other_end = fills[..end].partition_point(|fill| fill.need.length <= room);
            if other_end == 0 {
                continue;
            }
            let other = best_below[other_end - 1];
            let total = worth(&fills[at]) + worth(&fills[other]) - lost;
            if best.is_none_or(|(value, _, _)| total > value) {
                best = Some((total, at, other));
            }
        }
        let Some((total, first, second)) = best else {
            return;
        };
        if total <= goals.charges[index] {
            return;
        }
        priced.worth[index] = total;
        if fills[first].link == MERGED || fills[second].link == MERGED {
            return;
        }
        let mut runs = vec![
            self.trace(fills[first].link),
            self.trace(fills[second].link),
        ];
        if runs.iter().all(Vec::is_empty) {
            return;
        }
        runs.sort_unstable();
        runs.reverse();
        priced
            .patterns
            .push((Pattern { board: index, runs }, total));
    }

    fn trace(&self, mut link: u32) -> Vec<(usize, u32)> {
        let mut parts: Vec<usize> = Vec::new();
        while link != 0 {
            let (before, part) = self.links[link as usize];
            parts.push(part as usize);
            link = before;
        }
        parts.sort_unstable();
        let mut counts: Vec<(usize, u32)> = Vec::new();
        for part in parts {
            match counts.last_mut() {
                Some(last) if last.0 == part => last.1 += 1,
                _ => counts.push((part, 1)),
            }
        }
        counts
    }
}

/// Ascending capacities.
fn suffix_least(mut bars: Vec<Bar>) -> Vec<Bar> {
    bars.sort_by_key(|bar| bar.capacity);
    bars
}

/// The least value a fill of a given length must have so that some board can still reach its charge.
struct Hurdles {
    full: Vec<Bar>,
    open: Vec<Bar>,
    tick_cost: i64,
    density: i64,
    open_density: i64,
    /// For each full bar, the least over it and longer ones of what is needed at length nothing.
    full_needed: Vec<i64>,
    open_needed: Vec<i64>,
}

impl Hurdles {
    fn new(full: Vec<Bar>, open: Vec<Bar>, tick_cost: i64) -> Self {
        let (a, b) = (full.len(), open.len());
        Hurdles {
            full,
            open,
            tick_cost,
            density: 0,
            open_density: 0,
            full_needed: vec![0; a],
            open_needed: vec![0; b],
        }
    }

    /// From here on, length can be filled at no more than this value each (times two to the [`FRACTION`]).
    fn lower(&mut self, density: i64) {
        self.density = density;
        self.open_density = (density - (self.tick_cost << FRACTION)).max(0);
        let needed = |bars: &[Bar], density: i64, needed: &mut Vec<i64>| {
            let mut least = i64::MAX;
            for at in (0..bars.len()).rev() {
                let reach = density.saturating_mul(bars[at].capacity.max(0));
                least =
                    least.min((bars[at].value.saturating_mul(1 << FRACTION)).saturating_sub(reach));
                needed[at] = least;
            }
        };
        needed(&self.full, self.density, &mut self.full_needed);
        needed(&self.open, self.open_density, &mut self.open_needed);
    }

    fn gate(&self) -> Gate<'_> {
        Gate {
            hurdles: self,
            full_at: 0,
            open_at: 0,
        }
    }

    /// Drops from a list what cannot reach any charge.
    fn clear(&self, list: &mut Vec<Fill>) {
        let mut gate = self.gate();
        list.retain(|fill| gate.passes(fill.length, fill.value));
    }
}

/// [`Hurdles`] asked in order of ascending length.
struct Gate<'h> {
    hurdles: &'h Hurdles,
    full_at: usize,
    open_at: usize,
}

impl Gate<'_> {
    fn passes(&mut self, length: Ticks, value: i64) -> bool {
        let hurdles = self.hurdles;
        while self.full_at < hurdles.full.len() && hurdles.full[self.full_at].capacity < length {
            self.full_at += 1;
        }
        let worth = value << FRACTION;
        if self.full_at < hurdles.full.len()
            && worth
                > hurdles.full_needed[self.full_at]
                    .saturating_add(hurdles.density.saturating_mul(length))
        {
            return true;
        }
        while self.open_at < hurdles.open.len() && hurdles.open[self.open_at].capacity < length {
            self.open_at += 1;
        }
        let slope = hurdles
            .open_density
            .saturating_add(hurdles.tick_cost << FRACTION);
        self.open_at < hurdles.open.len()
            && worth
                > hurdles.open_needed[self.open_at].saturating_add(slope.saturating_mul(length))
    }
}

/// Merges two ascending lists into one of ascending length and value; what survives of the second goes to `fresh` too.
fn merge(old: &[Fill], new: &[Fill], merged: &mut Vec<Fill>, fresh: &mut Vec<Fill>) {
    merged.clear();
    merged.reserve(old.len() + new.len());
    let mut best = i64::MIN;
    let (mut at_old, mut at_new) = (0, 0);
    while at_old < old.len() || at_new < new.len() {
        let take_new = at_old == old.len()
            || (at_new < new.len()
                && (new[at_new].length < old[at_old].length
                    || (new[at_new].length == old[at_old].length
                        && new[at_new].value > old[at_old].value)));
        let fill = if take_new {
            at_new += 1;
            new[at_new - 1]
        } else {
            at_old += 1;
            old[at_old - 1]
        };
        if fill.value > best {
            best = fill.value;
            merged.push(fill);
            if take_new {
                fresh.push(fill);
            }
        }
    }
}

/// Halves a list by merging neighbours into one that stands for both: an upper bound, no cutting.
fn thin(list: &mut Vec<Fill>) {
    let merged = list.chunks(2).map(|pair| match pair {
        [one, two] => Fill {
            length: one.length,
            value: two.value,
            link: MERGED,
        },
        rest => rest[0],
    });
    *list = merged.collect();
}
