//! How an offcut worth keeping comes off that lies before other cuts.

use super::{job, mm, placed, some, ticks};
use crate::board::check_board;
use crate::lie::Lie;
use crate::marks::check_marks;
use crate::sharing::Sharing;
use timber::job::Job;
use timber::length::Length;
use timber::marks::{MarkedBoard, mark_board};
use timber::plan::{PlannedBoard, PlannedRun, Source};

const STEP: i64 = 3_200;

/// A board of 3000 with these bad stretches, trimmed by 10 at its ends and parted in clear runs; parts of 400 lie in those at `cut`.
fn board(bad: &str, clear: &[(i64, i64)], cut: &[usize]) -> (Job, PlannedBoard) {
    let job = job(
        &[("3000", bad, "10")],
        &[("400", "square", &cut.len().to_string())],
        |draft| draft.saw.keep = some("250"),
    );
    let runs = cut.iter().map(|&at| {
        let (from, to) = (ticks(clear[at].0), ticks(clear[at].1));
        PlannedRun {
            from,
            to,
            cuts: vec![placed(0, from, from + mm(400))],
        }
    });
    let planned = PlannedBoard {
        source: Source::Shed(0),
        yard_cut: None,
        runs: runs.collect(),
    };
    (job, planned)
}

fn sound(job: &Job, planned: &PlannedBoard, marked: &MarkedBoard) -> bool {
    let mut lies = Vec::new();
    let found = check_board(job, &Sharing::of_all(job), (0, planned), &mut lies);
    let found = found.expect("a sound board");
    check_marks(job, 0, planned, &found, marked, &mut lies);
    assert!(
        lies.is_empty() || lies == [Lie::MarksLoseAnOffcut { board: 0 }],
        "{lies:?}"
    );
    lies.is_empty()
}

/// Places less than two steps from a right one, and some that are right for other reasons.
fn about(place: i64) -> Vec<i64> {
    let near = [
        -2 * STEP,
        -STEP - 1,
        -STEP,
        1 - STEP,
        -1,
        0,
        1,
        STEP - 1,
        STEP,
        STEP + 1,
    ];
    let near = near.into_iter().map(|by| place + by);
    near.chain([0, 10 * STEP]).collect()
}

/// Whether what is left of the untouched runs before the last one comes off well, told place by place.
fn comes_off_well(clear: &[(i64, i64)], freed: &[(bool, i64, i64)]) -> bool {
    let kerf = 3 * STEP;
    // Where the cut before leaves off.
    let mut behind = 0;
    for (nth, &(begins, starts, ends)) in freed.iter().enumerate() {
        let (from, to) = clear[nth];
        let next = clear[nth + 1].0;
        // A mark of its own is beyond what was cut before. Without one it starts at the sound end of the board, or close by where that cut left off.
        let begins_well = match (begins, nth) {
            (true, _) => (starts - from).abs() < STEP && starts > behind,
            (false, 0) if from == 10 * STEP => starts == 0,
            (false, _) => starts == behind && (behind - from).abs() < STEP,
        };
        // The cut that ends it is in it or leaves the next run whole.
        let ends_well = (ends - to).abs() < STEP && (ends <= to || ends + kerf <= next);
        if !begins_well || !ends_well {
            return false;
        }
        behind = ends + kerf;
    }
    true
}

#[test]
fn an_untouched_offcut_comes_off_within_a_step_of_its_clear_run_and_without_bad_timber() {
    // Some bad stretches are hardly wider than the cut of 3, and one is at the end of the board.
    let layouts = [
        (
            "700..704; 1400..1403.5",
            [(10 * 2, 1_400), (1_408, 2_800), (2_807, 5_980)],
        ),
        (
            "700..703.5; 1400..1404",
            [(10 * 2, 1_400), (1_407, 2_800), (2_808, 5_980)],
        ),
        (
            "0..50; 700..703.5; 1400..1410",
            [(50 * 2, 1_400), (1_407, 2_800), (2_820, 5_980)],
        ),
    ];
    for (bad, halves) in layouts {
        let clear = halves.map(|(from, to)| (from * STEP / 2, to * STEP / 2));
        let (job, planned) = board(bad, &clear, &[2]);
        let right = mark_board(&job, &planned);
        assert!(sound(&job, &planned, &right), "{bad}");
        let as_told = |marked: &MarkedBoard| -> Vec<(bool, i64, i64)> {
            let freed = marked.freed.iter();
            freed
                .map(|freed| (freed.begins, freed.from.ticks(), freed.to.ticks()))
                .collect()
        };
        let mut tried = [0, 0];
        for nth in [0, 1] {
            let (from, to) = clear[nth];
            let left_off = match nth {
                0 => 0,
                _ => right.freed[0].to.ticks() + 3 * STEP,
            };
            for begins in [false, true] {
                for starts in about(from).into_iter().chain([left_off, left_off + 1]) {
                    for ends in about(to) {
                        let mut marked = right.clone();
                        let freed = &mut marked.freed[nth];
                        (freed.begins, freed.from, freed.to) = (begins, ticks(starts), ticks(ends));
                        let well = comes_off_well(&clear, &as_told(&marked));
                        let found = sound(&job, &planned, &marked);
                        assert_eq!(found, well, "{bad}: {nth} {begins} {starts} {ends}");
                        tried[usize::from(well)] += 1;
                    }
                }
            }
        }
        assert!(tried[0] > 100 && tried[1] > 10, "{bad}: {tried:?}");
        let mut more = right.clone();
        more.freed.push(right.freed[1]);
        assert!(!sound(&job, &planned, &more));
    }
}

#[test]
fn an_offcut_behind_parts_starts_where_their_last_cut_ends_and_keeps_its_length() {
    let clear = [(10 * STEP, 700 * STEP), (710 * STEP, 2_990 * STEP)];
    let (mut job, planned) = board("700..710", &clear, &[0, 1]);
    let right = mark_board(&job, &planned);
    assert!(sound(&job, &planned, &right));
    let start = (10 + 400 + 3) * STEP;
    for starts in about(start) {
        for ends in about(700 * STEP) {
            let mut marked = right.clone();
            let freed = &mut marked.freed[0];
            (freed.begins, freed.from, freed.to) = (false, ticks(starts), ticks(ends));
            let well = starts == start && (ends - 700 * STEP).abs() < STEP;
            assert_eq!(sound(&job, &planned, &marked), well, "{starts} {ends}");
            marked.freed[0].begins = true;
            assert!(!sound(&job, &planned, &marked));
        }
    }
    // What is sound of it, up to the bad stretch, has to be worth keeping: 700 less 413.
    let mut marked = right.clone();
    marked.freed[0].from = ticks(start);
    for (ends, keep, well) in [
        (mm(700), mm(287), true),
        (mm(700) - ticks(1), mm(287), false),
        (mm(700) + ticks(1), mm(287), true),
    ] {
        job.sections[0].keep = keep;
        marked.freed[0].to = ends;
        assert_eq!(sound(&job, &planned, &marked), well, "{ends:?}");
    }
    let none = Length::ZERO;
    job.sections[0].keep = none;
    assert!(sound(&job, &planned, &right));
}
