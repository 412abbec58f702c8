//! Every lie about a plan that `check` must catch, each by its own name.
//!
//! The plans are made by hand, so that nothing the planner does can hide a fault of the checker. A test takes a sound plan, tells one
//! lie and asks for exactly that lie back.

mod hand;

use hand::{board, job, laid, marked, mm, one_run, placed, proof};
use lengthwise::certificate::{Certificate, Leaf, LevelProof, Tree, Twig, TwigLeaf};
use lengthwise::check::{Backing, Effort, Lie, Misshape, Reason, Standing, check, check_within};
use lengthwise::job::{Job, Turnable};
use lengthwise::length::Length;
use lengthwise::plan::{Edge, Level, Measure, Plan, PlannedRun, Source};

/// Two legs of 500 and three slats of 300 from 47 x 75, kerf 2.4, 10 mm trims; 2.4 m and 3 m at the yard; one 1.3 m shed board with
/// 50 mm trims and a bad stretch from 600 to 640.
fn bench() -> Job {
    job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "2400", Some("5.00"), None);
        draft.yard("47 x 75", "3000", Some("6.50"), Some("1"));
        draft.shed("A", "47 x 75", "1300", "600..640");
        draft.part("leg", "47 x 75", "500", "2", "square");
        draft.part("slat", "47 x 75", "300", "3", "square");
    })
}

/// Leg and slat A in the shed board's two runs, the rest from one 2.4 m length.
fn bench_plan() -> Plan {
    Plan {
        boards: vec![
            board(
                Source::Shed(0),
                vec![
                    PlannedRun {
                        from: mm(50),
                        to: mm(600),
                        cuts: laid(&bench(), mm(50), &[0]),
                    },
                    PlannedRun {
                        from: mm(640),
                        to: mm(1250),
                        cuts: laid(&bench(), mm(640), &[1]),
                    },
                ],
            ),
            board(
                Source::Yard(0),
                vec![one_run(&bench(), Source::Yard(0), &[0, 1, 1])],
            ),
        ],
        proofs: Vec::new(),
    }
}

#[track_caller]
fn caught(job: &Job, plan: Plan, lie: Lie) {
    assert_eq!(check(job, plan), Err(vec![lie]));
}

#[test]
fn a_sound_plan_passes_and_its_offcuts_are_worked_out() {
    let checked = check(&bench(), bench_plan()).expect("the plan is sound");
    let offcuts: Vec<_> = checked
        .boards()
        .iter()
        .flat_map(|board| &board.offcuts)
        .map(|o| (o.from, o.to, o.counted, o.kept))
        .collect();
    let kerf = Length::from_ticks(7_680);
    assert_eq!(
        offcuts,
        [
            // 600 - 50 - 500 - 2.4 = 47.6 beside the bad stretch.
            (mm(550) + kerf, mm(600), mm(50) - kerf, false),
            // 1300 - 940 - 2.4 = 357.6: the far trim stays on it.
            (mm(940) + kerf, mm(1300), mm(360) - kerf, true),
            // 10 + 500 + 300 + 300 and three kerfs are gone of 2400.
            (
                mm(1110) + kerf + kerf + kerf,
                mm(2400),
                mm(1290) - kerf - kerf - kerf,
                true
            ),
        ]
    );
    assert!(!checked.is_proven());
}

#[test]
fn plan_forgets_a_part() {
    let mut plan = bench_plan();
    plan.boards[1].runs[0].cuts.pop();
    caught(
        &bench(),
        plan,
        Lie::PartForgotten {
            part: 1,
            wanted: 3,
            cut: 2,
        },
    );
}

#[test]
fn plan_cuts_a_part_too_often() {
    let mut plan = bench_plan();
    plan.boards[1] = board(
        Source::Yard(0),
        vec![one_run(&bench(), Source::Yard(0), &[0, 1, 1, 1])],
    );
    caught(
        &bench(),
        plan,
        Lie::PartCutTooOften {
            part: 1,
            wanted: 3,
            cut: 4,
        },
    );
}

#[test]
fn board_overfilled_by_one_kerf() {
    // 3 x 793.6 + 2 x 2.4 = 2385.6 fits the 2380 of clear length only without its kerfs: 2380.8 is one kerf and 3.2 too much.
    let job = job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "2400", Some("5.00"), None);
        draft.part("rail", "47 x 75", "792.53", "3", "square");
    });
    // 3 x 792.53 + 2 x 2.4 = 2382.39, which is 2.39 beyond the run: one kerf less 0.01 mm.
    let plan = Plan {
        boards: vec![board(
            Source::Yard(0),
            vec![one_run(&job, Source::Yard(0), &[0, 0, 0])],
        )],
        proofs: Vec::new(),
    };
    caught(
        &job,
        plan,
        Lie::PartBeyondRun {
            board: 0,
            part: 0,
            by: Length::from_ticks(239 * 32),
        },
    );
}

