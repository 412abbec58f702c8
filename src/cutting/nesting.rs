//! What cuts take where mitred ends lie together: neighbours share one cut where the ends that meet are each other's partners.
//!
//! **The graph.** Each mitre of [`Section::mitres`] is a colour of ends, and each colour has a partner: itself where an end may meet its like, another
//! where the two sides of a cut differ. A part is an edge between its two ends; a run is a sequence of parts, hence a set of trails in
//! which each part follows a partner of the end before. Colours that some part or partnership connects are a *nest*; nests do not matter to each
//! other. Parts of a nest with the same ends are of one *kind*, and what they take depends on how many there are of each kind.
//!
//! **What trails can be had.** Of the ends of a colour that is its own partner, all but one of an odd number can be matched; of two
//! partners, as many as there are of the rarer. Trails and circuits that pass one colour can be made one by changing matches there, so a connected
//! part of the nest needs one circuit opened only if all its ends are matched (Euler 1736 for his walks, Hierholzer 1873 for how circuits join). With
//! `2q` ends unmatched there are `q` trails. Behind each trail goes a cut of its own, at its right end: where parts may be laid
//! either way round, the `q` narrowest of the unmatched ends can be right ends, two narrow ones never being forced into one trail as long as a nest whose
//! parts are mitred at two angles has at most three colours (the cut between any set of colours and the rest then has room enough; see
//! the law in `laws/nesting`, which tries every order).
//!
//! **Why all are matched.** A matched pair takes `kerf - saving`. [`Mitre::saving`] is at least what the widest cut of the section takes beyond a
//! square one, so that one match fewer never takes less, even where it lets a narrower end trail or a wider one be last.

use crate::problem::{End, Mitre, Section, Ticks};

/// Two ends, each a colour or square.
pub(crate) type Kind = [Option<usize>; 2];

/// The nests of a section.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub(crate) struct Nests {
    pub(crate) nests: Vec<Nest>,
    /// For each part its nest and its kind there; none where it shares no cut. Empty where no part does.
    places: Vec<Option<(usize, usize)>>,
}

/// Kinds of parts that can share cuts with each other.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Nest {
    /// Those mitred at both ends first.
    pub(crate) kinds: Vec<Kind>,
    mitres: Vec<Mitre>,
    kerf: Ticks,
    reversible: bool,
}

/// What the cuts of some parts of one nest take.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) struct Cuts {
    /// All of them, what is owed left out. It may be below zero.
    pub(crate) taken: Ticks,
    /// What circuits owe that no other end opens.
    pub(crate) owed: Ticks,
    /// By how much the clear length needed is less: the widest cut that can be last.
    pub(crate) last: Ticks,
}

impl Nests {
    /// The nest of a part and its kind there; `None` where it shares no cut.
    pub(crate) fn place(&self, part: usize) -> Option<(usize, usize)> {
        *self.places.get(part)?
    }

    /// The nests of the parts for which `count` tells that there are some. A nest in which no two ends can meet is left out: its parts share no cut.
    #[cold]
    pub(crate) fn of(section: &Section, count: impl Fn(usize) -> u32) -> Nests {
        // Most sections have no mitres, and their patterns are laid by the thousand.
        if section.mitres.is_empty() {
            return Nests::default();
        }
        let parts = section.fits.len();
        let kinds: Vec<Option<Kind>> = (0..parts)
            .map(|part| section.kind(part).filter(|_| count(part) > 0))
            .collect();
        let mut nests = Nests {
            nests: Vec::new(),
            places: vec![None; parts],
        };
        if kinds.iter().all(Option::is_none) {
            return nests;
        }
        let nest_of = section.connected(kinds.iter().flatten());
        for root in 0..section.mitres.len() {
            let members = |kind: &Kind| kind.iter().flatten().any(|&mitre| nest_of[mitre] == root);
            let here = || (0..parts).filter(|&part| kinds[part].as_ref().is_some_and(members));
            let meets = (0..section.mitres.len()).any(|mitre| {
                let ends = |colour: usize| {
                    let in_part = |part: usize| {
                        let ends = kinds[part].iter().flatten().flatten();
                        ends.filter(|&&end| end == colour).count() as u64 * u64::from(count(part))
                    };
                    here().map(in_part).sum::<u64>()
                };
                let partner = section.mitres[mitre].partner;
                nest_of[mitre] == root
                    && ends(mitre) > 0
                    && ends(partner) > u64::from(partner == mitre)
            });
            if !meets {
                continue;
            }
            let mut own: Vec<Kind> = here().filter_map(|part| kinds[part]).collect();
            order::sort_by_key(&mut own, |kind| (kind.contains(&None), *kind));
            own.dedup();
            for part in here() {
                let kind = own.iter().position(|kind| Some(*kind) == kinds[part]);
                nests.places[part] = kind.map(|kind| (nests.nests.len(), kind));
            }
            nests.nests.push(Nest {
                kinds: own,
                mitres: section.mitres.clone(),
                kerf: section.kerf,
                reversible: section.reversible,
            });
        }
        nests
    }
}

