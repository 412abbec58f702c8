//! Closing a leaf that prices alone do not settle, over a list of all cuttings that they leave open.
//!
//! At a leaf's prices every plan totals at least what the leaf shows and, for each cutting in it, what that cutting is worth less
//! than its board is charged (reduced-cost fixing). So a plan that beats the claim is made of cuttings that lose little, and all of
//! them together may lose no more than the *gap*. Those cuttings are listed here; where only costs count, a cutting to which a wanted part can
//! be added is left out, for the fuller one loses less, and parts may then be cut too often. Cuttings of equal counts are one, that which
//! uses up least.
//!
//! The certificate splits on how often listed cuttings are used and prices each place of that tree. What a place shows over the list
//! is added up as the head of [`crate::certificate`] says. The walk ends with the tree; listing is counted in steps.

use super::boards::{Board, Shape};
use super::leaves::Side;
use crate::certificate::{Twig, TwigLeaf};
use crate::check::worth::{Ending, Steps, TooLarge, Wood, Worths};
use crate::job::{Job, Part, PartEnd, Turnable};
use std::collections::BTreeMap;

/// Most cuttings that are listed. More would not be searched through in any time a person waits.
const MOST_CUTTINGS: usize = 6_000;
/// Most steps to list the cuttings of one leaf, so that one hard leaf does not use up what all have.
const MOST_STEPS: u64 = 60_000_000;

/// A leaf, its claim, and what its prices say of each board.
pub(super) struct Open<'a> {
    pub(super) job: &'a Job,
    pub(super) sections: &'a [usize],
    pub(super) prices: &'a [i64],
    /// What each tick used up costs; nothing at a cost level.
    pub(super) tick_cost: i128,
    /// What all cuttings together may lose.
    pub(super) gap: i128,
    /// The greatest total that would beat the claim.
    pub(super) beaten: i64,
    /// The level, where it is a cost level: an index into the boards' costs.
    pub(super) cost_level: Option<usize>,
    pub(super) boards: Vec<OpenBoard<'a>>,
    /// What boards may still cost at the levels that are bounded, the leaf's own among them where it is a cost level.
    pub(super) limits: Vec<i64>,
    /// The splits on the way: how many of the set may be used at most, or must be used at least.
    pub(super) fewer: Vec<i64>,
    pub(super) more: Vec<i64>,
    /// The side of each split, root first.
    pub(super) sides: Vec<Side>,
}

/// A kind of board at a leaf.
pub(super) struct OpenBoard<'a> {
    pub(super) board: &'a Board,
    /// How certificates count it.
    pub(super) index: usize,
    pub(super) wood: &'a Wood,
    pub(super) worths: &'a Worths,
    pub(super) charge: i128,
    pub(super) excess: i128,
    /// What one costs at each of the limits.
    pub(super) costs: Vec<i64>,
    /// Which of the splits count it.
    pub(super) fewer: Vec<usize>,
    pub(super) more: Vec<usize>,
}

/// Whether the search shows that no plan is left; `false` shows nothing.
pub(super) fn shows(open: &Open, twigs: &[Twig], steps: &mut Steps) -> Result<bool, TooLarge> {
    let carried = |board: &OpenBoard| matches!(board.board.shape, Shape::Carried { .. });
    if open.boards.iter().any(carried) {
        return Ok(false);
    }
    let classes = classes(open);
    let kinds = kinds(open);
    let mut cuttings = Vec::new();
    let mut own = (*steps).min(MOST_STEPS);
    let before = own;
    for (kind, indices) in kinds.iter().enumerate() {
        let mut lister = Lister::new(open, &classes, &open.boards[indices[0]]);
        if lister.list(&mut own).is_err() {
            *steps = steps.saturating_sub(before - own);
            return Err(TooLarge);
        }
        let found = lister.found.into_iter();
        cuttings.extend(found.map(|(counts, cost)| Cutting::new(kind, counts, cost, &classes)));
    }
    *steps -= before - own;
    let mut walk = Walk {
        open,
        twigs,
        at: 0,
        classes,
        kinds,
        cuttings,
    };
    walk.holds(Reach::Open, steps)
}

/// Whether a search has all its places and no more.
pub(super) fn is_whole(twigs: &[Twig]) -> bool {
    let mut missing = 1usize;
    for (at, twig) in twigs.iter().enumerate() {
        missing = match twig {
            Twig::Split { .. } => missing + 1,
            Twig::Leaf(_) => missing - 1,
        };
        if missing == 0 {
            return at + 1 == twigs.len();
        }
    }
    false
}

/// Parts that lie alike and are worth the same.
struct Class {
    /// The first of them.
    part: usize,
    members: Vec<usize>,
    wanted: u32,
}

