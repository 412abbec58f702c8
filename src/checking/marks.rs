//! Whether a board comes out as planned when its marks are followed.
//!
//! A mark stands on a step of the tape, hooked on the datum end of the piece in hand. What is sawn starts where the cut before it ends, so the
//! length of a part follows from two marks and one cut; it is worked out here from the marks alone and held against the job: from the part's length to
//! a step over, or for a part that goes between others from a step under to its length; a mitre may start two millimetres from the corner of a square end. Where it misses that, the plan must say by how much.
//! No part may leave its clear run, and no offcut that the plan keeps may become too short to keep. An offcut that lies before other cuts or a bad end has a
//! mark of its own at each end that was not cut before, so that no bad timber comes off with it. The yard's cut has a reading that a yard can saw
//! ([`yard_reading`]).

use super::board::{self, CheckedBoard, Offcut};
use super::cuts;
use super::ground::{ClearRun, Ground};
use super::lie::Lie;
use super::yard_reading;
use timber::job::{Fitting, Job, PartEnd};
use timber::length::Length;
use timber::marks::MarkedBoard;
use timber::plan::{Lies, PlacedPart, PlannedBoard, PlannedRun};

/// Checks the marks of a board that was found sound as planned; returns what is left of it once they are followed.
pub(super) fn check_marks(
    job: &Job,
    index: usize,
    planned: &PlannedBoard,
    found: &CheckedBoard,
    marked: &MarkedBoard,
    lies: &mut Vec<Lie>,
) -> Vec<Offcut> {
    let Some(ground) = Ground::of(job, planned.source) else {
        return Vec::new();
    };
    let before = lies.len();
    let standing = board::standing(job, (index, planned), &ground, lies);
    let runs = board::runs_of(job, &ground, marked.board.yard_cut, standing);
    let runs = runs.unwrap_or_default();
    let marks = Marks {
        job,
        board: index,
        ground: &ground,
        marked,
        far_post: standing[1].is_some(),
    };
    if !marks.same_cutting(planned)
        || !marks.carried()
        || !yard_reading::can_be_sawn(job, (&ground, marked), (planned, standing[1]), found)
    {
        lies.push(Lie::MarksOfAnotherPlan { board: index });
        return Vec::new();
    }
    let mut off = marked.off.iter();
    let mut laid: Vec<Option<&PlannedRun>> = vec![None; runs.len()];
    let mut behind = 0;
    for run in &marked.board.runs {
        // Runs ascend, so what was passed is not looked at again.
        while runs.get(behind).is_some_and(|clear| clear.from < run.from) {
            behind += 1;
        }
        match runs.get(behind) {
            Some(clear) if clear.from == run.from && clear.to == run.to => {
                laid[behind] = Some(run);
                match marks.far_post && behind + 1 == runs.len() {
                    true => marks.far_post(run, &mut off, lies),
                    false => marks.run(run, clear, &mut off, lies),
                }
            }
            _ => lies.push(Lie::NotAClearRun {
                board: index,
                from: run.from,
                to: run.to,
            }),
        }
    }
    if lies.len() > before {
        return Vec::new();
    }
    let mut left = board::left_over(job, &marked.board, &ground, (&runs, &laid)).offcuts;
    let kept = |offcuts: &[Offcut]| offcuts.iter().filter(|offcut| offcut.kept).count();
    if kept(&left) < kept(&found.offcuts) || !marks.free_offcuts(&runs, &laid, &mut left) {
        lies.push(Lie::MarksLoseAnOffcut { board: index });
    }
    left
}

struct Marks<'a> {
    job: &'a Job,
    board: usize,
    ground: &'a Ground<'a>,
    marked: &'a MarkedBoard,
    /// Whether the last run is a part that stands on the far end.
    far_post: bool,
}

