//! `lengthwise plan` and `lengthwise check`.

use super::asked::{Allowed, PlanAsked};
use super::codes::{FAULTS, IMPOSSIBLE, NOT_PROVEN, PROVEN};
use super::output::{self, tell};
use super::stop::Stop;
use super::targets::Targets;
use lengthwise::check::{self, CheckedPlan, Effort};
use lengthwise::choices;
use lengthwise::exact_yard::{exact_yard, joined_both, plan_both};
use lengthwise::fault::{Fault, Place};
use lengthwise::group::{Group, groups};
use lengthwise::io::{job_file, parts_table, plan_file, price_table};
use lengthwise::job::{Job, JobDraft, validate};
use lengthwise::length::Length;
use lengthwise::patience::Limits;
use lengthwise::piece::piece_text;
use lengthwise::plan::Plan;
use lengthwise::planner::Planned;
use lengthwise::report;
use lengthwise::savings::{self, Asked};
use lengthwise::sellers;
use lengthwise::sizes;
use lengthwise::wording;
use std::io::IsTerminal;
use std::path::{Path, PathBuf};
use std::time::Instant;

/// The options that name output files.
pub(super) const JSON: &str = "--json";
pub(super) const SVG: &str = "--svg";
pub(super) const CSV: &str = "--csv";
pub(super) const PICTURE: &str = "--picture";

/// Plans a job, prints and writes the results, and returns the exit code.
pub fn plan(asked: &PlanAsked) -> u8 {
    match try_plan(asked) {
        Ok(code) => code,
        Err(Stop { code, message }) => {
            tell(&message);
            code
        }
    }
}

/// Checks a plan file against its job and returns the exit code.
pub fn check(job: &Path, plan: &Path) -> u8 {
    match try_check(job, plan) {
        Ok(code) => code,
        Err(Stop { code, message }) => {
            tell(&message);
            code
        }
    }
}

fn try_plan(asked: &PlanAsked) -> Result<u8, Stop> {
    let inputs: Vec<&Path> = std::iter::once(&asked.job)
        .chain(&asked.parts)
        .chain(&asked.prices)
        .map(PathBuf::as_path)
        .collect();
    let targets = Targets::open(
        &inputs,
        &[
            (JSON, asked.json.as_deref()),
            (SVG, asked.svg.as_deref()),
            (CSV, asked.csv.as_deref()),
            (PICTURE, asked.picture.as_deref()),
        ],
    )?;
    let began = Instant::now();
    let (draft, job) = read_job(
        &asked.job,
        [&asked.parts, &asked.prices].map(|table| table.as_deref()),
    )?;
    let (draft, job, sizes, lengths) = with_sizes(draft, job, asked.allowed, began)?;
    let (limits, milliseconds, more) = match asked.allowed {
        Allowed::Milliseconds(most) => {
            let most = most as f64;
            // Sizes within their ranges were chosen in a part of it.
            let left = match lengths.is_empty() {
                true => most,
                false => most - began.elapsed().as_secs_f64() * 1e3,
            };
            (Limits::planning_within(left), most, "--seconds")
        }
        Allowed::Looks(most) => (Limits::asks(most), f64::INFINITY, "--looks"),
    };
    let (planned, beside) = plan_side_by_side(&job, limits);
    let exact = exact_yard(&job);
    let plan = match planned {
        Planned::Found(plan) => plan,
        Planned::Impossible(lacks) => {
            let message = lacks
                .iter()
                .map(|lack| wording::lack_text(&job, lack))
                .collect::<Vec<_>>()
                .join("\n");
            return Err(Stop {
                code: IMPOSSIBLE,
                message,
            });
        }
        Planned::NothingYet => {
            return Err(Stop {
                code: NOT_PROVEN,
                message: format!(
                    "no plan was found in the time given, which does not mean there is none; give it more with {more}"
                ),
            });
        }
    };
    let mut expired = || began.elapsed().as_secs_f64() * 1e3 > milliseconds;
    let checked = vouch(&job, plan, &mut expired)?;
    let mut report = report::build(&job, &checked);
    if let Some(Planned::Found(beside)) = beside {
        let beside = vouch(&exact, beside, &mut expired)?;
        report.tell_of_exact_cuts(&job, &checked, &beside);
    }
    targets.write(|option| match option {
        JSON => plan_file::write_with_sizes(checked.plan(), &lengths) + "\n",
        SVG => report::standalone(&report.drawing, report::SHEET_WIDTH),
        PICTURE => report::picture(&job),
        _ => report::csv::saw(&report),
    })?;
    let text = piece_text(&job) + &sizes + &report::text::text(&report);
    let written = match output::print(&text) {
        PROVEN => {
            let asked_of = Asked {
                draft: &draft,
                job: &job,
            };
            match print_choices(asked.allowed, asked_of, &checked, began) {
                PROVEN => print_savings(asked.allowed, asked_of, &checked, began),
                failure => failure,
            }
        }
        failure => failure,
    };
    match written {
        PROVEN => Ok(code_of(&checked)),
        failure => Ok(failure),
    }
}

