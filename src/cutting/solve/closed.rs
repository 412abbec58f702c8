//! A search over a closed list of patterns, for when no other can be in a better plan.
//!
//! Branch and bound on how often one pattern is cut: first at least the next whole number, then at most the last. Each node's linear program
//! has only the listed patterns, so nothing is priced. A node is given up only when integer prices prove its bound: prices
//! are rounded to integers, each row is charged at the end of its range that its price's sign asks for, and a pattern whose
//! exact reduced cost comes out below nothing is charged as often as it may be cut (Neumaier and Shcherbina 2004, in integers). A
//! part left out costs more than the whole plan may, so nothing is ever called infeasible by floats.

use super::clock::{Clock, Stopped};
use super::dive::cutoff;
use super::keep::Keep;
use super::pattern::Pattern;
use super::relax::{Cut, Side, WHOLE};
use super::simplex::{Simplex, Verdict};
use super::stage::{Lift, Stage};
use proof::certificate::{Twig, TwigLeaf};
use std::collections::HashMap;

/// Price units of the largest cost.
const UNIT: f64 = (1u64 << 36) as f64;
/// Lists up to this long are in the linear program at once; of longer ones, most patterns never matter.
const AWAKE: usize = 300;
/// How many patterns join the program at a time.
const WAKES: usize = 60;
/// Patterns worth less than this over their cost do not join, in the largest board cost.
const ENTERS: f64 = 1e-9;

/// The problem over the listed patterns.
pub(super) struct Closed<'c> {
    pub(super) stage: Stage,
    pub(super) earlier: &'c [i64],
    pub(super) lift: &'c Lift,
    pub(super) patterns: Vec<Pattern>,
    pub(super) demand: &'c [u32],
    pub(super) supply: Vec<Option<u32>>,
    /// The splits that hold, with their boards.
    pub(super) path: Vec<(Vec<usize>, Cut)>,
    /// How many nodes may be searched.
    pub(super) nodes: usize,
    /// Whether the search is to be written down: then it splits only on how often single patterns are cut.
    pub(super) certified: bool,
}

/// A search and what it was.
pub(super) struct Searched {
    pub(super) ending: Ending,
    /// How many nodes were searched.
    pub(super) nodes: usize,
    /// The splits and the prices that show it, in the order of [`proof::certificate::Branch::Closed`].
    pub(super) twigs: Vec<Twig>,
}

/// How the search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Ending {
    /// Nothing is better than the best plan now kept.
    Exhausted,
    /// Given up.
    GivenUp,
}

struct Row {
    lower: i64,
    upper: Option<i64>,
    /// Divides entries and bounds in the linear program.
    scale: i64,
}

struct Column {
    cost: i64,
    entries: Vec<(usize, i64)>,
    upper: i64,
}

struct Search<'s, 'c> {
    closed: &'s Closed<'c>,
    rows: Vec<Row>,
    columns: Vec<Column>,
    simplex: Simplex,
    first: usize,
    largest: i64,
    fixed: Vec<(usize, i64)>,
    supply_row: Vec<Option<usize>>,
    first_earlier: usize,
    spent: i64,
    nodes_left: usize,
    /// The columns that the program may use; the others wait for prices at which they would join.
    awake: Vec<bool>,
    /// Rows for pairs: the pair, and how many splits on it hold.
    pairs: Vec<(Pair, usize)>,
    first_pair: usize,
}

/// Two parts, the lesser index first, that lie on one board together; the same one twice where a board holds two of it.
type Pair = (usize, usize);

/// Searches; better plans are offered to `keep` as they come.
pub(super) fn search(
    closed: &Closed,
    keep: &mut Keep,
    clock: &mut Clock,
) -> Result<Searched, Stopped> {
    let mut search = Search::new(closed, keep);
    let (ending, twigs) = search.node(keep, clock)?;
    Ok(Searched {
        ending,
        nodes: closed.nodes - search.nodes_left,
        twigs,
    })
}

