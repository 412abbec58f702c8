//! Which parts may be made of which boards, in the sums as in the check of cuts.

use super::{job, some};
use crate::ground::Ground;
use crate::wood::{Stock, stocks, takes};
use timber::job::{MadeFrom, Treated};
use timber::plan::Source;

const MADE_FROM: [MadeFrom; 3] = [MadeFrom::Anything, MadeFrom::New, MadeFrom::Shed];

#[test]
fn a_part_counts_on_just_those_boards_that_it_may_be_cut_from() {
    let sound = job(
        &[("900", "", "0"); 4],
        &[("400", "square", "1"), ("300", "square", "1")],
        |draft| {
            draft.shed[1].treated = some("unknown");
            draft.shed[2].treated = some("yes");
            draft.shed[3].treated = some("yes");
            draft.shed[3].counts_as = some("new timber");
        },
    );
    // (new, may be ripped) of a length of the yard and of each board.
    let boards = [
        (Source::Yard(0), true, true),
        (Source::Shed(0), false, true),
        (Source::Shed(1), false, false),
        (Source::Shed(2), false, false),
        (Source::Shed(3), true, false),
    ];
    let mut told_apart = [0, 0];
    for case in 0..72 {
        let mut job = sound.clone();
        for (at, part) in job.parts.iter_mut().enumerate() {
            let kind = [case % 6, case / 6 % 6][at];
            part.made_from = MADE_FROM[kind % 3];
            part.strips = if kind > 2 { vec![at] } else { vec![] };
        }
        // In a treated section every board is like the others.
        let treated = case > 35;
        if treated {
            job.sections[0].treated = Treated::Yes;
        }
        let asks = job.parts.iter().any(|part| {
            part.made_from != MadeFrom::Anything || !(treated || part.strips.is_empty())
        });
        let all = stocks(&job, &[0]);
        assert_eq!(all.len() > 1, asks, "{case}");
        told_apart[usize::from(asks)] += 1;
        for (source, new, rips) in boards {
            let ground = Ground::of(&job, source).expect("a board");
            assert_eq!((ground.new, ground.rips), (new, rips || treated), "{case}");
            let stock = Stock::of(&job, &ground);
            assert!(all.contains(&stock), "{case}");
            for part in &job.parts {
                let wanted = match part.made_from {
                    MadeFrom::Anything => true,
                    MadeFrom::New => new,
                    MadeFrom::Shed => !new,
                } && (rips || treated || part.strips.is_empty());
                assert_eq!(takes(part, new, rips || treated), wanted, "{case}");
                assert_eq!(stock.takes(part), wanted, "{case}: {source:?} {part:?}");
            }
        }
    }
    assert_eq!(told_apart, [5, 67]);
}

#[test]
fn a_board_or_a_part_of_another_section_tells_nothing_apart() {
    let mut job = job(&[("900", "", "0")], &[("400", "square", "1")], |draft| {
        let mut other = draft.sections[0].clone();
        other.name = some("batten");
        draft.sections.push(other);
        draft.shed[0].treated = some("unknown");
    });
    job.parts[0].strips = vec![0];
    assert_eq!(stocks(&job, &[0]).len(), 4);
    job.shed[0].section = 1;
    assert_eq!(stocks(&job, &[0]).len(), 1);
    assert_eq!(stocks(&job, &[1]).len(), 1, "no part of it is ripped");
    job.parts[0].made_from = MadeFrom::New;
    assert_eq!(stocks(&job, &[0, 1]).len(), 3);
    let other = stocks(&job, &[1]);
    assert!(!other.iter().any(|stock| stock.takes(&job.parts[0])));
}

#[test]
fn a_stock_is_of_its_section() {
    let job = job(&[], &[("400", "square", "1")], |draft| {
        let mut other = draft.sections[0].clone();
        other.name = some("other");
        draft.sections.push(other);
    });
    let sections = crate::wood::stocks(&job, &[0, 1]).into_iter();
    let mut sections: Vec<usize> = sections.map(|stock| stock.section()).collect();
    sections.dedup();
    assert_eq!(sections, [0, 1]);
}
