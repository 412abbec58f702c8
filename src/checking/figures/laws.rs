//! What is used up of a board, told a second time: every place of a cut is tried, every length counted.

mod closed;
mod kept;
mod lifted;
mod loose;
mod posts;
mod scrap_first;
mod values;

use super::back;
use super::boards::{Board, Carried, Run, Shape, boards};
use super::question::Question;
use crate::ground::Ground;
use crate::groups::{Group, groups};
use crate::laws::{job, some};
use crate::lie::Lie;
use crate::settled::Backing;
use crate::steps::with_steps;
use crate::wood::{Laid, Stock};
use proof::certificate::{Branch, Leaf, LevelProof};
use timber::job::Job;
use timber::plan::{Measure, Source};

/// Ticks in a millimetre.
pub const MM: i64 = 3_200;

/// A run of so many millimetres, and the tail behind it.
pub fn run(length: i64, tail: i64) -> Run {
    Run {
        length: length * MM,
        tail: tail * MM,
    }
}

/// Two carried pieces by the millimetres they have together and each at the most.
pub fn carried(together: i64, first: i64, second: i64) -> Shape {
    Shape::Carried(Carried {
        together: together * MM,
        first: first * MM,
        second: second * MM,
    })
}

/// What is asked of a level of a group, the levels before it having these values.
pub fn question<'a>(
    job: &'a Job,
    group: &'a Group,
    level: usize,
    values: Vec<i64>,
    bound: i64,
) -> Question<'a> {
    Question {
        job,
        group,
        level,
        values,
        bound,
        offset: 0,
        measure: group.measures[level],
    }
}

/// What comes of the figures behind a bound of one level of the job's first group, in their own units.
fn of_one_level(
    job: &Job,
    bound: i64,
    values: Vec<i64>,
    claim: &LevelProof,
) -> Result<Backing, Lie> {
    let group = &groups(job)[0];
    let question = question(job, group, claim.level, values, bound);
    with_steps(1_000_000, |steps| back(&question, claim, steps))
}

/// That figures which claim so much of a measure show so much of it.
fn overstated<Shown>(measure: Measure, claimed: i64, shown: i64) -> Result<Shown, Lie> {
    Err(Lie::BoundNotShown {
        measure,
        claimed,
        shown,
    })
}

/// The same of the lengths bought.
fn not_shown(claimed: i64, shown: i64) -> Result<Backing, Lie> {
    overstated(Measure::Bought, claimed, shown)
}

/// Of a run nothing is left unless its offcut is long enough to keep; an offcut reaches over the tail behind the run.
#[test]
fn a_run_is_used_up_but_for_an_offcut_worth_keeping() {
    for length in 1..12 {
        for tail in 0..4 {
            for keep in 0..14 {
                for filled in 0..14 {
                    let run = Run { length, tail };
                    let laid = Laid {
                        need: filled.min(length),
                        filled,
                    };
                    // Ticks of the run and its tail, counted one by one.
                    let free = (0..length + tail)
                        .filter(|tick| *tick >= filled && filled < length)
                        .count() as i64;
                    let expected = if free >= keep {
                        length + tail - free
                    } else {
                        length + tail
                    };
                    assert_eq!(
                        run.used(laid, keep),
                        expected,
                        "{length} {tail} {keep} {filled}"
                    );
                }
            }
        }
    }
}

#[test]
fn two_carried_pieces_use_up_least_at_the_best_place_of_the_cut() {
    let laid = |(need, cut): (i64, i64)| Laid {
        need,
        filled: need + cut,
    };
    let fills = [(0, 0), (2, 0), (3, 1), (5, 2), (8, 1)].map(laid);
    for together in 0..16 {
        for (first, second) in [(together, together), (9, 9), (7, 12), (12, 6)] {
            let (first, second) = (first.min(together), second.min(together));
            let carried = Carried {
                together,
                first,
                second,
            };
            for (one, other) in fills
                .iter()
                .flat_map(|one| fills.iter().map(move |other| (one, other)))
            {
                for keep in [0, 1, 2, 4, 20] {
                    let kept = |room: i64, laid: &Laid| {
                        let offcut = room - laid.filled;
                        if offcut > 0 && offcut >= keep {
                            offcut
                        } else {
                            0
                        }
                    };
                    let places = (0..=together).filter(|cut| {
                        let rest = together - cut;
                        *cut <= first && rest <= second && one.need <= *cut && other.need <= rest
                    });
                    let expected = places
                        .map(|cut| together - kept(cut, one) - kept(together - cut, other))
                        .min();
                    assert_eq!(
                        carried.used(*one, *other, keep),
                        expected,
                        "{together} {first} {second} {one:?} {other:?} {keep}"
                    );
                }
            }
        }
    }
}

