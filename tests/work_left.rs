//! What is left of a plan half done: cut parts are gone, rests of cut boards are boards of the shed, and everything is measured again.

use lengthwise::io::job_file;
use lengthwise::job::{Job, Stretch, Trim, validate};
use lengthwise::length::Length;
use lengthwise::plan::{Edge, Lies, PlacedPart, Plan, PlannedBoard, PlannedRun, Source};
use lengthwise::progress::{
    BoardProgress, Bought, LeftAlone, Progress, Rest, RestState, kept_offcuts, left, left_alone,
};

fn mm(millimetres: i64) -> Length {
    Length::from_mm(millimetres)
}

fn job() -> Job {
    let (draft, faults) = job_file::read(
        r#"{"format":"lengthwise-job","saw":{"kerf":4,"keep":300},
            "sections":[{"name":"batten","width":50,"trim":10}],
            "yard":[{"length":"2.4 m","price":"5","count":3}],
            "shed":[{"mark":"A","length":2000,"bad":"800..900","trim":20}],
            "parts":[{"label":"leg","length":500,"quantity":4},{"label":"cap","length":400,"quantity":2,"ends":"square; 45"}]}"#,
    );
    assert_eq!(faults, []);
    validate(&draft).expect("a job without faults")
}

fn placed(part: usize, start: i64, length: i64) -> PlacedPart {
    PlacedPart {
        part,
        start: mm(start),
        end: mm(start + length),
        lies: Lies::AsWritten,
        long_edge: Edge::Far,
    }
}

/// Board 0 is the shed board with a leg in each of its two runs; board 1 is a new length with two legs and two caps.
fn plan() -> Plan {
    let shed = PlannedBoard {
        source: Source::Shed(0),
        yard_cut: None,
        runs: vec![
            PlannedRun {
                from: mm(20),
                to: mm(800),
                cuts: vec![placed(0, 20, 500)],
            },
            PlannedRun {
                from: mm(900),
                to: mm(1980),
                cuts: vec![placed(0, 900, 500)],
            },
        ],
    };
    let new = PlannedBoard {
        source: Source::Yard(0),
        yard_cut: None,
        runs: vec![PlannedRun {
            from: mm(10),
            to: mm(2390),
            cuts: vec![
                placed(0, 10, 500),
                placed(0, 514, 500),
                placed(1, 1018, 400),
                placed(1, 1424, 400),
            ],
        }],
    };
    Plan {
        boards: vec![shed, new],
        proofs: Vec::new(),
    }
}

fn cut(board: usize, cut: usize) -> BoardProgress {
    BoardProgress {
        board,
        cut,
        ..BoardProgress::default()
    }
}

#[test]
fn nothing_done_leaves_the_job_as_it_was() {
    let left = left(&job(), &plan(), &Progress::default());
    let mut parts = job().parts;
    for (letter, part) in parts.iter_mut().enumerate() {
        part.letter = Some(letter);
    }
    assert_eq!(left.parts, parts);
    assert_eq!(
        (left.shed_kept, left.shed_new.len(), left.bought),
        (vec![0], 0, vec![0])
    );
}

#[test]
fn a_board_half_cut_is_measured_from_its_fresh_end() {
    let progress = Progress {
        boards: vec![cut(0, 1), cut(1, 2)],
        bought: Vec::new(),
    };
    let left = left(&job(), &plan(), &progress);
    assert_eq!(
        left.parts
            .iter()
            .map(|part| part.quantity)
            .collect::<Vec<_>>(),
        [1, 2]
    );
    assert!(left.shed_kept.is_empty());
    // The shed board is 2000 long and was cut at 520 with a kerf of 4: 1476 are left, its bad stretch now at 276..376.
    let rest = &left.shed_new[0];
    assert_eq!(
        (rest.length, rest.bad[0].from, rest.bad[0].to),
        (mm(1476), mm(276), mm(376))
    );
    assert_eq!(
        rest.trim,
        Trim {
            datum: Length::ZERO,
            far: mm(20)
        }
    );
    // The new length was cut at 1014: 2400 - 1018 are left, and it counts as bought.
    assert_eq!(left.shed_new[1].length, mm(1382));
    assert_eq!(left.bought, [1]);
}

