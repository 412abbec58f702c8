//! From the solver's cuttings to positions on a board.
//!
//! A cutting says which parts share a run; this file says in which order they are cut and so where each lies. Within a run the
//! parts go from short to long, so that the board stays long while the short ones come off it and the last cut holds the most.
//! Mitred parts form chains whose neighbours share cuts. The order always takes exactly the length that the rule in
//! [`crate::problem::Section::lay`] promises: every block of the order ends in a known cut, and the widest such cut comes last.

use crate::clear::clear_runs;
use crate::group::{Group, shared_saving};
use crate::job::{Job, PartEnd, Stretch, Turnable};
use crate::length::Length;
use crate::plan::{Edge, Lies, PlacedPart, PlannedBoard, PlannedRun, Source};
use crate::problem::{Cutting, Need, Shape};

/// Lays the parts of one cutting on one board of the group.
pub fn lay_board(job: &Job, group: &Group, cutting: &Cutting) -> PlannedBoard {
    let source = group.boards[cutting.board];
    let board = &group.problem.boards[cutting.board];
    let section = group.sections[board.section];
    let (stretches, yard_cut) = match &board.shape {
        Shape::Runs(_) => (
            clear_runs(job, source)
                .iter()
                .map(|run| run.stretch)
                .collect::<Vec<_>>(),
            None,
        ),
        Shape::OneCut { together, each } => {
            let needs = cutting
                .runs
                .iter()
                .filter_map(|parts| group.problem.sections[board.section].lay(parts));
            let needs: Vec<Need> = needs.collect();
            // What does not fit is laid all the same; it is for the checker to say so.
            let first = match needs[..] {
                [first, second] => group.problem.sections[board.section]
                    .cut_once((*together, *each), [first, second])
                    .map_or(each[0], |(_, length)| length),
                _ => each[0].min(*together),
            };
            carried_pieces(job, source, section, Length::from_ticks(first))
        }
    };
    let mut runs = Vec::new();
    for (stretch, parts) in stretches.iter().zip(&cutting.runs) {
        let parts: Vec<(usize, u32)> = parts
            .iter()
            .map(|&(part, count)| (group.parts[part], count))
            .collect();
        if parts.iter().any(|(_, count)| *count > 0) {
            runs.push(PlannedRun {
                from: stretch.from,
                to: stretch.to,
                cuts: lay_run(job, section, *stretch, &parts),
            });
        }
    }
    PlannedBoard {
        source,
        yard_cut,
        runs,
    }
}

fn carried_pieces(
    job: &Job,
    source: Source,
    section: usize,
    first: Length,
) -> (Vec<Stretch>, Option<Length>) {
    let Source::Yard(line) = source else {
        return (Vec::new(), None);
    };
    let trim = job.sections[section].trim;
    let length = job.yard[line].length;
    let sound = trim.datum + first;
    let end = length - trim.far;
    // Where a piece is all trim, the cut may have to lie in that trim for the other piece not to be too long.
    let longest = job.carry.unwrap_or(length);
    let cut = sound.max(length - job.saw.kerf - longest).min(longest);
    (
        vec![
            Stretch {
                from: trim.datum,
                to: sound,
            },
            Stretch {
                from: sound + job.saw.kerf,
                to: end,
            },
        ],
        Some(cut),
    )
}

/// A part as it lies: its ends towards the datum and away from it.
#[derive(Clone, Copy)]
struct Lying {
    part: usize,
    lies: Lies,
    right: PartEnd,
    edge: Edge,
}

/// Parts that are laid one after the other whatever comes before and behind them.
struct Block {
    parts: Vec<Lying>,
}

fn lay_run(job: &Job, section: usize, run: Stretch, parts: &[(usize, u32)]) -> Vec<PlacedPart> {
    let mut blocks = blocks(job, section, parts);
    let last = |block: &Block| block.parts[block.parts.len() - 1];
    order::sort_by_key(&mut blocks, |block| {
        let last = last(block);
        (
            cut_after(job, last.right),
            job.parts[last.part].length,
            last.part,
        )
    });
    let width = job.sections[section].width.unwrap_or_default();
    let mut cuts: Vec<PlacedPart> = Vec::new();
    for block in &blocks {
        let mut before: Option<&Lying> = None;
        for lying in &block.parts {
            let start = match (cuts.last(), before) {
                (None, _) => run.from,
                (Some(placed), Some(neighbour)) => match neighbour.right {
                    PartEnd::Mitre(angle) => {
                        placed.end + angle.kerf(job.saw.kerf) - angle.saving(width)
                    }
                    PartEnd::Square => placed.end + job.saw.kerf,
                },
                (Some(placed), None) => placed.end + cut_after(job, right_end(job, placed)),
            };
            let end = start + job.parts[lying.part].length;
            cuts.push(PlacedPart {
                part: lying.part,
                start,
                end,
                lies: lying.lies,
                long_edge: lying.edge,
            });
            before = Some(lying);
        }
    }
    cuts
}

