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
//! **What it needs.** Solids that overlap have no order; they are left in the order they come in. So is a circle without such a plane, for
//! which every two solids in it would have to share a stretch of each axis. Prisms along one axis and of one length make no circle: seen
//! along the plane of their outlines they are convex shapes, and those can be taken away one by one in any direction.

use super::apart::plane_between;
use super::solid::{Axis, Solid};
use super::view::View;

/// A solid, and what it is a piece of.
pub type Piece = (usize, Solid);

/// The pieces in the order of drawing, some of them in two or more parts.
pub fn in_order(pieces: Vec<Piece>, view: View) -> Vec<Piece> {
    let shadows: Vec<Shadow> = pieces
        .iter()
        .map(|(_, solid)| Shadow::of(solid, view))
        .collect();
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
            let towards = view.towards();
            let nearer = (0..3).map(|axis| normal[axis] * i128::from(towards[axis]));
            match nearer.sum::<i128>().signum() {
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
    let core = (0..pieces.len()).filter(|&piece| left[piece]);
    let core: Vec<Piece> = core.map(|piece| pieces[piece].clone()).collect();
    let mut ordered: Vec<Piece> = first.iter().map(|&piece| pieces[piece].clone()).collect();
    ordered.extend(parted(core, view));
    ordered.extend(last.iter().map(|&piece| pieces[piece].clone()));
    ordered
}

/// Takes those that nothing left must precede, until there are none (Kahn 1962); the first of them in their list first.
fn take(after: &[Vec<usize>], left: &mut [bool], taken: &mut Vec<usize>) {
    let mut before = vec![0usize; after.len()];
    let all = (0..after.len()).filter(|&piece| left[piece]);
    for &piece in all.flat_map(|piece| &after[piece]) {
        before[piece] += 1;
    }
    let mut ready: Vec<usize> = (0..after.len())
        .rev()
        .filter(|&piece| left[piece] && before[piece] == 0)
        .collect();
    while let Some(piece) = ready.pop() {
        left[piece] = false;
        taken.push(piece);
        for &next in after[piece].iter().filter(|&&next| left[next]) {
            before[next] -= 1;
            if before[next] == 0 {
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
            side.extend(part.map(|part| (of, part)));
        }
    }
    if view.towards()[axis] < 0 {
        sides.reverse();
    }
    sides
        .into_iter()
        .flat_map(|side| in_order(side, view))
        .collect()
}

/// A plane across an axis, at an end of a piece, that has a whole piece on either side; the one that cuts the fewest pieces.
fn plane(pieces: &[Piece]) -> Option<(Axis, i64)> {
    let bounds: Vec<[[i64; 2]; 3]> = pieces.iter().map(|(_, solid)| solid.bounds()).collect();
    let mut best: Option<(usize, Axis, i64)> = None;
    for (axis, &at) in bounds
        .iter()
        .flat_map(|ends| ends.iter().enumerate())
        .flat_map(|(axis, ends)| ends.iter().map(move |at| (axis, at)))
    {
        let below = bounds.iter().filter(|ends| ends[axis][1] <= at).count();
        let above = bounds.iter().filter(|ends| ends[axis][0] >= at).count();
        let cut = bounds.len() - below - above;
        if below > 0 && above > 0 && best.is_none_or(|(fewest, ..)| cut < fewest) {
            best = Some((cut, axis, at));
        }
    }
    best.map(|(_, axis, at)| (axis, at))
}

/// What a solid covers on paper, in the coordinates of [`View::flat`].
struct Shadow {
    corners: Vec<[i64; 2]>,
    /// The directions of its edges.
    edges: Vec<[i64; 2]>,
    bounds: [[i64; 2]; 2],
}

impl Shadow {
    fn of(solid: &Solid, view: View) -> Shadow {
        let corners: Vec<[i64; 2]> = solid
            .corners()
            .into_iter()
            .map(|corner| view.flat(corner))
            .collect();
        let bounds = [0, 1].map(|side| {
            let along = corners.iter().map(|corner| corner[side]);
            [
                along.clone().min().unwrap_or_default(),
                along.max().unwrap_or_default(),
            ]
        });
        Shadow {
            edges: solid
                .edges()
                .into_iter()
                .map(|edge| view.flat(edge))
                .collect(),
            corners,
            bounds,
        }
    }

    /// Whether the two cover some area together: no line parallel to an edge of either lies between them.
    fn meets(&self, other: &Shadow) -> bool {
        let overlap = |side: usize| {
            self.bounds[side][0] < other.bounds[side][1]
                && other.bounds[side][0] < self.bounds[side][1]
        };
        overlap(0)
            && overlap(1)
            && !self
                .edges
                .iter()
                .chain(&other.edges)
                .any(|&edge| self.is_beside(other, edge))
    }

    fn is_beside(&self, other: &Shadow, [along, up]: [i64; 2]) -> bool {
        if along == 0 && up == 0 {
            return false;
        }
        let reach = |corners: &[[i64; 2]]| {
            let off = corners.iter().map(|corner| {
                i128::from(corner[1]) * i128::from(along) - i128::from(corner[0]) * i128::from(up)
            });
            [
                off.clone().min().unwrap_or_default(),
                off.max().unwrap_or_default(),
            ]
        };
        let [one, two] = [reach(&self.corners), reach(&other.corners)];
        one[1] <= two[0] || two[1] <= one[0]
    }
}