impl Marks<'_> {
    /// Whether the marks speak of the same parts in the same runs and the same order.
    fn same_cutting(&self, planned: &PlannedBoard) -> bool {
        let marked = &self.marked.board;
        let same_part = |(one, other): (&PlacedPart, &PlacedPart)| {
            one.part == other.part && one.lies == other.lies && one.long_edge == other.long_edge
        };
        let same_run = |(one, other): (&PlannedRun, &PlannedRun)| {
            one.cuts.len() == other.cuts.len() && one.cuts.iter().zip(&other.cuts).all(same_part)
        };
        let parts: usize = marked.runs.iter().map(|run| run.cuts.len()).sum();
        marked.source == planned.source
            && marked.yard_cut.is_some() == planned.yard_cut.is_some()
            && marked.runs.len() == planned.runs.len()
            && marked.runs.iter().zip(&planned.runs).all(same_run)
            && self.marked.off.len() == parts
    }

    /// Whether both pieces of a length that the yard cuts can be carried.
    fn carried(&self) -> bool {
        match (self.marked.board.yard_cut, self.job.carry) {
            (None, _) => true,
            (Some(_), None) => false,
            (Some(cut), Some(carry)) => {
                cut <= carry && self.ground.length - cut - self.job.saw.kerf <= carry
            }
        }
    }

    /// Whether each offcut worth keeping that lies before other cuts of its piece, or before its bad end, comes off by marks of its own; puts it where they are.
    fn free_offcuts(
        &self,
        runs: &[ClearRun],
        laid: &[Option<&PlannedRun>],
        left: &mut [Offcut],
    ) -> bool {
        // What is before a part at the far end comes off by that part's own cut.
        let cut_last = laid[..laid.len().saturating_sub(usize::from(self.far_post))]
            .iter()
            .rposition(|run| run.is_some_and(|run| !run.cuts.is_empty()));
        let cut_last = cut_last.filter(|_| self.marked.board.yard_cut.is_none());
        let (step, kerf) = (self.job.step, self.job.saw.kerf);
        let mut freed = self.marked.freed.iter();
        // Where the cut before leaves off.
        let mut behind = Length::ZERO;
        let count = cut_last.map_or(0, |last| match self.ends_bad(runs, last, left) {
            true => runs.len(),
            false => last,
        });
        for (nth, run) in runs.iter().enumerate().take(count) {
            let parts = laid[nth].and_then(|run| run.cuts.last());
            let inside = |offcut: &&mut Offcut| offcut.to > run.from && offcut.from < run.to;
            let cut_off =
                parts.map(|last| last.end + cuts::cut_width(kerf, self.end_of(last, true)));
            let Some(offcut) = left.iter_mut().find(inside).filter(|offcut| offcut.kept) else {
                behind = cut_off.unwrap_or(behind);
                continue;
            };
            let Some(freed) = freed.next() else {
                return false;
            };
            let starts = cut_off.unwrap_or(run.from);
            let near = |one: Length, other: Length| (one - other).ticks().abs() < step.ticks();
            let untouched_end = nth == 0 && parts.is_none();
            let begins_well = match freed.begins {
                true => parts.is_none() && near(freed.from, starts) && freed.from > behind,
                false => match untouched_end {
                    true if starts == self.ground.trim.datum => freed.from == Length::ZERO,
                    _ => {
                        parts.is_some() && freed.from == starts
                            || freed.from == behind && near(behind, starts)
                    }
                },
            };
            let next = runs.get(nth + 1).map(|next| next.from);
            let ends_well = freed.to <= run.to || next.is_some_and(|next| freed.to + kerf <= next);
            let sound = freed.to.min(run.to) - freed.from.max(starts);
            let keep = self.job.sections[self.ground.section].keep;
            if !begins_well
                || !ends_well
                || !near(freed.to, run.to)
                || sound < keep
                || sound.is_none()
            {
                return false;
            }
            (offcut.from, offcut.to) = (freed.from, freed.to);
            behind = freed.to + kerf;
        }
        freed.next().is_none()
    }

    /// Whether no offcut worth keeping reaches from behind the last run with parts to the far end, because timber is bad there: what is worth keeping is cut
    /// off before that.
    fn ends_bad(&self, runs: &[ClearRun], cut_last: usize, left: &[Offcut]) -> bool {
        let Some(last) = runs.last().filter(|_| !self.far_post) else {
            return false;
        };
        let kept = || {
            let mut at_the_end = left.iter().filter(|offcut| offcut.to > last.from);
            at_the_end.any(|offcut| offcut.kept)
        };
        last.to < self.ground.length - self.ground.trim.far
            || (cut_last + 1 < runs.len() && !kept())
    }

    /// Where the piece in hand starts and ends at which a place lies.
    fn piece(&self, at: Length) -> (Length, Length) {
        match self.marked.board.yard_cut {
            Some(cut) if at >= cut => (cut + self.job.saw.kerf, self.ground.length),
            Some(cut) => (Length::ZERO, cut),
            None => (Length::ZERO, self.ground.length),
        }
    }

    fn run<'o>(
        &self,
        run: &PlannedRun,
        clear: &ClearRun,
        off: &mut impl Iterator<Item = &'o Length>,
        lies: &mut Vec<Lie>,
    ) {
        let (start, end) = self.piece(run.from);
        let step = self.job.step.ticks();
        let on_step = |at: Length| (at - start).ticks().rem_euclid(step) == 0;
        let mut before: Option<&PlacedPart> = None;
        for placed in &run.cuts {
            let told = off.next().copied().unwrap_or_default();
            let part = &self.job.parts[placed.part];
            let made = placed.end - placed.start;
            let misses = misses(made - part.length, part.fitting, self.job.step);
            // A part without a first cut of its own starts where the one before it was cut off.
            let own_cut = match before {
                None => clear.from < placed.start,
                Some(before) => {
                    let gap = placed.start - before.end;
                    let needed = self.between(before, placed);
                    gap != needed
                        && !(on_step(placed.start)
                            && gap > needed
                            && (gap - needed).ticks() < step + self.margin(Some(before), placed)
                            && self.cuts_anew(before, placed))
                }
            };
            let starts_wrong = match before {
                None => {
                    placed.start < clear.from
                        || (placed.start - clear.from).ticks() >= step + self.margin(None, placed)
                        || (own_cut && !on_step(placed.start))
                }
                Some(_) => own_cut,
            };
            let coarse = made.ticks() < step || part.length.ticks() < step;
            let ends_wrong = placed.end > clear.to
                || made <= Length::ZERO
                || !(on_step(placed.end) || placed.end == end || coarse || told != Length::ZERO);
            if starts_wrong || ends_wrong || misses != told {
                lies.push(Lie::MarkAstray {
                    board: self.board,
                    part: placed.part,
                    made,
                });
            }
            before = Some(placed);
        }
    }

    /// A part that stands on the far end is measured from there: it is its length, to the next step.
    fn far_post<'o>(
        &self,
        run: &PlannedRun,
        off: &mut impl Iterator<Item = &'o Length>,
        lies: &mut Vec<Lie>,
    ) {
        for placed in &run.cuts {
            let (told, made) = (off.next(), placed.end - placed.start);
            let over = made - self.job.parts[placed.part].length;
            let on_step = made.ticks().rem_euclid(self.job.step.ticks()) == 0;
            let good = (0..self.job.step.ticks()).contains(&over.ticks()) && on_step;
            if !good || placed.end != self.ground.length || told != Some(&Length::ZERO) {
                lies.push(Lie::MarkAstray {
                    board: self.board,
                    part: placed.part,
                    made,
                });
            }
        }
    }

    /// What the plan leaves between two neighbours: one cut, or less where they share a mitre.
    fn between(&self, one: &PlacedPart, next: &PlacedPart) -> Length {
        let away = self.end_of(one, true);
        let width = cuts::cut_width(self.job.saw.kerf, away);
        let section = &self.job.sections[self.ground.section];
        match (away, self.end_of(next, false)) {
            (PartEnd::Mitre(angle), PartEnd::Mitre(other))
                if angle == other && next.start - one.end < width =>
            {
                width - cuts::stands_back(section, angle)
            }
            _ => width,
        }
    }

    /// By how much further than to the next step a mitre at a square end may be marked from it: two millimetres, and what leads on to a step.
    fn margin(&self, before: Option<&PlacedPart>, placed: &PlacedPart) -> i64 {
        let square = before.is_none_or(|before| self.end_of(before, true) == PartEnd::Square);
        if square && self.end_of(placed, false) != PartEnd::Square {
            Length::from_mm(2).up_to(self.job.step).ticks()
        } else {
            0
        }
    }

    /// Whether the second of two neighbours has a first cut of its own: an end that the cut before it does not make.
    fn cuts_anew(&self, one: &PlacedPart, next: &PlacedPart) -> bool {
        self.end_of(one, true) != PartEnd::Square || self.end_of(next, false) != PartEnd::Square
    }

    fn end_of(&self, placed: &PlacedPart, away: bool) -> PartEnd {
        let ends = self.job.parts[placed.part].ends;
        ends[usize::from((placed.lies == Lies::AsWritten) == away)]
    }
}

