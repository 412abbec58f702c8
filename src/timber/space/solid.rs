//! A convex prism, or one that tapers: an outline in a plane across one axis, another at the other end, and the stretch of that axis between them.

/// A point, or a direction: `x`, `y`, `z`.
pub type Point = [i64; 3];

/// An axis by its place in a [`Point`].
pub type Axis = usize;

/// A prism along an axis, or one whose sides slope.
///
/// The outline is convex and runs anticlockwise as seen from the far end of the axis. Its two coordinates are those of the next axis and
/// the one after it: y and z along x, z and x along y, x and y along z. Where the sides slope, the outline at the far end has as many corners and its
/// edges are parallel to those at the near end, to a tick.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Solid {
    axis: Axis,
    outline: Vec<[i64; 2]>,
    far: Vec<[i64; 2]>,
    from: i64,
    to: i64,
}

/// How much finer the direction of a sloping side is given than its edges are, for it to be true over the height of a solid.
const FINER: i64 = 1 << 10;

/// A side of a solid.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Face {
    /// The direction it looks to, of any length.
    pub outward: Point,
    /// Its corners, anticlockwise as seen from outside.
    pub corners: Vec<Point>,
}

impl Solid {
    /// A box by its least corner and its size.
    pub fn cuboid(corner: Point, size: Point) -> Solid {
        let [x, y, z] = corner;
        let [right, back, top] = [x + size[0], y + size[1], z + size[2]];
        let outline = vec![[x, y], [right, y], [right, back], [x, back]];
        Solid::prism(2, outline, [z, top])
    }

    /// A prism along `axis`, its outline in the order of that axis (see [`Solid`]) and in either direction.
    pub fn prism(axis: Axis, mut outline: Vec<[i64; 2]>, [from, to]: [i64; 2]) -> Solid {
        outline.dedup();
        if outline.len() > 1 && outline.first() == outline.last() {
            outline.pop();
        }
        if twice_area(&outline) < 0 {
            outline.reverse();
        }
        Solid {
            axis,
            far: outline.clone(),
            outline,
            from,
            to,
        }
    }

    /// A solid between two outlines across `axis`, corner by corner, both anticlockwise or both clockwise.
    pub fn sloping(axis: Axis, [outline, far]: [Vec<[i64; 2]>; 2], [from, to]: [i64; 2]) -> Solid {
        let mut solid = Solid {
            axis,
            outline,
            far,
            from,
            to,
        };
        if twice_area(&solid.outline) < 0 {
            solid.outline.reverse();
            solid.far.reverse();
        }
        solid
    }

    /// The axis along which it is a prism; none where it slopes.
    pub fn axis(&self) -> Option<Axis> {
        (!self.slopes()).then_some(self.axis)
    }

    fn slopes(&self) -> bool {
        self.outline != self.far
    }

    /// Twice its volume, in cubic ticks (a prismoid's: its ends and four times its middle, a sixth of their sum).
    pub fn twice_volume(&self) -> i128 {
        let both = self.outline.iter().zip(&self.far);
        let twice_middle: Vec<[i64; 2]> = both
            .map(|(near, far)| [near[0] + far[0], near[1] + far[1]])
            .collect();
        let areas = [&self.outline, &self.far, &twice_middle].map(|one| twice_area(one));
        areas.into_iter().sum::<i128>() * i128::from(self.to - self.from) / 6
    }

    /// Whether there is nothing of it.
    pub fn is_none(&self) -> bool {
        self.twice_volume() <= 0
    }

    /// Least and greatest `x`, `y` and `z`.
    pub fn bounds(&self) -> [[i64; 2]; 3] {
        let mut bounds = [[self.from, self.to]; 3];
        for side in 0..2 {
            let [near, far] = [&self.outline, &self.far].map(|one| reach(one, side));
            bounds[(self.axis + 1 + side) % 3] = [near[0].min(far[0]), near[1].max(far[1])];
        }
        bounds
    }

    /// Its corners: those at the near end, then those at the far end.
    pub fn corners(&self) -> Vec<Point> {
        let mut corners = Vec::new();
        for (outline, at) in [(&self.outline, self.from), (&self.far, self.to)] {
            for &corner in outline {
                corners.push(self.lifted(corner, at));
            }
        }
        corners
    }

