//! Branch and bound at one stage.
//!
//! A node is a list of splits, each on how many boards of a set are used: plain data, from which its relaxation is rebuilt.
//! Splitting on sums of boards leaves pricing as it is, and every leaf keeps the prices that settle it, so that the finished
//! tree is its own certificate. The most promising node is taken first, and from it the search plunges: the likelier side of a split is
//! followed until it is settled. Where every sum of boards is whole but patterns are not, all patterns a better plan may use are listed
//! and searched ([`super::list`], [`super::closed`]); a node whose list is too long stays open, with its bound.
//! It ends because a node is settled, split on a sum that is never split again at the same number, or left open. Where nodes were left open
//! and time is left, plans are still looked for ([`last_resorts`](Branching::last_resorts)), so many times.

use super::clock::{Clock, Stopped};
use super::closed::{Closed, Ending, search};
use super::dive::{Dive, Swerve, cutoff, dive};
use super::keep::Keep;
use super::list::{Wanted, list};
use super::master;
use super::material::Material;
use super::pattern::Pattern;
use super::relax::{Ask, Cut, Relaxation, Relaxed, Side, Size, WHOLE};
use super::rework::Rework;
use super::squeeze::Squeeze;
use super::stage::{Lift, Stage};
use super::{Effort, branch};
use crate::problem::{Problem, Shape};
use proof::certificate::{self, Branch, Leaf, LevelProof, MOST_FIGURE};
use std::ops::Range;

/// Rounds of column generation that any node will do with.
pub(super) const ROUNDS: usize = 10_000;
/// A tree of more places than this grows no further.
const MOST_PLACES: usize = 400_000;
/// Nor one whose nodes that wait have more splits than this, all together.
const MOST_CUTS: usize = 1_000_000;
/// Searches over listed patterns are kept for the certificate up to so many places in all, for a plan file is read on a phone.
const KEPT_TWIGS: usize = 1_500;
/// Dives from the root.
const ROOT_DIVES: usize = 6;
/// One node in so many is dived from.
const DIVE_EVERY: u64 = 12;
/// How many patterns a closed search may have.
const LISTED: usize = 20_000;
/// How many steps listing may take.
const LIST_STEPS: usize = 4_000_000;
/// How many nodes a closed search may have where the number of every board bought is fixed, so that nothing else can settle it.
const CLOSED_NODES: usize = 20_000;
/// How many elsewhere.
const OPEN_NODES: usize = 300;
/// Dives from one node end after so many in vain.
const VAIN: usize = 2;
/// A node has no more splits above it than this, which bounds the depth of a certificate.
const DEEPEST: usize = 200;
/// A bound is told while the search goes on when the gap is down to this many quarters of what was told last.
const TOLD_QUARTERS: i64 = 3;
/// How often plans are looked for when nothing is left to split.
const RESORTS: usize = 5_000;
/// How often already before the first search among boards of fixed numbers.
const EARLY: usize = 6;
/// Choices of a dive at which a last resort swerves.
const SWERVES: usize = 12;
/// Boards planned anew at a node, in so many tries.
const REWORKS: usize = 8;

/// What came of a stage.
pub(super) struct Staged {
    /// No plan has a smaller total.
    pub(super) bound: i64,
    /// Why.
    pub(super) proof: LevelProof,
}

enum Twig {
    Open(Leaf),
    Settled(Leaf),
    Searched(Leaf),
    Closed(Leaf, Vec<certificate::Twig>),
    Split {
        boards: Vec<usize>,
        at: u32,
        fewer: usize,
        more: usize,
    },
}

struct Node {
    path: Vec<Cut>,
    bound: i64,
    twig: usize,
}

