//! The longest offcuts: of the plans that buy as little, one that leaves as long a piece as it can.
//!
//! **Idea.** A plan leaves a piece of some length just where a part of that length more could be cut in it. So a part more is planned, as long as it can be
//! while what is bought stays the same, and taken out again. A longer part never costs less, so halving finds the longest. The same is then done for the next
//! section, with the first piece kept.
//!
//! **Invariant.** What is returned cuts the same parts and buys the same, so all that is proven of buying holds of it. **Why it ends:** each halving
//! ends by itself, and every plan has so many looks.

use crate::problem::{Cutting, End, Fit, Problem, Shape};
use crate::reserve::Looks;
use crate::solve::{Aims, Outcome, ScrapAim, Solution, Watch, solve};

/// Most looks that a plan may take.
const LOOKS: u64 = 300;

/// Most sections of which a piece is left long.
const MOST_SECTIONS: usize = 4;

/// A piece that is left: of which sections of the problem, and how long.
type Left = (Vec<usize>, i64);

/// Cuttings that buy as little as those of a solution and leave the longest pieces found, to such a step; `None` where they leave none long enough to
/// keep. Each entry of `sections` are sections of the problem that are one in the job.
pub fn longest_kept(
    problem: &Problem,
    solution: &Solution,
    (sections, step): (&[Vec<usize>], i64),
    watch: &mut dyn Watch,
) -> Option<Vec<(Cutting, u32)>> {
    let (_, costs) = solution.levels.split_last()?;
    let costs: Vec<i64> = costs.iter().map(|level| level.value).collect();
    let mut as_good = |left: &[Left], scrap: ScrapAim| {
        let mut looks = Looks {
            watch: &mut *watch,
            left: LOOKS,
        };
        match solve(&with(problem, left), Aims { scrap }, &mut looks) {
            Outcome::Found(found) => {
                let values = found.levels.iter().map(|level| level.value);
                let same = values.take(costs.len()).eq(costs.iter().copied());
                same.then_some(found.cuttings)
            }
            _ => None,
        }
    };
    let mut left: Vec<Left> = Vec::new();
    let mut last = None;
    for section in sections.iter().take(MOST_SECTIONS) {
        let least = section.iter().map(|&at| problem.sections[at].keep).min();
        // So many steps above the shortest that is worth keeping.
        let (least, mut does, mut not) =
            (least?.max(step), -1, longest(problem, section) / step + 1);
        while not - does > 1 {
            let middle = does + (not - does) / 2;
            left.push((section.clone(), least + middle * step));
            match as_good(&left, ScrapAim::Ignored) {
                Some(cuttings) => (does, last) = (middle, Some(cuttings)),
                None => not = middle,
            }
            left.pop();
        }
        if does >= 0 {
            left.push((section.clone(), least + does * step));
        }
    }
    let found = as_good(&left, ScrapAim::Least).or(last)?;
    (!left.is_empty()).then(|| without(problem, found))
}

/// The problem with parts for what is left.
fn with(problem: &Problem, left: &[Left]) -> Problem {
    let mut more = problem.clone();
    for (sections, length) in left {
        more.demand.push(1);
        for (at, section) in more.sections.iter_mut().enumerate() {
            let fit = Fit {
                length: *length,
                ends: [End::Square; 2],
            };
            section.fits.push(sections.contains(&at).then_some(fit));
        }
    }
    more
}

/// The cuttings with those parts taken out; a board that nothing else is cut from stays whole.
fn without(problem: &Problem, mut cuttings: Vec<(Cutting, u32)>) -> Vec<(Cutting, u32)> {
    for (cutting, _) in &mut cuttings {
        for run in &mut cutting.runs {
            run.retain(|(part, _)| *part < problem.demand.len());
        }
    }
    cuttings.retain(|(cutting, _)| cutting.runs.iter().any(|run| !run.is_empty()));
    cuttings
}

/// The longest clear run of these sections.
fn longest(problem: &Problem, sections: &[usize]) -> i64 {
    let boards = problem.boards.iter();
    let boards = boards.filter(|board| sections.contains(&board.section));
    let runs = boards.flat_map(|board| match &board.shape {
        Shape::Runs(runs) => runs.iter().map(|run| run.length).collect(),
        Shape::OneCut { each, .. } => each.to_vec(),
    });
    runs.max().unwrap_or(0)
}
