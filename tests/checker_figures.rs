//! Every lie about totals, bounds and their figures that `check` must catch, each by its own name and, in a tree, at its place.
//!
//! The plans and figures are made by hand; every sum is written beside its figures.

#[path = "common/hand.rs"]
mod hand;

use hand::{board, job, laid, marked, mm, one_run, proof};
use lengthwise::certificate::{Branch, Certificate, Leaf, LevelProof, Twig, TwigLeaf};
use lengthwise::check::{
    Backing, Effort, Lie, Misshape, Reason, Spot, Standing, Verdict, check, check_within,
};
use lengthwise::job::Job;
use lengthwise::plan::{Level, Measure, Plan, PlannedRun, Source};

#[track_caller]
fn caught(job: &Job, plan: Plan, lie: Lie) {
    assert_eq!(check(job, plan), Err(vec![lie]));
}

/// A bill small enough to prove by hand: six rails of 700 from 2.4 m lengths at 5.00.
/// Three fit a length (3 x 700 + 2 kerfs = 2104.8), four do not, so two lengths are least.
fn rails() -> Job {
    job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "2400", Some("5.00"), None);
        draft.part("rail", "47 x 75", "700", "6", "square");
    })
}

/// Two lengths with three rails each, and levels proven by prices: a rail is worth a third of a length, or 1.666 of money.
fn rails_plan() -> Plan {
    let job = rails();
    let three = board(
        Source::Yard(0),
        vec![one_run(&job, Source::Yard(0), &[0, 0, 0])],
    );
    let level = |measure, total| Level {
        measure,
        value: total,
        bound: total,
    };
    let leaf = |scale, part, earlier: &[i64]| {
        vec![Branch::Leaf(Leaf {
            scale,
            parts: vec![part],
            earlier: earlier.to_vec(),
            splits: Vec::new(),
        })]
    };
    let claim = |level, earlier: &[i64], bound, tree| LevelProof {
        level,
        earlier: earlier.to_vec(),
        bound,
        shown: bound,
        lifted: level < 2,
        tree,
    };
    // Scrap: each length leaves 2400 - 10 - 3 x 702.4 = 282.8 mm, under the keep length of 300, so all of both is used up:
    // 4800 mm, 600 more than the rails.
    let used = 4_800 * 3_200;
    Plan {
        boards: vec![three.clone(), three],
        proofs: vec![proof(
            &[0],
            vec![
                level(Measure::Bought, 2),
                level(Measure::Money, 1_000),
                level(Measure::Scrap, 600 * 3_200),
            ],
            Some(Certificate {
                levels: vec![
                    claim(0, &[], 2, leaf(3, 1, &[])),
                    claim(1, &[2], 1_000, leaf(3, 500, &[0])),
                    // Three rails are worth a whole length; two are used up in 1414.8 mm of it and one in 712.4.
                    claim(2, &[2, 1_000], used, leaf(1, 800 * 3_200, &[0, 0])),
                ],
            }),
        )],
    }
}

#[test]
fn prices_prove_a_small_bill_again() {
    let plan = rails_plan();
    let checked = check(&rails(), plan);
    let lies = checked.as_ref().err();
    // 800 mm a rail overcharges: a single rail uses up 712.4 mm only where its offcut is kept.
    assert_eq!(
        lies.map(Vec::as_slice),
        Some(
            &[Lie::PricesOvercharge {
                measure: Measure::Scrap,
                board: Source::Yard(0),
                worth: (2 * 800 - 1_415) * 3_200 + 640,
                charge: 0
            }][..]
        )
    );
    let mut honest = rails_plan();
    honest.proofs[0].levels[2].bound = 0;
    marked(&mut honest, 2, |claim| {
        // A rail uses up at least its own length and a kerf; two lengths are all that may be bought.
        claim.tree = vec![Branch::Leaf(Leaf {
            scale: 1,
            parts: vec![700 * 3_200],
            earlier: vec![0, 0],
            splits: vec![],
        })];
        claim.bound = 4_200 * 3_200;
        claim.shown = claim.bound;
    });
    let checked = check(&rails(), honest).expect("every figure holds");
    let standings: Vec<Standing> = checked.groups()[0]
        .levels
        .iter()
        .map(|level| level.standing())
        .collect();
    assert_eq!(
        standings,
        [Standing::ReProved, Standing::ReProved, Standing::Gap]
    );
    assert_eq!(checked.groups()[0].levels[2].backing, Backing::ReProved);
}

