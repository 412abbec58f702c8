//! What the material alone asks for: a bound that needs no search.
//!
//! **Idea.** A run of clear length `u` takes parts whose lengths and cuts add up to at most `u` and one last cut, so the parts of a plan ask
//! for so much timber, and timber costs at least what a tick of the cheapest board costs; where boards are limited, the cheapest come first (the
//! bound of G. B. Dantzig, Discrete-variable extremum problems, Operations Research 5, 1957, for one knapsack). It is told as a leaf of a
//! certificate: each part is worth its length with its cut, at the price of a tick of the board at which everything is held.
//!
//! **Why it holds.** Let a part's *weight* be its length and its own cut, or where it can share cuts half of what stands at each of its ends, rounded
//! down: `kerf - saving` of a mitre, at most the square kerf `k`, and `k` at a square end. A shared cut is weighed by the two ends that meet in it; of a trail
//! of parts the last cut is at least `k`, which the open ends at its two sides weigh. Then the parts of a run weigh no more than its clear length and the widest
//! last cut `l` ([`Section::lay`](crate::problem::Section::lay)). With `q` price units for a tick of weight, no cutting of a board is worth more than
//! `q * (sum of run + l)`, which a scale of at least that over the board's cost covers; limited boards that it does not cover are charged for what is
//! beyond. Of the length used up a run takes all that its parts weigh, but for a last cut that is wider than the run's tail, which is taken off each
//! part.
//!
//! **Why it ends:** there is no loop but over parts, boards and runs.

use crate::arithmetic::{ceiling, greatest_common_divisor};
use crate::attainable::AttainableTotals;
use crate::incumbent::Incumbent;
use crate::laying::Trailing;
use crate::objective::Objective;
use crate::problem::{Board, Problem, Section, Shape, Ticks};
use proof::certificate::{Branch, Leaf, LevelProof, MOST_FIGURE};

/// Prices and the scale stay below this.
const LARGEST_FIGURE: i64 = MOST_FIGURE / 2;

/// A bound and the prices that show it.
pub(crate) struct MaterialBound {
    /// No plan has a smaller total; not lifted.
    pub(crate) bound: i64,
    pub(crate) leaf: Leaf,
    /// What the parts on a board of each kind can be worth beyond its cost at these prices, in price units.
    pub(crate) excess: Vec<i64>,
}

/// The same of one objective.
struct Told {
    bound: i64,
    scale: i64,
    /// Prices of parts.
    parts: Vec<i64>,
    excess: Vec<i64>,
}

impl MaterialBound {
    /// What the material asks for at an objective, with so many earlier levels, whose prices are zero.
    pub(crate) fn of(problem: &Problem, objective: Objective, earlier: usize) -> MaterialBound {
        let told = match objective {
            Objective::Cost(level) => of_cost(problem, level),
            Objective::UsedLength => of_used(problem),
            Objective::Shortfall | Objective::TouchedLength | Objective::Stretch => None,
        };
        let told = told.unwrap_or_else(|| Told {
            bound: 0,
            scale: 1,
            parts: vec![0; problem.demand.len()],
            excess: vec![0; problem.boards.len()],
        });
        MaterialBound {
            bound: told.bound.max(0),
            leaf: Leaf {
                scale: told.scale,
                parts: told.parts,
                earlier: vec![0; earlier],
                splits: Vec::new(),
            },
            excess: told.excess,
        }
    }
}

/// The proof of a level of which nothing else was shown: no program was made of it, or time was up before.
pub(crate) fn level_proof(objective: Objective, incumbent: &Incumbent) -> LevelProof {
    let level = incumbent.level_of(objective);
    let earlier = incumbent.earlier(level).into_iter();
    let earlier: Vec<i64> = earlier.map(|level| level.1).collect();
    let material = MaterialBound::of(incumbent.problem, objective, earlier.len());
    let value = incumbent.value(level);
    let attainable = AttainableTotals::new(incumbent.problem, objective, value);
    let bound = attainable.round_up(material.bound).min(value);
    LevelProof {
        level,
        earlier,
        bound,
        shown: bound,
        lifted: true,
        tree: vec![Branch::Leaf(material.leaf)],
    }
}

