//! Mitred ends in the form that the solver needs: which may meet in one cut.
//!
//! **What may share a cut, in one statement.** Two neighbours share one cut where the ends that meet have the same angle and the same lean
//! as the parts lie. Then the line of the cut is the end of both, and the long point of one is on the edge of the short point of the other.
//! An end may do so if
//!
//! 1. the blade is upright, and what is saved, `width * tan t`, is above zero and no less than what the widest cut of the section's parts takes
//!    beyond a square one;
//! 2. the part's other end is square or may share cuts too; and
//! 3. the part's ends are parallel, or it is as long as both its ends stand back together;
//! 4. it stands on no factory end of its board ([`Job::stands_on_factory_end`]); and
//! 5. both its ends have one angle, or one is square, or the section's faces are alike and so are its edges, and its parts have at most three angles.
//!
//! Where an angled part of a section has its good face out, its faces count as different: no part of it is turned over ([`Job::sides`]).
//!
//! The checker holds plans to the same statement with code of its own (`checking::sharing`).
//!
//! A part lies as written, its first mitred end's long point on the far edge or as in a mirror, or in one of the half-turns that the section's
//! sides allow ([`Sides`]). Two ends can meet in a cut when half-turns can bring them there; a *colour* is what half-turns that change ends leave of an end.

use crate::job::{Angle, Job, Leans, Part, PartEnd, Sides};
use crate::length::Length;
use crate::plan::Edge;
use crate::problem::{End, Fit, Mitre};
use timber::clear::widest_cut;

/// The class of a mitred end under the allowed half-turns.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Colour {
    /// It shares no cut.
    Alone,
    /// Faces and edges are alike: every end of the angle can meet every other.
    Any,
    /// Edges are alike: the edge of its long point where it is a part's far end. Ends meet their like.
    Edge(Edge),
    /// Faces are alike: the edge of its long point. Ends meet those of the other edge.
    Facing(Edge),
    /// Parts lie as written: the edge of its long point, and whether it is a part's far end. Far ends meet near ones of the other edge.
    Fixed(Edge, bool),
}

/// The mitres of one section, added as its parts need them.
pub(super) struct Mitres<'j> {
    job: &'j Job,
    section: usize,
    /// Whether its faces and its edges are alike.
    sides: (Sides, Sides),
    widest: Length,
    /// How many angles the section's parts have.
    angles: usize,
    known: Vec<(Angle, Colour)>,
}

impl<'j> Mitres<'j> {
    pub(super) fn of(job: &'j Job, section: usize) -> Mitres<'j> {
        let parts = job
            .parts
            .iter()
            .filter(|part| part.sections.contains(&section));
        let mut angles: Vec<Angle> = parts.flat_map(angles).collect();
        order::sort(&mut angles);
        angles.dedup();
        Mitres {
            job,
            section,
            sides: job.sides(section),
            widest: widest_cut(job, section),
            angles: angles.len(),
            known: Vec::new(),
        }
    }

    /// A part as the solver knows it.
    pub(super) fn fit(&mut self, part: &Part) -> Fit {
        let shares = self.shares(part);
        let edges = part.written_edges();
        let end = |at: usize| match part.ends[at] {
            PartEnd::Square => End::Square,
            PartEnd::Mitre(angle) => {
                let colour = if shares {
                    self.colour(edges[at], at == 1)
                } else {
                    Colour::Alone
                };
                End::Mitre(self.place(angle, colour))
            }
        };
        Fit {
            length: part.length.ticks(),
            ends: [0, 1].map(end),
        }
    }

    /// The mitres that the parts needed, for the solver.
    pub(super) fn finish(mut self) -> Vec<Mitre> {
        let kerf = self.job.saw.kerf;
        let mut mitres = Vec::new();
        while let Some(&(angle, colour)) = self.known.get(mitres.len()) {
            let partner = self.place(angle, partner(colour));
            let saving = match colour {
                Colour::Alone => Length::ZERO,
                _ => self.saving(angle),
            };
            mitres.push(Mitre {
                kerf: angle.kerf(kerf).ticks(),
                saving: saving.ticks(),
                partner,
            });
        }
        mitres
    }

    fn place(&mut self, angle: Angle, colour: Colour) -> usize {
        let known = self
            .known
            .iter()
            .position(|known| *known == (angle, colour));
        known.unwrap_or_else(|| {
            self.known.push((angle, colour));
            self.known.len() - 1
        })
    }

    fn saving(&self, angle: Angle) -> Length {
        angle.saving(self.job.sections[self.section].width.unwrap_or_default())
    }

    /// Whether a part may share cuts; see the head of this file.
    fn shares(&self, part: &Part) -> bool {
        let beyond = self.widest - self.job.saw.kerf;
        let worth = |angle: Angle| {
            let saving = self.saving(angle);
            saving > Length::ZERO && saving >= beyond && !angle.is_tilted()
        };
        let angles: Vec<Angle> = angles(part).collect();
        let parallel = angles.len() == 2 && angles[0] == angles[1] && part.leans != Leans::Opposite;
        let back: Length = angles.iter().map(|&angle| self.saving(angle)).sum();
        let one_angle = angles.windows(2).all(|pair| pair[0] == pair[1]);
        let alike = self.sides == (Sides::Alike, Sides::Alike);
        angles.iter().all(|&angle| worth(angle))
            && !self.job.stands_on_factory_end(part, self.section)
            && (parallel || part.length >= back)
            && (one_angle || (alike && self.angles <= 3))
    }

    /// The colour of an end whose long point is on an edge of the part as written, its far end or not.
    fn colour(&self, edge: Edge, far: bool) -> Colour {
        match self.sides {
            (Sides::Alike, Sides::Alike) => Colour::Any,
            // The half-turn that makes a near end a far one changes its edge too.
            (Sides::Different, Sides::Alike) => {
                Colour::Edge(if far { edge } else { edge.across() })
            }
            (Sides::Alike, Sides::Different) => Colour::Facing(edge),
            (Sides::Different, Sides::Different) => Colour::Fixed(edge, far),
        }
    }
}

/// The colour of the ends that an end meets in a cut.
fn partner(colour: Colour) -> Colour {
    match colour {
        Colour::Alone | Colour::Any | Colour::Edge(_) => colour,
        Colour::Facing(edge) => Colour::Facing(edge.across()),
        Colour::Fixed(edge, far) => Colour::Fixed(edge.across(), !far),
    }
}

/// The angles of a part's ends.
fn angles(part: &Part) -> impl Iterator<Item = Angle> {
    part.ends.into_iter().filter_map(|end| match end {
        PartEnd::Square => None,
        PartEnd::Mitre(angle) => Some(angle),
    })
}
