//! Enumeration: all patterns that a better plan may use.
//!
//! **Idea** (reduced-cost fixing; enumeration of columns within the gap as in Baldacci, Christofides and Mingozzi 2008). At a node's prices a plan
//! costs at least the node's bound and, for each pattern in it, the pattern's reduced cost. A pattern for which that alone passes the gap is in no
//! better plan. When the gap is small few patterns are left; they are listed here by depth-first search with the same bound by value per length as in
//! pricing. Only patterns to which no wanted part can be added are listed, for parts may be cut too often and trimmed; not so where the length used
//! up counts. Patterns of equal counts are one, whichever run the parts lie in: the one that uses up least.
//!
//! **Invariant.** What is passed over is worth less than its board's charge by more than the gap. **Why it ends:** every step chooses a count for one
//! part in one run, and steps are counted.

use crate::clock::{Clock, Stopped};
use crate::dual_bound::ReducedCostBound;
use crate::limits::{
    ENUMERATION_DENSITY_BITS, ENUMERATION_DEPTH, ENUMERATION_STEPS_PER_LOOK, ENUMERATION_WORK,
};
use crate::pattern::Pattern;
use crate::problem::{Problem, Shape, Standing, Ticks};
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
            let complete = search.run(0, 0, 0, clock)?;
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

struct Enumerator<'s, 'w> {
    task: &'s EnumerationTask<'w>,
    board: usize,
    states: &'s RunStates,
    /// The parts at its factory ends, and whether it has any such ends.
    posts: Option<Vec<(usize, u32)>>,
    items: Vec<Item>,
    densities: Vec<i128>,
    capacities: Vec<Ticks>,
    /// The length all runs share at most.
    together: Ticks,
    needed: i64,
    left: Vec<u32>,
    runs: Vec<Vec<(usize, u32)>>,
    fills: Vec<(Ticks, usize)>,
    found: Vec<Pattern>,
    /// Where a board has several runs, what is found by its counts: its place, and what it uses up.
    known: HashMap<Vec<(usize, u32)>, (usize, Ticks)>,
    steps: usize,
}

impl<'s, 'w> Enumerator<'s, 'w> {
    fn new(
        task: &'s EnumerationTask<'w>,
        board: usize,
        way: &Standing,
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
        let densities = items
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
        Enumerator {
            posts,
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
        }
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
            if run + 1 < self.capacities.len() {
                return self.run(run + 1, 0, worth, clock);
            }
            self.take(worth);
            return Ok(true);
        }
        let later: i128 = (run + 1..self.capacities.len())
            .map(|next| {
                self.densities[0]
                    * i128::from(self.capacities[next].min(self.together) + self.states.overhang)
            })
            .sum();
        let here = self.densities[at] * i128::from((room + self.states.overhang - fill).max(0));
        if i128::from(worth) + ((later + here) >> ENUMERATION_DENSITY_BITS) + 1
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

    fn take(&mut self, worth: i64) {
        let stands = self.posts.as_ref().is_some_and(|posts| !posts.is_empty());
        if self.runs.iter().all(Vec::is_empty) && !stands {
            return;
        }
        let mut runs = self.runs.clone();
        for run in &mut runs {
            order::sort(run);
        }
        runs.extend(self.posts.clone());
        let pattern = Pattern {
            board: self.board,
            runs,
        };
        let counts_used = self.task.counts_used;
        let used = match counts_used {
            true => pattern.used(self.task.problem),
            false => 0,
        };
        let worth = worth - self.task.tick_cost * used;
        if worth >= self.needed && (counts_used || self.is_full()) {
            self.keep(pattern, used);
        }
    }

    fn keep(&mut self, pattern: Pattern, used: Ticks) {
        if self.capacities.len() > 1 {
            let next = (self.found.len(), used);
            let known = self.known.entry(pattern.counts()).or_insert(next);
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
