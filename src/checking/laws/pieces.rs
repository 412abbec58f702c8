//! Boards as they are planned: what a mark may be at all, and which runs there are.

use super::{job, mm, placed, ticks};
use crate::board::check_board;
use crate::lie::Lie;
use crate::sharing::Sharing;
use timber::job::Job;
use timber::length::Length;
use timber::limits;
use timber::plan::{PlannedBoard, PlannedRun, Source};

fn lies(job: &Job, runs: Vec<PlannedRun>, yard_cut: Option<Length>) -> Vec<Lie> {
    let planned = PlannedBoard {
        source: Source::Shed(0),
        yard_cut,
        runs,
    };
    let mut lies = Vec::new();
    let found = check_board(job, &Sharing::of_all(job), (0, &planned), &mut lies);
    assert_eq!(
        found.is_none(),
        !lies.is_empty(),
        "nothing is said of what is left of a board that is not sound"
    );
    lies
}

#[test]
fn a_mark_is_no_further_off_than_twice_the_longest_board_to_either_side() {
    let job = job(&[("2000", "", "0")], &[("400", "square", "1")], |_| ());
    let most = limits::BOARD.most + limits::BOARD.most;
    let far_off = |at: Length| {
        let run = PlannedRun {
            from: Length::ZERO,
            to: mm(2_000),
            cuts: vec![placed(0, Length::ZERO, mm(400))],
        };
        lies(&job, vec![run], Some(at)) == [Lie::MarkOffTheBoard { board: 0, at }]
    };
    assert!(!far_off(most) && !far_off(-most) && !far_off(Length::ZERO));
    assert!(far_off(most + ticks(1)) && far_off(-most - ticks(1)));
}

#[test]
fn runs_of_a_plan_are_clear_runs_of_the_board_each_once_and_ascending() {
    let job = job(
        &[("2000", "500..510; 1000..1010; 1500..1510", "0")],
        &[("400", "square", "4")],
        |_| (),
    );
    let clear = [(0, 500), (510, 1_000), (1_010, 1_500), (1_510, 2_000)];
    let run = |(from, to): (i64, i64)| PlannedRun {
        from: mm(from),
        to: mm(to),
        cuts: vec![placed(0, mm(from), mm(from) + mm(400))],
    };
    // Every list of up to four of the clear runs: those in order are sound, and in others each that comes too late is told.
    for code in 1..5usize.pow(4) {
        let digits = (0..4).map(|digit| code / 5usize.pow(digit) % 5);
        let chosen: Vec<usize> = digits
            .take_while(|one| *one > 0)
            .map(|one| one - 1)
            .collect();
        if chosen.is_empty() {
            continue;
        }
        let mut next = 0;
        let mut expected = Vec::new();
        for &one in &chosen {
            if one >= next {
                next = one + 1;
                continue;
            }
            let (from, to) = clear[one];
            let (from, to) = (mm(from), mm(to));
            expected.push(Lie::NotAClearRun { board: 0, from, to });
        }
        let runs = chosen.iter().map(|&one| run(clear[one])).collect();
        assert_eq!(lies(&job, runs, None), expected, "{chosen:?}");
    }
}
