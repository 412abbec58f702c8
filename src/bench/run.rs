//! Solving instances and printing the results.

use super::{Arguments, Instance, Noise, Stopwatch, aims};
use crate::problem::Problem;
use crate::solve::{Level, Outcome, Progress, Watch, solve};
use std::collections::BTreeMap;
use std::io::Write;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

/// The result of one instance.
struct Row {
    class: String,
    levels: Vec<Level>,
    proven: bool,
    seconds: f64,
    first: f64,
    /// Whether a published bound is contradicted.
    contradicts: bool,
}

/// Solves the `instances` that `arguments` chose; prints a line of CSV for each and a summary for each class.
///
/// # Errors
/// Output that could not be written.
pub fn run(
    arguments: &Arguments,
    instances: &[Instance],
    output: &mut (dyn Write + Send),
) -> Result<(), String> {
    let failed = |error: std::io::Error| format!("the output could not be written: {error}");
    writeln!(
        output,
        "class,instance,stock_used_or_cost,bound,proven,seconds,nodes,columns"
    )
    .map_err(failed)?;
    let mut noise = Noise::default();
    noise.listen();
    let next = AtomicUsize::new(0);
    let rows = Mutex::new(Vec::new());
    let output = Mutex::new(output);
    std::thread::scope(|scope| {
        for _ in 0..arguments.threads {
            scope.spawn(|| {
                while let Some(instance) = instances.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let (row, line) = measure(instance, arguments);
                    if let (Ok(mut rows), Ok(mut output)) = (rows.lock(), output.lock()) {
                        // A reader that ended early ends the printing, not the measuring.
                        let _ = writeln!(output, "{line}").and_then(|()| output.flush());
                        rows.push(row);
                    }
                }
            });
        }
    });
    let rows = rows
        .into_inner()
        .map_err(|_| "a measuring thread failed".to_owned())?;
    let output = output
        .into_inner()
        .map_err(|_| "a measuring thread failed".to_owned())?;
    writeln!(output).map_err(failed)?;
    writeln!(output, "class,instances,proven,median_seconds,worst_seconds,worst_gap_percent,median_first_ms,contradictions").map_err(failed)?;
    let mut classes: BTreeMap<&str, Vec<&Row>> = BTreeMap::new();
    for row in &rows {
        classes.entry(&row.class).or_default().push(row);
    }
    for (class, rows) in classes {
        writeln!(output, "{}", summary(class, &rows)).map_err(failed)?;
    }
    noise.listen();
    writeln!(output, "# {noise}").map_err(failed)
}

fn summary(class: &str, rows: &[&Row]) -> String {
    let mut seconds: Vec<f64> = rows.iter().map(|row| row.seconds).collect();
    seconds.sort_by(f64::total_cmp);
    let mut first: Vec<f64> = rows.iter().map(|row| row.first).collect();
    first.sort_by(f64::total_cmp);
    let gap = |row: &Row| {
        let open = row.levels.iter().find(|level| !level.proven());
        open.map_or(0.0, |level| {
            100.0 * (level.value - level.bound) as f64 / level.value.max(1) as f64
        })
    };
    let worst_gap = rows.iter().map(|row| gap(row)).fold(0.0, f64::max);
    format!(
        "{class},{},{},{:.3},{:.3},{worst_gap:.3},{:.1},{}",
        rows.len(),
        rows.iter().filter(|row| row.proven).count(),
        seconds[seconds.len() / 2],
        seconds[seconds.len() - 1],
        first[first.len() / 2] * 1000.0,
        rows.iter().filter(|row| row.contradicts).count(),
    )
}

fn measure(instance: &Instance, arguments: &Arguments) -> (Row, String) {
    let mut timer = Timer::new(arguments.seconds);
    let outcome = solve(
        &instance.problem,
        aims(&instance.problem, arguments.scrap),
        &mut timer,
    );
    let seconds = timer.watch.seconds();
    let first = timer.first.unwrap_or(seconds);
    let (lower, upper) = instance.published;
    let mut row = Row {
        class: instance.class.clone(),
        levels: Vec::new(),
        proven: false,
        seconds,
        first,
        contradicts: false,
    };
    let (value, bound, nodes, columns) = match outcome {
        Outcome::Found(solution) => {
            row.proven = solution.levels.iter().all(|level| level.proven());
            row.contradicts = !adds_up(&instance.problem, &solution.cuttings)
                || solution.levels.first().is_some_and(|level| {
                    lower.is_some_and(|lower| level.value < lower)
                        || upper.is_some_and(|upper| level.bound > upper)
                });
            row.levels = solution.levels;
            let join = |figure: fn(&Level) -> i64| {
                row.levels
                    .iter()
                    .map(|level| figure(level).to_string())
                    .collect::<Vec<_>>()
                    .join(" ")
            };
            (
                join(|level| level.value),
                join(|level| level.bound),
                solution.effort.nodes,
                solution.effort.columns,
            )
        }
        Outcome::Impossible(_) => {
            row.proven = true;
            row.contradicts = upper.is_some();
            ("impossible".to_owned(), String::new(), 0, 0)
        }
        Outcome::NothingYet => ("nothing yet".to_owned(), String::new(), 0, 0),
    };
    let line = format!(
        "{},{},{value},{bound},{},{seconds:.3},{nodes},{columns}",
        instance.class,
        instance.name,
        if row.contradicts {
            "CONTRADICTS"
        } else if row.proven {
            "yes"
        } else {
            "no"
        },
    );
    (row, line)
}

/// Whether a plan makes every part exactly as often as wanted, fits its boards, and uses no board more often than there are.
fn adds_up(problem: &Problem, cuttings: &[(crate::problem::Cutting, u32)]) -> bool {
    let mut made = vec![0u64; problem.demand.len()];
    let mut spent = vec![0u64; problem.boards.len()];
    for (cutting, count) in cuttings {
        if problem.used(cutting).is_none() {
            return false;
        }
        spent[cutting.board] += u64::from(*count);
        for &(part, each) in cutting.runs.iter().flatten() {
            made[part] += u64::from(each) * u64::from(*count);
        }
    }
    made.iter()
        .zip(&problem.demand)
        .all(|(&made, &wanted)| made == u64::from(wanted))
        && spent
            .iter()
            .zip(&problem.boards)
            .all(|(&spent, board)| board.supply.is_none_or(|supply| spent <= u64::from(supply)))
}

struct Timer {
    watch: Stopwatch,
    limit: f64,
    first: Option<f64>,
}

impl Timer {
    fn new(seconds: f64) -> Self {
        Timer {
            watch: Stopwatch::start(),
            limit: seconds,
            first: None,
        }
    }
}

impl Watch for Timer {
    fn expired(&mut self) -> bool {
        self.watch.seconds() >= self.limit
    }

    fn spent(&mut self) -> u32 {
        (1000.0 * self.watch.seconds() / self.limit) as u32
    }

    fn better(&mut self, _found: &Progress) {
        let seconds = self.watch.seconds();
        self.first.get_or_insert(seconds);
    }
}
