//! Where a length that is too long to carry may be cut at the yard.

use super::{job, mm, placed, some, ticks};
use crate::board::check_board;
use crate::lie::Lie;
use crate::marks::check_marks;
use crate::sharing::Sharing;
use timber::draft::JobDraft;
use timber::length::Length;
use timber::marks::mark_board;
use timber::plan::{PlannedBoard, PlannedRun, Source};

/// A vehicle that takes so much. The yard saws exactly at its readings and leaves square ends, so that every number here is that of the cut itself.
fn exact_yard(own: &mut JobDraft, carry: &str) {
    own.own.carry = some(carry);
    own.own.yard_tolerance = some("0");
    own.own.yard_trim = some("0");
}

fn planned(cut: Length) -> PlannedBoard {
    let run = PlannedRun {
        from: mm(10),
        to: cut,
        cuts: vec![placed(0, mm(10), mm(410))],
    };
    PlannedBoard {
        source: Source::Yard(0),
        yard_cut: Some(cut),
        runs: vec![run],
    }
}

#[test]
fn both_pieces_are_no_longer_than_is_carried_as_planned_and_as_marked() {
    for reading in [None, Some(mm(10))] {
        both_pieces_are_carried(reading);
    }
}

/// `reading` is what the yard can saw at; without it any step of the tape.
fn both_pieces_are_carried(reading: Option<Length>) {
    let mut job = job(&[], &[("400", "square", "1")], |draft| {
        exact_yard(draft, "1600");
    });
    job.yard_reading = reading;
    let (carry, whole, kerf) = (mm(1_600), mm(3_000), job.saw.kerf);
    let sharing = Sharing::of_all(&job);
    let sound = planned(mm(1_500));
    let mut none = Vec::new();
    let found = check_board(&job, &sharing, (0, &sound), &mut none).expect("a sound board");
    let on_steps = (1_390..=1_610).map(mm);
    let near = [carry, whole - kerf - carry];
    let near = near
        .into_iter()
        .flat_map(|at| [at - ticks(1), at + ticks(1)]);
    for cut in on_steps.chain(near) {
        let pieces = [cut, whole - cut - kerf];
        let expected: Vec<Lie> = pieces
            .into_iter()
            .filter(|length| *length > carry)
            .map(|length| Lie::TooLongToCarry {
                board: 0,
                length,
                carry,
            })
            .collect();
        let mut lies = Vec::new();
        check_board(&job, &sharing, (0, &planned(cut)), &mut lies);
        assert_eq!(lies, expected, "{cut:?}");
        let mut marked = mark_board(&job, &sound);
        marked.board.yard_cut = Some(cut);
        marked.board.runs[0].to = cut;
        let mut lies = Vec::new();
        check_marks(&job, 0, &sound, &found, &marked, &mut lies);
        let on_step = cut.ticks() % reading.unwrap_or(job.step).ticks() == 0;
        let well = expected.is_empty() && on_step;
        let expected = match well {
            true => vec![],
            false => vec![Lie::MarksOfAnotherPlan { board: 0 }],
        };
        assert_eq!(lies, expected, "{cut:?}");
    }
}

#[test]
fn the_yards_cut_is_on_the_length_from_its_one_end_to_its_other() {
    // The vehicle takes so much that only the cut itself says whether it is on the length.
    let job = job(&[], &[("400", "square", "1")], |draft| {
        exact_yard(draft, "2999");
    });
    let last = mm(3_000) - job.saw.kerf;
    let needless = |cut: Length| {
        let mut lies = Vec::new();
        check_board(&job, &Sharing::of_all(&job), (0, &planned(cut)), &mut lies);
        lies.contains(&Lie::NeedlessYardCut { board: 0 })
    };
    assert!(needless(ticks(-1)));
    assert!(!needless(Length::ZERO));
    assert!(!needless(last));
    assert!(needless(last + ticks(1)));
}

/// Whether a cut between two steps is taken for sound, on a length of 3000.3 with its datum end trimmed by `datum` and its far end by 10. Parts lie in one of the pieces, and the other
/// goes back whole.
fn between_steps(cut: Length, keep: Length, datum: Length, parts_first: bool) -> bool {
    let mut job = job(&[], &[("400", "square", "1")], |draft| {
        exact_yard(draft, "1951.6");
        draft.yard[0].length = some("3000.3");
    });
    job.yard_reading = None;
    job.sections[0].keep = keep;
    job.sections[0].trim.datum = datum;
    let (from, to) = match parts_first {
        true => (datum, cut),
        false => (cut + job.saw.kerf, mm(2_990) + ticks(960)),
    };
    let planned = PlannedBoard {
        source: Source::Yard(0),
        yard_cut: Some(cut),
        runs: vec![PlannedRun {
            from,
            to,
            cuts: vec![placed(0, from, from + mm(400))],
        }],
    };
    let mut lies = Vec::new();
    let found = check_board(&job, &Sharing::of_all(&job), (0, &planned), &mut lies);
    let found = found.expect("a sound board");
    let mut marked = mark_board(&job, &planned);
    marked.board = planned.clone();
    check_marks(&job, 0, &planned, &found, &marked, &mut lies);
    assert!(
        lies.is_empty() || lies == [Lie::MarksOfAnotherPlan { board: 0 }],
        "{lies:?}"
    );
    lies.is_empty()
}

#[test]
fn the_yards_cut_stands_between_two_steps_only_where_no_step_leaves_an_untouched_piece_worth_keeping()
 {
    let step = mm(1);
    // Own arithmetic: both pieces are carried from 3000.3 - 3 - 1951.6 = 1045.7 to 1951.6, between two steps. The untouched piece gives `spare` more.
    let least = ticks(1_045 * 3_200 + 2_240);
    let most = ticks(1_951 * 3_200 + 1_920);
    let spares = [
        0, 1, 960, 1_279, 1_280, 1_919, 1_920, 1_921, 3_200, 6_400, 64_000,
    ]
    .map(ticks);
    for spare in spares {
        // Of the second piece 2990.3 - 3 - cut is kept.
        let a_step = least.up_to(step) <= least + spare;
        let keep = mm(2_987) + ticks(960) - least - spare;
        assert_eq!(
            between_steps(least, keep, mm(10), true),
            !a_step,
            "{spare:?}"
        );
        // Of the first piece cut - datum.
        let a_step = (most - spare).up_to(step) <= most;
        for datum in [mm(10), mm(1), Length::ZERO] {
            let keep = most - spare - datum;
            assert_eq!(
                between_steps(most, keep, datum, false),
                !a_step,
                "{spare:?} {datum:?}"
            );
        }
    }
    // An untouched piece that is not worth keeping asks for nothing.
    assert!(!between_steps(
        least,
        mm(2_987) + ticks(961) - least,
        mm(10),
        true
    ));
}
