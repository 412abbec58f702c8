//! What the solver is asked: one group of sections, as bare integers.
//!
//! A problem knows no names, units or prices per metre. Lengths are ticks; a part is an index with a demand; a board is an
//! index with a shape, a cost and a supply. Everything the trade knows about a saw is folded in here and nowhere later:
//! the kerf, the trims (already taken off the runs), the bad stretches (already cut out) and the mitres.
//!
//! Parts are laid into a *run*, one clear stretch of a board. A run of length `u` on a section with kerf `k` takes the parts
//! `p1..pn` when [`Section::need`] of them is at most `u`; see there for the exact rule, mitres included.

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
    /// For each run of the board (two for [`Shape::OneCut`]) the parts in it as (part, count), ascending by part.
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

    /// What of `run` is used up by `need`: all of it but an offcut long enough to keep.
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

impl Problem {
    /// What of its board a cutting uses up: everything but the offcuts long enough to keep. `None` where the parts may not
    /// be made of this section or do not fit.
    ///
    /// The scrap of a plan is the sum of this over the boards touched, less the lengths of all parts wanted.
    ///
    /// Every run counts by [`Section::used`], an untouched run of a touched board too, and a length cut once at the yard by
    /// [`Section::used_cut_once`].
    pub fn used(&self, cutting: &Cutting) -> Option<Ticks> {
        let board = &self.boards[cutting.board];
        let section = &self.sections[board.section];
        let needs = cutting
            .runs
            .iter()
            .map(|parts| section.lay(parts))
            .collect::<Option<Vec<Need>>>()?;
        match &board.shape {
            Shape::Runs(runs) => {
                let fits = runs.len() == needs.len()
                    && runs
                        .iter()
                        .zip(&needs)
                        .all(|(run, need)| need.length <= run.length);
                fits.then(|| {
                    board.lost
                        + runs
                            .iter()
                            .zip(&needs)
                            .map(|(&run, &need)| section.used(run, need))
                            .sum::<Ticks>()
                })
            }
            &Shape::OneCut { together, each } => {
                let &[first, second] = needs.as_slice() else {
                    return None;
                };
                let used = section.used_cut_once((together, each), [first, second])?;
                Some(board.lost + used)
            }
        }
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