/// By how much a part misses what it should be, when it comes out `over` its length.
fn misses(over: Length, fitting: Fitting, step: Length) -> Length {
    let (over, step) = (over.ticks(), step.ticks());
    let good = match fitting {
        Fitting::Free | Fitting::Ground => (0..step).contains(&over),
        Fitting::Between => (1 - step..=0).contains(&over),
    };
    Length::from_ticks(if good { 0 } else { over })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::sharing::Sharing;
    use timber::draft::{JobDraft, PartDraft, SectionDraft, ShedDraft, YardDraft};
    use timber::job::{Stretch, validate};
    use timber::marks::mark_board;
    use timber::plan::{Edge, Source};

    fn mm(millimetres: i64) -> Length {
        Length::from_mm(millimetres)
    }

    fn job() -> Job {
        let text = |text: &str| Some(text.to_owned());
        let mut draft = JobDraft {
            sections: vec![SectionDraft {
                name: text("rail"),
                ..SectionDraft::default()
            }],
            yard: vec![YardDraft {
                length: text("3000"),
                ..YardDraft::default()
            }],
            shed: vec![ShedDraft {
                mark: text("S"),
                length: text("1700"),
                bad: text("100..140; 600..640"),
                trim: text("0"),
                ..ShedDraft::default()
            }],
            parts: vec![PartDraft {
                label: text("post"),
                length: text("1000"),
                ..PartDraft::default()
            }],
            ..JobDraft::default()
        };
        draft.own.carry = text("2100");
        draft.own.yard_tolerance = text("0");
        draft.own.yard_trim = text("0");
        validate(&draft).expect("a job without faults")
    }

    fn run(from: Length, to: Length) -> PlannedRun {
        let post = PlacedPart {
            part: 0,
            start: from,
            end: from + mm(1_000),
            lies: Lies::AsWritten,
            long_edge: Edge::Far,
        };
        PlannedRun {
            from,
            to,
            cuts: vec![post],
        }
    }

    /// What is found false about the marks of a board, when they are changed so.
    fn lies(planned: &PlannedBoard, change: impl Fn(&mut MarkedBoard)) -> Vec<Lie> {
        let (job, mut lies) = (job(), Vec::new());
        let found = board::check_board(&job, &Sharing::of_all(&job), (0, planned), &mut lies)
            .expect("a sound board");
        let mut marked = mark_board(&job, planned);
        change(&mut marked);
        check_marks(&job, 0, planned, &found, &marked, &mut lies);
        lies
    }

    #[test]
    fn an_offcut_before_other_cuts_has_to_be_cut_off_where_its_clear_run_starts_and_ends() {
        let planned = PlannedBoard {
            source: Source::Shed(0),
            yard_cut: None,
            runs: vec![run(mm(640), mm(1_700))],
        };
        let lost = [Lie::MarksLoseAnOffcut { board: 0 }];
        assert_eq!(lies(&planned, |_| ()), []);
        // Uncut at its start it would come with the bad stretch from 100 to 140.
        assert_eq!(
            lies(&planned, |marked| marked.freed[0].begins = false),
            lost
        );
        let from_the_end = |marked: &mut MarkedBoard| {
            (marked.freed[0].begins, marked.freed[0].from) = (false, Length::ZERO);
        };
        assert_eq!(lies(&planned, from_the_end), lost);
        assert_eq!(lies(&planned, |marked| marked.freed.clear()), lost);
        assert_eq!(lies(&planned, |marked| marked.freed[0].to = mm(601)), lost);
        assert_eq!(
            lies(&planned, |marked| marked.freed[0].from = mm(139)),
            lost
        );
    }

    #[test]
    fn an_offcut_that_starts_where_the_cut_before_leaves_off_needs_no_cut_there() {
        let mut job = job();
        let board = &mut job.shed[0];
        board.length = mm(2_600);
        // The cut behind the first post takes the first bad stretch with it, to just where the next clear run starts.
        board.bad = [(1_000, 1_001), (1_500, 1_540)]
            .map(|(from, to)| Stretch {
                from: mm(from),
                to: mm(to),
            })
            .to_vec();
        let planned = PlannedBoard {
            source: Source::Shed(0),
            yard_cut: None,
            runs: vec![run(Length::ZERO, mm(1_000)), run(mm(1_540), mm(2_600))],
        };
        let lies = |change: &dyn Fn(&mut MarkedBoard)| {
            let mut lies = Vec::new();
            let found = board::check_board(&job, &Sharing::of_all(&job), (0, &planned), &mut lies)
                .expect("a sound board");
            let mut marked = mark_board(&job, &planned);
            change(&mut marked);
            check_marks(&job, 0, &planned, &found, &marked, &mut lies);
            lies
        };
        assert_eq!(lies(&|_| ()), []);
        let starts = mm(1_000) + job.saw.kerf;
        let lost = [Lie::MarksLoseAnOffcut { board: 0 }];
        assert_eq!(lies(&|marked| marked.freed[0].from = starts - mm(1)), lost);
        assert_eq!(lies(&|marked| marked.freed[0].begins = true), lost);
    }

    /// A length that is cut once at the yard, a post in its first piece, and one in its second where that is `both`.
    fn cut_at(cut: Length, both: bool) -> PlannedBoard {
        let mut runs = vec![run(mm(10), cut)];
        if both {
            runs.push(run(cut + job().saw.kerf, mm(2_990)));
        }
        PlannedBoard {
            source: Source::Yard(0),
            yard_cut: Some(cut),
            runs,
        }
    }

    #[test]
    fn the_yards_cut_has_to_stand_on_a_whole_reading_where_one_will_do() {
        let kerf = job().saw.kerf;
        let off = mm(1_951) + Length::from_ticks(1);
        let board = cut_at(off, false);
        assert_eq!(lies(&board, |_| ()), []);
        let astray = [Lie::MarksOfAnotherPlan { board: 0 }];
        // Between two steps, and on a step that no yard saws at.
        for at in [off, mm(1_951)] {
            let moved = |marked: &mut MarkedBoard| {
                marked.board.yard_cut = Some(at);
                marked.board.runs[0].to = at;
            };
            assert_eq!(lies(&board, moved), astray);
        }
        // A cut that leaves more than the vehicle takes is no better on a step: 3000 less 2100 and the cut is the least.
        let far = |marked: &mut MarkedBoard| marked.board.yard_cut = Some(mm(900) - kerf - mm(1));
        assert_eq!(lies(&board, far), astray);
    }

    #[test]
    fn the_yards_cut_may_stand_on_any_step_where_no_whole_reading_leaves_both_pieces_their_parts() {
        let mut job = job();
        job.sections[0].keep = mm(973);
        let board = cut_at(mm(1_986), true);
        let mut found_lies = Vec::new();
        let found = board::check_board(&job, &Sharing::of_all(&job), (0, &board), &mut found_lies)
            .expect("a sound board");
        let marked = mark_board(&job, &board);
        let at = marked.board.yard_cut.expect("a cut");
        // 1010 + 2.4 + 973 and two steps are 1986.4; of 2997.6 the second needs 1010 and two steps, so 1986.6 is the most.
        assert_eq!(at, mm(1_986) + Length::from_ticks(1_600));
        check_marks(&job, 0, &board, &found, &marked, &mut found_lies);
        assert_eq!(found_lies, []);
    }
}
