//! Search over pairs: whether so few boards of one kind are enough.
//!
//! **Idea** (branch and price with the rule of Ryan and Foster 1981; blocks of [`blocks`]). A plan of so many boards wastes so much in all, and so does each of
//! its cuttings at most. A node splits on a pair of blocks that is on a fraction of a board together in the solution: joined first, which finds plans
//! by itself, then kept apart. Columns are generated only until the program shows that so few boards may do, or prices show that they do not. The
//! search starts over after some nodes, with more nodes and other choices among pairs; cuttings are kept.
//!
//! **Invariant.** A node is given up only where prices, rounded to integers, prove it: no cutting that pricing allows is worth more than a board, and
//! all blocks together are worth more than the boards there may be; a certificate tells them ([`told`]). **Why it ends:** a split joins or keeps apart a pair of finitely many, and nodes
//! are counted. Nodes that wait are a list.

pub(crate) mod blocks;
pub(crate) mod pricing;
mod program;
pub(crate) mod told;

use crate::arithmetic::greatest_common_divisor;
use crate::clock::{Clock, Stopped};
use crate::incumbent::Incumbent;
use crate::limits::{
    DEAREST_UNCUT, ENTERING_GAIN, FREE_PAIR, INTEGRAL, NODE_ROUNDS, NODES_OF_FIRST_START,
    NODES_OF_NEXT_START, PAIR_JITTER, PAIR_TABLE_PLACES, PAIR_WORTH, WHOLE_PAIR,
};
use crate::objective::Objective;
use crate::pair_search::blocks::{BlockPair, Blocks, PairDecision, PairNode};
use crate::pair_search::pricing::{PairPricer, PricedBlock};
use crate::pair_search::program::{PairProgram, is_whole};
use crate::pair_search::told::{PairPrices, ToldPairs};
use crate::pattern::{Pattern, added_up};
use crate::problem::{Problem, Shape};
use crate::random::Xorshift;
use crate::simplex::Basis;
use std::rc::Rc;

/// How the search ended.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum PairEnd {
    /// No plan is so good.
    Exhausted,
    /// The incumbent is.
    Found,
    /// Given up.
    GivenUp,
}

/// A node that waits: its decisions, and the basis to come back to where another was searched between.
type Waiting = (Vec<PairDecision>, Option<Rc<Basis>>);

/// What became of a node.
enum PairFate {
    Proven,
    Found,
    Split(BlockPair),
    Stuck,
}

/// The problem as this search sees it: lengths in their common divisor, the kerf with each part.
pub(crate) struct PairProblem {
    lengths: Vec<usize>,
    room: usize,
    waste: usize,
    boards: i64,
}

impl PairProblem {
    /// `None` where the problem is not of one kind of board in any number with square cuts, or is too large.
    pub(crate) fn of(problem: &Problem, boards: i64) -> Option<PairProblem> {
        let ([board], [section]) = (&problem.boards[..], &problem.sections[..]) else {
            return None;
        };
        let Shape::Runs(runs) = &board.shape else {
            return None;
        };
        let [run] = &runs[..] else {
            return None;
        };
        if board.supply.is_some() || board.factory.is_some() || !section.mitres.is_empty() {
            return None;
        }
        let fits = section.fits.iter();
        let whole: Vec<i64> = fits
            .map(|fit| fit.map(|fit| fit.length + section.kerf))
            .collect::<Option<_>>()?;
        let divisor = whole.iter().fold(0, |divisor, &length| {
            greatest_common_divisor(divisor, length)
        });
        let room = (run.length + section.kerf) / divisor.max(1);
        let lengths = whole.iter().map(|length| length / divisor.max(1));
        let pairs = lengths.clone().zip(&problem.demand);
        let all: i64 = pairs
            .map(|(length, &count)| length * i64::from(count))
            .sum();
        let waste = room.checked_mul(boards)? - all;
        if waste < 0 || room * (problem.demand.len() as i64 + 1) > PAIR_TABLE_PLACES {
            return None;
        }
        Some(PairProblem {
            lengths: lengths.map(|length| length as usize).collect(),
            room: room as usize,
            waste: waste.min(room) as usize,
            boards,
        })
    }

    fn wasted(&self, parts: &[(usize, u32)]) -> Option<usize> {
        let each = parts.iter();
        let used: usize = each
            .map(|&(part, count)| self.lengths[part] * count as usize)
            .sum();
        self.room.checked_sub(used)
    }
}

/// A search.
pub(crate) struct PairSearch<'s> {
    given: PairProblem,
    demand: &'s [u32],
    blocks: Blocks,
    program: PairProgram,
    table: Vec<i32>,
    random: Xorshift,
    pub(crate) nodes: usize,
    /// The search as a certificate tells it, once it is exhausted.
    pub(crate) told: ToldPairs,
}

