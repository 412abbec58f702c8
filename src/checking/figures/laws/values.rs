//! What a board can be worth, told a second time: every choice of parts for each of its runs or pieces.

use super::{MM, Shape, board, carried, run};
use crate::laws::{job, some};
use crate::steps::with_steps;
use crate::wood::{Laid, Wood, stocks};

/// Lengths of square parts in millimetres, and how many are wanted.
const PARTS: [(i64, u32); 3] = [(40, 2), (30, 2), (25, 1)];

/// Every choice of parts with what it takes of a run, a cut of 3 behind each part; nothing first.
fn choices() -> Vec<([i64; 3], Laid)> {
    let mut all = Vec::new();
    for code in 0..18 {
        let counts = [code / 6, code / 2 % 3, code % 2];
        let lengths: i64 = (0..3).map(|at| counts[at] * PARTS[at].0).sum();
        let cuts = counts.iter().sum::<i64>() * 3;
        let laid = Laid {
            need: (lengths + (cuts - 3).max(0)) * MM,
            filled: (lengths + cuts) * MM,
        };
        all.push((counts, laid));
    }
    all
}

fn shapes() -> Vec<(i64, Shape)> {
    vec![
        (100, Shape::Runs(vec![run(100, 0)])),
        (110, Shape::Runs(vec![run(100, 5)])),
        (150, Shape::Runs(vec![run(73, 0), run(60, 4)])),
        (140, Shape::Runs(vec![run(40, 0), run(20, 0), run(43, 10)])),
        (30, Shape::Runs(vec![run(20, 10)])),
        (120, carried(120, 80, 80)),
        (130, carried(110, 90, 60)),
        (130, carried(73, 73, 43)),
        (90, carried(85, 45, 45)),
        (60, carried(40, 24, 24)),
    ]
}

/// What a run takes off what its parts are worth: what it uses up and the charge of an offcut that is kept, or all of it.
fn less_used(run: &super::Run, laid: &Laid, keep: i64, (scale, kept): (i64, i128)) -> i128 {
    let whole = -i128::from(scale) * i128::from(run.length + run.tail);
    match run.length - laid.filled {
        free if free > 0 && free + run.tail >= keep => {
            let used = i128::from(scale) * i128::from(laid.filled);
            (-used - kept).max(whole)
        }
        _ => whole,
    }
}

#[test]
fn a_board_is_worth_the_best_of_every_choice_of_parts_and_less_what_that_uses_up() {
    let parts = PARTS.map(|(length, count)| (length.to_string(), count.to_string()));
    let parts = parts
        .each_ref()
        .map(|(length, count)| (length.as_str(), "square", count.as_str()));
    let mut seed = 7u64;
    let mut below = |end: i64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        ((seed >> 33) % end as u64) as i64
    };
    let mut best = std::collections::BTreeSet::new();
    for keep in [0, 20, 35, 300] {
        let job = job(&[], &parts, |draft| {
            draft.saw.keep = some(&keep.to_string())
        });
        let wood = Wood::of(&job, stocks(&job, &[0])[0]).expect("square parts");
        // What the tape cannot show is never kept.
        let keep = (keep * MM).max(job.step.ticks());
        assert_eq!(wood.keep, keep);
        for (length, shape) in shapes() {
            let longest = shape.longest();
            let board = board(length * MM, shape);
            for case in 0..12 {
                let scale = 1 + below(3);
                // Some parts are worth less than the length they use up, some more.
                let most = if case % 3 == 0 { 9 } else { scale * 80 * MM };
                let prices = [0; 3].map(|_| below(most));
                let worth = |counts: &[i64; 3]| -> i128 {
                    (0..3).map(|at| i128::from(counts[at] * prices[at])).sum()
                };
                let worths = with_steps(1_000_000, |steps| wood.worths(&prices, longest, steps));
                let worths = worths.expect("small");
                let runs = board.shape.rooms().len();
                // Each run is given each choice by itself.
                let mut ways = vec![(0, Vec::new())];
                for _ in 0..runs {
                    let longer = ways.iter().flat_map(|(sum, laid): &(i128, Vec<Laid>)| {
                        choices().into_iter().map(move |(counts, more)| {
                            (sum + worth(&counts), [&laid[..], &[more]].concat())
                        })
                    });
                    ways = longer
                        .filter(|(_, laid)| {
                            let rest = vec![Laid::NOTHING; runs - laid.len()];
                            board
                                .plain()
                                .used(&[&laid[..], &rest].concat(), keep)
                                .is_some()
                        })
                        .collect();
                }
                let found = with_steps(1_000_000, |steps| worths.board(&board.shape, steps));
                assert_eq!(
                    found.ok(),
                    ways.iter().map(|(sum, _)| *sum).max(),
                    "{length} {prices:?}"
                );
                let used = ways
                    .iter()
                    .filter(|(_, laid)| laid.iter().any(|laid| *laid != Laid::NOTHING));
                let used = used.map(|(sum, laid)| {
                    sum - i128::from(scale)
                        * i128::from(board.plain().used(laid, keep).expect("it fits"))
                });
                let expected = used.max();
                let found = with_steps(1_000_000, |steps| {
                    worths.used_up(&board.plain(), keep, (scale, 0), steps)
                });
                assert_eq!(
                    found.ok(),
                    Some(expected),
                    "{length} {keep} {scale} {prices:?}"
                );
                if let Shape::Runs(runs) = &board.shape {
                    // An offcut that is kept has its price, which may be below zero, or is given up.
                    let kept = i128::from(below(2 * scale * keep + 1) - scale * keep);
                    let lost = i128::from(scale) * i128::from(board.plain().lost());
                    let cut = ways
                        .iter()
                        .filter(|(_, laid)| laid.iter().any(|laid| *laid != Laid::NOTHING));
                    let cut = cut.map(|(sum, laid)| {
                        let runs = runs.iter().zip(laid);
                        let used =
                            runs.map(|(run, laid)| less_used(run, laid, keep, (scale, kept)));
                        sum - lost + used.sum::<i128>()
                    });
                    let expected = cut.max();
                    let found = with_steps(1_000_000, |steps| {
                        worths.used_up(&board.plain(), keep, (scale, kept), steps)
                    });
                    assert_eq!(found.ok(), Some(expected), "{length} {keep} {kept}");
                }
                best.insert((length, expected.is_some(), expected > Some(0)));
            }
        }
    }
    // Of one of 30 and of one of 60 in two pieces no part can be cut; elsewhere there is more and less than nothing to gain.
    assert_eq!(
        best.iter().filter(|(_, some, _)| !some).count(),
        2,
        "{best:?}"
    );
    assert!(
        best.iter().filter(|(_, _, more)| *more).count() > 5,
        "{best:?}"
    );
}
