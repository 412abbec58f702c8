//! Whether the figures of a certificate show the bound they claim.
//!
//! What a leaf asserts is at the head of [`crate::certificate`]. Here it is added up again from the job: what the parts that fit each
//! board are worth at the leaf's prices ([`super::worth`]), what the board is charged, and what is left for the bound. Integers only;
//! products are taken in 128 bits. The work is counted, and figures that would need more than is allowed stay a claim.

use super::ground::{ClearRun, Ground};
use super::lie::{Lie, Misshape};
use super::sums::{self, Kind, Next};
use super::worth::{Steps, TooLarge, Wood, Worths};
use super::{Backing, Reason};
use crate::certificate::{Leaf, LevelProof, Tree};
use crate::job::Job;
use crate::length::Length;
use crate::plan::{Measure, Source};

/// One level of one group, and what the plan says of it.
pub(super) struct Question<'a> {
    pub(super) job: &'a Job,
    /// The sections of the group.
    pub(super) sections: &'a [usize],
    /// What the cost levels measure.
    pub(super) costs: &'a [Measure],
    /// The level: one of the costs, or their number for the length used up.
    pub(super) level: usize,
    /// The plan's totals of the levels before.
    pub(super) values: Vec<i64>,
    /// The bound the plan gives, in the units of the level.
    pub(super) bound: i64,
    /// What the units of the figures are beyond those of the level: the parts' lengths, for scrap.
    pub(super) offset: i64,
    pub(super) measure: Measure,
}

/// How parts may lie on a board.
enum Shape {
    Runs(Vec<ClearRun>),
    /// Carried in two pieces: clear length of both, and the most of either.
    Carried {
        together: i64,
        first: i64,
        second: i64,
    },
}

/// A kind of board of the group.
struct Board {
    source: Source,
    section: usize,
    shape: Shape,
    length: i64,
    costs: Vec<i64>,
    supply: Option<u32>,
}

/// What is known of the way from the root to a leaf.
struct Way<'a> {
    splits: Vec<(&'a [usize], u32, Side)>,
}

#[derive(Clone, Copy, PartialEq, Eq)]
enum Side {
    Fewer,
    More,
}

/// What a tree was found to show.
struct Shown {
    /// The least over its leaves; `None` where no plan is in any of them.
    least: Option<i128>,
    /// Whether a leaf stands for a search.
    searched: bool,
    /// Whether some board was taken to be worth more than it can be.
    loose: bool,
}

enum Stop {
    TooLarge,
    /// A board nobody limits is worth more than it is charged, though this may be for want of exactness.
    Loose,
    Lie(Lie),
}

impl From<TooLarge> for Stop {
    fn from(_: TooLarge) -> Stop {
        Stop::TooLarge
    }
}

/// What stands behind a bound.
///
/// # Errors
/// What is false about its figures.
pub(super) fn back(
    question: &Question,
    claim: &LevelProof,
    steps: &mut Steps,
) -> Result<Backing, Lie> {
    let measure = question.measure;
    let misshapen = |what| Err(Lie::MisshapenFigures { measure, what });
    let cost_level = question.level < question.costs.len();
    if claim.earlier.len() != question.values.len() {
        return misshapen(Misshape::Levels);
    }
    if claim.lifted && !cost_level {
        return misshapen(Misshape::Lift);
    }
    let target = question.bound.saturating_add(question.offset);
    if target > claim.bound {
        return Err(Lie::BoundAboveFigures {
            measure,
            bound: question.bound,
            figures: claim.bound - question.offset,
        });
    }
    let boards = boards(question);
    if let Err(what) = check_tree(question, &claim.tree, &boards, &mut Vec::new()) {
        return misshapen(what);
    }
    if claim
        .earlier
        .iter()
        .zip(&question.values)
        .any(|(earlier, value)| earlier < value)
    {
        return Ok(Backing::ClaimOnly(Reason::OtherTotals));
    }
    let Some(adder) = Adder::of(question, claim, &boards) else {
        return Ok(Backing::ClaimOnly(Reason::TooLarge));
    };
    let shown = match adder.tree(&claim.tree, &mut Way { splits: Vec::new() }, steps) {
        Ok(shown) => shown,
        Err(Stop::TooLarge) => return Ok(Backing::ClaimOnly(Reason::TooLarge)),
        Err(Stop::Loose) => return Ok(Backing::ClaimOnly(Reason::Loose { shown: 0 })),
        Err(Stop::Lie(lie)) => return Err(lie),
    };
    settle(question, claim, &boards, shown, target)
}

