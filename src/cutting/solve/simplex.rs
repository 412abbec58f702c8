//! The linear program behind the prices: a bounded revised simplex method with an explicit basis inverse.
//!
//! Rows are `sum of a[i][j] * x[j] = g[i]` with bounds on the activity `g[i]`; columns have `0 <= x[j] <= upper[j]` and a
//! cost of at least nothing. So the basis of all row activities is dual feasible, whatever the bounds are, and stays a
//! starting point for the dual method after any change of bounds; the primal method takes over when columns are added. That
//! is all that column generation and branching ask for, and it is why no first phase exists.
//!
//! Floats live here and only propose: a solution is rounded to cuttings that are checked, and prices are rounded to integers
//! that are proved. Row bounds are loosened by tiny different amounts, which makes ties, and with them cycling, rare;
//! an iteration limit ends what is left.
//!
//! An inverse kept dense costs `rows^2` a pivot. That is cheap here: rows are part lengths and limited boards, seldom over
//! 200, while a general sparse code spends more on its bookkeeping (see the figures in the developers' notes).

use super::clock::{Clock, Stopped};

/// A reduced cost nearer to nothing than this is nothing. Costs are scaled to about one.
const PRICE_TOLERANCE: f64 = 1e-9;
/// An activity may miss its bound by this.
const FIT_TOLERANCE: f64 = 1e-9;
/// Pivots smaller than this are not taken.
const PIVOT_TOLERANCE: f64 = 1e-7;
/// The inverse is computed afresh after so many pivots, for rounding errors grow with each.
const PIVOTS_BEFORE_REFACTOR: usize = 120;
/// Row bounds are loosened by up to this; far below what a part, a whole number, can tell.
const LOOSENING: f64 = 1e-6;

/// Costs are set apart by up to this where they are alike; it is a thousandth of what one board in a plan of many can tell.
const RUFFLING: f64 = 1e-4;

/// What became of a run of the method.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) enum Verdict {
    /// Optimal over the columns there are.
    Optimal,
    /// The rows cannot be met by the columns there are, or the figures went bad.
    Failed,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Place {
    Basic,
    Lower,
    Upper,
}

#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Variable {
    Row(usize),
    Column(usize),
}

/// A linear program and a basis of it.
#[derive(Clone, Debug, Default)]
pub(super) struct Simplex {
    row_lower: Vec<f64>,
    row_upper: Vec<f64>,
    row_place: Vec<Place>,
    starts: Vec<usize>,
    entries: Vec<(u32, f64)>,
    cost: Vec<f64>,
    upper: Vec<f64>,
    place: Vec<Place>,
    basis: Vec<Variable>,
    /// `inverse[position * rows + row]`.
    inverse: Vec<f64>,
    value: Vec<f64>,
    prices: Vec<f64>,
    pivots: usize,
    random: u64,
}

impl Simplex {
    /// Rows with these bounds on their activities, and no columns yet.
    pub(super) fn new(bounds: &[(f64, f64)]) -> Self {
        let mut simplex = Simplex {
            starts: vec![0],
            random: 0x9e37_79b9_7f4a_7c15,
            ..Simplex::default()
        };
        for &(lower, upper) in bounds {
            simplex.row_lower.push(0.0);
            simplex.row_upper.push(0.0);
            simplex.row_place.push(Place::Basic);
            simplex.set_row(simplex.row_lower.len() - 1, lower, upper);
        }
        simplex.reset();
        simplex
    }

    pub(super) fn rows(&self) -> usize {
        self.row_lower.len()
    }

    /// How many entries all columns have.
    pub(super) fn entries(&self) -> usize {
        self.entries.len()
    }

    pub(super) fn columns(&self) -> usize {
        self.cost.len()
    }