fn classes(open: &Open) -> Vec<Class> {
    let turns = |part: &Part| {
        part.sections
            .iter()
            .all(|&section| open.job.sections[section].turnable == Turnable::Yes)
    };
    let key = |index: usize| -> (&[usize], i64, [PartEnd; 2], i64) {
        let part = &open.job.parts[index];
        let mut ends = part.ends;
        if turns(part) {
            ends.sort_unstable();
        }
        (
            &part.sections,
            part.length.ticks(),
            ends,
            open.prices[index],
        )
    };
    let mut classes: Vec<Class> = Vec::new();
    for (part, wanted) in open.job.parts.iter().enumerate() {
        if !open.sections.contains(&wanted.sections[0]) {
            continue;
        }
        match classes
            .iter_mut()
            .find(|class| key(class.part) == key(part))
        {
            Some(class) => {
                class.wanted += wanted.quantity;
                class.members.push(part);
            }
            None => classes.push(Class {
                part,
                members: vec![part],
                wanted: wanted.quantity,
            }),
        }
    }
    classes
}

/// Boards that nothing tells apart, as indices.
fn kinds(open: &Open) -> Vec<Vec<usize>> {
    let mut kinds: Vec<Vec<usize>> = Vec::new();
    for (index, one) in open.boards.iter().enumerate() {
        let alike = |kind: &&mut Vec<usize>| {
            let other = &open.boards[kind[0]];
            let (a, b) = (one.board, other.board);
            (a.section, &a.shape, a.length, &a.costs) == (b.section, &b.shape, b.length, &b.costs)
                && (&one.fewer, &one.more) == (&other.fewer, &other.more)
        };
        match kinds.iter_mut().find(alike) {
            Some(kind) => kind.push(index),
            None => kinds.push(vec![index]),
        }
    }
    kinds
}

/// What is cut from a kind of board: how many of each class, ascending.
struct Cutting {
    kind: usize,
    counts: Vec<(usize, u32)>,
    /// What one adds to the total of the level.
    cost: i64,
    /// How often it is used, at least and at most.
    low: i64,
    high: i64,
}

impl Cutting {
    fn new(kind: usize, counts: Vec<(usize, u32)>, cost: i64, classes: &[Class]) -> Cutting {
        let enough =
            |&(class, count): &(usize, u32)| i64::from(classes[class].wanted.div_ceil(count));
        let high = counts.iter().map(enough).max().unwrap_or(0);
        Cutting {
            kind,
            counts,
            cost,
            low: 0,
            high,
        }
    }
}

/// Lists the cuttings of one kind of board that lose no more than the gap.
struct Lister<'a> {
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
    found: BTreeMap<Vec<(usize, u32)>, i64>,
}

