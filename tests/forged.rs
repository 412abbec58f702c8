//! Proofs forged to show more than is true: each is caught as its own lie, or stays a mere claim. Every true value is written beside its
//! job.

mod common;

use common::hand::{Draft, board, job, marked, one_run, proof};
use lengthwise::certificate::{Branch, Certificate, Leaf, LevelProof, MOST_FIGURE, Twig, TwigLeaf};
use lengthwise::check::{
    Backing, Effort, Lie, Misshape, Reason, Spot, Standing, Verdict, check, check_while,
    check_within,
};
use lengthwise::job::Job;
use lengthwise::plan::{Level, Measure, Plan, Source};

fn level(measure: Measure, total: i64) -> Level {
    Level {
        measure,
        value: total,
        bound: total,
    }
}

fn leaf(scale: i64, part: i64, earlier: &[i64], splits: &[(usize, i64)]) -> Leaf {
    Leaf {
        scale,
        parts: vec![part],
        earlier: earlier.to_vec(),
        splits: splits.to_vec(),
    }
}

fn claim(level: usize, earlier: &[i64], bound: i64, tree: Vec<Branch>) -> LevelProof {
    LevelProof {
        level,
        earlier: earlier.to_vec(),
        bound,
        shown: bound,
        lifted: false,
        tree,
    }
}

/// A plan of one group with boards of this many parts each, and these claims.
fn plan(
    job: &Job,
    boards: &[(Source, usize)],
    levels: Vec<Level>,
    claims: Vec<LevelProof>,
) -> Plan {
    let boards = boards
        .iter()
        .map(|&(source, parts)| board(source, vec![one_run(job, source, &vec![0; parts])]));
    Plan {
        boards: boards.collect(),
        proofs: vec![proof(&[0], levels, Some(Certificate { levels: claims }))],
    }
}

/// Six rails of 900 mm from 3 m lengths at 10.00: three go on a length, so two are least.
fn rails(more: impl FnOnce(&mut Draft)) -> Job {
    job(|draft| {
        draft.section("batten", |_| {});
        more(draft);
        draft.yard("batten", "3000", Some("10.00"), None);
        draft.part("rail", "batten", "900", "6", "square");
    })
}

/// A level closed by a search over cuttings that is one place, at which a rail is worth more than a length costs.
fn searched_at_once(earlier: &[i64], boards: usize) -> Vec<Branch> {
    vec![Branch::Closed {
        leaf: leaf(1, 0, earlier, &[]),
        search: vec![Twig::Leaf(TwigLeaf {
            scale: 1,
            parts: vec![1_000_000],
            boards: vec![0; boards],
            earlier: earlier.to_vec(),
            splits: Vec::new(),
        })],
    }]
}

#[test]
fn a_line_that_is_out_of_stock_does_not_hide_the_equal_one_beside_it() {
    // Six lengths with one rail each, where two lengths do. The list of cuttings is that of both lines: three rails are a cutting.
    let job = rails(|draft| draft.yard("batten", "3000", Some("10.00"), Some("0")));
    let boards = [(Source::Yard(1), 1); 6];
    // 3000 - 10 - 900 - 2.4 are kept of each: 912.4 used up by 900 of part.
    let scrap = 6 * (10 * 3_200 + 7_680);
    let used = scrap + 6 * 900 * 3_200;
    let forged = plan(
        &job,
        &boards,
        vec![
            level(Measure::Bought, 6),
            level(Measure::Money, 6_000),
            level(Measure::Scrap, scrap),
        ],
        vec![
            claim(0, &[], 6, searched_at_once(&[], 2)),
            claim(1, &[6], 6_000, searched_at_once(&[0], 2)),
            claim(2, &[6, 6_000], used, searched_at_once(&[0, 0], 2)),
        ],
    );
    let lie = |measure, claimed, shown| Lie::BoundNotShown {
        measure,
        claimed,
        shown,
    };
    assert_eq!(
        check(&job, forged),
        Err(vec![
            lie(Measure::Bought, 6, 0),
            lie(Measure::Money, 6_000, 0),
            lie(Measure::Scrap, scrap, -6 * 900 * 3_200),
        ])
    );
}

