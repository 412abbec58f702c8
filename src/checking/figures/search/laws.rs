//! What is listed, told a second time: every choice of parts, laid in every way in the runs of a board.

mod kinds;

use super::alike::{Class, Kind};
use super::list::Lister;
use super::open::{Open, OpenBoard};
use crate::figures::boards::{Board, Shape};
use crate::figures::laws::{MM, carried, run};
use crate::ground::Ground;
use crate::laws::{job, some};
use crate::steps::with_steps;
use crate::wood::{Laid, Stock, Wood};
use order::Map;
use std::collections::BTreeMap;
use std::rc::Rc;
use timber::plan::Source;

/// Lengths of parts in millimetres, and how many are wanted.
const PARTS: [(i64, u32); 3] = [(40, 2), (30, 2), (25, 1)];

/// Square parts in a run, a cut of this many millimetres behind each.
fn laid(counts: &[u32], kerf: i64) -> Laid {
    let parts = counts.iter().zip(PARTS);
    let lengths: i64 = parts
        .map(|(count, (length, _))| i64::from(*count) * length)
        .sum();
    let cuts = i64::from(counts.iter().sum::<u32>()) * kerf;
    match lengths {
        0 => Laid::NOTHING,
        _ => Laid {
            need: (lengths + cuts - kerf) * MM,
            filled: (lengths + cuts) * MM,
        },
    }
}

/// Every choice of no more than these counts.
fn choices(most: &[u32]) -> Vec<Vec<u32>> {
    most.iter().fold(vec![Vec::new()], |chosen, most| {
        let longer = chosen
            .iter()
            .flat_map(|before| (0..=*most).map(move |count| [&before[..], &[count]].concat()));
        longer.collect()
    })
}

/// Every way to part these counts among so many runs.
fn parted(counts: &[u32], runs: usize) -> Vec<Vec<Vec<u32>>> {
    if runs == 1 {
        return vec![vec![counts.to_vec()]];
    }
    let first = choices(counts).into_iter();
    first
        .flat_map(|first| {
            let rest: Vec<u32> = counts
                .iter()
                .zip(&first)
                .map(|(all, first)| all - first)
                .collect();
            let others = parted(&rest, runs - 1).into_iter();
            others
                .map(move |others| [vec![first.clone()], others].concat())
                .collect::<Vec<_>>()
        })
        .collect()
}

fn shapes() -> Vec<(i64, Shape)> {
    vec![
        (110, Shape::Runs(vec![run(100, 5)])),
        (150, Shape::Runs(vec![run(73, 0), run(60, 4)])),
        (150, Shape::Runs(vec![run(40, 0), run(31, 0), run(43, 10)])),
        (130, carried(120, 80, 80)),
        (130, carried(110, 90, 60)),
        // The second piece may be the longer one; nothing is lost of a run that a part fills to the end.
        (130, carried(110, 60, 90)),
        (40, Shape::Runs(vec![run(40, 0)])),
    ]
}

#[test]
fn every_cutting_that_loses_no_more_than_the_gap_is_listed_with_the_least_it_uses_up() {
    lists_every_cutting(3);
}

#[test]
fn a_saw_that_takes_nothing_leaves_every_cutting_that_loses_no_more_than_the_gap() {
    lists_every_cutting(0);
}

