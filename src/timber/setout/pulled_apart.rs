//! A piece pulled apart, to be drawn: each set-out is taken off what it stands on until nothing hides it.
//!
//! **Idea.** An isometric drawing of a box is a hexagon between three pairs of parallel lines, and two such hexagons are apart where the lines of
//! one of the three directions are. Along each axis a box moves two of its three pairs of lines by as much as itself. So what it hides, or is
//! hidden by, is an interval of distances for each box that is placed already, and the least distance in none of them is wanted.
//!
//! **Invariant.** No two set-outs placed so far overlap in the drawing. **Why it ends:** the distance only grows, each time to the end of an
//! interval, and there are as many intervals as boxes.

use super::whole::Whole;
use crate::space::{Point, View, bounds};

/// The space between two set-outs, as a share of the longest side of the piece.
const SHARE: i64 = 16;

/// Bounds of the three numbers that are the same for all points behind each other: least and greatest.
type Hexagon = [[i64; 2]; 3];

/// How far each set-out of a piece is moved, in its order, to be drawn from this corner.
pub fn apart(whole: &Whole, view: View) -> Vec<Point> {
    let all = whole.put.iter().flat_map(|put| &put.members);
    let ends = bounds(all.flat_map(|member| &member.body)).unwrap_or_default();
    let longest = ends.map(|[from, to]| to - from).into_iter().max();
    let between = longest.unwrap_or_default() / SHARE;
    let mut shifts: Vec<Point> = Vec::new();
    let mut placed: Vec<Hexagon> = Vec::new();
    for put in &whole.put {
        let solids = put.members.iter().flat_map(|member| &member.body);
        let mut shift = put.on.map_or([0; 3], |on| shifts[on]);
        if let Some(ends) = bounds(solids) {
            let own = hexagon(ends, view);
            let moved = |by: Point| {
                let by = known(by, view);
                [0, 1, 2].map(|nth| own[nth].map(|at| at + by[nth]))
            };
            let start = moved(shift);
            let far = match put.on {
                Some(_) => distance(start, known(put.off, view), &placed, between),
                None => 0,
            };
            for (axis, at) in shift.iter_mut().enumerate() {
                *at += far * put.off[axis];
            }
            placed.push(moved(shift));
        }
        shifts.push(shift);
    }
    shifts
}

/// Three numbers that are the same for all points behind each other, of which any two give the third.
fn known([x, y, z]: Point, view: View) -> [i64; 3] {
    let [right, back, _] = view.towards();
    [x - right * z, y - back * z, back * x - right * y]
}

fn hexagon(ends: [[i64; 2]; 3], view: View) -> Hexagon {
    let mut hexagon = [[i64::MAX, i64::MIN]; 3];
    for corner in 0..8 {
        let point = [0, 1, 2].map(|axis: usize| ends[axis][corner >> axis & 1]);
        for (bounds, at) in hexagon.iter_mut().zip(known(point, view)) {
            *bounds = [bounds[0].min(at), bounds[1].max(at)];
        }
    }
    hexagon
}

/// The least distance along `by` at which a hexagon is at least `between` away from all others, by the lines of one direction.
fn distance(start: Hexagon, by: [i64; 3], placed: &[Hexagon], between: i64) -> i64 {
    // Where it overlaps each of them: distances above the first and below the second.
    let overlap = |other: &Hexagon| {
        let mut within = [i64::MIN, i64::MAX];
        for nth in 0..3 {
            let ([from, to], [low, high]) = (start[nth], other[nth]);
            let (low, high) = (low - between - to, high + between - from);
            let [low, high] = match by[nth] {
                0 if low < 0 && 0 < high => continue,
                0 => return None,
                step if step > 0 => [low, high],
                _ => [-high, -low],
            };
            within = [within[0].max(low), within[1].min(high)];
        }
        Some(within).filter(|[from, to]| from < to)
    };
    let intervals: Vec<[i64; 2]> = placed.iter().filter_map(overlap).collect();
    let mut far = 0;
    while let Some([_, to]) = intervals.iter().find(|[from, to]| *from < far && far < *to) {
        far = *to;
    }
    far
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_cube_is_lifted_until_its_lowest_corner_is_above_the_highest_of_the_one_below() {
        let view = View::FrontLeft;
        let below = hexagon([[0, 10], [0, 10], [0, 10]], view);
        let above = hexagon([[0, 10], [0, 10], [10, 20]], view);
        let far = distance(above, known([0, 0, 1], view), &[below], 0);
        assert_eq!(far, 10);
        // Its lowest corner ends where the highest corner of the other is drawn.
        assert_eq!(view.drawn([0, 0, 20]), view.drawn([10, 10, 10]));
    }

    #[test]
    fn what_is_placed_already_is_passed_over_and_what_lies_elsewhere_is_not_minded() {
        let view = View::FrontRight;
        let cube = |at: Point| hexagon(at.map(|at| [at, at + 10]), view);
        let up = known([0, 0, 1], view);
        let far = |placed: &[Hexagon], between| distance(cube([0, 0, 0]), up, placed, between);
        assert_eq!(far(&[], 3), 0);
        assert_eq!(far(&[cube([0, 0, 0])], 0), 20);
        assert_eq!(far(&[cube([0, 0, 0])], 3), 23);
        // Two that stand one behind the other in the way.
        assert_eq!(far(&[cube([0, 0, 0]), cube([0, 0, 30])], 0), 50);
        // Beside it, as far as both are seen.
        assert_eq!(far(&[cube([40, 0, 0])], 0), 0);
    }
}
