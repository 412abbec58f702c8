//! Small problems compared with exhaustive search: every way to lay the pieces is tried, and the engine must prove the best.

mod common;

use common::random::Random;
use lengthwise::problem::{
    Board, Cutting, End, FactoryEnds, Fit, Mitre, Problem, Run, Section, Shape,
};
use lengthwise::solve::{Aims, Outcome, ScrapAim, Shortage, Watch, solve};

const SCRAP: Aims = Aims {
    scrap: ScrapAim::Least,
};
const NO_SCRAP: Aims = Aims {
    scrap: ScrapAim::Ignored,
};

/// Stops after this many checks, so that a search that would not end fails its test instead of hanging it.
struct Asks(u64);

impl Watch for Asks {
    fn expired(&mut self) -> bool {
        self.0 = self.0.saturating_sub(1);
        self.0 == 0
    }
}

fn run(length: i64) -> Run {
    Run { length, tail: 0 }
}

fn square(length: i64) -> Fit {
    Fit {
        length,
        ends: [End::Square; 2],
    }
}

fn board(shape: Shape, cost: &[i64], supply: Option<u32>) -> Board {
    Board {
        section: 0,
        shape,
        cost: cost.to_vec(),
        supply,
        lost: 0,
        factory: None,
    }
}

/// All plans there are, tried one by one: the best totals, or `None` where there is no plan.
struct Exhaustive<'e> {
    problem: &'e Problem,
    pieces: Vec<usize>,
    open: Vec<Cutting>,
    aims: Aims,
    best: Option<Vec<i64>>,
}

impl Exhaustive<'_> {
    fn best(problem: &Problem, aims: Aims) -> Option<Vec<i64>> {
        let pieces = (0..problem.demand.len())
            .flat_map(|part| vec![part; problem.demand[part] as usize])
            .collect();
        let mut search = Exhaustive {
            problem,
            pieces,
            open: Vec::new(),
            aims,
            best: None,
        };
        search.place(0);
        search.best
    }

    fn place(&mut self, at: usize) {
        let Some(&part) = self.pieces.get(at) else {
            let problem = self.problem;
            let levels = problem.boards[0].cost.len();
            let mut totals: Vec<i64> = (0..levels)
                .map(|level| {
                    let costs = self.open.iter();
                    let costs = costs.map(|cut| problem.boards[cut.board].cost[level]);
                    // Below its floor a total counts as that, and what is told is what is beyond.
                    let floor = problem.floors.get(level).copied().unwrap_or(0);
                    (costs.sum::<i64>() - floor).max(0)
                })
                .collect();
            let place = match self.aims.scrap {
                ScrapAim::Ignored => None,
                ScrapAim::Least => Some(levels),
                ScrapAim::LeastAfter(place) => Some(place),
            };
            if let Some(place) = place {
                let used = self
                    .open
                    .iter()
                    .map(|cut| problem.used(cut).expect("only what fits is kept open"));
                totals.insert(place, used.sum::<i64>() - problem.wanted());
            }
            if self.best.as_ref().is_none_or(|best| totals < *best) {
                self.best = Some(totals);
            }
            return;
        };
        for index in 0..self.open.len() {
            self.try_runs(index, part, at);
        }
        for kind in 0..self.problem.boards.len() {
            let spent = self.open.iter().filter(|cut| cut.board == kind).count();
            if self.problem.boards[kind]
                .supply
                .is_some_and(|supply| spent >= supply as usize)
            {
                continue;
            }
            let board = &self.problem.boards[kind];
            let runs = match &board.shape {
                Shape::Runs(runs) => runs.len(),
                Shape::OneCut { .. } => 2,
            } + usize::from(board.factory.is_some());
            self.open.push(Cutting {
                board: kind,
                runs: vec![Vec::new(); runs],
            });
            self.try_runs(self.open.len() - 1, part, at);
            self.open.pop();
        }
    }

    fn try_runs(&mut self, index: usize, part: usize, at: usize) {
        for run in 0..self.open[index].runs.len() {
            let before = self.open[index].runs[run].clone();
            let mut parts = before.clone();
            match parts.iter_mut().find(|entry| entry.0 == part) {
                Some(entry) => entry.1 += 1,
                None => parts.push((part, 1)),
            }
            parts.sort_unstable();
            self.open[index].runs[run] = parts;
            if self.problem.used(&self.open[index]).is_some() {
                self.place(at + 1);
            }
            self.open[index].runs[run] = before;
        }
    }
}

