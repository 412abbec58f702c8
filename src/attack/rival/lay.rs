//! How parts lie in a stretch of sound timber: every order of them and every way round, the best kept.
//!
//! Between two parts goes one cut: the kerf behind a square end, `kerf / cos t` behind a mitre. Where two mitres of one angle meet and the section
//! may be turned, one cut serves both, and the parts overlap by `width * tan t`. The last cut may be beyond the timber. A part
//! mitred at two different angles shares no cut (README, "Limits").
//!
//! Parts with the same ends are alike in this, so that orders are counted by kinds of ends. The two irrational quantities are taken in floats
//! and rounded as the README says: the overlap down, the cut up, each to a tick.

use lengthwise::job::{Job, PartEnd, Turnable};
use std::collections::HashMap;
use std::rc::Rc;

/// Ticks.
pub type Ticks = i64;

/// What the cuts of some parts take.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cuts {
    /// Between the parts.
    pub between: Ticks,
    /// Behind the last one.
    pub last: Ticks,
}

/// An end: square, or its angle in thousandths of a degree.
pub type End = Option<u32>;

/// The end that what follows begins at, and whether it shares its cut; none at the start.
type Before = Option<(End, bool)>;

/// Lays the parts of one section.
pub struct Layer {
    kerf: Ticks,
    width: Ticks,
    turnable: bool,
    /// The kinds of ends there are.
    kinds: Vec<[End; 2]>,
    /// For each part of the job, its kind; none where it is not made of this section.
    pub kind_of: Vec<Option<usize>>,
    /// What was worked out: the parts that are left, by kinds, and the end before them.
    known: HashMap<(Vec<u8>, Before), Rc<Vec<Cuts>>>,
}

impl Layer {
    pub fn new(job: &Job, section: usize) -> Layer {
        let mut kinds: Vec<[End; 2]> = Vec::new();
        let end = |end: PartEnd| match end {
            PartEnd::Square => None,
            PartEnd::Mitre(angle) => Some(angle.millidegrees()),
        };
        let kind_of = job.parts.iter().map(|part| {
            let ends = part.ends.map(end);
            part.sections.contains(&section).then(|| {
                let known = kinds.iter().position(|kind| *kind == ends);
                known.unwrap_or_else(|| {
                    kinds.push(ends);
                    kinds.len() - 1
                })
            })
        });
        let kind_of = kind_of.collect();
        Layer {
            kerf: job.saw.kerf.ticks(),
            width: job.sections[section].width.map_or(0, |width| width.ticks()),
            turnable: job.sections[section].turnable == Turnable::Yes,
            kinds,
            kind_of,
            known: HashMap::new(),
        }
    }

    pub fn kinds(&self) -> usize {
        self.kinds.len()
    }

    /// The ways to cut so many of each kind of which none is better than another in both figures.
    pub fn cuts(&mut self, counts: &[u8]) -> Rc<Vec<Cuts>> {
        self.behind(counts, None)
    }

    fn behind(&mut self, counts: &[u8], before: Before) -> Rc<Vec<Cuts>> {
        let key = (counts.to_vec(), before);
        if let Some(known) = self.known.get(&key) {
            return Rc::clone(known);
        }
        let mut ways: Vec<Cuts> = Vec::new();
        for kind in 0..self.kinds.len() {
            if counts[kind] == 0 {
                continue;
            }
            let mut left = counts.to_vec();
            left[kind] -= 1;
            let last = left.iter().all(|&count| count == 0);
            let [first, second] = self.kinds[kind];
            let shares = first.is_none() || second.is_none() || first == second;
            let ways_round = if self.turnable {
                vec![(first, second), (second, first)]
            } else {
                vec![(first, second)]
            };
            for (near, away) in ways_round {
                let between = match before {
                    None => 0,
                    Some((end, other_shares)) => self.between(end, near, shares && other_shares),
                };
                if last {
                    ways.push(Cuts {
                        between,
                        last: self.cut(away),
                    });
                    continue;
                }
                let rest = self.behind(&left, Some((away, shares)));
                ways.extend(rest.iter().map(|rest| Cuts {
                    between: between + rest.between,
                    last: rest.last,
                }));
            }
        }
        if ways.is_empty() {
            ways.push(Cuts {
                between: 0,
                last: 0,
            });
        }
        let ways = Rc::new(undominated(ways));
        self.known.insert(key, Rc::clone(&ways));
        ways
    }

    /// What goes between an end and the next one.
    fn between(&self, end: End, next: End, shares: bool) -> Ticks {
        let alone = self.cut(end);
        match end {
            Some(angle) if end == next && shares && self.turnable => {
                alone.min(alone - self.overlap(angle))
            }
            _ => alone,
        }
    }

    fn cut(&self, end: End) -> Ticks {
        cut(self.kerf, end)
    }

    fn overlap(&self, angle: u32) -> Ticks {
        (self.width as f64 * radians(angle).tan() + 1e-6).floor() as Ticks
    }
}

/// What the cut at an end takes of the board, with a saw of this kerf.
pub fn cut(kerf: Ticks, end: End) -> Ticks {
    match end {
        None => kerf,
        Some(angle) => (kerf as f64 / radians(angle).cos() - 1e-6).ceil() as Ticks,
    }
}

fn radians(millidegrees: u32) -> f64 {
    (f64::from(millidegrees) / 1_000.0).to_radians()
}

/// Those that are the least in what is between, or in that and the last cut together.
fn undominated(mut ways: Vec<Cuts>) -> Vec<Cuts> {
    ways.sort_by_key(|way| (way.between, way.between + way.last));
    let mut kept: Vec<Cuts> = Vec::new();
    for way in ways {
        let filled = |way: &Cuts| way.between + way.last;
        if kept.last().is_none_or(|best| filled(&way) < filled(best)) {
            kept.push(way);
        }
    }
    kept
}