impl<'s, 'c> Search<'s, 'c> {
    fn new(closed: &'s Closed<'c>, keep: &Keep) -> Self {
        let problem = keep.problem;
        let mut rows: Vec<Row> = closed
            .demand
            .iter()
            .map(|&count| Row {
                lower: i64::from(count),
                upper: None,
                scale: 1,
            })
            .collect();
        let mut supply_row = vec![None; problem.boards.len()];
        for (board, supply) in closed.supply.iter().enumerate() {
            if let Some(supply) = supply {
                supply_row[board] = Some(rows.len());
                rows.push(Row {
                    lower: 0,
                    upper: Some(i64::from(*supply)),
                    scale: 1,
                });
            }
        }
        let first_earlier = rows.len();
        for (level, &value) in closed.earlier.iter().enumerate() {
            rows.push(Row {
                lower: 0,
                upper: Some(value),
                scale: Stage::Cost(level).largest_cost(problem),
            });
        }
        let first_split = rows.len();
        for (_, cut) in &closed.path {
            rows.push(match cut.side {
                Side::Fewer(at) => Row {
                    lower: 0,
                    upper: Some(i64::from(at)),
                    scale: 1,
                },
                Side::More(at) => Row {
                    lower: i64::from(at),
                    upper: None,
                    scale: 1,
                },
            });
        }
        let largest = closed.stage.largest_cost(problem);
        let columns: Vec<Column> = closed
            .patterns
            .iter()
            .map(|pattern| {
                let counts = pattern.counts();
                let mut entries: Vec<(usize, i64)> = counts
                    .iter()
                    .map(|&(part, count)| (part, i64::from(count)))
                    .collect();
                entries.extend(supply_row[pattern.board].map(|row| (row, 1)));
                for level in 0..closed.earlier.len() {
                    let cost = problem.boards[pattern.board].cost[level];
                    if cost != 0 {
                        entries.push((first_earlier + level, cost));
                    }
                }
                for (at, (boards, _)) in closed.path.iter().enumerate() {
                    if boards.binary_search(&pattern.board).is_ok() {
                        entries.push((first_split + at, 1));
                    }
                }
                let most = counts
                    .iter()
                    .map(|&(part, count)| closed.demand[part].div_ceil(count))
                    .max()
                    .unwrap_or(0);
                Column {
                    cost: closed.stage.cost(problem, pattern),
                    entries,
                    upper: i64::from(most),
                }
            })
            .collect();
        let rows_in_all = rows.len();
        let bounds: Vec<(f64, f64)> = rows.iter().map(float_bounds).collect();
        let mut simplex = Simplex::new(&bounds);
        let whole = cutoff(keep, closed.stage);
        let left_out = if whole == i64::MAX {
            1e6
        } else {
            2.0 * whole as f64 / largest as f64 + 1.0
        };
        for (row, bound) in rows.iter().enumerate() {
            if bound.lower > 0 {
                simplex.add_column(left_out, &[(row as u32, 1.0)]);
            }
        }
        let first = simplex.columns();
        let all_awake = columns.len() <= AWAKE;
        for column in &columns {
            let entries: Vec<(u32, f64)> = column
                .entries
                .iter()
                .map(|&(row, entry)| (row as u32, entry as f64 / rows[row].scale as f64))
                .collect();
            let at = simplex.add_column(column.cost as f64 / largest as f64, &entries);
            simplex.set_upper(at, if all_awake { column.upper as f64 } else { 0.0 });
        }
        Search {
            closed,
            rows,
            columns,
            simplex,
            first,
            largest,
            fixed: Vec::new(),
            supply_row,
            first_earlier,
            spent: 0,
            nodes_left: closed.nodes,
            awake: vec![all_awake; closed.patterns.len()],
            pairs: Vec::new(),
            first_pair: rows_in_all,
        }
    }

