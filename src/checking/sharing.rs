//! Which ends may meet in one cut, said here by itself.
//!
//! **The statement.** Two neighbours share one cut where the ends that meet have the same angle and the same lean as the parts lie, each of both
//! parts being one that may share cuts. A part may do so where
//!
//! 1. at each of its angles the blade is upright, and what is saved, `width * tan t`, is above zero and no less than what the widest cut of the
//!    section's parts takes beyond a square one;
//! 2. its ends are parallel, or it is as long as both stand back together;
//! 3. it stands on no factory end of its board;
//! 4. it has one angle, or faces and edges of the section are alike and its parts have at most three angles.
//!
//! **Lean.** A cut leans one way if it runs to the right as it goes away from the person, and the other way else. A half-turn about the normal of the
//! board's face keeps leans and changes ends; one about its length changes leans and keeps ends; one about its width changes both. They are allowed
//! where the edges are alike, edges and faces, and the faces. Where a part at an angle has its good face out, the faces of its section are not alike.

use crate::cuts::{cut_width, stands_back};
use crate::ground::stands;
use timber::job::{Angle, Job, Leans, Part, PartEnd, Sides};
use timber::length::Length;
use timber::plan::{Edge, Lies, PlacedPart};

/// Which way a cut leans: to the right as it goes away, or to the left.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Lean {
    Right,
    Left,
}

impl Lean {
    fn other(self) -> Lean {
        match self {
            Lean::Right => Lean::Left,
            Lean::Left => Lean::Right,
        }
    }
}

/// The leans of a part's ends as it is written: the datum end, the far end. A square end has none.
///
/// The long point of the first end at an angle is away from the person. So a datum end there leans to the left, a far end to the right. In a
/// mirror ends that lean the same way lean to the right.
pub(super) fn written_leans(part: &Part) -> [Option<Lean>; 2] {
    match part.ends {
        [PartEnd::Square, PartEnd::Square] => [None, None],
        [PartEnd::Mitre(_), PartEnd::Square] => [Some(Lean::Left), None],
        [PartEnd::Square, PartEnd::Mitre(_)] => [None, Some(Lean::Right)],
        [PartEnd::Mitre(_), PartEnd::Mitre(_)] => match part.leans {
            Leans::Same => [Some(Lean::Left); 2],
            Leans::Mirrored => [Some(Lean::Right); 2],
            Leans::Opposite => [Some(Lean::Left), Some(Lean::Right)],
        },
    }
}

/// The leans of a part's ends as it lies: towards the datum, away from it.
pub(super) fn lying_leans(part: &Part, placed: &PlacedPart) -> [Option<Lean>; 2] {
    let [first, second] = written_leans(part);
    let ends_changed = placed.lies == Lies::Turned;
    let edges_changed = placed.long_edge == Edge::Near;
    // Each of both changes mirrors the leans.
    let lean = |lean: Option<Lean>| match lean {
        Some(lean) if ends_changed != edges_changed => Some(lean.other()),
        lean => lean,
    };
    match placed.lies {
        Lies::AsWritten => [lean(first), lean(second)],
        Lies::Turned => [lean(second), lean(first)],
    }
}

/// Whether faces and edges of a section are alike to the parts that lie on it. A part at an angle whose good face is out keeps the faces of its
/// section up, those of all its parts.
pub(super) fn sides(job: &Job, section: usize) -> (Sides, Sides) {
    let mut faces = job.sections[section].faces;
    for part in &job.parts {
        let angled = part.ends.into_iter().any(|end| angle(end).is_some());
        if angled && part.good_face && part.sections.contains(&section) {
            faces = Sides::Different;
        }
    }
    (faces, job.sections[section].edges)
}

/// Whether a part may lie with its second end towards the datum on a section with such sides.
pub(super) fn turns((faces, edges): (Sides, Sides)) -> bool {
    faces == Sides::Alike || edges == Sides::Alike
}

/// Whether a part may lie so on a section with such sides. What changes nothing of a square-ended part is not asked.
pub(super) fn may_lie(job: &Job, (faces, edges): (Sides, Sides), placed: &PlacedPart) -> bool {
    let square = job.parts[placed.part].ends == [PartEnd::Square; 2];
    let (faces, edges) = (faces == Sides::Alike, edges == Sides::Alike);
    let ends_changed = placed.lies == Lies::Turned;
    let edges_changed = placed.long_edge == Edge::Near && !square;
    match (ends_changed, edges_changed) {
        (false, false) => true,
        (true, _) if square => faces || edges,
        (true, true) => edges,
        (false, true) => faces && edges,
        (true, false) => faces,
    }
}

