//! Branch and bound over enumerated patterns, for when no other can be in a better plan.
//!
//! **Idea** (column enumeration as in Baldacci, Christofides and Mingozzi 2008; variable branching as in Belov and Scheithauer 2006). Each node's
//! linear program has only the listed patterns, so nothing is priced. A node splits on how often one pattern is cut: first at least the next integer,
//! then at most the last; or, where the search need not be written down, on how many boards hold both of a pair of parts
//! ([`crate::pattern_search::pairs`]).
//!
//! **Invariant.** A node is given up only when integer prices prove its bound ([`crate::pattern_search::proving`]). A part left uncut costs more than
//! the whole plan may, so nothing is ever called infeasible by floats. **Why it ends:** each split narrows the range of an integer that is bounded,
//! and nodes are counted.

mod pairs;
pub(crate) mod program;
mod proving;

use crate::clock::{Clock, Stopped};
use crate::incumbent::Incumbent;
use crate::limits::INTEGRAL;
use crate::pattern::Pattern;
use crate::pattern_search::pairs::{Pair, fixed_with, fractional_pair};
use crate::pattern_search::program::SearchProgram;
use proof::certificate::Twig;

pub(crate) use crate::pattern_search::program::EnumeratedProblem;

/// A search and what it was.
pub(crate) struct Searched {
    pub(crate) ending: SearchEnd,
    /// How many nodes were searched.
    pub(crate) nodes: usize,
    /// The splits and the prices that show it, in the order of [`proof::certificate::Branch::EnumeratedProblem`].
    pub(crate) twigs: Vec<Twig>,
}

/// How the search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum SearchEnd {
    /// Nothing is better than the best plan now kept.
    Exhausted,
    /// Given up.
    GivenUp,
}

/// Searches; better plans are offered to the incumbent as they come.
pub(crate) fn search(
    given: &EnumeratedProblem,
    incumbent: &mut Incumbent,
    clock: &mut Clock,
) -> Result<Searched, Stopped> {
    let mut search = PatternSearch {
        program: SearchProgram::new(given, incumbent),
        given,
        fixed: Vec::new(),
        spent: 0,
        nodes_left: given.nodes,
    };
    let (ending, twigs) = search.node(incumbent, clock)?;
    Ok(Searched {
        ending,
        nodes: given.nodes - search.nodes_left,
        twigs,
    })
}

/// How a node ended, and the splits and prices of what it settled.
type Settled = (SearchEnd, Vec<Twig>);

struct PatternSearch<'s, 'c> {
    given: &'s EnumeratedProblem<'c>,
    program: SearchProgram<'s, 'c>,
    /// What is fixed on the way: (index of a pattern, how often).
    fixed: Vec<(usize, i64)>,
    /// What that costs.
    spent: i64,
    nodes_left: usize,
}

impl PatternSearch<'_, '_> {
    /// Searches from here on.
    fn node(&mut self, incumbent: &mut Incumbent, clock: &mut Clock) -> Result<Settled, Stopped> {
        const GIVEN_UP: Settled = (SearchEnd::GivenUp, Vec::new());
        clock.go_on()?;
        if self.nodes_left == 0 {
            return Ok(GIVEN_UP);
        }
        self.nodes_left -= 1;
        let objective = self.given.objective;
        let cutoff = incumbent.cutoff(objective);
        let (spent, attainable) = (self.spent, self.given.attainable);
        let in_all = |bound: i64| attainable.round_up(spent.saturating_add(bound));
        // What is fixed may take too much, or cost as much as a plan may: no prices are needed to show either.
        if self.program.is_overdrawn() || in_all(0) >= cutoff {
            let zero = vec![0; self.program.rows.len()];
            return Ok((SearchEnd::Exhausted, vec![self.program.leaf(1, &zero)]));
        }
        if !self.program.solve(clock)? {
            return Ok(GIVEN_UP);
        }
        let (scale, prices, bound) = self.program.proves(|bound| in_all(bound) >= cutoff);
        let bound = in_all(bound);
        if bound >= cutoff {
            let leaf = self.program.leaf(scale, &prices);
            return Ok((SearchEnd::Exhausted, vec![leaf]));
        }
        let values = self.program.values();
        let Some(column) = most_fractional(&values) else {
            let better = incumbent.offer(&self.plan(&values), clock);
            if better && bound >= incumbent.cutoff(objective) {
                let leaf = self.program.leaf(scale, &prices);
                return Ok((SearchEnd::Exhausted, vec![leaf]));
            }
            return Ok(GIVEN_UP);
        };
        if !self.given.certified
            && let Some((pair, number)) =
                fractional_pair(&self.given.patterns, &values, &self.fixed)
        {
            return self.split_on_pair(pair, number, incumbent, clock);
        }
        self.split_on_pattern(column, values[column], incumbent, clock)
    }