/// Every level must be exactly what exhaustive search finds, and proven.
#[track_caller]
fn check(problem: &Problem, aims: Aims, what: &str) {
    let best = Exhaustive::best(problem, aims);
    match (solve(problem, aims, &mut Asks(5_000)), best) {
        (Outcome::Found(solution), Some(best)) => {
            for (index, (level, best)) in solution.levels.iter().zip(&best).enumerate() {
                assert!(
                    level.value == *best && level.proven(),
                    "{what}: level {index} is {level:?}, the best is {best}\n{problem:?}"
                );
            }
            made_exactly(problem, &solution.cuttings);
        }
        (Outcome::Impossible(_), None) => {}
        (outcome, best) => {
            panic!("{what}: {outcome:?}, but exhaustive search says {best:?}\n{problem:?}")
        }
    }
}

#[track_caller]
fn made_exactly(problem: &Problem, cuttings: &[(Cutting, u32)]) {
    let mut made = vec![0; problem.demand.len()];
    for (cutting, count) in cuttings {
        assert!(problem.used(cutting).is_some(), "{cutting:?} does not fit");
        for &(part, each) in cutting.runs.iter().flatten() {
            made[part] += each * count;
        }
    }
    assert_eq!(made, problem.demand);
}

/// A small problem of a kind: 0 plain, 1 several runs and shed boards, 2 mitres that are shared, 3 mitres that are not,
/// 4 several sections, 5 one cut at the yard.
fn small(kind: i64, random: &mut Random) -> Problem {
    let parts = 1 + random.below(3) as usize;
    let demand: Vec<u32> = (0..parts).map(|_| 1 + random.below(2) as u32).collect();
    let lengths: Vec<i64> = (0..parts).map(|_| 9 + random.below(25)).collect();
    let mitres = match kind {
        2 => vec![Mitre {
            kerf: 3,
            saving: 4 + random.below(4),
            partner: 0,
        }],
        3 => vec![Mitre {
            kerf: 3,
            saving: 0,
            partner: 0,
        }],
        _ => Vec::new(),
    };
    let ends: Vec<[End; 2]> = (0..parts)
        .map(|_| {
            let mut end = || {
                if !mitres.is_empty() && random.below(2) == 0 {
                    End::Mitre(0)
                } else {
                    End::Square
                }
            };
            [end(), end()]
        })
        .collect();
    let fits: Vec<Option<Fit>> = (0..parts)
        .map(|part| {
            Some(Fit {
                length: lengths[part],
                ends: ends[part],
            })
        })
        .collect();
    let section = Section {
        kerf: random.below(3),
        fits,
        mitres,
        reversible: kind == 2,
        keep: 8 + random.below(20),
        posts: Vec::new(),
    };
    let mut sections = vec![section.clone()];
    let mut boards = Vec::new();
    for _ in 0..1 + random.below(2) {
        let length = 30 + random.below(50);
        let supply = if random.below(3) == 0 {
            Some(random.below(3) as u32)
        } else {
            None
        };
        let shape = Shape::Runs(vec![Run {
            length,
            tail: random.below(4),
        }]);
        boards.push(Board {
            lost: random.below(3),
            ..board(shape, &[1, length + random.below(20)], supply)
        });
    }
    match kind {
        1 => {
            let shape = Shape::Runs(vec![
                run(15 + random.below(30)),
                Run {
                    length: 10 + random.below(25),
                    tail: 2,
                },
            ]);
            boards.push(Board {
                lost: 3,
                ..board(shape, &[0, 0], Some(1))
            });
        }
        4 => {
            let mut other = section;
            other.kerf = random.below(3);
            if parts > 1 {
                other.fits[0] = None;
            }
            sections.push(other);
            let shape = Shape::Runs(vec![run(30 + random.below(50))]);
            boards.push(Board {
                section: 1,
                ..board(shape, &[1, 30 + random.below(40)], None)
            });
        }
        5 => {
            let together = 50 + random.below(40);
            let shape = Shape::OneCut {
                together,
                each: [
                    together - together / 2 + random.below(20),
                    together / 2 + random.below(20),
                ],
            };
            boards.push(board(
                shape,
                &[1, together - 5],
                Some(1 + random.below(2) as u32),
            ));
        }
        _ => {}
    }
    Problem {
        demand,
        sections,
        boards,
        floors: Vec::new(),
    }
}

fn family(kind: i64, seed: u64, aims: Aims, what: &str) {
    let mut random = Random(seed);
    for index in 0..200 {
        check(&small(kind, &mut random), aims, &format!("{what} {index}"));
    }
}