/// Compares what was shown with what was claimed.
fn settle(
    question: &Question,
    claim: &LevelProof,
    boards: &[Board],
    shown: Shown,
    target: i64,
) -> Result<Backing, Lie> {
    let measure = question.measure;
    let claimed = if shown.searched {
        claim.shown
    } else {
        claim.bound
    };
    let Some(least) = shown.least else {
        return Ok(Backing::ReProved);
    };
    let lifted = if claim.lifted {
        let kinds: Vec<Kind> = boards
            .iter()
            .map(|board| (board.costs[question.level], board.supply))
            .collect();
        match sums::next_sum(&kinds, least) {
            Next::Sum(sum) => sum,
            Next::Beyond => return Ok(Backing::ReProved),
            Next::TooLarge => return Ok(Backing::ClaimOnly(Reason::TooLarge)),
        }
    } else {
        i64::try_from(least).unwrap_or(if least < 0 { i64::MIN } else { i64::MAX })
    };
    let in_units = |figure: i64| figure.saturating_sub(question.offset);
    if lifted >= target {
        return match claimed > lifted {
            true if shown.loose => Ok(Backing::ReProved),
            true => Err(overstated(
                measure,
                claim,
                least,
                in_units(claimed),
                in_units(lifted),
            )),
            false => Ok(Backing::ReProved),
        };
    }
    if shown.loose && !shown.searched {
        return Ok(Backing::ClaimOnly(Reason::Loose {
            shown: in_units(lifted),
        }));
    }
    if claimed > lifted && !shown.loose {
        return Err(overstated(
            measure,
            claim,
            least,
            in_units(claimed),
            in_units(lifted),
        ));
    }
    Ok(Backing::ClaimOnly(Reason::Searched {
        shown: in_units(lifted),
    }))
}

fn overstated(measure: Measure, claim: &LevelProof, least: i128, claimed: i64, shown: i64) -> Lie {
    if claim.lifted && i128::from(shown) > least {
        Lie::LiftedTooFar {
            measure,
            claimed,
            next: shown,
        }
    } else {
        Lie::BoundNotShown {
            measure,
            claimed,
            shown,
        }
    }
}

/// The boards of the group that can be brought home and hold anything.
fn boards(question: &Question) -> Vec<Board> {
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

/// Whether every split parts the plans in two and every leaf prices what it must.
fn check_tree<'a>(
    question: &Question,
    tree: &'a Tree,
    boards: &[Board],
    way: &mut Vec<&'a [usize]>,
) -> Result<(), Misshape> {
    match tree {
        Tree::Split {
            boards: set,
            fewer,
            more,
            ..
        } => {
            let known = |index: &usize| {
                boards
                    .iter()
                    .any(|board| index_of(question.job, board.source) == *index)
            };
            if set.is_empty()
                || !set.iter().all(known)
                || !set.windows(2).all(|pair| pair[0] < pair[1])
            {
                return Err(Misshape::Cover);
            }
            way.push(set);
            check_tree(question, fewer, boards, way)?;
            check_tree(question, more, boards, way)?;
            way.pop();
            Ok(())
        }
        Tree::Leaf(leaf) | Tree::Searched(leaf) => check_leaf(question, leaf, way.len()),
    }
}

fn check_leaf(question: &Question, leaf: &Leaf, splits: usize) -> Result<(), Misshape> {
    if leaf.parts.len() != question.job.parts.len() {
        return Err(Misshape::Parts);
    }
    if leaf.earlier.len() != question.values.len() {
        return Err(Misshape::Earlier);
    }
    if leaf.splits.len() != splits {
        return Err(Misshape::Splits);
    }
    let prices = leaf.parts.iter().chain(&leaf.earlier).chain(&leaf.splits);
    if leaf.scale < 1 || prices.into_iter().any(|price| *price < 0) {
        return Err(Misshape::BelowZero);
    }
    Ok(())
}

/// How certificates count boards: the yard's lines first, the shed's boards after them.
fn index_of(job: &Job, source: Source) -> usize {
    match source {
        Source::Yard(line) => line,
        Source::Shed(index) => job.yard.len() + index,
    }
}

/// Adds up the leaves of one claim.
struct Adder<'a> {
    question: &'a Question<'a>,
    claim: &'a LevelProof,
    boards: &'a [Board],
    woods: Vec<(usize, Wood)>,
}