    /// Its faces: the two ends, then one for each edge of the outline.
    pub fn faces(&self) -> Vec<Face> {
        let count = self.outline.len();
        let mut near = self.corners();
        let far = near.split_off(count);
        near.reverse();
        let mut faces = Vec::new();
        for (outward, corners) in [(-1, near), (1, far)] {
            let outward = self.lifted([0, 0], outward);
            faces.push(Face { outward, corners });
        }
        for index in 0..count {
            let after = (index + 1) % count;
            let (one, next) = (self.outline[index], self.outline[after]);
            let (one_far, next_far) = (self.far[index], self.far[after]);
            faces.push(Face {
                outward: match self.slopes() {
                    false => self.lifted([next[1] - one[1], one[0] - next[0]], 0),
                    true => self.sloping_outward([one, next], [one_far, next_far]),
                },
                corners: vec![
                    self.lifted(one, self.from),
                    self.lifted(next, self.from),
                    self.lifted(next_far, self.to),
                    self.lifted(one_far, self.to),
                ],
            });
        }
        faces
    }

    /// Where a sloping side looks to: across its edge and its slope, both as they are in the middle.
    fn sloping_outward(&self, near: [[i64; 2]; 2], far: [[i64; 2]; 2]) -> Point {
        let along = |at: usize| i128::from(near[1][at] - near[0][at] + far[1][at] - far[0][at]);
        let slope = |at: usize| i128::from(far[0][at] - near[0][at] + far[1][at] - near[1][at]);
        let twice_high = 2 * i128::from(self.to - self.from).max(1);
        let finer = i128::from(FINER);
        let out = (along(0) * slope(1) - along(1) * slope(0)) * finer / twice_high;
        let across = [along(1) * finer, -along(0) * finer].map(|part| part as i64);
        self.lifted(across, out as i64)
    }

    /// The directions of its edges: its axis, or the slopes of its corners, then those of its outline.
    pub fn edges(&self) -> Vec<Point> {
        let mut edges = match self.slopes() {
            false => vec![self.lifted([0, 0], 1)],
            true => {
                let both = self.outline.iter().zip(&self.far);
                let slope = |(near, far): (&[i64; 2], &[i64; 2])| {
                    self.lifted([far[0] - near[0], far[1] - near[1]], self.to - self.from)
                };
                both.map(slope).collect()
            }
        };
        for (index, one) in self.outline.iter().enumerate() {
            let next = self.outline[(index + 1) % self.outline.len()];
            edges.push(self.lifted([next[0] - one[0], next[1] - one[1]], 0));
        }
        edges
    }

    /// The same solid elsewhere. `to` turns by quarter turns and shifts, and never mirrors: it maps axes to axes.
    pub fn moved(&self, to: impl Fn(Point) -> Point) -> Solid {
        self.put(&to)
    }

    /// The same solid, shifted by so much.
    pub fn shifted(&self, by: Point) -> Solid {
        self.put(&|[x, y, z]| [x + by[0], y + by[1], z + by[2]])
    }

    fn put(&self, to: &dyn Fn(Point) -> Point) -> Solid {
        let origin = to([0; 3]);
        let along = to(self.lifted([0, 0], 1));
        let axis = (0..3)
            .find(|&axis| along[axis] != origin[axis])
            .unwrap_or(0);
        let [next, after] = [(axis + 1) % 3, (axis + 2) % 3];
        let end = |at| to(self.lifted([0, 0], at))[axis];
        let (from, far) = (end(self.from), end(self.to));
        let put = |outline: &[[i64; 2]], at: i64| {
            let mut flat = Vec::new();
            for &corner in outline {
                let point = to(self.lifted(corner, at));
                flat.push([point[next], point[after]]);
            }
            flat
        };
        let mut ends = [put(&self.outline, self.from), put(&self.far, self.to)];
        if far < from {
            ends.reverse();
        }
        Solid::sloping(axis, ends, [from.min(far), from.max(far)])
    }

    /// The two parts of it on either side of the plane across `axis` at `at`, either of which can be missing. A cut through a slanting side
    /// is rounded to a tick; where sides slant at 45 degrees there is nothing to round. A solid that slopes is cut across its own axis alone: for
    /// another it is left whole, on the side where its middle is.
    pub fn cut(&self, axis: Axis, at: i64) -> [Option<Solid>; 2] {
        [self.half(axis, at, true), self.half(axis, at, false)]
    }