#[test]
fn a_spoiled_part_is_wanted_again() {
    let spoiled = BoardProgress {
        spoiled: vec![1],
        ..cut(1, 2)
    };
    let left = left(
        &job(),
        &plan(),
        &Progress {
            boards: vec![spoiled],
            bought: Vec::new(),
        },
    );
    assert_eq!(
        left.parts
            .iter()
            .map(|part| part.quantity)
            .collect::<Vec<_>>(),
        [3, 2]
    );
}

#[test]
fn what_is_left_of_a_board_found_bad_says_where() {
    let bad = BoardProgress {
        bad: vec![Stretch {
            from: mm(1500),
            to: mm(2400),
        }],
        ..cut(1, 1)
    };
    let left = left(
        &job(),
        &plan(),
        &Progress {
            boards: vec![bad],
            bought: Vec::new(),
        },
    );
    // Cut at 510, so 514..2400 is left, and what is bad begins at 1500.
    let rest = &left.shed_new[0];
    assert_eq!((rest.from, rest.length), (mm(514), mm(1886)));
    let bad = Stretch {
        from: mm(986),
        to: mm(1886),
    };
    assert_eq!(rest.bad, [bad]);
}

#[test]
fn a_mitred_fresh_end_is_squared_before_it_is_used() {
    let left = left(
        &job(),
        &plan(),
        &Progress {
            boards: vec![cut(1, 3)],
            bought: Vec::new(),
        },
    );
    // The cap ends at 1418; the cut takes 4 / cos 45 = 5.657 mm, and the other edge stands 50 mm back.
    let rest = &left.shed_new[0];
    assert_eq!(
        rest.trim,
        Trim {
            datum: mm(50),
            far: mm(10)
        }
    );
    let hundredths = (rest.length.ticks() + 16) / 32;
    assert_eq!(hundredths, 240_000 - 141_800 - 566 + 5_000);
}

#[test]
fn bought_lengths_are_there_as_measured() {
    let bought = Bought {
        line: 0,
        lengths: vec![Some(mm(2412)), None],
        bad: Vec::new(),
    };
    let left = left(
        &job(),
        &plan(),
        &Progress {
            boards: Vec::new(),
            bought: vec![bought],
        },
    );
    let lengths: Vec<Length> = left.shed_new.iter().map(|rest| rest.length).collect();
    assert_eq!(lengths, [mm(2412), mm(2400)]);
    assert_eq!((left.bought, left.shed_kept), (vec![2], vec![0]));
}

#[test]
fn a_bought_length_too_long_to_carry_has_had_the_yards_cut() {
    // 4 m, and the vehicle takes 2.2 m: the plan cuts at 1996. The second piece gives an offcut to keep, so any cut down to the 1814 that the legs of
    // the first need, and three steps for its marks, will do: the middle is 1905.75, and a yard saws at 1910. The rest of 4000 - 1910 - 4 = 2086
    // fits too. Both legs of the first piece and the one of the second are still wanted.
    let (draft, faults) = job_file::read(
        r#"{"format":"lengthwise-job","carry":2200,"yard_tolerance":0,"yard_trim":0,"saw":{"kerf":4},
            "sections":[{"name":"batten","width":50,"trim":10}],
            "yard":[{"length":"4 m"}],"parts":[{"label":"leg","length":900,"quantity":3}]}"#,
    );
    assert_eq!(faults, []);
    let job = validate(&draft).expect("a job without faults");
    let run = |from, to, cuts| PlannedRun {
        from: mm(from),
        to: mm(to),
        cuts,
    };
    let board = PlannedBoard {
        source: Source::Yard(0),
        yard_cut: Some(mm(1996)),
        runs: vec![
            run(10, 1996, vec![placed(0, 10, 900), placed(0, 914, 900)]),
            run(2000, 3990, vec![placed(0, 2000, 900)]),
        ],
    };
    let plan = Plan {
        boards: vec![board],
        proofs: Vec::new(),
    };
    let found = |length: Option<i64>, bad: Vec<Stretch>| Bought {
        line: 0,
        lengths: vec![length.map(mm)],
        bad: vec![bad],
    };
    let after = |bought: Bought| {
        let progress = Progress {
            boards: Vec::new(),
            bought: vec![bought],
        };
        left(&job, &plan, &progress)
    };
    let trim = |datum, far| Trim {
        datum: mm(datum),
        far: mm(far),
    };
    let sold = after(found(None, Vec::new()));
    let seen: Vec<_> = sold
        .shed_new
        .iter()
        .map(|rest| (rest.length, rest.trim, rest.state))
        .collect();
    let state = RestState::Carried(mm(1910));
    assert_eq!(
        seen,
        [
            (mm(1910), trim(10, 0), state),
            (mm(2086), trim(0, 10), state)
        ]
    );
    assert_eq!((sold.parts[0].quantity, &sold.bought[..]), (3, &[1][..]));

    // 4.3 m by the tape: cut at 1910 the second piece would have 2386, so the cut moves to 4300 - 4 - 2200. The bad stretch
    // 2050..2150 lies on both sides of it: 46 mm on the first piece, 50 on the second.
    let stretch = |from, to| Stretch {
        from: mm(from),
        to: mm(to),
    };
    let long = after(found(Some(4300), vec![stretch(2050, 2150)]));
    let seen: Vec<_> = long
        .shed_new
        .iter()
        .map(|rest| (rest.length, rest.bad.clone()))
        .collect();
    assert_eq!(
        seen,
        [
            (mm(2096), vec![stretch(2050, 2096)]),
            (mm(2200), vec![stretch(0, 50)])
        ]
    );

    // One more than the plan has: its first piece as long as can be.
    let more = after(Bought {
        line: 0,
        lengths: vec![None, None],
        bad: Vec::new(),
    });
    let lengths: Vec<Length> = more.shed_new.iter().map(|rest| rest.length).collect();
    assert_eq!(lengths, [mm(1910), mm(2086), mm(2200), mm(1796)]);
}

