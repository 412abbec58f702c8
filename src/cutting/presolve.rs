//! Presolve: identical parts and identical boards are merged, and what cannot matter is left out.
//!
//! **Idea** (common practice). An end that meets no other, however often its part is wanted, shares no cut. Then two parts are one where they lie the
//! same way on every section, two kinds of board where they differ in neither section, shape, cost nor loss. A board that no part fits, or of which there is none, is left out; a supply that no plan can use up is no limit.
//!
//! **Invariant.** Every plan of the problem is a plan of the presolved one with the same totals, and back: [`crate::postsolve`] is the inverse. **Why
//! it ends:** one pass over parts and boards.

use crate::board_shape::longest_for_a_part;
use crate::laying::Trailing;
use crate::nesting::Nests;
use crate::problem::{Board, End, Mitre, Problem, Section, Ticks};
use std::collections::HashMap;

/// A smaller problem with the same plans.
pub(crate) struct Presolved {
    pub(crate) problem: Problem,
    /// For each original part its merged part.
    pub(crate) part_to: Vec<usize>,
    /// For each merged board its originals with their supplies.
    pub(crate) originals: Vec<Vec<(usize, u32)>>,
    /// For each merged part its originals with their demands.
    pub(crate) parts: Vec<Vec<(usize, u32)>>,
}

impl Presolved {
    pub(crate) fn new(problem: &Problem) -> Self {
        let own: Vec<Section> = problem
            .sections
            .iter()
            .map(|section| sharing_nothing_in_vain(section, &problem.demand))
            .collect();
        let mut part_to = Vec::with_capacity(problem.demand.len());
        let mut parts: Vec<Vec<(usize, u32)>> = Vec::new();
        let mut known: HashMap<Vec<Option<(Ticks, Trailing)>>, usize> = HashMap::new();
        for (part, &demand) in problem.demand.iter().enumerate() {
            let lies = own.iter().map(|section| lies(section, part)).collect();
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
        let sections: Vec<Section> = own
            .into_iter()
            .map(|section| Section {
                fits: parts.iter().map(|same| section.fits[same[0].0]).collect(),
                posts: (0..parts.len())
                    .filter(|&part| section.posts.contains(&parts[part][0].0))
                    .collect(),
                ..section
            })
            .collect();
        let total: u64 = demand.iter().map(|&count| u64::from(count)).sum();
        let mut boards: Vec<Board> = Vec::new();
        let mut originals: Vec<Vec<(usize, u32)>> = Vec::new();
        let mut places = HashMap::new();
        let shortest: Vec<Option<Ticks>> = sections.iter().map(shortest).collect();
        for (index, board) in problem.boards.iter().enumerate() {
            let room = longest_for_a_part(&board.shape);
            let holds = shortest[board.section].is_some_and(|alone| Some(alone) <= room)
                || board.factory.is_some() && carries(problem, index);
            if board.supply == Some(0) || !holds {
                continue;
            }
            let supply = board.supply.unwrap_or(u32::MAX);
            let Board { shape, cost, .. } = board;
            let like = (board.section, shape, cost, board.lost, board.factory);
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
        Presolved {
            problem: Problem {
                demand,
                sections,
                boards,
                floors: problem.floors.clone(),
            },
            part_to,
            originals,
            parts,
        }
    }
}

/// The section with every end that can meet no other as one that shares no cut. Such parts are told apart by nothing but the cut that they
/// have to themselves, and the checker does not tell them apart either.
fn sharing_nothing_in_vain(section: &Section, demand: &[u32]) -> Section {
    let nests = Nests::of(section, |part| demand[part]);
    let mut own = section.clone();
    let mut twins: Vec<Option<usize>> = vec![None; section.mitres.len()];
    for (part, fit) in own.fits.iter_mut().enumerate() {
        if section.kind(part).is_none() || nests.place(part).is_some() {
            continue;
        }
        for end in fit.iter_mut().flat_map(|fit| &mut fit.ends) {
            if let End::Mitre(mitre) = end {
                let mitres = &mut own.mitres;
                *mitre = *twins[*mitre].get_or_insert_with(|| {
                    mitres.push(Mitre {
                        saving: 0,
                        partner: mitres.len(),
                        ..section.mitres[*mitre]
                    });
                    mitres.len() - 1
                });
            }
        }
    }
    own
}

fn lies(section: &Section, part: usize) -> Option<(Ticks, Trailing)> {
    Some((section.fits[part]?.length, section.trailing(part)?))
}

/// The longest run of each section that any board to be had offers; `None` where no board does.
pub(crate) struct LongestRuns(Vec<Option<Ticks>>);

/// Whether a part stands at a factory end of a board.
fn stands_on(problem: &Problem, board: usize, part: usize) -> bool {
    let ends = [[Some(part), None], [None, Some(part)]];
    ends.into_iter()
        .any(|posts| problem.standing(board, posts).is_some())
}

/// Whether any part does.
fn carries(problem: &Problem, board: usize) -> bool {
    let mut posts = problem.sections[problem.boards[board].section].posts.iter();
    posts.any(|&post| stands_on(problem, board, post))
}

/// Whether a part stands at a factory end of some board to be had.
fn stands(problem: &Problem, part: usize) -> bool {
    (0..problem.boards.len())
        .any(|board| problem.boards[board].supply != Some(0) && stands_on(problem, board, part))
}

impl LongestRuns {
    pub(crate) fn of(problem: &Problem) -> LongestRuns {
        let mut longest = vec![None; problem.sections.len()];
        for board in problem
            .boards
            .iter()
            .filter(|board| board.supply != Some(0))
        {
            longest[board.section] = longest_for_a_part(&board.shape).max(longest[board.section]);
        }
        LongestRuns(longest)
    }

    /// Whether this part goes on some board alone.
    pub(crate) fn take(&self, problem: &Problem, part: usize) -> bool {
        let mut sections = problem.sections.iter().zip(&self.0);
        sections
            .any(|(section, &room)| alone(section, part).is_some_and(|alone| Some(alone) <= room))
            || stands(problem, part)
    }
}

/// The run a part needs when it lies there alone.
fn alone(section: &Section, part: usize) -> Option<Ticks> {
    let fit = section.fits[part].filter(|_| !section.posts.contains(&part))?;
    Some(section.need(&[(part, 1)]).max(fit.length))
}

/// The shortest run that any part of a section needs.
fn shortest(section: &Section) -> Option<Ticks> {
    (0..section.fits.len())
        .filter_map(|part| alone(section, part))
        .min()
}
