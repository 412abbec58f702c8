//! Enumeration: all patterns that a better plan may use.
//!
//! **Idea** (reduced-cost fixing; enumeration of columns within the gap as in Baldacci, Christofides and Mingozzi 2008). At a node's prices a plan
//! costs at least the node's bound and, for each pattern in it, the pattern's reduced cost. A pattern for which that alone passes the gap is in no
//! better plan. When the gap is small few patterns are left; they are listed here by depth-first search with the same bound by value per length as in
//! pricing. Only patterns to which no wanted part can be added are listed, for parts may be cut too often and trimmed; not so where the length used
//! up counts. Patterns of equal counts are one, whichever run the parts lie in: the one that uses up least, of those that keep as
//! many offcuts where decisions count them.
//!
//! **Invariant.** What is passed over is worth less than its board's charge by more than the gap. **Why it ends:** every step chooses a count for one
//! part in one run, and steps are counted.

use crate::clock::{Clock, Stopped};
use crate::dual_bound::ReducedCostBound;
use crate::limits::{
    ENUMERATION_DENSITY_BITS, ENUMERATION_DEPTH, ENUMERATION_STEPS_PER_LOOK, ENUMERATION_WORK,
};
use crate::pattern::Pattern;
use crate::problem::{Need, Problem, Section, Shape, Standing, Ticks};
use crate::run_states::{Item, RunStates};
use std::collections::HashMap;

/// What is listed.
pub(crate) struct EnumerationTask<'w> {
    pub(crate) problem: &'w Problem,
    pub(crate) run_states: &'w [RunStates],
    pub(crate) prices: &'w [i64],
    pub(crate) fixing: &'w ReducedCostBound,
    /// A pattern may be worth less than its board's charge by this.
    pub(crate) gap: i64,
    pub(crate) demand: &'w [u32],
    /// Whether the length used up counts.
    pub(crate) counts_used: bool,
    /// Whether it counts how many offcuts are kept.
    pub(crate) counts_offcuts: bool,
    /// What every tick used up costs.
    pub(crate) tick_cost: i64,
    /// No more patterns than this.
    pub(crate) limit: usize,
    /// No more search steps than this.
    pub(crate) steps: usize,
}

/// The list, or `None` where it would be longer than its limit.
pub(crate) fn enumerate(
    task: &EnumerationTask,
    clock: &mut Clock,
) -> Result<Option<Vec<Pattern>>, Stopped> {
    let mut listed = Vec::new();
    let mut steps = task.steps;
    for board in 0..task.problem.boards.len() {
        if task.problem.boards[board].supply == Some(0) {
            continue;
        }
        let first = listed.len();
        for way in task.problem.standings(board) {
            let posts = way.run();
            if posts.iter().any(|&(post, count)| count > task.demand[post]) {
                continue;
            }
            let mut search = Enumerator::new(task, board, &way, posts);
            clock.worked(search.items.len() * ENUMERATION_WORK)?;
            if search.items.len() * search.capacities.len() > ENUMERATION_DEPTH {
                return Ok(None);
            }
            search.steps = steps;
            let lost = task.tick_cost * way.lost;
            let complete = search.run(0, 0, -lost, clock)?;
            steps = search.steps;
            listed.append(&mut search.found);
            if !complete || listed.len() > task.limit {
                return Ok(None);
            }
        }
        if task.problem.boards[board].factory.is_some() {
            let found = listed.split_off(first);
            listed.extend(one_of_each(task.problem, found));
        }
    }
    Ok(Some(listed))
}

/// Of patterns of equal counts the one that uses up least.
fn one_of_each(problem: &Problem, mut found: Vec<Pattern>) -> Vec<Pattern> {
    let keys = found
        .iter()
        .map(|pattern| (pattern.counts(), pattern.used(problem)));
    let mut keyed: Vec<_> = keys.enumerate().map(|(at, key)| (key, at)).collect();
    order::sort(&mut keyed);
    keyed.dedup_by(|next, kept| next.0.0 == kept.0.0);
    let mut kept = vec![false; found.len()];
    for (_, at) in keyed {
        kept[at] = true;
    }
    let mut kept = kept.into_iter();
    found.retain(|_| kept.next() == Some(true));
    found
}