#[test]
fn a_carried_piece_that_nobody_measured_yet_is_as_short_as_the_yard_may_have_sawn_it() {
    // The same with a yard that is up to 10 mm off, and 10 mm to trim off what it sawed: the legs of the first piece need 1834 and three steps, and
    // the middle of that and 1996 is 1915.75. The pieces are 1920 and 2076 as told, and at the least 10 less.
    let (draft, faults) = job_file::read(
        r#"{"format":"lengthwise-job","carry":2200,"saw":{"kerf":4},
            "sections":[{"name":"batten","width":50,"trim":10}],
            "yard":[{"length":"4 m"}],"parts":[{"label":"leg","length":900,"quantity":3}]}"#,
    );
    assert_eq!(faults, []);
    let job = validate(&draft).expect("a job without faults");
    let run = |from, to, cuts| PlannedRun {
        from: mm(from),
        to: mm(to),
        cuts,
    };
    let board = PlannedBoard {
        source: Source::Yard(0),
        yard_cut: Some(mm(1996)),
        runs: vec![
            run(10, 1976, vec![placed(0, 10, 900), placed(0, 914, 900)]),
            run(2010, 3980, vec![placed(0, 2010, 900)]),
        ],
    };
    let plan = Plan {
        boards: vec![board],
        proofs: Vec::new(),
    };
    let rests = |length: Option<i64>| {
        let bought = Bought {
            line: 0,
            lengths: vec![length.map(mm)],
            bad: vec![Vec::new()],
        };
        let progress = Progress {
            boards: Vec::new(),
            bought: vec![bought],
        };
        let rests = left(&job, &plan, &progress).shed_new.into_iter();
        rests
            .map(|rest| (rest.length, rest.trim))
            .collect::<Vec<_>>()
    };
    let trim = Trim {
        datum: mm(10),
        far: mm(10),
    };
    assert_eq!(rests(None), [(mm(1910), trim), (mm(2066), trim)]);
    // 20 mm more by the tape are on the second piece.
    assert_eq!(rests(Some(4020)), [(mm(1910), trim), (mm(2086), trim)]);
}

