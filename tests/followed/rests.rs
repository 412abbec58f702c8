//! What is really left of a board after its sheet was followed, worked out from its cuts and the job as typed.

use lengthwise::job::{Job, Trim};
use lengthwise::length::Length;
use lengthwise::plan::Source;

/// The swing and the tilt, in radians, of the angles in a text like `leave the saw as it is: / at 45\u{b0} tilt 20\u{b0}`; floats, so good to a tick or two.
fn angles(turn: &str) -> [f64; 2] {
    let after = |word: &str| {
        let told = turn
            .split_once(word)
            .and_then(|(_, told)| told.split_once('\u{b0}'));
        told.map_or(0.0, |(degrees, _)| {
            degrees.parse::<f64>().expect("degrees").to_radians()
        })
    };
    [after(" at "), after("tilt ")]
}

/// How far the slanted end of a cut reaches along a board of this width and thickness: the plane that a saw swung by m and tilted by b cuts in is
/// `x + y tan m + z tan b / cos m = 0`.
pub fn slant(turn: &str, [width, thickness]: [Length; 2]) -> i64 {
    let [swung, tilted] = angles(turn);
    let across = width.ticks() as f64 * swung.tan();
    (across + thickness.ticks() as f64 * tilted.tan() / swung.cos()).round() as i64
}

/// What a cut takes along the board.
pub fn taken(turn: &str, kerf: Length) -> i64 {
    let [swung, tilted] = angles(turn);
    (kerf.ticks() as f64 / (swung.cos() * tilted.cos())).round() as i64
}

/// A piece worth keeping.
#[derive(Debug)]
pub struct Kept {
    /// How long a tape says it is, rounded down.
    pub length: i64,
    /// Whether a bad stretch is in it.
    pub bad: bool,
    /// What its ends need cut off: that of the far end where it was sawn.
    pub needs: [i64; 2],
}

/// The timber of a board that is not cut away.
pub struct Real<'a> {
    job: &'a Job,
    section: usize,
    length: i64,
    trim: Trim,
    bad: Vec<(i64, i64)>,
    yard_cut: Option<i64>,
    /// By how much more each carried piece may be than is told of it: the yard may have sawn it shorter.
    spare: [i64; 2],
    /// Where the cuts of the piece in hand leave off, and what that end slants by; per piece.
    at: Vec<(i64, i64)>,
    /// Pieces cut off, and the slant of their ends.
    off: Vec<(i64, i64, [i64; 2])>,
    hand: usize,
}

impl<'a> Real<'a> {
    pub fn of(job: &'a Job, source: Source) -> Real<'a> {
        let (section, length, trim, bad) = match source {
            Source::Yard(line) => {
                let yard = &job.yard[line];
                (
                    yard.section,
                    yard.length,
                    job.sections[yard.section].trim,
                    Vec::new(),
                )
            }
            Source::Shed(shed) => {
                let board = &job.shed[shed];
                (board.section, board.length, board.trim, board.bad.clone())
            }
        };
        let bad = bad.iter().map(|one| (one.from.ticks(), one.to.ticks()));
        Real {
            job,
            section,
            length: length.ticks(),
            trim,
            bad: bad.collect(),
            yard_cut: None,
            spare: [0, 0],
            at: vec![(0, 0)],
            off: Vec::new(),
            hand: 0,
        }
    }

    /// The yard cuts at a place that is `off` from the reading it was told.
    pub fn yard_cut(&mut self, at: i64, off: i64) {
        self.yard_cut = Some(at);
        let within = self.job.yard_tolerance.ticks();
        self.spare = [within + off, within - off];
        self.at = vec![(0, 0), (at + self.job.saw.kerf.ticks(), 0)];
    }

    /// The first or the second carried piece is taken in hand.
    pub fn hand(&mut self, hand: usize) {
        self.hand = hand;
    }

    /// A piece before this mark comes off.
    pub fn freed(&mut self, mark: i64) {
        let (from, slant) = self.at[self.hand];
        self.off.push((from, mark, [slant, 0]));
    }

    /// A part comes off the far end, and the timber in hand before it ends here from now on, by a cut whose clear end is `slant` before its long point.
    pub fn freed_from_the_far_end(&mut self, to: i64, slant: i64) {
        let (from, before) = self.at[self.hand];
        if to > from {
            // What the yard sawed may be so much longer than is told.
            let spare = self.yard_cut.map_or(0, |_| self.spare[1]);
            self.off.push((from, to - spare, [before, slant]));
        }
        self.all_used();
    }

    /// The timber in hand starts here from now on, its clear start `slant` behind its long point.
    pub fn cut_to(&mut self, clear: i64, slant: i64) {
        self.at[self.hand] = (clear - slant, slant);
    }

    /// The last part takes all that is left of the piece in hand.
    pub fn all_used(&mut self) {
        self.at[self.hand] = (self.end(self.hand), 0);
    }

    fn end(&self, hand: usize) -> i64 {
        match self.yard_cut {
            Some(cut) if hand == 0 => cut - self.spare[0],
            _ => self.length - self.spare[1],
        }
    }

    /// What of a piece from one place to another is sound but for bad stretches: trimmed at the ends that are not of this saw.
    fn trimmed(&self, (from, to, [slant, far]): (i64, i64, [i64; 2])) -> (i64, i64) {
        let sawn = self.job.sections[self.section].yard_sawn;
        let fresh = self.yard_cut.map(|cut| cut + self.job.saw.kerf.ticks());
        let start = match from {
            0 => self.trim.datum.ticks(),
            at if Some(at) == fresh => sawn.datum.ticks(),
            _ => 0,
        };
        let end = match to {
            at if at == self.end(1) => self.trim.far.ticks(),
            at if self.yard_cut.is_some() && at == self.end(0) => sawn.far.ticks(),
            _ => 0,
        };
        (from + slant.max(start), to - far.max(end))
    }

    /// The pieces worth keeping along the board. A piece is worth keeping for a clear stretch as long as the job says; the trim of an end that nobody cut counts at the far end of a whole board.
    pub fn kept(&self) -> Vec<Kept> {
        let tails = self.at.iter().enumerate();
        let tails = tails.map(|(hand, &(from, slant))| (from, self.end(hand), [slant, 0]));
        let mut pieces: Vec<_> = self.off.iter().copied().chain(tails).collect();
        pieces.sort_unstable();
        let told = pieces.into_iter().filter_map(|(from, to, slant)| {
            if from >= to {
                return None;
            }
            let (start, end) = self.trimmed((from, to, slant));
            let clear = self.clear(start, end);
            let keep = self.job.sections[self.section].keep.ticks();
            let tail = self.yard_cut.is_none() && to == self.length;
            let counts = |&&(one, other): &&(i64, i64)| {
                let tail = if tail && other == end {
                    self.trim.far.ticks()
                } else {
                    0
                };
                other - one + tail >= keep
            };
            clear.iter().find(counts)?;
            let sound = clear[0].0;
            let bad = self
                .bad
                .iter()
                .any(|&(one, other)| other > sound && one < end);
            Some(Kept {
                length: (to - from) / self.job.step.ticks() * self.job.step.ticks(),
                bad,
                needs: [sound - from, slant[1]],
            })
        });
        told.collect()
    }

    /// What is clear of bad stretches between two places.
    fn clear(&self, start: i64, end: i64) -> Vec<(i64, i64)> {
        let mut clear = Vec::new();
        let mut at = start;
        for &(one, other) in &self.bad {
            if one.min(end) > at {
                clear.push((at, one.min(end)));
            }
            at = at.max(other);
        }
        if end > at {
            clear.push((at, end));
        }
        clear
    }
}
