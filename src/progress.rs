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
mod rests;
mod state;

pub use begun::as_begun;
pub use marks::Marks;
pub use measured::{Doubt, doubt};
pub use state::{BoardProgress, Bought, Left, Progress, Rest, RestState};

use crate::job::{Job, Part, Spare, Stretch, Trim};
use crate::left::{Sawn, clear_of, worth_keeping};
use crate::length::Length;
use crate::limits;
use crate::marks::mark_board;
use crate::plan::{PlacedPart, Plan, Source};
use rests::rests;
use state::Found;

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
            let here = (index, board.source);
            if is_spoiled {
                let is_last = done.spoiled.last() == Some(&position);
                let sound = done.sound.filter(|_| is_last);
                let sound = sound.filter(|length| *length >= limits::BOARD.least);
                left.shed_new
                    .extend(sound.map(|length| cut_piece(job, here, placed, length)));
            } else {
                wanted[placed.part] = wanted[placed.part].saturating_sub(1);
                left.shed_new.extend(in_reserve(job, here, placed));
            }
        }
        let touched = done.is_sawn() || done.is_otherwise();
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
fn in_reserve(job: &Job, here: (usize, Source), placed: &PlacedPart) -> Option<Rest> {
    let part = &job.parts[placed.part];
    (part.spare == Spare::Piece).then(|| cut_piece(job, here, placed, part.length))
}

/// A piece so long, square at both ends, of what was cut from a board of the plan.
fn cut_piece(
    job: &Job,
    (board, source): (usize, Source),
    placed: &PlacedPart,
    length: Length,
) -> Rest {
    let (section, _) = job.board(source);
    Rest {
        source,
        board: Some(board),
        bought: None,
        section,
        from: placed.start,
        in_hand: false,
        length,
        bad: Vec::new(),
        trim: Trim::default(),
        sawn_end: false,
        state: RestState::Cut,
        kept: length >= job.sections[section].keep,
        strip: None,
        factory_ends: [false; 2],
    }
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
