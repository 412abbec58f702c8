//! The kinds of board that a group may cut, as certificates number them.

use super::question::Question;
use crate::ground::{ClearRun, Ground, stands};
use crate::wood::{self, Laid, Post, Stock, Wood};
use order::Map;
use timber::job::Job;
use timber::length::Length;
use timber::plan::{Measure, Source};

/// How parts may lie on a board.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) enum Shape {
    Runs(Vec<Run>),
    Carried(Carried),
}

/// A clear run.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Run {
    pub(super) length: i64,
    /// The length that is added to an offcut at its end.
    pub(super) tail: i64,
}

/// A length that is cut once at the yard and carried in two pieces.
#[derive(Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Carried {
    /// The sum of both clear lengths.
    pub(super) together: i64,
    /// The greatest clear length of the piece with the datum end.
    pub(super) first: i64,
    /// The greatest clear length of the other piece.
    pub(super) second: i64,
}

/// Where parts may stand on the ends of a board, from its datum end.
#[derive(Clone, PartialEq, Eq, PartialOrd, Ord)]
pub(super) struct Stands {
    /// The trim at each end on which one may stand.
    trims: [Option<i64>; 2],
    /// The clear runs of a board that is not cut at the yard: where each begins and ends.
    runs: Vec<[i64; 2]>,
    /// A part at the far end is measured to a step, and a cut so wide is before it.
    step: i64,
    widest: i64,
}

/// How parts may lie on a board beside those that stand on its ends.
pub(super) struct Way {
    /// Those parts, as the job counts them.
    pub(super) posts: Vec<usize>,
    pub(super) shape: Shape,
    /// The length of the board.
    length: i64,
}

/// A kind of board of the group.
pub(super) struct Board {
    /// `None` where no part may stand on it.
    pub(super) stands: Option<Stands>,
    pub(super) source: Source,
    pub(super) stock: Stock,
    pub(super) shape: Shape,
    pub(super) length: i64,
    /// At each level of the aim; zero at the length used up.
    pub(super) costs: Vec<i64>,
    pub(super) supply: Option<u32>,
}

/// The boards of the group that can occur in a plan.
///
/// Left out are lengths that cannot be carried home, kinds with a supply of zero, and boards on which no part of the group fits even alone.
/// Nothing can be cut from those, and a board from which nothing is cut is not bought. So they are in no plan, and their costs are in no
/// total.
pub(super) fn boards(question: &Question) -> Vec<Board> {
    let job = question.job;
    let mut shortest = Map::new();
    for part in question.group.parts.iter().map(|&part| &job.parts[part]) {
        for stock in wood::stocks(job, &part.sections) {
            if stock.takes(part) && !stands(job, part, stock.section()) {
                let known = shortest.or_insert_with(stock, || part.length);
                *known = part.length.min(*known);
            }
        }
    }
    let yard = (0..job.yard.len()).map(Source::Yard);
    let shed = (0..job.shed.len()).map(Source::Shed);
    yard.chain(shed)
        .filter_map(|source| board(question, source))
        .filter(|board| {
            let shortest = shortest.get(&board.stock);
            let lies = shortest.is_some_and(|part| part.ticks() <= board.shape.longest());
            board.supply != Some(0) && (lies || board.carries(job))
        })
        .collect()
}

