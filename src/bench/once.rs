//! One problem solved with a limited number of clock checks; the answer is a text by which two builds can be compared.
//!
//! Where time decides when to stop, two builds of different speed stop in different places. So a build that was stopped by its clock
//! reports how often it had checked it. Another build that is given that number stops in the same place.

use super::{job_files, parse, practical};
use crate::certificate::Certificate;
use crate::problem::{Cutting, Problem};
use crate::solve::{Aims, Effort, Level, Outcome, ScrapAim, Watch, solve};
use std::fmt;

/// How long the engine may run.
pub struct Allowance<'late> {
    looks: u64,
    taken: u64,
    late: Option<&'late dyn Fn() -> bool>,
}

impl<'late> Allowance<'late> {
    /// This many clock checks; the last of them stops the search.
    pub fn of_looks(looks: u64) -> Self {
        Allowance {
            looks,
            taken: 0,
            late: None,
        }
    }

    /// Until `late` returns true, and for at most `looks` clock checks.
    pub fn until(late: &'late dyn Fn() -> bool, looks: u64) -> Self {
        Allowance {
            late: Some(late),
            ..Allowance::of_looks(looks)
        }
    }

    /// The number of clock checks that stops another run where this one stopped.
    pub fn looks(&self) -> u64 {
        self.looks
    }
}

impl Watch for Allowance<'_> {
    fn expired(&mut self) -> bool {
        self.taken += 1;
        if self.taken < self.looks && self.late.is_some_and(|late| late()) {
            self.looks = self.taken;
        }
        self.taken >= self.looks
    }
}

/// The result of a problem.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Answer {
    /// The levels; none where there is no plan.
    pub levels: Vec<Level>,
    /// Whether it is proven that no plan exists.
    pub impossible: bool,
    /// The cuttings, each with the number of boards it is cut from.
    pub cuttings: Vec<(Cutting, u32)>,
    /// A digest of the certificate.
    pub proof: u64,
    /// The work done: nodes and columns.
    pub effort: Effort,
}

impl Answer {
    /// Whether every level is proven, or it is proven that no plan exists.
    pub fn proven(&self) -> bool {
        let all = self.levels.iter().all(|level| level.proven());
        self.impossible || !self.levels.is_empty() && all
    }
}

/// Line by line: the values, the bounds, the nodes and columns, the digest of the proof, then the cuttings.
impl fmt::Display for Answer {
    fn fmt(&self, output: &mut fmt::Formatter) -> fmt::Result {
        let join = |figure: fn(&Level) -> i64| {
            let figures = self.levels.iter().map(|level| figure(level).to_string());
            figures.collect::<Vec<_>>().join(" ")
        };
        writeln!(output, "{}", join(|level| level.value))?;
        writeln!(output, "{}", join(|level| level.bound))?;
        writeln!(output, "{} {}", self.effort.nodes, self.effort.columns)?;
        writeln!(output, "{:016x}", self.proof)?;
        for (cutting, count) in &self.cuttings {
            writeln!(output, "{count} of {}: {:?}", cutting.board, cutting.runs)?;
        }
        Ok(())
    }
}

/// Solves the problem that `text` describes: an instance file, `practical SIZE SEED INDEX`, or `job GROUP` on the line before a job file.
///
/// # Errors
/// Why the text describes no problem.
pub fn solve_text(
    text: &str,
    least_scrap: bool,
    allowance: &mut Allowance,
) -> Result<Answer, String> {
    let problem = match (practical(text), job_files::problem_of_group(text)) {
        (Some(problem), _) => problem,
        (None, Some(problem)) => problem?,
        (None, None) => parse(text)?,
    };
    let scrap = if least_scrap {
        ScrapAim::Least
    } else {
        ScrapAim::Ignored
    };
    let outcome = solve(&problem, aims(&problem, scrap), allowance);
    Ok(match outcome {
        Outcome::Found(found) => Answer {
            levels: found.levels,
            impossible: false,
            cuttings: found.cuttings,
            proof: digest(&found.certificate),
            effort: found.effort,
        },
        Outcome::Impossible(_) | Outcome::NothingYet => Answer {
            levels: Vec::new(),
            impossible: matches!(outcome, Outcome::Impossible(_)),
            cuttings: Vec::new(),
            proof: 0,
            effort: Effort::default(),
        },
    })
}

/// The aims for a problem. Scrap counts only in practical jobs, which have two cost levels, a saw with a kerf, or offcuts that are kept;
/// the literature's instances have no such level.
pub fn aims(problem: &Problem, scrap: ScrapAim) -> Aims {
    let levels = problem.boards.first().map_or(0, |board| board.cost.len());
    let mut sections = problem.sections.iter();
    let practical = levels > 1 || sections.any(|section| section.kerf > 0 || section.keep > 0);
    Aims {
        scrap: if practical { scrap } else { ScrapAim::Ignored },
    }
}

/// FNV-1a with 64 bits (Fowler, Noll and Vo) over the debug text of the certificate.
fn digest(certificate: &Option<Certificate>) -> u64 {
    const BASIS: u64 = 0xcbf2_9ce4_8422_2325;
    const PRIME: u64 = 0x0000_0100_0000_01b3;
    format!("{certificate:?}")
        .bytes()
        .fold(BASIS, |digest, byte| {
            (digest ^ u64::from(byte)).wrapping_mul(PRIME)
        })
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::cell::Cell;

    /// The paper mill of the encyclopaedia article "Cutting stock problem": 73 rolls of 5600.
    const MILL: &str = "13\n5600\n1380 22\n1520 25\n1560 12\n1710 14\n1820 18\n1880 18\n1930 20\n2000 10\n2050 12\n2100 14\n\
                        2140 16\n2150 18\n2200 20\n";

    #[test]
    fn a_published_instance_is_solved_from_its_text() {
        let answer = solve_text(MILL, false, &mut Allowance::of_looks(u64::MAX)).unwrap();
        assert!(answer.proven());
        assert!(answer.to_string().starts_with("73\n73\n"));
    }

    #[test]
    fn a_run_stopped_by_its_clock_is_repeated_by_its_looks() {
        let job = "practical large 1 0";
        let left = Cell::new(1_000);
        let late = || {
            left.set(left.get() - 1);
            left.get() == 0
        };
        let mut clock = Allowance::until(&late, u64::MAX);
        let first = solve_text(job, false, &mut clock).unwrap();
        assert_eq!(clock.looks(), 1_000);
        let again = solve_text(job, false, &mut Allowance::of_looks(clock.looks())).unwrap();
        assert_eq!(first, again);
        let longer = solve_text(job, false, &mut Allowance::of_looks(5_000)).unwrap();
        assert_ne!(first, longer);
    }

    #[test]
    fn that_there_is_no_plan_counts_as_proven() {
        // Two lengths of 10 and one of 7: parts of 8 fit only the longer, one to each, and three are wanted.
        let answer = solve_text(
            "2\n10 2 10\n7 1 7\n1\n8 3\n",
            false,
            &mut Allowance::of_looks(u64::MAX),
        )
        .unwrap();
        assert!(answer.impossible && answer.proven());
        let unknown =
            solve_text("practical large 1 0", false, &mut Allowance::of_looks(1)).unwrap();
        assert!(!unknown.proven());
    }

    #[test]
    fn text_that_is_no_problem_says_why() {
        let none = solve_text("1\n", false, &mut Allowance::of_looks(1));
        assert_eq!(none, Err("the file ends too soon".to_owned()));
    }
}