/// The plan of [`rails_plan`] with the first level's claim alone.
fn counted(change: impl FnOnce(&mut LevelProof)) -> Plan {
    let mut plan = rails_plan();
    plan.proofs[0].levels.truncate(1);
    marked(&mut plan, 0, change);
    let certificate = plan.proofs[0].certificate.as_mut().expect("it has one");
    certificate.levels.truncate(1);
    plan
}

#[track_caller]
fn figures_caught(change: impl FnOnce(&mut LevelProof), lie: Lie) {
    assert!(check(&rails(), counted(|_| {})).is_ok());
    caught(&rails(), counted(change), lie);
}

fn leaf_of(claim: &mut LevelProof) -> &mut Leaf {
    match claim.tree.as_mut_slice() {
        [Branch::Leaf(leaf) | Branch::Searched(leaf)] => leaf,
        _ => panic!("the tree is a leaf"),
    }
}

#[test]
fn prices_by_which_a_cutting_is_worth_more_than_its_board_are_refused() {
    let lie = Lie::PricesOvercharge {
        measure: Measure::Bought,
        board: Source::Yard(0),
        worth: 6,
        charge: 3,
    };
    figures_caught(|claim| leaf_of(claim).parts = vec![2], lie);
}

#[test]
fn prices_that_show_a_lower_bound_than_is_claimed_are_refused() {
    let lie = Lie::BoundNotShown {
        measure: Measure::Bought,
        claimed: 2,
        shown: 1,
    };
    figures_caught(|claim| leaf_of(claim).scale = 6, lie);
}

#[test]
fn a_bound_raised_beyond_the_next_possible_sum_is_refused() {
    // Money: a bound of 501 lifts to the next sum of 5.00s, which is 1000 and no more.
    let mut plan = rails_plan();
    plan.proofs[0].levels[1].bound = 1_000;
    plan.proofs[0].levels.truncate(2);
    marked(&mut plan, 1, |claim| {
        let leaf = leaf_of(claim);
        leaf.scale = 6;
        leaf.parts = vec![501];
        claim.bound = 1_500;
        claim.shown = 1_500;
    });
    caught(
        &rails(),
        plan,
        Lie::LiftedTooFar {
            measure: Measure::Money,
            claimed: 1_500,
            next: 1_000,
        },
    );
}

/// A claim about the scrap, at which a rail uses up its length and a cut: for six rails, with the bound raised by this many ticks from six
/// below it.
fn raised_scrap(above: i64) -> Plan {
    let mut plan = rails_plan();
    plan.proofs[0].levels[2].bound = SIX_CUTS;
    marked(&mut plan, 2, |claim| {
        claim.tree = vec![Branch::Leaf(Leaf {
            scale: 1,
            parts: vec![700 * 3_200 + SIX_CUTS / 6 - 1],
            earlier: vec![0, 0],
            splits: vec![],
        })];
        claim.bound = 4_200 * 3_200 + SIX_CUTS + above;
        claim.shown = claim.bound;
        claim.lifted = true;
    });
    plan
}

const SIX_CUTS: i64 = 6 * 7_680;

#[test]
fn a_length_used_up_is_raised_to_what_lengths_and_cuts_can_come_to() {
    // 2400 of a length, 10 of a trim, 700 of a rail and 2.4 of a cut: whatever is used up is a multiple of 0.4 mm, and so are six
    // rails.
    let checked = check(&rails(), raised_scrap(0)).expect("every figure holds");
    assert_eq!(checked.groups()[0].levels[2].backing, Backing::ReProved);
    caught(
        &rails(),
        raised_scrap(1_280),
        Lie::LiftedTooFar {
            measure: Measure::Scrap,
            claimed: SIX_CUTS + 1_280,
            next: SIX_CUTS,
        },
    );
}

