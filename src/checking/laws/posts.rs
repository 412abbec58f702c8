//! Parts that stand on the ends of a board. The law is told here millimetre by millimetre of the board, and every way for two parts to stand is tried.

use super::{job, mm, placed, some};
use crate::board::{check_board, runs_of, standing};
use crate::ground::{ClearRun, Ground, Standing};
use crate::lie::Lie;
use crate::sharing::Sharing;
use timber::job::Job;
use timber::length::Length;
use timber::plan::{Edge, Lies, PlacedPart, PlannedBoard, PlannedRun, Source};

/// A board in whole millimetres: its length, its trims, its bad stretches, and whether its ends came from the factory.
#[derive(Clone, Debug)]
pub(crate) struct Plank {
    pub(crate) length: i64,
    pub(crate) trim: [i64; 2],
    pub(crate) bad: Vec<[i64; 2]>,
    pub(crate) factory: [bool; 2],
}

/// The lengths of the posts that are tried, the step of the tape and what the widest cut takes; a kerf takes 3.
pub(crate) const POSTS: [i64; 10] = [12, 14, 15, 16, 150, 285, 286, 299, 300, 301];
pub(crate) const STEP: i64 = 4;

/// Boards of 300 with all that may be in the way of a part at an end.
pub(crate) fn planks() -> Vec<Plank> {
    let mut planks = Vec::new();
    for bad in [
        vec![],
        vec![[0, 8]],
        vec![[8, 15]],
        vec![[15, 18]],
        vec![[16, 20]],
        vec![[140, 141]],
        vec![[150, 160], [200, 201]],
        vec![[281, 282]],
        vec![[282, 283]],
        vec![[283, 288]],
        vec![[292, 300]],
    ] {
        for factory in [[false, false], [true, false], [false, true], [true, true]] {
            for trim in [[15, 15], [15, 0], [0, 15], [15, 16]] {
                planks.push(Plank {
                    length: 300,
                    trim,
                    bad: bad.clone(),
                    factory,
                });
            }
        }
    }
    planks
}

/// A job with this board in its shed. The posts have square ends, and a bar with an end at 60 degrees makes the widest cut twice a kerf.
pub(crate) fn job_of(plank: &Plank, posts: &[i64]) -> Job {
    let bad = plank.bad.iter().map(|[from, to]| format!("{from}..{to}"));
    let bad = bad.collect::<Vec<_>>().join("; ");
    let trim = format!("{}; {}", plank.trim[0], plank.trim[1]);
    let lengths: Vec<String> = posts.iter().map(i64::to_string).collect();
    let mut parts: Vec<(&str, &str, &str)> = vec![("80", "60; square", "1")];
    parts.extend(
        lengths
            .iter()
            .map(|length| (length.as_str(), "square", "2")),
    );
    job(&[("300", &bad, &trim)], &parts, |draft| {
        draft.own.step = some(&STEP.to_string());
        draft.sections[0].treated = some("yes");
        let ends = match plank.factory {
            [false, false] => "none",
            [true, false] => "datum end",
            [false, true] => "far end",
            [true, true] => "both",
        };
        draft.shed[0].factory_ends = some(ends);
        for part in &mut draft.parts[1..] {
            part.goes = some("in the ground");
        }
    })
}

/// What the widest cut of the section takes: 3 / cos 60.
const WIDEST: i64 = 6;

