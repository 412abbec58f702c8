//! Plans from the relaxation: whole boards are fixed, what is left is relaxed again, and so on to the end.
//!
//! Diving as in branch and price (Sadykov and others 2019): everything the solution uses a whole number of times is fixed, or else
//! the pattern nearest to being used once more; patterns that would cut more than is left are trimmed first. With limited
//! discrepancy (Harvey and Ginsberg 1995): a dive may take a lower-ranked pattern at one of its choices, and each dive swerves elsewhere.

use super::clock::{Clock, Stopped};
use super::keep::Keep;
use super::pattern::Pattern;
use super::relax::{Ask, Cut, Relaxation, Side, Size, WHOLE};
use super::stage::{Lift, Stage};
use super::start::{Taste, greedy};

/// Rounds of column generation after each fixing.
const ROUNDS: usize = 25;
/// A pattern used at least this often, once whole numbers are fixed, is fixed together with the first choice.
const NEARLY_WHOLE: f64 = 0.8;
/// How many patterns a dive starts with, for each part.
const SEEDS_PER_PART: usize = 4;

/// Where a dive leaves the likeliest way.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Swerve {
    /// At which of its choices, counted from nothing.
    pub(super) choice: usize,
    /// Which rank it takes there; nothing is the first.
    pub(super) rank: usize,
}

/// Where a dive starts.
pub(super) struct Dive<'d> {
    pub(super) stage: Stage,
    pub(super) earlier: &'d [i64],
    pub(super) lift: &'d Lift,
    /// The relaxation's solution.
    pub(super) solution: Vec<(Pattern, f64)>,
    /// Patterns known, best first.
    pub(super) seeds: &'d [Pattern],
    pub(super) swerve: Swerve,
    /// The splits that the plan is to keep to, with their boards.
    pub(super) path: Vec<(Vec<usize>, Cut)>,
}

/// Dives; offers what it finds. Tells whether a better plan came of it.
pub(super) fn dive(dive: Dive, keep: &mut Keep, clock: &mut Clock) -> Result<bool, Stopped> {
    let problem = keep.problem;
    let mut left = problem.demand.clone();
    let mut supply: Vec<Option<u32>> = problem.boards.iter().map(|board| board.supply).collect();
    let mut fixed: Vec<(Pattern, u32)> = Vec::new();
    let mut solution = dive.solution;
    let mut choices = 0;
    let mut seeds: Vec<Pattern> = dive.seeds.to_vec();
    let mut improved = false;
    let roomy = Size::of(problem) == Size::Usual;
    loop {
        clock.go_on()?;
        let mut any = false;
        for (pattern, times) in &solution {
            let whole = (times + WHOLE).floor() as u32;
            any |= fix(pattern, whole, &mut left, &mut supply, &mut fixed) > 0;
        }
        if !any {
            let mut ranked: Vec<(f64, Pattern)> = solution
                .iter()
                .filter_map(|(pattern, times)| Some((*times, pattern.trimmed(&left)?)))
                .collect();
            ranked.sort_by(|left, right| right.0.total_cmp(&left.0));
            if ranked.is_empty() {
                return Ok(improved);
            }
            if choices == dive.swerve.choice {
                let rank = dive.swerve.rank.min(ranked.len() - 1);
                ranked.swap(0, rank);
            }
            choices += 1;
            for (at, (times, pattern)) in ranked.iter().enumerate() {
                if at == 0 || *times >= NEARLY_WHOLE {
                    any |= fix(pattern, 1, &mut left, &mut supply, &mut fixed) > 0;
                }
            }
            if !any {
                return Ok(improved);
            }
        }
        improved |= complete(keep, &fixed, &left, &supply, dive.stage, clock)?;
        if left.iter().all(|&count| count == 0) {
            return Ok(improved);
        }
        if !roomy {
            return Ok(improved);
        }
        let spent: i64 = fixed
            .iter()
            .map(|(pattern, count)| dive.stage.cost(problem, pattern) * i64::from(*count))
            .sum();
        let cutoff = cutoff(keep, dive.stage).saturating_sub(spent);
        let earlier: Vec<i64> = dive
            .earlier
            .iter()
            .enumerate()
            .map(|(level, value)| {
                value
                    - fixed
                        .iter()
                        .map(|(pattern, count)| {
                            problem.boards[pattern.board].cost[level] * i64::from(*count)
                        })
                        .sum::<i64>()
            })
            .collect();
        if cutoff <= 0 || earlier.iter().any(|&value| value < 0) {
            return Ok(improved);
        }
        let Some(path) = rest_of(&dive.path, &fixed) else {
            return Ok(improved);
        };
        let mut rest = Relaxation::new(problem, dive.stage, left.clone(), supply.clone(), earlier);
        let limit = SEEDS_PER_PART * left.iter().filter(|&&count| count > 0).count() + 20;
        let mut next_seeds = Vec::new();
        for pattern in seeds
            .iter()
            .filter(|pattern| supply[pattern.board] != Some(0))
        {
            if let Some(trimmed) = pattern.trimmed(&left) {
                let before = rest.pool.len();
                rest.add(trimmed.clone());
                if rest.pool.len() > before {
                    next_seeds.push(trimmed);
                }
                if rest.pool.len() >= limit {
                    break;
                }
            }
        }
        let path: Vec<Cut> = path
            .into_iter()
            .map(|(boards, side)| Cut {
                set: rest.set(boards),
                side,
            })
            .collect();
        let ask = Ask {
            path: &path,
            cutoff,
            lift: dive.lift,
            rounds: ROUNDS,
        };
        let relaxed = rest.solve(&ask, clock)?;
        if relaxed.bound >= cutoff || relaxed.left_out > 0.5 {
            return Ok(improved);
        }
        let order = rest.by_reduced_cost().into_iter();
        seeds = order.map(|at| rest.pool[at].clone()).collect();
        solution = relaxed
            .solution
            .iter()
            .map(|&(at, times)| (rest.pool[at].clone(), times))
            .collect();
    }
}

