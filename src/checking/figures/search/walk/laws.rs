//! What a search shows, told a second time: every plan over the list is tried, and each leaf is added up as the head of [`proof::certificate`] says.

use super::*;
use crate::figures::boards::{Board, Run, Shape};
use crate::figures::search::open::OpenBoard;
use crate::figures::side::Counted;
use crate::ground::Ground;
use crate::laws::job;
use crate::steps::with_steps;
use crate::wood::{Stock, Wood};
use std::rc::Rc;
use timber::plan::Source;

/// Every plan over the list within its bounds: how often each cutting is used.
fn plans(cuttings: &[Cutting]) -> Vec<Vec<i64>> {
    let mut plans = vec![Vec::new()];
    for cutting in cuttings {
        let longer = plans.iter().flat_map(|plan| {
            (cutting.low..=cutting.high).map(move |times| [&plan[..], &[times]].concat())
        });
        plans = longer.collect();
    }
    plans
}

/// How much a use of a cutting adds to what a split counts.
fn counted(cutting: &Cutting, splits: &[(usize, Counted)], split: usize) -> i64 {
    let mut own = splits.iter().filter(|(at, _)| *at == split);
    own.next().map_or(0, |(_, counted)| match counted {
        Counted::Boards => 1,
        Counted::Offcuts => i64::from(cutting.kept),
    })
}

/// Whether a plan is allowed and beats the claim.
fn beats(walk: &Walk, plan: &[i64]) -> bool {
    let open = walk.open;
    let uses = || walk.cuttings.iter().zip(plan);
    let board = |cutting: &Cutting| &open.boards[walk.kinds[cutting.kind].first];
    let sum = |of: &dyn Fn(&Cutting) -> i64| {
        uses()
            .map(|(cutting, times)| of(cutting) * times)
            .sum::<i64>()
    };
    let of_class = |class: usize| {
        sum(&|cutting| {
            cutting
                .counts
                .iter()
                .filter(|(one, _)| *one == class)
                .map(|(_, count)| i64::from(*count))
                .sum()
        })
    };
    (0..walk.classes.len()).all(|class| of_class(class) >= i64::from(walk.classes[class].wanted))
        && (0..walk.kinds.len()).all(|kind| {
            let used = sum(&|cutting| i64::from(cutting.kind == kind));
            walk.kinds[kind].supply.is_none_or(|supply| used <= supply)
        })
        && (0..open.limits.len()).all(|level| {
            let taken = |cutting: &Cutting| match open.used_limit == Some(level) {
                true => cutting.used,
                false => board(cutting).costs[level],
            };
            sum(&taken) <= open.limits[level]
        })
        && (0..open.fewer.len()).all(|split| {
            sum(&|cutting| counted(cutting, &board(cutting).fewer, split)) <= open.fewer[split]
        })
        && (0..open.more.len()).all(|split| {
            sum(&|cutting| counted(cutting, &board(cutting).more, split)) >= open.more[split]
        })
        && sum(&|cutting| cutting.cost) <= open.beaten
}

/// Numbers below an end.
struct Random(u64);

impl Random {
    fn below(&mut self, end: i64) -> i64 {
        let seed = self.0.wrapping_mul(6_364_136_223_846_793_005);
        self.0 = seed.wrapping_add(1);
        ((self.0 >> 33) % end as u64) as i64
    }
}