impl Section {
    /// The ends of a part that can share cuts, in one order where it may lie either way round; none where it shares no cut.
    pub(crate) fn kind(&self, part: usize) -> Option<Kind> {
        let fit = (*self.fits.get(part)?)?;
        let colour = |end: End| match end {
            End::Square => None,
            End::Mitre(mitre) => Some(mitre),
        };
        let mut kind = fit.ends.map(colour);
        let mut mitres = kind.iter().flatten();
        if kind == [None, None] || mitres.any(|&mitre| self.mitres[mitre].saving == 0) {
            return None;
        }
        if self.reversible {
            order::sort(&mut kind);
        }
        Some(kind)
    }

    /// The most that a part saves of what it takes: at one cut, or at two where it lies between two others at two angles.
    pub(crate) fn most_saved(&self, part: usize) -> Option<Ticks> {
        let [one, other] = self.kind(part)?;
        let saving = |end: Option<usize>| end.map_or(0, |mitre| self.mitres[mitre].saving);
        if one == other {
            Some(saving(one))
        } else {
            Some(saving(one) + saving(other))
        }
    }

    /// For each mitre the least one that these kinds and partnerships connect it with.
    fn connected<'k>(&self, kinds: impl Iterator<Item = &'k Kind>) -> Vec<usize> {
        let pairs = kinds.filter_map(|kind| Some((kind[0]?, kind[1]?)));
        connected(&self.mitres, pairs)
    }
}

/// For each mitre the least one that partnerships and these pairs connect it with: in turn, each set of two is made one.
fn connected(mitres: &[Mitre], pairs: impl Iterator<Item = (usize, usize)>) -> Vec<usize> {
    let mut least: Vec<usize> = (0..mitres.len()).collect();
    let partners = mitres.iter().enumerate();
    let partners = partners.map(|(mitre, of)| (mitre, of.partner));
    for (one, other) in partners.chain(pairs) {
        let (to, from) = (least[one].min(least[other]), least[one].max(least[other]));
        for mitre in &mut least {
            if *mitre == from {
                *mitre = to;
            }
        }
    }
    least
}

/// What is unmatched in one connected part of a nest.
#[derive(Clone, Debug, Default)]
struct Open {
    /// Widths of the cuts at unmatched ends that may be right ends, and how many there are of each.
    ends: Vec<(Ticks, u64)>,
    /// Whether there is an end that cannot be a right end but is unmatched.
    other: bool,
    /// The least that opening a circuit costs, and the least where the cut there is last.
    opened: Option<(Ticks, Ticks)>,
}

impl Nest {
    /// What the cuts of so many parts of each kind take.
    pub(crate) fn cuts(&self, counts: &[u32]) -> Cuts {
        self.cuts_of_one_colour(counts)
            .unwrap_or_else(|| self.cuts_of_several(counts))
    }

    #[cold]
    fn cuts_of_several(&self, counts: &[u32]) -> Cuts {
        let there = || {
            self.kinds
                .iter()
                .zip(counts)
                .filter(|(_, count)| **count > 0)
        };
        let pairs = there().filter_map(|(kind, _)| Some((kind[0]?, kind[1]?)));
        let root = connected(&self.mitres, pairs);
        let mut ends = vec![[0u64; 2]; self.mitres.len()];
        let mut open: Vec<Option<Open>> = vec![None; self.mitres.len()];
        let mut sum = Cuts::default();
        for (kind, &count) in there() {
            let count = u64::from(count);
            for (side, mitre) in kind.iter().enumerate() {
                if let Some(mitre) = *mitre {
                    ends[mitre][side] += count;
                }
            }
            let Some(mitre) = kind[0].or(kind[1]) else {
                continue;
            };
            let part = open[root[mitre]].get_or_insert_default();
            if kind[1].is_none() || (self.reversible && kind[0].is_none()) {
                part.ends.push((self.kerf, count));
            } else if kind[0].is_none() {
                part.other = true;
            }
        }
        for (mitre, own) in self.mitres.iter().enumerate() {
            let of = |mitre: usize| ends[mitre][0] + ends[mitre][1];
            if of(mitre) + of(own.partner) == 0 {
                continue;
            }
            let Some(part) = &mut open[root[mitre]] else {
                continue;
            };
            let matched = if own.partner == mitre {
                of(mitre) / 2
            } else {
                of(mitre).min(of(own.partner))
            };
            let left = of(mitre)
                - if own.partner == mitre {
                    2 * matched
                } else {
                    matched
                };
            if own.partner >= mitre {
                sum.taken += (own.kerf - own.saving) * matched as Ticks;
                let (whole, last) = (own.saving, own.saving - own.kerf);
                let opened = part.opened.unwrap_or((whole, last));
                part.opened = Some((opened.0.min(whole), opened.1.min(last)));
            }
            if left > 0 && (self.reversible || ends[mitre][1] > 0) {
                part.ends.push((own.kerf, left));
            } else if left > 0 {
                part.other = true;
            }
        }
        for part in open.iter_mut().flatten() {
            self.close(part, &mut sum);
        }
        sum
    }

