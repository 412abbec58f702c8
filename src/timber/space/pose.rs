//! Where something is in something else's space: turned by quarter turns, and moved.

use super::solid::{Axis, Point, Solid};

/// A turn by quarter turns, and a shift. It never mirrors.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Pose {
    /// Where the origin goes.
    pub at: Point,
    /// Where one step along each axis goes.
    pub axes: [Point; 3],
}

impl Pose {
    /// Nothing is moved.
    pub const STILL: Pose = Pose {
        at: [0; 3],
        axes: [[1, 0, 0], [0, 1, 0], [0, 0, 1]],
    };

    /// Where a point goes.
    pub fn to(&self, point: Point) -> Point {
        let turned = self.turned(point);
        [0, 1, 2].map(|axis| self.at[axis] + turned[axis])
    }

    /// Where a direction goes.
    pub fn turned(&self, along: Point) -> Point {
        [0, 1, 2].map(|axis: Axis| (0..3).map(|of| along[of] * self.axes[of][axis]).sum())
    }

    /// First `other`, then this one.
    pub fn of(&self, other: &Pose) -> Pose {
        Pose {
            at: self.to(other.at),
            axes: other.axes.map(|axis| self.turned(axis)),
        }
    }

    /// A solid moved.
    pub fn moved(&self, solid: &Solid) -> Solid {
        solid.moved(|point| self.to(point))
    }
}