fn of_cost(problem: &Problem, level: usize) -> Option<Told> {
    let weights = weights(problem);
    let asked = asked(problem, &weights);
    let limits = limits(problem);
    let mut boards: Vec<(i64, i64, Option<u32>)> = problem
        .boards
        .iter()
        .map(|board| {
            (
                board.cost[level],
                room(board, limits[board.section]),
                board.supply,
            )
        })
        .filter(|&(_, room, supply)| room > 0 && supply != Some(0))
        .collect();
    // A tick of the cheapest first; of those alike, what is not limited.
    order::sort_by_key(&mut boards, |&(cost, room, supply)| {
        (CostPerTick(cost, room), supply.is_some())
    });
    let mut held: i128 = 0;
    let &(dearest, most, _) = boards.iter().find(|&&(_, room, supply)| match supply {
        None => true,
        Some(supply) => {
            held += i128::from(room) * i128::from(supply);
            held >= asked
        }
    })?;
    let (unit, scale) = price(dearest, most, weights.iter().copied().max()?)?;
    let excess = |cost: i64, room: i64| {
        let worth = i128::from(unit) * i128::from(room);
        (worth - i128::from(scale) * i128::from(cost)).max(0)
    };
    let mut total = i128::from(unit) * asked;
    for &(cost, room, supply) in &boards {
        total -= excess(cost, room) * i128::from(supply.unwrap_or(0));
    }
    let of_board = |board: &Board| {
        let excess = excess(board.cost[level], room(board, limits[board.section]));
        i64::try_from(excess).unwrap_or(i64::MAX)
    };
    Some(Told {
        bound: i64::try_from(ceiling(total, i128::from(scale))).ok()?,
        scale,
        parts: weights.iter().map(|weight| weight * unit).collect(),
        excess: problem.boards.iter().map(of_board).collect(),
    })
}

/// Price units for a tick of weight, and for a unit of cost, where `cost` pays for `room` and `room * unit <= cost * scale`; exact where that is told
/// in figures that are not too great. `None` where timber is free.
fn price(cost: i64, room: i64, heaviest: i64) -> Option<(i64, i64)> {
    let divisor = greatest_common_divisor(cost, room);
    if cost <= 0 || heaviest <= 0 {
        return None;
    }
    let (unit, scale) = (cost / divisor, room / divisor);
    if unit <= LARGEST_FIGURE / heaviest && scale <= LARGEST_FIGURE {
        return Some((unit, scale));
    }
    let by_scale = i128::from(LARGEST_FIGURE) * i128::from(cost) / i128::from(room);
    let unit = (LARGEST_FIGURE / heaviest).min(i64::try_from(by_scale).unwrap_or(i64::MAX));
    let scale = ceiling(i128::from(unit) * i128::from(room), i128::from(cost));
    (unit > 0).then_some((unit, i64::try_from(scale).ok()?))
}

fn of_used(problem: &Problem) -> Option<Told> {
    let limits = limits(problem);
    // By how much the parts of a board may weigh more than what they use up of it.
    let over = |board: &Board| {
        let last = limits[board.section].map_or(0, |limit| limit.last_cut);
        let beyond: Ticks = match &board.shape {
            Shape::Runs(runs) => runs.iter().map(|run| (last - run.tail).max(0)).sum(),
            Shape::OneCut { .. } => 2 * last,
        };
        // A part at a factory end takes the trim as well, and leaves no tail.
        let gained: Ticks = trims(board).into_iter().sum();
        (beyond + gained - board.lost).max(0)
    };
    let unlimited = problem.boards.iter().filter(|board| board.supply.is_none());
    let off = unlimited.map(over).max().unwrap_or(0);
    let parts: Vec<i64> = weights(problem)
        .into_iter()
        .map(|weight| (weight - off).max(0))
        .collect();
    let excess = |board: &Board| (over(board) - off).max(0);
    let mut total = asked(problem, &parts);
    for board in &problem.boards {
        let supply = i128::from(board.supply.unwrap_or(0));
        total -= i128::from(excess(board)) * supply;
    }
    Some(Told {
        bound: i64::try_from(total).ok()?,
        scale: 1,
        parts,
        excess: problem.boards.iter().map(excess).collect(),
    })
}