impl<'s> PairSearch<'s> {
    /// A search that starts from these patterns.
    pub(crate) fn new(
        given: PairProblem,
        problem: &'s Problem,
        patterns: &[Pattern],
        told: ToldPairs,
    ) -> Self {
        let mut blocks = Blocks::new(given.lengths.clone());
        let demand = &problem.demand[..];
        let mut program = PairProgram::new(demand, &blocks, given.room);
        let root = PairNode::new(&mut blocks, demand, &[]);
        for pattern in patterns {
            let parts = pattern.counts();
            if given
                .wasted(&parts)
                .is_some_and(|waste| waste <= given.waste)
            {
                program.add(&root, parts, Vec::new());
            }
        }
        PairSearch {
            given,
            demand,
            blocks,
            program,
            table: Vec::new(),
            random: Xorshift(0x2545_f491_4f6c_dd1d),
            nodes: 0,
            told,
        }
    }

    /// Searches so many nodes at most; a plan is offered to the incumbent.
    pub(crate) fn run(
        &mut self,
        nodes: usize,
        incumbent: &mut Incumbent,
        clock: &mut Clock,
    ) -> Result<PairEnd, Stopped> {
        let mut limit = NODES_OF_FIRST_START;
        let mut jitter = 0.0;
        while self.nodes < nodes {
            let left = nodes - self.nodes;
            if let Some(end) = self.once(limit.min(left), jitter, incumbent, clock)? {
                return Ok(end);
            }
            jitter = PAIR_JITTER;
            limit *= NODES_OF_NEXT_START;
        }
        Ok(PairEnd::GivenUp)
    }

    /// Searches so many nodes; `None` where more are left.
    fn once(
        &mut self,
        limit: usize,
        jitter: f64,
        incumbent: &mut Incumbent,
        clock: &mut Clock,
    ) -> Result<Option<PairEnd>, Stopped> {
        let mut open: Vec<Waiting> = vec![(Vec::new(), None)];
        self.told.start();
        for _ in 0..limit {
            let Some((way, basis)) = open.pop() else {
                return Ok(Some(PairEnd::Exhausted));
            };
            clock.go_on()?;
            self.nodes += 1;
            match self.node(&way, basis.as_deref(), jitter, incumbent, clock)? {
                PairFate::Proven => {}
                PairFate::Found => return Ok(Some(PairEnd::Found)),
                PairFate::Stuck => return Ok(Some(PairEnd::GivenUp)),
                PairFate::Split(pair) => {
                    let basis = Rc::new(self.program.simplex.basis_now());
                    for together in [false, true] {
                        let mut child = way.clone();
                        child.push(PairDecision { pair, together });
                        let basis = (!together).then(|| basis.clone());
                        open.push((child, basis));
                    }
                }
            }
        }
        Ok(open.is_empty().then_some(PairEnd::Exhausted))
    }

    fn node(
        &mut self,
        way: &[PairDecision],
        basis: Option<&Basis>,
        jitter: f64,
        incumbent: &mut Incumbent,
        clock: &mut Clock,
    ) -> Result<PairFate, Stopped> {
        let node = PairNode::new(&mut self.blocks, self.demand, way);
        self.told.arrive(way.len());
        if !self
            .program
            .go_to(&node, basis, &self.blocks.lengths, clock)?
        {
            return Ok(PairFate::Stuck);
        }
        let may_do = self.given.boards as f64 + INTEGRAL;
        for _ in 0..NODE_ROUNDS {
            clock.go_on()?;
            let (used, cost, missing) = self.program.solution();
            if cost <= may_do && !missing {
                return Ok(self.split(&node, &used, jitter, incumbent, clock));
            }
            let (proven, added) = self.price(&node);
            if proven {
                return Ok(PairFate::Proven);
            }
            if !added {
                if !missing {
                    return Ok(self.split(&node, &used, jitter, incumbent, clock));
                }
                if !self.program.raise(DEAREST_UNCUT) {
                    return Ok(PairFate::Stuck);
                }
            }
            if !self.program.go_on(clock)? {
                return Ok(PairFate::Stuck);
            }
        }
        Ok(PairFate::Stuck)
    }