#[test]
fn kerf_left_out_between_two_parts() {
    let mut plan = bench_plan();
    for cut in &mut plan.boards[1].runs[0].cuts[1..] {
        cut.start -= Length::from_ticks(7_680);
        cut.end -= Length::from_ticks(7_680);
    }
    let needed = Length::from_ticks(7_680);
    caught(
        &bench(),
        plan,
        Lie::NoRoomForTheSaw {
            board: 1,
            part: 1,
            room: Length::ZERO,
            needed,
        },
    );
}

#[test]
fn gap_that_no_cut_explains() {
    let mut plan = bench_plan();
    let cut = &mut plan.boards[1].runs[0].cuts[2];
    cut.start += mm(1);
    cut.end += mm(1);
    let needed = Length::from_ticks(7_680);
    caught(
        &bench(),
        plan,
        Lie::StrayGap {
            board: 1,
            part: 1,
            gap: needed + mm(1),
            needed,
        },
    );
}

#[test]
fn part_is_marked_short() {
    let mut plan = bench_plan();
    plan.boards[1].runs[0].cuts[2].end -= mm(1);
    caught(
        &bench(),
        plan,
        Lie::WrongLength {
            board: 1,
            part: 1,
            wanted: mm(300),
            marked: mm(299),
        },
    );
}

#[test]
fn part_lies_in_a_bad_stretch() {
    let mut plan = bench_plan();
    plan.boards[0].runs = vec![PlannedRun {
        from: mm(50),
        to: mm(1250),
        cuts: laid(&bench(), mm(50), &[0, 1]),
    }];
    caught(
        &bench(),
        plan,
        Lie::PartInBadStretch {
            board: 0,
            part: 1,
            from: mm(600),
            to: mm(640),
        },
    );
}

#[test]
fn run_reaches_over_a_bad_stretch() {
    let mut plan = bench_plan();
    plan.boards[0].runs[0].to = mm(1250);
    plan.boards[0].runs.pop();
    plan.boards[1] = board(
        Source::Yard(0),
        vec![one_run(&bench(), Source::Yard(0), &[0, 1, 1, 1])],
    );
    caught(
        &bench(),
        plan,
        Lie::NotAClearRun {
            board: 0,
            from: mm(50),
            to: mm(1250),
        },
    );
}

#[test]
fn end_trim_is_skipped() {
    let mut plan = bench_plan();
    plan.boards[1].runs = vec![PlannedRun {
        from: mm(0),
        to: mm(2390),
        cuts: laid(&bench(), mm(0), &[0, 1, 1]),
    }];
    caught(
        &bench(),
        plan,
        Lie::NotAClearRun {
            board: 1,
            from: mm(0),
            to: mm(2390),
        },
    );
}

#[test]
fn narrow_bad_stretch_takes_a_whole_kerf() {
    let job = job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.shed("A", "47 x 75", "1300", "600..601");
        draft.part("slat", "47 x 75", "300", "1", "square");
    });
    let run = |from: Length| PlannedRun {
        from,
        to: mm(1250),
        cuts: laid(&job, from, &[0]),
    };
    let plan = |run| Plan {
        boards: vec![board(Source::Shed(0), vec![run])],
        proofs: Vec::new(),
    };
    let behind = mm(600) + Length::from_ticks(7_680);
    assert!(check(&job, plan(run(behind))).is_ok());
    caught(
        &job,
        plan(run(mm(601))),
        Lie::NotAClearRun {
            board: 0,
            from: mm(601),
            to: mm(1250),
        },
    );
}

#[test]
fn part_is_cut_from_the_wrong_section() {
    let job = job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.section("22 x 150", |_| {});
        draft.yard("22 x 150", "2400", None, None);
        draft.part("slat", "47 x 75", "300", "1", "square");
    });
    let plan = Plan {
        boards: vec![board(
            Source::Yard(0),
            vec![one_run(&job, Source::Yard(0), &[0])],
        )],
        proofs: Vec::new(),
    };
    caught(&job, plan, Lie::WrongSection { board: 0, part: 0 });
}