    /// Searches from here on; tells how it ended, and the splits and prices of what it settled.
    fn node(&mut self, keep: &mut Keep, clock: &mut Clock) -> Result<(Ending, Vec<Twig>), Stopped> {
        clock.go_on()?;
        if self.nodes_left == 0 {
            return Ok((Ending::GivenUp, Vec::new()));
        }
        self.nodes_left -= 1;
        if self
            .rows
            .iter()
            .any(|row| row.upper.is_some_and(|upper| upper < 0))
        {
            let nothing = vec![0; self.rows.len()];
            return Ok((Ending::Exhausted, vec![self.leaf(1, &nothing)]));
        }
        if !self.priced(clock)? {
            return Ok((Ending::GivenUp, Vec::new()));
        }
        let (scale, prices) = self.prices();
        let bound = self
            .closed
            .lift
            .up(self.spent.saturating_add(self.bound(scale, &prices)));
        if bound >= cutoff(keep, self.closed.stage) {
            return Ok((Ending::Exhausted, vec![self.leaf(scale, &prices)]));
        }
        let values = self.simplex.solution();
        let fractional = |column: usize| {
            let value = values[self.first + column];
            let fraction = value - value.floor();
            (fraction > WHOLE && fraction < 1.0 - WHOLE).then_some((fraction, column))
        };
        let chosen = (0..self.columns.len())
            .filter_map(fractional)
            .max_by(|one, other| one.0.total_cmp(&other.0));
        let Some((_, column)) = chosen else {
            let mut plan: Vec<(Pattern, u32)> = self
                .fixed
                .iter()
                .map(|&(column, count)| (self.closed.patterns[column].clone(), count as u32))
                .collect();
            for (column, value) in values[self.first..].iter().enumerate() {
                let count = value.round() as u32;
                if count > 0 {
                    plan.push((self.closed.patterns[column].clone(), count));
                }
            }
            let better = keep.offer(&plan, clock);
            let settled = better && bound >= cutoff(keep, self.closed.stage);
            return Ok(if settled {
                (Ending::Exhausted, vec![self.leaf(scale, &prices)])
            } else {
                (Ending::GivenUp, Vec::new())
            });
        };
        if !self.closed.certified
            && let Some((pair, sum)) = self.fractional_pair(&values)
        {
            return self.split_on_pair(pair, sum, keep, clock);
        }
        let value = values[self.first + column];
        let (up, down) = (value.ceil() as i64, value.floor() as i64);
        let upper = self.columns[column].upper;

        let fixed: i64 = self
            .fixed
            .iter()
            .filter(|(other, _)| *other == column)
            .map(|(_, count)| count)
            .sum();
        let pattern = &self.closed.patterns[column];
        let mut twigs = vec![Twig::Split {
            board: pattern.board,
            parts: pattern.counts(),
            at: u32::try_from(fixed + down).unwrap_or(u32::MAX),
        }];

        self.fix(column, up);
        let (first, more) = self.node(keep, clock)?;
        self.fix(column, -up);

        self.set_upper(column, down);
        let (second, fewer) = self.node(keep, clock)?;
        self.set_upper(column, upper);
        twigs.extend(fewer);
        twigs.extend(more);
        Ok(if first == Ending::Exhausted {
            (second, twigs)
        } else {
            (Ending::GivenUp, Vec::new())
        })
    }

    /// Solves the node's program: over the columns awake, and as long as others are worth more than they cost those join in. False where
    /// the figures went bad.
    fn priced(&mut self, clock: &mut Clock) -> Result<bool, Stopped> {
        if self.simplex.solve(clock)? == Verdict::Failed {
            self.simplex.reset();
            if self.simplex.solve(clock)? == Verdict::Failed {
                return Ok(false);
            }
        }
        loop {
            let mut waking: Vec<(f64, usize)> = (0..self.columns.len())
                .filter(|&column| !self.awake[column])
                .map(|column| (self.simplex.reduced_cost(self.first + column), column))
                .filter(|&(reduced, _)| reduced < -ENTERS)
                .collect();
            if waking.is_empty() {
                return Ok(true);
            }
            waking.sort_by(|one, other| one.0.total_cmp(&other.0));
            for &(_, column) in waking.iter().take(WAKES) {
                self.awake[column] = true;
                self.set_upper(column, self.columns[column].upper);
            }
            if self.simplex.primal(clock)? == Verdict::Failed
                && self.simplex.solve(clock)? == Verdict::Failed
            {
                return Ok(false);
            }
        }
    }