#[test]
fn within_what_is_allowed_of_earlier_levels_the_next_is_least() {
    let mut random = Random(77);
    let mut moved = 0;
    for index in 0..400 {
        let mut problem = small(index % 4, &mut random);
        // Costs that pull against each other: the cheapest plan is often another than the one with the fewest boards.
        for length in [22, 36] {
            let cost = [1, length / 10 - 1];
            problem
                .boards
                .push(board(Shape::Runs(vec![run(length)]), &cost, None));
        }
        let added = problem.boards.len() - 2;
        for board in &mut problem.boards[..added] {
            board.cost[1] = match board.cost[0] {
                0 => 0,
                _ => 5 + random.below(9),
            };
        }
        let Some(least) = Exhaustive::best(&problem, NO_SCRAP) else {
            continue;
        };
        problem.floors = vec![(least[0] + random.below(4) - 1).max(0)];
        moved += i32::from(
            Exhaustive::best(&problem, NO_SCRAP)
                .is_some_and(|best| best[0] == 0 && best[1] < least[1]),
        );
        let aims = [SCRAP, NO_SCRAP][usize::from(index % 2 == 0)];
        check(&problem, aims, &format!("floor {index}"));
    }
    assert!(moved > 20, "only {moved} are cheaper for it");
}

/// Some parts of a problem stand at factory ends, and most of its boards have one or two.
fn with_posts(mut problem: Problem, random: &mut Random) -> Problem {
    for section in &mut problem.sections {
        for part in 0..section.fits.len() {
            let Some(fit) = section.fits[part].as_mut().filter(|_| random.below(2) == 0) else {
                continue;
            };
            section.posts.push(part);
            if section.mitres.iter().any(|mitre| mitre.saving > 0) {
                fit.ends = [End::Square; 2];
            }
        }
    }
    for board in &mut problem.boards {
        let mut trim = || (random.below(4) > 0).then(|| random.below(4));
        let trims = [trim(), trim()];
        let section = &problem.sections[board.section];
        board.factory = (random.below(5) > 0).then(|| FactoryEnds {
            trims,
            step: 1 + random.below(3),
            before: section.kerf.max(3),
        });
        if let Shape::Runs(runs) = &mut board.shape {
            let last = runs.len() - 1;
            runs[last].tail = trims[1].unwrap_or(runs[last].tail);
        }
    }
    problem
}

#[test]
fn parts_that_keep_a_factory_end_are_planned_as_exhaustive_search_plans_them() {
    for (kind, seed) in [(0, 31), (1, 32), (2, 33), (3, 34), (4, 35), (5, 36)] {
        for aims in [NO_SCRAP, SCRAP] {
            let mut random = Random(seed);
            for index in 0..200 {
                let problem = small(kind, &mut random);
                let problem = with_posts(problem, &mut random);
                check(&problem, aims, &format!("factory ends {kind} {index}"));
            }
        }
    }
}

#[test]
fn plain_small_problems_are_proven_as_exhaustive_search_finds_them() {
    family(0, 11, NO_SCRAP, "plain");
}

#[test]
fn the_least_scrap_is_found_and_proven_as_exhaustive_search_finds_it() {
    family(0, 12, SCRAP, "plain scrap");
    family(1, 13, SCRAP, "several runs scrap");
    family(2, 21, SCRAP, "shared mitres scrap");
    family(3, 15, SCRAP, "unshared mitres scrap");
    family(4, 22, SCRAP, "several sections scrap");
    family(5, 23, SCRAP, "one cut scrap");
}

#[test]
fn scrap_before_what_is_bought_is_found_and_proven_as_exhaustive_search_finds_it() {
    for (place, seed) in [(0, 41), (1, 51)] {
        let aims = Aims {
            scrap: ScrapAim::LeastAfter(place),
        };
        for kind in 0..6 {
            family(
                kind,
                seed + kind as u64,
                aims,
                &format!("scrap first {kind}"),
            );
            let mut random = Random(seed + 100 + kind as u64);
            for index in 0..100 {
                let problem = small(kind, &mut random);
                let problem = with_posts(problem, &mut random);
                check(
                    &problem,
                    aims,
                    &format!("scrap first, factory ends {kind} {index}"),
                );
            }
        }
    }
}