/// The clear runs of a board with parts of these lengths on its ends, a millimetre at a time; none where they cannot stand there.
pub(crate) fn clear_beside(plank: &Plank, [datum, far]: [Option<i64>; 2]) -> Option<Vec<[i64; 2]>> {
    let sound_to = plank.length - plank.trim[1];
    let is_bad = |at: i64| {
        let mut bad = plank.bad.iter();
        bad.any(|[from, to]| (*from..(*to).max(from + WIDEST)).contains(&at))
    };
    let is_clear = |at: i64| (plank.trim[0]..sound_to).contains(&at) && !is_bad(at);
    let mut runs: Vec<[i64; 2]> = Vec::new();
    for at in (0..plank.length).filter(|at| is_clear(*at)) {
        match runs.last_mut() {
            Some([_, to]) if *to == at => *to += 1,
            _ => runs.push([at, at + 1]),
        }
    }
    if let Some(far) = far {
        // Measured to a step of the tape from the far end.
        let told = (far..).find(|told| told % STEP == 0).expect("a step");
        let start = plank.length - told;
        let reaches_in = (sound_to..=plank.length).any(|at| is_bad(at) || is_bad(at - 1));
        let last = runs.last_mut()?;
        if !plank.factory[1] || reaches_in || told < plank.trim[1] || start < last[0] {
            return None;
        }
        last[1] = start - WIDEST;
    }
    if let Some(datum) = datum {
        let reaches_in = (0..=plank.trim[0]).any(is_bad);
        let is_board = datum == plank.length
            && plank.bad.is_empty()
            && plank.factory == [true, true]
            && far.is_none();
        let first = runs.first_mut()?;
        if is_board {
            first[1] = plank.length;
        }
        if !plank.factory[0] || reaches_in || datum < plank.trim[0] || datum > first[1] {
            return None;
        }
        first[0] = 0;
    }
    runs.retain(|[from, to]| to > from);
    Some(runs)
}

/// Every two parts on the ends, and one alone.
pub(crate) fn pairs() -> Vec<[Option<i64>; 2]> {
    let one = || POSTS.into_iter().map(Some).chain([None]);
    one()
        .flat_map(|datum| one().map(move |far| [datum, far]))
        .collect()
}

fn in_mm(runs: &[ClearRun]) -> Vec<[i64; 2]> {
    let mm = |length: Length| length.ticks() / 3_200;
    runs.iter()
        .map(|run| [mm(run.from), mm(run.to)])
        .filter(|[from, to]| to > from)
        .collect()
}

fn lengths(pair: [Option<i64>; 2]) -> Standing {
    pair.map(|one| one.map(mm))
}

#[test]
fn a_part_stands_on_a_factory_end_where_the_timber_from_there_on_is_sound() {
    let mut stood = 0;
    for plank in planks() {
        let job = job_of(&plank, &[POSTS[0]]);
        let ground = Ground::of(&job, Source::Shed(0)).expect("a board");
        for pair in pairs() {
            let found = ground.runs_beside(&job, lengths(pair));
            let found = found.map(|runs| in_mm(&runs));
            let expected = clear_beside(&plank, pair);
            stood += usize::from(expected.is_some() && pair != [None, None]);
            assert_eq!(found, expected, "{plank:?} {pair:?}");
        }
    }
    assert!(stood > 300, "{stood}");
}

#[test]
fn the_run_of_a_part_at_the_far_end_is_its_own_and_the_last() {
    for plank in planks() {
        let job = job_of(&plank, &[POSTS[0]]);
        let ground = Ground::of(&job, Source::Shed(0)).expect("a board");
        for pair in pairs() {
            let expected = clear_beside(&plank, pair).map(|mut runs| {
                runs.extend(pair[1].map(|far| [plank.length - far, plank.length]));
                runs
            });
            let found = runs_of(&job, &ground, None, lengths(pair));
            if let Some([.., last]) = found.as_deref() {
                let far = pair[1].map(mm);
                let to = ground.length;
                assert!(far.is_none_or(|far| (last.from, last.to) == (to - far, to)));
            }
            assert_eq!(found.map(|runs| in_mm(&runs)), expected, "{plank:?}");
        }
    }
}

