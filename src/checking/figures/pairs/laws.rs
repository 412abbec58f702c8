//! The sums over pairs, told a second time: every choice of blocks, every way to pack few parts.

use super::{Blocks, Pairs, Priced};
use crate::steps::with_steps;
use proof::certificate::{MOST_PAIR_BYTES, MOST_PAIR_DEPTH, Pairing};

struct Random(u64);

impl Random {
    fn below(&mut self, end: usize) -> usize {
        self.0 = self.0.wrapping_mul(6_364_136_223_846_793_005);
        self.0 = self.0.wrapping_add(1_442_695_040_888_963_407);
        ((self.0 >> 33) % end as u64) as usize
    }
}

/// Parts of these lengths, so many of each, and so many boards with so much room.
fn pairs(parts: &[(usize, u32)], room: usize, boards: i64) -> Option<Pairs> {
    let all: usize = parts
        .iter()
        .map(|&(length, wanted)| length * wanted as usize)
        .sum();
    let waste = (room * boards as usize).checked_sub(all)?;
    Some(Pairs {
        block_of: (0..parts.len()).map(Some).collect(),
        parts: parts.len(),
        root: Blocks {
            lengths: parts.iter().map(|part| part.0).collect(),
            wanted: parts.iter().map(|part| part.1).collect(),
            apart: Vec::new(),
        },
        room,
        waste: waste.min(room),
        boards,
    })
}

/// The fewest boards of so much room that take parts of these lengths, longest first: each goes on a board begun or on a new one.
fn fewest(parts: &[usize], room: usize, left: &mut Vec<usize>, best: &mut usize) {
    let Some((&part, rest)) = parts.split_first() else {
        *best = left.len().min(*best);
        return;
    };
    if left.len() >= *best {
        return;
    }
    for board in 0..left.len() {
        if left[board] >= part && !left[..board].contains(&left[board]) {
            left[board] -= part;
            fewest(rest, room, left, best);
            left[board] += part;
        }
    }
    left.push(room - part);
    fewest(rest, room, left, best);
    left.pop();
}

fn made_up(random: &mut Random) -> (Vec<(usize, u32)>, usize, i64) {
    let room = 12 + random.below(20);
    let parts = (0..2 + random.below(3)).map(|_| {
        (
            room / 6 + 1 + random.below(room / 2),
            1 + random.below(3) as u32,
        )
    });
    let parts: Vec<(usize, u32)> = parts.collect();
    let each = parts
        .iter()
        .flat_map(|&(length, wanted)| vec![length; wanted as usize]);
    let mut each: Vec<usize> = each.collect();
    each.sort_unstable_by(|one, other| other.cmp(one));
    let mut best = each.len();
    fewest(&each, room, &mut Vec::new(), &mut best);
    (parts, room, best as i64)
}

/// A random search of so many decisions, with prices near the shares of a board that blocks take.
fn search(random: &mut Random, here: &Blocks, room: usize, decisions: usize) -> Vec<Pairing> {
    let blocks = here.lengths.len();
    for _ in 0..4 * decisions {
        let (one, other) = (random.below(blocks), random.below(blocks));
        let mut together = here.clone();
        if together.join(one, other, room) {
            let mut apart = here.clone();
            apart.keep_apart(one, other);
            let left = random.below(decisions);
            return [
                vec![Pairing::Split([one, other])],
                search(random, &together, room, left),
                search(random, &apart, room, decisions - 1 - left),
            ]
            .concat();
        }
    }
    let scale = 12;
    let prices = here.lengths.iter().map(|&length| {
        // What halves and thirds of a board get, and often a little more.
        let share = (scale * length).div_ceil(room);
        let generous = [share, scale / (room / length).max(1)][random.below(2)];
        (generous + random.below(3)).saturating_sub(1) as i64
    });
    vec![Pairing::Leaf {
        scale: scale as i64,
        prices: prices.collect(),
    }]
}

#[test]
fn what_holds_is_true_of_every_way_to_pack() {
    let mut random = Random(5);
    let (mut held, mut split, mut refused) = (0, 0, 0);
    for _ in 0..60_000 {
        let (parts, room, best) = made_up(&mut random);
        for boards in [best - 1, best] {
            let Some(pairs) = pairs(&parts, room, boards) else {
                continue;
            };
            let decisions = random.below(4);
            let search = search(&mut random, &pairs.root, room, decisions);
            let holds = with_steps(1_000_000, |steps| pairs.hold(&search, steps)).expect("small");
            assert!(
                !holds || boards < best,
                "{parts:?} {room} {boards} {search:?}"
            );
            held += usize::from(holds);
            split += usize::from(holds && search.len() > 1);
            refused += usize::from(!holds);
        }
    }
    assert!(
        held > 200 && split > 50 && refused > 10_000,
        "{held} {split} {refused}"
    );
}

