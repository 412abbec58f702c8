//! What parts need in one run, all at once.

use crate::nesting::{Kind, Nests};
use crate::problem::{End, Fit, Need, Section, Ticks};

impl Section {
    /// The clear length that `parts` need in one run, the best order taken; `Ticks::MAX` where one of them may not be made
    /// of this section.
    pub fn need(&self, parts: &[(usize, u32)]) -> Ticks {
        self.lay(parts).map_or(Ticks::MAX, |need| need.length)
    }

    /// What `parts` need in one run, the best order taken, or `None` where one of them may not be made of this section.
    ///
    /// Every part is followed by one cut, and the last cut of a run may eat its tail; so the widest cut that can be last comes last. The cut
    /// of a square end takes [`Section::kerf`], that of a mitred one [`crate::problem::Mitre::kerf`]. A left end needs no clear length of its own,
    /// because the stock it faces was cut off square or is left behind: the mitre starts at its long point, so the blade takes the triangle
    /// beside it and, at the long edge, only the kerf that was already cut.
    ///
    /// *Neighbours share one cut* where the end of one and the start of the next are mitred as partners ([`crate::problem::Mitre::partner`]): it takes the mitre's
    /// kerf and saves [`crate::problem::Mitre::saving`]. How many cuts can be shared is said in `nesting`.
    ///
    /// *Parts that share no cut.* Where parts may be laid either way round the narrower of their two cuts trails, else that of `ends[1]`.
    ///
    /// Lengths are exact in ticks; the two rounded quantities are the mitre's, and both err towards needing more.
    pub fn lay(&self, parts: &[(usize, u32)]) -> Option<Need> {
        let nests = Nests::of(self, |_| 2);
        let mut laying = Laying::new(self, &nests);
        for &(part, count) in parts {
            laying.add(part, count)?;
        }
        Some(laying.need())
    }

    /// How the cut that follows a part is counted; `None` where it may not be made of this section.
    pub(crate) fn trailing(&self, part: usize) -> Option<Trailing> {
        if self.posts.contains(&part) {
            let fit = (*self.fits.get(part)?)?;
            return Some(Trailing::Post(self.cut_of_post(fit), self.may_stand(fit)));
        }
        if let Some(kind) = self.kind(part) {
            return Some(Trailing::Nested(kind));
        }
        Some(Trailing::Own(self.own_cut((*self.fits.get(part)?)?)))
    }

    /// The cut that a part has to itself where it shares none.
    #[inline]
    pub(crate) fn own_cut(&self, fit: Fit) -> Ticks {
        let [first, second] = fit.ends.map(|end| match end {
            End::Square => self.kerf,
            End::Mitre(mitre) => self.mitres[mitre].kerf,
        });
        if self.reversible {
            first.min(second)
        } else {
            second
        }
    }
}

/// Parts laid in one run so far, as [`Section::lay`] adds them up: a part more costs no look at those before it.
#[derive(Clone, Debug)]
pub(crate) struct Laying<'s> {
    section: &'s Section,
    nests: &'s Nests,
    /// The parts' lengths and the cuts they have to themselves.
    length: Ticks,
    /// The widest of those cuts.
    last_cut: Ticks,
    /// How many there are of each kind of each nest.
    counts: Vec<Vec<u32>>,
}

impl<'s> Laying<'s> {
    /// The empty run of a section with these nests.
    pub(crate) fn new(section: &'s Section, nests: &'s Nests) -> Self {
        Laying {
            section,
            length: 0,
            last_cut: 0,
            counts: nests
                .nests
                .iter()
                .map(|nest| vec![0; nest.kinds.len()])
                .collect(),
            nests,
        }
    }

    /// Lays so many of a part; `None` where it may not be made of this section.
    pub(crate) fn add(&mut self, part: usize, count: u32) -> Option<()> {
        let fit = (*self.section.fits.get(part)?)?;
        if self.section.posts.contains(&part) {
            return None;
        }
        if count == 0 {
            return Some(());
        }
        self.length += fit.length * i64::from(count);
        match self.nests.place(part) {
            Some((nest, kind)) => self.counts[nest][kind] += count,
            None => {
                let cut = self.section.own_cut(fit);
                self.length += cut * i64::from(count);
                self.last_cut = self.last_cut.max(cut);
            }
        }
        Some(())
    }

    /// The clear length needed with so many of a part laid besides; `Ticks::MAX` where it may not be made of this section.
    pub(crate) fn length_with(&mut self, part: usize, count: u32) -> Ticks {
        let (length, last_cut) = (self.length, self.last_cut);
        if self.add(part, count).is_none() {
            return Ticks::MAX;
        }
        let need = self.need().length;
        (self.length, self.last_cut) = (length, last_cut);
        if let Some((nest, kind)) = self.nests.place(part) {
            self.counts[nest][kind] -= count;
        }
        need
    }

    /// What all of it needs.
    pub(crate) fn need(&self) -> Need {
        let (mut length, mut last_cut) = (self.length, self.last_cut);
        for (nest, counts) in self.nests.nests.iter().zip(&self.counts) {
            let cuts = nest.cuts(counts);
            length += cuts.taken + cuts.owed;
            last_cut = last_cut.max(cuts.last);
        }
        Need {
            length: length - last_cut,
            last_cut,
        }
    }
}

/// How the cut that follows a part is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Trailing {
    /// One cut of its own, this wide.
    Own(Ticks),
    /// The same of a part that stands at a factory end, and at which ends it may.
    Post(Ticks, [bool; 2]),
    /// It may share cuts at these ends.
    Nested(Kind),
}
