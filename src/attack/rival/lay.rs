//! How parts are laid in a stretch of sound timber: every order of them and every way round, of which the best are kept.
//!
//! Between two parts is one cut: the kerf behind a square end, `kerf / cos t` behind a mitre. Where the ends that meet have the same slope,
//! one cut serves both, and the parts overlap by `width * tan t`; not where the blade is tilted, whose cut is wider by the cosine of the tilt. The last cut may run beyond the timber. The README says, under "Limits",
//! which parts share no cut.
//!
//! Parts with the same ends are equivalent here, so orders are enumerated by kinds of ends (dynamic programming over the kinds left and the
//! end before them). The two irrational quantities are computed in floats and rounded as the README says: the overlap down, the cut up,
//! each to a tick.

use lengthwise::job::{Angle, Fitting, Job, Leans, MadeFrom, Part, PartEnd, Sides, Treated};
use std::collections::HashMap;
use std::rc::Rc;

/// Ticks.
pub type Ticks = i64;

/// The length that the cuts between and behind some parts take.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Cuts {
    /// Between the parts.
    pub between: Ticks,
    /// Behind the last one.
    pub last: Ticks,
}

/// An end: square, or its angle in thousandths of a degree, and a hundred thousand times the tilt of the blade.
pub type End = Option<u64>;

/// What a thousandth of a degree of tilt counts in an [`End`].
const TILT: u64 = 100_000;

/// How an end runs across the board, as an [`End`]: above zero where it runs to the right as it goes away from the person.
type Slope = i64;

/// How the parts of a kind lie: the slopes of both ends as written, and whether they may share cuts.
type Kind = ([Slope; 2], bool);

/// The end before what follows, and whether it may share its cut; `None` at the start.
type Before = Option<(Slope, bool)>;

/// A part that stands on an end of its board.
#[derive(Clone, Copy)]
pub struct Post {
    pub part: usize,
    pub length: Ticks,
    /// What is cut behind it where it stands on the datum end, and whether it stands on the far end.
    pub near: Option<Ticks>,
    pub far: bool,
}

/// Lays the parts of one section.
pub struct Layer {
    kerf: Ticks,
    width: Ticks,
    /// Whether its faces and its edges are alike.
    alike: [bool; 2],
    /// The kinds of parts there are.
    kinds: Vec<Kind>,
    /// For each part of the job, the index of its kind; `None` where it is not made of this section, or not of such a board.
    pub kind_of: Vec<Option<usize>>,
    /// The parts that stand on an end of such a board and lie nowhere else.
    pub posts: Vec<Post>,
    /// Memoised results, by the parts that are left of each kind and the end before them.
    known: HashMap<(Vec<u8>, Before), Rc<Vec<Cuts>>>,
}

impl Layer {
    /// For boards of a section that are bought, or else owned, and may be ripped or not.
    pub fn new(job: &Job, section: usize, (bought, rips): (bool, bool)) -> Layer {
        let sides = &job.sections[section];
        // Where an angled part shows its good face, that face is up on every board of the section.
        let good_face = job.parts.iter().any(|part| {
            part.good_face && part.sections.contains(&section) && angles(part).next().is_some()
        });
        let mut layer = Layer {
            kerf: job.saw.kerf.ticks(),
            width: sides.width.map_or(0, |width| width.ticks()),
            alike: [
                sides.faces == Sides::Alike && !good_face,
                sides.edges == Sides::Alike,
            ],
            kinds: Vec::new(),
            kind_of: Vec::new(),
            posts: Vec::new(),
            known: HashMap::new(),
        };
        let here: Vec<&Part> = job
            .parts
            .iter()
            .filter(|part| part.sections.contains(&section))
            .collect();
        for (index, part) in job.parts.iter().enumerate() {
            let will_do = match part.made_from {
                MadeFrom::Anything => true,
                MadeFrom::New => bought,
                MadeFrom::Shed => !bought,
            } && (rips || part.strips.is_empty());
            let here_too = part.sections.contains(&section) && will_do;
            if here_too && is_post(job, part, section) {
                let ways = layer.ways(written(part));
                let near = ways.iter().filter(|way| way[0] == 0);
                layer.posts.push(Post {
                    part: index,
                    length: part.length.ticks(),
                    near: near.map(|way| layer.cut(end_of(way[1]))).max(),
                    far: ways.iter().any(|way| way[1] == 0),
                });
                layer.kind_of.push(None);
                continue;
            }
            let kind = here_too.then(|| {
                let kind = (written(part), layer.shares(&here, part));
                let known = layer.kinds.iter().position(|known| *known == kind);
                known.unwrap_or_else(|| {
                    layer.kinds.push(kind);
                    layer.kinds.len() - 1
                })
            });
            layer.kind_of.push(kind);
        }
        layer
    }