#[test]
fn board_used_twice() {
    let mut plan = bench_plan();
    let again = board(
        Source::Shed(0),
        vec![PlannedRun {
            from: mm(640),
            to: mm(1250),
            cuts: laid(&bench(), mm(640), &[0]),
        }],
    );
    plan.boards[1] = board(
        Source::Yard(0),
        vec![one_run(&bench(), Source::Yard(0), &[1, 1])],
    );
    plan.boards.push(again);
    caught(&bench(), plan, Lie::BoardUsedTwice { shed: 0 });
}

#[test]
fn more_bought_than_the_yard_has() {
    let job = bench();
    let of_three =
        |parts: &[usize]| board(Source::Yard(1), vec![one_run(&job, Source::Yard(1), parts)]);
    let plan = Plan {
        boards: vec![of_three(&[0, 0]), of_three(&[1, 1, 1])],
        proofs: Vec::new(),
    };
    caught(
        &job,
        plan,
        Lie::MoreThanTheYardHas {
            yard: 1,
            bought: 2,
            count: 1,
        },
    );
}

#[test]
fn board_is_taken_for_nothing() {
    let mut plan = bench_plan();
    plan.boards.push(board(Source::Yard(0), Vec::new()));
    caught(&bench(), plan, Lie::NothingCut { board: 2 });
}

#[test]
fn board_and_part_that_are_not_there() {
    let mut plan = bench_plan();
    plan.boards.push(board(
        Source::Shed(7),
        vec![one_run(&bench(), Source::Yard(0), &[0])],
    ));
    plan.boards[1].runs[0]
        .cuts
        .push(placed(9, mm(1200), mm(1300)));
    let lies = check(&bench(), plan).expect_err("neither is there");
    assert_eq!(
        lies[..2],
        [
            Lie::UnknownPart { board: 1, part: 9 },
            Lie::UnknownBoard { board: 2 }
        ]
    );
}

/// Two caps with 45 degree ends, from 95 wide timber.
fn caps(turnable: Turnable) -> Job {
    job(|draft| {
        draft.section("20 x 95", |section| {
            section.width = Some("95".into());
            section.turnable = Some(
                if turnable == Turnable::Yes {
                    "yes"
                } else {
                    "no"
                }
                .into(),
            );
        });
        draft.yard("20 x 95", "2400", None, None);
        draft.part("cap", "20 x 95", "640", "2", "45");
    })
}

/// Both caps, the second starting so far behind the first and with its long point on this edge.
fn caps_plan(gap: Length, edge: Edge) -> Plan {
    let first = placed(0, mm(10), mm(650));
    let start = mm(650) + gap;
    let mut second = placed(0, start, start + mm(640));
    second.long_edge = edge;
    let run = PlannedRun {
        from: mm(10),
        to: mm(2390),
        cuts: vec![first, second],
    };
    Plan {
        boards: vec![board(Source::Yard(0), vec![run])],
        proofs: Vec::new(),
    }
}

/// 2.4 / cos 45 = 3.3941125 mm, rounded up to a tick.
const MITRE_KERF: Length = Length::from_ticks(10_862);

#[test]
fn shared_mitres_lie_a_width_closer() {
    let checked = check(
        &caps(Turnable::Yes),
        caps_plan(MITRE_KERF - mm(95), Edge::Near),
    )
    .expect("sound");
    // Long points 2 x 640; 95 of them overlap. Of 2400 are left 2400 - 10 - 1280 + 95 - two cuts, the far trim included.
    assert_eq!(
        checked.boards()[0].offcuts[0].counted,
        mm(1205) - MITRE_KERF - MITRE_KERF
    );
    assert_eq!(checked.boards()[0].mitre_waste, mm(190));
}

#[test]
fn shared_mitre_without_turning() {
    let plan = caps_plan(MITRE_KERF - mm(95), Edge::Far);
    caught(
        &caps(Turnable::Yes),
        plan,
        Lie::MitreSharedWithoutTurning { board: 0, part: 0 },
    );
}

#[test]
fn shared_mitre_without_its_kerf() {
    let plan = caps_plan(-mm(95), Edge::Near);
    let lie = Lie::NoRoomForTheSaw {
        board: 0,
        part: 0,
        room: -mm(95),
        needed: MITRE_KERF - mm(95),
    };
    caught(&caps(Turnable::Yes), plan, lie);
}

#[test]
fn unshared_mitre_takes_its_slant_kerf() {
    let square = Length::from_ticks(7_680);
    let plan = caps_plan(square, Edge::Far);
    let lies = check(&caps(Turnable::Yes), plan).expect_err("the slant cut is wider");
    assert_eq!(lies, [Lie::MitreSharedWithoutTurning { board: 0, part: 0 }]);
    assert!(check(&caps(Turnable::Yes), caps_plan(MITRE_KERF, Edge::Far)).is_ok());
}