#[test]
fn a_first_carried_piece_that_nothing_is_cut_from_goes_back_whole() {
    // Both legs come of the second piece: 10 and two legs and a cut are 1814, so the first may be up to 3000 - 4 - 1814 = 1182 long, less three steps
    // for the marks. It is planned at 1100, and the middle of 1100 and 1180.5 is 1140.25; a yard saws at 1140.
    let (draft, faults) = job_file::read(
        r#"{"format":"lengthwise-job","carry":2100,"yard_tolerance":0,"yard_trim":0,"saw":{"kerf":4,"keep":300},
            "sections":[{"name":"batten","width":50,"trim":10}],
            "yard":[{"length":"3 m"}],"parts":[{"label":"leg","length":900,"quantity":2}]}"#,
    );
    assert_eq!(faults, []);
    let job = validate(&draft).expect("a job without faults");
    let board = PlannedBoard {
        source: Source::Yard(0),
        yard_cut: Some(mm(1100)),
        runs: vec![PlannedRun {
            from: mm(1104),
            to: mm(2990),
            cuts: vec![placed(0, 1104, 900), placed(0, 2008, 900)],
        }],
    };
    let plan = Plan {
        boards: vec![board],
        proofs: Vec::new(),
    };
    let rests = kept_offcuts(&job, &plan, &Progress::default());
    let seen: Vec<_> = rests.iter().map(|rest| (rest.length, rest.trim)).collect();
    let trim = Trim {
        datum: mm(10),
        far: Length::ZERO,
    };
    assert_eq!(seen, [(mm(1140), trim)]);
}

#[test]
fn a_clear_run_before_other_cuts_goes_back_without_the_bad_stretch_before_it() {
    // Bad from 100 to 140 and from 600 to 700, so 460 go back; with the first 100 in front they would be 600 with a bad stretch.
    let (draft, faults) = job_file::read(
        r#"{"format":"lengthwise-job","saw":{"kerf":4,"keep":300},"sections":[{"name":"batten","width":50,"trim":0}],
            "shed":[{"mark":"A","length":1760,"bad":"100..140; 600..700","trim":0}],"parts":[{"label":"leg","length":1000}]}"#,
    );
    assert_eq!(faults, []);
    let job = validate(&draft).expect("a job without faults");
    let run = PlannedRun {
        from: mm(700),
        to: mm(1760),
        cuts: vec![placed(0, 700, 1000)],
    };
    let plan = Plan {
        boards: vec![PlannedBoard {
            source: Source::Shed(0),
            yard_cut: None,
            runs: vec![run],
        }],
        proofs: Vec::new(),
    };
    let lengths = |rests: Vec<Rest>| {
        let told = rests.into_iter().map(|rest| (rest.length, rest.bad));
        told.collect::<Vec<_>>()
    };
    let kept = kept_offcuts(&job, &plan, &Progress::default());
    assert_eq!(lengths(kept), [(mm(460), Vec::new())]);
    // While the work goes on the pieces that are too short to keep are there too: 136 before the cut at 140, of which 36 are bad,
    // and 56; the 92 between the cuts at 600 and 700 are all bad.
    let progress = Progress {
        boards: vec![cut(0, 1)],
        bought: Vec::new(),
    };
    let bad = Stretch {
        from: mm(100),
        to: mm(136),
    };
    assert_eq!(
        lengths(left(&job, &plan, &progress).shed_new),
        [
            (mm(136), vec![bad]),
            (mm(460), Vec::new()),
            (mm(56), Vec::new())
        ]
    );
}

#[test]
fn finished_boards_give_back_what_is_worth_keeping() {
    let rests = kept_offcuts(&job(), &plan(), &Progress::default());
    // Shed board: 276 before its bad stretch is too short; 2000 - 1404 behind the second leg is kept. New length: 2400 - 1824 less
    // the slanted cut, its long edge 50 mm more.
    let lengths: Vec<i64> = rests
        .iter()
        .map(|rest| rest.length.ticks() / 3_200)
        .collect();
    assert_eq!(lengths, [596, 620]);
}

#[test]
fn boards_the_plan_leaves_alone_are_worth_keeping_by_their_square_length() {
    // Keep is 300 mm. B is a rest with a slanted end of 50 mm: 340 - 50 is too short, as is C; D is just long enough.
    let (draft, faults) = job_file::read(
        r#"{"format":"lengthwise-job","saw":{"kerf":4,"keep":300},
            "sections":[{"name":"batten","width":50}],
            "shed":[{"mark":"A","length":2000},{"mark":"B","length":340,"trim":"50; 0"},
                {"mark":"C","length":299,"trim":"0; 0"},{"mark":"D","length":300,"trim":"0; 0"}],
            "parts":[{"label":"leg","length":500}]}"#,
    );
    assert_eq!(faults, []);
    let job = validate(&draft).expect("a job without faults");
    let board = PlannedBoard {
        source: Source::Shed(0),
        yard_cut: None,
        runs: vec![PlannedRun {
            from: mm(50),
            to: mm(1950),
            cuts: vec![placed(0, 50, 500)],
        }],
    };
    let plan = Plan {
        boards: vec![board],
        proofs: Vec::new(),
    };
    let alone = |shed, short| LeftAlone { shed, short };
    assert_eq!(
        left_alone(&job, &plan),
        [alone(1, true), alone(2, true), alone(3, false)]
    );
}

