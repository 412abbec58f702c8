//! Trails of parts whose neighbours share cuts, for ends that meet in more ways than one.
//!
//! **Idea.** Ends that can meet are matched, as many as possible. The matches form trails, and circuits where every end is matched. A
//! circuit is inserted into another trail or circuit where a match of each has the same colour: the four ends are then matched the other
//! way (Hierholzer 1873). A circuit that remains is opened where that costs least. Then matches are exchanged two at a time while that
//! makes the cuts behind the trails narrower.
//!
//! **Invariant.** Every part is in one trail or circuit, and matching is symmetric. **Why it ends:** each insertion leaves one circuit
//! fewer, and each later exchange decreases a sum of integers that is bounded below.

use crate::problem::{End, Section, Ticks};

/// A part in a trail: its index in the list, and whether its second end comes first.
pub(super) type Step = (usize, bool);

/// An end of a part: the part's index in the list, and which end.
type Port = (usize, usize);

/// Where a circuit is opened that cannot be inserted anywhere.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Opened {
    /// Where all its cuts together take least.
    Cheapest,
    /// Where all its cuts except the last take least.
    WidestLast,
}

/// Arranges parts in trails; each part is given by its index in the section.
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

    /// The ends of each colour, in the order of the parts.
    fn by_colour(&self) -> Vec<Vec<Port>> {
        let mut by_colour = vec![Vec::new(); self.section.mitres.len()];
        for port in self.ports() {
            if let Some(colour) = self.colour(port) {
                by_colour[colour].push(port);
            }
        }
        by_colour
    }

    /// Matches each end with the first free end that it can meet, of another part if possible.
    fn match_all(&mut self) {
        let by_colour = self.by_colour();
        // For each colour, no end before this index is free.
        let mut first_free = vec![0; by_colour.len()];
        for port in self.ports() {
            let Some(colour) = self.colour(port).filter(|_| self.mate(port).is_none()) else {
                continue;
            };
            let partner = self.section.mitres[colour].partner;
            let ends = &by_colour[partner];
            let first = &mut first_free[partner];
            while ends
                .get(*first)
                .is_some_and(|&end| self.mate(end).is_some())
            {
                *first += 1;
            }
            let free = |end: &&Port| **end != port && self.mate(**end).is_none();
            let mut free = ends[*first..].iter().filter(free);
            // The part's own other end is tried last.
            let own = |end: &Port| end.0 == port.0;
            let found = match free.next() {
                Some(end) if own(end) => Some(free.find(|end| !own(end)).unwrap_or(end)),
                other => other,
            };
            if let Some(&end) = found {
                self.meet(port, end);
            }
        }
    }

    /// For each part, its trail or circuit, named by its least part, and whether that is a circuit.
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

    /// The trail of a part, from one of its ends; or its circuit, starting at the part.
    fn walk(&self, part: usize) -> (Vec<Step>, bool) {
        // Backwards to the start of the trail.
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

    /// Inserts each circuit into another trail or circuit with an end of one of its colours. Of two neighbouring ends in a colour's list
    /// that are in different pieces, one of them a circuit, each takes the other's mate. Afterwards a circuit is left only if it has all
    /// ends of its colours.
    fn join_circuits(&mut self) {
        let mut pieces = self.pieces();
        for ends in self.by_colour() {
            for pair in ends.windows(2) {
                let (one, other) = (pair[0], pair[1]);
                let [here, there] = [pieces[one.0], pieces[other.0]];
                if here.0 == there.0 || !(here.1 || there.1) {
                    continue;
                }
                self.change_mates(one, other);
                let joined = (here.0.min(there.0), here.1 && there.1);
                for piece in &mut pieces {
                    if piece.0 == here.0 || piece.0 == there.0 {
                        *piece = joined;
                    }
                }
            }
        }
    }

    /// Two ends of one colour take each other's mates.
    fn change_mates(&mut self, one: Port, other: Port) {
        let mates = (self.mate(one), self.mate(other));
        self.part_ways(one);
        self.part_ways(other);
        if let Some(mate) = mates.0 {
            self.meet(other, mate);
        }
        if let Some(mate) = mates.1 {
            self.meet(one, mate);
        }
    }

    /// Opens the circuits that cannot be inserted anywhere, each where that costs least.
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

    /// The total width of the cuts behind the trails; `None` where there are circuits.
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

    /// Exchanges matches of one colour, two at a time, while that reduces the total width of the cuts behind the trails.
    fn narrow(&mut self) {
        while let Some(before) = self.behind().filter(|_| self.section.reversible) {
            if !self.narrows(before) {
                break;
            }
        }
    }

    fn narrows(&mut self, before: Ticks) -> bool {
        let pieces = self.pieces();
        // The narrower and the wider of the open cuts of each part's trail. The first part of a trail comes before its others in the list.
        let mut cuts: Vec<(Ticks, Ticks)> = Vec::new();
        for (part, &(first, _)) in pieces.iter().enumerate() {
            cuts.push(if first == part {
                let [near, far] = self.open_cuts(&self.walk(part).0);
                (near.min(far), near.max(far))
            } else {
                cuts[first]
            });
        }
        // An exchange helps only if both open cuts of one trail are narrower than both of the other.
        let narrowest = cuts.iter().map(|cut| cut.1).min().unwrap_or(0);
        let widest = cuts.iter().map(|cut| cut.0).max().unwrap_or(0);
        if narrowest >= widest {
            return false;
        }
        for ends in self.by_colour() {
            let narrow = ends.iter().filter(|end| cuts[end.0].1 < widest);
            for &one in narrow {
                let wide = ends.iter().filter(|end| cuts[end.0].0 > cuts[one.0].1);
                for &other in wide {
                    let was = self.mates.clone();
                    self.change_mates(one, other);
                    if self.behind().is_some_and(|after| after < before) {
                        return true;
                    }
                    self.mates = was;
                }
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

    /// Turns a trail so that the narrower of its open cuts is behind it, or else so that its parts lie as written.
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