/// What was allowed for all of it.
fn allowed_in_all(allowed: Allowed) -> Limits {
    match allowed {
        Allowed::Milliseconds(most) => Limits::milliseconds(most as f64),
        Allowed::Looks(most) => Limits::asks(most),
    }
}

/// A job as written and as understood, with a length chosen for each size that has a range; the text about them, and the lengths.
type Sized = (JobDraft, Job, String, Vec<(Place, Length)>);

fn with_sizes(draft: JobDraft, job: Job, allowed: Allowed, began: Instant) -> Result<Sized, Stop> {
    let clock = || began.elapsed().as_secs_f64() * 1e3;
    let limits = allowed_in_all(allowed).for_choosing();
    let Some(chosen) = sizes::choose(&draft, &job, limits, &clock) else {
        return Ok((draft, job, String::new(), Vec::new()));
    };
    let job = validate(&chosen.draft)
        .map_err(|faults| Stop::failure(format!("{}: {}", wording::SIZE_NOT_HELD, faults[0])))?;
    let mut text = String::from("Sizes within their ranges\n");
    for size in &chosen.sizes {
        text.push_str(&format!("  {}\n", sizes::chosen_text(&job, size)));
    }
    text.push_str(&format!("  {}\n\n", sizes::told_text(&job, &chosen)));
    let sizes = chosen.sizes.into_iter();
    let lengths = sizes.map(|size| (size.place, size.chosen)).collect();
    Ok((chosen.draft, job, text, lengths))
}

/// Looks for the choices there are, in a share of the time and no longer than is left of it, and prints them where there is more than one.
fn print_choices(allowed: Allowed, asked: Asked, checked: &CheckedPlan, began: Instant) -> u8 {
    let clock = || began.elapsed().as_secs_f64() * 1e3;
    let limits = allowed_in_all(allowed).for_choices(clock());
    let of = (asked.draft, asked.job);
    let found = choices::look(of, checked, limits, &clock, &mut |_| {});
    output::print(&choices::text(asked.job, &found))
}

/// Looks for what would save, in a share of the time and no longer than is left of it, and prints that.
fn print_savings(allowed: Allowed, asked: Asked, checked: &CheckedPlan, began: Instant) -> u8 {
    let clock = || began.elapsed().as_secs_f64() * 1e3;
    let limits = allowed_in_all(allowed).for_saving(clock());
    let [for_yards, limits] = limits.for_yards(asked.job.yards.len());
    let orders = sellers::compare(asked, checked, for_yards, &clock);
    let found = savings::look(asked, checked, limits, &clock, &mut |_| {});
    output::print(&(sellers::told(asked.job, &orders) + &savings::text(asked.job, &found)))
}

fn try_check(job: &Path, plan: &Path) -> Result<u8, Stop> {
    let (draft, mut job) = read_job(job, [None; 2])?;
    let plan = output::read(plan).map_err(Stop::faults)?;
    let (plan, lengths) = plan_file::read_with_sizes(&plan).map_err(Stop::faults)?;
    if !lengths.is_empty() {
        let draft = sizes::as_planned(&draft, &job, &lengths).map_err(Stop::faults)?;
        job = validate(&draft).map_err(|faults| Stop::faults(faults[0].to_string()))?;
    }
    let checked = check::check(&job, plan).map_err(|lies| {
        let found: Vec<String> = lies.iter().map(|lie| format!("- {lie}")).collect();
        Stop {
            code: FAULTS,
            message: format!("the plan does not hold:\n{}", found.join("\n")),
        }
    })?;
    match output::print(&wording::check_text(&job, &checked)) {
        PROVEN => Ok(code_of(&checked)),
        failure => Ok(failure),
    }
}

