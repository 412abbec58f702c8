//! The members of a set-out as faces on paper, in the order in which they are drawn.

use crate::length::Length;
use crate::report::drawing::INK;
use crate::space::{Member, Piece, Solid, View, bounds, in_order, plane_between, seen};

/// A face on paper, in ticks to the right and down.
pub(super) struct Shape {
    /// The row of the set-out's parts that it is one of.
    pub(super) part: usize,
    /// How dark it is, in hundredths of ink.
    pub(super) shade: i64,
    /// Its corners.
    pub(super) corners: Vec<[i64; 2]>,
    /// Its edges.
    pub(super) edges: Vec<[[i64; 2]; 2]>,
}

/// Shades of faces that look along x, y and z: light from above, so that tops are lightest, and both sides differ.
const SHADES: [i64; 3] = [24, 10, 0];

/// The faces of members from where one looks, the farthest first.
pub(super) fn shapes(members: &[Member], view: View) -> Vec<Shape> {
    let pieces: Vec<Piece> = members
        .iter()
        .enumerate()
        .flat_map(|(at, member)| member.body.iter().map(move |solid| (at, solid.clone())))
        .collect();
    let ordered = in_order(pieces, view);
    // The bodies as they are cut for the order.
    let mut bodies: Vec<Vec<Solid>> = vec![Vec::new(); members.len()];
    let places: Vec<usize> = ordered
        .into_iter()
        .map(|(at, solid)| {
            bodies[at].push(solid);
            at
        })
        .collect();
    let mut drawn = vec![0; members.len()];
    let mut shapes = Vec::new();
    for at in places {
        for seen in seen(&bodies[at], drawn[at], view) {
            let outward = seen.face.outward.map(i64::abs);
            let along = (0..3).max_by_key(|&axis| outward[axis]).unwrap_or(2);
            shapes.push(Shape {
                part: members[at].part,
                shade: if is_corner(view) { SHADES[along] } else { 0 },
                corners: seen
                    .face
                    .corners
                    .iter()
                    .map(|&point| view.drawn(point))
                    .collect(),
                edges: seen
                    .edges
                    .iter()
                    .map(|ends| ends.map(|point| view.drawn(point)))
                    .collect(),
            });
        }
        drawn[at] += 1;
    }
    shapes
}

fn is_corner(view: View) -> bool {
    View::CORNERS.contains(&view)
}

/// Width, depth and height over all.
pub(super) fn over_all(members: &[Member]) -> [Length; 3] {
    let solids = members.iter().flat_map(|member| &member.body);
    let ends = bounds(solids).unwrap_or_default();
    ends.map(|[from, to]| Length::from_ticks(to - from))
}

/// Two parts of which members are in one place, if any are: their rows.
pub(super) fn clash(members: &[Member]) -> Option<[usize; 2]> {
    let apart = |one: &Member, other: &Member| {
        let mut pairs = one
            .body
            .iter()
            .flat_map(|solid| other.body.iter().map(move |of| (solid, of)));
        pairs.all(|(one, other)| plane_between(one, other).is_some())
    };
    members.iter().enumerate().find_map(|(at, one)| {
        let other = members[..at].iter().find(|other| !apart(one, other))?;
        Some([other.part, one.part])
    })
}

/// A colour with so many hundredths of ink over it.
pub(super) fn shaded(colour: &str, shade: i64) -> String {
    let part = |of: &str, at: usize| {
        i64::from_str_radix(of.get(at..at + 2).unwrap_or("0"), 16).unwrap_or(0)
    };
    let mixed =
        [1, 3, 5].map(|at| (part(colour, at) * (100 - shade) + part(INK, at) * shade) / 100);
    format!("#{:02x}{:02x}{:02x}", mixed[0], mixed[1], mixed[2])
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn ink_darkens_a_colour_by_its_share() {
        assert_eq!(shaded("#ffffff", 0), "#ffffff");
        assert_eq!(shaded("#000000", 100), INK);
        // Half way from 0xe3, 0xb4, 0xda to 0x1b, 0x1e, 0x22.
        assert_eq!(shaded("#e3b4da", 50), "#7f697e");
    }
}
