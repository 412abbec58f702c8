//! The ways in which parts stand on the ends of a board, as figures count them, against where the board lets them stand.

use super::super::boards::{Board, Shape, Stands, boards, worthiest};
use super::{MM, question};
use crate::ground::Ground;
use crate::groups::groups;
use crate::laws::posts::{POSTS, Plank, clear_beside, job_of, pairs, planks};
use crate::laws::{job, mm, some};
use crate::wood::{Post, Wood};
use timber::job::Job;
use timber::length::Length;
use timber::plan::Source;

/// The board of the shed as figures have it.
fn of_the_shed(job: &Job) -> Option<Board> {
    let groups = groups(job);
    let group = groups.first().expect("a group");
    let question = question(job, group, 0, Vec::new(), 0);
    let all = boards(&question);
    all.into_iter()
        .find(|board| board.source == Source::Shed(0))
}

fn posts_of(job: &Job, board: &Board) -> Vec<Post> {
    Wood::of(job, board.stock).expect("no families").posts
}

/// Which of `posts`, numbered from one, are on the ends in a way, and what is left of the clear runs in millimetres.
type Told = (Vec<usize>, Vec<i64>);

fn told(board: &Board, posts: &[Post]) -> Vec<Told> {
    let ways = board.ways(posts).into_iter().map(|way| {
        let left = match &way.shape {
            Shape::Runs(runs) => runs.iter().map(|run| run.length / MM),
            Shape::Carried(_) => panic!("not cut at the yard"),
        };
        (way.posts.clone(), left.filter(|left| *left > 0).collect())
    });
    let mut ways: Vec<Told> = ways.collect();
    ways.sort();
    ways
}

#[test]
fn parts_stand_in_figures_as_they_may_stand_on_the_board() {
    for plank in planks() {
        let job = job_of(&plank, &POSTS);
        let Some(board) = of_the_shed(&job) else {
            panic!("the bar fits: {plank:?}");
        };
        let posts = posts_of(&job, &board);
        let mut expected: Vec<Told> = Vec::new();
        for pair in pairs() {
            let Some(runs) = clear_beside(&plank, pair) else {
                continue;
            };
            let on = pair.into_iter().flatten();
            let on = on.map(|post| 1 + POSTS.iter().position(|one| *one == post).expect("one"));
            // Behind the part at the datum end is a kerf of 3.
            let left = runs.iter().map(|[from, to]| match (from, pair[0]) {
                (0, Some(datum)) => to - datum - 3,
                _ => to - from,
            });
            expected.push((on.collect(), left.filter(|left| *left > 0).collect()));
        }
        expected.sort();
        assert_eq!(told(&board, &posts), expected, "{plank:?}");
    }
}

#[test]
fn a_part_that_is_wanted_once_stands_on_one_end() {
    let plank = Plank {
        length: 300,
        trim: [15, 15],
        bad: Vec::new(),
        factory: [true, true],
    };
    let mut job = job_of(&plank, &[100]);
    let ways = |job: &Job| {
        let board = of_the_shed(job).expect("a board");
        told(&board, &posts_of(job, &board)).len()
    };
    // None, one at either end, and two.
    assert_eq!(ways(&job), 4);
    job.parts[1].quantity = 1;
    assert_eq!(ways(&job), 3);
}

#[test]
fn what_is_lost_is_all_but_the_clear_runs_and_what_is_left_behind_them() {
    let plank = Plank {
        length: 300,
        trim: [15, 10],
        bad: vec![[150, 160]],
        factory: [true, true],
    };
    let job = job_of(&plank, &[100]);
    let board = of_the_shed(&job).expect("a board");
    let lost = board.ways(&posts_of(&job, &board)).into_iter().map(|way| {
        let ends = way.posts.len();
        (ends, way.lost() / MM)
    });
    let mut lost: Vec<(usize, i64)> = lost.collect();
    lost.sort_unstable();
    // With none 15 before the first run and 10 bad; with one at the datum end 100, its cut of 3 and the 10; at the far end 15, 10 and 100 with the widest
    // cut of 6, with both 103, 10 and 106.
    assert_eq!(lost, [(0, 25), (1, 113), (1, 131), (2, 219)]);
}

#[test]
fn a_board_on_which_nothing_but_a_post_fits_is_in_no_total_unless_one_may_stand_there() {
    // 110 less two trims of 45 leave no room for the bar of 40, and a post of 60 may stand on an end.
    let short = |ends: &str| {
        let job = job(
            &[("110", "", "45; 45")],
            &[("40", "square", "1"), ("60", "square", "1")],
            |draft| {
                draft.sections[0].treated = some("yes");
                draft.shed[0].factory_ends = some(ends);
                draft.parts[1].goes = some("in the ground");
            },
        );
        of_the_shed(&job).is_some()
    };
    assert_eq!(
        ["none", "datum end", "far end", "both"].map(short),
        [false, true, true, true]
    );
}

