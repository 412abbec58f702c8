//! Bounds below the optimum, enumeration, reduced-cost fixing, and plans that hold.

use crate::attainable::AttainableTotals;
use crate::clock::Clock;
use crate::column_generation::{ColumnGeneration, NodeRelaxation, NodeTask};
use crate::diving::{Discrepancy, Dive, dive};
use crate::dual_bound::{DualBound, ReducedCostBound};
use crate::enumeration::{EnumerationTask, enumerate};
use crate::greedy::{GreedyRule, greedy};
use crate::incumbent::{Incumbent, NoListener};
use crate::laws::exhaustive::{cuttings, least};
use crate::laws::made_up::{Forever, NO_SCRAP, OBJECTIVES, Random, of_all_sorts};
use crate::limits::NODE_ROUNDS;
use crate::material_bound::MaterialBound;
use crate::objective::Objective;
use crate::pattern::Pattern;
use crate::pattern_search::{EnumeratedProblem, SearchEnd, search};
use crate::pricing::Pricer;
use crate::problem::Problem;
use crate::restricted_master::RestrictedMaster;
use crate::run_states::RunStates;
use std::collections::BTreeSet;

fn supply(problem: &Problem) -> Vec<Option<u32>> {
    problem.boards.iter().map(|board| board.supply).collect()
}

/// What enumeration is asked, without limits.
fn everything<'t>(
    problem: &'t Problem,
    run_states: &'t [RunStates],
    prices: &'t [i64],
    fixing: &'t ReducedCostBound,
    gap: i64,
) -> EnumerationTask<'t> {
    EnumerationTask {
        problem,
        run_states,
        prices,
        fixing,
        gap,
        demand: &problem.demand,
        counts_used: false,
        counts_offcuts: false,
        tick_cost: 0,
        limit: usize::MAX,
        steps: usize::MAX,
    }
}

/// Whether one more of some wanted part fits on the board.
fn can_take_more(problem: &Problem, pattern: &Pattern) -> bool {
    let counts = pattern.counts();
    (0..problem.demand.len()).any(|part| {
        let own = counts.iter().find(|entry| entry.0 == part);
        let more = |run: usize| {
            let mut fuller = pattern.cutting();
            fuller.runs[run].push((part, 1));
            problem.used(&fuller).is_some()
        };
        own.map_or(0, |entry| entry.1) < problem.demand[part] && (0..pattern.runs.len()).any(more)
    })
}

#[test]
fn enumeration_lists_every_full_cutting_within_the_gap_and_no_other() {
    let mut random = Random::new(10);
    let mut listed = 0;
    for index in 0..200 {
        let problem = of_all_sorts(&mut random);
        let prices: Vec<i64> = (0..3).map(|_| random.below(40)).collect();
        let charges = problem.boards.iter();
        let charges = charges.map(|_| 30 + random.below(120)).collect();
        let fixing = ReducedCostBound {
            charges,
            ..ReducedCostBound::default()
        };
        let gap = random.below(60);
        let sections = problem.sections.iter();
        let states: Vec<RunStates> = sections
            .map(|section| RunStates::new(&problem, section))
            .collect();
        let mut watch = Forever;
        let task = everything(&problem, &states, &prices, &fixing, gap);
        let found = enumerate(&task, &mut Clock::new(&mut watch));
        let found = found
            .expect("no limit of time")
            .expect("no limit of length");
        for pattern in &found {
            assert!(
                problem.used(&pattern.cutting()).is_some(),
                "problem {index}"
            );
        }
        let mut wanted = BTreeSet::new();
        for board in (0..problem.boards.len()).filter(|&b| problem.boards[b].supply != Some(0)) {
            for pattern in cuttings(&problem, board) {
                let counts = pattern.counts();
                let worth = counts.iter();
                let worth: i64 = worth.map(|&(part, n)| prices[part] * i64::from(n)).sum();
                let within = worth >= fixing.charges[board] - gap;
                // More of a part than is wanted may lie on two runs together; the list has it only up to the demand.
                let wanted_at_all = counts.iter().all(|&(part, n)| n <= problem.demand[part]);
                let full = !can_take_more(&problem, &pattern);
                if within && wanted_at_all && full && !counts.is_empty() {
                    wanted.insert((board, counts));
                }
            }
        }
        listed += found.len();
        let told = found
            .iter()
            .map(|pattern| (pattern.board, pattern.counts()));
        assert_eq!(
            told.collect::<BTreeSet<_>>(),
            wanted,
            "problem {index}: {problem:?}"
        );
    }
    assert!(listed > 100, "{listed} were listed");
}

#[test]
fn no_bound_of_material_is_above_the_least_total() {
    let mut random = Random::new(11);
    let mut tight = 0;
    for index in 0..300 {
        let problem = of_all_sorts(&mut random);
        for objective in OBJECTIVES {
            let Some(least) = least(&problem, objective) else {
                continue;
            };
            let bound = MaterialBound::of(&problem, objective, 0).bound;
            assert!(bound <= least, "problem {index}: {bound}, {problem:?}");
            tight += usize::from(bound * 5 > least * 3);
        }
    }
    assert!(tight > 50, "{tight} are within two fifths");
}

