//! Branch and price for one objective.
//!
//! **Idea** (branch and bound with column generation at each node: Vance 1998, Vanderbeck 1999, Belov and Scheithauer 2006). A node is a list of
//! decisions, each on how many boards of a set are used or how many offcuts of them are kept. Deciding on sums of boards leaves pricing as it is, and every leaf keeps the prices that
//! settle it, so that the finished tree is its own certificate. The most promising node is taken first, and from it the search plunges: the likelier
//! side of a split is followed until it is settled. Where every sum of boards is integral but patterns are not, all patterns a better plan may use
//! are enumerated and searched. Where that list is too long and there is one kind of board, the search goes on over pairs of parts
//! ([`crate::pair_search`]); other such nodes stay open, with their bounds.
//!
//! **Invariant.** That of [`crate::branch_and_price::state`]. **Why it ends:** a node is settled, split on a sum that is never split again at the
//! same number, or left unsettled. Where nodes were left unsettled and time is left, plans are still looked for, so many times.

mod by_enumeration;
mod fixed_numbers;
mod plans;
mod proof_tree;
mod state;

use crate::branch_and_price::proof_tree::{ProofTree, TreePlace};
use crate::branch_and_price::state::TreeNode;
use crate::branch_path::{BranchSide, Decision};
use crate::branching::{self, Split};
use crate::clock::{Clock, Stopped};
use crate::column_generation::NodeTask;
use crate::incumbent::Incumbent;
use crate::limits::{
    EARLY_TRIES, FIRST_PAIR_NODES, INTEGRAL, LAST_TRIES, MOST_PAIR_NODES, NEIGHBOURHOOD_NODES,
    NODE_DEPTH, NODE_NEIGHBOURHOODS, NODE_ROUNDS, NODE_SHORTFALL,
};
use crate::material_bound::MaterialBound;
use crate::objective::Objective;
use crate::solution::Effort;
use proof::certificate::{Branch, LevelProof};

pub(crate) use crate::branch_and_price::state::BranchAndPrice;

/// Searches a neighbourhood: so many nodes at most, and no neighbourhoods of its own.
fn nested(objective: Objective, incumbent: &mut Incumbent, effort: &mut Effort, clock: &mut Clock) {
    let mut search = BranchAndPrice::new(objective, incumbent, effort);
    search.neighbourhoods = None;
    search.nodes_left = NEIGHBOURHOOD_NODES;
    search.run(clock);
}

impl<'b, 'p> BranchAndPrice<'b, 'p> {
    /// A search that begins from the incumbent.
    pub(crate) fn new(
        objective: Objective,
        incumbent: &'b mut Incumbent<'p>,
        effort: &'b mut Effort,
    ) -> Self {
        BranchAndPrice::start(objective, incumbent, effort, nested)
    }

    /// Runs until the objective is settled, nothing more can be done, or time is up; returns what is proven.
    pub(crate) fn run(mut self, clock: &mut Clock) -> LevelProof {
        let problem = self.incumbent.problem;
        // What the material asks for holds before anything is worked out, and stands where time is up before that.
        let material = MaterialBound::of(problem, self.objective, self.earlier.len());
        let least = self.attainable.round_up(material.bound);
        let limited = problem.boards.iter().any(|board| board.supply.is_some());
        if limited && self.earlier.is_empty() {
            let prices = self
                .generation
                .master
                .prices_of(&material.leaf, &material.excess);
            self.generation.first_prices = Some(prices);
        }
        self.tree = ProofTree::new(material.leaf.clone(), clock.places(problem.demand.len()));
        self.open.push(TreeNode {
            path: Vec::new(),
            bound: least,
            place: 0,
        });
        let level = self.incumbent.level_of(self.objective);
        if !self.roomy && self.neighbourhoods.is_some() {
            // The first program of many rows takes long.
            let bound = least.min(self.incumbent.value(level));
            self.incumbent.bound_proven(level, bound, clock);
        }
        // Whether time ran out shows in the nodes left open.
        let _ = self
            .search(clock)
            .and_then(|()| self.last_tries(EARLY_TRIES..LAST_TRIES, self.unsettled, clock));
        self.effort.columns += self.generation.generated;
        let open = self.open.iter().map(|node| node.bound).min();
        let open = open.unwrap_or(i64::MAX);
        let bound = self.cutoff().min(open).min(self.unsettled);
        let (shown, tree) = if self.tree.is_written() {
            let shown = self.shown.min(open).min(self.unsettled);
            (shown, self.tree.written())
        } else {
            let root = self.root.take().filter(|root| root.bound >= least);
            let (shown, leaf) = root.map_or((least, material.leaf), |root| (root.bound, root.leaf));
            (shown, vec![Branch::Searched(leaf)])
        };
        LevelProof {
            level,
            bound,
            shown: shown.min(bound),
            lifted: self.is_level(),
            earlier: self.earlier.iter().map(|level| level.1).collect(),
            tree,
        }
    }

    fn search(&mut self, clock: &mut Clock) -> Result<(), Stopped> {
        let mut plunge: Option<TreeNode> = None;
        loop {
            clock.go_on()?;
            if self.objective == Objective::Shortfall && self.incumbent.best.is_some() {
                return Ok(());
            }
            let Some(node) = plunge.take().or_else(|| self.next_open()) else {
                return Ok(());
            };
            if self.is_settled(&node, node.bound) {
                continue;
            }
            if self.nodes_left == 0 || self.is_crowded() {
                self.wait(node);
                return Ok(());
            }
            self.nodes_left -= 1;
            match self.node(&node, clock) {
                Ok(next) => {
                    self.report(next.as_ref(), clock);
                    plunge = next;
                }
                Err(Stopped) => {
                    self.put_back(node);
                    return Err(Stopped);
                }
            }
        }
    }

