//! Where set-outs are fixed to what they stand on, and what is bought beside timber. Counts follow from the numbers of boards and of what is behind them.

use crate::common::random::Random;
use crate::small::{Written, draft, fact, faults, marks, number, sound};
use lengthwise::job::Job;
use lengthwise::quantities::{rows, work_out};

const FRAME: &str = "frame";
const BOARD: &str = "board";

fn job(set_outs: &[Written]) -> Job {
    sound(&draft(
        "mm",
        &[(FRAME, "45", "70", ""), (BOARD, "20", "120", "")],
        set_outs,
    ))
}

/// How often a set-out is fixed, by the words for it.
fn fixed(job: &Job, row: usize) -> Vec<(String, u32)> {
    let joints = job.set_outs[row].joints.iter();
    joints
        .map(|joint| (joint.what.clone(), joint.count))
        .collect()
}

fn told(job: &Job, name: &str) -> Option<(String, String)> {
    let row = rows(job, &work_out(job))
        .into_iter()
        .find(|row| row.name == name)?;
    Some((row.value, row.basis))
}

const PANEL: Written = (
    "Panel",
    "frame",
    &[
        ("width", "1500"),
        ("height", "1245"),
        ("section", FRAME),
        ("uprights", "2"),
    ],
);

const BOARDS: Written = (
    "Boards",
    "boarding",
    &[
        ("on", "[Panel] back"),
        ("section", BOARD),
        ("run", "across"),
        ("gap", "5"),
    ],
);

const DOOR: Written = (
    "Door",
    "boarding",
    &[
        ("width", "900"),
        ("height", "1200"),
        ("section", BOARD),
        ("run", "upright"),
        ("gap", "5"),
    ],
);

const LEDGES: Written = (
    "Ledges",
    "parts",
    &[
        ("label", "ledge"),
        ("on", "[Door] back"),
        ("section", BOARD),
        ("quantity", "3"),
    ],
);

#[test]
fn boards_are_counted_over_what_they_really_cross() {
    // Ten boards of 120 at gaps of 5 are 1245: each crosses two stiles and two uprights, and those along the rails are not counted there.
    let job = job(&[PANEL, BOARDS]);
    assert_eq!(fixed(&job, 1), [("boards over rails".to_owned(), 4 * 10)]);
}

#[test]
fn supports_that_are_typed_and_boards_that_touch_nothing_stay_as_they_are_said() {
    let with = |more: &[(&str, &str)]| {
        let mut fields = vec![
            ("on", "[Panel] back"),
            ("section", BOARD),
            ("run", "across"),
        ];
        fields.extend_from_slice(more);
        let job = job(&[PANEL, ("Boards", "boarding", &fields)]);
        (fixed(&job, 1)[0].1, number(&job.set_outs[1], "boards"))
    };
    let (count, boards) = with(&[("supports", "7")]);
    assert_eq!(count, 7 * boards);
    let usual = with(&[("off", "30")]);
    assert_eq!(usual, with(&[("supports", "2"), ("off", "30")]));
    assert_ne!(with(&[]).0, usual.0);
}

#[test]
fn ledges_on_boards_are_counted_once_and_take_what_a_board_takes() {
    let job = job(&[DOOR, LEDGES]);
    let boards = number(&job.set_outs[0], "boards");
    assert_eq!(fixed(&job, 0), []);
    assert_eq!(fixed(&job, 1), [("places on Door".to_owned(), 3 * boards)]);
    // Boards of 120 take two at each crossing.
    let quantities = work_out(&job);
    let boards = u64::from(boards);
    assert_eq!(
        (quantities.crossings.places, quantities.crossings.count),
        (3 * boards, 6 * boards)
    );
}

#[test]
fn a_brace_on_boards_that_have_their_ledges_already_is_fixed_to_boards_and_not_to_a_frame() {
    let job = job(&[
        DOOR,
        LEDGES,
        (
            "Brace",
            "brace",
            &[
                ("on", "[Door] back"),
                ("up", "120"),
                ("height", "420"),
                ("section", BOARD),
            ],
        ),
    ]);
    let ledges = u64::from(3 * number(&job.set_outs[0], "boards"));
    let [ends, (what, brace)] = &fixed(&job, 2)[..] else {
        panic!("a brace has its ends and what it lies on");
    };
    assert_eq!((ends.1, what.as_str()), (2, "places on Door"));
    let brace = u64::from(*brace);
    let quantities = work_out(&job);
    assert_eq!(quantities.frame_joints.places, 2);
    // Two at each crossing of a ledge, and one to a board in the brace.
    assert_eq!(
        (quantities.crossings.places, quantities.crossings.count),
        (ledges + brace, 2 * ledges + brace)
    );
}

