//! What is left to do when some of a plan is done: boards bought, parts cut, things gone wrong.
//!
//! What is cut stays cut. The parts still wanted and the timber still there make a job of their own: every board already bought, and
//! every rest of a board already cut, becomes a board of the shed, measured from its fresh end, so that the planner uses it
//! first and free of charge. Positions are those of the marks; a part counts as cut once its trailing cut is made. What is in the car fits in it:
//! a bought length that is too long to carry has had the yard's cut, where the plan has it, and is two boards. Until somebody measures them each
//! is as long as the yard's tolerance leaves it at the least, and its fresh end is still to be trimmed. A strip that is left beside what was ripped out of a board, and is worth keeping,
//! is a board of a section of its own.

mod begun;
mod marks;
mod measured;

pub use begun::as_begun;
pub use marks::Marks;
pub use measured::{Doubt, doubt};

use crate::job::{Fitting, Job, Part, Spare, Stretch, Trim};
use crate::left::{LeftPiece, Sawn, clear_of, left_pieces, worth_keeping};
use crate::length::Length;
use crate::limits;
use crate::marks::{MarkedBoard, mark_board};
use crate::plan::{PlacedPart, Plan, PlannedBoard, Source};
use timber::beside::kept_beside;
use timber::runs::joined;

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
    /// How many of its parts are cut off, counted from the datum end.
    pub cut: usize,
    /// The mark of the last cut that is made, from its first datum end, whatever that cut freed; those that free its cut parts are made in any case.
    pub mark: Option<Length>,
    /// Indices of the cut parts that came out spoiled, counted along the board from zero.
    pub spoiled: Vec<usize>,
    /// Where it turned out bad, measured from its first datum end.
    pub bad: Vec<Stretch>,
}

impl BoardProgress {
    fn is_sawn(&self) -> bool {
        self.cut > 0 || self.mark.is_some()
    }

    fn sawn(&self) -> Sawn {
        Sawn {
            parts: self.cut,
            mark: self.mark,
        }
    }
}

/// Boards of one yard line that were bought, each with its measured length where that is not the stated one.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Bought {
    /// Index of the line in the job's yard.
    pub line: usize,
    /// One entry for each board bought.
    pub lengths: Vec<Option<Length>>,
    /// Bad stretches found on them, in the same order; boards beyond the end of this list have none.
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
    /// The parts still wanted. What is not ripped, or ripped out of pieces of its own, has the letter it has in the plan.
    pub parts: Vec<Part>,
    /// The row of the job's list that each of them is of.
    pub rows: Vec<usize>,
    /// How many of each row of the job's list are cut and sound.
    pub made: Vec<u32>,
    /// How many of each row of the job's list came out spoiled.
    pub spoiled: Vec<u32>,
    /// Indices of the job's shed boards that are as they were.
    pub shed_kept: Vec<usize>,
    /// Boards that are new: bought ones, and the rests of those that were cut.
    pub shed_new: Vec<Rest>,
    /// For each yard line, how many of its boards were bought.
    pub bought: Vec<u32>,
}

/// A physical piece of timber that is left of a board, or a whole bought board.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Rest {
    /// The board it was part of.
    pub source: Source,
    /// Index of the board in the plan, where it is one of the plan's.
    pub board: Option<usize>,
    /// Which of the bought boards of its line it is, from zero, where it is one of them.
    pub bought: Option<usize>,
    /// Index of its section.
    pub section: usize,
    /// Where it starts on that board, from the board's datum end.
    pub from: Length,
    /// Whether it is what is in hand after the last cut, its datum end sawn by that.
    pub in_hand: bool,
    /// Its physical length.
    pub length: Length,
    /// Its bad stretches, from its own datum end.
    pub bad: Vec<Stretch>,
    /// The trims its ends still need.
    pub trim: Trim,
    /// Whether its far end was sawn, before a part that stands on the far end of the board: it may be slanted.
    pub sawn_end: bool,
    /// How the rest came about.
    pub state: RestState,
    /// Whether it is worth keeping.
    pub kept: bool,
    /// The width that is left, where it is a strip beside what was ripped out of a board.
    pub strip: Option<Length>,
    /// Which of its ends are factory ends still, the datum end first.
    pub factory_ends: [bool; 2],
}

/// How a rest came about.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum RestState {
    /// Not cut yet.
    Whole,
    /// One of the two pieces of a bought length that was too long to carry: the yard cut it at this reading.
    Carried(Length),
    /// The rest of a board that was cut.
    Cut,
}

