//! Presolve and its inverse.

use crate::clock::Clock;
use crate::greedy::{GreedyRule, greedy};
use crate::incumbent::{Incumbent, NoListener};
use crate::laws::exhaustive::least;
use crate::laws::made_up::{Forever, NO_SCRAP, OBJECTIVES, Random, of_all_sorts};
use crate::presolve::{LongestRuns, Presolved};
use crate::problem::{Board, Cutting, End, Fit, Mitre, Problem, Run, Section, Shape};

/// The problem with some parts and boards there twice.
fn with_doubles(random: &mut Random) -> Problem {
    let mut problem = of_all_sorts(random);
    let part = random.below(3) as usize;
    problem.demand.push(1);
    for section in &mut problem.sections {
        section.fits.push(section.fits[part]);
    }
    let board = random.below(problem.boards.len() as i64) as usize;
    problem.boards.push(problem.boards[board].clone());
    problem
}

/// Whether boards are cut as often as they are there and every part as often as it is wanted, all of which fits.
fn is_plan(problem: &Problem, cuttings: &[(Cutting, u32)]) -> bool {
    let mut cut = vec![0; problem.demand.len()];
    let mut spent = vec![0; problem.boards.len()];
    for (cutting, count) in cuttings {
        spent[cutting.board] += count;
        for &(part, each) in cutting.runs.iter().flatten() {
            cut[part] += each * count;
        }
    }
    let there = problem.boards.iter().zip(&spent);
    let fits = |(cutting, _): &(Cutting, u32)| problem.used(cutting).is_some();
    cut == problem.demand
        && there
            .into_iter()
            .all(|(board, &spent)| board.supply.is_none_or(|supply| spent <= supply))
        && cuttings.iter().all(fits)
}

#[test]
fn a_presolved_problem_has_the_same_least_totals() {
    let mut random = Random::new(8);
    let mut smaller = 0;
    for index in 0..120 {
        let problem = with_doubles(&mut random);
        let presolved = Presolved::new(&problem).problem;
        smaller += usize::from(presolved.demand.len() < problem.demand.len());
        for objective in OBJECTIVES {
            let (before, after) = (least(&problem, objective), least(&presolved, objective));
            assert_eq!(before, after, "problem {index}: {problem:?}");
        }
    }
    assert!(smaller > 100, "{smaller} became smaller");
}

#[test]
fn a_plan_of_the_presolved_problem_comes_back_as_one_of_the_problem() {
    let mut random = Random::new(9);
    let mut planned = 0;
    for index in 0..400 {
        let mut problem = with_doubles(&mut random);
        // Often enough wanted that one pattern serves several boards and runs out of one original before another.
        for count in &mut problem.demand {
            *count += random.below(7) as u32;
        }
        let longest = LongestRuns::of(&problem);
        if !(0..problem.demand.len()).all(|part| longest.take(&problem, part)) {
            continue;
        }
        let presolved = Presolved::new(&problem);
        let mut left = presolved.problem.demand.clone();
        let boards = presolved.problem.boards.iter();
        let mut supply: Vec<Option<u32>> = boards.map(|board| board.supply).collect();
        let rule = GreedyRule::Fullest;
        let plan = greedy(&presolved.problem, rule, &mut left, &mut supply, None);
        let Some(plan) = plan.expect("no clock is asked") else {
            continue;
        };
        let (mut nobody, mut watch) = (NoListener, Forever);
        let mut incumbent = Incumbent::new(&presolved.problem, NO_SCRAP, &mut nobody);
        assert!(incumbent.offer(&plan, &mut Clock::new(&mut watch)));
        let best = incumbent.best.expect("the plan was taken");
        let cuttings = presolved.cuttings(&best.patterns);
        assert!(is_plan(&problem, &cuttings), "problem {index}: {problem:?}");
        // What the boards cost is what it cost before.
        let cost = |level: usize| -> i64 {
            let costs = cuttings.iter().map(|(cutting, count)| {
                problem.boards[cutting.board].cost[level] * i64::from(*count)
            });
            costs.sum()
        };
        assert_eq!(best.totals, [cost(0), cost(1)], "problem {index}");
        planned += 1;
    }
    assert!(planned > 100, "{planned} were planned");
}

#[test]
fn an_end_that_can_meet_no_other_does_not_keep_its_part_apart() {
    let kerf = 24;
    let mitre = Mitre {
        kerf: 25,
        saving: 40,
        partner: 0,
    };
    let fit = |end: End| {
        Some(Fit {
            length: 900,
            ends: [End::Square, end],
        })
    };
    let problem = |demand: &[u32]| Problem {
        demand: demand.to_vec(),
        sections: vec![Section {
            kerf,
            fits: vec![fit(End::Mitre(0)), fit(End::Square)],
            mitres: vec![mitre],
            reversible: true,
            keep: 300,
            posts: Vec::new(),
        }],
        boards: vec![Board {
            section: 0,
            shape: Shape::Runs(vec![Run {
                length: 2_700,
                tail: 0,
            }]),
            cost: vec![1, 2_700],
            supply: None,
            lost: 20,
            factory: None,
        }],
        floors: Vec::new(),
    };
    let alone = Presolved::new(&problem(&[1, 2]));
    assert_eq!(alone.part_to, [0, 0]);
    assert_eq!(alone.problem.demand, [3]);
    // Two such ends meet, and then what they save is counted.
    let two = Presolved::new(&problem(&[2, 2]));
    assert_eq!(two.part_to, [0, 1]);
    for problem in [problem(&[1, 2]), problem(&[2, 2])] {
        let presolved = Presolved::new(&problem).problem;
        for objective in OBJECTIVES {
            assert_eq!(least(&problem, objective), least(&presolved, objective));
        }
    }
}