/// The end of a placed part that lies away from the datum.
fn right_end(job: &Job, placed: &PlacedPart) -> PartEnd {
    match placed.lies {
        Lies::AsWritten => job.parts[placed.part].ends[1],
        Lies::Turned => job.parts[placed.part].ends[0],
    }
}

fn cut_after(job: &Job, end: PartEnd) -> Length {
    match end {
        PartEnd::Square => job.saw.kerf,
        PartEnd::Mitre(angle) => angle.kerf(job.saw.kerf),
    }
}

/// Sorts the parts of a run into blocks: each part that shares no cut by itself, the others in chains.
fn blocks(job: &Job, section: usize, parts: &[(usize, u32)]) -> Vec<Block> {
    let mut blocks = Vec::new();
    let mut chains: Vec<(PartEnd, Vec<usize>, Vec<usize>)> = Vec::new();
    for &(part, count) in parts {
        let ends = job.parts[part].ends;
        let shared = match ends {
            [PartEnd::Mitre(one), PartEnd::Mitre(other)] if one == other => Some(ends[0]),
            [PartEnd::Mitre(_), PartEnd::Square] => Some(ends[0]),
            [PartEnd::Square, PartEnd::Mitre(_)] => Some(ends[1]),
            _ => None,
        };
        let shared = shared.filter(|end| shares(job, section, *end));
        for _ in 0..count {
            let Some(end) = shared else {
                blocks.push(Block {
                    parts: vec![alone(job, section, part)],
                });
                continue;
            };
            let at = chains
                .iter()
                .position(|chain| chain.0 == end)
                .unwrap_or_else(|| {
                    chains.push((end, Vec::new(), Vec::new()));
                    chains.len() - 1
                });
            if ends[0] == ends[1] {
                chains[at].1.push(part)
            } else {
                chains[at].2.push(part)
            }
        }
    }
    for (_, mut both, mut one) in chains {
        let by_length = |part: &usize| (job.parts[*part].length, *part);
        order::sort_by_key(&mut both, by_length);
        order::sort_by_key(&mut one, by_length);
        blocks.extend(chain_blocks(job, both, one));
    }
    blocks
}

/// Whether neighbours on this section share cuts at this end.
fn shares(job: &Job, section: usize, end: PartEnd) -> bool {
    match end {
        PartEnd::Square => false,
        PartEnd::Mitre(angle) => shared_saving(job, &job.sections[section], angle).is_some(),
    }
}

/// A part that shares no cut. Where it may be turned, the narrower of its two cuts trails.
fn alone(job: &Job, section: usize, part: usize) -> Lying {
    let [left, right] = job.parts[part].ends;
    let turn = job.sections[section].turnable == Turnable::Yes
        && cut_after(job, left) < cut_after(job, right);
    if turn {
        Lying {
            part,
            lies: Lies::Turned,
            right: left,
            edge: Edge::Near,
        }
    } else {
        Lying {
            part,
            lies: Lies::AsWritten,
            right,
            edge: Edge::Far,
        }
    }
}

/// Chains of parts mitred at both ends and at one end, the mitred ends laid together. With an odd number of one-ended parts the
/// first chain starts with a mitred end, at which nothing is shared; otherwise every chain starts and ends square. Without
/// one-ended parts there is one chain, mitred at both its ends.
fn chain_blocks(job: &Job, both: Vec<usize>, one: Vec<usize>) -> Vec<Block> {
    let mut one = one.into_iter();
    let mut blocks = Vec::new();
    let mut first = Vec::new();
    if one.len().is_multiple_of(2)
        && let Some(part) = one.next()
    {
        first.push(part);
    }
    first.extend(both);
    first.extend(one.next());
    let mut chains = vec![first];
    while let (Some(left), Some(right)) = (one.next(), one.next()) {
        chains.push(vec![left, right]);
    }
    for chain in chains.into_iter().filter(|chain| !chain.is_empty()) {
        let last = chain.len() - 1;
        let mut lying = Vec::new();
        for (index, &part) in chain.iter().enumerate() {
            let ends = job.parts[part].ends;
            // A one-ended part turns its mitre inwards: left at the end of a chain, right at its start.
            let mitre_left = ends[0] != PartEnd::Square;
            let turned = ends[0] != ends[1] && mitre_left != (index == last);
            let right = if turned { ends[0] } else { ends[1] };
            let edge = if index % 2 == 0 {
                Edge::Far
            } else {
                Edge::Near
            };
            let lies = if turned {
                Lies::Turned
            } else {
                Lies::AsWritten
            };
            lying.push(Lying {
                part,
                lies,
                right,
                edge,
            });
        }
        blocks.push(Block { parts: lying });
    }
    blocks
}