#[test]
fn a_choice_of_blocks_is_worth_more_just_where_trying_all_finds_one() {
    let mut random = Random(11);
    let mut met = [0, 0];
    for _ in 0..4_000 {
        let count = 2 + random.below(4);
        let room = 15 + random.below(20);
        let mut here = Blocks::default();
        let mut priced = Vec::new();
        for block in 0..count {
            here.lengths.push(3 + random.below(12));
            here.wanted.push(1 + random.below(3) as u32);
            priced.push(random.below(20) as i64);
            for other in 0..=block {
                if random.below(4) == 0 {
                    here.keep_apart(other, block);
                }
            }
        }
        let waste = random.below(room);
        // By trying all.
        let mut best = None;
        let mut counts = vec![0; count];
        loop {
            let at = (0..count).find(|&at| counts[at] < here.wanted[at]);
            let Some(at) = at else { break };
            counts[..at].fill(0);
            counts[at] += 1;
            let each = || counts.iter().enumerate().filter(|(_, count)| **count > 0);
            let used: usize = each()
                .map(|(at, &count)| here.lengths[at] * count as usize)
                .sum();
            let worth: i64 = each()
                .map(|(at, &count)| priced[at] * i64::from(count))
                .sum();
            let apart = here.apart.iter().any(|&[one, other]| match one == other {
                true => counts[one] > 1,
                false => counts[one] > 0 && counts[other] > 0,
            });
            if used <= room && room - used <= waste && !apart {
                best = best.max(Some(worth));
            }
        }
        let all: i64 = priced
            .iter()
            .zip(&here.wanted)
            .map(|(price, wanted)| price * i64::from(*wanted))
            .sum();
        // One board less than all are worth, so that only what a board holds decides.
        let asked = best.unwrap_or(0) + random.below(3) as i64 - 1;
        if all <= 0 || asked < 1 {
            continue;
        }
        let pairs = Pairs {
            block_of: (0..count).map(Some).collect(),
            parts: count,
            root: here.clone(),
            room,
            waste,
            boards: (all - 1) / asked,
        };
        let found = with_steps(1_000_000, |steps| {
            pairs.leaf_holds(&here, asked, &priced, steps)
        });
        let holds = best.is_none_or(|best| best <= asked);
        assert_eq!(
            found,
            Ok(holds),
            "{:?} {:?} {priced:?} {room} {waste}",
            here.lengths,
            here.apart
        );
        // And what all are worth has to be more than the boards.
        let enough = Pairs {
            boards: (all + asked - 1) / asked,
            ..pairs
        };
        let found = with_steps(1_000_000, |steps| {
            enough.leaf_holds(&here, asked, &priced, steps)
        });
        assert_eq!(found, Ok(false));
        met[usize::from(holds)] += 1;
    }
    assert!(met.iter().all(|met| *met > 500), "{met:?}");
}

#[test]
fn every_way_to_pack_stays_on_one_side_of_each_decision_as_it_is_told_there() {
    let mut random = Random(23);
    let mut sides = [0, 0];
    for _ in 0..3_000 {
        let (parts, room, _) = made_up(&mut random);
        let Some(pairs) = pairs(&parts, room, 100) else {
            continue;
        };
        // A plan: blocks on boards, as they come.
        let mut boards: Vec<Vec<usize>> = Vec::new();
        for (block, &(length, wanted)) in parts.iter().enumerate() {
            for _ in 0..wanted {
                let start = random.below(boards.len() + 1);
                let used =
                    |board: &Vec<usize>| board.iter().map(|&one| parts[one].0).sum::<usize>();
                match boards
                    .get_mut(start)
                    .filter(|board| used(board) + length <= room)
                {
                    Some(board) => board.push(block),
                    None => boards.push(vec![block]),
                }
            }
        }
        let mut here = pairs.root.clone();
        for _ in 0..6 {
            let blocks = here.lengths.len();
            let (one, other) = (random.below(blocks), random.below(blocks));
            let mut together = here.clone();
            if !together.join(one, other, room) {
                continue;
            }
            let place = |board: &Vec<usize>, block: usize, but: Option<usize>| {
                (0..board.len()).find(|&at| board[at] == block && Some(at) != but)
            };
            let both = boards.iter().enumerate().find_map(|(at, board)| {
                let first = place(board, one, None)?;
                Some((at, first, place(board, other, Some(first))?))
            });
            if let Some((at, first, second)) = both {
                boards[at].remove(first.max(second));
                boards[at].remove(first.min(second));
                boards[at].push(blocks);
                here = together;
            } else {
                here.keep_apart(one, other);
            }
            sides[usize::from(both.is_some())] += 1;
            let mut placed = vec![0; here.lengths.len()];
            for board in &boards {
                for (at, &block) in board.iter().enumerate() {
                    placed[block] += 1;
                    assert!(
                        board[..at]
                            .iter()
                            .all(|&before| !here.are_apart(before, block))
                    );
                }
                let used: usize = board.iter().map(|&block| here.lengths[block]).sum();
                assert!(used <= room);
            }
            assert_eq!(placed, here.wanted);
        }
    }
    assert!(sides.iter().all(|side| *side > 1_000), "{sides:?}");
}