    fn half(&self, axis: Axis, at: i64, below: bool) -> Option<Solid> {
        let mut piece = self.clone();
        if axis == self.axis {
            let inside = self.from < at && at < self.to;
            match below {
                true if inside => piece.far = self.level(at),
                false if inside => piece.outline = self.level(at),
                _ => {}
            }
            match below {
                true => piece.to = piece.to.min(at),
                false => piece.from = piece.from.max(at),
            }
            return (piece.from < piece.to).then_some(piece);
        }
        if self.slopes() {
            let [from, to] = self.bounds()[axis];
            return ((from + to < 2 * at) == below).then_some(piece);
        }
        let side = (axis + 2 - self.axis) % 3;
        let outline = clipped(&self.outline, side, at, below);
        let piece = Solid::prism(self.axis, outline, [self.from, self.to]);
        (!piece.is_none()).then_some(piece)
    }

    /// The outline at a place along the axis, its corners rounded to a tick.
    fn level(&self, at: i64) -> Vec<[i64; 2]> {
        let [part, whole] = [at - self.from, self.to - self.from].map(i128::from);
        let both = self.outline.iter().zip(&self.far);
        let between = |(near, far): (&[i64; 2], &[i64; 2])| {
            [0, 1].map(|side| {
                let more = i128::from(far[side] - near[side]) * part;
                near[side] + more.div_euclid(whole) as i64
            })
        };
        both.map(between).collect()
    }

    /// A point of the outline's plane, `at` along the axis.
    fn lifted(&self, corner: [i64; 2], at: i64) -> Point {
        let mut point = [at; 3];
        point[(self.axis + 1) % 3] = corner[0];
        point[(self.axis + 2) % 3] = corner[1];
        point
    }
}

/// Twice the area within an outline, below zero where it runs clockwise (the shoelace formula).
fn twice_area(outline: &[[i64; 2]]) -> i128 {
    let mut area = 0;
    for (index, one) in outline.iter().enumerate() {
        let next = outline[(index + 1) % outline.len()];
        area += i128::from(one[0]) * i128::from(next[1]) - i128::from(next[0]) * i128::from(one[1]);
    }
    area
}

/// Least and greatest of one coordinate of points; zero where there are none.
pub fn reach<const N: usize>(points: &[[i64; N]], side: usize) -> [i64; 2] {
    let Some(first) = points.first() else {
        return [0; 2];
    };
    let mut ends = [first[side]; 2];
    for point in points {
        ends = [ends[0].min(point[side]), ends[1].max(point[side])];
    }
    ends
}