#[test]
fn a_lid_that_is_loose_is_not_fixed_and_brings_its_hinges() {
    let lid = |more: &[(&'static str, &'static str)]| {
        let mut fields = vec![("on", "[Box] top"), ("section", FRAME), ("times", "1")];
        fields.extend_from_slice(more);
        job(&[
            (
                "Box",
                "box",
                &[
                    ("width", "900"),
                    ("depth", "600"),
                    ("height", "500"),
                    ("section", FRAME),
                ],
            ),
            ("Lid", "top_frame", &fields),
        ])
    };
    let is_fixed = |job: &Job| {
        fixed(job, 1)
            .iter()
            .any(|(what, count)| what == "places on Box" && *count > 0)
    };
    let (screwed, loose) = (
        lid(&[]),
        lid(&[
            ("held", "loose"),
            ("bought", "2 strap hinges; 1 latch;"),
            ("covered", "yes"),
        ]),
    );
    assert_eq!([is_fixed(&screwed), is_fixed(&loose)], [true, false]);
    let for_lid = |value: &str| Some((value.to_owned(), "for Lid".to_owned()));
    assert_eq!(
        (told(&loose, "strap hinges"), told(&loose, "latch")),
        (for_lid("2"), for_lid("1"))
    );
    assert_eq!(told(&screwed, "latch"), None);
    // 900 by 600 is 0.54 m2, and a tenth more 0.594.
    let felt = told(&loose, "Felt, or another sheet off the roll").map(|row| row.0);
    assert_eq!(felt.as_deref(), Some("0.59 m\u{b2}"));
}

#[test]
fn what_is_bought_has_a_number_and_a_name() {
    for text in [
        "hinges",
        "2",
        "two hinges",
        "0 hinges",
        "2 hinges, latch; handle",
        "10001 nails",
    ] {
        let draft = draft(
            "mm",
            &[(FRAME, "45", "70", "")],
            &[(
                "Panel",
                "frame",
                &[
                    ("width", "1500"),
                    ("height", "1200"),
                    ("section", FRAME),
                    ("bought", text),
                ],
            )],
        );
        let faults: Vec<String> = faults(&draft).iter().map(ToString::to_string).collect();
        assert_eq!(
            faults,
            [
                "set_outs 1, bought: write a number and a name for each thing, such as 2 hinges; 1 latch"
            ],
            "{text}"
        );
    }
}

#[test]
fn the_size_over_all_says_whether_it_goes_through_the_door() {
    let through = |door: &str| {
        let mut draft = draft(
            "mm",
            &[(FRAME, "45", "70", "")],
            &[(
                "Box",
                "box",
                &[
                    ("width", "1900"),
                    ("depth", "780"),
                    ("height", "1300"),
                    ("section", FRAME),
                ],
            )],
        );
        draft.own.door = Some(door.to_owned());
        let job = sound(&draft);
        told(&job, "Size over all")
            .map(|row| row.1)
            .unwrap_or_default()
    };
    assert!(
        through("780").ends_with(
            "it goes through an opening of 780 mm by 1300 mm, so through a door 780 mm wide"
        ),
        "{}",
        through("780")
    );
    assert!(
        through("760")
            .ends_with("; it is too large for a door 760 mm wide: put it together beyond it"),
        "{}",
        through("760")
    );
}

#[test]
fn crossings_of_random_faces_are_those_of_their_marks() {
    let mut random = Random(20_261_127);
    for _ in 0..60 {
        let (high, wide, uprights): (i64, i64, u32) = (
            random.between(400, 1_900),
            random.between(500, 2_400),
            random.below(4),
        );
        let [high_text, wide_text, count] =
            [high.to_string(), wide.to_string(), uprights.to_string()];
        let job = job(&[
            (
                "Panel",
                "frame",
                &[
                    ("width", &wide_text),
                    ("height", &high_text),
                    ("section", FRAME),
                    ("uprights", &count),
                ],
            ),
            BOARDS,
        ]);
        // Rails of 70 lie at both ends, with the uprights between them; the stiles run past. What a board covers of an upright by less than 8 holds no
        // fixing. The last mark is the end of the last board.
        let marks: Vec<f64> = marks(&job.set_outs[1], 0)
            .iter()
            .map(|at| at.ticks() as f64 / 3_200.0)
            .collect();
        let gap = fact(&job.set_outs[1], "gap").ticks() as f64 / 3_200.0;
        let mut crossed = 0;
        for (nth, pair) in marks.windows(2).enumerate() {
            let is_last = nth + 2 == marks.len();
            let (from, to) = (pair[0], if is_last { pair[1] } else { pair[1] - gap });
            let covers = to.min(high as f64 - 70.0) - from.max(70.0);
            crossed += 2 + if covers >= 8.0 { uprights } else { 0 };
        }
        assert_eq!(
            fixed(&job, 1)[0].1,
            crossed,
            "{wide} by {high}, {uprights} uprights"
        );
    }
}