#[test]
fn joined_blocks_are_kept_apart_from_what_their_two_were() {
    let mut blocks = Blocks {
        lengths: vec![5, 7, 11],
        wanted: vec![1, 3, 2],
        apart: Vec::new(),
    };
    blocks.keep_apart(2, 2);
    assert!(!blocks.clone().join(2, 2, 100), "kept apart");
    assert!(!blocks.clone().join(0, 0, 100), "there is one");
    assert!(!blocks.clone().join(0, 3, 100), "there is none such");
    assert!(!blocks.clone().join(0, 1, 11), "no board takes 12");
    assert!(blocks.join(0, 1, 12));
    blocks.keep_apart(3, 2);
    assert!(blocks.join(1, 2, 100));
    assert_eq!(blocks.lengths, [5, 7, 11, 12, 18]);
    assert_eq!(blocks.wanted, [0, 1, 1, 1, 1]);
    assert_eq!(blocks.apart, [[2, 2], [2, 3], [2, 4], [3, 4]]);
    assert!(!blocks.clone().join(0, 1, 100), "none is left");
    // Another of the same is kept apart from the first as well.
    assert!(blocks.join(1, 2, 100));
    assert_eq!(
        blocks.apart,
        [[2, 2], [2, 3], [2, 4], [2, 5], [3, 4], [3, 5], [4, 5]]
    );
}

#[test]
fn searches_of_too_many_bytes_decisions_places_or_steps_are_too_large() {
    let leaf = |prices: Vec<i64>| Pairing::Leaf { scale: 1, prices };
    let of = |wanted, room| pairs(&[(1, wanted)], room, 1).expect("there is room");
    // A board of ten holds ten ones, so no price of one holds.
    let ten = of(10, 10);
    let holds = |pairs: &Pairs, search: &[Pairing], steps| {
        with_steps(steps, |steps| pairs.hold(search, steps)).ok()
    };
    assert_eq!(holds(&ten, &[leaf(vec![1])], 1_000), Some(false));
    assert_eq!(holds(&ten, &[leaf(vec![1])], 10), None);
    let long = vec![leaf(vec![1; 10]); MOST_PAIR_BYTES / 20];
    assert_eq!(holds(&ten, &long, 1_000), None);
    let wide = of(1, super::MOST_PLACES);
    assert_eq!(holds(&wide, &[leaf(vec![2])], u64::MAX), None);
    let many = of(2 * MOST_PAIR_DEPTH as u32 + 2, 10_000);
    let deep = |decisions| vec![Pairing::Split([0, 0]); decisions];
    assert_eq!(
        holds(&many, &deep(MOST_PAIR_DEPTH), u64::MAX),
        Some(true),
        "no leaf is met"
    );
    assert_eq!(holds(&many, &deep(MOST_PAIR_DEPTH + 1), u64::MAX), None);
}

#[test]
fn what_nothing_is_kept_apart_from_is_chosen_by_the_table_alone() {
    let free = [(2, 3, 2), (5, 9, 1)].map(|(length, price, most)| Priced {
        block: 0,
        length,
        price,
        most,
    });
    let pairs = pairs(&[(1, 1)], 9, 1).expect("there is room");
    let none_more = |most| {
        with_steps(1_000, |steps| {
            pairs.none_is_worth_more(&Blocks::default(), (&free, &[]), most, steps)
        })
    };
    // Two of 2 and the 5: 15, which fill the board.
    assert_eq!((none_more(14), none_more(15)), (Ok(false), Ok(true)));
}
