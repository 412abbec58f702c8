//! Turns the solver's cuttings into positions on boards.
//!
//! A cutting says which parts are in a run; this file decides their order and with it their positions. Within a run the parts go from short
//! to long. So the board stays long while the short parts come off it, and the last cut holds the longest rest. Mitred parts form chains
//! whose neighbours share cuts (`trails`, where ends meet in more ways than one). The order always takes exactly the length that
//! [`crate::problem::Section::lay`] computes: every block of the order ends in a known cut, and the widest such cut comes last.

use crate::clear::{carried_runs, carried_trims, clear_runs};
use crate::group::Group;
use crate::job::{Job, PartEnd, Sides, Stretch};
use crate::length::Length;
use crate::plan::{Edge, Lies, PlacedPart, PlannedBoard, PlannedRun, Source};
use crate::problem::{Cutting, End, Need, Section, Shape};
use timber::marks::{cut_width, lying_edges, lying_ends};

mod trails;

/// Lays the parts of one cutting on one board of the group.
pub fn lay_board(job: &Job, group: &Group, cutting: &Cutting) -> PlannedBoard {
    let source = group.boards[cutting.board];
    let board = &group.problem.boards[cutting.board];
    let section = group.stocks[board.section].section;
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
            // Parts that do not fit are laid all the same; the checker will refuse the plan.
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
    let laying = Laying {
        job,
        group,
        section: &group.problem.sections[board.section],
        sides: job.sides(section),
    };
    for (stretch, parts) in stretches.iter().zip(&cutting.runs) {
        if parts.iter().any(|(_, count)| *count > 0) {
            runs.push(PlannedRun {
                from: stretch.from,
                to: stretch.to,
                cuts: laying.lay_run(job.sections[section].width, *stretch, parts),
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
    let length = job.yard[line].length;
    let sound = carried_trims(job, section).datum + first;
    // Where a piece is all trim, the cut may have to lie in that trim for the other piece not to be too long.
    let longest = job.carry.unwrap_or(length);
    let cut = sound.max(length - job.saw.kerf - longest).min(longest);
    (carried_runs(job, line, sound).to_vec(), Some(cut))
}

/// A part as it lies, and its end away from the datum.
#[derive(Clone, Copy)]
struct Lying {
    part: usize,
    lies: Lies,
    right: PartEnd,
    edge: Edge,
}

/// Parts that are laid one after the other, whatever is before and behind them.
struct Block {
    parts: Vec<Lying>,
}

/// How parts are laid on one section.
struct Laying<'g> {
    job: &'g Job,
    group: &'g Group,
    section: &'g Section,
    /// Whether its faces and its edges are alike.
    sides: (Sides, Sides),
}

/// A part of the group in a chain, and whether its second end comes first.
type Link = (usize, bool);

impl Laying<'_> {
    fn lay_run(
        &self,
        width: Option<Length>,
        run: Stretch,
        parts: &[(usize, u32)],
    ) -> Vec<PlacedPart> {
        let laid = self.lay_in_order(width, run, parts, trails::Opened::Cheapest);
        match laid.last() {
            // A ring of several angles is opened at another cut where the run has no room for its last cut.
            Some(last) if last.end > run.to => {
                self.lay_in_order(width, run, parts, trails::Opened::WidestLast)
            }
            _ => laid,
        }
    }

    fn lay_in_order(
        &self,
        width: Option<Length>,
        run: Stretch,
        parts: &[(usize, u32)],
        opened: trails::Opened,
    ) -> Vec<PlacedPart> {
        let job = self.job;
        let mut blocks = self.blocks(parts, opened);
        let last = |block: &Block| block.parts[block.parts.len() - 1];
        order::sort_by_key(&mut blocks, |block| {
            let last = last(block);
            (
                last.right.cut(job.saw.kerf),
                job.parts[last.part].length,
                last.part,
            )
        });
        let width = width.unwrap_or_default();
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
                    (Some(placed), None) => placed.end + cut_width(job, placed),
                };
                cuts.push(PlacedPart {
                    part: lying.part,
                    start,
                    end: start + job.parts[lying.part].length,
                    lies: lying.lies,
                    long_edge: lying.edge,
                });
                before = Some(lying);
            }
        }
        cuts
    }

    /// Sorts the parts of a run into blocks: each part that shares no cut alone, the others in chains.
    fn blocks(&self, parts: &[(usize, u32)], opened: trails::Opened) -> Vec<Block> {
        let mut blocks = Vec::new();
        let each = || {
            parts
                .iter()
                .flat_map(|&(part, count)| (0..count).map(move |_| part))
        };
        let colours = |part: usize| {
            let fit = self.section.fits[part];
            fit.map_or([None; 2], |fit| fit.ends.map(|end| self.colour(end)))
        };
        let shares = |part: usize| colours(part) != [None, None];
        blocks.extend(
            each()
                .filter(|&part| !shares(part))
                .map(|part| self.alone(part)),
        );
        let mut linked: Vec<usize> = each().filter(|&part| shares(part)).collect();
        order::sort_by_key(&mut linked, |&part| {
            let part = self.group.parts[part];
            (self.job.parts[part].length, part)
        });
        // Where any end of an angle can meet any other, all orders have the same chains, and short parts come first.
        let plain = self.sides == (Sides::Alike, Sides::Alike)
            && linked.iter().all(|&part| {
                let [one, other] = colours(part);
                one == other || one.is_none() || other.is_none()
            });
        let chains: Vec<Vec<Link>> = if plain {
            let mut angles: Vec<usize> = linked
                .iter()
                .filter_map(|&part| {
                    let [one, other] = colours(part);
                    one.or(other)
                })
                .collect();
            // The angles in the order in which the parts are written.
            order::sort_by_key(&mut angles, |angle| {
                parts
                    .iter()
                    .position(|&(part, _)| colours(part).contains(&Some(*angle)))
            });
            angles.dedup();
            let of = |angle: usize| {
                let here = linked
                    .iter()
                    .copied()
                    .filter(move |&part| colours(part).contains(&Some(angle)));
                let (both, one) = here.partition(|&part| !colours(part).contains(&None));
                chains(both, one, |part| colours(part)[0].is_some())
            };
            angles.into_iter().flat_map(of).collect()
        } else {
            let trails = trails::trails(self.section, &linked, opened);
            let part = |(at, turned): trails::Step| (linked[at], turned);
            trails
                .into_iter()
                .map(|trail| trail.into_iter().map(part).collect())
                .collect()
        };
        blocks.extend(chains.iter().map(|chain| self.block(chain, Edge::Far)));
        blocks
    }

    /// The index of the mitre at which an end can share cuts.
    fn colour(&self, end: End) -> Option<usize> {
        match end {
            End::Mitre(mitre) if self.section.mitres[mitre].saving > 0 => Some(mitre),
            _ => None,
        }
    }

    /// A block with one part that shares no cut. Where the part may be turned, the narrower of its two cuts is behind it.
    fn alone(&self, part: usize) -> Block {
        let [left, right] = self.job.parts[self.group.parts[part]].ends;
        let turn =
            self.section.reversible && left.cut(self.job.saw.kerf) < right.cut(self.job.saw.kerf);
        let edge = if turn { Edge::Near } else { Edge::Far };
        self.block(&[(part, turn)], edge)
    }

    /// A block of parts one behind the other, each turned so that its near end fits the far end of the one before. `first` is the edge of
    /// the first part's long point, where that is free.
    fn block(&self, chain: &[Link], first: Edge) -> Block {
        let mut parts: Vec<Lying> = Vec::new();
        let mut meets: Option<Edge> = None;
        for &(part, turned) in chain {
            let part = self.group.parts[part];
            let lies = if turned {
                Lies::Turned
            } else {
                Lies::AsWritten
            };
            let placed = |long_edge| PlacedPart {
                part,
                start: Length::ZERO,
                end: Length::ZERO,
                lies,
                long_edge,
            };
            let edge = match (self.sides, meets) {
                ((Sides::Alike, Sides::Alike), None) => first,
                ((Sides::Alike, Sides::Alike), Some(meets)) => {
                    if lying_edges(self.job, &placed(Edge::Far))[0] == meets {
                        Edge::Far
                    } else {
                        Edge::Near
                    }
                }
                // A half-turn about the normal of the face changes ends and edges at once.
                ((Sides::Different, Sides::Alike), _) if turned => Edge::Near,
                _ => Edge::Far,
            };
            let placed = placed(edge);
            parts.push(Lying {
                part,
                lies,
                right: lying_ends(self.job, &placed)[1],
                edge,
            });
            meets = Some(lying_edges(self.job, &placed)[1].across());
        }
        Block { parts }
    }
}

/// Chains of parts mitred at both ends and at one end, at one angle, the mitred ends laid together. With an odd number of one-ended parts the
/// first chain starts with a mitred end, at which nothing is shared; otherwise every chain starts and ends square. Without
/// one-ended parts there is one chain, mitred at both its ends.
fn chains(
    both: Vec<usize>,
    one: Vec<usize>,
    mitred_first: impl Fn(usize) -> bool,
) -> Vec<Vec<Link>> {
    let ends = one.clone();
    let mut one = one.into_iter();
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
    let chains = chains.into_iter().filter(|chain| !chain.is_empty());
    let turned = |(at, part): (usize, usize), last: usize| {
        // A one-ended part turns its mitre inwards: left at the end of a chain, right at its start.
        let turned = ends.contains(&part) && mitred_first(part) != (at == last);
        (part, turned)
    };
    chains
        .map(|chain| {
            let last = chain.len() - 1;
            let links = chain.into_iter().enumerate();
            links.map(|link| turned(link, last)).collect()
        })
        .collect()
}
