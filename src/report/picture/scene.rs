//! The members of a set-out as faces on paper, in the order in which they are drawn.

use crate::length::Length;
use crate::report::drawing::INK;
use crate::space::{Member, Solid, View, bounds, in_order, plane_between, seen};
use order::Map;

/// A face on paper, in ticks to the right and down.
pub(super) struct Shape {
    /// The row of the set-out's parts that it is one of.
    pub(super) part: usize,
    /// Which of the members of that row it is of, from zero, in the order of putting together.
    pub(super) nth: usize,
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
    let mut pieces = Vec::new();
    for (at, member) in members.iter().enumerate() {
        for solid in &member.body {
            pieces.push((at, solid.clone()));
        }
    }
    // The bodies as they are cut for the order.
    let mut bodies: Vec<Vec<Solid>> = vec![Vec::new(); members.len()];
    let mut places = Vec::new();
    for (at, solid) in in_order(pieces, view) {
        bodies[at].push(solid);
        places.push(at);
    }
    let mut drawn = vec![0; members.len()];
    let nths = nths(members);
    let mut shapes = Vec::new();
    for at in places {
        for seen in seen(&bodies[at], drawn[at], view) {
            let mut along = 0;
            for axis in [1, 2] {
                if seen.face.outward[axis].abs() >= seen.face.outward[along].abs() {
                    along = axis;
                }
            }
            let mut shape = Shape {
                part: members[at].part,
                nth: nths[at],
                shade: if is_corner(view) { SHADES[along] } else { 0 },
                corners: Vec::new(),
                edges: Vec::new(),
            };
            for point in seen.face.corners {
                shape.corners.push(view.drawn(point));
            }
            for [from, to] in seen.edges {
                shape.edges.push([view.drawn(from), view.drawn(to)]);
            }
            shapes.push(shape);
        }
        drawn[at] += 1;
    }
    shapes
}

/// Which of the members of its row each one is.
fn nths(members: &[Member]) -> Vec<usize> {
    let mut met = Map::new();
    let nth = |member: &Member| {
        let next: usize = met.get(&member.part).copied().unwrap_or_default();
        met.insert(member.part, next + 1);
        next
    };
    members.iter().map(nth).collect()
}

fn is_corner(view: View) -> bool {
    View::CORNERS.contains(&view)
}

/// Width, depth and height over all.
pub(super) fn over_all(members: &[Member]) -> [Length; 3] {
    let solids = members.iter().flat_map(|member| &member.body);
    let [wide, deep, high] = bounds(solids).unwrap_or_default();
    let size = |[from, to]: [i64; 2]| Length::from_ticks(to - from);
    [size(wide), size(deep), size(high)]
}

/// Two parts of which members are in one place, if any are: their rows.
pub(super) fn clash(members: &[Member]) -> Option<[usize; 2]> {
    for (at, one) in members.iter().enumerate() {
        for other in &members[..at] {
            for solid in &one.body {
                for of in &other.body {
                    if plane_between(solid, of).is_none() {
                        return Some([other.part, one.part]);
                    }
                }
            }
        }
    }
    None
}

/// A colour with so many hundredths of ink over it.
pub(super) fn shaded(colour: &str, shade: i64) -> String {
    let (colour, ink) = (parts(colour), parts(INK));
    let mut mixed = 0;
    for place in [16, 8, 0] {
        let (colour, ink) = (colour >> place & 255, ink >> place & 255);
        mixed += ((colour * (100 - shade) + ink * shade) / 100) << place;
    }
    format!("#{mixed:06x}")
}

/// A colour as a number, red first.
fn parts(colour: &str) -> i64 {
    i64::from_str_radix(colour.get(1..).unwrap_or_default(), 16).unwrap_or_default()
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
