//! What a person's marks may be. The law is told here in whole ticks of the tape, place by place, and every combination of marks near the
//! right ones is tried.

use super::{job, mm, placed, some, ticks};
use crate::board::check_board;
use crate::lie::Lie;
use crate::marks::check_marks;
use crate::sharing::Sharing;
use timber::job::{Fitting, Job};
use timber::length::Length;
use timber::marks::{MarkedBoard, mark_board};
use timber::plan::{Edge, Lies, PlacedPart, PlannedBoard, PlannedRun, Source};

const STEP: i64 = 3_200;

/// A board of one run with these parts.
fn board(from: Length, to: Length, cuts: Vec<PlacedPart>) -> PlannedBoard {
    PlannedBoard {
        source: Source::Shed(0),
        yard_cut: None,
        runs: vec![PlannedRun { from, to, cuts }],
    }
}

/// What is found false about these marks of a board that is sound as planned.
fn lies(job: &Job, planned: &PlannedBoard, marked: &MarkedBoard) -> Vec<Lie> {
    let mut lies = Vec::new();
    let found =
        check_board(job, &Sharing::of_all(job), (0, planned), &mut lies).expect("a sound board");
    check_marks(job, 0, planned, &found, marked, &mut lies);
    lies
}

/// Marks at these places, each part told to miss so much.
fn marked(
    job: &Job,
    planned: &PlannedBoard,
    places: &[(Length, Length)],
    off: &[Length],
) -> MarkedBoard {
    let mut marked = mark_board(job, planned);
    for (cut, (start, end)) in marked.board.runs[0].cuts.iter_mut().zip(places) {
        (cut.start, cut.end) = (*start, *end);
    }
    marked.off = off.to_vec();
    marked
}

/// Places about a step around a right one: on the steps, and a tick to either side of each.
fn about(place: Length) -> Vec<Length> {
    let step = place.ticks().div_euclid(STEP);
    let steps = (step - 2..=step + 3).map(|step| step * STEP);
    steps
        .flat_map(|on| [on - 1, on, on + 1])
        .map(ticks)
        .collect()
}

/// What a part that goes free misses: nothing from its length to less than a step over.
fn missed_when_free(over: i64) -> i64 {
    match over {
        0..STEP => 0,
        other => other,
    }
}

/// What one that goes between others misses: nothing from its length to less than a step under.
fn missed_between(over: i64) -> i64 {
    match -over {
        0..STEP => 0,
        _ => over,
    }
}

#[test]
fn a_part_comes_out_from_its_length_to_less_than_a_step_over_or_is_told_to_miss_it() {
    for (goes, missed) in [
        ("free", missed_when_free as fn(i64) -> i64),
        ("between others", missed_between),
    ] {
        let job = job(
            &[("2000", "", "10.4")],
            &[("400.3", "square", "1")],
            |draft| {
                draft.parts[0].goes = match goes {
                    "free" => None,
                    other => some(other),
                };
            },
        );
        let length = job.parts[0].length;
        let (from, to) = (
            ticks(10 * STEP + 4 * STEP / 10),
            ticks(2_000 * STEP) - ticks(10 * STEP + 4 * STEP / 10),
        );
        let planned = board(from, to, vec![placed(0, from, from + length)]);
        assert_eq!(
            lies(&job, &planned, &mark_board(&job, &planned)),
            [],
            "{goes}"
        );
        let starts = [about(from), vec![from, from + ticks(1)]].concat();
        let mut sound = 0;
        for start in starts {
            for end in about(from + length) {
                let made = end - start;
                let misses = missed((made - length).ticks());
                // Where the run starts nothing is cut; a mark of its own stands on a step, and less than a step beyond.
                let starts_well = start == from
                    || start > from && start.ticks() % STEP == 0 && (start - from).ticks() < STEP;
                for told in [0, misses, misses + 1, misses - 1] {
                    // A part that is told to miss its length is marked where there is room, step or not.
                    let well =
                        starts_well && told == misses && (end.ticks() % STEP == 0 || told != 0);
                    let expected = match well {
                        true => vec![],
                        false => vec![Lie::MarkAstray {
                            board: 0,
                            part: 0,
                            made,
                        }],
                    };
                    let marks = marked(&job, &planned, &[(start, end)], &[ticks(told)]);
                    assert_eq!(
                        lies(&job, &planned, &marks),
                        expected,
                        "{goes}: {start:?} {end:?} {told}"
                    );
                    sound += usize::from(well);
                }
            }
        }
        assert!(sound > 20, "{sound}");
    }
}

