//! The search over pairs of parts: its pricing, its blocks, and its answers.

use crate::clock::Clock;
use crate::greedy::{GreedyRule, greedy};
use crate::incumbent::{Incumbent, NoListener};
use crate::laws::exhaustive::least;
use crate::laws::made_up::{Forever, NO_SCRAP, Random, of_lengths, of_one_length};
use crate::laws::published::HARD;
use crate::objective::Objective;
use crate::pair_search::blocks::{Blocks, PairDecision, PairNode};
use crate::pair_search::pricing::{PairPricer, PricedBlock};
use crate::pair_search::told::{PairPrices, ToldPairs};
use crate::pair_search::{PairEnd, PairProblem, PairSearch, boards_to_beat};
use crate::problem::Problem;
use proof::certificate::{MOST_PAIR_DEPTH, Pairing};

/// Made-up blocks, longest first.
fn made_up_blocks(random: &mut Random) -> Vec<PricedBlock> {
    let count = 3 + random.below(5) as usize;
    let mut lengths: Vec<usize> = (0..count).map(|_| 4 + random.below(20) as usize).collect();
    lengths.sort_unstable_by(|one, other| other.cmp(one));
    let mut apart = vec![Vec::new(); count];
    for one in 0..count {
        for other in 0..one {
            if random.once_in(3) {
                apart[one].push(other);
                apart[other].push(one);
            }
        }
    }
    let lengths = lengths.into_iter().zip(apart).enumerate();
    lengths
        .map(|(block, (length, apart))| PricedBlock {
            block,
            length,
            price: random.below(30) as i32,
            most: 1 + random.below(3) as u32,
            apart,
        })
        .collect()
}

/// For each longest block the most that a cutting is worth, by trying all.
fn by_trying(blocks: &[PricedBlock], room: usize, waste: usize) -> Vec<Option<i32>> {
    let mut best = vec![None; blocks.len()];
    let mut counts = vec![0u32; blocks.len()];
    loop {
        let mut at = 0;
        while at < blocks.len() && counts[at] == blocks[at].most {
            counts[at] = 0;
            at += 1;
        }
        if at == blocks.len() {
            return best;
        }
        counts[at] += 1;
        let pairs = || blocks.iter().zip(&counts);
        let used: usize = pairs()
            .map(|(block, &count)| block.length * count as usize)
            .sum();
        let worth: i32 = pairs()
            .map(|(block, &count)| block.price * count as i32)
            .sum();
        let bars = |(block, count): (&PricedBlock, &u32)| {
            *count > 0 && block.apart.iter().any(|&other| counts[other] > 0)
        };
        if used > room || room - used > waste || pairs().any(bars) {
            continue;
        }
        if let Some(first) = counts.iter().position(|&count| count > 0) {
            best[first] = best[first].max(Some(worth));
        }
    }
}

#[test]
fn pricing_finds_the_worthiest_cutting_of_each_longest_block() {
    let mut random = Random::new(0x9a1f_0001);
    let (mut found, mut none) = (0, 0);
    for case in 0..400 {
        let blocks = made_up_blocks(&mut random);
        let room = 20 + random.below(30) as usize;
        let waste = random.below(room as i64 / 2) as usize;
        let asked = random.below(40) as i32;
        let mut pricer = PairPricer::new(&blocks, room, waste, Vec::new());
        let priced = pricer.price(asked);
        let mut wanted: Vec<i32> = by_trying(&blocks, room, waste)
            .into_iter()
            .flatten()
            .filter(|&worth| worth > asked)
            .collect();
        let mut worths: Vec<i32> = priced.cuttings.iter().map(|cutting| cutting.0).collect();
        wanted.sort_unstable();
        worths.sort_unstable();
        assert_eq!(worths, wanted, "{case}: {blocks:?} {room} {waste} {asked}");
        assert_eq!(
            priced.most,
            wanted.last().copied().unwrap_or(asked),
            "{case}"
        );
        for (worth, cutting) in &priced.cuttings {
            let prices = cutting.iter().map(|&at| blocks[at].price);
            assert_eq!(prices.sum::<i32>(), *worth, "{case}");
        }
        found += usize::from(!wanted.is_empty());
        none += usize::from(wanted.is_empty());
    }
    assert!(found > 100 && none > 20, "{found} {none}");
}

