//! Brings the lengths of several parts closer to what is wanted at once, on the boards of a plan as they are laid.
//!
//! **Idea.** A run of a board has room left behind its last part. Each part may grow as long as what the parts of a run grow by together fits in that room;
//! the sum of what is still missing is made least (a linear program; Dantzig 1963). It works in floats and only proposes: lengths are rounded down to a
//! step, and what comes out is planned exactly before it counts.

use crate::job::Job;
use crate::length::Length;
use crate::plan::PlannedBoard;
use good_lp::{Expression, ProblemVariables, Solution, SolverModel, microlp, variable};

/// Most lengths that are brought closer together, and most runs of boards that they lie in: the linear program has no clock, so its size is what bounds it.
/// Beyond that they go one by one.
const MOST: [usize; 2] = [60, 400];

/// A plan with the sizes at hand.
pub struct Planned {
    /// Its job and its boards, where it has a plan.
    pub boards: Option<(Job, Vec<PlannedBoard>)>,
    /// For each size with a range, the row of the part it is the length of and what is wanted; no row for the size of a set-out, which stays.
    pub parts: Vec<(Option<usize>, Length)>,
}

/// Lengths that are closer to what is wanted; `None` where there is no plan, or it is too large.
pub fn closer(job: &Job, planned: &Planned, at: &[Length]) -> Option<Vec<Length>> {
    let (of, boards) = planned.boards.as_ref()?;
    let runs = boards.iter().flat_map(|board| &board.runs);
    if planned.parts.len() > MOST[0] || runs.clone().count() > MOST[1] {
        return None;
    }
    let mut variables = ProblemVariables::new();
    let mut grow = Vec::new();
    for ((part, wanted), now) in planned.parts.iter().zip(at) {
        let most = match part {
            Some(_) => (wanted.ticks() - now.ticks()).max(0) as f64,
            None => 0.0,
        };
        grow.push(variables.add(variable().min(0.0).max(most)));
    }
    let all: Expression = grow.iter().copied().sum();
    let mut model = variables.maximise(all).using(microlp);
    for run in runs {
        let Some(last) = run.cuts.last() else {
            continue;
        };
        let room = (run.to - last.end).ticks().max(0) as f64;
        let grown = run.cuts.iter().filter_map(|cut| {
            let row = of.parts[cut.part].row?;
            let mut parts = planned.parts.iter();
            Some(grow[parts.position(|(part, _)| *part == Some(row))?])
        });
        let grown: Expression = grown.sum();
        model.add_constraint(grown.leq(room));
    }
    let solution = model.solve().ok()?;
    let mut closer = Vec::new();
    for ((now, grow), (part, wanted)) in at.iter().zip(grow).zip(&planned.parts) {
        let grown = Length::from_ticks(now.ticks() + solution.value(grow).floor() as i64);
        closer.push(match part {
            Some(_) if grown >= *wanted => *wanted,
            Some(_) => grown.down_to(job.step).max(*now),
            None => *now,
        });
    }
    Some(closer)
}