fn board(question: &Question, source: Source) -> Option<Board> {
    let job = question.job;
    let ground = Ground::of(job, source)?;
    question
        .group
        .sections
        .binary_search(&ground.section)
        .ok()?;
    let kerf = job.saw.kerf;
    let too_long = |carry: &Length| matches!(source, Source::Yard(_)) && ground.length > *carry;
    let pack = match source {
        Source::Yard(line) => job.yard[line].pack,
        Source::Shed(_) => 1,
    };
    let shape = match job.carry.filter(too_long) {
        // A pack is one board with the clear runs of all its lengths.
        None => {
            let runs: Vec<Run> = ground.runs(job).iter().map(Run::of).collect();
            Shape::Runs(runs.repeat(pack as usize))
        }
        Some(carry) if ground.length - kerf > carry + carry => return None,
        Some(carry) => Shape::Carried(Carried::of(job, &ground, carry)),
    };
    let costs = &question.group.measures;
    let (costs, supply) = match source {
        Source::Shed(_) => (vec![0; costs.len()], Some(1)),
        Source::Yard(line) => {
            let fee = match shape {
                Shape::Carried(_) => job.cut_fee(line).minor(),
                Shape::Runs(_) => 0,
            };
            let line = &job.yard[line];
            let pack = i64::from(pack);
            let cost = |measure: &Measure| match measure {
                Measure::Bought | Measure::LengthsBeyond => pack,
                Measure::Money => line.price.unwrap_or_default().minor() + fee,
                Measure::BoughtLength | Measure::TimberBeyond => pack * line.length.ticks(),
                Measure::Scrap => 0,
            };
            (costs.iter().map(cost).collect(), line.count)
        }
    };
    let stock = Stock::of(job, &ground);
    Some(Board {
        source,
        stands: Stands::of(job, &ground, question),
        stock,
        shape,
        length: ground.length.ticks() * i64::from(pack),
        costs,
        supply,
    })
}

/// A board's index in certificates: the yard's lines come first, then the shed's boards.
pub(super) fn index_of(job: &Job, source: Source) -> usize {
    match source {
        Source::Yard(line) => line,
        Source::Shed(index) => job.yard.len() + index,
    }
}

impl Run {
    fn of(run: &ClearRun) -> Run {
        Run {
            length: run.length().ticks(),
            tail: run.tail.ticks(),
        }
    }

    /// The offcut at its end.
    fn offcut(&self, laid: Laid) -> i64 {
        match self.length > laid.filled {
            true => self.length - laid.filled + self.tail,
            false => 0,
        }
    }

    /// Whether there is an offcut of at least `keep`.
    pub(super) fn keeps(&self, laid: Laid, keep: i64) -> bool {
        let offcut = self.offcut(laid);
        offcut > 0 && offcut >= keep
    }

    /// The length used up: all of the run except an offcut of at least `keep`.
    pub(super) fn used(&self, laid: Laid, keep: i64) -> i64 {
        let offcut = self.offcut(laid);
        self.length + self.tail - if offcut >= keep { offcut } else { 0 }
    }
}

impl Carried {
    /// The two pieces of a length that is carried in pieces of at most `carry`, over all places of the yard's cut that this allows.
    ///
    /// A piece is clear for all but what its ends lose and the tolerance of the yard, and both together for all but that and the cut, wherever
    /// it is ([`Ground::carried_runs`]). So neither is longer than both, and one that is all trim has nothing. What the
    /// vehicle takes is held against the reading: how far off the yard saws is told, and makes no plan impossible.
    fn of(job: &Job, ground: &Ground, carry: Length) -> Carried {
        let ends = ground.carried_ends(job).map(Length::ticks);
        let together = (ground.length - job.saw.kerf).ticks() - ends[0] - ends[1];
        let together = together.max(0);
        let [first, second] = ends.map(|ends| (carry.ticks() - ends).clamp(0, together));
        Carried {
            together,
            first,
            second,
        }
    }

    /// The length used up of both pieces with these parts in them, with the yard's cut in the best place; `None` where the parts do not
    /// fit.
    ///
    /// An offcut grows with its piece, so the best place is at an end of the cut's range, or where one of the offcuts is just long enough
    /// to keep.
    pub(super) fn used(&self, first: Laid, second: Laid, keep: i64) -> Option<i64> {
        let least = first.need.max(self.together - self.second);
        let most = self.first.min(self.together - second.need);
        let kept = |room: i64, laid: Laid| {
            let offcut = room - laid.filled;
            if offcut >= keep.max(1) { offcut } else { 0 }
        };
        let kept_by_a_cut = |cut: i64| kept(cut, first) + kept(self.together - cut, second);
        let places = [
            least,
            most,
            first.filled + keep,
            self.together - second.filled - keep,
        ];
        let offcuts = places.map(|cut| kept_by_a_cut(cut.clamp(least, most.max(least))));
        (least <= most).then(|| self.together - offcuts.into_iter().max().unwrap_or(0))
    }
}

