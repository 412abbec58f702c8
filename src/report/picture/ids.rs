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
        }
    }

    /// Fills the cells whose middles are in a convex outline.
    pub(super) fn fill(&mut self, corners: &[[i64; 2]], face: usize) {
        for row in 0..self.high {
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
            for column in cell(from).max(0)..cell(to).min(self.wide) {
                self.cells[(row * self.wide + column) as usize] = face;
            }
        }
    }

    /// The middle of a place of this size that one face fills with as much room around it as there is, where `may` allows the face; the face,
    /// and the place.
    pub(super) fn place(
        &self,
        size: [i64; 2],
        may: &dyn Fn(usize) -> bool,
    ) -> Option<(usize, [i64; 2])> {
        let [wide, high] = [size[0] / CELL + 1, size[1] / CELL + 1];
        for room in [6, 3, 1, 0] {
            let found = self.fit([wide + 2 * room, high + 2 * room], may);
            if found.is_some() {
                return found;
            }
        }
        None
    }

    /// A cell in the middle of what is seen of the face that most is seen of, where `may` allows it.
    pub(super) fn middle(&self, may: &dyn Fn(usize) -> bool) -> Option<[i64; 2]> {
        let mut counts: Vec<(usize, usize)> = Vec::new();
        for &face in &self.cells {
            if face == NONE || !may(face) {
                continue;
            }
            match counts.iter_mut().find(|(of, _)| *of == face) {
                Some((_, count)) => *count += 1,
                None => counts.push((face, 1)),
            }
        }
        let &(face, count) = counts.iter().max_by_key(|(face, count)| (*count, *face))?;
        let mut cells = (0..self.cells.len()).filter(|&cell| self.cells[cell] == face);
        let row = cells.nth(count / 2)? as i64 / self.wide;
        // The middle of the longest stretch of that row.
        let line = &self.cells[(row * self.wide) as usize..((row + 1) * self.wide) as usize];
        let (mut best, mut from) = ([0, 0], 0);
        for (column, &cell) in line.iter().enumerate() {
            if cell != face {
                from = column + 1;
            } else if column + 1 - from > best[1] - best[0] {
                best = [from, column + 1];
            }
        }
        let x = self.corner[0] + (best[0] + best[1]) as i64 * CELL / 2;
        Some([x, self.corner[1] + row * CELL + CELL / 2])
    }

    fn fit(&self, size: [i64; 2], may: &dyn Fn(usize) -> bool) -> Option<(usize, [i64; 2])> {
        let [wide, high] = size;
        for row in 0..=self.high - high {
            for column in 0..=self.wide - wide {
                let face = self.cells[(row * self.wide + column) as usize];
                if face == NONE || !may(face) || !self.is_all([column, row], size, face) {
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
                return Some((face, [x, y]));
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
        ids.fill(&[[0, 0], [10_000, 0], [10_000, 4_000], [0, 4_000]], 1);
        // The right half of it is hidden.
        ids.fill(
            &[[5_000, 0], [10_000, 0], [10_000, 10_000], [5_000, 10_000]],
            2,
        );
        let [x, y] = ids.place([800, 1_200], &|face| face == 1).expect("room").1;
        assert!(
            (x - 2_500).abs() <= CELL && (y - 2_000).abs() <= CELL,
            "{x} {y}"
        );
        let [x, y] = ids.middle(&|face| face == 1).expect("it is seen");
        assert!(
            (x - 2_500).abs() <= CELL && (y - 2_000).abs() <= CELL,
            "{x} {y}"
        );
        assert_eq!(ids.place([5_400, 1_200], &|face| face == 1), None);
        assert_eq!(ids.place([800, 1_200], &|face| face == 3), None);
    }
}