#[test]
fn any_prices_at_all_prove_no_more_than_the_least_total() {
    let mut random = Random::new(12);
    let mut proved = 0;
    for index in 0..300 {
        let problem = of_all_sorts(&mut random);
        let objective = OBJECTIVES[index % 3];
        let (demand, supply) = (problem.demand.clone(), supply(&problem));
        let master = RestrictedMaster::new(&problem, objective, demand, supply, Vec::new());
        let rows = master.simplex.rows();
        let prices: Vec<f64> = (0..rows)
            .map(|row| {
                let price = random.below(1_000) as f64 / 2_000.0;
                if row < 3 { price } else { -price / 4.0 }
            })
            .collect();
        let (mut watch, mut pricer) = (Forever, Pricer::new(&problem));
        let clock = &mut Clock::new(&mut watch);
        let bound = DualBound::of(&master, &mut pricer, &prices, &[], clock);
        let bound = bound.expect("no limit of time").bound;
        if let Some(least) = least(&problem, objective) {
            assert!(
                bound <= least,
                "problem {index}: {bound}, {least}, {problem:?}"
            );
            proved += usize::from(bound > 0);
        }
    }
    assert!(proved > 30, "{proved} prove something");
}

/// Every cutting of a plan can be made, and together they are what is wanted.
#[track_caller]
fn holds(problem: &Problem, plan: &[(Pattern, u32)]) {
    let mut cut = vec![0; problem.demand.len()];
    for (pattern, count) in plan {
        assert!(problem.used(&pattern.cutting()).is_some(), "{problem:?}");
        for (part, each) in pattern.counts() {
            cut[part] += each * count;
        }
    }
    assert_eq!(cut, problem.demand, "{problem:?}");
}

/// What is known when the root's relaxation is solved.
struct Root<'p> {
    generation: ColumnGeneration<'p>,
    attainable: AttainableTotals,
    relaxed: NodeRelaxation,
}

/// Goes on from the root's relaxation and a greedy plan; not at all where the greedy way finds none.
fn from_the_root(
    problem: &Problem,
    objective: Objective,
    go_on: impl FnOnce(Root, &mut Incumbent, &mut Clock),
) {
    let (mut watch, mut nobody) = (Forever, NoListener);
    let clock = &mut Clock::new(&mut watch);
    let mut incumbent = Incumbent::new(problem, NO_SCRAP, &mut nobody);
    let (mut left, mut there) = (problem.demand.clone(), supply(problem));
    let plan = greedy(problem, GreedyRule::Longest, &mut left, &mut there, None);
    let Some(plan) = plan.expect("no clock is asked") else {
        return;
    };
    holds(problem, &plan);
    assert!(incumbent.offer(&plan, clock), "a greedy plan is a plan");
    let attainable = AttainableTotals::new(problem, objective, incumbent.cutoff(objective));
    let (demand, there) = (problem.demand.clone(), supply(problem));
    let mut generation = ColumnGeneration::new(problem, objective, demand, there, Vec::new());
    let task = NodeTask {
        path: &[],
        cutoff: i64::MAX,
        attainable: &attainable,
        rounds: NODE_ROUNDS,
    };
    let relaxed = generation.solve(&task, clock).expect("no limit of time");
    let root = Root {
        generation,
        attainable,
        relaxed,
    };
    go_on(root, &mut incumbent, clock);
}

/// What is asked first must say nearly all that the material does, or rounds are lost on it. Prices lose some of a unit when they are told in integers.
#[test]
fn the_prices_of_the_material_prove_nearly_what_it_asks_for_and_never_more_than_there_is() {
    let mut random = Random::new(41);
    let (mut proven, mut limited) = (0, 0);
    for index in 0..300 {
        let problem = of_all_sorts(&mut random);
        for objective in [Objective::Cost(0), Objective::Cost(1)] {
            let material = MaterialBound::of(&problem, objective, 0);
            let (demand, there) = (problem.demand.clone(), supply(&problem));
            let mut generation =
                ColumnGeneration::new(&problem, objective, demand, there, Vec::new());
            let prices = generation
                .master
                .prices_of(&material.leaf, &material.excess);
            assert_eq!(prices.len(), generation.master.simplex.rows());
            let mut watch = Forever;
            let clock = &mut Clock::new(&mut watch);
            let bound = generation.prove(&prices, &[], clock);
            let bound = bound.expect("no limit of time").bound;
            assert!(bound + 1 >= material.bound, "problem {index}: {bound}");
            if let Some(least) = least(&problem, objective) {
                assert!(bound <= least, "problem {index}: {bound}, {problem:?}");
            }
            proven += usize::from(bound > 0);
            limited += usize::from(prices.iter().any(|&price| price < 0.0));
        }
    }
    assert!(proven > 100 && limited > 50, "{proven}, {limited}");
}

