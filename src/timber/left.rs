//! The pieces of timber that are left of a board once some or all of its cuts are made at their marks.
//!
//! This is the one place that decides how long a rest is, which ends it has, and whether it is worth keeping. The sheet, the list of what
//! goes back to the shed, and the job that is left all use it. What is worth keeping is decided as in the plan: a clear run in one piece,
//! with the trim of an end that nobody cuts. A piece with a bad stretch in it goes back as a whole where one of its clear runs is worth
//! keeping and no cut is made behind it.

use crate::clear::{carried_trims, clear_runs, runs_beside_standing, standing, widest_cut};
use crate::job::{Job, Stretch, Trim};
use crate::length::Length;
use crate::marks::{Freed, MarkedBoard, cut_width, lying_ends};
use crate::part::PartEnd;
use crate::plan::{PlacedPart, PlannedBoard, PlannedRun, Source};
use crate::runs::{ClearRun, runs_between};

/// How far a board is sawn: every cut up to a mark is made.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sawn {
    /// How many of its parts are cut off, counted from its datum end.
    pub parts: usize,
    /// The mark of the last cut that is made, whatever it freed; the cuts that free the parts are made in any case.
    pub mark: Option<Length>,
}

impl Sawn {
    /// All cuts of a board.
    pub fn all(job: &Job, board: &PlannedBoard) -> Sawn {
        let (_, length) = job.board(board.source);
        Sawn {
            parts: board.runs.iter().map(|run| run.cuts.len()).sum(),
            mark: Some(length),
        }
    }

    fn has_cut(&self, mark: Length) -> bool {
        self.mark.is_some_and(|last| mark <= last)
    }
}

/// A piece of timber that is left.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeftPiece {
    /// Where it starts on the board.
    pub from: Length,
    /// Where it ends on the board.
    pub to: Length,
    /// What its ends need before a part can be cut from them: a slant, the trim of an end the board came with.
    pub trim: Trim,
    /// Whether the trim of its far end counts towards what is worth keeping, for nobody cuts there.
    pub tail: bool,
    /// Whether it is worth keeping.
    pub kept: bool,
    /// Which of its ends are factory ends, the nearer to the datum first.
    pub factory_ends: [bool; 2],
    /// Whether it ends before a part that stands on the far end, and so at a place that is measured from there.
    pub before_post: bool,
    /// Whether it goes to the end of the timber in hand: it is what is in hand after the last cut.
    pub in_hand: bool,
}

impl LeftPiece {
    /// Its bad stretches, from its own start, without what its ends need cut off anyway.
    pub fn bad(&self, of_board: &[Stretch]) -> Vec<Stretch> {
        let mut bad = within(of_board, self.from, self.to);
        let sound = self.to - self.from - self.trim.far;
        bad.retain(|stretch| stretch.to > self.trim.datum && stretch.from < sound);
        bad
    }
}

/// The section of a board, its length, what its ends need, and its bad stretches.
fn board_of(job: &Job, source: Source) -> (usize, Length, Trim, &[Stretch]) {
    match source {
        Source::Yard(line) => {
            let yard = &job.yard[line];
            let trim = job.sections[yard.section].trim;
            (yard.section, yard.length, trim, &[])
        }
        Source::Shed(shed) => {
            let board = &job.shed[shed];
            (board.section, board.length, board.trim, &board.bad)
        }
    }
}

/// The clear runs of a piece of timber with these ends and bad stretches, measured from its own start.
pub fn clear_of(job: &Job, section: usize, piece: (Length, Trim, &[Stretch])) -> Vec<ClearRun> {
    let (length, trim, bad) = piece;
    let widest = match bad.is_empty() {
        true => job.saw.kerf,
        false => widest_cut(job, section),
    };
    runs_between(length, trim.datum, trim.far, bad, widest)
}

/// Whether one of the clear runs of a piece is worth keeping; `tail` where the trim of its far end counts.
pub fn worth_keeping(job: &Job, section: usize, runs: &[ClearRun], tail: bool) -> bool {
    runs.iter().any(|run| {
        let counted = run.stretch.to - run.stretch.from;
        let tail = if tail { run.tail } else { Length::ZERO };
        counted + tail >= job.sections[section].keep
    })
}

/// The stretches of a board that lie in a piece of it, measured from the start of the piece.
pub fn within(bad: &[Stretch], from: Length, to: Length) -> Vec<Stretch> {
    let inside = bad
        .iter()
        .filter(|stretch| stretch.to > from && stretch.from < to);
    inside
        .map(|stretch| Stretch {
            from: (stretch.from - from).max(Length::ZERO),
            to: stretch.to.min(to) - from,
        })
        .collect()
}

