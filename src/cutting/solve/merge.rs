//! The problem as the search sees it: identical parts and identical boards merged, and what cannot matter left out.
//!
//! Two parts are one where they lie the same way on every section, two kinds of board where nothing tells them apart. A supply that no plan can
//! use up is no limit. Plans and certificates are told in the merged problem's indices and translated back here; a
//! certificate stays valid, because equal parts get equal prices and a merged board stands for all its originals.

use super::pattern::Pattern;
use crate::problem::{Board, Cutting, Problem, Section, Shape, Ticks, Trailing};
use proof::certificate::{Branch, Leaf, Twig, TwigLeaf};
use std::collections::HashMap;

/// A smaller problem with the same plans.
pub(super) struct Merged {
    pub(super) problem: Problem,
    /// For each original part its merged part.
    part_to: Vec<usize>,
    /// For each merged board its originals with their supplies.
    originals: Vec<Vec<(usize, u32)>>,
    /// For each merged part its originals with their demands.
    parts: Vec<Vec<(usize, u32)>>,
}

impl Merged {
    pub(super) fn new(problem: &Problem) -> Self {
        let mut part_to = Vec::with_capacity(problem.demand.len());
        let mut parts: Vec<Vec<(usize, u32)>> = Vec::new();
        let mut known: HashMap<Vec<Option<(Ticks, Trailing)>>, usize> = HashMap::new();
        for (part, &demand) in problem.demand.iter().enumerate() {
            let lies = problem
                .sections
                .iter()
                .map(|section| lies(section, part))
                .collect();
            let merged = *known.entry(lies).or_insert_with(|| {
                parts.push(Vec::new());
                parts.len() - 1
            });
            parts[merged].push((part, demand));
            part_to.push(merged);
        }
        let demand: Vec<u32> = parts
            .iter()
            .map(|same| {
                same.iter()
                    .map(|&(_, count)| count)
                    .fold(0, u32::saturating_add)
            })
            .collect();
        let sections: Vec<Section> = problem
            .sections
            .iter()
            .map(|section| Section {
                fits: parts.iter().map(|same| section.fits[same[0].0]).collect(),
                ..section.clone()
            })
            .collect();
        let total: u64 = demand.iter().map(|&count| u64::from(count)).sum();
        let mut boards: Vec<Board> = Vec::new();
        let mut originals: Vec<Vec<(usize, u32)>> = Vec::new();
        let mut places: HashMap<(usize, &Shape, &[i64], Ticks), usize> = HashMap::new();
        let shortest: Vec<Option<Ticks>> = sections.iter().map(shortest).collect();
        for (index, board) in problem.boards.iter().enumerate() {
            let room = room(&board.shape);
            let holds = shortest[board.section].is_some_and(|alone| Some(alone) <= room);
            if board.supply == Some(0) || !holds {
                continue;
            }
            let supply = board.supply.unwrap_or(u32::MAX);
            let like = (board.section, &board.shape, &board.cost[..], board.lost);
            let at = *places.entry(like).or_insert(boards.len());
            if at == boards.len() {
                boards.push(board.clone());
                originals.push(vec![(index, supply)]);
            } else {
                originals[at].push((index, supply));
                boards[at].supply = boards[at]
                    .supply
                    .zip(board.supply)
                    .map(|(one, other)| one.saturating_add(other));
            }
        }
        for board in &mut boards {
            board.supply = board.supply.filter(|&supply| u64::from(supply) < total);
        }
        Merged {
            problem: Problem {
                demand,
                sections,
                boards,
            },
            part_to,
            originals,
            parts,
        }
    }

    /// A plan in the original problem's indices.
    pub(super) fn cuttings(&self, patterns: &[(Pattern, u32)]) -> Vec<(Cutting, u32)> {
        let mut boards_left: Vec<std::collections::VecDeque<(usize, u32)>> = self
            .originals
            .iter()
            .map(|same| same.iter().copied().collect())
            .collect();
        let mut parts_left: Vec<std::collections::VecDeque<(usize, u32)>> = self
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
        cuttings.sort();
        cuttings
    }

    fn original_run(
        &self,
        run: &[(usize, u32)],
        times: u32,
        parts_left: &mut [std::collections::VecDeque<(usize, u32)>],
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
        original.sort_unstable();
        original
    }

    /// A place of a certificate's tree in the original problem's indices.
    pub(super) fn branch(&self, branch: Branch) -> Branch {
        match branch {
            Branch::Leaf(leaf) => Branch::Leaf(self.leaf(leaf)),
            Branch::Searched(leaf) => Branch::Searched(self.leaf(leaf)),
            Branch::Closed { leaf, search } => Branch::Closed {
                leaf: self.leaf(leaf),
                search: search.into_iter().map(|twig| self.twig(twig)).collect(),
            },
            Branch::Split { boards, at } => {
                let mut originals: Vec<usize> = boards
                    .iter()
                    .flat_map(|&board| self.originals[board].iter().map(|&(index, _)| index))
                    .collect();
                originals.sort_unstable();
                Branch::Split {
                    boards: originals,
                    at,
                }
            }
        }
    }

    /// A place in a search, told of the first original of each merged part and board.
    fn twig(&self, twig: Twig) -> Twig {
        match twig {
            Twig::Split { board, parts, at } => {
                let first = |(part, count): (usize, u32)| (self.parts[part][0].0, count);
                let mut parts: Vec<(usize, u32)> = parts.into_iter().map(first).collect();
                parts.sort_unstable();
                Twig::Split {
                    board: self.originals[board][0].0,
                    parts,
                    at,
                }
            }
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
fn take(queue: &mut std::collections::VecDeque<(usize, u32)>, count: u32) -> usize {
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

fn lies(section: &Section, part: usize) -> Option<(Ticks, Trailing)> {
    let turnable = section.mitres.iter().any(|mitre| mitre.saving > 0);
    section.fits[part].map(|fit| (fit.length, section.trailing(fit.ends, turnable)))
}

/// The longest run of each section that any board to be had offers; `None` where no board does.
pub(super) struct Rooms(Vec<Option<Ticks>>);

impl Rooms {
    pub(super) fn of(problem: &Problem) -> Rooms {
        let mut rooms = vec![None; problem.sections.len()];
        for board in problem
            .boards
            .iter()
            .filter(|board| board.supply != Some(0))
        {
            rooms[board.section] = room(&board.shape).max(rooms[board.section]);
        }
        Rooms(rooms)
    }

    /// Whether this part goes on some board alone.
    pub(super) fn take(&self, problem: &Problem, part: usize) -> bool {
        let mut sections = problem.sections.iter().zip(&self.0);
        sections
            .any(|(section, &room)| alone(section, part).is_some_and(|alone| Some(alone) <= room))
    }
}

/// The run a part needs when it lies there alone.
fn alone(section: &Section, part: usize) -> Option<Ticks> {
    let fit = section.fits[part]?;
    Some(section.need(&[(part, 1)]).max(fit.length))
}

/// The shortest run that any part of a section needs.
fn shortest(section: &Section) -> Option<Ticks> {
    (0..section.fits.len())
        .filter_map(|part| alone(section, part))
        .min()
}

/// The longest run that one part can have of such a board; `None` where it offers none.
fn room(shape: &Shape) -> Option<Ticks> {
    match shape {
        Shape::Runs(runs) => runs.iter().map(|run| run.length).max(),
        &Shape::OneCut { together, each } => {
            let most = each[0].max(each[1]).min(together);
            (together <= each[0] + each[1]).then_some(most)
        }
    }
}