    /// Sets the bounds of a row's activity, loosened by a hair.
    pub(super) fn set_row(&mut self, row: usize, lower: f64, upper: f64) {
        let hair = LOOSENING * (0.5 + 0.5 * self.next_random());
        self.row_lower[row] = lower - hair;
        self.row_upper[row] = upper + hair;
        if self.row_place[row] == Place::Upper && upper.is_infinite() {
            self.row_place[row] = Place::Lower;
        }
        if self.row_place[row] == Place::Lower && lower.is_infinite() {
            self.row_place[row] = Place::Upper;
        }
    }

    /// Sets the cost of a column; the next solve must be the primal method's, or start from a reset.
    pub(super) fn set_cost(&mut self, column: usize, cost: f64) {
        self.cost[column] = cost;
    }

    /// Sets the bound above a column.
    pub(super) fn set_upper(&mut self, column: usize, upper: f64) {
        self.upper[column] = upper;
        if self.place[column] == Place::Upper && upper.is_infinite() {
            self.place[column] = Place::Lower;
        }
    }

    /// Adds a column that starts at nothing.
    pub(super) fn add_column(&mut self, cost: f64, entries: &[(u32, f64)]) -> usize {
        self.entries.extend_from_slice(entries);
        self.starts.push(self.entries.len());
        self.cost.push(cost);
        self.upper.push(f64::INFINITY);
        self.place.push(Place::Lower);
        self.cost.len() - 1
    }

    /// Adds a row whose entry in each column is told by `entry`. Its activity joins the basis, so the basis stays one.
    pub(super) fn add_row(&mut self, lower: f64, upper: f64, entry: impl Fn(usize) -> f64) {
        let row = self.rows();
        let wide = row + 1;
        let inverse = &mut self.inverse;
        inverse.reserve_exact(wide * wide - inverse.len());
        inverse.resize(wide * wide, 0.0);
        for position in (0..row).rev() {
            inverse.copy_within(position * row..(position + 1) * row, position * wide);
            inverse[position * wide + row] = 0.0;
        }
        inverse[row * wide..].fill(0.0);
        self.row_lower.push(0.0);
        self.row_upper.push(0.0);
        self.row_place.push(Place::Basic);
        self.basis.push(Variable::Row(row));
        self.write_row(row, entry);
        self.set_row(row, lower, upper);
        self.border(row, row);
        self.recompute();
    }

    /// Makes another row of one whose activity is in the basis; false where it is not.
    pub(super) fn replace_row(
        &mut self,
        row: usize,
        (lower, upper): (f64, f64),
        entry: impl Fn(usize) -> f64,
    ) -> bool {
        let place = self
            .basis
            .iter()
            .position(|&basic| basic == Variable::Row(row));
        let Some(position) = place else {
            return false;
        };
        self.write_row(row, entry);
        self.set_row(row, lower, upper);
        self.border(row, position);
        self.recompute();
        true
    }

    /// Writes a row's entries over those it has.
    fn write_row(&mut self, row: usize, entry: impl Fn(usize) -> f64) {
        let mut entries = Vec::with_capacity(self.entries.len() + self.columns());
        let mut starts = vec![0];
        for column in 0..self.columns() {
            let old = &self.entries[self.starts[column]..self.starts[column + 1]];
            entries.extend(old.iter().filter(|&&(index, _)| index as usize != row));
            let new = entry(column);
            if new != 0.0 {
                entries.push((row as u32, new));
            }
            starts.push(entries.len());
        }
        self.entries = entries;
        self.starts = starts;
    }

    /// The inverse where the activity of `row` is basic at `position`. With the other rows' basis `B` and this row's entries `a` in it, the
    /// basis is `B` bordered by `a` and -1, and its inverse is the inverse of `B` bordered by `a` times that inverse and -1.
    fn border(&mut self, row: usize, position: usize) {
        let rows = self.rows();
        let mut bordered = vec![0.0; rows];
        for (other, &variable) in self.basis.iter().enumerate() {
            let Variable::Column(column) = variable else {
                continue;
            };
            let entries = &self.entries[self.starts[column]..self.starts[column + 1]];
            if let Some(&(_, entry)) = entries.iter().find(|&&(index, _)| index as usize == row) {
                let line = &self.inverse[other * rows..(other + 1) * rows];
                for (target, from) in bordered.iter_mut().zip(line) {
                    *target += entry * from;
                }
            }
        }
        bordered[row] = -1.0;
        self.inverse[position * rows..(position + 1) * rows].copy_from_slice(&bordered);
    }

