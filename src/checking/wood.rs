//! How parts add up in a run of one section: how much of it they fill, and what their cuts share.
//!
//! **How mitred ends add up.** Equal mitres of one angle, `kerf / cos t` wide, save `s = width * tan t` where two share a cut. Of
//! `a` parts with both ends so cut and `b` with one, each cut between two of them can be shared once the square ends lie outside:
//! `a - 1` shared cuts when `b = 0`, and `a + b / 2` (rounded down) otherwise, since chains are closed by square ends two and two. Adding a part with both
//! ends always adds its length and one mitre cut less `s`, except that the first cut of a chain without square ends has nothing to
//! share: `s` is owed at the end while `b = 0`. A part with one end adds a square cut when `b` was even, a shared one when it was odd.
//! The last cut of a run may take from what lies behind the run; the widest possible is put last, for every ending has some part that can go there.

use super::cuts::{cut_width, stands_back};
use timber::job::{Job, PartEnd, Turnable};

/// How parts lie on one section, in ticks.
pub(super) struct Wood {
    kerf: i64,
    /// Shortest offcut worth keeping.
    pub(super) keep: i64,
    angles: Vec<Shared>,
    /// The parts that may be made of it, in the job's order.
    pub(super) parts: Vec<Wooden>,
    /// For each part of the job its place in `parts`.
    places: Vec<Option<usize>>,
}

/// An angle whose cuts are shared.
struct Shared {
    millidegrees: u32,
    cut: i64,
    saving: i64,
}

/// A part on this section.
pub(super) struct Wooden {
    pub(super) part: usize,
    length: i64,
    pub(super) wanted: u32,
    ends: Ends,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(super) enum Ends {
    /// Shares nothing; the cut behind it takes this much.
    Alone(i64),
    /// Both ends share at this angle.
    Both(usize),
    /// One end shares at this angle, the other is square.
    One(usize),
}

/// How the parts of one angle pair up so far.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
enum Pairing {
    None,
    /// Only parts with both ends mitred.
    Open,
    /// An odd number of parts with one end mitred.
    Odd,
    /// An even number of them.
    Even,
}

/// How the parts of a run end.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Ending {
    last_cut: i64,
    pairings: Vec<Pairing>,
    /// Whether there is any part at all.
    pub(super) touched: bool,
}

/// How much of a run its parts take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Laid {
    /// The clear length the run must have.
    pub(super) need: i64,
    /// The same with the last cut, which may be beyond the run.
    pub(super) filled: i64,
}

impl Laid {
    /// No part lies in the run.
    pub(super) const NOTHING: Laid = Laid { need: 0, filled: 0 };
}

impl Wood {
    /// The parts of the job that may be made of a section.
    ///
    /// Returns `None` where a mitred part is so short that the sums above do not hold for it.
    pub(super) fn of(job: &Job, section_index: usize) -> Option<Wood> {
        let section = &job.sections[section_index];
        let turns = section.turnable == Turnable::Yes;
        let mut wood = Wood {
            kerf: job.saw.kerf.ticks(),
            keep: section.keep.ticks(),
            angles: Vec::new(),
            parts: Vec::new(),
            places: vec![None; job.parts.len()],
        };
        for (index, part) in job.parts.iter().enumerate() {
            if !part.sections.contains(&section_index) {
                continue;
            }
            let cut = |end: PartEnd| cut_width(job.saw.kerf, end).ticks();
            let length = part.length.ticks();
            let mut shared = |end: PartEnd| -> Option<usize> {
                let PartEnd::Mitre(angle) = end else {
                    return None;
                };
                let saving = stands_back(section, angle).ticks();
                if !turns || saving <= 0 || saving < cut(end) - wood.kerf {
                    return None;
                }
                let known = wood
                    .angles
                    .iter()
                    .position(|shared| shared.millidegrees == angle.millidegrees());
                Some(known.unwrap_or_else(|| {
                    wood.angles.push(Shared {
                        millidegrees: angle.millidegrees(),
                        cut: cut(end),
                        saving,
                    });
                    wood.angles.len() - 1
                }))
            };
            let [first, second] = part.ends;
            let ends = match (shared(first), shared(second)) {
                (Some(one), Some(other)) if one == other => Ends::Both(one),
                (Some(angle), None) if second == PartEnd::Square => Ends::One(angle),
                (None, Some(angle)) if first == PartEnd::Square => Ends::One(angle),
                _ if turns => Ends::Alone(cut(first).min(cut(second))),
                _ => Ends::Alone(cut(second)),
            };
            if let Ends::Both(angle) | Ends::One(angle) = ends
                && length < wood.angles[angle].saving
            {
                return None;
            }
            wood.places[index] = Some(wood.parts.len());
            wood.parts.push(Wooden {
                part: index,
                length,
                wanted: part.quantity,
                ends,
            });
        }
        Some(wood)
    }

