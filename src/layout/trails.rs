//! Trails of parts whose neighbours share cuts, where ends meet in more ways than one.
//!
//! **Idea.** Ends that can meet are matched as often as they can be. The matches make trails, and circuits where every end is matched. A circuit is let
//! into another trail or circuit where a match of both is of one colour: the four ends are matched the other way (Hierholzer 1873). What is left of circuits
//! is opened where that costs least. Then matches are changed two at a time while that makes the cuts behind the trails narrower.
//!
//! **Invariant.** Every part is in one trail or circuit, and matched ends are each other's partners. **Why it ends:** each circuit that is let in is one
//! fewer, and each later change makes a sum of whole numbers smaller.

use crate::problem::{End, Section, Ticks};

/// A part in a trail: its place in the list, and whether its second end comes first.
pub(super) type Step = (usize, bool);

/// An end of a part: the part's place in the list, and which end.
type Port = (usize, usize);

/// Where a circuit is opened that nothing else can be let into.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Opened {
    /// Where all its cuts take least.
    Cheapest,
    /// Where all but the last take least.
    WidestLast,
}

/// Lays parts, each given by its index in the section, in trails.
pub(super) fn trails(section: &Section, parts: &[usize], opened: Opened) -> Vec<Vec<Step>> {
    let mut matching = Matching::new(section, parts);
    matching.match_all();
    matching.join_circuits();
    matching.open_circuits(opened);
    matching.narrow();
    let mut trails = matching.trails();
    for trail in &mut trails {
        matching.point(trail);
    }
    trails
}

struct Matching<'s> {
    section: &'s Section,
    /// The colours of each part's ends.
    colours: Vec<[Option<usize>; 2]>,
    /// The cuts behind each part's ends.
    cuts: Vec<[Ticks; 2]>,
    mates: Vec<[Option<Port>; 2]>,
}

impl<'s> Matching<'s> {
    fn new(section: &'s Section, parts: &[usize]) -> Self {
        let ends = |part: &usize| section.fits[*part].map_or([End::Square; 2], |fit| fit.ends);
        let colour = |end: End| match end {
            End::Mitre(mitre) if section.mitres[mitre].saving > 0 => Some(mitre),
            _ => None,
        };
        let cut = |end: End| match end {
            End::Square => section.kerf,
            End::Mitre(mitre) => section.mitres[mitre].kerf,
        };
        Matching {
            section,
            colours: parts.iter().map(|part| ends(part).map(colour)).collect(),
            cuts: parts.iter().map(|part| ends(part).map(cut)).collect(),
            mates: vec![[None; 2]; parts.len()],
        }
    }

    fn colour(&self, port: Port) -> Option<usize> {
        self.colours[port.0][port.1]
    }

    fn mate(&self, port: Port) -> Option<Port> {
        self.mates[port.0][port.1]
    }

    fn part_ways(&mut self, port: Port) {
        if let Some(mate) = self.mates[port.0][port.1].take() {
            self.mates[mate.0][mate.1] = None;
        }
    }

    fn meet(&mut self, one: Port, other: Port) {
        self.mates[one.0][one.1] = Some(other);
        self.mates[other.0][other.1] = Some(one);
    }

    fn ports(&self) -> Vec<Port> {
        (0..self.mates.len())
            .flat_map(|part| [(part, 0), (part, 1)])
            .collect()
    }

    /// Matches each end with the first one free that it can meet, of another part where there is one.
    fn match_all(&mut self) {
        let ports = self.ports();
        for &port in &ports {
            let Some(colour) = self.colour(port).filter(|_| self.mate(port).is_none()) else {
                continue;
            };
            let partner = Some(self.section.mitres[colour].partner);
            let free = |other: &&Port| {
                **other != port && self.colour(**other) == partner && self.mate(**other).is_none()
            };
            let found = ports.iter().filter(free);
            // Its own other end comes last.
            if let Some(&other) = found.min_by_key(|other| (other.0 == port.0, **other)) {
                self.meet(port, other);
            }
        }
    }

    /// For each part which trail or circuit it is in, by its least part, and whether that is a circuit.
    fn pieces(&self) -> Vec<(usize, bool)> {
        let mut piece = vec![(usize::MAX, false); self.mates.len()];
        for part in 0..self.mates.len() {
            if piece[part].0 != usize::MAX {
                continue;
            }
            let (steps, circuit) = self.walk(part);
            for (step, _) in steps {
                piece[step] = (part, circuit);
            }
        }
        piece
    }

