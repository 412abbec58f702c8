//! Nodes settled by enumeration: all patterns that a better plan may use are listed and searched.
//!
//! **Idea.** Where the number of boards is integral but patterns are not, no decision on boards cuts the solution off. The patterns within the gap
//! are enumerated ([`crate::enumeration`]) and searched ([`crate::pattern_search`]). Where the number of every board bought is fixed by decisions,
//! what it costs is settled, and whether everything fits is asked at the prices that leave the least slack: how far the boards would have to be
//! stretched.
//!
//! **Invariant.** A node is settled only if the search was exhausted over every pattern within the gap. **Why it ends:** list and search are limited.

use crate::attainable::AttainableTotals;
use crate::branch_and_price::fixed_numbers::FixedNumbers;
use crate::branch_and_price::proof_tree::TreePlace;
use crate::branch_and_price::state::{BranchAndPrice, TreeNode};
use crate::branch_path::Counted;
use crate::clock::{Clock, Stopped};
use crate::column_generation::{ColumnGeneration, NodeRelaxation, NodeTask};
use crate::enumeration::{EnumerationTask, enumerate};
use crate::interior_duals::interior;
use crate::limits::{
    ENUMERATED_PATTERNS, ENUMERATION_STEPS, INTEGRAL, NODE_ROUNDS, PAIR_NODES, PATTERN_NODES,
    WRITTEN_SEARCH_BYTES,
};
use crate::objective::{Objective, counts_used, tick_cost};
use crate::pair_search::told::ToldPairs;
use crate::pair_search::{PairEnd, PairProblem, PairSearch, boards_to_beat};
use crate::pattern::Pattern;
use crate::pattern_search::{EnumeratedProblem, SearchEnd, search};
use proof::certificate::{Leaf, MOST_PAIR_BYTES, Pairing, Twig};

/// The prices at which few patterns can be in a better plan.
struct PricesWithinGap<'f> {
    relaxed: &'f NodeRelaxation,
    /// By how much in all the patterns of a plan may be worth less than their boards are charged.
    gap: i64,
    /// Whether nothing else can settle the node.
    is_last: bool,
    /// The boards there are, where their numbers are fixed; none where it is the problem's supply.
    supply: Option<&'f [Option<u32>]>,
}

impl BranchAndPrice<'_, '_> {
    /// Settles a node by searching through the patterns that a better plan may use, if they are few enough.
    pub(crate) fn by_patterns(
        &mut self,
        node: &TreeNode,
        bound: i64,
        (relaxed, is_last): (&NodeRelaxation, bool),
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        if relaxed.fixing.charges.is_empty() || !self.roomy {
            return Ok(false);
        }
        let gap = self.gap(relaxed, relaxed.leaf.scale);
        let prices = PricesWithinGap {
            relaxed,
            gap,
            supply: None,
            is_last: is_last && self.objective == Objective::UsedLength,
        };
        self.by_enumeration(node, bound, prices, clock)
    }

    /// Settles a node by a search over pairs of parts of so many nodes, where there is one kind of board.
    pub(crate) fn by_pairs(
        &mut self,
        node: &TreeNode,
        bound: i64,
        nodes: usize,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let (problem, cutoff) = (self.incumbent.problem, self.cutoff());
        if !self.earlier.is_empty() || !self.roomy || self.neighbourhoods.is_none() {
            return Ok(false);
        }
        let Some(boards) = boards_to_beat(problem, self.objective, cutoff) else {
            return Ok(false);
        };
        let Some(given) = PairProblem::of(problem, boards) else {
            return Ok(false);
        };
        let written = self.tree.is_written();
        let room = if written {
            MOST_PAIR_BYTES - self.written_pair_bytes
        } else {
            0
        };
        let told = ToldPairs::new(clock.prices(problem.demand.len()), room);
        let mut search = PairSearch::new(given, problem, &self.generation.master.pool, told);
        let end = search.run(nodes, self.incumbent, clock);
        self.effort.nodes += search.nodes as u64;
        match end? {
            PairEnd::Exhausted => {
                let told = search.told.finish();
                self.written_pair_bytes += told.as_ref().map_or(0, |told| told.1);
                let told = told.map(|(search, _)| search);
                self.incumbent.too_few = Some((boards, told.clone()));
                self.close_by_pairs(node, bound, told);
            }
            PairEnd::Found => {
                self.learn();
                return Ok(self.is_settled(node, bound));
            }
            PairEnd::GivenUp => return Ok(false),
        }
        Ok(true)
    }

