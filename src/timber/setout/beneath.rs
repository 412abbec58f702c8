//! The faces that a set-out stands on, as they were found.

use crate::space::{Point, Pose, Tilt};

/// A rectangle on which a set-out can stand: its lower left corner, its directions to the right, up and out, and its size.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Rectangle {
    /// Corner and directions.
    pub pose: Pose,
    /// To the right, and up.
    pub size: [i64; 2],
}

/// The faces that a set-out stands on; none where it stands by itself.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Stands {
    /// One for each face.
    pub on: Vec<Stand>,
    /// How many of it there are: one for each face of each of the set-outs it stands on.
    pub times: u32,
    /// What its boards add to the width of the face at both its edges together, below zero where they leave room; `None` where its own
    /// field says it.
    pub past_corners: Option<i64>,
}

impl Stands {
    /// The edge of the face that is below; of one that lies, the front one.
    pub fn lower_edge(&self) -> &'static str {
        let face = self.on.first().map(|stand| stand.face);
        match face.is_some_and(|face| face.pose.axes[1][2] == 0) {
            true => "front edge",
            false => "lower edge",
        }
    }
}

/// A face that a set-out stands on.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Stand {
    /// The set-out whose face it is.
    pub row: usize,
    /// The face, in that set-out's space.
    pub face: Rectangle,
    /// How far before the left edge of the face its boards begin.
    pub before: i64,
    /// How the face slopes. It lies level at its pivot, and what stands on it is turned.
    pub tilt: Option<Tilt>,
    /// The way it is taken off, in the space of that set-out: through the side it is on, but upwards from the bottom inside.
    pub off: Point,
}