/// So many made-up leaves with lists of four cuttings, of a demand and gaps below these.
fn in_worlds(count: usize, most: i64, mut each: impl FnMut(&mut Walk, &mut Random)) {
    let job = job(
        &[],
        &[("400", "square", "3"), ("300", "square", "2")],
        |_| (),
    );
    let ground = Ground::of(&job, Source::Yard(0)).expect("a length of the yard");
    let stock = Stock::of(&job, &ground);
    let wood = Wood::of(&job, stock).expect("no mitres");
    let worths = with_steps(10_000, |steps| wood.worths(&[1, 1], 10, steps)).expect("small");
    let worths = Rc::new(worths);
    let board = Board {
        stands: None,
        source: Source::Yard(0),
        stock,
        shape: Shape::Runs(vec![Run {
            length: 10,
            tail: 0,
        }]),
        length: 10,
        costs: Vec::new(),
        supply: None,
    };
    let mut random = Random(17);
    for _ in 0..count {
        let mut below = |end| random.below(end);
        // The level before and the leaf's own, and one split of each side.
        let costs: Vec<[i64; 2]> = (0..2).map(|_| [below(4), 1 + below(4)]).collect();
        let counted: Vec<[i64; 2]> = (0..2).map(|_| [below(2), below(2)]).collect();
        let beaten = 2 + below(most);
        // A split may count the offcuts of its boards, of which a cutting keeps none, one or two.
        let what = [0; 2].map(|_| match below(2) {
            0 => Counted::Boards,
            _ => Counted::Offcuts,
        });
        let boards = (0..2).map(|at| OpenBoard {
            board: &board,
            index: at,
            wood: &wood,
            worths: worths.clone(),
            charge: 0,
            excess: 0,
            kept: 0,
            costs: &costs[at],
            fewer: vec![(0, what[0]); counted[at][0] as usize],
            more: vec![(0, what[1]); counted[at][1] as usize],
        });
        let open = Open {
            job: &job,
            parts: &[0, 1, 2],
            woods: &[],
            prices: &[0, 0, 0],
            tick_cost: 0,
            gap: 0,
            beaten,
            cost_level: Some(1),
            used_limit: (below(2) > 0).then_some(0),
            boards: boards.collect(),
            limits: vec![below(12), beaten],
            fewer: vec![below(5)],
            more: vec![below(3)],
            sides: vec![Side::More, Side::Fewer],
            offcuts: what.contains(&Counted::Offcuts),
        };
        // The third part is laid as the first.
        let classes = [vec![0, 2], vec![1]].map(|members| Class {
            part: members[0],
            members,
            wanted: below(most / 2 + 1) as u32,
        });
        let kinds = (0..2).map(|first| Kind {
            first,
            members: vec![first],
            supply: (below(3) > 0).then(|| below(5)),
        });
        let kinds: Vec<Kind> = kinds.collect();
        let cuttings = [
            (0, vec![(0, 2)]),
            (0, vec![(0, 1), (1, 1)]),
            (1, vec![(1, 2)]),
            (1, vec![(0, 3), (1, 1)]),
        ];
        let cuttings = cuttings.map(|(kind, counts)| {
            let low = below(3);
            Cutting {
                kind,
                counts,
                cost: costs[kind][1],
                used: below(4),
                kept: below(3) as u32,
                low: low / 2,
                high: low / 2 + below(4),
            }
        });
        each(
            &mut Walk::new(&open, (classes.into(), kinds, cuttings.into())),
            &mut random,
        );
    }
}

#[test]
fn where_prices_hold_no_plan_over_the_list_beats_the_claim() {
    let mut held = [0, 0];
    in_worlds(30_000, 9, |walk, random| {
        let mut below = |end| random.below(end);
        let leaf = TwigLeaf {
            scale: 1 + below(2),
            parts: vec![below(5), below(5), 0],
            boards: vec![below(3), below(3)],
            earlier: vec![below(2)],
            splits: vec![(0, below(3)), (1, below(3))],
        };
        let holds = walk.leaf_holds(&leaf, &[]);
        if holds {
            let beaten = plans(&walk.cuttings)
                .into_iter()
                .find(|plan| beats(walk, plan));
            assert_eq!(beaten, None, "{leaf:?} {:?}", walk.open.limits);
        }
        held[usize::from(holds)] += 1;
    });
    assert!(held.iter().all(|held| *held > 3_000), "{held:?}");
}

/// Whether a cutting holds both of two parts, the third being laid as the first; there is no part beyond that.
fn holds_both(cutting: &Cutting, parts: [usize; 2]) -> bool {
    let mut left = [0; 2];
    for &(class, count) in &cutting.counts {
        left[class] = count;
    }
    parts.iter().all(|part| match part {
        0..=2 if left[part % 2] > 0 => {
            left[part % 2] -= 1;
            true
        }
        _ => false,
    })
}