/// The pieces that are left of a board, in order, when it is sawn so far.
pub fn left_pieces(job: &Job, marked: &MarkedBoard, sawn: Sawn) -> Vec<LeftPiece> {
    let board = &marked.board;
    let (section, length, trim, bad) = board_of(job, board.source);
    let hands = match board.yard_cut {
        None => vec![(Length::ZERO, length, trim)],
        Some(at) => {
            // Each piece is as long as it is at the least, as far off as the yard may saw; what its fresh end needs is trimmed off. A cut in the
            // trim of an end takes its kerf from sound timber next to that end.
            let (fresh, off) = (job.sections[section].yard_sawn, job.yard_tolerance);
            let both = carried_trims(job, section);
            let clear = at.max(both.datum).min(length - both.far - job.saw.kerf);
            let first = Trim {
                datum: trim.datum,
                far: fresh.far + (at - clear).max(Length::ZERO),
            };
            let second = Trim {
                datum: fresh.datum + (clear - at).max(Length::ZERO),
                far: trim.far,
            };
            vec![
                (Length::ZERO, at - off, first),
                (at + job.saw.kerf, length - off, second),
            ]
        }
    };
    let factory = job.factory_ends(board.source);
    let far_post = standing(job, board)[1];
    let clear = runs_beside_standing(job, board);
    let mut walk = Walk {
        job,
        section,
        sawn,
        bad,
        datum: factory[0],
        tail: board.yard_cut.is_none(),
        at: Length::ZERO,
        needs: Length::ZERO,
        left: Vec::new(),
    };
    let mut to_cut = sawn.parts;
    let mut freed = marked.freed.iter().peekable();
    let last_hand = hands.len() - 1;
    for (hand, (start, end, ends)) in hands.into_iter().enumerate() {
        (walk.at, walk.needs) = (start, ends.datum);
        let runs = board.runs.iter();
        for run in runs.filter(|run| run.from >= start && run.from < end) {
            let here = to_cut.min(run.cuts.len());
            to_cut -= here;
            while let Some(one) = freed.next_if(|one| one.to <= run.from) {
                walk.free(one, here > 0);
            }
            let last = run.cuts.last();
            match far_post.filter(|post| last.is_some_and(|last| post.end == last.end)) {
                Some(_) if here == 0 => {}
                Some(post) => {
                    let clear = match board.yard_cut {
                        None => clear.clone(),
                        Some(_) => clear_in(job, board, (start, end, ends)),
                    };
                    walk.leave_before(&post, length - end, &clear);
                }
                None => walk.cut_run(run, here),
            }
        }
        while let Some(one) = freed.next_if(|_| hand == last_hand) {
            walk.free(one, false);
        }
        let far = factory[1] && hand == last_hand;
        walk.finish(
            (end, far),
            ends.far,
            &clear_in(job, board, (start, end, ends)),
        );
    }
    walk.left
}

/// The clear runs of one piece in hand.
fn clear_in(
    job: &Job,
    board: &PlannedBoard,
    (start, end, ends): (Length, Length, Trim),
) -> Vec<ClearRun> {
    match board.yard_cut {
        None => clear_runs(job, board.source),
        Some(_) => vec![ClearRun {
            stretch: Stretch {
                from: start + ends.datum,
                to: end - ends.far,
            },
            tail: Length::ZERO,
        }],
    }
}

struct Walk<'a> {
    job: &'a Job,
    section: usize,
    sawn: Sawn,
    bad: &'a [Stretch],
    /// Whether the datum end of the board is a factory end.
    datum: bool,
    /// Whether the far end of the board counts with its trim.
    tail: bool,
    /// Where what is left starts.
    at: Length,
    /// What that end needs.
    needs: Length,
    left: Vec<LeftPiece>,
}

