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

/// A part on a section.
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
    /// zero where the section may not be turned, which means no cut is shared.
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
    pub lost: Ticks,
}

/// Where parts may lie on a board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub enum Shape {
    /// Clear runs, cut apart beforehand; most boards have one.
    Runs(Vec<Run>),
    /// A length too long to carry: one cut at the yard makes two carried pieces, each a run of its own. The two runs together
    /// hold at most `together`, and each holds at most `each`.
    OneCut {
        /// Clear length of both carried pieces added up, the yard's cut already taken off.
        together: Ticks,
        /// The longest clear length of one carried piece.
        each: Ticks,
    },
}

/// A clear stretch of a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
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

impl Section {
    /// The clear length that `parts` need in one run, the best order taken.
    ///
    /// Square ends: `n` parts need their lengths and `n - 1` kerfs, for the last cut may eat the tail, so a run of exactly
    /// this length does. With mitres of one angle, `a` parts mitred at both ends and `b` at one, neighbours share
    /// `a - 1` cuts when `b = 0` (and `a > 0`), else `(2a + b) / 2` rounded down: each shared cut saves
    /// [`Mitre::saving`] (when turning is allowed) and every cut at the angle takes [`Mitre::kerf`] instead of the square
    /// kerf. The mitred chain is laid so that its odd end is at the datum, where it costs nothing, or last, where it eats
    /// the tail. Lengths are exact in ticks; the two rounded quantities are the mitre's, and both err towards needing more.
    pub fn need(&self, parts: &[(usize, u32)]) -> Ticks {
        let mut length = 0;
        let mut cuts_square = 0i64;
        let mut chain = vec![(0i64, 0i64); self.mitres.len()];
        let mut widest_eaten = None::<Ticks>;
        for &(part, count) in parts {
            let Some(fit) = self.fits[part] else { return Ticks::MAX };
            let count = i64::from(count);
            if count == 0 {
                continue;
            }
            length += fit.length * count;
            match fit.ends {
                [End::Square, End::Square] => cuts_square += count,
                [End::Mitre(m), End::Square] | [End::Square, End::Mitre(m)] => chain[m].1 += count,
                [End::Mitre(m), End::Mitre(n)] if m == n => chain[m].0 += count,
                [End::Mitre(m), End::Mitre(n)] => {
                    // Two different angles on one part: no cut is shared, and its trailing cut is the steeper one.
                    let kerf = self.mitres[m].kerf.max(self.mitres[n].kerf);
                    length += kerf * count;
                    widest_eaten = Some(widest_eaten.unwrap_or(0).max(kerf));
                }
            }
        }
        for (mitre, &(both, one)) in self.mitres.iter().zip(&chain) {
            if both + one == 0 {
                continue;
            }
            if mitre.saving == 0 {
                // Nothing is shared: each part ends in one cut of its own, taken at the angle.
                length += mitre.kerf * (both + one);
                widest_eaten = Some(widest_eaten.unwrap_or(0).max(mitre.kerf));
            } else if one == 0 {
                length += mitre.kerf * both - mitre.saving * (both - 1);
                widest_eaten = Some(widest_eaten.unwrap_or(0).max(mitre.kerf));
            } else {
                let shared = (2 * both + one) / 2;
                length += mitre.kerf * shared - mitre.saving * shared;
                cuts_square += (both + one) - shared;
            }
        }
        if cuts_square > 0 {
            widest_eaten = Some(widest_eaten.unwrap_or(0).max(self.kerf));
        }
        length + cuts_square * self.kerf - widest_eaten.unwrap_or(0)
    }
}
