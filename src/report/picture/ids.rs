//! Which face is seen where: a coarse raster of a drawing, filled in the order of drawing, from which the places of letters follow.
//!
//! It decides where a letter stands and nothing else; what hides what is decided exactly before (`space`).

/// Width and height of a cell, in hundredths of a unit.
pub(super) const CELL: i64 = 200;

/// A raster of faces.
pub(super) struct Ids {
    corner: [i64; 2],
    wide: i64,
    high: i64,
    cells: Vec<usize>,
    /// For each face the columns and rows that it lies in.
    faces: Vec<[[i64; 2]; 2]>,
    /// In how many cells each is seen.
    seen: Vec<i64>,
}

/// A cell with no face.
const NONE: usize = usize::MAX;

impl Ids {
    /// An empty raster, by its top left corner and its size.
    pub(super) fn new(corner: [i64; 2], size: [i64; 2]) -> Ids {
        let [wide, high] = [(size[0] / CELL).max(1), (size[1] / CELL).max(1)];
        Ids {
            corner,
            wide,
            high,
            cells: vec![NONE; (wide * high) as usize],
            faces: Vec::new(),
            seen: Vec::new(),
        }
    }

    /// Fills the cells whose middles are in a convex outline with the next face.
    pub(super) fn fill(&mut self, corners: &[[i64; 2]]) {
        let (mut top, mut bottom) = (i64::MAX, i64::MIN);
        for corner in corners {
            top = top.min((corner[1] - self.corner[1]) / CELL - 1);
            bottom = bottom.max((corner[1] - self.corner[1]) / CELL + 2);
        }
        let rows = [top.max(0), bottom.min(self.high)];
        let (face, mut seen, mut columns) = (self.faces.len(), 0, [self.wide, 0]);
        for row in rows[0]..rows[1] {
            let y = self.corner[1] + row * CELL + CELL / 2;
            let (mut from, mut to) = (i64::MAX, i64::MIN);
            for (at, one) in corners.iter().enumerate() {
                let next = corners[(at + 1) % corners.len()];
                if (one[1] <= y) != (next[1] <= y) {
                    let x = one[0] + (next[0] - one[0]) * (y - one[1]) / (next[1] - one[1]);
                    (from, to) = (from.min(x), to.max(x));
                }
            }
            if from > to {
                continue;
            }
            let cell = |x: i64| (x - self.corner[0] + CELL / 2).div_euclid(CELL);
            let (from, to) = (cell(from).max(0), cell(to).min(self.wide));
            columns = [columns[0].min(from), columns[1].max(to)];
            for column in from..to {
                let cell = &mut self.cells[(row * self.wide + column) as usize];
                if let Some(hidden) = self.seen.get_mut(*cell) {
                    *hidden -= 1;
                }
                *cell = face;
                seen += 1;
            }
        }
        self.seen.push(seen);
        self.faces.push([columns, rows]);
    }

    /// The middle of a place of this size that one of the faces fills with as much room around it as there is; the face, and the place.
    pub(super) fn place(&self, size: [i64; 2], faces: &[usize]) -> Option<(usize, [i64; 2])> {
        let [wide, high] = [size[0] / CELL + 1, size[1] / CELL + 1];
        for room in [6, 3, 1, 0] {
            for &face in faces {
                let found = self.fit([wide + 2 * room, high + 2 * room], face);
                if let Some(place) = found {
                    return Some((face, place));
                }
            }
        }
        None
    }

    /// A cell in the middle of what is seen of the one of these faces that most is seen of.
    pub(super) fn middle(&self, faces: &[usize]) -> Option<[i64; 2]> {
        let mut most: Vec<[i64; 2]> = Vec::new();
        for &face in faces {
            let [columns, rows] = self.faces[face];
            if self.seen[face] <= most.len() as i64 {
                continue;
            }
            let mut cells = Vec::new();
            for row in rows[0]..rows[1] {
                for column in columns[0]..columns[1] {
                    if self.at(column, row) == face {
                        cells.push([column, row]);
                    }
                }
            }
            most = cells;
        }
        let [column, row] = *most.get(most.len() / 2)?;
        let face = self.at(column, row);
        // The middle of the longest stretch of that row.
        let (mut best, mut from) = ([0, 0], 0);
        for column in 0..self.wide {
            if self.at(column, row) != face {
                from = column + 1;
            } else if column + 1 - from > best[1] - best[0] {
                best = [from, column + 1];
            }
        }
        let x = self.corner[0] + (best[0] + best[1]) * CELL / 2;
        Some([x, self.corner[1] + row * CELL + CELL / 2])
    }

    fn at(&self, column: i64, row: i64) -> usize {
        self.cells[(row * self.wide + column) as usize]
    }

    fn fit(&self, size: [i64; 2], face: usize) -> Option<[i64; 2]> {
        let [wide, high] = size;
        let [columns, rows] = self.faces[face];
        if self.seen[face] < wide * high {
            return None;
        }
        for row in rows[0]..=rows[1] - high {
            for column in columns[0]..=columns[1] - wide {
                if self.at(column, row) != face || !self.is_all([column, row], size, face) {
                    continue;
                }
                // To the middle of the room that is left to the right, then of what is left downwards.
                let mut right = column;
                while right < self.wide - wide && self.is_all([right + 1, row], size, face) {
                    right += 1;
                }
                let column = (column + right) / 2;
                let mut down = row;
                while down < self.high - high && self.is_all([column, down + 1], size, face) {
                    down += 1;
                }
                let [x, y] = self.corner;
                let x = x + (2 * column + wide) * CELL / 2;
                let y = y + (2 * ((row + down) / 2) + high) * CELL / 2;
                return Some([x, y]);
            }
        }
        None
    }

    fn is_all(&self, [column, row]: [i64; 2], [wide, high]: [i64; 2], face: usize) -> bool {
        let line = |row: i64| {
            let from = (row * self.wide + column) as usize;
            self.cells[from..from + wide as usize]
                .iter()
                .all(|&cell| cell == face)
        };
        line(row) && line(row + high - 1) && (row..row + high).all(line)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_letter_stands_in_the_middle_of_what_is_left_of_a_face() {
        let mut ids = Ids::new([0, 0], [10_000, 10_000]);
        ids.fill(&[[0, 0], [10_000, 0], [10_000, 4_000], [0, 4_000]]);
        // The right half of it is hidden.
        ids.fill(&[[5_000, 0], [10_000, 0], [10_000, 10_000], [5_000, 10_000]]);
        let [x, y] = ids.place([800, 1_200], &[0]).expect("room").1;
        assert!(
            (x - 2_500).abs() <= CELL && (y - 2_000).abs() <= CELL,
            "{x} {y}"
        );
        let [x, y] = ids.middle(&[0]).expect("it is seen");
        assert!(
            (x - 2_500).abs() <= CELL && (y - 2_000).abs() <= CELL,
            "{x} {y}"
        );
        assert_eq!(ids.place([5_400, 1_200], &[0]), None);
        assert_eq!(ids.place([800, 1_200], &[]), None);
    }
}
