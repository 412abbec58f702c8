//! The state of a search by branch and price: open nodes, the tree they make, and what is proven by now.
//!
//! **Invariant.** Every plan that could be better than the incumbent lies in an open node, in the node at hand, or in one that was left unsettled,
//! whose least bound is kept.

use crate::attainable::AttainableTotals;
use crate::branch_and_price::proof_tree::{ProofTree, TreePlace};
use crate::branch_path::{Decision, SetDecision};
use crate::clock::Clock;
use crate::column_generation::{ColumnGeneration, NodeRelaxation};
use crate::incumbent::Incumbent;
use crate::limits::{NO_GAP, REPORTED_QUARTERS, TREE_PLACES, WAITING_SPLITS};
use crate::master_size::MasterSize;
use crate::neighbourhood::Neighbourhoods;
use crate::objective::{Earlier, Objective};
use crate::solution::Effort;

/// A node: plain data, from which its relaxation is rebuilt.
pub(crate) struct TreeNode {
    /// The decisions, root first.
    pub(crate) path: Vec<Decision>,
    pub(crate) bound: i64,
    /// Its place in the tree.
    pub(crate) place: usize,
}

/// A search within the search, of a problem with its own incumbent, that has so much of its own for an objective.
pub(crate) type NestedSearch = fn(Objective, &mut Incumbent, &mut Effort, &mut Clock);

/// Branch and price for one objective.
pub(crate) struct BranchAndPrice<'b, 'p> {
    pub(crate) objective: Objective,
    /// The values of the earlier levels.
    pub(crate) earlier: Earlier,
    pub(crate) attainable: AttainableTotals,
    pub(crate) generation: ColumnGeneration<'p>,
    pub(crate) incumbent: &'b mut Incumbent<'p>,
    pub(crate) effort: &'b mut Effort,
    pub(crate) open: Vec<TreeNode>,
    pub(crate) tree: ProofTree,
    /// The least bound among nodes that were left unsettled for good.
    pub(crate) unsettled: i64,
    /// How many bytes searches over enumerated patterns take that are written down.
    pub(crate) written_search_bytes: usize,
    /// How many bytes searches over pairs take that are written down.
    pub(crate) written_pair_bytes: usize,
    /// Whether there is room for other programs beside this one.
    pub(crate) roomy: bool,
    /// How many decisions all nodes have that wait.
    pub(crate) waiting_splits: usize,
    /// The least bound by prices alone among leaves.
    pub(crate) shown: i64,
    pub(crate) root: Option<NodeRelaxation>,
    /// The rank of the next dive from a node below the root.
    pub(crate) rank: usize,
    /// The gap reported last.
    reported: i64,
    /// The boards of a plan to be planned anew next; none in a search that does just that.
    pub(crate) neighbourhoods: Option<Neighbourhoods>,
    /// How many nodes may be solved.
    pub(crate) nodes_left: usize,
    /// Whether plans were looked for before a search among boards of fixed numbers.
    pub(crate) looked: bool,
    /// The greatest bound at which plans of certain totals were tried before splits on free boards, and the node from which on they are tried again.
    pub(crate) targeted: i64,
    /// See `targeted`.
    pub(crate) targets_due: u64,
    /// What searches a neighbourhood.
    pub(crate) nested: NestedSearch,
}

impl<'b, 'p> BranchAndPrice<'b, 'p> {
    /// A search that has not begun.
    pub(crate) fn start(
        objective: Objective,
        incumbent: &'b mut Incumbent<'p>,
        effort: &'b mut Effort,
        nested: NestedSearch,
    ) -> Self {
        let problem = incumbent.problem;
        let level = incumbent.level_of(objective);
        let most = match objective {
            Objective::Shortfall => 0,
            _ => incumbent.value(level),
        };
        let earlier = incumbent.earlier(level);
        let supply = problem.boards.iter().map(|board| board.supply).collect();
        let demand = problem.demand.clone();
        let mut search = BranchAndPrice {
            objective,
            attainable: AttainableTotals::new(problem, objective, most),
            generation: ColumnGeneration::new(problem, objective, demand, supply, earlier.clone()),
            earlier,
            incumbent,
            effort,
            open: Vec::new(),
            tree: ProofTree::default(),
            unsettled: i64::MAX,
            written_search_bytes: 0,
            written_pair_bytes: 0,
            waiting_splits: 0,
            roomy: MasterSize::of(problem) == MasterSize::Usual,
            shown: i64::MAX,
            root: None,
            rank: 0,
            reported: NO_GAP,
            neighbourhoods: Some(Neighbourhoods::new()),
            nodes_left: usize::MAX,
            looked: false,
            targeted: -1,
            targets_due: 0,
            nested,
        };
        search.learn();
        search
    }