fn board(length: i64, shape: Shape) -> Board {
    let job = job(&[], &[("400", "square", "1")], |_| ());
    let ground = Ground::of(&job, Source::Yard(0)).expect("a length of the yard");
    Board {
        stands: None,
        source: Source::Yard(0),
        stock: Stock::of(&job, &ground),
        shape,
        length,
        costs: Vec::new(),
        supply: None,
    }
}

#[test]
fn a_board_loses_what_is_in_no_run_and_is_used_up_in_all_its_runs() {
    let runs = || {
        vec![
            Run {
                length: 10,
                tail: 0,
            },
            Run { length: 7, tail: 2 },
        ]
    };
    let of_runs = board(25, Shape::Runs(runs()));
    assert_eq!(of_runs.plain().lost(), 25 - 10 - 7 - 2);
    let laid = |need: i64, filled: i64| Laid { need, filled };
    // Own arithmetic: 6 lost; 4 of the first run, its offcut of 6 kept; 9 of the second, its offcut of 2 + 2 too short.
    let both = [laid(3, 4), laid(5, 5)];
    assert_eq!(of_runs.plain().used(&both, 5), Some(6 + 4 + 9));
    assert_eq!(of_runs.plain().used(&both, 4), Some(6 + 4 + 5));
    assert_eq!(
        of_runs.plain().used(&[laid(10, 12), laid(7, 8)], 1),
        Some(25)
    );
    assert_eq!(of_runs.plain().used(&[laid(11, 11), laid(0, 0)], 1), None);
    assert_eq!(of_runs.plain().used(&[laid(0, 0), laid(8, 8)], 1), None);
    assert_eq!(of_runs.shape.rooms(), [10, 7]);
    assert_eq!(of_runs.shape.longest(), 10);
    assert!(of_runs.shape.is_loose());
    assert!(!Shape::Runs(runs()[..1].to_vec()).is_loose());

    let carried = Carried {
        together: 20,
        first: 12,
        second: 13,
    };
    let of_pieces = board(25, Shape::Carried(carried));
    assert_eq!(of_pieces.plain().lost(), 5);
    assert_eq!(
        of_pieces.plain().used(&[laid(12, 12), laid(8, 8)], 1),
        Some(25)
    );
    assert_eq!(of_pieces.plain().used(&[laid(12, 12), laid(9, 9)], 1), None);
    assert_eq!(of_pieces.shape.rooms(), [12, 13]);
    assert!(of_pieces.shape.is_loose());
}

#[test]
fn a_length_comes_home_where_two_pieces_of_it_are_as_long_as_is_carried() {
    // Own arithmetic: 3000 less a kerf of 3 is twice 1498.5.
    for (carry, boards_there) in [("1498.5", 1), ("1498.49", 0), ("1498.51", 1)] {
        let job = job(&[], &[("400", "square", "1")], |draft| {
            draft.own.carry = some(carry);
        });
        let group = &groups(&job)[0];
        let question = question(&job, group, 0, Vec::new(), 1);
        assert_eq!(boards(&question).len(), boards_there, "{carry}");
    }
}

/// The length of a board, its costs and how many there are.
type Kind = (i64, [i64; 2], i64);