    /// The value of a column.
    pub(super) fn solution(&self) -> Vec<f64> {
        let mut solution: Vec<f64> = (0..self.columns())
            .map(|column| {
                if self.place[column] == Place::Upper {
                    self.upper[column]
                } else {
                    0.0
                }
            })
            .collect();
        for (position, &variable) in self.basis.iter().enumerate() {
            if let Variable::Column(column) = variable {
                solution[column] = self.value[position];
            }
        }
        solution
    }

    /// What one unit more of each row's activity costs.
    pub(super) fn prices(&self) -> &[f64] {
        &self.prices
    }

    /// The objective.
    pub(super) fn objective(&self) -> f64 {
        self.solution()
            .iter()
            .zip(&self.cost)
            .map(|(x, cost)| x * cost)
            .sum()
    }

    /// Cost less the worth of its entries.
    pub(super) fn reduced_cost(&self, column: usize) -> f64 {
        self.cost[column] - self.dot(column, &self.prices)
    }

    /// Starts over from the basis of all row activities.
    pub(super) fn reset(&mut self) {
        let rows = self.rows();
        self.basis = (0..rows).map(Variable::Row).collect();
        self.row_place = vec![Place::Basic; rows];
        self.place = self.upper.iter().map(|_| Place::Lower).collect();
        self.pivots = 0;
        self.inverse.clear();
        self.inverse.resize(rows * rows, 0.0);
        for row in 0..rows {
            self.inverse[row * rows + row] = -1.0;
        }
        self.recompute();
    }

    /// Counts work, and asks the clock after 16 iterations at the latest.
    fn iterated(&self, iteration: usize, clock: &mut Clock) -> Result<(), Stopped> {
        if iteration % 16 == 15 {
            clock.go_on()
        } else {
            clock.worked(self.rows() * self.rows() / 4 + self.entries.len() / 2)
        }
    }

    /// Repairs the basis by the dual method, then finishes by the primal one. Where many costs are alike the dual method may walk about
    /// among reduced costs of nothing; then it starts over with costs a little apart, and the primal method ends with the true ones.
    pub(super) fn solve(&mut self, clock: &mut Clock) -> Result<Verdict, Stopped> {
        self.recompute();
        let brief = 300 + 8 * self.rows();
        if self.dual(brief, clock)? == Verdict::Optimal && self.primal(clock)? == Verdict::Optimal {
            return Ok(Verdict::Optimal);
        }
        let costs = self.cost.clone();
        for column in 0..costs.len() {
            self.cost[column] += RUFFLING * (0.5 + 0.5 * self.next_random());
        }
        self.reset();
        let met = self.dual(self.iteration_limit(), clock);
        self.cost = costs;
        self.recompute();
        if met? == Verdict::Optimal {
            self.primal(clock)
        } else {
            Ok(Verdict::Failed)
        }
    }