/// Nothing is kept, everything is, and a floor under what is bought before the scrap.
#[test]
fn scrap_within_what_is_allowed_is_least_whatever_is_worth_keeping() {
    let mut random = Random(61);
    let mut moved = 0;
    for index in 0..400 {
        let mut problem = small(index % 5, &mut random);
        for section in &mut problem.sections {
            section.keep = [0, 1, 6, 1_000][index as usize % 4];
        }
        let first = |place| Aims {
            scrap: ScrapAim::LeastAfter(place),
        };
        check(&problem, first(0), &format!("keep {index}"));
        let (Some(least), Some(scrap)) = (
            Exhaustive::best(&problem, first(1)),
            Exhaustive::best(&problem, first(0)),
        ) else {
            continue;
        };
        problem.floors = vec![least[0] + random.below(2)];
        check(&problem, first(1), &format!("keep, floor {index}"));
        moved += i32::from(scrap[0] < least[1]);
    }
    assert!(moved > 40, "only {moved} buy more for less scrap");
}

#[test]
fn boards_with_bad_stretches_are_used_as_exhaustive_search_uses_them() {
    family(1, 13, NO_SCRAP, "several runs");
}

#[test]
fn mitres_are_planned_as_exhaustive_search_plans_them() {
    family(2, 14, NO_SCRAP, "shared mitres");
    family(3, 15, NO_SCRAP, "unshared mitres");
}

#[test]
fn parts_of_several_sections_are_planned_together() {
    family(4, 16, NO_SCRAP, "several sections");
}

#[test]
fn a_length_cut_once_at_the_yard_is_planned_as_exhaustive_search_plans_it() {
    family(5, 17, NO_SCRAP, "one cut");
}

#[test]
fn scrap_is_proven_where_a_length_is_on_offer_that_no_best_plan_needs() {
    // Own arithmetic: six parts of 560 are two lengths of any kind. Two of 2400 hold three each and leave 2 x (2400 - 3 x 560 - 3 x 3) = 2 x
    // 711, kept from 700 on, so that only six cuts of 3 are lost.
    let section = Section {
        kerf: 3,
        fits: vec![Some(square(560))],
        keep: 700,
        ..Section::default()
    };
    let lengths = [(2400, 640), (3000, 640)];
    let problem = Problem {
        demand: vec![6],
        sections: vec![section],
        boards: lengths
            .map(|(length, money)| board(Shape::Runs(vec![run(length)]), &[1, money], None))
            .to_vec(),
        floors: Vec::new(),
    };
    check(&problem, SCRAP, "three and three");
    let Outcome::Found(solution) = solve(&problem, SCRAP, &mut Asks(5_000)) else {
        panic!("there is a plan")
    };
    assert_eq!(solution.levels[2].value, 18);
}

#[test]
fn a_part_that_ends_at_the_yards_cut_needs_no_cut_of_its_own() {
    // The best plan parts the length of 60 where a part ends; a fill must not be charged for that cut as well.
    let section = Section {
        kerf: 1,
        fits: vec![Some(square(27)), Some(square(12))],
        keep: 11,
        ..Section::default()
    };
    let long = Run {
        length: 78,
        tail: 3,
    };
    let cut_once = Shape::OneCut {
        together: 60,
        each: [35, 35],
    };
    let problem = Problem {
        demand: vec![2, 2],
        sections: vec![section],
        boards: vec![
            Board {
                lost: 1,
                ..board(Shape::Runs(vec![long]), &[1, 78], None)
            },
            board(cut_once, &[1, 55], Some(2)),
        ],
        floors: Vec::new(),
    };
    check(&problem, SCRAP, "the yard's cut");
}

#[test]
fn triplets_that_fill_their_lengths_are_found_again() {
    // The parts are made from full lengths, three from each, so that many lengths are enough, and fewer cannot hold the parts.
    let mut random = Random(19);
    for lengths in [8, 15, 25] {
        let mut sizes: Vec<i64> = Vec::new();
        for _ in 0..lengths {
            let (first, second) = (250 + random.below(130), 250 + random.below(130));
            sizes.extend([first, second, 1000 - first - second]);
        }
        let fits = sizes
            .iter()
            .map(|&length| {
                Some(Fit {
                    length,
                    ends: [End::Square; 2],
                })
            })
            .collect();
        let problem = Problem {
            demand: vec![1; sizes.len()],
            sections: vec![Section {
                fits,
                ..Section::default()
            }],
            boards: vec![board(Shape::Runs(vec![run(1000)]), &[1], None)],
            floors: Vec::new(),
        };
        let Outcome::Found(solution) = solve(&problem, NO_SCRAP, &mut Asks(400_000)) else {
            panic!("a plan was planted")
        };
        assert_eq!(
            (solution.levels[0].value, solution.levels[0].bound),
            (lengths, lengths)
        );
    }
}