#[test]
fn a_part_behind_a_square_cut_starts_where_that_cut_ends() {
    // The cut ends between two steps, so that the next step is no place for the part.
    let job = job(
        &[("2000", "", "10")],
        &[("400.3", "square", "2")],
        |draft| {
            draft.saw.kerf = some("2.4");
        },
    );
    let (length, kerf) = (job.parts[0].length, job.saw.kerf);
    let (from, to) = (mm(10), mm(1_990));
    let second = from + length + kerf;
    let planned = board(
        from,
        to,
        vec![
            placed(0, from, from + length),
            placed(0, second, second + length),
        ],
    );
    let first_end = mm(411);
    for start in [about(first_end + kerf), vec![first_end + kerf]].concat() {
        for end in about(start + length) {
            let made = end - start;
            let misses = missed_when_free((made - length).ticks());
            let well = start == first_end + kerf && (end.ticks() % STEP == 0 || misses != 0);
            let marks = marked(
                &job,
                &planned,
                &[(from, first_end), (start, end)],
                &[Length::ZERO, ticks(misses)],
            );
            let expected = match well {
                true => vec![],
                false => vec![Lie::MarkAstray {
                    board: 0,
                    part: 0,
                    made,
                }],
            };
            assert_eq!(lies(&job, &planned, &marks), expected, "{start:?} {end:?}");
        }
    }
}

/// Two parts behind each other whose ends that meet are as told, and a run that starts off the steps; of every place of the second one's start whether
/// it is taken for sound.
fn sound_starts(ends: [&str; 2], share: bool) -> (Length, Vec<(i64, bool)>) {
    let job = job(
        &[("2000", "", "10")],
        &[("400", ends[0], "1"), ("300", ends[1], "1")],
        |_| (),
    );
    let from = mm(10);
    let end = from + mm(400);
    let angled = |end: timber::job::PartEnd| crate::cuts::cut_width(job.saw.kerf, end);
    let mut gap = angled(job.parts[0].ends[1]);
    let mut second = placed(1, end, end);
    if share {
        gap -= mm(40);
        second.long_edge = Edge::Near;
    }
    (second.start, second.end) = (end + gap, end + gap + mm(300));
    let planned = board(from, mm(1_990), vec![placed(0, from, end), second]);
    let sound = |start: Length| {
        // Told to miss what it misses, so that its end may stand anywhere.
        let made = start + mm(350);
        let marks = marked(
            &job,
            &planned,
            &[(from, end), (start, made)],
            &[Length::ZERO, mm(50)],
        );
        lies(&job, &planned, &marks).is_empty()
    };
    let tried = (-2 * STEP..6 * STEP).filter(|at| {
        let place = (end + gap).ticks() + at;
        [0, 1, STEP - 1].contains(&place.rem_euclid(STEP)) || at.abs() <= 1
    });
    let tried = tried.map(|at| (at, sound(end + gap + ticks(at)))).collect();
    (end + gap, tried)
}

#[test]
fn a_mitre_behind_a_square_end_is_marked_on_a_step_up_to_three_steps_from_the_corner() {
    // Two millimetres, and less than a step more.
    let (place, starts) = sound_starts(["square", "45; square"], false);
    for (at, sound) in starts {
        let on_step = (place.ticks() + at).rem_euclid(STEP) == 0;
        let expected = at == 0 || at > 0 && on_step && at < 3 * STEP;
        assert_eq!(sound, expected, "{at}");
    }
}

#[test]
fn a_cut_of_its_own_behind_a_mitre_is_marked_on_the_next_step() {
    let (place, starts) = sound_starts(["square; 45", "45; square"], false);
    assert_ne!(place.ticks().rem_euclid(STEP), 0);
    for (at, sound) in starts {
        let on_step = (place.ticks() + at).rem_euclid(STEP) == 0;
        let expected = at == 0 || at > 0 && on_step && at < STEP;
        assert_eq!(sound, expected, "{at}");
    }
}

#[test]
fn two_parts_that_share_a_mitre_meet_in_that_cut_or_the_second_is_cut_anew() {
    let (_, starts) = sound_starts(["square; 45", "45; square"], true);
    let sound: Vec<i64> = starts
        .iter()
        .filter(|(_, sound)| *sound)
        .map(|(at, _)| *at)
        .collect();
    // Where they share a cut its place follows from it; the next step beyond would leave a sliver, sawn off with a cut of its own.
    assert_eq!(sound[0], 0);
    assert!(
        sound[1..].iter().all(|at| (1..STEP).contains(at)),
        "{sound:?}"
    );
    assert!(sound.len() <= 2, "{sound:?}");
}

#[test]
fn no_mark_stands_beyond_the_clear_run() {
    let job = job(
        &[("421.9", "", "10.4; 0")],
        &[("400.3", "square", "1")],
        |_| (),
    );
    let length = job.parts[0].length;
    let from = ticks(10 * STEP + 4 * STEP / 10);
    let to = ticks(421 * STEP + 9 * STEP / 10);
    let planned = board(from, to, vec![placed(0, from, from + length)]);
    let ends = |end: Length| {
        let misses = missed_when_free((end - from - length).ticks());
        let marks = marked(&job, &planned, &[(from, end)], &[ticks(misses)]);
        lies(&job, &planned, &marks).is_empty()
    };
    // The end of the board is as good as a step, and what is beyond is not there.
    assert!(ends(to));
    assert!(!ends(to + ticks(1)));
    assert!(!ends(mm(422)));
    assert!(!ends(from));
    assert!(!ends(from - ticks(1)));
}

