//! Fills of a run: what lengths can be taken, and the most each can be worth.
//!
//! A list of fills is grown part by part, best value per length first: a fill is a length taken, a value, and the way it was
//! reached. A fill that takes no less and is worth no more than another in the same state of [`Lay`] is dropped (the sparse
//! form of Gilmore and Gomory's knapsack, 1966; dominance as in Nemhauser and Ullmann 1969). A fill from which no bar can be passed, even if
//! all the rest were filled at the value per length of the best part still to come, is dropped too; near the end of column
//! generation, when charges and values meet, that leaves few.
//!
//! Copies of one part are added one by one, each to the fills the copy before made; they join the list together at the end.
//! Where a list would grow beyond [`CROWD`], neighbouring fills are merged into one that takes the lesser length and is worth
//! the greater value: no longer a cutting, still an upper bound. Where lengths have a common step that is not too fine, a table takes over before
//! a list is crowded ([`super::table`]).

use super::clock::{Clock, Stopped};
use super::lay::{Item, Lay};
use super::price::Goals;
use super::table::Table;
use super::ways::{MERGED, Ways, common_step};
use crate::problem::{Need, Ticks};

/// The longest list of fills kept for one state; longer ones are halved. At 24 bytes a fill and 8 for its link a few lists of this length
/// stay far below the memory of a browser tab.
const CROWD: usize = 200_000;
/// The same for all states of a section with many, together.
const CROWDS: usize = 4 * CROWD;
/// The links up to which lists may be long; beyond it lists are thinned hard, since every new fill costs a link.
const LINKS: usize = 6_000_000;
/// The longest list kept then.
const FEW: usize = 2_000;
/// Fraction bits of a value per length.
const FRACTION: u32 = 8;

/// A length taken, what it is worth, and the link to how it was reached.
#[derive(Clone, Copy)]
pub(super) struct Fill {
    pub(super) length: Ticks,
    pub(super) value: i64,
    pub(super) link: u32,
}

/// A fill with its state resolved.
#[derive(Clone, Copy)]
pub(super) struct Laid {
    pub(super) need: Need,
    pub(super) value: i64,
    pub(super) link: u32,
}

/// A length of fill and the value that a fill of at most that length must exceed.
#[derive(Clone, Copy)]
pub(super) struct Bar {
    pub(super) capacity: Ticks,
    pub(super) value: i64,
}

/// What fills must exceed to be of use.
pub(super) struct Bars {
    /// By value alone.
    pub(super) full: Vec<Bar>,
    /// By value less the cost of every tick filled.
    pub(super) open: Vec<Bar>,
}

/// All fills of a section that pass some bar, and the empty one; ascending by need.
pub(super) fn grow(
    lay: &Lay,
    goals: &Goals,
    bars: Bars,
    ways: &mut Ways,
    clock: &mut Clock,
) -> Result<Vec<Laid>, Stopped> {
    let items = by_density(lay, goals);
    let step = common_step(items.iter().map(|(item, _)| item.least));
    let mut hurdles = Hurdles::new(bars, goals.tick_cost);
    let longest = hurdles.longest();
    let mut lists: Vec<Vec<Fill>> = vec![Vec::new(); lay.states];
    lists[0].push(Fill {
        length: 0,
        value: 0,
        link: 0,
    });
    let mut spare = Vec::new();
    let mut table: Option<Table> = None;
    let crowd = CROWD.min(CROWDS / lay.states).max(2);
    let copies_of = |item: &Item| i64::from(goals.most[item.part]).min(longest / item.least.max(1));
    let mut bundles: usize = items
        .iter()
        .map(|(item, _)| Table::bundles(copies_of(item)))
        .sum();
    for (item, density) in items {
        let copies = copies_of(&item);
        bundles -= Table::bundles(copies);
        if let Some(table) = &mut table {
            let price = goals.prices[item.part];
            table.add(item.part, (item.least, price), copies, clock)?;
            continue;
        }
        hurdles.lower(density);
        for list in &mut lists {
            hurdles.clear(list);
        }
        let mut fresh = lists.clone();
        let mut added: Vec<Vec<Fill>> = vec![Vec::new(); lay.states];
        for _ in 0..copies {
            let grown = one_more(lay, &item, (goals, &hurdles), &fresh, (ways, clock))?;
            if grown.iter().all(Vec::is_empty) {
                break;
            }
            for (added, grown) in added.iter_mut().zip(&grown) {
                absorb(added, grown, &mut spare);
                thin_if_crowded(added, crowd, ways);
            }
            fresh = grown;
            clock.go_on()?;
        }
        for (list, added) in lists.iter_mut().zip(&added) {
            absorb(list, added, &mut spare);
            thin_if_crowded(list, crowd, ways);
        }
        // A section of one state lays its parts by adding fixed lengths, as a table does.
        if lay.states == 1 {
            table = Table::instead_of(&lists[0], step, longest, (bundles, ways));
        }
    }
    if let Some(table) = table {
        lists[0] = table.into_list(ways);
        hurdles.lower(0);
        hurdles.clear(&mut lists[0]);
    }
    Ok(resolved(lay, goals, &lists))
}

