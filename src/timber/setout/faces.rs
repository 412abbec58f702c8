//! The faces of a set-out by name, and how other set-outs stand on them.
//!
//! A face is a rectangle that is looked at from the side where something can stand: one direction runs to the right, one up (of a face that
//! lies, from the front to the back), and the third, to the right of both as a screw turns, comes out of it. The outside faces are those of
//! the least box around the members, the inside faces those of the room within a frame or a box.

use super::beneath::Rectangle;
use super::finish::SetOut;
use super::kinds::Kind;
use super::worked::Slope;
use crate::length::Length;
use crate::lower::lower;
use crate::space::{Axis, Point, Pose};

/// A face by name.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Name {
    /// Its place in [`SIDES`].
    pub side: usize,
    /// Whether it is one of the inside.
    pub inside: bool,
}

/// The sides; opposite ones lie next to each other.
pub const SIDES: [&str; 6] = ["front", "back", "left", "right", "bottom", "top"];

/// The lower and the upper side in [`SIDES`].
const BOTTOM: usize = 4;
const TOP: usize = 5;

/// To the right, up and out of each side from outside: the axis, and whether the direction is that of the axis.
const DIRECTIONS: [[(Axis, bool); 3]; 6] = [
    [(0, true), (2, true), (1, false)],
    [(0, false), (2, true), (1, true)],
    [(1, false), (2, true), (0, false)],
    [(1, true), (2, true), (0, true)],
    [(0, false), (1, true), (2, false)],
    [(0, true), (1, true), (2, true)],
];

/// Where a set-out is, as least and greatest `x`, `y` and `z`.
pub type Ends = [[i64; 2]; 3];

impl Name {
    /// The face of this name.
    pub fn read(text: &str) -> Option<Name> {
        let text = lower(text);
        let (inside, side) = match text.strip_prefix("inside ") {
            Some(side) => (true, side.trim()),
            None => (false, text.as_str()),
        };
        let side = SIDES.iter().position(|word| *word == side)?;
        Some(Name { side, inside })
    }

    /// Its rectangle, where `ends` are those of the outside or of the room inside. From inside, a side looks as the opposite one does from
    /// outside.
    pub fn rectangle(self, ends: Ends) -> Rectangle {
        let looks = match self.inside {
            true => self.side ^ 1,
            false => self.side,
        };
        let directions = DIRECTIONS[looks];
        let mut at = [0; 3];
        for (index, (axis, with)) in directions.into_iter().enumerate() {
            // It begins at the near end of the directions within it, and lies at the far end of the one out of the body.
            let far = with == (index == 2 && !self.inside);
            at[axis] = ends[axis][usize::from(far)];
        }
        let axes = directions.map(|(axis, with)| {
            let mut step = [0; 3];
            step[axis] = if with { 1 } else { -1 };
            step
        });
        let size = [0, 1].map(|index: usize| {
            let [from, to] = ends[directions[index].0];
            to - from
        });
        Rectangle {
            pose: Pose { at, axes },
            size,
        }
    }

    /// The way in which what stands on it is taken off: through the side it is on, but upwards from the bottom inside.
    pub fn way_off(self, rectangle: &Rectangle) -> Point {
        let out = rectangle.pose.axes[2];
        match self.inside && self.side != BOTTOM {
            true => out.map(|step| -step),
            false => out,
        }
    }

    /// Whether it is the upper side from outside.
    pub fn is_top(self) -> bool {
        self.side == TOP && !self.inside
    }

    /// The sides at its left and right edge, for one of the four that stand.
    pub fn neighbours(self) -> Option<[usize; 2]> {
        let sides = match self.side {
            0 => [2, 3],
            1 => [3, 2],
            2 => [1, 0],
            3 => [0, 1],
            _ => return None,
        };
        Some(match self.inside {
            true => [sides[1], sides[0]],
            false => sides,
        })
    }
}

/// The upper side of a set-out whose top slopes, from the left to the right edge of its outside.
pub fn sloping(slope: &Slope, [[left, right], _, _]: Ends) -> Rectangle {
    let [y, z] = slope.tilt.pivot;
    Rectangle {
        pose: Pose {
            at: [left, y, z],
            ..Pose::STILL
        },
        size: [right - left, slope.long.ticks()],
    }
}

/// The room inside a frame or a box with these outside ends.
pub fn room(kind: Kind, set_out: &SetOut, outside: Ends) -> Option<Ends> {
    let ticks = |name: &str| set_out.length(name).map(Length::ticks);
    let within = |[from, to]: [i64; 2], edge: i64| [from + edge, to - edge];
    let [x, y, z] = outside;
    Some(match kind {
        Kind::Frame => [within(x, ticks("member")?), y, within(z, ticks("member")?)],
        Kind::TopFrame => [within(x, ticks("member")?), within(y, ticks("member")?), z],
        Kind::Posts => {
            let edge = |[from, to]: [i64; 2], inside| {
                let edge = (to - from - inside) / 2;
                [from + edge, to - edge]
            };
            let inside = ["inside width", "inside depth"].map(ticks);
            [edge(x, inside[0]?), edge(y, inside[1]?), z]
        }
        Kind::Box => {
            let deep = ticks("panel depth")?;
            // An open front has no panel.
            let back = y[1] - deep;
            [within(x, deep), [back - ticks("inside depth")?, back], z]
        }
        _ => return None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_face_looks_out_of_its_body_or_into_its_room_and_is_no_mirror() {
        let ends = [[10, 110], [20, 60], [0, 30]];
        for (side, called) in SIDES.into_iter().enumerate() {
            for inside in [false, true] {
                let face = Name { side, inside }.rectangle(ends);
                let [u, v, out] = face.pose.axes;
                let cross = [
                    u[1] * v[2] - u[2] * v[1],
                    u[2] * v[0] - u[0] * v[2],
                    u[0] * v[1] - u[1] * v[0],
                ];
                assert_eq!(cross, out, "{called} {inside}");
                // The opposite corner of the face is on the box too, and a step out leaves or enters it.
                let within = |point: [i64; 3]| {
                    (0..3).all(|axis| (ends[axis][0]..=ends[axis][1]).contains(&point[axis]))
                };
                assert!(within(face.pose.to([0, 0, 0])));
                assert!(within(face.pose.to([face.size[0], face.size[1], 0])));
                let middle = [face.size[0] / 2, face.size[1] / 2];
                assert_eq!(within(face.pose.to([middle[0], middle[1], 1])), inside);
            }
        }
    }

    #[test]
    fn the_left_face_runs_from_the_back_to_the_front() {
        let ends = [[0, 1_410], [0, 800], [0, 1_180]];
        let left = Name::read("Left").expect("a side").rectangle(ends);
        assert_eq!((left.pose.at, left.size), ([0, 800, 0], [800, 1_180]));
        assert_eq!(left.pose.to([800, 0, 0]), [0, 0, 0]);
        let inside = Name::read("inside left").expect("a side").rectangle(ends);
        assert_eq!(inside.pose.at, [0, 0, 0]);
    }
}
