//! Whether two convex solids overlap, and the plane that lies between them where they do not.
//!
//! Two convex polyhedra whose insides share no point have a plane between them that is parallel to a face of one of them, or to an edge of
//! each (the separating axis theorem; Gottschalk, Lin and Manocha 1996). Every such direction is tried, so the answer is exact. The three
//! axes come first, since most members are boxes.

use super::solid::{Point, Solid};

/// A direction `n` with `n p <= n q` for every point `p` of the one solid and `q` of the other; `None` where the solids overlap. Solids
/// that only touch do not overlap.
pub fn plane_between(one: &Solid, other: &Solid) -> Option<[i128; 3]> {
    let (near, far) = (one.bounds(), other.bounds());
    for axis in 0..3 {
        let mut along = [0; 3];
        if near[axis][1] <= far[axis][0] {
            along[axis] = 1;
            return Some(along);
        }
        if far[axis][1] <= near[axis][0] {
            along[axis] = -1;
            return Some(along);
        }
    }
    let corners = [one.corners(), other.corners()];
    let between = |normal: [i128; 3]| {
        let (near, far) = (reach(&corners[0], normal), reach(&corners[1], normal));
        if near[1] <= far[0] {
            Some(normal)
        } else if far[1] <= near[0] {
            Some([-normal[0], -normal[1], -normal[2]])
        } else {
            None
        }
    };
    for solid in [one, other] {
        for face in solid.faces() {
            let normal = between(wide(face.outward));
            if normal.is_some() {
                return normal;
            }
        }
    }
    if one.axis().is_some() && one.axis() == other.axis() {
        return None;
    }
    let edges = other.edges();
    for edge in one.edges() {
        for &other in &edges {
            let normal = cross(edge, wide(other));
            let normal = (normal != [0; 3]).then(|| between(normal)).flatten();
            if normal.is_some() {
                return normal;
            }
        }
    }
    None
}

/// A vector whose products have room.
pub(super) fn wide([x, y, z]: Point) -> [i128; 3] {
    [x.into(), y.into(), z.into()]
}

/// How far a point is along a normal, times the normal's length.
pub(super) fn dot(point: Point, normal: [i128; 3]) -> i128 {
    let [x, y, z] = wide(point);
    x * normal[0] + y * normal[1] + z * normal[2]
}

/// The least and the greatest of that.
pub(super) fn reach(points: &[Point], normal: [i128; 3]) -> [i128; 2] {
    let mut ends = [i128::MAX, i128::MIN];
    for &point in points {
        let at = dot(point, normal);
        ends = [ends[0].min(at), ends[1].max(at)];
    }
    ends
}

pub(super) fn cross(one: Point, b: [i128; 3]) -> [i128; 3] {
    let a = wide(one);
    [
        a[1] * b[2] - a[2] * b[1],
        a[2] * b[0] - a[0] * b[2],
        a[0] * b[1] - a[1] * b[0],
    ]
}

#[cfg(test)]
mod tests {
    use super::*;

    fn normal(one: &Solid, other: &Solid) -> Option<[i64; 3]> {
        plane_between(one, other).map(|normal| normal.map(|part| part.signum() as i64))
    }

    #[test]
    fn boxes_that_touch_are_apart_and_boxes_that_overlap_are_not() {
        let unit = |corner| Solid::cuboid(corner, [10; 3]);
        assert_eq!(normal(&unit([0; 3]), &unit([10, 3, 3])), Some([1, 0, 0]));
        assert_eq!(normal(&unit([0; 3]), &unit([3, 3, -10])), Some([0, 0, -1]));
        assert_eq!(normal(&unit([0; 3]), &unit([9, 9, 9])), None);
    }

    #[test]
    fn the_two_sides_of_a_mitre_are_apart_until_one_is_a_tick_too_long() {
        let along = Solid::prism(2, vec![[0, 0], [50, 0], [40, 10], [10, 10]], [0, 5]);
        let up = |longer: i64| {
            Solid::prism(
                2,
                vec![[0, -longer], [0, 50], [10, 40], [10, 10 - longer]],
                [0, 5],
            )
        };
        assert_eq!(normal(&along, &up(0)), Some([-1, 1, 0]));
        assert_eq!(normal(&along, &up(1)), None);
    }

    #[test]
    fn crossed_wedges_are_told_apart_by_a_plane_along_an_edge_of_each() {
        // Two roofs, ridge above ridge and crossed; the upper one hangs upside down.
        let lower = Solid::prism(0, vec![[-10, 0], [10, 0], [0, 10]], [-30, 30]);
        let upper = |at| Solid::prism(1, vec![[at, 0], [at + 10, -10], [at + 10, 10]], [-30, 30]);
        assert_eq!(normal(&lower, &upper(10)), Some([0, 0, 1]));
        assert_eq!(normal(&lower, &upper(9)), None);
    }
}
