//! The inverse of presolve: plans and certificates in the indices of the problem as it was asked.
//!
//! **Idea** (common practice). The originals of a merged part or board are used up in order. A certificate stays valid, because equal parts get
//! equal prices and a merged board stands for all its originals.
//!
//! **Invariant.** What is still in the queues is what the rest of the plan needs, so a queue is never empty when something is taken. **Why it
//! ends:** every step takes at least one board of the plan.

use crate::pattern::Pattern;
use crate::presolve::Presolved;
use crate::problem::Cutting;
use proof::certificate::{Branch, Leaf, Pairing, Twig, TwigLeaf};
use std::collections::VecDeque;

impl Presolved {
    /// A plan in the original problem's indices.
    pub(crate) fn cuttings(&self, patterns: &[(Pattern, u32)]) -> Vec<(Cutting, u32)> {
        let mut boards_left: Vec<VecDeque<(usize, u32)>> = self
            .originals
            .iter()
            .map(|same| same.iter().copied().collect())
            .collect();
        let mut parts_left: Vec<VecDeque<(usize, u32)>> = self
            .parts
            .iter()
            .map(|same| same.iter().copied().collect())
            .collect();
        let mut cuttings: Vec<(Cutting, u32)> = Vec::new();
        for (pattern, count) in patterns {
            let mut left = *count;
            while left > 0 {
                // As many boards at once as the same originals can serve.
                let counts = pattern.counts();
                let mut times = left;
                if let Some(&(_, supply)) = boards_left[pattern.board].front() {
                    times = times.min(supply);
                }
                for &(part, each) in &counts {
                    let have = parts_left[part].front().map_or(0, |&(_, have)| have);
                    times = times.min(have / each);
                }
                let times = times.max(1);
                let board = take(&mut boards_left[pattern.board], times);
                let runs = pattern
                    .runs
                    .iter()
                    .map(|run| self.original_run(run, times, &mut parts_left))
                    .collect();
                cuttings.push((Cutting { board, runs }, times));
                left -= times;
            }
        }
        order::sort(&mut cuttings);
        cuttings
    }

    fn original_run(
        &self,
        run: &[(usize, u32)],
        times: u32,
        parts_left: &mut [VecDeque<(usize, u32)>],
    ) -> Vec<(usize, u32)> {
        let mut original: Vec<(usize, u32)> = Vec::new();
        for &(part, count) in run {
            let queue = &mut parts_left[part];
            if queue
                .front()
                .is_some_and(|&(_, have)| have >= count * times)
            {
                original.push((take(queue, count * times), count));
                continue;
            }
            // The originals change within this board; it is then cut once.
            for _ in 0..count {
                let one = take(queue, 1);
                match original.iter_mut().find(|entry| entry.0 == one) {
                    Some(entry) => entry.1 += 1,
                    None => original.push((one, 1)),
                }
            }
        }
        order::sort(&mut original);
        original
    }

    /// A place of a certificate's tree in the original problem's indices.
    pub(crate) fn branch(&self, branch: Branch) -> Branch {
        match branch {
            Branch::Leaf(leaf) => Branch::Leaf(self.leaf(leaf)),
            Branch::Searched(leaf) => Branch::Searched(self.leaf(leaf)),
            Branch::Closed { leaf, search } => Branch::Closed {
                leaf: self.leaf(leaf),
                search: search.into_iter().map(|twig| self.twig(twig)).collect(),
            },
            Branch::Paired { leaf, search } => Branch::Paired {
                leaf: self.leaf(leaf),
                search: self.pairings(search),
            },
            Branch::Split { boards, at } => Branch::Split {
                boards: self.originals_of(&boards),
                at,
            },
            Branch::Kept { boards, at } => Branch::Kept {
                boards: self.originals_of(&boards),
                at,
            },
        }
    }

    fn originals_of(&self, boards: &[usize]) -> Vec<usize> {
        let mut originals: Vec<usize> = boards
            .iter()
            .flat_map(|&board| self.originals[board].iter().map(|&(index, _)| index))
            .collect();
        order::sort(&mut originals);
        originals
    }

    fn pairings(&self, mut search: Vec<Pairing>) -> Vec<Pairing> {
        let from: Vec<Option<usize>> = self.part_to.iter().copied().map(Some).collect();
        for pairing in &mut search {
            pairing.renumber(self.parts.len(), &from);
        }
        search
    }

    /// A place in a search, told of the first original of each merged part and board.
    fn twig(&self, twig: Twig) -> Twig {
        match twig {
            Twig::Split {
                board,
                parts,
                kept,
                at,
            } => {
                let first = |(part, count): (usize, u32)| (self.parts[part][0].0, count);
                let mut parts: Vec<(usize, u32)> = parts.into_iter().map(first).collect();
                order::sort(&mut parts);
                Twig::Split {
                    board: self.originals[board][0].0,
                    parts,
                    kept,
                    at,
                }
            }
            Twig::Pair { parts, at } => Twig::Pair {
                parts: parts.map(|part| self.parts[part][0].0),
                at,
            },
            Twig::Leaf(leaf) => {
                let boards = self.originals.iter().map(Vec::len).sum();
                let mut charges = vec![0; boards];
                for (originals, &charge) in self.originals.iter().zip(&leaf.boards) {
                    for &(original, _) in originals {
                        if original >= charges.len() {
                            charges.resize(original + 1, 0);
                        }
                        charges[original] = charge;
                    }
                }
                Twig::Leaf(TwigLeaf {
                    parts: self.part_to.iter().map(|&part| leaf.parts[part]).collect(),
                    boards: charges,
                    ..leaf
                })
            }
        }
    }

    fn leaf(&self, leaf: Leaf) -> Leaf {
        Leaf {
            parts: self.part_to.iter().map(|&part| leaf.parts[part]).collect(),
            ..leaf
        }
    }
}

/// Takes `count` from the front, which has them unless the front is the last resort; returns whose they are.
fn take(queue: &mut VecDeque<(usize, u32)>, count: u32) -> usize {
    while queue.len() > 1 && queue[0].1 == 0 {
        queue.pop_front();
    }
    let front = &mut queue[0];
    front.1 = front.1.saturating_sub(count);
    let index = front.0;
    if queue[0].1 == 0 && queue.len() > 1 {
        queue.pop_front();
    }
    index
}