#[test]
fn a_bound_above_its_figures_or_above_the_plan_is_refused() {
    let lie = Lie::BoundAboveFigures {
        measure: Measure::Bought,
        bound: 2,
        figures: 1,
    };
    figures_caught(|claim| claim.bound = 1, lie);
    let mut plan = counted(|_| {});
    plan.proofs[0].levels[0].bound = 3;
    caught(
        &rails(),
        plan,
        Lie::BoundAboveValue {
            measure: Measure::Bought,
            bound: 3,
            value: 2,
        },
    );
}

#[test]
fn a_total_below_what_the_plan_comes_to_is_refused() {
    let mut plan = counted(|_| {});
    plan.proofs[0].levels[0] = Level {
        measure: Measure::Bought,
        value: 1,
        bound: 1,
    };
    caught(
        &rails(),
        plan,
        Lie::WrongValue {
            measure: Measure::Bought,
            claimed: 1,
            found: 2,
        },
    );
}

#[test]
fn levels_other_than_those_of_the_aim_are_refused() {
    let mut plan = counted(|_| {});
    plan.proofs[0].levels[0].measure = Measure::BoughtLength;
    caught(&rails(), plan, Lie::WrongLevels { sections: vec![0] });
}

#[test]
fn a_claim_about_sections_that_are_no_group_is_refused() {
    let mut plan = counted(|_| {});
    plan.proofs[0].sections = vec![0, 1];
    caught(
        &rails(),
        plan,
        Lie::WrongGroup {
            sections: vec![0, 1],
        },
    );
    let mut twice = counted(|_| {});
    twice.proofs.push(twice.proofs[0].clone());
    caught(&rails(), twice, Lie::WrongGroup { sections: vec![0] });
}

/// A split on the 2.4 m lengths: at most one of them, or more.
fn split(set: Vec<usize>, fewer: Leaf, more: Leaf) -> Vec<Branch> {
    vec![
        Branch::Split { boards: set, at: 1 },
        Branch::Leaf(fewer),
        Branch::Leaf(more),
    ]
}

fn priced(part: i64, splits: &[(usize, i64)]) -> Leaf {
    Leaf {
        scale: 3,
        parts: vec![part],
        earlier: Vec::new(),
        splits: splits.to_vec(),
    }
}

#[test]
fn splits_prove_both_sides_again() {
    // At most one length: six rails worth 3 each less one split charged 6 for the length: 18 - 6 = 12, over 3 is 4 lengths.
    // At least two: with the split charged the other way, the bound is two lengths at once.
    let tree = split(vec![0], priced(3, &[(0, 6)]), priced(0, &[(0, 3)]));
    let plan = counted(|claim| claim.tree = tree);
    let checked = check(&rails(), plan).expect("both sides hold");
    assert_eq!(checked.groups()[0].levels[0].standing(), Standing::ReProved);
}

/// The lie at a node of the first level's tree.
fn misshapen(branch: usize, what: Misshape) -> Lie {
    Lie::MisshapenFigures {
        measure: Measure::Bought,
        spot: Some(Spot { branch, twig: None }),
        what,
    }
}

/// The same at a node of the search in the tree's only node.
fn misshapen_search(twig: usize, what: Misshape) -> Lie {
    Lie::MisshapenFigures {
        measure: Measure::Bought,
        spot: Some(Spot {
            branch: 0,
            twig: Some(twig),
        }),
        what,
    }
}

