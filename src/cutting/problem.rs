//! What the solver is asked: one group of sections, as bare integers.
//!
//! A problem knows no names, units or prices per metre. Lengths are ticks; a part is an index with a demand; a board is an
//! index with a shape, a cost and a supply. Everything the trade knows about a saw is folded in here and nowhere later:
//! the kerf, the trims (already taken off the runs), the bad stretches (already cut out) and the mitres.
//!
//! Parts are laid into a *run*, one clear stretch of a board. A run of length `u` on a section with kerf `k` takes the parts
//! `p1..pn` when [`Section::need`] of them is at most `u`; see there for the exact rule, mitres included.

use std::borrow::Cow;

/// A length in ticks; 3 200 ticks are one millimetre.
pub type Ticks = i64;

/// One group of sections planned together.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Problem {
    /// How many of each part are wanted; every count is at least one.
    pub demand: Vec<u32>,
    /// The sections of the group. Most groups have one.
    pub sections: Vec<Section>,
    /// The kinds of board that may be cut: yard lengths and shed boards, equal ones merged.
    pub boards: Vec<Board>,
    /// For each level of costs what a total counts as at least, so that all plans below it are alike there; zero where none is given. What is
    /// reported of such a level is what is beyond.
    pub floors: Vec<i64>,
}

impl Problem {
    /// What a total of a level of costs counts as at least.
    pub(crate) fn floor(&self, level: usize) -> i64 {
        self.floors.get(level).copied().unwrap_or(0)
    }
}

/// How the parts lie on one timber section.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Section {
    /// Width of a square saw cut.
    pub kerf: Ticks,
    /// For each part, how it is cut from this section, or `None` where the part may not be made of it.
    pub fits: Vec<Option<Fit>>,
    /// The ways in which ends are mitred on this section: by angle, and where that decides what an end may meet, by lean and side.
    pub mitres: Vec<Mitre>,
    /// Whether a part may be laid either way round: its second end towards the datum.
    pub reversible: bool,
    /// The shortest offcut worth keeping.
    pub keep: Ticks,
    /// The parts that stand at a factory end of their board and nowhere else ([`FactoryEnds`]), ascending. They share no cut.
    pub posts: Vec<usize>,
}

/// A part on a section. A part has the same length on every section it may be made of.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Fit {
    /// The long-point length.
    pub length: Ticks,
    /// How its two ends are cut.
    pub ends: [End; 2],
}

/// How one end of a part is cut.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum End {
    /// Square across.
    Square,
    /// Mitred at `Section::mitres[i]`.
    Mitre(usize),
}

/// One way in which ends are mitred on one section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mitre {
    /// Length of board a cut at this angle takes: kerf / cos t, rounded up to a tick. Never less than the square kerf.
    pub kerf: Ticks,
    /// What two neighbouring ends save when one cut serves both: width * tan t, rounded down to a tick; zero where no cut is shared.
    /// Where it is not zero it is at least what the widest cut of the section takes beyond a square one, no part is shorter than it or, mitred at
    /// two angles, than those of both its ends, and the other end of such a part is square or shares cuts too. Where parts are mitred so at two
    /// angles, parts lie either way round and the mitres that they connect are at most three.
    pub saving: Ticks,
    /// The mitre whose ends this one shares cuts with, the same angle and as much saved: itself, or another whose partner is this one.
    pub partner: usize,
}

/// A kind of board and how many of it there are.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Board {
    /// Index into [`Problem::sections`].
    pub section: usize,
    /// Where parts may lie.
    pub shape: Shape,
    /// What using one costs at each proven level that depends on buying alone, first level first,
    /// such as `[boards bought, money]`. All zero for shed boards. Every board has the same number of levels.
    pub cost: Vec<i64>,
    /// How many there are; `None` is as many as wanted.
    pub supply: Option<u32>,
    /// What is lost of the board as soon as it is touched, whatever is cut from it: bad stretches, the datum-end trim.
    /// The whole board is `lost` plus each run's length and tail.
    pub lost: Ticks,
    /// Where parts of [`Section::posts`] may stand; `None` where none may.
    pub factory: Option<FactoryEnds>,
}

/// The factory ends of a board, at each of which one part of [`Section::posts`] may stand. Nothing is trimmed there, and the parts of the runs lie
/// behind it.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct FactoryEnds {
    /// For the datum end and the far end, where it is one: what is trimmed off where no part stands there. The first run begins behind that trim, or the
    /// last ends before it.
    pub trims: [Option<Ticks>; 2],
    /// A part at the far end is measured from there, to the next of these steps.
    pub step: Ticks,
    /// What is taken off before a part at the far end: the widest cut of the section.
    pub before: Ticks,
}