    /// All lengths that fills are made up of: of each part its own, and what its cuts take or save.
    pub(super) fn lengths(&self) -> impl Iterator<Item = i64> {
        self.parts.iter().flat_map(|part| {
            let cuts = match part.ends {
                Ends::Alone(cut) => [cut, 0, 0],
                Ends::Both(angle) | Ends::One(angle) => {
                    let shared = &self.angles[angle];
                    [shared.cut, shared.saving, self.kerf]
                }
            };
            cuts.into_iter().chain([part.length])
        })
    }

    /// The ending of a run nothing is cut from.
    pub(super) fn untouched(&self) -> Ending {
        Ending {
            last_cut: 0,
            pairings: vec![Pairing::None; self.angles.len()],
            touched: false,
        }
    }

    /// The least a part adds to a fill; `None` where it is not made of this section.
    pub(super) fn least(&self, part: usize) -> Option<i64> {
        let part = self.wooden(part)?;
        Some(
            part.length
                + match part.ends {
                    Ends::Alone(cut) => cut,
                    Ends::Both(angle) => self.angles[angle].cut - self.angles[angle].saving,
                    Ends::One(angle) => self
                        .kerf
                        .min(self.angles[angle].cut - self.angles[angle].saving),
                },
        )
    }

    /// The ending with one part more, and what that part adds to the fill. A part of another section changes nothing.
    pub(super) fn with(&self, part: usize, ending: &Ending) -> (Ending, i64) {
        self.wooden(part)
            .map_or_else(|| (ending.clone(), 0), |part| self.add(part, ending))
    }

    /// How much of a run a fill takes.
    pub(super) fn laid(&self, fill: i64, ending: &Ending) -> Laid {
        let (owed, last_cut) = self.close(ending);
        Laid {
            need: fill + owed - last_cut,
            filled: fill + owed,
        }
    }

    /// How a part lies on this section: parts that lie alike can be changed for each other.
    pub(super) fn lies(&self, part: usize) -> Option<(i64, Ends)> {
        self.wooden(part).map(|part| (part.length, part.ends))
    }

    fn wooden(&self, part: usize) -> Option<&Wooden> {
        self.parts.get((*self.places.get(part)?)?)
    }

    /// The widest cut there is.
    pub(super) fn widest_cut(&self) -> i64 {
        let alone = self.parts.iter().filter_map(|part| match part.ends {
            Ends::Alone(cut) => Some(cut),
            _ => None,
        });
        self.angles
            .iter()
            .map(|shared| shared.cut)
            .chain(alone)
            .chain([self.kerf])
            .max()
            .unwrap_or(0)
    }

    /// The ending with one part more, and what that part adds to the fill.
    pub(super) fn add(&self, part: &Wooden, ending: &Ending) -> (Ending, i64) {
        let mut next = ending.clone();
        next.touched = true;
        let cut = match part.ends {
            Ends::Alone(cut) => {
                next.last_cut = next.last_cut.max(cut);
                cut
            }
            Ends::Both(angle) => {
                if ending.pairings[angle] == Pairing::None {
                    next.pairings[angle] = Pairing::Open;
                }
                self.angles[angle].cut - self.angles[angle].saving
            }
            Ends::One(angle) => match ending.pairings[angle] {
                Pairing::Odd => {
                    next.pairings[angle] = Pairing::Even;
                    self.angles[angle].cut - self.angles[angle].saving
                }
                _ => {
                    next.pairings[angle] = Pairing::Odd;
                    self.kerf
                }
            },
        };
        (next, part.length + cut)
    }

    /// What an ending owes for chains that no square end closed, and the widest cut that can come last.
    pub(super) fn close(&self, ending: &Ending) -> (i64, i64) {
        let mut owed = 0;
        let mut last_cut = ending.last_cut;
        for (pairing, shared) in ending.pairings.iter().zip(&self.angles) {
            match pairing {
                Pairing::None => {}
                Pairing::Open => {
                    owed += shared.saving;
                    last_cut = last_cut.max(shared.cut);
                }
                Pairing::Odd | Pairing::Even => last_cut = last_cut.max(self.kerf),
            }
        }
        (owed, last_cut)
    }
}