    /// Prices cuttings: whether the prices prove that so few boards do not do, and whether cuttings were added.
    fn price(&mut self, node: &PairNode) -> (bool, bool) {
        let prices = self.program.prices(node);
        let (scale, priced) = self.priced_blocks(node, &prices);
        let table = std::mem::take(&mut self.table);
        let (room, waste) = (self.given.room, self.given.waste);
        let mut pricer = PairPricer::new(&priced, room, waste, table);
        let hair = ((scale as f64 * ENTERING_GAIN) as i32).max(1);
        let found = pricer.price(scale + hair);
        self.table = pricer.into_table();
        let each = priced.iter();
        let prices: Vec<(usize, i64)> = each
            .map(|block| (block.block, i64::from(block.price)))
            .collect();
        let shown = PairPrices {
            boards: self.given.boards,
            worth: i64::from(found.most.max(scale)),
            scale: i64::from(scale),
            prices: &prices,
        };
        let proven = shown.proves_at(node, shown.scale);
        let before = self.program.columns.len();
        if proven {
            self.told.leaf(self.blocks.parts, node, &shown);
        } else {
            for (_, cutting) in &found.cuttings {
                let blocks = cutting.iter().map(|&at| priced[at].block);
                let (parts, own) = self.parts_of(node, blocks.collect());
                self.program.add(node, parts, own);
            }
        }
        (proven, self.program.columns.len() > before)
    }

    /// The blocks to be placed, longest first, with integer prices; and what a board is worth in them.
    fn priced_blocks(&self, node: &PairNode, prices: &[f64]) -> (i32, Vec<PricedBlock>) {
        let lengths = &self.blocks.lengths;
        let mut order: Vec<usize> = (0..node.wanted.len())
            .filter(|&block| node.wanted[block] > 0)
            .collect();
        order::sort_by_key(&mut order, |&block| (usize::MAX - lengths[block], block));
        let room = self.given.room;
        let steepest = order
            .iter()
            .map(|&block| prices[block] * room as f64 / lengths[block].max(1) as f64)
            .fold(1.0, f64::max);
        let scale = (PAIR_WORTH / steepest) as i32;
        let mut places = vec![usize::MAX; node.wanted.len()];
        for (at, &block) in order.iter().enumerate() {
            places[block] = at;
        }
        let priced = order.iter().map(|&block| {
            let apart = &node.apart[block];
            let fit = (room / lengths[block].max(1)) as u32;
            let alone = if apart.contains(&block) { 1 } else { u32::MAX };
            let apart = apart.iter().map(|&other| places[other]);
            PricedBlock {
                block,
                length: lengths[block],
                price: (prices[block] * f64::from(scale)) as i32,
                most: node.wanted[block].min(fit).min(alone),
                apart: apart
                    .filter(|&other| other < order.len() && other != places[block])
                    .collect(),
            }
        });
        (scale, priced.collect())
    }

    /// The parts of some blocks, and those of the blocks that have a row.
    fn parts_of(&self, node: &PairNode, blocks: Vec<usize>) -> (Vec<(usize, u32)>, Vec<usize>) {
        let (mut parts, mut own) = (Vec::new(), Vec::new());
        let mut waiting = blocks;
        while let Some(block) = waiting.pop() {
            if block < self.blocks.parts {
                parts.push((block, 1));
            } else if let Some(join) = node.joins.iter().find(|join| join.block == block) {
                if join.has_row {
                    own.push(block);
                }
                waiting.extend([join.pair.0, join.pair.1]);
            }
        }
        order::sort(&mut own);
        (added_up(parts), own)
    }

    /// Goes on from a solution: a plan where it is one, else the pair to split on.
    fn split(
        &mut self,
        node: &PairNode,
        used: &[(usize, f64)],
        jitter: f64,
        incumbent: &mut Incumbent,
        clock: &mut Clock,
    ) -> PairFate {
        if used.iter().all(|&(_, value)| is_whole(value)) {
            let plan = used.iter().map(|&(at, value)| {
                let runs = vec![self.program.columns[at].parts.clone()];
                (Pattern { board: 0, runs }, value.round() as u32)
            });
            let plan: Vec<(Pattern, u32)> = plan.collect();
            if incumbent.offer(&plan, clock) {
                return PairFate::Found;
            }
        }
        let mut best: Option<(f64, BlockPair)> = None;
        for (pair, number) in self.program.pairs(used) {
            let (one, other) = pair;
            let both = self.blocks.lengths[one] + self.blocks.lengths[other];
            let mut score = (number - number.floor() - 0.5).abs();
            score -= both as f64 / self.given.room as f64;
            if number > 1.0 - INTEGRAL {
                score += WHOLE_PAIR;
            }
            if node.wanted[one] > 1 && node.wanted[other] > 1 {
                score += FREE_PAIR;
            }
            score += jitter * self.random.unit();
            if best.is_none_or(|(least, _)| score < least) {
                best = Some((score, pair));
            }
        }
        let Some((_, pair)) = best else {
            return PairFate::Stuck;
        };
        self.told.split(self.blocks.parts, node, pair);
        PairFate::Split(pair)
    }
}

/// How many boards a plan may have to be better than the best.
pub(crate) fn boards_to_beat(problem: &Problem, objective: Objective, cutoff: i64) -> Option<i64> {
    let Objective::Cost(level) = objective else {
        return None;
    };
    let cost = *problem.boards.first()?.cost.get(level)?;
    (cost > 0).then(|| (cutoff - 1) / cost)
}
