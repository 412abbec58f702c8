//! Set-outs that are worked out as members first: their list of parts and their elevation are made from these.

use super::drawing::Look;
use super::worked::Worked;
use crate::angle::Angle;
use crate::length::Length;
use crate::part::{Fitting, Part, PartEnd};
use crate::space::{Member, Piece, Solid, View, in_order};

/// A set-out in work: its members, and all that is not a part.
#[derive(Default)]
pub struct Built {
    /// Its members in the order of building. Of a pair that is wanted left and right, the left ones come first.
    pub members: Vec<One>,
    /// Sizes, marks, notes, joints.
    pub worked: Worked,
}

/// One member: a part, of which there is one, and its body.
pub struct One {
    /// The part.
    pub part: Part,
    /// Its body.
    pub body: Vec<Solid>,
}

impl Built {
    /// Adds a member.
    pub fn add(&mut self, part: Part, body: Solid) {
        self.add_pieces(part, vec![body]);
    }

    /// Adds a member whose body is of several pieces.
    pub fn add_pieces(&mut self, part: Part, body: Vec<Solid>) {
        self.members.push(One { part, body });
    }

    /// All that was worked out, with the parts of the members and an elevation of them.
    pub fn worked(self, view: View) -> Worked {
        let mut worked = self.worked;
        let bodies = self.members.iter().enumerate();
        let bodies: Vec<Piece> = bodies
            .flat_map(|(at, one)| one.body.iter().map(move |body| (at, body.clone())))
            .collect();
        let towards = view.towards();
        for (_, solid) in in_order(bodies, view) {
            for face in solid.faces() {
                let seen: i64 = (0..3).map(|axis| face.outward[axis] * towards[axis]).sum();
                if seen > 0 {
                    let corners = face.corners.iter().map(|&corner| {
                        let [x, y] = view.drawn(corner);
                        (Length::from_ticks(x), Length::from_ticks(y))
                    });
                    worked.drawing.outline(Look::Part, corners.collect());
                }
            }
        }
        for one in self.members {
            worked.add(one.part);
        }
        worked
    }
}

/// The members with their rows of the finished list; `None` where the list says anything else.
///
/// `Worked::add` makes a row where a part first occurs, so the rows are the distinct parts in that order. A pair that is not one piece has two
/// rows, the left one first.
pub fn rows(built: Built, parts: &[Part], times: u32) -> Option<Vec<Member>> {
    // Which of the distinct parts each member is, and for those one member and how many there are.
    let mut which = Vec::new();
    let mut distinct: Vec<(usize, u32)> = Vec::new();
    for (at, one) in built.members.iter().enumerate() {
        let is_it = |(of, _): &(usize, u32)| built.members[*of].part == one.part;
        let known = distinct.iter().position(is_it);
        let place = known.unwrap_or(distinct.len());
        if known.is_none() {
            distinct.push((at, 0));
        }
        distinct[place].1 += 1;
        which.push(place);
    }
    // The first row of each, and how many members a row of it has.
    let mut rows = Vec::new();
    let mut next = 0;
    for (of, count) in distinct {
        let part = &built.members[of].part;
        let is_two = part.pair && !parts.get(next)?.pair;
        let each = if is_two { count / 2 } else { count };
        let said = parts.get(next..next + 1 + usize::from(is_two))?;
        let is_said = |row: &Part| (row.length, row.quantity) == (part.length, each * times);
        if each * said.len() as u32 != count || !said.iter().all(is_said) {
            return None;
        }
        rows.push((next, each, 0));
        next += said.len();
    }
    let mut members = Vec::new();
    for (one, place) in built.members.into_iter().zip(which) {
        let (first, each, met) = &mut rows[place];
        *met += 1;
        members.push(Member {
            part: *first + usize::from(*met > *each),
            body: one.body,
        });
    }
    (next == parts.len()).then_some(members)
}

/// The end at the angle of a slope; square where it is level, or nearly so. `None` where it is too steep to saw.
pub fn end_of_slope(rise: Length, run: Length) -> Option<PartEnd> {
    match Angle::of_slope(rise, run) {
        Some(angle) => Some(PartEnd::Mitre(angle)),
        None => (rise < run).then_some(PartEnd::Square),
    }
}

/// How a post goes that is so deep in the ground.
pub fn in_ground(depth: Length) -> Fitting {
    match depth.is_none() {
        true => Fitting::Free,
        false => Fitting::Ground,
    }
}
