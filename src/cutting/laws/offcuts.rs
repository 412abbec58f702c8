//! Splits on how many offcuts are kept: pricing, bounds, lists and the whole search, against every plan there is.

use crate::aims::{Aims, ScrapAim};
use crate::attainable::AttainableTotals;
use crate::branch_and_price::BranchAndPrice;
use crate::branch_path::{BranchSide, Counted, Decision};
use crate::clock::Clock;
use crate::column_generation::{ColumnGeneration, NodeTask};
use crate::dual_bound::{DualBound, ReducedCostBound};
use crate::enumeration::{EnumerationTask, enumerate};
use crate::greedy::{GreedyRule, greedy};
use crate::incumbent::{Incumbent, NoListener};
use crate::laws::exhaustive::{cuttings, least};
use crate::laws::made_up::{Forever, Random, of_all_sorts};
use crate::limits::NODE_ROUNDS;
use crate::objective::Objective;
use crate::pattern::Pattern;
use crate::pricing::{Pricer, PricingProblem};
use crate::problem::{Problem, Shape, Ticks};
use crate::run_states::RunStates;
use crate::solution::Effort;
use proof::certificate::Branch;
use std::collections::{BTreeMap, HashMap};

/// The offcuts that a cutting keeps of a board of runs, told by what each run holds.
fn kept(problem: &Problem, pattern: &Pattern) -> Vec<Ticks> {
    let board = &problem.boards[pattern.board];
    let section = &problem.sections[board.section];
    let Shape::Runs(runs) = &board.shape else {
        return Vec::new();
    };
    let offcuts = runs.iter().zip(&pattern.runs).map(|(run, parts)| {
        let need = section.lay(parts).expect("it fits");
        let free = run.length - need.length - need.last_cut;
        if free > 0 { free + run.tail } else { 0 }
    });
    let long = |offcut: &Ticks| *offcut > 0 && *offcut >= section.keep;
    offcuts.filter(long).collect()
}

/// The boards of which offcuts are counted.
fn counted(problem: &Problem) -> Vec<usize> {
    let boards = 0..problem.boards.len();
    let runs = |&board: &usize| matches!(problem.boards[board].shape, Shape::Runs(_));
    boards.filter(runs).collect()
}

/// For each number of offcuts of these boards that a plan can keep, the least that is used up.
fn least_by_kept(problem: &Problem, boards: &[usize]) -> BTreeMap<usize, Ticks> {
    let mut choices = Vec::new();
    for board in 0..problem.boards.len() {
        for pattern in cuttings(problem, board) {
            let counts = pattern.counts();
            let within = counts
                .iter()
                .all(|&(part, count)| count <= problem.demand[part]);
            if within && !counts.is_empty() {
                let held = boards.contains(&board);
                let keeps = if held {
                    kept(problem, &pattern).len()
                } else {
                    0
                };
                choices.push((board, counts, keeps, pattern.used(problem)));
            }
        }
    }
    let supply = problem.boards.iter().map(|board| board.supply).collect();
    let left = problem.demand.clone();
    rest(&choices, left, supply, &mut HashMap::new())
}

type Choice = (usize, Vec<(usize, u32)>, usize, Ticks);
/// A board, the parts cut from it and how many offcuts are kept.
type Told = (usize, Vec<(usize, u32)>, usize);
type Left = (Vec<u32>, Vec<Option<u32>>);

fn rest(
    choices: &[Choice],
    left: Vec<u32>,
    supply: Vec<Option<u32>>,
    known: &mut HashMap<Left, BTreeMap<usize, Ticks>>,
) -> BTreeMap<usize, Ticks> {
    let Some(first) = left.iter().position(|&count| count > 0) else {
        return BTreeMap::from([(0, 0)]);
    };
    if let Some(known) = known.get(&(left.clone(), supply.clone())) {
        return known.clone();
    }
    let mut best = BTreeMap::new();
    for (board, counts, keeps, used) in choices {
        let holds = counts.iter().any(|&(part, _)| part == first);
        let fits = counts.iter().all(|&(part, count)| count <= left[part]);
        if !holds || !fits || supply[*board] == Some(0) {
            continue;
        }
        let (mut less, mut fewer) = (left.clone(), supply.clone());
        for &(part, count) in counts {
            less[part] -= count;
        }
        if let Some(supply) = &mut fewer[*board] {
            *supply -= 1;
        }
        for (more, after) in rest(choices, less, fewer, known) {
            let total = best.entry(keeps + more).or_insert(Ticks::MAX);
            *total = (used + after).min(*total);
        }
    }
    known.insert((left, supply), best.clone());
    best
}