/// Branch and bound for one stage.
pub(super) struct Branching<'b, 'p> {
    stage: Stage,
    earlier: Vec<i64>,
    lift: Lift,
    relaxation: Relaxation<'p>,
    keep: &'b mut Keep<'p>,
    effort: &'b mut Effort,
    open: Vec<Node>,
    twigs: Vec<Twig>,
    /// The least bound among nodes that were left open for good.
    stuck: i64,
    kept_twigs: usize,
    /// How many places a tree may have that is kept for the certificate.
    places: usize,
    /// Whether there is room for other programs beside this one.
    roomy: bool,
    /// How many splits all nodes have that wait.
    cuts: usize,
    /// The least bound by prices alone among leaves.
    shown: i64,
    root: Option<Relaxed>,
    /// The rank of the next dive from a node below the root.
    rank: usize,
    /// The gap told last.
    told: i64,
    /// The boards of a plan to be planned anew next; none in a search that does just that.
    rework: Option<Rework>,
    /// How many nodes may be solved.
    nodes_left: usize,
    /// Whether plans were looked for before a search among boards of fixed numbers.
    looked: bool,
}

impl<'b, 'p> Branching<'b, 'p> {
    pub(super) fn new(stage: Stage, keep: &'b mut Keep<'p>, effort: &'b mut Effort) -> Self {
        let problem = keep.problem;
        let level = keep.level_of(stage);
        let earlier: Vec<i64> = keep
            .best
            .as_ref()
            .map_or(Vec::new(), |best| best.totals[..level].to_vec());
        let earlier = if stage == Stage::Missing {
            Vec::new()
        } else {
            earlier
        };
        let most = if stage == Stage::Missing {
            0
        } else {
            keep.value(level)
        };
        let lift = Lift::new(problem, stage, most);
        let supply = problem.boards.iter().map(|board| board.supply).collect();
        let mut relaxation = Relaxation::new(
            problem,
            stage,
            problem.demand.clone(),
            supply,
            earlier.clone(),
        );
        if let Some(best) = &keep.best {
            for (pattern, _) in &best.patterns {
                relaxation.add(pattern.clone());
            }
        }
        Branching {
            stage,
            earlier,
            lift,
            relaxation,
            keep,
            effort,
            open: Vec::new(),
            twigs: Vec::new(),
            stuck: i64::MAX,
            kept_twigs: 0,
            places: 0,
            cuts: 0,
            roomy: Size::of(problem) == Size::Usual,
            shown: i64::MAX,
            root: None,
            rank: 0,
            told: i64::MAX,
            rework: Some(Rework::new()),
            nodes_left: usize::MAX,
            looked: false,
        }
    }

    /// A search of so many nodes at most that plans no boards anew: one that is itself a part of another.
    pub(super) fn brief(mut self, nodes: usize) -> Self {
        self.rework = None;
        self.nodes_left = nodes;
        self
    }

    /// Runs until the stage is settled, nothing more can be done, or time is up.
    pub(super) fn run(mut self, clock: &mut Clock) -> Staged {
        let parts = self.keep.problem.demand.len();
        self.places = clock.places(parts);
        // What the material asks for holds before anything is worked out, and stands where time is up before that.
        let material = Material::of(self.keep.problem, self.stage, self.earlier.len());
        let least = self.lift.up(material.bound);
        self.twigs.push(Twig::Open(material.leaf.clone()));
        self.open.push(Node {
            path: Vec::new(),
            bound: least,
            twig: 0,
        });
        if !self.roomy && self.rework.is_some() {
            // The first program of many rows takes long.
            let level = self.keep.level_of(self.stage);
            self.keep
                .bounded(level, least.min(self.keep.value(level)), clock);
        }
        // Whether time ran out shows in the nodes left open.
        let _ = self
            .search(clock)
            .and_then(|()| self.last_resorts(EARLY..RESORTS, self.stuck, clock));
        self.effort.columns += self.relaxation.generated;
        let value = cutoff(self.keep, self.stage);
        let open = self
            .open
            .iter()
            .map(|node| node.bound)
            .min()
            .unwrap_or(i64::MAX);
        let bound = value.min(open).min(self.stuck);
        let (shown, tree) = if !self.told() {
            let root = self.root.take().filter(|root| root.bound >= least);
            let (shown, leaf) = root.map_or((least, material.leaf), |root| (root.bound, root.leaf));
            (shown, vec![Branch::Searched(leaf)])
        } else {
            (self.shown.min(open).min(self.stuck), tree(&self.twigs))
        };
        let level = self.keep.level_of(self.stage);
        let lifted = matches!(self.stage, Stage::Cost(_) | Stage::Used);
        let proof = LevelProof {
            level,
            earlier: self.earlier,
            bound,
            shown: shown.min(bound),
            lifted,
            tree,
        };
        Staged { bound, proof }
    }