#[test]
fn equal_lines_are_one_kind_of_board_with_the_stock_of_both() {
    // One length of the first line and one of the second are two, each with three rails: at a third of a length a rail, two lengths are least.
    let job = job(|draft| {
        draft.section("batten", |_| {});
        draft.yard("batten", "3000", Some("10.00"), Some("1"));
        draft.yard("batten", "3000", Some("10.00"), Some("1"));
        draft.part("rail", "batten", "900", "6", "square");
    });
    let search = |boards| {
        vec![Branch::Closed {
            leaf: leaf(1, 0, &[], &[]),
            search: vec![Twig::Leaf(TwigLeaf {
                scale: 3,
                parts: vec![1],
                boards,
                earlier: Vec::new(),
                splits: Vec::new(),
            })],
        }]
    };
    let two = [(Source::Yard(0), 3), (Source::Yard(1), 3)];
    let with = |boards| {
        let claims = vec![claim(0, &[], 2, search(boards))];
        check(
            &job,
            plan(&job, &two, vec![level(Measure::Bought, 2)], claims),
        )
    };
    let checked = with(vec![0, 0]).expect("the figures hold");
    assert_eq!(checked.groups()[0].levels[0].standing(), Standing::ReProved);
}

#[test]
fn a_search_prices_the_stock_of_all_equal_lines() {
    // One length of the first line and two of the second are three. A plan of all three claims that two do not do. At a price of a length for
    // each rail a length is worth three, two more than it costs: six rails less two for each of three lengths are nothing, and with one length
    // they would be four.
    let job = job(|draft| {
        draft.section("batten", |_| {});
        draft.yard("batten", "3000", Some("10.00"), Some("1"));
        draft.yard("batten", "3000", Some("10.00"), Some("2"));
        draft.part("rail", "batten", "900", "6", "square");
    });
    let search = vec![Branch::Closed {
        leaf: leaf(1, 0, &[], &[]),
        search: vec![Twig::Leaf(TwigLeaf {
            scale: 1,
            parts: vec![1],
            boards: vec![2, 2],
            earlier: Vec::new(),
            splits: Vec::new(),
        })],
    }];
    let three = [
        (Source::Yard(0), 2),
        (Source::Yard(1), 2),
        (Source::Yard(1), 2),
    ];
    let claims = vec![claim(0, &[], 3, search)];
    let lie = Lie::BoundNotShown {
        measure: Measure::Bought,
        claimed: 3,
        shown: 0,
    };
    let forged = plan(&job, &three, vec![level(Measure::Bought, 3)], claims);
    assert_eq!(check(&job, forged), Err(vec![lie]));
}

/// Five rails of 700 from a saw of 3 mm: the plan of three and two takes two lengths, which is least.
fn wrapped(change: impl FnOnce(&mut Leaf), earlier: &[i64]) -> (Job, Plan) {
    let job = job(|draft| {
        draft.saw.kerf = Some("3".into());
        draft.saw.keep = Some("1000".into());
        draft.section("batten", |_| {});
        draft.yard("batten", "3000", Some("10.00"), None);
        draft.part("rail", "batten", "700", "5", "square");
    });
    let mut first = leaf(1, 0, &[0, 0], &[(0, 1)]);
    change(&mut first);
    let tree = vec![
        Branch::Split {
            boards: vec![0],
            at: u32::MAX,
        },
        Branch::Leaf(first),
        Branch::Leaf(leaf(1, 0, &[0, 0], &[(0, 2_000_000)])),
    ];
    // Two lengths less 700 mm a rail; the second keeps 3000 - 10 - 1406 = 1584 mm.
    let scrap = (6_000 - 3_500 - 1_584) * 3_200;
    let two = [(Source::Yard(0), 3), (Source::Yard(0), 2)];
    let plan = plan(
        &job,
        &two,
        vec![
            level(Measure::Bought, 2),
            level(Measure::Money, 2_000),
            level(Measure::Scrap, scrap),
        ],
        vec![claim(2, earlier, scrap + 3_500 * 3_200, tree)],
    );
    (job, plan)
}

