//! Choices of parts for a stretch of timber, and what they use up of it.

use super::ground::Sound;
use super::lay::{Cuts, Layer, Ticks};
use lengthwise::job::Job;
use std::collections::HashMap;
use std::rc::Rc;

/// Most cuttings that are listed; a job with more is not compared.
pub(super) const MOST_CUTTINGS: usize = 1_500;

/// A choice of parts for one stretch of timber.
#[derive(Clone, Debug)]
pub(super) struct Content {
    /// How many of each part of the group.
    pub(super) counts: Vec<u8>,
    /// The sum of their lengths, and the ways to cut them.
    pub(super) lengths: Ticks,
    pub(super) cuts: Rc<Vec<Cuts>>,
}

impl Content {
    pub(super) fn need(&self) -> Ticks {
        // The first way has the least length between the parts.
        self.lengths + self.cuts[0].between
    }
}

/// A cutting of one board: its parts, and what of the board is used up.
pub(super) struct Column {
    pub(super) counts: Vec<u8>,
    pub(super) used: Ticks,
}

/// The length of a stretch that some parts use up: all of it except an offcut worth keeping.
pub(super) fn used(sound: Sound, content: &Content, keep: Ticks) -> Ticks {
    let whole = sound.length + sound.beyond;
    let ways = content
        .cuts
        .iter()
        .filter(|cuts| content.lengths + cuts.between <= sound.length);
    let offcuts = ways.map(|cuts| {
        let left = sound.length - content.lengths - cuts.between - cuts.last;
        if left > 0 { left + sound.beyond } else { 0 }
    });
    let best = offcuts.max().unwrap_or(0);
    if best >= keep { whole - best } else { whole }
}

/// Choices of parts for the two pieces of a length cut at the yard, with the cut where least is used up.
pub(super) fn pairs(
    contents: &[Content],
    of: Ticks,
    first: (Ticks, Ticks),
    keep: Ticks,
    wanted: &[u32],
) -> Option<Vec<Column>> {
    let mut best: HashMap<Vec<u8>, Ticks> = HashMap::new();
    for one in contents {
        for other in contents {
            let (least, most) = (first.0.max(one.need()), first.1.min(of - other.need()));
            let counts: Vec<u8> = one
                .counts
                .iter()
                .zip(&other.counts)
                .map(|(one, other)| one + other)
                .collect();
            let wanted_all = counts
                .iter()
                .zip(wanted)
                .all(|(&count, &wanted)| u32::from(count) <= wanted);
            if least > most || !wanted_all {
                continue;
            }
            let used = cut_where_least_is_used((one, other), of, (least, most), keep);
            let known = best.entry(counts).or_insert(used);
            *known = (*known).min(used);
            if best.len() > MOST_CUTTINGS {
                return None;
            }
        }
    }
    Some(
        best.into_iter()
            .map(|(counts, used)| Column { counts, used })
            .collect(),
    )
}

/// An offcut grows with its piece, so the best cut is at an end of its range, or where an offcut is just worth keeping.
fn cut_where_least_is_used(
    (one, other): (&Content, &Content),
    of: Ticks,
    (least, most): (Ticks, Ticks),
    keep: Ticks,
) -> Ticks {
    let sound = |length: Ticks| Sound {
        length,
        beyond: 0,
        from: 0,
    };
    let mut places = vec![least, most];
    for cuts in one.cuts.iter() {
        places.push(one.lengths + cuts.between + cuts.last + keep.max(1));
    }
    for cuts in other.cuts.iter() {
        places.push(of - other.lengths - cuts.between - cuts.last - keep.max(1));
    }
    let used = |place: Ticks| {
        let place = place.clamp(least, most);
        used(sound(place), one, keep) + used(sound(of - place), other, keep)
    };
    places.into_iter().map(used).min().unwrap_or(of)
}

/// Lists the choices of parts for a stretch.
pub(super) struct Lister<'a> {
    pub(super) job: &'a Job,
    pub(super) layer: &'a mut Layer,
    pub(super) own: &'a [usize],
    pub(super) lengths: &'a [Ticks],
}

impl Lister<'_> {
    /// Every choice of parts that fits, the empty one included; `None` where there are too many. Removing a part never makes the rest too
    /// long, so a choice that does not fit is not extended.
    pub(super) fn contents(&mut self, wanted: &[u32], room: Ticks) -> Option<Vec<Content>> {
        let none = Content {
            counts: vec![0; wanted.len()],
            lengths: 0,
            cuts: self.layer.cuts(&vec![0; self.layer.kinds()]),
        };
        let mut found = vec![none];
        for part in 0..wanted.len() {
            let Some(kind) = self.layer.kind_of[self.own[part]] else {
                continue;
            };
            for at in 0..found.len() {
                let mut counts = found[at].counts.clone();
                let mut lengths = found[at].lengths;
                for _ in 0..wanted[part] {
                    counts[part] += 1;
                    lengths += self.lengths[part];
                    let mut kinds = vec![0; self.layer.kinds()];
                    for (part, &count) in counts.iter().enumerate() {
                        if let Some(kind) = self.layer.kind_of[self.own[part]] {
                            kinds[kind] += count;
                        }
                    }
                    debug_assert!(kinds[kind] > 0, "the part was just added");
                    let content = Content {
                        counts: counts.clone(),
                        lengths,
                        cuts: self.layer.cuts(&kinds),
                    };
                    if content.need() > room {
                        break;
                    }
                    found.push(content);
                    if found.len() > MOST_CUTTINGS {
                        return None;
                    }
                }
            }
        }
        Some(found)
    }
}