    /// Settles a node where a search over pairs showed at an earlier level that so few boards do not do.
    pub(crate) fn by_earlier_pairs(&mut self, node: &TreeNode, bound: i64) -> bool {
        let boards = boards_to_beat(self.incumbent.problem, self.objective, self.cutoff());
        let told = match (&self.incumbent.too_few, boards) {
            (Some((too_few, told)), Some(boards)) if boards <= *too_few => told.clone(),
            _ => return false,
        };
        self.close_by_pairs(node, bound, told);
        true
    }

    fn close_by_pairs(&mut self, node: &TreeNode, bound: i64, told: Option<Vec<Pairing>>) {
        let own = self.tree.open(node.place).cloned();
        let own = own.filter(|_| self.tree.is_written());
        let told = own.zip(told);
        let told = told.map(|(own, search)| TreePlace::Paired(own, search));
        self.close(node, bound, told);
    }

    /// By how much a better plan may pass what prices show, in their units.
    fn gap(&self, relaxed: &NodeRelaxation, scale: i64) -> i64 {
        let target = self.attainable.largest_below(self.cutoff());
        let target = i128::from(target) * i128::from(scale);
        let gap = i64::try_from(target - relaxed.fixing.total);
        gap.unwrap_or(i64::MAX / 4).max(0)
    }

    /// Settles a node in which the number of every board bought is fixed, if that can be done.
    pub(crate) fn by_fixed_numbers(
        &mut self,
        node: &TreeNode,
        bound: i64,
        used: &[f64],
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let Some(supply) = self.fixed_supply(used) else {
            return Ok(false);
        };
        let problem = self.incumbent.problem;
        let (objective, demand) = (Objective::Stretch, problem.demand.clone());
        let mut stretch =
            ColumnGeneration::new(problem, objective, demand, supply.clone(), Vec::new());
        for pattern in &self.generation.master.pool {
            stretch.master.add(pattern.clone());
        }
        let task = NodeTask {
            path: &[],
            cutoff: i64::MAX,
            attainable: &AttainableTotals::new(problem, objective, 0),
            rounds: NODE_ROUNDS,
        };
        let relaxed = stretch.solve(&task, clock)?;
        if relaxed.uncut > INTEGRAL {
            return Ok(false);
        }
        if self.at_stretch_prices(node, bound, (&relaxed, &supply), clock)? {
            return Ok(true);
        }
        let relaxed = interior(&mut stretch, &task, clock)?;
        self.at_stretch_prices(node, bound, (&relaxed, &supply), clock)
    }

    /// Settles such a node at given prices of the stretch. Told by a certificate these are of scale one, so that a plan may lose a better total
    /// besides.
    fn at_stretch_prices(
        &mut self,
        node: &TreeNode,
        bound: i64,
        (relaxed, supply): (&NodeRelaxation, &[Option<u32>]),
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let prices = PricesWithinGap {
            relaxed,
            gap: self.gap(relaxed, 1),
            supply: Some(supply),
            is_last: true,
        };
        self.by_enumeration(node, bound, prices, clock)
    }

    /// The supply with the number of every board bought as it is used; `None` where some board is of unlimited supply still.
    fn fixed_supply(&self, used: &[f64]) -> Option<Vec<Option<u32>>> {
        let Objective::Cost(level) = self.objective else {
            return None;
        };
        if !self.roomy {
            return None;
        }
        let boards = self.incumbent.problem.boards.iter().zip(used);
        let supply: Vec<Option<u32>> = boards
            .map(|(board, used)| {
                if board.cost[..=level].iter().any(|&cost| cost > 0) {
                    Some(used.round() as u32)
                } else {
                    board.supply
                }
            })
            .collect();
        supply.iter().all(Option::is_some).then_some(supply)
    }