    fn search(&mut self, clock: &mut Clock) -> Result<(), Stopped> {
        let mut plunge: Option<Node> = None;
        loop {
            clock.go_on()?;
            if self.stage == Stage::Missing && self.keep.best.is_some() {
                return Ok(());
            }
            let node = match plunge.take() {
                Some(node) => node,
                None => {
                    let best = (0..self.open.len())
                        .min_by_key(|&at| (self.open[at].bound, self.open[at].twig));
                    let Some(best) = best else { return Ok(()) };
                    let node = self.open.swap_remove(best);
                    self.cuts -= node.path.len();
                    node
                }
            };
            if node.bound >= cutoff(self.keep, self.stage) {
                self.settle(node.twig, node.bound);
                continue;
            }
            if self.nodes_left == 0 || self.crowded() {
                self.wait(node);
                return Ok(());
            }
            self.nodes_left -= 1;
            let solved = self.node(&node, clock);
            match solved {
                Ok(next) => {
                    self.tell(next.as_ref(), clock);
                    plunge = next;
                }
                Err(Stopped) => {
                    self.leave(node);
                    return Err(Stopped);
                }
            }
        }
    }

    /// Tells what is proven by now, where it has become much more.
    fn tell(&mut self, next: Option<&Node>, clock: &mut Clock) {
        if !matches!(self.stage, Stage::Cost(_) | Stage::Used) {
            return;
        }
        let value = cutoff(self.keep, self.stage);
        let open = self.open.iter().chain(next).map(|node| node.bound).min();
        let bound = value.min(self.stuck).min(open.unwrap_or(i64::MAX));
        let gap = value - bound;
        if gap <= self.told / 4 * TOLD_QUARTERS {
            self.told = gap;
            let level = self.keep.level_of(self.stage);
            self.keep.bounded(level, bound, clock);
        }
    }

    /// Looks for better plans where nothing is left to split but something is not proven: dives from the root that swerve from the likeliest
    /// pattern at one choice or another, and boards of the best plan planned anew, in turns. It ends because the tries are counted.
    fn last_resorts(
        &mut self,
        rounds: Range<usize>,
        bound: i64,
        clock: &mut Clock,
    ) -> Result<(), Stopped> {
        if self.rework.is_none() || !matches!(self.stage, Stage::Cost(_) | Stage::Used) {
            return Ok(());
        }
        let mut root: Option<Relaxed> = None;
        for round in rounds {
            let value = cutoff(self.keep, self.stage);
            if bound >= value {
                return Ok(());
            }
            clock.go_on()?;
            // Swerves nearest the top and of the lowest ranks come first: (0, 1), (1, 1), (0, 2), (2, 1), (1, 2) and so on.
            if round < SWERVES * SWERVES {
                let relaxed = match root.take() {
                    Some(relaxed) => relaxed,
                    None => self.relaxation.solve(
                        &Ask {
                            path: &[],
                            cutoff: i64::MAX,
                            lift: &self.lift,
                            rounds: ROUNDS,
                        },
                        clock,
                    )?,
                };
                let path = Vec::new();
                let better = self.dive(&path, &relaxed, nth_swerve(round), clock)?;
                root = (!better).then_some(relaxed);
            }
            self.rework(1, clock)?;
        }
        Ok(())
    }

    /// Plans boards of the best plan anew, in so many tries.
    fn rework(&mut self, tries: usize, clock: &mut Clock) -> Result<(), Stopped> {
        if !self.roomy {
            return Ok(());
        }
        let Some(mut rework) = self.rework.take() else {
            return Ok(());
        };
        let mut ending = Ok(());
        for _ in 0..tries {
            match rework.once(self.stage, self.keep, self.effort, clock) {
                Ok(false) => {}
                Ok(true) => self.learn(),
                Err(stopped) => {
                    ending = Err(stopped);
                    break;
                }
            }
        }
        self.rework = Some(rework);
        ending
    }

