//! Optima from the literature; the source stands beside each.

use lengthwise::problem::{Board, End, Fit, Problem, Run, Section, Shape};
use lengthwise::solve::{Aims, Outcome, ScrapAim, Solution, Watch, solve};

/// No time limit: these problems must be proven, however long it takes.
struct Patient;

impl Watch for Patient {
    fn expired(&mut self) -> bool {
        false
    }
}

fn problem(stock: &[(i64, i64)], demand: &[(i64, u32)]) -> Problem {
    let fits = demand
        .iter()
        .map(|&(length, _)| {
            Some(Fit {
                length,
                ends: [End::Square; 2],
            })
        })
        .collect();
    let boards = stock
        .iter()
        .map(|&(length, cost)| Board {
            section: 0,
            shape: Shape::Runs(vec![Run { length, tail: 0 }]),
            cost: vec![cost],
            supply: None,
            lost: 0,
            factory: None,
        })
        .collect();
    Problem {
        demand: demand.iter().map(|&(_, count)| count).collect(),
        sections: vec![Section {
            fits,
            ..Section::default()
        }],
        boards,
        floors: Vec::new(),
    }
}

fn solved(problem: &Problem) -> Solution {
    match solve(
        problem,
        Aims {
            scrap: ScrapAim::Ignored,
        },
        &mut Patient,
    ) {
        Outcome::Found(solution) => solution,
        other => panic!("a plan exists, but the engine says {other:?}"),
    }
}

/// Solves a problem, and checks the proven cost and that the plan really makes every part.
#[track_caller]
fn check(stock: &[(i64, i64)], demand: &[(i64, u32)], optimum: i64) {
    let problem = problem(stock, demand);
    let solution = solved(&problem);
    assert_eq!(
        (solution.levels[0].value, solution.levels[0].bound),
        (optimum, optimum)
    );
    let mut made = vec![0; demand.len()];
    let mut cost = 0;
    for (cutting, count) in &solution.cuttings {
        assert!(
            problem.used(cutting).is_some(),
            "{cutting:?} does not fit its board"
        );
        cost += problem.boards[cutting.board].cost[0] * i64::from(*count);
        for &(part, each) in cutting.runs.iter().flatten() {
            made[part] += each * count;
        }
    }
    assert_eq!(made, problem.demand);
    assert_eq!(cost, optimum);
}

#[test]
fn the_paper_mill_of_the_encyclopaedia_takes_73_rolls() {
    // Encyclopaedia article "Cutting stock problem", seen in a dataset copy.
    let demand = [
        (1380, 22),
        (1520, 25),
        (1560, 12),
        (1710, 14),
        (1820, 18),
        (1880, 18),
        (1930, 20),
        (2000, 10),
        (2050, 12),
        (2100, 14),
        (2140, 16),
        (2150, 18),
        (2200, 20),
    ];
    check(&[(5600, 1)], &demand, 73);
}

#[test]
fn the_example_of_chvatal_takes_453_rolls() {
    // V. Chvatal, Linear Programming (1983), chapter 13; from memory.
    check(
        &[(100, 1)],
        &[(45, 97), (36, 610), (31, 395), (14, 211)],
        453,
    );
}

#[test]
fn the_example_of_winston_takes_19_boards() {
    // W. Winston, Operations Research; from memory.
    check(&[(17, 1)], &[(3, 25), (5, 20), (9, 15)], 19);
}

#[test]
fn the_priced_lengths_of_gilmore_and_gomory_cost_170() {
    // P. Gilmore and R. Gomory, Operations Research 9 (1961); from memory.
    check(
        &[(5, 6), (6, 7), (9, 10)],
        &[(2, 20), (3, 10), (4, 20)],
        170,
    );
}

#[test]
fn the_example_of_the_ampl_book_takes_47_rolls() {
    // Fourer, Gay, Kernighan, AMPL, the chapter on column generation; from memory.
    check(
        &[(110, 1)],
        &[(20, 48), (45, 35), (50, 24), (55, 10), (75, 8)],
        47,
    );
}

#[test]
fn the_example_of_taha_takes_263() {
    // H. Taha, Operations Research; from memory.
    check(&[(20, 1)], &[(5, 150), (7, 200), (9, 300)], 263);
}

#[test]
fn two_lengths_at_their_own_price_cost_75_300() {
    // Textbook example, from memory.
    check(
        &[(150, 150), (200, 200)],
        &[(40, 432), (60, 500), (70, 400)],
        75_300,
    );
}

#[test]
fn examples_of_textbooks_take_what_their_books_say() {
    // Textbook classics, from memory; the fourth is B. Taylor, Introduction to Management Science.
    check(&[(74, 1)], &[(29, 100), (21, 100), (15, 100)], 90);
    check(
        &[(30, 1)],
        &[(6, 130), (9, 70), (12, 48), (15, 36), (20, 15), (24, 20)],
        111,
    );
    check(&[(20, 1)], &[(3, 50), (4, 25), (8, 15), (10, 70)], 54);
    check(&[(25, 1)], &[(7, 700), (9, 1200), (10, 300)], 775);
    check(&[(100, 1)], &[(60, 30), (48, 50), (36, 25), (24, 90)], 77);
    check(&[(22, 1)], &[(7, 110), (5, 120), (3, 80)], 74);
}

#[test]
fn problems_whose_relaxation_is_more_than_one_short_are_proven() {
    // T. Gau and G. Waescher (1995); from memory.
    check(
        &[(10000, 1)],
        &[(5000, 1), (3750, 1), (3250, 1), (3001, 1), (2000, 2)],
        3,
    );
    // J. Rietz; from memory.
    check(
        &[(45, 1)],
        &[(27, 3), (23, 3), (15, 6), (11, 6), (9, 10)],
        9,
    );
}

#[test]
fn a_problem_solved_by_two_other_solvers_takes_334() {
    // Recomputed by an arc-flow model with two independent solvers.
    let demand = [
        (750, 189),
        (538, 33),
        (530, 36),
        (510, 41),
        (502, 35),
        (322, 37),
        (308, 44),
        (298, 49),
        (201, 37),
        (162, 36),
        (145, 42),
        (110, 33),
        (86, 47),
        (82, 35),
        (66, 49),
        (51, 42),
    ];
    check(&[(1000, 1)], &demand, 334);
}