#[test]
fn what_is_left_keeps_its_letters_when_other_parts_are_all_cut() {
    // Board 0 has two legs, board 1 two legs and two caps: with five cut, a cap is left.
    let progress = Progress {
        boards: vec![cut(0, 2), cut(1, 3)],
        bought: Vec::new(),
    };
    let left = left(&job(), &plan(), &progress);
    let told: Vec<_> = left
        .parts
        .iter()
        .map(|part| (part.label.as_str(), part.quantity, part.letter))
        .collect();
    assert_eq!(told, [("cap", 1, Some(1))]);
    assert_eq!(
        (left.rows, left.made, left.spoiled),
        (vec![1], vec![4, 1], vec![0, 0])
    );
}

#[test]
fn a_spoiled_part_is_counted_apart_from_those_that_are_made() {
    let spoiled = BoardProgress {
        spoiled: vec![0],
        ..cut(0, 2)
    };
    let progress = Progress {
        boards: vec![spoiled],
        bought: Vec::new(),
    };
    let left = left(&job(), &plan(), &progress);
    assert_eq!(
        (left.rows, left.made, left.spoiled),
        (vec![0, 1], vec![1, 0], vec![1, 0])
    );
    assert_eq!(left.parts[0].quantity, 3);
}

#[test]
fn parts_without_a_letter_get_those_after_all_that_are_given() {
    let (draft, faults) = job_file::read(
        r#"{"format":"lengthwise-job","sections":[{"name":"batten"}],
            "parts":[{"label":"one","length":500},{"label":"two","length":400,"letter":"AB"},{"label":"three","length":300}]}"#,
    );
    assert_eq!(faults, []);
    let job = validate(&draft).expect("a job without faults");
    // AB is the 28th, after A to Z and AA.
    assert_eq!(job.letters(), [28, 27, 29]);
    let letters: Vec<_> = lengthwise::report::names(&job)
        .into_iter()
        .map(|name| name.letters)
        .collect();
    assert_eq!(letters, [["AC"], ["AB"], ["AD"]]);
}

#[test]
fn what_is_ripped_out_of_pieces_of_its_own_keeps_its_letter() {
    // Staves have bevelled edges, so each is ripped by itself; laths share pieces of two, and one is left over for a piece of its own.
    let (draft, faults) = job_file::read(
        r#"{"format":"lengthwise-job","saw":{"kerf":3},
            "sections":[{"name":"board","width":100,"thickness":20,"treated":"no"}],
            "yard":[{"length":2400}],
            "parts":[{"label":"lath","length":500,"ripped":45,"quantity":3},
                {"label":"bar","length":300},
                {"label":"stave","length":400,"ripped":60,"bevel":"10","quantity":3}]}"#,
    );
    assert_eq!(faults, []);
    let job = validate(&draft).expect("a job without faults");
    let whole = job.parts.iter().map(|part| part.label.as_str());
    let whole: Vec<&str> = whole.collect();
    let letter = |label: &str| {
        let at = whole.iter().position(|one| *one == label);
        at.map(|at| job.letters()[at])
    };
    let told: Vec<_> = left(&job, &Plan::default(), &Progress::default())
        .parts
        .iter()
        .map(|part| (part.label.clone(), part.letter))
        .collect();
    let wanted = [
        ("lath", None),
        ("bar", letter("bar")),
        ("stave", letter("stave")),
    ];
    let wanted: Vec<_> = wanted
        .into_iter()
        .map(|(label, letter)| (label.to_owned(), letter))
        .collect();
    assert_eq!(told, wanted, "{whole:?}");
    assert!(letter("stave").is_some());
}