#[test]
fn what_cannot_be_is_told_from_what_was_not_found() {
    let fits = vec![
        Some(Fit {
            length: 60,
            ends: [End::Square; 2],
        }),
        Some(Fit {
            length: 120,
            ends: [End::Square; 2],
        }),
    ];
    let section = Section {
        fits,
        kerf: 1,
        ..Section::default()
    };
    let boards = vec![board(Shape::Runs(vec![run(100)]), &[1], Some(2))];
    let problem = Problem {
        demand: vec![3, 1],
        sections: vec![section],
        boards,
        floors: Vec::new(),
    };
    assert_eq!(
        solve(&problem, SCRAP, &mut Asks(1_000)),
        Outcome::Impossible(Shortage::Part(1))
    );
    let mut short = problem.clone();
    short.demand.pop();
    short.sections[0].fits.pop();
    assert_eq!(
        solve(&short, SCRAP, &mut Asks(100_000)),
        Outcome::Impossible(Shortage::Boards { missing: 1 })
    );
    let none = Problem {
        boards: Vec::new(),
        ..short.clone()
    };
    assert_eq!(
        solve(&none, SCRAP, &mut Asks(1_000)),
        Outcome::Impossible(Shortage::Part(0))
    );
    // Told to stop at once, the engine claims nothing.
    assert_eq!(solve(&short, SCRAP, &mut Asks(1)), Outcome::NothingYet);
}

#[test]
fn as_many_parts_as_prices_can_prove_are_said_to_be_missing() {
    // Two boards of 100. Of parts of 60 each takes one, so that of seven five are left over. Of parts of 30 besides, each board takes one with
    // a part of 60 or three alone: two boards hold six parts at most, and of seven and seven eight are left over.
    let fit = |length| {
        Some(Fit {
            length,
            ends: [End::Square; 2],
        })
    };
    let missing = |demand: Vec<u32>, fits| {
        let problem = Problem {
            demand,
            sections: vec![Section {
                fits,
                kerf: 1,
                ..Section::default()
            }],
            boards: vec![board(Shape::Runs(vec![run(100)]), &[1], Some(2))],
            floors: Vec::new(),
        };
        solve(&problem, SCRAP, &mut Asks(100_000))
    };
    let too_few = |missing| Outcome::Impossible(Shortage::Boards { missing });
    assert_eq!(missing(vec![7], vec![fit(60)]), too_few(5));
    assert_eq!(missing(vec![7, 7], vec![fit(60), fit(30)]), too_few(8));
}

#[test]
fn a_hundred_thousand_parts_are_planned() {
    let fits = vec![
        Some(Fit {
            length: 333,
            ends: [End::Square; 2],
        }),
        Some(Fit {
            length: 250,
            ends: [End::Square; 2],
        }),
    ];
    let problem = Problem {
        demand: vec![100_000, 100_000],
        sections: vec![Section {
            fits,
            ..Section::default()
        }],
        boards: vec![board(Shape::Runs(vec![run(1000)]), &[1], None)],
        floors: Vec::new(),
    };
    let Outcome::Found(solution) = solve(&problem, NO_SCRAP, &mut Asks(400_000)) else {
        panic!("there is a plan")
    };
    assert!(solution.levels[0].proven());
    made_exactly(&problem, &solution.cuttings);
}

#[test]
fn inches_under_a_millimetre_saw_are_no_harder() {
    // Lengths in 1/128 in (635 ticks) with a kerf of 2.4 mm (7 680 ticks): the common divisor is 5 ticks.
    let lengths = [
        (2_413, 5),
        (3_391, 7),
        (1_777, 9),
        (5_003, 4),
        (2_999, 6),
        (4_201, 3),
    ];
    let fits = lengths
        .iter()
        .map(|&(length, _)| {
            Some(Fit {
                length: length * 635,
                ends: [End::Square; 2],
            })
        })
        .collect();
    let problem = Problem {
        demand: lengths.iter().map(|&(_, count)| count).collect(),
        sections: vec![Section {
            kerf: 7_680,
            fits,
            ..Section::default()
        }],
        boards: [(96, 700), (120, 905), (144, 1_050), (192, 1_410)]
            .iter()
            .map(|&(inches, cost)| {
                board(
                    Shape::Runs(vec![run(inches * 128 * 635 - 64_000)]),
                    &[cost],
                    None,
                )
            })
            .collect(),
        floors: Vec::new(),
    };
    let Outcome::Found(solution) = solve(&problem, NO_SCRAP, &mut Asks(400_000)) else {
        panic!("there is a plan")
    };
    assert!(solution.levels[0].proven(), "{:?}", solution.levels);
    made_exactly(&problem, &solution.cuttings);
}
