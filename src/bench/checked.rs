//! How many of the planner's proofs the checker confirms and what that costs, measured on practical jobs.

use super::written::written;
use super::{Arguments, Instance};
use crate::check::{CheckedLevel, Reason, Standing, check};
use crate::job::{Job, validate};
use crate::patience::{Limits, Patience};
use crate::plan::Plan;
use crate::planner::{Planned, plan_job};
use std::collections::BTreeMap;
use std::io::Write;
use std::time::Instant;

/// Counts of the levels that the planner claims to have proven, and the time it took.
#[derive(Default)]
struct Counts {
    jobs: usize,
    proven: usize,
    again: usize,
    searched: usize,
    loose: usize,
    too_large: usize,
    other: usize,
    /// Milliseconds of each check.
    checking: Vec<f64>,
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
        self.checking.extend(other.checking);
    }

    fn line(&self) -> String {
        let mut checking = self.checking.clone();
        checking.sort_by(f64::total_cmp);
        let at = |share: usize| {
            let place = checking.len() * share / 100;
            checking.get(place.min(checking.len().saturating_sub(1)))
        };
        let at = |share| at(share).copied().unwrap_or_default();
        format!(
            "{},{},{},{},{},{},{},{:.1},{:.1},{:.1}",
            self.jobs,
            self.proven,
            self.again,
            self.searched,
            self.loose,
            self.too_large,
            self.other,
            at(50),
            at(75),
            at(100),
        )
    }
}

/// Plans and checks the practical jobs that `arguments` chose; prints a line of CSV for each and a summary for each class.
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
    writeln!(output, "class,instance,levels_{figures},check_ms").map_err(failed)?;
    let mut classes: BTreeMap<String, Counts> = BTreeMap::new();
    for instance in instances {
        let draft = written(&instance.problem, arguments.carry.as_deref());
        let job = validate(&draft).map_err(|faults| format!("{}: {}", instance.name, faults[0]))?;
        let counts =
            measure(&job, arguments.seconds).map_err(|lie| format!("{}: {lie}", instance.name))?;
        writeln!(
            output,
            "{},{},{},{},{},{},{},{},{:.1}",
            instance.class,
            instance.name,
            counts.proven,
            counts.again,
            counts.searched,
            counts.loose,
            counts.too_large,
            counts.other,
            counts.checking.first().copied().unwrap_or_default(),
        )
        .map_err(failed)?;
        classes
            .entry(instance.class.clone())
            .or_default()
            .add(counts);
    }
    writeln!(
        output,
        "\nclass,jobs,levels_{figures},median_check_ms,three_quarters_ms,worst_ms"
    )
    .map_err(failed)?;
    for (class, counts) in classes {
        writeln!(output, "{class},{}", counts.line()).map_err(failed)?;
    }
    Ok(())
}

fn measure(job: &Job, seconds: f64) -> Result<Counts, String> {
    let began = Instant::now();
    let clock = || began.elapsed().as_secs_f64() * 1e3;
    let mut hear = |_: &Plan| {};
    let limits = Limits::milliseconds(seconds * 1e3);
    let mut counts = Counts {
        jobs: 1,
        ..Counts::default()
    };
    let Planned::Found(plan) = plan_job(job, &mut Patience::new(limits, &clock, &mut hear)) else {
        return Ok(counts);
    };
    let planned = clock();
    let checked = check(job, plan).map_err(|lies| lies[0].to_string())?;
    counts.checking.push(clock() - planned);
    for level in checked.groups().iter().flat_map(|group| &group.levels) {
        counts.level(level);
    }
    Ok(counts)
}