    /// The same where all ends are of one colour that is its own partner, as on most sections: `a` parts with both ends and `b` with one share `a - 1`
    /// cuts where `b` is zero, else half of `2 a + b` rounded down, and the other cuts are square.
    fn cuts_of_one_colour(&self, counts: &[u32]) -> Option<Cuts> {
        let mut colours = self.kinds.iter().flatten().flatten();
        let first = *colours.next()?;
        let own = self.mitres[first];
        if !self.reversible || own.partner != first || colours.any(|&colour| colour != first) {
            return None;
        }
        let (mut both, mut one) = (0, 0);
        for (kind, &count) in self.kinds.iter().zip(counts) {
            let count = Ticks::from(count);
            if kind.contains(&None) {
                one += count;
            } else {
                both += count;
            }
        }
        let link = own.kerf - own.saving;
        Some(if one > 0 {
            let shared = (2 * both + one) / 2;
            Cuts {
                taken: link * shared + self.kerf * (both + one - shared),
                owed: 0,
                last: self.kerf,
            }
        } else if both > 0 {
            Cuts {
                taken: link * both,
                owed: own.saving,
                last: own.kerf,
            }
        } else {
            Cuts::default()
        })
    }

    /// Adds what the trails of one connected part take behind their right ends, or what its circuit owes.
    fn close(&self, part: &mut Open, sum: &mut Cuts) {
        let unmatched: u64 = part.ends.iter().map(|end| end.1).sum();
        if unmatched == 0 && !part.other {
            if let Some((whole, last)) = part.opened {
                sum.owed += whole;
                sum.last = sum.last.max(whole - last);
            }
            return;
        }
        order::sort(&mut part.ends);
        let mut trails = if self.reversible {
            unmatched / 2
        } else {
            unmatched
        };
        for &(cut, count) in &part.ends {
            let here = count.min(trails);
            if here > 0 {
                sum.taken += cut * here as Ticks;
                sum.last = sum.last.max(cut);
            }
            trails -= here;
        }
    }
}

/// How far a count of a kind is told apart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) struct Limit {
    /// The most that is told apart.
    pub(crate) most: u32,
    /// What is taken off a count beyond; none where a run holds no more.
    pub(crate) period: Option<u32>,
}

impl Nest {
    /// How far the count of each kind is told apart, where a run holds at most so many of each; see the head of `nest_states`.
    pub(crate) fn limits(&self, most: &[u32]) -> Vec<Limit> {
        let partner = |mitre: usize| self.mitres[mitre].partner;
        let mut colours: Vec<usize> = self.kinds.iter().flatten().flatten().copied().collect();
        order::sort(&mut colours);
        colours.dedup();
        let circles =
            |kind: &Kind| matches!(*kind, [Some(one), Some(other)] if partner(one) == other);
        let lone = |mitre: usize| {
            let kinds = self.kinds.iter().filter(|kind| !circles(kind));
            !kinds.flatten().flatten().any(|&end| end == partner(mitre))
        };
        let each = self.kinds.iter().zip(most);
        let limit = |(kind, &most): (&Kind, &u32)| {
            let mut ends = kind.iter().flatten();
            if circles(kind) {
                return Limit {
                    most: 1,
                    period: Some(1),
                };
            }
            if ends.clone().all(|&mitre| partner(mitre) == mitre) {
                let most = match kind {
                    [Some(_), Some(_)] => 2,
                    _ => colours.len() as u32 + 1,
                };
                return Limit {
                    most,
                    period: Some(2),
                };
            }
            let alike = !self.reversible || kind.contains(&None) || kind[0] == kind[1];
            if ends.all(|&mitre| lone(mitre)) && alike {
                return Limit {
                    most: 1,
                    period: Some(1),
                };
            }
            Limit { most, period: None }
        };
        each.map(limit).collect()
    }
}