#[test]
fn prices_near_the_limit_of_their_integers_are_refused_before_they_are_added_up() {
    let (job, plan) = wrapped(|leaf| leaf.earlier = vec![i64::MAX, i64::MAX], &[2, 2_000]);
    let lie = Lie::MisshapenFigures {
        measure: Measure::Scrap,
        spot: Some(Spot {
            branch: 1,
            twig: None,
        }),
        what: Misshape::TooGreat,
    };
    assert_eq!(check(&job, plan), Err(vec![lie]));
    for change in [
        |leaf: &mut Leaf| leaf.scale = MOST_FIGURE + 1,
        |leaf: &mut Leaf| leaf.parts = vec![i64::MAX],
        |leaf: &mut Leaf| leaf.splits = vec![(0, i64::MAX)],
    ] {
        let (job, plan) = wrapped(change, &[2, 2_000]);
        assert_eq!(check(&job, plan), Err(vec![lie_at(1)]));
    }
    fn lie_at(branch: usize) -> Lie {
        Lie::MisshapenFigures {
            measure: Measure::Scrap,
            spot: Some(Spot { branch, twig: None }),
            what: Misshape::TooGreat,
        }
    }
}

#[test]
fn the_greatest_allowed_prices_are_added_up_without_overflow() {
    // Everything at the greatest figure: in this build a sum that wraps is a panic.
    let (job, plan) = wrapped(
        |leaf| {
            *leaf = Leaf {
                scale: MOST_FIGURE,
                parts: vec![MOST_FIGURE],
                earlier: vec![MOST_FIGURE, MOST_FIGURE],
                splits: vec![(0, MOST_FIGURE)],
            }
        },
        &[2, 2_000],
    );
    assert!(matches!(
        check(&job, plan).as_ref().map_err(Vec::as_slice),
        Err([Lie::BoundNotShown { .. } | Lie::PricesOvercharge { .. }])
    ));
}

#[test]
fn a_job_too_large_for_the_sums_of_the_checker_is_not_added_up() {
    // No file can ask for so much; a job that is built by other code could.
    let (mut job, plan) = wrapped(|_| {}, &[2, 2_000]);
    job.yard[0].count = Some(u32::MAX);
    let checked = check(&job, plan).expect("its cuts are sound");
    let scrap = &checked.groups()[0].levels[2];
    assert_eq!(scrap.backing, Backing::ClaimOnly(Reason::TooLarge));
}

#[test]
fn totals_of_earlier_levels_are_the_plans_own() {
    // A certificate that speaks of plans with other totals says nothing of this one, however much it shows of those.
    for earlier in [[i64::MAX, i64::MAX], [3, 2_000], [2, 1_999]] {
        let (job, plan) = wrapped(|_| {}, &earlier);
        let checked = check(&job, plan).expect("its cuts are sound");
        let scrap = &checked.groups()[0].levels[2];
        assert_eq!(scrap.backing, Backing::ClaimOnly(Reason::OtherTotals));
    }
}

