//! The directions from which a piece is drawn: isometric from its four corners, and the views of a technical drawing.
//!
//! The isometric drawing follows ISO 5456-3: one axis is upright, two lie at 30 degrees, and all have one scale. Its direction towards the
//! viewer is (1, 1, 1) but for signs, so what hides what is decided in whole numbers. Only where a point is drawn has a root in it.

use super::solid::Point;

/// A direction from which a piece is drawn.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum View {
    /// Isometric, from above the corner of front and left side.
    FrontLeft,
    /// Isometric, from above the corner of front and right side.
    FrontRight,
    /// Isometric, from above the corner of back and right side.
    BackRight,
    /// Isometric, from above the corner of back and left side.
    BackLeft,
    /// From the front.
    Front,
    /// From behind.
    Back,
    /// From the left.
    Left,
    /// From above.
    Above,
}

/// The cosine of 30 degrees in thousand millionths.
const COSINE: i128 = 866_025_404;

impl View {
    /// The four corners, in the order in which one walks around the piece.
    pub const CORNERS: [View; 4] = [
        View::FrontLeft,
        View::FrontRight,
        View::BackRight,
        View::BackLeft,
    ];

    /// Every view.
    pub const ALL: [View; 8] = [
        View::FrontLeft,
        View::FrontRight,
        View::BackRight,
        View::BackLeft,
        View::Front,
        View::Back,
        View::Left,
        View::Above,
    ];

    /// The direction towards the viewer.
    pub fn towards(self) -> Point {
        match self {
            View::FrontLeft => [-1, -1, 1],
            View::FrontRight => [1, -1, 1],
            View::BackRight => [1, 1, 1],
            View::BackLeft => [-1, 1, 1],
            View::Front => [0, -1, 0],
            View::Back => [0, 1, 0],
            View::Left => [-1, 0, 0],
            View::Above => [0, 0, 1],
        }
    }

    /// Two coordinates that are the same for points of which one hides the other, and for no others.
    pub fn flat(self, [x, y, z]: Point) -> [i64; 2] {
        match self {
            View::Front | View::Back => [x, z],
            View::Left => [y, z],
            _ => {
                let [right, back, _] = self.towards();
                [x - right * z, y - back * z]
            }
        }
    }

    /// Where a point is drawn, to a tick: to the right, and down.
    pub fn drawn(self, [x, y, z]: Point) -> [i64; 2] {
        match self {
            View::Front => [x, -z],
            View::Back => [-x, -z],
            // From the left the front is on the right.
            View::Left => [-y, -z],
            View::Above => [x, -y],
            _ => {
                let [right, back, _] = self.towards();
                let across = i128::from(right * y - back * x) * COSINE / 1_000_000_000;
                [across as i64, (right * x + back * y) / 2 - z]
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_box_takes_the_place_that_its_isometric_drawing_is_known_to_take() {
        // 600 x 400 x 300: 866.0 wide and 800.0 high, (a + b) cos 30 by (a + b) / 2 + c.
        for view in View::CORNERS {
            let corners =
                (0..8).map(|at: i64| [(at & 1) * 6_000, (at >> 1 & 1) * 4_000, (at >> 2) * 3_000]);
            let drawn: Vec<[i64; 2]> = corners.map(|corner| view.drawn(corner)).collect();
            let extent = |side: usize| {
                let along = drawn.iter().map(|point| point[side]);
                along.clone().max().expect("corners") - along.min().expect("corners")
            };
            assert_eq!([extent(0), extent(1)], [8_660, 8_000], "{view:?}");
        }
    }

    #[test]
    fn points_that_hide_each_other_are_drawn_in_one_place() {
        for view in View::ALL {
            let towards = view.towards();
            for point in [[0, 0, 0], [10, 4, 2], [-8, 6, 14]] {
                let nearer = [0, 1, 2].map(|axis| point[axis] + 20 * towards[axis]);
                assert_eq!(view.flat(point), view.flat(nearer), "{view:?}");
                assert_eq!(view.drawn(point), view.drawn(nearer), "{view:?}");
            }
        }
    }

    #[test]
    fn right_and_left_are_those_of_who_looks() {
        // From the front left corner the front runs up to the right, and the left side up to the left.
        let at = |view: View, point| view.drawn(point);
        assert_eq!(at(View::FrontLeft, [2_000, 0, 0]), [1_732, -1_000]);
        assert_eq!(at(View::FrontLeft, [0, 2_000, 0]), [-1_732, -1_000]);
        assert_eq!(at(View::BackRight, [-2_000, 0, 0]), [1_732, -1_000]);
        assert_eq!(at(View::FrontRight, [0, 2_000, 0]), [1_732, -1_000]);
        assert_eq!(at(View::BackLeft, [0, -2_000, 0]), [1_732, -1_000]);
    }
}