/// A length of 1000 that the yard cuts at 500, with trims of 12, fresh ends that lose 5 and a yard that saws 7 off. The first piece is clear from 12 to
/// 500 - 5 - 7, the second from 503 + 5 to 1000 - 12 - 7; a part at the far end is measured from there.
#[test]
fn parts_stand_on_both_pieces_of_a_length_that_the_yard_cuts() {
    let job = job(
        &[],
        &[("80", "60; square", "1"), ("100", "square", "2")],
        |draft| {
            draft.own.step = some("4");
            draft.own.carry = some("700");
            draft.own.yard_tolerance = some("7");
            draft.own.yard_trim = some("5");
            draft.sections[0].treated = some("yes");
            draft.sections[0].trim = some("12");
            draft.yard[0].length = some("1000");
            draft.parts[1].goes = some("in the ground");
        },
    );
    let ground = Ground::of(&job, Source::Yard(0)).expect("a length");
    let (first, second) = ([12, 488], [508, 981]);
    for datum in [None, Some(11), Some(12), Some(13), Some(488), Some(489)] {
        for far in [
            None,
            Some(8),
            Some(9),
            Some(10),
            Some(11),
            Some(478),
            Some(479),
            Some(480),
            Some(481),
            Some(600),
        ] {
            let told = far.map(|far| (far..).find(|told| told % 4 == 0).expect("a step"));
            let first = match datum {
                None => Some(first),
                Some(datum) => (12..=488).contains(&datum).then_some([0, 488]),
            };
            let second = match (far, told) {
                (Some(_), Some(told)) => {
                    let to = 1_000 - told - WIDEST - 7;
                    (told >= 12 && to >= 508).then_some([508, to])
                }
                _ => Some(second),
            };
            let expected = first.zip(second).map(|(first, second)| {
                let runs = [first, second].into_iter();
                runs.filter(|[from, to]| to > from).collect::<Vec<_>>()
            });
            let found = ground.carried_runs(&job, mm(500), lengths([datum, far]));
            assert_eq!(
                found.map(|runs| in_mm(&runs)),
                expected,
                "{datum:?} {far:?}"
            );
        }
    }
}

/// A part as written, or turned.
fn lying(part: usize, from: i64, to: i64, lies: Lies) -> PlacedPart {
    PlacedPart {
        lies,
        long_edge: Edge::Far,
        ..placed(part, mm(from), mm(to))
    }
}

/// What is found to stand on the ends of a board of 300 that is factory-made at both, where parts of 100 lie as told, and how many of them are told
/// to stand on none. The first has both ends square, the second is slanted at its second end.
fn stand_on(runs: Vec<Vec<PlacedPart>>) -> (Standing, usize) {
    stand_on_ends([true, true], runs)
}

/// The same on a board whose ends are factory ends or not.
fn stand_on_ends(factory: [bool; 2], runs: Vec<Vec<PlacedPart>>) -> (Standing, usize) {
    let plank = Plank {
        length: 300,
        trim: [15, 15],
        bad: Vec::new(),
        factory,
    };
    let mut job = job_of(&plank, &[100, 100]);
    job.parts[2].ends.reverse();
    let slanted = job.parts[0].ends[0];
    job.parts[2].ends[1] = slanted;
    let ground = Ground::of(&job, Source::Shed(0)).expect("a board");
    let runs = runs.into_iter().map(|cuts| PlannedRun {
        from: Length::ZERO,
        to: mm(300),
        cuts,
    });
    let planned = PlannedBoard {
        source: Source::Shed(0),
        yard_cut: None,
        runs: runs.collect(),
    };
    let mut lies = Vec::new();
    let found = standing(&job, (0, &planned), &ground, &mut lies);
    let told = lies.iter().filter(|lie| {
        matches!(
            lie,
            Lie::NotOnFactoryEnd {
                board: 0,
                part: 1 | 2
            }
        )
    });
    assert_eq!(told.count(), lies.len());
    (found, lies.len())
}

#[test]
fn the_first_part_stands_on_the_datum_end_and_one_in_a_run_of_its_own_on_the_far_end() {
    let long = Some(mm(100));
    let (written, turned) = (Lies::AsWritten, Lies::Turned);
    let post = |from: i64| lying(1, from, from + 100, written);
    let bar = |from: i64| lying(0, from, from + 80, written);
    assert_eq!(stand_on(vec![vec![post(0)]]), ([long, None], 0));
    assert_eq!(stand_on(vec![vec![post(200)]]), ([None, long], 0));
    assert_eq!(
        stand_on(vec![vec![post(0), bar(103)], vec![post(200)]]),
        ([long, long], 0)
    );
    // Not at an end, not the first, not alone in its run, not the last run: it stands on none.
    assert_eq!(stand_on(vec![vec![post(1)]]), ([None; 2], 1));
    assert_eq!(stand_on(vec![vec![post(199)]]), ([None; 2], 1));
    assert_eq!(stand_on(vec![vec![bar(0), post(43)]]), ([None; 2], 1));
    assert_eq!(stand_on(vec![vec![bar(20), post(200)]]), ([None; 2], 1));
    assert_eq!(stand_on(vec![vec![post(200), bar(20)]]), ([None; 2], 1));
    assert_eq!(
        stand_on(vec![vec![post(200)], vec![bar(20)]]),
        ([None; 2], 1)
    );
    assert_eq!(stand_on(vec![vec![bar(20)], vec![post(0)]]), ([None; 2], 1));
    assert_eq!(
        stand_on(vec![vec![post(0)], vec![post(103)], vec![post(200)]]),
        ([long, long], 1)
    );
    // An end that was sawn is no factory end.
    let both = || vec![vec![post(0)], vec![post(200)]];
    assert_eq!(stand_on_ends([true, false], both()), ([long, None], 1));
    assert_eq!(stand_on_ends([false, true], both()), ([None, long], 1));
    // A slanted top does not go down.
    let slanted = |from: i64, lies: Lies| vec![vec![lying(2, from, from + 100, lies)]];
    assert_eq!(stand_on(slanted(0, written)), ([long, None], 0));
    assert_eq!(stand_on(slanted(0, turned)), ([None; 2], 1));
    assert_eq!(stand_on(slanted(200, turned)), ([None, long], 0));
    assert_eq!(stand_on(slanted(200, written)), ([None; 2], 1));
}

