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
    /// The mitre angles that occur on this section.
    pub mitres: Vec<Mitre>,
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

/// One mitre angle on one section.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Mitre {
    /// Length of board a cut at this angle takes: kerf / cos t, rounded up to a tick. Never less than the square kerf.
    pub kerf: Ticks,
    /// What two neighbouring ends save when one cut serves both: width * tan t, rounded down to a tick;
    /// zero where the section may not be turned, which means no cut is shared. Where it is not zero it is at least the
    /// mitre's kerf less the square kerf, and no part with such an end is shorter than it.
    pub saving: Ticks,
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
    /// The clear length that `parts` need in one run, the best order taken; `Ticks::MAX` where one of them may not be made
    /// of this section.
    pub fn need(&self, parts: &[(usize, u32)]) -> Ticks {
        self.lay(parts).map_or(Ticks::MAX, |need| need.length)
    }

    /// What `parts` need in one run, the best order taken, or `None` where one of them may not be made of this section.
    ///
    /// Every part is followed by one cut, and the last cut of a run may eat its tail; so the widest cut that can be last
    /// comes last. Square ends take [`Section::kerf`].
    ///
    /// *A section that may be turned.* Parts with a mitre of one angle form a chain. With `a` of them mitred at both ends
    /// and `b` at one end, `a - 1` cuts are shared when `b = 0`, else `(2a + b) / 2` rounded down, because every pair of
    /// mitred ends can be laid together once a one-ended part closes the chain. A shared cut takes the mitre's kerf and
    /// saves [`Mitre::saving`]. When `b = 0` the chain's trailing end is mitred: one cut at the angle that is not shared.
    /// When `b > 0` each remaining cut is square, for an odd mitred end is laid to the left: it needs no clear length of its
    /// own, because the stock it faces ends square and the mitre starts at its long point, so the blade takes the triangle
    /// above it and, at the long edge, only the kerf that was already cut.
    ///
    /// *A section that may not be turned* (no saving). The same argument frees every left end. What counts is the right
    /// end, `ends[1]`: square takes the square kerf, mitred the mitre's.
    ///
    /// *Two different angles on one part.* No cut is shared. The part is turned so that the narrower of its two cuts
    /// trails; where it may not be turned, the cut of `ends[1]` trails.
    ///
    /// Lengths are exact in ticks; the two rounded quantities are the mitre's, and both err towards needing more.
    pub fn lay(&self, parts: &[(usize, u32)]) -> Option<Need> {
        let mut laying = Laying::new(self);
        for &(part, count) in parts {
            laying.add(part, count)?;
        }
        Some(laying.need())
    }

    /// How the cut that follows a part with these ends is counted; `turnable` tells whether this section may be turned.
    pub(crate) fn trailing(&self, ends: [End; 2], turnable: bool) -> Trailing {
        match ends {
            [End::Square, End::Square] => Trailing::Own(self.kerf),
            [End::Mitre(m), End::Square] | [End::Square, End::Mitre(m)]
                if self.mitres[m].saving > 0 =>
            {
                Trailing::One(m)
            }
            [End::Mitre(m), End::Mitre(n)] if m == n && self.mitres[m].saving > 0 => {
                Trailing::Both(m)
            }
            [End::Mitre(m), End::Mitre(n)] if turnable => {
                Trailing::Own(self.mitres[m].kerf.min(self.mitres[n].kerf))
            }
            [End::Mitre(_), End::Square] => Trailing::Own(self.kerf),
            [End::Square, End::Mitre(_)] if turnable => Trailing::Own(self.kerf),
            [_, End::Mitre(m)] => Trailing::Own(self.mitres[m].kerf),
        }
    }

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

/// Parts laid in one run so far, as [`Section::lay`] adds them up: a part more costs no look at those before it.
#[derive(Clone, Debug)]
pub(crate) struct Laying<'s> {
    section: &'s Section,
    turnable: bool,
    /// The parts' lengths and the cuts they have to themselves.
    length: Ticks,
    /// The widest of those cuts.
    last_cut: Ticks,
    /// For each mitre how many parts are in its chain: with both ends, with one end.
    chain: Vec<(i64, i64)>,
}

impl<'s> Laying<'s> {
    /// The empty run.
    pub(crate) fn new(section: &'s Section) -> Self {
        Laying {
            section,
            turnable: section.mitres.iter().any(|mitre| mitre.saving > 0),
            length: 0,
            last_cut: 0,
            chain: vec![(0, 0); section.mitres.len()],
        }
    }

    /// Lays so many of a part; `None` where it may not be made of this section.
    pub(crate) fn add(&mut self, part: usize, count: u32) -> Option<()> {
        let fit = (*self.section.fits.get(part)?)?;
        let count = i64::from(count);
        if count == 0 {
            return Some(());
        }
        self.length += fit.length * count;
        match self.section.trailing(fit.ends, self.turnable) {
            Trailing::Own(cut) => {
                self.length += cut * count;
                self.last_cut = self.last_cut.max(cut);
            }
            Trailing::Both(mitre) => self.chain[mitre].0 += count,
            Trailing::One(mitre) => self.chain[mitre].1 += count,
        }
        Some(())
    }

    /// The clear length needed with so many of a part laid besides; `Ticks::MAX` where it may not be made of this section.
    pub(crate) fn length_with(&mut self, part: usize, count: u32) -> Ticks {
        let (length, last_cut) = (self.length, self.last_cut);
        if self.add(part, count).is_none() {
            return Ticks::MAX;
        }
        let need = self.need().length;
        (self.length, self.last_cut) = (length, last_cut);
        if let Some(fit) = self.section.fits[part] {
            match self.section.trailing(fit.ends, self.turnable) {
                Trailing::Own(_) => {}
                Trailing::Both(mitre) => self.chain[mitre].0 -= i64::from(count),
                Trailing::One(mitre) => self.chain[mitre].1 -= i64::from(count),
            }
        }
        need
    }

    /// What all of it needs.
    pub(crate) fn need(&self) -> Need {
        let (mut length, mut last_cut) = (self.length, self.last_cut);
        let mut square_cuts = 0;
        for (mitre, &(both, one)) in self.section.mitres.iter().zip(&self.chain) {
            if one > 0 {
                let shared = (2 * both + one) / 2;
                length += (mitre.kerf - mitre.saving) * shared;
                square_cuts += both + one - shared;
                last_cut = last_cut.max(self.section.kerf);
            } else if both > 0 {
                length += mitre.kerf * both - mitre.saving * (both - 1);
                last_cut = last_cut.max(mitre.kerf);
            }
        }
        length += square_cuts * self.section.kerf;
        Need {
            length: length - last_cut,
            last_cut,
        }
    }
}

/// How the cut that follows a part is counted.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub(crate) enum Trailing {
    /// One cut of its own, this wide.
    Own(Ticks),
    /// A link of the chain of this mitre with both ends in it.
    Both(usize),
    /// A link of the chain of this mitre with one end in it and one square end.
    One(usize),
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