    /// Lets the relaxation use the patterns of the best plan.
    fn learn(&mut self) {
        if let Some(best) = &self.keep.best {
            for (pattern, _) in &best.patterns {
                self.relaxation.add(pattern.clone());
            }
        }
    }

    fn wait(&mut self, node: Node) {
        self.cuts += node.path.len();
        self.open.push(node);
    }

    /// Puts a node back that time ran out on, with what was shown of it by then.
    fn leave(&mut self, mut node: Node) {
        if let (Some((bound, leaf)), Twig::Open(_)) =
            (self.relaxation.partial.take(), &self.twigs[node.twig])
            && bound > node.bound
        {
            node.bound = bound;
            self.twigs[node.twig] = Twig::Open(leaf);
        }
        if matches!(self.twigs[node.twig], Twig::Open(_)) {
            self.wait(node);
        }
    }

    fn settle(&mut self, twig: usize, bound: i64) {
        self.shown = self.shown.min(bound);
        if let Twig::Open(leaf) = &self.twigs[twig] {
            self.twigs[twig] = Twig::Settled(leaf.clone());
        }
    }

    /// Solves a node; returns the child to go on with.
    fn node(&mut self, node: &Node, clock: &mut Clock) -> Result<Option<Node>, Stopped> {
        self.effort.nodes += 1;
        let value = cutoff(self.keep, self.stage);
        let ask = Ask {
            path: &node.path,
            cutoff: value,
            lift: &self.lift,
            rounds: ROUNDS,
        };
        let relaxed = self.relaxation.solve(&ask, clock)?;
        let bound = relaxed.bound.max(node.bound);
        if relaxed.bound >= node.bound && self.told() {
            self.twigs[node.twig] = Twig::Open(relaxed.leaf.clone());
        }
        let root = node.path.is_empty();
        if root {
            self.root = Some(relaxed.clone());
        }
        if bound >= value {
            self.settle(node.twig, bound);
            return Ok(None);
        }
        self.dives(node, &relaxed, clock)?;
        if bound >= cutoff(self.keep, self.stage) {
            self.settle(node.twig, bound);
            return Ok(None);
        }
        let used = self.boards_used(&relaxed);
        if relaxed.left_out > 0.1 {
            self.stuck(bound);
            return Ok(None);
        }
        if node.path.len() >= DEEPEST {
            self.stuck(bound);
            return Ok(None);
        }
        if let Some((boards, value)) = branch::choose(self.keep.problem, self.stage, &used) {
            let at = (value + WHOLE).floor() as u32;
            let more = value - value.floor() > 0.5;
            return Ok(self.split(node, bound, Split { boards, at, more }));
        }
        if self.by_patterns(node, bound, &relaxed, clock)? || bound >= cutoff(self.keep, self.stage)
        {
            return Ok(None);
        }
        if let Some((board, at, more)) =
            branch::pin(self.keep.problem, self.stage, &used, &self.path_of(node))
        {
            return Ok(self.split(
                node,
                bound,
                Split {
                    boards: vec![board],
                    at,
                    more,
                },
            ));
        }
        self.squeeze(node, bound, clock)?;
        if self.stage == Stage::Used {
            self.rework(REWORKS, clock)?;
        }
        if bound >= cutoff(self.keep, self.stage) {
            self.settle(node.twig, bound);
            return Ok(None);
        }
        // A plan that is one length better is often found sooner than a long search shows that there is none.
        if matches!(self.stage, Stage::Cost(_)) && !self.looked {
            self.looked = true;
            self.last_resorts(0..EARLY, bound, clock)?;
            if bound >= cutoff(self.keep, self.stage) {
                self.settle(node.twig, bound);
                return Ok(None);
            }
        }
        if !self.pinned(node, bound, &used, clock)? {
            self.stuck(bound);
        }
        Ok(None)
    }