#[test]
fn pricing_finds_the_best_cutting_where_keeping_an_offcut_has_a_price() {
    let mut random = Random::new(71);
    let mut above = [0; 2];
    for index in 0..2_000 {
        let problem = of_all_sorts(&mut random);
        let tick_cost = 3 + random.below(9);
        let prices: Vec<i64> = (0..3).map(|_| 1 + random.below(500)).collect();
        let boards = problem.boards.len();
        let charges: Vec<i64> = (0..boards).map(|_| random.below(900) - 600).collect();
        // Up to more than the longest offcut is worth, and below zero.
        let price: Vec<i64> = (0..boards).map(|_| random.below(1_600) - 500).collect();
        let pricing = PricingProblem {
            prices: &prices,
            most: &problem.demand,
            charges: &charges,
            kept: &price,
            tick_cost,
        };
        let (mut watch, mut pricer) = (Forever, Pricer::new(&problem));
        let priced = pricer.price(&pricing, &mut Clock::new(&mut watch));
        let priced = priced.expect("no limit of time");
        for (board, &charge) in charges.iter().enumerate() {
            let worth = |pattern: &Pattern| {
                let counts = pattern.counts();
                let parts = counts.iter();
                let parts = parts.map(|&(part, count)| prices[part] * i64::from(count));
                // Each offcut is kept or given up, whichever costs less.
                let offcuts = kept(&problem, pattern).into_iter();
                let offcuts = offcuts.map(|offcut| price[board].min(tick_cost * offcut));
                parts.sum::<i64>() - tick_cost * pattern.used(&problem) - offcuts.sum::<i64>()
            };
            let all = cuttings(&problem, board).into_iter();
            let all = all.filter(|pattern| !pattern.counts().is_empty());
            let best = all.map(|pattern| worth(&pattern)).max();
            let wanted = best.map_or(charge, |best| best.max(charge));
            assert_eq!(priced.worth[board], wanted, "problem {index}: {problem:?}");
            above[usize::from(price[board] > 0)] += usize::from(wanted > charge);
        }
        for (pattern, told) in &priced.patterns {
            assert!(*told <= priced.worth[pattern.board], "problem {index}");
            assert!(problem.used(&pattern.cutting()).is_some());
        }
    }
    assert!(above.iter().all(|above| *above > 100), "{above:?}");
}

#[test]
fn no_bound_on_a_side_of_a_split_on_offcuts_passes_the_best_plan_there() {
    let mut random = Random::new(72);
    let (mut proved, mut tight) = (0, 0);
    for index in 0..250 {
        let problem = of_all_sorts(&mut random);
        let all = counted(&problem);
        if all.is_empty() {
            continue;
        }
        let boards = match random.once_in(2) {
            true => all.clone(),
            false => vec![all[random.below(all.len() as i64) as usize]],
        };
        let by_kept = least_by_kept(&problem, &boards);
        let supply: Vec<Option<u32>> = problem.boards.iter().map(|board| board.supply).collect();
        let (objective, demand) = (Objective::UsedLength, problem.demand.clone());
        let mut generation = ColumnGeneration::new(&problem, objective, demand, supply, Vec::new());
        let at = random.below(3) as u32;
        for side in [BranchSide::AtMost(at), BranchSide::AtLeast(at + 1)] {
            let set = generation.master.set(&boards, Counted::Kept);
            let path = [Decision { set, side }];
            let attainable = AttainableTotals::new(&problem, objective, 10_000);
            let task = NodeTask {
                path: &path,
                cutoff: 10_000,
                attainable: &attainable,
                rounds: NODE_ROUNDS,
            };
            let (mut watch, mut pricer) = (Forever, Pricer::new(&problem));
            let clock = &mut Clock::new(&mut watch);
            let on_side = by_kept.iter().filter(|(kept, _)| match side {
                BranchSide::AtMost(at) => **kept <= at as usize,
                BranchSide::AtLeast(at) => **kept >= at as usize,
            });
            let least = on_side.map(|(_, used)| *used).min();
            let relaxed = generation.solve(&task, clock).expect("no limit of time");
            if let Some(least) = least {
                assert!(
                    relaxed.bound <= least,
                    "problem {index}: {problem:?} {side:?}"
                );
                tight += usize::from(relaxed.bound * 10 > least * 9);
            }
            // Any prices at all.
            let prices: Vec<f64> = (0..generation.master.simplex.rows())
                .map(|row| match row {
                    0..3 => random.below(1_000) as f64 / 2_000.0,
                    _ => random.below(1_000) as f64 / 2_000.0 - 0.25,
                })
                .collect();
            let bound = DualBound::of(&generation.master, &mut pricer, &prices, &path, clock);
            let bound = bound.expect("no limit of time").bound;
            if let Some(least) = least {
                assert!(bound <= least, "problem {index}: {problem:?} {side:?}");
                proved += usize::from(bound > 0);
            }
        }
    }
    assert!(proved > 60 && tight > 60, "{proved}, {tight}");
}

