//! Where something is in something else's space: turned by quarter turns, and moved.

use super::solid::{Point, Solid};

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
        let [x, y, z] = self.turned(point);
        [self.at[0] + x, self.at[1] + y, self.at[2] + z]
    }

    /// Where a direction goes.
    pub fn turned(&self, along: Point) -> Point {
        let mut turned = [0; 3];
        for (along, axes) in along.into_iter().zip(self.axes) {
            for (turned, part) in turned.iter_mut().zip(axes) {
                *turned += along * part;
            }
        }
        turned
    }

    /// First `other`, then this one.
    pub fn of(&self, other: &Pose) -> Pose {
        Pose {
            at: self.to(other.at),
            axes: [
                self.turned(other.axes[0]),
                self.turned(other.axes[1]),
                self.turned(other.axes[2]),
            ],
        }
    }

    /// A solid moved.
    pub fn moved(&self, solid: &Solid) -> Solid {
        solid.moved(|point| self.to(point))
    }
}