impl Stands {
    fn of(job: &Job, ground: &Ground, question: &Question) -> Option<Stands> {
        let mut parts = question.group.parts.iter().map(|&part| &job.parts[part]);
        let any = parts.any(|part| {
            part.sections.contains(&ground.section) && stands(job, part, ground.section)
        });
        let may = ground.may_carry(job);
        let trims = [ground.trim.datum.ticks(), ground.trim.far.ticks()];
        let runs = ground.runs(job).into_iter();
        (any && may != [false, false]).then(|| Stands {
            trims: [0, 1].map(|end| may[end].then_some(trims[end])),
            runs: runs.map(|run| [run.from.ticks(), run.to.ticks()]).collect(),
            step: job.step.ticks(),
            widest: ground.widest_of_section(job).ticks(),
        })
    }

    /// How parts lie beside those on the ends of a board of this shape and length; `None` where these do not fit there.
    fn beside(
        &self,
        shape: &Shape,
        length: i64,
        [datum, far]: [Option<&Post>; 2],
    ) -> Option<Shape> {
        let on = |post: Option<&Post>, end: usize| post.is_none_or(|post| post.on[end]);
        if !on(datum, 0) || !on(far, 1) {
            return None;
        }
        // Where the part at the datum end ends with its cut, and where the one at the far end begins.
        let datum = match datum {
            Some(post) => Some((post, self.trims[0].filter(|trim| *trim <= post.length)?)),
            None => None,
        };
        let begins = match far {
            Some(post) => {
                let told = post.length + (-post.length).rem_euclid(self.step);
                self.trims[1].filter(|trim| *trim <= told)?;
                Some(length - told)
            }
            None => None,
        };
        match shape {
            Shape::Runs(runs) => {
                let last = runs.len() - 1;
                let mut ends = self.runs.clone();
                let mut tails: Vec<i64> = runs.iter().map(|run| run.tail).collect();
                if let Some(begins) = begins {
                    if begins < ends[last][0] {
                        return None;
                    }
                    ends[last][1] = begins - self.widest;
                    tails[last] = 0;
                }
                if let Some((post, _)) = datum {
                    let whole = post.length == length && self.trims[1].is_some();
                    if whole && begins.is_none() && last == 0 {
                        (ends[0][1], tails[0]) = (length, 0);
                    }
                    if post.length > ends[0][1] {
                        return None;
                    }
                    ends[0][0] = post.length + post.cut;
                }
                let runs = ends.iter().zip(tails).map(|(&[from, to], tail)| Run {
                    length: (to - from).max(0),
                    tail,
                });
                Some(Shape::Runs(runs.collect()))
            }
            Shape::Carried(carried) => {
                let near = datum.map_or(0, |(post, trim)| post.length + post.cut - trim);
                let told = begins.zip(self.trims[1]);
                let away = told.map_or(0, |(begins, trim)| length - begins + self.widest - trim);
                let together = carried.together - near - away;
                let first = (carried.first - near).min(together);
                let second = (carried.second - away).min(together);
                (together >= 0 && first >= 0 && second >= 0).then_some(Shape::Carried(Carried {
                    together,
                    first,
                    second,
                }))
            }
        }
    }
}

/// Of posts that stand alike the two that are worth most, or the one where it is wanted twice: no board has more than two.
pub(super) fn worthiest(posts: &[Post], worth: impl Fn(usize) -> i64) -> Vec<Post> {
    let mut sorted: Vec<Post> = posts.to_vec();
    order::sort_by_key(&mut sorted, |post| {
        (post.length, post.cut, post.on, -worth(post.part))
    });
    let mut kept: Vec<(Post, u32)> = Vec::new();
    for post in sorted {
        let alike =
            |other: &Post| (other.length, other.cut, other.on) == (post.length, post.cut, post.on);
        let before = match kept.last() {
            Some((other, wanted)) if alike(other) => *wanted,
            _ => 0,
        };
        if before < 2 {
            kept.push((post, before.saturating_add(post.wanted)));
        }
    }
    kept.into_iter().map(|(post, _)| post).collect()
}