impl<'a> Lister<'a> {
    fn new(open: &'a Open<'a>, classes: &'a [Class], board: &'a OpenBoard<'a>) -> Lister<'a> {
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

    fn list(&mut self, steps: &mut Steps) -> Result<(), TooLarge> {
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

/// A walk through the search, root first.
struct Walk<'a> {
    open: &'a Open<'a>,
    twigs: &'a [Twig],
    at: usize,
    classes: Vec<Class>,
    kinds: Vec<Vec<usize>>,
    cuttings: Vec<Cutting>,
}

/// Whether there can be plans at a place of the search.
#[derive(Clone, Copy, PartialEq, Eq)]
enum Reach {
    Open,
    /// The counts that lead here cannot be.
    Empty,
}

impl Walk<'_> {
    /// Whether everything from here on holds; goes to the end of it in any case.
    fn holds(&mut self, reach: Reach, steps: &mut Steps) -> Result<bool, TooLarge> {
        let Some(twig) = self.twigs.get(self.at) else {
            return Ok(false);
        };
        self.at += 1;
        *steps = steps
            .checked_sub(4 * self.cuttings.len() as u64 + 1)
            .ok_or(TooLarge)?;
        let (board, parts, at) = match twig {
            Twig::Leaf(leaf) => return Ok(reach == Reach::Empty || self.leaf_holds(leaf)),
            Twig::Split { board, parts, at } => (*board, parts, i64::from(*at)),
        };
        let Some(index) = self.listed(board, parts) else {
            // No better plan has this cutting, so none has it more often than that.
            let fewer = self.holds(reach, steps)?;
            let more = self.holds(Reach::Empty, steps)?;
            return Ok(fewer && more);
        };
        let (low, high) = (self.cuttings[index].low, self.cuttings[index].high);
        let side = |low: i64, high: i64| if low > high { Reach::Empty } else { reach };
        self.cuttings[index].high = high.min(at);
        let fewer = self.holds(side(low, high.min(at)), steps)?;
        self.cuttings[index].high = high;
        self.cuttings[index].low = low.max(at + 1);
        let more = self.holds(side(low.max(at + 1), high), steps)?;
        self.cuttings[index].low = low;
        Ok(fewer && more)
    }

    /// The listed cutting that a split speaks of.
    fn listed(&self, board: usize, parts: &[(usize, u32)]) -> Option<usize> {
        let board = self
            .open
            .boards
            .iter()
            .position(|other| other.index == board)?;
        let kind = self.kinds.iter().position(|kind| kind.contains(&board))?;
        let mut counts = BTreeMap::new();
        for &(part, count) in parts {
            let class = self
                .classes
                .iter()
                .position(|class| class.members.contains(&part))?;
            *counts.entry(class).or_insert(0u32) += count;
        }
        let counts: Vec<(usize, u32)> = counts.into_iter().collect();
        self.cuttings
            .iter()
            .position(|cutting| cutting.kind == kind && cutting.counts == counts)
    }

    /// Whether prices show that no plan over the list, used within its bounds, beats the claim.
    fn leaf_holds(&self, leaf: &TwigLeaf) -> bool {
        let open = self.open;
        let mut wanted: Vec<i64> = self
            .classes
            .iter()
            .map(|class| i64::from(class.wanted))
            .collect();
        let supply = |kind: &Vec<usize>| -> Option<i64> {
            kind.iter()
                .map(|&board| open.boards[board].board.supply.map(i64::from))
                .sum()
        };
        let mut supplies: Vec<Option<i64>> = self.kinds.iter().map(supply).collect();
        let (mut limits, mut fewer, mut more) =
            (open.limits.clone(), open.fewer.clone(), open.more.clone());
        let mut spent: i128 = 0;
        for cutting in self.cuttings.iter().filter(|cutting| cutting.low > 0) {
            let board = &open.boards[self.kinds[cutting.kind][0]];
            let low = cutting.low;
            for &(class, count) in &cutting.counts {
                wanted[class] -= low * i64::from(count);
            }
            supplies[cutting.kind] = supplies[cutting.kind].map(|supply| supply - low);
            for (limit, cost) in limits.iter_mut().zip(&board.costs) {
                *limit -= low * cost;
            }
            for &split in &board.fewer {
                fewer[split] -= low;
            }
            for &split in &board.more {
                more[split] -= low;
            }
            spent += i128::from(low) * i128::from(cutting.cost);
        }
        let overdrawn = |left: &i64| *left < 0;
        if supplies.iter().flatten().any(overdrawn)
            || limits.iter().any(overdrawn)
            || fewer.iter().any(overdrawn)
        {
            return true;
        }
        let scale = i128::from(leaf.scale);
        let product = |price: i64, amount: i64| i128::from(price) * i128::from(amount);
        let (fewer_prices, more_prices) = open.split_prices(&leaf.splits);
        let mut sum = scale * spent;
        for (class, left) in self.classes.iter().zip(&wanted) {
            sum += product(leaf.parts[class.part], (*left).max(0));
        }
        for (kind, left) in self.kinds.iter().zip(&supplies) {
            match left {
                Some(left) => sum -= product(leaf.boards[open.boards[kind[0]].index], *left),
                None if leaf.boards[open.boards[kind[0]].index] > 0 => return false,
                None => {}
            }
        }
        for (price, left) in leaf.earlier.iter().zip(&limits) {
            sum -= product(*price, *left);
        }
        for (price, left) in fewer_prices.iter().zip(&fewer) {
            sum -= product(*price, *left);
        }
        for (price, left) in more_prices.iter().zip(&more) {
            sum += product(*price, (*left).max(0));
        }
        for cutting in self
            .cuttings
            .iter()
            .filter(|cutting| cutting.high > cutting.low)
        {
            let board = &open.boards[self.kinds[cutting.kind][0]];
            let mut reduced =
                scale * i128::from(cutting.cost) + i128::from(leaf.boards[board.index]);
            for &(class, count) in &cutting.counts {
                reduced -= product(leaf.parts[self.classes[class].part], i64::from(count));
            }
            for (price, cost) in leaf.earlier.iter().zip(&board.costs) {
                reduced += product(*price, *cost);
            }
            for &split in &board.fewer {
                reduced += i128::from(fewer_prices[split]);
            }
            for &split in &board.more {
                reduced -= i128::from(more_prices[split]);
            }
            sum += reduced.min(0) * i128::from(cutting.high - cutting.low);
        }
        sum > scale * i128::from(open.beaten)
    }
}

impl Open<'_> {
    /// The prices of the splits, those of the sides with fewer and those of the sides with more.
    fn split_prices(&self, prices: &[i64]) -> (Vec<i64>, Vec<i64>) {
        let pick = |side: Side| {
            let pairs = prices.iter().zip(&self.sides);
            pairs
                .filter(|(_, other)| **other == side)
                .map(|(price, _)| *price)
                .collect()
        };
        (pick(Side::Fewer), pick(Side::More))
    }
}