    /// Splits a node; returns the child on the solution's side and leaves the other open.
    fn split(&mut self, node: &Node, bound: i64, split: Split) -> Option<Node> {
        if self.relaxation.is_full() {
            self.stuck(bound);
            return None;
        }
        let Split { boards, at, more } = split;
        let set = self.relaxation.set(&boards);
        let again = [Side::Fewer(at), Side::More(at + 1)];
        if node
            .path
            .iter()
            .any(|cut| cut.set == set && again.contains(&cut.side))
        {
            // Only rounding can ask for the same split twice, and nothing would come of it.
            self.stuck(bound);
            return None;
        }
        let child = |side: Side, twig: usize| {
            let mut path = node.path.clone();
            path.push(Cut { set, side });
            Node { path, bound, twig }
        };
        let first = self.twigs.len();
        let Twig::Open(leaf) = &self.twigs[node.twig] else {
            return None;
        };
        let leaf = leaf.clone();
        self.twigs.push(Twig::Open(leaf.clone()));
        self.twigs.push(Twig::Open(leaf));
        self.twigs[node.twig] = Twig::Split {
            boards: if self.told() { boards } else { Vec::new() },
            at,
            fewer: first,
            more: first + 1,
        };
        if first <= self.places && !self.told() {
            self.forget();
        }
        let (fewer_side, more_side) = (
            child(Side::Fewer(at), first),
            child(Side::More(at + 1), first + 1),
        );
        let (next, later) = if more {
            (more_side, fewer_side)
        } else {
            (fewer_side, more_side)
        };
        self.wait(later);
        Some(next)
    }

    /// Whether the tree is small enough to be told.
    fn told(&self) -> bool {
        self.twigs.len() <= self.places
    }

    /// Lets go of what only a certificate would tell.
    fn forget(&mut self) {
        for twig in &mut self.twigs {
            match twig {
                Twig::Open(leaf) | Twig::Settled(leaf) | Twig::Searched(leaf) => {
                    *leaf = Leaf::default()
                }
                Twig::Closed(..) => *twig = Twig::Searched(Leaf::default()),
                Twig::Split { boards, .. } => *boards = Vec::new(),
            }
        }
    }

    /// Whether so many nodes wait or are done with that no more are made, for they fill the memory.
    fn crowded(&self) -> bool {
        self.twigs.len() > MOST_PLACES || self.cuts > MOST_CUTS
    }

    fn stuck(&mut self, bound: i64) {
        self.shown = self.shown.min(bound);
        self.stuck = self.stuck.min(bound);
    }

    fn boards_used(&self, relaxed: &Relaxed) -> Vec<f64> {
        let mut used = vec![0.0; self.keep.problem.boards.len()];
        for &(at, times) in &relaxed.solution {
            used[self.relaxation.pool[at].board] += times;
        }
        used
    }

    /// Looks for better plans from a node's solution.
    fn dives(&mut self, node: &Node, relaxed: &Relaxed, clock: &mut Clock) -> Result<(), Stopped> {
        let path = self.path_of(node);
        if !node.path.is_empty() {
            if self.effort.nodes.is_multiple_of(DIVE_EVERY) {
                let swerve = Swerve {
                    choice: 0,
                    rank: self.rank,
                };
                self.rank = (self.rank + 1) % ROOT_DIVES;
                self.dive(&path, relaxed, swerve, clock)?;
            }
            return Ok(());
        }
        let mut vain = 0;
        for rank in 0..ROOT_DIVES {
            let better = self.dive(&path, relaxed, Swerve { choice: 0, rank }, clock)?;
            vain = if better { 0 } else { vain + 1 };
            let settled = relaxed.bound >= cutoff(self.keep, self.stage);
            if settled || vain == VAIN {
                break;
            }
        }
        if matches!(self.stage, Stage::Cost(_)) && relaxed.bound < cutoff(self.keep, self.stage) {
            let (stage, earlier) = (self.stage, &self.earlier);
            let plan = master::plan(self.keep.problem, stage, earlier, &self.relaxation, relaxed);
            if plan.is_some_and(|plan| self.keep.offer(&plan, clock)) {
                self.learn();
            }
        }
        Ok(())
    }