#[test]
fn a_split_on_boards_named_twice_not_there_or_none_is_refused() {
    let wrong = |set: Vec<usize>| {
        move |claim: &mut LevelProof| {
            claim.tree = split(set, priced(3, &[(0, 6)]), priced(0, &[(0, 3)]))
        }
    };
    figures_caught(wrong(vec![0, 0]), misshapen(0, Misshape::Cover));
    figures_caught(wrong(vec![4]), misshapen(0, Misshape::Cover));
    figures_caught(wrong(Vec::new()), misshapen(0, Misshape::Cover));
}

#[test]
fn a_leaf_that_prices_a_split_it_does_not_lie_below_is_refused() {
    let wrong = |splits: Vec<(usize, i64)>| {
        move |claim: &mut LevelProof| {
            claim.tree = split(vec![0], priced(3, &[(0, 6)]), priced(0, &splits))
        }
    };
    figures_caught(wrong(vec![(1, 3)]), misshapen(2, Misshape::Splits));
    figures_caught(wrong(vec![(0, 1), (0, 2)]), misshapen(2, Misshape::Splits));
    figures_caught(wrong(vec![(0, -3)]), misshapen(2, Misshape::BelowZero));
}

#[test]
fn figures_that_are_no_complete_tree_are_refused() {
    let with = |change: fn(&mut Vec<Branch>)| {
        move |claim: &mut LevelProof| {
            claim.tree = split(vec![0], priced(3, &[(0, 6)]), priced(0, &[(0, 3)]));
            change(&mut claim.tree);
        }
    };
    figures_caught(with(Vec::clear), misshapen(0, Misshape::TooShort));
    figures_caught(
        with(|tree| tree.truncate(1)),
        misshapen(1, Misshape::TooShort),
    );
    figures_caught(
        with(|tree| tree.truncate(2)),
        misshapen(2, Misshape::TooShort),
    );
    figures_caught(
        with(|tree| tree.push(Branch::Leaf(priced(0, &[])))),
        misshapen(3, Misshape::TooLong),
    );
    figures_caught(
        with(|tree| tree.push(tree[0].clone())),
        misshapen(3, Misshape::TooLong),
    );
    // Made again below itself, on the side with more; its own side with fewer is then empty.
    figures_caught(
        with(|tree| {
            tree.insert(2, tree[0].clone());
            tree.insert(3, Branch::Leaf(priced(0, &[])));
        }),
        misshapen(2, Misshape::Repeated),
    );
}

#[test]
fn the_same_split_may_stand_on_both_sides_of_another() {
    // At most one length: no plan, as before. More: split at two, and below either side nothing is asked twice. On both sides of a split of
    // the 2.4 m lengths at five another at two may stand.
    let at = |at| Branch::Split {
        boards: vec![0],
        at,
    };
    let root = || Branch::Leaf(priced(1, &[]));
    let plan =
        counted(|claim| claim.tree = vec![at(5), at(2), root(), root(), at(2), root(), root()]);
    let checked = check(&rails(), plan).expect("every leaf holds by its prices alone");
    assert_eq!(checked.groups()[0].levels[0].standing(), Standing::ReProved);
}

#[test]
fn the_message_of_a_malformed_tree_names_the_place() {
    let words = |change: fn(&mut LevelProof)| {
        let lies = check(&rails(), counted(change)).expect_err("the list is no tree");
        lies[0].to_string()
    };
    assert_eq!(
        words(|claim| claim.tree.clear()),
        "lengths to buy: its figures cannot be added up: place 1: the list ends here, and a side of a split is missing"
    );
    assert_eq!(
        words(|claim| closed(vec![twig(3, 1), twig(3, 1)])(claim)),
        "lengths to buy: its figures cannot be added up: place 1, step 2 of its search: the tree was complete before it"
    );
}

#[test]
fn a_split_charged_on_the_wrong_side_is_refused() {
    let lie = Lie::PricesOvercharge {
        measure: Measure::Bought,
        board: Source::Yard(0),
        worth: 9,
        charge: 3,
    };
    figures_caught(
        |claim| claim.tree = split(vec![0], priced(3, &[]), priced(0, &[(0, 3)])),
        lie,
    );
}

