//! Whether a board comes out as planned when its marks are followed.
//!
//! A mark stands on a step of the tape, hooked on the datum end of the piece in hand. What is sawn starts where the cut before it ends, so the
//! length of a part follows from two marks and one cut; it is worked out here from the marks alone and held against the job: from the part's length to
//! a step over, or for a part that goes between others from a step under to its length. Where it misses that, the plan must say by how much.
//! No part may leave its clear run, and no offcut that the plan keeps may become too short to keep.

use super::board::{self, CheckedBoard, Offcut};
use super::cuts;
use super::ground::{ClearRun, Ground};
use super::lie::Lie;
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
    let runs = match marked.board.yard_cut {
        None => ground.runs(job),
        Some(cut) => ground.carried_runs(cut, job.saw.kerf),
    };
    let marks = Marks {
        job,
        board: index,
        ground: &ground,
        marked,
    };
    if !marks.same_cutting(planned) || !marks.carried() {
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
                marks.run(run, clear, &mut off, lies);
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
    let left = board::left_over(job, &marked.board, &ground, (&runs, &laid));
    let kept = |offcuts: &[Offcut]| offcuts.iter().filter(|offcut| offcut.kept).count();
    if kept(&left.offcuts) < kept(&found.offcuts) {
        lies.push(Lie::MarksLoseAnOffcut { board: index });
    }
    left.offcuts
}

struct Marks<'a> {
    job: &'a Job,
    board: usize,
    ground: &'a Ground<'a>,
    marked: &'a MarkedBoard,
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
                            && (gap - needed).ticks() < step
                            && self.cuts_anew(before, placed))
                }
            };
            let starts_wrong = match before {
                None => {
                    placed.start < clear.from
                        || (placed.start - clear.from).ticks() >= step
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
        Fitting::Free => (0..step).contains(&over),
        Fitting::Between => (1 - step..=0).contains(&over),
    };
    Length::from_ticks(if good { 0 } else { over })
}