    fn dive(
        &mut self,
        path: &[(Vec<usize>, Cut)],
        relaxed: &Relaxed,
        swerve: Swerve,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let pool = &self.relaxation.pool;
        let order = self.relaxation.by_reduced_cost();
        let most = 8 * self.keep.problem.demand.len() + 50;
        let seeds: Vec<Pattern> = order
            .into_iter()
            .take(most)
            .map(|at| pool[at].clone())
            .collect();
        let solution = relaxed
            .solution
            .iter()
            .map(|&(at, times)| (pool[at].clone(), times))
            .collect();
        let plan = Dive {
            stage: self.stage,
            earlier: &self.earlier,
            lift: &self.lift,
            solution,
            seeds: &seeds,
            swerve,
            path: path.to_vec(),
        };
        let better = dive(plan, self.keep, clock)?;
        if better {
            self.learn();
        }
        Ok(better)
    }

    /// Tries plans of certain totals from the bound upward.
    fn squeeze(&mut self, node: &Node, bound: i64, clock: &mut Clock) -> Result<(), Stopped> {
        if !matches!(self.stage, Stage::Cost(_)) || !self.roomy {
            return Ok(());
        }
        let path = self.path_of(node);
        let squeeze = Squeeze {
            stage: self.stage,
            earlier: &self.earlier,
            lift: &self.lift,
            pool: &self.relaxation.pool,
            path: &path,
            bound,
        };
        squeeze.run(self.keep, clock)
    }

    fn path_of(&self, node: &Node) -> Vec<(Vec<usize>, Cut)> {
        let boards = |cut: &Cut| self.relaxation.boards_of(cut.set).to_vec();
        node.path.iter().map(|cut| (boards(cut), *cut)).collect()
    }

    /// Settles a node by searching through the patterns that a better plan may use, if they are few enough.
    fn by_patterns(
        &mut self,
        node: &Node,
        bound: i64,
        relaxed: &Relaxed,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        if relaxed.sums.charges.is_empty() || !self.roomy {
            return Ok(false);
        }
        let value = cutoff(self.keep, self.stage);
        let target = i128::from(self.lift.below(value)) * i128::from(relaxed.leaf.scale);
        let gap = i64::try_from(target - relaxed.sums.total)
            .unwrap_or(i64::MAX / 4)
            .max(0);
        self.listed(
            node,
            bound,
            Few {
                relaxed,
                gap,
                supply: None,
            },
            clock,
        )
    }

    /// Settles a node in which the number of every board bought is fixed: what it costs is settled, and whether everything
    /// fits is asked at the prices that leave the least slack.
    fn pinned(
        &mut self,
        node: &Node,
        bound: i64,
        used: &[f64],
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let Stage::Cost(level) = self.stage else {
            return Ok(false);
        };
        if !self.roomy {
            return Ok(false);
        }
        let problem = self.keep.problem;
        let supply: Vec<Option<u32>> = (0..problem.boards.len())
            .map(|board| {
                let bought = problem.boards[board].cost[..=level]
                    .iter()
                    .any(|&cost| cost > 0);
                if bought {
                    Some(used[board].round() as u32)
                } else {
                    problem.boards[board].supply
                }
            })
            .collect();
        if supply.iter().any(Option::is_none) {
            return Ok(false);
        }
        let mut stretch = Relaxation::new(
            problem,
            Stage::Stretch,
            problem.demand.clone(),
            supply.clone(),
            Vec::new(),
        );
        for pattern in &self.relaxation.pool {
            stretch.add(pattern.clone());
        }
        let lift = Lift::new(problem, Stage::Stretch, 0);
        let ask = Ask {
            path: &[],
            cutoff: i64::MAX,
            lift: &lift,
            rounds: ROUNDS,
        };
        let relaxed = stretch.solve(&ask, clock)?;
        if relaxed.left_out > WHOLE {
            return Ok(false);
        }
        // Told by a certificate these prices are of scale one, so that a plan may lose a better total besides.
        let beaten = i128::from(self.lift.below(cutoff(self.keep, self.stage)));
        let gap = |relaxed: &Relaxed| {
            let gap = i64::try_from(beaten - relaxed.sums.total);
            gap.unwrap_or(i64::MAX / 4).max(0)
        };
        let few = Few {
            relaxed: &relaxed,
            gap: gap(&relaxed),
            supply: Some(supply.clone()),
        };
        if self.listed(node, bound, few, clock)? {
            return Ok(true);
        }
        let relaxed = stretch.within(&ask, clock)?;
        let few = Few {
            relaxed: &relaxed,
            gap: gap(&relaxed),
            supply: Some(supply),
        };
        self.listed(node, bound, few, clock)
    }

