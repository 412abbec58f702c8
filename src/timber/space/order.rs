//! The order in which solids are drawn, so that what is drawn later is never behind what it covers.
//!
//! **Idea.** Of two solids that do not overlap in space but do on paper, the one on the far side of a plane between them is drawn first
//! (Newell, Newell and Sancha 1972, who then sort by depth; here all pairs are compared). Solids that nothing must precede are drawn, over
//! and over, and likewise from the front. What is left has circles in it, such as three sticks each of which covers the next. It is parted
//! by a plane across an axis (Fuchs, Kedem and Naylor 1980): solids on both sides are cut in two, the far side is drawn first, and each
//! side is put in order by itself.
//!
//! **Why it ends.** A plane is taken only where one solid lies wholly on either side of it. So each side has a solid less than both had
//! together, whatever is cut.
//!
//! **What it needs.** A solid that slopes is cut level alone, so a circle with such in it is parted only so far. Solids that overlap have no order; they are left in the order they come in. So is a circle without such a plane, for
//! which every two solids in it would have to share a stretch of each axis. Prisms along one axis and of one length make no circle: seen
//! along the plane of their outlines they are convex shapes, and those can be taken away one by one in any direction.

use super::apart::{dot, plane_between, reach, wide};
use super::solid::{Axis, Point, Solid, reach as ends};
use super::view::View;

/// A solid, and what it is a piece of.
pub type Piece = (usize, Solid);

/// The pieces in the order of drawing, some of them in two or more parts.
pub fn in_order(pieces: Vec<Piece>, view: View) -> Vec<Piece> {
    let mut shadows = Vec::new();
    for (_, solid) in &pieces {
        shadows.push(Shadow::of(solid, view));
    }
    let towards = view.towards();
    // Which ones are drawn after each.
    let mut after: Vec<Vec<usize>> = vec![Vec::new(); pieces.len()];
    for one in 0..pieces.len() {
        for other in 0..one {
            if !shadows[one].meets(&shadows[other]) {
                continue;
            }
            let Some(normal) = plane_between(&pieces[one].1, &pieces[other].1) else {
                continue;
            };
            match dot(towards, normal).signum() {
                1 => after[one].push(other),
                -1 => after[other].push(one),
                _ => {}
            }
        }
    }
    let mut first = Vec::new();
    let mut left: Vec<bool> = vec![true; pieces.len()];
    take(&after, &mut left, &mut first);
    let mut last = Vec::new();
    take(&turned_round(&after), &mut left, &mut last);
    last.reverse();
    let mut core = Vec::new();
    for (piece, left) in pieces.iter().zip(left) {
        if left {
            core.push(piece.clone());
        }
    }
    let mut ordered = Vec::new();
    for piece in first {
        ordered.push(pieces[piece].clone());
    }
    ordered.extend(parted(core, view));
    for piece in last {
        ordered.push(pieces[piece].clone());
    }
    ordered
}

/// Takes those that nothing left must precede, until there are none (Kahn 1962); the first of them in their list first.
fn take(after: &[Vec<usize>], left: &mut [bool], taken: &mut Vec<usize>) {
    let mut before = vec![0usize; after.len()];
    for (piece, after) in after.iter().enumerate() {
        for &next in after.iter().filter(|_| left[piece]) {
            before[next] += 1;
        }
    }
    let mut ready = Vec::new();
    for piece in (0..after.len()).rev() {
        if left[piece] && before[piece] == 0 {
            ready.push(piece);
        }
    }
    while let Some(piece) = ready.pop() {
        left[piece] = false;
        taken.push(piece);
        for &next in &after[piece] {
            before[next] -= 1;
            if left[next] && before[next] == 0 {
                ready.push(next);
            }
        }
    }
}

fn turned_round(after: &[Vec<usize>]) -> Vec<Vec<usize>> {
    let mut before = vec![Vec::new(); after.len()];
    for (piece, after) in after.iter().enumerate() {
        for &next in after {
            before[next].push(piece);
        }
    }
    before
}

/// The pieces of circles in order, parted by the plane that cuts the fewest.
fn parted(pieces: Vec<Piece>, view: View) -> Vec<Piece> {
    let Some((axis, at)) = plane(&pieces) else {
        return pieces;
    };
    let mut sides = [Vec::new(), Vec::new()];
    for (of, solid) in pieces {
        for (side, part) in sides.iter_mut().zip(solid.cut(axis, at)) {
            if let Some(part) = part {
                side.push((of, part));
            }
        }
    }
    if view.towards()[axis] < 0 {
        sides.reverse();
    }
    let [far, near] = sides;
    let mut ordered = in_order(far, view);
    ordered.extend(in_order(near, view));
    ordered
}

/// A plane across an axis, at an end of a piece, that has a whole piece on either side; the one that cuts the fewest pieces.
fn plane(pieces: &[Piece]) -> Option<(Axis, i64)> {
    let mut bounds = Vec::new();
    for (_, solid) in pieces {
        bounds.push(solid.bounds());
    }
    let mut best: Option<(usize, Axis, i64)> = None;
    for (axis, at) in bounds
        .iter()
        .flat_map(|ends| [0, 1, 2, 3, 4, 5].map(|nth: usize| (nth / 2, ends[nth / 2][nth % 2])))
    {
        let (mut below, mut above) = (0, 0);
        for ends in &bounds {
            below += usize::from(ends[axis][1] <= at);
            above += usize::from(ends[axis][0] >= at);
        }
        let cut = bounds.len() - below - above;
        if below > 0 && above > 0 && best.is_none_or(|(fewest, ..)| cut < fewest) {
            best = Some((cut, axis, at));
        }
    }
    best.map(|(_, axis, at)| (axis, at))
}

/// What a solid covers on paper, in the coordinates of [`View::flat`].
struct Shadow {
    corners: Vec<Point>,
    /// How far it reaches across the drawn x, y and z axes.
    bounds: [[i64; 2]; 3],
    /// Normals of its other edges; most members have none.
    normals: Vec<[i128; 3]>,
}

impl Shadow {
    fn of(solid: &Solid, view: View) -> Shadow {
        // Across the upright axis; from above, where that is a point, across another once more.
        let across = match view.towards() {
            [0, 0, _] => [0, 1],
            [right, back, _] => [-right, back],
        };
        let (mut corners, mut normals) = (Vec::new(), Vec::new());
        for corner in solid.corners() {
            let [along, up] = view.flat(corner);
            corners.push([up, along, across[0] * up + across[1] * along]);
        }
        for edge in solid.edges() {
            let [along, up] = view.flat(edge);
            if edge.iter().filter(|part| **part != 0).count() > 1 {
                normals.push(wide([along, -up, 0]));
            }
        }
        Shadow {
            bounds: [ends(&corners, 0), ends(&corners, 1), ends(&corners, 2)],
            normals,
            corners,
        }
    }

    /// Whether the two cover some area together: no line parallel to an edge of either lies between them.
    fn meets(&self, other: &Shadow) -> bool {
        let mut both = self.bounds.iter().zip(&other.bounds);
        both.all(|(one, other)| one[0] < other[1] && other[0] < one[1])
            && !self.is_beside(other)
            && !other.is_beside(self)
    }

    /// Whether a line parallel to an edge of this one lies between the two.
    fn is_beside(&self, other: &Shadow) -> bool {
        self.normals.iter().any(|&normal| {
            let one = reach(&self.corners, normal);
            let two = reach(&other.corners, normal);
            normal != [0; 3] && (one[1] <= two[0] || two[1] <= one[0])
        })
    }
}
