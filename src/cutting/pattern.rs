//! A pattern: one way to cut one kind of board. It is the column of the column generation.

use crate::problem::{Cutting, Problem, Run, Ticks};
use std::hash::{DefaultHasher, Hash, Hasher};

/// Parts laid in the runs of one board, each a count of parts.
#[derive(Clone, Debug, PartialEq, Eq, Hash, PartialOrd, Ord)]
pub(crate) struct Pattern {
    /// Index of the kind of board.
    pub(crate) board: usize,
    /// For each run (part, count), ascending by part.
    pub(crate) runs: Vec<Vec<(usize, u32)>>,
}

impl Pattern {
    /// How many of each part there are over all runs: (part, count), ascending by part.
    pub(crate) fn counts(&self) -> Vec<(usize, u32)> {
        added_up(self.runs.iter().flatten().copied().collect())
    }

    /// Without the parts that are more than `wanted`; `None` where nothing is left.
    pub(crate) fn trimmed(&self, wanted: &[u32]) -> Option<Pattern> {
        let mut left: Vec<(usize, u32)> = self
            .counts()
            .iter()
            .map(|&(part, count)| (part, count.min(wanted[part])))
            .collect();
        let mut runs = Vec::with_capacity(self.runs.len());
        for run in &self.runs {
            let mut kept = Vec::with_capacity(run.len());
            for &(part, count) in run {
                if let Ok(at) = left.binary_search_by_key(&part, |entry| entry.0) {
                    let take = count.min(left[at].1);
                    left[at].1 -= take;
                    if take > 0 {
                        kept.push((part, take));
                    }
                }
            }
            runs.push(kept);
        }
        runs.iter().any(|run| !run.is_empty()).then_some(Pattern {
            board: self.board,
            runs,
        })
    }

    /// What of its board it uses up; all of a whole number of boards where it does not fit, which no caller makes happen.
    pub(crate) fn used(&self, problem: &Problem) -> Ticks {
        problem.used(&self.cutting()).unwrap_or(Ticks::MAX / 4)
    }

    /// The offcuts that it keeps of a board of which they may be counted ([`Problem::lasting_runs`]), ascending; of another board none.
    pub(crate) fn kept(&self, problem: &Problem) -> Vec<Ticks> {
        let section = &problem.sections[problem.boards[self.board].section];
        let runs = problem.lasting_runs(self.board).unwrap_or_default();
        let offcut = |(run, parts): (&Run, &Vec<(usize, u32)>)| {
            let need = section.lay(parts)?;
            section
                .keeps(*run, need)
                .then(|| section.offcut(*run, need))
        };
        let mut kept: Vec<Ticks> = runs.iter().zip(&self.runs).filter_map(offcut).collect();
        order::sort(&mut kept);
        kept
    }

    pub(crate) fn cutting(&self) -> Cutting {
        Cutting {
            board: self.board,
            runs: self.runs.clone(),
        }
    }
}

/// Entries of one part made one: (part, count), ascending by part.
pub(crate) fn added_up(mut counts: Vec<(usize, u32)>) -> Vec<(usize, u32)> {
    order::sort(&mut counts);
    counts.dedup_by(|next, first| {
        let same = next.0 == first.0;
        if same {
            first.1 += next.1;
        }
        same
    });
    counts
}

impl Pattern {
    /// A number that equal patterns have in common.
    pub(crate) fn digest(&self) -> u64 {
        let mut hasher = DefaultHasher::new();
        self.hash(&mut hasher);
        hasher.finish()
    }
}