    /// Goes on from a basis that meets the rows.
    pub(super) fn primal(&mut self, clock: &mut Clock) -> Result<Verdict, Stopped> {
        for iteration in 0..self.iteration_limit() {
            self.iterated(iteration, clock)?;
            let Some((entering, reduced, direction)) = self.cheapest() else {
                return Ok(Verdict::Optimal);
            };
            let alpha = self.alpha(entering);
            let range = self.range(entering);
            let mut step = f64::INFINITY;
            for (position, &slope) in alpha.iter().enumerate() {
                if let Some(room) = self.room(position, slope * direction) {
                    step = step.min((room + FIT_TOLERANCE) / slope.abs());
                }
            }
            if range <= step && range.is_finite() {
                self.shift(entering, direction * range, &alpha);
                let place = if direction > 0.0 {
                    Place::Upper
                } else {
                    Place::Lower
                };
                self.put(entering, place);
                continue;
            }
            let mut leaving = None;
            let mut largest = 0.0;
            for (position, &slope) in alpha.iter().enumerate() {
                if let Some(room) = self.room(position, slope * direction)
                    && room / slope.abs() <= step
                    && slope.abs() > largest
                {
                    largest = slope.abs();
                    leaving = Some(position);
                }
            }
            let Some(leaving) = leaving else {
                return Ok(Verdict::Failed);
            };
            let slope = alpha[leaving] * direction;
            let room = self.room(leaving, slope).unwrap_or(0.0).max(0.0);
            let end = if slope > 0.0 {
                Place::Lower
            } else {
                Place::Upper
            };
            self.pivot(
                leaving,
                entering,
                end,
                direction * room / slope.abs(),
                reduced,
                &alpha,
            );
            self.refactor_when_due(clock)?;
        }
        Ok(Verdict::Failed)
    }

    /// Meets the rows, from a basis whose reduced costs have the right signs.
    fn dual(&mut self, limit: usize, clock: &mut Clock) -> Result<Verdict, Stopped> {
        for iteration in 0..limit {
            self.iterated(iteration, clock)?;
            let mut worst = FIT_TOLERANCE * 10.0;
            let mut leaving = None;
            for (position, &variable) in self.basis.iter().enumerate() {
                let (lower, upper) = self.bounds(variable);
                let value = self.value[position];
                if lower - value > worst {
                    worst = lower - value;
                    leaving = Some((position, Place::Lower, lower));
                } else if value - upper > worst {
                    worst = value - upper;
                    leaving = Some((position, Place::Upper, upper));
                }
            }
            let Some((leaving, end, bound)) = leaving else {
                return Ok(Verdict::Optimal);
            };
            let Some((entering, reduced)) = self.dual_ratio(leaving, end) else {
                return Ok(Verdict::Failed);
            };
            let alpha = self.alpha(entering);
            if alpha[leaving].abs() < PIVOT_TOLERANCE {
                return Ok(Verdict::Failed);
            }
            let step = (self.value[leaving] - bound) / alpha[leaving];
            self.pivot(leaving, entering, end, step, reduced, &alpha);
            self.refactor_when_due(clock)?;
        }
        Ok(Verdict::Failed)
    }

    /// The variable that enters when the one at `leaving` is driven to its bound at `end`, with its reduced cost.
    fn dual_ratio(&self, leaving: usize, end: Place) -> Option<(Variable, f64)> {
        let rows = self.rows();
        let row = &self.inverse[leaving * rows..(leaving + 1) * rows];
        let sign = if end == Place::Lower { 1.0 } else { -1.0 };
        let mut least = f64::INFINITY;
        let mut chosen = None;
        let mut largest = 0.0;
        let mut consider = |variable: Variable, place: Place, reduced: f64, alpha: f64| {
            let toward = match place {
                Place::Basic => return,
                Place::Lower => -alpha * sign,
                Place::Upper => alpha * sign,
            };
            if toward <= PIVOT_TOLERANCE {
                return;
            }
            let ratio = reduced.abs() / toward;
            if ratio < least - PRICE_TOLERANCE
                || (ratio <= least + PRICE_TOLERANCE && toward > largest)
            {
                least = least.min(ratio);
                largest = toward;
                chosen = Some((variable, reduced));
            }
        };
        for (index, entry) in row.iter().enumerate() {
            if self.row_lower[index] < self.row_upper[index] {
                consider(
                    Variable::Row(index),
                    self.row_place[index],
                    self.prices[index],
                    -entry,
                );
            }
        }
        for column in 0..self.columns() {
            if self.place[column] != Place::Basic && self.upper[column] > 0.0 {
                consider(
                    Variable::Column(column),
                    self.place[column],
                    self.reduced_cost(column),
                    self.dot(column, row),
                );
            }
        }
        chosen
    }