impl Standing<'_> {
    /// Its parts as the last run of a cutting has them.
    pub(crate) fn run(&self) -> Vec<(usize, u32)> {
        let mut run: Vec<(usize, u32)> = Vec::new();
        for post in self.posts.into_iter().flatten() {
            match run.first_mut() {
                Some(first) if first.0 == post => first.1 += 1,
                _ => run.push((post, 1)),
            }
        }
        order::sort(&mut run);
        run
    }
}

/// Where parts may lie on a board with parts at its factory ends.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub struct Standing<'p> {
    /// The part at the datum end, and the one at the far end.
    pub posts: [Option<usize>; 2],
    /// Where other parts may lie, with as many runs as the board has.
    pub shape: Cow<'p, Shape>,
    /// What is lost of the board, those parts counted.
    pub lost: Ticks,
}

/// Where parts may lie on a board.
#[derive(Clone, Debug, PartialEq, Eq, Hash)]
pub enum Shape {
    /// Clear runs, cut apart beforehand; most boards have one.
    Runs(Vec<Run>),
    /// A length too long to carry: one cut at the yard makes two carried pieces, each a run of its own. The two runs together
    /// hold at most `together`, and each holds at most what is told of it.
    OneCut {
        /// Clear length of both carried pieces added up, the yard's cut already taken off.
        together: Ticks,
        /// The longest clear length of the piece with the datum end and of the other, each at most `together`.
        each: [Ticks; 2],
    },
}

/// A clear stretch of a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub struct Run {
    /// Clear length that parts may be laid in.
    pub length: Ticks,
    /// What an offcut at the end of this run gains in length, since an untouched end need not be trimmed. It gains it only
    /// when the run is not filled to the end.
    pub tail: Ticks,
}

/// Parts laid in the runs of one board: `runs[r]` lists part indices, sorted.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Cutting {
    /// Index into [`Problem::boards`].
    pub board: usize,
    /// For each run of the board (two for [`Shape::OneCut`]) the parts in it as (part, count), ascending by part; of a board with factory ends
    /// those that stand there come last, as one more run.
    pub runs: Vec<Vec<(usize, u32)>>,
}

/// How much of a run its parts take.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Need {
    /// Clear length the run must have. The last cut is not in it, for it may eat the tail.
    pub length: Ticks,
    /// The last cut. Where something is to be left beyond it, the run must be longer than `length + last_cut`.
    pub last_cut: Ticks,
}

impl Section {
    /// The offcut that `need` leaves at the end of `run`: what is beyond the last cut and the run's tail with it, or zero
    /// where the last cut reaches the end of the clear run.
    pub fn offcut(&self, run: Run, need: Need) -> Ticks {
        let beyond = run.length - need.length - need.last_cut;
        if beyond > 0 { beyond + run.tail } else { 0 }
    }

    /// Whether the offcut that `need` leaves at the end of `run` is long enough to keep.
    #[inline]
    pub(crate) fn keeps(&self, run: Run, need: Need) -> bool {
        let offcut = self.offcut(run, need);
        offcut > 0 && offcut >= self.keep
    }

    /// What of `run` is used up by `need`: all of it but an offcut long enough to keep.
    #[inline]
    pub fn used(&self, run: Run, need: Need) -> Ticks {
        let offcut = self.offcut(run, need);
        run.length + run.tail - if offcut >= self.keep { offcut } else { 0 }
    }

    /// What `needs` use up of a length cut once at the yard, which holds `together` in two pieces of at most `each`; `None`
    /// where they do not fit.
    pub fn used_cut_once(&self, pieces: (Ticks, [Ticks; 2]), needs: [Need; 2]) -> Option<Ticks> {
        self.cut_once(pieces, needs).map(|(used, _)| used)
    }

    /// The same with the length of the first piece, the cut made where least is used up.
    ///
    /// An offcut grows with its piece. So the best place for the cut is as far to either side as it may be, or where one of the
    /// two offcuts is just long enough to keep.
    pub fn cut_once(
        &self,
        (together, each): (Ticks, [Ticks; 2]),
        [first, second]: [Need; 2],
    ) -> Option<(Ticks, Ticks)> {
        let (least, most) = (
            first.length.max(together - each[1]),
            each[0].min(together - second.length),
        );
        if least > most {
            return None;
        }
        let run = |length| Run { length, tail: 0 };
        let used = |cut: Ticks| self.used(run(cut), first) + self.used(run(together - cut), second);
        let whole = |need: Need| need.length + need.last_cut + self.keep;
        [least, most, whole(first), together - whole(second)]
            .into_iter()
            .map(|cut| cut.clamp(least, most))
            .map(|cut| (used(cut), cut))
            .min()
    }
}