#[test]
fn figures_that_cannot_be_added_up_are_refused() {
    let misshapen = |what| misshapen(0, what);
    figures_caught(
        |claim| leaf_of(claim).parts = vec![-1],
        misshapen(Misshape::BelowZero),
    );
    figures_caught(
        |claim| leaf_of(claim).scale = 0,
        misshapen(Misshape::BelowZero),
    );
    figures_caught(
        |claim| leaf_of(claim).parts = vec![1, 1],
        misshapen(Misshape::Parts),
    );
    figures_caught(
        |claim| leaf_of(claim).earlier = vec![0],
        misshapen(Misshape::Earlier),
    );
    figures_caught(
        |claim| claim.earlier = vec![0],
        Lie::MisshapenFigures {
            measure: Measure::Bought,
            spot: None,
            what: Misshape::Levels,
        },
    );
}

#[test]
fn a_search_that_is_not_told_shows_no_more_than_its_prices() {
    let searched = |shown| {
        counted(|claim| {
            let mut leaf = leaf_of(claim).clone();
            leaf.scale = 6;
            claim.tree = vec![Branch::Searched(leaf)];
            claim.shown = shown;
        })
    };
    let checked = check(&rails(), searched(1)).expect("nothing is overstated");
    let level = &checked.groups()[0].levels[0];
    assert_eq!(
        level.standing(),
        Standing::ClaimOnly(Reason::Searched { shown: 1 })
    );
    assert_eq!(checked.verdict(), Verdict::Claimed);
    caught(
        &rails(),
        searched(2),
        Lie::BoundNotShown {
            measure: Measure::Bought,
            claimed: 2,
            shown: 1,
        },
    );
}

fn twig(scale: i64, part: i64) -> Twig {
    Twig::Leaf(TwigLeaf {
        scale,
        parts: vec![part],
        boards: vec![0],
        earlier: Vec::new(),
        splits: Vec::new(),
    })
}

/// The first level closed over the list of all cuttings: a leaf without prices excludes no cutting.
fn closed(search: Vec<Twig>) -> impl FnOnce(&mut LevelProof) {
    move |claim| {
        claim.tree = vec![Branch::Closed {
            leaf: priced(0, &[]),
            search,
        }]
    }
}

/// A split on the one cutting that is full, three rails from a length: never, or at least once.
fn three_rails() -> Twig {
    Twig::Split {
        kept: None,
        board: 0,
        parts: vec![(0, 3)],
        at: 0,
    }
}

#[test]
fn a_search_over_listed_cuttings_is_added_up_again() {
    // Six rails at a third of a length each: over the one full cutting that is two lengths. Split: without that cutting there is no plan;
    // with it once, three rails are left and one length spent.
    for search in [
        vec![twig(3, 1)],
        vec![three_rails(), twig(1, 1), twig(3, 1)],
    ] {
        let checked = check(&rails(), counted(closed(search))).expect("every place holds");
        assert_eq!(checked.groups()[0].levels[0].standing(), Standing::ReProved);
    }
}

/// Four rails of 1400 from 4.2 m lengths that are carried in two pieces of 3 m at most: of 4177.6 clear, two rails take at least 2800 and
/// three 4200, so that two lengths are least. The search is over the one full cutting, two rails, which may lie in one piece or in both.
fn carried(search: Vec<Twig>) -> (Job, Plan) {
    let job = job(|draft| {
        draft.own.carry = Some("3000".into());
        draft.exact_yard();
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "4200", Some("9.00"), None);
        draft.part("rail", "47 x 75", "1400", "4", "square");
    });
    let cut = mm(2000);
    let behind = cut + job.saw.kerf;
    let run = |from, to| PlannedRun {
        from,
        to,
        cuts: laid(&job, from, &[0]),
    };
    let mut two = board(
        Source::Yard(0),
        vec![run(mm(10), cut), run(behind, mm(4190))],
    );
    two.yard_cut = Some(cut);
    let mut plan = counted(closed(search));
    plan.boards = vec![two.clone(), two];
    (job, plan)
}

