//! Greedy plans, in no time: boards filled with the longest parts first.
//!
//! **Idea** (first-fit decreasing, one pattern at a time; Johnson 1973). For what is left to cut, every kind of board still to be had is filled with
//! the longest parts that fit; the board with the least cost for the length it yields is taken, as often as the pattern can
//! be repeated.
//!
//! **Invariant.** A filled board is remembered. Parts only ever become fewer, and a fill takes of each part as many as fit of those that are left; so
//! a fill stays what it is as long as what it holds is still left, and a board that nothing fits never holds anything again. In a fill, what is used
//! up or too long for the room left is passed over at once. **Why it ends:** each step uses up a board or a part.

use crate::board_shape::clear_length;
use crate::clock::{Clock, Stopped};
use crate::laying::Laying;
use crate::limits::GREEDY_WORK;
use crate::nesting::Nests;
use crate::pattern::Pattern;
use crate::problem::{Problem, Section, Shape, Standing, Ticks};

/// Which board is preferred among those that can be filled.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum GreedyRule {
    /// Least cost at a level per length of parts; free boards by how full they get.
    Cheapest(usize),
    /// The board that is filled best, whatever it costs.
    Fullest,
    /// The board that holds the most length of parts.
    Longest,
}

/// Fills boards until everything is cut; `None` where boards run out. `left` is what is still to be cut, `supply` what is still there.
/// Without a clock it goes on to the end.
pub(crate) fn greedy(
    problem: &Problem,
    rule: GreedyRule,
    left: &mut [u32],
    supply: &mut [Option<u32>],
    mut clock: Option<&mut Clock>,
) -> Result<Option<Vec<(Pattern, u32)>>, Stopped> {
    let mut plan = Vec::new();
    let mut filler = Filler::new(problem, left);
    let mut open: Vec<(usize, Option<Filled>)> = (0..problem.boards.len())
        .filter(|&board| supply[board] != Some(0))
        .map(|board| (board, None))
        .collect();
    while left.iter().any(|&count| count > 0) {
        let mut best: Option<(f64, usize)> = None;
        for (at, (board, known)) in open.iter_mut().enumerate() {
            if known.as_ref().is_none_or(|filled| !filled.holds(left)) {
                *known = filler.filled(*board, rule, left);
            }
            if let Some(filled) = known
                && best.is_none_or(|(score, _)| filled.score > score)
            {
                best = Some((filled.score, at));
            }
            if let Some(clock) = clock.as_deref_mut() {
                clock.worked(std::mem::take(&mut filler.looks))?;
            }
        }
        let Some((_, at)) = best else {
            return Ok(None);
        };
        let Some(filled) = &open[at].1 else {
            return Ok(None);
        };
        let each = filled.counts.iter();
        let Some(mut times) = each.map(|&(part, count)| left[part] / count).min() else {
            return Ok(None);
        };
        if let Some(supply) = &mut supply[filled.pattern.board] {
            times = times.min(*supply);
            *supply -= times;
        }
        for &(part, count) in &filled.counts {
            left[part] -= count * times;
        }
        plan.push((filled.pattern.clone(), times));
        open.retain(|(board, known)| known.is_some() && supply[*board] != Some(0));
    }
    Ok(Some(plan))
}

/// A board as it is filled.
struct Filled {
    pattern: Pattern,
    counts: Vec<(usize, u32)>,
    score: f64,
}

impl Filled {
    /// Whether as many of each part are left, so that the board would be filled the same way again.
    fn holds(&self, left: &[u32]) -> bool {
        self.counts.iter().all(|&(part, count)| count <= left[part])
    }
}

/// The parts of one section that were left at the start, longest first.
struct Order {
    parts: Vec<(Ticks, usize)>,
    /// For each place the next at which something may be left; a place that is used up points on.
    next: Vec<usize>,
    /// The most by which a part needs less than its length.
    overlap: Ticks,
}

impl Order {
    fn new(section: &Section, left: &[u32]) -> Self {
        let wanted = section.fits.iter().zip(left).enumerate();
        let mut parts: Vec<(Ticks, usize)> = wanted
            .filter(|(part, (_, left))| **left > 0 && !section.posts.contains(part))
            .filter_map(|(part, (fit, _))| Some((fit.as_ref()?.length, part)))
            .collect();
        order::sort_by_key(&mut parts, |&(length, _)| -length);
        Order {
            next: (0..=parts.len()).collect(),
            parts,
            overlap: (0..section.fits.len())
                .filter_map(|part| section.most_saved(part))
                .max()
                .unwrap_or(0),
        }
    }

    /// The first place from `at` on of which something is left.
    fn from(&mut self, mut at: usize, left: &[u32]) -> usize {
        loop {
            let next = self.next[at];
            if next != at {
                self.next[at] = self.next[next];
                at = next;
            } else if at < self.parts.len() && left[self.parts[at].1] == 0 {
                self.next[at] = at + 1;
            } else {
                return at;
            }
        }
    }

