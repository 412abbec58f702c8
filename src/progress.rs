//! What is left to do when some of a plan is done: boards bought, parts cut, things gone wrong.
//!
//! What is cut stays cut. The parts still wanted and the timber still there make a job of their own: every board already bought, and
//! every rest of a board already cut, becomes a board of the shed, measured from its fresh end, so that the planner uses it
//! first and free of charge. Positions are those of the marks; a part counts as cut once its trailing cut is made. What is in the car fits in it:
//! a bought length that is too long to carry has had the yard's cut, where the plan has it, and is two boards.

mod marks;
mod measured;

pub use marks::Marks;
pub use measured::{Doubt, doubt};

use crate::clear::clear_runs;
use crate::job::{Job, Part, PartEnd, Stretch, Trim};
use crate::length::Length;
use crate::marks::mark_board;
use crate::plan::{Lies, PlacedPart, Plan, PlannedBoard, Source};

/// How far the work has come.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Progress {
    /// What happened to boards of the plan, at most one entry for each.
    pub boards: Vec<BoardProgress>,
    /// What was bought at the yard, at most one entry for each line.
    pub bought: Vec<Bought>,
}

/// What happened to one board of the plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct BoardProgress {
    /// Index of the board in the plan.
    pub board: usize,
    /// How many parts are cut off it, from the datum end on.
    pub cut: usize,
    /// Which of the cut parts came out spoiled, counted along the board from zero.
    pub spoiled: Vec<usize>,
    /// The board is bad from here to its far end, measured from the first datum end.
    pub bad_from: Option<Length>,
}

/// Boards of one yard line that were bought, each with its measured length where that is not the stated one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bought {
    /// Index of the line in the job's yard.
    pub line: usize,
    /// One entry for each board bought.
    pub lengths: Vec<Option<Length>>,
    /// Stretches found bad on them, in the same order; boards beyond its end have none.
    pub bad: Vec<Vec<Stretch>>,
}

impl Bought {
    fn nth(&self, nth: usize) -> Found<'_> {
        Found {
            length: self.lengths.get(nth).copied().flatten(),
            bad: self.bad.get(nth).map_or(&[], Vec::as_slice),
        }
    }
}

/// What was found on one bought board.
#[derive(Clone, Copy, Default)]
struct Found<'a> {
    length: Option<Length>,
    bad: &'a [Stretch],
}

/// What is left to plan.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Left {
    /// The parts still wanted.
    pub parts: Vec<Part>,
    /// Indices of the job's shed boards that are as they were.
    pub shed_kept: Vec<usize>,
    /// Boards that came to be since: bought ones, and the rests of those that were cut.
    pub shed_new: Vec<Rest>,
    /// For each yard line, how many of its boards were bought.
    pub bought: Vec<u32>,
}

/// A physical piece of timber that is left of a board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rest {
    /// The board it is of.
    pub source: Source,
    /// Index of the board in the plan, where it is one of the plan's.
    pub board: Option<usize>,
    /// Which of the boards bought of its line it is, where it is one of them.
    pub bought: Option<usize>,
    /// Index of its section.
    pub section: usize,
    /// Its physical length.
    pub length: Length,
    /// Its bad stretches, from its own datum end.
    pub bad: Vec<Stretch>,
    /// What its ends still need.
    pub trim: Trim,
    /// Whether anything was cut from the board.
    pub state: RestState,
}

/// What a rest is of a board.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RestState {
    /// Bought and not cut yet.
    Whole,
    /// One of the two pieces of a bought length that was too long to carry: the yard cut it at this reading.
    Carried(Length),
    /// The rest of a board that was cut.
    Cut,
}

