//! The basis as a product of sparse factors.
//!
//! **Idea.** Gauss's elimination with pivots after Markowitz (1957): of the entries that are not too small in their column one with few others in its
//! row and column is taken, so that little fills in. A basis of cutting patterns is nearly triangular, and most pivots are alone in their row or
//! column. A pivot of the method multiplies the basis by a matrix that differs from the unit matrix in one column (the product form, Dantzig and
//! Orchard-Hays 1954); those are kept in order, and the basis is factored afresh once there are many.
//!
//! **Invariant.** The basis is `L` times `U` times the updates in order: position `p` of the basis is column `p` of that product, and an activity's own
//! column is -1 in its row. **Why it ends:** one pivot a row for factoring, one pass over all entries for solving.

use crate::clock::{Clock, Stopped};
use crate::limits::{PIVOT_SHARE, PIVOTS_BEFORE_FACTORING, SINGULAR};

/// Lists of entries behind each other.
#[derive(Clone, Debug, Default)]
struct Lists {
    ends: Vec<usize>,
    entries: Vec<(u32, f64)>,
}

impl Lists {
    fn clear(&mut self) {
        self.ends.clear();
        self.entries.clear();
    }

    fn end_list(&mut self) {
        self.ends.push(self.entries.len());
    }

    fn list(&self, at: usize) -> &[(u32, f64)] {
        let start = if at == 0 { 0 } else { self.ends[at - 1] };
        &self.entries[start..self.ends[at]]
    }
}

/// A basis, factored.
#[derive(Clone, Debug, Default)]
pub(crate) struct Factors {
    rows: usize,
    /// Row, position and entry of each pivot, in order.
    pivots: Vec<(u32, u32, f64)>,
    /// For each pivot the rows below it, with what of its row they lose.
    lower: Lists,
    /// For each pivot the rest of its row: (position, entry).
    upper_rows: Lists,
    /// For each pivot the rest of its position's column: (row, entry).
    upper_columns: Lists,
    /// The updates: the position, and its entry.
    updated: Vec<(u32, f64)>,
    /// For each update its other entries: (position, entry).
    updates: Lists,
}

impl Factors {
    /// Makes them those of the basis of all row activities.
    pub(crate) fn reset(&mut self, rows: usize) {
        self.clear(rows);
        for row in 0..rows {
            self.pivots.push((row as u32, row as u32, -1.0));
            self.lower.end_list();
            self.upper_rows.end_list();
            self.upper_columns.end_list();
        }
    }

    fn clear(&mut self, rows: usize) {
        self.rows = rows;
        self.pivots.clear();
        self.updated.clear();
        for lists in [
            &mut self.lower,
            &mut self.upper_rows,
            &mut self.upper_columns,
            &mut self.updates,
        ] {
            lists.clear();
        }
    }

    /// Entries that a solve goes through.
    pub(crate) fn entries(&self) -> usize {
        self.rows
            + self.lower.entries.len()
            + self.upper_rows.entries.len()
            + self.updates.entries.len()
    }

    /// The inverse times a column, which is given by row and returned by position.
    pub(crate) fn solve(&self, mut column: Vec<f64>) -> Vec<f64> {
        for (at, &(row, _, _)) in self.pivots.iter().enumerate() {
            let times = column[row as usize];
            if times != 0.0 {
                for &(other, share) in self.lower.list(at) {
                    column[other as usize] -= share * times;
                }
            }
        }
        let mut solution = vec![0.0; self.rows];
        for (at, &(row, position, pivot)) in self.pivots.iter().enumerate().rev() {
            let value = column[row as usize];
            if value != 0.0 {
                let value = value / pivot;
                solution[position as usize] = value;
                for &(other, entry) in self.upper_columns.list(at) {
                    column[other as usize] -= entry * value;
                }
            }
        }
        for (at, &(position, pivot)) in self.updated.iter().enumerate() {
            let value = solution[position as usize];
            if value != 0.0 {
                let value = value / pivot;
                solution[position as usize] = value;
                for &(other, entry) in self.updates.list(at) {
                    solution[other as usize] -= entry * value;
                }
            }
        }
        solution
    }