#[test]
fn part_turned_on_a_section_that_may_not_be() {
    let plan = caps_plan(MITRE_KERF, Edge::Near);
    caught(
        &caps(Turnable::No),
        plan,
        Lie::TurnedOnFixedSection { board: 0, part: 0 },
    );
    let mut turned = caps_plan(MITRE_KERF, Edge::Far);
    turned.boards[0].runs[0].cuts[0].lies = lengthwise::plan::Lies::Turned;
    caught(
        &caps(Turnable::No),
        turned,
        Lie::TurnedOnFixedSection { board: 0, part: 0 },
    );
}

/// A 4.2 m length for a vehicle that takes 3 m.
fn long() -> Job {
    job(|draft| {
        draft.carry = Some("3000".into());
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "4200", Some("9.00"), None);
        draft.part("rail", "47 x 75", "1400", "2", "square");
    })
}

/// One rail in each carried piece, the yard's cut at this place.
fn long_plan(cut: Length) -> Plan {
    let job = long();
    let second = cut + Length::from_ticks(7_680);
    let mut board = board(
        Source::Yard(0),
        vec![
            PlannedRun {
                from: mm(10),
                to: cut,
                cuts: laid(&job, mm(10), &[0]),
            },
            PlannedRun {
                from: second,
                to: mm(4190),
                cuts: laid(&job, second, &[0]),
            },
        ],
    );
    board.yard_cut = Some(cut);
    Plan {
        boards: vec![board],
        proofs: Vec::new(),
    }
}

#[test]
fn carried_piece_is_longer_than_the_vehicle_takes() {
    assert!(check(&long(), long_plan(mm(2000))).is_ok());
    let mut whole = long_plan(mm(2000));
    whole.boards[0].yard_cut = None;
    whole.boards[0].runs = vec![one_run(&long(), Source::Yard(0), &[0, 0])];
    caught(
        &long(),
        whole,
        Lie::TooLongToCarry {
            board: 0,
            length: mm(4200),
            carry: mm(3000),
        },
    );
    let mut uneven = long_plan(mm(3100));
    uneven.boards[0].runs.truncate(1);
    uneven.boards[0].runs[0].cuts = laid(&long(), mm(10), &[0, 0]);
    caught(
        &long(),
        uneven,
        Lie::TooLongToCarry {
            board: 0,
            length: mm(3100),
            carry: mm(3000),
        },
    );
}

#[test]
fn yard_cut_where_none_is_needed() {
    let mut plan = bench_plan();
    plan.boards[1].yard_cut = Some(mm(1200));
    caught(&bench(), plan, Lie::NeedlessYardCut { board: 1 });
}

/// Bill A of five equal lengths would be dearer; a bill small enough to prove by hand: six rails of 700 from 2.4 m lengths at 5.00.
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
        Tree::Leaf(Leaf {
            scale,
            parts: vec![part],
            earlier: earlier.to_vec(),
            splits: Vec::new(),
        })
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
        claim.tree = Tree::Leaf(Leaf {
            scale: 1,
            parts: vec![700 * 3_200],
            earlier: vec![0, 0],
            splits: vec![],
        });
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
    match &mut claim.tree {
        Tree::Leaf(leaf) | Tree::Searched(leaf) => leaf,
        Tree::Split { .. } | Tree::Closed { .. } => panic!("the tree is a leaf"),
    }
}

#[test]
fn price_vector_overcharges() {
    let lie = Lie::PricesOvercharge {
        measure: Measure::Bought,
        board: Source::Yard(0),
        worth: 6,
        charge: 3,
    };
    figures_caught(|claim| leaf_of(claim).parts = vec![2], lie);
}

#[test]
fn price_vector_proves_less_than_it_says() {
    let lie = Lie::BoundNotShown {
        measure: Measure::Bought,
        claimed: 2,
        shown: 1,
    };
    figures_caught(|claim| leaf_of(claim).scale = 6, lie);
}