/// What is left to plan after some of `plan` is done.
pub fn left(job: &Job, plan: &Plan, progress: &Progress) -> Left {
    let mut wanted: Vec<u32> = job.parts.iter().map(|part| part.quantity).collect();
    let mut left = Left {
        bought: vec![0; job.yard.len()],
        ..Left::default()
    };
    let mut shed_used = vec![false; job.shed.len()];
    let mut met = vec![0usize; job.yard.len()];
    let marked = plan.boards.iter().map(|board| mark_board(job, board).board);
    for (index, board) in marked.enumerate() {
        let board = &board;
        let done = progress
            .boards
            .iter()
            .find(|done| done.board == index)
            .cloned()
            .unwrap_or_default();
        for (position, placed) in board.runs.iter().flat_map(|run| &run.cuts).enumerate() {
            if position < done.cut && !done.spoiled.contains(&position) {
                wanted[placed.part] = wanted[placed.part].saturating_sub(1);
            }
        }
        let touched = done.cut > 0 || done.bad_from.is_some();
        match board.source {
            Source::Shed(shed) if touched => {
                shed_used[shed] = true;
                left.shed_new.extend(rests(
                    job,
                    Some((index, board)),
                    board.source,
                    Found::default(),
                    &done,
                ));
            }
            Source::Shed(_) => {}
            Source::Yard(line) => {
                let bought = progress.bought.iter().find(|bought| bought.line == line);
                let bought = bought.filter(|bought| met[line] < bought.lengths.len());
                if bought.is_some() || touched {
                    let nth = bought.map(|_| met[line]);
                    let found = bought.map(|bought| bought.nth(met[line]));
                    met[line] += 1;
                    left.bought[line] += 1;
                    let planned = (touched || board.yard_cut.is_some()).then_some((index, board));
                    let rests = rests(job, planned, board.source, found.unwrap_or_default(), &done);
                    left.shed_new.extend(rests.into_iter().map(|rest| Rest {
                        bought: nth,
                        ..rest
                    }));
                }
            }
        }
    }
    for bought in &progress.bought {
        let Some(&planned) = met.get(bought.line) else {
            continue;
        };
        for nth in planned..bought.lengths.len() {
            left.bought[bought.line] += 1;
            let untouched = BoardProgress::default();
            let source = Source::Yard(bought.line);
            let rests = rests(job, None, source, bought.nth(nth), &untouched);
            left.shed_new.extend(rests.into_iter().map(|rest| Rest {
                bought: Some(nth),
                ..rest
            }));
        }
    }
    left.shed_kept = (0..job.shed.len())
        .filter(|&shed| !shed_used[shed])
        .collect();
    left.parts = job
        .parts
        .iter()
        .zip(&wanted)
        .filter(|(_, quantity)| **quantity > 0)
        .map(|(part, &quantity)| Part {
            quantity,
            ..part.clone()
        })
        .collect();
    left
}

/// The offcuts worth keeping once every part of the plan is cut, and every bought board nothing was cut from.
pub fn kept_offcuts(job: &Job, plan: &Plan, progress: &Progress) -> Vec<Rest> {
    let mut finished = progress.clone();
    finished.boards = plan
        .boards
        .iter()
        .enumerate()
        .map(|(index, board)| {
            let done = progress
                .boards
                .iter()
                .find(|done| done.board == index)
                .cloned()
                .unwrap_or_default();
            let cut = board.runs.iter().map(|run| run.cuts.len()).sum();
            BoardProgress {
                board: index,
                cut,
                ..done
            }
        })
        .collect();
    let rests = left(job, plan, &finished).shed_new;
    rests
        .into_iter()
        .filter(|rest| {
            let slant = match rest.state {
                RestState::Cut => rest.trim.datum,
                RestState::Whole | RestState::Carried(_) => Length::ZERO,
            };
            worth_keeping(job, rest.section, rest.length, slant)
        })
        .collect()
}

/// A board of the job's shed that a plan leaves alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeftAlone {
    /// Its index in the shed.
    pub shed: usize,
    /// Whether it is shorter than an offcut worth keeping. A rest of a board cut earlier is scrap then, and no board for the shed.
    pub short: bool,
}

/// The boards of the job's shed that a plan does not take.
pub fn left_alone(job: &Job, plan: &Plan) -> Vec<LeftAlone> {
    let takes = |shed| {
        plan.boards
            .iter()
            .any(|board| board.source == Source::Shed(shed))
    };
    let boards = job
        .shed
        .iter()
        .enumerate()
        .filter(|(shed, _)| !takes(*shed));
    boards
        .map(|(shed, board)| LeftAlone {
            shed,
            short: !worth_keeping(job, board.section, board.length, board.trim.datum),
        })
        .collect()
}

/// Whether a piece of this physical length goes back to the shed. A slanted fresh end is no use for its slant.
fn worth_keeping(job: &Job, section: usize, length: Length, slant: Length) -> bool {
    length - slant >= job.sections[section].keep
}

/// The shortest rest that is worth writing down at all; a shorter one is under the shortest board a shed takes.
const SHORTEST: Length = crate::limits::BOARD.least;