    /// Whether a part may share cuts, where these are all parts of the section.
    fn shares(&self, here: &[&Part], part: &Part) -> bool {
        let all = here.iter().flat_map(|part| angles(part));
        let widest = all.clone().map(|angle| self.cut(Some(angle))).max();
        let mut different: Vec<u64> = all.collect();
        different.sort_unstable();
        different.dedup();
        let own: Vec<u64> = angles(part).collect();
        let saved = |angle: &u64| self.overlap(*angle);
        let two_angles = own.len() == 2 && own[0] != own[1];
        let parallel = own.len() == 2 && !two_angles && part.leans != Leans::Opposite;
        own.iter().all(|angle| {
            *angle < TILT
                && saved(angle) > 0
                && saved(angle) >= widest.unwrap_or(self.kerf) - self.kerf
        }) && (parallel || part.length.ticks() >= own.iter().map(saved).sum())
            && (!two_angles || (self.alike == [true, true] && different.len() <= 3))
    }

    /// The slopes of a kind in each way in which its parts may lie. With `x` along the board and `y` across it, a half-turn about the normal of the
    /// face takes `(x, y)` to `(-x, -y)`, one about the length to `(x, -y)`, one about the width to `(-x, y)`.
    fn ways(&self, [near, away]: [Slope; 2]) -> Vec<[Slope; 2]> {
        let [faces, edges] = self.alike;
        let mut ways = vec![[near, away]];
        if edges {
            ways.push([away, near]);
        }
        if faces && edges {
            ways.push([-near, -away]);
        }
        if faces {
            ways.push([-away, -near]);
        }
        ways
    }

    pub fn kinds(&self) -> usize {
        self.kinds.len()
    }

    /// The Pareto-optimal ways to cut this many of each kind.
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
            let (written, shares) = self.kinds[kind];
            for [near, away] in self.ways(written) {
                let between = match before {
                    None => 0,
                    Some((end, other_shares)) => self.between(end, near, shares && other_shares),
                };
                if last {
                    ways.push(Cuts {
                        between,
                        last: self.cut(end_of(away)),
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

    /// The length between an end and the next one.
    fn between(&self, slope: Slope, next: Slope, shares: bool) -> Ticks {
        let alone = self.cut(end_of(slope));
        match end_of(slope) {
            Some(angle) if slope == next && shares => alone.min(alone - self.overlap(angle)),
            _ => alone,
        }
    }

    fn cut(&self, end: End) -> Ticks {
        cut(self.kerf, end)
    }

    fn overlap(&self, angle: u64) -> Ticks {
        (self.width as f64 * radians(angle % TILT).tan() + 1e-6).floor() as Ticks
    }
}

/// README, a part that goes in the ground stands on a factory end where its section is said to be treated.
fn is_post(job: &Job, part: &Part, section: usize) -> bool {
    job.sections[section].treated == Treated::Yes && part.fitting == Fitting::Ground
}

/// The slopes of a part as it is written: the long point of its first end at an angle is away from the person.
fn written(part: &Part) -> [Slope; 2] {
    let [near, away] = part.ends.map(|end| match end {
        PartEnd::Square => 0,
        PartEnd::Mitre(angle) => key(angle) as Slope,
    });
    match part.leans {
        Leans::Same if near != 0 => [-near, -away],
        // A mirror across the board turns every slope round.
        Leans::Mirrored if near != 0 && away != 0 => [near, away],
        _ => [-near, away],
    }
}

fn end_of(slope: Slope) -> End {
    (slope != 0).then_some(slope.unsigned_abs())
}

/// An angle as an [`End`] has it.
pub fn key(angle: Angle) -> u64 {
    u64::from(angle.millidegrees()) + TILT * u64::from(angle.tilt())
}

fn angles(part: &Part) -> impl Iterator<Item = u64> + Clone {
    let angle = |end| match end {
        PartEnd::Square => None,
        PartEnd::Mitre(angle) => Some(key(angle)),
    };
    part.ends.into_iter().filter_map(angle)
}

/// The length of board that the cut at an end takes, with this kerf.
pub fn cut(kerf: Ticks, end: End) -> Ticks {
    match end {
        None => kerf,
        Some(angle) => {
            let cosines = radians(angle % TILT).cos() * radians(angle / TILT).cos();
            (kerf as f64 / cosines - 1e-6).ceil() as Ticks
        }
    }
}

fn radians(millidegrees: u64) -> f64 {
    (millidegrees as f64 / 1_000.0).to_radians()
}

/// The ways of which no other is at least as short both in what is between, and in that and the last cut together.
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