    /// The plan of an integral solution.
    fn plan(&self, values: &[f64]) -> Vec<(Pattern, u32)> {
        let patterns = &self.given.patterns;
        let mut plan: Vec<(Pattern, u32)> = self
            .fixed
            .iter()
            .map(|&(column, count)| (patterns[column].clone(), count as u32))
            .collect();
        for (pattern, value) in patterns.iter().zip(values) {
            let count = value.round() as u32;
            if count > 0 {
                plan.push((pattern.clone(), count));
            }
        }
        plan
    }

    /// Searches the plans that cut a pattern more often than its value, then those that cut it less often.
    fn split_on_pattern(
        &mut self,
        column: usize,
        value: f64,
        incumbent: &mut Incumbent,
        clock: &mut Clock,
    ) -> Result<Settled, Stopped> {
        let (up, down) = (value.ceil() as i64, value.floor() as i64);
        let upper = self.program.columns[column].upper;
        let same = self.fixed.iter().filter(|(other, _)| *other == column);
        let fixed: i64 = same.map(|(_, count)| count).sum();
        let pattern = &self.given.patterns[column];
        let mut twigs = vec![Twig::Split {
            board: pattern.board,
            parts: pattern.counts(),
            at: u32::try_from(fixed + down).unwrap_or(u32::MAX),
        }];

        let cost = self.program.columns[column].cost * up;
        self.program.fix(column, up);
        self.fixed.push((column, up));
        self.spent += cost;
        let (first, more) = self.node(incumbent, clock)?;
        self.spent -= cost;
        self.fixed.pop();
        self.program.fix(column, -up);

        self.program.set_upper(column, down);
        let (second, fewer) = self.node(incumbent, clock)?;
        self.program.set_upper(column, upper);
        twigs.extend(fewer);
        twigs.extend(more);
        Ok(if first == SearchEnd::Exhausted {
            (second, twigs)
        } else {
            (SearchEnd::GivenUp, Vec::new())
        })
    }

    /// Searches the plans with more boards that hold both of a pair than its number, then those with fewer.
    fn split_on_pair(
        &mut self,
        pair: Pair,
        number: f64,
        incumbent: &mut Incumbent,
        clock: &mut Clock,
    ) -> Result<Settled, Stopped> {
        let row = self.program.row_of(pair);
        let fixed = fixed_with(&self.given.patterns, &self.fixed, pair);
        let (lower, upper) = (self.program.rows[row].lower, self.program.rows[row].upper);
        self.program.hold_pair(row, true);
        let up = number.ceil() as i64 - fixed;
        self.program.bound_row(row, up.max(lower), upper);
        let (first, _) = self.node(incumbent, clock)?;
        let down = number.floor() as i64 - fixed;
        let down = upper.map_or(down, |upper| upper.min(down));
        self.program.bound_row(row, lower, Some(down));
        let (second, _) = self.node(incumbent, clock)?;
        self.program.bound_row(row, lower, upper);
        self.program.hold_pair(row, false);
        let ending = match first {
            SearchEnd::Exhausted => second,
            SearchEnd::GivenUp => first,
        };
        Ok((ending, Vec::new()))
    }
}

/// The pattern whose value has the largest fraction, the last of those alike; `None` where all are integral.
fn most_fractional(values: &[f64]) -> Option<usize> {
    let fractional = |(column, value): (usize, &f64)| {
        let fraction = value - value.floor();
        (fraction > INTEGRAL && fraction < 1.0 - INTEGRAL).then_some((fraction, column))
    };
    let fractions = values.iter().enumerate().filter_map(fractional);
    let most = fractions.max_by(|one, other| one.0.total_cmp(&other.0));
    most.map(|(_, column)| column)
}