/// What a leaf shows by the head of [`proof::certificate`], its boards filled with every choice of parts of 400 and 300.
fn told(
    leaf: &Leaf,
    way: &[(&[usize], i64, bool)],
    kinds: &[Kind],
    level: usize,
    value: i64,
) -> i64 {
    let wanted = [3, 2];
    let earlier = leaf.earlier.first().copied().unwrap_or(0);
    let mut sum = wanted[0] * leaf.parts[0] + wanted[1] * leaf.parts[1] - earlier * value;
    for (split, price) in &leaf.splits {
        let (_, at, more) = way[*split];
        sum += if more { price * (at + 1) } else { -price * at };
    }
    for (index, (length, costs, supply)) in kinds.iter().enumerate() {
        let mut worth = 0;
        for one in 0..=wanted[0] {
            for other in 0..=wanted[1] {
                // A cut goes between two parts.
                let parts = one + other;
                let takes = one * 400 + other * 300 + 3 * (parts - 1).max(0);
                if takes <= *length {
                    worth = worth.max(one * leaf.parts[0] + other * leaf.parts[1]);
                }
            }
        }
        let mut charge = leaf.scale * costs[level] + earlier * costs[0];
        for (split, price) in &leaf.splits {
            let (set, _, more) = way[*split];
            if set.contains(&index) {
                charge += if more { -price } else { *price };
            }
        }
        sum -= supply * (worth - charge).max(0);
    }
    // Rounded up.
    sum.div_euclid(leaf.scale) + i64::from(sum.rem_euclid(leaf.scale) > 0)
}

#[test]
fn a_tree_of_prices_shows_the_least_that_its_leaves_come_to() {
    let job = job(
        &[("900", "", "0")],
        &[("400", "square", "3"), ("300", "square", "2")],
        |draft| {
            draft.own.aim = some("cheapest");
            draft.sections[0].trim = some("0");
            draft.yard[0].length = some("1000");
            draft.yard[0].price = some("0.05");
            draft.yard[0].count = some("3");
            draft.yard.push(draft.yard[0].clone());
            draft.yard[1].length = some("1300");
            draft.yard[1].price = some("0.07");
            draft.yard[1].count = some("2");
        },
    );
    let group = &groups(&job)[0];
    assert_eq!(group.measures[..2], [Measure::Money, Measure::Bought]);
    let kinds = [(1_000, [5, 1], 3), (1_300, [7, 1], 2), (900, [0, 0], 1)];
    let sets: [&[usize]; 4] = [&[0], &[1, 2], &[0, 1], &[2]];
    let mut seed = 3u64;
    let mut below = |end: i64| {
        seed = seed.wrapping_mul(6_364_136_223_846_793_005).wrapping_add(1);
        ((seed >> 33) % end as u64) as i64
    };
    let mut shown = std::collections::BTreeSet::new();
    for case in 0..600 {
        let level = case % 2;
        let value = 12 + below(4);
        let mut leaf = |depth: usize| Leaf {
            scale: 1 + below(3),
            parts: vec![below(9), below(7)],
            earlier: (0..level).map(|_| below(3)).collect(),
            splits: (0..depth).map(|at| (at, below(5))).collect(),
        };
        // The root's first side is split again.
        let leaves = [leaf(2), leaf(2), leaf(1)];
        let (one, other) = (sets[below(4) as usize], sets[below(4) as usize]);
        let (at, deeper) = (below(3), 3 + below(2));
        let ways: [&[(&[usize], i64, bool)]; 3] = [
            &[(one, at, false), (other, deeper, false)],
            &[(one, at, false), (other, deeper, true)],
            &[(one, at, true)],
        ];
        let expected = leaves.iter().zip(ways);
        let expected = expected
            .map(|(leaf, way)| told(leaf, way, &kinds, level, value))
            .min();
        let split = |set: &[usize], at: i64| Branch::Split {
            boards: set.to_vec(),
            at: at as u32,
        };
        let [first, second, third] = leaves.map(Branch::Leaf);
        let values = vec![value; level];
        let claim = LevelProof {
            level,
            earlier: values.clone(),
            bound: 1_000_000,
            shown: 1_000_000,
            lifted: false,
            tree: vec![split(one, at), split(other, deeper), first, second, third],
        };
        let measure = group.measures[level];
        let question = question(&job, group, level, values, 1_000_000);
        let found = with_steps(1_000_000, |steps| back(&question, &claim, steps));
        let expected = expected.expect("three leaves");
        let told = overstated(measure, 1_000_000, expected);
        assert_eq!(found, told, "{claim:?}");
        shown.insert(expected);
    }
    assert!(shown.len() > 20 && shown.last() > Some(&3), "{shown:?}");
}