    /// Lists patterns and searches through them; false when that was too much.
    fn listed(
        &mut self,
        node: &Node,
        bound: i64,
        few: Few,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let problem = self.keep.problem;
        let pinned = few
            .supply
            .as_ref()
            .map(|supply| Pinned::new(node, supply, problem, &self.relaxation));
        let wanted = Wanted {
            problem,
            lays: self.relaxation.lays(),
            prices: &few.relaxed.leaf.parts,
            sums: &few.relaxed.sums,
            gap: few.gap,
            demand: &problem.demand,
            tick_cost: if self.stage == Stage::Used {
                few.relaxed.leaf.scale
            } else {
                0
            },
            limit: LISTED,
            steps: LIST_STEPS,
        };
        let Some(patterns) = list(&wanted, clock)? else {
            return Ok(false);
        };
        let mut closed = Closed {
            stage: self.stage,
            earlier: &self.earlier,
            lift: &self.lift,
            patterns,
            demand: &problem.demand,
            supply: few
                .supply
                .unwrap_or_else(|| problem.boards.iter().map(|board| board.supply).collect()),
            path: self.path_of(node),
            certified: true,
            nodes: OPEN_NODES,
        };
        let mut searched = search(&closed, self.keep, clock)?;
        self.effort.nodes += searched.nodes as u64;
        // Where nothing else can settle the node it is searched again by pairs, which goes much further but is not written down.
        if searched.ending == Ending::GivenUp && pinned.is_some() && self.rework.is_some() {
            (closed.certified, closed.nodes) = (false, CLOSED_NODES);
            searched = search(&closed, self.keep, clock)?;
            self.effort.nodes += searched.nodes as u64;
        }
        if searched.ending == Ending::GivenUp {
            return Ok(false);
        }
        if let Twig::Open(own) = &self.twigs[node.twig] {
            let own = own.clone();
            let all = self.kept_twigs + searched.twigs.len();
            let told = match pinned {
                // The prices that the list follows from, not the better ones that a node may have from the node above.
                None => Some((few.relaxed.leaf.clone(), searched.twigs)),
                Some(pinned) => pinned.and_then(|pinned| {
                    let leaf =
                        pinned.leaf(few.relaxed, few.gap, &problem.demand, self.earlier.len())?;
                    let twigs = searched.twigs.into_iter().map(|twig| pinned.twig(twig));
                    Some((leaf, twigs.collect::<Option<_>>()?))
                }),
            };
            self.twigs[node.twig] = match told {
                Some((leaf, twigs)) if closed.certified && all <= KEPT_TWIGS.min(self.places) => {
                    self.kept_twigs = all;
                    Twig::Closed(leaf, twigs)
                }
                _ => {
                    self.shown = self.shown.min(bound);
                    Twig::Searched(own)
                }
            };
        }
        Ok(true)
    }
}

/// The splits on the way that pin the number of each board bought, for telling a search among so many boards as a certificate does: in
/// place of a supply, the split is charged.
struct Pinned {
    /// (board, place of its split on the way).
    splits: Vec<(usize, usize)>,
}

impl Pinned {
    /// `None` where some board is limited by neither a split nor its own supply.
    fn new(
        node: &Node,
        supply: &[Option<u32>],
        problem: &Problem,
        relaxation: &Relaxation,
    ) -> Option<Pinned> {
        let limited = |board: usize, most: u32| {
            node.path.iter().position(|cut| {
                cut.side == Side::Fewer(most) && relaxation.boards_of(cut.set) == [board]
            })
        };
        let mut splits = Vec::new();
        for (board, most) in supply.iter().enumerate() {
            if *most != problem.boards[board].supply {
                splits.push((board, limited(board, (*most)?)?));
            }
        }
        Some(Pinned { splits })
    }

