//! Of plans that are equally good, one in which a spoiled part costs least to replace.
//!
//! **Idea.** A part can be replaced for nothing where a piece is left that holds it. So the longest part of which no piece left holds one more is planned once
//! more than it is wanted. Where that plan is as good, it is taken without the part too many: the piece for it is then left in one. Shorter parts are tried after
//! it, and what holds a longer part holds them.
//!
//! **Invariant.** What is returned cuts the same parts, and comes to the same at every level as what was given, so all that is proven of that holds of
//! it. **Why it ends:** each length of part is planned at most once, within so many looks.

use crate::problem::{Cutting, Problem};
use crate::solve::{Aims, Outcome, ScrapAim, Solution, Watch, solve};

/// Most lengths of parts that are tried, and most looks that each may take. It is a small thing to most people, so it takes little time.
const MOST_KINDS: usize = 4;
const LOOKS: u64 = 200;

type Cuttings = Vec<(Cutting, u32)>;

/// Cuttings as good as those of a solution that leave room for a longer part; `None` where these are as good as any that were found.
pub fn better_kept(
    problem: &Problem,
    solution: &Solution,
    watch: &mut dyn Watch,
) -> Option<Cuttings> {
    let (scrap, costs) = solution.levels.split_last()?;
    if !costs.iter().all(|level| level.proven()) {
        return None;
    }
    let used = scrap.value + problem.wanted();
    let mut kinds: Vec<(i64, usize)> = (0..problem.demand.len())
        .map(|part| (length(problem, part), part))
        .collect();
    order::sort(&mut kinds);
    kinds.dedup_by_key(|(length, _)| *length);
    for &(_, part) in kinds.iter().rev().take(MOST_KINDS) {
        if has_room(problem, &solution.cuttings, part) {
            return None;
        }
        let mut more = problem.clone();
        more.demand[part] += 1;
        let aims = Aims {
            scrap: ScrapAim::Least,
        };
        let mut looks = Looks { watch, left: LOOKS };
        let Outcome::Found(found) = solve(&more, aims, &mut looks) else {
            continue;
        };
        let as_good =
            |(one, other): (&crate::solve::Level, &crate::solve::Level)| one.value == other.value;
        if !costs.iter().zip(&found.levels).all(as_good) {
            continue;
        }
        if let Some(cuttings) = without_one(problem, found.cuttings, (part, used)) {
            return Some(cuttings);
        }
    }
    None
}

fn length(problem: &Problem, part: usize) -> i64 {
    let fits = problem
        .sections
        .iter()
        .filter_map(|section| section.fits[part]);
    fits.map(|fit| fit.length).max().unwrap_or_default()
}

/// Whether one more of a part fits on a board as it is cut, or on one of the shed that is not.
fn has_room(problem: &Problem, cuttings: &Cuttings, part: usize) -> bool {
    let fits_in = |cutting: &Cutting| {
        (0..cutting.runs.len()).any(|run| {
            let mut more = cutting.clone();
            let parts = &mut more.runs[run];
            match parts.iter_mut().find(|(other, _)| *other == part) {
                Some((_, count)) => *count += 1,
                None => {
                    parts.push((part, 1));
                    order::sort(parts);
                }
            }
            problem.used(&more).is_some()
        })
    };
    let is_free = |board: &usize| {
        let own = &problem.boards[*board];
        let taken: u32 = cuttings
            .iter()
            .filter(|(cutting, _)| cutting.board == *board)
            .map(|(_, count)| count)
            .sum();
        own.cost.iter().all(|cost| *cost == 0) && own.supply.is_none_or(|supply| supply > taken)
    };
    let untouched = (0..problem.boards.len()).filter(is_free).map(|board| {
        let runs = match &problem.boards[board].shape {
            crate::problem::Shape::Runs(runs) => runs.len(),
            crate::problem::Shape::OneCut { .. } => 2,
        };
        Cutting {
            board,
            runs: vec![Vec::new(); runs],
        }
    });
    cuttings.iter().any(|(cutting, _)| fits_in(cutting))
        || untouched.into_iter().any(|cutting| fits_in(&cutting))
}

/// The cuttings less one of a part, where they use up this length then.
fn without_one(
    problem: &Problem,
    cuttings: Cuttings,
    (part, used): (usize, i64),
) -> Option<Cuttings> {
    let before: i64 = cuttings
        .iter()
        .map(|(cutting, count)| Some(problem.used(cutting)? * i64::from(*count)))
        .sum::<Option<i64>>()?;
    for (at, (cutting, count)) in cuttings.iter().enumerate() {
        for run in 0..cutting.runs.len() {
            let mut less = cutting.clone();
            let Some(one) = less.runs[run].iter_mut().find(|(other, _)| *other == part) else {
                continue;
            };
            one.1 -= 1;
            less.runs[run].retain(|(_, count)| *count > 0);
            let is_touched = less.runs.iter().any(|run| !run.is_empty());
            let Some(after) = problem.used(&less).filter(|_| is_touched) else {
                continue;
            };
            if before - problem.used(cutting)? + after != used {
                continue;
            }
            let mut found = cuttings.clone();
            match count {
                1 => found[at].0 = less,
                _ => {
                    found[at].1 -= 1;
                    found.push((less, 1));
                }
            }
            return Some(found);
        }
    }
    None
}

/// A watch that gives so many looks and no more.
pub struct Looks<'a> {
    /// Which it asks as well.
    pub watch: &'a mut dyn Watch,
    /// How many are left.
    pub left: u64,
}

impl Watch for Looks<'_> {
    fn expired(&mut self) -> bool {
        if self.left == 0 || self.watch.expired() {
            return true;
        }
        self.left -= 1;
        false
    }

    fn prices(&self, parts: usize) -> usize {
        self.watch.prices(parts)
    }
}