/// What a plan must come to less than, at a stage, to be any better.
pub(super) fn cutoff(keep: &Keep, stage: Stage) -> i64 {
    match stage {
        Stage::Missing => i64::from(keep.best.is_none()),
        Stage::Cost(level) => keep.value(level),
        Stage::Touched | Stage::Stretch => i64::MAX,
        Stage::Used => keep
            .best
            .as_ref()
            .and_then(|best| best.totals.last().copied())
            .unwrap_or(i64::MAX),
    }
}

/// The splits for what is left, with the sides lowered by what is fixed; `None` where too much is fixed already.
fn rest_of<'a>(
    path: &'a [(Vec<usize>, Cut)],
    fixed: &[(Pattern, u32)],
) -> Option<Vec<(&'a [usize], Side)>> {
    path.iter()
        .map(|(boards, cut)| {
            let used: u32 = fixed
                .iter()
                .filter(|(pattern, _)| boards.binary_search(&pattern.board).is_ok())
                .map(|&(_, count)| count)
                .sum();
            let side = match cut.side {
                Side::Fewer(at) => Side::Fewer(at.checked_sub(used)?),
                Side::More(at) => Side::More(at.saturating_sub(used)),
            };
            Some((boards.as_slice(), side))
        })
        .collect()
}

/// Fixes a pattern up to `times`, never cutting more than is left; returns how often.
fn fix(
    pattern: &Pattern,
    times: u32,
    left: &mut [u32],
    supply: &mut [Option<u32>],
    fixed: &mut Vec<(Pattern, u32)>,
) -> u32 {
    let counts = pattern.counts();
    let mut times = counts
        .iter()
        .map(|&(part, count)| left[part] / count)
        .min()
        .unwrap_or(0)
        .min(times);
    if let Some(supply) = &mut supply[pattern.board] {
        times = times.min(*supply);
        *supply -= times;
    }
    if times > 0 {
        for &(part, count) in &counts {
            left[part] -= count * times;
        }
        fixed.push((pattern.clone(), times));
    }
    times
}

/// Finishes what is fixed greedily and offers it.
fn complete(
    keep: &mut Keep,
    fixed: &[(Pattern, u32)],
    left: &[u32],
    supply: &[Option<u32>],
    stage: Stage,
    clock: &mut Clock,
) -> Result<bool, Stopped> {
    let level = if let Stage::Cost(level) = stage {
        level
    } else {
        0
    };
    let mut improved = false;
    for taste in [Taste::Cheapest(level), Taste::Fullest] {
        let mut plan = fixed.to_vec();
        if let Some(rest) = greedy(
            keep.problem,
            taste,
            &mut left.to_vec(),
            &mut supply.to_vec(),
            Some(clock),
        )? {
            plan.extend(rest);
            improved |= keep.offer(&plan, clock);
        }
    }
    Ok(improved)
}