    /// A row, which is given by position, times the inverse; by row of the program.
    pub(crate) fn solve_row(&self, mut row: Vec<f64>) -> Vec<f64> {
        for (at, &(position, pivot)) in self.updated.iter().enumerate().rev() {
            let mut value = row[position as usize];
            for &(other, entry) in self.updates.list(at) {
                value -= entry * row[other as usize];
            }
            row[position as usize] = value / pivot;
        }
        let mut solution = vec![0.0; self.rows];
        for (at, &(index, position, pivot)) in self.pivots.iter().enumerate() {
            let value = row[position as usize];
            if value != 0.0 {
                let value = value / pivot;
                solution[index as usize] = value;
                for &(other, entry) in self.upper_rows.list(at) {
                    row[other as usize] -= entry * value;
                }
            }
        }
        for (at, &(index, _, _)) in self.pivots.iter().enumerate().rev() {
            let below = self.lower.list(at);
            if !below.is_empty() {
                let mut value = solution[index as usize];
                for &(other, share) in below {
                    value -= share * solution[other as usize];
                }
                solution[index as usize] = value;
            }
        }
        solution
    }

    /// The row of the inverse that belongs to a position.
    pub(crate) fn row(&self, position: usize) -> Vec<f64> {
        let mut unit = vec![0.0; self.rows];
        unit[position] = 1.0;
        self.solve_row(unit)
    }

    /// Follows the basis after a variable entered at a position; `column` is the inverse times its column.
    pub(crate) fn update(&mut self, leaving: usize, column: &[f64]) {
        self.updated.push((leaving as u32, column[leaving]));
        for (position, &entry) in column.iter().enumerate() {
            if entry != 0.0 && position != leaving {
                self.updates.entries.push((position as u32, entry));
            }
        }
        self.updates.end_list();
    }

    /// Whether there are many updates.
    pub(crate) fn are_worn(&self) -> bool {
        self.updated.len() >= PIVOTS_BEFORE_FACTORING
    }

    /// Factors a basis of these entries by position: (row, entry). False where it is singular; what is left then, or where time is up, is in pieces.
    pub(crate) fn factor(
        &mut self,
        basis: Vec<Vec<(u32, f64)>>,
        clock: &mut Clock,
    ) -> Result<bool, Stopped> {
        let rows = basis.len();
        self.clear(rows);
        let mut left = Left::new(&basis);
        let mut step_of = vec![0; rows];
        for step in 0..rows {
            let Some((row, position)) = left.next_pivot() else {
                return Ok(false);
            };
            let pivot = left.take(row, position, &mut self.lower, &mut self.upper_rows);
            if pivot.abs() < SINGULAR {
                return Ok(false);
            }
            step_of[position as usize] = step;
            self.pivots.push((row, position, pivot));
            clock
                .worked(8 + self.upper_rows.list(step).len() * (1 + self.lower.list(step).len()))?;
        }
        // The same entries by column.
        let mut counts = vec![0; rows + 1];
        for &(position, _) in &self.upper_rows.entries {
            counts[step_of[position as usize] + 1] += 1;
        }
        for at in 0..rows {
            counts[at + 1] += counts[at];
        }
        self.upper_columns.ends = counts[1..].to_vec();
        self.upper_columns.entries = vec![(0, 0.0); self.upper_rows.entries.len()];
        for (step, &(row, _, _)) in self.pivots.iter().enumerate() {
            for &(position, entry) in self.upper_rows.list(step) {
                let place = &mut counts[step_of[position as usize]];
                self.upper_columns.entries[*place] = (row, entry);
                *place += 1;
            }
        }
        Ok(true)
    }
}

/// What is not eliminated yet.
struct Left {
    /// For each row its entries: (position, entry).
    rows: Vec<Vec<(u32, f64)>>,
    /// For each position the rows with an entry there.
    columns: Vec<Vec<u32>>,
    /// Positions that have not been a pivot's.
    open_columns: Vec<u32>,
    /// Rows and positions that came to have one entry: a stack of each.
    single_rows: Vec<u32>,
    single_columns: Vec<u32>,
    /// For each position where it is in the row at work, counted from one.
    place: Vec<u32>,
}