/// A program that is asked for given prices first comes to the same bound.
#[test]
fn the_relaxation_is_the_same_from_given_prices() {
    let mut random = Random::new(42);
    let mut compared = 0;
    for index in 0..200 {
        let problem = of_all_sorts(&mut random);
        let objective = Objective::Cost(0);
        let mut watch = Forever;
        let clock = &mut Clock::new(&mut watch);
        let solved = [false, true].map(|given| {
            let (demand, there) = (problem.demand.clone(), supply(&problem));
            let mut generation =
                ColumnGeneration::new(&problem, objective, demand, there, Vec::new());
            if given {
                let material = MaterialBound::of(&problem, objective, 0);
                let prices = generation
                    .master
                    .prices_of(&material.leaf, &material.excess);
                generation.first_prices = Some(prices);
            }
            let task = NodeTask {
                path: &[],
                cutoff: i64::MAX,
                attainable: &AttainableTotals::new(&problem, objective, 0),
                rounds: NODE_ROUNDS,
            };
            let relaxed = generation.solve(&task, clock).expect("no limit of time");
            assert!(generation.first_prices.is_none() || relaxed.uncut > 0.0);
            (relaxed.uncut < 1e-6).then_some(relaxed.bound)
        });
        assert_eq!(solved[0], solved[1], "problem {index}: {problem:?}");
        compared += usize::from(solved[0].is_some());
    }
    assert!(compared > 100, "{compared}");
}

#[test]
fn reduced_cost_fixing_leaves_a_best_plan_and_the_search_finds_it() {
    let mut random = Random::new(13);
    let (mut searched, mut improved) = (0, 0);
    for index in 0..300 {
        let problem = of_all_sorts(&mut random);
        let objective = Objective::Cost(0);
        from_the_root(&problem, objective, |root, incumbent, clock| {
            let Root {
                generation,
                attainable,
                relaxed,
            } = root;
            let least = least(&problem, objective).expect("there is a plan");
            assert!(relaxed.bound <= least, "problem {index}: {problem:?}");
            let first = incumbent.cutoff(objective);
            if relaxed.bound >= first {
                assert_eq!(first, least, "problem {index}");
                return;
            }
            if relaxed.fixing.charges.is_empty() {
                // Nothing was proved that fixing could go by.
                return;
            }
            let beaten = i128::from(attainable.largest_below(first));
            let gap = beaten * i128::from(relaxed.leaf.scale) - relaxed.fixing.total;
            let gap = i64::try_from(gap.max(0)).expect("small");
            let (prices, fixing) = (&relaxed.leaf.parts, &relaxed.fixing);
            let task = everything(&problem, generation.run_states(), prices, fixing, gap);
            let patterns = enumerate(&task, clock).expect("no limit of time");
            let given = EnumeratedProblem {
                objective,
                earlier: &[],
                attainable: &attainable,
                patterns: patterns.expect("no limit of length"),
                demand: &problem.demand,
                supply: supply(&problem),
                path: Vec::new(),
                counts_offcuts: false,
                nodes: 10_000,
                by_pairs: false,
                room: 0,
                parts_told: 0,
            };
            let ending = search(&given, incumbent, clock).expect("no limit of time");
            assert_eq!(ending.ending, SearchEnd::Exhausted, "problem {index}");
            assert_eq!(
                incumbent.cutoff(objective),
                least,
                "problem {index}: {problem:?}"
            );
            searched += 1;
            improved += usize::from(least < first);
        });
    }
    assert!(searched > 10 && improved > 5, "{searched}, {improved}");
}

#[test]
fn a_dive_finds_plans_that_hold_and_none_below_the_least() {
    let mut random = Random::new(14);
    let (mut dived, mut best) = (0, 0);
    for index in 0..300 {
        let problem = of_all_sorts(&mut random);
        let objective = [Objective::Cost(0), Objective::Cost(1)][index % 2];
        from_the_root(&problem, objective, |root, incumbent, clock| {
            let Root {
                generation,
                attainable,
                relaxed,
            } = root;
            let columns: Vec<Pattern> = generation.patterns_by_reduced_cost().cloned().collect();
            let start = Dive {
                objective,
                earlier: &[],
                attainable: &attainable,
                solution: generation.patterns_of(&relaxed),
                columns: &columns,
                discrepancy: Discrepancy {
                    depth: 0,
                    rank: index % 3,
                },
                path: &[],
            };
            dive(start, incumbent, clock).expect("no limit of time");
            let plan = incumbent.best.as_ref().expect("there is a plan");
            holds(&problem, &plan.patterns);
            let least = least(&problem, objective).expect("there is a plan");
            let found = incumbent.cutoff(objective);
            assert!(found >= least, "problem {index}: {problem:?}");
            dived += 1;
            best += usize::from(found == least);
        });
    }
    assert!(best * 10 > dived * 8, "{best} of {dived} are best");
}