/// Charges of boards and of the offcuts that they keep, where these are counted.
fn made_up_fixing(random: &mut Random, boards: usize, counts_offcuts: bool) -> ReducedCostBound {
    let charges = (0..boards).map(|_| random.below(100) - 50).collect();
    let kept: Vec<i64> = (0..boards).map(|_| random.below(200) - 100).collect();
    ReducedCostBound {
        total: 0,
        charges,
        kept: if counts_offcuts { kept } else { Vec::new() },
    }
}

#[test]
fn every_cutting_within_the_gap_is_listed_by_its_parts_and_the_offcuts_it_keeps() {
    let mut random = Random::new(73);
    let (mut listed, mut told_apart) = (0, 0);
    for index in 0..400 {
        let problem = of_all_sorts(&mut random);
        let tick_cost = 1 + random.below(4);
        let prices: Vec<i64> = (0..3).map(|_| 1 + random.below(250)).collect();
        let boards = problem.boards.len();
        let gap = random.below(150);
        let counts_offcuts = index % 4 > 0;
        let fixing = made_up_fixing(&mut random, boards, counts_offcuts);
        let states: Vec<RunStates> = problem
            .sections
            .iter()
            .map(|section| RunStates::new(&problem, section))
            .collect();
        let task = EnumerationTask {
            problem: &problem,
            run_states: &states,
            prices: &prices,
            fixing: &fixing,
            gap,
            demand: &problem.demand,
            counts_used: true,
            counts_offcuts,
            tick_cost,
            limit: usize::MAX,
            steps: usize::MAX,
        };
        let mut watch = Forever;
        let found = enumerate(&task, &mut Clock::new(&mut watch)).expect("no limit of time");
        let mut own = BTreeMap::new();
        for pattern in found.expect("no limit of length") {
            let keeps = match counts_offcuts {
                true => kept(&problem, &pattern).len(),
                false => 0,
            };
            let used = pattern.used(&problem);
            let before = own.insert((pattern.board, pattern.counts(), keeps), used);
            assert_eq!(before, None, "problem {index}: listed twice");
        }
        let mut wanted: BTreeMap<Told, Ticks> = BTreeMap::new();
        for board in (0..boards).filter(|&board| problem.boards[board].supply != Some(0)) {
            for pattern in cuttings(&problem, board) {
                let counts = pattern.counts();
                let within = counts
                    .iter()
                    .all(|&(part, count)| count <= problem.demand[part]);
                let keeps = match counts_offcuts {
                    true => kept(&problem, &pattern).len(),
                    false => 0,
                };
                let used = pattern.used(&problem);
                let parts = counts.iter();
                let parts = parts.map(|&(part, count)| prices[part] * i64::from(count));
                let worth: i64 =
                    parts.sum::<i64>() - tick_cost * used - fixing.kept(board) * keeps as i64;
                if within && !counts.is_empty() && worth >= fixing.charges[board] - gap {
                    let least = wanted.entry((board, counts, keeps)).or_insert(used);
                    *least = used.min(*least);
                }
            }
        }
        listed += wanted.len();
        let same = |key: &Told| {
            let mut keys = wanted.keys();
            keys.any(|other| other.0 == key.0 && other.1 == key.1 && other.2 != key.2)
        };
        told_apart += wanted.keys().filter(|key| same(key)).count();
        assert_eq!(own, wanted, "problem {index}: {problem:?}");
    }
    assert!(listed > 1_000 && told_apart > 20, "{listed}, {told_apart}");
}

#[test]
fn the_search_for_the_least_used_up_finds_and_proves_what_trying_everything_finds() {
    let mut random = Random::new(74);
    let (mut proved, mut split) = (0, 0);
    for index in 0..400 {
        let problem = of_all_sorts(&mut random);
        let aims = Aims {
            scrap: ScrapAim::LeastAfter(0),
        };
        let (mut watch, mut nobody, mut effort) = (Forever, NoListener, Effort::default());
        let clock = &mut Clock::new(&mut watch);
        let mut incumbent = Incumbent::new(&problem, aims, &mut nobody);
        let mut left = problem.demand.clone();
        let mut there: Vec<Option<u32>> = problem.boards.iter().map(|board| board.supply).collect();
        let plan = greedy(&problem, GreedyRule::Longest, &mut left, &mut there, None);
        let Some(plan) = plan.expect("no clock is asked") else {
            continue;
        };
        incumbent.offer(&plan, clock);
        let objective = Objective::UsedLength;
        let search = BranchAndPrice::new(objective, &mut incumbent, &mut effort);
        let shown = search.run(clock);
        let least = least(&problem, objective).expect("there is a plan");
        let found = incumbent.cutoff(objective);
        assert!(
            shown.bound <= least && least <= found,
            "problem {index}: {} {least} {found} {problem:?}",
            shown.bound
        );
        proved += usize::from(shown.bound == found);
        let on_offcuts = |branch: &Branch| matches!(branch, Branch::Kept { .. });
        split += usize::from(shown.tree.iter().any(on_offcuts));
    }
    assert!(proved > 200 && split > 10, "{proved} proved, {split} split");
}
