//! Attainable totals against all sums there are.

use crate::attainable::AttainableTotals;
use crate::laws::made_up::Random;
use crate::objective::Objective;
use crate::problem::{Board, End, Fit, Problem, Run, Section, Shape};
use std::collections::BTreeSet;

#[test]
fn bounds_are_rounded_to_the_next_sum_of_board_costs() {
    let mut random = Random::new(5);
    for index in 0..200 {
        let boards = 1 + random.below(4);
        let boards: Vec<Board> = (0..boards)
            .map(|_| Board {
                section: 0,
                shape: Shape::Runs(Vec::new()),
                cost: vec![2 * random.below(30)],
                supply: (!random.once_in(3)).then(|| random.below(4) as u32),
                lost: 0,
                factory: None,
            })
            .collect();
        let problem = Problem {
            demand: Vec::new(),
            sections: vec![Section::default()],
            boards,
            floors: Vec::new(),
        };
        let most = 150;
        let mut sums = BTreeSet::from([0]);
        for board in problem.boards.iter().filter(|board| board.cost[0] > 0) {
            let copies = i64::from(board.supply.unwrap_or(200));
            let before = sums.clone();
            for copy in 1..=copies.min(most / board.cost[0]) {
                sums.extend(before.iter().map(|sum| sum + copy * board.cost[0]));
            }
        }
        let totals = AttainableTotals::new(&problem, Objective::Cost(0), most);
        let known = *sums.range(..=most).next_back().expect("zero is a sum");
        for bound in 0..=known {
            let next = *sums.range(bound..).next().expect("a known sum is left");
            assert_eq!(totals.round_up(bound), next, "problem {index}: {problem:?}");
        }
        for value in 1..=known {
            let before = *sums.range(..value).next_back().expect("zero is a sum");
            assert_eq!(totals.largest_below(value), before, "problem {index}");
        }
    }
}

/// All that is used up is 9 lost, 606 of a run with its tail, 30 and 42 of parts and 12 of each cut, added and taken away: multiples of three, which is
/// their common divisor.
#[test]
fn bounds_on_the_length_used_up_are_rounded_to_what_boards_parts_and_cuts_come_to() {
    let fit = |length| {
        Some(Fit {
            length,
            ends: [End::Square; 2],
        })
    };
    let mut problem = Problem {
        demand: vec![1, 1],
        sections: vec![Section {
            kerf: 12,
            fits: vec![fit(30), fit(42)],
            ..Section::default()
        }],
        boards: vec![Board {
            section: 0,
            shape: Shape::Runs(vec![Run {
                length: 600,
                tail: 6,
            }]),
            cost: vec![1],
            supply: None,
            lost: 9,
            factory: None,
        }],
        floors: Vec::new(),
    };
    let next = |problem: &Problem, bound| {
        AttainableTotals::new(problem, Objective::UsedLength, 1_000).round_up(bound)
    };
    for bound in 1..200 {
        assert_eq!(next(&problem, bound), (bound + 2) / 3 * 3);
    }
    // A part of 31 leaves no divisor but one.
    problem.sections[0].fits[0] = fit(31);
    assert_eq!(next(&problem, 100), 100);
}
