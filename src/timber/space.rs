//! Solids in space: what members of a piece are made of, and which of two hides the other.
//!
//! Coordinates are whole ticks: `x` to the right along the front, `y` from the front to the back, `z` up (right-handed). Everything is
//! decided in integers, with products in 128 bits; no coordinate is greater than [`FARTHEST`], its sign left aside.

mod apart;
mod order;
mod pose;
mod seen;
mod solid;
mod tilt;
mod view;

pub use apart::plane_between;
pub use order::{Piece, in_order};
pub use pose::Pose;
pub use seen::{Seen, seen};
pub use solid::{Axis, Face, Point, Solid, reach};
pub use tilt::Tilt;
pub use view::View;

/// The greatest coordinate. A normal made of two edges is then below 2^75, and its product with a point below 2^112.
pub const FARTHEST: i64 = 1 << 36;

/// A physical part where it goes.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Member {
    /// The row of the set-out's parts that it is one of.
    pub part: usize,
    /// Its body with its joints taken out: convex pieces that touch each other but do not overlap.
    pub body: Vec<Solid>,
}

/// The least box around solids, as least and greatest `x`, `y` and `z`; `None` where there are none.
pub fn bounds<'a>(solids: impl Iterator<Item = &'a Solid>) -> Option<[[i64; 2]; 3]> {
    let mut all = None;
    for solid in solids {
        all = Some(wider(all, solid.bounds()));
    }
    all
}

fn wider(all: Option<[[i64; 2]; 3]>, other: [[i64; 2]; 3]) -> [[i64; 2]; 3] {
    let mut wider = all.unwrap_or(other);
    for (one, other) in wider.iter_mut().zip(other) {
        *one = [one[0].min(other[0]), one[1].max(other[1])];
    }
    wider
}
