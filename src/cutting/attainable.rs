//! The totals that an objective can come to, to which bounds are rounded up.
//!
//! **Idea.** A total of a cost level is a sum of board costs, each taken at most as often as there are boards of its kind: a bounded subset-sum
//! problem, whose attainable sums are listed by dynamic programming (Bellman 1957; the count of copies used beside each sum is common practice
//! for bounded items). Where the list would be too long, and for lengths used up, every multiple of the common divisor is taken for
//! attainable.
//!
//! Below the floor of a level all totals count as the floor.
//!
//! **Invariant.** After each kind of board, `attainable[t]` holds exactly where `t` is a sum of boards of the kinds so far. **Why it ends:** one
//! pass over the totals for each kind of board.

use crate::arithmetic::greatest_common_divisor;
use crate::laying::Trailing;
use crate::limits::{LISTED_TOTALS, TOTALS_STEPS};
use crate::objective::Objective;
use crate::problem::{Problem, Shape};

/// The totals that an objective can come to, sums of board costs or of lengths used up: a bound is raised to the next of them.
pub(crate) struct AttainableTotals {
    divisor: i64,
    /// Whether `index * divisor` is attainable; beyond its end every multiple is taken for attainable.
    attainable: Vec<bool>,
    /// No total counts as less.
    floor: i64,
}

impl AttainableTotals {
    /// The totals of an objective that matter: up to `most`.
    pub(crate) fn new(problem: &Problem, objective: Objective, most: i64) -> Self {
        let every = |divisor| AttainableTotals {
            divisor,
            attainable: Vec::new(),
            floor: 0,
        };
        let level = match objective {
            Objective::Cost(level) => level,
            Objective::UsedLength => return every(step_of_used(problem)),
            Objective::Shortfall | Objective::TouchedLength | Objective::Stretch => {
                return every(1);
            }
        };
        let priced = || problem.boards.iter().filter(|board| board.cost[level] > 0);
        let divisor = priced()
            .fold(0, |divisor, board| {
                greatest_common_divisor(divisor, board.cost[level])
            })
            .max(1);
        let floor = problem.floor(level);
        let length = most / divisor + 1;
        let kinds = priced().count() as i64;
        if !(0..LISTED_TOTALS).contains(&length) || length * kinds > TOTALS_STEPS {
            return AttainableTotals {
                divisor,
                attainable: Vec::new(),
                floor,
            };
        }
        let length = place(length);
        let mut attainable = vec![false; length];
        attainable[0] = true;
        for board in priced() {
            let step = place(board.cost[level] / divisor);
            let supply = board.supply.unwrap_or(u32::MAX);
            // How many boards of this kind the total has used at least; unreached totals have used too many.
            let mut spent = vec![0u32; length];
            for total in step..length {
                if !attainable[total] && attainable[total - step] && spent[total - step] < supply {
                    attainable[total] = true;
                    spent[total] = spent[total - step] + 1;
                }
            }
        }
        AttainableTotals {
            divisor,
            attainable,
            floor,
        }
    }

    /// The least total that is at least `bound`.
    pub(crate) fn round_up(&self, bound: i64) -> i64 {
        if bound <= self.floor {
            return self.floor;
        }
        let first = bound.saturating_add(self.divisor - 1) / self.divisor;
        let next = (place(first)..self.attainable.len()).find(|&index| self.attainable[index]);
        next.map_or(first.max(self.attainable.len() as i64), |index| {
            index as i64
        }) * self.divisor
    }

    /// The greatest total that is less than `value`, as far as totals are listed.
    pub(crate) fn largest_below(&self, value: i64) -> i64 {
        self.floor.max(self.largest_sum_below(value))
    }

    fn largest_sum_below(&self, value: i64) -> i64 {
        let last = (value - 1).div_euclid(self.divisor);
        let known = (0..self.attainable.len().min(place(last + 1)))
            .rev()
            .find(|&index| self.attainable[index]);
        match known {
            Some(index) if place(last) < self.attainable.len() => index as i64 * self.divisor,
            _ => last * self.divisor,
        }
    }
}

/// Where a total stands in the list: a place is 32 bits wide in the page, so what is beyond that is beyond every list. Below zero it is the first.
fn place(total: i64) -> usize {
    usize::try_from(total.max(0)).unwrap_or(usize::MAX)
}

/// What every length used up is a multiple of: the common divisor of all that one is made up of. By [`Section::used`](crate::problem::Section::used)
/// a run is used up whole, with its tail, or as far as its parts and cuts fill it; of a length cut at the yard the cut is where a piece is as long as
/// it may be, is filled to its end, or leaves an offcut just long enough to keep ([`Section::cut_once`](crate::problem::Section::cut_once)).
fn step_of_used(problem: &Problem) -> i64 {
    let mut made_of = Vec::new();
    for (index, board) in problem.boards.iter().enumerate() {
        for way in problem.standings(index) {
            made_of.push(way.lost);
            match &*way.shape {
                Shape::Runs(runs) => made_of.extend(runs.iter().map(|run| run.length + run.tail)),
                &Shape::OneCut { together, each } => {
                    let keep = problem.sections[board.section].keep;
                    made_of.extend([together, each[0], each[1], keep]);
                }
            }
        }
    }
    for section in &problem.sections {
        for (part, fit) in section.fits.iter().enumerate() {
            let (Some(fit), Some(trailing)) = (fit, section.trailing(part)) else {
                continue;
            };
            made_of.push(fit.length);
            match trailing {
                Trailing::Own(cut) | Trailing::Post(cut, _) => made_of.push(cut),
                Trailing::Nested(kind) => {
                    made_of.push(section.kerf);
                    for mitre in kind.into_iter().flatten() {
                        let mitre = section.mitres[mitre];
                        made_of.extend([mitre.kerf, mitre.saving]);
                    }
                }
            }
        }
    }
    made_of.into_iter().fold(0, greatest_common_divisor).max(1)
}