#[test]
fn a_board_on_which_parts_stand_as_told_holds_and_any_other_does_not() {
    let mut held = 0;
    for plank in planks() {
        for pair in [[Some(150), None], [None, Some(100)], [Some(60), Some(100)]] {
            let posts: Vec<i64> = pair.into_iter().flatten().collect();
            let job = job_of(&plank, &posts);
            let mut runs = Vec::new();
            let clear = clear_beside(&plank, pair).unwrap_or_else(|| vec![[0, plank.length]]);
            if let Some(datum) = pair[0] {
                runs.push(PlannedRun {
                    from: Length::ZERO,
                    to: mm(clear[0][1]),
                    cuts: vec![placed(1, Length::ZERO, mm(datum))],
                });
            }
            if let Some(far) = pair[1] {
                let (from, to) = (mm(plank.length - far), mm(plank.length));
                runs.push(PlannedRun {
                    from,
                    to,
                    cuts: vec![placed(posts.len(), from, to)],
                });
            }
            let planned = PlannedBoard {
                source: Source::Shed(0),
                yard_cut: None,
                runs,
            };
            let mut lies = Vec::new();
            check_board(&job, &Sharing::of_all(&job), (0, &planned), &mut lies);
            let holds = clear_beside(&plank, pair).is_some();
            let refused = lies.iter().all(|lie| {
                matches!(
                    lie,
                    Lie::NotOnFactoryEnd { .. } | Lie::PartInBadStretch { .. }
                )
            });
            assert!(refused, "{lies:?}");
            assert_eq!(holds, lies.is_empty(), "{plank:?} {pair:?} {lies:?}");
            held += usize::from(holds);
        }
    }
    assert!(held > 30, "{held}");
}

#[test]
fn a_part_stands_on_whichever_end_its_square_end_can_be_turned_to() {
    use crate::wood::{Wood, stocks};
    use timber::job::Sides;
    let on = |ends: &str, sides: [Sides; 2]| {
        let mut job = job(&[], &[("100", ends, "2")], |draft| {
            draft.sections[0].treated = some("yes");
            draft.parts[0].goes = some("in the ground");
        });
        (job.sections[0].faces, job.sections[0].edges) = sides.into();
        let wood = Wood::of(&job, stocks(&job, &[0])[0]).expect("no families");
        let post = wood.posts[0];
        (post.on, post.cut)
    };
    // A kerf of 3 takes 6 at 60 degrees.
    let [square, slanted] = [3, 6].map(|cut| mm(cut).ticks());
    let (alike, different) = (Sides::Alike, Sides::Different);
    for sides in [[alike, alike], [different, alike], [different, different]] {
        assert_eq!(on("square", sides), ([true, true], square));
    }
    // End for end it is turned unless both its faces and its edges are different.
    for sides in [[alike, alike], [different, alike], [alike, different]] {
        assert_eq!(on("square; 60", sides), ([true, true], slanted));
        assert_eq!(on("60; square", sides), ([true, true], slanted));
    }
    let fixed = [different, different];
    assert_eq!(on("square; 60", fixed), ([true, false], slanted));
    assert_eq!(on("60; square", fixed), ([false, true], slanted));
}