impl<'a> Adder<'a> {
    /// Returns `None` where a mitred part is too short for the sums.
    fn of(question: &'a Question, claim: &'a LevelProof, boards: &'a [Board]) -> Option<Adder<'a>> {
        let woods = question
            .sections
            .iter()
            .map(|&section| Wood::of(question.job, section).map(|wood| (section, wood)))
            .collect::<Option<Vec<_>>>()?;
        Some(Adder {
            question,
            claim,
            boards,
            woods,
        })
    }

    fn tree(&self, tree: &'a Tree, way: &mut Way<'a>, steps: &mut Steps) -> Result<Shown, Stop> {
        match tree {
            Tree::Split {
                boards,
                at,
                fewer,
                more,
            } => {
                way.splits.push((boards, *at, Side::Fewer));
                let one = self.tree(fewer, way, steps)?;
                way.splits.pop();
                way.splits.push((boards, *at, Side::More));
                let other = self.tree(more, way, steps)?;
                way.splits.pop();
                Ok(Shown {
                    least: match (one.least, other.least) {
                        (Some(one), Some(other)) => Some(one.min(other)),
                        (one, other) => one.or(other),
                    },
                    searched: one.searched || other.searched,
                    loose: one.loose || other.loose,
                })
            }
            Tree::Leaf(leaf) => self.leaf(leaf, way, steps),
            Tree::Searched(leaf) => Ok(Shown {
                searched: true,
                ..self.leaf(leaf, way, steps)?
            }),
        }
    }

    /// What one leaf shows.
    fn leaf(&self, leaf: &Leaf, way: &Way, steps: &mut Steps) -> Result<Shown, Stop> {
        let job = self.question.job;
        let in_group = |part: &usize| {
            self.question
                .sections
                .contains(&job.parts[*part].sections[0])
        };
        let mut sum: i128 = (0..job.parts.len())
            .filter(in_group)
            .map(|part| i128::from(leaf.parts[part]) * i128::from(job.parts[part].quantity))
            .sum();
        for (price, total) in leaf.earlier.iter().zip(&self.claim.earlier) {
            sum -= i128::from(*price) * i128::from(*total);
        }
        for (price, (_, at, side)) in leaf.splits.iter().zip(&way.splits) {
            match side {
                Side::Fewer => sum -= i128::from(*price) * i128::from(*at),
                Side::More => sum += i128::from(*price) * (i128::from(*at) + 1),
            }
        }
        let mut loose = false;
        for (section, wood) in &self.woods {
            let boards: Vec<&Board> = self
                .boards
                .iter()
                .filter(|board| board.section == *section)
                .collect();
            let longest = boards
                .iter()
                .map(|board| board.shape.longest())
                .max()
                .unwrap_or(0);
            let worths = wood.worths(&leaf.parts, longest, steps)?;
            for board in boards {
                let worth = match self.used_up() {
                    false => worths.board(&board.shape, steps)?,
                    true => match worths.used_up(board, wood.keep, leaf.scale, steps)? {
                        Some(worth) => worth,
                        None => continue,
                    },
                };
                let charge = self.charge(board, leaf, way);
                let excess = (worth - charge).max(0);
                if excess == 0 {
                    continue;
                }
                loose |= board.shape.is_loose();
                match board.supply {
                    Some(supply) => sum -= i128::from(supply) * excess,
                    None if board.shape.is_loose() => return Err(Stop::Loose),
                    None => {
                        return Err(Stop::Lie(Lie::PricesOvercharge {
                            measure: self.question.measure,
                            board: board.source,
                            worth,
                            charge,
                        }));
                    }
                }
            }
        }
        // Rounded up: a total is a whole number.
        let scale = i128::from(leaf.scale);
        let least = sum.div_euclid(scale) + i128::from(sum.rem_euclid(scale) > 0);
        Ok(Shown {
            least: Some(least),
            searched: false,
            loose,
        })
    }

    fn used_up(&self) -> bool {
        self.question.level == self.question.costs.len()
    }

    /// What a board is charged in a leaf.
    fn charge(&self, board: &Board, leaf: &Leaf, way: &Way) -> i128 {
        let mut charge = match self.used_up() {
            true => 0,
            false => i128::from(leaf.scale) * i128::from(board.costs[self.question.level]),
        };
        for (price, cost) in leaf.earlier.iter().zip(&board.costs) {
            charge += i128::from(*price) * i128::from(*cost);
        }
        let index = index_of(self.question.job, board.source);
        for (price, (set, _, side)) in leaf.splits.iter().zip(&way.splits) {
            if set.contains(&index) {
                charge += match side {
                    Side::Fewer => i128::from(*price),
                    Side::More => -i128::from(*price),
                };
            }
        }
        charge
    }
}

impl Shape {
    fn longest(&self) -> i64 {
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
    fn is_loose(&self) -> bool {
        match self {
            Shape::Runs(runs) => runs.len() > 1,
            Shape::Carried { .. } => true,
        }
    }
}

impl Worths {
    /// The most that the parts on a board can be worth.
    fn board(&self, shape: &Shape, steps: &mut Steps) -> Result<i128, TooLarge> {
        match shape {
            Shape::Runs(runs) => Ok(runs.iter().map(|run| self.best(run.length().ticks())).sum()),
            &Shape::Carried {
                together,
                first,
                second,
            } => {
                *steps = steps.checked_sub(8 * self.len()).ok_or(TooLarge)?;
                let alone = self.best(second.min(together));
                let with = self
                    .touched()
                    .filter(|(need, _, _)| *need <= first.min(together))
                    .map(|(need, _, worth)| worth + self.best(second.min(together - need)));
                Ok(with.max().unwrap_or(0).max(alone))
            }
        }
    }