    /// The prices of the whole search: each board is charged what it can be worth. One of which there is none left is worth nothing known
    /// and is charged more than all parts are worth together and a better plan may lose, which keeps it off the list as well. `None`
    /// where a charge is greater than a certificate may hold.
    fn leaf(&self, relaxed: &Relaxed, gap: i64, demand: &[u32], earlier: usize) -> Option<Leaf> {
        let parts = relaxed.leaf.parts.iter().zip(demand);
        let all: i128 = parts
            .map(|(&price, &count)| i128::from(price) * i128::from(count))
            .sum();
        let beyond = all + i128::from(gap) + 1;
        let charge = |&(board, split): &(usize, usize)| {
            let charge = i128::from(relaxed.sums.charges[board].max(0)).min(beyond);
            Some((
                split,
                i64::try_from(charge)
                    .ok()
                    .filter(|charge| *charge <= MOST_FIGURE)?,
            ))
        };
        let mut splits: Vec<(usize, i64)> =
            self.splits.iter().map(charge).collect::<Option<_>>()?;
        splits.sort_unstable();
        Some(Leaf {
            scale: 1,
            parts: relaxed.leaf.parts.clone(),
            earlier: vec![0; earlier],
            splits,
        })
    }

    /// A place of the search, with what pinned boards are charged for their number told as the price of their split. `None` where one is
    /// greater than a certificate may hold.
    fn twig(&self, twig: certificate::Twig) -> Option<certificate::Twig> {
        let certificate::Twig::Leaf(mut leaf) = twig else {
            return Some(twig);
        };
        for &(board, split) in &self.splits {
            let charge = std::mem::take(&mut leaf.boards[board]);
            match leaf.splits.binary_search_by_key(&split, |entry| entry.0) {
                Ok(at) => leaf.splits[at].1 += charge,
                Err(at) => leaf.splits.insert(at, (split, charge)),
            }
        }
        let held = leaf.splits.iter().all(|(_, price)| *price <= MOST_FIGURE);
        held.then_some(certificate::Twig::Leaf(leaf))
    }
}

/// A split to be made.
struct Split {
    boards: Vec<usize>,
    at: u32,
    /// Whether the solution is on the side of more.
    more: bool,
}

/// The prices at which few patterns can be in a plan.
struct Few<'f> {
    relaxed: &'f Relaxed,
    /// By how much in all the patterns of a plan may be worth less than their boards are charged.
    gap: i64,
    /// The boards there are; none where it is the problem's supply.
    supply: Option<Vec<Option<u32>>>,
}

/// The `round`-th way to swerve: (choice, rank) along the diagonals.
fn nth_swerve(round: usize) -> Swerve {
    let (mut diagonal, mut at) = (1, round);
    while at >= diagonal {
        at -= diagonal;
        diagonal += 1;
    }
    Swerve {
        choice: diagonal - 1 - at,
        rank: at + 1,
    }
}

/// The tree below the first place, in the order of a certificate.
fn tree(twigs: &[Twig]) -> Vec<Branch> {
    let mut places = Vec::with_capacity(twigs.len());
    let mut waiting = vec![0];
    while let Some(at) = waiting.pop() {
        places.push(match &twigs[at] {
            Twig::Open(leaf) | Twig::Settled(leaf) => Branch::Leaf(leaf.clone()),
            Twig::Searched(leaf) => Branch::Searched(leaf.clone()),
            Twig::Closed(leaf, search) => Branch::Closed {
                leaf: leaf.clone(),
                search: search.clone(),
            },
            Twig::Split {
                boards,
                at,
                fewer,
                more,
            } => {
                waiting.extend([*more, *fewer]);
                Branch::Split {
                    boards: boards.clone(),
                    at: *at,
                }
            }
        });
    }
    places
}

/// The clear length of the longest run of a board; splits prefer sets of long boards.
pub(super) fn longest_run(shape: &Shape) -> i64 {
    match shape {
        Shape::Runs(runs) => runs.iter().map(|run| run.length).max().unwrap_or(0),
        &Shape::OneCut { together, .. } => together,
    }
}