impl Way {
    /// The length that is lost whatever else is cut, the parts on the ends counted.
    pub(super) fn lost(&self) -> i64 {
        self.length
            - match &self.shape {
                Shape::Runs(runs) => runs.iter().map(|run| run.length + run.tail).sum(),
                Shape::Carried(carried) => carried.together,
            }
    }

    /// The length used up with these parts in its runs; `None` where they do not fit.
    pub(super) fn used(&self, laid: &[Laid], keep: i64) -> Option<i64> {
        let in_runs = match (&self.shape, laid) {
            (Shape::Runs(runs), laid) => {
                let mut pairs = runs.iter().zip(laid);
                pairs.all(|(run, laid)| laid.need <= run.length).then(|| {
                    runs.iter()
                        .zip(laid)
                        .map(|(run, laid)| run.used(*laid, keep))
                        .sum()
                })
            }
            (Shape::Carried(carried), &[first, second]) => carried.used(first, second, keep),
            _ => None,
        };
        in_runs.map(|used: i64| self.lost() + used)
    }
}

impl Board {
    /// Whether any part stands on one of its ends.
    fn carries(&self, job: &Job) -> bool {
        let (Some(stands), Some(wood)) = (&self.stands, Wood::of(job, self.stock)) else {
            return false;
        };
        let mut posts = wood.posts.iter().map(Some);
        posts.any(|post| {
            let ends = [[post, None], [None, post]].into_iter();
            let mut shapes = ends.map(|posts| stands.beside(&self.shape, self.length, posts));
            shapes.any(|shape| shape.is_some())
        })
    }

    /// The way in which nothing stands on its ends.
    pub(super) fn plain(&self) -> Way {
        Way {
            posts: Vec::new(),
            shape: self.shape.clone(),
            length: self.length,
        }
    }

    /// The ways in which these parts stand on its ends, first that none does.
    pub(super) fn ways(&self, posts: &[Post]) -> Vec<Way> {
        let mut ways = vec![self.plain()];
        let Some(stands) = &self.stands else {
            return ways;
        };
        let choices = || posts.iter().map(Some).chain([None]);
        for datum in choices() {
            for far in choices() {
                let both = datum.zip(far);
                let too_many =
                    both.is_some_and(|(one, other)| one.part == other.part && one.wanted < 2);
                if datum.or(far).is_none() || too_many {
                    continue;
                }
                if let Some(shape) = stands.beside(&self.shape, self.length, [datum, far]) {
                    let parts = [datum, far].into_iter().flatten().map(|post| post.part);
                    ways.push(Way {
                        posts: parts.collect(),
                        shape,
                        length: self.length,
                    });
                }
            }
        }
        ways
    }
}

impl Board {
    /// Whether splits may count its offcuts: it is not cut at the yard, and nothing stands on its ends.
    pub(super) fn counts_offcuts(&self) -> bool {
        self.stands.is_none() && matches!(self.shape, Shape::Runs(_))
    }
}

impl Shape {
    /// The greatest clear length of each run.
    pub(super) fn rooms(&self) -> Vec<i64> {
        match self {
            Shape::Runs(runs) => runs.iter().map(|run| run.length).collect(),
            Shape::Carried(carried) => vec![carried.first, carried.second],
        }
    }

    pub(super) fn longest(&self) -> i64 {
        self.rooms().into_iter().max().unwrap_or(0)
    }

    /// Whether its worth may be overstated: each of several runs is allowed the whole demand.
    pub(super) fn is_loose(&self) -> bool {
        match self {
            Shape::Runs(runs) => runs.len() > 1,
            Shape::Carried(_) => true,
        }
    }
}