/// Takes what parts at the ends of a board take, alone and with what separates each from the rest, off its first and its last run; `None` where they do
/// not fit.
fn stand_in_runs(
    runs: &mut [Run],
    posts: [Option<usize>; 2],
    takes: [(Ticks, Ticks); 2],
    ends: FactoryEnds,
) -> Option<()> {
    let last = runs.len().checked_sub(1)?;
    let far = posts[1].is_some();
    let whole = ends.trims[0].and(ends.trims[1]);
    let whole = whole.is_some_and(|trim| takes[0].0 - trim == runs[0].length);
    if last == 0 && !far && whole {
        // It is the board as it came.
        runs[0] = Run { length: 0, tail: 0 };
        return Some(());
    }
    let fits = match (last, posts[0].is_some() && far) {
        (0, true) => takes[0].0 + takes[1].1 <= runs[0].length,
        (0, false) => takes[0].0 + takes[1].0 <= runs[0].length,
        _ => takes[0].0 <= runs[0].length && takes[1].0 <= runs[last].length,
    };
    if far {
        runs[last].tail = 0;
        runs[last].length -= takes[1].1;
    }
    runs[0].length -= takes[0].1;
    for run in [0, last] {
        runs[run].length = runs[run].length.max(0);
    }
    fits.then_some(())
}

/// The clear length of a shape with its tails.
pub(crate) fn clear(shape: &Shape) -> Ticks {
    match shape {
        Shape::Runs(runs) => runs.iter().map(|run| run.length + run.tail).sum(),
        Shape::OneCut { together, .. } => *together,
    }
}

impl Section {
    /// What of a board's runs is used up by `needs`; `None` where they do not fit.
    fn used_in(&self, shape: &Shape, needs: &[Need]) -> Option<Ticks> {
        match (shape, needs) {
            (Shape::Runs(runs), needs) => {
                let mut pairs = runs.iter().zip(needs);
                let fits =
                    runs.len() == needs.len() && pairs.all(|(run, need)| need.length <= run.length);
                let pairs = runs.iter().zip(needs);
                fits.then(|| pairs.map(|(&run, &need)| self.used(run, need)).sum())
            }
            (&Shape::OneCut { together, each }, &[first, second]) => {
                self.used_cut_once((together, each), [first, second])
            }
            _ => None,
        }
    }

    /// Whether a part may stand at the datum end, and whether at the far end: on a square end of its own, which is the one that lies there where
    /// no part is turned.
    pub(crate) fn may_stand(&self, fit: Fit) -> [bool; 2] {
        let square = fit.ends.map(|end| end == End::Square);
        [0, 1].map(|end| square[end] || (self.reversible && square != [false, false]))
    }

    /// The cut behind a part that stands at a factory end: that of whichever of its ends is wider.
    pub fn cut_of_post(&self, fit: Fit) -> Ticks {
        let cuts = fit.ends.map(|end| match end {
            End::Square => self.kerf,
            End::Mitre(mitre) => self.mitres[mitre].kerf,
        });
        cuts[0].max(cuts[1])
    }
}

