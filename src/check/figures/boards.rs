//! The kinds of board a group may cut, as certificates see them.

use super::Question;
use crate::check::ground::{ClearRun, Ground};
use crate::job::Job;
use crate::length::Length;
use crate::plan::{Measure, Source};

/// How parts may lie on a board.
#[derive(PartialEq, Eq)]
pub(super) enum Shape {
    Runs(Vec<ClearRun>),
    /// Carried in two pieces: clear length of both, and the most of either.
    Carried {
        together: i64,
        first: i64,
        second: i64,
    },
}

/// A kind of board of the group.
pub(super) struct Board {
    pub(super) source: Source,
    pub(super) section: usize,
    pub(super) shape: Shape,
    pub(super) length: i64,
    pub(super) costs: Vec<i64>,
    pub(super) supply: Option<u32>,
}

/// The boards of the group that can be brought home and hold anything.
pub(super) fn boards(question: &Question) -> Vec<Board> {
    let job = question.job;
    let yard = (0..job.yard.len()).map(Source::Yard);
    let shed = (0..job.shed.len()).map(Source::Shed);
    yard.chain(shed)
        .filter_map(|source| board(question, source))
        .collect()
}

fn board(question: &Question, source: Source) -> Option<Board> {
    let job = question.job;
    let ground = Ground::of(job, source)?;
    if !question.sections.contains(&ground.section) {
        return None;
    }
    let kerf = job.saw.kerf;
    let too_long = |carry: &Length| matches!(source, Source::Yard(_)) && ground.length > *carry;
    let shape = match job.carry.filter(too_long) {
        None => Shape::Runs(ground.runs(kerf)),
        Some(carry) if ground.length - kerf > carry + carry => return None,
        Some(carry) => Shape::Carried {
            together: (ground.length - kerf - ground.trim.datum - ground.trim.far).ticks(),
            first: (carry - ground.trim.datum).ticks(),
            second: (carry - ground.trim.far).ticks(),
        },
    };
    let (costs, supply) = match source {
        Source::Shed(_) => (vec![0; question.costs.len()], Some(1)),
        Source::Yard(line) => {
            let line = &job.yard[line];
            let cost = |measure: &Measure| match measure {
                Measure::Bought => 1,
                Measure::Money => line.price.unwrap_or_default().minor(),
                Measure::BoughtLength => line.length.ticks(),
                Measure::Scrap => 0,
            };
            (question.costs.iter().map(cost).collect(), line.count)
        }
    };
    Some(Board {
        source,
        section: ground.section,
        shape,
        length: ground.length.ticks(),
        costs,
        supply,
    })
}

/// How certificates count boards: the yard's lines first, the shed's boards after them.
pub(super) fn index_of(job: &Job, source: Source) -> usize {
    match source {
        Source::Yard(line) => line,
        Source::Shed(index) => job.yard.len() + index,
    }
}

impl Shape {
    pub(super) fn longest(&self) -> i64 {
        match self {
            Shape::Runs(runs) => runs
                .iter()
                .map(|run| run.length().ticks())
                .max()
                .unwrap_or(0),
            Shape::Carried {
                together,
                first,
                second,
            } => (*first).max(*second).min(*together),
        }
    }

    /// Whether its worth is overstated: each of several runs is allowed the whole demand.
    pub(super) fn is_loose(&self) -> bool {
        match self {
            Shape::Runs(runs) => runs.len() > 1,
            Shape::Carried { .. } => true,
        }
    }
}
