//! Turns the solver's cuttings into positions on boards.
//!
//! A cutting says which parts are in a run; this file decides their order and with it their positions. Within a run the parts go from short
//! to long. So the board stays long while the short parts come off it, and the last cut holds the longest rest. Mitred parts form chains
//! whose neighbours share cuts (`trails`, where ends meet in more ways than one). The order always takes exactly the length that
//! [`crate::problem::Section::lay`] computes: every block of the order ends in a known cut, and the widest such cut comes last.
//! A part that stands on a factory end comes first in the first run, or is a run of its own at the far end ([`crate::problem::FactoryEnds`]).

use crate::clear::{carried_runs, carried_trims, clear_runs, standing_trims, widest_cut};
use crate::group::Group;
use crate::job::{Job, PartEnd, Sides, Stretch};
use crate::length::Length;
use crate::plan::{Edge, Lies, PlacedPart, PlannedBoard, PlannedRun, Source};
use crate::problem::{Cutting, End, Need, Section, Shape};
use timber::marks::{cut_width, lying_edges, lying_ends};

mod trails;

/// Lays the parts of one cutting of the group: on one board, or on the boards of a pack, of which those that nothing is cut from are left out.
pub fn lay_boards(job: &Job, group: &Group, cutting: &Cutting, laid: &mut Vec<PlannedBoard>) {
    if group.pack(job, cutting.board) == 1 {
        return laid.push(lay_board(job, group, cutting));
    }
    let runs = cutting.runs.iter().filter(|run| !run.is_empty());
    let one = |run: &Vec<(usize, u32)>| Cutting {
        board: cutting.board,
        runs: vec![run.clone()],
    };
    laid.extend(runs.map(|run| lay_board(job, group, &one(run))));
}

/// Lays the parts of one cutting on one board of the group.
pub fn lay_board(job: &Job, group: &Group, cutting: &Cutting) -> PlannedBoard {
    let source = group.boards[cutting.board];
    let board = &group.problem.boards[cutting.board];
    let section = group.stocks[board.section].section;
    let problem_section = &group.problem.sections[board.section];
    let way = group.problem.stands(cutting).map(|(way, _)| way);
    let posts = way.as_ref().map_or([None; 2], |way| way.posts);
    let standing = Ends::of(job, group, (source, problem_section), posts);
    let shape = way.as_ref().map_or(&board.shape, |way| &*way.shape);
    let (mut stretches, yard_cut) = match shape {
        Shape::Runs(_) => (
            clear_runs(job, source)
                .iter()
                .map(|run| run.stretch)
                .collect::<Vec<_>>(),
            None,
        ),
        Shape::OneCut { together, each } => {
            let needs = cutting.runs.iter().take(2);
            let needs = needs.filter_map(|parts| problem_section.lay(parts));
            let needs: Vec<Need> = needs.collect();
            // Parts that do not fit are laid all the same; the checker will refuse the plan.
            let first = match needs[..] {
                [first, second] => problem_section
                    .cut_once((*together, *each), [first, second])
                    .map_or(each[0], |(_, length)| length),
                _ => each[0].min(*together),
            };
            let first = Length::from_ticks(first) + standing.taken();
            carried_pieces(job, source, section, first)
        }
    };
    let far = stretches.last_mut().and_then(|last| standing.shorten(last));
    let mut runs = Vec::new();
    let laying = Laying {
        job,
        group,
        section: problem_section,
        sides: job.sides(section),
    };
    for (at, (stretch, parts)) in stretches.iter().zip(&cutting.runs).enumerate() {
        let datum = standing.posts[0].filter(|_| at == 0);
        if datum.is_none() && parts.iter().all(|(_, count)| *count == 0) {
            continue;
        }
        let mut run = *stretch;
        let mut cuts: Vec<PlacedPart> = Vec::new();
        if let Some(post) = datum {
            cuts.push(laying.post(post, 0, Length::ZERO));
            run.from = standing.behind;
            // It may be the board as it came.
            run.to = run.to.max(cuts[0].end);
        }
        cuts.extend(laying.lay_run(job.sections[section].width, run, parts));
        runs.push(PlannedRun {
            from: datum.map_or(stretch.from, |_| Length::ZERO),
            to: run.to,
            cuts,
        });
    }
    if let (Some(post), Some(from)) = (standing.posts[1], far) {
        runs.push(PlannedRun {
            from,
            to: standing.length,
            cuts: vec![laying.post(post, 1, from)],
        });
    }
    PlannedBoard {
        source,
        yard_cut,
        runs,
    }
}

/// What the parts at the factory ends of a board take of it.
struct Ends {
    /// The parts of the problem at the datum end and the far end.
    posts: [Option<usize>; 2],
    /// The whole board.
    length: Length,
    /// Where the cut behind the part at the datum end leaves off, and the trim that is not taken off there.
    behind: Length,
    trim: Length,
    /// How long the part at the far end is, also to the next step of the tape, and the cut before it.
    far: [Length; 3],
    /// How far the last clear run ends before the end of the board.
    beyond: Length,
}

impl Ends {
    fn of(
        job: &Job,
        group: &Group,
        (source, section): (Source, &Section),
        posts: [Option<usize>; 2],
    ) -> Ends {
        let (index, length) = job.board(source);
        let [trim, beyond] = standing_trims(job, source).map(Option::unwrap_or_default);
        let long = |post: usize| job.parts[group.parts[post]].length;
        let cut = |post: usize| section.fits[post].map_or(0, |fit| section.cut_of_post(fit));
        let behind = posts[0].map_or(Length::ZERO, |post| {
            long(post) + Length::from_ticks(cut(post))
        });
        let far = posts[1].map_or([Length::ZERO; 3], |post| {
            let long = long(post);
            [long, long.up_to(job.step), widest_cut(job, index)]
        });
        Ends {
            posts,
            length,
            behind,
            trim,
            far,
            beyond,
        }
    }

    /// How much more clear length the piece with the datum end has where a part stands there.
    fn taken(&self) -> Length {
        match self.posts[0] {
            Some(_) => self.behind - self.trim,
            None => Length::ZERO,
        }
    }

    /// Takes the part at the far end off the last clear run; returns where it starts.
    fn shorten(&self, last: &mut Stretch) -> Option<Length> {
        self.posts[1]?;
        let [long, told, before] = self.far;
        last.to = last.to + self.beyond - told - before;
        Some(self.length - long)
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
    /// A part at the datum end of the board, or at its far end, where `start` says. The end that it stands on is the end of the board.
    fn post(&self, post: usize, end: usize, start: Length) -> PlacedPart {
        let part = self.group.parts[post];
        let turned = self.job.parts[part].ends[end] != PartEnd::Square;
        let edge = if turned { Edge::Near } else { Edge::Far };
        let block = self.block(&[(post, turned)], edge);
        let lying = block.parts[0];
        PlacedPart {
            part,
            start,
            end: start + self.job.parts[part].length,
            lies: lying.lies,
            long_edge: lying.edge,
        }
    }

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