/// The parts worth anything, best value per length first, each with that value (times two to the [`FRACTION`], rounded up).
fn by_density(lay: &Lay, goals: &Goals) -> Vec<(Item, i64)> {
    let worth = |item: &Item| i128::from(goals.prices[item.part]);
    let mut items: Vec<Item> = lay
        .items
        .iter()
        .copied()
        .filter(|item| goals.prices[item.part] > 0 && goals.most[item.part] > 0)
        .collect();
    items.sort_by(|left, right| {
        let (a, b) = (
            worth(left) * i128::from(right.least),
            worth(right) * i128::from(left.least),
        );
        b.cmp(&a).then(left.part.cmp(&right.part))
    });
    items
        .into_iter()
        .map(|item| {
            let density = (worth(&item) << FRACTION) / i128::from(item.least.max(1)) + 1;
            (item, i64::try_from(density).unwrap_or(i64::MAX))
        })
        .collect()
}

/// The fills with one more of `item` that can still pass a bar.
fn one_more(
    lay: &Lay,
    item: &Item,
    (goals, hurdles): (&Goals, &Hurdles),
    fresh: &[Vec<Fill>],
    (ways, clock): (&mut Ways, &mut Clock),
) -> Result<Vec<Vec<Fill>>, Stopped> {
    let longest = hurdles.longest();
    let price = goals.prices[item.part];
    clock.worked(lay.states / 4)?;
    let mut grown: Vec<Vec<Fill>> = vec![Vec::new(); lay.states];
    let mut spare = Vec::new();
    for (state, fills) in fresh
        .iter()
        .enumerate()
        .filter(|(_, fills)| !fills.is_empty())
    {
        let (amount, next) = lay.add(item, state);
        let mut gate = hurdles.gate();
        let mut made = Vec::with_capacity(fills.len());
        for fill in fills {
            let (length, value) = (fill.length + amount, fill.value + price);
            if length > longest {
                break;
            }
            if gate.passes(length, value) {
                let link = ways.add(fill.link, item.part);
                made.push(Fill {
                    length,
                    value,
                    link,
                });
            }
        }
        absorb(&mut grown[next], &made, &mut spare);
        clock.worked(fills.len())?;
    }
    Ok(grown)
}

