//! The inverse of the basis, kept whole.
//!
//! **Idea** (Dantzig and Orchard-Hays 1954, here with the product multiplied out). A pivot changes one column of the basis, and the inverse
//! follows by subtracting multiples of one row from the others. A row joined to the program borders the basis, and the inverse follows by one
//! row. After many pivots it is inverted afresh by the method of Gauss and Jordan with row exchanges.
//!
//! **Invariant.** Row `p` of the inverse belongs to position `p` of the basis, column `r` to row `r` of the program; an activity's own column
//! is -1 in its row. **Why it ends:** one pass over the rows for each pivot, one pivot a row for inverting.

use crate::clock::{Clock, Stopped};
use crate::limits::SINGULAR;

/// The inverse of a basis.
#[derive(Clone, Debug, Default)]
pub(crate) struct Inverse {
    rows: usize,
    /// `entries[position * rows + row]`.
    entries: Vec<f64>,
}

impl Inverse {
    /// Makes it the inverse of the basis of all row activities.
    pub(crate) fn reset(&mut self, rows: usize) {
        self.rows = rows;
        self.entries.clear();
        self.entries.resize(rows * rows, 0.0);
        for row in 0..rows {
            self.entries[row * rows + row] = -1.0;
        }
    }

    /// The row that belongs to a position of the basis.
    #[inline]
    pub(crate) fn row(&self, position: usize) -> &[f64] {
        &self.entries[position * self.rows..(position + 1) * self.rows]
    }

    /// Makes room for another row, whose activity is to be basic at the last position; [`Inverse::border`] must follow.
    pub(crate) fn widen(&mut self) {
        let row = self.rows;
        let wide = row + 1;
        let entries = &mut self.entries;
        entries.reserve_exact(wide * wide - entries.len());
        entries.resize(wide * wide, 0.0);
        for position in (0..row).rev() {
            entries.copy_within(position * row..(position + 1) * row, position * wide);
            entries[position * wide + row] = 0.0;
        }
        entries[row * wide..].fill(0.0);
        self.rows = wide;
    }

    /// The inverse where the activity of `row` is basic at `position`. With the other rows' basis `B` and this row's entries `a` in it, the
    /// basis is `B` bordered by `a` and -1, and its inverse is the inverse of `B` bordered by `a` times that inverse and -1. `basic` are the
    /// entries `a`: (position, entry).
    pub(crate) fn border(&mut self, row: usize, position: usize, basic: &[(usize, f64)]) {
        let mut bordered = vec![0.0; self.rows];
        for &(other, entry) in basic {
            for (target, from) in bordered.iter_mut().zip(self.row(other)) {
                *target += entry * from;
            }
        }
        bordered[row] = -1.0;
        let start = position * self.rows;
        self.entries[start..start + self.rows].copy_from_slice(&bordered);
    }

    /// The inverse times the column of a row's activity.
    pub(crate) fn times_activity(&self, row: usize) -> Vec<f64> {
        (0..self.rows)
            .map(|position| -self.entries[position * self.rows + row])
            .collect()
    }

    /// The inverse times a column, which is told by its entries: (row, entry).
    pub(crate) fn times(&self, column: &[(u32, f64)]) -> Vec<f64> {
        (0..self.rows)
            .map(|position| {
                let row = self.row(position);
                let products = column.iter();
                products
                    .map(|&(index, entry)| entry * row[index as usize])
                    .sum()
            })
            .collect()
    }

    /// The inverse after a variable entered at a position; `column` is the inverse times its column. Returns the row that belongs to it.
    pub(crate) fn pivot(&mut self, leaving: usize, column: &[f64]) -> Vec<f64> {
        let rows = self.rows;
        let slope = column[leaving];
        let pivot_row: Vec<f64> = self
            .row(leaving)
            .iter()
            .map(|entry| entry / slope)
            .collect();
        for (position, &factor) in column.iter().enumerate() {
            let target = &mut self.entries[position * rows..(position + 1) * rows];
            if position == leaving {
                target.copy_from_slice(&pivot_row);
            } else if factor != 0.0 {
                for (entry, pivot) in target.iter_mut().zip(&pivot_row) {
                    *entry -= factor * pivot;
                }
            }
        }
        pivot_row
    }

    /// Inverts a basis whose entries `write` puts in place: `matrix[row * rows + position]`. False where it is singular; what is left then, or where
    /// time is up, is in pieces. The basis takes the place of its inverse, for with thousands of rows a second matrix is much memory.
    pub(crate) fn invert(
        &mut self,
        write: impl FnOnce(&mut [f64]),
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        self.entries.fill(0.0);
        write(&mut self.entries);
        invert(&mut self.entries, self.rows, clock)
    }
}

/// Gauss and Jordan with row exchanges, in place: a column that is done with makes room for the column of the inverse that begins there.
fn invert(matrix: &mut [f64], size: usize, clock: &mut Clock) -> Result<bool, Stopped> {
    let mut exchanged = Vec::new();
    let mut pivot_row = vec![0.0; size];
    for step in 0..size {
        let largest = (step..size)
            .map(|row| (row, matrix[row * size + step].abs()))
            .max_by(|left, right| left.1.total_cmp(&right.1));
        let Some((pivot, _)) = largest.filter(|&(_, largest)| largest >= SINGULAR) else {
            return Ok(false);
        };
        if pivot != step {
            for column in 0..size {
                matrix.swap(pivot * size + column, step * size + column);
            }
            exchanged.push((step, pivot));
        }
        let target = &mut matrix[step * size..(step + 1) * size];
        let scale = 1.0 / target[step];
        target[step] = 1.0;
        for (entry, kept) in target.iter_mut().zip(&mut pivot_row) {
            *entry *= scale;
            *kept = *entry;
        }
        let mut work = size;
        for row in (0..size).filter(|&row| row != step) {
            let target = &mut matrix[row * size..(row + 1) * size];
            let factor = std::mem::take(&mut target[step]);
            if factor != 0.0 {
                for (entry, from) in target.iter_mut().zip(&pivot_row) {
                    *entry -= factor * from;
                }
                work += size / 4;
            }
        }
        clock.worked(work)?;
    }
    // Rows of the matrix that were exchanged are columns of the inverse.
    for &(one, other) in exchanged.iter().rev() {
        for row in matrix.chunks_mut(size) {
            row.swap(one, other);
        }
    }
    Ok(true)
}
