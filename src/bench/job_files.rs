//! Job files as problems: one for each group of sections that are planned together.

use crate::fault::Fault;
use crate::group::groups;
use crate::io::job_file;
use crate::job::validate;
use crate::problem::Problem;

/// The problems of a job file's text, in the order of its groups.
///
/// # Errors
/// The first fault of the job.
pub(super) fn problems(text: &str) -> Result<Vec<Problem>, String> {
    let first = |faults: &[Fault]| {
        let first = faults.first().map(ToString::to_string);
        first.unwrap_or_else(|| "the job cannot be read".to_owned())
    };
    let (draft, faults) = job_file::read(text);
    if !faults.is_empty() {
        return Err(first(&faults));
    }
    let job = validate(&draft).map_err(|faults| first(&faults))?;
    Ok(groups(&job)
        .into_iter()
        .map(|group| group.problem)
        .collect())
}

/// The text that stands for one group of a job: `job GROUP` on the first line, then the file. [`problem_of_group`] reads it.
#[cfg(not(target_arch = "wasm32"))]
pub(super) fn of_group(group: usize, text: &str) -> String {
    format!("{MARK}{group}\n{text}")
}

/// The problem of a text that [`of_group`] made; `None` for any other text.
pub(super) fn problem_of_group(text: &str) -> Option<Result<Problem, String>> {
    let (group, job) = text.strip_prefix(MARK)?.split_once('\n')?;
    let group: usize = group.parse().ok()?;
    let problem = problems(job).and_then(|problems| {
        let problem = problems.into_iter().nth(group);
        problem.ok_or_else(|| "the job has no such group".to_owned())
    });
    Some(problem)
}

const MARK: &str = "job ";
