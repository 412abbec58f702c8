//! What lies on a slope: turned about a line along x.
//!
//! A turned corner is rounded to a tick, so each outline is drawn in by [`DRAWN_IN`] first: two bodies that touch on the level are then apart on the
//! slope too.

use super::solid::{Point, Solid, reach};

/// How much smaller an outline is drawn at each side, in ticks; a tick is 1/3200 mm.
const DRAWN_IN: i64 = 2;

/// A slope along y: what lies level on the pivot lies on it.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Tilt {
    /// The line along x that stays where it is: its y and z.
    pub pivot: [i64; 2],
    /// The slope: how far it goes back, and how much it rises there.
    pub run: i64,
    /// See `run`; below zero where it falls.
    pub rise: i64,
    /// The length along the slope that belongs to these.
    pub along: i64,
}

impl Tilt {
    /// A solid that is a prism along x, or a box, turned onto the slope; `None` for any other.
    pub fn tilted(&self, solid: &Solid) -> Option<Solid> {
        let (outline, ends) = along_x(solid)?;
        let middle = [0, 1].map(|side| {
            let [from, to] = reach(&outline, side);
            from + (to - from) / 2
        });
        let turned = outline.iter().map(|corner| {
            let [y, z] = [0, 1].map(|side| {
                let inwards = (middle[side] - corner[side]).signum();
                let away = corner[side] + inwards * DRAWN_IN - self.pivot[side];
                i128::from(away)
            });
            let [run, rise] = [self.run, self.rise].map(i128::from);
            [
                self.pivot[0] + self.share(y * run - z * rise),
                self.pivot[1] + self.share(y * rise + z * run),
            ]
        });
        Some(Solid::prism(0, turned.collect(), ends))
    }

    fn share(&self, of: i128) -> i64 {
        let along = i128::from(self.along.max(1));
        (2 * of + along).div_euclid(2 * along) as i64
    }
}

/// The outline of a solid across x, as y and z, and its ends along x.
fn along_x(solid: &Solid) -> Option<(Vec<[i64; 2]>, [i64; 2])> {
    if solid.axis() == Some(0) {
        let corners: Vec<Point> = solid.corners();
        let outline = corners[..corners.len() / 2].iter().map(|at| [at[1], at[2]]);
        return Some((outline.collect(), solid.bounds()[0]));
    }
    let [x, y, z] = solid.bounds();
    let sides = [x, y, z].map(|[from, to]| i128::from(to - from));
    let is_box = solid.twice_volume() == 2 * sides[0] * sides[1] * sides[2];
    let outline = vec![[y[0], z[0]], [y[1], z[0]], [y[1], z[1]], [y[0], z[1]]];
    is_box.then_some((outline, x))
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Three to four: 5 along the slope.
    const SLOPE: Tilt = Tilt {
        pivot: [1_000, 2_000],
        run: 4,
        rise: 3,
        along: 5,
    };

    #[test]
    fn a_box_on_the_level_lies_on_the_slope_by_its_pivot() {
        let level = Solid::cuboid([0, 1_000, 2_000], [70, 500, 50]);
        let tilted = SLOPE.tilted(&level).expect("a box");
        assert_eq!(tilted.bounds()[0], [0, 70]);
        // Drawn in by 2, its lower edges are at 2 and 498 along the slope and 2 above it: y is 1000 + (4 a - 3 b) / 5, z 2000 + (3 a + 4 b) / 5.
        let corners = tilted.corners();
        let at = |a: i64, b: i64| {
            let nearest = |of: i64| (2 * of + 5).div_euclid(10);
            [
                1_000 + nearest(4 * a - 3 * b),
                2_000 + nearest(3 * a + 4 * b),
            ]
        };
        for [a, b] in [[2, 2], [498, 2], [498, 48], [2, 48]] {
            let [y, z] = at(a, b);
            assert!(corners.contains(&[0, y, z]), "{a} {b}: {corners:?}");
        }
    }

    #[test]
    fn a_mitred_board_that_lies_flat_is_no_prism_along_x() {
        let mitred = Solid::prism(2, vec![[0, 0], [900, 0], [800, 100], [100, 100]], [0, 20]);
        assert_eq!(SLOPE.tilted(&mitred), None);
    }
}