#[test]
fn bound_lifted_too_far() {
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

#[test]
fn bound_above_its_figures_and_above_the_plan() {
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
fn total_is_embellished() {
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
fn levels_are_not_those_of_the_aim() {
    let mut plan = counted(|_| {});
    plan.proofs[0].levels[0].measure = Measure::BoughtLength;
    caught(&rails(), plan, Lie::WrongLevels { sections: vec![0] });
}

#[test]
fn claim_about_a_group_that_is_none() {
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
fn split(set: Vec<usize>, fewer: Leaf, more: Leaf) -> Tree {
    Tree::Split {
        boards: set,
        at: 1,
        fewer: Box::new(Tree::Leaf(fewer)),
        more: Box::new(Tree::Leaf(more)),
    }
}

fn priced(part: i64, splits: &[i64]) -> Leaf {
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
    // At least two: charged the other way, they are two at once.
    let tree = split(vec![0], priced(3, &[6]), priced(0, &[3]));
    let plan = counted(|claim| claim.tree = tree);
    let checked = check(&rails(), plan).expect("both sides hold");
    assert_eq!(checked.groups()[0].levels[0].standing(), Standing::ReProved);
}

#[test]
fn splits_do_not_cover() {
    let wrong = |set: Vec<usize>| {
        move |claim: &mut LevelProof| claim.tree = split(set, priced(3, &[6]), priced(0, &[3]))
    };
    let lie = || Lie::MisshapenFigures {
        measure: Measure::Bought,
        what: Misshape::Cover,
    };
    figures_caught(wrong(vec![0, 0]), lie());
    figures_caught(wrong(vec![4]), lie());
    figures_caught(wrong(Vec::new()), lie());
}

#[test]
fn leaf_forgets_a_split() {
    let lie = Lie::MisshapenFigures {
        measure: Measure::Bought,
        what: Misshape::Splits,
    };
    figures_caught(
        |claim| claim.tree = split(vec![0], priced(3, &[]), priced(0, &[3])),
        lie,
    );
}

#[test]
fn split_is_charged_on_the_wrong_side() {
    let lie = Lie::PricesOvercharge {
        measure: Measure::Bought,
        board: Source::Yard(0),
        worth: 9,
        charge: 3,
    };
    figures_caught(
        |claim| claim.tree = split(vec![0], priced(3, &[0]), priced(0, &[3])),
        lie,
    );
}

#[test]
fn figures_that_cannot_be_added_up() {
    let misshapen = |what| Lie::MisshapenFigures {
        measure: Measure::Bought,
        what,
    };
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
    figures_caught(|claim| claim.earlier = vec![0], misshapen(Misshape::Levels));
    let mut scrap = rails_plan();
    marked(&mut scrap, 2, |claim| claim.lifted = true);
    let lie = Lie::MisshapenFigures {
        measure: Measure::Scrap,
        what: Misshape::Lift,
    };
    caught(&rails(), scrap, lie);
}

#[test]
fn search_that_is_said_to_show_more_than_its_prices() {
    let searched = |shown| {
        counted(|claim| {
            let mut leaf = leaf_of(claim).clone();
            leaf.scale = 6;
            claim.tree = Tree::Searched(leaf);
            claim.shown = shown;
        })
    };
    let checked = check(&rails(), searched(1)).expect("nothing is overstated");
    let level = &checked.groups()[0].levels[0];
    assert_eq!(
        level.standing(),
        Standing::ClaimOnly(Reason::Searched { shown: 1 })
    );
    assert!(!checked.is_re_proved());
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

/// The first level closed over the list of all cuttings: a leaf without prices leaves every cutting open.
fn closed(search: Vec<Twig>) -> impl FnOnce(&mut LevelProof) {
    move |claim| {
        claim.tree = Tree::Closed {
            leaf: priced(0, &[]),
            search,
        }
    }
}

/// A split on the one cutting that is full, three rails from a length: never, or at least once.
fn three_rails() -> Twig {
    Twig::Split {
        board: 0,
        parts: vec![(0, 3)],
        at: 0,
    }
}

#[test]
fn search_over_listed_cuttings_is_added_up_again() {
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

#[test]
fn search_shows_less_than_it_says() {
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
fn search_leaves_a_side_out() {
    let lie = || Lie::MisshapenFigures {
        measure: Measure::Bought,
        what: Misshape::Cover,
    };
    figures_caught(closed(vec![three_rails(), twig(3, 1)]), lie());
    figures_caught(closed(vec![twig(3, 1), twig(3, 1)]), lie());
    figures_caught(closed(Vec::new()), lie());
}

#[test]
fn search_prices_what_is_not_there() {
    let misshapen = |what| Lie::MisshapenFigures {
        measure: Measure::Bought,
        what,
    };
    let with = |change: fn(&mut TwigLeaf)| {
        let Twig::Leaf(mut leaf) = twig(3, 1) else {
            panic!("a leaf")
        };
        change(&mut leaf);
        closed(vec![Twig::Leaf(leaf)])
    };
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
        with(|leaf| leaf.splits = vec![1]),
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