    /// Lists patterns and searches through them; false when that was too much.
    fn by_enumeration(
        &mut self,
        node: &TreeNode,
        bound: i64,
        prices: PricesWithinGap,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let problem = self.incumbent.problem;
        let fixed_numbers = prices
            .supply
            .map(|supply| FixedNumbers::new(node, supply, problem, &self.generation.master));
        let path = self.path_of(node);
        let mut counted = path.iter().map(|decision| decision.counted);
        let counts_offcuts = counted.any(|counted| counted == Counted::Kept);
        let Some(patterns) = self.within_gap(&prices, counts_offcuts, clock)? else {
            return Ok(false);
        };

        let boards = problem.boards.iter();
        let mut given = EnumeratedProblem {
            objective: self.objective,
            earlier: &self.earlier,
            attainable: &self.attainable,
            patterns,
            demand: &problem.demand,
            supply: match prices.supply {
                Some(supply) => supply.to_vec(),
                None => boards.map(|board| board.supply).collect(),
            },
            path,
            counts_offcuts,
            by_pairs: self.objective == Objective::UsedLength,
            nodes: PATTERN_NODES,
            room: self.room_of_searches(),
            parts_told: clock.prices(problem.demand.len()),
        };
        let mut searched = search(&given, self.incumbent, clock)?;
        self.effort.nodes += searched.nodes as u64;
        // Where nothing else can settle the node it is searched again by pairs, which goes much further.
        if searched.ending == SearchEnd::GivenUp && prices.is_last && self.neighbourhoods.is_some()
        {
            (given.by_pairs, given.nodes) = (true, PAIR_NODES);
            searched = search(&given, self.incumbent, clock)?;
            self.effort.nodes += searched.nodes as u64;
        }
        if searched.ending == SearchEnd::GivenUp {
            return Ok(false);
        }
        let told = searched
            .told
            .filter(|_| self.tree.open(node.place).is_some());
        let told = told.and_then(|(twigs, bytes)| {
            let (earlier, demand) = (self.earlier.len(), &problem.demand);
            let (leaf, twigs) = in_certificate(&prices, fixed_numbers, twigs, earlier, demand)?;
            self.written_search_bytes += bytes;
            Some(TreePlace::Closed(leaf, twigs))
        });
        self.close(node, bound, told);
        Ok(true)
    }

    /// Closes a node whose search was exhausted: with the search, where that is told.
    fn close(&mut self, node: &TreeNode, bound: i64, told: Option<TreePlace>) {
        let Some(own) = self.tree.open(node.place).cloned() else {
            return;
        };
        let place = told.unwrap_or_else(|| {
            self.shown = self.shown.min(bound);
            TreePlace::Searched(own)
        });
        self.tree.set(node.place, place);
    }

    /// The bytes that are left for searches over patterns.
    fn room_of_searches(&self) -> usize {
        match self.tree.is_written() && self.neighbourhoods.is_some() {
            true => WRITTEN_SEARCH_BYTES.saturating_sub(self.written_search_bytes),
            false => 0,
        }
    }

    /// All patterns within the gap; `None` where they are too many.
    fn within_gap(
        &self,
        prices: &PricesWithinGap,
        counts_offcuts: bool,
        clock: &mut Clock,
    ) -> Result<Option<Vec<Pattern>>, Stopped> {
        let leaf = &prices.relaxed.leaf;
        let task = EnumerationTask {
            problem: self.incumbent.problem,
            run_states: self.generation.run_states(),
            prices: &leaf.parts,
            fixing: &prices.relaxed.fixing,
            gap: prices.gap,
            demand: &self.incumbent.problem.demand,
            counts_used: counts_used(self.objective, &self.earlier),
            tick_cost: tick_cost(self.objective, leaf.scale, &self.earlier, &leaf.earlier),
            counts_offcuts,
            limit: ENUMERATED_PATTERNS,
            steps: ENUMERATION_STEPS,
        };
        enumerate(&task, clock)
    }
}

/// A search as a certificate tells it: the prices that the list follows from, not the better ones that a node may have from the node above, and
/// the places of the search. `None` where it cannot be told.
fn in_certificate(
    prices: &PricesWithinGap,
    fixed_numbers: Option<Option<FixedNumbers>>,
    twigs: Vec<Twig>,
    earlier: usize,
    demand: &[u32],
) -> Option<(Leaf, Vec<Twig>)> {
    let Some(fixed_numbers) = fixed_numbers else {
        return Some((prices.relaxed.leaf.clone(), twigs));
    };
    let fixed_numbers = fixed_numbers?;
    let leaf = fixed_numbers.leaf(prices.relaxed, prices.gap, demand, earlier)?;
    let twigs = twigs.into_iter().map(|twig| fixed_numbers.twig(twig));
    Some((leaf, twigs.collect::<Option<_>>()?))
}