/// What the fills of all states need; where only values count, none that needs more and is worth no more than another.
fn resolved(lay: &Lay, goals: &Goals, lists: &[Vec<Fill>]) -> Vec<Laid> {
    let mut laid = vec![Laid {
        need: lay.need(0, 0),
        value: 0,
        link: 0,
    }];
    for (state, list) in lists.iter().enumerate() {
        let fills = list.iter().filter(|fill| fill.length > 0);
        laid.extend(fills.map(|fill| Laid {
            need: lay.need(fill.length, state),
            value: fill.value,
            link: fill.link,
        }));
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
    laid
}

/// Merges a list into another, both ascending in length and in value.
fn absorb(list: &mut Vec<Fill>, new: &[Fill], spare: &mut Vec<Fill>) {
    if new.is_empty() {
        return;
    }
    if list.is_empty() {
        list.extend_from_slice(new);
        return;
    }
    spare.clear();
    spare.reserve(list.len() + new.len());
    let mut best = i64::MIN;
    let (mut at_old, mut at_new) = (0, 0);
    while let (Some(&old), Some(&other)) = (list.get(at_old), new.get(at_new)) {
        let take_new =
            other.length < old.length || (other.length == old.length && other.value > old.value);
        at_new += usize::from(take_new);
        at_old += usize::from(!take_new);
        let fill = if take_new { other } else { old };
        if fill.value > best {
            best = fill.value;
            spare.push(fill);
        }
    }
    // One of the two is used up; of the other's rest, values ascend, so what is left out is a first stretch.
    let rest = if at_old < list.len() {
        &list[at_old..]
    } else {
        &new[at_new..]
    };
    let skipped = rest.partition_point(|fill| fill.value <= best);
    spare.extend_from_slice(&rest[skipped..]);
    std::mem::swap(list, spare);
}

fn thin_if_crowded(list: &mut Vec<Fill>, crowd: usize, ways: &Ways) {
    let limit = if ways.len() > LINKS {
        FEW.min(crowd)
    } else {
        crowd
    };
    while list.len() > limit {
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
}

/// The least value a fill of a given length must have so that some bar can still be passed.
struct Hurdles {
    bars: Bars,
    tick_cost: i64,
    density: i64,
    open_density: i64,
    /// For each bar, the least over it and longer ones of what is needed at length nothing.
    full_needed: Vec<i64>,
    open_needed: Vec<i64>,
}

impl Hurdles {
    fn new(mut bars: Bars, tick_cost: i64) -> Self {
        bars.full.sort_by_key(|bar| bar.capacity);
        bars.open.sort_by_key(|bar| bar.capacity);
        let (full_needed, open_needed) = (vec![0; bars.full.len()], vec![0; bars.open.len()]);
        Hurdles {
            bars,
            tick_cost,
            density: 0,
            open_density: 0,
            full_needed,
            open_needed,
        }
    }

    /// The longest fill there can be.
    fn longest(&self) -> Ticks {
        self.bars.full.last().map_or(0, |bar| bar.capacity)
    }

    /// From here on, length can be filled at no more than this value each (times two to the [`FRACTION`]).
    fn lower(&mut self, density: i64) {
        self.density = density;
        self.open_density = (density - (self.tick_cost << FRACTION)).max(0);
        let set = |bars: &[Bar], density: i64, needed: &mut Vec<i64>| {
            let mut least = i64::MAX;
            for (bar, needed) in bars.iter().zip(needed.iter_mut()).rev() {
                let reach = density.saturating_mul(bar.capacity.max(0));
                least = least.min(
                    bar.value
                        .saturating_mul(1 << FRACTION)
                        .saturating_sub(reach),
                );
                *needed = least;
            }
        };
        set(&self.bars.full, self.density, &mut self.full_needed);
        set(&self.bars.open, self.open_density, &mut self.open_needed);
    }

    fn gate(&self) -> Gate<'_> {
        let open_density = self.open_density.saturating_add(self.tick_cost << FRACTION);
        Gate {
            hurdles: self,
            full_at: 0,
            open_at: 0,
            full_slope: Slope::new(self.density),
            open_slope: Slope::new(open_density),
        }
    }

    /// Drops from a list what can pass no bar.
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
    full_slope: Slope,
    open_slope: Slope,
}

/// A density times a length, or the largest number there is. WebAssembly tells an overflow only by multiplying in 128 bits, which
/// is slow; so what cannot overflow is told once for all lengths.
struct Slope {
    density: i64,
    safe: Ticks,
}

impl Slope {
    /// `density` is not less than nothing.
    fn new(density: i64) -> Self {
        Slope {
            density,
            safe: i64::MAX / density.max(1),
        }
    }

    /// `length` is not less than nothing.
    fn at(&self, length: Ticks) -> i64 {
        if length <= self.safe {
            self.density.wrapping_mul(length)
        } else {
            i64::MAX
        }
    }
}

impl Gate<'_> {
    fn passes(&mut self, length: Ticks, value: i64) -> bool {
        let hurdles = self.hurdles;
        let worth = value << FRACTION;
        while hurdles
            .bars
            .full
            .get(self.full_at)
            .is_some_and(|bar| bar.capacity < length)
        {
            self.full_at += 1;
        }
        if let Some(needed) = hurdles.full_needed.get(self.full_at)
            && worth > needed.saturating_add(self.full_slope.at(length))
        {
            return true;
        }
        while hurdles
            .bars
            .open
            .get(self.open_at)
            .is_some_and(|bar| bar.capacity < length)
        {
            self.open_at += 1;
        }
        hurdles
            .open_needed
            .get(self.open_at)
            .is_some_and(|needed| worth > needed.saturating_add(self.open_slope.at(length)))
    }
}