#[test]
fn marks_speak_of_the_same_parts_in_the_same_order_and_places_of_the_plan() {
    let job = job(
        &[("2000", "900..910", "10"), ("2000", "900..910", "10")],
        &[("400", "square", "3"), ("400", "45", "1")],
        |_| (),
    );
    let from = mm(10);
    let second = mm(413);
    let planned = PlannedBoard {
        source: Source::Shed(0),
        yard_cut: None,
        runs: vec![
            PlannedRun {
                from,
                to: mm(900),
                cuts: vec![
                    placed(0, from, mm(410)),
                    placed(0, second, second + mm(400)),
                ],
            },
            PlannedRun {
                from: mm(910),
                to: mm(1_990),
                cuts: vec![placed(0, mm(910), mm(1_310))],
            },
        ],
    };
    let right = mark_board(&job, &planned);
    assert_eq!(lies(&job, &planned, &right), []);
    type Change = fn(&mut MarkedBoard);
    let changes: &[(&str, Change)] = &[
        ("another part", |marked| {
            marked.board.runs[0].cuts[1].part = 1
        }),
        ("turned", |marked| {
            marked.board.runs[0].cuts[1].lies = Lies::Turned
        }),
        ("the other edge", |marked| {
            marked.board.runs[0].cuts[1].long_edge = Edge::Near
        }),
        ("another board", |marked| {
            marked.board.source = Source::Shed(1)
        }),
        ("a cut at the yard", |marked| {
            marked.board.yard_cut = Some(mm(900))
        }),
        ("a run less", |marked| {
            marked.board.runs.pop();
            marked.off.pop();
        }),
        ("a part less", |marked| {
            marked.board.runs[0].cuts.pop();
            marked.off.pop();
        }),
        ("a part moved to the other run", |marked| {
            let moved = marked.board.runs[0].cuts.pop().expect("a part");
            marked.board.runs[1].cuts.push(moved);
        }),
        ("nothing told of a part", |marked| {
            marked.off.pop();
        }),
        ("more told than there are parts", |marked| {
            marked.off.push(Length::ZERO)
        }),
    ];
    for (what, change) in changes {
        let mut marked = right.clone();
        change(&mut marked);
        assert_eq!(
            lies(&job, &planned, &marked),
            [Lie::MarksOfAnotherPlan { board: 0 }],
            "{what}"
        );
    }
    let moved = |change: fn(&mut PlannedRun)| {
        let mut marked = right.clone();
        change(&mut marked.board.runs[0]);
        let run = &marked.board.runs[0];
        let (from, to) = (run.from, run.to);
        let expected = Lie::NotAClearRun { board: 0, from, to };
        assert_eq!(lies(&job, &planned, &marked), [expected]);
    };
    moved(|run| run.to -= mm(1));
    moved(|run| run.to += mm(1));
    moved(|run| run.from -= mm(1));
}

#[test]
fn only_a_part_shorter_than_a_step_may_end_between_two_steps() {
    // The run starts off the steps, and nothing is told to be missed.
    let from = ticks(10 * STEP + STEP / 2);
    let mut job = job(&[("100", "", "10.5")], &[("2", "square", "1")], |_| ());
    let mut astray = 0;
    for length in [STEP - 1, STEP, STEP + 1, STEP * 3 / 2] {
        for goes in [Fitting::Free, Fitting::Between] {
            job.parts[0].length = ticks(length);
            job.parts[0].fitting = goes;
            let planned = board(
                from,
                mm(100) - from,
                vec![placed(0, from, from + ticks(length))],
            );
            for made in 1..2 * STEP + STEP / 2 {
                if ![0, 1, STEP / 2, STEP - 1].contains(&(made % STEP)) {
                    continue;
                }
                let over = made - length;
                let within = match goes {
                    Fitting::Between => missed_between(over) == 0,
                    _ => missed_when_free(over) == 0,
                };
                if !within {
                    continue;
                }
                let on_step = (from.ticks() + made) % STEP == 0;
                let well = on_step || made < STEP || length < STEP;
                let marks = marked(
                    &job,
                    &planned,
                    &[(from, from + ticks(made))],
                    &[Length::ZERO],
                );
                assert_eq!(
                    lies(&job, &planned, &marks).is_empty(),
                    well,
                    "{length} {goes:?} {made}"
                );
                astray += usize::from(!well);
            }
        }
    }
    assert!(astray > 5, "{astray}");
}