    /// The first place from `at` on whose part may fit in so much room.
    fn short_enough(&self, at: usize, room: Ticks) -> usize {
        let too_long = |&(length, _): &(Ticks, usize)| length - self.overlap > room;
        match self.parts.get(at) {
            Some(part) if too_long(part) => at + self.parts[at..].partition_point(too_long),
            _ => at,
        }
    }
}

/// Fills boards.
struct Filler<'p> {
    problem: &'p Problem,
    orders: Vec<Order>,
    nests: Vec<Nests>,
    /// How many of each part the board at hand has in other runs.
    taken: Vec<u32>,
    /// How many parts were looked at.
    looks: usize,
}

impl<'p> Filler<'p> {
    fn new(problem: &'p Problem, left: &[u32]) -> Self {
        let orders = problem.sections.iter();
        Filler {
            problem,
            orders: orders.map(|section| Order::new(section, left)).collect(),
            nests: problem
                .sections
                .iter()
                .map(|section| Nests::of(section, |_| 2))
                .collect(),
            taken: vec![0; left.len()],
            looks: 0,
        }
    }

    /// A board filled with the longest parts that fit, in order, and its score by the rule; `None` where nothing fits.
    fn filled(&mut self, index: usize, rule: GreedyRule, left: &[u32]) -> Option<Filled> {
        let mut best: Option<Filled> = None;
        for way in self.problem.standings(index) {
            let posts = way.run();
            if posts.iter().any(|&(post, count)| count > left[post]) {
                continue;
            }
            let filled = self.filled_way(index, rule, left, (&way, posts));
            best = match (best, filled) {
                (Some(best), Some(filled)) if filled.score > best.score => Some(filled),
                (best, filled) => best.or(filled),
            };
        }
        best
    }

    /// The same with certain parts at the factory ends.
    fn filled_way(
        &mut self,
        index: usize,
        rule: GreedyRule,
        left: &[u32],
        (way, posts): (&Standing, Vec<(usize, u32)>),
    ) -> Option<Filled> {
        self.looks += GREEDY_WORK;
        let board = &self.problem.boards[index];
        let section = &self.problem.sections[board.section];
        let mut runs = match &*way.shape {
            Shape::Runs(runs) => runs
                .iter()
                .map(|run| self.filled_run(board.section, run.length, left))
                .collect(),
            &Shape::OneCut { together, each } if together <= each[0] + each[1] => {
                let first = self.filled_run(board.section, each[0].min(together), left);
                let rest = (together - section.need(&first)).min(each[1]);
                let second = self.filled_run(board.section, rest, left);
                vec![first, second]
            }
            Shape::OneCut { .. } => vec![Vec::new(), Vec::new()],
        };
        if board.factory.is_some() {
            runs.push(posts);
        }
        let pattern = Pattern { board: index, runs };
        let counts = pattern.counts();
        let mut yielded: Ticks = 0;
        for &(part, count) in &counts {
            self.taken[part] = 0;
            let length = section.fits[part].map_or(0, |fit| fit.length);
            yielded += length * Ticks::from(count);
        }
        if yielded == 0 {
            return None;
        }
        let whole = clear_length(&board.shape) + board.lost;
        let fullness = yielded as f64 / whole.max(1) as f64;
        let score = match rule {
            GreedyRule::Cheapest(level) if board.cost.get(level).is_some_and(|&cost| cost > 0) => {
                -(board.cost[level] as f64) / yielded as f64
            }
            GreedyRule::Cheapest(_) => fullness,
            GreedyRule::Fullest => fullness,
            GreedyRule::Longest => yielded as f64,
        };
        Some(Filled {
            pattern,
            counts,
            score,
        })
    }

    fn filled_run(&mut self, section: usize, length: Ticks, left: &[u32]) -> Vec<(usize, u32)> {
        let order = &mut self.orders[section];
        let mut parts: Vec<(usize, u32)> = Vec::new();
        let mut laying = Laying::new(&self.problem.sections[section], &self.nests[section]);
        let (mut need, mut at) = (0, 0);
        loop {
            self.looks += 1;
            at = order.short_enough(at, length - need);
            at = order.from(at, left);
            let Some(&(long, part)) = order.parts.get(at) else {
                break;
            };
            at += 1;
            let here = left[part] - self.taken[part];
            // The largest count that fits, by halving; what a run needs never falls when a part is added.
            let most = ((length - need) / long.max(1)).clamp(0, 1 << 30) as u32 + 2;
            let (mut fits, mut fails) = (0u32, here.min(most) + 1);
            while fits + 1 < fails {
                let middle = fits.midpoint(fails);
                if laying.length_with(part, middle) <= length {
                    fits = middle;
                } else {
                    fails = middle;
                }
            }
            if fits > 0 {
                laying.add(part, fits);
                need = laying.need().length;
                parts.push((part, fits));
                self.taken[part] += fits;
            }
        }
        order::sort(&mut parts);
        parts
    }
}