/// What all parts weigh that are wanted.
fn asked(problem: &Problem, weights: &[i64]) -> i128 {
    let pairs = weights.iter().zip(&problem.demand);
    pairs
        .map(|(&weight, &count)| i128::from(weight) * i128::from(count))
        .sum()
}

/// The least that each part adds to a fill, on any section; zero where it may be made of none.
fn weights(problem: &Problem) -> Vec<i64> {
    let weight = |part: usize| {
        let weights = problem.sections.iter().filter_map(|section| {
            let length = section.fits[part]?.length;
            Some(match section.trailing(part)? {
                Trailing::Own(cut) | Trailing::Post(cut, _) => length + cut,
                Trailing::Nested(kind) => {
                    let twice = kind.map(|end| match end {
                        None => section.kerf,
                        Some(mitre) => section.mitres[mitre].kerf - section.mitres[mitre].saving,
                    });
                    length + (twice[0] + twice[1]).div_euclid(2)
                }
            })
        });
        weights.min().unwrap_or(0).max(0)
    };
    (0..problem.demand.len()).map(weight).collect()
}

/// What bounds the fill of a run of one section.
#[derive(Clone, Copy)]
struct SectionLimit {
    /// The widest cut that can be last.
    last_cut: Ticks,
    /// The shortest part.
    shortest: Ticks,
}

/// For each section its limit; none where no part is made of it.
fn limits(problem: &Problem) -> Vec<Option<SectionLimit>> {
    let limit = |section: &Section| {
        let mitres = section.mitres.iter().map(|mitre| mitre.kerf);
        let widest = mitres.chain([section.kerf]).max().unwrap_or(0);
        let parts = section.fits.iter().enumerate();
        let limits = parts.filter_map(|(part, fit)| {
            Some(SectionLimit {
                shortest: fit.as_ref()?.length,
                last_cut: match section.trailing(part)? {
                    Trailing::Own(cut) | Trailing::Post(cut, _) => cut,
                    Trailing::Nested(kind) if section.reversible && kind.contains(&None) => {
                        section.kerf
                    }
                    Trailing::Nested(_) => widest,
                },
            })
        });
        limits.reduce(|one, other| SectionLimit {
            last_cut: one.last_cut.max(other.last_cut),
            shortest: one.shortest.min(other.shortest),
        })
    };
    problem.sections.iter().map(limit).collect()
}

/// What the parts of one board weigh at the most.
fn room(board: &Board, limit: Option<SectionLimit>) -> i64 {
    let Some(SectionLimit { last_cut, shortest }) = limit else {
        return 0;
    };
    let run = |length: Ticks| {
        if length >= shortest {
            length + last_cut
        } else {
            0
        }
    };
    let gained = trims(board);
    match &board.shape {
        Shape::Runs(runs) => {
            let last = runs.len().saturating_sub(1);
            let runs = runs.iter().enumerate().map(|(at, each)| {
                let ends = [(0, gained[0]), (last, gained[1])].into_iter();
                let more: Ticks = ends
                    .map(|(end, trim)| if end == at { trim } else { 0 })
                    .sum();
                run(each.length + more)
            });
            runs.sum()
        }
        &Shape::OneCut { together, each } => {
            let pieces = run(each[0] + gained[0]) + run(each[1] + gained[1]);
            pieces.min(together + gained[0] + gained[1] + 2 * last_cut)
        }
    }
}

/// By how much parts at the factory ends of a board may reach beyond its clear runs.
fn trims(board: &Board) -> [Ticks; 2] {
    let ends = board.factory.map_or([None; 2], |ends| ends.trims);
    ends.map(|trim| trim.unwrap_or(0))
}

/// A cost for so much room, ordered by the cost of a tick.
#[derive(PartialEq, Eq)]
struct CostPerTick(i64, i64);

impl Ord for CostPerTick {
    fn cmp(&self, other: &CostPerTick) -> std::cmp::Ordering {
        let cross =
            |one: &CostPerTick, other: &CostPerTick| i128::from(one.0) * i128::from(other.1);
        cross(self, other).cmp(&cross(other, self))
    }
}

impl PartialOrd for CostPerTick {
    fn partial_cmp(&self, other: &CostPerTick) -> Option<std::cmp::Ordering> {
        Some(self.cmp(other))
    }
}