#[test]
fn joined_blocks_hold_their_parts_and_keep_apart_what_these_kept_apart() {
    // Of parts 0 (once), 1 (three times) and 2 (twice): 0 with 1, then what they make apart from 2, then 1 with 2.
    let mut blocks = Blocks::new(vec![5, 7, 11]);
    let demand = [1, 3, 2];
    let decide = |pair, together| PairDecision { pair, together };
    let way = [
        decide((0, 1), true),
        decide((2, 3), false),
        decide((1, 2), true),
    ];
    let node = PairNode::new(&mut blocks, &demand, &way);
    assert_eq!(blocks.lengths, [5, 7, 11, 12, 18]);
    assert_eq!(node.wanted, [0, 1, 1, 1, 1]);
    assert_eq!(node.apart, [vec![], vec![], vec![3], vec![2, 4], vec![3]]);
    let mut counts = vec![0; blocks.len()];
    let mut held =
        |parts: &[(usize, u32)], free: &[usize]| node.blocks_of(parts, free, &mut counts);
    assert_eq!(held(&[(0, 1)], &[]), None, "the only 0 lies with a 1");
    assert_eq!(held(&[(0, 1), (1, 1)], &[]), Some(vec![(3, 1)]));
    assert_eq!(held(&[(0, 1), (1, 2)], &[]), Some(vec![(1, 1), (3, 1)]));
    assert_eq!(held(&[(0, 1), (1, 1), (2, 1)], &[]), None, "kept apart");
    assert_eq!(
        held(&[(0, 1), (1, 2), (2, 1)], &[4]),
        None,
        "kept apart by what it holds"
    );
    assert_eq!(held(&[(1, 1), (2, 1)], &[]), Some(vec![(1, 1), (2, 1)]));
    assert_eq!(held(&[(1, 1), (2, 1)], &[4]), Some(vec![(4, 1)]));
    assert_eq!(held(&[(1, 2)], &[]), None, "only one is left by itself");
    assert_eq!(
        held(&[(1, 1)], &[4]),
        None,
        "what it was made with is missing"
    );
}

/// Whether so few boards do, as the search over pairs says.
fn with_boards(problem: &Problem, boards: i64, nodes: usize) -> (PairEnd, usize) {
    let mut watch = Forever;
    let mut clock = Clock::new(&mut watch);
    let mut nobody = NoListener;
    let mut incumbent = Incumbent::new(problem, NO_SCRAP, &mut nobody);
    let Some(given) = PairProblem::of(problem, boards) else {
        return (PairEnd::Exhausted, 0);
    };
    let told = ToldPairs::new(problem.demand.len(), usize::MAX);
    let mut search = PairSearch::new(given, problem, &[], told);
    let end = search.run(nodes, &mut incumbent, &mut clock);
    let found = incumbent.best.map(|best| best.totals[0]);
    let end = end.expect("no limit of time");
    assert_eq!(found.is_some(), end == PairEnd::Found);
    assert!(found.is_none_or(|found| found <= boards));
    let nodes = search.nodes;
    let (told, bytes) = search.told.finish().expect("there is room");
    if end == PairEnd::Exhausted {
        is_complete(&told);
        let exact: usize = told.iter().map(Pairing::bytes).sum();
        assert!(exact <= bytes && bytes <= 3 * exact, "{exact} {bytes}");
    }
    (end, nodes)
}

/// Every decision has both its sides, and every leaf a price for each block of its way.
fn is_complete(told: &[Pairing]) {
    let mut parts = told.iter().map(|pairing| match pairing {
        Pairing::Split(_) => usize::MAX,
        Pairing::Leaf { prices, .. } => prices.len(),
    });
    // The side that keeps apart all that is decided is the last, and has no joined block.
    let parts = parts.next_back().expect("a node");
    let mut waiting = vec![parts];
    for pairing in told {
        let blocks = waiting.pop().expect("a node that waits");
        match pairing {
            Pairing::Split(pair) => {
                assert!(pair.iter().all(|block| *block < blocks), "{told:?}");
                waiting.extend([blocks, blocks + 1]);
            }
            Pairing::Leaf { scale, prices } => {
                assert_eq!(prices.len(), blocks, "{told:?}");
                assert!(*scale > 0 && prices.iter().all(|price| *price >= 0));
            }
        }
    }
    assert_eq!(waiting, [0; 0], "{told:?}");
}