/// Of a length of 1000 that is carried in two pieces of 700 at most: trims of 10, fresh ends that lose 5, a yard that saws 7 off, a kerf of 3.
#[test]
fn parts_on_the_ends_of_what_the_yard_cuts_leave_what_is_left_at_the_best_cut() {
    let lengths = [9i64, 10, 100, 101, 300, 480, 481, 690];
    let written = lengths.map(|length| length.to_string());
    let mut parts = vec![("80", "60; square", "1")];
    parts.extend(
        written
            .iter()
            .map(|length| (length.as_str(), "square", "2")),
    );
    let job = job(&[], &parts, |draft| {
        draft.own.step = some("4");
        draft.own.carry = some("700");
        draft.own.yard_tolerance = some("7");
        draft.own.yard_trim = some("5");
        draft.sections[0].treated = some("yes");
        draft.sections[0].trim = some("10");
        draft.yard[0].length = some("1000");
        for part in &mut draft.parts[1..] {
            part.goes = some("in the ground");
        }
    });
    let groups = groups(&job);
    let question = question(&job, &groups[0], 0, Vec::new(), 0);
    let board = boards(&question).into_iter().next().expect("a length");
    let posts = posts_of(&job, &board);
    let ground = Ground::of(&job, Source::Yard(0)).expect("a length");
    let ways = board.ways(&posts);
    let mut expected = Vec::new();
    let one = || (0..lengths.len()).map(Some).chain([None]);
    for datum in one() {
        for far in one() {
            let on = [datum, far].map(|at| at.map(|at| mm(lengths[at])));
            // Every place of the cut to a millimetre: the pieces are 700 at most.
            let mut best: Option<[i64; 3]> = None;
            for cut in 297..=700 {
                let Some(runs) = ground.carried_runs(&job, mm(cut), on) else {
                    continue;
                };
                let left = |first: bool| -> i64 {
                    let run = runs.iter().find(|run| (run.from < mm(cut)) == first);
                    let length = run.map_or(Length::ZERO, |run| run.to - run.from);
                    let post = match (first, datum) {
                        (true, Some(datum)) => lengths[datum] + 3,
                        _ => 0,
                    };
                    length.ticks() / MM - post
                };
                let found = [left(true), left(false)];
                // The cut behind the part at the datum end may lie in the rough end.
                if found[0] < 0 {
                    continue;
                }
                let best = best.get_or_insert([0; 3]);
                for (most, now) in best
                    .iter_mut()
                    .zip([found[0] + found[1], found[0], found[1]])
                {
                    *most = (*most).max(now);
                }
            }
            if let Some(best) = best {
                let on = [datum, far].into_iter().flatten().map(|at| at + 1);
                expected.push((on.collect::<Vec<_>>(), best));
            }
        }
    }
    let mut found: Vec<(Vec<usize>, [i64; 3])> = ways
        .iter()
        .map(|way| match &way.shape {
            Shape::Carried(carried) => {
                let all = [carried.together, carried.first, carried.second];
                (way.posts.clone(), all.map(|one| one / MM))
            }
            Shape::Runs(_) => panic!("it is cut at the yard"),
        })
        .collect();
    found.sort();
    expected.sort();
    assert_eq!(found, expected);
}

#[test]
fn of_parts_that_stand_alike_the_two_worth_most_are_enough() {
    let post = |part: usize, length: i64, wanted: u32| Post {
        part,
        wanted,
        length,
        cut: 3,
        on: [true, true],
    };
    let worth = |part: usize| [5, 9, 7, 1, 8][part];
    let kept = |posts: &[Post]| {
        let kept = worthiest(posts, worth).into_iter();
        kept.map(|post| post.part).collect::<Vec<_>>()
    };
    // Each wanted once: two of the four of 100, and the one of 200.
    let all = [
        post(0, 100, 1),
        post(1, 100, 1),
        post(2, 100, 1),
        post(3, 200, 1),
        post(4, 100, 1),
    ];
    assert_eq!(kept(&all), [1, 4, 3]);
    // One that is wanted twice is enough by itself.
    let twice = [post(0, 100, 1), post(1, 100, 2), post(3, 200, 2)];
    assert_eq!(kept(&twice), [1, 3]);
    // Those that do not stand alike are all kept.
    let mut other = [post(0, 100, 2), post(1, 100, 2), post(2, 100, 2)];
    other[1].cut = 4;
    other[2].on = [true, false];
    assert_eq!(kept(&other).len(), 3);
}

#[test]
fn no_board_carries_a_part_where_its_group_has_none_that_stands() {
    let plank = Plank {
        length: 300,
        trim: [15, 15],
        bad: Vec::new(),
        factory: [true, true],
    };
    let stands = |job: &Job| -> Option<Stands> { of_the_shed(job).expect("a board").stands };
    let mut job = job_of(&plank, &[100]);
    assert!(stands(&job).is_some());
    job.posts_stand = false;
    assert!(stands(&job).is_none());
    let none = Plank {
        factory: [false, false],
        ..plank
    };
    assert!(stands(&job_of(&none, &[100])).is_none());
}