    /// The nonbasic variable that lowers the cost fastest: itself, its reduced cost, and which way it moves.
    fn cheapest(&self) -> Option<(Variable, f64, f64)> {
        let mut best = PRICE_TOLERANCE;
        let mut chosen = None;
        let mut consider = |variable: Variable, place: Place, reduced: f64| {
            let (gain, direction) = match place {
                Place::Basic => return,
                Place::Lower => (-reduced, 1.0),
                Place::Upper => (reduced, -1.0),
            };
            if gain > best {
                best = gain;
                chosen = Some((variable, reduced, direction));
            }
        };
        for row in 0..self.rows() {
            consider(Variable::Row(row), self.row_place[row], self.prices[row]);
        }
        for column in 0..self.columns() {
            if self.place[column] != Place::Basic && self.upper[column] > 0.0 {
                consider(
                    Variable::Column(column),
                    self.place[column],
                    self.reduced_cost(column),
                );
            }
        }
        chosen
    }

    /// How far the variable at `position` may move against `slope` before it meets a bound.
    fn room(&self, position: usize, slope: f64) -> Option<f64> {
        let (lower, upper) = self.bounds(self.basis[position]);
        if slope > PIVOT_TOLERANCE && lower.is_finite() {
            Some((self.value[position] - lower).max(0.0))
        } else if slope < -PIVOT_TOLERANCE && upper.is_finite() {
            Some((upper - self.value[position]).max(0.0))
        } else {
            None
        }
    }

    fn shift(&mut self, _entering: Variable, step: f64, alpha: &[f64]) {
        for (value, slope) in self.value.iter_mut().zip(alpha) {
            *value -= step * slope;
        }
    }

    fn pivot(
        &mut self,
        leaving: usize,
        entering: Variable,
        end: Place,
        step: f64,
        reduced: f64,
        alpha: &[f64],
    ) {
        let rows = self.rows();
        let start = match entering {
            Variable::Row(row) => self.resting(Variable::Row(row), self.row_place[row]),
            Variable::Column(column) => self.resting(Variable::Column(column), self.place[column]),
        };
        self.shift(entering, step, alpha);
        self.value[leaving] = start + step;
        let out = self.basis[leaving];
        self.put(out, end);
        self.put(entering, Place::Basic);
        self.basis[leaving] = entering;

        let slope = alpha[leaving];
        let pivot_row: Vec<f64> = self.inverse[leaving * rows..(leaving + 1) * rows]
            .iter()
            .map(|entry| entry / slope)
            .collect();
        for (price, entry) in self.prices.iter_mut().zip(&pivot_row) {
            *price += reduced * entry;
        }
        for (position, &factor) in alpha.iter().enumerate() {
            let target = &mut self.inverse[position * rows..(position + 1) * rows];
            if position == leaving {
                target.copy_from_slice(&pivot_row);
            } else if factor != 0.0 {
                for (entry, pivot) in target.iter_mut().zip(&pivot_row) {
                    *entry -= factor * pivot;
                }
            }
        }
        self.pivots += 1;
    }

    fn put(&mut self, variable: Variable, place: Place) {
        match variable {
            Variable::Row(row) => self.row_place[row] = place,
            Variable::Column(column) => self.place[column] = place,
        }
    }

    fn bounds(&self, variable: Variable) -> (f64, f64) {
        match variable {
            Variable::Row(row) => (self.row_lower[row], self.row_upper[row]),
            Variable::Column(column) => (0.0, self.upper[column]),
        }
    }

    fn range(&self, variable: Variable) -> f64 {
        let (lower, upper) = self.bounds(variable);
        upper - lower
    }

    fn resting(&self, variable: Variable, place: Place) -> f64 {
        let (lower, upper) = self.bounds(variable);
        if place == Place::Upper { upper } else { lower }
    }

    fn dot(&self, column: usize, with: &[f64]) -> f64 {
        self.entries[self.starts[column]..self.starts[column + 1]]
            .iter()
            .map(|&(row, entry)| entry * with[row as usize])
            .sum()
    }