    /// The pair of parts whose number of boards with both on it is nearest to a half, and that number.
    fn fractional_pair(&self, values: &[f64]) -> Option<(Pair, f64)> {
        let mut sums: HashMap<Pair, f64> = HashMap::new();
        for (column, pattern) in self.closed.patterns.iter().enumerate() {
            let value = values[self.first + column];
            if value > WHOLE {
                for pair in pairs(pattern) {
                    *sums.entry(pair).or_default() += value;
                }
            }
        }
        for &(column, count) in &self.fixed {
            for pair in pairs(&self.closed.patterns[column]) {
                if let Some(sum) = sums.get_mut(&pair) {
                    *sum += count as f64;
                }
            }
        }
        let from_half = |sum: f64| (sum - sum.floor() - 0.5).abs();
        sums.into_iter()
            .filter(|&(_, sum)| from_half(sum) < 0.5 - 10.0 * WHOLE)
            .min_by(|one, other| {
                let order = from_half(one.1).total_cmp(&from_half(other.1));
                order.then(one.0.cmp(&other.0))
            })
    }

    /// Searches the plans with more boards that hold both of a pair than its sum, then those with fewer.
    fn split_on_pair(
        &mut self,
        pair: Pair,
        sum: f64,
        keep: &mut Keep,
        clock: &mut Clock,
    ) -> Result<(Ending, Vec<Twig>), Stopped> {
        let row = self.row_of(pair);
        let at = row - self.first_pair;
        let taken = self.taken(pair);
        let (lower, upper) = (self.rows[row].lower, self.rows[row].upper);
        self.pairs[at].1 += 1;
        self.bound_row(row, (sum.ceil() as i64 - taken).max(lower), upper);
        let (first, _) = self.node(keep, clock)?;
        let down = sum.floor() as i64 - taken;
        self.bound_row(
            row,
            lower,
            Some(upper.map_or(down, |upper| upper.min(down))),
        );
        let (second, _) = self.node(keep, clock)?;
        self.bound_row(row, lower, upper);
        self.pairs[at].1 -= 1;
        let ending = if first == Ending::Exhausted {
            second
        } else {
            Ending::GivenUp
        };
        Ok((ending, Vec::new()))
    }

    /// How many boards with both of a pair are fixed.
    fn taken(&self, pair: Pair) -> i64 {
        let patterns = &self.closed.patterns;
        let fixed = self.fixed.iter();
        fixed
            .filter(|(column, _)| pairs(&patterns[*column]).contains(&pair))
            .map(|(_, count)| count)
            .sum()
    }

    /// A row for a pair: one it has, one no split holds any more, or a new one.
    fn row_of(&mut self, pair: Pair) -> usize {
        if let Some(at) = self
            .pairs
            .iter()
            .position(|&(known, held)| known == pair && held > 0)
        {
            return self.first_pair + at;
        }
        let holds: Vec<bool> = self
            .closed
            .patterns
            .iter()
            .map(|pattern| pairs(pattern).contains(&pair))
            .collect();
        let first = self.first;
        let entry = |column: usize| f64::from(u8::from(column >= first && holds[column - first]));
        let everything = (f64::NEG_INFINITY, f64::INFINITY);
        let mut found = None;
        for at in 0..self.pairs.len() {
            let row = self.first_pair + at;
            if self.pairs[at].1 == 0 && self.simplex.replace_row(row, everything, entry) {
                found = Some(at);
                break;
            }
        }
        let at = found.unwrap_or_else(|| {
            self.simplex
                .add_row(f64::NEG_INFINITY, f64::INFINITY, entry);
            self.rows.push(Row {
                lower: 0,
                upper: None,
                scale: 1,
            });
            self.pairs.push((pair, 0));
            self.pairs.len() - 1
        });
        self.pairs[at].0 = pair;
        let row = self.first_pair + at;
        for (column, &holds) in self.columns.iter_mut().zip(&holds) {
            column.entries.retain(|&(index, _)| index != row);
            if holds {
                column.entries.push((row, 1));
            }
        }
        row
    }

    fn bound_row(&mut self, index: usize, lower: i64, upper: Option<i64>) {
        let row = &mut self.rows[index];
        (row.lower, row.upper) = (lower, upper);
        let (lower, upper) = float_bounds(row);
        self.simplex.set_row(index, lower, upper);
    }