/// What of a convex outline lies on one side of a line across a coordinate (Sutherland and Hodgman's clipping against one line).
fn clipped(outline: &[[i64; 2]], side: usize, at: i64, below: bool) -> Vec<[i64; 2]> {
    let inside = |corner: [i64; 2]| match below {
        true => corner[side] <= at,
        false => corner[side] >= at,
    };
    let mut kept = Vec::new();
    for (index, &one) in outline.iter().enumerate() {
        let next = outline[(index + 1) % outline.len()];
        if inside(one) {
            kept.push(one);
        }
        if inside(one) != inside(next) && one[side] != at && next[side] != at {
            let part = i128::from(at - one[side]) * i128::from(next[1 - side] - one[1 - side]);
            let whole = i128::from(next[side] - one[side]);
            let mut cut = [at; 2];
            cut[1 - side] = one[1 - side] + part.div_euclid(whole) as i64;
            kept.push(cut);
        }
    }
    kept
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A prism with a slanting side along each axis.
    fn wedges() -> Vec<Solid> {
        let outline = vec![[0, 0], [40, 0], [30, 10], [0, 10]];
        (0..3)
            .map(|axis| Solid::prism(axis, outline.clone(), [5, 25]))
            .collect()
    }

    /// A frustum along each axis: 40 by 20 at the near end, 20 by 10 at the far end, 30 high.
    fn frusta() -> Vec<Solid> {
        let near = vec![[0, 0], [40, 0], [40, 20], [0, 20]];
        let far = vec![[10, 5], [30, 5], [30, 15], [10, 15]];
        (0..3)
            .map(|axis| Solid::sloping(axis, [near.clone(), far.clone()], [5, 35]))
            .collect()
    }

    #[test]
    fn what_tapers_has_the_volume_of_a_frustum_however_it_is_turned_and_cut() {
        // A frustum of a pyramid: 30 / 3 x (800 + 200 + sqrt(800 x 200)) = 14 000.
        for solid in frusta() {
            assert_eq!(solid.twice_volume(), 28_000);
            assert_eq!(solid.axis(), None);
            for turned in [
                solid.moved(|[x, y, z]| [-y + 3, x, z]),
                solid.moved(|[x, y, z]| [x, z, -y]),
                solid.moved(|[x, y, z]| [y, z, x - 9]),
            ] {
                assert_eq!(turned.twice_volume(), 28_000, "{turned:?}");
            }
            for axis in 0..3 {
                for at in -5..45 {
                    let parts = solid.cut(axis, at).into_iter().flatten();
                    let volume: i128 = parts.map(|part| part.twice_volume()).sum();
                    // A corner on the cut is rounded to a tick: 40 and 20 long, 30 high.
                    assert!((volume - 28_000).abs() <= 2 * 2 * 60 * 30, "{axis} {at}");
                    if axis != solid.axis || at % 3 == 2 {
                        assert!((volume - 28_000).abs() <= 60, "{axis} {at}: {volume}");
                    }
                }
            }
        }
    }

    #[test]
    fn sides_that_slope_look_out_of_the_solid() {
        for solid in frusta() {
            let corners = solid.corners();
            for face in solid.faces() {
                let dot =
                    |point: Point| -> i64 { (0..3).map(|at| point[at] * face.outward[at]).sum() };
                let on = dot(face.corners[0]);
                let wide: i64 = face.outward.iter().map(|part| part.abs()).sum();
                // The direction is rounded, by less than a tick in all.
                for &corner in &face.corners {
                    assert!((dot(corner) - on).abs() <= wide, "{face:?}");
                }
                assert!(corners.iter().all(|&corner| dot(corner) <= on + wide));
                assert!(corners.iter().any(|&corner| dot(corner) < on - wide));
            }
        }
    }

    #[test]
    fn a_solid_keeps_its_volume_however_it_is_turned() {
        // A trapezoid of 40 and 30 by 10, 20 long: 350 x 20 = 7 000.
        for solid in wedges() {
            assert_eq!(solid.twice_volume(), 14_000);
            for turned in [
                solid.moved(|[x, y, z]| [-y + 3, x, z]),
                solid.moved(|[x, y, z]| [x, z, -y]),
                solid.moved(|[x, y, z]| [y, z, x - 9]),
            ] {
                assert_eq!(turned.twice_volume(), 14_000, "{turned:?}");
            }
        }
    }

    #[test]
    fn every_face_looks_away_from_the_solid_and_runs_anticlockwise() {
        for solid in wedges() {
            let corners = solid.corners();
            for face in solid.faces() {
                let dot =
                    |point: Point| -> i64 { (0..3).map(|at| point[at] * face.outward[at]).sum() };
                let on = dot(face.corners[0]);
                assert!(face.corners.iter().all(|&corner| dot(corner) == on));
                assert!(corners.iter().all(|&corner| dot(corner) <= on), "{face:?}");
                let [a, b, c] = [0, 1, 2].map(|at| face.corners[at]);
                let [u, v] =
                    [[a, b], [b, c]].map(|[from, to]| [0, 1, 2].map(|at| to[at] - from[at]));
                let cross = [
                    u[1] * v[2] - u[2] * v[1],
                    u[2] * v[0] - u[0] * v[2],
                    u[0] * v[1] - u[1] * v[0],
                ];
                assert!(dot(cross) > 0, "{face:?}");
            }
        }
    }

    #[test]
    fn the_two_parts_of_a_cut_solid_are_the_whole() {
        for solid in wedges() {
            for axis in 0..3 {
                for at in -5..45 {
                    let parts = solid.cut(axis, at).into_iter().flatten();
                    let volume: i128 = parts.map(|part| part.twice_volume()).sum();
                    assert_eq!(volume, 14_000, "{axis} {at}");
                }
            }
        }
    }
}