#[test]
fn a_search_that_takes_more_bytes_than_there_are_or_goes_too_deep_is_not_told() {
    let mut blocks = Blocks::new(vec![5, 7]);
    let node = PairNode::new(&mut blocks, &[1, 1], &[]);
    let leaf = |told: &mut ToldPairs, worth| {
        let shown = PairPrices {
            boards: 1,
            worth,
            scale: 900,
            prices: &[(0, 500), (1, 500)],
        };
        told.leaf(2, &node, &shown);
    };
    // `[100,55,55],` of prices that all hold at the coarsest scale, told of two parts and of nine.
    let mut told = ToldPairs::new(2, 1_000);
    leaf(&mut told, 900);
    let (search, bytes) = told.finish().expect("there is room");
    let (scale, prices) = (100, vec![55, 55]);
    assert_eq!(search, [Pairing::Leaf { scale, prices }]);
    assert_eq!(bytes, 3 + 3 * 4);
    for (room, fits) in [(43, true), (42, false)] {
        let mut told = ToldPairs::new(9, room);
        leaf(&mut told, 900);
        assert_eq!(told.finish().is_some(), fits, "{room}");
    }
    // A thousand and one each: at a hundred 49 and 49 are too little, as at the scale they came with.
    let mut told = ToldPairs::new(2, 1_000);
    leaf(&mut told, 1_001);
    let (search, _) = told.finish().expect("there is room");
    let (scale, prices) = (900, vec![449, 449]);
    assert_eq!(search, [Pairing::Leaf { scale, prices }]);
    for (decisions, fits) in [(MOST_PAIR_DEPTH, true), (MOST_PAIR_DEPTH + 1, false)] {
        let mut told = ToldPairs::new(2, 1_000);
        told.arrive(decisions);
        leaf(&mut told, 900);
        assert_eq!(told.finish().is_some(), fits);
    }
    // Where it starts over there is room again.
    let mut told = ToldPairs::new(2, 1_000);
    told.arrive(MOST_PAIR_DEPTH + 1);
    told.start();
    told.split(2, &node, (0, 1));
    let (search, _) = told.finish().expect("there is room");
    assert_eq!(search, [Pairing::Split([0, 1])]);
}

#[test]
fn pairs_tell_the_fewest_boards_that_trying_everything_finds() {
    let mut random = Random::new(0x0bad_5eed);
    let mut split = 0;
    for index in 0..120 {
        let (parts, most) = [(6, 1), (4, 3), (5, 2)][index % 3];
        let problem = of_one_length(&mut random, parts, most);
        let fewest = least(&problem, Objective::Cost(0)).expect("lengths are not limited");
        let (end, nodes) = with_boards(&problem, fewest, 1_000);
        assert_eq!(end, PairEnd::Found, "problem {index}: {problem:?}");
        split += usize::from(nodes > 1);
        let (end, nodes) = with_boards(&problem, fewest - 1, 1_000);
        assert_eq!(end, PairEnd::Exhausted, "problem {index}: {problem:?}");
        split += usize::from(nodes > 1);
    }
    assert!(split > 5, "only {split} searches were split at all");
}

#[test]
fn pairs_and_listed_patterns_tell_the_same_of_larger_problems() {
    // The search by single patterns is another way to the same answer, checked against trying everything elsewhere.
    let mut random = Random::new(0x51de_0007);
    let mut proven = 0;
    for index in 0..60 {
        let (parts, most) = [(14, 1), (9, 2), (6, 5)][index % 3];
        let problem = of_one_length(&mut random, parts, most);
        let (fewest, _) = crate::laws::search::fewest(&problem, false);
        let (end, _) = with_boards(&problem, fewest, 2_000);
        assert_eq!(end, PairEnd::Found, "problem {index}: {problem:?}");
        let (end, nodes) = with_boards(&problem, fewest - 1, 2_000);
        assert_eq!(end, PairEnd::Exhausted, "problem {index}: {problem:?}");
        proven += usize::from(nodes > 0);
    }
    assert!(proven > 10, "{proven}");
}

#[test]
fn no_node_of_a_published_problem_is_given_up_that_holds_its_best_plan() {
    for (name, fewest, parts) in HARD {
        let problem = of_lengths(1_000, parts);
        let (end, nodes) = with_boards(&problem, fewest, 24);
        assert_ne!(end, PairEnd::Exhausted, "{name} after {nodes} nodes");
    }
}

#[test]
fn a_plan_to_beat_has_as_few_boards_as_cost_less() {
    let mut random = Random::new(3);
    let mut problem = of_one_length(&mut random, 4, 2);
    problem.boards[0].cost = vec![7];
    let beat = |cutoff| boards_to_beat(&problem, Objective::Cost(0), cutoff);
    assert_eq!((beat(21), beat(22), beat(20)), (Some(2), Some(3), Some(2)));
    let mut demand = problem.demand.clone();
    let plan = greedy(
        &problem,
        GreedyRule::Longest,
        &mut demand,
        &mut [None],
        None,
    );
    assert!(plan.is_ok_and(|plan| plan.is_some()));
    assert_eq!(boards_to_beat(&problem, Objective::UsedLength, 21), None);
}