/// The physical pieces that are left of one board.
fn rests(
    job: &Job,
    planned: Option<(usize, &PlannedBoard)>,
    source: Source,
    found: Found,
    done: &BoardProgress,
) -> Vec<Rest> {
    let (section, stated, bad, trim) = match source {
        Source::Shed(shed) => {
            let board = &job.shed[shed];
            (
                board.section,
                board.length,
                board.bad.as_slice(),
                board.trim,
            )
        }
        Source::Yard(line) => {
            let yard = &job.yard[line];
            (
                yard.section,
                yard.length,
                found.bad,
                job.sections[yard.section].trim,
            )
        }
    };
    let board_end = found.length.unwrap_or(stated);
    let end = done.bad_from.map_or(board_end, |from| from.min(board_end));
    let far = if done.bad_from.is_some() {
        Length::ZERO
    } else {
        trim.far
    };
    let planned_cut = planned.and_then(|(_, board)| board.yard_cut);
    let yard_cut = match source {
        Source::Yard(_) => yard_cut(job, board_end, planned_cut),
        Source::Shed(_) => None,
    };
    let state = match yard_cut {
        _ if done.cut > 0 || done.bad_from.is_some() => RestState::Cut,
        Some(cut) => RestState::Carried(cut),
        None => RestState::Whole,
    };
    let piece = |from: Length, to: Length, trim: Trim| {
        let bad = bad
            .iter()
            .filter(|stretch| stretch.to > from && stretch.from < to)
            .map(|stretch| Stretch {
                from: (stretch.from - from).max(Length::ZERO),
                to: stretch.to.min(to) - from,
            })
            .collect();
        Rest {
            source,
            board: planned.map(|(index, _)| index),
            bought: None,
            section,
            length: to - from,
            bad,
            trim,
            state,
        }
    };
    let mut pieces = Vec::new();
    let mut from = Length::ZERO;
    let mut datum = trim.datum;
    let mut behind = planned
        .map(|(_, board)| board)
        .into_iter()
        .flat_map(|board| &board.runs)
        .peekable();
    let mut cut = done.cut;
    let mut behind_us = Length::ZERO;
    while let Some(run) = behind.next() {
        let here = cut.min(run.cuts.len());
        cut -= here;
        if here == 0 {
            break;
        }
        // Runs that nothing is planned for, before this one, come off as they are.
        for untouched in clear_runs(job, source) {
            let stretch = untouched.stretch;
            if stretch.from >= behind_us && stretch.to < run.from && yard_cut.is_none() {
                let first = stretch.from == trim.datum;
                let start = if first { Length::ZERO } else { stretch.from };
                let datum = if first { trim.datum } else { Length::ZERO };
                let far = Length::ZERO;
                pieces.push(piece(start, stretch.to.min(end), Trim { datum, far }));
            }
        }
        behind_us = run.to;
        let placed = &run.cuts[here - 1];
        let (fresh, slant) = fresh_end(job, section, placed);
        from = fresh;
        datum = slant;
        // Something is cut behind this run too, so the board was parted at the run's end.
        if cut > 0 && behind.peek().is_some() {
            pieces.push(piece(
                from,
                run.to.min(end).max(from),
                Trim {
                    datum,
                    far: Length::ZERO,
                },
            ));
        }
    }
    match yard_cut {
        Some(at) if from < at => {
            pieces.push(piece(
                from,
                at.min(end),
                Trim {
                    datum,
                    far: Length::ZERO,
                },
            ));
            let second = at + job.saw.kerf;
            pieces.push(piece(
                second.min(end),
                end,
                Trim {
                    datum: Length::ZERO,
                    far,
                },
            ));
        }
        _ => pieces.push(piece(from.min(end), end, Trim { datum, far })),
    }
    pieces.retain(|rest| rest.length >= SHORTEST && rest.length > rest.trim.datum + rest.trim.far);
    pieces
}

/// Where the yard cuts a length that is in the car: where the plan has it, or so that the first piece is as long as can be. Where the
/// tape says more than the list, the cut moves on as far as the second piece needs to fit.
fn yard_cut(job: &Job, board_end: Length, planned: Option<Length>) -> Option<Length> {
    let carry = job.carry.filter(|carry| board_end > *carry);
    match (planned, carry) {
        (planned, None) => planned,
        (None, Some(carry)) => Some(carry.min(board_end - job.saw.kerf)),
        (Some(cut), Some(carry)) => Some(cut.max(board_end - job.saw.kerf - carry)),
    }
}

/// Where the board starts after the cut behind a part, and what its fresh end needs to be square again.
fn fresh_end(job: &Job, section: usize, placed: &PlacedPart) -> (Length, Length) {
    let ends = job.parts[placed.part].ends;
    let right = if placed.lies == Lies::AsWritten {
        ends[1]
    } else {
        ends[0]
    };
    match right {
        PartEnd::Square => (placed.end + job.saw.kerf, Length::ZERO),
        PartEnd::Mitre(angle) => {
            // The rest is mitred: its long point stands back towards the datum by the slant of the cut.
            let slant = angle.saving(job.sections[section].width.unwrap_or_default());
            (placed.end + angle.kerf(job.saw.kerf) - slant, slant)
        }
    }
}