    /// The trail that a part is in, from one of its ends; or its circuit from there.
    fn walk(&self, part: usize) -> (Vec<Step>, bool) {
        // Backwards to where it starts.
        let (mut start, mut circuit) = ((part, false), false);
        while let Some(mate) = self.mate((start.0, usize::from(start.1))) {
            start = (mate.0, mate.1 == 0);
            if start.0 == part {
                circuit = true;
                break;
            }
        }
        let first = if circuit { (part, false) } else { start };
        let mut steps = vec![first];
        let mut at = first;
        while let Some(mate) = self.mate((at.0, usize::from(!at.1))) {
            at = (mate.0, mate.1 == 1);
            if at.0 == first.0 {
                break;
            }
            steps.push(at);
        }
        (steps, circuit)
    }

    /// Lets each circuit into something else that has an end of one of its colours.
    fn join_circuits(&mut self) {
        while let Some((port, other)) = self.joint() {
            let mate = self.mate(port);
            let across = self.mate(other);
            self.part_ways(port);
            self.part_ways(other);
            // `port` and `other` are of one colour, so that each can meet the other's mate.
            if let Some(mate) = mate {
                self.meet(other, mate);
            }
            if let Some(across) = across {
                self.meet(port, across);
            }
        }
    }

    /// An end in a circuit and one of the same colour that is not in it.
    fn joint(&self) -> Option<(Port, Port)> {
        let pieces = self.pieces();
        let ports = self.ports();
        let in_circuit = ports.iter().filter(|port| pieces[port.0].1);
        for &port in in_circuit {
            let other = ports.iter().find(|other| {
                self.colour(**other) == self.colour(port) && pieces[other.0].0 != pieces[port.0].0
            });
            if let Some(&other) = other {
                return Some((port, other));
            }
        }
        None
    }

    /// Opens circuits that nothing else can be let into, each where that costs least.
    fn open_circuits(&mut self, opened: Opened) {
        while let Some(first) = self.pieces().iter().position(|piece| piece.1) {
            let (steps, _) = self.walk(first);
            let ports = steps.iter().flat_map(|step| [(step.0, 0), (step.0, 1)]);
            let cost = |port: &Port| {
                let mitre = self.colour(*port).map(|colour| self.section.mitres[colour]);
                mitre.map(|mitre| match opened {
                    Opened::Cheapest => mitre.saving,
                    Opened::WidestLast => mitre.saving - mitre.kerf,
                })
            };
            match ports.min_by_key(cost) {
                Some(port) => self.part_ways(port),
                None => return,
            }
        }
    }

    /// What goes behind the trails, or none where there are circuits.
    fn behind(&self) -> Option<Ticks> {
        if self.pieces().iter().any(|piece| piece.1) {
            return None;
        }
        let trails = self.trails();
        let widths = trails.iter().map(|trail| {
            let [near, far] = self.open_cuts(trail);
            if self.section.reversible {
                near.min(far)
            } else {
                far
            }
        });
        Some(widths.sum())
    }

    /// Changes matches of one colour two at a time while that makes what goes behind the trails less.
    fn narrow(&mut self) {
        while let Some(before) = self.behind().filter(|_| self.section.reversible) {
            if !self.narrows(before) {
                break;
            }
        }
    }

    fn narrows(&mut self, before: Ticks) -> bool {
        let ports = self.ports();
        for &one in &ports {
            for &other in &ports {
                let colour = self.colour(one);
                let mates = (self.mate(one), self.mate(other));
                let same = one < other && colour.is_some() && colour == self.colour(other);
                if !same || mates.0 == mates.1 || mates.0 == Some(other) {
                    continue;
                }
                let was = self.mates.clone();
                self.part_ways(one);
                self.part_ways(other);
                if let Some(mate) = mates.0 {
                    self.meet(other, mate);
                }
                if let Some(mate) = mates.1 {
                    self.meet(one, mate);
                }
                if self.behind().is_some_and(|after| after < before) {
                    return true;
                }
                self.mates = was;
            }
        }
        false
    }

    fn trails(&self) -> Vec<Vec<Step>> {
        let pieces = self.pieces();
        let firsts = (0..pieces.len()).filter(|&part| pieces[part].0 == part);
        firsts.map(|part| self.walk(part).0).collect()
    }

    /// The cuts at the two ends of a trail.
    fn open_cuts(&self, trail: &[Step]) -> [Ticks; 2] {
        let (first, last) = (trail[0], trail[trail.len() - 1]);
        [
            self.cuts[first.0][usize::from(first.1)],
            self.cuts[last.0][usize::from(!last.1)],
        ]
    }

    /// Turns a trail so that the narrower of its open cuts is behind it, or so that parts lie as written.
    fn point(&self, trail: &mut [Step]) {
        let turn = if self.section.reversible {
            let [near, far] = self.open_cuts(trail);
            near < far
        } else {
            trail.first().is_some_and(|step| step.1)
        };
        if turn {
            trail.reverse();
            trail.iter_mut().for_each(|step| step.1 = !step.1);
        }
    }
}