impl Left {
    fn new(basis: &[Vec<(u32, f64)>]) -> Self {
        let mut rows: Vec<Vec<(u32, f64)>> = vec![Vec::new(); basis.len()];
        for (position, entries) in basis.iter().enumerate() {
            for &(row, entry) in entries {
                rows[row as usize].push((position as u32, entry));
            }
        }
        let columns: Vec<Vec<u32>> = basis
            .iter()
            .map(|entries| entries.iter().map(|entry| entry.0).collect())
            .collect();
        let all = 0..basis.len() as u32;
        Left {
            single_rows: all
                .clone()
                .filter(|&row| rows[row as usize].len() == 1)
                .collect(),
            single_columns: all
                .clone()
                .filter(|&at| columns[at as usize].len() == 1)
                .collect(),
            open_columns: all.collect(),
            place: vec![0; basis.len()],
            rows,
            columns,
        }
    }

    /// The row and the position of the next pivot; `None` where a row or a position has no entry left.
    fn next_pivot(&mut self) -> Option<(u32, u32)> {
        while let Some(position) = self.single_columns.pop() {
            if let [row] = self.columns[position as usize][..] {
                return Some((row, position));
            }
        }
        while let Some(row) = self.single_rows.pop() {
            if let [(position, entry)] = self.rows[row as usize][..]
                && entry.abs() >= PIVOT_SHARE * self.largest(position)
            {
                return Some((row, position));
            }
        }
        let columns = &self.columns;
        self.open_columns
            .retain(|&at| !columns[at as usize].is_empty());
        let fewest = |at: &u32| columns[*at as usize].len();
        let position = self.open_columns.iter().copied().min_by_key(fewest)?;
        let least = PIVOT_SHARE * self.largest(position);
        let rows = self.columns[position as usize].iter().copied();
        let large = rows.filter(|&row| self.entry(row, position).abs() >= least);
        let row = large.min_by_key(|&row| (self.rows[row as usize].len(), row))?;
        Some((row, position))
    }

    fn entry(&self, row: u32, position: u32) -> f64 {
        let mut entries = self.rows[row as usize].iter();
        entries
            .find(|entry| entry.0 == position)
            .map_or(0.0, |entry| entry.1)
    }

    fn largest(&self, position: u32) -> f64 {
        let rows = self.columns[position as usize].iter();
        rows.map(|&row| self.entry(row, position).abs())
            .fold(0.0, f64::max)
    }

    /// Takes a pivot's row and column out and the row off the others; returns the pivot.
    fn take(&mut self, row: u32, position: u32, lower: &mut Lists, upper: &mut Lists) -> f64 {
        let mut pivot_row = std::mem::take(&mut self.rows[row as usize]);
        let at = pivot_row.iter().position(|entry| entry.0 == position);
        let pivot = at.map_or(0.0, |at| pivot_row.swap_remove(at).1);
        for &(other, _) in &pivot_row {
            let column = &mut self.columns[other as usize];
            column.retain(|&index| index != row);
            if column.len() == 1 {
                self.single_columns.push(other);
            }
        }
        for below in std::mem::take(&mut self.columns[position as usize]) {
            if below != row {
                let share = self.eliminate(below, position, pivot, &pivot_row);
                lower.entries.push((below, share));
            }
        }
        lower.end_list();
        upper.entries.extend_from_slice(&pivot_row);
        upper.end_list();
        pivot
    }

    fn eliminate(
        &mut self,
        below: u32,
        position: u32,
        pivot: f64,
        pivot_row: &[(u32, f64)],
    ) -> f64 {
        let target = &mut self.rows[below as usize];
        let at = target.iter().position(|entry| entry.0 == position);
        let share = at.map_or(0.0, |at| target.swap_remove(at).1) / pivot;
        if !pivot_row.is_empty() {
            for (at, &(other, _)) in target.iter().enumerate() {
                self.place[other as usize] = at as u32 + 1;
            }
            for &(other, entry) in pivot_row {
                match self.place[other as usize] {
                    0 => {
                        target.push((other, -share * entry));
                        self.columns[other as usize].push(below);
                    }
                    place => target[place as usize - 1].1 -= share * entry,
                }
            }
            for &(other, _) in target.iter() {
                self.place[other as usize] = 0;
            }
        }
        if target.len() == 1 {
            self.single_rows.push(below);
        }
        share
    }
}