    /// What a plan must come to less than to be any better.
    pub(crate) fn cutoff(&self) -> i64 {
        self.incumbent.cutoff(self.objective)
    }

    /// Whether the objective is a level that is reported.
    pub(crate) fn is_level(&self) -> bool {
        matches!(self.objective, Objective::Cost(_) | Objective::UsedLength)
    }

    /// Lets the relaxation use the patterns of the best plan.
    pub(crate) fn learn(&mut self) {
        if let Some(best) = &self.incumbent.best {
            for (pattern, _) in &best.patterns {
                self.generation.master.add(pattern.clone());
            }
        }
    }

    /// The decisions on the way to a node, told by their boards.
    pub(crate) fn path_of(&self, node: &TreeNode) -> Vec<SetDecision> {
        let path = node.path.iter();
        path.map(|decision| SetDecision {
            boards: self.generation.master.boards_of(decision.set).to_vec(),
            counted: self.generation.master.counted(decision.set),
            side: decision.side,
        })
        .collect()
    }

    /// Takes the open node of the least bound, the eldest of those alike.
    pub(crate) fn next_open(&mut self) -> Option<TreeNode> {
        let best =
            (0..self.open.len()).min_by_key(|&at| (self.open[at].bound, self.open[at].place))?;
        let node = self.open.swap_remove(best);
        self.waiting_splits -= node.path.len();
        Some(node)
    }

    /// Lets a node wait.
    pub(crate) fn wait(&mut self, node: TreeNode) {
        self.waiting_splits += node.path.len();
        self.open.push(node);
    }

    /// Puts a node back that time ran out on, with what was shown of it by then.
    pub(crate) fn put_back(&mut self, mut node: TreeNode) {
        if let (Some((bound, leaf)), Some(_)) =
            (self.generation.partial.take(), self.tree.open(node.place))
            && bound > node.bound
        {
            node.bound = bound;
            self.tree.set(node.place, TreePlace::Open(leaf));
        }
        if self.tree.open(node.place).is_some() {
            self.wait(node);
        }
    }

    /// Settles a node by its prices.
    pub(crate) fn settle(&mut self, node: &TreeNode, bound: i64) {
        self.shown = self.shown.min(bound);
        self.tree.settle(node.place);
    }

    /// Settles a node if its bound reaches what a plan must come to less than; tells whether it does.
    pub(crate) fn is_settled(&mut self, node: &TreeNode, bound: i64) -> bool {
        let settled = bound >= self.cutoff();
        if settled {
            self.settle(node, bound);
        }
        settled
    }

    /// Leaves a node unsettled for good.
    pub(crate) fn give_up(&mut self, bound: i64) {
        self.shown = self.shown.min(bound);
        self.unsettled = self.unsettled.min(bound);
    }

    /// Whether so many nodes wait or are done with that no more are made, for they fill the memory.
    pub(crate) fn is_crowded(&self) -> bool {
        self.tree.len() > TREE_PLACES || self.waiting_splits > WAITING_SPLITS
    }

    /// Reports what is proven by now, where it has become much more; `next` is the node at hand.
    pub(crate) fn report(&mut self, next: Option<&TreeNode>, clock: &mut Clock) {
        if !self.is_level() {
            return;
        }
        let value = self.cutoff();
        let open = self.open.iter().chain(next).map(|node| node.bound).min();
        let bound = value.min(self.unsettled).min(open.unwrap_or(i64::MAX));
        let gap = value - bound;
        if gap <= self.reported / 4 * REPORTED_QUARTERS {
            self.reported = gap;
            let level = self.incumbent.level_of(self.objective);
            self.incumbent.bound_proven(level, bound, clock);
        }
    }

    /// How many boards of each kind a solution uses.
    pub(crate) fn boards_used(&self, relaxed: &NodeRelaxation) -> Vec<f64> {
        let mut used = vec![0.0; self.incumbent.problem.boards.len()];
        for &(at, times) in &relaxed.solution {
            used[self.generation.master.pool[at].board] += times;
        }
        used
    }

    /// How many offcuts of each kind of board a solution keeps.
    pub(crate) fn offcuts_kept(&self, relaxed: &NodeRelaxation) -> Vec<f64> {
        let problem = self.incumbent.problem;
        let mut kept = vec![0.0; problem.boards.len()];
        for &(at, times) in &relaxed.solution {
            let pattern = &self.generation.master.pool[at];
            kept[pattern.board] += times * pattern.kept(problem).len() as f64;
        }
        for &(at, times) in &relaxed.given_up {
            kept[self.generation.master.pool[at].board] -= times;
        }
        kept
    }
}
