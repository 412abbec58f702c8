//! The faces of a body that are seen from somewhere, each with those of its edges that are edges of the whole body.
//!
//! A body is a union of convex pieces that touch. Where two of them go on in one plane, or lie against each other, there is no edge.

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
    let towards = view.towards().map(i128::from);
    let others = body.iter().enumerate().filter(|&(at, _)| at != piece);
    let others: Vec<Face> = others.flat_map(|(_, solid)| solid.faces()).collect();
    let faces = body[piece].faces().into_iter();
    let faces = faces.filter(|face| dot(face.outward, towards) > 0);
    faces
        .filter_map(|face| {
            let along: Vec<&Face> = others
                .iter()
                .filter(|other| is_in_one_plane(&face, other))
                .collect();
            let outward = face.outward.map(i128::from);
            let against = |other: &&&Face| {
                dot(other.outward, outward) < 0
                    && face.corners.iter().all(|&corner| is_within(corner, other))
            };
            if along.iter().any(|other| against(&other)) {
                return None;
            }
            let next = face.corners.iter().cycle().skip(1);
            let edges = face.corners.iter().zip(next);
            let edges = edges
                .flat_map(|(&one, &next)| left_of([one, next], &along))
                .collect();
            Some(Seen { face, edges })
        })
        .collect()
}

fn dot(point: Point, normal: [i128; 3]) -> i128 {
    (0..3)
        .map(|axis| i128::from(point[axis]) * normal[axis])
        .sum()
}

fn is_in_one_plane(face: &Face, other: &Face) -> bool {
    let outward = face.outward.map(i128::from);
    let on = dot(face.corners[0], outward);
    other
        .corners
        .iter()
        .all(|&corner| dot(corner, outward) == on)
}

/// The lines around a face, each as a direction in the face's plane that looks out, and how far out the line is.
fn sides(face: &Face) -> impl Iterator<Item = ([i128; 3], i128)> {
    let normal = face.outward.map(i128::from);
    let next = face.corners.iter().cycle().skip(1);
    face.corners.iter().zip(next).map(move |(one, next)| {
        let [x, y, z] = [0, 1, 2].map(|axis| i128::from(next[axis] - one[axis]));
        let out = [
            y * normal[2] - z * normal[1],
            z * normal[0] - x * normal[2],
            x * normal[1] - y * normal[0],
        ];
        (out, dot(*one, out))
    })
}

fn is_within(point: Point, face: &Face) -> bool {
    sides(face).all(|(out, on)| dot(point, out) <= on)
}

/// What is left of an edge that others do not cover, in shares of 2^40 of it.
fn left_of([from, to]: [Point; 2], others: &[&Face]) -> Vec<[Point; 2]> {
    const WHOLE: i128 = 1 << 40;
    let mut left = vec![[0, WHOLE]];
    for other in others {
        let mut covered = [0, WHOLE];
        for (out, on) in sides(other) {
            let [start, end] = [from, to].map(|point| dot(point, out) - on);
            // `start + (end - start) share <= 0`.
            match (start <= 0, end <= 0) {
                (true, true) => {}
                (false, false) => covered = [WHOLE, 0],
                (true, false) => covered[1] = covered[1].min(scaled(-start, end - start)),
                (false, true) => covered[0] = covered[0].max(scaled(start, start - end)),
            }
        }
        if covered[0] < covered[1] {
            let pieces = left
                .into_iter()
                .flat_map(|[from, to]| [[from, to.min(covered[0])], [from.max(covered[1]), to]]);
            left = pieces.filter(|[from, to]| from < to).collect();
        }
    }
    let at = |share: i128| {
        [0, 1, 2]
            .map(|axis| from[axis] + (i128::from(to[axis] - from[axis]) * share / WHOLE) as i64)
    };
    return left.into_iter().map(|ends| ends.map(at)).collect();

    /// `part / whole` in shares; both can be as great as a cube of a length, and are brought down first.
    fn scaled(part: i128, whole: i128) -> i128 {
        let down = (128 - whole.leading_zeros()).saturating_sub(80);
        (part >> down) * WHOLE / (whole >> down).max(1)
    }
}