#[test]
fn marks_near_the_limit_of_their_integers_are_refused_as_off_the_board() {
    let job = rails(|_| {});
    let far = lengthwise::length::Length::from_ticks(i64::MAX);
    let with = |change: fn(&mut Plan, lengthwise::length::Length)| {
        let mut plan = plan(&job, &[(Source::Yard(0), 3)], Vec::new(), Vec::new());
        plan.proofs.clear();
        change(&mut plan, far);
        plan
    };
    for change in [
        |plan: &mut Plan, far| plan.boards[0].runs[0].to = far,
        |plan: &mut Plan, far| plan.boards[0].runs[0].cuts[1].end = far,
        |plan: &mut Plan, far| plan.boards[0].yard_cut = Some(far),
    ] {
        let lies = check(&job, with(change)).expect_err("it is off the board");
        assert_eq!(lies[0], Lie::MarkOffTheBoard { board: 0, at: far });
    }
}

/// Twelve rails, a hundred and fifty shed boards that hold one each, and a tree of splits on all of those, one below the other, at the end
/// of every one a place that prices all splits above it.
fn many_splits(splits: usize) -> (Job, Plan) {
    let shed = 150;
    let job = job(|draft| {
        draft.section("batten", |_| {});
        draft.yard("batten", "3000", Some("10.00"), None);
        for index in 0..shed {
            draft.shed(&format!("m{index}"), "batten", "1100", "");
        }
        draft.part("rail", "batten", "900", "3", "square");
    });
    let set: Vec<usize> = (1..=shed).collect();
    let all = |count: usize| (0..count).map(|at| (at, 1)).collect::<Vec<_>>();
    let mut tree = Vec::new();
    for at in 0..splits {
        tree.push(Branch::Split {
            boards: set.clone(),
            at: u32::MAX - at as u32,
        });
    }
    for at in 0..=splits {
        let priced = all(splits - at.saturating_sub(1));
        tree.push(Branch::Searched(leaf(1_000_000, 0, &[], &priced)));
    }
    let mut searched = claim(0, &[], 1, tree);
    // It is said to show nothing, and much less than nothing is shown.
    searched.shown = i64::MIN;
    let plan = plan(
        &job,
        &[(Source::Yard(0), 3)],
        vec![level(Measure::Bought, 1)],
        vec![searched],
    );
    (job, plan)
}

#[test]
fn members_of_split_sets_are_work_that_is_counted() {
    // Of places with 200, 200, 199, … 1 priced splits of 150 boards each, every member is one step: 150 * (200 + 200 * 201 / 2).
    let members = 150 * (200 + 200 * 201 / 2);
    let (job, plan) = many_splits(200);
    let checked = check(&job, plan.clone()).expect("its cuts are sound");
    let level = &checked.groups()[0].levels[0];
    assert!(matches!(
        level.standing(),
        Standing::ClaimOnly(Reason::Searched { .. })
    ));
    assert!(checked.steps() > members, "{}", checked.steps());
    assert!(checked.steps() < 2 * members, "{}", checked.steps());
    // What needs more work than the limit stays a claim, and is reported as one.
    let checked = check_within(&job, plan, Effort(members)).expect("its cuts are sound");
    let level = &checked.groups()[0].levels[0];
    assert_eq!(level.standing(), Standing::ClaimOnly(Reason::TooLarge));
    assert_eq!(checked.verdict(), Verdict::Claimed);
    assert!(checked.steps() <= members);
}

#[test]
fn members_of_sets_on_the_way_to_a_search_are_work_that_is_counted() {
    // Leaves whose prices show the bound by themselves, so that nothing is searched and no split is priced: behind 200, 200, 199, … 1 splits of
    // 150 lines each, every member on the way is one step.
    let (lines, splits) = (150, 200);
    let members = 150 * (200 + 200 * 201 / 2);
    let job = job(|draft| {
        draft.section("batten", |_| {});
        for _ in 0..lines {
            draft.yard("batten", "3000", Some("10.00"), None);
        }
        draft.part("rail", "batten", "900", "3", "square");
    });
    let mut tree: Vec<Branch> = (0..splits)
        .map(|at| Branch::Split {
            boards: (0..lines).collect(),
            at: u32::MAX - at,
        })
        .collect();
    tree.extend((0..=splits).map(|_| Branch::Closed {
        leaf: leaf(3, 1, &[], &[]),
        search: vec![Twig::Leaf(TwigLeaf {
            scale: 1,
            parts: vec![0],
            boards: vec![0; lines],
            earlier: Vec::new(),
            splits: Vec::new(),
        })],
    }));
    let plan = plan(
        &job,
        &[(Source::Yard(0), 3)],
        vec![level(Measure::Bought, 1)],
        vec![claim(0, &[], 1, tree)],
    );
    let checked = check(&job, plan.clone()).expect("the figures hold");
    assert_eq!(checked.groups()[0].levels[0].standing(), Standing::ReProved);
    assert!(checked.steps() > members, "{}", checked.steps());
    let checked = check_within(&job, plan, Effort(members)).expect("its cuts are sound");
    assert_eq!(
        checked.groups()[0].levels[0].standing(),
        Standing::ClaimOnly(Reason::TooLarge)
    );
}

