//! Set-outs that are worked out as members first: their list of parts and their elevation are made from these.

use super::drawing::Look;
use super::worked::Worked;
use crate::angle::Angle;
use crate::length::Length;
use crate::part::{Part, PartEnd};
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
    pub body: Solid,
}

impl Built {
    /// Adds a member.
    pub fn add(&mut self, part: Part, body: Solid) {
        self.members.push(One { part, body });
    }

    /// All that was worked out, with the parts of the members and an elevation of them.
    pub fn worked(self, view: View) -> Worked {
        let mut worked = self.worked;
        let bodies = self.members.iter().enumerate();
        let bodies: Vec<Piece> = bodies.map(|(at, one)| (at, one.body.clone())).collect();
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

/// The members with their rows of the finished list of a set-out of this name; `None` where the list says anything else.
pub fn rows(built: Built, name: &str, parts: &[Part], times: u32) -> Option<Vec<Member>> {
    let times = times.max(1);
    let mut left: Vec<u32> = parts.iter().map(|part| part.quantity).collect();
    if left.iter().any(|count| count % times != 0) {
        return None;
    }
    let mut members = Vec::new();
    for One { part, body } in built.members {
        let is_it = |row: &Part| {
            let label = row.label.get(name.len() + 2..).unwrap_or_default();
            let of_a_hand = |hand| label.strip_suffix(hand) == Some(part.label.as_str());
            (label == part.label || of_a_hand(" L") || of_a_hand(" R"))
                && (row.length, &row.sections) == (part.length, &part.sections)
        };
        let rows = parts.iter().zip(&left);
        let row = rows
            .clone()
            .position(|(row, &left)| left >= times && is_it(row))?;
        left[row] -= times;
        members.push(Member {
            part: row,
            body: vec![body],
        });
    }
    left.iter().all(|&count| count == 0).then_some(members)
}

/// The end at the angle of a slope; square where it is level, or nearly so. `None` where it is too steep to saw.
pub fn end_of_slope(rise: Length, run: Length) -> Option<PartEnd> {
    match Angle::of_slope(rise, run) {
        Some(angle) => Some(PartEnd::Mitre(angle)),
        None => (rise < run).then_some(PartEnd::Square),
    }
}