    /// Solves a node; returns the child to go on with.
    fn node(&mut self, node: &TreeNode, clock: &mut Clock) -> Result<Option<TreeNode>, Stopped> {
        self.effort.nodes += 1;
        let task = NodeTask {
            path: &node.path,
            cutoff: self.incumbent.cutoff(self.objective),
            attainable: &self.attainable,
            rounds: NODE_ROUNDS,
        };
        let relaxed = self.generation.solve(&task, clock)?;
        let bound = relaxed.bound.max(node.bound);
        if relaxed.bound >= node.bound && self.tree.is_written() {
            self.tree
                .set(node.place, TreePlace::Open(relaxed.leaf.clone()));
        }
        if node.path.is_empty() {
            self.root = Some(relaxed.clone());
        }
        if self.is_settled(node, bound) || self.by_earlier_pairs(node, bound) {
            return Ok(None);
        }
        self.plans_of_node(node, &relaxed, clock)?;
        if self.is_settled(node, bound) {
            return Ok(None);
        }
        if relaxed.uncut > NODE_SHORTFALL || node.path.len() >= NODE_DEPTH {
            self.give_up(bound);
            return Ok(None);
        }
        let used = self.boards_used(&relaxed);
        let problem = self.incumbent.problem;
        let kept = || self.offcuts_kept(&relaxed);
        if let Some((boards, counted, value)) =
            branching::choose(problem, self.objective, &used, kept)
        {
            self.plans_before_free_boards(node, bound, &boards, clock)?;
            if self.is_settled(node, bound) {
                return Ok(None);
            }
            let at = (value + INTEGRAL).floor() as u32;
            let more = value - value.floor() > 0.5;
            let split = Split {
                boards,
                counted,
                at,
                more,
            };
            return Ok(self.split(node, bound, split));
        }
        let path = self.path_of(node);
        let unfixed = branching::unfixed_number(problem, self.objective, (&used, kept), &path);
        let is_last = unfixed.is_none();
        // Where a split has fixed a number and raised no bound, the list is that of the node above.
        let tried = bound == node.bound && !node.path.is_empty();
        let lists = is_last || !tried || self.objective != Objective::UsedLength;
        if lists && self.by_patterns(node, bound, (&relaxed, is_last), clock)?
            || bound >= self.cutoff()
        {
            return Ok(None);
        }
        if let Some(split) = unfixed {
            return Ok(self.split(node, bound, split));
        }
        self.without_split(node, bound, &used, clock)?;
        Ok(None)
    }

    /// Settles a node that has nothing left to split on, or leaves it unsettled: plans are looked for, then it is searched by enumeration.
    fn without_split(
        &mut self,
        node: &TreeNode,
        bound: i64,
        used: &[f64],
        clock: &mut Clock,
    ) -> Result<(), Stopped> {
        if self.by_pairs(node, bound, FIRST_PAIR_NODES, clock)? {
            return Ok(());
        }
        self.plans_of_targets(node, bound, clock)?;
        if self.objective == Objective::UsedLength {
            self.plans_of_neighbourhoods(NODE_NEIGHBOURHOODS, clock)?;
        }
        if self.is_settled(node, bound) {
            return Ok(());
        }
        // A plan that is one length better is often found sooner than a long search shows that there is none.
        if matches!(self.objective, Objective::Cost(_)) && !self.looked {
            self.looked = true;
            self.last_tries(0..EARLY_TRIES, bound, clock)?;
            if self.is_settled(node, bound) {
                return Ok(());
            }
        }
        if !self.by_fixed_numbers(node, bound, used, clock)?
            && !self.by_pairs(node, bound, MOST_PAIR_NODES, clock)?
        {
            self.give_up(bound);
        }
        Ok(())
    }

    /// Splits a node; returns the child on the solution's side and leaves the other open.
    fn split(&mut self, node: &TreeNode, bound: i64, split: Split) -> Option<TreeNode> {
        if self.generation.master.is_full() {
            self.give_up(bound);
            return None;
        }
        let Split {
            boards,
            counted,
            at,
            more,
        } = split;
        let set = self.generation.master.set(&boards, counted);
        let sides = [BranchSide::AtMost(at), BranchSide::AtLeast(at + 1)];
        let again = |decision: &Decision| decision.set == set && sides.contains(&decision.side);
        if node.path.iter().any(again) {
            // Only rounding can ask for the same split twice, and nothing would come of it.
            self.give_up(bound);
            return None;
        }
        let first = self.tree.split(node.place, (boards, counted), at)?;
        let child = |side: BranchSide, place: usize| {
            let mut path = node.path.clone();
            path.push(Decision { set, side });
            TreeNode { path, bound, place }
        };
        let [at_most, at_least] = sides;
        let (at_most, at_least) = (child(at_most, first), child(at_least, first + 1));
        let (next, later) = if more {
            (at_least, at_most)
        } else {
            (at_most, at_least)
        };
        self.wait(later);
        Some(next)
    }
}