/// The parts of a pattern, and how many offcuts it keeps.
type Told = (Vec<(usize, u32)>, usize);

struct Enumerator<'s, 'w> {
    task: &'s EnumerationTask<'w>,
    board: usize,
    states: &'s RunStates,
    /// Where parts may lie.
    way: &'s Standing<'s>,
    section: &'s Section,
    /// The parts at its factory ends, and whether it has any such ends.
    posts: Option<Vec<(usize, u32)>>,
    items: Vec<Item>,
    densities: Vec<i128>,
    capacities: Vec<Ticks>,
    /// The length all runs share at most.
    together: Ticks,
    /// What an offcut is charged that is kept.
    kept_charge: i64,
    /// For each run, the most that the runs behind it can be worth less what they use up, in the units of densities.
    later: Vec<i128>,
    needed: i64,
    left: Vec<u32>,
    runs: Vec<Vec<(usize, u32)>>,
    fills: Vec<(Ticks, usize)>,
    found: Vec<Pattern>,
    /// Where a board has several runs, what is found by its counts and how many offcuts it keeps, where that counts: its place,
    /// and what it uses up.
    known: HashMap<Told, (usize, Ticks)>,
    steps: usize,
}

impl<'s, 'w> Enumerator<'s, 'w> {
    fn new(
        task: &'s EnumerationTask<'w>,
        board: usize,
        way: &'s Standing<'s>,
        posts: Vec<(usize, u32)>,
    ) -> Self {
        let kind = &task.problem.boards[board];
        let states = &task.run_states[kind.section];
        let mut items: Vec<Item> = states
            .items
            .iter()
            .copied()
            .filter(|item| task.demand[item.part] > 0)
            .collect();
        order::sort_by(&mut items, |left, right| {
            let a = i128::from(task.prices[left.part]) * i128::from(right.least);
            let b = i128::from(task.prices[right.part]) * i128::from(left.least);
            b.cmp(&a).then(left.part.cmp(&right.part))
        });
        let densities: Vec<i128> = items
            .iter()
            .map(|item| {
                (i128::from(task.prices[item.part]) << ENUMERATION_DENSITY_BITS)
                    / i128::from(item.least.max(1))
                    + 1
            })
            .collect();
        let (capacities, together) = match &*way.shape {
            Shape::Runs(runs) => (
                runs.iter().map(|run| run.length).collect::<Vec<_>>(),
                Ticks::MAX / 4,
            ),
            &Shape::OneCut { together, each } => {
                (each.map(|most| most.min(together)).to_vec(), together)
            }
        };
        let worth = posts
            .iter()
            .map(|&(post, count)| task.prices[post] * i64::from(count));
        let needed = task.fixing.charges[board]
            .saturating_sub(task.gap)
            .saturating_sub(worth.sum());
        let posts = kind.factory.map(|_| posts);
        let mut search = Enumerator {
            way,
            section: &task.problem.sections[kind.section],
            posts,
            kept_charge: match task.problem.lasting_runs(board) {
                Some(_) => task.fixing.kept(board),
                None => 0,
            },
            later: vec![0; capacities.len()],
            task,
            board,
            states,
            items,
            densities,
            runs: vec![Vec::new(); capacities.len()],
            fills: vec![(0, 0); capacities.len()],
            capacities,
            together,
            needed,
            left: task.demand.to_vec(),
            found: Vec::new(),
            known: HashMap::new(),
            steps: 0,
        };
        let best = search.densities.first().copied().unwrap_or(0);
        for run in (1..search.capacities.len()).rev() {
            let room = search.capacities[run].min(search.together);
            search.later[run - 1] = search.later[run] + search.reach(run, room, 0, best);
        }
        search
    }