#[test]
fn when_time_is_up_bounds_stay_claims_and_cuts_are_checked_all_the_same() {
    let (job, plan) = many_splits(200);
    let mut asked = 0;
    let mut expired = || {
        asked += 1;
        asked > 2
    };
    let checked = check_while(&job, plan.clone(), Effort::USUAL, &mut expired);
    let checked = checked.expect("its cuts are sound");
    let level = &checked.groups()[0].levels[0];
    assert_eq!(level.standing(), Standing::ClaimOnly(Reason::OutOfTime));
    assert_eq!(asked, 3);
    let mut short = plan;
    short.boards[0].runs[0].cuts.pop();
    let lie = Lie::PartForgotten {
        part: 0,
        wanted: 3,
        cut: 2,
    };
    assert_eq!(
        check_while(&job, short, Effort::USUAL, &mut || true),
        Err(vec![lie])
    );
}

#[test]
fn boards_that_hold_no_part_add_nothing_to_the_sums_of_costs() {
    // Two rails of 1822 from 1800 at 4.52, 2100 at 5.97, 3600 at 9.41 and 4800 at 15.02: 1800 holds none, 2100 and 3600 one, 4800 two. So one
    // length is least, at 15.02. Sums of 5.97, 9.41 and 15.02 are 5.97, 9.41, 11.94, 15.02 and more; with 4.52 there would be 13.56 as well.
    let job = job(|draft| {
        draft.section("batten", |_| {});
        for (length, price) in [
            ("1800", "4.52"),
            ("2100", "5.97"),
            ("3600", "9.41"),
            ("4800", "15.02"),
        ] {
            draft.yard("batten", length, Some(price), None);
        }
        draft.part("rail", "batten", "1822", "2", "square");
    });
    let one = [(Source::Yard(3), 2)];
    let levels = vec![level(Measure::Bought, 1), level(Measure::Money, 1_502)];
    let mut money = claim(1, &[1], 1_502, vec![Branch::Leaf(leaf(1, 597, &[0], &[]))]);
    money.lifted = true;
    let mut plan = plan(
        &job,
        &one,
        levels,
        vec![
            claim(0, &[], 1, vec![Branch::Leaf(leaf(2, 1, &[], &[]))]),
            money,
        ],
    );
    let refused = check(&job, plan.clone());
    // At 5.97 a rail the figures show 11.94, which is a sum: the lift stays there.
    let lie = |next| Lie::BoundNotShown {
        measure: Measure::Money,
        claimed: 1_502,
        shown: next,
    };
    assert_eq!(refused, Err(vec![lie(1_194)]));
    // At 6.02 a rail and 0.05 for each length bought they show 2 * 6.02 - 0.05 = 11.99, and the next sum is 15.02.
    marked(&mut plan, 1, |money| {
        money.tree = vec![Branch::Leaf(leaf(1, 602, &[5], &[]))]
    });
    let checked = check(&job, plan).expect("the figures hold");
    assert_eq!(checked.verdict(), Verdict::BuyingProven);
}
