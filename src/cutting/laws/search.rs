//! The search over enumerated patterns.

use crate::attainable::AttainableTotals;
use crate::clock::Clock;
use crate::dual_bound::ReducedCostBound;
use crate::enumeration::{EnumerationTask, enumerate};
use crate::greedy::{GreedyRule, greedy};
use crate::incumbent::{Incumbent, NoListener};
use crate::laws::exhaustive::least;
use crate::laws::made_up::{Forever, NO_SCRAP, Random, of_one_length};
use crate::objective::Objective;
use crate::pattern_search::program::SearchProgram;
use crate::pattern_search::{EnumeratedProblem, SearchEnd, search};
use crate::problem::Problem;
use crate::run_states::RunStates;

/// Does something with the problem over every pattern there is, and a first plan.
fn with_every_pattern<Done>(
    problem: &Problem,
    by_pairs: bool,
    does: impl FnOnce(&EnumeratedProblem, &mut Incumbent, &mut Clock) -> Done,
) -> Done {
    let mut watch = Forever;
    let mut clock = Clock::new(&mut watch);
    let mut nobody = NoListener;
    let mut incumbent = Incumbent::new(problem, NO_SCRAP, &mut nobody);
    let demand = &mut problem.demand.clone();
    let first = greedy(problem, GreedyRule::Longest, demand, &mut [None], None);
    let first = first.expect("no clock is asked");
    incumbent.offer(&first.expect("lengths are not limited"), &mut clock);
    let attainable = AttainableTotals::new(problem, Objective::Cost(0), incumbent.value(0));
    let task = EnumerationTask {
        problem,
        run_states: &[RunStates::new(problem, &problem.sections[0])],
        prices: &vec![0; problem.demand.len()],
        fixing: &ReducedCostBound {
            total: 0,
            charges: vec![0],
            kept: Vec::new(),
        },
        gap: 1,
        demand: &problem.demand,
        counts_used: false,
        counts_offcuts: false,
        tick_cost: 0,
        limit: usize::MAX,
        steps: usize::MAX,
    };
    let patterns = enumerate(&task, &mut clock).expect("no limit of time");
    let given = EnumeratedProblem {
        objective: Objective::Cost(0),
        earlier: &[],
        attainable: &attainable,
        patterns: patterns.expect("no limit of length"),
        demand: &problem.demand,
        supply: vec![None],
        path: Vec::new(),
        counts_offcuts: false,
        nodes: 100_000,
        by_pairs,
        room: usize::MAX,
        parts_told: 0,
    };
    does(&given, &mut incumbent, &mut clock)
}

/// The fewest lengths found by a search over every pattern there is, and the nodes it took.
pub(crate) fn fewest(problem: &Problem, by_pairs: bool) -> (i64, usize) {
    with_every_pattern(problem, by_pairs, |given, incumbent, clock| {
        let searched = search(given, incumbent, clock).expect("no limit of time");
        assert_eq!(searched.ending, SearchEnd::Exhausted);
        (incumbent.value(0), searched.nodes)
    })
}

#[test]
fn prices_prove_what_they_add_up_to_and_no_more() {
    // A bound that is told is added up again by the checker, so one below zero must not pass for zero: beside what is fixed it would say too much.
    let mut random = Random::new(0xb0_4d5);
    let mut below_zero = 0;
    for index in 0..200 {
        let problem = of_one_length(&mut random, 5, 3);
        let demand = problem.demand.iter().map(|&wanted| i64::from(wanted));
        let demand: Vec<i64> = demand.collect();
        let scale = 1 + random.below(4);
        let prices = demand.iter().map(|_| random.below(5));
        let prices: Vec<i64> = prices.collect();
        with_every_pattern(&problem, false, |given, incumbent, _| {
            let all: i64 = demand
                .iter()
                .zip(&prices)
                .map(|(wanted, price)| wanted * price)
                .sum();
            let lost: i64 = given
                .patterns
                .iter()
                .map(|pattern| {
                    let counts = pattern.counts();
                    let worth: i64 = counts
                        .iter()
                        .map(|&(part, count)| prices[part] * i64::from(count))
                        .sum();
                    let uses = counts.iter().map(|&(part, count)| {
                        (demand[part] + i64::from(count) - 1) / i64::from(count)
                    });
                    (scale - worth).min(0) * uses.max().unwrap_or(0)
                })
                .sum();
            let shown = all + lost;
            let bound = SearchProgram::new(given, incumbent).bound(scale, &prices);
            assert!(
                bound * scale >= shown && (bound - 1) * scale < shown,
                "{index}: {bound} of {shown} / {scale}"
            );
            below_zero += usize::from(bound < 0);
        });
    }
    assert!(below_zero > 50, "only {below_zero} were below zero");
}

#[test]
fn pairs_and_single_patterns_find_the_same_fewest() {
    // Two ways to the same answer; that of single patterns is checked against exhaustive search and proved again elsewhere.
    let mut random = Random::new(0x0dd5_eed5);
    let mut split = 0;
    for index in 0..160 {
        // With few parts often wanted the sums of pairs may be integral where patterns are not: then both kinds of split take turns.
        let (parts, most) = [(11, 2), (6, 5), (5, 12), (4, 30)][index % 4];
        let problem = of_one_length(&mut random, parts, most);
        let (by_pattern, _) = fewest(&problem, false);
        let (by_pairs, nodes) = fewest(&problem, true);
        assert_eq!(by_pattern, by_pairs, "problem {index}: {problem:?}");
        split += usize::from(nodes > 1);
    }
    assert!(split > 5, "only {split} searches were split at all");
}

#[test]
fn searching_every_pattern_finds_what_trying_everything_finds() {
    let mut random = Random::new(17);
    for index in 0..60 {
        let problem = of_one_length(&mut random, 5, 3);
        let wanted = least(&problem, Objective::Cost(0));
        for by_pairs in [true, false] {
            let (found, _) = fewest(&problem, by_pairs);
            assert_eq!(Some(found), wanted, "problem {index}: {problem:?}");
        }
    }
}