/// What is known of sharing on one section.
pub(super) struct Sharing<'j> {
    job: &'j Job,
    pub(super) section: usize,
    /// What the widest cut takes beyond a square one.
    beyond: Length,
    angles: usize,
    pub(super) sides: (Sides, Sides),
}

impl<'j> Sharing<'j> {
    /// Of every section of a job.
    pub(super) fn of_all(job: &'j Job) -> Vec<Sharing<'j>> {
        (0..job.sections.len())
            .map(|section| Sharing::of(job, section))
            .collect()
    }

    pub(super) fn of(job: &'j Job, section: usize) -> Sharing<'j> {
        let parts = job
            .parts
            .iter()
            .filter(|part| part.sections.contains(&section));
        let ends: Vec<PartEnd> = parts.flat_map(|part| part.ends).collect();
        let cuts = ends.iter().map(|end| cut_width(job.saw.kerf, *end));
        let widest = cuts.max().unwrap_or(job.saw.kerf);
        let mut angles: Vec<Angle> = ends.into_iter().filter_map(angle).collect();
        order::sort(&mut angles);
        angles.dedup();
        Sharing {
            job,
            section,
            beyond: (widest - job.saw.kerf).max(Length::ZERO),
            angles: angles.len(),
            sides: sides(job, section),
        }
    }

    /// Whether a part may share cuts at its ends that are not square.
    pub(super) fn may(&self, part: &Part) -> bool {
        let section = &self.job.sections[self.section];
        let angles: Vec<Angle> = part.ends.into_iter().filter_map(angle).collect();
        let back = |angle: &Angle| stands_back(section, *angle);
        if stands(self.job, part, self.section) {
            return false;
        }
        let worth = angles.iter().all(|angle| {
            let saved = back(angle);
            saved.ticks() > 0 && saved >= self.beyond && !angle.is_tilted()
        });
        let long_enough = part.length >= angles.iter().map(back).sum();
        let one_angle = angles.first() == angles.last();
        let parallel = angles.len() == 2 && one_angle && part.leans != Leans::Opposite;
        let few = self.sides == (Sides::Alike, Sides::Alike) && self.angles <= 3;
        worth && (parallel || long_enough) && (one_angle || few)
    }

    /// Half of what the mitred ends of a part can overlap with others by, rounded up: zero where it shares no cuts, or where the cut itself takes
    /// more than stands back.
    pub(super) fn most_overlap(&self, part: &Part) -> Length {
        if !self.may(part) {
            return Length::ZERO;
        }
        let section = &self.job.sections[self.section];
        let twice = part.ends.iter().map(|&end| match end {
            PartEnd::Mitre(angle) => (stands_back(section, angle)
                - cut_width(self.job.saw.kerf, end))
            .ticks()
            .max(0),
            PartEnd::Square => 0,
        });
        Length::from_ticks((twice.sum::<i64>() + 1) / 2)
    }
}

/// The angle of an end.
pub(super) fn angle(end: PartEnd) -> Option<Angle> {
    match end {
        PartEnd::Square => None,
        PartEnd::Mitre(angle) => Some(angle),
    }
}

/// What half-turns that change ends leave of an end at an angle: by it alone they know whom they can meet.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Facing {
    pub(super) angle: Angle,
    lean: Option<Lean>,
    away: Option<bool>,
}

impl Facing {
    /// Of an end that leans so as it is written, the far end or not.
    pub(super) fn of(sides: (Sides, Sides), angle: Angle, lean: Lean, away: bool) -> Facing {
        let (lean, away) = match sides {
            (Sides::Alike, Sides::Alike) => (None, None),
            (Sides::Different, Sides::Alike) => (Some(lean), None),
            // The half-turn that is left makes a far end a near one of the other lean: what a near one counts as is turned round.
            (Sides::Alike, Sides::Different) => {
                (Some(if away { lean } else { lean.other() }), None)
            }
            (Sides::Different, Sides::Different) => (Some(lean), Some(away)),
        };
        Facing { angle, lean, away }
    }

    /// What it meets in a cut.
    pub(super) fn meets(self, sides: (Sides, Sides)) -> Facing {
        match sides {
            (Sides::Alike, Sides::Different) => Facing {
                lean: self.lean.map(Lean::other),
                ..self
            },
            (Sides::Different, Sides::Different) => Facing {
                away: self.away.map(|away| !away),
                ..self
            },
            _ => self,
        }
    }
}
