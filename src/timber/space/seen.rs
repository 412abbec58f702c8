//! The faces of a body that are seen from somewhere, each with those of its edges that are edges of the whole body.
//!
//! A body is a union of convex pieces that touch. Where two of them go on in one plane, or lie against each other, there is no edge.

use super::apart::{cross, dot, reach, wide};
use super::solid::{Face, Point, Solid};
use super::view::View;

/// A face that is seen, and its edges.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Seen {
    /// The face.
    pub face: Face,
    /// The stretches of its outline that are edges of the body, each from one end to the other.
    pub edges: Vec<[Point; 2]>,
}

/// The faces of `body[piece]` that look towards the viewer. A face that lies wholly against another piece is none of the body's.
pub fn seen(body: &[Solid], piece: usize, view: View) -> Vec<Seen> {
    let towards = wide(view.towards());
    let mut others = Vec::new();
    for (at, solid) in body.iter().enumerate() {
        if at != piece {
            others.extend(solid.faces());
        }
    }
    let mut all = Vec::new();
    for face in body[piece].faces() {
        if dot(face.outward, towards) <= 0 {
            continue;
        }
        let mut along = Vec::new();
        for other in &others {
            if is_in_one_plane(&face, other) {
                along.push(other);
            }
        }
        if along.iter().any(|other| is_against(&face, other)) {
            continue;
        }
        let mut edges = Vec::new();
        for (at, &from) in face.corners.iter().enumerate() {
            let to = face.corners[(at + 1) % face.corners.len()];
            left_of([from, to], &along, &mut edges);
        }
        all.push(Seen { face, edges });
    }
    all
}

/// Whether a face lies wholly against another in its plane.
fn is_against(face: &Face, other: &Face) -> bool {
    dot(other.outward, wide(face.outward)) < 0
        && face.corners.iter().all(|&corner| is_within(corner, other))
}

fn is_in_one_plane(face: &Face, other: &Face) -> bool {
    let outward = wide(face.outward);
    let on = dot(face.corners[0], outward);
    reach(&other.corners, outward) == [on; 2]
}

/// The lines around a face, each as a direction in the face's plane that looks out, and how far out the line is.
fn sides(face: &Face) -> Vec<([i128; 3], i128)> {
    let normal = wide(face.outward);
    let mut sides = Vec::new();
    for (at, &one) in face.corners.iter().enumerate() {
        let next = face.corners[(at + 1) % face.corners.len()];
        let out = cross(
            [next[0] - one[0], next[1] - one[1], next[2] - one[2]],
            normal,
        );
        sides.push((out, dot(one, out)));
    }
    sides
}

fn is_within(point: Point, face: &Face) -> bool {
    let inside = |(out, on): &([i128; 3], i128)| dot(point, *out) <= *on;
    sides(face).iter().all(inside)
}

/// Adds what is left of an edge that others do not cover, in shares of 2^40 of it.
fn left_of([from, to]: [Point; 2], others: &[&Face], edges: &mut Vec<[Point; 2]>) {
    const WHOLE: i128 = 1 << 40;
    let mut left = vec![[0, WHOLE]];
    for other in others {
        let mut covered = [0, WHOLE];
        for (out, on) in sides(other) {
            let (start, end) = (dot(from, out) - on, dot(to, out) - on);
            // `start + (end - start) share <= 0`.
            match (start <= 0, end <= 0) {
                (true, true) => {}
                (false, false) => covered = [WHOLE, 0],
                (true, false) => covered[1] = covered[1].min(scaled(-start, end - start)),
                (false, true) => covered[0] = covered[0].max(scaled(start, start - end)),
            }
        }
        if covered[0] < covered[1] {
            for [from, to] in std::mem::take(&mut left) {
                for piece in [[from, to.min(covered[0])], [from.max(covered[1]), to]] {
                    if piece[0] < piece[1] {
                        left.push(piece);
                    }
                }
            }
        }
    }
    for [start, end] in left {
        let mut edge = [from; 2];
        for (point, share) in edge.iter_mut().zip([start, end]) {
            for (at, to) in point.iter_mut().zip(to) {
                *at += (i128::from(to - *at) * share / WHOLE) as i64;
            }
        }
        edges.push(edge);
    }

    /// `part / whole` in shares; both can be as great as a cube of a length, and are brought down first.
    fn scaled(part: i128, whole: i128) -> i128 {
        let down = (128 - whole.leading_zeros()).saturating_sub(80);
        (part >> down) * WHOLE / (whole >> down).max(1)
    }
}
