//! The simplex method against microlp, by way of good_lp.

use crate::clock::Clock;
use crate::laws::made_up::{Forever, Random};
use crate::simplex::{Simplex, Verdict};
use good_lp::{Expression, ProblemVariables, Solution, SolverModel, Variable, microlp, variable};

/// A column: cost, upper bound and one entry for each row.
type Column = (f64, f64, Vec<f64>);

/// A program: bounds of rows, and columns.
#[derive(Clone, Debug, Default)]
struct Program {
    rows: Vec<(f64, f64)>,
    columns: Vec<Column>,
}

impl Program {
    /// Rows that want something, rows that limit something, small whole entries.
    fn random(random: &mut Random) -> Self {
        let rows: Vec<(f64, f64)> = (0..2 + random.below(5))
            .map(|_| match random.below(3) {
                0 => (0.0, 1.0 + random.below(20) as f64),
                1 => (1.0 + random.below(10) as f64, f64::INFINITY),
                _ => {
                    let lower = random.below(5) as f64;
                    (lower, lower + random.below(6) as f64)
                }
            })
            .collect();
        let columns = 2 + random.below(8);
        let columns = (0..columns).map(|_| Program::column(random, rows.len()));
        Program {
            columns: columns.collect(),
            rows,
        }
    }

    fn column(random: &mut Random, rows: usize) -> Column {
        let upper = match random.below(3) {
            0 => 1.0 + random.below(4) as f64,
            _ => f64::INFINITY,
        };
        let cost = random.below(12) as f64;
        let entries = (0..rows).map(|_| random.below(4) as f64);
        (cost, upper, entries.collect())
    }

    fn simplex(&self) -> Simplex {
        let mut simplex = Simplex::new(&self.rows);
        for column in &self.columns {
            add(&mut simplex, column);
        }
        simplex
    }

    /// The optimum by microlp; `None` where there is none.
    fn by_microlp(&self) -> Option<f64> {
        let mut all = ProblemVariables::new();
        let variables: Vec<Variable> = self
            .columns
            .iter()
            .map(|&(_, upper, _)| all.add(variable().min(0.0).max(upper)))
            .collect();
        let sum = |entry: &dyn Fn(&Column) -> f64| -> Expression {
            let terms = self.columns.iter().zip(&variables);
            terms.map(|(column, &times)| entry(column) * times).sum()
        };
        let cost = sum(&|column| column.0);
        let mut model = all.minimise(cost.clone()).using(microlp);
        for (row, &(lower, upper)) in self.rows.iter().enumerate() {
            model.add_constraint(sum(&|column| column.2[row]).geq(lower));
            if upper.is_finite() {
                model.add_constraint(sum(&|column| column.2[row]).leq(upper));
            }
        }
        let solution = model.solve().ok()?;
        Some(solution.eval(cost))
    }

    #[track_caller]
    fn check(&self, simplex: &mut Simplex) -> bool {
        let mut watch = Forever;
        let verdict = simplex.solve(&mut Clock::new(&mut watch));
        let verdict = verdict.expect("no limit of time");
        let wanted = self.by_microlp();
        assert_eq!(verdict == Verdict::Optimal, wanted.is_some(), "{self:?}");
        if let Some(wanted) = wanted {
            // Row bounds are loosened by a millionth.
            let found = simplex.objective();
            assert!((found - wanted).abs() < 1e-3, "{found}, {wanted}: {self:?}");
        }
        wanted.is_some()
    }
}

fn add(simplex: &mut Simplex, (cost, upper, entries): &Column) {
    let entries = entries.iter().enumerate();
    let entries: Vec<(u32, f64)> = entries
        .filter(|(_, entry)| **entry != 0.0)
        .map(|(row, &entry)| (row as u32, entry))
        .collect();
    let column = simplex.add_column(*cost, &entries);
    simplex.set_upper(column, *upper);
}

#[test]
fn the_simplex_method_comes_to_the_optimum_of_microlp() {
    let mut random = Random::new(6);
    let mut solved = 0;
    for _ in 0..400 {
        let program = Program::random(&mut random);
        solved += usize::from(program.check(&mut program.simplex()));
    }
    assert!(solved > 100 && solved < 400, "{solved} have a solution");
}

#[test]
fn of_many_columns_none_that_would_pay_is_passed_over() {
    let mut random = Random::new(8);
    let mut solved = 0;
    for _ in 0..150 {
        let mut program = Program::random(&mut random);
        let mut simplex = program.simplex();
        program.check(&mut simplex);
        // Columns join a program that is solved, as priced patterns do, many more than are looked at between pivots.
        for _ in 0..20 * program.rows.len() {
            let mut column = Program::column(&mut random, program.rows.len());
            // The cheapest may not be used, as forbidden patterns are.
            if column.0 < 4.0 {
                column.1 = 0.0;
            }
            add(&mut simplex, &column);
            program.columns.push(column);
        }
        solved += usize::from(program.check(&mut simplex));
    }
    assert!(solved > 50, "{solved} have a solution");
}

#[test]
fn a_program_that_changes_comes_to_the_optimum_of_the_changed_one() {
    let mut random = Random::new(7);
    let mut solved = 0;
    for _ in 0..200 {
        let mut program = Program::random(&mut random);
        let mut simplex = program.simplex();
        for _ in 0..4 {
            match random.below(4) {
                0 => {
                    let column = Program::column(&mut random, program.rows.len());
                    add(&mut simplex, &column);
                    program.columns.push(column);
                }
                1 => {
                    let row = random.below(program.rows.len() as i64) as usize;
                    let lower = random.below(6) as f64;
                    let bounds = (lower, lower + random.below(9) as f64);
                    simplex.set_row(row, bounds.0, bounds.1);
                    program.rows[row] = bounds;
                }
                2 => {
                    let column = random.below(program.columns.len() as i64) as usize;
                    let upper = random.below(4) as f64;
                    simplex.set_upper(column, upper);
                    program.columns[column].1 = upper;
                }
                _ => {
                    let bounds = (random.below(5) as f64, f64::INFINITY);
                    for column in &mut program.columns {
                        column.2.push(random.below(3) as f64);
                    }
                    let row = program.rows.len();
                    let columns = &program.columns;
                    simplex.add_row(bounds.0, bounds.1, |column| columns[column].2[row]);
                    program.rows.push(bounds);
                }
            }
            solved += usize::from(program.check(&mut simplex));
        }
    }
    assert!(solved > 100, "{solved} have a solution");
}
