//! Pricing, its table, its traceback, and how parts add up in a run.

use crate::clock::Clock;
use crate::laws::exhaustive::cuttings;
use crate::laws::made_up::{Forever, Random, of_all_sorts};
use crate::pattern::Pattern;
use crate::pricing::{Pricer, PricingProblem};
use crate::problem::Problem;
use crate::run_states::RunStates;

/// What a cutting is worth: the prices of its parts, less what it uses up where that costs something.
fn worth(problem: &Problem, pattern: &Pattern, prices: &[i64], tick_cost: i64) -> i64 {
    let counts = pattern.counts();
    let parts = counts.iter();
    let parts: i64 = parts
        .map(|&(part, count)| prices[part] * i64::from(count))
        .sum();
    parts - tick_cost * pattern.used(problem)
}

#[test]
fn pricing_finds_what_the_best_of_all_cuttings_is_worth() {
    let mut random = Random::new(1);
    let (mut above, mut below) = (0, 0);
    for index in 0..2_000 {
        let problem = of_all_sorts(&mut random);
        let tick_cost = [0, 3, 7, 12][index % 4];
        // A part is worth about what its length costs, so that charges are passed now and then.
        let prices: Vec<i64> = (0..3).map(|_| 1 + random.below(500)).collect();
        let charges: Vec<i64> = (0..problem.boards.len())
            .map(|_| match tick_cost {
                0 => random.below(1_500),
                _ => random.below(900) - 600,
            })
            .collect();
        let pricing = PricingProblem {
            prices: &prices,
            most: &problem.demand,
            charges: &charges,
            kept: &vec![0; problem.boards.len()],
            tick_cost,
        };
        let (mut watch, mut pricer) = (Forever, Pricer::new(&problem));
        let priced = pricer.price(&pricing, &mut Clock::new(&mut watch));
        let priced = priced.expect("no limit of time");
        for (pattern, told) in &priced.patterns {
            // The traceback leads to a cutting that fits and has the value that was told.
            assert!(
                problem.used(&pattern.cutting()).is_some(),
                "problem {index}"
            );
            let own = worth(&problem, pattern, &prices, tick_cost);
            assert_eq!(own, *told, "problem {index}");
        }
        for (board, &charge) in charges.iter().enumerate() {
            let all = cuttings(&problem, board).into_iter();
            // Where the length used up counts, the empty cutting does not.
            let counted = all.filter(|pattern| tick_cost == 0 || !pattern.counts().is_empty());
            let best = counted
                .map(|pattern| worth(&problem, &pattern, &prices, tick_cost))
                .max();
            let wanted = best.map_or(charge, |best| best.max(charge));
            assert_eq!(priced.worth[board], wanted, "problem {index}: {problem:?}");
            let mut own = priced.patterns.iter().filter(|(p, _)| p.board == board);
            assert_eq!(own.any(|&(_, told)| told == wanted), wanted > charge);
            above += usize::from(wanted > charge);
            below += usize::from(wanted == charge);
        }
    }
    assert!(above > 100 && below > 100, "{above} above, {below} below");
}

#[test]
fn parts_in_any_order_come_to_the_need_of_the_whole_run() {
    let mut random = Random::new(2);
    for index in 0..400 {
        let problem = of_all_sorts(&mut random);
        for section in &problem.sections {
            let states = RunStates::new(&problem, section);
            let mut run: Vec<(usize, u32)> = Vec::new();
            let (mut fill, mut state) = (0, 0);
            for _ in 0..if states.items.is_empty() { 0 } else { 6 } {
                let item = states.items[random.below(states.items.len() as i64) as usize];
                // A run holds no more of a part than are wanted; which ends can meet follows from that.
                let there = run.iter().filter(|&&(part, _)| part == item.part).count() as u32;
                if there == problem.demand[item.part] {
                    continue;
                }
                let (amount, next) = states.add(&item, state);
                (fill, state) = (fill + amount, next);
                run.push((item.part, 1));
                let whole = section.lay(&run).expect("the part may be made of it");
                assert_eq!(states.need(fill, state), whole, "problem {index}: {run:?}");
                assert!(amount >= item.least, "problem {index}");
            }
        }
    }
}