/// The exit code of a checked plan: proven only where the checker has shown it for everything bought.
fn code_of(checked: &CheckedPlan) -> u8 {
    if checked.verdict().settles_buying() {
        PROVEN
    } else {
        NOT_PROVEN
    }
}

/// Checks a plan of our own: its cuts always, its proof for as long as time is left. A plan that fails is our error, never the person's.
fn vouch(job: &Job, plan: Plan, expired: &mut dyn FnMut() -> bool) -> Result<CheckedPlan, Stop> {
    check::check_while(job, plan, Effort::USUAL, expired).map_err(|lies| {
        let found: Vec<String> = lies.iter().map(|lie| format!("- {lie}")).collect();
        Stop::failure(format!("{}:\n{}", wording::NOT_HELD, found.join("\n")))
    })
}

fn read_job(path: &Path, [parts, prices]: [Option<&Path>; 2]) -> Result<(JobDraft, Job), Stop> {
    let (mut draft, mut faults) = job_file::read(&output::read(path).map_err(Stop::faults)?);
    if let Some(parts) = parts {
        match parts_table::read_strictly(&output::read(parts).map_err(Stop::faults)?) {
            Ok(parts) => draft.parts.extend(parts),
            Err(more) => faults.extend(more),
        }
    }
    if let Some(prices) = prices {
        match price_table::read(&output::read(prices).map_err(Stop::faults)?) {
            Ok(lines) => draft.yard.extend(lines),
            Err(more) => faults.extend(more),
        }
    }
    match job_file::understood(&draft, faults) {
        Ok(job) => Ok((draft, job)),
        Err(faults) => Err(faults_in(path, &faults)),
    }
}

fn faults_in(path: &Path, faults: &[Fault]) -> Stop {
    let lines: Vec<String> = faults.iter().map(|fault| format!("- {fault}")).collect();
    let count = if faults.len() == 1 {
        "a fault".to_owned()
    } else {
        format!("{} faults", faults.len())
    };
    Stop {
        code: FAULTS,
        message: format!("{} has {count}:\n{}", path.display(), lines.join("\n")),
    }
}

/// Plans the groups of a job at the same time, one thread each; beside the plan, the one with a yard that saws exactly, where that is another.
fn plan_side_by_side(job: &Job, limits: Limits) -> (Planned, Option<Planned>) {
    let groups = groups(job);
    let shown = std::io::stderr().is_terminal();
    let planned = std::thread::scope(|scope| {
        let started: Vec<_> = groups
            .iter()
            .enumerate()
            .map(|group| scope.spawn(move || plan_one(job, group, limits, shown)))
            .collect();
        started
            .into_iter()
            .map(|thread| thread.join())
            .collect::<Result<Vec<_>, _>>()
    });
    match planned {
        Ok(planned) => joined_both(planned),
        Err(panic) => std::panic::resume_unwind(panic),
    }
}

fn plan_one(
    job: &Job,
    (index, group): (usize, &Group),
    limits: Limits,
    shown: bool,
) -> (Planned, Option<Planned>) {
    let began = Instant::now();
    let clock = || began.elapsed().as_secs_f64() * 1e3;
    let mut hear = |plan: &Plan| {
        if shown {
            let levels: Vec<String> = plan
                .proofs
                .iter()
                .flat_map(|proof| &proof.levels)
                .map(|level| wording::level_text(job, level))
                .collect();
            tell(&format!(
                "{:7.2} s  {}: {}",
                began.elapsed().as_secs_f64(),
                wording::sections_together(job, &group.sections),
                levels.join(", ")
            ));
        }
    };
    plan_both(job, (index, group), limits, &clock, &mut hear)
}