/// What is left to plan after some of `plan` is done.
pub fn left(job: &Job, plan: &Plan, progress: &Progress) -> Left {
    let mut wanted: Vec<u32> = job.parts.iter().map(|part| part.quantity).collect();
    let rows_cut = job.rows_cut();
    let mut left = Left {
        bought: vec![0; job.yard.len()],
        made: vec![0; job.list.len()],
        spoiled: vec![0; job.list.len()],
        ..Left::default()
    };
    let mut shed_used = vec![false; job.shed.len()];
    let mut met = vec![0usize; job.yard.len()];
    let marked = plan.boards.iter().map(|board| mark_board(job, board));
    for (index, marked) in marked.enumerate() {
        let board = &marked.board;
        let done = progress
            .boards
            .iter()
            .find(|done| done.board == index)
            .cloned()
            .unwrap_or_default();
        for (position, placed) in board.runs.iter().flat_map(|run| &run.cuts).enumerate() {
            if position >= done.cut {
                break;
            }
            let is_spoiled = done.spoiled.contains(&position);
            let came_out = match is_spoiled {
                true => &mut left.spoiled,
                false => &mut left.made,
            };
            for &row in &rows_cut[placed.part] {
                came_out[row] += 1;
            }
            if !is_spoiled {
                wanted[placed.part] = wanted[placed.part].saturating_sub(1);
                left.shed_new
                    .extend(in_reserve(job, (index, board.source), placed));
            }
        }
        let touched = done.is_sawn() || !done.bad.is_empty();
        match board.source {
            Source::Shed(shed) if touched => {
                shed_used[shed] = true;
                left.shed_new.extend(rests(
                    job,
                    Some((index, &marked)),
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
                    let planned = (touched || board.yard_cut.is_some()).then_some((index, &marked));
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
    take_reserves(job, &rows_cut, &mut wanted, &mut left);
    (left.rows, left.parts) = still_wanted(job, &rows_cut, &wanted).into_iter().unzip();
    left
}

/// A spare piece that is cut: timber that goes back to the shed where nothing needs it.
fn in_reserve(job: &Job, (board, source): (usize, Source), placed: &PlacedPart) -> Option<Rest> {
    let part = &job.parts[placed.part];
    let (section, _) = job.board(source);
    (part.spare == Spare::Piece).then(|| Rest {
        source,
        board: Some(board),
        bought: None,
        section,
        from: placed.start,
        in_hand: false,
        length: part.length,
        bad: Vec::new(),
        trim: Trim::default(),
        sawn_end: false,
        state: RestState::Cut,
        kept: part.length >= job.sections[section].keep,
        strip: None,
        factory_ends: [false; 2],
    })
}

/// What is in reserve takes the place of what came out spoiled: a spare that is not cut yet is no longer wanted, one that is cut is one of the parts. What is
/// ripped is planned again as it was.
fn take_reserves(job: &Job, rows_cut: &[Vec<usize>], wanted: &mut [u32], left: &mut Left) {
    let part_of = |row: usize| rows_cut.iter().position(|rows| rows[..] == [row]);
    for row in 0..job.list.len() {
        let of = &job.list[row];
        let Some(part) = part_of(row).filter(|_| of.spare == Spare::No && of.rip.is_none()) else {
            continue;
        };
        let mut lacking = left.spoiled[row].min(wanted[part]);
        let is_reserve = |other: &usize| match job.list[*other].spare {
            Spare::No => false,
            Spare::Part => *other == row + 1,
            Spare::Piece => job.list[*other].sections == of.sections,
        };
        for other in (0..job.list.len()).filter(is_reserve) {
            let Some(reserve) = part_of(other) else {
                continue;
            };
            let uncut = lacking.min(wanted[reserve]);
            wanted[reserve] -= uncut;
            lacking -= uncut;
            if job.list[other].spare == Spare::Part {
                let cut = lacking.min(left.made[other]);
                wanted[part] -= cut;
                left.made[row] += cut;
                left.made[other] -= cut;
                lacking -= cut;
            }
        }
    }
}

/// The parts of the list that so many of what is cut across boards give, each after its row; what is ripped out of one row stands together.
fn still_wanted(job: &Job, rows_cut: &[Vec<usize>], wanted: &[u32]) -> Vec<(usize, Part)> {
    let mut parts: Vec<(usize, Part)> = Vec::new();
    let mut place: Vec<Option<usize>> = vec![None; job.list.len()];
    let letters = job.letters();
    for (at, part) in job.parts.iter().enumerate() {
        let quantity = wanted[at];
        if quantity == 0 {
            continue;
        }
        for &row in &rows_cut[at] {
            match place[row] {
                Some(place) => parts[place].1.quantity += quantity,
                None => {
                    place[row] = Some(parts.len());
                    // What is ripped keeps it where it is cut by itself, and all of its row.
                    let others = job.parts.iter().enumerate();
                    let mut others = others.filter(|(other, _)| *other != at);
                    let alone = part.strips.len() < 2
                        && !others.any(|(_, other)| other.strips.contains(&row));
                    let letter = alone.then_some(letters[at]);
                    let part = Part {
                        quantity,
                        letter,
                        ..job.list[row].clone()
                    };
                    parts.push((row, part));
                }
            }
        }
    }
    parts
}

/// What is left once every part of a plan is cut.
pub fn finished(job: &Job, plan: &Plan) -> Left {
    left(job, plan, &all_cut(job, plan, &Progress::default()))
}

/// The work with every part of the plan cut, and all lengths of the packs bought.
fn all_cut(job: &Job, plan: &Plan, progress: &Progress) -> Progress {
    let boards = plan.boards.iter().enumerate().map(|(index, board)| {
        let done = progress.boards.iter().find(|done| done.board == index);
        let Sawn { parts, mark } = Sawn::all(job, board);
        BoardProgress {
            board: index,
            cut: parts,
            mark,
            ..done.cloned().unwrap_or_default()
        }
    });
    Progress {
        boards: boards.collect(),
        bought: with_whole_packs(job, plan, &progress.bought),
    }
}

/// The offcuts worth keeping once every part of the plan is cut, and every bought board nothing was cut from; each as long as the tape shows it,
/// rounded down.
pub fn kept_offcuts(job: &Job, plan: &Plan, progress: &Progress) -> Vec<Rest> {
    let rests = left(job, plan, &all_cut(job, plan, progress))
        .shed_new
        .into_iter();
    rests
        .filter(|rest| rest.kept)
        .map(|rest| as_a_tape_reads(rest, job.step))
        .collect()
}

/// What was bought, with all lengths of the packs that a plan cuts from.
fn with_whole_packs(job: &Job, plan: &Plan, bought: &[Bought]) -> Vec<Bought> {
    let mut whole = bought.to_vec();
    let packed = job.yard.iter().enumerate();
    for (line, sold) in packed.filter(|(_, sold)| sold.pack > 1) {
        let boards = plan.boards.iter();
        let cut = boards.filter(|board| board.source == Source::Yard(line));
        let lengths = sold.in_packs(cut.count() as u64) as usize;
        match whole.iter_mut().find(|one| one.line == line) {
            Some(one) => one.lengths.resize(lengths.max(one.lengths.len()), None),
            None => whole.push(Bought {
                line,
                lengths: vec![None; lengths],
                bad: Vec::new(),
            }),
        }
    }
    whole
}

/// A rest with its length and its trims rounded to the tape: never longer and never better than it is.
fn as_a_tape_reads(rest: Rest, step: Length) -> Rest {
    let length = rest.length.down_to(step);
    let bad = rest.bad.iter().map(|stretch| Stretch {
        from: stretch.from.down_to(step),
        to: stretch.to.up_to(step).min(length),
    });
    Rest {
        length,
        bad: bad.filter(|stretch| stretch.from < stretch.to).collect(),
        trim: Trim {
            datum: rest.trim.datum.up_to(step),
            far: rest.trim.far.up_to(step),
        },
        ..rest
    }
}

/// A board of the job's shed that a plan leaves alone.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct LeftAlone {
    /// Its index in the shed.
    pub shed: usize,
    /// Whether no clear run of it is worth keeping. A rest of a board cut earlier then is scrap and does not go back to the shed.
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
        .map(|(shed, board)| {
            // A slanted end counts as trim, which nothing can be cut from, and so does what is bad.
            let clear = clear_of(job, board.section, (board.length, board.trim, &board.bad));
            LeftAlone {
                shed,
                short: !worth_keeping(job, board.section, &clear, true),
            }
        })
        .collect()
}

/// The shortest rest that is recorded: the shortest board that a shed may have.
const SHORTEST: Length = crate::limits::BOARD.least;

/// The physical pieces left of one board, in order along it.
fn rests(
    job: &Job,
    planned: Option<(usize, &MarkedBoard)>,
    source: Source,
    found: Found,
    done: &BoardProgress,
) -> Vec<Rest> {
    let (section, stated, bad) = match source {
        Source::Shed(shed) => {
            let board = &job.shed[shed];
            (board.section, board.length, board.bad.as_slice())
        }
        Source::Yard(line) => (job.yard[line].section, job.yard[line].length, found.bad),
    };
    let bad = joined([bad, &done.bad].concat());
    let board_end = found.length.unwrap_or(stated);
    let planned_cut = planned.and_then(|(_, marked)| marked.board.yard_cut);
    let yard_cut = match source {
        Source::Yard(_) => yard_cut(job, board_end, planned_cut),
        Source::Shed(_) => None,
    };
    let marked = match planned {
        Some((_, marked)) if yard_cut.is_some() == planned_cut.is_some() => marked.clone(),
        _ => uncut(source, yard_cut),
    };
    let old_cut = marked.board.yard_cut;
    let state = match yard_cut {
        _ if done.is_sawn() => RestState::Cut,
        Some(cut) => RestState::Carried(cut),
        None => RestState::Whole,
    };
    // The tape may say another length than the list, and the yard's cut follows it. What ends at either is as long as it is at the least.
    let off = job.yard_tolerance;
    let found_at = |at: Length| match (old_cut, yard_cut) {
        _ if at == stated => board_end,
        (Some(old), Some(cut)) if at == old - off => cut - off,
        (Some(_), Some(_)) if at == stated - off => board_end - off,
        (Some(old), Some(cut)) if at == old => cut,
        (Some(old), Some(cut)) if at == old + job.saw.kerf => cut + job.saw.kerf,
        _ => at,
    };
    let as_planned = done.bad.is_empty() && board_end == stated && found.bad.is_empty();
    let mut pieces: Vec<Rest> = Vec::new();
    for left in left_pieces(job, &marked, done.sawn()) {
        // What is measured from the far end moves with it.
        let ends = match left.before_post {
            true => left.to + board_end - stated,
            false => found_at(left.to),
        };
        let (from, to) = (found_at(left.from), ends);
        let to = to.min(board_end);
        let piece = LeftPiece { from, to, ..left };
        let length = piece.to - piece.from;
        let bad = piece.bad(&bad);
        let clear = clear_of(job, section, (length, piece.trim, &bad));
        // Nothing can be cut from a piece that is bad throughout.
        if length < SHORTEST || clear.is_empty() {
            continue;
        }
        let kept = match as_planned {
            true => piece.kept,
            false => worth_keeping(job, section, &clear, piece.tail),
        };
        pieces.push(Rest {
            source,
            board: planned.map(|(index, _)| index),
            bought: None,
            section,
            from,
            in_hand: piece.in_hand && !piece.from.is_none(),
            length,
            bad,
            trim: piece.trim,
            sawn_end: piece.before_post,
            state,
            kept,
            strip: None,
            factory_ends: piece.factory_ends,
        });
    }
    pieces.extend(strips(job, planned, (source, section), done));
    pieces
}

/// The strips worth keeping beside what was ripped out of a board so far; a spoiled part leaves none.
fn strips(
    job: &Job,
    planned: Option<(usize, &MarkedBoard)>,
    (source, section): (Source, usize),
    done: &BoardProgress,
) -> Vec<Rest> {
    let runs = planned.iter().flat_map(|(_, marked)| &marked.board.runs);
    let cuts = runs.flat_map(|run| &run.cuts).enumerate().take(done.cut);
    let sound = cuts.filter(|(position, _)| !done.spoiled.contains(position));
    sound
        .filter_map(|(_, placed)| {
            let width = kept_beside(job, placed.part, (source, section))?;
            let piece = &job.parts[placed.part];
            // What goes between others may be marked up to a step short.
            let short = match piece.fitting {
                Fitting::Between => job.step,
                Fitting::Free | Fitting::Ground => Length::ZERO,
            };
            Some(Rest {
                source,
                board: planned.map(|(index, _)| index),
                bought: None,
                section,
                from: placed.start,
                in_hand: false,
                length: piece.length - short,
                bad: Vec::new(),
                trim: Trim::default(),
                sawn_end: false,
                state: RestState::Cut,
                kept: true,
                strip: Some(width),
                factory_ends: [false; 2],
            })
        })
        .collect()
}

/// What the section of a rest is called: a strip has a section of its own, named by its width too.
pub fn section_name(job: &Job, rest: &Rest) -> String {
    let name = &job.sections[rest.section].name;
    match rest.strip {
        None => name.clone(),
        Some(width) => {
            let wide = format!(", {} wide", job.style().show(width).text);
            let room = limits::NAME.most - wide.chars().count();
            let name: String = name.chars().take(room).collect();
            format!("{name}{wide}")
        }
    }
}

/// A board with no cut but the yard's.
fn uncut(source: Source, yard_cut: Option<Length>) -> MarkedBoard {
    MarkedBoard {
        board: PlannedBoard {
            source,
            yard_cut,
            runs: Vec::new(),
        },
        off: Vec::new(),
        for_offcut: Vec::new(),
        freed: Vec::new(),
    }
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