/// A side of a split on a pair: its number, the parts, and at most or at least how many boards hold them.
#[derive(Clone, Copy, Debug)]
struct PairSide {
    number: usize,
    parts: [usize; 2],
    side: Side,
    bound: i64,
}

/// What a node shows as the head of [`proof::certificate`] says, over cuttings that are used within these bounds.
fn told(walk: &Walk, leaf: &TwigLeaf, bounds: &[(i64, i64)], way: &[PairSide]) -> bool {
    let open = walk.open;
    let cuttings = || walk.cuttings.iter().zip(bounds);
    if cuttings().any(|(_, (low, high))| low > high) {
        return true;
    }
    let price = |number: usize| {
        let own = leaf.splits.iter().find(|(split, _)| *split == number);
        own.map_or(0, |(_, price)| *price)
    };
    let board = |cutting: &Cutting| &open.boards[walk.kinds[cutting.kind].first];
    let given = |of: &dyn Fn(&Cutting) -> i64| {
        cuttings()
            .map(|(cutting, (low, _))| of(cutting) * low)
            .sum::<i64>()
    };
    let count = |cutting: &Cutting, class: usize| {
        let own = cutting.counts.iter().find(|(own, _)| *own == class);
        own.map_or(0, |(_, count)| i64::from(*count))
    };
    let taken = |cutting: &Cutting, level: usize| match open.used_limit == Some(level) {
        true => cutting.used,
        false => board(cutting).costs[level],
    };
    let pair = |cutting: &Cutting, at: &PairSide| i64::from(holds_both(cutting, at.parts));
    let mut sum = leaf.scale * given(&|cutting| cutting.cost);
    for (class, wanted) in walk.classes.iter().enumerate() {
        let left = i64::from(wanted.wanted) - given(&|cutting| count(cutting, class));
        sum += leaf.parts[wanted.part] * left.max(0);
    }
    // What is limited: what is left of it, and its price.
    let mut limited = Vec::new();
    let mut charged_without_limit = false;
    for (at, kind) in walk.kinds.iter().enumerate() {
        let used = given(&|cutting| i64::from(cutting.kind == at));
        match kind.supply {
            Some(supply) => limited.push((supply - used, leaf.boards[at])),
            None => charged_without_limit |= leaf.boards[at] > 0,
        }
    }
    for (level, limit) in open.limits.iter().enumerate() {
        let price = leaf.earlier.get(level).copied().unwrap_or(0);
        limited.push((limit - given(&|cutting| taken(cutting, level)), price));
    }
    // The first split of boards is on the side of more, the other on that of fewer.
    let of_fewer = |cutting: &Cutting| counted(cutting, &board(cutting).fewer, 0);
    let of_more = |cutting: &Cutting| counted(cutting, &board(cutting).more, 0);
    limited.push((open.fewer[0] - given(&of_fewer), price(1)));
    sum += price(0) * (open.more[0] - given(&of_more)).max(0);
    for at in way {
        let left = at.bound - given(&|cutting| pair(cutting, at));
        match at.side {
            Side::Fewer => limited.push((left, price(at.number))),
            Side::More => sum += price(at.number) * left.max(0),
        }
    }
    if limited.iter().any(|(left, _)| *left < 0) {
        return true;
    }
    if charged_without_limit {
        return false;
    }
    sum -= limited
        .iter()
        .map(|(left, price)| left * price)
        .sum::<i64>();
    for (cutting, (low, high)) in cuttings() {
        let mut reduced = leaf.scale * cutting.cost + leaf.boards[cutting.kind];
        for (class, own) in walk.classes.iter().enumerate() {
            reduced -= leaf.parts[own.part] * count(cutting, class);
        }
        reduced += leaf.earlier[0] * taken(cutting, 0);
        reduced += price(1) * of_fewer(cutting) - price(0) * of_more(cutting);
        for at in way {
            let price = price(at.number) * pair(cutting, at);
            reduced += if at.side == Side::Fewer {
                price
            } else {
                -price
            };
        }
        sum += reduced.min(0) * (high - low);
    }
    sum > leaf.scale * open.beaten
}