#[test]
fn a_search_over_cuttings_of_a_length_cut_at_the_yard_is_added_up_again() {
    // Each of the four rails at half a length.
    let (job, plan) = carried(vec![twig(2, 1)]);
    let checked = check(&job, plan).expect("every place holds");
    assert_eq!(checked.groups()[0].levels[0].standing(), Standing::ReProved);
    // At a quarter they are one length together, which is no more than the greatest total below the claim.
    let (job, plan) = carried(vec![twig(4, 1)]);
    let lie = Lie::BoundNotShown {
        measure: Measure::Bought,
        claimed: 2,
        shown: 0,
    };
    caught(&job, plan, lie);
}

#[test]
fn a_search_that_shows_less_than_is_claimed_is_refused() {
    let lie = || Lie::BoundNotShown {
        measure: Measure::Bought,
        claimed: 2,
        shown: 0,
    };
    figures_caught(closed(vec![twig(6, 1)]), lie());
    // The side with the cutting shows the one length spent and no more; the side without it shows nothing.
    figures_caught(closed(vec![three_rails(), twig(1, 1), twig(1, 0)]), lie());
    figures_caught(closed(vec![three_rails(), twig(1, 0), twig(3, 1)]), lie());
}

#[test]
fn a_search_that_is_no_complete_tree_is_refused() {
    let caught = |search, at, what| figures_caught(closed(search), misshapen_search(at, what));
    caught(Vec::new(), 0, Misshape::TooShort);
    caught(vec![three_rails(), twig(3, 1)], 2, Misshape::TooShort);
    caught(vec![twig(3, 1), twig(3, 1)], 1, Misshape::TooLong);
    caught(
        vec![
            three_rails(),
            twig(1, 1),
            three_rails(),
            twig(1, 1),
            twig(3, 1),
        ],
        2,
        Misshape::Repeated,
    );
}

#[test]
fn a_search_that_splits_on_an_impossible_cutting_is_refused() {
    for parts in [vec![], vec![(1, 1)], vec![(0, 0)], vec![(0, 1), (0, 2)]] {
        let strange = Twig::Split {
            kept: None,
            board: 0,
            parts,
            at: 0,
        };
        figures_caught(
            closed(vec![strange, twig(3, 1), twig(3, 1)]),
            misshapen_search(0, Misshape::Cutting),
        );
    }
}

#[test]
fn a_search_that_prices_what_is_not_there_is_refused() {
    let with = |change: fn(&mut TwigLeaf)| {
        let Twig::Leaf(mut leaf) = twig(3, 1) else {
            panic!("a leaf")
        };
        change(&mut leaf);
        closed(vec![Twig::Leaf(leaf)])
    };
    let misshapen = |what| misshapen_search(0, what);
    figures_caught(
        with(|leaf| leaf.boards.clear()),
        misshapen(Misshape::Boards),
    );
    figures_caught(
        with(|leaf| leaf.boards = vec![-1]),
        misshapen(Misshape::Boards),
    );
    figures_caught(
        with(|leaf| leaf.parts = vec![-1]),
        misshapen(Misshape::BelowZero),
    );
    figures_caught(
        with(|leaf| leaf.splits = vec![(0, 1)]),
        misshapen(Misshape::Splits),
    );
}

#[test]
fn bounds_without_figures_or_without_effort_stay_claims() {
    let mut plan = counted(|_| {});
    plan.proofs[0].certificate = None;
    let checked = check(&rails(), plan).expect("the cuts are sound");
    assert_eq!(
        checked.groups()[0].levels[0].standing(),
        Standing::ClaimOnly(Reason::NoFigures)
    );
    let checked =
        check_within(&rails(), counted(|_| {}), Effort::NONE).expect("the cuts are sound");
    assert_eq!(
        checked.groups()[0].levels[0].standing(),
        Standing::ClaimOnly(Reason::TooLarge)
    );
}
