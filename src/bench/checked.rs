//! How many of the planner's proofs the checker confirms and what that costs, measured on practical jobs and on published instances of one length.

use super::written::{in_millimetres, written};
use super::{Arguments, Instance};
use crate::check::{CheckedLevel, Reason, Standing, check};
use crate::io::plan_file;
use crate::job::{Job, validate};
use crate::patience::{Limits, Patience};
use crate::plan::Plan;
use crate::planner::{Planned, plan_job};
use crate::solve::ScrapAim;
use std::collections::BTreeMap;
use std::io::Write;
use std::time::Instant;

/// Counts of the levels that the planner claims to have proven, and what that took.
#[derive(Default)]
struct Counts {
    jobs: usize,
    proven: usize,
    again: usize,
    searched: usize,
    loose: usize,
    too_large: usize,
    other: usize,
    /// Jobs of which all that decides what is bought is proven again.
    whole: usize,
    /// Milliseconds of planning each job.
    planning: Vec<f64>,
    /// Milliseconds of each check.
    checking: Vec<f64>,
    /// Bytes of each plan file.
    bytes: Vec<f64>,
}

impl Counts {
    fn level(&mut self, level: &CheckedLevel) {
        let reason = match level.standing() {
            Standing::Gap => return,
            Standing::ReProved => &mut self.again,
            Standing::ClaimOnly(Reason::Searched { .. }) => &mut self.searched,
            Standing::ClaimOnly(Reason::Loose { .. }) => &mut self.loose,
            Standing::ClaimOnly(Reason::TooLarge | Reason::OutOfTime) => &mut self.too_large,
            Standing::ClaimOnly(Reason::NoFigures | Reason::OtherTotals) => &mut self.other,
        };
        *reason += 1;
        self.proven += 1;
    }

    fn add(&mut self, other: Counts) {
        self.jobs += other.jobs;
        self.proven += other.proven;
        self.again += other.again;
        self.searched += other.searched;
        self.loose += other.loose;
        self.too_large += other.too_large;
        self.other += other.other;
        self.whole += other.whole;
        self.planning.extend(other.planning);
        self.checking.extend(other.checking);
        self.bytes.extend(other.bytes);
    }

    fn line(&self) -> String {
        let share = match self.proven {
            0 => 100.0,
            proven => 100.0 * self.again as f64 / proven as f64,
        };
        let [plan, check, bytes] =
            [&self.planning, &self.checking, &self.bytes].map(|figures| spread(figures));
        format!(
            "{},{},{},{},{},{},{},{},{share:.1},{plan},{check},{bytes}",
            self.jobs,
            self.whole,
            self.proven,
            self.again,
            self.searched,
            self.loose,
            self.too_large,
            self.other,
        )
    }
}

/// The median and the worst of some figures.
fn spread(figures: &[f64]) -> String {
    let mut figures = figures.to_vec();
    figures.sort_by(f64::total_cmp);
    let median = figures.get(figures.len() / 2).copied();
    let worst = figures.last().copied();
    format!(
        "{:.1},{:.1}",
        median.unwrap_or_default(),
        worst.unwrap_or_default()
    )
}

/// Plans and checks the jobs that `arguments` chose; prints a line of CSV for each and a summary for each class.
///
/// # Errors
/// A plan that fails the check, or output that could not be written.
pub fn run_checked(
    arguments: &Arguments,
    instances: &[Instance],
    output: &mut dyn Write,
) -> Result<(), String> {
    let failed = |error: std::io::Error| format!("the output could not be written: {error}");
    let figures = "proven,again,searched,loose,too_large,other";
    writeln!(
        output,
        "class,instance,levels_{figures},plan_ms,check_ms,plan_file_bytes"
    )
    .map_err(failed)?;
    let mut classes: BTreeMap<String, Counts> = BTreeMap::new();
    for instance in instances {
        let mut problem = &instance.problem;
        let millimetres = in_millimetres(problem);
        if arguments.folder.is_some() {
            problem = millimetres.as_ref().ok_or_else(|| {
                format!(
                    "{}: bench checks made-up jobs and published instances of one length; leave out --check, or choose others by --only",
                    instance.name
                )
            })?;
        }
        let draft = written(problem, arguments.carry.as_deref());
        let job = validate(&draft).map_err(|faults| format!("{}: {}", instance.name, faults[0]))?;
        let counts = measure(&job, arguments).map_err(|lie| format!("{}: {lie}", instance.name))?;
        writeln!(
            output,
            "{},{},{},{},{},{},{},{},{:.1},{:.1},{:.0}",
            instance.class,
            instance.name,
            counts.proven,
            counts.again,
            counts.searched,
            counts.loose,
            counts.too_large,
            counts.other,
            first(&counts.planning),
            first(&counts.checking),
            first(&counts.bytes),
        )
        .map_err(failed)?;
        classes
            .entry(instance.class.clone())
            .or_default()
            .add(counts);
    }
    writeln!(
        output,
        "\nclass,jobs,proven_again,levels_{figures},again_percent,median_plan_ms,worst_plan_ms,median_check_ms,worst_check_ms,median_plan_file_bytes,worst_plan_file_bytes"
    )
    .map_err(failed)?;
    for (class, counts) in classes {
        writeln!(output, "{class},{}", counts.line()).map_err(failed)?;
    }
    Ok(())
}

fn first(figures: &[f64]) -> f64 {
    figures.first().copied().unwrap_or_default()
}

fn measure(job: &Job, arguments: &Arguments) -> Result<Counts, String> {
    let began = Instant::now();
    let clock = || began.elapsed().as_secs_f64() * 1e3;
    let mut hear = |_: &Plan| {};
    let mut limits = Limits::milliseconds(arguments.seconds * 1e3);
    if arguments.scrap == ScrapAim::Least {
        limits.after_buying = limits.milliseconds;
    }
    let mut counts = Counts {
        jobs: 1,
        ..Counts::default()
    };
    let Planned::Found(plan) = plan_job(job, &mut Patience::new(limits, &clock, &mut hear)) else {
        return Ok(counts);
    };
    let planned = clock();
    counts.planning.push(planned);
    counts.bytes.push(plan_file::write(&plan).len() as f64);
    let planned = clock();
    let checked = check(job, plan).map_err(|lies| lies[0].to_string())?;
    counts.checking.push(clock() - planned);
    for level in checked.groups().iter().flat_map(|group| &group.levels) {
        counts.level(level);
    }
    let mut levels = checked.groups().iter().flat_map(|group| group.deciding());
    counts.whole = usize::from(levels.all(CheckedLevel::is_shown));
    Ok(counts)
}