/// A search grown at random: its nodes, and whether each of its leaves shows what it is to.
fn grown(
    walk: &Walk,
    random: &mut Random,
    (bounds, way, depth): (&[(i64, i64)], &[PairSide], usize),
) -> (Vec<Twig>, bool) {
    let mut below = |end| random.below(end);
    // Two splits of boards come before the search's root.
    let number = 2 + depth;
    if depth == 3 || below(3) < depth as i64 {
        let dear = 1 + 9 * below(2);
        let mut splits = vec![(0, below(3)), (1, below(3))];
        for at in way {
            splits.push((at.number, below(3) * dear));
        }
        splits.retain(|(_, price)| *price > 0);
        let leaf = TwigLeaf {
            scale: 1 + below(2),
            parts: vec![below(5), below(5), 0],
            boards: vec![below(2), below(2)],
            earlier: vec![below(2)],
            splits,
        };
        let holds = told(walk, &leaf, bounds, way);
        return (vec![Twig::Leaf(leaf)], holds);
    }
    let at = below(3);
    let pairs = [[0, 1], [1, 0], [0, 0], [1, 1], [2, 0], [2, 1], [5, 1]];
    let parts = pairs[below(7) as usize];
    let cutting = (below(4) == 0).then(|| below(4) as usize);
    let split = match cutting {
        Some(cutting) => Twig::Split {
            board: walk.cuttings[cutting].kind,
            parts: walk.cuttings[cutting].counts.clone(),
            kept: walk.open.offcuts.then_some(walk.cuttings[cutting].kept),
            at: at as u32,
        },
        None => Twig::Pair {
            parts,
            at: at as u32,
        },
    };
    let mut twigs = vec![split];
    let mut all_hold = true;
    for side in [Side::Fewer, Side::More] {
        let (mut bounds, mut way) = (bounds.to_vec(), way.to_vec());
        let bound = at + i64::from(side == Side::More);
        match (cutting, side) {
            (Some(cutting), Side::Fewer) => bounds[cutting].1 = bounds[cutting].1.min(bound),
            (Some(cutting), Side::More) => bounds[cutting].0 = bounds[cutting].0.max(bound),
            (None, _) => way.push(PairSide {
                number,
                parts,
                side,
                bound,
            }),
        }
        let (below, hold) = grown(walk, random, (&bounds, &way, depth + 1));
        twigs.extend(below);
        all_hold &= hold;
    }
    (twigs, all_hold)
}

#[test]
fn a_search_holds_just_where_each_of_its_leaves_does_and_then_no_plan_over_the_list_beats_the_claim()
 {
    // [refused, held], of searches that split on a pair.
    let mut seen = [0, 0];
    // Where a plan beats the claim no search may hold.
    let mut beatable = 0;
    in_worlds(12_000, 6, |walk, random| {
        let bounds: Vec<(i64, i64)> = walk
            .cuttings
            .iter()
            .map(|cutting| (cutting.low, cutting.high))
            .collect();
        let (twigs, expected) = grown(walk, random, (&bounds, &[], 0));
        let holds = with_steps(100_000, |steps| walk.holds(&twigs, steps));
        assert_eq!(holds, Ok(expected), "{twigs:?}");
        let after = walk
            .cuttings
            .iter()
            .map(|cutting| (cutting.low, cutting.high));
        if !expected {
            // A search that does not hold is left where it fails.
            for (cutting, bounds) in walk.cuttings.iter_mut().zip(&bounds) {
                (cutting.low, cutting.high) = *bounds;
            }
        } else {
            assert!(after.eq(bounds.iter().copied()));
        }
        let beaten = plans(&walk.cuttings)
            .into_iter()
            .any(|plan| beats(walk, &plan));
        assert!(!(expected && beaten), "{twigs:?}");
        beatable += usize::from(beaten);
        if twigs.iter().any(|twig| matches!(twig, Twig::Pair { .. })) {
            seen[usize::from(expected)] += 1;
        }
    });
    assert!(seen.iter().all(|seen| *seen > 1_000), "{seen:?}");
    assert!(beatable > 1_000, "{beatable}");
}