    /// The most that a run of so much room can be worth less what it uses up, filled so far already and with parts worth at most the density in each tick
    /// still to be filled; without what the fill is worth. Units are those of densities.
    ///
    /// An offcut that is kept begins where the fill ends, so that no tick beyond that is charged. Where none is kept the run is used up whole. Of a length
    /// cut once at the yard no more is known than that what its pieces need is used up.
    fn reach(&self, run: usize, room: Ticks, fill: Ticks, density: i128) -> i128 {
        let tick = i128::from(self.task.tick_cost) << ENUMERATION_DENSITY_BITS;
        let overhang = self.states.overhang;
        let wide = |ticks: Ticks| i128::from(ticks);
        let space = wide((room + overhang - fill).max(0));
        if tick == 0 {
            return density * space;
        }
        let gain = (density - tick).max(0);
        match &*self.way.shape {
            Shape::Runs(runs) => {
                let whole = runs[run].length + runs[run].tail;
                let given_up = density * space - tick * wide(whole);
                let last = (runs[run].length - 1).min(whole - self.section.keep);
                if fill > last {
                    return given_up;
                }
                let charge = i128::from(self.kept_charge) << ENUMERATION_DENSITY_BITS;
                let kept = gain * wide(last - fill) - tick * wide(fill) - charge;
                kept.max(given_up)
            }
            Shape::OneCut { .. } => gain * space - tick * wide(fill - overhang),
        }
    }

    /// What a run that is filled uses up at least.
    fn used(&self, run: usize) -> Ticks {
        let need = self.need(run);
        match &*self.way.shape {
            Shape::Runs(runs) => self.section.used(runs[run], need),
            Shape::OneCut { .. } => need.length,
        }
    }

    /// What is charged for a run that is filled, where it keeps an offcut.
    fn charged(&self, run: usize) -> i64 {
        let keeps = self.kept_charge != 0 && self.keeps(run);
        if keeps { self.kept_charge } else { 0 }
    }

    /// Whether a run that is filled keeps an offcut, where these are counted.
    fn keeps(&self, run: usize) -> bool {
        let runs = self.task.problem.lasting_runs(self.board);
        runs.is_some_and(|runs| self.section.keeps(runs[run], self.need(run)))
    }

    fn need(&self, run: usize) -> Need {
        let (fill, state) = self.fills[run];
        self.states.need(fill, state)
    }

    fn room(&self, run: usize) -> Ticks {
        let others: Ticks = (0..run)
            .map(|other| {
                self.states
                    .need(self.fills[other].0, self.fills[other].1)
                    .length
            })
            .sum();
        self.capacities[run].min(self.together - others)
    }

    /// Chooses counts for the items from `at` on in this run, then goes to the next. False when it gave up.
    fn run(
        &mut self,
        run: usize,
        at: usize,
        worth: i64,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        if self.steps == 0 || self.found.len() > self.task.limit {
            return Ok(false);
        }
        self.steps -= 1;
        if self.steps.is_multiple_of(ENUMERATION_STEPS_PER_LOOK) {
            clock.go_on()?;
        }
        let (fill, state) = self.fills[run];
        let room = self.room(run);
        if at == self.items.len() {
            if self.states.need(fill, state).length > room {
                return Ok(true);
            }
            let worth = worth - self.task.tick_cost * self.used(run) - self.charged(run);
            if run + 1 < self.capacities.len() {
                return self.run(run + 1, 0, worth, clock);
            }
            self.take(worth, clock)?;
            return Ok(true);
        }
        let here = self.reach(run, room, fill, self.densities[at]);
        if i128::from(worth) + ((self.later[run] + here) >> ENUMERATION_DENSITY_BITS) + 1
            < i128::from(self.needed)
        {
            return Ok(true);
        }
        let item = self.items[at];
        let price = self.task.prices[item.part];
        // All counts, most first; what was tried is taken back at the end.
        let mut trail = vec![(fill, state)];
        while self.left[item.part] as usize >= trail.len() {
            let &(length, state) = trail.last().unwrap_or(&(fill, state));
            let (amount, next) = self.states.add(&item, state);
            if length + amount > room + self.states.overhang {
                break;
            }
            trail.push((length + amount, next));
        }
        for count in (0..trail.len()).rev() {
            self.fills[run] = trail[count];
            if count > 0 {
                self.runs[run].push((item.part, count as u32));
                self.left[item.part] -= count as u32;
            }
            let complete = self.run(run, at + 1, worth + price * count as i64, clock)?;
            if count > 0 {
                self.runs[run].pop();
                self.left[item.part] += count as u32;
            }
            if !complete {
                return Ok(false);
            }
        }
        self.fills[run] = (fill, state);
        Ok(true)
    }