impl Walk<'_> {
    fn push(&mut self, to: Length, far: Length, kept: bool) {
        self.left.push(LeftPiece {
            from: self.at,
            to,
            trim: Trim {
                datum: self.needs,
                far,
            },
            tail: false,
            kept,
            factory_ends: [self.datum && self.at.is_none(), false],
            before_post: false,
            in_hand: false,
        });
    }

    /// A part that stands on the far end comes off by the cut before it, and the timber before that is left. `short` is by how much the timber in hand may be shorter.
    fn leave_before(&mut self, post: &PlacedPart, short: Length, clear: &[ClearRun]) {
        let (width, slant) = self.slanted(lying_ends(self.job, post)[0]);
        let to = post.start - short - width + slant;
        if to > self.at {
            let from = self.at + self.needs;
            let kept = clear.iter().any(|run| {
                let sound = run.stretch.to.min(to - slant) - run.stretch.from.max(from);
                !sound.is_none() && sound >= self.job.sections[self.section].keep
            });
            self.push(to, slant, kept);
            if let Some(piece) = self.left.last_mut() {
                piece.before_post = true;
            }
        }
        self.at = post.end;
    }

    /// The timber that comes off before a cut and is no offcut to keep.
    fn chunk(&mut self, to: Length, far: Length) {
        if to > self.at {
            self.push(to, far, false);
        }
    }

    /// An offcut worth keeping comes off, as far as the cuts around it are made; all of them where a part behind it is off.
    fn free(&mut self, one: &Freed, surely: bool) {
        if one.begins && (surely || self.sawn.has_cut(one.from)) {
            self.chunk(one.from - self.job.saw.kerf, Length::ZERO);
            (self.at, self.needs) = (one.from, (one.clear.from - one.from).max(Length::ZERO));
        }
        if surely || self.sawn.has_cut(one.to) {
            self.needs = self.needs.max(one.clear.from - self.at);
            self.push(one.to, one.to - one.clear.to, true);
            (self.at, self.needs) = (one.to + self.job.saw.kerf, Length::ZERO);
        }
    }

    /// So many parts of a run come off, and what is before the next one where its first end is cut.
    fn cut_run(&mut self, run: &PlannedRun, parts: usize) {
        if let Some(first) = run.cuts.first()
            && (parts > 0 || self.sawn.has_cut(first.start))
        {
            let (width, slant) = self.slanted(lying_ends(self.job, first)[0]);
            if first.start > self.at + self.needs || slant > Length::ZERO {
                self.chunk(first.start - width + slant, slant);
            }
            (self.at, self.needs) = (first.start, slant);
        }
        let Some(last) = parts.checked_sub(1).map(|last| &run.cuts[last]) else {
            return;
        };
        let (_, slant) = self.slanted(lying_ends(self.job, last)[1]);
        // The rest behind a mitre is slanted too: its long point reaches back towards the datum.
        let behind = last.end + cut_width(self.job, last);
        (self.at, self.needs) = (behind - slant, slant);
        // The first end of the next part is cut by itself where the two share no cut.
        if let Some(next) = run.cuts.get(parts)
            && next.start >= behind
            && self.sawn.has_cut(next.start)
        {
            let (_, slant) = self.slanted(lying_ends(self.job, next)[0]);
            (self.at, self.needs) = (next.start, slant);
        }
    }

    /// The length that the cut at an end takes, and how far its slant reaches.
    fn slanted(&self, end: PartEnd) -> (Length, Length) {
        let section = &self.job.sections[self.section];
        let [width, thickness] = [section.width, section.thickness].map(Option::unwrap_or_default);
        let back = end.stands_back(width) + end.through(thickness);
        (end.cut(self.job.saw.kerf), back)
    }

    /// The rest at the end of the timber in hand, up to `end`.
    fn finish(&mut self, (end, factory): (Length, bool), far: Length, clear: &[ClearRun]) {
        if end <= self.at {
            return;
        }
        let runs = clear.iter().map(|run| {
            let from = run.stretch.from.max(self.at + self.needs);
            (from, run.stretch.to.min(end - far) - from, run.tail)
        });
        let sound: Vec<_> = runs.filter(|(_, length, _)| !length.is_none()).collect();
        // A bad stretch in which this piece starts, or which its slant reaches, counts as what its end needs cut off.
        let starts_bad = self
            .bad
            .iter()
            .any(|bad| bad.from <= self.at + self.needs && bad.to > self.at + self.needs);
        if let (true, Some((from, ..))) = (starts_bad, sound.first()) {
            self.needs = *from - self.at;
        }
        let keep = self.job.sections[self.section].keep;
        self.left.push(LeftPiece {
            from: self.at,
            to: end,
            trim: Trim {
                datum: self.needs,
                far,
            },
            tail: self.tail,
            factory_ends: [self.datum && self.at.is_none(), factory],
            before_post: false,
            in_hand: true,
            kept: sound
                .iter()
                .any(|(_, length, tail)| *length + *tail >= keep),
        });
    }
}