fn lists_every_cutting(kerf: i64) {
    let parts = PARTS.map(|(length, count)| (length.to_string(), count.to_string()));
    let parts = parts
        .each_ref()
        .map(|(length, count)| (length.as_str(), "square", count.as_str()));
    let job = job(&[], &parts, |draft| {
        draft.saw.keep = some("20");
        draft.saw.kerf = some(&kerf.to_string());
    });
    let ground = Ground::of(&job, Source::Yard(0)).expect("a length of the yard");
    let stock = Stock::of(&job, &ground);
    let wood = Wood::of(&job, stock).expect("no mitres");
    let mut seed = 31u64;
    let mut below = |end: i64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        ((seed >> 33) % end as u64) as i64
    };
    let mut listed = [0; 4];
    for (length, shape) in shapes() {
        let board = Board {
            stands: None,
            source: Source::Yard(0),
            stock,
            shape,
            length: length * MM,
            costs: vec![7],
            supply: None,
        };
        let runs = board.shape.rooms().len();
        // All that fits the board: the counts, what they use up at least, and whether they can lie so that no part more fits.
        let wanted = PARTS.map(|(_, count)| count);
        let mut fitting = Vec::new();
        // The same by how many offcuts they keep.
        let mut told_apart = Vec::new();
        for counts in choices(&wanted).into_iter().skip(1) {
            let rest: Vec<usize> = (0..3)
                .filter(|part| counts[*part] < wanted[*part])
                .collect();
            let ways = parted(&counts, runs).into_iter().filter_map(|way| {
                let lie =
                    |way: &[Vec<u32>]| way.iter().map(|run| laid(run, kerf)).collect::<Vec<_>>();
                let used = board.plain().used(&lie(&way), wood.keep)?;
                let fuller = rest
                    .iter()
                    .flat_map(|part| (0..runs).map(move |run| (*part, run)))
                    .any(|(part, run)| {
                        let mut fuller = way.clone();
                        fuller[run][part] += 1;
                        board.plain().used(&lie(&fuller), 0).is_some()
                    });
                let keeps = match &board.shape {
                    Shape::Runs(runs) => {
                        let runs = runs.iter().zip(lie(&way));
                        runs.filter(|(run, laid)| run.keeps(*laid, wood.keep))
                            .count()
                    }
                    Shape::Carried(_) => 0,
                };
                Some((used, !fuller, keeps as u32))
            });
            let ways: Vec<(i64, bool, u32)> = ways.collect();
            if let Some(used) = ways.iter().map(|way| way.0).min() {
                let full = ways.iter().any(|(_, full, _)| *full);
                fitting.push((counts.clone(), 0, used, full));
            }
            for keeps in 0..=runs as u32 {
                let ways = ways.iter().filter(|way| way.2 == keeps);
                if let Some(used) = ways.map(|way| way.0).min() {
                    told_apart.push((counts.clone(), keeps, used, true));
                }
            }
        }
        for case in 0..90 {
            // Costs alone, the length used up, and costs with that before them, whose price may be zero.
            let (counts_used, cost_level) = (case % 3 > 0, (case % 3 != 1).then_some(0));
            let tick_cost = i128::from([0, 1 + below(3), below(3)][case % 3]);
            let each = if tick_cost > 0 { 3 * MM * 40 } else { 20 };
            let prices = [below(each), below(each), below(each)];
            let longest = board.shape.longest();
            let worths = with_steps(1_000_000, |steps| wood.worths(&prices, longest, steps));
            let worth = |counts: &[u32]| {
                counts
                    .iter()
                    .zip(prices)
                    .map(|(count, price)| i128::from(*count) * i128::from(price))
                    .sum::<i128>()
            };
            // Of the length used up every other case counts offcuts too, at a price that may be below zero.
            let offcuts = case % 6 == 1 && board.counts_offcuts();
            let price = i128::from(below(60 * MM) - 30 * MM);
            let kept = if offcuts { price } else { 0 };
            // As much as one of the cuttings is worth is asked for, so that the gap ends at it.
            let fitting = if offcuts { &told_apart } else { &fitting };
            let (counts, keeps, used, _) = &fitting[below(fitting.len() as i64) as usize];
            let needed = worth(counts) - tick_cost * i128::from(*used) - kept * i128::from(*keeps);
            let open = Open {
                job: &job,
                parts: &[0, 1, 2],
                woods: &[],
                prices: &prices,
                tick_cost,
                gap: 5 + 2 - needed,
                beaten: 0,
                cost_level,
                used_limit: (case % 3 == 2).then_some(0),
                boards: vec![OpenBoard {
                    board: &board,
                    index: 0,
                    wood: &wood,
                    worths: Rc::new(worths.expect("small")),
                    charge: 5,
                    excess: 2,
                    kept,
                    costs: &board.costs,
                    fewer: Vec::new(),
                    more: Vec::new(),
                }],
                limits: Vec::new(),
                fewer: Vec::new(),
                more: Vec::new(),
                sides: Vec::new(),
                offcuts,
            };
            let classes = [0, 1, 2].map(|part| Class {
                part,
                members: vec![part],
                wanted: wanted[part],
            });
            let list = |supply| -> BTreeMap<(Vec<(usize, u32)>, u32), i64> {
                let kind = Kind {
                    first: 0,
                    members: vec![0],
                    supply,
                };
                let way = board.plain();
                let found = with_steps(10_000_000, |steps| {
                    let mut lister =
                        Lister::new(&open, &classes, (&kind, &way), Map::new(), steps).ok()?;
                    lister.list(steps).ok()?;
                    Some(lister.found)
                });
                found.expect("small").into_iter().collect()
            };
            let found = list(Some(1));
            assert_eq!(list(None), found);
            assert!(list(Some(0)).is_empty());
            let expected = fitting.iter().filter(|(counts, keeps, used, full)| {
                let less = tick_cost * i128::from(*used) + kept * i128::from(*keeps);
                worth(counts) - less >= needed && (counts_used || *full)
            });
            let expected: BTreeMap<(Vec<(usize, u32)>, u32), i64> = expected
                .map(|(counts, keeps, used, _)| {
                    let there = counts
                        .iter()
                        .copied()
                        .enumerate()
                        .filter(|(_, count)| *count > 0);
                    let used = if counts_used { *used } else { 0 };
                    ((there.collect(), *keeps), used)
                })
                .collect();
            listed[if offcuts { 3 } else { case % 3 }] += expected.len();
            assert_eq!(found, expected, "{length} {prices:?} {tick_cost} {needed}");
        }
    }
    assert!(listed.iter().all(|listed| *listed > 300), "{listed:?}");
}