    /// The inverse times a variable's column.
    fn alpha(&self, variable: Variable) -> Vec<f64> {
        let rows = self.rows();
        match variable {
            Variable::Row(row) => (0..rows)
                .map(|position| -self.inverse[position * rows + row])
                .collect(),
            Variable::Column(column) => {
                let entries = &self.entries[self.starts[column]..self.starts[column + 1]];
                (0..rows)
                    .map(|position| {
                        let row = &self.inverse[position * rows..(position + 1) * rows];
                        entries
                            .iter()
                            .map(|&(index, entry)| entry * row[index as usize])
                            .sum()
                    })
                    .collect()
            }
        }
    }

    /// Inverts the basis afresh after so many pivots; where it is singular, starts over. Where time is up in the middle of it what is left is
    /// a basis that holds, of all row activities.
    fn refactor_when_due(&mut self, clock: &mut Clock) -> Result<(), Stopped> {
        let rows = self.rows();
        if self.pivots < PIVOTS_BEFORE_REFACTOR.max(rows) {
            return Ok(());
        }
        self.pivots = 0;
        // The basis takes the place of its inverse and is inverted there: for thousands of rows a second matrix is much memory.
        let matrix = &mut self.inverse;
        matrix.fill(0.0);
        for (position, &variable) in self.basis.iter().enumerate() {
            match variable {
                Variable::Row(row) => matrix[row * rows + position] = -1.0,
                Variable::Column(column) => {
                    for &(row, entry) in &self.entries[self.starts[column]..self.starts[column + 1]]
                    {
                        matrix[row as usize * rows + position] = entry;
                    }
                }
            }
        }
        match invert(matrix, rows, clock) {
            Ok(true) => self.recompute(),
            Ok(false) => self.reset(),
            Err(stopped) => {
                self.reset();
                return Err(stopped);
            }
        }
        Ok(())
    }

    /// Values and prices from the inverse; due after costs were set.
    pub(super) fn recompute(&mut self) {
        let rows = self.rows();
        let mut activity = vec![0.0; rows];
        for (row, level) in activity.iter_mut().enumerate() {
            if self.row_place[row] != Place::Basic {
                *level += self.resting(Variable::Row(row), self.row_place[row]);
            }
        }
        for column in 0..self.columns() {
            if self.place[column] == Place::Upper {
                for &(row, entry) in &self.entries[self.starts[column]..self.starts[column + 1]] {
                    activity[row as usize] -= entry * self.upper[column];
                }
            }
        }
        self.prices = vec![0.0; rows];
        self.value = vec![0.0; rows];
        for position in 0..rows {
            let row = &self.inverse[position * rows..(position + 1) * rows];
            self.value[position] = row
                .iter()
                .zip(&activity)
                .map(|(entry, level)| entry * level)
                .sum();
            if let Variable::Column(column) = self.basis[position] {
                let cost = self.cost[column];
                for (price, entry) in self.prices.iter_mut().zip(row) {
                    *price += cost * entry;
                }
            }
        }
    }

    fn iteration_limit(&self) -> usize {
        5_000 + 40 * self.rows()
    }

    /// Between nothing and one, the same sequence every time.
    fn next_random(&mut self) -> f64 {
        self.random ^= self.random << 13;
        self.random ^= self.random >> 7;
        self.random ^= self.random << 17;
        (self.random >> 11) as f64 / (1u64 << 53) as f64
    }
}

/// Gauss and Jordan with row exchanges, in place: a column that is done with makes room for the column of the inverse that begins there.
/// False where the matrix is singular; it is then in pieces.
fn invert(matrix: &mut [f64], size: usize, clock: &mut Clock) -> Result<bool, Stopped> {
    let mut exchanged = Vec::new();
    let mut pivot_row = vec![0.0; size];
    for step in 0..size {
        let largest = (step..size)
            .map(|row| (row, matrix[row * size + step].abs()))
            .max_by(|left, right| left.1.total_cmp(&right.1));
        let Some((pivot, _)) = largest.filter(|&(_, largest)| largest >= 1e-10) else {
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