    /// The most that a cutting of a board can be worth less `scale` times what it uses up; `None` where nothing can be cut from it.
    fn used_up(
        &self,
        board: &Board,
        keep: i64,
        scale: i64,
        steps: &mut Steps,
    ) -> Result<Option<i128>, TooLarge> {
        let scale = i128::from(scale);
        match &board.shape {
            Shape::Runs(runs) => {
                *steps = steps
                    .checked_sub(self.len() * runs.len() as u64)
                    .ok_or(TooLarge)?;
                let mut sum = 0;
                let mut dearest_touch: Option<i128> = None;
                let mut lost = board.length;
                for run in runs {
                    let (length, tail) = (run.length().ticks(), run.tail.ticks());
                    lost -= length + tail;
                    let used = |filled: i64| {
                        let offcut = if length > filled {
                            length - filled + tail
                        } else {
                            0
                        };
                        length + tail - if offcut >= keep { offcut } else { 0 }
                    };
                    let left_alone = -scale * i128::from(used(0));
                    let touched = self
                        .touched()
                        .filter(|(need, _, _)| *need <= length)
                        .map(|(_, filled, worth)| worth - scale * i128::from(used(filled)))
                        .max();
                    let best = touched.map_or(left_alone, |touched| touched.max(left_alone));
                    sum += best;
                    // What it costs to touch this run rather than leave the whole board alone.
                    let touch = touched.map(|touched| best - touched);
                    dearest_touch = match (dearest_touch, touch) {
                        (Some(one), Some(other)) => Some(one.min(other)),
                        (one, other) => one.or(other),
                    };
                }
                Ok(dearest_touch.map(|touch| sum - touch - scale * i128::from(lost)))
            }
            &Shape::Carried {
                together,
                first,
                second,
            } => {
                *steps = steps
                    .checked_sub(self.len() * self.len() + 1)
                    .ok_or(TooLarge)?;
                let lost = i128::from(board.length - together);
                let fills: Vec<(i64, i64, i128)> =
                    [(0, 0, 0)].into_iter().chain(self.touched()).collect();
                let mut best: Option<i128> = None;
                for (one_at, one) in fills.iter().enumerate() {
                    for (other_at, other) in fills.iter().enumerate() {
                        if one_at + other_at == 0 {
                            continue;
                        }
                        let (low, high) =
                            (one.0.max(together - second), first.min(together - other.0));
                        if low > high {
                            continue;
                        }
                        let kept = |room: i64, filled: i64| {
                            if room - filled >= keep.max(1) {
                                room - filled
                            } else {
                                0
                            }
                        };
                        let offcuts = [low, high, one.1 + keep, together - other.1 - keep]
                            .into_iter()
                            .map(|cut| cut.clamp(low, high))
                            .map(|cut| kept(cut, one.1) + kept(together - cut, other.1))
                            .max()
                            .unwrap_or(0);
                        let worth =
                            one.2 + other.2 - scale * (lost + i128::from(together - offcuts));
                        best = Some(best.map_or(worth, |best| best.max(worth)));
                    }
                }
                Ok(best)
            }
        }
    }
}