impl Problem {
    /// A board with these parts at its datum end and its far end; `None` where they cannot stand there.
    ///
    /// The part at the datum end takes its length and its cut of the first run, and gives that run the trim. The part at the far end takes its length to the next
    /// step and the cut before it of the last run, whose tail is then no more. What is shorter than the trim stands at no end. A part as long as a board with both
    /// ends is that board.
    pub fn standing(&self, board: usize, posts: [Option<usize>; 2]) -> Option<Standing<'_>> {
        let board = &self.boards[board];
        let mut standing = Standing {
            posts,
            shape: Cow::Borrowed(&board.shape),
            lost: board.lost,
        };
        if posts == [None, None] {
            return Some(standing);
        }
        let (section, ends) = (&self.sections[board.section], board.factory?);
        // Where no part is turned, each has the end that it is cut at on its own side.
        let fit = |end: usize| {
            let fit = posts[end].filter(|post| section.posts.contains(post));
            let fit = section.fits[fit?];
            fit.filter(|&fit| section.may_stand(fit)[end])
        };
        // What each takes of its run beyond the trim: alone, and with what separates it from the rest.
        let mut takes = [(0, 0); 2];
        if posts[0].is_some() {
            let (fit, trim) = (fit(0)?, ends.trims[0]?);
            takes[0] = (
                fit.length - trim,
                fit.length + section.cut_of_post(fit) - trim,
            );
        }
        if posts[1].is_some() {
            let (fit, trim) = (fit(1)?, ends.trims[1]?);
            let length = fit.length + (-fit.length).rem_euclid(ends.step.max(1)) - trim;
            takes[1] = (length, length + ends.before);
        }
        if takes.iter().any(|&(alone, _)| alone < 0) {
            return None;
        }
        let before = clear(&standing.shape);
        match standing.shape.to_mut() {
            Shape::Runs(runs) => {
                stand_in_runs(runs, posts, takes, ends)?;
            }
            Shape::OneCut { together, each } => {
                *together -= takes[0].1 + takes[1].1;
                for (each, takes) in each.iter_mut().zip(takes) {
                    *each = (*each - takes.1).min(*together);
                }
                if *together < 0 || each[0] < 0 || each[1] < 0 {
                    return None;
                }
            }
        }
        standing.lost += before - clear(&standing.shape);
        Some(standing)
    }

    /// All ways in which parts may stand at the factory ends of a board, none at all first; of ways that differ in nothing else one is enough.
    pub fn standings(&self, board: usize) -> impl Iterator<Item = Standing<'_>> {
        let mut ways = Vec::new();
        if let Some(ends) = self.boards[board].factory {
            self.add_standings(board, ends, &mut ways);
        }
        let none = self.standing(board, [None, None]);
        none.into_iter().chain(ways)
    }

    fn add_standings<'p>(&'p self, board: usize, ends: FactoryEnds, ways: &mut Vec<Standing<'p>>) {
        let posts = &self.sections[self.boards[board].section].posts;
        let at = |end: usize| {
            let posts = posts.iter().map(|&post| Some(post));
            posts
                .filter(move |_| ends.trims[end].is_some())
                .chain([None])
        };
        for datum in at(0) {
            for far in at(1).filter(|far| datum.is_some() || far.is_some()) {
                let twice = datum == far && self.demand[datum.unwrap_or_default()] < 2;
                let Some(way) = self.standing(board, [datum, far]).filter(|_| !twice) else {
                    continue;
                };
                let turned = || self.standing(board, [far, datum]);
                let known = datum.is_some()
                    && far < datum
                    && turned().is_some_and(|other| other.shape == way.shape);
                if !known || far.is_none() {
                    ways.push(way);
                }
            }
        }
    }

    /// The runs of a board that has the same whatever is cut from it: it is not cut at the yard and no part stands at its ends. Of such boards the
    /// offcuts that are kept may be counted.
    pub(crate) fn lasting_runs(&self, board: usize) -> Option<&[Run]> {
        let board = &self.boards[board];
        match (&board.shape, board.factory) {
            (Shape::Runs(runs), None) => Some(runs),
            _ => None,
        }
    }

    /// How a cutting's parts stand and what of its board is then used up; `None` where they do not fit. The way in which least is used up.
    pub fn stands(&self, cutting: &Cutting) -> Option<(Standing<'_>, Ticks)> {
        let board = &self.boards[cutting.board];
        let (runs, posts) = match board.factory {
            None => (&cutting.runs[..], &[][..]),
            Some(_) => {
                let (posts, runs) = cutting.runs.split_last()?;
                (runs, &posts[..])
            }
        };
        let places = match *posts {
            [] => [Some([None, None]), None],
            [(post, 1)] => [Some([Some(post), None]), Some([None, Some(post)])],
            [(post, 2)] => [Some([Some(post); 2]), None],
            [(one, 1), (other, 1)] => {
                let (one, other) = (Some(one), Some(other));
                [Some([one, other]), Some([other, one])]
            }
            _ => return None,
        };
        let section = &self.sections[board.section];
        let needs = runs
            .iter()
            .map(|parts| section.lay(parts))
            .collect::<Option<Vec<Need>>>()?;
        let ways = places.into_iter().flatten().filter_map(|posts| {
            let way = self.standing(cutting.board, posts)?;
            let used = way.lost + section.used_in(&way.shape, &needs)?;
            Some((way, used))
        });
        ways.min_by_key(|&(_, used)| used)
    }

    /// What of its board a cutting uses up: everything but the offcuts long enough to keep. `None` where the parts may not
    /// be made of this section or do not fit.
    ///
    /// The scrap of a plan is the sum of this over the boards touched, less the lengths of all parts wanted.
    ///
    /// Every run counts by [`Section::used`], an untouched run of a touched board too, and a length cut once at the yard by
    /// [`Section::used_cut_once`].
    pub fn used(&self, cutting: &Cutting) -> Option<Ticks> {
        self.stands(cutting).map(|(_, used)| used)
    }

    /// The lengths of all parts wanted, added up.
    pub fn wanted(&self) -> Ticks {
        let length = |part: usize| {
            self.sections
                .iter()
                .find_map(|section| section.fits[part])
                .map_or(0, |fit| fit.length)
        };
        self.demand
            .iter()
            .enumerate()
            .map(|(part, &count)| length(part) * i64::from(count))
            .sum()
    }
}