    /// Takes what is laid, if it is worth enough less what its runs use up.
    fn take(&mut self, worth: i64, clock: &mut Clock) -> Result<(), Stopped> {
        let stands = self.posts.as_ref().is_some_and(|posts| !posts.is_empty());
        let empty = self.runs.iter().all(Vec::is_empty) && !stands;
        let (used, worth) = self.used_up(worth);
        let counts_used = self.task.counts_used;
        if empty || worth < self.needed || !(counts_used || self.is_full()) {
            return Ok(());
        }
        clock.worked(ENUMERATION_WORK + self.items.len())?;
        let mut runs = self.runs.clone();
        for run in &mut runs {
            order::sort(run);
        }
        runs.extend(self.posts.clone());
        let pattern = Pattern {
            board: self.board,
            runs,
        };
        self.keep(pattern, used);
        Ok(())
    }

    /// What the board uses up where that counts, and what is left of a worth that has what each run uses up taken off already: a length cut at the yard
    /// uses up more than its pieces need.
    fn used_up(&self, worth: i64) -> (Ticks, i64) {
        if !self.task.counts_used {
            return (0, worth);
        }
        let in_runs: Ticks = (0..self.fills.len()).map(|run| self.used(run)).sum();
        let used = match &*self.way.shape {
            Shape::Runs(_) => in_runs,
            &Shape::OneCut { together, each } => {
                let pieces = (together, each);
                let needs = [self.need(0), self.need(1)];
                let used = self.section.used_cut_once(pieces, needs);
                used.unwrap_or(Ticks::MAX / 4)
            }
        };
        let more = self.task.tick_cost.saturating_mul(used - in_runs);
        (used + self.way.lost, worth.saturating_sub(more))
    }

    fn keep(&mut self, pattern: Pattern, used: Ticks) {
        if self.capacities.len() > 1 {
            let next = (self.found.len(), used);
            let kept = match self.task.counts_offcuts {
                true => (0..self.fills.len()).filter(|&run| self.keeps(run)).count(),
                false => 0,
            };
            let known = self.known.entry((pattern.counts(), kept)).or_insert(next);
            if *known != next {
                let (at, least) = known;
                if used < *least {
                    *least = used;
                    self.found[*at] = pattern;
                }
                return;
            }
        }
        self.found.push(pattern);
    }

    /// Whether no wanted part can be added to any run.
    fn is_full(&self) -> bool {
        let total: Ticks = self
            .fills
            .iter()
            .map(|&(fill, state)| self.states.need(fill, state).length)
            .sum();
        !(0..self.fills.len()).any(|run| {
            let (fill, state) = self.fills[run];
            let own = self.states.need(fill, state).length;
            self.items
                .iter()
                .filter(|item| self.left[item.part] > 0)
                .any(|item| {
                    let (amount, next) = self.states.add(item, state);
                    let need = self.states.need(fill + amount, next).length;
                    need <= self.capacities[run] && total - own + need <= self.together
                })
        })
    }
}