    /// Fixes so many more (or, taking back, fewer) of a pattern: what is left to cut shrinks.
    fn fix(&mut self, column: usize, count: i64) {
        for at in 0..self.columns[column].entries.len() {
            let (index, entry) = self.columns[column].entries[at];
            // A pair's row that no split holds is not a limit, and may be another pair's by the time this is taken back.
            if index >= self.first_pair && self.pairs[index - self.first_pair].1 == 0 {
                continue;
            }
            let row = &mut self.rows[index];
            row.lower -= entry * count;
            row.upper = row.upper.map(|upper| upper - entry * count);
            let (lower, upper) = float_bounds(&self.rows[index]);
            self.simplex.set_row(index, lower, upper);
        }
        self.spent += self.columns[column].cost * count;
        let upper = self.columns[column].upper - count;
        self.set_upper(column, upper);
        if count > 0 {
            self.fixed.push((column, count));
        } else {
            self.fixed.pop();
        }
    }

    fn set_upper(&mut self, column: usize, upper: i64) {
        self.columns[column].upper = upper;
        if self.awake[column] {
            self.simplex.set_upper(self.first + column, upper as f64);
        }
    }

    /// The linear program's prices as integers, one for each row, and how many price units are one unit of cost.
    fn prices(&self) -> (i64, Vec<i64>) {
        let scale = ((UNIT / self.largest as f64) as i64).max(1);
        let unit = scale as f64 * self.largest as f64;
        let prices = self
            .simplex
            .prices()
            .iter()
            .zip(&self.rows)
            .map(|(price, row)| {
                let price = (price * unit / row.scale as f64).clamp(-1e15, 1e15).floor() as i64;
                if price < 0 && row.upper.is_none() {
                    0
                } else {
                    price
                }
            })
            .collect();
        (scale, prices)
    }

    /// These prices as a certificate tells them. A price that has the wrong sign for what it charges shows nothing and is left out.
    fn leaf(&self, scale: i64, prices: &[i64]) -> Twig {
        let charge = |row: usize| (-prices[row]).max(0);
        let first_split = self.first_earlier + self.closed.earlier.len();
        Twig::Leaf(TwigLeaf {
            scale,
            parts: prices[..self.closed.demand.len()]
                .iter()
                .map(|price| (*price).max(0))
                .collect(),
            boards: self
                .supply_row
                .iter()
                .map(|row| row.map_or(0, charge))
                .collect(),
            earlier: (self.first_earlier..first_split).map(charge).collect(),
            splits: self
                .closed
                .path
                .iter()
                .zip(first_split..)
                .map(|((_, cut), row)| match cut.side {
                    Side::Fewer(_) => charge(row),
                    Side::More(_) => prices[row].max(0),
                })
                .enumerate()
                .filter(|(_, price)| *price > 0)
                .collect(),
        })
    }

    /// What integer prices prove of this node.
    fn bound(&self, scale: i64, prices: &[i64]) -> i64 {
        let mut total: i128 = 0;
        for (&price, row) in prices.iter().zip(&self.rows) {
            let end = if price > 0 {
                row.lower.max(0)
            } else {
                row.upper.unwrap_or(0)
            };
            total += i128::from(price) * i128::from(end);
        }
        for column in &self.columns {
            let worth: i128 = column
                .entries
                .iter()
                .map(|&(row, entry)| i128::from(prices[row]) * i128::from(entry))
                .sum();
            let reduced = i128::from(scale) * i128::from(column.cost) - worth;
            if reduced < 0 {
                total += reduced * i128::from(column.upper.max(0));
            }
        }
        let scale = i128::from(scale);
        let bound = total.div_euclid(scale) + i128::from(total.rem_euclid(scale) != 0);
        i64::try_from(bound).unwrap_or(0).max(0)
    }
}

/// The pairs of parts on one board.
fn pairs(pattern: &Pattern) -> Vec<Pair> {
    let counts = pattern.counts();
    let mut pairs = Vec::new();
    for (at, &(part, count)) in counts.iter().enumerate() {
        if count > 1 {
            pairs.push((part, part));
        }
        pairs.extend(counts[at + 1..].iter().map(|&(other, _)| (part, other)));
    }
    pairs
}

