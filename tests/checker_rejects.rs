//! Every lie about what is cut that `check` must catch, each by its own name.
//!
//! The plans are made by hand, so that nothing the planner does can hide a fault of the checker. A test takes a plan that holds, makes one
//! change to it, and expects exactly the lie that this is.

#[path = "common/hand.rs"]
mod hand;

use hand::{board, job, laid, mm, one_run, placed};
use lengthwise::check::{Lie, Verdict, check};
use lengthwise::job::{Angle, Job, PartEnd, Sides};
use lengthwise::length::Length;
use lengthwise::plan::{Edge, Lies, Plan, PlannedRun, Source};

/// Two legs of 500 and three slats of 300 from 47 x 75, kerf 2.4, 10 mm trims; 2.4 m and 3 m at the yard; one 1.3 m shed board with
/// 50 mm trims and a bad stretch from 600 to 640.
fn trestle() -> Job {
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
fn trestle_plan() -> Plan {
    Plan {
        boards: vec![
            board(
                Source::Shed(0),
                vec![
                    PlannedRun {
                        from: mm(50),
                        to: mm(600),
                        cuts: laid(&trestle(), mm(50), &[0]),
                    },
                    PlannedRun {
                        from: mm(640),
                        to: mm(1250),
                        cuts: laid(&trestle(), mm(640), &[1]),
                    },
                ],
            ),
            board(
                Source::Yard(0),
                vec![one_run(&trestle(), Source::Yard(0), &[0, 1, 1])],
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
    let checked = check(&trestle(), trestle_plan()).expect("the plan is sound");
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
            // 10 + 500 + 300 + 300 and three kerfs are gone of 2400; the third mark stands on 1115, which is 0.2 beyond.
            (mm(1115) + kerf, mm(2400), mm(1285) - kerf, true),
        ]
    );
    assert_eq!(checked.verdict(), Verdict::Open);
}

#[test]
fn a_plan_that_leaves_out_a_part_is_refused() {
    let mut plan = trestle_plan();
    plan.boards[1].runs[0].cuts.pop();
    caught(
        &trestle(),
        plan,
        Lie::PartForgotten {
            part: 1,
            wanted: 3,
            cut: 2,
        },
    );
}

#[test]
fn a_plan_that_cuts_a_part_too_often_is_refused() {
    let mut plan = trestle_plan();
    plan.boards[1] = board(
        Source::Yard(0),
        vec![one_run(&trestle(), Source::Yard(0), &[0, 1, 1, 1])],
    );
    caught(
        &trestle(),
        plan,
        Lie::PartCutTooOften {
            part: 1,
            wanted: 3,
            cut: 4,
        },
    );
}

#[test]
fn a_board_overfilled_by_one_kerf_is_refused() {
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
fn parts_without_a_kerf_between_them_are_refused() {
    let mut plan = trestle_plan();
    for cut in &mut plan.boards[1].runs[0].cuts[1..] {
        cut.start -= Length::from_ticks(7_680);
        cut.end -= Length::from_ticks(7_680);
    }
    let needed = Length::from_ticks(7_680);
    caught(
        &trestle(),
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
fn a_gap_wider_than_the_cut_in_it_is_refused() {
    let mut plan = trestle_plan();
    let cut = &mut plan.boards[1].runs[0].cuts[2];
    cut.start += mm(1);
    cut.end += mm(1);
    let needed = Length::from_ticks(7_680);
    caught(
        &trestle(),
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
fn a_part_marked_short_is_refused() {
    let mut plan = trestle_plan();
    plan.boards[1].runs[0].cuts[2].end -= mm(1);
    caught(
        &trestle(),
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
fn a_part_in_a_bad_stretch_is_refused() {
    let mut plan = trestle_plan();
    plan.boards[0].runs = vec![PlannedRun {
        from: mm(50),
        to: mm(1250),
        cuts: laid(&trestle(), mm(50), &[0, 1]),
    }];
    caught(
        &trestle(),
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
fn a_run_that_reaches_over_a_bad_stretch_is_refused() {
    let mut plan = trestle_plan();
    plan.boards[0].runs[0].to = mm(1250);
    plan.boards[0].runs.pop();
    plan.boards[1] = board(
        Source::Yard(0),
        vec![one_run(&trestle(), Source::Yard(0), &[0, 1, 1, 1])],
    );
    caught(
        &trestle(),
        plan,
        Lie::NotAClearRun {
            board: 0,
            from: mm(50),
            to: mm(1250),
        },
    );
}

#[test]
fn a_board_cut_without_its_end_trim_is_refused() {
    let mut plan = trestle_plan();
    plan.boards[1].runs = vec![PlannedRun {
        from: mm(0),
        to: mm(2390),
        cuts: laid(&trestle(), mm(0), &[0, 1, 1]),
    }];
    caught(
        &trestle(),
        plan,
        Lie::NotAClearRun {
            board: 1,
            from: mm(0),
            to: mm(2390),
        },
    );
}

#[test]
fn a_bad_stretch_narrower_than_the_saw_cut_takes_a_whole_cut() {
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
fn a_part_cut_from_another_section_is_refused() {
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
fn a_board_of_the_shed_used_twice_is_refused() {
    let mut plan = trestle_plan();
    let again = board(
        Source::Shed(0),
        vec![PlannedRun {
            from: mm(640),
            to: mm(1250),
            cuts: laid(&trestle(), mm(640), &[0]),
        }],
    );
    plan.boards[1] = board(
        Source::Yard(0),
        vec![one_run(&trestle(), Source::Yard(0), &[1, 1])],
    );
    plan.boards.push(again);
    caught(&trestle(), plan, Lie::BoardUsedTwice { shed: 0 });
}

#[test]
fn buying_more_than_the_yard_has_is_refused() {
    let job = trestle();
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
fn a_board_that_nothing_is_cut_from_is_refused() {
    let mut plan = trestle_plan();
    plan.boards.push(board(Source::Yard(0), Vec::new()));
    caught(&trestle(), plan, Lie::NothingCut { board: 2 });
}

#[test]
fn boards_and_parts_that_do_not_exist_are_refused() {
    let mut plan = trestle_plan();
    plan.boards.push(board(
        Source::Shed(7),
        vec![one_run(&trestle(), Source::Yard(0), &[0])],
    ));
    plan.boards[1].runs[0]
        .cuts
        .push(placed(9, mm(1200), mm(1300)));
    let lies = check(&trestle(), plan).expect_err("neither is there");
    assert_eq!(
        lies[..2],
        [
            Lie::UnknownPart { board: 1, part: 9 },
            Lie::UnknownBoard { board: 2 }
        ]
    );
}

/// Two caps with 45 degree ends, from 95 wide timber.
fn caps(sides: Sides) -> Job {
    job(|draft| {
        draft.section("20 x 95", |section| {
            section.width = Some("95".into());
            section.faces = Some(sides.word().into());
            section.edges = Some(sides.word().into());
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
fn mitres_that_share_a_cut_overlap_by_the_width_less_the_kerf() {
    let checked = check(
        &caps(Sides::Alike),
        caps_plan(MITRE_KERF - mm(95), Edge::Near),
    )
    .expect("sound");
    // Long points 2 x 640; 95 of them overlap: the second ends at 10 + 1280 - 95 + a cut of 3.39, so its mark stands on 1198.5. Of 2400
    // are left what is beyond it and its own cut, the far trim included.
    assert_eq!(
        checked.boards()[0].offcuts[0].counted,
        mm(2400) - Length::from_ticks(1_198 * 3_200 + 1_600) - MITRE_KERF
    );
    assert_eq!(checked.boards()[0].mitre_waste, mm(190));
}

#[test]
fn a_shared_mitre_between_parts_of_which_none_is_turned_is_refused() {
    let plan = caps_plan(MITRE_KERF - mm(95), Edge::Far);
    caught(
        &caps(Sides::Alike),
        plan,
        Lie::MitreSharedWithoutTurning { board: 0, part: 0 },
    );
}

#[test]
fn a_part_with_its_good_face_out_laid_face_down_is_refused() {
    // The second cap lies with its long point nearer: turned about its length, where faces and edges are alike.
    let plan = caps_plan(MITRE_KERF - mm(95), Edge::Near);
    let mut job = caps(Sides::Alike);
    assert!(check(&job, plan.clone()).is_ok());
    job.parts[0].good_face = true;
    caught(
        &job,
        plan.clone(),
        Lie::TurnedOnFixedSection { board: 0, part: 0 },
    );
    // About the normal of the face it may be turned: long point and ends change.
    let mut turned = plan;
    turned.boards[0].runs[0].cuts[1].lies = Lies::Turned;
    assert!(check(&job, turned).is_ok());
}

#[test]
fn a_shared_mitre_without_its_kerf_is_refused() {
    let plan = caps_plan(-mm(95), Edge::Near);
    let lie = Lie::NoRoomForTheSaw {
        board: 0,
        part: 0,
        room: -mm(95),
        needed: MITRE_KERF - mm(95),
    };
    caught(&caps(Sides::Alike), plan, lie);
}

#[test]
fn a_mitre_that_is_not_shared_takes_the_wider_kerf_of_its_slant() {
    let square = Length::from_ticks(7_680);
    let plan = caps_plan(square, Edge::Far);
    let lies = check(&caps(Sides::Alike), plan).expect_err("the slant cut is wider");
    assert_eq!(lies, [Lie::MitreSharedWithoutTurning { board: 0, part: 0 }]);
    assert!(check(&caps(Sides::Alike), caps_plan(MITRE_KERF, Edge::Far)).is_ok());
}

#[test]
fn a_cut_that_saves_less_than_the_widest_one_takes_is_not_shared() {
    // 12 tan 15 = 3.22 mm are saved, 6.4 / cos 60 - 6.4 = 6.4 mm are what the cut at 60 degrees takes beyond a square one.
    let laths = |steep: bool| {
        job(|draft| {
            draft.saw.kerf = Some("6.4".into());
            draft.section("6 x 12", |section| section.width = Some("12".into()));
            draft.yard("6 x 12", "2400", None, None);
            draft.part("lath", "6 x 12", "640", "2", "15");
            if steep {
                draft.part("point", "6 x 12", "300", "1", "60; square");
            }
        })
    };
    let angle = lengthwise::job::Angle::from_millidegrees(15_000).expect("in range");
    let gap = angle.kerf(Length::from_ticks(20_480)) - angle.saving(mm(12));
    let only_laths = check(&laths(false), caps_plan(gap, Edge::Near));
    assert!(only_laths.is_ok(), "{only_laths:?}");
    let lies = check(&laths(true), caps_plan(gap, Edge::Near)).expect_err("not worth it");
    assert!(
        lies.iter().any(|lie| matches!(
            lie,
            Lie::NoRoomForTheSaw {
                board: 0,
                part: 0,
                ..
            }
        )),
        "{lies:?}"
    );
}

#[test]
fn a_part_turned_on_a_section_with_different_faces_is_refused() {
    let plan = caps_plan(MITRE_KERF, Edge::Near);
    caught(
        &caps(Sides::Different),
        plan,
        Lie::TurnedOnFixedSection { board: 0, part: 0 },
    );
    let mut turned = caps_plan(MITRE_KERF, Edge::Far);
    turned.boards[0].runs[0].cuts[0].lies = lengthwise::plan::Lies::Turned;
    caught(
        &caps(Sides::Different),
        turned,
        Lie::TurnedOnFixedSection { board: 0, part: 0 },
    );
}

/// A 4.2 m length for a vehicle that takes 3 m.
fn long() -> Job {
    job(|draft| {
        draft.own.carry = Some("3000".into());
        draft.exact_yard();
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
fn a_piece_longer_than_the_vehicle_takes_is_refused() {
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
fn a_part_that_is_short_where_the_yard_saws_off_its_reading_is_refused() {
    // The same for a yard that may be 10 off, with 20 to trim off each end it makes: sawn at 2000, the first piece is sound up to 2000 - 20 - 10,
    // and the second from 2002.4 + 20 to 4190 - 10.
    let mut rough = long();
    rough.yard_tolerance = mm(10);
    rough.sections[0].yard_sawn.datum = mm(20);
    rough.sections[0].yard_sawn.far = mm(20);
    let kerf = rough.saw.kerf;
    let plan = |first: [Length; 2], second: [Length; 2]| {
        let mut plan = long_plan(mm(2000));
        let runs = &mut plan.boards[0].runs;
        for (run, [from, to]) in runs.iter_mut().zip([first, second]) {
            (run.from, run.to) = (from, to);
            run.cuts = laid(&rough, from, &[0]);
        }
        plan
    };
    let sound = [[mm(10), mm(1970)], [mm(2020) + kerf, mm(4180)]];
    assert!(check(&rough, plan(sound[0], sound[1])).is_ok());
    let not_clear = |from, to| Lie::NotAClearRun { board: 0, from, to };
    for to in [mm(1970) + Length::from_ticks(1), mm(1980), mm(2000)] {
        caught(&rough, plan([mm(10), to], sound[1]), not_clear(mm(10), to));
    }
    for [from, to] in [
        [mm(2000) + kerf, mm(4180)],
        [mm(2020) + kerf, mm(4190)],
        [mm(2020) + kerf, mm(4180) + Length::from_ticks(1)],
    ] {
        caught(&rough, plan(sound[0], [from, to]), not_clear(from, to));
    }
    // Nor may a part reach out of the run that is told.
    let mut beyond = plan(sound[0], sound[1]);
    let cut = &mut beyond.boards[0].runs[0].cuts[0];
    let length = rough.parts[0].length;
    (cut.start, cut.end) = (mm(1971) - length, mm(1971));
    let found = check(&rough, beyond).expect_err("a part in the rough end");
    let lie = Lie::PartBeyondRun {
        board: 0,
        part: 0,
        by: mm(1),
    };
    assert!(found.contains(&lie), "{found:?}");
}

#[test]
fn a_cut_at_the_yard_that_is_not_needed_is_refused() {
    let mut plan = trestle_plan();
    plan.boards[1].yard_cut = Some(mm(1200));
    caught(&trestle(), plan, Lie::NeedlessYardCut { board: 1 });
}

/// The trestle, with parts made from this timber.
fn made_from(leg: &str, slat: &str) -> Job {
    job(|draft| {
        draft.section("47 x 75", |_| {});
        draft.yard("47 x 75", "2400", Some("5.00"), None);
        draft.yard("47 x 75", "3000", Some("6.50"), Some("1"));
        draft.shed("A", "47 x 75", "1300", "600..640");
        draft.part("leg", "47 x 75", "500", "2", "square");
        draft.part("slat", "47 x 75", "300", "3", "square");
        for (part, from) in [(0, leg), (1, slat)] {
            draft.parts[part].from = Some(from.into());
        }
    })
}

#[test]
fn a_part_of_new_timber_only_cut_from_a_board_of_the_shed_is_refused() {
    // The trestle's plan has a leg and a slat on the shed's board.
    let job = made_from("new timber only", "anything");
    caught(&job, trestle_plan(), Lie::WrongTimber { board: 0, part: 0 });
    // A board that counts as new timber will do.
    let mut fresh = job;
    fresh.shed[0].new = true;
    assert!(check(&fresh, trestle_plan()).is_ok());
}

#[test]
fn a_part_of_shed_boards_only_cut_from_new_timber_is_refused() {
    let job = made_from("shed boards only", "anything");
    caught(&job, trestle_plan(), Lie::WrongTimber { board: 1, part: 0 });
}

/// Two posts of 1500 that go in the ground and a rail of 1000, all of a treated section, from lengths of 4800; kerf 2.4, 10 mm trims.
fn two_posts(treated: &str) -> Job {
    job(|draft| {
        draft.section("75 x 75", |section| section.treated = Some(treated.into()));
        draft.yard("75 x 75", "4800", None, None);
        draft.part("post", "75 x 75", "1500", "2", "square");
        draft.parts[0].goes = Some("in the ground".into());
        draft.part("rail", "75 x 75", "1000", "1", "square");
    })
}

/// One post on each end and the rail between them, in two runs: the second post is one by itself.
fn two_posts_plan() -> Plan {
    let kerf = Length::from_ticks(7_680);
    let rail = placed(1, mm(1_500) + kerf, mm(2_500) + kerf);
    let first = PlannedRun {
        from: Length::ZERO,
        // 4800 less the post and a cut.
        to: mm(3_300) - kerf,
        cuts: vec![placed(0, Length::ZERO, mm(1_500)), rail],
    };
    let second = PlannedRun {
        from: mm(3_300),
        to: mm(4_800),
        cuts: vec![placed(0, mm(3_300), mm(4_800))],
    };
    Plan {
        boards: vec![board(Source::Yard(0), vec![first, second])],
        proofs: Vec::new(),
    }
}

#[test]
fn a_post_that_stands_on_no_factory_end_is_refused() {
    let not_on_end = |part| Lie::NotOnFactoryEnd { board: 0, part };
    // In the middle: post, rail, post, one behind the other.
    let job = two_posts("yes");
    let parts = laid(&job, Length::ZERO, &[0, 1, 0]);
    let mut plan = two_posts_plan();
    plan.boards[0].runs = vec![PlannedRun {
        from: Length::ZERO,
        to: mm(4_790),
        cuts: parts,
    }];
    caught(&job, plan, not_on_end(0));
    // Behind the trim of the datum end, which is then a cut end.
    let mut plan = two_posts_plan();
    plan.boards[0].runs = vec![one_run(&job, Source::Yard(0), &[0, 1, 0])];
    let both = vec![not_on_end(0), not_on_end(0)];
    assert_eq!(check(&job, plan), Err(both));
    // With a slanted end down.
    let mut slanted = two_posts("yes");
    slanted.sections[0].width = Some(mm(75));
    let ten = Angle::from_millidegrees(10_000).expect("an angle");
    slanted.parts[0].ends[0] = PartEnd::Mitre(ten);
    assert_eq!(check(&slanted, two_posts_plan()), Err(vec![not_on_end(0)]));
    // Where nobody knows whether it is treated, no end is reserved: then nothing begins before the trim.
    let lies = check(&two_posts("unknown"), two_posts_plan()).expect_err("it is untrimmed");
    assert!(
        lies.iter()
            .all(|lie| matches!(lie, Lie::NotAClearRun { .. })),
        "{lies:?}"
    );
}
