//! Running instances and printing what came of them.

use super::{Instance, JobSize, practical_jobs, read_folder};
use crate::problem::Problem;
use crate::solve::{Aims, Level, Outcome, Progress, ScrapAim, Watch, solve};
use std::collections::BTreeMap;
use std::io::Write;
use std::path::PathBuf;
use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::time::{Duration, Instant};

/// What `lengthwise bench` was asked.
#[derive(Clone, Debug)]
pub struct Arguments {
    /// Folder with instance files; none where only made-up jobs are wanted.
    pub folder: Option<PathBuf>,
    /// Only instances whose `class/name` contains this.
    pub only: Option<String>,
    /// Every so many-th instance of a class; 1 is all.
    pub every: usize,
    /// Seconds for one instance.
    pub seconds: f64,
    /// Instances at a time.
    pub threads: usize,
    /// Made-up jobs: seed and how many of each size.
    pub jobs: Option<(u64, usize)>,
    /// Which sizes of made-up jobs.
    pub sizes: Vec<JobSize>,
    /// Whether the made-up jobs are to have the least scrap after cost.
    pub scrap: ScrapAim,
}

impl Default for Arguments {
    fn default() -> Self {
        Arguments {
            folder: None,
            only: None,
            every: 1,
            seconds: 10.0,
            threads: 1,
            jobs: None,
            sizes: vec![JobSize::Small, JobSize::Medium, JobSize::Large],
            scrap: ScrapAim::Ignored,
        }
    }
}

impl Arguments {
    /// Reads `[DIR] [--seconds S] [--threads N] [--only TEXT] [--every N] [--jobs COUNT] [--seed N] [--size small|medium|large] [--scrap]`.
    ///
    /// # Errors
    /// A sentence on what is wrong.
    pub fn parse(words: &[String]) -> Result<Arguments, String> {
        let mut arguments = Arguments::default();
        let mut seed = 1;
        let mut count = None;
        let mut words = words.iter();
        while let Some(word) = words.next() {
            let mut value = || {
                words
                    .next()
                    .ok_or_else(|| format!("{word} needs a value after it"))
            };
            let number = |text: &String| {
                text.parse::<u64>()
                    .map_err(|_| format!("`{text}` is not a whole number; {word} needs one"))
            };
            match word.as_str() {
                "--seconds" => {
                    let text = value()?;
                    arguments.seconds = text
                        .parse()
                        .ok()
                        .filter(|seconds| *seconds > 0.0)
                        .ok_or_else(|| format!("`{text}` is not a number of seconds"))?;
                }
                "--threads" => arguments.threads = number(value()?)?.clamp(1, 256) as usize,
                "--only" => arguments.only = Some(value()?.clone()),
                "--every" => arguments.every = number(value()?)?.max(1) as usize,
                "--jobs" => count = Some(number(value()?)? as usize),
                "--seed" => seed = number(value()?)?,
                "--scrap" => arguments.scrap = ScrapAim::Least,
                "--size" => {
                    arguments.sizes = match value()?.as_str() {
                        "small" => vec![JobSize::Small],
                        "medium" => vec![JobSize::Medium],
                        "large" => vec![JobSize::Large],
                        other => {
                            return Err(format!(
                                "`{other}` is not a size; sizes are small, medium and large"
                            ));
                        }
                    }
                }
                option if option.starts_with("--") => {
                    return Err(format!("{option} is not an option of bench"));
                }
                folder => arguments.folder = Some(PathBuf::from(folder)),
            }
        }
        arguments.jobs = count.map(|count| (seed, count));
        if arguments.folder.is_none() && arguments.jobs.is_none() {
            return Err("bench needs a folder of instances, or --jobs with a number".to_owned());
        }
        Ok(arguments)
    }
}

/// What came of one instance.
struct Row {
    class: String,
    levels: Vec<Level>,
    proven: bool,
    seconds: f64,
    first: f64,
    /// Whether a published bound is contradicted.
    contradicts: bool,
}

/// Runs everything asked for; prints a line of CSV for each instance and a summary for each class.
///
/// # Errors
/// What could not be read or written.
pub fn run(arguments: &Arguments, output: &mut (dyn Write + Send)) -> Result<(), String> {
    let mut instances = match &arguments.folder {
        Some(folder) => read_folder(folder)?,
        None => Vec::new(),
    };
    if let Some((seed, count)) = arguments.jobs {
        for &size in &arguments.sizes {
            instances.extend(practical_jobs(size, seed, count));
        }
    }
    if let Some(only) = &arguments.only {
        instances.retain(|instance| {
            format!("{}/{}", instance.class, instance.name).contains(only.as_str())
        });
    }
    let mut seen: BTreeMap<String, usize> = BTreeMap::new();
    instances.retain(|instance| {
        let count = seen.entry(instance.class.clone()).or_default();
        *count += 1;
        (*count - 1).is_multiple_of(arguments.every)
    });
    let failed = |error: std::io::Error| format!("the output could not be written: {error}");
    writeln!(
        output,
        "class,instance,stock_used_or_cost,bound,proven,seconds,nodes,columns"
    )
    .map_err(failed)?;
    let next = AtomicUsize::new(0);
    let rows = Mutex::new(Vec::new());
    let output = Mutex::new(output);
    std::thread::scope(|scope| {
        for _ in 0..arguments.threads {
            scope.spawn(|| {
                while let Some(instance) = instances.get(next.fetch_add(1, Ordering::Relaxed)) {
                    let (row, line) = measure(instance, arguments);
                    if let (Ok(mut rows), Ok(mut output)) = (rows.lock(), output.lock()) {
                        // A reader that went away ends the printing, not the measuring.
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
    Ok(())
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
    let scrap = if instance
        .problem
        .boards
        .first()
        .is_some_and(|board| board.cost.len() > 1)
    {
        arguments.scrap
    } else {
        ScrapAim::Ignored
    };
    let outcome = solve(&instance.problem, Aims { scrap }, &mut timer);
    let seconds = timer.start.elapsed().as_secs_f64();
    let first = timer.first.unwrap_or(timer.start.elapsed()).as_secs_f64();
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

/// Whether a plan makes every part exactly as often as wanted, fits its boards and overdraws none.
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
    start: Instant,
    limit: Duration,
    first: Option<Duration>,
}

impl Timer {
    fn new(seconds: f64) -> Self {
        Timer {
            start: Instant::now(),
            limit: Duration::from_secs_f64(seconds),
            first: None,
        }
    }
}

impl Watch for Timer {
    fn expired(&mut self) -> bool {
        self.start.elapsed() >= self.limit
    }

    fn better(&mut self, _found: &Progress) {
        let elapsed = self.start.elapsed();
        self.first.get_or_insert(elapsed);
    }
}