fn float_bounds(row: &Row) -> (f64, f64) {
    let scale = row.scale as f64;
    (
        row.lower.max(0) as f64 / scale,
        row.upper
            .map_or(f64::INFINITY, |upper| upper.max(0) as f64 / scale),
    )
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::problem::{Board, End, Fit, Problem, Run, Section, Shape};
    use crate::solve::keep::Silent;
    use crate::solve::lay::Lay;
    use crate::solve::list::{Wanted, list};
    use crate::solve::relax::Sums;
    use crate::solve::start::{Taste, greedy};
    use crate::solve::{Aims, ScrapAim, Watch};

    struct Forever;

    impl Watch for Forever {
        fn expired(&mut self) -> bool {
            false
        }
    }

    /// So many parts of 20 to 50, each up to `most` times, from lengths of 100.
    fn problem(random: &mut u64, parts: usize, most: u64) -> Problem {
        let mut below = |end: u64| {
            *random ^= *random << 13;
            *random ^= *random >> 7;
            *random ^= *random << 17;
            *random % end
        };
        let fits = (0..parts)
            .map(|_| {
                Some(Fit {
                    length: 20 + below(31) as i64,
                    ends: [End::Square; 2],
                })
            })
            .collect();
        Problem {
            demand: (0..parts).map(|_| 1 + below(most) as u32).collect(),
            sections: vec![Section {
                fits,
                ..Section::default()
            }],
            boards: vec![Board {
                section: 0,
                shape: Shape::Runs(vec![Run {
                    length: 100,
                    tail: 0,
                }]),
                cost: vec![1],
                supply: None,
                lost: 0,
            }],
        }
    }

    /// The fewest lengths found by a search over every pattern there is, and the nodes it took.
    fn fewest(problem: &Problem, certified: bool) -> (i64, usize) {
        let mut watch = Forever;
        let mut clock = Clock::new(&mut watch);
        let mut silent = Silent;
        let aims = Aims {
            scrap: ScrapAim::Ignored,
        };
        let mut keep = Keep::new(problem, aims, &mut silent);
        let taste = Taste::Longest;
        let demand = &mut problem.demand.clone();
        let first = greedy(problem, taste, demand, &mut [None], None).expect("no clock is asked");
        keep.offer(&first.expect("lengths are not limited"), &mut clock);
        let lift = Lift::new(problem, Stage::Cost(0), keep.value(0));
        let wanted = Wanted {
            problem,
            lays: &[Lay::new(problem, &problem.sections[0])],
            prices: &vec![0; problem.demand.len()],
            sums: &Sums {
                total: 0,
                charges: vec![0],
            },
            gap: 1,
            demand: &problem.demand,
            tick_cost: 0,
            limit: usize::MAX,
            steps: usize::MAX,
        };
        let patterns = list(&wanted, &mut clock).expect("no limit of time");
        let closed = Closed {
            stage: Stage::Cost(0),
            earlier: &[],
            lift: &lift,
            patterns: patterns.expect("no limit of length"),
            demand: &problem.demand,
            supply: vec![None],
            path: Vec::new(),
            nodes: 100_000,
            certified,
        };
        let searched = search(&closed, &mut keep, &mut clock).expect("no limit of time");
        assert_eq!(searched.ending, Ending::Exhausted);
        (keep.value(0), searched.nodes)
    }

    #[test]
    fn pairs_and_single_patterns_find_the_same_fewest() {
        // Two ways to the same answer; that of single patterns is checked against exhaustive search and proved again elsewhere.
        let mut random = 0x0dd5_eed5_u64;
        let mut split = 0;
        for index in 0..160 {
            // With few parts often wanted the sums of pairs may be whole where patterns are not: then both kinds of split take turns.
            let (parts, most) = [(11, 2), (6, 5), (5, 12), (4, 30)][index % 4];
            let problem = problem(&mut random, parts, most);
            let (by_pattern, _) = fewest(&problem, true);
            let (by_pairs, nodes) = fewest(&problem, false);
            assert_eq!(by_pattern, by_pairs, "problem {index}: {problem:?}");
            split += usize::from(nodes > 1);
        }
        assert!(split > 5, "only {split} searches were split at all");
    }
}
