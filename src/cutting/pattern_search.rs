//! Branch and bound over enumerated patterns, for when no other can be in a better plan.
//!
//! **Idea** (column enumeration as in Baldacci, Christofides and Mingozzi 2008; variable branching as in Belov and Scheithauer 2006). Each node's
//! linear program has only the listed patterns, so nothing is priced. A node splits on how often one pattern is cut: first at least the next integer,
//! then at most the last; or, where it may, on how many boards hold both of a pair of parts ([`crate::pattern_search::pairs`]), which goes further.
//! The search is told as it goes, as long as there is room.
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
use crate::pattern_search::pairs::{Pair, PairSplit, fixed_with, fractional_pair};
use crate::pattern_search::program::SearchProgram;
use proof::certificate::Twig;

pub(crate) use crate::pattern_search::program::EnumeratedProblem;

/// A search and what it was.
pub(crate) struct Searched {
    pub(crate) ending: SearchEnd,
    /// How many nodes were searched.
    pub(crate) nodes: usize,
    /// The splits and the prices that show it, in the order of [`proof::certificate::Branch::Closed`], and the bytes they take; `None` where there was
    /// no room for them.
    pub(crate) told: Option<(Vec<Twig>, usize)>,
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
        way: Vec::new(),
        bytes: 0,
    };
    let (ending, twigs) = search.node(incumbent, clock)?;
    Ok(Searched {
        ending,
        nodes: given.nodes - search.nodes_left,
        told: (search.bytes <= given.room).then_some((twigs, search.bytes)),
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
    /// The splits on the way; none for one on a pattern.
    way: Vec<Option<PairSplit>>,
    /// The bytes of what was told by now.
    bytes: usize,
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
        // What is fixed may take too much, or cost as much as a plan may: no prices are needed to show either.
        if self.program.is_overdrawn() || self.in_all(0) >= cutoff {
            let zero = vec![0; self.program.rows.len()];
            return Ok(self.exhausted((1, zero)));
        }
        if !self.program.solve(clock)? {
            return Ok(GIVEN_UP);
        }
        let (scale, prices, bound) = self.program.proves(|bound| self.in_all(bound) >= cutoff);
        let bound = self.in_all(bound);
        if bound >= cutoff {
            return Ok(self.settled((scale, prices), cutoff));
        }
        let values = self.program.values();
        let Some(column) = most_fractional(&values) else {
            let better = incumbent.offer(&self.plan(&values), clock);
            if better && bound >= incumbent.cutoff(objective) {
                return Ok(self.settled((scale, prices), incumbent.cutoff(objective)));
            }
            return Ok(GIVEN_UP);
        };
        if self.given.by_pairs
            && let Some((pair, number)) =
                fractional_pair(&self.given.patterns, &values, &self.fixed, &self.way)
        {
            return self.split_on_pair(pair, number, incumbent, clock);
        }
        self.split_on_pattern(column, values[column], incumbent, clock)
    }

    /// What costs come to at least where the rest costs so much at least.
    fn in_all(&self, bound: i64) -> i64 {
        let bound = self.spent.saturating_add(bound);
        self.given.attainable.round_up(bound)
    }

    /// A node that is settled by prices, told with the shortest that show it.
    fn settled(&mut self, found: (i64, Vec<i64>), cutoff: i64) -> Settled {
        let short = match self.bytes <= self.given.room {
            true => self
                .program
                .short_prices(|bound| self.in_all(bound) >= cutoff),
            false => None,
        };
        self.exhausted(short.unwrap_or(found))
    }

    fn exhausted(&mut self, (scale, prices): (i64, Vec<i64>)) -> Settled {
        let leaf = self.program.leaf(scale, &prices, &self.way);
        (SearchEnd::Exhausted, self.told(leaf))
    }

    /// A place as it is told, where there is room for it.
    fn told(&mut self, twig: Twig) -> Vec<Twig> {
        self.bytes = self.bytes.saturating_add(twig.bytes(self.given.parts_told));
        match self.bytes <= self.given.room {
            true => vec![twig],
            false => Vec::new(),
        }
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
        let counts = self.given.counts_offcuts;
        let kept = counts.then(|| pattern.kept(incumbent.problem));
        let split = Twig::Split {
            board: pattern.board,
            parts: pattern.counts(),
            kept: kept.map(|kept| kept.len() as u32),
            at: u32::try_from(fixed + down).unwrap_or(u32::MAX),
        };
        let split = self.told(split);
        self.way.push(None);

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
        self.way.pop();
        Ok(both(split, (first, more), (second, fewer)))
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
        let at = number.floor() as i64;
        let split = self.told(Twig::Pair {
            parts: [pair.0, pair.1],
            at: u32::try_from(at).unwrap_or(u32::MAX),
        });
        let split_to = |more| PairSplit {
            pair,
            row,
            at,
            more,
        };
        self.program.hold_pair(row, true);
        let up = number.ceil() as i64 - fixed;
        self.program.bound_row(row, up.max(lower), upper);
        self.way.push(Some(split_to(true)));
        let (first, more) = self.node(incumbent, clock)?;
        let down = at - fixed;
        let down = upper.map_or(down, |upper| upper.min(down));
        self.program.bound_row(row, lower, Some(down));
        self.way.pop();
        self.way.push(Some(split_to(false)));
        let (second, fewer) = self.node(incumbent, clock)?;
        self.way.pop();
        self.program.bound_row(row, lower, upper);
        self.program.hold_pair(row, false);
        Ok(both(split, (first, more), (second, fewer)))
    }
}

/// A split both of whose sides were searched, told with the side of fewer first.
fn both(mut split: Vec<Twig>, more: Settled, fewer: Settled) -> Settled {
    if more.0 == SearchEnd::GivenUp || fewer.0 == SearchEnd::GivenUp {
        return (SearchEnd::GivenUp, Vec::new());
    }
    split.extend(fewer.1);
    split.extend(more.1);
    (SearchEnd::Exhausted, split)
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
